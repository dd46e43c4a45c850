//! `connector-small-for-current`: explanation, cases, logic.

use seamwright_handbook::{Band, workshop};
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Current;

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use seamwright_model::shop::Shop;

/// The check.
pub const RULE: Rule<Shop> = Rule {
    name: "connector-small-for-current",
    harm: Harm::Equipment,
    finds: "A cable connector that is small for the current of its machine.",
    matters: "The plug heats up, softens and burns at its contact.",
    remedy: "Fit the next larger connector and cable, or stay below its current.",
    limit: "Usual markings of plug connectors by cable cross-section, common practice; past the highest is a caution.",
    tables: &["cable-connectors"],
    examine,
    faulty: &[Case {
        base: "shop/shop",
        edits: &[("/power_sources/1/connector", "10-25 mm2"), ("/power_sources/1/current", "5-300 A")],
    }],
    sound: &[Case { base: "shop/shop", edits: &[] }],
};

fn examine(x: &mut Examiner<'_, Shop>) {
    for (index, machine) in x.view.power_sources.iter().enumerate() {
        let Some(marking) = &machine.connector else { continue };
        let Some(row) = workshop::connector(marking) else { continue };
        let Some(current) = machine.current.as_ref().and_then(|stated| stated.value()) else { continue };
        let Some(most) = current.high().or(current.low()).map(Current::amperes) else { continue };
        let pointer = format!("/power_sources/{index}/connector");
        let source = row.origin.source_ref();
        let limit = Band::at_most(row.current_a.high);
        if !x.compare(&pointer, marking, Band::at_most(most), limit, "A", &source).above {
            continue;
        }
        let limit = range_limit(limit, "A");
        x.report(
            Severity::Caution,
            pointer,
            format!("the connector {marking} of {} carries {limit}, the machine gives {current}", machine.name),
        )
        .stated(marking.to_string())
        .limit(limit, &source)
        .hint("fit the next larger connector, or keep to its current");
    }
}
