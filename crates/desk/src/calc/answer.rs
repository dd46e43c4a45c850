//! What a calculation answers, as text that teaches and as JSON.

use std::fmt;

use seamwright_calc::{Formula, Note, Spread};
use seamwright_model::finding::{Basis, SourceRef};
use serde_json::{Map, Value, json};

use crate::report::number;

/// The answer of one calculation.
#[derive(Debug, Clone)]
pub struct Answer {
    /// Its name.
    pub calculation: &'static str,
    /// By which rule it is found.
    pub method: String,
    /// The formulas that are used.
    pub formulas: Vec<Formula>,
    /// What is put in, by name.
    pub given: Vec<(String, String)>,
    /// The equations with the numbers put in.
    pub worked: Vec<String>,
    /// The results, by the keys that programs rely on.
    pub results: Vec<(&'static str, Figure)>,
    /// Where figures of handbook tables are written.
    sources: Vec<SourceRef>,
    /// What must be said beside the result.
    pub notes: Vec<String>,
}

/// A result.
#[derive(Debug, Clone, PartialEq)]
pub enum Figure {
    /// A number, with a low and a high end where what was put in is a range.
    Number {
        /// The value; that of the middles of ranges.
        value: f64,
        /// Its unit; empty where it has none.
        unit: &'static str,
        /// The ends.
        ends: Option<(f64, f64)>,
    },
    /// A word.
    Word(String),
}

impl Answer {
    /// An answer without figures yet; `method` says by which rule it is found.
    pub(super) fn new(calculation: &'static str, method: impl Into<String>) -> Self {
        Self {
            calculation,
            method: method.into(),
            formulas: Vec::new(),
            given: Vec::new(),
            worked: Vec::new(),
            results: Vec::new(),
            sources: Vec::new(),
            notes: Vec::new(),
        }
    }

    /// The formula that is used: its equation, source and validity are shown.
    pub(super) fn by(mut self, formula: Formula) -> Self {
        if !self.formulas.contains(&formula) {
            self.formulas.push(formula);
        }
        self
    }

    /// A number that is put in.
    pub(super) fn given(mut self, name: impl Into<String>, value: impl fmt::Display) -> Self {
        self.given.push((name.into(), value.to_string()));
        self
    }

    /// A number that a handbook table gives, and where it is written.
    pub(super) fn looked_up(self, name: impl Into<String>, value: impl fmt::Display, source: SourceRef) -> Self {
        let table = source.table.clone().unwrap_or_default();
        self.given(name, format!("{value}   (table {table})")).source(source)
    }

    /// The equation with the numbers put in.
    pub(super) fn worked(mut self, line: impl Into<String>) -> Self {
        self.worked.push(line.into());
        self
    }

    /// A result.
    pub(super) fn result(mut self, key: &'static str, value: f64, unit: &'static str) -> Self {
        self.results.push((key, Figure::Number { value, unit, ends: None }));
        self
    }

    /// A result with a low and a high end where what was put in is a range; its value is that of the middles.
    pub(super) fn spread(mut self, key: &'static str, spread: Spread, unit: &'static str) -> Self {
        let ends = (!spread.is_single()).then_some((spread.low, spread.high));
        self.results.push((key, Figure::Number { value: spread.middle, unit, ends }));
        self
    }

    /// A result that is a word.
    pub(super) fn word(mut self, key: &'static str, word: impl Into<String>) -> Self {
        self.results.push((key, Figure::Word(word.into())));
        self
    }

    /// Where a figure of a handbook table is written.
    pub(super) fn source(mut self, source: SourceRef) -> Self {
        if !self.sources.contains(&source) {
            self.sources.push(source);
        }
        self
    }

    /// What must be said beside the result.
    pub(super) fn note(mut self, note: impl Into<String>) -> Self {
        let note = note.into();
        if !self.notes.contains(&note) {
            self.notes.push(note);
        }
        self
    }

    /// The notes of a formula.
    pub(super) fn notes<'n>(self, notes: impl IntoIterator<Item = &'n Note>) -> Self {
        notes.into_iter().fold(self, |answer, note| answer.note(note.to_string()))
    }

    /// Where formulas and figures are written.
    pub fn sources(&self) -> impl Iterator<Item = SourceRef> + '_ {
        self.formulas.iter().map(source_of).chain(self.sources.iter().cloned())
    }

    /// The answer in the shape that programs rely on.
    pub fn json(&self) -> Value {
        let mut results = Map::new();
        for (key, figure) in &self.results {
            let value = match figure {
                Figure::Number { value, unit, ends: None } => json!({"value": value, "unit": unit}),
                Figure::Number { value, unit, ends: Some((low, high)) } => {
                    json!({"value": value, "low": low, "high": high, "unit": unit})
                }
                Figure::Word(word) => json!({"value": word, "unit": ""}),
            };
            results.insert((*key).to_owned(), value);
        }
        let mut whole = json!({
            "calculation": self.calculation,
            "method": self.method,
            "sources": self.sources().collect::<Vec<_>>(),
            "results": results,
        });
        if let (false, Some(map)) = (self.notes.is_empty(), whole.as_object_mut()) {
            map.insert("notes".to_owned(), json!(self.notes));
        }
        whole
    }
}

fn source_of(formula: &Formula) -> SourceRef {
    let basis = match formula.basis {
        seamwright_calc::Basis::Published => Basis::Published,
        seamwright_calc::Basis::FromMemory => Basis::FromMemory,
        seamwright_calc::Basis::CommonPractice => Basis::CommonPractice,
    };
    SourceRef::plain(formula.source, basis)
}

impl fmt::Display for Answer {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        writeln!(f, "{}, {}\n", self.calculation, self.method)?;
        let mut label = |label: &str, lines: &[String]| {
            for (at, line) in lines.iter().enumerate() {
                let label = if at == 0 { label } else { "" };
                writeln!(f, "{label:10} {line}")?;
            }
            Ok(())
        };
        label("equation", &self.formulas.iter().map(|formula| formula.equation.to_owned()).collect::<Vec<_>>())?;
        let width = self.given.iter().map(|(name, _)| name.chars().count()).max().unwrap_or(0);
        label("put in", &self.given.iter().map(|(name, value)| format!("{name:width$}  {value}")).collect::<Vec<_>>())?;
        label("worked", &self.worked)?;
        let width = self.results.iter().map(|(key, _)| key.len()).max().unwrap_or(0);
        let results: Vec<String> = self
            .results
            .iter()
            .map(|(key, figure)| {
                let text = match figure {
                    Figure::Word(word) => word.clone(),
                    Figure::Number { value, unit, ends } => {
                        let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
                        let ends = ends
                            .map(|(low, high)| format!("   (from {} to {}{unit})", number(low), number(high)))
                            .unwrap_or_default();
                        format!("{}{unit}{ends}", number(*value))
                    }
                };
                format!("{key:width$}  {text}")
            })
            .collect();
        label("result", &results)?;
        label("source", &self.sources().map(|source| source.line()).collect::<Vec<_>>())?;
        let holds: Vec<String> = self
            .formulas
            .iter()
            .filter(|formula| !formula.validity.is_empty())
            .map(|formula| formula.validity.to_owned())
            .collect();
        label("holds for", &holds)?;
        label("note", &self.notes)
    }
}

#[cfg(test)]
mod tests {
    use crate::report::number;

    #[test]
    fn numbers_keep_four_digits_and_no_empty_decimals() {
        for (value, text) in
            [(0.0, "0"), (1.0, "1"), (1.44, "1.44"), (0.012_345, "0.01235"), (12_345.6, "12346"), (-3.0, "-3")]
        {
            assert_eq!(number(value), text);
        }
    }
}
