//! Messages to people: nothing that a file or its name holds steers the terminal, and a terminal that is gone stops no
//! work.

use std::fmt::Display;
use std::io::Write;
use std::path::Path;

use annotate_snippets::normalize_untrusted_str;
use seamwright_model::source::hidden;

/// Prints a message to standard error; where nobody listens there, the exit status still tells.
pub fn say(message: impl Display) {
    print(format_args!("seamwright: {}", normalize_untrusted_str(&message.to_string())));
}

/// Prints a text that holds nothing but the program's own control characters.
pub fn print(text: impl Display) {
    let _ = writeln!(std::io::stderr().lock(), "{text}");
}

/// A path in messages, with escapes for characters that a reader would not see or that a terminal would obey.
pub fn shown(path: &Path) -> String {
    let mut shown = String::new();
    for character in path.to_string_lossy().chars() {
        if hidden(character) {
            shown.extend(character.escape_unicode());
        } else {
            shown.push(character);
        }
    }
    shown
}
