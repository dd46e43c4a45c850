//! `last-use-before-test`: explanation, cases, logic.

use seamwright_handbook::practice;
use seamwright_model::finding::Severity;
use seamwright_model::shop::Shop;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<Shop> = Rule {
    name: "last-use-before-test",
    harm: Harm::Papers,
    finds: "A welder who last welded with a process before the day of the test in it.",
    matters: "The qualification is kept from the day of the last use: one that is wrong keeps or ends it wrongly.",
    remedy: "Mend the day of the test or that of the last use.",
    limit: "The day of the test, by the practice of document control; an error.",
    tables: &["practice-statements"],
    examine,
    faulty: &[Case { base: "shop/shop", edits: &[("/welders/0/tests/0/last_use", "2001-01-01")] }],
    sound: &[Case { base: "shop/shop", edits: &[] }],
};

fn examine(x: &mut Examiner<'_, Shop>) {
    for (welder, own) in x.view.welders.iter().enumerate() {
        for (index, test) in own.tests.iter().enumerate() {
            let Some(last) = test.last_use else { continue };
            let pointer = format!("/welders/{welder}/tests/{index}/last_use");
            x.examined(&pointer);
            if last < test.date {
                let message = format!("last use {last} lies before the test of {} on {}", own.name, test.date);
                x.report(Severity::Error, pointer, message)
                    .stated(last.to_string())
                    .limit(format!("{} or after", test.date), &practice::HISTORY.origin.source_ref())
                    .hint("mend the day of the test or that of the last use");
            }
        }
    }
}
