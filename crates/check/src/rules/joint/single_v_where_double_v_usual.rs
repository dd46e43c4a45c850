//! `single-v-where-double-v-usual`: explanation, cases, logic.

use seamwright_handbook::measure::band;
use seamwright_handbook::{Band, setting_limits};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{Preparation, Sides};
use seamwright_model::quantity::Length;
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, Value, at_most, hold, limits};

/// The check.
pub const RULE: Rule = Rule {
    name: "single-v-where-double-v-usual",
    harm: Harm::Fusion,
    finds: "A single V on thick metal that can be welded from both sides.",
    matters: "A double V takes half the weld metal and pulls far less.",
    remedy: "Write a double V, or say that the second side cannot be reached: `welded_from: one side`.",
    limit: "Thickness above which a double V is usual, common practice; only where the joint is welded from both sides: a note, past the widest a caution.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case {
        base: "butt-12-s355-111",
        edits: &[
            ("/parent_metals/0/thickness", "40 mm"),
            ("/joint/welded_from", "both sides"),
            ("/joint/preparation", "single-v"),
        ],
    }],
    sound: &[
        Case { base: "butt-12-s355-111", edits: &[] },
        Case { base: "butt-15-s355-136", edits: &[("/parent_metals/0/thickness", "40 mm")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some(joint) = &view.procedure.joint else { return };
    let single = joint.preparation.as_ref().and_then(Stated::value) == Some(&Preparation::SingleV);
    let both = joint.welded_from.as_ref().and_then(Stated::value) == Some(&Sides::Both);
    // The inside of a pipe is seldom in reach.
    let pipe = view.metals.iter().any(|metal| metal.stated.outside_diameter.is_some());
    let (true, Some((limits, unit))) = (single && both && !pipe, limits(setting_limits::SINGLE_V_THICKNESS, "")) else {
        return;
    };
    for metal in &view.metals {
        let Some(thickness) = metal.stated.thickness.as_ref().and_then(Stated::value) else { continue };
        let grade = Grade {
            what: "single V on a thickness of",
            usual: Severity::Note,
            widest: Severity::Caution,
            hint: "write `preparation: double-v`",
        };
        let pointer = metal.pointer("thickness");
        let own = Band::at_most(band(thickness, Length::mm).closed().high);
        hold(x, Value::new(pointer, thickness.spelled(), own), &at_most(&limits), unit, &grade);
    }
}
