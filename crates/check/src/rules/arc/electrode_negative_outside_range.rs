//! `electrode-negative-outside-range`: explanation, cases, logic.

use seamwright_handbook::setting_limits;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Share;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, settings};

/// The check.
pub const RULE: Rule = Rule {
    name: "electrode-negative-outside-range",
    harm: Harm::Fusion,
    finds: "A share of electrode-negative time that neither cleans nor penetrates.",
    matters: "Too little overheats the tungsten, too much leaves the oxide on the pool.",
    remedy: "Write the share of the period with the electrode negative, about 65 to 75 % on aluminium.",
    limit: "Share by process, common practice: outside the usual is a caution, outside the widest an error.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "tee-fillet-3-6061-141", edits: &[("/processes/141/ac/electrode_negative", "10 %")] }],
    sound: &[Case { base: "tee-fillet-3-6061-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    settings(
        x,
        setting_limits::ELECTRODE_NEGATIVE,
        &keys::AC_ELECTRODE_NEGATIVE,
        Share::percent,
        &Grade {
            what: "electrode-negative share",
            usual: Severity::Caution,
            widest: Severity::Error,
            hint: "write for example 70 %",
        },
    );
}
