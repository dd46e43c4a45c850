//! Reads what a table lists: symbols of designations and gases.

use super::filler::{Filler, Form, Stop, stop};
use super::reader::Reader;
use super::symbols;
use crate::shielding_gases;

impl Reader {
    /// Reads a symbol of the table: of those that fit, the longest that ends at a break, else the longest.
    pub(super) fn symbol(&mut self, standard: &str, place: &str) -> Option<&'static symbols::Row> {
        let rest = self.rest();
        let fitting = symbols::compacted(standard, place).filter_map(|(symbol, row)| {
            (!symbol.is_empty() && rest.starts_with(symbol)).then_some((symbol.chars().count(), *row))
        });
        let (length, row) = fitting.max_by_key(|(length, _)| (self.breaks_after(*length), *length))?;
        self.skip(length);
        Some(row)
    }

    /// Reads a symbol that must stand here; `expected` says what is asked for.
    pub(super) fn needed(
        &mut self,
        standard: &'static str,
        place: &str,
        expected: &'static str,
    ) -> Result<&'static symbols::Row, Stop> {
        self.symbol(standard, place).map_or_else(|| stop(standard, expected), Ok)
    }

    /// Begins a filler whose designation opens with a letter.
    pub(super) fn begin(&mut self, standard: &'static str, form: Form, letter: &'static str) -> Result<Filler, Stop> {
        if self.eat(letter) { Ok(Filler::new(standard, form)) } else { stop(standard, letter) }
    }

    /// Reads the symbol of a gas in ISO 14175 other than the symbols that a standard of fillers gives its own meaning.
    pub(super) fn gas(&mut self) -> Option<&'static str> {
        let rest = self.rest();
        let fitting = shielding_gases::rows().iter().map(|row| row.symbol);
        let fitting = fitting.filter(|symbol| rest.starts_with(symbol));
        let symbol = fitting.max_by_key(|symbol| symbol.len())?;
        self.skip(symbol.chars().count());
        Some(symbol)
    }
}
