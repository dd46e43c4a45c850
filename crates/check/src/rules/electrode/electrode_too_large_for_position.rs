//! `electrode-too-large-for-position`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use crate::rules::positions;
use seamwright_handbook::Band;
use seamwright_handbook::find;
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Length;
use seamwright_model::source::escape;
use seamwright_model::stated::Stated;

use super::of_run;

/// The check.
pub const RULE: Rule = Rule {
    name: "electrode-too-large-for-position",
    harm: Harm::Process,
    finds: "A covered electrode too large for vertical or overhead welding.",
    matters: "Its pool is too large to hold against gravity: it sags, undercuts and drops.",
    remedy: "Take a smaller electrode out of position.",
    limit: "The largest diameter that the classification is tested with vertical and overhead.",
    tables: &["covered-electrodes", "electrode-rules"],
    examine,
    faulty: &[
        Case {
            base: "butt-12-s355-111",
            edits: &[("/fillers/fill-electrode/diameter", "5 mm"), ("/runs/1/current", "200-230 A")],
        },
        Case {
            base: "butt-12-s355-111",
            edits: &[
                ("/fillers/fill-electrode/designation", "E9018-B3"),
                ("/fillers/fill-electrode/diameter", "6.4 mm"),
            ],
        },
    ],
    sound: &[
        Case { base: "butt-12-s355-111", edits: &[] },
        Case { base: "pipe-butt-a106-111", edits: &[] },
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[("/fillers/electrode/diameter", "5 mm"), ("/runs/0/current", "200-250 A")],
        },
        Case {
            base: "pipe-butt-a106-111",
            edits: &[("/fillers/root-electrode/diameter", "4.8 mm"), ("/runs/0/current", "140-170 A")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let Some(electrode) = of_run::electrode(x.view, run) else { continue };
        let Some((largest, source)) = electrode.largest_out_of_position() else { continue };
        let Some(stated) = electrode.filler.diameter.as_ref().and_then(Stated::value) else { continue };
        let Some(diameter) = stated.high().map(Length::mm) else { continue };
        let positions = positions::run_positions(x.view, run);
        let Some((_, position, _)) = positions.iter().find(|(_, _, row)| row.vertical || row.overhead) else {
            continue;
        };
        let pointer = format!("/fillers/{}/diameter", escape(electrode.name));
        x.examined(&pointer);
        // 5.0 mm and 3/16 in are one size.
        if diameter <= largest || find::same_size(diameter, largest) {
            continue;
        }
        let limit = range_limit(Band::at_most(largest), "mm");
        x.report(
            Severity::Caution,
            pointer,
            format!(
                "{} of {} is too large for position {position} ({limit})",
                electrode.filler.designation,
                stated.spelled()
            ),
        )
        .stated(stated.spelled())
        .limit(limit.clone(), &source)
        .hint(format!("take an electrode of {limit}, or weld flat"));
    }
}
