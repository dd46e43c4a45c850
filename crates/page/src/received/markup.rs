//! A page in one spelling: what programs that save it again write otherwise and nobody sees is left out, all else stays.
//!
//! Two pages in one spelling are the same to a reader of HTML: tags with the same names and values, texts with the same letters,
//! styles, scripts and comments byte for byte. What cannot be read as a tag stays as it stands.

/// Most letters of the note that a browser writes over a page that it saves.
const NOTE: usize = 4096;
/// Elements of a drawing that hold nothing, which some programs end in themselves and others with a second tag.
const DRAWN: &[&str] = &["circle", "ellipse", "image", "line", "path", "polygon", "polyline", "rect", "stop", "use"];
/// Elements that have no end.
const VOID: &[&str] = &["br", "col", "hr", "img", "input", "link", "meta"];

/// A page in one spelling.
pub(super) fn spelled(page: &str) -> String {
    let page = page.strip_prefix('\u{FEFF}').unwrap_or(page).replace("\r\n", "\n");
    let mut out = String::with_capacity(page.len());
    let mut rest = page.as_str();
    // Space around the outermost tags is moved or dropped by whatever reads and writes a page.
    let mut outermost = true;
    while !rest.is_empty() {
        let Some((text, after)) = rest.split_once('<') else {
            said(rest, outermost, &mut out);
            break;
        };
        said(text, outermost, &mut out);
        let tagged = rest.get(text.len()..).unwrap_or_default();
        if let Some(left) = tagged.strip_prefix("<!--") {
            let Some((comment, left)) = left.split_once("-->") else {
                out.push_str(tagged);
                break;
            };
            // The note of the seal is looked at by itself.
            if !(outermost && (is_note_of_browser(comment) || comment.starts_with(" seamwright "))) {
                out.push_str("<!--");
                out.push_str(comment);
                out.push_str("-->");
            }
            rest = left;
            continue;
        }
        let Some((tag, left)) = Tag::read(after) else {
            out.push('<');
            rest = after;
            outermost = false;
            continue;
        };
        tag.write(&mut out);
        rest = left;
        outermost = matches!(&*tag.name, "!doctype" | "html" | "/head" | "/body" | "/html");
        if let raw @ ("style" | "script") = &*tag.name {
            let end = format!("</{raw}");
            let at = rest.to_ascii_lowercase().find(&end).unwrap_or(rest.len());
            out.push_str(rest.get(..at).unwrap_or_default());
            rest = rest.get(at..).unwrap_or_default();
        }
        if tag.name == "pre" {
            // The line end behind this tag is none of the text.
            rest = rest.strip_prefix('\n').unwrap_or(rest);
        }
    }
    // The space before the end of the body, and behind it.
    for end in ["</body>", "</html>"] {
        while let Some(at) = out.find(&format!("\n{end}")) {
            out.remove(at);
        }
    }
    out
}

/// Whether a comment is the one by which a browser says where a page that it saves came from.
fn is_note_of_browser(comment: &str) -> bool {
    let at = comment.strip_prefix(" saved from url=(").and_then(|own| own.split_once(')'));
    at.is_some_and(|(length, address)| {
        length.bytes().all(|own| own.is_ascii_digit())
            && address.len() < NOTE
            && !address.contains(['<', '>', '\n'])
            && !address.trim_end().contains(' ')
    })
}

/// Adds a text; one of white space alone beside the outermost tags is none.
fn said(text: &str, outermost: bool, out: &mut String) {
    if !(outermost && text.chars().all(|own| own.is_ascii_whitespace())) {
        encoded(&decoded(text), false, out);
    }
}

/// Names of letters that every program knows.
const NAMES: [(&str, char); 8] = [
    ("amp;", '&'),
    ("lt;", '<'),
    ("gt;", '>'),
    ("quot;", '"'),
    ("nbsp;", '\u{A0}'),
    ("#39;", '\''),
    ("#x27;", '\''),
    ("#x2f;", '/'),
];

/// A text with the letters for the names that every program knows.
fn decoded(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('&') {
        out.push_str(before);
        if let Some((name, letter)) = NAMES.iter().find(|(name, _)| after.starts_with(name)) {
            out.push(*letter);
            rest = after.get(name.len()..).unwrap_or_default();
        } else {
            // Another name stays a name: its sign is marked so that none can look like one that was read.
            out.push('\u{0}');
            rest = after;
        }
    }
    out.push_str(rest);
    out
}

/// Adds a text with the letters that mean something to markup as names.
fn encoded(text: &str, in_value: bool, out: &mut String) {
    for letter in text.chars() {
        match letter {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '"' if in_value => out.push_str("&quot;"),
            other => out.push(other),
        }
    }
}

/// A tag: its name, with a slash where it ends an element, and its values in their order.
struct Tag {
    name: String,
    values: Vec<(String, String)>,
    closed: bool,
}

impl Tag {
    /// Reads a tag behind its first sign; nothing of what some readers take otherwise.
    fn read(text: &str) -> Option<(Self, &str)> {
        let end = text.find(|own: char| own.is_ascii_whitespace() || matches!(own, '>'))?;
        let name = text.get(..end)?;
        // A slash behind the name ends an element in itself.
        let (name, glued) = match name.strip_suffix('/') {
            Some(own) if !own.is_empty() => (own, true),
            _ => (name, false),
        };
        let plain = name.strip_prefix(['/', '!']).unwrap_or(name);
        if plain.is_empty() || !plain.bytes().all(|own| own.is_ascii_alphanumeric()) {
            return None;
        }
        let doctype = name.eq_ignore_ascii_case("!doctype");
        let name = if doctype { "!doctype".to_owned() } else { name.to_owned() };
        let mut tag = Self { name, values: Vec::new(), closed: glued };
        let mut rest = text.get(end..)?;
        if glued && !rest.starts_with('>') {
            return None;
        }
        loop {
            rest = rest.trim_start_matches(|own: char| own.is_ascii_whitespace());
            if let Some(after) = rest.strip_prefix('>') {
                return Some((tag, after));
            }
            if let Some(after) = rest.strip_prefix("/>") {
                tag.closed = true;
                return Some((tag, after));
            }
            let end = rest.find(|own: char| own.is_ascii_whitespace() || matches!(own, '=' | '>' | '/'))?;
            let key = rest.get(..end)?;
            if key.is_empty() || key.contains(['"', '\'', '<']) {
                return None;
            }
            rest = rest.get(end..)?;
            let value = match rest.strip_prefix("=\"") {
                Some(after) => {
                    let (value, after) = after.split_once('"')?;
                    rest = after;
                    value
                }
                None if rest.starts_with('=') => return None,
                None => "",
            };
            tag.values.push((key.to_owned(), decoded(value)));
        }
    }

    fn write(&self, out: &mut String) {
        out.push('<');
        out.push_str(&self.name);
        for (key, value) in &self.values {
            out.push(' ');
            out.push_str(key);
            if self.name != "!doctype" {
                out.push_str("=\"");
                encoded(value, true, out);
                out.push('"');
            }
        }
        let name = &*self.name;
        if !self.closed || VOID.contains(&name) {
            out.push('>');
        } else if DRAWN.contains(&name) {
            out.push_str("></");
            out.push_str(name);
            out.push('>');
        } else {
            out.push_str("/>");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PAGE: &str = "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<style>p > b{}</style>\n</head>\n<body>\n<p hidden title=\"a &amp; b\">5\u{A0}mm &lt; 6</p>\n<svg><path d=\"M0 0\"/></svg>\n</body>\n</html>\n<!-- seamwright seal -->\n";

    #[test]
    fn what_programs_write_otherwise_is_not_seen() {
        for (from, to) in [
            ("\n", "\r\n"),
            ("<html", "<!-- saved from url=(0021)http://localhost/a.html -->\n<html"),
            ("\u{A0}", "&nbsp;"),
            ("<!doctype html>\n", "<!DOCTYPE html>"),
            (">\n<head>", "><head>"),
            ("<path d=\"M0 0\"/>", "<path d=\"M0 0\"></path>"),
            ("<p hidden ", "<p hidden=\"\" "),
            ("seal -->\n", "seal -->"),
            ("</body>\n", "\n</body>"),
            ("<!-- seamwright seal -->\n", ""),
            ("<!doctype", "\u{FEFF}<!doctype"),
        ] {
            let other = PAGE.replace(from, to);
            assert!(other != PAGE && spelled(&other) == spelled(PAGE), "{from:?} {to:?}: {}", spelled(&other));
        }
    }

    #[test]
    fn what_a_reader_could_see_is_seen() {
        for (from, to) in [
            ("5\u{A0}mm", "5 mm"),
            ("5\u{A0}mm", "6\u{A0}mm"),
            ("&lt;", "<b>"),
            ("p > b{}", "p > b{color:red}"),
            ("p > b{}", "p &gt; b{}"),
            (" hidden", ""),
            ("<p hidden title", "<p title"),
            ("a &amp; b", "a &quot; b"),
            ("title=\"a &amp; b\"", "title='a &amp; b'"),
            ("title=", "style=\"display:none\" title="),
            ("<path d=\"M0 0\"/>", "<path d=\"M0 0\">"),
            ("<svg>", "<svg/>"),
            ("<html", "<!-- saved from url=(1)x --><b>x</b><!-- -->\n<html"),
            ("<p hidden", "<!-- saved from url=(0021)http://localhost/a.html --><p hidden"),
            ("</body>", "x</body>"),
            ("</html>", "</html><p>more</p>"),
            ("seal -->", "seal --><script>x()</script>"),
            ("<meta charset=\"utf-8\">", ""),
            ("&lt; 6", "&lt; 6&shy;"),
            ("&amp; b", "& b\""),
        ] {
            let other = PAGE.replacen(from, to, 1);
            assert!(other != PAGE && spelled(&other) != spelled(PAGE), "{from:?} {to:?}: {}", spelled(&other));
        }
    }
}
