//! `prequalified-run-too-thick`: explanation, cases, logic.

use seamwright_handbook::Size;
use seamwright_handbook::aws_d1_1::quantity;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::stated::Stated;
use seamwright_weld::view::Located;

use super::prequalified;
use crate::rule::{Case, Examiner, Harm, Rule};

/// A prequalified butt whose second entry of runs states how thick a run is.
macro_rules! run {
    ($pointer:literal, $thickness:literal) => {
        Case { base: "butt-3-8-in-a36-111-3g", edits: &[($pointer, $thickness)] }
    };
}

/// The check.
pub const RULE: Rule = Rule {
    name: "prequalified-run-too-thick",
    harm: Harm::Qualification,
    finds: "A run thicker than a run of a prequalified procedure may be.",
    matters: "A thick run leaves coarse grains, and slag and gas stay in it.",
    remedy: "Weld the groove in more runs, or qualify the procedure by test.",
    limit: "Largest thickness of root and fill runs of AWS D1.1 Table 5.1 by process and position; an error.",
    tables: &["aws-d1-1-prequalified"],
    examine,
    faulty: &[
        run!("/runs/1/run_thickness", "1/4 in"),
        run!("/runs/1/run_thickness", "6 mm"),
        run!("/runs/0/run_thickness", "9/16 in"),
        run!("/runs/1/deposit_thickness", "6 mm"),
    ],
    sound: &[
        run!("/runs/1/run_thickness", "3/16 in"),
        run!("/runs/1/run_thickness", "5 mm"),
        run!("/runs/0/run_thickness", "1/2 in"),
        run!("/runs/0/run_thickness", "12 mm"),
        Case { base: "butt-12-s355-111", edits: &[("/runs/1/run_thickness", "8 mm")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    if !prequalified::applies(view) {
        return;
    }
    for run in &view.runs {
        let (limited, weld) = match prequalified::weld(view, run) {
            "fillet" => continue,
            "root" => (quantity::ROOT_PASS_THICKNESS, "root"),
            _ => (quantity::FILL_PASS_THICKNESS, "groove"),
        };
        let at = run.value(&keys::RUN_THICKNESS);
        // What a run itself deposits is its thickness; what a process does is that of all its runs.
        let own = || {
            let value = keys::DEPOSIT_THICKNESS.of(&run.run.settings).and_then(Stated::value)?;
            Some(Located { value, pointer: keys::DEPOSIT_THICKNESS.in_run(run.index) })
        };
        let Some(at) = at.or_else(own) else { continue };
        let Some(most) = at.value.high() else { continue };
        x.examined(&at.pointer);
        let size = Size::stated(most, at.value.unit());
        let Some(beyond) = prequalified::beyond(view, run, (limited, weld), size) else { continue };
        let limit = beyond.limit;
        let kind = if weld == "root" { "root" } else { "fill" };
        let message = format!(
            "{} is too thick for a prequalified {kind} run in position {} ({limit})",
            at.value.spelled(),
            beyond.position
        );
        x.report(Severity::Error, at.pointer, message)
            .stated(at.value.spelled())
            .limit(limit, &beyond.row.origin.source_ref())
            .hint(format!("write `run_thickness: {} maximum` and more runs", beyond.largest));
    }
}
