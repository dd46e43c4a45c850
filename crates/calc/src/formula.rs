//! What a formula is, in words: for text that teaches.

/// How well a formula is founded.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Basis {
    /// Read in a published page.
    Published,
    /// The publication is known, its figures are remembered.
    FromMemory,
    /// What the trade does, or plain arithmetic.
    CommonPractice,
}

impl Basis {
    /// The basis as a word.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Published => "published",
            Self::FromMemory => "from-memory",
            Self::CommonPractice => "common-practice",
        }
    }
}

/// A formula in words: what it gives, how, from where, and for what it holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Formula {
    /// Name, in kebab-case.
    pub name: &'static str,
    /// The equation with its symbols and their units.
    pub equation: &'static str,
    /// Title, edition and clause of the source.
    pub source: &'static str,
    /// How well it is founded.
    pub basis: Basis,
    /// For what it is stated to hold; empty where it holds for every value that is not refused.
    pub validity: &'static str,
}
