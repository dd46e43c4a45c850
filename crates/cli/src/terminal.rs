//! What people read: nothing that a file or its name holds steers the terminal, lines fit it, and a terminal that is gone
//! stops no work.

use std::borrow::Cow;
use std::env;
use std::ffi::OsString;
use std::fmt::Display;
use std::io::{IsTerminal, Write};
use std::sync::OnceLock;

use seamwright_model::source::hidden;

use crate::args::Colour;
use terminal_size::{Width, terminal_size};

/// Prints a message to standard error; where nobody listens there, the exit status still tells.
pub fn say(message: impl Display) {
    let message = format!("seamwright: {}", visible(&message.to_string()));
    print(wrapped(&message, width()));
}

/// Prints a text that holds nothing but the program's own control characters.
pub fn print(text: impl Display) {
    let _ = writeln!(std::io::stderr().lock(), "{text}");
}

/// A text with escapes for characters that a reader would not see or that a terminal would obey; lines and tabs stay.
pub fn visible(text: &str) -> Cow<'_, str> {
    let seen = |character: char| !hidden(character) || matches!(character, '\n' | '\t');
    if text.chars().all(seen) {
        return text.into();
    }
    let mut shown = String::with_capacity(text.len() + 16);
    let mut characters = text.chars().peekable();
    while let Some(character) = characters.next() {
        if character == '\r' && characters.peek() == Some(&'\n') {
            continue;
        }
        if seen(character) {
            shown.push(character);
        } else {
            shown.extend(character.escape_unicode());
        }
    }
    shown.into()
}

/// What was typed about colours, and whether little is to be said.
static ASKED: OnceLock<(Colour, bool)> = OnceLock::new();

/// Keeps to what was typed, from the start of a run.
pub fn settle(colour: Colour, quiet: bool) {
    ASKED.get_or_init(|| (colour, quiet));
}

/// Whether notes, sums and what was written are left out.
pub fn quiet() -> bool {
    ASKED.get().is_some_and(|(_, quiet)| *quiet)
}

/// Whether a stream is to have colour: as it was typed, else a terminal that knows it, and nobody who said no.
pub fn coloured(stream: &impl IsTerminal) -> bool {
    match ASKED.get().map(|(colour, _)| *colour) {
        Some(Colour::Always) => return true,
        Some(Colour::Never) => return false,
        Some(Colour::Auto) | None => {}
    }
    stream.is_terminal() && colour_allowed(|name| env::var_os(name))
}

/// Whether the environment, given by name, allows colour.
fn colour_allowed(variable: impl Fn(&str) -> Option<OsString>) -> bool {
    let set = |name: &str| variable(name).filter(|value| !value.is_empty());
    set("NO_COLOR").is_none()
        && set("CLICOLOR").is_none_or(|value| value != "0")
        && set("TERM").is_none_or(|value| value != "dumb")
}

/// The narrowest terminal that lines are made for.
const NARROWEST: usize = 40;

/// How many columns lines may have: those that `COLUMNS` says, else those of the terminal; nothing where there is none.
pub fn width() -> Option<usize> {
    let stated = env::var("COLUMNS").ok().and_then(|columns| columns.trim().parse::<usize>().ok());
    let seen = || terminal_size().map(|(Width(columns), _)| usize::from(columns));
    stated.or_else(seen).filter(|columns| *columns > 0).map(|columns| columns.max(NARROWEST))
}

/// A text whose lines have at most so many columns, broken at spaces; what follows is indented as far as the line is. Colours
/// take no room.
pub fn wrapped(text: &str, width: Option<usize>) -> Cow<'_, str> {
    let Some(width) = width.filter(|width| text.lines().any(|line| room(line) > *width)) else { return text.into() };
    let lines: Vec<String> = text.lines().map(|line| wrapped_line(line, width)).collect();
    lines.join("\n").into()
}

fn wrapped_line(line: &str, width: usize) -> String {
    if room(line) <= width {
        return line.to_owned();
    }
    let lead = line.chars().take_while(|own| *own == ' ').count();
    let indent = (lead + 4).min(width / 3);
    let (mut done, mut used) = (String::new(), 0);
    for (at, word) in line.split(' ').enumerate() {
        let own = room(word);
        if at > 0 && used + 1 + own > width && used > indent {
            done.push('\n');
            done.push_str(&" ".repeat(indent));
            used = indent;
        } else if at > 0 {
            done.push(' ');
            used += 1;
        }
        done.push_str(word);
        used += own;
    }
    done
}

/// The columns that a line takes, without what sets its colours.
fn room(line: &str) -> usize {
    let (mut count, mut escape) = (0, false);
    for character in line.chars() {
        match (escape, character) {
            (false, '\u{1b}') => escape = true,
            (true, 'm') => escape = false,
            (true, _) => {}
            (false, _) => count += 1,
        }
    }
    count
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_that_steers_is_printed_as_it_is() {
        let shown = visible("a\u{9b}31m\u{1b}[2J\u{202e}b\u{34f}\u{200b}\r\n\tc\r");
        assert_eq!(shown, "a\\u{9b}31m\\u{1b}[2J\\u{202e}b\\u{34f}\\u{200b}\n\tc\\u{d}");
        assert!(matches!(visible("Nähte 3–5 °C\n"), Cow::Borrowed(_)));
    }

    #[test]
    fn lines_are_broken_at_spaces_and_indented() {
        let text = "  = hint: write a value that fits between the limits of the table\nshort";
        let done = wrapped(text, Some(40));
        assert_eq!(done, "  = hint: write a value that fits\n      between the limits of the table\nshort");
        assert_eq!(wrapped("\u{1b}[1mab\u{1b}[0m cd", Some(40)), "\u{1b}[1mab\u{1b}[0m cd");
    }

    #[test]
    fn a_terminal_without_colour_and_a_person_without_wish_for_it_get_none() {
        let with = |given: &[(&str, &str)]| {
            colour_allowed(|name| given.iter().find(|own| own.0 == name).map(|own| OsString::from(own.1)))
        };
        for given in [
            &[][..],
            &[("TERM", "xterm-256color")],
            &[("CLICOLOR", "1")],
            &[("NO_COLOR", ""), ("CLICOLOR", ""), ("TERM", "")],
        ] {
            assert!(with(given), "{given:?}");
        }
        for given in [("TERM", "dumb"), ("CLICOLOR", "0"), ("NO_COLOR", "1")] {
            assert!(!with(&[given]), "{given:?}");
            assert!(!with(&[("COLORTERM", "truecolor"), given]), "{given:?}");
        }
    }
}
