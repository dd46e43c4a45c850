//! `contact-tip-too-near`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::processes::Wire;

use super::settings::{self, Setting};
use crate::rules::bounds::Side;

/// The check.
pub const RULE: Rule = Rule {
    name: "contact-tip-too-near",
    harm: Harm::Soundness,
    finds: "A contact tip nearer to the work than the mode of transfer allows.",
    matters: "The tip overheats, spatter closes the nozzle and the wire burns back into the tip.",
    remedy: "Hold the torch farther away; state the distance from contact tip to work.",
    limit: "The distances of the handbook for the mode of transfer.",
    tables: &["gmaw-parameters", "gmaw-starting-points", "gmaw-rules"],
    examine,
    faulty: &[Case { base: "tee-fillet-12-s355-135", edits: &[("/processes/135/contact_tip_to_work", "6-8 mm")] }],
    sound: &[
        Case { base: "tee-fillet-2-s235jr-135", edits: &[] },
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "butt-25-a36-138", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    settings::examine(x, &[Wire::Solid, Wire::MetalCored], Setting::TipToWork, Some(Side::Low));
}
