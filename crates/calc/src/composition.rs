//! Chemical composition, in % by mass.

use std::collections::BTreeMap;
use std::fmt;
use std::str::FromStr;

use crate::Result;
use crate::argument::Argument;
use crate::band::Band;
use crate::error::CalcError;
use crate::note::{Note, Validity};

macro_rules! elements {
    ($($element:ident = $name:literal),* $(,)?) => {
        /// An element that a composition may state; the rest is the metal's main element.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Element {
            $(#[doc = $name] $element,)*
        }

        impl Element {
            /// All elements, in the order of the list.
            pub const ALL: &[Self] = &[$(Self::$element),*];

            /// The chemical symbol.
            pub fn symbol(self) -> &'static str {
                match self { $(Self::$element => stringify!($element),)* }
            }

            /// The name in words.
            pub fn name(self) -> &'static str {
                match self { $(Self::$element => $name,)* }
            }
        }
    };
}

elements! {
    C = "carbon", Si = "silicon", Mn = "manganese", P = "phosphorus", S = "sulfur", Cr = "chromium",
    Mo = "molybdenum", Ni = "nickel", Cu = "copper", Nb = "niobium", Ti = "titanium", V = "vanadium", B = "boron",
    N = "nitrogen", Al = "aluminium", Co = "cobalt", W = "tungsten", Fe = "iron", Mg = "magnesium", Zn = "zinc",
    Sn = "tin", Pb = "lead", Zr = "zirconium", Ta = "tantalum", As = "arsenic", Sb = "antimony", Ca = "calcium",
    O = "oxygen", H = "hydrogen", Be = "beryllium", Li = "lithium",
}

impl FromStr for Element {
    type Err = CalcError;

    /// Reads a chemical symbol; capitals do not matter.
    fn from_str(text: &str) -> Result<Self> {
        Self::ALL
            .iter()
            .copied()
            .find(|element| element.symbol().eq_ignore_ascii_case(text.trim()))
            .ok_or_else(|| CalcError::UnknownElement { symbol: text.trim().to_owned() })
    }
}

impl fmt::Display for Element {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.symbol())
    }
}

/// A composition in % by mass; an element that is not stated counts as 0.
///
/// ```
/// use seamwright_calc::{Composition, Element};
/// let steel: Composition = "C=0.12, Mn=1.45".parse()?;
/// assert_eq!(steel.pct(Element::Mn), 1.45);
/// assert_eq!(steel.pct(Element::Cr), 0.0);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Composition(BTreeMap<Element, f64>);

/// How far the contents may add up past 100 % by their own rounding.
const ROUNDING_PCT: f64 = 0.01;

impl Composition {
    /// A composition from elements and contents in %. Refuses a content outside 0 to 100 %, a repeat, or a sum over 100 %.
    pub fn new(contents: impl IntoIterator<Item = (Element, f64)>) -> Result<Self> {
        let mut map = BTreeMap::new();
        for (element, pct) in contents {
            let argument = Argument(element.name(), "%");
            argument.within(argument.not_negative(pct)?, 100.0)?;
            if map.insert(element, pct).is_some() {
                return Err(CalcError::Repeated { element: element.symbol() });
            }
        }
        let sum_pct: f64 = map.values().sum();
        if sum_pct > 100.0 + ROUNDING_PCT {
            return Err(CalcError::OverWhole { sum_pct });
        }
        Ok(Self(map))
    }

    /// The content of an element, %; 0 where it is not stated.
    pub fn pct(&self, element: Element) -> f64 {
        self.0.get(&element).copied().unwrap_or(0.0)
    }

    /// Whether the element is stated, be it as 0.
    pub fn states(&self, element: Element) -> bool {
        self.0.contains_key(&element)
    }

    /// The stated elements and their contents in %.
    pub fn iter(&self) -> impl Iterator<Item = (Element, f64)> + '_ {
        self.0.iter().map(|(element, pct)| (*element, *pct))
    }

    /// Whether nothing is stated.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The mass-weighted mean of compositions; the shares must be 0 to 1 and add up to 1.
    pub(crate) fn mean(parts: &[(&Self, f64)]) -> Result<Self> {
        let mut map: BTreeMap<Element, f64> = BTreeMap::new();
        for (composition, share) in parts {
            for (element, pct) in composition.iter() {
                *map.entry(element).or_insert(0.0) += share * pct;
            }
        }
        // Shares that add up to a hair over 1 must not push a content over the whole.
        Self::new(map.into_iter().map(|(element, pct)| (element, pct.min(100.0))))
    }
}

impl FromStr for Composition {
    type Err = CalcError;

    /// Reads `C=0.12,Mn=1.45`: elements and contents in %, a comma between them.
    fn from_str(text: &str) -> Result<Self> {
        let mut contents = Vec::new();
        for part in text.split(',').map(str::trim).filter(|part| !part.is_empty()) {
            let malformed = || CalcError::Malformed { text: part.to_owned() };
            let (symbol, content) = part.split_once('=').ok_or_else(malformed)?;
            let content = content.trim().trim_end_matches('%').trim_end();
            contents.push((symbol.parse()?, content.parse::<f64>().map_err(|_| malformed())?));
        }
        if contents.is_empty() {
            return Err(CalcError::Empty { argument: "composition" });
        }
        Self::new(contents)
    }
}

impl fmt::Display for Composition {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, (element, pct)) in self.iter().enumerate() {
            let comma = if index == 0 { "" } else { ", " };
            write!(f, "{comma}{element} {pct} %")?;
        }
        Ok(())
    }
}

/// Between which contents of an element a formula is stated to hold, %.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CompositionLimit {
    /// The element.
    pub element: Element,
    /// Lowest content, %.
    pub low_pct: Option<f64>,
    /// Highest content, %.
    pub high_pct: Option<f64>,
}

impl CompositionLimit {
    /// A note for every limit that the composition is outside of; the limits come from a table.
    pub fn notes(limits: &[Self], composition: &Composition) -> Vec<Note> {
        limits
            .iter()
            .filter_map(|limit| {
                let holds = Band::of((limit.low_pct, limit.high_pct));
                Validity { argument: limit.element.name(), unit: "%", holds }.note(composition.pct(limit.element))
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn compositions_are_read_and_nonsense_is_refused_by_name() {
        let steel: Composition = "c=0.12,Mn = 1.45 %,".parse().unwrap();
        assert_eq!(steel.to_string(), "C 0.12 %, Mn 1.45 %");
        let refused = |text: &str| text.parse::<Composition>().unwrap_err().to_string();
        assert_eq!(refused("Cr=60,Ni=41"), "composition adds up to 101 %, must be at most 100 %");
        assert_eq!(refused("C=-0.1"), "carbon is -0.1 %, must be 0 or more");
        assert_eq!(refused("Mn=120"), "manganese is 120 %, must be 100 or less");
        assert_eq!(refused("C=nan"), "carbon is not a finite number");
        assert_eq!(refused("Xx=1"), "\"Xx\" is no element of a composition");
        assert_eq!(refused("C=0.1,C=0.2"), "C is stated twice");
        assert_eq!(refused("C"), "\"C\" is not an element and its content, as in C=0.12");
        assert_eq!(refused(" "), "composition is empty");
    }

    #[test]
    fn limits_give_a_note_each() {
        let steel: Composition = "C=0.4,Mn=1".parse().unwrap();
        let limit = |element, low_pct, high_pct| CompositionLimit { element, low_pct, high_pct };
        let notes = CompositionLimit::notes(
            &[limit(Element::C, Some(0.05), Some(0.32)), limit(Element::Mn, Some(0.5), Some(1.9))],
            &steel,
        );
        assert_eq!(
            notes.iter().map(ToString::to_string).collect::<Vec<_>>(),
            ["carbon is 0.4 %, the formula holds from 0.05 to 0.32 %"]
        );
    }
}
