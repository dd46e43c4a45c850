//! `acceptance-below-class`: explanation, cases, logic.

use seamwright_handbook::en_1090_2;
use seamwright_model::finding::Severity;

use crate::rule::{Case, Examiner, Harm, Rule};

/// A fillet of the library with its execution class and its acceptance.
macro_rules! accepted {
    ($class:literal, $acceptance:literal) => {
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/qualification", concat!("{route: test-record, execution_class: ", $class, "}")),
                ("/inspection", concat!("[{method: visual, extent: 100 %, acceptance: ", $acceptance, "}]")),
            ],
        }
    };
}

/// The check.
pub const RULE: Rule = Rule {
    name: "acceptance-below-class",
    harm: Harm::Qualification,
    finds: "A quality level of ISO 5817 lower than the execution class of EN 1090-2 asks for.",
    matters: "Welds that pass such an examination are rejected by who takes the structure over.",
    remedy: "Write the level of the class, or the levels that the contract agrees on.",
    limit: "Quality level by execution class of EN 1090-2; a caution, since a contract may agree on levels by weld.",
    tables: &["en-1090-2-classes"],
    examine,
    faulty: &[
        accepted!("EXC2", "ISO 5817 level D"),
        accepted!("EXC3", "ISO 5817-C"),
        accepted!("EXC4", "ISO 5817 level C"),
    ],
    sound: &[
        accepted!("EXC1", "ISO 5817 level D"),
        accepted!("EXC2", "ISO 5817 level C"),
        accepted!("EXC3", "ISO 5817 level B"),
        accepted!("EXC2", "as the drawing"),
        Case { base: "tee-fillet-10-s355-111", edits: &[] },
    ],
};

/// The level that an acceptance by ISO 5817 names.
fn level(text: &str) -> Option<char> {
    let after = text.split("5817").nth(1)?;
    let words = after.split(|c: char| !c.is_ascii_alphanumeric());
    words.filter_map(|word| word.chars().next().filter(|_| word.len() == 1)).find(|c| matches!(c, 'B' | 'C' | 'D'))
}

fn examine(x: &mut Examiner<'_>) {
    let Some(class) = x.view.procedure.qualification.as_ref().and_then(|own| own.execution_class) else { return };
    let Some(row) = en_1090_2::class(class.as_str()) else { return };
    for (index, entry) in x.view.procedure.inspection.iter().enumerate() {
        let Some(text) = entry.acceptance.as_deref() else { continue };
        let pointer = format!("/inspection/{index}/acceptance");
        x.examined(&pointer);
        if level(text).is_some_and(|own| row.level.chars().next().is_some_and(|least| own > least)) {
            let limit = format!("ISO 5817 level {}", row.level);
            x.report(
                Severity::Caution,
                pointer,
                format!("{text} is less than execution class {class} asks for ({limit})"),
            )
            .stated(text)
            .limit(limit.clone(), &row.origin.source_ref())
            .hint(format!("write `acceptance: {limit}`"));
        }
    }
}
