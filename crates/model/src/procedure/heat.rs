//! Temperatures, conditions and heat treatment.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::joint::{Joint, WeldSize};
use crate::quantity::{Duration, HeatingRate, Length, Range, Temperature};
use crate::stated::{OrNone, Quantity, Stated, Text};
use crate::words::inline_schema;

/// Preheating, interpass and heat treatment.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Temperatures {
    /// Preheating temperature before the first run.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub preheating: Quantity<Temperature>,
    /// Temperature between runs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub interpass: Quantity<Temperature>,
    /// Longest time from the end of a run to the start of the next.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time_between_runs: Quantity<Duration>,
    /// Temperature kept when welding is interrupted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub preheat_maintenance: Quantity<Temperature>,
    /// Post-heating for hydrogen release, or `none`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub post_heating: Option<OrNone<Soak>>,
    /// Post-weld heat treatment, or `none`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub post_weld_heat_treatment: Option<OrNone<HeatTreatment>>,
    /// How the temperature is measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measurement: Option<Text>,
}

/// What holds for one of several conditions in place of what the procedure states for all.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Condition {
    /// Thickness at the joint that the condition is for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness: Quantity<Length>,
    /// Outside diameter that the condition is for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outside_diameter: Quantity<Length>,
    /// Positions that the condition is for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub positions: Vec<Text>,
    /// The joint, as far as it differs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub joint: Option<Joint>,
    /// The size of the weld, as far as it differs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weld_size: Option<Stated<WeldSize>>,
    /// Preheating, interpass and heat treatment, as far as they differ.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperatures: Option<Temperatures>,
}

/// A temperature held for a time.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Soak {
    /// Temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature: Quantity<Temperature>,
    /// Time at temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Quantity<Duration>,
}

/// A heat treatment after welding.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HeatTreatment {
    /// Temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature: Quantity<Temperature>,
    /// Time at temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Quantity<Duration>,
    /// Time for each step of thickness, where the time at temperature grows with it: `1 h per 25 mm`.
    #[serde(default, deserialize_with = "by_thickness", skip_serializing_if = "Option::is_none")]
    #[schemars(with = "ByThicknessSchema")]
    pub time_by_thickness: Option<Text>,
    /// Heating rate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub heating_rate: Quantity<HeatingRate>,
    /// Cooling rate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cooling_rate: Quantity<HeatingRate>,
    /// Furnace, local heating, ageing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub method: Option<Text>,
}

/// Name of the format of a time by thickness.
pub(crate) const BY_THICKNESS: &str = "time-by-thickness";

/// The schema of a time by thickness.
struct ByThicknessSchema;

inline_schema!(
    ByThicknessSchema,
    "ByThickness",
    schemars::json_schema!({"type": "string", "format": BY_THICKNESS, "examples": ["1 h per 25 mm", "1 h per 1 in"]})
);

fn by_thickness<'de, D: serde::Deserializer<'de>>(deserializer: D) -> Result<Option<Text>, D::Error> {
    let text = Text::deserialize(deserializer)?;
    time_by_thickness(&text).map_err(serde::de::Error::custom)?;
    Ok(Some(text))
}

/// A time for each step of thickness: `1 h per 25 mm`, `1 h per in`; anything else is an error that says what to write.
pub fn time_by_thickness(text: &str) -> Result<(Range<Duration>, Range<Length>), String> {
    let wrong =
        || format!("`{text}` is no time by thickness; write a time and a step, such as 1 h per 25 mm or 1 h per 1 in");
    let (time, step) = text.split_once(" per ").ok_or_else(wrong)?;
    let step =
        if step.starts_with(|first: char| first.is_ascii_digit()) { step.to_owned() } else { format!("1 {step}") };
    match (time.parse(), step.parse::<Range<Length>>()) {
        (Ok(time), Ok(step)) if step.single().is_some_and(|step| step.mm() > 0.0) => Ok((time, step)),
        _ => Err(wrong()),
    }
}
