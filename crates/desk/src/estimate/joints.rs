//! The list of joints of a job, as YAML (joint, length, count, procedure) or as a table, which is read as `job` reads it.

use std::path::Path;

use crate::files::{self, Files, shown};
use crate::input::{JOINTS, one};
use crate::job::{placed, size};
use anyhow::{Context, Result, anyhow, bail};
use seamwright_estimate::Joint;
use seamwright_handbook::find;
use seamwright_model::quantity::{Length, Range};
use seamwright_model::source::hidden;
use serde::Deserialize;
use serde_json::Value;
use serde_yaml::Spanned;

use super::answer::Estimated;

/// The joints of a job.
pub struct List {
    name: String,
    joints: Vec<(Option<String>, Joint)>,
}

/// One joint as it is written.
#[derive(Debug)]
struct Row {
    joint: String,
    length: String,
    count: Option<String>,
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

/// Most bytes of a list: 4 MiB.
const MOST: u64 = 4 << 20;

/// Reads a list of joints; YAML by the ending `.yaml` or `.yml`, else a table with a line of headings.
pub fn read(from: &dyn Files, path: &Path) -> Result<List> {
    let name = shown(path);
    let text = files::text(from, path, MOST)?;
    let yaml = path.extension().is_some_and(|ending| ending == "yaml" || ending == "yml");
    let rows = if yaml { from_yaml(path, &text)? } else { from_csv(&name, &text)? };
    if rows.is_empty() {
        bail!("{name}: no joints");
    }
    if let Some((place, _)) = rows.get(JOINTS) {
        bail!("{place}: more than {JOINTS} joints; make several lists of them");
    }
    let joints = rows.into_iter().map(|(place, row)| joint(&place, row)).collect::<Result<_>>()?;
    Ok(List { name, joints })
}

/// The joints of a YAML list, each with its place.
fn from_yaml(path: &Path, text: &str) -> Result<Vec<(String, Row)>> {
    let rows: Vec<Spanned<YamlRow>> = files::yaml(path, text)?;
    let placed = |row: Spanned<YamlRow>| {
        let place = format!("{}:{}:{}", shown(path), row.referenced.line(), row.referenced.column());
        (place, row.value.into())
    };
    Ok(rows.into_iter().map(placed).collect())
}

/// The joints of a table, each with its place, as `job` reads them.
fn from_csv(name: &str, text: &str) -> Result<Vec<(String, Row)>> {
    let mut rows = Vec::new();
    for (line, row) in placed(name, text)? {
        let place = format!("{name}:{line}");
        if row.contains_key("leg") {
            bail!(
                "{place}: leg: an estimate goes by the leg of the procedure; `seamwright job` takes one for each joint"
            );
        }
        let own = |key: &str| row.get(key).and_then(Value::as_str).map(str::to_owned);
        rows.push((
            place,
            Row {
                joint: own("joint").unwrap_or_default(),
                length: own("length").unwrap_or_default(),
                count: row.get("pieces").map(ToString::to_string),
                procedure: own("procedure"),
            },
        ));
    }
    Ok(rows)
}

fn joint(place: &str, row: Row) -> Result<(Option<String>, Joint)> {
    // In YAML an escape such as `\x1b` makes one out of plain text.
    for text in std::iter::once(&row.joint).chain(&row.procedure) {
        if let Some(character) = text.chars().find(|character| hidden(*character)) {
            bail!("{place}: an invisible character (U+{:04X}) stands in `{text}`", u32::from(character));
        }
    }
    let length = size(&row.length).map_err(|why| anyhow!("{place}: length: {why}"))?;
    let length: Range<Length> = length.parse().with_context(|| format!("{place}: length"))?;
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
                Some(procedure) if find::same(procedure, number) => own.push(joint.clone()),
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
            (!done.iter().any(|estimated| find::same(&estimated.number, procedure))).then_some((procedure, &joint.name))
        });
        match unknown {
            Some((procedure, joint)) => {
                bail!("{}: joint {joint} is for {procedure}, which was not estimated", self.name)
            }
            None => Ok(()),
        }
    }
}
