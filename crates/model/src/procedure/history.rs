//! Examinations, revisions and accepted deviations.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::stated::{Date, Text};

/// An examination after welding.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Examination {
    /// Method: visual, penetrant, magnetic particle, radiographic, ultrasonic.
    pub method: Text,
    /// Extent: `100 %`, `10 %`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub extent: Option<Text>,
    /// Acceptance: standard and level.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"ISO 5817 level C")]
    pub acceptance: Option<Text>,
}

/// An entry of the document's history.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RevisionEntry {
    /// Revision number or letter.
    pub revision: Text,
    /// Date of the revision.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<Date>,
    /// What changed.
    pub change: Text,
    /// Who changed it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by: Option<Text>,
}

/// A finding accepted for a stated reason.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Deviation {
    /// Name of the check.
    #[schemars(example = &"interpass-above-usual")]
    pub check: Text,
    /// JSON pointer of the value; left out, it stands for every place.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"/temperatures/interpass")]
    pub at: Option<Text>,
    /// Why the deviation is sound.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reason: Option<Text>,
    /// Who accepts it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by: Option<Text>,
    /// When it was accepted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<Date>,
}
