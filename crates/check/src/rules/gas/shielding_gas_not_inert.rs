//! `shielding-gas-not-inert`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "shielding-gas-not-inert",
    harm: Harm::Metal,
    finds: "A shielding gas of 141 that burns the tungsten electrode.",
    matters: "Carbon dioxide and oxygen eat the hot tungsten within seconds and foul the weld.",
    remedy: "Use argon (I1), helium (I2) or a mixture of both (I3); argon with hydrogen (R1) only on austenitic stainless steel and nickel.",
    limit: "The gas groups that the process takes, and the metals that a gas with hydrogen or nitrogen suits.",
    tables: &["processes", "shielding-gases"],
    examine,
    faulty: &[
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[
                ("/processes/141/shielding_gas/designation", "M21"),
                ("/processes/141/shielding_gas/composition", "{Ar: 82, CO2: 18}"),
            ],
        },
        // Hydrogen cracks hardening and duplex steel, and makes aluminium porous; nitrogen does carbon steel no good.
        Case { base: "pipe-butt-2205-141", edits: HYDROGEN },
        Case { base: "butt-3-carbon-141", edits: HYDROGEN },
        Case { base: "butt-6-5083-141", edits: HYDROGEN },
        Case { base: "butt-3-titanium-141", edits: HYDROGEN },
        Case {
            base: "butt-3-carbon-141",
            edits: &[
                ("/processes/141/shielding_gas/designation", "N2"),
                ("/processes/141/shielding_gas/composition", "{Ar: 98, N2: 2}"),
            ],
        },
    ],
    sound: &[
        Case { base: "butt-2-304l-141", edits: HYDROGEN },
        Case { base: "butt-3-n06625-141", edits: HYDROGEN },
        Case { base: "pipe-butt-2205-141", edits: &[] },
        Case { base: "butt-6-copper-141", edits: &[] },
    ],
};

/// Argon with 2 % hydrogen.
const HYDROGEN: &[(&str, &str)] = &[
    ("/processes/141/shielding_gas/designation", "R1"),
    ("/processes/141/shielding_gas/composition", "{Ar: 98, H2: 2}"),
];

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let (Some(process), Some(gas)) = (run.process, run.gas()) else { continue };
        if !process.uses_tungsten {
            continue;
        }
        let Some(row) = run.gas_row() else { continue };
        let pointer =
            format!("{}/{}", gas.pointer, if gas.value.designation.is_some() { "designation" } else { "composition" });
        x.examined(&pointer);
        let stated = gas.value.designation.as_deref().unwrap_or(row.symbol);
        let inert = process.gas_groups.contains(&row.group);
        let suits_metal = x.view.metals.iter().all(|metal| metal.known.is_none() || row.suits(metal.family()));
        let takes = row.processes.contains(&process.number);
        if row.group == "I" || (inert && takes && suits_metal) {
            continue;
        }
        let source = row.origin.source_ref();
        x.report(
            Severity::Error,
            pointer,
            format!("gas {stated} (group {}) is not a shielding gas for {} on this metal", row.symbol, process.number),
        )
        .stated(stated)
        .limit("ISO 14175 I1, I2 or I3", &source)
        .hint("write `designation: I1` for argon");
    }
}
