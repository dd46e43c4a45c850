//! `flare-without-round-member`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::{JointType, Preparation};
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "flare-without-round-member",
    harm: Harm::Impossible,
    finds: "A flare groove between members of which none is round, or with an angle that is cut.",
    matters: "A flare is the groove that round bars or the corners of hollow sections leave; flat plate has none, and its groove would be left out.",
    remedy: "State the form, outside diameter or root radius of the round member, or the preparation that is cut.",
    limit: "What the document states itself; AWS A2.4 and A3.0 (from memory).",
    tables: &["weld-symbols"],
    examine,
    faulty: &[
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/joint", "{type: butt, weld: groove, preparation: flare-v, root_gap: 0 mm}")],
        },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[
                ("/parent_metals/0/form", "bar"),
                ("/joint", "{type: lap, weld: groove, preparation: flare-bevel, included_angle: 45 deg}"),
            ],
        },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[
                ("/parent_metals/0/form", "flat bar"),
                ("/joint", "{type: lap, weld: groove, preparation: flare-bevel}"),
            ],
        },
    ],
    sound: &[
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[
                ("/parent_metals/0/form", "round bar"),
                ("/joint", "{type: lap, weld: groove, preparation: flare-bevel}"),
            ],
        },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/joint", "{type: butt, weld: groove, preparation: flare-v, root_radius: 6 mm}")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some(joint) = &view.procedure.joint else { return };
    let shape = joint.preparation.as_ref().and_then(Stated::value).copied().filter(|own| own.is_flare());
    let Some(shape) = shape else { return };
    x.examined("/joint/preparation");
    let hollow = |form: &str| {
        let form = form.to_lowercase();
        ["hollow", "tube", "pipe", "round"].iter().any(|own| form.contains(own))
    };
    let round = joint.root_radius.is_some()
        || view.metals.iter().any(|metal| {
            metal.stated.outside_diameter.is_some()
                || metal.is_round_bar()
                || metal.stated.form.as_deref().is_some_and(hollow)
        });
    if !round {
        x.report(Severity::Caution, "/joint/preparation", format!("{shape}, and no member is stated to be round"))
            .stated(shape.as_str())
            .hint("state `form: round bar`, an `outside_diameter:` or the `root_radius:` of the round member");
    }
    if joint.included_angle.is_some() || shape == Preparation::FlareBevel && joint.kind == JointType::Butt {
        let said = if joint.included_angle.is_some() {
            format!("{shape} has no angle that is cut")
        } else {
            format!("{shape} lies between a round and a flat member, which do not meet in a butt joint")
        };
        let pointer = if joint.included_angle.is_some() { "/joint/included_angle" } else { "/joint/type" };
        x.report(Severity::Error, pointer, said)
            .hint("write the preparation that is cut, or leave out what it has not");
    }
}
