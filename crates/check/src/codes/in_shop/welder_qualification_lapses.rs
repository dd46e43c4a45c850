//! `welder-qualification-lapses`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::CodeName;

use crate::codes::welders;
use crate::rule::{Case, Examiner, Harm, Rule};
use crate::subject::InShop;

/// The check.
pub const RULE: Rule<InShop> = Rule {
    name: "welder-qualification-lapses",
    harm: Harm::Qualification,
    finds: "Who of the shop may weld a process of a procedure under a code, and until when.",
    matters: "A qualification lapses after six months without the process; work that is planned later needs it confirmed.",
    remedy: "Confirm the use of the process before that day.",
    limit: "ISO 9606-1 9.2 and 9.3, ASME IX QW-322.",
    tables: &["iso-9606-1-rules", "asme-ix-rules"],
    examine,
    faulty: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_, InShop>) {
    let view = x.view.view;
    let code = view.procedure.qualification.as_ref().and_then(|own| own.code);
    if code.is_none_or(|code| code == CodeName::None) {
        return;
    }
    let today = view.today.or(view.procedure.identification.date);
    let fits = welders::fits(view, x.view.shop);
    let summary = crate::codes::summary::Summary::of(view);
    for process in &summary.processes {
        let able: Vec<String> = fits
            .iter()
            .filter(|fit| fit.process == process.number && fit.gaps.is_empty())
            .filter(|fit| fit.cover.lapses.zip(today).is_none_or(|(lapses, today)| today <= lapses))
            .map(|fit| {
                let until = fit.cover.lapses.map_or_else(String::new, |date| format!(" until {date}"));
                let why =
                    if fit.cover.because.is_empty() { String::new() } else { format!(" ({})", fit.cover.because) };
                format!("{}{until}{why}", fit.cover.welder.name)
            })
            .collect();
        if !able.is_empty() {
            x.examined(process.pointer.clone());
            x.report(
                Severity::Note,
                process.pointer.clone(),
                format!("{} may be welded by {}", process.name, able.join("; ")),
            )
            .stated(process.name.clone());
        }
    }
}
