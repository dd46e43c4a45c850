//! `process-unknown`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule, nearest_in_words};
use seamwright_handbook::processes;
use seamwright_handbook::trade_words::{self, Kind};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;

/// The check.
pub const RULE: Rule = Rule {
    name: "process-unknown",
    harm: Harm::Impossible,
    finds: "A process that the handbook does not know, or a run without one.",
    matters: "Nothing about the run can be checked.",
    remedy: "Write an ISO 4063 number or AWS letters, such as 141 or GTAW, and declare it under `processes`.",
    limit: "The processes of the handbook.",
    tables: &["processes"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/process", "999")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let pointer = format!("{}/process", run.pointer());
        x.examined(&pointer);
        match (run.run.process.as_deref(), run.process) {
            (None, None) => {
                x.report(Severity::Error, pointer, format!("run {} names no process", run.run.run))
                    .hint("write for example `process: 141`");
            }
            (Some(stated), None) => {
                let hint = of_trade(stated).unwrap_or_else(|| {
                    let near = nearest_in_words(&processes::nearest(stated), "processes");
                    format!("write an ISO 4063 number or AWS letters; {near}")
                });
                x.report(Severity::Error, pointer, format!("`{stated}` is not a known process"))
                    .stated(stated)
                    .hint(hint);
            }
            (_, Some(process)) => {
                if run.block.is_none() {
                    x.report(
                        Severity::Caution,
                        pointer,
                        format!("process {} is not declared under `processes`", process.number),
                    )
                    .hint(format!("write `processes: {{{}: ...}}` with polarity and filler", process.number));
                }
            }
        }
    }
    for (index, key) in x.view.procedure.processes.keys().enumerate() {
        if processes::get(key).is_none() && index < 50 {
            x.report(Severity::Error, keys::process(key), format!("`{key}` is not a known process"))
                .stated(key)
                .hint(of_trade(key).unwrap_or_else(|| nearest_in_words(&processes::nearest(key), "processes")));
        }
    }
}

/// What to write for a word of the trade.
fn of_trade(word: &str) -> Option<String> {
    let row = trade_words::get(Kind::Process, word)?;
    let other = row.self_shielded.as_ref();
    let other = other.map_or_else(String::new, |other| format!(", or `{other}` where the wire shields itself"));
    Some(format!("write `{}`{other}", row.means))
}
