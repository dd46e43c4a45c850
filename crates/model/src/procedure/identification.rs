//! Who and what a procedure is, and how it is qualified.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::quantity::{Energy, Range, Temperature};
use crate::stated::{Date, Text};
use crate::words::words;

/// Number, revision, title and people.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Identification {
    /// Document number.
    #[schemars(example = &"P-021")]
    pub number: Text,
    /// Revision number or letter.
    #[schemars(example = 1)]
    pub revision: Text,
    /// Date of this revision.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<Date>,
    /// What is welded, in a line.
    #[schemars(example = &"Fillet weld of a bracket")]
    pub title: Text,
    /// Who issues the procedure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub manufacturer: Option<Text>,
    /// Who wrote it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub prepared_by: Option<Text>,
    /// Who approved it, or `not yet approved`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub approved_by: Option<Text>,
    /// Whether it is a draft, issued or superseded.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub status: Option<Status>,
    /// Digest of the content as it was issued; written by `seamwright issue`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seal: Option<Text>,
    /// Customer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub customer: Option<Text>,
    /// Job or order.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub job: Option<Text>,
    /// Drawing number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drawing: Option<Text>,
    /// Where the welding is done: workshop or site.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub location: Option<Text>,
    /// The shop document (file name) whose machines this procedure is for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shop: Option<Text>,
}

words! {
    /// Whether a document is a draft, issued or superseded.
    Status, "status" {
        /// Being written; not for use.
        Draft = "draft",
        /// For use.
        Issued = "issued",
        /// Replaced by a later revision.
        Superseded = "superseded",
        /// No longer for use, and none stands in its place.
        Withdrawn = "withdrawn",
    }
}

/// How the procedure is qualified, and under which code.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Qualification {
    /// The route of qualification.
    pub route: Route,
    /// The code that governs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub code: Option<CodeName>,
    /// Edition of the code.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = 2017)]
    pub edition: Option<Text>,
    /// The code or standard that the product is built to, beside the code of qualification.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub construction: Option<Construction>,
    /// Execution class of EN 1090-2.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub execution_class: Option<ExecutionClass>,
    /// Level of ISO 15614-1:2017, 1 or 2.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = 2)]
    pub level: Option<Text>,
    /// Numbers of the test records that support the procedure.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub records: Vec<Text>,
    /// `not required`, or an impact energy at a temperature: `27 J at -20 °C`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"27 J at -20 °C")]
    pub toughness: Option<Text>,
}

words! {
    /// A route of qualification.
    Route, "route" {
        /// Not qualified, or no qualification asked for.
        None = "none",
        /// By a procedure test (ISO 15614-1, ASME IX, AWS D1.1).
        TestRecord = "test-record",
        /// Prequalified under AWS D1.1.
        Prequalified = "prequalified",
        /// By tested welding consumables (ISO 15610).
        TestedConsumables = "tested-consumables",
        /// By previous welding experience (ISO 15611).
        PreviousExperience = "previous-experience",
        /// By adoption of a standard welding procedure (ISO 15612).
        StandardProcedure = "standard-procedure",
        /// By a pre-production welding test (ISO 15613).
        PreProductionTest = "pre-production-test",
    }
}

words! {
    /// A code of qualification.
    CodeName, "code" {
        /// No code.
        None = "none",
        /// ISO 15614-1, procedure test of steels and nickel alloys.
        Iso15614 = "iso-15614-1",
        /// ISO 15614-2, procedure test of aluminium.
        Iso15614Aluminium = "iso-15614-2",
        /// ASME BPVC Section IX.
        AsmeIx = "asme-ix",
        /// AWS D1.1, structural welding of steel.
        AwsD11 = "aws-d1.1",
        /// AWS D1.2, structural welding of aluminium.
        AwsD12 = "aws-d1.2",
        /// AWS D1.3, structural welding of sheet steel.
        AwsD13 = "aws-d1.3",
        /// AWS D1.6, structural welding of stainless steel.
        AwsD16 = "aws-d1.6",
        /// API 1104, pipelines.
        Api1104 = "api-1104",
    }
}

words! {
    /// A code that a product is built to.
    Construction, "code of construction" {
        /// ASME BPVC Section VIII Division 1, pressure vessels.
        AsmeViii1 = "asme-viii-1",
        /// ASME B31.3, process piping.
        AsmeB313 = "asme-b31.3",
        /// ASME B31.1, power piping.
        AsmeB311 = "asme-b31.1",
        /// EN 1090-2, steel structures.
        En10902 = "en-1090-2",
    }
}

words! {
    /// An execution class of EN 1090-2.
    ExecutionClass, "execution class" {
        /// The least.
        Exc1 = "EXC1",
        /// Most buildings.
        Exc2 = "EXC2",
        /// Bridges and what fatigues.
        Exc3 = "EXC3",
        /// What must not fail.
        Exc4 = "EXC4",
    }
}

/// An energy at a temperature.
pub type Toughness = (Range<Energy>, Range<Temperature>);

/// An impact toughness that is asked for: energy at a temperature, or `None` where none is required.
///
/// Reads `27 J at -20 °C` and what the trade writes for it: `Charpy V 27 J, -20 °C`, `KV min. 27 J @ -20 °C`; `not required`
/// and `none` ask for nothing. Anything else is an error that says what to write.
pub fn toughness(text: &str) -> Result<Option<Toughness>, String> {
    let lower = text.trim().to_lowercase();
    if NOTHING_ASKED.contains(&lower.as_str()) {
        return Ok(None);
    }
    let wrong = || {
        format!(
            "`{text}` is not a toughness; write `not required` or an energy at a temperature, such as 27 J at -20 °C"
        )
    };
    let plain = text.replace(", ", " ").replace(['@', ';', ':', '(', ')', '≥'], " ").replace(">=", " ");
    let words: Vec<&str> =
        plain.split_whitespace().filter(|word| !BESIDE_TOUGHNESS.contains(&word.to_lowercase().as_str())).collect();
    let mut pairs = (1..words.len()).filter_map(|at| {
        let (head, tail) = words.split_at_checked(at)?;
        let (head, tail) = (head.join(" "), tail.join(" "));
        let either = |energy: &str, temperature: &str| energy.parse().ok().zip(temperature.parse().ok());
        either(&head, &tail).or_else(|| either(&tail, &head))
    });
    pairs.next_back().map(Some).ok_or_else(wrong)
}

/// Words that ask for no toughness.
const NOTHING_ASKED: &[&str] = &["not required", "none", "not applicable", "n/a", "no"];

/// Words that stand beside an energy and its temperature and say nothing more.
const BESIDE_TOUGHNESS: &[&str] = &[
    "at", "average", "charpy", "charpy-v", "cvn", "energy", "impact", "iso-v", "kv", "kv2", "kv8", "least", "mean",
    "min", "min.", "minimum", "notch", "of", "test", "v", "v-notch",
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn toughness_is_read_as_the_trade_writes_it() {
        for text in [
            "27 J at -20 °C",
            "Charpy V 27 J at -20 °C",
            "KV 27 J at -20 °C",
            "KV2 27J at -20C",
            "min. 27 J at -20 °C",
            "27 J minimum at -20 °C",
            "27 J @ -20 °C",
            "27 J, -20 °C",
            "27 J -20 °C",
            "27 J (-20 °C)",
            "-20 °C, 27 J",
        ] {
            let (energy, temperature) = toughness(text).unwrap().unwrap();
            assert_eq!(energy.low().map(Energy::joules), Some(27.0), "{text}");
            assert_eq!(temperature.low().map(Temperature::celsius), Some(-20.0), "{text}");
        }
        let (energy, temperature) = toughness("CVN 20 ft-lbf @ -20 F").unwrap().unwrap();
        assert_eq!(energy.low().map(|own| own.ft_lbf().round()), Some(20.0));
        assert_eq!(temperature.low().map(|own| own.fahrenheit().round()), Some(-20.0));
    }

    #[test]
    fn what_asks_for_nothing_is_none_and_the_rest_says_what_to_write() {
        for text in ["not required", "none", "Not Required", "n/a"] {
            assert_eq!(toughness(text), Ok(None), "{text}");
        }
        for text in ["required", "bananas", "27 J", "-20 °C", "at", ""] {
            assert!(toughness(text).is_err_and(|words| words.contains("27 J at -20 °C")), "{text}");
        }
    }
}
