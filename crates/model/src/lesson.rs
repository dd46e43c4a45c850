//! A lesson as types: the procedure that is taught, the class, exercises, assessment and faults. Only what is stated.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::procedure::{Deviation, FormatVersion, Identification, Quantity, RevisionEntry, Settings};
use crate::quantity::{Duration, Length, Range, Share};
use crate::stated::{Date, Stated, Text, YesNo};
use crate::words::document_word;

document_word!(LessonWord, "lesson");

/// A lesson: a procedure taught to a class in exercises.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Lesson {
    /// Version of the file format; this program reads 1.
    #[schemars(with = "FormatVersion")]
    pub format: u32,
    /// The kind of document.
    #[schemars(with = "LessonWord")]
    pub document: String,
    /// Number, revision, title and people.
    pub identification: Identification,
    /// File of the procedure that is taught, beside this file.
    #[schemars(example = &"lap-fillet-2-carbon-141.yaml")]
    pub procedure: Text,
    /// File of the shop whose machines and stock are used, beside this file.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shop: Option<Text>,
    /// Who teaches.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub instructor: Option<Text>,
    /// Day of the lesson.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<Date>,
    /// Number of learners.
    #[schemars(range(min = 1), example = 12)]
    pub learners: u32,
    /// Number of welding booths; one for each learner where it is not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 1), example = 6)]
    pub booths: Option<u32>,
    /// Duration of the whole lesson.
    pub duration: Stated<Range<Duration>>,
    /// Part of the duration without welding: theory, safety, demonstration, cleaning up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub without_welding: Quantity<Duration>,
    /// What the learners can do afterwards.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub objectives: Vec<Text>,
    /// What is said about safety before anything is switched on.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub safety_briefing: Vec<Text>,
    /// What each learner wears.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub protection: Vec<Text>,
    /// Where the class meets, and what stands there.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room: Option<Text>,
    /// The parts of the lesson in order, with the time of each.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub timetable: Vec<TimetableEntry>,
    /// What the instructor shows, in order.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub demonstration: Vec<Text>,
    /// What the learners read before or after.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub reading: Vec<Text>,
    /// Questions that a learner can answer afterwards.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub questions: Vec<Text>,
    /// The exercises in order.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub exercises: Vec<Exercise>,
    /// What is measured at the end, and what is accepted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub assessment: Option<Assessment>,
    /// What goes wrong, why, and what to change.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub faults: Vec<TaughtFault>,
    /// Share of filler, gas and coupons that practice loses on top.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub practice_loss: Quantity<Share>,
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

/// A part of a lesson.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TimetableEntry {
    /// What is done.
    #[schemars(example = &"demonstration")]
    pub part: Text,
    /// How long it takes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Quantity<Duration>,
}

/// An exercise.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Exercise {
    /// Name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub title: Option<Text>,
    /// What is welded.
    #[schemars(example = &"Straight beads without filler")]
    pub weld: Text,
    /// The coupon.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub coupon: Option<Coupon>,
    /// How many each learner welds; one where it is not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 1))]
    pub count: Option<u32>,
    /// Length of weld of one.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Quantity<Length>,
    /// Time in the booth for one, with setting up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Quantity<Duration>,
    /// Whether filler is added; yes where it is not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub with_filler: Option<YesNo>,
    /// Position.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub position: Option<Text>,
    /// What the learner does, step by step.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub steps: Vec<Text>,
    /// Whether the arc stays off: posture and travel are practised first.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub arc_off: Option<YesNo>,
    /// Which plate of an earlier exercise is used again.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reuse: Option<Text>,
    /// What good looks like.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub good: Vec<Text>,
    /// Settings that differ from the procedure's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub settings: Option<Settings>,
}

/// A coupon.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Coupon {
    /// Specification, where it is not the procedure's metal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub specification: Option<Text>,
    /// Thickness.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness: Quantity<Length>,
    /// Outside diameter of pipe.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outside_diameter: Quantity<Length>,
    /// Width of a piece.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width: Quantity<Length>,
    /// Length of a piece.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Quantity<Length>,
    /// Pieces in one coupon; one where it is not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(range(min = 1))]
    pub pieces: Option<u32>,
}

/// What is measured at the end of a lesson.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Assessment {
    /// What is welded for it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weld: Option<Text>,
    /// Standard and level of acceptance.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"ISO 5817 level C")]
    pub acceptance: Option<Text>,
    /// What is measured, in order.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub measures: Vec<Measure>,
    /// Whether a second attempt is marked.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub retest: Option<YesNo>,
}

/// One thing that is measured on a learner's weld.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Measure {
    /// What is measured: leg, reinforcement, undercut, arc voltage.
    #[schemars(example = &"leg")]
    pub what: Text,
    /// What is accepted: `3-4 mm`, `0.5 mm maximum`, or words.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"0.5 mm maximum")]
    pub accepted: Option<Text>,
    /// How it is measured: gauge, meter, by eye.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub with: Option<Text>,
}

/// A fault with its cause and remedy.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TaughtFault {
    /// What goes wrong.
    #[schemars(example = &"porosity")]
    pub fault: Text,
    /// Why.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cause: Option<Text>,
    /// What to change.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub remedy: Option<Text>,
}
