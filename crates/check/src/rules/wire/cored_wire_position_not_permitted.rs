//! `cored-wire-position-not-permitted`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::positions;
use seamwright_handbook::fcaw_parameters;
use seamwright_handbook::processes::Wire;

/// The check.
pub const RULE: Rule = Rule {
    name: "cored-wire-position-not-permitted",
    harm: Harm::Process,
    finds: "A flux cored wire used in a position that its classification does not permit.",
    matters: "A fluid slag runs out of a vertical or overhead pool, and a wire for welding upwards traps its slag downwards.",
    remedy: "Take an all-position class such as E71T-1C, or weld flat.",
    limit: "The position digit and the usability number of the class.",
    tables: &["flux-cored-electrodes", "designation-symbols", "positions"],
    examine,
    faulty: &[
        Case { base: "butt-15-s355-136", edits: &[("/fillers/wire/designation", "E70T-1M")] },
        Case { base: "tee-fillet-12-s355-114", edits: &[("/positions", "[PG]"), ("/progression", "downward")] },
        Case { base: "tee-fillet-8-s275-136", edits: &[("/fillers/wire/designation", "ISO 17632-A T 42 2 R C1 3 H5")] },
    ],
    sound: &[
        Case { base: "butt-15-s355-136", edits: &[] },
        Case { base: "tee-fillet-12-s355-114", edits: &[] },
        Case { base: "tee-fillet-8-s275-136", edits: &[] },
        Case {
            base: "tee-fillet-12-s355-114",
            edits: &[("/fillers/wire/designation", "E71T-11"), ("/positions", "[PG]"), ("/progression", "downward")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let Some(wire) = run.wire.as_ref().filter(|wire| wire.kind == Wire::FluxCored) else { continue };
        let Some(read) = wire.read.as_ref().filter(|read| !read.positions.is_empty()) else { continue };
        for (pointer, stated, position) in positions::run_positions(x.view, run) {
            x.examined(&pointer);
            let asked = positions::asked_of(x.view, position);
            let Some(missing) = asked.into_iter().find(|asked| !read.positions.iter().any(|own| own == asked)) else {
                continue;
            };
            let source = fcaw_parameters::electrode(&wire.filler.designation).map(|row| row.origin.source_ref());
            let said = (&*wire.filler.designation, &*missing.replace('-', " "));
            positions::not_permitted(x, (pointer, stated), said, &read.positions, source)
                .hint("take an all-position class, or another position");
        }
    }
}
