//! `square-preparation-too-thick`: explanation, cases, logic.

use seamwright_handbook::{Band, joint_preparations};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::Preparation;
use seamwright_model::quantity::Length;
use seamwright_model::stated::{OrNone, Stated};

use crate::rule::range_limit;
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "square-preparation-too-thick",
    harm: Harm::Fusion,
    finds: "A square edge on metal too thick to be fused from one side.",
    matters: "The arc does not reach the root: lack of penetration that the eye cannot see from above.",
    remedy: "Bevel the edges, weld from both sides, or use a backing with a wider gap.",
    limit: "Thickness limits of square preparations: past the row for the joint is a caution, past every row an error.",
    tables: &["joint-preparations"],
    examine,
    faulty: &[Case { base: "butt-3-carbon-141", edits: &[("/parent_metals/0/thickness", "12 mm")] }],
    sound: &[Case { base: "butt-3-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let Some(joint) = &x.view.procedure.joint else { return };
    if joint.preparation.as_ref().and_then(Stated::value) != Some(&Preparation::Square)
        || !x.view.full_penetration()
        || !x.view.weld().is_some_and(|weld| weld.has_groove())
    {
        return;
    }
    let sides = if x.view.one_sided() { "one" } else { "both" };
    let backed = joint.backing.as_ref().and_then(OrNone::value).is_some();
    let squares = || joint_preparations::rows().iter().filter(|row| row.kind == "square");
    let Some(most) = squares().filter_map(|row| row.up_to_mm).reduce(f64::max) else { return };
    let Some(row) = squares().find(|row| row.sides == sides && (sides == "both" || row.backing == backed)) else {
        return;
    };
    let Some(usual) = row.up_to_mm else { return };
    for metal in &x.view.metals {
        let Some(thickness) = metal.stated.thickness.as_ref().and_then(Stated::value) else { continue };
        let Some(high) = thickness.high().or(thickness.low()).map(Length::mm) else { continue };
        let pointer = metal.pointer("thickness");
        let stated = thickness.spelled();
        let source = row.origin.source_ref();
        let outer = x.compare(&pointer, stated, Band::at_most(high), Band::at_most(usual), "mm", &source);
        if outer.above {
            // Makers print square butts in one run a little over the thickness of the standard.
            let far = high > usual * joint_preparations::FARTHEST.value.high;
            let severity = if high > most && far { Severity::Caution } else { Severity::Note };
            let limit = range_limit(Band::at_most(usual), "mm");
            x.report(
                severity,
                pointer,
                format!(
                    "thickness {stated} is much for a square preparation welded from {sides} side{} ({limit})",
                    if sides == "one" { "" } else { "s" }
                ),
            )
            .stated(stated)
            .limit(limit, &source)
            .hint("write `preparation: single-v` with its angle, or weld from both sides");
        }
    }
}
