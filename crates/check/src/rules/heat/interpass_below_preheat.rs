//! `interpass-below-preheat`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_model::finding::{Basis, Severity, SourceRef};
use seamwright_model::quantity::Temperature;

/// The check.
pub const RULE: Rule = Rule {
    name: "interpass-below-preheat",
    harm: Harm::Metal,
    finds: "An interpass temperature whose most lies under the preheating temperature.",
    matters: "No joint can be both: the welder must wait for it to cool below what the first run needs.",
    remedy: "Raise the interpass temperature, or lower the preheat.",
    limit: "The preheating temperature that the document states.",
    tables: &[],
    examine,
    faulty: &[Case {
        base: "tee-fillet-10-s355-111",
        edits: &[("/temperatures/preheating", "150 °C minimum"), ("/temperatures/interpass", "100 °C maximum")],
    }],
    sound: &[Case { base: "tee-fillet-10-s355-111", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let procedure = x.view.procedure;
    let Some((interpass, preheating)) = procedure.interpass().zip(procedure.preheating()) else { return };
    let pointer = "/temperatures/interpass";
    x.examined(pointer);
    let (Some(most), Some(least)) =
        (interpass.high().map(Temperature::celsius), preheating.low().map(Temperature::celsius))
    else {
        return;
    };
    if most < least {
        let source = SourceRef {
            clause: Some("/temperatures/preheating".into()),
            ..SourceRef::plain("this document", Basis::CommonPractice)
        };
        x.report(
            Severity::Error,
            pointer,
            format!("interpass temperature {} lies under the preheat {}", interpass.spelled(), preheating.spelled()),
        )
        .stated(interpass.spelled())
        .limit(format!("not under {}", preheating.spelled()), &source)
        .hint("raise the interpass temperature, or lower the preheat");
    }
}
