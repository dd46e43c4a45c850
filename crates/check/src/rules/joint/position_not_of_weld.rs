//! `position-not-of-weld`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule, nearest_in_words};
use seamwright_handbook::positions;
use seamwright_handbook::trade_words::{self, Kind};
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "position-not-of-weld",
    harm: Harm::Impossible,
    finds: "A position whose name belongs to another kind of weld.",
    matters: "1G is a groove and 1F a fillet: the name tells the inspector what was welded.",
    remedy: "Use the F positions or PB, PD for fillets, the G positions or PC for grooves.",
    limit: "The kind of weld of each position of ISO 6947 and AWS.",
    tables: &["positions"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/positions", "[1G]")] }],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let Some(weld) = x.view.weld() else { return };
    for (pointer, stated) in super::measures::positions(x.view) {
        x.examined(&pointer);
        let Some(row) = positions::get(stated) else {
            // Words of the trade are told by their meaning, not by their letters: vertical down is PG, and uphill no PH.
            let kind = if weld.has_groove() { Kind::GroovePosition } else { Kind::FilletPosition };
            let near = match trade_words::get(kind, stated) {
                Some(row) => format!("write `{}`", row.means),
                None => nearest_in_words(&positions::nearest(stated), "positions"),
            };
            x.report(Severity::Error, pointer, format!("`{stated}` is not a welding position"))
                .stated(stated)
                .hint(near);
            continue;
        };
        let agrees = match row.weld {
            positions::Weld::Both => true,
            positions::Weld::Groove => weld.has_groove(),
            positions::Weld::Fillet => weld.has_fillet(),
        };
        if !agrees && (weld.has_groove() || weld.has_fillet()) {
            let source = row.origin.source_ref();
            x.report(Severity::Error, pointer, format!("position {stated} ({}) is not one of a {weld} weld", row.name))
                .stated(stated)
                .limit("a position of this kind of weld", &source)
                .hint(format!("the same attitude has other names: {}", row.equivalent.join(", ")));
        }
    }
}
