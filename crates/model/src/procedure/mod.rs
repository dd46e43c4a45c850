//! A welding procedure as types, in the order of ISO 15609-1. Only what is stated: no limit, no rule.

mod consumables;
mod heat;
mod history;
mod identification;
mod joint;
pub mod keys;
mod run;
mod settings;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::quantity::{Range, Temperature};
pub use crate::stated::Quantity;
use crate::stated::{Named, OrNone, Stated, Text};
use crate::trade::Taken;
use crate::words::{document_word, inline_schema};

pub use consumables::{BackingGas, Cooling, Filler, Flux, ShieldingGas, Torch, Tungsten};
pub(crate) use heat::BY_THICKNESS;
pub use heat::{Condition, HeatTreatment, Soak, Temperatures, time_by_thickness};
pub use history::{Deviation, Examination, RevisionEntry};
pub use identification::{
    CodeName, Construction, ExecutionClass, Identification, Qualification, Route, Status, Toughness, toughness,
};
pub use joint::{
    Backing, BackingType, Contour, Joint, JointType, ParentMetal, Penetration, Preparation, Progression, Sides,
    WeldSize, WeldType,
};
pub use keys::Key;
pub use run::{Layer, Run, Side, run_numbers, runs_open};
pub use settings::{
    Alternating, ArcStart, Bead, CurrentControl, Direction, Mechanization, Polarity, Pulse, Settings, Technique,
    TransferMode,
};

/// A welding procedure.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Procedure {
    /// Version of the file format; this program reads 1.
    #[schemars(with = "FormatVersion")]
    pub format: u32,
    /// The kind of document.
    #[schemars(with = "ProcedureWord")]
    pub document: String,
    /// Number, revision, title and people.
    pub identification: Identification,
    /// How the procedure is qualified, and under which code.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub qualification: Option<Qualification>,
    /// The metals joined; one entry means the same on both sides.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parent_metals: Vec<ParentMetal>,
    /// The joint and its preparation.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub joint: Option<Joint>,
    /// Size of a fillet or of a partial penetration weld.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weld_size: Option<Stated<WeldSize>>,
    /// Welding positions by ISO 6947 (PA to PK, H-L045, J-L045) or AWS (1G to 6GR, 1F to 5F).
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub positions: Vec<Text>,
    /// Direction of welding in a vertical position.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub progression: Option<Stated<Progression>>,
    /// Filler metals by a name of your choice; processes and runs refer to the name.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub fillers: Named<Filler>,
    /// The machine that it is welded on, by its name in the shop's file; a process or a run may name another.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"bench 1")]
    pub machine: Option<Text>,
    /// What holds for all runs of a process, by ISO 4063 number or AWS letters; a run may override any of it.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub processes: Named<Settings>,
    /// Gas at the root side.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub backing_gas: Option<OrNone<BackingGas>>,
    /// Preheating, interpass and heat treatment.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperatures: Option<Temperatures>,
    /// Conditions of which each has its own values, by a name of your choice: thin and thick parts, as welded and heat-treated.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub conditions: Named<Condition>,
    /// The runs in welding order; a run is a pass in AWS terms.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub runs: Vec<Run>,
    /// Examination after welding.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub inspection: Vec<Examination>,
    /// Other documents that the work follows beside this one: number and revision.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub references: Vec<Text>,
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

/// The schema of `format`.
pub(crate) struct FormatVersion;

inline_schema!(FormatVersion, "FormatVersion", schemars::json_schema!({"const": crate::format::FORMAT}));

document_word!(ProcedureWord, "procedure");

impl Procedure {
    /// The stated preheating temperature.
    pub fn preheating(&self) -> Option<&Range<Temperature>> {
        self.temperatures.as_ref()?.preheating.as_ref()?.value()
    }

    /// The stated temperature between runs.
    pub fn interpass(&self) -> Option<&Range<Temperature>> {
        self.temperatures.as_ref()?.interpass.as_ref()?.value()
    }

    /// The heat treatment after welding, where one is stated.
    pub fn heat_treatment(&self) -> Option<&HeatTreatment> {
        self.temperatures.as_ref()?.post_weld_heat_treatment.as_ref()?.value()
    }
}
