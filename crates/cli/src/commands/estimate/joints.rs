//! The list of joints of a job, as YAML or CSV: joint, length, count, procedure.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};
use seamwright_estimate::Joint;
use seamwright_model::quantity::{Length, Range};
use serde::Deserialize;

use super::Estimated;
use crate::commands::calc::input::one;

/// The joints of a job.
pub struct List {
    name: String,
    joints: Vec<(Option<String>, Joint)>,
}

/// One joint as it is written.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    joint: String,
    length: String,
    #[serde(default)]
    count: Option<String>,
    #[serde(default)]
    procedure: Option<String>,
}

/// One joint of a YAML list, where a count may stand as a number.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct YamlRow {
    joint: String,
    length: String,
    #[serde(default)]
    count: Option<i64>,
    #[serde(default)]
    procedure: Option<String>,
}

impl From<YamlRow> for Row {
    fn from(row: YamlRow) -> Self {
        let YamlRow { joint, length, count, procedure } = row;
        Self { joint, length, count: count.map(|count| count.to_string()), procedure }
    }
}

/// Reads a list of joints; YAML by the ending `.yaml` or `.yml`, else CSV with a line of headings.
pub fn read(path: &Path) -> Result<List> {
    const MOST_BYTES: u64 = 4 << 20;
    let name = path.display().to_string();
    let size = fs::metadata(path).with_context(|| format!("{name}: cannot be read"))?.len();
    if size > MOST_BYTES {
        bail!("{name}: a list of joints has at most 4 MiB");
    }
    let text = fs::read_to_string(path).with_context(|| format!("{name}: cannot be read as text"))?;
    let yaml = path.extension().is_some_and(|ending| ending == "yaml" || ending == "yml");
    let rows: Vec<(String, Row)> = if yaml {
        let rows: Vec<YamlRow> = serde_yaml::from_str(&text).map_err(|error| anyhow::anyhow!("{name}: {error}"))?;
        rows.into_iter().enumerate().map(|(at, row)| (format!("{name}, joint {}", at + 1), row.into())).collect()
    } else {
        let mut reader = csv::ReaderBuilder::new().trim(csv::Trim::All).from_reader(text.as_bytes());
        let headings = reader.headers().with_context(|| format!("{name}: no line of headings"))?.clone();
        let mut rows = Vec::new();
        for record in reader.records() {
            let record = record.map_err(|error| anyhow::anyhow!("{name}: {error}"))?;
            let line = record.position().map_or(0, csv::Position::line);
            let row: Row = record.deserialize(Some(&headings)).map_err(|error| {
                anyhow::anyhow!(
                    "{name}, line {line}: {}; the columns are joint, length, count, procedure",
                    reason(&error)
                )
            })?;
            rows.push((format!("{name}, line {line}"), row));
        }
        rows
    };
    if rows.is_empty() {
        bail!("{name}: no joints");
    }
    let joints = rows.into_iter().map(|(place, row)| joint(&place, row)).collect::<Result<_>>()?;
    Ok(List { name, joints })
}

fn reason(error: &csv::Error) -> String {
    match error.kind() {
        csv::ErrorKind::Deserialize { err, .. } => err.to_string(),
        _ => error.to_string(),
    }
}

fn joint(place: &str, row: Row) -> Result<(Option<String>, Joint)> {
    let length: Range<Length> = row.length.parse().with_context(|| format!("{place}: length"))?;
    let length_mm = one("length", &length, Length::mm).with_context(|| place.to_owned())?;
    if length_mm <= 0.0 {
        bail!("{place}: length is {}, must be greater than 0", row.length);
    }
    let count = match row.count.as_deref().map(str::trim).filter(|count| !count.is_empty()) {
        None => 1,
        Some(count) => match count.parse::<u32>() {
            Ok(count) if count > 0 => count,
            _ => bail!("{place}: count is `{count}`, write a whole number of joints, 1 or more"),
        },
    };
    let procedure = row.procedure.filter(|procedure| !procedure.trim().is_empty());
    Ok((procedure, Joint { name: row.joint, length_mm, count }))
}

impl List {
    /// The joints of a procedure; where there are several procedures, each joint must name its own.
    pub fn of(&self, number: &str, several: bool) -> Result<Vec<Joint>> {
        let mut own = Vec::new();
        for (procedure, joint) in &self.joints {
            match procedure {
                Some(procedure) if procedure.trim() == number => own.push(joint.clone()),
                Some(_) => {}
                None if several => bail!(
                    "{}: joint {} names no procedure, and there are several; add a column `procedure` with the numbers",
                    self.name,
                    joint.name
                ),
                None => own.push(joint.clone()),
            }
        }
        Ok(own)
    }

    /// Fails where a joint names a procedure that is not among those estimated.
    pub fn all_used(&self, done: &[Estimated]) -> Result<()> {
        let unknown = self.joints.iter().find_map(|(procedure, joint)| {
            let procedure = procedure.as_deref()?.trim();
            (!done.iter().any(|estimated| estimated.number == procedure)).then_some((procedure, &joint.name))
        });
        match unknown {
            Some((procedure, joint)) => {
                bail!("{}: joint {joint} is for {procedure}, which was not estimated", self.name)
            }
            None => Ok(()),
        }
    }
}
