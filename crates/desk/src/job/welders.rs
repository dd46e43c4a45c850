//! The welders that a joint names against the processes of its procedure.

use seamwright_check::codes::summary::Summary;
use seamwright_check::codes::welders::{self, Fit};
use seamwright_handbook::find;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{CodeName, Procedure};
use seamwright_model::shop::{Shop, Welder};
use seamwright_model::stated::Date;
use seamwright_weld::View;

/// The welders that a cell names: one by name or stamp, or several where processes are shared out, `Ana / Bo`.
///
/// `Err` has the words that name nobody of the shop.
pub(super) fn named<'s>(shop: &'s Shop, cell: &str) -> Result<Vec<&'s Welder>, Vec<String>> {
    let one = |word: &str| {
        let is = |own: &&Welder| {
            find::same(&own.name, word) || own.stamp.as_deref().is_some_and(|stamp| find::same(stamp, word))
        };
        shop.welders.iter().find(is)
    };
    if let Some(welder) = one(cell) {
        return Ok(vec![welder]);
    }
    let parts = cell.split(['/', ',', ';', '&', '+']).flat_map(|part| part.split(" and "));
    let parts: Vec<&str> = parts.map(str::trim).filter(|part| !part.is_empty()).collect();
    let unknown: Vec<String> = parts.iter().filter(|part| one(part).is_none()).map(|part| (*part).to_owned()).collect();
    if unknown.is_empty() && !parts.is_empty() {
        return Ok(parts.into_iter().filter_map(one).collect());
    }
    Err(if unknown.is_empty() { vec![cell.to_owned()] } else { unknown })
}

/// What stands against the welders of a joint: for each process of the procedure one of them must have a test that covers it
/// on the day, and each of them where there is one process for all.
///
/// An error under a code, which asks for qualified welders; else a note, where the tests of those who are named are known.
pub(super) fn against(procedure: &Procedure, shop: &Shop, own: &[&Welder], day: Date) -> Vec<(Severity, String)> {
    let view = View::on(procedure, Some(day));
    let code = procedure.qualification.as_ref().and_then(|own| own.code);
    let governed = code.is_some_and(|code| code != CodeName::None);
    if !governed && own.iter().any(|welder| welder.tests.is_empty()) {
        return Vec::new();
    }
    let fits = welders::fits(&view, shop);
    let summary = Summary::of(&view);
    let mut found = Vec::new();
    for process in &summary.processes {
        let of = |welder: &Welder| {
            let same = |fit: &&Fit<'_>| fit.cover.welder.name == welder.name && fit.cover.welder.stamp == welder.stamp;
            fits.iter().filter(|fit| fit.process == process.number).find(same)
        };
        // Where no code governs, its limits are no matter: only whether there is a test with the process at all.
        let able = |welder: &Welder| of(welder).is_some_and(|fit| !governed || fit.gaps.is_empty() && holds(fit, day));
        let short: Vec<&Welder> = own.iter().copied().filter(|welder| !able(welder)).collect();
        let shared_out = summary.processes.len() > 1;
        if short.is_empty() || shared_out && short.len() < own.len() {
            continue;
        }
        let why = short.iter().map(|welder| match (reason(welder, of(welder), day), short.len()) {
            (why, 1) => why,
            (why, _) => format!("{}: {why}", welder.name),
        });
        let why = why.collect::<Vec<_>>().join("; ");
        let it = if governed { "is" } else { "has" };
        let others: String = shop
            .welders
            .iter()
            .filter(|other| able(other))
            .map(|other| match of(other).and_then(|fit| fit.cover.lapses) {
                Some(lapses) => format!("; {} {it}, until {lapses}", other.name),
                None => format!("; {} {it}", other.name),
            })
            .collect();
        let names = short.iter().map(|welder| &*welder.name).collect::<Vec<_>>().join(" and ");
        let (is, has) = if short.len() == 1 { ("is", "has") } else { ("are", "have") };
        let mut message = if governed {
            format!("{names} {is} not qualified for {} in this procedure", process.name)
        } else {
            format!("{names} {has} no test with {}", process.name)
        };
        message.push_str(&format!(" ({why}){others}"));
        found.push((if governed { Severity::Error } else { Severity::Note }, message));
    }
    found
}

/// Whether the qualification has not lapsed on a day.
fn holds(fit: &Fit<'_>, day: Date) -> bool {
    fit.cover.lapses.is_none_or(|lapses| day <= lapses)
}

/// Why a welder may not weld a process.
fn reason(welder: &Welder, fit: Option<&Fit<'_>>, day: Date) -> String {
    match fit {
        None if welder.tests.is_empty() => "no test".to_owned(),
        None => {
            let mut processes: Vec<&str> = welder.tests.iter().map(|test| &*test.process).collect();
            processes.dedup();
            format!("tested with {}", processes.join(", "))
        }
        Some(fit) if fit.gaps.is_empty() && !holds(fit, day) => {
            format!("lapsed on {}", fit.cover.lapses.map_or_else(String::new, |day| day.to_string()))
        }
        Some(fit) => fit.gaps.join(", "),
    }
}
