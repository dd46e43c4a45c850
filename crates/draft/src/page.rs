//! Lines of YAML, each with the comment that says where its value comes from.

use std::borrow::Cow;

use seamwright_handbook::SourceRef;
use seamwright_model::finding::Basis;

use crate::units::in_inches;

/// Where a value comes from.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Said {
    /// One of the facts.
    Given,
    /// Follows from the facts alone.
    Follows(Cow<'static, str>),
    /// A handbook table.
    Table(SourceRef, Cow<'static, str>),
    /// Computed from values of the page; the formula's source and basis.
    Computed(Cow<'static, str>, Basis),
    /// The writer decides.
    Decide(Cow<'static, str>),
}

impl Said {
    /// From a row of a table.
    pub(crate) fn table(source: SourceRef) -> Self {
        Self::Table(source, Cow::Borrowed(""))
    }

    /// The same with a word on how.
    pub(crate) fn how(source: SourceRef, how: impl Into<Cow<'static, str>>) -> Self {
        Self::Table(source, how.into())
    }

    /// The comment.
    fn text(&self) -> String {
        match self {
            Self::Given => "given".to_owned(),
            Self::Follows(how) => how.to_string(),
            Self::Table(source, how) => {
                let table = source.table.as_deref().unwrap_or("handbook");
                let basis = source.basis.as_str();
                if how.is_empty() { format!("{table} ({basis})") } else { format!("{table} ({basis}): {how}") }
            }
            Self::Computed(how, basis) => format!("computed ({}): {how}", basis.as_str()),
            Self::Decide(what) => format!("decide: {what}"),
        }
    }
}

/// A value as it is written, and where it comes from.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Value {
    /// Without quotes.
    pub(crate) text: String,
    /// Where it comes from.
    pub(crate) said: Said,
}

impl Value {
    pub(crate) fn new(text: impl Into<String>, said: Said) -> Self {
        Self { text: text.into(), said }
    }
}

enum Line {
    Blank,
    Remark(usize, String),
    Key { indent: usize, dash: bool, key: String, value: String, said: Option<String> },
}

/// A page of YAML.
#[derive(Default)]
pub(crate) struct Page {
    lines: Vec<Line>,
    sources: Vec<(String, String)>,
    dash: bool,
}

impl Page {
    /// An empty line.
    pub(crate) fn blank(&mut self) {
        self.lines.push(Line::Blank);
    }

    /// A comment on a line of its own.
    pub(crate) fn remark(&mut self, indent: usize, text: impl Into<String>) {
        self.lines.push(Line::Remark(indent, text.into()));
    }

    /// The next key begins an item of a list.
    pub(crate) fn item(&mut self) {
        self.dash = true;
    }

    /// A key whose value stands on the lines below.
    pub(crate) fn head(&mut self, indent: usize, key: &str) {
        self.line(indent, key, String::new(), None);
    }

    /// A key and a value that needs no comment.
    pub(crate) fn plain(&mut self, indent: usize, key: &str, value: &str) {
        self.line(indent, key, quoted(value), None);
    }

    /// A key and its value with the comment.
    pub(crate) fn key(&mut self, indent: usize, key: &str, value: &Value) {
        self.note(&value.said);
        self.line(indent, key, quoted(&value.text), Some(value.said.text()));
    }

    /// A key and its value as written, such as a list.
    pub(crate) fn raw(&mut self, indent: usize, key: &str, value: &str, said: &Said) {
        self.note(said);
        self.line(indent, key, value.to_owned(), Some(said.text()));
    }

    /// A key and its value where there is one; else the line says what to decide.
    pub(crate) fn maybe(&mut self, indent: usize, key: &str, value: Option<&Value>, decide: &str) {
        match value {
            Some(value) => self.key(indent, key, value),
            None if decide.is_empty() => {}
            None => self.remark(indent, format!("{key}: decide: {decide}")),
        }
    }

    /// Every figure of the page in inches.
    fn turn(&mut self) {
        for line in &mut self.lines {
            match line {
                Line::Blank => {}
                Line::Remark(_, text) => *text = in_inches(text, false),
                Line::Key { key, value, said, .. } => {
                    *value = in_inches(value, key == "diameter");
                    *said = said.take().map(|said| in_inches(&said, false));
                }
            }
        }
    }

    fn note(&mut self, said: &Said) {
        if let Said::Table(source, _) = said {
            // The basis stands beside each value: one table may hold several.
            let entry = (source.table.as_deref().unwrap_or("handbook").to_owned(), source.place());
            if !self.sources.contains(&entry) {
                self.sources.push(entry);
            }
        }
    }

    fn line(&mut self, indent: usize, key: &str, value: String, said: Option<String>) {
        let dash = std::mem::take(&mut self.dash);
        self.lines.push(Line::Key { indent, dash, key: key.to_owned(), value, said });
    }

    /// The page as text, where asked in the units of American shops; comments of one section stand under each other.
    pub(crate) fn text(mut self, inches: bool) -> String {
        const WIDEST: usize = 56;
        if inches {
            self.turn();
        }
        self.sources.sort();
        let mut text = String::new();
        for section in self.lines.split(|line| matches!(line, Line::Blank)) {
            let left = |line: &Line| match line {
                Line::Key { indent, dash, key, value, .. } => {
                    let key = if key.is_empty() { String::new() } else { format!("{key}:") };
                    let gap = if value.is_empty() || key.is_empty() { "" } else { " " };
                    format!("{}{}{key}{gap}{value}", " ".repeat(*indent), if *dash { "- " } else { "" })
                }
                _ => String::new(),
            };
            let column = section
                .iter()
                .map(|line| left(line).chars().count())
                .filter(|width| *width <= WIDEST)
                .max()
                .unwrap_or(0);
            for line in section {
                match line {
                    Line::Blank => {}
                    Line::Remark(indent, remark) => text.push_str(&format!("{}# {remark}\n", " ".repeat(*indent))),
                    Line::Key { said, .. } => {
                        let left = left(line);
                        match said {
                            Some(said) => text.push_str(&format!("{left:<column$}  # {said}\n")),
                            None => text.push_str(&format!("{left}\n")),
                        }
                    }
                }
            }
            if !section.is_empty() {
                text.push('\n');
            }
        }
        text.push_str("# Tables and their first source:\n");
        for (table, line) in &self.sources {
            text.push_str(&format!("# {table}: {line}\n"));
        }
        text
    }
}

/// A scalar, in quotes where YAML would read it as something else.
fn quoted(text: &str) -> String {
    let plain = text.chars().next().is_some_and(|first| first.is_alphanumeric())
        && !text.ends_with([' ', ':'])
        && !text.contains(": ")
        && !text.contains(" #")
        && text.chars().all(|c| c.is_alphanumeric() || " .,()+/%°-;:#".contains(c));
    let word = text.parse::<f64>().is_err()
        && !["true", "false", "null", "yes", "no", "on", "off", "y", "n"].contains(&text.to_lowercase().as_str());
    // A code such as 141 or a mass percent may stand as a number.
    let number = !text.is_empty() && text.chars().all(|c| c.is_ascii_digit());
    if plain && (word || number) || text == "yes" || text == "no" {
        text.to_owned()
    } else {
        format!("'{}'", text.replace('\'', "''"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_yaml_would_misread_stands_in_quotes() {
        for (text, written) in [
            ("S355J2+N", "S355J2+N"),
            ("250 °C maximum", "250 °C maximum"),
            ("1.4301", "'1.4301'"),
            ("1e3", "'1e3'"),
            ("141", "141"),
            ("a: b", "'a: b'"),
            ("it's", "'it''s'"),
            ("- x", "'- x'"),
            ("", "''"),
            ("true", "'true'"),
        ] {
            assert_eq!(quoted(text), written);
        }
    }

    #[test]
    fn a_comment_names_table_and_basis() {
        let source = SourceRef { table: Some("a-table".into()), ..SourceRef::plain("a standard", Basis::FromMemory) };
        let mut page = Page::default();
        page.key(0, "current", &Value::new("70-90 A", Said::how(source, "low end")));
        let text = page.text(false);
        assert!(text.starts_with("current: 70-90 A  # a-table (from-memory): low end\n"), "{text}");
        assert!(text.contains("# a-table: a standard"), "{text}");
    }
}
