//! `measure-wider-than-acceptance`: explanation, cases, logic.

use seamwright_handbook::measure::figure;
use seamwright_handbook::{iso_5817, workshop};
use seamwright_model::finding::Severity;
use seamwright_model::lesson::Lesson;
use seamwright_model::procedure::WeldType;
use seamwright_model::quantity::{Length, Range};
use seamwright_model::stated::Stated;
use seamwright_weld::View;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<Lesson> = Rule {
    name: "measure-wider-than-acceptance",
    harm: Harm::Qualification,
    finds: "A measure of the marking sheet that accepts more than the named level of ISO 5817 or ISO 10042.",
    matters: "A weld passes in the class that an examiner rejects.",
    remedy: "Accept no more than the level permits, or name the level that is meant.",
    limit: "The row of the level for the thickness of the last coupon; of a width that is not known, the most that the row ever permits.",
    tables: &["lesson-measures", "iso-5817", "iso-10042"],
    examine,
    faulty: &[
        Case { base: "lesson/lesson", edits: &[("/assessment/measures/1/accepted", "0.5 mm maximum")] },
        // No undercut in sheet at level B.
        Case { base: "lesson/lesson", edits: &[("/assessment/acceptance", "ISO 5817 level B")] },
        Case {
            base: "lesson/lesson",
            edits: &[("/assessment/measures/1/what", "convexity"), ("/assessment/measures/1/accepted", "9 mm maximum")],
        },
    ],
    sound: &[
        Case { base: "lesson/lesson", edits: &[] },
        Case { base: "lesson/lesson", edits: &[("/assessment/measures/1/accepted", "0.1 mm maximum")] },
        // Another standard's figures stand in another table.
        Case {
            base: "lesson/lesson",
            edits: &[
                ("/assessment/acceptance", "AWS D1.1 Table 8.1"),
                ("/assessment/measures/1/accepted", "0.8 mm maximum"),
            ],
        },
        // Of the width, which is measured on the weld.
        Case {
            base: "lesson/lesson",
            edits: &[
                ("/assessment/measures/1/what", "convexity"),
                ("/assessment/measures/1/accepted", "1 mm + 0.15 x width"),
            ],
        },
    ],
};

fn examine(x: &mut Examiner<'_, Lesson>) {
    let (lesson, Some(view)) = (x.view.lesson, x.view.procedure) else { return };
    let Some(assessment) = &lesson.assessment else { return };
    let Some(level) = assessment.acceptance.as_deref().and_then(iso_5817::level_in) else { return };
    let low = |stated: Option<&Stated<Range<Length>>>| {
        let range = stated?.value()?;
        range.low().or(range.high()).map(Length::mm)
    };
    let coupon = lesson.exercises.iter().rev().find_map(|own| low(own.coupon.as_ref()?.thickness.as_ref()));
    let metal = || low(view.metals.first()?.stated.thickness.as_ref());
    let Some(thickness) = coupon.or_else(metal) else { return };
    let weld = view.weld();
    let fillet = weld.is_some_and(|weld| weld.has_fillet() && !weld.has_groove());
    // Levels are those of butt and fillet welds.
    if !fillet && weld != Some(WeldType::Groove) {
        return;
    }
    let kind = if fillet { "fillet" } else { "butt" };
    for (index, measure) in assessment.measures.iter().enumerate() {
        let accepted = measure.accepted.as_deref().and_then(|text| Range::<Length>::parse(text).ok());
        let Some(most) = accepted.as_ref().and_then(Range::high).map(Length::mm) else { continue };
        let pointer = format!("/assessment/measures/{index}/accepted");
        for known in workshop::measured(&measure.what, kind).into_iter().filter(|known| known.of_its_own) {
            let rows = iso_5817::limits(level, known.imperfection, thickness);
            let Some(row) = rows.into_iter().find(|row| row.weld.is_none_or(|own| own == kind)) else { continue };
            let of_thickness = matches!(row.of, Some("t" | "s"));
            let limit = match (row.times, of_thickness) {
                (Some(_), false) if row.of == Some("a") => throat(view).and_then(|throat| row.limit_mm(throat)),
                // The weld is as wide as it is: what no width makes right is wrong.
                (Some(_), false) => row.max_mm.or((!row.permitted).then_some(0.0)),
                _ => row.limit_mm(thickness),
            };
            let Some(limit) = limit else { continue };
            x.examined(&pointer);
            if most > limit * (1.0 + 1e-9) {
                let words = if limit > 0.0 { format!("at most {} mm", figure(limit)) } else { "none".to_owned() };
                x.report(
                    Severity::Error,
                    pointer.clone(),
                    format!(
                        "{} of {} is accepted, where level {} permits {words}",
                        measure.what,
                        measure.accepted.as_deref().unwrap_or_default(),
                        level.1,
                    ),
                )
                .stated(measure.accepted.as_deref().unwrap_or_default())
                .limit(words, &row.origin.source_ref())
                .hint(if limit > 0.0 {
                    format!("write `{} mm maximum`, or less", figure(limit))
                } else {
                    "write `none`, or name the level that is meant".to_owned()
                });
            }
        }
    }
}

/// The throat of the fillet, mm, of its own or by its leg.
fn throat(view: &View<'_>) -> Option<f64> {
    let size = view.procedure.weld_size.as_ref()?.value()?;
    let low = |stated: Option<&Stated<Range<Length>>>| stated?.value()?.low().map(Length::mm);
    low(size.throat.as_ref()).or_else(|| Some(low(size.leg.as_ref())? / std::f64::consts::SQRT_2))
}
