//! `find`: which procedures cover a joint, which nearly do, and what is off by how much.

use std::io::Write;

use anyhow::{Result, bail};
use seamwright_check::View;
use seamwright_check::cover::{self, Off, Verdict, Wanted};
use seamwright_desk::report::Report;
use seamwright_desk::{files, input};
use seamwright_handbook::{base_metals, positions, processes};
use seamwright_model::document::Document;
use seamwright_model::quantity::Length;
use serde_json::{Value, json};

use crate::Ending;
use crate::args::{FindArgs, Form};
use crate::report::text;
use crate::{results, today};

/// A procedure and how it stands to the joint.
struct Found {
    file: String,
    number: String,
    title: String,
    verdict: Verdict,
    off: Vec<Off>,
}

/// Runs the command.
pub fn run(args: &FindArgs) -> Result<Ending> {
    let disk = today::disk();
    let wanted = wanted(args)?;
    let mut ending = Ending::Clean;
    let mut found = Vec::new();
    for input in files::inputs(&disk, &args.paths)? {
        let loaded = match files::read(&disk, &input) {
            Ok(loaded) => loaded,
            Err(unread) => {
                text::print(&[Report::unread(input, unread)]);
                ending = Ending::Failed;
                continue;
            }
        };
        // A folder may hold records, shops and lessons beside its procedures.
        let Document::Procedure(procedure) = &loaded.document else { continue };
        let (verdict, off) = cover::cover(&View::new(procedure), &wanted);
        found.push(Found {
            file: input.name,
            number: procedure.identification.number.to_string(),
            title: procedure.identification.title.to_string(),
            verdict,
            off,
        });
    }
    found.sort_by(|a, b| (a.verdict, a.off.len(), &a.file).cmp(&(b.verdict, b.off.len(), &b.file)));
    match args.format {
        Form::Text => print(&mut std::io::stdout().lock(), &found, args.all)?,
        Form::Json => results::json("find", document(&found))?,
    }
    Ok(ending)
}

fn wanted(args: &FindArgs) -> Result<Wanted> {
    let metal = |name: &Option<String>| match name {
        None => Ok(None),
        Some(name) => match base_metals::find(name) {
            Some(metal) => Ok(Some(metal)),
            None => bail!("{}", unknown("metal", name, &base_metals::nearest(name))),
        },
    };
    if let Some(name) = args.position.as_ref().filter(|name| positions::get(name).is_none()) {
        bail!("{}", unknown("position", name, &positions::nearest(name)));
    }
    if let Some(name) = args.process.as_ref().filter(|name| processes::get(name).is_none()) {
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
        metal: metal(&args.metal)?,
        to: metal(&args.to)?,
        thickness_mm: length("--thickness", &args.thickness)?,
        diameter_mm: length("--diameter", &args.diameter)?,
        joint: args.joint,
        weld: args.weld,
        position: args.position.clone(),
        process: args.process.clone(),
    })
}

fn unknown(what: &str, name: &str, near: &[&str]) -> String {
    if near.is_empty() {
        format!("`{name}` is no {what} that the handbook knows")
    } else {
        format!("`{name}` is no {what} that the handbook knows; the nearest are {}", near.join(", "))
    }
}

fn print(out: &mut impl Write, found: &[Found], all: bool) -> Result<()> {
    for one in found.iter().filter(|one| all || one.verdict != Verdict::Not) {
        writeln!(out, "{:14}  {:8} {}", one.verdict.as_str(), one.number, one.title)?;
        writeln!(out, "{:14}  {}", "", one.file)?;
        for off in &one.off {
            writeln!(out, "{:14}  {}", "", line(off))?;
        }
    }
    let count = |verdict| found.iter().filter(|one| one.verdict == verdict).count();
    writeln!(
        out,
        "{} covered, {} nearly, {} not",
        count(Verdict::Covered),
        count(Verdict::Nearly),
        count(Verdict::Not)
    )?;
    Ok(())
}

fn line(off: &Off) -> String {
    let covers = if off.covers.is_empty() { "nothing stated" } else { &off.covers };
    let by = off.by_mm.map_or_else(String::new, |by| {
        format!(": {:.2} mm {}", by.abs(), if by < 0.0 { "below it" } else { "above it" })
    });
    format!("{} {} is outside {covers}{by}", off.what, off.asked)
}

fn document(found: &[Found]) -> Value {
    let count = |verdict| found.iter().filter(|one| one.verdict == verdict).count();
    let list: Vec<Value> = found
        .iter()
        .map(|one| {
            let off: Vec<Value> = one
                .off
                .iter()
                .map(|off| {
                    json!({
                        "what": off.what,
                        "asked": off.asked,
                        "covers": off.covers,
                        "by": off.by_mm.map(|by| json!({"value": by, "unit": "mm"})),
                    })
                })
                .collect();
            json!({
                "file": one.file,
                "number": one.number,
                "title": one.title,
                "verdict": one.verdict.as_str(),
                "off": off,
            })
        })
        .collect();
    json!({
        "procedures": list,
        "covered": count(Verdict::Covered),
        "nearly_covered": count(Verdict::Nearly),
        "not_covered": count(Verdict::Not),
    })
}
