//! `torch-current-above-rating`: explanation, cases, logic.

use seamwright_handbook::measure::band;
use seamwright_handbook::{Band, torches};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{Polarity, keys};
use seamwright_model::quantity::Current;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rule::{range_limit, range_text};

/// The check.
pub const RULE: Rule = Rule {
    name: "torch-current-above-rating",
    harm: Harm::Equipment,
    finds: "A welding current above the rating of the torch.",
    matters: "An overloaded torch burns its insulator and the hand that holds it.",
    remedy: "Take a larger or a water-cooled torch, or lower the current.",
    limit: "The highest rating of the torch size in any source is the limit of an error; the lowest, of a caution.",
    tables: &["torches"],
    examine,
    faulty: &[Case {
        base: "lap-fillet-2-carbon-141",
        edits: &[("/processes/141/torch/size", "17"), ("/runs/0/current", "180-220 A")],
    }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let Some(size) = run.setting(&keys::TORCH_SIZE) else { continue };
        let Some(row) = torches::get(size.value) else { continue };
        let Some(current) = run.value(&keys::CURRENT) else { continue };
        let alternating = run.value(&keys::POLARITY).is_some_and(|at| *at.value == Polarity::Ac);
        let limits = row.current(alternating);
        let own = Band::at_most(band(current.value, Current::amperes).closed().high);
        let stated = current.value.spelled();
        let most = Band::at_most(limits.envelope.high);
        let outer = x.compare(&current.pointer, stated, own, most, "A", &limits.source);
        let usual = limits.usual.map_or(limits.envelope.high, |usual| usual.high);
        let severity = if outer.above {
            Severity::Error
        } else if own.high > usual {
            Severity::Note
        } else {
            continue;
        };
        let limit = if outer.above { most } else { Band::at_most(usual) };
        x.report(
            severity,
            &current.pointer,
            format!("current {stated} passes the rating of a size {} torch ({})", size.value, range_text(limit, "A")),
        )
        .stated(stated)
        .limit(range_limit(limit, "A"), &limits.source)
        .hint("take a larger torch, or a water-cooled one such as size 18 or 20");
    }
}
