//! Codes: what a test record qualifies, what a change of a variable means, and whether a procedure lies within.
//!
//! - [`qualify`]: from a test record the qualified range of every variable that its code names, as data ([`Qualified`]).
//! - [`combine`]: the ranges of several records as the code lets them stand together.
//! - [`compare`]: a procedure held against ranges; findings name the variable's number in the code.
//! - [`classify`]: whether a change of a key is essential, supplementary or nonessential.
//! - [`welders`]: what a welder's test covers, until when, and who of a shop may weld a procedure; [`in_shop`] are its checks.
//!
//! A code is a file here that reads its figures from the handbook's tables. Most of these figures are remembered: each
//! range carries its basis, and what is from memory says "verify against your edition". To add a code, write its file, its
//! tables, and its arms in [`qualify`] and [`classify`].

mod api_1104;
pub(crate) mod asme_ix;
pub(crate) mod aws_d1_1;
mod combine;
pub mod compare;
pub mod in_shop;
mod iso_15614_1;
pub mod summary;
pub mod welders;

pub use combine::{SetAside, combine, supporting};

use seamwright_handbook::asme_ix::Category;
use seamwright_handbook::qualified::Span;
use seamwright_handbook::{Inches, Origin, SourceRef, aws_d1_1 as aws, iso_15614_1 as iso, measure, planning};
use seamwright_model::procedure::{CodeName, WeldType};
use seamwright_model::test_record::TestRecord;

use crate::rule::figure;
use crate::view::View;
use summary::{Summary, Value};

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
        /// Lowest value.
        low: Option<f64>,
        /// Highest value.
        high: Option<f64>,
        /// Unit of both.
        unit: &'static str,
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
    /// The range in words: "5-52.4 mm", "250 °C maximum", "1.1, 1.2".
    pub fn text(&self) -> String {
        match self {
            Self::Span { low, high, unit: unit @ "in" } => {
                let text = |end: &f64| Inches(*end).to_string();
                match (low.as_ref().map(text), high.as_ref().map(text)) {
                    (Some(low), Some(high)) if low == high => format!("{low} {unit}"),
                    (Some(low), Some(high)) => format!("{low} to {high} {unit}"),
                    (Some(low), None) => format!("{low} {unit} minimum"),
                    (None, Some(high)) => format!("{high} {unit} maximum"),
                    (None, None) => "no limit".to_owned(),
                }
            }
            Self::Span { low, high, unit } => match (low, high) {
                (Some(low), Some(high)) if (low - high).abs() < f64::EPSILON => format!("{} {unit}", figure(*low)),
                (Some(low), Some(high)) => format!("{}-{} {unit}", figure(*low), figure(*high)),
                (Some(low), None) => format!("{} {unit} minimum", figure(*low)),
                (None, Some(high)) => format!("{} {unit} maximum", figure(*high)),
                (None, None) => "no limit".to_owned(),
            },
            Self::Set(words) => words.join(", "),
            Self::All => "all".to_owned(),
        }
    }
}

impl Qualified {
    fn span(
        variable: &'static str,
        reference: &str,
        (low, high): (Option<f64>, Option<f64>),
        unit: &'static str,
        source: SourceRef,
    ) -> Self {
        Self::new(variable, reference, Bounds::Span { low: low.map(clean), high: high.map(clean), unit }, source)
    }

    /// A range of sizes that the code prints in two units.
    fn sizes(variable: &'static str, reference: &str, own: Span, other: Span, source: SourceRef) -> Self {
        let bounds =
            |span: Span| Bounds::Span { low: span.low.map(clean), high: span.high.map(clean), unit: span.unit };
        let range = Self::new(variable, reference, bounds(own), source);
        Self { other: (own.unit != other.unit).then(|| bounds(other)), ..range }
    }

    /// The range in the unit that a value is stated in, where the code prints it.
    pub fn bounds_for(&self, customary: bool) -> &Bounds {
        let of = |bounds: &Bounds| matches!(bounds, Bounds::Span { unit: "in" | "°F", .. });
        match &self.other {
            Some(other) if of(&self.bounds) != customary && of(other) == customary => other,
            _ => &self.bounds,
        }
    }

    fn set(variable: &'static str, reference: &str, words: Vec<String>, source: SourceRef) -> Self {
        Self::new(variable, reference, Bounds::Set(words), source)
    }

    fn new(variable: &'static str, reference: &str, bounds: Bounds, source: SourceRef) -> Self {
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

    fn process(mut self, process: &str) -> Self {
        self.process = Some(process.to_owned());
        self
    }

    fn tested(mut self, tested: impl Into<String>) -> Self {
        self.tested = tested.into();
        self
    }

    fn effect(mut self, effect: Effect) -> Self {
        self.effect = effect;
        self
    }

    fn note(mut self, note: impl Into<String>) -> Self {
        self.note = Some(note.into());
        self
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

/// Why a test record gives no ranges.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// JSON pointer in the record.
    pub pointer: String,
    /// What was found, lower case, no full stop.
    pub message: String,
    /// What to write.
    pub hint: Option<String>,
}

impl Refusal {
    fn new(pointer: impl Into<String>, message: impl Into<String>, hint: &str) -> Self {
        Self { pointer: pointer.into(), message: message.into(), hint: Some(hint.to_owned()) }
    }
}

/// What a test record qualifies.
#[derive(Debug, Clone, PartialEq)]
pub struct Qualification {
    /// The code.
    pub code: CodeName,
    /// The edition whose figures were used.
    pub edition: String,
    /// The ranges, in the order of the code.
    pub ranges: Vec<Qualified>,
    /// Whether impact tests are among what was tested.
    pub toughness: bool,
}

/// Name of the range of the thicker of two members of unequal thickness.
pub(crate) const THICKER_MEMBER: &str = "thicker_member_thickness";

/// The thicker of two members of unequal thickness, where it has no upper limit.
fn without_cap(reference: &str, source: SourceRef, tested: &str) -> Qualified {
    Qualified::span(THICKER_MEMBER, reference, (None, None), "mm", source)
        .tested(tested)
        .note("where members differ in thickness, and the thinner one lies within base metal thickness")
}

/// The ranges that a test record qualifies under its code, or under `code` where it names none.
///
/// `Err` holds every reason why it gives none: another code, no code, a measured value that is missing or no single
/// value, or thicknesses that contradict each other.
pub fn qualify(record: &TestRecord, code: Option<CodeName>) -> Result<Qualification, Vec<Refusal>> {
    let number = &record.identification.number;
    let own = record.code();
    let code = match (own, code.filter(|code| *code != CodeName::None)) {
        (Some(own), Some(asked)) if own != asked => {
            return Err(vec![Refusal::new(
                "/code",
                format!("{number} is a record of {}, not of {}", title(own), title(asked)),
                "name a record of the code that governs, or leave the code out",
            )]);
        }
        (Some(own), _) => own,
        (None, Some(asked)) => asked,
        (None, None) => {
            return Err(vec![Refusal::new(
                "",
                format!("{number} names no code of the test"),
                "write `code: iso-15614-1`, `asme-ix`, `aws-d1.1` or `api-1104` and `edition:`",
            )]);
        }
    };
    let procedure = record.to_procedure();
    let view = View::new(&procedure);
    let summary = Summary::of(&view);
    let mut refusals = gaps(record, &summary, code);
    if !refusals.is_empty() {
        return Err(refusals);
    }
    let result = match code {
        CodeName::Iso15614 => iso_15614_1::ranges(record, &summary),
        CodeName::AsmeIx => asme_ix::ranges(record, &summary),
        CodeName::AwsD11 => aws_d1_1::ranges(record, &summary),
        CodeName::Api1104 => api_1104::ranges(record, &summary),
        CodeName::None => Ok((String::new(), Vec::new())),
    };
    match result {
        Ok((edition, mut ranges)) => {
            for range in &mut ranges {
                range.records = vec![number.to_string()];
            }
            Ok(Qualification { code, edition, ranges, toughness: summary.toughness })
        }
        Err(refusal) => {
            refusals.push(refusal);
            Err(refusals)
        }
    }
}

/// Measured values that no range can do without.
fn gaps(record: &TestRecord, summary: &Summary<'_>, code: CodeName) -> Vec<Refusal> {
    let mut refusals = Vec::new();
    if record.parent_metals.is_empty() {
        refusals.push(Refusal::new(
            "/parent_metals",
            "the base metal of the coupon is missing",
            "write `parent_metals:` with specification and measured thickness",
        ));
    }
    for (index, metal) in record.parent_metals.iter().enumerate() {
        if metal.thickness.is_none() {
            refusals.push(Refusal::new(
                format!("/parent_metals/{index}"),
                format!("the measured thickness of {} is missing", metal.specification),
                "write `thickness:` as it was measured",
            ));
        }
    }
    for value in summary.thickness.iter().chain(&summary.diameter) {
        single(value, "what was measured on the coupon", &mut refusals);
    }
    if summary.processes.is_empty() {
        refusals.push(Refusal::new(
            "/runs",
            "the welding process of the coupon is missing",
            "write `process:` in each run, or the block of a process",
        ));
    }
    let several = summary.processes.len() > 1;
    for process in &summary.processes {
        match &process.deposit {
            Some(deposit) => single(deposit, "what was deposited on the coupon", &mut refusals),
            None if several && summary.weld.is_none_or(WeldType::has_groove) => refusals.push(Refusal::new(
                process.pointer.clone(),
                format!("the thickness deposited with {} is missing", process.name),
                "write `deposit_thickness:` in the block of each process of a coupon of several processes",
            )),
            None => {}
        }
        if summary.toughness && process.heat_input.is_empty() {
            refusals.push(Refusal::new(
                process.pointer.clone(),
                format!("impact tests are asked for, and the measured heat input of {} is missing", process.name),
                "write current, voltage and travel speed of each run as they were measured",
            ));
        }
        if process.fillers.is_empty() && code != CodeName::None {
            refusals.push(Refusal::new(
                process.pointer.clone(),
                format!("the filler of {} is missing", process.name),
                "write `filler:` with its designation under `fillers:`, or `filler: none`",
            ));
        }
    }
    if let Some(message) = thickness_contradiction(summary) {
        refusals.push(Refusal { pointer: message.1, message: message.0, hint: Some(message.2) });
    }
    refusals
}

fn single(value: &Value<summary::Ends>, what: &str, refusals: &mut Vec<Refusal>) {
    if value.value.0.is_none() || value.value.0 != value.value.1 {
        refusals.push(Refusal::new(
            value.pointer.clone(),
            format!("{} is no single value; a record states {what}", value.stated),
            "write the one value that was measured",
        ));
    }
}

/// Message, place and hint where the deposits of the processes contradict the coupon's thickness.
pub(crate) fn thickness_contradiction(summary: &Summary<'_>) -> Option<(String, String, String)> {
    let full = summary.weld.is_none_or(|weld| weld == WeldType::Groove) && summary.view.full_penetration();
    let coupon = summary.thinnest()?.value.0?;
    let deposits: Option<Vec<f64>> =
        summary.processes.iter().map(|process| process.deposit.as_ref().and_then(|deposit| deposit.value.0)).collect();
    let sum: f64 = deposits.filter(|deposits| !deposits.is_empty())?.iter().sum();
    let share = seamwright_handbook::coupon_tests::rule("deposit-sum")?.value;
    if !full || share.contains(sum / coupon) {
        return None;
    }
    let pointer = summary.processes.iter().find_map(|process| Some(process.deposit.as_ref()?.pointer.clone()))?;
    Some((
        format!(
            "the deposits add up to {} mm in a coupon of {} mm; the record contradicts itself",
            figure(sum),
            figure(coupon)
        ),
        pointer,
        format!(
            "mend the deposit of each process or the thickness; together they make {} to {} times the thickness",
            figure(share.low),
            figure(share.high)
        ),
    ))
}

/// A code in words.
pub fn title(code: CodeName) -> &'static str {
    match code {
        CodeName::None => "no code",
        CodeName::Iso15614 => "ISO 15614-1",
        CodeName::AsmeIx => "ASME IX",
        CodeName::AwsD11 => "AWS D1.1",
        CodeName::Api1104 => "API 1104",
    }
}

/// What a change of a key means under a code.
#[derive(Debug, Clone, PartialEq)]
pub struct Classified {
    /// What the change means.
    pub effect: Effect,
    /// Number of the variable in the code.
    pub reference: String,
    /// The variable, or the change that counts, in words.
    pub wording: String,
    /// Increase above which it counts, in `unit`.
    pub increase_over: Option<f64>,
    /// Decrease above which it counts, in `unit`.
    pub decrease_over: Option<f64>,
    /// Unit of the two; `%` is of the tested value.
    pub unit: Option<String>,
    /// Where it is written.
    pub source: SourceRef,
}

/// What a change of a key of a procedure means under a code, for a process by its number or letters.
///
/// `key` is a path without indices, such as `parent_metals.thickness`; `settings` stands for processes and runs:
/// `settings.polarity`. The heaviest effect comes first; a key that the code does not name gives nothing, which is an
/// editorial change.
pub fn classify(key: &str, code: CodeName, process: &str, toughness: bool) -> Vec<Classified> {
    let named = |keys: &[String]| {
        keys.iter().any(|own| own == key || key.starts_with(&format!("{own}.")) || own.starts_with(&format!("{key}.")))
    };
    let mut found: Vec<Classified> = match code {
        CodeName::AsmeIx => seamwright_handbook::asme_ix::variables_of(process)
            .into_iter()
            .filter(|row| named(&row.keys))
            .map(|row| Classified {
                effect: Effect::of(row.category, toughness),
                reference: row.paragraph.clone(),
                wording: row.subject.clone(),
                increase_over: None,
                decrease_over: None,
                unit: None,
                source: row.origin.source_ref(),
            })
            .collect(),
        CodeName::Iso15614 => iso::variables_of(process)
            .into_iter()
            .filter(|row| named(&row.keys))
            .map(|row| Classified {
                effect: Effect::of(row.category, toughness),
                reference: row.paragraph.clone(),
                wording: row.wording.clone(),
                increase_over: None,
                decrease_over: None,
                unit: None,
                source: row.origin.source_ref(),
            })
            .collect(),
        CodeName::AwsD11 => aws::variables_of(process)
            .into_iter()
            .filter(|row| named(&row.keys))
            .map(|row| Classified {
                effect: if row.toughness { Effect::Supplementary } else { Effect::Essential },
                reference: clause(&row.origin),
                wording: format!("{}: {}", row.variable, row.change),
                increase_over: row.increase_over,
                decrease_over: row.decrease_over,
                unit: row.unit.clone(),
                source: row.origin.source_ref(),
            })
            .collect(),
        CodeName::Api1104 => seamwright_handbook::api_1104::variables_of(process)
            .into_iter()
            .filter(|row| named(&row.keys))
            .map(|row| Classified {
                effect: Effect::Essential,
                reference: row.paragraph.clone(),
                wording: format!("{}: {}", row.variable, row.change),
                increase_over: None,
                decrease_over: None,
                unit: None,
                source: at_clause(&row.origin, &row.paragraph),
            })
            .collect(),
        CodeName::None => Vec::new(),
    };
    found.sort_by_key(|one| std::cmp::Reverse(one.effect));
    found
}

/// Whether a variable of ASME IX is one for the metals of a document; where their P-Numbers are not known it is.
pub(crate) fn asme_holds(paragraph: &str, view: &View<'_>) -> bool {
    if seamwright_handbook::asme_ix::metals_of(paragraph).is_none() || view.metals.is_empty() {
        return true;
    }
    let mut numbers = view.metals.iter().map(asme_ix::p_number);
    numbers.any(|number| number.is_none_or(|own| seamwright_handbook::asme_ix::holds_for(paragraph, own)))
}

/// A preparation as API 1104 tells joint designs apart.
pub(crate) fn api_design(shape: seamwright_model::procedure::Preparation) -> &'static str {
    api_1104::design(shape)
}

/// Whether a pipe turns or stands in a position, as API 1104 tells positions apart.
pub(crate) fn api_turning(position: &seamwright_handbook::positions::Row) -> &'static str {
    api_1104::turning(position)
}

/// Clause or table of a row's first source.
fn clause(origin: &Origin) -> String {
    origin.source_ref().clause.unwrap_or_default().into_owned()
}

/// A source with another clause: that of the variable instead of that of its table.
fn at_clause(origin: &Origin, clause: &str) -> SourceRef {
    SourceRef { clause: Some(clause.to_owned().into()), others: 0, ..origin.source_ref() }
}

/// The distinct words of several values.
/// No metal is welded colder than what needs no preheat.
fn least_preheat(figure: f64, unit: &str) -> f64 {
    let floor = planning::rule("frost").map_or(f64::NEG_INFINITY, |rule| rule.value.low);
    figure.max(measure::converted(floor, "°C", unit))
}

fn distinct<T>(values: &[Value<T>], word: impl Fn(&Value<T>) -> String) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for value in values {
        let word = word(value);
        if !words.contains(&word) {
            words.push(word);
        }
    }
    words
}

/// Heat treatment as a word of a set: `none` or `held`.
fn treatment_word(value: &summary::Treatment) -> String {
    match value {
        summary::Treatment::None => "none".to_owned(),
        summary::Treatment::Held(..) => "heat treated".to_owned(),
    }
}
