//! Paths and the reasons of the system, as messages show them.

use std::io;
use std::path::Path;

use seamwright_model::source;

/// A path in messages, with escapes for characters that a reader would not see or that a terminal would obey.
pub fn shown(path: &Path) -> String {
    let mut shown = String::new();
    for character in path.to_string_lossy().chars() {
        if source::hidden(character) {
            shown.extend(character.escape_unicode());
        } else {
            shown.push(character);
        }
    }
    shown
}

/// The system's reason without its number.
pub fn reason(error: &io::Error) -> String {
    let text = error.to_string();
    text.split(" (os error").next().unwrap_or(&text).to_lowercase()
}
