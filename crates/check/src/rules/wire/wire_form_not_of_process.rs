//! `wire-form-not-of-process`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::designation::Form;
use seamwright_handbook::processes::Wire;
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "wire-form-not-of-process",
    harm: Harm::Impossible,
    finds: "A wire of another kind than the process takes.",
    matters: "Solid, flux cored and metal cored wire are told apart by the process number, and each is qualified for itself.",
    remedy: "Write the process of the wire: 131 or 135 solid, 114 or 136 flux cored, 138 metal cored.",
    limit: "The kind of wire of each process, and the form that the designation says.",
    tables: &["processes", "designation-symbols"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[("/fillers/wire/designation", "E71T-1M")] },
        Case { base: "butt-15-s355-136", edits: &[("/fillers/wire/designation", "ER70S-6")] },
        Case { base: "butt-25-a36-138", edits: &[("/fillers/wire/designation", "ISO 17632-A T 46 4 P M21 1 H5")] },
    ],
    sound: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "butt-15-s355-136", edits: &[] },
        Case { base: "butt-25-a36-138", edits: &[] },
        Case { base: "tee-fillet-12-s355-114", edits: &[] },
        Case { base: "tee-fillet-4-6082-131", edits: &[] },
        Case { base: "tee-fillet-8-s275-136", edits: &[] },
        Case { base: "butt-25-a36-138", edits: &[("/fillers/wire/designation", "ISO 17632-A T 46 4 M M21 3 H5")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let (Some(process), Some(wire)) = (run.process, run.wire.as_ref()) else { continue };
        let Some(form) = wire.read.as_ref().map(|read| read.form) else { continue };
        let pointer = wire.pointer("designation");
        x.examined(&pointer);
        let (agrees, asked) = match wire.kind {
            Wire::Solid => (form == Form::RodOrWire, "a solid wire"),
            Wire::FluxCored => (form == Form::FluxCoredWire, "a flux cored wire"),
            Wire::MetalCored => (form == Form::MetalCoredWire, "a metal cored wire"),
        };
        // GMAW in AWS terms takes in metal cored wire.
        if agrees || (process.also.contains(&"GMAW") && form == Form::MetalCoredWire) {
            continue;
        }
        let source = process.origin.source_ref();
        x.report(
            Severity::Error,
            pointer,
            format!("process {} takes {asked}; {} is another kind", process.number, wire.filler.designation),
        )
        .stated(&*wire.filler.designation)
        .limit(asked, &source)
        .hint("write the process of the wire, or another wire");
    }
}
