//! `wire-polarity-wrong`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::processes::Wire;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;

/// The check.
pub const RULE: Rule = Rule {
    name: "wire-polarity-wrong",
    harm: Harm::Process,
    finds: "A polarity that a process with solid or metal cored wire does not work with.",
    matters: "On the negative pole the wire melts in large drops without penetration; aluminium keeps its oxide.",
    remedy: "Connect the wire to the positive pole: DCEP.",
    limit: "The polarities that the process can work with; one that is not usual is a note.",
    tables: &["processes"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[("/processes/135/polarity", "DCEN")] },
        Case { base: "butt-6-5083-131", edits: &[("/processes/131/polarity", "DCEN")] },
    ],
    sound: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "butt-6-5083-131", edits: &[] },
        Case { base: "butt-25-a36-138", edits: &[] },
        Case { base: "butt-20-a516-121", edits: &[] },
        Case { base: "butt-20-a516-121", edits: &[("/processes/121/polarity", "AC")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        // The polarity of flux cored wire goes by its class.
        let Some(process) = run.process.filter(|row| row.wire.is_some_and(|wire| wire != Wire::FluxCored)) else {
            continue;
        };
        let Some(polarity) = run.value(&keys::POLARITY) else { continue };
        x.examined(&polarity.pointer);
        let named = |own: &seamwright_handbook::processes::Polarity| own.as_str() == polarity.value.as_str();
        if process.polarity_usual.iter().any(named) {
            continue;
        }
        let usual: Vec<&str> = process.polarity_usual.iter().map(|own| own.as_str()).collect();
        let (severity, says) = if process.polarity.iter().any(named) {
            (Severity::Note, "is not usual with")
        } else {
            (Severity::Error, "does not work with")
        };
        let source = process.origin.source_of("polarity");
        x.report(
            severity,
            &polarity.pointer,
            format!("{} {says} process {} ({})", polarity.value, process.number, usual.join(", ")),
        )
        .stated(polarity.value.as_str())
        .limit(usual.join(", "), &source)
        .hint(format!("write `polarity: {}`", usual.join("` or `")));
    }
}
