//! Composition limits as the tables of metals and fillers write them.
//!
//! A figure is the most of an element, a pair the least and the most, `{min: ...}` the least; `balance` is the rest.

use std::fmt;

use serde::de::{Error, MapAccess, SeqAccess, Visitor};
use serde::{Deserialize, Deserializer};

/// What a specification allows of one element, in mass percent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Content {
    /// Least, where one is given.
    pub min: Option<f64>,
    /// Most, where one is given; neither bound stands for the balance.
    pub max: Option<f64>,
}

impl Content {
    /// Whether a measured share in mass percent lies within the limits.
    pub fn allows(&self, percent: f64) -> bool {
        self.min.is_none_or(|min| min <= percent) && self.max.is_none_or(|max| percent <= max)
    }
}

/// Limits by element, in the order of the table.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Composition(Vec<(String, Content)>);

impl Composition {
    /// The limits of an element by its symbol; nothing where the specification is silent.
    pub fn get(&self, element: &str) -> Option<Content> {
        self.0.iter().find(|(own, _)| own.eq_ignore_ascii_case(element)).map(|(_, content)| *content)
    }

    /// The most of an element in mass percent.
    pub fn max(&self, element: &str) -> Option<f64> {
        self.get(element)?.max
    }

    /// Elements and limits, in the order of the table.
    pub fn iter(&self) -> impl Iterator<Item = (&str, Content)> {
        self.0.iter().map(|(element, content)| (element.as_str(), *content))
    }

    /// Whether no element is limited.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

impl<'de> Deserialize<'de> for Composition {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct ByElement;
        impl<'de> Visitor<'de> for ByElement {
            type Value = Composition;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("limits by element")
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Composition, A::Error> {
                let mut limits = Vec::with_capacity(map.size_hint().unwrap_or_default());
                while let Some(limit) = map.next_entry()? {
                    limits.push(limit);
                }
                Ok(Composition(limits))
            }
        }
        deserializer.deserialize_map(ByElement)
    }
}

impl<'de> Deserialize<'de> for Content {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct AsWritten;
        impl<'de> Visitor<'de> for AsWritten {
            type Value = Content;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a figure, a pair of figures, `min` or `balance`")
            }

            fn visit_f64<E: Error>(self, most: f64) -> Result<Content, E> {
                Ok(Content { min: None, max: Some(most) })
            }

            #[expect(clippy::cast_precision_loss, reason = "a share in percent is far below 2^53")]
            fn visit_u64<E: Error>(self, most: u64) -> Result<Content, E> {
                self.visit_f64(most as f64)
            }

            fn visit_seq<A: SeqAccess<'de>>(self, mut pair: A) -> Result<Content, A::Error> {
                match (pair.next_element()?, pair.next_element()?, pair.next_element::<f64>()?) {
                    (Some(least), Some(most), None) => Ok(Content { min: Some(least), max: Some(most) }),
                    _ => Err(Error::custom("a range is a pair of figures")),
                }
            }

            fn visit_map<A: MapAccess<'de>>(self, mut map: A) -> Result<Content, A::Error> {
                match (map.next_entry::<String, f64>()?, map.next_key::<String>()?) {
                    (Some((key, least)), None) if key == "min" => Ok(Content { min: Some(least), max: None }),
                    _ => Err(Error::custom("one bound alone is written `{min: 0.1}`")),
                }
            }

            fn visit_str<E: Error>(self, word: &str) -> Result<Content, E> {
                match word {
                    "balance" => Ok(Content { min: None, max: None }),
                    _ => Err(Error::unknown_variant(word, &["balance"])),
                }
            }
        }
        deserializer.deserialize_any(AsWritten)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_way_of_writing_a_limit_is_read() {
        let json = r#"{"C": 0.03, "Cr": [17.5, 19.5], "Si": {"min": 0.1}, "Cu": "balance"}"#;
        let limits: Composition = serde_json::from_str(json).unwrap();
        assert_eq!(limits.max("c"), Some(0.03));
        assert!(limits.get("Cr").unwrap().allows(18.0) && !limits.get("Cr").unwrap().allows(17.0));
        assert_eq!(limits.get("Si"), Some(Content { min: Some(0.1), max: None }));
        assert!(limits.get("Cu").unwrap().allows(97.0));
        assert_eq!(limits.get("Ni"), None);
        assert!(serde_json::from_str::<Composition>(r#"{"C": "some"}"#).is_err());
    }
}
