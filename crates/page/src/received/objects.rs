//! The objects of a PDF that may come from anyone, read under bounds.
//!
//! A reader that follows a file's own structure recurses and unpacks as deep as the file says. This one goes through the
//! bytes once, notes where each object stands, and reads what is asked for: nested at most so deep, with so many parts and
//! so many unpacked bytes in all. It finds what any other reader finds, whatever table that one goes by, and old versions
//! of an object, too.

use std::cell::Cell;
use std::collections::BTreeMap;

use flate2::{Decompress, FlushDecompress, Status};

use super::arrival::Unreadable;
use super::budget::Budget;
use super::bytes::{digits, find, is_space, skip_space};
use super::object::Object;
use super::parser::Parser;

/// Objects of a file, old versions among them.
const OBJECTS: usize = 100_000;
/// Bytes that streams of objects unpack to, all of them together: they are kept.
const KEPT: usize = 24 * 1024 * 1024;
/// Parts of one object.
const PARTS_OF_ONE: usize = 200_000;

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

impl<'b> Objects<'b> {
    /// Finds the objects of a file.
    pub(super) fn of(bytes: &'b [u8]) -> Result<Self, Unreadable> {
        let (places, trailers, doubtful) = (BTreeMap::new(), Vec::new(), Cell::new(None));
        let mut own = Self { bytes, unpacked: Vec::new(), places, trailers, budget: Budget::whole(), doubtful };
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
