//! A starting procedure from a few facts: process, metal, thickness, joint, position.
//!
//! [`Facts::read`] reads what is known, [`draft`] writes a procedure as YAML in which the comment of each line names the
//! handbook table that the value comes from and its basis, or says what the writer must decide; [`draft_in_shop`] does so
//! with what a shop has. No limit stands here: what a draft chooses by stands in the tables of `handbook::planning`.
//!
//! - `facts.rs`: the facts and why some are refused
//! - `answers.rs`: the facts as questions; `sizes.rs`, `trade.rs`: gauges, schedules and words of the trade; `units.rs`: a page in inches
//! - `begin.rs`: the line of published settings that a run begins with; `documents.rs`, `record.rs`: drafts of lessons, shops and test records
//! - `plan.rs`: filler, gas, mode of transfer; `joint.rs`: edges and cross-section; `layers.rs`: runs
//! - `tungsten.rs`, `covered.rs`, `wire.rs`: the settings of each kind of process
//! - `heat.rs`: preheat, interpass temperature, heat treatment; `cooling.rs`: settings held to the heat that a metal needs
//! - `hold.rs`: settings moved to where the checks hold them
//! - `shop.rs`: what a shop has of all that
//! - `page.rs`: lines of YAML with their comments; `write.rs`: the sections in their order
//!
//! To draft for another process: its rows in the tables, and the file of settings that it belongs to in `settings.rs`.

mod answers;
mod begin;
mod cooling;
mod covered;
mod documents;
mod facts;
mod figures;
mod heat;
mod hold;
mod joint;
mod layers;
mod page;
mod plan;
mod record;
mod settings;
mod shop;
mod sizes;
mod trade;
mod tungsten;
mod units;
mod wire;
mod write;

pub use answers::Question;
pub use documents::{ShopAnswers, lesson, shop_file};
pub use facts::{Choices, Facts, Refused, Typed};
pub use record::record;
pub use shop::draft_in_shop;
pub use sizes::thickness;

use seamwright_handbook::planning;
use seamwright_model::document::Document;
use seamwright_model::finding::{Finding, Severity};

use crate::hold::Holds;

/// Sizes of the runs that are tried, over the usual ones: thinner runs take less heat, thicker ones more.
const RUN_SIZES: [f64; 7] = [1.0, 0.8, 0.6, 0.45, 1.25, 1.6, 2.0];

/// How often settings are moved to the limits of the checks before other sizes of run are tried.
const MOVES: usize = 12;

/// Writes a starting procedure as commented YAML, which the checks find without errors and cautions.
///
/// The same facts give the same text. Where a leg or a gas was chosen that the usual size of filler does not serve, thinner
/// ones and a cooler transfer are tried. Refused where the handbook has nothing to begin with, or nothing that passes.
pub fn draft(facts: &Facts) -> Result<String, Refused> {
    let (pipe, _) = plan::rule("small-pipe");
    let small = facts.diameter_mm.is_some_and(|own| own <= pipe.high) && facts.process.covered_electrode();
    if small && facts.groove() && facts.choices.size.is_none() {
        let thin = facts.with_size(plan::rule("small-pipe-electrode").0.high, "a small pipe takes a thin electrode");
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
    Err(plan::nothing(format!("what the tables give does not pass the checks: {fault}"), facts))
}

/// The page with runs of a size over the usual one, and how many entries of runs it has.
fn written(facts: &Facts, size: f64, holds: &Holds) -> Result<(String, usize), Refused> {
    let root = facts.root.as_deref().map(|root| part(root, size, holds)).transpose()?;
    let mut plan = plan::Plan::new(facts, size, root.as_ref().map(|root| &root.plan))?;
    let before = root.as_ref().map_or(0, |root| root.plan.runs.len());
    plan.hold(holds, before);
    plan.larger(facts, holds.leg_steps());
    let settings = settings::choose(facts, &plan)?;
    plan.grow(facts, settings.runs.first().and_then(|run| run.laid_mm2));
    let text = write::procedure(facts, &plan, &settings, root.as_ref());
    Ok((text, before + plan.runs.len()))
}

/// The root of a joint by a process of its own.
pub(crate) struct RootPart<'f> {
    pub(crate) facts: &'f Facts,
    pub(crate) plan: plan::Plan,
    pub(crate) settings: settings::Settings,
}

/// Plans and settings of the root run alone.
fn part<'f>(facts: &'f Facts, size: f64, holds: &Holds) -> Result<RootPart<'f>, Refused> {
    let mut plan = plan::Plan::new(facts, size, None)?;
    plan.runs.truncate(1);
    if let Some(run) = plan.runs.first_mut() {
        run.layer = "root";
    }
    plan.hold(holds, 0);
    let settings = settings::choose(facts, &plan)?;
    Ok(RootPart { facts, plan, settings })
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
