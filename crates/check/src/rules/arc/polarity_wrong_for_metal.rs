//! `polarity-wrong-for-metal`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::gtaw_polarity;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;

/// The check.
pub const RULE: Rule = Rule {
    name: "polarity-wrong-for-metal",
    harm: Harm::Process,
    finds: "A polarity of 141 that does not weld the metal.",
    matters: "Electrode positive melts the tungsten; electrode negative leaves the oxide skin on aluminium and magnesium.",
    remedy: "Use DCEN for steel, stainless, nickel, copper and titanium; AC for aluminium and magnesium.",
    limit: "The polarities that each family of metal takes with 141; DCEN on aluminium under helium is only a caution.",
    tables: &["gtaw-polarity"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-3-6061-141", edits: &[("/processes/141/polarity", "DCEN")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/polarity", "DCEP")] },
    ],
    sound: &[Case { base: "tee-fillet-3-6061-141", edits: &[] }, Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        if !run.process.is_some_and(|process| process.uses_tungsten) {
            continue;
        }
        let Some(polarity) = run.value(&keys::POLARITY) else { continue };
        for metal in &x.view.metals {
            let Some(row) = gtaw_polarity::get(metal.family()) else { continue };
            x.examined(&polarity.pointer);
            let word = polarity.value.as_str();
            if row.suited.contains(&word) {
                continue;
            }
            let helium = run.gas_row().is_some_and(|gas| gas.he_pct.is_some());
            let severity = if helium && row.with_helium.contains(&word) { Severity::Caution } else { Severity::Error };
            let source = row.origin.source_ref();
            let limit = row.suited.join(" or ");
            x.report(
                severity,
                &polarity.pointer,
                format!("{word} does not suit {} with a tungsten electrode ({limit})", metal.stated.specification),
            )
            .stated(word)
            .limit(limit, &source)
            .hint(format!("write `polarity: {}`", row.suited.join("` or `")));
            break;
        }
    }
}
