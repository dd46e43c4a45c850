//! Which procedures cover a joint, which nearly do, and what is off by how much.

use std::io::{self, Write};

use anyhow::{Result, bail};
use seamwright_check::cover::{self, Off, Verdict, Wanted};
use seamwright_handbook::trade_words::{self, Kind};
use seamwright_handbook::{aws_d1_1, base_metals, positions, processes};
use seamwright_model::document::Document;
use seamwright_model::procedure::{JointType, WeldType};
use seamwright_model::quantity::{Length, Range};
use seamwright_weld::View;
use serde_json::{Value, json};

use crate::files::{self, Files, Input};
use crate::input;
use crate::report::Report;

/// The joint that is to be welded; what is left out is open.
#[derive(Debug, Clone, Default)]
pub struct FindRequest {
    /// Metal, by any name that the handbook knows.
    pub metal: Option<String>,
    /// Metal that it is joined to, where that is another one.
    pub to: Option<String>,
    /// Thickness.
    pub thickness: Option<Range<Length>>,
    /// Outside diameter of pipe.
    pub diameter: Option<Range<Length>>,
    /// Kind of joint.
    pub joint: Option<JointType>,
    /// Kind of weld.
    pub weld: Option<WeldType>,
    /// Detail of AWS D1.1 by its designation.
    pub detail: Option<String>,
    /// Position by ISO 6947 or AWS.
    pub position: Option<String>,
    /// Process by ISO 4063 number or AWS letters.
    pub process: Option<String>,
}

/// A procedure and how it stands to the joint.
#[derive(Debug, Clone)]
pub struct Found {
    /// Name of its file.
    pub file: String,
    /// Its number.
    pub number: String,
    /// Its title.
    pub title: String,
    /// Whether it covers the joint.
    pub verdict: Verdict,
    /// What is off.
    pub off: Vec<Off>,
}

/// What was found.
#[derive(Default)]
pub struct FindAnswer {
    /// The procedures, those that cover the joint first, then the nearest.
    pub found: Vec<Found>,
    /// Files that could not be read.
    pub unread: Vec<Report>,
}

impl FindAnswer {
    /// How many procedures stand so to the joint.
    pub fn count(&self, verdict: Verdict) -> usize {
        self.found.iter().filter(|one| one.verdict == verdict).count()
    }

    /// For people; `all` also lists the procedures that do not cover the joint.
    pub fn text(&self, out: &mut impl Write, all: bool) -> io::Result<()> {
        for one in self.found.iter().filter(|one| all || one.verdict != Verdict::Not) {
            writeln!(out, "{:14}  {:8} {}", one.verdict.as_str(), one.number, one.title)?;
            writeln!(out, "{:14}  {}", "", one.file)?;
            for off in &one.off {
                writeln!(out, "{:14}  {}", "", line(off))?;
            }
        }
        let [covered, nearly, not] = [Verdict::Covered, Verdict::Nearly, Verdict::Not].map(|own| self.count(own));
        writeln!(out, "{covered} covered, {nearly} nearly, {not} not")?;
        match (covered, self.found.len()) {
            (0, 0) => writeln!(out, "there is no procedure here; name the files or the folder that hold them"),
            (0, _) => writeln!(out, "none covers the joint; begin a procedure for it: seamwright draft --interactive"),
            _ => Ok(()),
        }
    }

    /// For programs.
    pub fn json(&self) -> Value {
        let off = |off: &Off| {
            json!({
                "what": off.what,
                "asked": off.asked,
                "covers": off.covers,
                "by": off.by_mm.map(|by| json!({"value": by, "unit": "mm"})),
            })
        };
        let one = |one: &Found| {
            json!({
                "file": one.file,
                "number": one.number,
                "title": one.title,
                "verdict": one.verdict.as_str(),
                "off": one.off.iter().map(off).collect::<Vec<_>>(),
            })
        };
        json!({
            "procedures": self.found.iter().map(one).collect::<Vec<_>>(),
            "covered": self.count(Verdict::Covered),
            "nearly_covered": self.count(Verdict::Nearly),
            "not_covered": self.count(Verdict::Not),
        })
    }
}

fn line(off: &Off) -> String {
    let covers = if off.covers.is_empty() { "nothing stated" } else { &off.covers };
    let by = off.by_mm.map_or_else(String::new, |by| {
        format!(": {:.2} mm {}", by.abs(), if by < 0.0 { "below it" } else { "above it" })
    });
    format!("{} {} is outside {covers}{by}", off.what, off.asked)
}

/// Holds the procedures among files against a joint. `Err` says which word of the request the handbook does not know.
pub fn find(files: &dyn Files, inputs: Vec<Input>, request: &FindRequest) -> Result<FindAnswer> {
    let wanted = wanted(request)?;
    let mut answer = FindAnswer::default();
    for input in inputs {
        let loaded = match files::read(files, &input) {
            Ok(loaded) => loaded,
            Err(unread) => {
                answer.unread.push(Report::unread(input, unread));
                continue;
            }
        };
        // A folder may hold records, shops and lessons beside its procedures.
        let Document::Procedure(procedure) = &loaded.document else { continue };
        let (verdict, off) = cover::cover(&View::new(procedure), &wanted);
        answer.found.push(Found {
            file: input.name,
            number: procedure.identification.number.to_string(),
            title: procedure.identification.title.to_string(),
            verdict,
            off,
        });
    }
    let far = |one: &Found| one.off.iter().filter_map(|off| off.by_mm).map(f64::abs).sum::<f64>();
    answer.found.sort_by(|a, b| {
        let order = (a.verdict, a.off.len()).cmp(&(b.verdict, b.off.len()));
        order.then(far(a).total_cmp(&far(b))).then_with(|| a.file.cmp(&b.file))
    });
    Ok(answer)
}

fn wanted(request: &FindRequest) -> Result<Wanted> {
    let metal = |name: &Option<String>| match name {
        None => Ok(None),
        Some(name) => match base_metals::find(name) {
            Some(metal) => Ok(Some(metal)),
            None => bail!("{}", unknown("metal", name, &base_metals::nearest(name))),
        },
    };
    if let Some(name) = request.detail.as_ref().filter(|name| aws_d1_1::joint(name).is_empty()) {
        bail!("{}", unknown("detail", name, &aws_d1_1::nearest_joints(name)));
    }
    if let Some(name) = request.process.as_ref().filter(|name| processes::get(name).is_none()) {
        bail!("{}", unknown("process", name, &processes::nearest(name)));
    }
    let length = |flag: &str, stated: &Option<_>| -> Result<Option<f64>> {
        let Some(stated) = stated else { return Ok(None) };
        let value = input::one(flag, stated, Length::mm)?;
        if value <= 0.0 {
            bail!("{flag} {stated} must be greater than 0");
        }
        Ok(Some(value))
    };
    Ok(Wanted {
        metal: metal(&request.metal)?,
        to: metal(&request.to)?,
        thickness_mm: length("--thickness", &request.thickness)?,
        diameter_mm: length("--diameter", &request.diameter)?,
        joint: request.joint,
        weld: request.weld,
        detail: request.detail.clone(),
        position: request.position.as_ref().map(|name| position(name, request.joint)).transpose()?,
        process: request.process.clone(),
        leg: None,
    })
}

/// A position by its code, or by a word of the trade, which means one of a groove and another of a fillet.
fn position(name: &str, joint: Option<JointType>) -> Result<String> {
    if positions::get(name).is_some() {
        return Ok(name.to_owned());
    }
    let [groove, fillet] = [Kind::GroovePosition, Kind::FilletPosition].map(|kind| trade_words::get(kind, name));
    match (groove.map(|own| own.means), fillet.map(|own| own.means), joint) {
        (Some(groove), _, Some(JointType::Butt)) => Ok(groove.to_owned()),
        (_, Some(fillet), Some(_)) => Ok(fillet.to_owned()),
        (Some(groove), Some(fillet), _) if groove != fillet => {
            bail!("`{name}` is {groove} of a groove and {fillet} of a fillet; write one of them, or --joint")
        }
        (Some(own), ..) | (_, Some(own), _) => Ok(own.to_owned()),
        (None, None, _) => bail!("{}", unknown("position", name, &positions::nearest(name))),
    }
}

fn unknown(what: &str, name: &str, near: &[&str]) -> String {
    let table = match what {
        "metal" => "base-metals",
        "position" => "positions",
        "detail" => "aws-d1-1-joints",
        _ => "processes",
    };
    match near {
        [] => format!("`{name}` is no {what} that the handbook knows; `seamwright table {table}` lists them"),
        [one] => format!("`{name}` is no {what} that the handbook knows; the nearest is {one}"),
        several => format!("`{name}` is no {what} that the handbook knows; the nearest are {}", several.join(", ")),
    }
}
