//! `spray-out-of-position`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::positions;
use seamwright_handbook::gmaw_parameters::Transfer;
use seamwright_handbook::metal_families;
use seamwright_handbook::processes::Wire;
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "spray-out-of-position",
    harm: Harm::Process,
    finds: "Spray transfer on steel in a vertical or overhead position.",
    matters: "The pool of spray transfer is large and thin, and runs out of the joint.",
    remedy: "Use pulsed or short-circuit transfer out of position.",
    limit: "Positions that are neither vertical nor overhead; aluminium and pulsed current are free.",
    tables: &["positions"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[("/positions", "[PF]"), ("/progression", "upward")] },
        Case { base: "butt-25-a36-138", edits: &[("/positions", "[PE]")] },
    ],
    sound: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "butt-10-s355-135", edits: &[] },
        Case { base: "tee-fillet-4-6082-131", edits: &[] },
        Case {
            base: "tee-fillet-12-s355-135",
            edits: &[
                ("/positions", "[PF]"),
                ("/progression", "upward"),
                ("/processes/135/transfer_mode", "pulsed"),
                ("/runs/0/current", "180-220 A"),
            ],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let Some(wire) = run.wire.as_ref().filter(|wire| wire.kind != Wire::FluxCored) else { continue };
        let Some(family) = wire.family else { continue };
        let steel = wire.kind == Wire::MetalCored || metal_families::is_in(family, "steel");
        if !steel || wire.transfer != Some(Transfer::Spray) {
            continue;
        }
        for (pointer, stated, position) in positions::run_positions(x.view, run) {
            x.examined(&pointer);
            if position.vertical || position.overhead {
                let source = position.origin.source_ref();
                x.report(
                    Severity::Caution,
                    pointer,
                    format!("spray transfer in position {stated} ({}): the pool runs out", position.name),
                )
                .stated(stated)
                .limit("flat or horizontal", &source)
                .hint("write `transfer_mode: pulsed` or `short-circuit` with settings for it");
            }
        }
    }
}
