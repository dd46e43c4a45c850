//! `cooling-time-outside-window`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule, range_limit, range_text};
use seamwright_handbook::measure::figure;
use seamwright_handbook::metal_heat;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{JointType, keys};
use seamwright_weld::heat::{self, Cooling};

/// The check.
pub const RULE: Rule = Rule {
    name: "cooling-time-outside-window",
    harm: Harm::Metal,
    finds: "A cooling time from 800 to 500 °C outside the window of a quenched and tempered steel.",
    matters: "Too fast, and the heat-affected zone is hard and cracks; too slow, and it is soft and brittle.",
    remedy: "Change the heat input, the preheat or the interpass temperature.",
    limit: "The window of steel makers; the time is that of EN 1011-2 from the stated ranges: least heat on preheated metal, most heat at the highest interpass temperature.",
    tables: &["cooling-time-windows", "shape-factors", "thermal-efficiency", "heat-rules"],
    examine,
    faulty: &[
        Case { base: "butt-12-s690ql-111", edits: &[("/runs/1/travel_speed", "80-100 mm/min")] },
        Case { base: "butt-12-s690ql-111", edits: &[("/runs/1/travel_speed", "300-400 mm/min")] },
    ],
    sound: &[
        Case { base: "butt-12-s690ql-111", edits: &[] },
        Case { base: "tee-fillet-10-s355-111", edits: &[("/runs/0/travel_speed", "300-400 mm/min")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let celsius = heat::welding_temperature(x.view.procedure);
    let grooved = x.view.weld().is_some_and(|weld| weld.has_groove());
    let tee = x.view.procedure.joint.as_ref().is_some_and(|joint| joint.kind == JointType::Tee);
    for metal in &x.view.metals {
        let Some(row) = metal.known.and_then(metal_heat::cooling_time) else { continue };
        let Some(thickness_mm) = metal.thickness_mm().or_else(|| x.view.thickness_mm()) else { continue };
        let Some(cooling) = Cooling::of(grooved, tee, thickness_mm) else { continue };
        for run in &x.view.runs {
            let Some(heat) = heat::of(run) else { continue };
            let Some(speed) = run.value(&keys::TRAVEL_SPEED) else { continue };
            let Some(time) = cooling.time_s(heat.heat_input, celsius) else { continue };
            let source = row.origin.source_ref();
            let stated = range_text(time, "s");
            let outer = x.compare(&speed.pointer, &stated, time, row.time_s, "s", &source);
            if !outer.either() {
                continue;
            }
            let limit = range_limit(row.time_s, "s");
            let (word, value, q, at) = if outer.below {
                ("short", time.low, heat.heat_input.low, celsius.low)
            } else {
                ("long", time.high, heat.heat_input.high, celsius.high)
            };
            x.report(
                Severity::Caution,
                &speed.pointer,
                format!(
                    "cooling time t8/5 {value:.1} s is too {word} for {} ({limit}; {} kJ/mm, {} °C, {} mm)",
                    metal.stated.specification,
                    figure(q),
                    figure(at),
                    figure(thickness_mm)
                ),
            )
            .stated(speed.value.spelled())
            .limit(limit, &source)
            .hint("change the heat input, the preheat or the interpass temperature");
        }
        return;
    }
}
