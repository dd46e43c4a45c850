//! A time for a unit of the work, such as `6 min per piece`: what a shop reckons beside the arc.

use std::fmt;
use std::str::FromStr;

use schemars::json_schema;

use crate::quantity::Duration;
use crate::words::{spoken, words};

/// Name of the `format` in JSON Schema.
pub const FORMAT: &str = "allowance";

words! {
    /// What a time is allowed for.
    Per, "unit of the work" {
        /// Each piece that is made.
        Piece = "piece",
        /// Each joint of the list, however many pieces.
        Joint = "joint",
        /// The whole job.
        Job = "job",
        /// Each metre of weld.
        Metre = "m",
        /// Each foot of weld.
        Foot = "ft",
    }
}

/// A time for a unit of the work; keeps its spelling.
#[derive(Debug, Clone, PartialEq)]
pub struct Allowance {
    time: Duration,
    per: Per,
    spelled: Box<str>,
}

impl Allowance {
    /// The time for one unit, min.
    pub fn minutes(&self) -> f64 {
        self.time.seconds() / 60.0
    }

    /// The unit.
    pub fn per(&self) -> Per {
        self.per
    }
}

impl FromStr for Allowance {
    type Err = String;

    /// Reads `6 min per piece` or `6 min/piece`; `Err` says what to write.
    fn from_str(text: &str) -> Result<Self, String> {
        let text = text.trim();
        let wrong = |what: &str| {
            let units: Vec<&str> = Per::ALL.iter().map(|per| per.as_str()).collect();
            format!("`{text}` {what}; write a time for one of {}, such as 6 min per piece", units.join(", "))
        };
        let (time, per) = [" per ", "/", " a ", " an ", " for each "]
            .iter()
            .find_map(|between| text.split_once(between))
            .or_else(|| [" each", " ea"].iter().find_map(|each| Some((text.strip_suffix(each)?, "piece"))))
            .ok_or_else(|| wrong("does not say for which unit of the work the time is"))?;
        let range: crate::quantity::Range<Duration> =
            time.trim().parse().map_err(|error| wrong(&format!("has no time: {error}")))?;
        let time = range.low().filter(|low| range.high() == Some(*low) && low.seconds() >= 0.0);
        let per = match per.trim().trim_end_matches('.') {
            "metre" | "meter" => Per::Metre,
            "foot" => Per::Foot,
            "weld" => Per::Joint,
            "order" => Per::Job,
            "each" | "ea" | "part" | "pc" | "pcs" => Per::Piece,
            word => word.parse().map_err(|_| wrong("has no unit of the work"))?,
        };
        Ok(Self { time: time.ok_or_else(|| wrong("is not one time"))?, per, spelled: text.into() })
    }
}

impl fmt::Display for Allowance {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.spelled)
    }
}

spoken!(
    Allowance,
    json_schema!({"type": "string", "format": FORMAT, "examples": ["6 min per piece", "15 min per job"]})
);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_allowance_has_a_time_and_a_unit() {
        for (text, minutes, per) in [
            ("6 min per piece", 6.0, Per::Piece),
            ("0.5 h per job", 30.0, Per::Job),
            ("3 min/m", 3.0, Per::Metre),
            ("1 min per foot", 1.0, Per::Foot),
            ("6 min each", 6.0, Per::Piece),
            ("6 min a piece", 6.0, Per::Piece),
            ("6 mins/pc.", 6.0, Per::Piece),
            ("½ hr per job", 30.0, Per::Job),
        ] {
            let read: Allowance = text.parse().unwrap();
            assert!((read.minutes() - minutes).abs() < 1e-9 && read.per() == per, "{text}");
        }
        for text in ["6 min", "6 per piece", "6 min per furlong", "5-6 min per piece", "-1 min per job", ""] {
            let advice = text.parse::<Allowance>().unwrap_err();
            assert!(advice.contains("6 min per piece"), "{text}: {advice}");
        }
    }
}
