//! Units, and what is fixed for a physical quantity: name, units, examples.

use serde::{Deserialize, Serialize};

/// Which units a sheet prints.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum UnitSystem {
    /// SI units and those used with them.
    #[default]
    Si,
    /// US customary units.
    Us,
    /// The unit as written, the other one in brackets.
    Both,
}

/// The system that a unit belongs to.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Home {
    /// SI and the units used with it.
    Si,
    /// US customary.
    Us,
    /// Used in both: A, V, s, deg.
    Shared,
}

/// A unit: how it is written, and its exact size.
///
/// Base units = (number + `offset`) × `factor`.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unit {
    /// The spelling that is printed.
    pub symbol: &'static str,
    /// Other spellings that are read.
    pub aliases: &'static [&'static str],
    /// Spellings that are refused, but show that this unit is meant.
    pub near: &'static [&'static str],
    /// Base units in one of it: numerator and denominator.
    pub factor: (i128, i128),
    /// Added to the number before the factor: numerator and denominator.
    pub offset: (i128, i128),
    /// The system that it belongs to.
    pub home: Home,
    /// Decimals of a converted or computed value of ordinary size.
    pub decimals: u32,
    /// Whether small values have no more decimals: the zero of a temperature is no small amount.
    pub fixed: bool,
}

impl Unit {
    /// A unit of `home` with `factor` base units in one of it.
    pub(super) const fn new(symbol: &'static str, home: Home, factor: (i128, i128), decimals: u32) -> Self {
        Self { symbol, aliases: &[], near: &[], factor, offset: (0, 1), home, decimals, fixed: false }
    }

    /// A unit of SI or used with it.
    pub(super) const fn si(symbol: &'static str, factor: (i128, i128), decimals: u32) -> Self {
        Self::new(symbol, Home::Si, factor, decimals)
    }

    /// A US customary unit.
    pub(super) const fn us(symbol: &'static str, factor: (i128, i128), decimals: u32) -> Self {
        Self::new(symbol, Home::Us, factor, decimals)
    }

    /// A unit of both systems.
    pub(super) const fn shared(symbol: &'static str, factor: (i128, i128), decimals: u32) -> Self {
        Self::new(symbol, Home::Shared, factor, decimals)
    }

    /// With other spellings that are read.
    pub(super) const fn aliases(mut self, aliases: &'static [&'static str]) -> Self {
        self.aliases = aliases;
        self
    }

    /// With spellings that are refused, but show that this unit is meant.
    pub(super) const fn near(mut self, near: &'static [&'static str]) -> Self {
        self.near = near;
        self
    }

    /// With a number that is added before the factor.
    pub(super) const fn offset(mut self, offset: (i128, i128)) -> Self {
        self.offset = offset;
        self
    }

    /// With the same decimals for small values.
    pub(super) const fn fixed(mut self) -> Self {
        self.fixed = true;
        self
    }

    /// Whether it is its own base unit.
    pub(super) const fn is_base(&self) -> bool {
        self.factor.0 == self.factor.1 && self.offset.0 == 0
    }

    /// Whether `text` is a spelling of it; any white space stands for a space.
    pub(super) fn reads(&self, text: &str) -> bool {
        self.symbol == text
            || self.aliases.contains(&text)
            || (text.contains(char::is_whitespace)
                && std::iter::once(&self.symbol).chain(self.aliases).any(|spelling| {
                    // Most differ in their first letter.
                    spelling.bytes().next() == text.trim_start().bytes().next()
                        && spelling.split(' ').eq(text.split(char::is_whitespace).filter(|word| !word.is_empty()))
                }))
    }

    /// Whether `text` is a spelling of it in large or small letters.
    fn reads_in_any_case(&self, text: &str) -> bool {
        std::iter::once(&self.symbol).chain(self.aliases).any(|spelling| spelling.eq_ignore_ascii_case(text))
    }

    /// Text for a number and this unit; the degree sign stands close.
    pub(super) fn join(&self, number: &str) -> String {
        if self.symbol == "°" { format!("{number}°") } else { format!("{number} {}", self.symbol) }
    }
}

/// What is fixed for a physical quantity.
#[derive(Debug)]
pub struct Dimension {
    /// Name in messages: `heat input`.
    pub name: &'static str,
    /// Name of the `format` in JSON Schema: `heat-input`.
    pub format: &'static str,
    /// The units that are read.
    pub units: &'static [Unit],
    /// The unit that SI sheets print.
    pub si: Unit,
    /// The unit that US sheets print; the same where there is no other.
    pub us: Unit,
    /// Two examples for messages.
    pub examples: [&'static str; 2],
    /// The lowest possible number of base units: numerator and denominator.
    pub lowest: Option<(i128, i128)>,
}

impl Dimension {
    /// The unit that `text` spells.
    pub fn unit(&self, text: &str) -> Option<&'static Unit> {
        self.units.iter().find(|unit| unit.reads(text)).or_else(|| {
            // In other letters, or as an abbreviation with its point, where only one unit can be meant.
            let text = text.strip_suffix('.').unwrap_or(text);
            let mut meant = self.units.iter().filter(|unit| unit.reads_in_any_case(text));
            meant.next().filter(|_| meant.next().is_none())
        })
    }

    /// The name with its article: `an angle`.
    pub fn with_article(&self) -> String {
        let article = if self.name.starts_with(['a', 'e', 'i', 'o', 'u']) { "an" } else { "a" };
        format!("{article} {}", self.name)
    }
}
