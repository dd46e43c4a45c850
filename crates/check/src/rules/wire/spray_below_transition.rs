//! `spray-below-transition`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use seamwright_handbook::Band;
use seamwright_handbook::gmaw_parameters::{self, Transfer};
use seamwright_model::finding::Severity;

use super::settings::Setting;

/// The check.
pub const RULE: Rule = Rule {
    name: "spray-below-transition",
    harm: Harm::Process,
    finds: "Spray transfer stated at a current at which the wire does not spray.",
    matters: "Below the transition the metal falls in large drops: spatter and poor fusion.",
    remedy: "Raise the current, or name the mode of transfer that the current gives.",
    limit: "The least current at which any source has spray for the wire and diameter.",
    tables: &["spray-transition"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[("/runs/0/current", "150-170 A")] },
        Case { base: "butt-6-5083-131", edits: &[("/runs/0/current", "90-110 A")] },
    ],
    sound: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "butt-6-5083-131", edits: &[] },
        Case { base: "tee-fillet-4-6082-131", edits: &[] },
        Case { base: "tee-fillet-8-316l-135", edits: &[] },
        Case { base: "tee-fillet-2-s235jr-135", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let Some(wire) = run.wire.as_ref().filter(|wire| wire.transfer == Some(Transfer::Spray)) else {
            continue;
        };
        let (Some(family), Some(diameter), Some(current)) = (wire.family, wire.diameter, Setting::Current.of(run))
        else {
            continue;
        };
        // The gas decides little beside the spread of the sources: the lowest of any gas counts.
        let Some(limits) = gmaw_parameters::spray_above(family, diameter, "") else { continue };
        let range = Band::at_least(limits.envelope.low);
        // A range that reaches the transition may still spray.
        let outer =
            x.compare(&current.pointer, current.stated, Band::at_least(current.band.high), range, "A", &limits.source);
        if outer.below {
            let limit = range_limit(range, "A");
            x.report(
                Severity::Caution,
                current.pointer,
                format!("{} does not spray at {} ({limit})", wire.words(), current.stated),
            )
            .stated(current.stated)
            .limit(limit.clone(), &limits.source)
            .hint(format!("write a current of {limit}, or another mode of transfer"));
        }
    }
}
