//! `current-unsuited-to-thickness`: explanation, cases, logic.

use seamwright_handbook::settings_by_thickness as printed;
use seamwright_handbook::{Band, Basis};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Current;
use seamwright_weld::in_joint::{self, InJoint};

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};

/// The check.
pub const RULE: Rule = Rule {
    name: "current-unsuited-to-thickness",
    harm: Harm::Fusion,
    finds: "A current far from what a joint of this thickness is welded with.",
    matters: "Too much burns through thin metal; too little leaves the root and the edges of thick metal unfused.",
    remedy: "Set the current for the thickness and the joint, or correct the thickness.",
    limit: "What the settings of makers and books span for the process, metal, joint and thickness, and a margin around it; a run of a weld of several runs counts as a layer. Outside is a caution; far outside what several publishers print, an error.",
    tables: &["settings-hull", "settings-rules", "settings-by-thickness"],
    examine,
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/parent_metals/0/thickness", "0.5 mm")] },
        Case { base: "butt-2-304l-141", edits: &[("/runs/0/current", "180-200 A")] },
        Case { base: "butt-6-5083-131", edits: &[("/parent_metals/0/thickness", "1.5 mm")] },
        Case { base: "tee-fillet-2-s235jr-135", edits: &[("/parent_metals/0/thickness", "0.4 mm")] },
        Case { base: "tee-fillet-12-s355-114", edits: &[("/runs/0/current", "80-90 A")] },
        Case { base: "butt-6-copper-141", edits: &[("/runs/0/current", "87-100 A")] },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "butt-2-304l-141", edits: &[] },
        Case { base: "butt-10-s355-135", edits: &[] },
        Case { base: "butt-6-copper-141", edits: &[] },
        Case { base: "pipe-butt-p91-141", edits: &[] },
        Case { base: "butt-20-a516-121", edits: &[] },
        // A fixed current for several rods and layers: its middle counts.
        Case { base: "pipe-butt-p235gh-141-111", edits: &[("/runs/0/current", "80-140 A")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some(joint) = in_joint::of(view) else { return };
    let [margin, thin, farthest] =
        [printed::MARGIN_CURRENT, printed::MARGIN_CURRENT_THIN, printed::FARTHEST_CURRENT].map(|rule| rule.value.high);
    let [rows, publishers] = [printed::ROWS_FOR_ERROR, printed::PUBLISHERS_FOR_ERROR].map(|rule| rule.value.high);
    let sheet = joint.single && joint.thickness_mm.high <= printed::SHEET.value.high;
    let above = if sheet { thin } else { margin };
    for run in &view.runs {
        if in_joint::pulsed(run) {
            continue;
        }
        let Some(current) = run.value(&keys::CURRENT) else { continue };
        let (Some(middle), Some(span)) = (in_joint::current_a(run), joint.currents(run)) else { continue };
        let Some(hull) = span.current_a else { continue };
        // Beyond the thinnest or the thickest joint in print only one side says something; thinner metal takes as much less than
        // a layer of the thinnest joint.
        let layer = InJoint::layer_mm(run).min(span.from_mm);
        let thin = if span.thinner { (joint.thickness_mm.high / layer).min(1.0) } else { 1.0 };
        // A covered electrode needs the current of its core, which is not as much thinner as the metal.
        let covered = run.process.is_some_and(|process| !process.uses_tungsten && !process.uses_wire_feed);
        let high = hull.high * if covered { thin.sqrt() } else { thin };
        let limit = Band::new(
            if span.thinner { 0.0 } else { (hull.low / margin).round() },
            if span.thicker { f64::INFINITY } else { (high * above).round() },
        );
        let stated = current.value.spelled();
        let source = span.origin.source_ref();
        let outer = x.compare(&current.pointer, stated, Band::at(middle), limit, "A", &source);
        if !outer.either() {
            continue;
        }
        let whole = |far: f64| {
            current.value.high().map(Current::amperes).is_some_and(|high| high * far < limit.low)
                || current.value.low().map(Current::amperes).is_some_and(|low| low > limit.high * far)
        };
        let firm = span.origin.basis == Basis::Published
            && f64::from(span.published) >= rows
            && f64::from(span.publishers) >= publishers;
        let severity = if firm && whole(farthest / margin) { Severity::Error } else { Severity::Caution };
        let side = if outer.above { "much" } else { "little" };
        let thickness = in_joint::thickness_words(view).unwrap_or_default();
        let text = range_limit(limit, "A");
        x.report(severity, &current.pointer, format!("current {stated} is {side} for a joint of {thickness} ({text})"))
            .stated(stated)
            .limit(text.clone(), &source)
            .hint(format!("write a current within {text}, or correct the thickness"));
    }
}
