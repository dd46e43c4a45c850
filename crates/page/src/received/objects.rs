//! The objects of a PDF that may come from anyone, read under bounds.
//!
//! A reader that follows a file's own structure recurses and unpacks as deep as the file says. This one goes through the
//! bytes once, notes where each object stands, and reads what is asked for: nested at most so deep, with so many parts and
//! so many unpacked bytes in all. It finds what any other reader finds, whatever table that one goes by, and old versions
//! of an object, too.

use std::borrow::Cow;
use std::cell::Cell;
use std::collections::BTreeMap;

use flate2::{Decompress, FlushDecompress, Status};

use super::arrival::Unreadable;

/// Sections inside sections of an object.
const DEPTH: usize = 40;
/// Objects of a file, old versions among them.
const OBJECTS: usize = 100_000;
/// Bytes that streams of objects unpack to, all of them together: they are kept.
const KEPT: usize = 24 * 1024 * 1024;
/// Bytes that all streams together unpack to.
const UNPACKED: usize = 96 * 1024 * 1024;
/// Bytes that are read as objects, those that stand in several counted each time.
const READ: usize = 64 * 1024 * 1024;
/// Parts of objects that are read, all of them together.
const PARTS: usize = 1_500_000;
/// Parts of one object.
const PARTS_OF_ONE: usize = 200_000;

/// An object (ISO 32000-1, 7.3).
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Object<'b> {
    /// Null, true, false, or what is no object.
    Other,
    /// A number, as it is written.
    Number(&'b [u8]),
    /// A name.
    Name(Cow<'b, [u8]>),
    /// A string.
    Text(Cow<'b, [u8]>),
    /// A reference, by the number of the object.
    Reference(u32),
    /// An array.
    Array(Vec<Object<'b>>),
    /// A dictionary.
    Dictionary(Vec<(Cow<'b, [u8]>, Object<'b>)>),
}

impl<'b> Object<'b> {
    /// The entry of a dictionary: of two of one name the last, as most readers take it.
    pub(super) fn get(&self, key: &str) -> Option<&Object<'b>> {
        let Self::Dictionary(entries) = self else { return None };
        entries.iter().rev().find(|(own, _)| own.as_ref() == key.as_bytes()).map(|(_, value)| value)
    }

    /// A dictionary with more entries, where it has none of these names.
    pub(super) fn with(mut self, more: Vec<(&'static str, Object<'b>)>) -> Self {
        for (key, value) in more {
            if self.get(key).is_none()
                && let Self::Dictionary(entries) = &mut self
            {
                entries.push((key.as_bytes().into(), value));
            }
        }
        self
    }

    /// Whether an entry is this name.
    pub(super) fn is(&self, key: &str, name: &str) -> bool {
        matches!(self.get(key), Some(Object::Name(own)) if own.as_ref() == name.as_bytes())
    }

    /// A number as every reader takes it: without an exponent.
    pub(super) fn real(&self) -> Option<f64> {
        let Self::Number(text) = self else { return None };
        let plain = text.iter().all(|own| own.is_ascii_digit() || matches!(own, b'.' | b'+' | b'-'));
        std::str::from_utf8(text).ok().filter(|_| plain)?.parse().ok()
    }

    /// A whole number.
    pub(super) fn number(&self) -> Option<usize> {
        let Self::Number(text) = self else { return None };
        std::str::from_utf8(text).ok()?.parse().ok()
    }
}

/// Where an object stands: in the file, or in a stream of objects that was unpacked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Place {
    /// None for the file itself.
    stream: Option<usize>,
    at: usize,
    /// Where it, or the stream that holds it, stands in the file.
    order: usize,
}

/// A file with the places of its objects.
pub(super) struct Objects<'b> {
    bytes: &'b [u8],
    unpacked: Vec<Vec<u8>>,
    /// By number, every version in the order of the file.
    places: BTreeMap<u32, Vec<Place>>,
    /// Where trailers stand.
    trailers: Vec<usize>,
    budget: Budget,
    /// What in it is read one way by one reader and another way by others.
    doubtful: Cell<Option<&'static str>>,
}

/// What may still be read.
struct Budget {
    read: Cell<usize>,
    parts: Cell<usize>,
    unpacked: Cell<usize>,
}

impl Budget {
    fn take(left: &Cell<usize>, own: usize) -> Result<(), Unreadable> {
        match left.get().checked_sub(own) {
            Some(rest) => {
                left.set(rest);
                Ok(())
            }
            None => Err(Unreadable::TooMuch),
        }
    }
}

impl<'b> Objects<'b> {
    /// Finds the objects of a file.
    pub(super) fn of(bytes: &'b [u8]) -> Result<Self, Unreadable> {
        let budget = Budget { read: Cell::new(READ), parts: Cell::new(PARTS), unpacked: Cell::new(UNPACKED) };
        let (places, trailers, doubtful) = (BTreeMap::new(), Vec::new(), Cell::new(None));
        let mut own = Self { bytes, unpacked: Vec::new(), places, trailers, budget, doubtful };
        let mut count = 0;
        let mut packed = Vec::new();
        let mut at = 0;
        while let Some(found) = find(bytes, at, b"obj") {
            at = found + 3;
            let Some((number, generation)) = number_before(bytes, found) else {
                if stands_alone(bytes, found) {
                    own.doubt("an object in it is headed as no program heads it");
                }
                continue;
            };
            if generation != 0 {
                own.doubt("an object in it is of another generation");
            }
            count += 1;
            if count > OBJECTS {
                return Err(Unreadable::TooMuch);
            }
            own.places.entry(number).or_default().push(Place { stream: None, at, order: at });
            let object = own.parse(bytes, at)?;
            if object.0.get("First").is_some() && object.0.get("N").is_some() {
                packed.push(at);
            }
        }
        at = 0;
        while let Some(found) = find(bytes, at, b"trailer") {
            at = found + 7;
            if own.trailers.len() < OBJECTS {
                own.trailers.push(at);
            }
        }
        let mut kept = KEPT;
        for at in packed {
            let (dictionary, end) = own.parse(bytes, at)?;
            let Some(text) = own.stream(&dictionary, end, kept)? else {
                own.doubt("objects in it are packed as no sheet packs them");
                continue;
            };
            kept = kept.saturating_sub(text.len());
            let stream = own.unpacked.len();
            let of = |key: &str| -> Result<Option<usize>, Unreadable> {
                let value = dictionary.get(key).map(|value| own.resolved(value)).transpose()?;
                Ok(value.and_then(|value| value.number()))
            };
            let (count_of, first) = (of("N")?, of("First")?);
            let (mut place, mut numbers) = (0, Vec::new());
            for _ in 0..count_of.unwrap_or(0).min(OBJECTS).saturating_mul(2) {
                let (object, end) = own.parse(&text, place)?;
                let Some(number) = object.number() else { break };
                numbers.push(number);
                place = end;
            }
            for pair in numbers.chunks_exact(2) {
                let &[number, offset] = pair else { continue };
                count += 1;
                if count > OBJECTS {
                    return Err(Unreadable::TooMuch);
                }
                let within = first.unwrap_or(0).saturating_add(offset);
                let place = Place { stream: Some(stream), at: within, order: at };
                if let Ok(number) = u32::try_from(number) {
                    own.places.entry(number).or_default().push(place);
                }
            }
            own.unpacked.push(text);
        }
        own.places.values_mut().for_each(|places| places.sort_by_key(|place| place.order));
        Ok(own)
    }

    /// Whether an object stands in it more than once: which of them is shown hangs on the reader.
    pub(super) fn any_twice(&self) -> bool {
        self.places.values().any(|places| places.len() > 1)
    }

    /// What in it one reader takes one way and others another way, as far as it was read.
    pub(super) fn doubtful(&self) -> Option<&'static str> {
        self.doubtful.get()
    }

    fn doubt(&self, what: &'static str) {
        self.doubtful.set(self.doubtful.get().or(Some(what)));
    }

    /// The numbers of all objects.
    pub(super) fn numbers(&self) -> impl Iterator<Item = u32> + '_ {
        self.places.keys().copied()
    }

    /// Every version of an object, the last of the file at the end, each with where a stream of it would begin.
    pub(super) fn versions(&self, number: u32) -> Result<Vec<(Object<'_>, Option<usize>)>, Unreadable> {
        let places = self.places.get(&number).map(Vec::as_slice).unwrap_or_default();
        places
            .iter()
            .map(|place| match place.stream {
                None => self.parse(self.bytes, place.at).map(|(object, end)| (object, Some(end))),
                Some(stream) => {
                    let text = self.unpacked.get(stream).map(Vec::as_slice).unwrap_or_default();
                    self.parse(text, place.at).map(|(object, _)| (object, None))
                }
            })
            .collect()
    }

    /// The last version of an object.
    pub(super) fn last(&self, number: u32) -> Result<Option<(Object<'_>, Option<usize>)>, Unreadable> {
        Ok(self.versions(number)?.pop())
    }

    /// An object, through one reference.
    pub(super) fn resolved<'o>(&'o self, object: &Object<'o>) -> Result<Object<'o>, Unreadable> {
        match object {
            Object::Reference(number) => Ok(self.last(*number)?.map_or(Object::Other, |(object, _)| object)),
            direct => Ok(direct.clone()),
        }
    }

    /// The dictionaries after the word `trailer`, and those of streams that stand for one.
    pub(super) fn trailers(&self) -> Result<Vec<Object<'_>>, Unreadable> {
        let mut found = Vec::new();
        for at in &self.trailers {
            found.push(self.parse(self.bytes, *at)?.0);
        }
        for number in self.numbers() {
            for (object, _) in self.versions(number)? {
                // Readers do not ask for its type.
                if object.is("Type", "XRef") || (object.get("W").is_some() && object.get("Root").is_some()) {
                    found.push(object);
                }
            }
        }
        Ok(found)
    }

    /// What a stream holds, unpacked to at most `most` bytes; nothing where there is no stream, or it is packed in another
    /// way than sheets are.
    pub(super) fn stream(
        &self,
        dictionary: &Object<'_>,
        end: usize,
        most: usize,
    ) -> Result<Option<Vec<u8>>, Unreadable> {
        let Some(raw) = self.raw(dictionary, end)? else { return Ok(None) };
        let filter = match dictionary.get("Filter") {
            None => None,
            Some(Object::Array(filters)) if filters.is_empty() => None,
            Some(Object::Array(filters)) if filters.len() == 1 => filters.first().cloned(),
            Some(other) => Some(self.resolved(other)?),
        };
        match filter {
            None => {
                if raw.len() > most {
                    return Err(Unreadable::TooMuch);
                }
                Ok(Some(raw.to_vec()))
            }
            Some(Object::Name(name)) if matches!(name.as_ref(), b"FlateDecode" | b"Fl") => {
                if dictionary.get("DecodeParms").is_some() {
                    return Ok(None);
                }
                self.inflate(raw, most)
            }
            Some(_) => Ok(None),
        }
    }

    /// The bytes of a stream as they stand in the file.
    pub(super) fn raw(&self, dictionary: &Object<'_>, end: usize) -> Result<Option<&'b [u8]>, Unreadable> {
        let mut at = skip_space(self.bytes, end);
        Budget::take(&self.budget.read, at - end.min(at))?;
        if !self.bytes.get(at..).is_some_and(|rest| rest.starts_with(b"stream")) {
            return Ok(None);
        }
        at += 6;
        if self.bytes.get(at) == Some(&b'\r') {
            at += 1;
        }
        if self.bytes.get(at) == Some(&b'\n') {
            at += 1;
        }
        let length = match dictionary.get("Length") {
            Some(length) => self.resolved(length)?.number(),
            None => None,
        };
        // At most a line end stands before the word that ends a stream.
        let stated = length.and_then(|length| self.bytes.get(at..at.checked_add(length)?)).filter(|stated| {
            let after = self.bytes.get(at + stated.len()..).unwrap_or_default();
            after.get(..12.min(after.len())).is_some_and(|after| after.trim_ascii_start().starts_with(b"endstream"))
        });
        if stated.is_some() {
            return Ok(stated);
        }
        self.doubt("a part of it does not end where it says");
        let stop = find(self.bytes, at, b"endstream").unwrap_or(self.bytes.len());
        Budget::take(&self.budget.read, stop - at)?;
        Ok(self.bytes.get(at..stop))
    }

    fn inflate(&self, raw: &[u8], most: usize) -> Result<Option<Vec<u8>>, Unreadable> {
        let mut out = Vec::new();
        let mut part = vec![0; 32 * 1024];
        let mut inflate = Decompress::new(true);
        loop {
            let taken = usize::try_from(inflate.total_in()).unwrap_or(usize::MAX);
            let before = inflate.total_out();
            let rest = raw.get(taken..).unwrap_or_default();
            let Ok(status) = inflate.decompress(rest, &mut part, FlushDecompress::None) else { return Ok(None) };
            let made = usize::try_from(inflate.total_out() - before).unwrap_or(usize::MAX);
            Budget::take(&self.budget.unpacked, made)?;
            if out.len() + made > most {
                return Err(Unreadable::TooMuch);
            }
            out.extend_from_slice(part.get(..made).unwrap_or_default());
            let used = usize::try_from(inflate.total_in()).unwrap_or(usize::MAX) - taken;
            match status {
                Status::StreamEnd => return Ok(Some(out)),
                // Cut short: other readers show what there is.
                _ if made == 0 && used == 0 => return Ok(Some(out)),
                _ => {}
            }
        }
    }

    /// The object at a place, and where it ends.
    fn parse<'t>(&self, text: &'t [u8], at: usize) -> Result<(Object<'t>, usize), Unreadable> {
        let one = Cell::new(PARTS_OF_ONE.min(self.budget.parts.get()));
        let before = one.get();
        let mut parser = Parser { text, at, parts: &one };
        let object = parser.object(0)?;
        Budget::take(&self.budget.parts, before - one.get())?;
        let end = parser.at;
        Budget::take(&self.budget.read, end.saturating_sub(at))?;
        Ok((object, end))
    }
}

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

fn hex_byte(two: &[u8]) -> Option<u8> {
    u8::from_str_radix(std::str::from_utf8(two).ok().filter(|text| text.len() == 2 && !text.starts_with('+'))?, 16).ok()
}

const fn is_space(byte: u8) -> bool {
    matches!(byte, 0 | b'\t' | b'\n' | 12 | b'\r' | b' ')
}

pub(super) const fn is_regular(byte: u8) -> bool {
    !is_space(byte) && !matches!(byte, b'(' | b')' | b'<' | b'>' | b'[' | b']' | b'{' | b'}' | b'/' | b'%')
}

/// The place after white space and comments.
pub(super) fn skip_space(text: &[u8], mut at: usize) -> usize {
    while let Some(byte) = text.get(at) {
        if *byte == b'%' {
            while text.get(at).is_some_and(|byte| !matches!(byte, b'\n' | b'\r')) {
                at += 1;
            }
        } else if is_space(*byte) {
            at += 1;
        } else {
            break;
        }
    }
    at
}

fn digits(word: &[u8]) -> Option<u32> {
    std::str::from_utf8(word).ok().filter(|word| !word.starts_with('+'))?.parse().ok()
}

/// Number and generation of an object whose word `obj` stands at a place.
fn number_before(text: &[u8], at: usize) -> Option<(u32, u32)> {
    let back = |end: usize, wanted: fn(u8) -> bool| {
        let before = text.get(..end).unwrap_or_default();
        end - before.iter().rev().take_while(|byte| wanted(**byte)).count()
    };
    let digit = |byte: u8| byte.is_ascii_digit();
    let generation_end = back(at, is_space);
    let generation = back(generation_end, digit);
    let number_end = back(generation, is_space);
    let number = back(number_end, digit);
    if generation == generation_end || number_end == generation {
        return None;
    }
    Some((digits(text.get(number..number_end)?)?, digits(text.get(generation..generation_end)?)?))
}

/// Whether a word `obj` is one by itself, with white space before it and an object behind it.
fn stands_alone(text: &[u8], at: usize) -> bool {
    let before = at.checked_sub(1).and_then(|at| text.get(at)).is_some_and(|byte| is_space(*byte));
    let begins = |byte: &u8| matches!(byte, b'<' | b'[' | b'(' | b'/');
    before && text.get(skip_space(text, at + 3)).is_some_and(begins)
}

/// Where a word stands next.
pub(super) fn find(text: &[u8], from: usize, word: &[u8]) -> Option<usize> {
    let first = *word.first()?;
    let mut at = from;
    loop {
        let rest = text.get(at..)?;
        at += rest.iter().position(|byte| *byte == first)?;
        if text.get(at..)?.starts_with(word) {
            return Some(at);
        }
        at += 1;
    }
}
