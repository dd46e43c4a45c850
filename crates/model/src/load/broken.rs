//! What is wrong with a text that is no YAML, in the words of those who write procedures, at the line that has to be mended.

use super::fault::Fault;
use crate::source::Span;

/// The fault that the parser met at a byte of the text; `before` bytes of the file stand before the text.
pub(super) fn fault(text: &str, before: usize, at: usize, info: &str) -> Fault {
    let told = |place: usize, length: usize, message: &str, hint: String| {
        let span = span(text, before, place, length);
        Fault::at(span, format!("this is not well-formed YAML: {message}")).hint(hint)
    };
    let keyless = |place: usize| {
        let hint = "write a colon and a space after the key".to_owned();
        told(place, 1, "a key stands here without a colon", hint)
    };
    let colon_inside = |line: Line<'_>| {
        let value = value_with_colon(line.text, at.saturating_sub(line.start));
        // A value without end is not typed again.
        let value = if value.len() < 200 { format!(": `\"{value}\"`") } else { String::new() };
        told(at, 1, "a colon stands inside a value", format!("put the value between quotation marks{value}"))
    };
    if let Some(place) = tab(text, at, info) {
        return told(
            place,
            1,
            "a tab stands where the line is indented",
            "indent with spaces, as many as the lines beside it have".to_owned(),
        );
    }
    let line = Line::at(text, at);
    let open = open_bracket(text, at);
    if info.contains("quote") {
        return told(
            at,
            1,
            "a quotation mark opens here and none closes it",
            "write the same mark at the end of the text".to_owned(),
        );
    }
    if let Some((place, bracket)) = open {
        let closing = if bracket == '{' { '}' } else { ']' };
        if place < line.start {
            return told(
                place,
                1,
                &format!("the bracket `{bracket}` opens here and is not closed"),
                if in_comment(text, place) {
                    REMARK.to_owned()
                } else {
                    format!("write `{closing}` at the end of what belongs to it")
                },
            );
        }
        if text.get(at..).is_some_and(|rest| rest.starts_with(':')) {
            return colon_inside(line);
        }
        return told(
            place,
            1,
            &format!("the bracket `{bracket}` opens here, and what follows is not closed or has no comma between"),
            format!("write a comma between entries and `{closing}` at the end"),
        );
    }
    let above = above(text, line.start);
    if info.contains("mapping values") {
        // A key without a colon runs on into the line below it.
        if let Some(above) = above.filter(|above| above.bare_words() && above.keys() == line.keys()) {
            return keyless(above.start + above.keys());
        }
        let key = line.text.trim_start().split(':').next().unwrap_or_default().len() + line.indent();
        if above.is_some_and(|above| line.indent() > above.indent()) && at <= line.start + key {
            let indent = above.map_or(0, |above| above.keys());
            return told(
                line.start + line.indent(),
                1,
                "this line stands further in than the one above it, which has its value already",
                format!("indent it with {}, as the keys beside it", spaces(indent)),
            );
        }
        return colon_inside(line);
    }
    if info.contains("expected key") || info.contains("expected '-'") || info.contains("block end") {
        let indent = above.map_or(0, |above| above.keys());
        return told(
            line.start + line.indent(),
            1,
            "this line is indented like no line above it",
            format!("indent it with {}, or as the section that it belongs to", spaces(indent)),
        );
    }
    if info.contains("could not find expected ':'") || info.contains("simple key") {
        return keyless(line.start + line.indent());
    }
    if in_comment(text, line.start) {
        return told(at, 0, info.trim_end_matches('.'), REMARK.to_owned());
    }
    told(
        at,
        0,
        info.trim_end_matches('.'),
        "look at the indentation, the colon after each key, and open quotes or brackets".to_owned(),
    )
}

/// What to write where a remark has begun inside what was meant to be a value.
const REMARK: &str =
    "a `#` after a space begins a remark: put quotation marks around a value that has one, such as `\"#7\"`";

/// Whether a remark begins on the line after a place, which may hold what was meant to be a value.
fn in_comment(text: &str, place: usize) -> bool {
    let line = text.get(place..).unwrap_or_default().split(ENDS).next().unwrap_or_default();
    line.split_once(" #").is_some_and(|(_, rest)| rest.starts_with(|own: char| own.is_ascii_digit()))
}

/// A line of YAML ends at a line feed, a carriage return, or both.
const ENDS: [char; 2] = ['\n', '\r'];

/// A line of the text.
#[derive(Clone, Copy)]
struct Line<'t> {
    start: usize,
    text: &'t str,
}

impl<'t> Line<'t> {
    fn at(text: &'t str, place: usize) -> Self {
        let place = place.min(text.len());
        let start = text.get(..place).and_then(|before| before.rfind(ENDS)).map_or(0, |end| end + 1);
        let rest = text.get(start..).unwrap_or_default();
        Self { start, text: rest.split(ENDS).next().unwrap_or_default() }
    }

    fn indent(self) -> usize {
        self.text.len() - self.text.trim_start_matches(' ').len()
    }

    /// How far its keys stand in: behind the dash of an entry.
    fn keys(self) -> usize {
        let mut keys = self.indent();
        while let Some(rest) = self.text.get(keys..).and_then(|rest| rest.strip_prefix("- ")) {
            keys += 2 + rest.len() - rest.trim_start_matches(' ').len();
        }
        keys
    }

    /// Whether it is words alone: neither a key with its colon nor a text in quotes or brackets.
    fn bare_words(self) -> bool {
        let own = self.text.get(self.keys()..).unwrap_or_default().trim();
        let colon = own.contains(": ") || own.ends_with(':');
        !colon && own.starts_with(char::is_alphabetic)
    }

    fn says_something(self) -> bool {
        let plain = self.text.trim();
        !plain.is_empty() && !plain.starts_with('#')
    }
}

/// The next line above that is neither empty nor a comment.
fn above(text: &str, mut start: usize) -> Option<Line<'_>> {
    while start > 0 {
        let line = Line::at(text, start - 1);
        if line.says_something() {
            return Some(line);
        }
        start = line.start;
    }
    None
}

/// A tab in the indentation of the line at a place, or of the next one that says something.
fn tab(text: &str, at: usize, info: &str) -> Option<usize> {
    let of = |line: Line<'_>| {
        let blank = line.text.len() - line.text.trim_start().len();
        line.text.get(..blank)?.find('\t').map(|place| line.start + place)
    };
    let mut line = Line::at(text, at);
    // The parser may stop at the value before the tab.
    let most = if info.contains("tab") { 3 } else { 1 };
    for _ in 0..most {
        if let Some(place) = of(line) {
            return Some(place);
        }
        let next = line.start + line.text.len() + 1;
        if next >= text.len() {
            return None;
        }
        line = Line::at(text, next);
    }
    None
}

/// The innermost bracket that is open at a place, with what opened it; quoted texts and comments are passed over.
fn open_bracket(text: &str, at: usize) -> Option<(usize, char)> {
    let mut open: Vec<(usize, char)> = Vec::new();
    let (mut quote, mut last) = (None, '\n');
    let mut comment = false;
    for (place, character) in text.char_indices().take_while(|(place, _)| *place < at) {
        let begins = matches!(last, '\n' | ' ' | '[' | '{' | ',' | ':');
        match (quote, character) {
            _ if comment => comment = character != '\n',
            (Some(mark), _) if character == mark && !(mark == '"' && last == '\\') => quote = None,
            (Some(_), _) => {}
            (None, '"' | '\'') if begins => quote = Some(character),
            (None, '#') if matches!(last, '\n' | ' ') => comment = true,
            (None, '{' | '[') if begins || !open.is_empty() => open.push((place, character)),
            (None, '}' | ']') => {
                open.pop();
            }
            _ => {}
        }
        last = character;
    }
    open.pop()
}

/// The value around a colon that is taken for a key, without its own key and the bracket behind it.
fn value_with_colon(line: &str, colon: usize) -> &str {
    let before = line.get(..colon).unwrap_or_default();
    let start = before.rfind(": ").map_or(0, |key| key + 2);
    let rest = line.get(start..).unwrap_or_default();
    let end = rest.find([',', '}', ']']).filter(|_| line.contains(['{', '['])).unwrap_or(rest.len());
    rest.get(..end).unwrap_or(rest).trim()
}

fn spaces(count: usize) -> String {
    match count {
        0 => "no spaces".to_owned(),
        1 => "1 space".to_owned(),
        more => format!("{more} spaces"),
    }
}

fn span(text: &str, before: usize, place: usize, length: usize) -> Span {
    let place = place.min(text.len());
    let line = Line::at(text, place);
    let number = text.get(..line.start).unwrap_or_default().replace("\r\n", "\n").matches(ENDS).count() + 1;
    let column = text.get(line.start..place).unwrap_or_default().chars().count() + 1;
    let end = (place + length).min(text.len());
    let end = if text.is_char_boundary(end) { end } else { place };
    Span { start: before + place, end: before + end, line: number, column }
}

#[cfg(test)]
mod tests {
    use super::super::load;

    /// Place, message and hint of the fault of a text below the head of a procedure, lines counted from the head's end.
    fn of(lines: &str) -> (usize, usize, String, String) {
        let head = "format: 1\ndocument: procedure\n";
        let (_, faults) = load("p.yaml", format!("{head}{lines}").as_bytes()).unwrap_err();
        let [fault] = faults.as_slice() else { panic!("{lines}: {faults:?}") };
        let span = fault.span.unwrap();
        (span.line - 2, span.column, fault.message.clone(), fault.hint.clone().unwrap())
    }

    #[test]
    fn each_fault_of_layout_points_at_its_own_line() {
        for (lines, line, column, message, hint) in [
            ("identification:\n  number: P-1\n\trevision: 1\n", 3, 1, "a tab", "spaces"),
            ("runs:\n  - run: 1\n\t process: 141\n", 3, 1, "a tab", "spaces"),
            ("identification:\n  number: P-1\n   revision: 1\n", 3, 4, "further in", "2 spaces"),
            ("runs:\n- run: 1\n  process: 141\n   current: 90 A\n- run: 2\n", 4, 4, "further in", "2 spaces"),
            ("identification:\n  number: P-1\n revision: 1\n", 3, 2, "like no line above", "2 spaces"),
            ("identification: {number: P-1, title: t\njoint: {type: butt}\n", 1, 17, "`{` opens here", "`}`"),
            ("identification:\r  title: Tee: 3 mm\r", 2, 13, "a colon", "`\"Tee: 3 mm\"`"),
            ("identification:\r\n  title: Tee: 3 mm\r\n", 2, 13, "a colon", "`\"Tee: 3 mm\"`"),
            ("positions: [PA, PB\nruns:\n", 1, 12, "`[` opens here", "`]`"),
            ("identification: {number: P-1, title: a: b}\n", 1, 39, "a colon", "`\"a: b\"`"),
            ("identification:\n  title: Tee: 3 mm\n", 2, 13, "a colon", "`\"Tee: 3 mm\"`"),
            ("joint:\n  type lap\n  weld: fillet\n", 2, 3, "without a colon", "a colon and a space"),
            ("identification:\n  title: \"Tee\n", 2, 10, "quotation mark", "same mark"),
        ] {
            let got = of(lines);
            assert!(
                (got.0, got.1) == (line, column) && got.2.contains(message) && got.3.contains(hint),
                "{lines}: {got:?}"
            );
        }
    }
}
