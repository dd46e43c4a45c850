//! How a value may be stated: given, `not applicable`, or `none`; and the small value types of the format.

use std::fmt;

use schemars::{JsonSchema, Schema, json_schema};
use serde::de::{DeserializeOwned, Error as _, MapAccess, Visitor};
use serde::ser::SerializeMap;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use serde_json::Value;

use crate::quantity::Range;
use crate::words::{inline_schema, spoken};

/// The words that state on purpose that a value does not apply.
pub const NOT_APPLICABLE: &str = "not applicable";

/// The word for something that is left out on purpose.
pub const NONE: &str = "none";

/// A value as stated. A missing key is `None` in an `Option` around it, which is different.
#[derive(Debug, Clone, PartialEq)]
pub enum Stated<T> {
    /// Stated on purpose as not applying.
    NotApplicable,
    /// The value.
    Is(T),
}

/// A quantity as stated, or `not applicable`.
pub type Quantity<Q> = Option<Stated<Range<Q>>>;

/// A part that may be there or be left out on purpose.
#[derive(Debug, Clone, PartialEq)]
pub enum OrNone<T> {
    /// Stated on purpose as not applying.
    NotApplicable,
    /// Left out on purpose.
    None,
    /// The part.
    Is(T),
}

impl<T> Stated<T> {
    /// The value, if one is given.
    pub fn value(&self) -> Option<&T> {
        match self {
            Self::Is(value) => Some(value),
            Self::NotApplicable => None,
        }
    }
}

impl<T> OrNone<T> {
    /// The part, if it is there.
    pub fn value(&self) -> Option<&T> {
        match self {
            Self::Is(value) => Some(value),
            Self::NotApplicable | Self::None => None,
        }
    }
}

impl<T: Serialize> Serialize for Stated<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::NotApplicable => serializer.serialize_str(NOT_APPLICABLE),
            Self::Is(value) => value.serialize(serializer),
        }
    }
}

impl<T: Serialize> Serialize for OrNone<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match self {
            Self::NotApplicable => serializer.serialize_str(NOT_APPLICABLE),
            Self::None => serializer.serialize_str(NONE),
            Self::Is(value) => value.serialize(serializer),
        }
    }
}

impl<'de, T: DeserializeOwned> Deserialize<'de> for Stated<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let value = Value::deserialize(deserializer)?;
        if value.as_str() == Some(NOT_APPLICABLE) {
            return Ok(Self::NotApplicable);
        }
        T::deserialize(&value).map(Self::Is).map_err(D::Error::custom)
    }
}

impl<'de, T: DeserializeOwned> Deserialize<'de> for OrNone<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let value = Value::deserialize(deserializer)?;
        match value.as_str() {
            Some(NOT_APPLICABLE) => Ok(Self::NotApplicable),
            Some(NONE) => Ok(Self::None),
            _ => T::deserialize(&value).map(Self::Is).map_err(D::Error::custom),
        }
    }
}

/// Adds the words to a schema that lists words; a schema for text or a part keeps its own shape beside them.
fn beside(mut schema: Schema, words: &[&str]) -> Schema {
    if let Some(Value::Array(list)) = schema.get_mut("enum") {
        list.extend(words.iter().map(|word| Value::from(*word)));
        if let Some(Value::Array(meanings)) = schema.get_mut("enumDescriptions") {
            meanings.extend(words.iter().map(|_| Value::from("Stated on purpose.")));
        }
        return schema;
    }
    if schema.get("type").and_then(Value::as_str) == Some("string") {
        // A quantity: the format accepts the words itself. Other text may hold any words.
        return schema;
    }
    json_schema!({"if": {"type": "string"}, "then": {"enum": words}, "else": schema})
}

inline_schema!(Stated<T> where T: JsonSchema, format!("Stated{}", T::schema_name()), |generator| {
    beside(generator.subschema_for::<T>(), &[NOT_APPLICABLE])
});
inline_schema!(OrNone<T> where T: JsonSchema, format!("OrNone{}", T::schema_name()), |generator| {
    beside(generator.subschema_for::<T>(), &[NONE, NOT_APPLICABLE])
});

/// Text, or a plain number where a code is meant (`141`, `17`, `2017`); never empty.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize)]
pub struct Text(pub String);

impl std::ops::Deref for Text {
    type Target = str;
    fn deref(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Text {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.0)
    }
}

impl From<&str> for Text {
    fn from(text: &str) -> Self {
        Self(text.to_owned())
    }
}

impl<'de> Deserialize<'de> for Text {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct AsText;
        impl Visitor<'_> for AsText {
            type Value = Text;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("text or a plain number")
            }
            fn visit_str<E: serde::de::Error>(self, text: &str) -> Result<Text, E> {
                if text.trim().is_empty() { Err(E::custom("empty text")) } else { Ok(Text(text.trim().to_owned())) }
            }
            fn visit_i64<E>(self, number: i64) -> Result<Text, E> {
                Ok(Text(number.to_string()))
            }
            fn visit_u64<E>(self, number: u64) -> Result<Text, E> {
                Ok(Text(number.to_string()))
            }
            fn visit_f64<E>(self, number: f64) -> Result<Text, E> {
                Ok(Text(number.to_string()))
            }
        }
        deserializer.deserialize_any(AsText)
    }
}

inline_schema!(Text, "Text", json_schema!({"type": ["string", "number"], "minLength": 1, "pattern": "\\S"}));

/// `yes` or `no`; `true` and `false` mean the same.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct YesNo(pub bool);

impl Serialize for YesNo {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(if self.0 { "yes" } else { "no" })
    }
}

impl<'de> Deserialize<'de> for YesNo {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        match Value::deserialize(deserializer)? {
            Value::Bool(value) => Ok(Self(value)),
            Value::String(text) if text == "yes" => Ok(Self(true)),
            Value::String(text) if text == "no" => Ok(Self(false)),
            other => Err(D::Error::custom(format!("expected yes or no, found {other}"))),
        }
    }
}

inline_schema!(YesNo, "YesNo", json_schema!({"enum": ["yes", "no", true, false]}));

/// A calendar day, written `2026-02-17` (ISO 8601).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date(pub jiff::civil::Date);

impl Date {
    /// The same day some months later, or the last of that month; `None` beyond the calendar.
    pub fn months_later(self, months: i32) -> Option<Self> {
        self.0.checked_add(jiff::Span::new().try_months(months).ok()?).ok().map(Self)
    }
}

impl fmt::Display for Date {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.0)
    }
}

impl std::str::FromStr for Date {
    type Err = String;
    fn from_str(text: &str) -> Result<Self, String> {
        if let (10, Ok(day)) = (text.len(), text.parse()) {
            return Ok(Self(day));
        }
        Err(match day_meant(text) {
            Some(day) => format!("`{text}` is not written year-month-day; write {day}"),
            None if text.len() != 10 => format!("`{text}` is not a date; write year-month-day, such as 2026-02-17"),
            None => format!("`{text}` is not a day of the calendar; write year-month-day, such as 2026-02-17"),
        })
    }
}

/// The day that a date in another order means, where it can mean only one: day first with points, and with strokes where
/// one of two numbers is above 12.
fn day_meant(text: &str) -> Option<jiff::civil::Date> {
    let mark = text.chars().find(|character| !character.is_ascii_digit())?;
    let parts: Vec<&str> = text.trim_end_matches(mark).split(mark).collect();
    let [one, two, three] = parts.as_slice() else { return None };
    let number = |part: &str| part.parse::<i16>().ok();
    let (first, second) = (number(one)?, number(two)?);
    let (year, month, day) = match mark {
        _ if one.len() == 4 => (first, second, number(three)?),
        _ if three.len() != 4 => return None,
        '.' => (number(three)?, second, first),
        '/' | '-' if first > 12 || first == second => (number(three)?, second, first),
        '/' | '-' if second > 12 => (number(three)?, first, second),
        _ => return None,
    };
    jiff::civil::Date::new(year, i8::try_from(month).ok()?, i8::try_from(day).ok()?).ok()
}

spoken!(Date, json_schema!({"type": "string", "format": "date", "examples": ["2026-02-17"]}));

/// Keys of the author's choice with a value each, in the order of the file.
#[derive(Debug, Clone, PartialEq)]
pub struct Named<T>(pub Vec<(String, T)>);

impl<T> Default for Named<T> {
    fn default() -> Self {
        Self(Vec::new())
    }
}

impl<T> Named<T> {
    /// The value under a key.
    pub fn get(&self, key: &str) -> Option<&T> {
        self.0.iter().find(|(name, _)| name == key).map(|(_, value)| value)
    }

    /// Keys and values in the order of the file.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &T)> {
        self.0.iter().map(|(name, value)| (name.as_str(), value))
    }

    /// The keys in the order of the file.
    pub fn keys(&self) -> impl Iterator<Item = &str> {
        self.0.iter().map(|(name, _)| name.as_str())
    }

    /// Whether no key stands here.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl<T: Serialize> Serialize for Named<T> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(Some(self.0.len()))?;
        for (name, value) in &self.0 {
            map.serialize_entry(name, value)?;
        }
        map.end()
    }
}

impl<'de, T: Deserialize<'de>> Deserialize<'de> for Named<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct AsNamed<T>(std::marker::PhantomData<T>);
        impl<'de, T: Deserialize<'de>> Visitor<'de> for AsNamed<T> {
            type Value = Named<T>;
            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("keys with values")
            }
            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Named<T>, A::Error> {
                let mut entries = Vec::with_capacity(map.size_hint().unwrap_or(0).min(64));
                while let Some(entry) = map.next_entry()? {
                    entries.push(entry);
                }
                Ok(Named(entries))
            }
        }
        deserializer.deserialize_map(AsNamed(std::marker::PhantomData))
    }
}

inline_schema!(Named<T> where T: JsonSchema, format!("Named{}", T::schema_name()), |generator| {
    json_schema!({"type": "object", "additionalProperties": generator.subschema_for::<T>()})
});

/// Elements or gases with their share in percent (mass percent of a metal, volume percent of a gas).
#[derive(Debug, Clone, PartialEq, Default, Serialize)]
pub struct Composition(pub Named<f64>);

impl Composition {
    /// The share of a component, percent; 0 where it is not named.
    pub fn percent(&self, component: &str) -> f64 {
        self.0.get(component).copied().unwrap_or(0.0)
    }

    /// Whether a component is named.
    pub fn names(&self, component: &str) -> bool {
        self.0.get(component).is_some()
    }

    /// Components and percents in the order of the file.
    pub fn iter(&self) -> impl Iterator<Item = (&str, f64)> {
        self.0.iter().map(|(name, percent)| (name, *percent))
    }
}

impl<'de> Deserialize<'de> for Composition {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let parts = Named::<f64>::deserialize(deserializer)?;
        if let Some((name, percent)) = parts.iter().find(|(_, percent)| !(0.0..=100.0).contains(*percent)) {
            return Err(D::Error::custom(format!("{name}: {percent} is not a percentage")));
        }
        Ok(Self(parts))
    }
}

inline_schema!(Composition, "Composition", {
    let share = json_schema!({"type": "number", "minimum": 0, "maximum": 100, "examples": [75]});
    json_schema!({"type": "object", "additionalProperties": share})
});
