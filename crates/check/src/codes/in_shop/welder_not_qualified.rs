//! `welder-not-qualified`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::CodeName;

use crate::codes::welders::{self, Fit};
use crate::rule::{Case, Examiner, Harm, Rule};
use crate::subject::InShop;

/// The check.
pub const RULE: Rule<InShop> = Rule {
    name: "welder-not-qualified",
    harm: Harm::Qualification,
    finds: "A process of a procedure under a code that no welder of the shop may weld, or whose welders' qualifications lapse.",
    matters: "A code asks for qualified welders beside a qualified procedure.",
    remedy: "Test a welder in the position, with the filler and the deposit of the procedure, or confirm the last use.",
    limit: "ISO 9606-1 and ASME IX QW-452, QW-461 and QW-433; use within six months.",
    tables: &["iso-9606-1-ranges", "iso-9606-1-positions", "asme-ix-ranges", "asme-ix-welder-positions"],
    examine,
    // In the example shop nobody may weld 111 in a fixed pipe.
    faulty: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[] }],
    sound: &[
        Case { base: "pipe-butt-p235gh-141-111", edits: &[("/qualification", "{route: none, code: none}")] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[("shop:/welders", "[]")] },
    ],
};

fn examine(x: &mut Examiner<'_, InShop>) {
    let view = x.view.view;
    let code = view.procedure.qualification.as_ref().and_then(|own| own.code);
    if x.view.shop.welders.is_empty() || code.is_none_or(|code| code == CodeName::None) {
        return;
    }
    let today = view.today.or(view.procedure.identification.date);
    let fits = welders::fits(view, x.view.shop);
    let summary = crate::codes::summary::Summary::of(view);
    for process in &summary.processes {
        x.examined(process.pointer.clone());
        let (able, others): (Vec<&Fit<'_>>, Vec<&Fit<'_>>) =
            fits.iter().filter(|fit| fit.process == process.number).partition(|fit| fit.gaps.is_empty());
        let valid = |fit: &&&Fit<'_>| match (fit.cover.lapses, today) {
            (Some(lapses), Some(today)) => today <= lapses,
            _ => true,
        };
        let told = |fit: &Fit<'_>| {
            let until = fit.cover.lapses.map_or_else(String::new, |date| format!(" until {date}"));
            let number = fit.cover.test.number.as_deref().map_or_else(String::new, |number| format!(" ({number})"));
            format!("{}{number}{until}", fit.cover.welder.name)
        };
        let welders: Vec<String> = able.iter().filter(valid).map(|fit| told(fit)).collect();
        let lapsed: Vec<String> = able.iter().filter(|fit| !valid(fit)).map(|fit| told(fit)).collect();
        let gaps: Vec<String> =
            others.iter().map(|fit| format!("{}: {}", fit.cover.welder.name, fit.gaps.join(", "))).collect();
        let (severity, message, hint) = if !welders.is_empty() {
            continue;
        } else if lapsed.is_empty() {
            let hint = if gaps.is_empty() {
                format!("no welder of the shop has a test with {}", process.name)
            } else {
                format!("nearest are {}", gaps.join("; "))
            };
            (
                Severity::Caution,
                format!("no welder of the shop is qualified for {} in this procedure", process.name),
                hint,
            )
        } else {
            let message = format!("the qualification for {} has lapsed: {}", process.name, lapsed.join(", "));
            (Severity::Caution, message, "write the date of the last use, or test again".to_owned())
        };
        let report = x.report(severity, process.pointer.clone(), message).stated(process.name.clone());
        let source = fits.first().and_then(|fit| fit.cover.ranges.first()).map(|range| range.source.clone());
        let report = match source {
            Some(source) => report.limit("the tests of the shop's welders", &source),
            None => report,
        };
        report.hint(format!("{hint}; verify against your edition"));
    }
}
