//! `setting-missing`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::stated::OrNone;

use super::contents;
use crate::rule::{Case, Examiner, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "setting-missing",
    finds: "A run without the polarity or the current that decides how it is welded.",
    matters: "Two welders set two welds by such a sheet, and no check can say whether the settings fit.",
    remedy: "State polarity and current of every run; for a wire its feed will do.",
    limit: "What ISO 15609-1 asks for of every run with an arc.",
    tables: &["iso-15609-1-contents"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-10-s355-111", edits: &[("/processes/111/polarity", "")] },
        Case { base: "tee-fillet-10-s355-111", edits: &[("/runs/0/current", "")] },
    ],
    sound: &[
        Case { base: "tee-fillet-10-s355-111", edits: &[] },
        // The feed of a wire sets its current.
        Case { base: "tee-fillet-12-s355-135", edits: &[("/runs/0/current", "")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        if run.process.is_none() {
            continue;
        }
        let polarity = run.setting("polarity", |s| s.polarity.as_ref()).is_some();
        let current = run.setting("current", |s| s.current.as_ref()).is_some();
        let feed = run.quantity("wire_feed_speed", |s| s.wire_feed_speed.as_ref()).is_some();
        let pulse = run.setting("pulse", |s| s.pulse.as_ref().and_then(OrNone::value)).is_some();
        let at = |key: &str| match run.block {
            Some((name, _)) if key == "polarity" => {
                format!("/processes/{}/{key}", seamwright_model::source::escape(name))
            }
            _ => format!("/runs/{}/{key}", run.index),
        };
        for (key, stated, word) in
            [("polarity", polarity, "polarity"), ("current", current || feed || pulse, "current")]
        {
            let pointer = at(key);
            x.examined(&pointer);
            if stated {
                continue;
            }
            let hint = match key {
                "polarity" => "write for example `polarity: DCEP`",
                _ => "write for example `current: 110-130 A`",
            };
            let report = x.report(Severity::Caution, pointer, format!("no {word} is stated")).hint(hint);
            if let Some(source) = contents::asked(&format!("settings.{key}")) {
                report.limit(format!("{word} stated"), &source);
            }
        }
    }
}
