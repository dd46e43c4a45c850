//! `run-out-of-proportion`: explanation, cases, logic.

use std::collections::HashMap;

use seamwright_handbook::measure::figure;
use seamwright_handbook::{Band, Limits, setting_limits};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_weld::{RunView, View, deposit, heat};

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use crate::rules::bounds::limits;

/// The check.
pub const RULE: Rule = Rule {
    name: "run-out-of-proportion",
    harm: Harm::Fusion,
    finds: "A run that is far larger or smaller than one run can be, or has far more or less heat than the others of its process.",
    matters: "A thread of metal does not fuse and cracks; a run that is too large runs ahead of the arc. What one row has wrong is lost in the sum of all.",
    remedy: "Look at travel speed, wire feed and current of this run.",
    limit: "Cross-section of one run by process, and heat beside the middle of the other runs of the process, common practice: past the usual is a caution, past the widest an error.",
    tables: &["setting-limits", "deposition-by-size", "deposition-efficiency", "fusion-rules", "thermal-efficiency"],
    examine,
    faulty: &[
        Case { base: "butt-10-s355-135", edits: &[("/runs/1/travel_speed", "20-30 mm/min")] },
        Case { base: "butt-12-s355-111", edits: &[("/runs/1/travel_speed", "1500-2000 mm/min")] },
        // One slow run among several that are sound.
        Case { base: "pipe-butt-2205-141", edits: &[("/runs/0/travel_speed", "6-8 mm/min")] },
    ],
    sound: &[
        Case { base: "butt-10-s355-135", edits: &[] },
        Case { base: "butt-12-s355-111", edits: &[] },
        Case { base: "butt-20-a516-121", edits: &[] },
        Case { base: "lap-fillet-1-dc04-135", edits: &[] },
        Case { base: "pipe-butt-2205-141", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let all = heats(x.view);
    for at in 0..x.view.runs.len() {
        if !section(x, at) {
            beside_others(x, at, &all);
        }
    }
}

/// The middle heat of each run, sorted, by process.
fn heats<'v>(view: &View<'v>) -> HashMap<&'v str, Vec<f64>> {
    let mut all: HashMap<&str, Vec<f64>> = HashMap::new();
    for run in &view.runs {
        if let Some(own) = heat::of(run) {
            all.entry(run.number()).or_default().push(own.heat_input.middle());
        }
    }
    for own in all.values_mut() {
        own.sort_by(f64::total_cmp);
    }
    all
}

/// Holds the cross-section of a run; whether it was reported.
fn section(x: &mut Examiner<'_>, at: usize) -> bool {
    let view = x.view;
    let Some(run) = view.runs.get(at).filter(|run| run.process.is_some_and(|own| own.consumable_electrode)) else {
        return false;
    };
    let Some((limits, unit)) = limits(setting_limits::AREA_OF_ONE_RUN, run.number()) else { return false };
    let Some(area) = deposit::section(view, run) else { return false };
    let (stated, over) = (range_limit(Band::new(area.low, area.high), unit), area.middle);
    let words = if over > limits.envelope.middle() { "is more than one run holds" } else { "is hardly a run" };
    report(
        x,
        run,
        (area.high, area.middle, area.low),
        &limits,
        unit,
        &format!("the run lays down {stated}, which {words}"),
        &stated,
    )
}

/// Holds the heat of a run beside the middle of the other runs of its process.
fn beside_others(x: &mut Examiner<'_>, at: usize, all: &HashMap<&str, Vec<f64>>) {
    let view = x.view;
    let Some(run) = view.runs.get(at) else { return };
    let Some((own, heats)) = heat::of(run).map(|own| own.heat_input.middle()).zip(all.get(run.number())) else {
        return;
    };
    // Of two rows neither tells which of them is odd.
    if heats.len() < 3 {
        return;
    }
    let middle = (heats.len() - 1) / 2;
    let place = heats.partition_point(|other| *other < own);
    let Some(usual) = heats.get(if middle < place { middle } else { middle + 1 }).copied() else { return };
    if usual <= 0.0 {
        return;
    }
    let Some((limits, unit)) = limits(setting_limits::HEAT_BESIDE_OTHER_RUNS, run.number()) else { return };
    let ratio = own / usual;
    let stated = format!("{} times", figure(ratio));
    report(
        x,
        run,
        (ratio, ratio, ratio),
        &limits,
        unit,
        &format!("the run has {stated} the heat of the other runs of its process"),
        &stated,
    );
}

/// Reports a figure of a run: past the widest with all that its settings allow an error, past the usual with their middle a
/// caution.
fn report(
    x: &mut Examiner<'_>,
    run: &RunView<'_>,
    (most, middle, least): (f64, f64, f64),
    limits: &Limits,
    unit: &str,
    message: &str,
    stated: &str,
) -> bool {
    let Some(speed) = run.value(&keys::TRAVEL_SPEED) else { return false };
    x.examined(&speed.pointer);
    let usual = limits.usual.unwrap_or(limits.envelope);
    let far = Band::new(most, least).outside(limits.envelope);
    let unusual = Band::at(middle).outside(usual);
    let (severity, limit) = if far.either() {
        (Severity::Error, limits.envelope)
    } else if unusual.either() {
        (Severity::Caution, usual)
    } else {
        return false;
    };
    let limit = range_limit(limit, unit);
    x.report(severity, &speed.pointer, format!("{message} ({limit})"))
        .stated(stated)
        .limit(limit, &limits.source)
        .hint("look at the travel speed, wire feed and current of this run");
    true
}
