//! `nozzle-too-small-for-tungsten`: explanation, cases, logic.

use seamwright_handbook::{Band, nozzle_gas_flow};
use seamwright_model::finding::Severity;

use crate::rule::{Case, Examiner, Harm, Rule, range_text};

/// The check.
pub const RULE: Rule = Rule {
    name: "nozzle-too-small-for-tungsten",
    harm: Harm::Soundness,
    finds: "A gas nozzle smaller than goes with the tungsten electrode.",
    matters: "A large electrode carries a large pool: a small nozzle does not cover it.",
    remedy: "Take the nozzle that the table gives for the electrode.",
    limit: "Bore of the nozzles that go with each electrode; smaller is a caution.",
    tables: &["electrode-nozzles", "gas-nozzles"],
    examine,
    faulty: &[Case {
        base: "pipe-butt-p235gh-141-111",
        edits: &[("/processes/141/torch/nozzle", "No. 4"), ("/processes/141/tungsten/diameter", "3.2 mm")],
    }],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    for run in &view.runs {
        let (Some((nozzle, number, _)), Some(diameter)) = (run.nozzle(), super::of_run::diameter(run)) else {
            continue;
        };
        let (Some(row), Some(number)) = (nozzle_gas_flow::for_electrode(diameter), number) else { continue };
        let limit = Band::at_least(row.nozzle.low);
        let source = row.origin.source_ref();
        let own = Band::at_least(f64::from(number));
        let outer = x.compare(&nozzle.pointer, nozzle.value, own, limit, "", &source);
        if outer.below {
            let text = format!("No. {}", range_text(limit, ""));
            x.report(
                Severity::Caution,
                &nozzle.pointer,
                format!("nozzle {} is small for a tungsten electrode of {diameter} mm ({text})", nozzle.value),
            )
            .stated(nozzle.value)
            .limit(text, &source)
            .hint(format!("write `nozzle: No. {}`", row.nozzle.low));
        }
    }
}
