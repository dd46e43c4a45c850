//! `exercise-outside-procedure`: explanation, cases, logic.

use seamwright_handbook::positions;
use seamwright_model::finding::Severity;
use seamwright_model::lesson::{Exercise, Lesson};
use seamwright_model::procedure::{Key, Settings, keys};
use seamwright_model::quantity::{Quantity, Range};
use seamwright_model::stated::Stated;
use seamwright_weld::{RunView, View};

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<Lesson> = Rule {
    name: "exercise-outside-procedure",
    harm: Harm::Equipment,
    finds: "An exercise with a thickness, a position or settings that the procedure does not cover.",
    matters: "The learners practise something other than what they are to weld afterwards.",
    remedy: "Bring the exercise within the procedure, or teach a procedure that covers it.",
    limit: "The procedure's own ranges. A bead on a single piece may be welded in any position, and a joint flat or horizontal where a later one is in the procedure's.",
    tables: &["positions"],
    examine,
    faulty: &[
        Case { base: "lesson/lesson", edits: &[("/exercises/3/coupon/thickness", "6 mm")] },
        Case { base: "lesson/lesson", edits: &[("/exercises/3/position", "PF")] },
        Case { base: "lesson/lesson", edits: &[("/exercises/1/settings", "{current: 140-160 A}")] },
    ],
    sound: &[
        Case { base: "lesson/lesson", edits: &[] },
        Case { base: "lesson/lesson", edits: &[("/exercises/1/settings", "{current: 75-85 A}")] },
        // The same position by its AWS name.
        Case { base: "lesson/lesson", edits: &[("/exercises/3/position", "2F")] },
        // The joint is laid flat before it is welded as in the procedure.
        Case { base: "lesson/lesson", edits: &[("/exercises/2/coupon/pieces", "2"), ("/exercises/2/position", "PA")] },
        // A bead on one piece may be welded in any position.
        Case { base: "lesson/lesson", edits: &[("/exercises/2/position", "PF")] },
    ],
};

fn examine(x: &mut Examiner<'_, Lesson>) {
    let (lesson, Some(view)) = (x.view.lesson, x.view.procedure) else { return };
    for (index, exercise) in lesson.exercises.iter().enumerate() {
        let at = format!("/exercises/{index}");
        let coupon = exercise.coupon.as_ref();
        if let Some(own) = coupon.and_then(|coupon| coupon.thickness.as_ref()).and_then(Stated::value) {
            let covered = |range: &Range<_>| range.covers(own);
            let mut stated =
                view.procedure.parent_metals.iter().filter_map(|metal| metal.thickness.as_ref()?.value()).peekable();
            if let Some(first) = stated.peek().copied() {
                let pointer = format!("{at}/coupon/thickness");
                x.examined(&pointer);
                if !stated.any(covered) {
                    outside(x, pointer, "thickness", own.spelled(), &first.to_string());
                }
            }
        }
        let joint = is_joint(exercise);
        if let Some(position) = exercise.position.as_deref().filter(|_| joint && !view.procedure.positions.is_empty()) {
            let pointer = format!("{at}/position");
            x.examined(&pointer);
            let flat = positions::get(position).is_some_and(|row| !row.vertical && !row.overhead);
            let later = lesson.exercises.iter().skip(index + 1).filter(|own| is_joint(own));
            let practice = flat && later.filter_map(|own| own.position.as_deref()).any(|own| covers(view, own));
            if !practice && !covers(view, position) {
                let all = view.procedure.positions.iter().map(ToString::to_string).collect::<Vec<_>>().join(", ");
                outside(x, pointer, "position", position, &all);
            }
        }
        if let Some(settings) = &exercise.settings {
            let at = format!("{at}/settings");
            held(x, view, settings, &at, &keys::CURRENT);
            held(x, view, settings, &at, &keys::VOLTAGE);
            held(x, view, settings, &at, &keys::TRAVEL_SPEED);
            held(x, view, settings, &at, &keys::WIRE_FEED_SPEED);
        }
    }
}

/// Whether the exercise joins pieces.
fn is_joint(exercise: &Exercise) -> bool {
    exercise.coupon.as_ref().is_some_and(|coupon| coupon.pieces.unwrap_or(1) > 1)
}

/// Whether the procedure is for the position.
fn covers(view: &View<'_>, position: &str) -> bool {
    view.procedure.positions.iter().any(|own| positions::same(own, position))
}

fn held<Q: Quantity>(
    x: &mut Examiner<'_, Lesson>,
    view: &View<'_>,
    settings: &Settings,
    at: &str,
    key: &Key<Stated<Range<Q>>>,
) {
    let Some(own) = key.of(settings).and_then(Stated::value) else { return };
    let stated = |run: &RunView<'_>| -> Option<Range<Q>> {
        let block = run.block.and_then(|(_, settings)| key.of(settings));
        key.of(&run.run.settings).or(block)?.value().cloned()
    };
    let ranges: Vec<Range<Q>> = view.runs.iter().filter_map(stated).collect();
    let Some(first) = ranges.first() else { return };
    let pointer = format!("{at}/{}", key.path);
    x.examined(&pointer);
    if !ranges.iter().any(|range| range.covers(own)) {
        outside(x, pointer, &key.path.replace('_', " "), own.spelled(), &first.to_string());
    }
}

fn outside(x: &mut Examiner<'_, Lesson>, pointer: String, what: &str, stated: &str, covers: &str) {
    x.report(Severity::Caution, pointer, format!("{what} {stated} is not covered by the procedure ({covers})"))
        .stated(stated)
        .hint(format!("write a {what} within {covers}, or teach a procedure that covers it"));
}
