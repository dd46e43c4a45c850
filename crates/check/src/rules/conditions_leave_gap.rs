//! `conditions-leave-gap`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Rule};
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Range;
use seamwright_model::source::escape;
use seamwright_model::stated::Stated;

/// The check.
pub const RULE: Rule = Rule {
    name: "conditions-leave-gap",
    finds: "Thicknesses between those of two conditions for which no condition holds.",
    matters: "A joint of that thickness has no settings, and the welder guesses which condition is meant.",
    remedy: "Let one condition begin where the other ends.",
    limit: "The thicknesses that the document states for its conditions.",
    tables: &["variables"],
    examine,
    faulty: &[
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/conditions", "{thin: {thickness: 1-2 mm}, thick: {thickness: 3-4 mm}}")],
        },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/conditions", "{thin: {thickness: 1/16-1/8 in}, thick: {thickness: 3/16-1/4 in}}")],
        },
    ],
    sound: &[
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/conditions", "{thin: {thickness: 1-2 mm}, thick: {thickness: 2-4 mm}}")],
        },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/conditions", "{thin: {thickness: 1/16-1/8 in}, thick: {thickness: 1/8-1/4 in}}")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let of = |condition: &seamwright_model::procedure::Condition| {
        // Conditions that something else tells apart need not meet.
        let by_thickness = condition.outside_diameter.is_none() && condition.positions.is_empty();
        condition.thickness.as_ref().and_then(Stated::value).filter(|_| by_thickness).cloned()
    };
    let all: Option<Vec<(&str, Range<_>)>> =
        x.view.procedure.conditions.iter().map(|(name, own)| Some((name, of(own)?))).collect();
    let Some(mut all) = all else { return };
    all.sort_by_key(|(_, range)| range.low());
    for pair in all.windows(2) {
        let [(name, range), (next, after)] = pair else { continue };
        let pointer = format!("/conditions/{}/thickness", escape(next));
        x.examined(&pointer);
        let (Some(high), Some(low)) = (range.high(), after.low()) else { continue };
        if low > high {
            let message = format!("no condition holds between `{name}` ({range}) and `{next}` ({after})");
            x.report(Severity::Caution, pointer, message)
                .stated(after.spelled())
                .hint(format!("let `{next}` begin where `{name}` ends"));
        }
    }
}
