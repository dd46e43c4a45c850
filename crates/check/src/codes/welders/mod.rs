//! What a welder's test covers, until when, and who of a shop may weld a procedure.

pub(in crate::codes) mod test;

use std::cmp::Reverse;

use seamwright_handbook::{Band, measure, positions};
use seamwright_model::procedure::WeldType;
use seamwright_model::shop::{Shop, Welder, WelderCode, WelderTest};
use seamwright_model::stated::Date;
use seamwright_weld::View;

use super::code::{Code, Weld};
use super::list::named;
use super::range::{Bounds, Qualified};
use super::summary::{ProcessSummary, Summary, Value};
use test::{FILLET_THICKNESS, TURNED_PIPE, process_number};

/// What one test of a welder covers.
#[derive(Debug, Clone)]
pub struct Cover<'d> {
    /// The welder.
    pub welder: &'d Welder,
    /// The test.
    pub test: &'d WelderTest,
    /// Ranges, each with the certificate's number under `records`.
    pub ranges: Vec<Qualified>,
    /// Day on which it lapses if nothing is confirmed.
    pub lapses: Option<Date>,
    /// Why it lapses then.
    pub because: String,
    /// JSON pointer of the test in the shop.
    pub pointer: String,
}

/// What the tests of every welder of a shop cover; of one code where one is named.
pub fn covers(shop: &Shop, code: Option<WelderCode>) -> Vec<Cover<'_>> {
    let mut covers = Vec::new();
    for (place, welder) in shop.welders.iter().enumerate() {
        for (index, test) in welder.tests.iter().enumerate() {
            if code.is_some_and(|code| code != test.code) {
                continue;
            }
            let code = of(test);
            let mut ranges = code.map(|code| code.welder(test)).unwrap_or_default();
            let name = test.number.as_ref().map_or_else(|| welder.name.to_string(), ToString::to_string);
            for range in &mut ranges {
                range.records = vec![name.clone()];
            }
            let ends = code.map(|code| code.lapses(test)).unwrap_or_default();
            let first = ends.into_iter().min_by_key(|(date, _)| *date);
            let (lapses, because) = first.map_or((None, String::new()), |(date, why)| (Some(date), why.to_owned()));
            let pointer = format!("/welders/{place}/tests/{index}");
            covers.push(Cover { welder, test, ranges, lapses, because, pointer });
        }
    }
    covers
}

/// The code of a test.
fn of(test: &WelderTest) -> Option<&'static dyn Code> {
    named(test.code.as_str())
}

/// A welder beside a process of a procedure.
#[derive(Debug, Clone)]
pub struct Fit<'d> {
    /// The process, by its ISO 4063 number.
    pub process: String,
    /// The test that covers it, or comes nearest.
    pub cover: Cover<'d>,
    /// What is not covered, in words; the welder may weld where nothing stands here.
    pub gaps: Vec<String>,
}

/// For each process of a procedure the welders of a shop with the test that comes nearest to covering it.
pub fn fits<'d>(view: &View<'_>, shop: &'d Shop) -> Vec<Fit<'d>> {
    let summary = Summary::of(view);
    let covers = covers(shop, None);
    let mut found = Vec::new();
    for process in &summary.processes {
        for welder in &shop.welders {
            let best = covers
                .iter()
                .filter(|cover| cover.welder.name == welder.name && cover.welder.stamp == welder.stamp)
                .filter(|cover| covers_process(cover, &process.number))
                .map(|cover| (gaps(&summary, process, cover), cover))
                // Of two that cover as much, the one that lapses later, or never.
                .min_by_key(|(gaps, cover)| (gaps.len(), Reverse((cover.lapses.is_none(), cover.lapses))));
            if let Some((gaps, cover)) = best {
                found.push(Fit { process: process.number.clone(), cover: cover.clone(), gaps });
            }
        }
    }
    found
}

/// Whether a test is one for a process.
fn covers_process(cover: &Cover<'_>, number: &str) -> bool {
    let own = cover.ranges.iter().find(|range| range.variable == "process");
    match own.map(|range| &range.bounds) {
        Some(Bounds::Set(words)) => words.iter().any(|word| word == number),
        _ => process_number(&cover.test.process) == number,
    }
}

/// What a test does not cover of a process of a procedure.
fn gaps(summary: &Summary<'_>, process: &ProcessSummary<'_>, cover: &Cover<'_>) -> Vec<String> {
    let Some(code) = of(cover.test) else { return Vec::new() };
    let mut gaps = Vec::new();
    let weld = Weld { fillet: summary.weld == Some(WeldType::Fillet), pipe: summary.is_pipe() };
    let backed = summary.backed();
    let level = |code: &str| matches!(code, "PA" | "PB" | "PC" | "PD");
    let turned = !summary.positions.is_empty() && summary.positions.iter().all(|own| level(&own.value));
    for range in cover.ranges.iter().filter(|range| code.speaks_of(range.variable, weld)) {
        let reference = &range.reference;
        let limit = range.bounds.text();
        let outside = |value: &Value<Band>| {
            let bounds = range.bounds_for(value.is_customary());
            let Bounds::Span { span, .. } = bounds else { return false };
            !bounds.holds(value.value.closed().map(|mm| measure::converted(mm, "mm", span.unit)))
        };
        let sizes = |what: &str, values: &[Value<Band>]| -> Vec<String> {
            let outside = values.iter().filter(|value| outside(value));
            outside.map(|value| format!("{what} {} outside {limit} ({reference})", value.stated)).collect()
        };
        match range.variable {
            "weld_type" if !range.has(if weld.fillet { "fillet" } else { "groove" }) => {
                gaps.push(format!("the test is a {limit} weld ({reference})"));
            }
            "deposit_thickness" if !weld.fillet => {
                let alone = (summary.processes.len() == 1).then(|| summary.thickness.last()).flatten();
                let value = process.deposit.as_ref().or(alone);
                gaps.extend(sizes("deposit", value.map(std::slice::from_ref).unwrap_or_default()));
            }
            "base_metal_thickness" | FILLET_THICKNESS => gaps.extend(sizes("thickness", &summary.thickness)),
            // A plate test covers thinner pipe where the pipe is turned.
            "outside_diameter" if turned && cover.ranges.iter().any(|own| own.variable == TURNED_PIPE) => {}
            TURNED_PIPE if !turned => {}
            "outside_diameter" | TURNED_PIPE => gaps.extend(sizes("diameter", &summary.diameter)),
            "progression" => {
                let vertical = summary.positions.iter().filter_map(|position| positions::get(&position.value));
                let word = summary.downward.map(|down| if down { "downward" } else { "upward" });
                if let (true, Some(word)) = (vertical.into_iter().any(|row| row.vertical), word)
                    && !range.has(word)
                {
                    gaps.push(format!("progression {word}, the test was {limit} ({reference})"));
                }
            }
            "backing" if !backed && !range.has("without backing") => {
                gaps.push(format!("the root has no backing, the test had one ({reference})"));
            }
            "position" | "position_small_pipe" | "position_fillet" => {
                gaps.extend(summary.positions.iter().filter_map(|position| {
                    let row = positions::get(&position.value)?;
                    (!position_covered(row, summary.downward, range))
                        .then(|| format!("position {} outside {limit} ({reference})", position.stated))
                }));
            }
            _ => gaps.extend(code.not_covered(range, summary, process)),
        }
    }
    gaps
}

fn position_covered(row: &positions::Row, downward: Option<bool>, range: &Qualified) -> bool {
    let by_code = std::iter::once(&row.code).chain(row.equivalent).any(|code| {
        let other = positions::get(code);
        let opposite = other.is_some_and(|other| {
            downward == Some(true) && other.progression == positions::Progression::Upward
                || downward == Some(false) && other.progression == positions::Progression::Downward
        });
        !opposite && range.has(code)
    });
    by_code || row.parts().iter().all(|part| range.has(part))
}
