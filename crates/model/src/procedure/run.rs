//! Runs and their numbers.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use super::settings::Settings;
use crate::stated::Text;
use crate::words::{inline_schema, words};

/// A run, or several runs with the same settings.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Run {
    /// Number of the run, or a range of numbers: `1`, `2-4`; `3-n` for as many as the joint takes.
    #[schemars(with = "RunNumberSchema")]
    pub run: Text,
    /// What the run is for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub layer: Option<Layer>,
    /// Process by ISO 4063 number or AWS letters.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub process: Option<Text>,
    /// Positions for which these settings hold, where they differ by position.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schemars(default)]
    pub positions: Vec<Text>,
    /// Condition under `conditions` for which these settings hold, where they differ by condition.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub condition: Option<Text>,
    /// Side of a joint that is welded from both sides.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub side: Option<Side>,
    /// What this run states itself.
    #[serde(flatten)]
    pub settings: Settings,
}

/// The schema of a run's number.
struct RunNumberSchema;

inline_schema!(
    RunNumberSchema,
    "RunNumber",
    schemars::json_schema!({"type": ["integer", "string"], "format": "run-number", "minimum": 1, "examples": [1, "2-4"]})
);

words! {
    /// What a run is for.
    Layer, "layer" {
        /// The first run at the root.
        Root = "root",
        /// The second run, over the root.
        Hot = "hot",
        /// A run that fills the groove.
        Fill = "fill",
        /// A run of the last layer.
        Cap = "cap",
        /// A run at the back of the root.
        Backing = "backing",
        /// The only run.
        Single = "single",
    }
}

words! {
    /// Side of a joint that is welded from both sides.
    Side, "side" {
        /// The side welded first.
        First = "first",
        /// The side welded second.
        Second = "second",
    }
}

const RUN_KEYS: [&str; 6] = ["run", "layer", "process", "positions", "condition", "side"];

impl<'de> Deserialize<'de> for Run {
    // A flattened struct cannot refuse unknown keys, so the keys of a run are taken out by hand.
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        #[derive(Deserialize)]
        struct Head {
            run: Text,
            layer: Option<Layer>,
            process: Option<Text>,
            #[serde(default)]
            positions: Vec<Text>,
            condition: Option<Text>,
            side: Option<Side>,
        }
        use serde::de::Error as _;
        let mut rest = Map::<String, Value>::deserialize(deserializer)?;
        let mut head = Map::new();
        for key in RUN_KEYS {
            if let Some(value) = rest.remove(key) {
                head.insert(key.to_owned(), value);
            }
        }
        let Head { run, layer, process, positions, condition, side } =
            Head::deserialize(Value::Object(head)).map_err(D::Error::custom)?;
        run_numbers(&run).map_err(D::Error::custom)?;
        let settings = Settings::deserialize(Value::Object(rest)).map_err(D::Error::custom)?;
        Ok(Self { run, layer, process, positions, condition, side, settings })
    }
}

/// First and last number of a run's `run` value; `Err` says what to write. Of `3-n`, as many runs as the joint takes, the
/// first number is both.
pub fn run_numbers(text: &str) -> Result<(u32, u32), String> {
    let wrong = || {
        format!(
            "`{text}` is not a run number; write a number from 1, a rising range or an open one, such as 1, 2-4 or 3-n"
        )
    };
    let mut parts = text.splitn(2, ['-', '–']);
    let number = |part: &str| part.trim().parse::<u32>().ok().filter(|n| (1..=100_000).contains(n)).ok_or_else(wrong);
    let first = number(parts.next().unwrap_or_default())?;
    let last = match parts.next() {
        Some(last) if last.trim().eq_ignore_ascii_case("n") => first,
        Some(last) => number(last)?,
        None => first,
    };
    if last < first { Err(wrong()) } else { Ok((first, last)) }
}

/// Whether a run's `run` value stands for as many runs as the joint takes: `3-n`.
pub fn runs_open(text: &str) -> bool {
    text.trim_end().ends_with(['n', 'N']) && run_numbers(text).is_ok()
}
