//! `code-contradicts-qualification`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::test_record::TestRecord;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<TestRecord> = Rule {
    name: "code-contradicts-qualification",
    harm: Harm::Qualification,
    finds: "A code, edition or level that stands at the top of a record and differently under `qualification`.",
    matters: "The ranges hang on code and edition; two of them leave it open which ranges hold.",
    remedy: "Keep one of the two.",
    limit: "Code, edition and level are stated once, or alike.",
    tables: &[],
    examine,
    faulty: &[Case {
        base: "inspection/record-iso",
        edits: &[("/qualification", "{route: test-record, code: asme-ix}")],
    }],
    sound: &[
        Case { base: "inspection/record-iso", edits: &[] },
        Case { base: "inspection/record-iso", edits: &[("/qualification", "{route: test-record, code: iso-15614-1}")] },
    ],
};

fn examine(x: &mut Examiner<'_, TestRecord>) {
    let record = x.view.record;
    let Some(other) = &record.qualification else { return };
    let word = |code: Option<seamwright_model::procedure::CodeName>| code.map(|code| code.to_string());
    let text = |text: &Option<seamwright_model::stated::Text>| text.as_ref().map(ToString::to_string);
    for (key, own, below) in [
        ("code", word(record.code), word(other.code)),
        ("edition", text(&record.edition), text(&other.edition)),
        ("level", text(&record.level), text(&other.level)),
    ] {
        let (Some(own), Some(below)) = (own, below) else { continue };
        let pointer = format!("/qualification/{key}");
        x.examined(&pointer);
        if own != below {
            x.report(Severity::Error, pointer, format!("{key} is {own} at the top of the record and {below} here"))
                .stated(below)
                .hint(format!("keep one `{key}:`"));
        }
    }
}
