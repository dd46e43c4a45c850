//! `fillet-gap-too-wide`: explanation, cases, logic.

use seamwright_handbook::measure::{self, band};
use seamwright_handbook::{Band, Size, setting_limits};
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Length;
use seamwright_model::stated::Stated;

use crate::codes::{self, FilletGap};
use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, Value, at_most, hold, limits};

/// A tee of A36 under AWS D1.1, with its thickness and gap.
macro_rules! gap {
    ($thickness:literal, $gap:literal) => {
        Case {
            base: "tee-fillet-3-8-in-a992-136",
            edits: &[
                ("/parent_metals", concat!("[{specification: A36, thickness: ", $thickness, "}]")),
                ("/joint/root_gap", $gap),
            ],
        }
    };
}

/// The check.
pub const RULE: Rule = Rule {
    name: "fillet-gap-too-wide",
    harm: Harm::Fusion,
    finds: "A gap under a fillet wider than parts are fitted with.",
    matters: "The throat of the fillet is less by the gap, and past a few millimetres the weld falls through it.",
    remedy: "Fit the parts closer, or prepare a groove.",
    limit: "Under AWS D1.1 the gap of its clause 7.22.1, an error past it and a note where legs have to grow. Else the gap of fillet weld assembly: past the usual a note, past the widest an error.",
    tables: &["setting-limits", "aws-d1-1-rules"],
    examine,
    faulty: &[
        // AWS D1.1: 3/16 in (5 mm) at most, legs grow from 1/16 in (2 mm) on; 5/16 in (8 mm) from 3 in (75 mm) on.
        gap!("3/8 in", "7/32 in"),
        gap!("10 mm", "6 mm"),
        gap!("3/8 in", "1/8 in"),
        gap!("2-15/16 in", "5/16 in"),
        gap!("3 in", "3/8 in"),
        gap!("74 mm", "8 mm"),
        Case { base: "tee-fillet-12-s355-135", edits: &[("/joint/root_gap", "8 mm")] },
    ],
    sound: &[
        gap!("3/8 in", "1/16 in"),
        gap!("10 mm", "2 mm"),
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "tee-fillet-12-s355-135", edits: &[("/joint/root_gap", "0-2 mm")] },
        Case { base: "butt-15-s355-136", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    if view.weld().is_none_or(|weld| weld.has_groove() || !weld.has_fillet()) {
        return;
    }
    if of_code(x) {
        return;
    }
    let gap = view.procedure.joint.as_ref().and_then(|joint| joint.root_gap.as_ref()).and_then(Stated::value);
    let (Some(gap), Some((limits, unit))) = (gap, limits(setting_limits::FILLET_GAP, "")) else { return };
    let grade = Grade {
        what: "gap",
        usual: Severity::Note,
        widest: Severity::Error,
        hint: "write `root_gap: 0-2 mm`, or prepare a groove",
    };
    let own = Band::at_most(band(gap, Length::mm).closed().high);
    let value = Value::new("/joint/root_gap", gap.spelled(), own);
    hold(x, value, &at_most(&limits), unit, &grade);
}

/// Holds the gap against the code where that speaks of it; whether it does.
fn of_code(x: &mut Examiner<'_>) -> bool {
    let view = x.view;
    let Some(FilletGap { most, free }) = codes::governing(view.procedure).and_then(|code| code.fillet_gap(view)) else {
        return false;
    };
    let gap = view.procedure.joint.as_ref().and_then(|joint| joint.root_gap.as_ref()).and_then(Stated::value);
    let Some(gap) = gap else { return true };
    let Some(largest) = gap.high().or(gap.low()) else { return true };
    let (pointer, size) = ("/joint/root_gap", Size::stated(largest, gap.unit()));
    x.examined(pointer);
    let (figure, unit) = most.beside(size);
    let limit = measure::length_limit(Band::at_most(figure), unit);
    if most.over(size) {
        x.report(Severity::Error, pointer, format!("gap {} is too wide under a fillet ({limit})", gap.spelled()))
            .stated(gap.spelled())
            .limit(limit.clone(), &most.origin.source_ref())
            .hint(format!("write `root_gap: {limit}`, or prepare a groove"));
    } else if free.over(size) {
        let (figure, unit) = free.beside(size);
        let limit = measure::length_limit(Band::at_most(figure), unit);
        x.report(
            Severity::Note,
            pointer,
            format!("with a gap of {} the legs grow by the gap ({limit} without)", gap.spelled()),
        )
        .stated(gap.spelled())
        .limit(limit, &free.origin.source_ref())
        .hint("say in the notes that the leg is measured without the gap");
    }
    true
}
