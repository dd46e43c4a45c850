//! `root-gas-unsuited-to-metal`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use seamwright_calc::Band;
use seamwright_handbook::measure::figure;
use seamwright_handbook::shielding_gases;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::ShieldingGas;
use seamwright_model::stated::OrNone;
use seamwright_weld::view::gas_row;

/// The check.
pub const RULE: Rule = Rule {
    name: "root-gas-unsuited-to-metal",
    harm: Harm::Metal,
    finds: "A backing gas with more hydrogen than the metal stands.",
    matters: "Hydrogen cracks hardening and duplex steel, and makes titanium and aluminium brittle or porous.",
    remedy: "Purge with argon; with nitrogen or argon with nitrogen where the metal is duplex.",
    limit: "The most hydrogen in the backing gas by family of metal.",
    tables: &["backing-gases", "shielding-gases"],
    examine,
    faulty: &[
        Case { base: "pipe-butt-2205-141", edits: &[("/backing_gas/designation", "N5")] },
        Case { base: "pipe-butt-p91-141", edits: &[("/backing_gas/designation", "R1")] },
        Case { base: "butt-3-titanium-141", edits: &[("/backing_gas/composition", "{Ar: 95, H2: 5}")] },
    ],
    sound: &[
        Case { base: "pipe-butt-2205-141", edits: &[("/backing_gas/designation", "N1")] },
        Case { base: "butt-2-304l-141", edits: &[("/backing_gas/composition", "{N2: 95, H2: 5}")] },
        Case { base: "butt-2-304l-141", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let Some(gas) = x.view.procedure.backing_gas.as_ref().and_then(OrNone::value) else { return };
    let key = if gas.composition.is_some() { "composition" } else { "designation" };
    let pointer = format!("/backing_gas/{key}");
    let by_parts = gas.composition.as_ref().map(|parts| parts.percent("H2"));
    let as_shield = ShieldingGas {
        designation: gas.designation.clone(),
        composition: gas.composition.clone(),
        ..ShieldingGas::default()
    };
    let row = gas_row(&as_shield);
    // Without a composition the least hydrogen of the group counts: a group says no more.
    let Some(hydrogen) = by_parts.or_else(|| row.map(|row| row.h2_pct.map_or(0.0, |range| range.low))) else { return };
    let strictest = x.view.metals.iter().filter_map(|metal| Some((shielding_gases::backing(metal.family())?, metal)));
    let Some((limit, metal)) = strictest.min_by(|a, b| a.0.hydrogen_max_pct.total_cmp(&b.0.hydrogen_max_pct)) else {
        return;
    };
    x.examined(&pointer);
    if hydrogen <= limit.hydrogen_max_pct {
        return;
    }
    let source = limit.origin.source_ref();
    let most = range_limit(Band::at_most(limit.hydrogen_max_pct), "%").of("hydrogen");
    x.report(
        Severity::Error,
        pointer,
        format!(
            "backing gas with {} % hydrogen and more is not for {} ({most})",
            figure(hydrogen),
            metal.stated.specification
        ),
    )
    .stated(gas.designation.as_deref().unwrap_or("a gas with hydrogen"))
    .limit(most, &source)
    .hint(format!("write `designation: {}`", limit.gases.first().copied().unwrap_or("I1")));
}
