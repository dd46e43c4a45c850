//! An object of a PDF, as a value.

use std::borrow::Cow;

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
