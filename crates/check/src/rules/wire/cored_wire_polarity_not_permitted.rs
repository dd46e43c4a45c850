//! `cored-wire-polarity-not-permitted`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::processes::Wire;
use seamwright_handbook::{designation, fcaw_parameters};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;

/// The check.
pub const RULE: Rule = Rule {
    name: "cored-wire-polarity-not-permitted",
    harm: Harm::Process,
    finds: "A polarity that the classification of a flux cored wire does not permit.",
    matters: "Self-shielded classes mostly run on the negative pole, gas-shielded ones on the positive: on the other the arc is unsteady and the weld porous.",
    remedy: "Use a polarity of the classification.",
    limit: "The polarities that the usability number of the class permits.",
    tables: &["flux-cored-electrodes", "designation-symbols"],
    examine,
    faulty: &[
        Case { base: "butt-15-s355-136", edits: &[("/processes/136/polarity", "DCEN")] },
        Case { base: "tee-fillet-12-s355-114", edits: &[("/processes/114/polarity", "DCEP")] },
        Case {
            base: "tee-fillet-12-s355-114",
            edits: &[("/fillers/wire/designation", "E70T-4"), ("/positions", "[PB]"), ("/progression", "")],
        },
    ],
    sound: &[
        Case { base: "butt-15-s355-136", edits: &[] },
        Case { base: "tee-fillet-12-s355-114", edits: &[] },
        Case {
            base: "butt-15-s355-136",
            edits: &[("/fillers/wire/designation", "E71T-5C"), ("/processes/136/polarity", "DCEN")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let Some(wire) = run.wire.as_ref().filter(|wire| wire.kind == Wire::FluxCored) else { continue };
        let permitted = wire.read.as_ref().map_or(&[][..], |read: &designation::Filler| &read.polarity);
        let Some(polarity) = run.value(&keys::POLARITY) else { continue };
        if permitted.is_empty() {
            continue;
        }
        x.examined(&polarity.pointer);
        if permitted.iter().any(|own| own.as_str() == polarity.value.as_str()) {
            continue;
        }
        let list: Vec<&str> = permitted.iter().map(|own| own.as_str()).collect();
        let row = fcaw_parameters::electrode(&wire.filler.designation);
        let report = x
            .report(
                Severity::Error,
                &polarity.pointer,
                format!("{} does not permit {} ({})", wire.filler.designation, polarity.value, list.join(", ")),
            )
            .stated(polarity.value.as_str())
            .hint(format!("write `polarity: {}`", list.join("` or `")));
        if let Some(row) = row {
            report.limit(list.join(", "), &row.origin.source_ref());
        }
    }
}
