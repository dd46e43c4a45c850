//! `flux-drying-unusual`: explanation, cases, logic.

use seamwright_handbook::measure::band;
use seamwright_handbook::setting_limits;
use std::collections::HashSet;

use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Temperature;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, Value, hold, limits};
use crate::rules::electrode::drying::temperature;

/// The check.
pub const RULE: Rule = Rule {
    name: "flux-drying-unusual",
    harm: Harm::Metal,
    finds: "A temperature of drying that leaves the moisture in a flux, or spoils it.",
    matters: "Moisture in the flux brings hydrogen into the weld, and cold cracks and pores with it; too much heat breaks a bonded flux down.",
    remedy: "Take temperature and time that the manufacturer of the flux gives.",
    limit: "What bonded flux takes is usual, and outside it a note; below what fused flux takes, and above what any takes, is a caution.",
    tables: &["setting-limits"],
    examine,
    faulty: &[
        Case { base: "butt-20-a516-121", edits: &[("/processes/121/flux/drying", "30 °C for 2 h")] },
        Case { base: "butt-20-a516-121", edits: &[("/processes/121/flux/drying", "1200 °F for 1 h")] },
        Case { base: "butt-20-a516-121", edits: &[("/processes/121/flux/drying", "200 °C for 2 h")] },
    ],
    sound: &[
        Case { base: "butt-20-a516-121", edits: &[] },
        Case { base: "butt-20-a516-121", edits: &[("/processes/121/flux/drying", "500-600 °F for 1 h")] },
        Case { base: "butt-20-a516-121", edits: &[("/processes/121/flux/drying", "as the manufacturer gives")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    // Many runs share one flux, and reading its words takes longer than comparing them.
    let mut read = HashSet::new();
    for run in &x.view.runs {
        let Some(flux) = run.setting(&keys::FLUX) else { continue };
        if !read.insert(flux.pointer.clone()) {
            continue;
        }
        let Some((text, (limits, unit))) =
            flux.value.drying.as_deref().zip(limits(setting_limits::FLUX_DRYING, run.number()))
        else {
            continue;
        };
        let Some(range) = temperature(text) else { continue };
        let own = band(&range, Temperature::celsius);
        let grade = Grade {
            what: "drying of the flux at",
            usual: Severity::Note,
            widest: Severity::Caution,
            hint: "write the temperature that the manufacturer of the flux gives, such as `300 °C for 2 h`",
        };
        let pointer = format!("{}/drying", flux.pointer);
        hold(x, Value::new(pointer, text, own), &limits, unit, &grade);
    }
}
