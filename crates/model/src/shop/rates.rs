//! What work and consumables cost, the times beside the arc, and when the shop works.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::allowance::Allowance;
use crate::price::Price;
use crate::quantity::{Duration, Range, Share};
use crate::stated::{Named, Quantity, Stated, Text};

/// What labour and consumables cost.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Rates {
    /// Currency by its ISO 4217 code.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"EUR")]
    pub currency: Option<Text>,
    /// Labour: `52 per h`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub labour: Option<Price>,
    /// Filler by its classification or by its process, else under `other`: `ER70S-2: 9.50 per kg`.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub filler: Named<Price>,
    /// Gas by its designation, else under `other`: `I1: 7.20 per m3`.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub gas: Named<Price>,
    /// Flux by its designation, else under `other`.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub flux: Named<Price>,
    /// Electricity: `0.31 per kWh`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub electricity: Option<Price>,
    /// Rental of one cylinder by its gas, else under `other`: `argon: 9 per month`.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub rental: Named<Price>,
    /// What else is paid for, by a name of your choice: `galvanizing: 1.20 per kg`, `radiograph: 45 per joint`.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub charges: Named<Price>,
    /// Overhead as a share of labour.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"40 %")]
    pub overhead: Quantity<Share>,
    /// Overhead for each hour of work, where the shop reckons it so: `25 per h`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub overhead_per_hour: Option<Price>,
    /// Mark-up on the cost.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"15 %")]
    pub mark_up: Quantity<Share>,
    /// Margin as a share of the price, in place of a mark-up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub margin: Quantity<Share>,
    /// Least that is charged: `75 per job`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub least_charge: Option<Price>,
}

/// Times that a shop reckons beside the arc, each for a piece, a joint, a job, a metre or a foot of weld.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Times {
    /// Setting up machine, fixture and documents.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub set_up: Option<Allowance>,
    /// Fitting up the parts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fit_up: Option<Allowance>,
    /// Tack welding.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tacks: Option<Allowance>,
    /// Handling, turning and moving.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub handling: Option<Allowance>,
    /// Preheating.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub preheating: Option<Allowance>,
    /// Cleaning before and after.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cleaning: Option<Allowance>,
    /// Grinding and dressing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grinding: Option<Allowance>,
    /// Heat treatment.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub heat_treatment: Option<Allowance>,
    /// Examination.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub examination: Option<Allowance>,
    /// Rework as a share of the welding: its time, filler and gas.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"2 %")]
    pub rework: Quantity<Share>,
    /// Share of the welding time in which the arc burns, by process, where the shop has its own figure.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub arc_on: Named<Stated<Range<Share>>>,
}

impl Times {
    /// Each time with its name in the file, in the order of the work.
    pub fn all(&self) -> [(&'static str, Option<&Allowance>); 9] {
        [
            ("set_up", self.set_up.as_ref()),
            ("fit_up", self.fit_up.as_ref()),
            ("tacks", self.tacks.as_ref()),
            ("handling", self.handling.as_ref()),
            ("preheating", self.preheating.as_ref()),
            ("cleaning", self.cleaning.as_ref()),
            ("grinding", self.grinding.as_ref()),
            ("heat_treatment", self.heat_treatment.as_ref()),
            ("examination", self.examination.as_ref()),
        ]
    }
}

/// When a shop works.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Working {
    /// Hours of one shift.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"8 h")]
    pub hours: Quantity<Duration>,
    /// Shifts in a day; one where it is not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shifts: Option<u32>,
    /// Working days in a week; five where it is not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub days: Option<u32>,
}
