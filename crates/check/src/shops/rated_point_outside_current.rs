//! `rated-point-outside-current`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::shop::Shop;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<Shop> = Rule {
    name: "rated-point-outside-current",
    harm: Harm::Equipment,
    finds: "A rated point of a power source whose current lies outside the range of the machine.",
    matters: "The duty cycle at another current is computed from the rated points; a point that the machine cannot reach spoils it.",
    remedy: "Copy current and duty cycle from the name plate again.",
    limit: "The machine's own range of current.",
    tables: &[],
    examine,
    faulty: &[Case { base: "shop/shop", edits: &[("/power_sources/0/rated_points/0/current", "900 A")] }],
    sound: &[Case { base: "shop/shop", edits: &[] }],
};

fn examine(x: &mut Examiner<'_, Shop>) {
    for (machine, source) in x.view.power_sources.iter().enumerate() {
        for (index, point) in source.rated_points.iter().enumerate() {
            let range = match point.process.as_deref() {
                Some(process) => source.current_of(process),
                None => source.current.as_ref().and_then(|stated| stated.value()),
            };
            let (Some(range), Some(current)) = (range, point.current.value()) else { continue };
            let pointer = format!("/power_sources/{machine}/rated_points/{index}/current");
            x.examined(&pointer);
            if !range.covers(current) {
                x.report(
                    Severity::Error,
                    pointer,
                    format!("{} rates {} outside its range of {range}", source.name, current),
                )
                .stated(current.spelled())
                .hint(format!("write a current within {range}"));
            }
        }
    }
}
