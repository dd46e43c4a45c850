//! ISO 15614-2: ranges of a procedure test of aluminium.

use seamwright_handbook::{iso_15614_2 as tables, qualified};
use seamwright_model::test_record::TestRecord;
use seamwright_weld::view::Metal;

use crate::codes::code::{Code, Judge, Refusal};
use crate::codes::iso_15614::{Part, group, label};
use crate::codes::range::Qualified;
use crate::codes::summary::Summary;
use crate::codes::words::{own_name, owned};

/// The code.
pub(super) struct Iso15614Aluminium;

/// Its tables; the edition of 2005 has no levels.
const PART: Part = Part {
    title: "ISO 15614-2",
    issue: ("2005", ""),
    range: |quantity, _, tested_mm, _| qualified::in_mm(tables::ranges(), quantity, tested_mm),
    rules: tables::rules,
    variables: tables::variables,
};

impl Code for Iso15614Aluminium {
    fn word(&self) -> &'static str {
        "iso-15614-2"
    }

    fn ranges(&self, record: &TestRecord, tested: &Summary<'_>) -> Result<(String, Vec<Qualified>), Refusal> {
        let instead = |whole| match whole {
            1..=11 | 41..=48 => "write `code: iso-15614-1`, which is for steel and nickel",
            _ => "name the part of ISO 15614 for this metal; its ranges are not in the handbook",
        };
        PART.refuse(tested, |whole| (21..=26).contains(&whole), ("no aluminium", instead))?;
        Ok((PART.issue.0.to_owned(), PART.ranges(record, tested, covered)))
    }

    fn judge(&self) -> Judge {
        Judge {
            label,
            variables: |process, toughness| PART.changes(process, toughness),
            counts: |own| PART.counts(own),
        }
    }

    fn groove_covers_fillets(&self) -> bool {
        false
    }
}

/// Groups that a test of this metal covers; a metal whose subgroup the table does not tell covers itself.
fn covered(metal: &Metal<'_>) -> Vec<String> {
    let Some(group) = group(metal) else { return vec![own_name(metal)] };
    tables::covered_by(group).map_or_else(|| vec![group.to_owned()], |row| owned(row.covers))
}
