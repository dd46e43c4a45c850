//! Which variables of a code a change counts for.
//!
//! A code names a variable for a key; whether a change of the key is a change of the variable depends on it: a higher
//! preheat is none where the code asks after a lower one, another filler of the same F-Number is none of that.

use seamwright_handbook::{api_1104, asme_ix, base_metals, filler_classes, iso_15614_1, positions};
use seamwright_model::procedure::{CodeName, Procedure};
use seamwright_model::quantity;

use super::{Ends, Pair, number_of};
use crate::codes::summary::{ProcessSummary, Summary};
use crate::codes::{self, Classified, classify};
use crate::view::View;

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
    let mut found: Vec<Classified> = Vec::new();
    for process in processes {
        for variable in classify(&key, pair.code, process, pair.toughness) {
            if counts(pair, &variable, &key, process, old, new) && !found.contains(&variable) {
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
        ["processes", process] => return Some(("processes".to_owned(), Some(number_of(process)))),
        ["processes", process, rest @ ..] => {
            return Some((format!("settings.{}", rest.join(".")), Some(number_of(process))));
        }
        ["runs", _] => "runs".to_owned(),
        ["runs", _, key] if ["run", "layer", "side", "process", "positions"].contains(key) => format!("runs.{key}"),
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
                let number = number_of(name);
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
    let mut users: Vec<String> = blocks.map(|(key, _)| number_of(key)).collect();
    users.extend(runs.filter_map(|run| run.process.as_deref().map(number_of)));
    users.sort();
    users.dedup();
    users
}

/// Lowest and highest figure of a text in a unit.
fn ends(text: &str, unit: &str) -> Option<Ends> {
    Some(quantity::convert(text, unit).ok()?.ends())
}

/// The old and the new figures in one unit, where both are quantities.
fn figures(old: Option<&str>, new: Option<&str>, unit: Option<&str>) -> Option<(Ends, Ends)> {
    let (old, new) = (old?, new?);
    let unit = unit.or_else(|| quantity::unit_of(new))?;
    Some((ends(old, unit)?, ends(new, unit)?))
}

/// Whether the new range reaches beyond the old one by more than a slack at either end.
fn beyond(old: Ends, new: Ends, below: f64, above: f64) -> bool {
    let lower = match (old.0, new.0) {
        (Some(old), Some(new)) => new < old - below - 1e-9,
        (Some(_), None) => true,
        (None, _) => false,
    };
    let higher = match (old.1, new.1) {
        (Some(old), Some(new)) => new > old + above + 1e-9,
        (Some(_), None) => true,
        (None, _) => false,
    };
    lower || higher
}

fn counts(
    pair: &Pair<'_>,
    variable: &Classified,
    key: &str,
    process: &str,
    old: Option<&str>,
    new: Option<&str>,
) -> bool {
    match pair.code {
        CodeName::AsmeIx => asme(pair, variable, key, process, old, new),
        CodeName::Iso15614 => iso(pair, variable, key, process, old, new),
        CodeName::AwsD11 => aws(pair, variable, key, process, old, new),
        CodeName::Api1104 => api(variable, key, old, new),
        CodeName::None => false,
    }
}

/// A value that comes or goes counts; figures count where they leave the old range.
fn outside(old: Option<&str>, new: Option<&str>) -> bool {
    figures(old, new, None).is_none_or(|(old, new)| beyond(old, new, 0.0, 0.0))
}

fn lower_by_more(old: Option<&str>, new: Option<&str>, degrees: f64) -> bool {
    figures(old, new, Some("°C")).is_none_or(|(old, new)| match (old.0, new.0) {
        (Some(old), Some(new)) => new < old - degrees - 1e-9,
        (Some(_), None) => true,
        (None, _) => false,
    })
}

fn higher_by_more(old: Option<&str>, new: Option<&str>, degrees: f64) -> bool {
    figures(old, new, Some("°C")).is_none_or(|(old, new)| match (old.1, new.1) {
        (Some(old), Some(new)) => new > old + degrees + 1e-9,
        (Some(_), None) => true,
        (None, _) => false,
    })
}

/// Whether a figure of a metal's row is not the same before and after; what is not known counts.
fn metal_differs<T: PartialEq>(
    old: Option<&str>,
    new: Option<&str>,
    of: impl Fn(&base_metals::BaseMetal) -> Option<T>,
) -> bool {
    let figure = |text: Option<&str>| base_metals::find(text?).and_then(&of);
    match (figure(old), figure(new)) {
        (Some(old), Some(new)) => old != new,
        _ => true,
    }
}

fn filler_differs(old: Option<&str>, new: Option<&str>, of: impl Fn(&filler_classes::Row) -> Option<&String>) -> bool {
    let figure = |text: Option<&str>| filler_classes::find(text?).and_then(|row| of(row).cloned());
    match (figure(old), figure(new)) {
        (Some(old), Some(new)) => old != new,
        _ => true,
    }
}

/// Highest arc energy and heat input of a process over its runs, and whether both documents state it.
fn heat(pair: &Pair<'_>, process: &str, with_efficiency: bool) -> Option<(Ends, Ends)> {
    let key = (process.to_owned(), with_efficiency);
    if let Some(found) = pair.heats.borrow().get(&key) {
        return *found;
    }
    let of = |view: &View<'_>| {
        let summary = Summary::of(view);
        let own = summary.process(process)?;
        let values = if with_efficiency { &own.heat_input } else { &own.arc_energy };
        ProcessSummary::hull(values)
    };
    let found = of(&pair.old).zip(of(&pair.new));
    pair.heats.borrow_mut().insert(key, found);
    found
}

/// Whether a position is welded upwards.
fn upward(text: Option<&str>) -> bool {
    text.is_some_and(|text| text.split(',').any(|one| matches!(one.trim(), "PF" | "PH" | "3G" | "3F" | "5G")))
}

/// Positions of the new list that the old one has not.
fn positions_added(old: Option<&str>, new: Option<&str>) -> bool {
    let codes = |text: Option<&str>| -> Vec<String> {
        let own = text.unwrap_or_default().split(',').map(|one| one.trim().to_owned()).filter(|one| !one.is_empty());
        own.map(|one| positions::get(&one).map_or(one, |row| row.code.clone())).collect()
    };
    let old = codes(old);
    codes(new).iter().any(|new| !old.contains(new))
}

fn asme(
    pair: &Pair<'_>,
    variable: &Classified,
    key: &str,
    process: &str,
    old: Option<&str>,
    new: Option<&str>,
) -> bool {
    let rule = |name: &str| asme_ix::rule(name).map_or(0.0, |rule| rule.value.high);
    let specification = key == "parent_metals.specification";
    let holds = |view: &View<'_>| codes::asme_holds(&variable.reference, view);
    if !holds(&pair.old) && !holds(&pair.new) {
        return false;
    }
    match variable.reference.as_str() {
        "QW-403.11" if specification => metal_differs(old, new, |metal| metal.p_no.clone()),
        "QW-403.5" if specification => {
            metal_differs(old, new, |metal| metal.p_no.clone()) || metal_differs(old, new, |metal| Some(metal.group_no))
        }
        "QW-403.6" => figures(old, new, None).is_none_or(|(old, new)| beyond(old, (new.0, old.1), 0.0, 0.0)),
        "QW-403.8" | "QW-404.30" | "QW-402.10" | "QW-403.10" => outside(old, new),
        // One pass over the limit: stated by the deposit of a single run, which has its own key.
        "QW-403.9" => false,
        "QW-404.4" => filler_differs(old, new, |row| row.f_no.as_ref()),
        "QW-404.5" => filler_differs(old, new, |row| row.a_no.as_ref()),
        "QW-404.23" => {
            let form = |text: Option<&str>| filler_classes::find(text?).map(|row| row.form);
            form(old).is_none() || form(new).is_none() || form(old) != form(new)
        }
        "QW-404.7" => figures(old, new, Some("mm")).is_some_and(|(old, new)| {
            let limit = asme_ix::rule("electrode-diameter").map_or(6.0, |rule| rule.value.high);
            old.1.is_none_or(|old| old <= limit) && new.1.is_some_and(|new| new > limit)
        }),
        "QW-405.1" => positions_added(old, new),
        "QW-405.2" => upward(new) && !upward(old) || (key == "progression" && new == Some("upward")),
        "QW-406.1" => lower_by_more(old, new, rule("preheat-decrease")),
        "QW-406.3" => higher_by_more(old, new, rule("interpass-increase")),
        "QW-409.1" => {
            heat(pair, process, false).is_none_or(|(old, new)| beyond((None, old.1), (None, new.1), 0.0, 0.0))
        }
        _ => true,
    }
}

fn iso(pair: &Pair<'_>, variable: &Classified, key: &str, process: &str, old: Option<&str>, new: Option<&str>) -> bool {
    let level_1 = pair.new.procedure.qualification.as_ref().is_some_and(|own| own.level.as_deref() == Some("1"));
    let rule = |name: &str| {
        let named = if level_1 { format!("{name}-level-1") } else { name.to_owned() };
        iso_15614_1::rule(&named).map_or(0.0, |rule| rule.value.high)
    };
    match variable.reference.as_str() {
        "8.3.1" if key == "parent_metals.specification" => metal_differs(old, new, |metal| metal.iso_group.clone()),
        "8.3.2" | "8.3.3" => outside(old, new),
        "8.4.2" if key == "positions" => positions_added(old, new),
        "8.4.7" => heat(pair, process, true).is_none_or(|(old, new)| beyond(old, new, 0.0, 0.0)),
        "8.4.8" => lower_by_more(old, new, rule("preheat-decrease")),
        "8.4.9" => higher_by_more(old, new, rule("interpass-increase")),
        _ => true,
    }
}

fn aws(pair: &Pair<'_>, variable: &Classified, key: &str, process: &str, old: Option<&str>, new: Option<&str>) -> bool {
    if key == "parent_metals.specification" && base_metals::find(old.unwrap_or_default()).is_some() && old == new {
        return false;
    }
    if key == "positions" {
        return positions_added(old, new);
    }
    if variable.wording.starts_with("heat input") {
        return heat(pair, process, false).is_none_or(|(old, new)| beyond((None, old.1), (None, new.1), 0.0, 0.0));
    }
    let Some(unit) = variable.unit.as_deref() else { return true };
    if unit == "%" {
        // Shares of the middle of the old range, which stands for the tested value.
        let Some((before, after)) = figures(old, new, None) else { return true };
        let middle = match before {
            (Some(low), Some(high)) => f64::midpoint(low, high),
            (Some(one), None) | (None, Some(one)) => one,
            (None, None) => return true,
        };
        let share = |over: Option<f64>| over.map_or(f64::INFINITY, |over| middle * over / 100.0);
        let low = before.0.map(|low| low.min(middle - share(variable.decrease_over)));
        let high = before.1.map(|high| high.max(middle + share(variable.increase_over)));
        return beyond((low, high), after, 0.0, 0.0);
    }
    let Some((before, after)) = figures(old, new, Some(unit)) else { return true };
    beyond(
        before,
        after,
        variable.decrease_over.unwrap_or(f64::INFINITY),
        variable.increase_over.unwrap_or(f64::INFINITY),
    )
}

fn api(variable: &Classified, key: &str, old: Option<&str>, new: Option<&str>) -> bool {
    let words = |text: Option<&str>, of: &dyn Fn(&str) -> Option<String>| -> Vec<String> {
        let own = text.unwrap_or_default().split(',').map(str::trim).filter(|one| !one.is_empty());
        own.map(|one| of(one).unwrap_or_else(|| one.to_owned())).collect()
    };
    let differs = |of: &dyn Fn(&str) -> Option<String>| {
        let before = words(old, of);
        words(new, of).iter().any(|own| !before.contains(own))
    };
    match variable.reference.as_str() {
        "5.4.2.3" => differs(&|text| {
            let row = api_1104::strength(base_metals::find(text)?.yield_min_mpa?)?;
            (!row.alone).then(|| row.group.clone())
        }),
        "5.4.2.4" => differs(&|text| Some(codes::api_design(text.parse().ok()?).to_owned())),
        "5.4.2.5" if key == "positions" => differs(&|text| Some(codes::api_turning(positions::get(text)?).to_owned())),
        // The range that the procedure states is the limit.
        "5.4.2.6" | "5.4.2.13" => outside(old, new),
        "5.4.2.7" => differs(&|text| Some(api_1104::filler(text)?.group.clone())),
        "5.4.2.9" => figures(old, new, Some("min"))
            .is_none_or(|(old, new)| beyond((None, old.1.or(old.0)), (None, new.1.or(new.0)), 0.0, 0.0)),
        "5.4.2.11" if key == "settings.shielding_gas.flow" => outside(old, new),
        "5.4.2.14" => lower_by_more(old, new, 0.0),
        _ => true,
    }
}
