//! A test record as types: what was measured on a test coupon, and the tests made on it. Only what is stated.
//!
//! The sections are those of a procedure ([`crate::procedure`]) with the single values that were measured. To add a key,
//! add the field with its doc comment; schema and messages follow.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::procedure::{
    BackingGas, CodeName, Deviation, Examination, Filler, FormatVersion, Identification, Joint, ParentMetal, Procedure,
    Progression, Qualification, Quantity, RevisionEntry, Route, Run, Settings, Temperatures, WeldSize,
};
use crate::quantity::{Energy, Hardness, Length, Range, Stress, Temperature};
use crate::stated::{Date, Named, OrNone, Stated, Text};
use crate::trade::Taken;
use crate::words::{document_word, words};

document_word!(TestRecordWord, "test-record");

/// A test record: the values measured on a coupon and the tests made on it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TestRecord {
    /// Version of the file format; this program reads 1.
    #[schemars(with = "FormatVersion")]
    pub format: u32,
    /// The kind of document.
    #[schemars(with = "TestRecordWord")]
    pub document: String,
    /// Number, revision, title and people.
    pub identification: Identification,
    /// Number of the procedure, or preliminary procedure, by which the coupon was welded.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"P-021")]
    pub procedure: Option<Text>,
    /// The code under which the coupon was tested.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub code: Option<CodeName>,
    /// Edition of the code.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = 2017)]
    pub edition: Option<Text>,
    /// Level of ISO 15614-1:2017, 1 or 2.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = 2)]
    pub level: Option<Text>,
    /// `not required`, or the impact energy asked for at a temperature: `27 J at -20 °C`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"27 J at -20 °C")]
    pub toughness: Option<Text>,
    /// Route and code, as a procedure states them; `code`, `edition`, `level` and `toughness` may stand here instead.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub qualification: Option<Qualification>,
    /// Date of welding.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub welded: Option<Date>,
    /// Name or stamp of the welder or operator.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub welder: Option<Text>,
    /// Who witnessed welding and tests: examiner or examining body.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub witnessed_by: Option<Text>,
    /// Where the specimens were tested.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub laboratory: Option<Text>,
    /// The metals of the coupon; one entry means the same on both sides.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parent_metals: Vec<ParentMetal>,
    /// The joint and its preparation as welded.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub joint: Option<Joint>,
    /// Size of a fillet or of a partial penetration weld.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weld_size: Option<Stated<WeldSize>>,
    /// Position of the coupon, by ISO 6947 or AWS.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub positions: Vec<Text>,
    /// Direction of welding in a vertical position.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub progression: Option<Stated<Progression>>,
    /// Filler metals by a name of your choice; processes and runs refer to the name.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub fillers: Named<Filler>,
    /// What held for all runs of a process, with its deposit thickness; a run may override any of it.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub processes: Named<Settings>,
    /// Gas at the root side.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub backing_gas: Option<OrNone<BackingGas>>,
    /// Preheating, interpass and heat treatment as measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperatures: Option<Temperatures>,
    /// The runs in welding order with the values measured.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub runs: Vec<Run>,
    /// Examination that was asked for; its results stand under `tests`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub inspection: Vec<Examination>,
    /// The tests made on the coupon and their results.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub tests: Vec<Test>,
    /// Remarks that are printed on the sheet.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notes: Vec<Text>,
    /// The history of the document, oldest first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub revisions: Vec<RevisionEntry>,
    /// Findings accepted for a stated reason; printed on the sheet, never silent.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub deviations: Vec<Deviation>,
    /// Words of the trade in the file that were taken for words of the format; no key.
    #[serde(skip)]
    #[schemars(skip)]
    pub taken: Vec<Taken>,
}

impl TestRecord {
    /// The code of the test, from its own key or from `qualification`.
    pub fn code(&self) -> Option<CodeName> {
        self.code.or_else(|| self.qualification.as_ref()?.code).filter(|code| *code != CodeName::None)
    }

    /// Edition of the code.
    pub fn edition(&self) -> Option<&str> {
        self.edition.as_deref().or_else(|| self.qualification.as_ref()?.edition.as_deref())
    }

    /// Level of ISO 15614-1.
    pub fn level(&self) -> Option<&str> {
        self.level.as_deref().or_else(|| self.qualification.as_ref()?.level.as_deref())
    }

    /// The toughness asked for, as stated.
    pub fn toughness(&self) -> Option<&str> {
        self.toughness.as_deref().or_else(|| self.qualification.as_ref()?.toughness.as_deref())
    }

    /// The same sections as a procedure, so that what reads a procedure reads them; pointers stay the same.
    pub fn to_procedure(&self) -> Procedure {
        let text = |text: &str| Text(text.to_owned());
        Procedure {
            machine: None,
            format: self.format,
            document: "procedure".to_owned(),
            identification: self.identification.clone(),
            qualification: Some(Qualification {
                route: self.qualification.as_ref().map_or(Route::TestRecord, |own| own.route),
                code: self.code(),
                edition: self.edition().map(text),
                construction: self.qualification.as_ref().and_then(|own| own.construction),
                execution_class: self.qualification.as_ref().and_then(|own| own.execution_class),
                level: self.level().map(text),
                records: Vec::new(),
                toughness: self.toughness().map(text),
            }),
            parent_metals: self.parent_metals.clone(),
            joint: self.joint.clone(),
            weld_size: self.weld_size.clone(),
            positions: self.positions.clone(),
            progression: self.progression.clone(),
            fillers: self.fillers.clone(),
            processes: self.processes.clone(),
            backing_gas: self.backing_gas.clone(),
            temperatures: self.temperatures.clone(),
            conditions: crate::stated::Named::default(),
            runs: self.runs.clone(),
            inspection: self.inspection.clone(),
            references: Vec::new(),
            notes: self.notes.clone(),
            revisions: self.revisions.clone(),
            deviations: self.deviations.clone(),
            taken: self.taken.clone(),
        }
    }
}

/// A test of the coupon or of a specimen.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Test {
    /// Method.
    pub method: TestMethod,
    /// Mark of the specimen, or what was examined: `T1`, `full length`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"T1")]
    pub specimen: Option<Text>,
    /// Kind of specimen: `transverse`, `face`, `root`, `side`.
    #[serde(default, rename = "type", skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"side")]
    pub kind: Option<Text>,
    /// Number of specimens that this entry stands for; one where it is not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 1))]
    pub count: Option<u32>,
    /// Where on the coupon: `weld metal`, `heat affected zone`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"weld metal")]
    pub location: Option<Text>,
    /// Temperature of an impact test.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature: Quantity<Temperature>,
    /// Standard of the test method: `ISO 4136`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"ISO 4136")]
    pub standard: Option<Text>,
    /// What was measured or seen: `521 MPa`, `no crack`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"521 MPa")]
    pub value: Option<Text>,
    /// The single values of a set, such as the three specimens of an impact test.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub values: Vec<Text>,
    /// What is asked for: `470 MPa minimum`, `ISO 5817 level B`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"470 MPa minimum")]
    pub requirement: Option<Text>,
    /// Whether the requirement is met.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub result: Option<TestResult>,
    /// Number of the laboratory's report.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub report: Option<Text>,
    /// Where it broke, size of an indication, or another remark.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub remark: Option<Text>,
}

words! {
    /// A test method.
    TestMethod, "test method" {
        /// Tensile test.
        Tensile = "tensile",
        /// Bend test.
        Bend = "bend",
        /// Macroscopic examination.
        Macro = "macro",
        /// Microscopic examination.
        Micro = "micro",
        /// Hardness test.
        Hardness = "hardness",
        /// Impact test.
        Impact = "impact",
        /// Fracture test.
        Fracture = "fracture",
        /// Visual examination.
        Visual = "visual",
        /// Penetrant examination.
        Penetrant = "penetrant",
        /// Magnetic particle examination.
        MagneticParticle = "magnetic-particle",
        /// Radiographic examination.
        Radiographic = "radiographic",
        /// Ultrasonic examination.
        Ultrasonic = "ultrasonic",
        /// Corrosion test.
        Corrosion = "corrosion",
        /// Chemical analysis.
        Chemical = "chemical",
    }
}

words! {
    /// The result of a test.
    TestResult, "result" {
        /// The requirement is met.
        Acceptable = "acceptable",
        /// The requirement is not met.
        NotAcceptable = "not acceptable",
        /// To be decided.
        Open = "open",
    }
}

/// A measured value of a test, in the quantity that its method measures.
#[derive(Debug, Clone, PartialEq)]
pub enum Measured {
    /// Tensile strength.
    Stress(Range<Stress>),
    /// Impact energy.
    Energy(Range<Energy>),
    /// Hardness.
    Hardness(Range<Hardness>),
    /// A size.
    Length(Range<Length>),
}

impl Measured {
    /// Reads the value or the requirement of a test; `None` where it is words, not a quantity.
    pub fn parse(method: TestMethod, text: &str) -> Option<Self> {
        match method {
            TestMethod::Tensile => text.parse().ok().map(Self::Stress),
            TestMethod::Impact => text.parse().ok().map(Self::Energy),
            TestMethod::Hardness => text.parse().ok().map(Self::Hardness),
            _ => text.parse().ok().map(Self::Length),
        }
    }

    /// Lowest and highest figure in the base unit (`MPa`, J, HV10, mm), and that unit.
    pub fn ends(&self) -> (Option<f64>, Option<f64>, &'static str) {
        match self {
            Self::Stress(range) => (range.low().map(Stress::mpa), range.high().map(Stress::mpa), "MPa"),
            Self::Energy(range) => (range.low().map(Energy::joules), range.high().map(Energy::joules), "J"),
            Self::Hardness(range) => (range.low().map(Hardness::hv10), range.high().map(Hardness::hv10), "HV10"),
            Self::Length(range) => (range.low().map(Length::mm), range.high().map(Length::mm), "mm"),
        }
    }
}
