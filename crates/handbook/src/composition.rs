//! Composition limits as the tables of metals and fillers write them.
//!
//! A figure is the most of an element, a pair the least and the most, `{min: ...}` the least; `balance` is the rest.

use serde::{Deserialize, Deserializer};
use serde_json::{Map, Value};

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
        let written: Map<String, Value> = Map::deserialize(deserializer)?;
        let limits = written.into_iter().map(|(element, value)| {
            let content = content(&value).ok_or_else(|| {
                serde::de::Error::custom(format!("{element}: {value} is no figure, pair, `min` or `balance`"))
            })?;
            Ok((element, content))
        });
        limits.collect::<Result<_, _>>().map(Self)
    }
}

fn content(value: &Value) -> Option<Content> {
    match value {
        Value::Number(most) => Some(Content { min: None, max: Some(most.as_f64()?) }),
        Value::Array(pair) => match pair.as_slice() {
            [least, most] => Some(Content { min: Some(least.as_f64()?), max: Some(most.as_f64()?) }),
            _ => None,
        },
        Value::Object(map) => Some(Content { min: Some(map.get("min")?.as_f64()?), max: None }),
        Value::String(word) if word == "balance" => Some(Content { min: None, max: None }),
        _ => None,
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
