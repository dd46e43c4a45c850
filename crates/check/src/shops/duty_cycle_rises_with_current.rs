//! `duty-cycle-rises-with-current`: explanation, cases, logic.

use seamwright_calc::band::below;
use seamwright_model::finding::Severity;
use seamwright_model::quantity::{Current, Share};
use seamwright_model::shop::Shop;
use seamwright_weld::machines::same_process;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<Shop> = Rule {
    name: "duty-cycle-rises-with-current",
    harm: Harm::Equipment,
    finds: "Two rated points of a machine of which the one with more current has the longer duty cycle.",
    matters: "More current heats the machine more: the plate was copied wrongly, and every rest time computed from it is wrong.",
    remedy: "Copy current and duty cycle from the name plate again.",
    limit: "Heat in the windings goes with the square of the current, IEC 60974-1.",
    tables: &[],
    examine,
    faulty: &[Case { base: "shop/shop", edits: &[("/power_sources/0/rated_points/0/duty_cycle", "80 %")] }],
    sound: &[Case { base: "shop/shop", edits: &[] }],
};

fn examine(x: &mut Examiner<'_, Shop>) {
    for (machine, source) in x.view.power_sources.iter().enumerate() {
        let points: Vec<(usize, &str, f64, f64)> = source
            .rated_points
            .iter()
            .enumerate()
            .filter_map(|(index, point)| {
                let current = point.current.value()?.middle().map(Current::amperes)?;
                let duty = point.duty_cycle.value()?.middle().map(Share::percent)?;
                Some((index, point.process.as_deref().unwrap_or_default(), current, duty))
            })
            .collect();
        for (index, process, current, duty) in &points {
            let pointer = format!("/power_sources/{machine}/rated_points/{index}/duty_cycle");
            x.examined(&pointer);
            let lower = points.iter().find(|(_, other, less, shorter)| {
                (other == process || same_process(other, process)) && below(*less, *current) && below(*shorter, *duty)
            });
            if let Some((_, _, less, shorter)) = lower {
                x.report(
                    Severity::Error,
                    pointer,
                    format!("{} rates {duty} % at {current} A, but only {shorter} % at {less} A", source.name),
                )
                .stated(format!("{duty} %"))
                .hint("copy the points from the name plate again");
            }
        }
    }
}
