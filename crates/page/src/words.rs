//! The words of sheets and the languages that they stand in.
//!
//! Labels stand in `words/labels.yaml`, terms of the handbook and of values in `words/terms.yaml`; both say where a word of Spanish or
//! German comes from. What an author wrote stands as it was written.

use std::borrow::Cow;
use std::fmt;
use std::ops::Deref;

use seamwright_handbook::SourceRef;
use seamwright_handbook::variables::{self, Terms};

pub use crate::language::Language;
use crate::options::SheetOptions;

include!(concat!(env!("OUT_DIR"), "/words.rs"));

/// A label: its English, the word of AWS where it differs, and the words of other languages.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Label {
    key: &'static str,
    en: &'static str,
    aws: Option<&'static str>,
    es: Option<&'static str>,
    de: Option<&'static str>,
}

/// A label by itself is its English, for the kinds of sheet that have no other language.
impl Deref for Label {
    type Target = str;

    fn deref(&self) -> &str {
        self.en
    }
}

impl fmt::Display for Label {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(self.en)
    }
}

impl From<Label> for String {
    fn from(label: Label) -> Self {
        label.en.to_owned()
    }
}

impl From<&Label> for String {
    fn from(label: &Label) -> Self {
        label.en.to_owned()
    }
}

impl Label {
    /// The English.
    pub const fn english(self) -> &'static str {
        self.en
    }

    /// The English with what fills its places.
    pub fn fill(self, values: &[(&str, &str)]) -> String {
        filled(self.en, values)
    }

    fn of(self, terms: Terms, language: Language) -> Option<&'static str> {
        match (language, terms, self.aws) {
            (Language::En, Terms::Aws, Some(aws)) => Some(aws),
            (Language::En, ..) => Some(self.en),
            (Language::Es, ..) => self.es,
            (Language::De, ..) => self.de,
        }
    }
}

/// Around a word that stands in English for want of another, where a sheet is made to find them: characters of no script.
const LACKING: (char, char) = ('\u{e000}', '\u{e001}');

/// A text with its places in braces filled.
fn filled(text: &str, values: &[(&str, &str)]) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('{') {
        out.push_str(before);
        let Some((name, beyond)) = after.split_once('}') else { break };
        out.push_str(values.iter().find(|(own, _)| *own == name).map_or("", |(_, value)| value));
        rest = beyond;
    }
    out.push_str(rest);
    out
}

/// A word of the handbook or of a value in another language; nothing where none is known.
fn term_in(english: &str, language: Language) -> Option<&'static str> {
    let at = TERMS.binary_search_by(|(own, ..)| (*own).cmp(english)).ok()?;
    let (_, es, de) = TERMS.get(at)?;
    match language {
        Language::En => None,
        Language::Es => *es,
        Language::De => *de,
    }
}

impl SheetOptions {
    /// A label in the words and the language of the sheet.
    pub fn say(self, label: Label) -> Cow<'static, str> {
        label.of(self.terms, self.language).map_or_else(|| self.lacking(label.en), Cow::Borrowed)
    }

    /// A label with what fills its places.
    pub fn fill(self, label: Label, values: &[(&str, &str)]) -> String {
        filled(&self.say(label), values)
    }

    /// Of a label for one and a label for several, that for a count.
    pub fn count(self, count: usize, one: Label, many: Label) -> String {
        if count == 1 { self.say(one).into_owned() } else { self.fill(many, &[("count", &count.to_string())]) }
    }

    /// The term for a variable: in another language that of the variable itself, where its English has several meanings.
    pub fn term(self, key: &'static str) -> Cow<'static, str> {
        if let Some(term) = term_in(key, self.language) {
            return Cow::Borrowed(term);
        }
        self.word(variables::term(key, self.terms))
    }

    /// A word of the handbook or of the format in the language of the sheet; in English where none is known.
    pub fn word(self, english: &str) -> Cow<'_, str> {
        if self.language == Language::En {
            return Cow::Borrowed(english);
        }
        if let Some(term) = term_in(english, self.language) {
            return Cow::Borrowed(term);
        }
        // Of a count, the words behind it: `# pieces` stands for any number of them.
        let counted = english.split_once(' ').filter(|(count, _)| count.parse::<f64>().is_ok());
        match counted.and_then(|(count, rest)| Some((count, term_in(&format!("# {rest}"), self.language)?))) {
            Some((count, term)) => Cow::Owned(term.replacen('#', count, 1)),
            None => self.lacking(english),
        }
    }

    /// The term for a variable inside a sentence: `root gap`, but `P-Number`, and in German as it is.
    pub fn low(self, key: &'static str) -> String {
        let term = self.term(key);
        let mut letters = term.chars();
        match (letters.next(), letters.clone().next()) {
            (Some(first), Some(second)) if second.is_lowercase() && self.language != Language::De => {
                first.to_lowercase().chain(letters).collect()
            }
            _ => term.into_owned(),
        }
    }

    /// A printed quantity with its words in the language of the sheet: `10 °C minimum`.
    pub fn measure(self, printed: String) -> String {
        if self.language == Language::En {
            return printed;
        }
        for (ending, label) in [(" minimum", label::MINIMUM), (" maximum", label::MAXIMUM)] {
            if let Some(value) = printed.strip_suffix(ending) {
                return self.fill(label, &[("value", value)]);
            }
        }
        printed
    }

    /// Where a figure is written, with its basis: a title stands as it is printed, what is said of it in the language of the sheet.
    pub fn source(self, source: &SourceRef) -> String {
        if self.language == Language::En {
            return source.line();
        }
        let title = term_in(&source.title, self.language).map_or_else(|| source.title.clone(), Cow::Borrowed);
        let place = SourceRef { title, others: 0, ..source.clone() }.place();
        let basis = self.word(source.basis.remark());
        match source.others {
            0 => format!("{place} ({basis})"),
            1 => format!("{place}, {} ({basis})", self.word("1 more source")),
            more => format!("{place}, {} ({basis})", self.word(&format!("{more} more sources"))),
        }
    }

    /// A text that stands in English for want of another.
    fn lacking(self, english: &str) -> Cow<'_, str> {
        if self.marks_lacking {
            Cow::Owned(format!("{}{english}{}", LACKING.0, LACKING.1))
        } else {
            Cow::Borrowed(english)
        }
    }
}

/// What stands in English in a text that was made to find it, each once.
pub fn lacking_in(text: &str) -> Vec<String> {
    let mut found: Vec<String> = Vec::new();
    for part in text.split(LACKING.0).skip(1) {
        if let Some((word, _)) = part.split_once(LACKING.1)
            && !found.iter().any(|own| own == word)
        {
            found.push(word.to_owned());
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn places_are_filled_by_name() {
        assert_eq!(filled("{a} of {b}, {a}", &[("a", "1"), ("b", "{a}")]), "1 of {a}, 1");
        assert_eq!(label::DRY.fill(&[("name", "E7018")]), "Dry E7018");
    }

    #[test]
    fn a_word_that_lacks_stands_in_english_and_can_be_found() {
        let options = SheetOptions { language: Language::De, ..SheetOptions::default() };
        assert_eq!(options.word("no such word of the trade"), "no such word of the trade");
        let marking = SheetOptions { marks_lacking: true, ..options };
        let text = format!("{} {}", marking.word("no such word of the trade"), marking.word("fillet"));
        assert_eq!(lacking_in(&text), ["no such word of the trade"]);
    }

    #[test]
    fn a_term_inside_a_sentence_keeps_its_capital_in_german_only() {
        let low = |language| SheetOptions { language, ..SheetOptions::default() }.low("/joint/root_gap");
        assert_eq!(low(Language::En), "root gap");
        assert!(low(Language::Es).starts_with(char::is_lowercase));
        assert!(low(Language::De).starts_with(char::is_uppercase));
    }

    #[test]
    fn a_word_of_two_meanings_is_that_of_its_variable() {
        let options = SheetOptions { language: Language::De, terms: Terms::Aws, ..SheetOptions::default() };
        assert_eq!(options.term("/weld_size"), "Nahtmaß");
        assert_eq!(options.term("/joint/penetration_depth"), "Nahtdicke (s)");
        let english = SheetOptions { language: Language::En, ..options };
        assert_eq!(english.term("/weld_size"), english.term("/joint/penetration_depth"));
    }

    #[test]
    fn keys_of_labels_are_sorted_nowhere_but_known_once() {
        let mut keys: Vec<&str> = LABELS.iter().map(|label| label.key).collect();
        let all = keys.len();
        keys.sort_unstable();
        keys.dedup();
        assert_eq!(keys.len(), all);
    }
}
