//! `short-circuit-on-thick-plate`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use seamwright_handbook::Band;
use seamwright_handbook::gmaw_parameters::{self, Transfer};
use seamwright_handbook::measure::figure;
use seamwright_handbook::processes::Wire;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::Layer;

/// The check.
pub const RULE: Rule = Rule {
    name: "short-circuit-on-thick-plate",
    harm: Harm::Fusion,
    finds: "Short-circuit transfer beyond the root on thick plate.",
    matters: "The arc is out for much of the time: the plate draws the heat away and the sides do not fuse, which no eye sees.",
    remedy: "Keep short circuits for the root, and fill with pulsed or spray transfer, or with cored wire.",
    limit: "The largest thickness for short-circuit transfer; root runs are free.",
    tables: &["gmaw-rules"],
    examine,
    faulty: &[
        Case {
            base: "tee-fillet-12-s355-135",
            edits: &[
                ("/processes/135/transfer_mode", "short-circuit"),
                ("/runs/0/current", "150-180 A"),
                ("/runs/0/voltage", "18-20 V"),
            ],
        },
        Case { base: "butt-10-s355-135", edits: &[("/runs/1/transfer_mode", "short-circuit")] },
    ],
    sound: &[Case { base: "butt-10-s355-135", edits: &[] }, Case { base: "tee-fillet-2-s235jr-135", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let rule = gmaw_parameters::SHORT_CIRCUIT_THICKNESS;
    let Some(thickness) = x.view.thickness_mm() else { return };
    let limit = range_limit(Band::at_most(rule.value.high), "mm");
    for run in &x.view.runs {
        let root = matches!(run.run.layer, Some(Layer::Root | Layer::Hot | Layer::Backing));
        let Some(wire) = run.wire.as_ref().filter(|wire| wire.kind != Wire::FluxCored && !root) else { continue };
        let Some(transfer) = run.transfer().filter(|at| at.value == Transfer::ShortCircuit) else { continue };
        x.examined(&transfer.pointer);
        if thickness <= rule.value.high {
            continue;
        }
        let source = rule.origin.source_ref();
        x.report(
            Severity::Caution,
            transfer.pointer,
            format!(
                "short-circuit transfer of {} beyond the root on {} mm ({limit})",
                wire.filler.designation,
                figure(thickness)
            ),
        )
        .stated("short-circuit")
        .limit(limit.clone(), &source)
        .hint("write `transfer_mode: pulsed` or `spray` with settings for it");
    }
}
