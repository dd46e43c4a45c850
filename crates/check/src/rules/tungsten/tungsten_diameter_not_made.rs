//! `tungsten-diameter-not-made`: explanation, cases, logic.

use seamwright_handbook::setting_limits;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Length;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, settings};

/// The check.
pub const RULE: Rule = Rule {
    name: "tungsten-diameter-not-made",
    harm: Harm::Equipment,
    finds: "A tungsten electrode of a diameter that is not made.",
    matters: "Nobody can buy it: a slip of a digit or a unit.",
    remedy: "Write the diameter on the label.",
    limit: "Diameters of the table of current ranges, else a note; those of ISO 6848, from memory, else an error.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/tungsten/diameter", "16 mm")] }],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    settings(
        x,
        setting_limits::TUNGSTEN_DIAMETER,
        &keys::TUNGSTEN_DIAMETER,
        Length::mm,
        &Grade {
            what: "tungsten diameter",
            usual: Severity::Caution,
            widest: Severity::Error,
            hint: "write for example 2.4 mm",
        },
    );
}
