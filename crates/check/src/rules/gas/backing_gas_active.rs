//! `backing-gas-active`: explanation, cases, logic.

use seamwright_handbook::find;
use seamwright_handbook::measure::figure;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::ShieldingGas;
use seamwright_model::stated::OrNone;
use seamwright_weld::view::gas_row;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "backing-gas-active",
    harm: Harm::Metal,
    finds: "A backing gas with carbon dioxide or oxygen.",
    matters: "The back of the root burns in it: it is purged to keep just that away.",
    remedy: "Purge with argon, or with nitrogen where the metal takes it.",
    limit: "ISO 14175: groups M, C and O are active; a backing gas is of group I, N or R.",
    tables: &["shielding-gases"],
    examine,
    faulty: &[
        Case { base: "butt-2-304l-141", edits: &[("/backing_gas/designation", "C1")] },
        Case {
            base: "butt-2-304l-141",
            edits: &[("/backing_gas", "{composition: {Ar: 82, CO2: 18}, flow: 5-8 L/min}")],
        },
    ],
    sound: &[
        Case { base: "butt-2-304l-141", edits: &[] },
        Case { base: "butt-2-304l-141", edits: &[("/backing_gas/composition", "{N2: 95, H2: 5}")] },
        Case { base: "pipe-butt-2205-141", edits: &[("/backing_gas/designation", "N1")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let Some(gas) = x.view.procedure.backing_gas.as_ref().and_then(OrNone::value) else { return };
    let key = if gas.composition.is_some() { "composition" } else { "designation" };
    let pointer = format!("/backing_gas/{key}");
    let as_shield = ShieldingGas {
        designation: gas.designation.clone(),
        composition: gas.composition.clone(),
        ..ShieldingGas::default()
    };
    let row = gas_row(&as_shield);
    let stated_parts = gas.composition.as_ref().map(|parts| parts.percent("CO2") + parts.percent("O2"));
    let of_row = || {
        let row = row?;
        let parts = row.components().into_iter().filter(|(name, _)| find::same(name, "CO2") || find::same(name, "O2"));
        let least: f64 = parts.filter_map(|(_, range)| range).map(|range| range.high).sum();
        let rest = row.balance.is_some_and(|rest| find::same(rest, "CO2") || find::same(rest, "O2"));
        Some(if rest { 100.0 } else { least })
    };
    let Some(active) = stated_parts.or_else(of_row) else { return };
    x.examined(&pointer);
    if active <= 0.0 {
        return;
    }
    let report = x.report(
        Severity::Error,
        pointer,
        format!("backing gas with {} % of carbon dioxide and oxygen oxidises the root", figure(active)),
    );
    let report = report.stated(gas.designation.as_deref().unwrap_or("an active gas"));
    let report = report.hint("write `backing_gas: {designation: I1}` with its flow");
    if let Some(row) = row {
        report.limit("an inert or reducing gas", &row.origin.source_ref());
    }
}
