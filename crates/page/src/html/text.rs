//! Text as a page takes it.

use std::borrow::Cow;
use std::fmt::Write as _;

use seamwright_drawing::no_break::quantities;
use seamwright_drawing::svg::Escaped;

/// What the page says of the program that made it.
pub(super) const GENERATOR: &str = concat!("Seamwright ", env!("CARGO_PKG_VERSION"));

/// Text as lines: escaped, with a `<br>` at each line break, and a quantity in a span that stays whole where it can.
pub(super) fn lines(text: &str) -> String {
    let mut whole = String::with_capacity(text.len());
    let mut written = 0;
    for place in quantities(text) {
        let (before, quantity) = (text.get(written..place.start), text.get(place.clone()));
        let (before, quantity) = (Escaped(before.unwrap_or_default()), Escaped(quantity.unwrap_or_default()));
        let _ = write!(whole, "{before}<span class=\"q\">{quantity}</span>");
        written = place.end;
    }
    let _ = write!(whole, "{}", Escaped(text.get(written..).unwrap_or_default()));
    let text = whole;
    if text.contains(['\n', '\r']) { text.replace("\r\n", "\n").replace(['\n', '\r'], "<br>") } else { text }
}

/// Text as a quoted CSS string that ends neither the string nor the style element.
pub(super) fn css_string(text: &str) -> String {
    let mut out = String::with_capacity(text.len() + 2);
    out.push('"');
    for character in text.chars() {
        if character.is_alphanumeric() || matches!(character, ' ' | '.' | ',' | '-' | ':' | '·' | '–') {
            out.push(character);
        } else {
            // A code point in hexadecimal ends at the space (CSS Syntax 3, 4.3.7).
            let code = if character == '\0' { 0xfffd } else { u32::from(character) };
            let _ = write!(out, "\\{code:x} ");
        }
    }
    out.push('"');
    out
}

/// A relative address of a file: everything but plain characters and the slash is percent-encoded (RFC 3986, 2.1), so
/// that it can neither name a scheme nor leave its attribute.
pub(super) fn path_href(path: &str) -> String {
    let mut out = String::with_capacity(path.len());
    let path: Cow<'_, str> = if path.contains('\\') { path.replace('\\', "/").into() } else { path.into() };
    for byte in path.trim_start_matches('/').bytes() {
        if byte.is_ascii_alphanumeric() || matches!(byte, b'-' | b'.' | b'_' | b'~' | b'/') {
            out.push(char::from(byte));
        } else {
            let _ = write!(out, "%{byte:02X}");
        }
    }
    out
}
