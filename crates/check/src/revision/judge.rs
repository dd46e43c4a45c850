//! Which variables of a code a change counts for.
//!
//! A code names a variable for a key; whether a change of the key is a change of the variable depends on it: a higher
//! preheat is none where the code asks after a lower one, another filler of the same F-Number is none of that.

use seamwright_handbook::processes::number_of;
use seamwright_model::procedure::{CodeName, Procedure, toughness};
use seamwright_model::quantity::{Energy, Temperature};

use crate::codes::{self, Changed, Classified, Pair, classify};

/// The variables that a change counts for, the heaviest first; `users` are the processes that the value belongs to, where
/// it is of runs or of a filler.
pub(super) fn variables(
    pair: &Pair<'_>,
    pointer: &str,
    users: &[String],
    old: Option<&str>,
    new: Option<&str>,
) -> Vec<Classified> {
    let steps: Vec<&str> = pointer.split('/').skip(1).collect();
    let Some((key, own)) = key_and_process(&steps) else { return Vec::new() };
    let own: Vec<String> = own.into_iter().collect();
    let processes = match (own.as_slice(), users) {
        ([], []) => pair.processes.as_slice(),
        ([], users) => users,
        (own, _) => own,
    };
    let Some(code) = codes::of(pair.code) else { return Vec::new() };
    let mut found: Vec<Classified> = Vec::new();
    for process in processes {
        for variable in classify(&key, pair.code, process, pair.toughness) {
            let changed = Changed { pair, variable: &variable, key: &key, process, old, new };
            if code.counts(&changed) && !found.contains(&variable) {
                found.push(variable);
            }
        }
    }
    found.sort_by_key(|one| std::cmp::Reverse(one.effect));
    found
}

/// The key as the tables of the codes write it, and the process whose block it stands in.
fn key_and_process(steps: &[&str]) -> Option<(String, Option<String>)> {
    let key = match steps {
        ["conditions", _, own @ ("thickness" | "outside_diameter")] => format!("parent_metals.{own}"),
        ["conditions", _, rest @ ..] if !rest.is_empty() => return key_and_process(rest),
        ["processes", process] => return Some(("processes".to_owned(), Some(number_of(process).to_owned()))),
        ["processes", process, rest @ ..] => {
            return Some((format!("settings.{}", rest.join(".")), Some(number_of(process).to_owned())));
        }
        ["runs", _] => "runs".to_owned(),
        ["runs", _, key] if ["run", "layer", "side", "process", "positions", "condition"].contains(key) => {
            format!("runs.{key}")
        }
        ["runs", _, rest @ ..] => format!("settings.{}", rest.join(".")),
        ["fillers", _] => "fillers.designation".to_owned(),
        ["fillers", _, rest @ ..] => format!("fillers.{}", rest.join(".")),
        ["parent_metals", _, rest @ ..] if !rest.is_empty() => format!("parent_metals.{}", rest.join(".")),
        ["parent_metals" | "inspection", ..] | [] => return None,
        rest => rest.join("."),
    };
    Some((key, None))
}

/// The processes of both revisions, by number.
pub(super) fn processes_of(new: &Procedure, old: &Procedure) -> Vec<String> {
    let mut seen = std::collections::BTreeSet::new();
    let mut all: Vec<String> = Vec::new();
    for procedure in [new, old] {
        let named = procedure.processes.keys();
        for name in named.chain(procedure.runs.iter().filter_map(|run| run.process.as_deref())) {
            if seen.insert(name) {
                let number = number_of(name).to_owned();
                if !all.contains(&number) {
                    all.push(number);
                }
            }
        }
    }
    all
}

/// The processes that use a filler of a procedure.
pub(super) fn filler_users(procedure: &Procedure, name: &str) -> Vec<String> {
    let uses = |own: Option<&str>| own == Some(name);
    let blocks = procedure.processes.iter().filter(|(_, block)| uses(block.filler.as_deref()));
    let runs = procedure.runs.iter().filter(|run| uses(run.settings.filler.as_deref()));
    let mut users: Vec<String> = blocks.map(|(key, _)| number_of(key).to_owned()).collect();
    users.extend(runs.filter_map(|run| Some(number_of(run.process.as_deref()?).to_owned())));
    users.sort();
    users.dedup();
    users
}

/// Energy and temperature that a text asks for; nothing where it asks for none, and an error where it cannot be read.
fn asked(text: Option<&str>) -> Result<Option<(f64, f64)>, String> {
    let Some((energy, temperature)) = text.map_or(Ok(None), toughness)? else { return Ok(None) };
    let energy = energy.low().or(energy.high()).map(Energy::joules);
    Ok(energy.zip(temperature.low().or(temperature.high()).map(Temperature::celsius)))
}

/// Whether two texts ask for the same toughness.
pub(super) fn same_toughness(old: Option<&str>, new: Option<&str>) -> bool {
    matches!((asked(old), asked(new)), (Ok(old), Ok(new)) if old == new)
}

/// Whether a change asks for impact tests that the one before did not: newly, colder or with more energy.
pub(super) fn tougher(code: CodeName, old: Option<&str>, new: Option<&str>) -> bool {
    codes::of(code).is_some()
        && match (asked(old), asked(new)) {
            (_, Ok(None)) => false,
            (Ok(Some(old)), Ok(Some(new))) => new.0 > old.0 + 1e-9 || new.1 < old.1 - 1e-9,
            _ => true,
        }
}
