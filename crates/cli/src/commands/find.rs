//! `find`: which procedures cover a joint, which nearly do, and what is off by how much.

use std::io::Write;

use anyhow::{Result, anyhow};
use seamwright_check::cover::{Off, Verdict};
use seamwright_desk::files;
use seamwright_desk::find::{self, FindRequest, Found};
use seamwright_model::quantity::{Length, Range};
use serde_json::{Value, json};

use crate::Ending;
use crate::args::{FindArgs, Form};
use crate::report::text;
use crate::{results, terminal, today};

/// Runs the command.
pub fn run(args: &FindArgs) -> Result<Ending> {
    let disk = today::disk();
    let request = request(args)?;
    let answer = find::find(&disk, files::inputs(&disk, &args.paths)?, &request)?;
    let covered = answer.found.iter().any(|one| one.verdict == Verdict::Covered);
    let ending = match (answer.unread.is_empty(), covered) {
        (false, _) => Ending::Failed,
        (true, true) => Ending::Clean,
        (true, false) => Ending::Findings,
    };
    for unread in answer.unread {
        text::print(&[unread]);
    }
    match args.format {
        Form::Text => results::folded(|out| print(out, &answer.found, args.all))?,
        Form::Json => results::json("find", document(&answer.found))?,
    }
    Ok(ending)
}

fn request(args: &FindArgs) -> Result<FindRequest> {
    let thickness = args.thickness.as_deref().map(|text| thickness(text, args.metal.as_deref().unwrap_or_default()));
    Ok(FindRequest {
        metal: args.metal.clone(),
        to: args.to.clone(),
        thickness: thickness.transpose()?,
        diameter: args.diameter.clone(),
        joint: args.joint,
        weld: args.weld,
        detail: args.detail.clone(),
        position: args.position.clone(),
        process: args.process.clone(),
    })
}

/// A thickness as shops name it; what a gauge or a schedule was taken for is told.
fn thickness(text: &str, metal: &str) -> Result<Range<Length>> {
    // A thickness that a document could state is taken as it stands: a limit or a range, too.
    if let Ok(stated) = text.parse() {
        return Ok(stated);
    }
    let (thickness, said) = seamwright_draft::thickness(text, metal).map_err(|refused| anyhow!("--{refused}"))?;
    if let Some(said) = said.filter(|_| !terminal::quiet()) {
        terminal::print(format_args!("{said}"));
    }
    Ok(thickness.parse()?)
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
    match (count(Verdict::Covered), found.len()) {
        (0, 0) => writeln!(out, "there is no procedure here; name the files or the folder that hold them")?,
        (0, _) => writeln!(out, "none covers the joint; begin a procedure for it: seamwright draft --interactive")?,
        _ => {}
    }
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
