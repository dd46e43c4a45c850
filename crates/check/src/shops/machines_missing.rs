//! `machines-missing`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::shop::Shop;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<Shop> = Rule {
    name: "machines-missing",
    harm: Harm::Equipment,
    finds: "A shop that names no power source.",
    matters: "Nothing can be welded in it, and no procedure can be held against it.",
    remedy: "List each power source with its processes, range of current, polarities and rated points.",
    limit: "A shop has at least one power source.",
    tables: &[],
    examine,
    faulty: &[Case { base: "shop/shop", edits: &[("/power_sources", "")] }],
    sound: &[Case { base: "shop/shop", edits: &[] }],
};

fn examine(x: &mut Examiner<'_, Shop>) {
    x.examined("/power_sources");
    if x.view.power_sources.is_empty() {
        x.report(Severity::Error, "/document", "the shop names no power source")
            .hint("write `power_sources:` with name, processes, current, polarity and rated_points of each");
    }
}
