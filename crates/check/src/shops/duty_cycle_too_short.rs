//! `duty-cycle-too-short`: explanation, cases, logic.

use seamwright_calc::band::above;
use seamwright_handbook::Band;
use seamwright_handbook::measure::figure;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::{Current, Length, Speed};
use seamwright_model::stated::Stated;
use seamwright_weld::machines;

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use crate::subject::InShop;

/// The check.
pub const RULE: Rule<InShop> = Rule {
    name: "duty-cycle-too-short",
    harm: Harm::Equipment,
    finds: "A machine that must rest before the run is done, or that the usual share of arc time overloads.",
    matters: "The machine trips in the middle of a run, or is ruined by heat.",
    remedy: "Weld with less current or shorter runs, or take a larger machine.",
    limit: "Rated points of the best machine, brought to the highest current by the square law of IEC 60974-1, against the stated length of weld and the usual operating factor.",
    tables: &["operating-factor"],
    examine,
    faulty: &[
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[
                ("shop:/power_sources/1/rated_points", "[{current: 90 A, duty_cycle: 10 %}]"),
                ("shop:/power_sources/0/rated_points", "[{current: 90 A, duty_cycle: 10 %}]"),
            ],
        },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[
                ("/weld_size", "{leg: 2 mm, length: 2 m}"),
                ("shop:/power_sources/1/rated_points", "[{current: 90 A, duty_cycle: 35 %}]"),
                ("shop:/power_sources/0/rated_points", "[{current: 90 A, duty_cycle: 35 %}]"),
            ],
        },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "butt-12-s355-111", edits: &[] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/weld_size", "{leg: 2 mm, length: 150 mm}")] },
    ],
};

fn examine(x: &mut Examiner<'_, InShop>) {
    let (view, shop) = (x.view.view, x.view.shop);
    let length = view.procedure.weld_size.as_ref().and_then(Stated::value).and_then(|size| size.length.as_ref());
    let length_mm = length.and_then(Stated::value).and_then(|range| range.high().or(range.low())).map(Length::mm);
    for (run, best) in machines::for_processes(shop, view) {
        let (Some(duty), Some(current)) = (best.duty, run.value(&keys::CURRENT)) else { continue };
        let amperes = current.value.high().or(current.value.low()).map(Current::amperes).unwrap_or_default();
        let gives = format!("{:.0} % at {} A", duty.duty_cycle_pct, figure(amperes));
        let stated = current.value.spelled();
        x.examined(&current.pointer);
        if let Some((usual, _, row)) = machines::usual_arc_minutes(run)
            && above(usual, duty.arc_minutes_in_ten)
        {
            let limit = range_limit(Band::at_least(usual), "min in ten");
            x.report(
                Severity::Caution,
                &current.pointer,
                format!(
                    "{} has a duty cycle of {gives}; the arc usually burns {} min in ten",
                    best.machine.name,
                    figure(usual)
                ),
            )
            .stated(stated)
            .limit(limit, &row.origin.source_ref())
            .hint("weld with less current, or take a larger machine");
            continue;
        }
        // An electrode is changed before the machine is warm; rods and wires are not.
        let covered = run.process.is_some_and(|process| process.consumable_electrode && !process.uses_wire_feed);
        let speed = run.value(&keys::TRAVEL_SPEED);
        let speed = speed.and_then(|at| at.value.low().or(at.value.high())).map(Speed::mm_per_s);
        if let (Some(length), Some(speed), false) = (length_mm, speed.filter(|speed| *speed > 0.0), covered) {
            let minutes = length / speed / 60.0;
            if above(minutes, duty.arc_minutes_in_ten) {
                x.report(
                    Severity::Caution,
                    &current.pointer,
                    format!(
                        "one run burns {} min without a stop; {} has a duty cycle of {gives}, {} min in ten",
                        figure(minutes),
                        best.machine.name,
                        figure(duty.arc_minutes_in_ten)
                    ),
                )
                .stated(stated)
                .hint("plan stops, weld with less current, or take a larger machine");
            }
        }
    }
}
