//! A draft: written, held against the checks, and moved until nothing is left to hold against it.

use seamwright_handbook::planning;
use seamwright_model::document::Document;
use seamwright_model::finding::{Finding, Severity};

use crate::facts::{Facts, nothing};
use crate::figures::rule;
use crate::hold::Holds;
use crate::plan::Plan;
use crate::refused::Refused;
use crate::settings::Settings;
use crate::write::RootPart;
use crate::{covered, tungsten, wire, write};

/// Sizes of the runs that are tried, over the usual ones: thinner runs take less heat, thicker ones more.
const RUN_SIZES: [f64; 7] = [1.0, 0.8, 0.6, 0.45, 1.25, 1.6, 2.0];

/// How often settings are moved to the limits of the checks before other sizes of run are tried.
const MOVES: usize = 12;

/// Writes a starting procedure as commented YAML, which the checks find without errors and cautions.
///
/// The same facts give the same text. Where a leg or a gas was chosen that the usual size of filler does not serve, thinner
/// ones and a cooler transfer are tried. Refused where the handbook has nothing to begin with, or nothing that passes.
pub fn draft(facts: &Facts) -> Result<String, Refused> {
    let (pipe, _) = rule("small-pipe");
    let small = facts.diameter_mm.is_some_and(|own| own <= pipe.high) && facts.process.covered_electrode();
    if small && facts.groove() && facts.choices.size.is_none() {
        let thin = facts.with_size(rule("small-pipe-electrode").0.high, "a small pipe takes a thin electrode");
        if let Ok(text) = tried(&thin) {
            return Ok(text);
        }
    }
    let refused = match tried(facts) {
        Ok(text) => return Ok(text),
        Err(why @ Refused::Contradiction(_)) => return Err(why),
        Err(why) => why,
    };
    let chosen = facts.leg.is_some() || facts.choices.gas.is_some();
    if !chosen || facts.choices.size.is_some() || facts.root.is_some() || facts.process.uses_tungsten {
        return Err(refused);
    }
    let sizes = planning::sizes_of(&facts.process.number);
    let why = if facts.leg.is_some() { "the size that makes the leg" } else { "the size that serves in the gas" };
    let cool = Facts { cool: true, ..facts.clone() };
    let thinner = |facts: &Facts| sizes.iter().map(|size| facts.with_size(*size, why)).collect::<Vec<_>>();
    let cooler = std::iter::once(cool.clone()).chain(thinner(&cool));
    let ways = thinner(facts).into_iter().chain(cooler.filter(|_| facts.mag()));
    for way in ways {
        if let Ok(text) = tried(&way) {
            return Ok(text);
        }
    }
    Err(refused)
}

/// The draft of facts with one size of filler and one transfer.
fn tried(facts: &Facts) -> Result<String, Refused> {
    let mut first = None;
    // What the tables give goes before what is moved to the limits of the checks.
    for moves in [0, MOVES] {
        let mut seen = Vec::new();
        for size in RUN_SIZES {
            let mut holds = Holds::default();
            for _ in 0..=moves {
                let (text, runs) = written(facts, size, &holds)?;
                // A single run is the same at every size.
                if seen.contains(&text) {
                    break;
                }
                let found = faults(&text);
                let Some(worst) = found.iter().max_by_key(|finding| finding.severity) else { return Ok(text) };
                // A leg that was asked for and cannot be is the reason, whatever else follows from it.
                let leg = found.iter().find(|finding| finding.check.starts_with("fillet-leg-too"));
                if let Some(leg) = leg.filter(|_| facts.leg.is_some()) {
                    return Err(Refused::Contradiction(format!(
                        "{}: give a --leg within that, or leave it out and it follows from the thickness",
                        leg.message
                    )));
                }
                first.get_or_insert_with(|| format!("{} ({})", worst.message, worst.check));
                seen.push(text);
                if moves == 0 || !holds.learn(&found, runs) {
                    break;
                }
            }
        }
    }
    let fault = first.unwrap_or_default();
    Err(nothing(format!("what the tables give does not pass the checks: {fault}"), facts))
}

/// The page with runs of a size over the usual one, and how many entries of runs it has.
fn written(facts: &Facts, size: f64, holds: &Holds) -> Result<(String, usize), Refused> {
    let flux = facts.process.uses_flux;
    let root = facts.root.as_deref().map(|root| part(root, flux, size, holds)).transpose()?;
    let mut plan = Plan::new(facts, size, root.as_ref().map(|root| &root.plan))?;
    let before = root.as_ref().map_or(0, |root| root.plan.runs.len());
    plan.hold(holds, before);
    plan.larger(facts, holds.leg_steps());
    let settings = choose(facts, &plan)?;
    plan.grow(facts, settings.runs.first().and_then(|run| run.laid_mm2));
    let text = write::procedure(facts, &plan, &settings, root.as_ref());
    Ok((text, before + plan.runs.len()))
}

/// Plans and settings of the root run alone; where the rest is welded under flux, whose arc would melt through it, with a hot
/// pass over it.
fn part<'f>(facts: &'f Facts, flux: bool, size: f64, holds: &Holds) -> Result<RootPart<'f>, Refused> {
    let mut plan = Plan::new(facts, size, None)?;
    plan.runs.truncate(if flux { 2 } else { 1 });
    for (run, (number, layer)) in plan.runs.iter_mut().zip([("1", "root"), ("2", "hot")]) {
        number.clone_into(&mut run.numbers);
        run.layer = layer;
    }
    plan.hold(holds, 0);
    let settings = choose(facts, &plan)?;
    Ok(RootPart { facts, plan, settings })
}

/// Settings by the kind of process.
fn choose(facts: &Facts, plan: &Plan) -> Result<Settings, Refused> {
    if facts.process.uses_tungsten {
        tungsten::settings(facts, plan)
    } else if facts.process.uses_wire_feed {
        wire::settings(facts, plan)
    } else {
        covered::settings(facts, plan)
    }
}

/// What the checks hold against a page, past a note.
fn faults(text: &str) -> Vec<Finding> {
    let unread = |message: String| Finding {
        check: "not-read",
        severity: Severity::Error,
        message,
        pointer: String::new(),
        stated: None,
        limit: None,
        source: None,
        hint: None,
    };
    match seamwright_model::load("draft", text.as_bytes()) {
        Ok(loaded) => {
            let Document::Procedure(procedure) = &loaded.document else {
                return vec![unread("it is no procedure".to_owned())];
            };
            let found = seamwright_check::check(procedure).findings.into_iter();
            found.filter(|finding| finding.severity != Severity::Note).collect()
        }
        Err((_, faults)) => vec![unread(faults.into_iter().next().map(|fault| fault.message).unwrap_or_default())],
    }
}
