//! `pipe-too-small-for-flux`: explanation, cases, logic.

use seamwright_handbook::measure::band;
use seamwright_handbook::{Band, setting_limits};
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Length;
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, Value, hold, limits};

/// A butt of pipe under flux, with its outside diameter.
macro_rules! pipe {
    ($diameter:literal) => {
        Case { base: "butt-20-a516-121", edits: &[("/parent_metals/0/outside_diameter", $diameter)] }
    };
}

/// The check.
pub const RULE: Rule = Rule {
    name: "pipe-too-small-for-flux",
    harm: Harm::Fusion,
    finds: "A pipe under flux whose outside is too small for the bath to lie on.",
    matters: "Flux, slag and bath run off the curve, and the arc melts through a small wall.",
    remedy: "Weld it by tungsten arc, electrode or shielded wire.",
    limit: "Outside diameter under flux, common practice: under the usual is a note, under the widest a caution.",
    tables: &["setting-limits"],
    examine,
    faulty: &[pipe!("26.9 mm"), pipe!("60.3 mm"), pipe!("114.3 mm"), pipe!("2-3/8 in")],
    sound: &[pipe!("219.1 mm"), pipe!("6-5/8 in"), Case { base: "butt-20-a516-121", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some(process) = view.runs.iter().filter_map(|run| run.process).find(|process| process.uses_flux) else {
        return;
    };
    let Some((limits, unit)) = limits(setting_limits::DIAMETER_UNDER_FLUX, process.number) else { return };
    let grade = Grade {
        what: "outside diameter under flux",
        usual: Severity::Note,
        widest: Severity::Caution,
        hint: "weld it by 141, 111 or 135",
    };
    for metal in &view.metals {
        let stated = metal.stated.outside_diameter.as_ref().and_then(Stated::value);
        let Some(range) = stated.filter(|_| !metal.is_round_bar()) else { continue };
        let own = band(range, Length::mm);
        let own = Band::new(own.closed().low, own.high);
        hold(x, Value::new(metal.pointer("outside_diameter"), range.spelled(), own), &limits, unit, &grade);
    }
}
