//! `record-of-another-condition`: explanation, cases, logic.

use seamwright_model::finding::Severity;

use super::against::AgainstRecords;
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<AgainstRecords> = Rule {
    name: "record-of-another-condition",
    harm: Harm::Qualification,
    finds: "A test record beside others whose coupon was heat treated where the procedure is not, or the reverse, or has no impact tests where the procedure asks for them.",
    matters: "Heat treatment and toughness are variables of the whole weld: such a record widens no range of the others.",
    remedy: "Leave the record out, or write a procedure of its own for that condition.",
    limit: "ISO 15614-1 8.4.11, ASME IX QW-407.1 and QW-401, AWS D1.1 Table 6.5: heat treatment added or left out.",
    tables: &["iso-15614-1-variables", "asme-ix-variables", "aws-d1-1-variables"],
    examine,
    // The second record of a case is the first one with these edits.
    faulty: &[
        Case {
            base: "inspection/procedure",
            edits: &[("second:/temperatures/post_weld_heat_treatment", "{temperature: 600 °C, time: 30 min}")],
        },
        Case {
            base: "inspection/procedure-asme",
            edits: &[
                ("record:/toughness", "27 J at -20 °C"),
                ("record:/tests/0", "{method: impact, count: 2, temperature: -20 °C, value: 60 J, result: acceptable}"),
                ("/qualification/toughness", "27 J at -20 °C"),
                ("second:/toughness", "not required"),
                ("second:/tests/0", "{method: visual, result: acceptable}"),
            ],
        },
    ],
    sound: &[Case { base: "inspection/procedure", edits: &[("second:/parent_metals/0/thickness", "5.6 mm")] }],
};

fn examine(x: &mut Examiner<'_, AgainstRecords>) {
    for own in x.view.aside {
        x.examined(own.pointer);
        let names = own.records.join(", ");
        x.report(Severity::Caution, own.pointer, format!("{names} supports nothing of this procedure: {}", own.why))
            .hint("leave the record out; the ranges are those of the other records");
    }
}
