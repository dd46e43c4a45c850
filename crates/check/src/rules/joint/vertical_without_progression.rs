//! `vertical-without-progression`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::positions;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::Progression;
use seamwright_model::stated::Stated;

/// The check.
pub const RULE: Rule = Rule {
    name: "vertical-without-progression",
    harm: Harm::Process,
    finds: "A vertical position without the direction of welding.",
    matters: "Up and down differ in penetration, in heat input and in what is qualified.",
    remedy: "Write `progression: upward` or `downward`, or a position that says so (PF, PG, PH, PJ).",
    limit: "The positions that leave the direction open.",
    tables: &["positions"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/positions", "[3F]")] }],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/positions", "[3F]"), ("/progression", "upward")] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let stated_progression = x.view.procedure.progression.as_ref().and_then(Stated::value).copied();
    for (pointer, stated) in super::measures::positions(x.view) {
        let Some(row) = positions::get(stated) else { continue };
        let contradicts = match row.progression {
            positions::Progression::Either => {
                x.examined(&pointer);
                if stated_progression.is_none() {
                    let source = row.origin.source_ref();
                    x.report(
                        Severity::Error,
                        "/progression",
                        format!("position {stated} does not say whether welding goes up or down"),
                    )
                    .limit("upward or downward", &source)
                    .hint("write `progression: upward` or `progression: downward`");
                }
                continue;
            }
            positions::Progression::Upward => stated_progression == Some(Progression::Downward),
            positions::Progression::Downward => stated_progression == Some(Progression::Upward),
            positions::Progression::None => false,
        };
        x.examined(&pointer);
        if contradicts && x.view.procedure.positions.len() == 1 {
            let source = row.origin.source_ref();
            x.report(Severity::Error, "/progression", format!("position {stated} is {}", row.name))
                .stated(stated_progression.map_or("", Progression::as_str))
                .limit(row.name, &source)
                .hint("change the position or the progression");
        }
    }
}
