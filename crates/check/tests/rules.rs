//! Every check finds its faulty cases, stays quiet on its sound ones and explains itself.

mod common;

use std::fs;
use std::path::Path;

use common::{edited, starter};
use seamwright_check::rule::Case;
use seamwright_check::{Context, Outcome, check_with, rules::RULES};
use seamwright_handbook::measure::figure;
use seamwright_model::Document;
use seamwright_model::finding::Figures;

fn outcome(case: &Case) -> Outcome {
    let document = edited(&starter(case.base), case);
    assert!(matches!(document, Document::Procedure(_)), "{}", case.base);
    // A day after every date of the starter library.
    let today = Some("2026-12-31".parse().expect("a day"));
    check_with(&document, &Context { today, ..Context::default() })
}

#[test]
fn each_check_finds_its_fault_and_stays_quiet_on_good_practice() {
    let mut wrong = Vec::new();
    for rule in RULES {
        assert!(
            !rule.faulty.is_empty() && !rule.sound.is_empty() || rule.name.starts_with("deviation"),
            "{}",
            rule.name
        );
        for case in rule.faulty {
            let outcome = outcome(case);
            if !outcome.findings.iter().chain(&outcome.folded).any(|finding| finding.check == rule.name) {
                wrong.push(format!(
                    "{} does not find {} {:?}: {:#?}",
                    rule.name, case.base, case.edits, outcome.findings
                ));
            }
        }
        for case in rule.sound {
            let outcome = outcome(case);
            let found: Vec<_> =
                outcome.findings.iter().chain(&outcome.folded).filter(|finding| finding.check == rule.name).collect();
            if !found.is_empty() {
                wrong.push(format!("{} cries wolf on {} {:?}: {found:#?}", rule.name, case.base, case.edits));
            }
        }
    }
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn a_limit_has_the_figures_that_are_printed() {
    let mut wrong = Vec::new();
    for case in RULES.iter().flat_map(|rule| rule.faulty) {
        let outcome = outcome(case);
        for limit in outcome.findings.iter().filter_map(|finding| finding.limit.as_ref()) {
            let Some(own) = &limit.figures else {
                // Hours and minutes are two units.
                let bound = limit.ends_with(" minimum") || limit.ends_with(" maximum");
                if bound && limit.starts_with(|own: char| own.is_ascii_digit()) && !limit.contains(" h ") {
                    wrong.push(format!("{limit:?}"));
                }
                continue;
            };
            let figures = limit.split(&own.unit).next().unwrap_or_default();
            let stands = |end: &f64| figures.split([' ', '-', '–']).any(|part| part == figure(*end));
            // A quantity may be printed in fractions, which its own reader knows.
            let printed = Figures::stated(limit)
                .map_or_else(|| own.low.iter().chain(&own.high).all(stands), |printed| printed == *own);
            if !printed {
                wrong.push(format!("{limit:?}"));
            }
        }
    }
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
}

#[test]
fn names_are_sorted_unique_and_documented() {
    assert!(RULES.len() >= 26, "{}", RULES.len());
    assert!(RULES.windows(2).all(|pair| pair[0].name < pair[1].name));
    for rule in RULES {
        assert!(rule.name.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'-'), "{}", rule.name);
        for part in [rule.finds, rule.matters, rule.remedy, rule.limit] {
            assert!(part.ends_with('.') && part.len() > 15, "{}: {part}", rule.name);
        }
        for table in rule.tables {
            assert!(seamwright_handbook::table(table).is_ok(), "{}: {table}", rule.name);
        }
    }
}

#[test]
fn the_starter_library_has_no_finding() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../procedures");
    let (mut count, mut loud) = (0, Vec::new());
    for entry in fs::read_dir(folder).expect("the starter library") {
        let path = entry.expect("an entry").path();
        let name = path.file_stem().expect("a name").to_string_lossy().into_owned();
        if path.extension().is_some_and(|ending| ending == "yaml") {
            count += 1;
            let outcome = outcome(&Case { base: Box::leak(name.clone().into_boxed_str()), edits: &[] });
            loud.extend(outcome.findings.iter().map(|finding| format!("{name}: {finding:#?}")));
        }
    }
    assert!(loud.is_empty(), "{}", loud.join("\n"));
    assert!(count >= 6);
}
