//! `outside-diameter-impossible`: explanation, cases, logic.

use seamwright_handbook::{Band, setting_limits};
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Length;
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use crate::rules::bounds::limits;

/// The check.
pub const RULE: Rule = Rule {
    name: "outside-diameter-impossible",
    harm: Harm::Impossible,
    finds: "A pipe whose wall is thicker than its radius, in the largest diameter and the thinnest wall that are stated.",
    matters: "There is no such pipe: one of the two figures is a slip.",
    remedy: "Mend the outside diameter or the thickness.",
    limit: "The outside diameter is more than twice the wall; an error.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[("/parent_metals/0/outside_diameter", "5 mm")] }],
    sound: &[
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[
                ("/parent_metals/0/form", "round bar"),
                ("/parent_metals/0/thickness", "20 mm"),
                ("/parent_metals/0/outside_diameter", "20 mm"),
            ],
        },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
        // Small pipe has the thin walls of the range, large pipe the thick ones.
        Case { base: "pipe-butt-p235gh-141-111", edits: &[("/parent_metals/0/outside_diameter", "21.3 mm minimum")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some((share, _)) = limits(setting_limits::DIAMETER_OVER_WALL, "") else { return };
    for metal in view.metals.iter().filter(|metal| !metal.is_round_bar()) {
        let Some(diameter) = metal.stated.outside_diameter.as_ref().and_then(Stated::value) else { continue };
        let Some(wall) =
            metal.stated.thickness.as_ref().and_then(Stated::value).and_then(|t| t.low().or(t.high())).map(Length::mm)
        else {
            continue;
        };
        let pointer = metal.pointer("outside_diameter");
        let stated = diameter.spelled();
        let limit = Band::at_least(share.envelope.low * wall);
        // Open upwards, a stated diameter excludes no pipe.
        let Some(largest) = diameter.high().map(Length::mm) else { continue };
        if x.compare(&pointer, stated, Band::at_least(largest), limit, "mm", &share.source).below {
            let text = range_limit(limit, "mm");
            x.report(Severity::Error, pointer, format!("outside diameter {stated} with a wall of {wall} mm ({text})"))
                .stated(stated)
                .limit(text, &share.source)
                .hint("mend the outside diameter or the thickness");
        }
    }
}
