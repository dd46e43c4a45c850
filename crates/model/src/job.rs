//! A job as types: the joints of an order, each with its procedure, machine and welder. Only what is stated: no limit, no rule.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::procedure::{Deviation, FormatVersion, Identification, JointType, Quantity, RevisionEntry};
use crate::quantity::{Length, Range};
use crate::stated::{Date, Stated, Text};
use crate::words::document_word;

document_word!(JobWord, "job");

/// A job: the joints of an order, and what they are welded by.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Job {
    /// Version of the file format; this program reads 1.
    #[schemars(with = "FormatVersion")]
    pub format: u32,
    /// The kind of document.
    #[schemars(with = "JobWord")]
    pub document: String,
    /// Number, revision and title; customer and drawing where one holds for all joints.
    pub identification: Identification,
    /// The shop document (file name) that welds it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"shop.yaml")]
    pub shop: Option<Text>,
    /// Files or folders with the procedures that the joints name.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub procedures: Vec<Text>,
    /// The day on which welding starts; welders must be qualified on it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub start: Option<Date>,
    /// The day on which it is due.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub due: Option<Date>,
    /// The joints.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub joints: Vec<JobJoint>,
    /// Remarks.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notes: Vec<Text>,
    /// The history of the document, oldest first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub revisions: Vec<RevisionEntry>,
    /// Findings accepted for a stated reason.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub deviations: Vec<Deviation>,
}

/// Joints of one kind in a job.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct JobJoint {
    /// Name or number of the joint on the drawing.
    #[schemars(example = &"W1")]
    pub joint: Text,
    /// Drawing number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drawing: Option<Text>,
    /// Number of the procedure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"P-021")]
    pub procedure: Option<Text>,
    /// Revision of the procedure that was planned with; left out, the one at hand.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub procedure_revision: Option<Text>,
    /// The machine, by its name in the shop's file.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub machine: Option<Text>,
    /// The welder, by name or stamp in the shop's file.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub welder: Option<Text>,
    /// Length of weld of one piece.
    pub length: Stated<Range<Length>>,
    /// How many pieces; one where it is not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pieces: Option<u32>,
    /// Specification and grade of the metal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub metal: Option<Text>,
    /// Thickness at the joint.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness: Quantity<Length>,
    /// Type of joint.
    #[serde(default, rename = "type", skip_serializing_if = "Option::is_none")]
    pub kind: Option<JointType>,
    /// Welding position.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"PB")]
    pub position: Option<Text>,
    /// Leg of a fillet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leg: Quantity<Length>,
}
