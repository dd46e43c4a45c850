//! `prequalified-filler-not-matching`: explanation, cases, logic.

use seamwright_handbook::measure::figure;
use seamwright_handbook::{aws_d1_1, covered_electrodes, designation, filler_classes};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::WeldType;
use seamwright_model::source::escape;

use super::prequalified;
use crate::rule::{Case, Examiner, Harm, Rule};

/// A prequalified butt with this steel and this electrode.
macro_rules! pair {
    ($metal:literal, $filler:literal) => {
        Case {
            base: "butt-3-8-in-a36-111-3g",
            edits: &[("/parent_metals/0/specification", $metal), ("/fillers/electrode/designation", $filler)],
        }
    };
}

/// The check.
pub const RULE: Rule = Rule {
    name: "prequalified-filler-not-matching",
    harm: Harm::Qualification,
    finds: "A filler that AWS D1.1 does not pair with the steel in a prequalified procedure.",
    matters: "Weld metal weaker than the steel carries less; hydrogen of other electrodes cracks steel above the first group.",
    remedy: "Take a filler of the group, or qualify the procedure by test.",
    limit: "Groups of Tables 5.3 and 5.4 of AWS D1.1: strength by group, low hydrogen with covered electrodes from group II on. A groove with less is an error, a fillet or partial penetration a note, more than the group a caution.",
    tables: &["aws-d1-1-fillers", "base-metals", "filler-classes"],
    examine,
    faulty: &[pair!("A572-50", "E6010"), pair!("A992", "E6013"), pair!("A572-65", "E7018"), pair!("A36", "E11018-M")],
    sound: &[
        pair!("A36", "E7018"),
        pair!("A36", "E6010"),
        pair!("A572-50", "E7018"),
        pair!("A572-65", "E8018-C3"),
        Case { base: "butt-3-4-in-a572-136-1g", edits: &[] },
        Case { base: "tee-fillet-3-8-in-a992-136", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    if !prequalified::applies(view) {
        return;
    }
    // Of two groups the lower decides on strength, the higher on hydrogen.
    let mut groups: Vec<&aws_d1_1::FillerRow> = Vec::new();
    for metal in &view.metals {
        let group = metal.known.and_then(|known| known.d1_1_group).and_then(aws_d1_1::filler_group);
        groups.extend(group);
    }
    groups.sort_by(|a, b| a.strength_min_ksi.total_cmp(&b.strength_min_ksi));
    let (Some(lower), Some(higher)) = (groups.first(), groups.last()) else { return };
    for run in &view.runs {
        let Some((name, filler)) = run.filler(view.procedure) else { continue };
        let pointer = format!("/fillers/{}/designation", escape(name.value));
        let stated = &*filler.designation;
        x.examined(&pointer);
        let known = covered_electrodes::get(stated);
        let read = || designation::parse(stated).ok()?.low_hydrogen;
        let low_hydrogen = known.map(|row| row.low_hydrogen).or_else(read);
        if run.is_covered() && higher.low_hydrogen && low_hydrogen == Some(false) {
            let limit = format!("low hydrogen with group {}", higher.group);
            x.report(Severity::Error, pointer, format!("{stated} is not of low hydrogen ({limit})"))
                .stated(stated)
                .limit(limit, &higher.origin.source_ref())
                .hint("write `designation: E7018`, or `route: test-record` with its record");
            continue;
        }
        let Some(strength) = filler_classes::find(stated).and_then(|row| row.tensile_min_mpa) else { continue };
        let ksi = strength / KSI;
        let groove = view.weld().is_some_and(WeldType::has_groove) && view.full_penetration();
        // A class is named by round figures: 490 and 483 MPa are both 70 ksi.
        let near = lower.slack_ksi;
        let (severity, what) = if ksi < lower.strength_min_ksi - near {
            (if groove { Severity::Error } else { Severity::Note }, "weaker than")
        } else if ksi > lower.strength_max_ksi + near {
            (Severity::Caution, "stronger than")
        } else {
            continue;
        };
        let limit = format!(
            "{} to {} ksi with group {}",
            figure(lower.strength_min_ksi),
            figure(lower.strength_max_ksi),
            lower.group
        );
        x.report(severity, pointer, format!("{stated} is {what} what AWS D1.1 pairs with the steel ({limit})"))
            .stated(stated)
            .limit(limit, &lower.origin.source_ref())
            .hint("write a class of that strength, or `route: test-record` with its record");
    }
}

/// Megapascals in a ksi.
const KSI: f64 = 6.894_757;
