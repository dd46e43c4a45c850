//! The qualified range of a variable, and what leaving it means.

use seamwright_calc::band::{above, below};
use seamwright_handbook::measure;
use seamwright_handbook::qualified::{Category, Span};
use seamwright_handbook::{Band, SourceRef};
use seamwright_model::finding::Limit;

/// What a change of a variable outside its range means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Effect {
    /// A new revision, no test.
    Nonessential,
    /// A new test where impact tests are asked for.
    Supplementary,
    /// A new test.
    Essential,
}

impl Effect {
    /// The word used in messages and in JSON.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Nonessential => "nonessential",
            Self::Supplementary => "supplementary essential",
            Self::Essential => "essential",
        }
    }

    /// From a category of the handbook, with or without impact tests.
    pub fn of(category: Category, toughness: bool) -> Self {
        match category {
            Category::Essential => Self::Essential,
            Category::Supplementary => Self::Supplementary,
            Category::SupplementaryOrNonessential if toughness => Self::Supplementary,
            Category::SupplementaryOrNonessential | Category::Nonessential => Self::Nonessential,
        }
    }
}

/// What values a variable may take.
#[derive(Debug, Clone, PartialEq)]
pub enum Bounds {
    /// From low to high in a unit; an open end has no limit.
    Span {
        /// The values and their unit.
        span: Span,
        /// Whether the lowest and the highest value themselves lie outside.
        exclusive: (bool, bool),
    },
    /// One of these words.
    Set(Vec<String>),
    /// Whatever value.
    All,
}

/// The qualified range of a variable.
#[derive(Debug, Clone, PartialEq)]
pub struct Qualified {
    /// The variable, named as the key of a procedure where there is one.
    pub variable: &'static str,
    /// The process that it holds for; all where there is none.
    pub process: Option<String>,
    /// Number of the variable, table or clause in the code.
    pub reference: String,
    /// The range.
    pub bounds: Bounds,
    /// The same range in the other unit that the code prints, where it prints two.
    pub other: Option<Bounds>,
    /// What leaving the range means.
    pub effect: Effect,
    /// Where the figure is written.
    pub source: SourceRef,
    /// The value of the test.
    pub tested: String,
    /// Numbers of the records that it comes from.
    pub records: Vec<String>,
    /// What else is to be known.
    pub note: Option<String>,
}

impl Bounds {
    /// From low to high, the ends included.
    fn of(span: Span) -> Self {
        Self::Span { span: Span { band: span.band.map(clean), ..span }, exclusive: (false, false) }
    }

    /// The same with ends that lie outside themselves; nothing else of words.
    fn excluding(self, ends: (bool, bool)) -> Self {
        match self {
            Self::Span { span, .. } => Self::Span { span, exclusive: ends },
            words => words,
        }
    }

    /// Whether figures in the unit of the range lie within; an end that is not stated does not leave it.
    pub(super) fn holds(&self, own: Band) -> bool {
        let Self::Span { span: Span { band, .. }, exclusive } = self else { return true };
        let reaches = |own: f64, low: f64, out: bool| if out { above(own, low) } else { !below(own, low) };
        own.low_end().is_none_or(|low| reaches(low, band.low, exclusive.0))
            && own.high_end().is_none_or(|high| reaches(-high, -band.high, exclusive.1))
    }

    /// The range in words: "5-52.4 mm", "250 °C maximum", "1.1, 1.2".
    pub fn text(&self) -> String {
        match self {
            Self::Span { span, exclusive } => match (span.band.low_end(), span.band.high_end()) {
                (Some(low), None) if exclusive.0 => format!("over {}", measure::length_text(low, span.unit)),
                (None, Some(high)) if exclusive.1 => format!("under {}", measure::length_text(high, span.unit)),
                _ => span.text(),
            },
            Self::Set(words) => words.join(", "),
            Self::All => "all".to_owned(),
        }
    }

    /// The range as a limit; one that leaves its end out has no figures.
    pub(super) fn limit(&self) -> Limit {
        match self {
            Self::Span { span, exclusive: (false, false) } => span.limit(),
            _ => self.text().into(),
        }
    }

    /// The same without an upper limit, and with its lower one where that is kept; nothing for words.
    pub(super) fn uncapped(&self, keep_low: bool) -> Option<Self> {
        match self {
            Self::Span { span, exclusive } => {
                let band = if keep_low { Band::at_least(span.band.low) } else { Band::ANY };
                Some(Self::Span { span: Span { band, ..*span }, exclusive: (exclusive.0, false) })
            }
            Self::Set(_) | Self::All => None,
        }
    }
}

impl Qualified {
    pub(super) fn span(
        variable: &'static str,
        reference: &str,
        band: Band,
        unit: &'static str,
        source: SourceRef,
    ) -> Self {
        Self::new(variable, reference, Bounds::of(Span { band, unit }), source)
    }

    /// A range of sizes that the code prints in two units.
    pub(super) fn sizes(variable: &'static str, reference: &str, own: Span, other: Span, source: SourceRef) -> Self {
        let range = Self::new(variable, reference, Bounds::of(own), source);
        Self { other: (own.unit != other.unit).then(|| Bounds::of(other)), ..range }
    }

    /// The range in the unit that a value is stated in, where the code prints it.
    pub fn bounds_for(&self, customary: bool) -> &Bounds {
        let of = |bounds: &Bounds| matches!(bounds, Bounds::Span { span: Span { unit: "in" | "°F", .. }, .. });
        match &self.other {
            Some(other) if of(&self.bounds) != customary && of(other) == customary => other,
            _ => &self.bounds,
        }
    }

    pub(super) fn set<W: Into<String>>(
        variable: &'static str,
        reference: &str,
        words: impl IntoIterator<Item = W>,
        source: SourceRef,
    ) -> Self {
        Self::new(variable, reference, Bounds::Set(words.into_iter().map(Into::into).collect()), source)
    }

    pub(super) fn new(variable: &'static str, reference: &str, bounds: Bounds, source: SourceRef) -> Self {
        Self {
            variable,
            process: None,
            reference: reference.to_owned(),
            bounds,
            other: None,
            effect: Effect::Essential,
            source,
            tested: String::new(),
            records: Vec::new(),
            note: None,
        }
    }

    /// The same with ends that lie outside themselves, in both units.
    pub(super) fn excluding(mut self, ends: (bool, bool)) -> Self {
        self.bounds = self.bounds.excluding(ends);
        self.other = self.other.map(|own| own.excluding(ends));
        self
    }

    pub(super) fn process(mut self, process: &str) -> Self {
        self.process = Some(process.to_owned());
        self
    }

    pub(super) fn tested(mut self, tested: impl Into<String>) -> Self {
        self.tested = tested.into();
        self
    }

    pub(super) fn effect(mut self, effect: Effect) -> Self {
        self.effect = effect;
        self
    }

    pub(super) fn note(mut self, note: impl Into<String>) -> Self {
        self.note = Some(note.into());
        self
    }

    /// Whether it names a word.
    pub fn has(&self, word: &str) -> bool {
        matches!(&self.bounds, Bounds::Set(words) if words.iter().any(|own| own == word))
    }

    /// The variable as a reader calls it: `base metal thickness`.
    pub fn name(&self) -> String {
        self.variable.replace('_', " ")
    }
}

/// Products of a factor and a size have no more than six decimals worth printing.
fn clean(value: f64) -> f64 {
    (value * 1e6).round() / 1e6
}

/// What stands among the kinds of groove where a test of full penetration covers every groove of partial penetration.
pub(crate) const ANY_PARTIAL: &str = "any groove of partial penetration";

/// Name of the range of the thicker of two members of unequal thickness.
pub(crate) const THICKER_MEMBER: &str = "thicker_member_thickness";

/// The thicker of two members of unequal thickness, where it has no upper limit.
pub(super) fn without_cap(reference: &str, source: SourceRef, tested: &str) -> Qualified {
    Qualified::span(THICKER_MEMBER, reference, Band::ANY, "mm", source)
        .tested(tested)
        .note("where members differ in thickness, and the thinner one lies within base metal thickness")
}
