//! A draft: written, held against the checks, and moved until nothing is left to hold against it.

use seamwright_handbook::planning::{self, Attitude, Part};
use seamwright_handbook::processes::Wire;
use seamwright_model::document::Document;
use seamwright_model::finding::{Finding, Severity};
use seamwright_weld::{View, fill};

use crate::cooling;
use crate::facts::Facts;
use crate::figures::rule;
use crate::hold::{Holds, Warmth};
use crate::no_draft::held_back;
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
    let (pipe, _) = rule(planning::SMALL_PIPE);
    let small = facts.diameter_mm.is_some_and(|own| own <= pipe.high) && facts.process.covered_electrode();
    if small && facts.groove() && facts.choices.size.is_none() {
        let thin = facts.with_size(rule(planning::SMALL_PIPE_ELECTRODE).0.high, "a small pipe takes a thin electrode");
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
    if !(chosen || matches!(refused, Refused::HeldBack { .. }))
        || facts.choices.size.is_some()
        || facts.process.uses_tungsten
    {
        return Err(refused);
    }
    let sizes = sizes(facts, chosen);
    let why = if facts.leg.is_some() {
        "the size that makes the leg"
    } else if facts.choices.gas.is_some() {
        "the size that serves in the gas"
    } else {
        "the size whose settings serve"
    };
    let modes = facts.mag() || facts.process.shielded_wire(Wire::MetalCored);
    let cool = Facts { cool: true, ..facts.clone() };
    let sized = |facts: &Facts| sizes.iter().map(|size| facts.with_size(*size, why)).collect::<Vec<_>>();
    let cooler = std::iter::once(cool.clone()).chain(sized(&cool));
    let ways = sized(facts).into_iter().chain(cooler.filter(|_| modes));
    for way in ways {
        if let Ok(text) = tried(&way) {
            return Ok(text);
        }
    }
    Err(refused)
}

/// The sizes of filler that are tried after the usual one: those that make a leg or serve in a gas the largest first; else the one
/// next to that of the runs that fill a joint first, and none thicker out of position.
fn sizes(facts: &Facts, chosen: bool) -> Vec<f64> {
    let mut sizes = planning::sizes_of(facts.process.number);
    let usual = planning::size(facts.process.number, None, facts.thickness_mm, Part::Fill, facts.attitude());
    if let Some(usual) = usual.filter(|_| !chosen) {
        let off = |size: &f64| (size / usual.diameter_mm).ln().abs();
        sizes.sort_by(|a, b| off(a).total_cmp(&off(b)));
        sizes.retain(|size| facts.attitude() == Attitude::Flat || *size <= usual.diameter_mm);
    }
    sizes
}

/// The draft of facts with one size of filler and one transfer.
fn tried(facts: &Facts) -> Result<String, Refused> {
    let mut search = Search { facts, first: None, seen: Vec::new(), nearest: None };
    // What the tables give goes before what is moved to the limits of the checks, each run at its own temperatures before all at
    // the same.
    for moves in [0, MOVES] {
        search.seen.clear();
        for size in RUN_SIZES {
            if let Some(text) = search.run_size(size, moves, None)? {
                return Ok(text);
            }
        }
    }
    if let Some((_, text)) = search.nearest {
        return Ok(text);
    }
    for warmth in cooling::shared(facts) {
        for size in RUN_SIZES {
            if let Some(text) = search.run_size(size, MOVES, Some(warmth))? {
                return Ok(text);
            }
        }
    }
    if let Some((_, text)) = search.nearest {
        return Ok(text);
    }
    let fault = search.first.unwrap_or_default();
    Err(held_back(fault, facts))
}

/// A search for settings that pass the checks.
struct Search<'f> {
    facts: &'f Facts,
    /// The first fault that was found.
    first: Option<String>,
    /// Pages that were checked.
    seen: Vec<String>,
    /// Of the pages that pass, but lay much more or less than the joint holds, the one that comes nearest, and how far off it is.
    nearest: Option<(f64, String)>,
}

impl Search<'_> {
    /// The page with runs of a size over the usual one, moved so often at the most, where it passes and fills the joint.
    fn run_size(&mut self, size: f64, moves: usize, warmth: Option<Warmth>) -> Result<Option<String>, Refused> {
        let facts = self.facts;
        let mut holds = Holds::at(warmth);
        let mut last = Vec::new();
        let (mut moved, mut idle) = (0, 0);
        while moved <= moves {
            let (text, runs) = written(facts, size, &holds)?;
            if self.seen.contains(&text) {
                // A single run is the same at every size; a move that changes nothing is followed by another.
                // A leg that was asked for is made by another size rather.
                idle += 1;
                if idle > MOVES || facts.leg.is_some() || last.is_empty() || !holds.learn(&last, runs) {
                    break;
                }
                continue;
            }
            moved += 1;
            let found = faults(&text);
            let Some(worst) = found.iter().max_by_key(|finding| finding.severity) else {
                let off = off_the_joint(&text);
                if off <= 0.0 {
                    return Ok(Some(text));
                }
                if self.nearest.as_ref().is_none_or(|(least, _)| off < *least) {
                    self.nearest = Some((off, text.clone()));
                }
                self.seen.push(text);
                break;
            };
            // A leg that was asked for and cannot be is the reason, whatever else follows from it.
            let leg = found.iter().find(|finding| finding.check.starts_with("fillet-leg-too"));
            if let Some(leg) = leg.filter(|_| facts.leg.is_some()) {
                return Err(Refused::Contradiction(format!(
                    "{}: give a --leg within that, or leave it out and it follows from the thickness",
                    leg.message
                )));
            }
            self.first.get_or_insert_with(|| format!("{} ({})", worst.message, worst.check));
            self.seen.push(text);
            if moves == 0 || !holds.learn(&found, runs) {
                break;
            }
            last = found;
        }
        Ok(None)
    }
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
    let laid: Vec<Option<f64>> = settings.runs.iter().map(|run| run.laid_mm2).collect();
    plan.grow_timed(facts, &laid);
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

/// How far what the runs of a page lay lies outside what a draft aims at, as the logarithm of the ratio; 0 within it, and where
/// what they lay does not follow from their settings.
fn off_the_joint(text: &str) -> f64 {
    let Ok(loaded) = seamwright_model::load("draft", text.as_bytes()) else { return 0.0 };
    let Document::Procedure(procedure) = &loaded.document else { return 0.0 };
    let view = View::new(procedure);
    // A fillet of one run is not made of two for a little more or less metal.
    let one_fillet = view.runs.len() == 1 && view.weld().is_some_and(|weld| !weld.has_groove());
    let Some(fill) = fill::of(&view).filter(|fill| !fill.square && !one_fillet) else { return 0.0 };
    let (aim, _) = rule(planning::FILL_AIM);
    let holds = fill.joint_mm2.middle;
    let over = if fill.fed_known { fill.fed_mm2.middle / (holds.max(fill.one_run_mm2) * aim.high) } else { 0.0 };
    let short = if fill.known { holds * aim.low / fill.laid_mm2.middle } else { 0.0 };
    over.max(short).max(1.0).ln()
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
