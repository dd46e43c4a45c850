//! `included-angle-outside-usual`: explanation, cases, logic.

use seamwright_model::quantity::Angle;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "included-angle-outside-usual",
    harm: Harm::Fusion,
    finds: "A groove angle outside what the preparation is usually given.",
    matters: "Too narrow a groove hides the root from the arc; too wide a one costs weld metal and distortion.",
    remedy: "Write an angle within the usual range.",
    limit: "The angle of the preparation in ISO 9692-1 and common practice; outside is a caution, far outside an error.",
    tables: &["joint-preparations", "joint-preparation-rules"],
    examine,
    faulty: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[("/joint/included_angle", "150-160 deg")] }],
    sound: &[
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
        Case { base: "pipe-butt-a106-111", edits: &[("/joint/included_angle", "75 deg")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    super::preparations::hold(
        x,
        ("included_angle", "angle", "deg"),
        |joint| joint.included_angle.as_ref(),
        Angle::degrees,
        super::preparations::angle_of,
    );
}
