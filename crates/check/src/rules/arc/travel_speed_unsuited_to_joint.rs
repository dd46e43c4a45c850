//! `travel-speed-unsuited-to-joint`: explanation, cases, logic.

use seamwright_handbook::Band;
use seamwright_handbook::settings_by_thickness as printed;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Speed;
use seamwright_weld::deposit::middle;
use seamwright_weld::in_joint;

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};

/// The check.
pub const RULE: Rule = Rule {
    name: "travel-speed-unsuited-to-joint",
    harm: Harm::Fusion,
    finds: "A travel speed far from those at which such a joint is welded in this position.",
    matters: "Too fast, the bead is thin, undercut and unfused; too slow, the pool runs ahead of the arc and the heat piles up.",
    remedy: "Measure a length and its arc time in the position that is welded, and state that speed.",
    limit: "What the settings of makers and books span for the process, metal, joint, thickness and position, and a margin around it; a run of a weld of several runs may be woven slowly. Outside is a caution.",
    tables: &["settings-hull", "settings-rules", "settings-by-thickness"],
    examine,
    faulty: &[
        Case { base: "butt-6-5083-131", edits: &[("/runs/0/travel_speed", "1200-1300 mm/min")] },
        Case { base: "butt-12-s355-111", edits: &[("/positions", "[PF]"), ("/runs/1/travel_speed", "240-300 mm/min")] },
        Case { base: "butt-3-carbon-141", edits: &[("/runs/0/travel_speed", "300-330 mm/min")] },
        Case { base: "tee-fillet-8-s275-136", edits: &[("/runs/0/travel_speed", "900-1000 mm/min")] },
        // Slower than any run over a root.
        Case { base: "butt-10-s355-135-pc", edits: &[("/runs/1/travel_speed", "80-95 mm/min")] },
        Case { base: "butt-3-4-in-a572-136-1g", edits: &[("/runs/1/travel_speed", "4-4.6 in/min")] },
        // Too slow for any position but up.
        Case {
            base: "tee-fillet-12-s355-135",
            edits: &[
                ("/positions", "[PD]"),
                ("/processes/135/transfer_mode", "pulsed"),
                ("/runs/0/current", "150-170 A"),
                ("/runs/0/travel_speed", "65-75 mm/min"),
            ],
        },
        // Spray is laid on the flat and not overhead: its speed stays.
        Case { base: "tee-fillet-12-s355-135", edits: &[("/runs/0/travel_speed", "130-150 mm/min")] },
    ],
    sound: &[
        // With half the current of spray overhead is slower than flat.
        Case {
            base: "tee-fillet-12-s355-135",
            edits: &[
                ("/positions", "[PD]"),
                ("/processes/135/transfer_mode", "pulsed"),
                ("/runs/0/current", "150-170 A"),
                ("/runs/0/travel_speed", "115-135 mm/min"),
            ],
        },
        Case { base: "butt-6-5083-131", edits: &[] },
        Case { base: "pipe-butt-x52-111-pj", edits: &[] },
        Case { base: "pipe-butt-a106-111", edits: &[] },
        Case { base: "butt-15-s355-136", edits: &[] },
        Case { base: "butt-10-s355-135-pc", edits: &[("/runs/1/travel_speed", "180-220 mm/min")] },
        Case { base: "butt-3-4-in-a572-136-1g", edits: &[("/runs/1/travel_speed", "6-7 in/min")] },
        Case { base: "tee-fillet-10-s355-111", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some(joint) = in_joint::of(view) else { return };
    let [margin, slow, electrode, rod, rod_woven, rod_fast] = [
        printed::MARGIN_TRAVEL,
        printed::MARGIN_TRAVEL_SLOW,
        printed::MARGIN_TRAVEL_ELECTRODE,
        printed::MARGIN_TRAVEL_ROD,
        printed::MARGIN_TRAVEL_ROD_WOVEN,
        printed::MARGIN_TRAVEL_ROD_FAST,
    ]
    .map(|rule| rule.value.high);
    for run in &view.runs {
        let Some(speed) = run.value(&keys::TRAVEL_SPEED) else { continue };
        let Some(mm_min) = middle(speed.value, Speed::mm_per_min) else { continue };
        let Some(span) = joint.currents(run) else { continue };
        for (position, hull) in joint.speeds(view, run) {
            // Steel is woven, aluminium hardly, and never under flux.
            let woven =
                !joint.single && view.any_metal("steel") && run.process.is_some_and(|process| !process.uses_flux);
            let by_hand = run.process.is_some_and(|process| process.uses_tungsten);
            let wire = run.process.is_some_and(|process| process.uses_wire_feed);
            let least = match (woven, by_hand) {
                (true, false) if !wire => electrode,
                (true, true) => rod_woven,
                (true, false) => slow,
                (false, true) => rod,
                (false, false) => margin,
            };
            let most = if by_hand { rod_fast } else { margin };
            let limit = Band::new(hull.low / least, hull.high * most);
            let stated = speed.value.spelled();
            let source = span.origin.source_ref();
            let (printed, unit) = in_joint::speeds_like(stated, limit);
            let outer = x.compare(&speed.pointer, stated, Band::at(mm_min), limit, "mm/min", &source);
            if !outer.either() {
                continue;
            }
            let side = if outer.above { "fast" } else { "slow" };
            let text = range_limit(printed, unit);
            x.report(
                Severity::Caution,
                &speed.pointer,
                format!("travel speed {stated} is {side} for this joint in {position} ({text})"),
            )
            .stated(stated)
            .limit(text.clone(), &source)
            .hint(format!("write a speed within {text}, as measured over a length"));
            break;
        }
    }
}
