//! Objects read out of bytes (ISO 32000-1, 7.3), nested at most so deep and of at most so many parts.

use std::borrow::Cow;
use std::cell::Cell;

use super::arrival::Unreadable;
use super::budget::Budget;
use super::bytes::{digits, hex_byte, is_regular, skip_space};
use super::object::Object;

/// Sections inside sections of an object.
const DEPTH: usize = 40;

/// Bytes, and the place in them that is read next.
pub(super) struct Parser<'t, 'p> {
    pub(super) text: &'t [u8],
    pub(super) at: usize,
    pub(super) parts: &'p Cell<usize>,
}

impl<'t> Parser<'t, '_> {
    pub(super) fn peek(&self) -> Option<u8> {
        self.text.get(self.at).copied()
    }

    pub(super) fn object(&mut self, depth: usize) -> Result<Object<'t>, Unreadable> {
        Budget::take(self.parts, 1)?;
        if depth > DEPTH {
            return Err(Unreadable::TooMuch);
        }
        self.at = skip_space(self.text, self.at);
        let rest = self.text.get(self.at..).unwrap_or_default();
        match rest {
            [b'<', b'<', ..] => {
                self.at += 2;
                self.dictionary(depth)
            }
            [b'[', ..] => {
                self.at += 1;
                let mut items = Vec::new();
                loop {
                    self.at = skip_space(self.text, self.at);
                    match self.peek() {
                        None => return Ok(Object::Array(items)),
                        Some(b']') => {
                            self.at += 1;
                            return Ok(Object::Array(items));
                        }
                        Some(_) => {
                            let before = self.at;
                            items.push(self.object(depth + 1)?);
                            if self.at == before {
                                self.at += 1;
                            }
                        }
                    }
                }
            }
            [b'(', ..] => Ok(self.string()),
            [b'<', ..] => Ok(self.hexadecimal()),
            [b'/', ..] => Ok(Object::Name(self.name())),
            [b'0'..=b'9' | b'+' | b'-' | b'.', ..] => Ok(self.number()),
            _ => {
                self.word();
                Ok(Object::Other)
            }
        }
    }

    fn dictionary(&mut self, depth: usize) -> Result<Object<'t>, Unreadable> {
        let mut entries = Vec::new();
        loop {
            self.at = skip_space(self.text, self.at);
            match self.text.get(self.at..).unwrap_or_default() {
                [] => return Ok(Object::Dictionary(entries)),
                [b'>', b'>', ..] => {
                    self.at += 2;
                    return Ok(Object::Dictionary(entries));
                }
                [b'/', ..] => {
                    let key = self.name();
                    self.at = skip_space(self.text, self.at);
                    let value = match self.text.get(self.at..).unwrap_or_default() {
                        [b'>', b'>', ..] => Object::Other,
                        _ => self.object(depth + 1)?,
                    };
                    entries.push((key, value));
                }
                [b'e', b'n', b'd', ..] | [b's', b't', b'r', ..] => return Ok(Object::Dictionary(entries)),
                _ => {
                    Budget::take(self.parts, 1)?;
                    self.at += 1;
                }
            }
        }
    }

    pub(super) fn name(&mut self) -> Cow<'t, [u8]> {
        self.at += 1;
        let start = self.at;
        while self.peek().is_some_and(is_regular) {
            self.at += 1;
        }
        let plain = self.text.get(start..self.at).unwrap_or_default();
        if !plain.contains(&b'#') {
            return Cow::Borrowed(plain);
        }
        let (mut out, mut rest) = (Vec::with_capacity(plain.len()), plain);
        while let [first, after @ ..] = rest {
            let code = if *first == b'#' { after.get(..2).and_then(hex_byte) } else { None };
            out.push(code.unwrap_or(*first));
            rest = if code.is_some() { after.get(2..).unwrap_or_default() } else { after };
        }
        Cow::Owned(out)
    }

    /// A number, or a reference of two numbers and an R.
    fn number(&mut self) -> Object<'t> {
        let number = self.word();
        let after = self.at;
        if let Some(first) = digits(number) {
            self.at = skip_space(self.text, self.at);
            if let Some(generation) = digits(self.word()) {
                self.at = skip_space(self.text, self.at);
                if self.word() == b"R" {
                    // No sheet has a second generation of an object.
                    return if generation == 0 { Object::Reference(first) } else { Object::Other };
                }
            }
        }
        self.at = after;
        Object::Number(number)
    }

    /// Regular characters up to the next space or delimiter.
    pub(super) fn word(&mut self) -> &'t [u8] {
        let start = self.at;
        while self.peek().is_some_and(is_regular) {
            self.at += 1;
        }
        self.text.get(start..self.at).unwrap_or_default()
    }

    pub(super) fn hexadecimal(&mut self) -> Object<'t> {
        self.at += 1;
        let start = self.at;
        while self.peek().is_some_and(|byte| byte != b'>') {
            self.at += 1;
        }
        let mut digits: Vec<u8> = self.text.get(start..self.at).unwrap_or_default().to_vec();
        self.at += 1;
        digits.retain(u8::is_ascii_hexdigit);
        if digits.len() % 2 == 1 {
            digits.push(b'0');
        }
        Object::Text(Cow::Owned(digits.chunks_exact(2).filter_map(hex_byte).collect()))
    }

    pub(super) fn string(&mut self) -> Object<'t> {
        self.at += 1;
        let (start, mut open, mut plain) = (self.at, 1, true);
        while let Some(byte) = self.peek() {
            match byte {
                b'\\' => {
                    plain = false;
                    self.at += 1;
                }
                b'(' => open += 1,
                b')' => open -= 1,
                b'\r' => plain = false,
                _ => {}
            }
            if open == 0 {
                break;
            }
            self.at += 1;
        }
        let raw = self.text.get(start..self.at.min(self.text.len())).unwrap_or_default();
        self.at += 1;
        Object::Text(if plain { Cow::Borrowed(raw) } else { Cow::Owned(unescaped(raw)) })
    }
}

/// A literal string without its escapes (7.3.4.2).
pub(super) fn unescaped(raw: &[u8]) -> Vec<u8> {
    let mut out = Vec::with_capacity(raw.len());
    let mut bytes = raw.iter().copied().peekable();
    while let Some(byte) = bytes.next() {
        if byte == b'\r' {
            bytes.next_if_eq(&b'\n');
            out.push(b'\n');
            continue;
        }
        if byte != b'\\' {
            out.push(byte);
            continue;
        }
        match bytes.next() {
            Some(b'n') => out.push(b'\n'),
            Some(b'r') => out.push(b'\r'),
            Some(b't') => out.push(b'\t'),
            Some(b'b') => out.push(8),
            Some(b'f') => out.push(12),
            Some(b'\r') => _ = bytes.next_if_eq(&b'\n'),
            Some(b'\n') | None => {}
            Some(digit @ b'0'..=b'7') => {
                let mut code = u32::from(digit - b'0');
                for _ in 0..2 {
                    let Some(next) = bytes.next_if(|next| (b'0'..=b'7').contains(next)) else { break };
                    code = code * 8 + u32::from(next - b'0');
                }
                out.push(u8::try_from(code & 0xFF).unwrap_or_default());
            }
            Some(other) => out.push(other),
        }
    }
    out
}
