//! `cored-wire-tip-distance-outside-range`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::processes::Wire;

use super::settings::{self, Setting};

/// The check.
pub const RULE: Rule = Rule {
    name: "cored-wire-tip-distance-outside-range",
    harm: Harm::Soundness,
    finds: "A contact tip distance outside the range of a flux cored wire.",
    matters: "The long wire preheats the core, which self-shielded wire needs to shield itself; too long, and penetration is lost.",
    remedy: "State the distance from contact tip to work that the class asks for.",
    limit: "The settings of the handbook for the class of flux cored wire and its diameter.",
    tables: &["fcaw-parameters", "gmaw-rules"],
    examine,
    faulty: &[
        Case { base: "butt-15-s355-136", edits: &[("/processes/136/contact_tip_to_work", "5 mm")] },
        Case { base: "tee-fillet-12-s355-114", edits: &[("/processes/114/contact_tip_to_work", "50-60 mm")] },
    ],
    sound: &[
        Case { base: "butt-15-s355-136", edits: &[] },
        Case { base: "tee-fillet-12-s355-114", edits: &[] },
        Case { base: "tee-fillet-8-s275-136", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    settings::examine(x, &[Wire::FluxCored], Setting::TipToWork, None);
}
