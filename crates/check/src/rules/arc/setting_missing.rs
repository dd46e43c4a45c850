//! `setting-missing`: explanation, cases, logic.

use seamwright_handbook::{gtaw_polarity, processes};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_weld::View;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "setting-missing",
    harm: Harm::Instruction,
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
        let Some(process) = run.process else { continue };
        let polarity = run.setting(&keys::POLARITY).is_some();
        let current = run.setting(&keys::CURRENT).is_some()
            || run.value(&keys::WIRE_FEED_SPEED).is_some()
            || run.part(&keys::PULSE).is_some();
        let write_current = || "write for example `current: 110-130 A`".to_owned();
        for (pointer, in_tables, word, hint) in [
            (
                run.of_process(&keys::POLARITY),
                keys::POLARITY.in_tables,
                "polarity",
                (!polarity).then(|| polarity_for(x.view, process)),
            ),
            (keys::CURRENT.in_run(run.index), keys::CURRENT.in_tables, "current", (!current).then(write_current)),
        ] {
            x.examined(&pointer);
            let Some(hint) = hint else { continue };
            x.report(Severity::Caution, pointer, format!("no {word} is stated"))
                .hint(hint)
                .asked(in_tables, format!("{word} stated"));
        }
    }
}

/// What to write for a polarity: what the metal takes with a tungsten electrode, else what is usual with the process.
fn polarity_for(view: &View<'_>, process: &processes::Row) -> String {
    let of_metal = view.metals.first().and_then(|metal| gtaw_polarity::get(metal.family()));
    let words: Vec<&str> = match of_metal.filter(|_| process.uses_tungsten) {
        Some(row) => row.suited.to_vec(),
        None => process.polarity_usual.iter().map(|own| own.as_str()).collect(),
    };
    let lines: Vec<String> = words.iter().map(|word| format!("`polarity: {word}`")).collect();
    match lines.as_slice() {
        [] => "write `polarity: DCEN`, `polarity: DCEP` or `polarity: AC`".to_owned(),
        [one] => format!("write {one}"),
        several => format!("write {}, whichever filler and metal ask for", several.join(" or ")),
    }
}
