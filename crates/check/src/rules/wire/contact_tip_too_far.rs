//! `contact-tip-too-far`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::processes::Wire;

use super::settings::{self, Setting};
use crate::rules::bounds::Side;

/// The check.
pub const RULE: Rule = Rule {
    name: "contact-tip-too-far",
    harm: Harm::Soundness,
    finds: "A contact tip farther from the work than the mode of transfer allows.",
    matters: "Long wire heats on its way: current and penetration fall, and the gas no longer covers the pool.",
    remedy: "Hold the torch closer; state the distance from contact tip to work.",
    limit: "The distances of the handbook for the mode of transfer.",
    tables: &["gmaw-parameters", "gmaw-starting-points", "gmaw-rules"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-2-s235jr-135", edits: &[("/processes/135/contact_tip_to_work", "25 mm")] },
        Case { base: "tee-fillet-12-s355-135", edits: &[("/processes/135/contact_tip_to_work", "30-40 mm")] },
    ],
    sound: &[
        Case { base: "tee-fillet-2-s235jr-135", edits: &[] },
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "butt-10-s355-135", edits: &[] },
        Case { base: "butt-6-5083-131", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    settings::examine(x, &[Wire::Solid, Wire::MetalCored], Setting::TipToWork, Some(Side::High));
}
