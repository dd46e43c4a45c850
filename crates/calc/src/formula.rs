//! What a formula is, in words: for text that teaches.

/// How well a formula is founded; this crate knows none of those of the program, and findings have their own word for it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Basis {
    /// Read in a published page.
    Published,
    /// The publication is known, its figures are remembered.
    FromMemory,
    /// What the trade does, or plain arithmetic.
    CommonPractice,
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
