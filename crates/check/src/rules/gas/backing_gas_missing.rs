//! `backing-gas-missing`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::metal_families;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{BackingType, Layer};
use seamwright_model::stated::OrNone;

/// The check.
pub const RULE: Rule = Rule {
    name: "backing-gas-missing",
    harm: Harm::Metal,
    finds: "No gas at the root of a one-sided full-penetration weld in stainless steel, titanium or another metal that the air spoils.",
    matters: "The root burns to a rough black crust that neither holds nor resists corrosion.",
    remedy: "Purge the root with argon and say so, or weld from both sides.",
    limit: "Families marked as forming chromium oxide or as reactive; a backing of any kind, or a flux-cored rod, is accepted.",
    tables: &["metal-families"],
    examine,
    faulty: &[Case { base: "butt-2-304l-141", edits: &[("/backing_gas", "none")] }],
    sound: &[Case { base: "butt-2-304l-141", edits: &[] }, Case { base: "butt-3-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    if !x.view.full_penetration() || !x.view.one_sided() {
        return;
    }
    let root = x.view.runs.iter().find(|run| matches!(run.run.layer, Some(Layer::Root | Layer::Single)));
    // A covered or cored root run brings its own slag.
    if !root.and_then(|run| run.process).is_some_and(|process| process.uses_tungsten) {
        return;
    }
    if matches!(x.view.procedure.backing_gas, Some(OrNone::Is(_))) {
        return;
    }
    let backed = x.view.procedure.joint.as_ref().and_then(|joint| joint.backing.as_ref()).and_then(OrNone::value);
    if backed.is_some_and(|backing| backing.kind != BackingType::Gas) {
        return;
    }
    let exposed = x.view.metals.iter().find_map(|metal| {
        metal_families::get(metal.family())
            .filter(|family| family.chromium || family.reactive)
            .map(|family| (metal, family))
    });
    let Some((metal, family)) = exposed else { return };
    let source = family.origin.source_ref();
    let none = x.view.procedure.backing_gas.is_some();
    let report = x
        .report(
            Severity::Error,
            "/backing_gas",
            format!("no backing gas at the root of a one-sided weld in {}", metal.stated.specification),
        )
        .limit("a backing gas, or a root that is not open to air", &source)
        .hint("write for example `backing_gas: {designation: I1, flow: 5-8 L/min, oxygen: 50 ppm maximum}`");
    if none {
        report.stated("none");
    }
}
