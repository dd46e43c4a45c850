//! Composition limits as the tables of metals and fillers write them.
//!
//! A figure is the most of an element, a pair the least and the most, `{min: ...}` the least; `balance` is the rest.

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
pub struct Composition(pub(crate) &'static [(&'static str, Content)]);

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
        self.0.iter().map(|(element, content)| (*element, *content))
    }

    /// Whether no element is limited.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_share_is_held_against_what_is_allowed() {
        let one = |element, min, max| (element, Content { min, max });
        let limits = Composition(&[
            ("C", Content { min: None, max: Some(0.03) }),
            ("Cr", Content { min: Some(17.5), max: Some(19.5) }),
            ("Cu", Content { min: None, max: None }),
        ]);
        assert_eq!(limits.max("c"), Some(0.03));
        assert!(limits.get("Cr").unwrap().allows(18.0) && !limits.get("Cr").unwrap().allows(17.0));
        assert!(limits.get("Cu").unwrap().allows(97.0));
        assert_eq!(limits.get("Ni"), None);
        assert_eq!(limits.iter().next(), Some(one("C", None, Some(0.03))));
    }
}
