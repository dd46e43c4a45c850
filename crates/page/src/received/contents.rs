//! What a page draws, as its operators and what they take (ISO 32000-1, 7.8.2): how a program spaces and spells them is not
//! seen.

use std::cell::Cell;

use super::bytes::{is_regular, skip_space};
use super::object::Object;
use super::parser::Parser;

/// What stands before a string or a name that no program would write: it makes no operator that there is.
const DOUBTFUL: u8 = b'?';

/// Operators and what they take, a space behind each: comments and white space left out, strings, names and numbers in one
/// spelling. What no program would write stays as it stands, behind a mark where readers may take it for what it is not.
pub(super) fn operators(drawn: &[u8]) -> Vec<u8> {
    let parts = Cell::new(0);
    let mut parser = Parser { text: drawn, at: 0, parts: &parts };
    let mut out = Vec::with_capacity(drawn.len());
    loop {
        let start = skip_space(drawn, parser.at);
        parser.at = start;
        let raw = |end: usize| drawn.get(start..end.min(drawn.len())).unwrap_or_default();
        match parser.peek() {
            None => return out,
            Some(b'(') => match parser.string() {
                Object::Text(text) if parser.at <= drawn.len() => spell(&text, &mut out),
                _ => out.extend_from_slice(raw(parser.at)),
            },
            Some(b'<') if drawn.get(start + 1) == Some(&b'<') => {
                out.extend_from_slice(b"<<");
                parser.at += 2;
            }
            Some(b'>') if drawn.get(start + 1) == Some(&b'>') => {
                out.extend_from_slice(b">>");
                parser.at += 2;
            }
            Some(b'<') => {
                let text = parser.hexadecimal();
                let digits = raw(parser.at).strip_prefix(b"<").and_then(|own| own.strip_suffix(b">"));
                let plain = |own: &[u8]| own.iter().all(|byte| byte.is_ascii_hexdigit() || byte.is_ascii_whitespace());
                match text {
                    Object::Text(text) if digits.is_some_and(plain) => spell(&text, &mut out),
                    _ => {
                        out.push(DOUBTFUL);
                        out.extend_from_slice(raw(parser.at));
                    }
                }
            }
            Some(b'/') => {
                let name = parser.name();
                // A name with a space in it must not read as a name and a word.
                let plain = name.iter().all(|byte| is_regular(*byte));
                out.push(if plain { b'/' } else { DOUBTFUL });
                out.extend_from_slice(if plain { &name } else { raw(parser.at) });
            }
            Some(byte) if is_regular(byte) => match parser.word() {
                // The bytes of a picture follow: only the same bytes are the same picture.
                b"ID" => {
                    out.extend_from_slice(raw(drawn.len()));
                    return out;
                }
                word => number(word, &mut out),
            },
            Some(byte) => {
                out.push(byte);
                parser.at += 1;
            }
        }
        out.push(b' ');
    }
}

/// A string with escapes where it needs them.
fn spell(text: &[u8], out: &mut Vec<u8>) {
    out.push(b'(');
    for byte in text {
        match byte {
            b'\r' => out.extend_from_slice(b"\\r"),
            b'(' | b')' | b'\\' => out.extend_from_slice(&[b'\\', *byte]),
            other => out.push(*other),
        }
    }
    out.push(b')');
}

/// A number in its shortest spelling: `+01.50` is 1.5; another word as it stands.
fn number(word: &[u8], out: &mut Vec<u8>) {
    let (minus, size) = match word {
        [b'-', rest @ ..] => (true, rest),
        [b'+', rest @ ..] => (false, rest),
        whole => (false, whole),
    };
    let dot = size.iter().position(|byte| *byte == b'.').unwrap_or(size.len());
    let (whole, part) = (size.get(..dot).unwrap_or_default(), size.get(dot + 1..).unwrap_or_default());
    let digits = whole.len() + part.len();
    if digits == 0 || !whole.iter().chain(part).all(u8::is_ascii_digit) {
        out.extend_from_slice(word);
        return;
    }
    let zeros = whole.iter().take_while(|byte| **byte == b'0').count();
    let whole = whole.get(zeros..).unwrap_or_default();
    let part = part.get(..part.iter().rposition(|byte| *byte != b'0').map_or(0, |last| last + 1)).unwrap_or_default();
    if minus && !(whole.is_empty() && part.is_empty()) {
        out.push(b'-');
    }
    out.extend_from_slice(if whole.is_empty() { b"0" } else { whole });
    if !part.is_empty() {
        out.push(b'.');
        out.extend_from_slice(part);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn spacing_and_spelling_are_not_seen_and_all_else_is() {
        let of = |text: &[u8]| String::from_utf8_lossy(&operators(text)).into_owned();
        let own = of(b"BT /F1 9 Tf 1 0 0 1 -72.5 0.25 Tm [(A\\(b) -20 (c)] TJ ET");
        for alike in [
            b"BT\n/F1 9.0 Tf\r\n1 0 0 +1 -72.50 .250 Tm%note\n[ (A\\(b)-20(c) ]TJ\nET\n".as_slice(),
            b"BT /#461 09 Tf 1 -0 0.00 1 -072.5 .25 Tm[<41 28\n62>-20<63>]TJ ET",
            b"BT/F1 9 Tf 1 0 0 1 -72.5 0.25 Tm[(\\101\\50\\\nb)-20.(c)]TJ ET  %",
        ] {
            assert_eq!(of(alike), own, "{}", String::from_utf8_lossy(alike));
        }
        for other in [
            b"BT /F1 9 Tf 1 0 0 1 -72.5 0.25 Tm [(A\\(b) -20 (c)] TJ".as_slice(),
            b"BT /F2 9 Tf 1 0 0 1 -72.5 0.25 Tm [(A\\(b) -20 (c)] TJ ET",
            b"BT /F1 9 Tf 1 0 0 1 72.5 0.25 Tm [(A\\(b) -20 (c)] TJ ET",
            b"BT /F1 9 Tf 1 0 0 1 -72.5 0.251 Tm [(A\\(b) -20 (c)] TJ ET",
            b"BT /F1 9 Tf 1 0 0 1 -72.5 0.25 Tm [(A\\(B) -20 (c)] TJ ET",
            b"BT /F1 9 Tf 1 0 0 1 -72.5 0.25 Tm [(A\\(b) --20 (c)] TJ ET",
            b"BT /F1 9 Tf 1 0 0 1 -72.5 0.25 Tm [(A\\(b) -20 (c)] TJ ET\x80",
            b"BT /F1 9 Tf 1 0 0 1 -72.5 0.25 Tm [(A\\(b) -20 <6g3>] TJ ET",
            b"BT /F1 9 Tf 1 0 0 1 -72.5 0.25 Tm [(A\\(b) -20 (c)] T J ET",
            b"BT /F1 9 Tf 1 0 0 1 -72.5 0.25 Tm [(A\\(b) -20 (c)] TJ ET (",
            b"BT /F1 9 Tf 1 0 0 1 -72.5 0.25 Tm [(A\\(b) -20 (c)] TJ % ET",
            b"BT /F1#209#20Tf 1 0 0 1 -72.5 0.25 Tm [(A\\(b) -20 (c)] TJ ET",
        ] {
            assert_ne!(of(other), own, "{}", String::from_utf8_lossy(other));
        }
        assert_eq!(of(b"/P <</MCID\n1/Alt(a) >>BDC"), of(b"/P<< /MCID 1 /Alt <61>>> BDC"));
        assert_ne!(of(b"/P <</MCID 1>>BDC"), of(b"/P < </MCID 1>>BDC"));
        assert_ne!(of(b"BI ID a  b EI"), of(b"BI ID a b EI"));
        assert_eq!(of(b"( a\rb\\r)"), "( a\nb\\r) ");
    }
}
