//! The heat of a joint beside what fuses it, in one shape for too little of it and too much.

use seamwright_handbook::measure::figure;
use seamwright_handbook::{Band, fusion};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_weld::in_joint;

use crate::rule::{Examiner, range_limit};

/// Which end of the heat is held.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Heat {
    TooLittle,
    TooMuch,
}

impl Heat {
    /// The end of a range that is a limit here.
    fn limit(self, range: Band) -> Band {
        match self {
            Self::TooLittle => Band::at_least(range.low),
            Self::TooMuch => Band::at_most(range.high),
        }
    }
}

fn outside(value: f64, limit: Band) -> bool {
    value < limit.low || value > limit.high
}

/// Holds the heat of all runs, and of the one run of a square butt, against one end.
pub(super) fn examine(x: &mut Examiner<'_>, heat: Heat) {
    all_runs(x, heat);
    square_butt(x, heat);
}

fn all_runs(x: &mut Examiner<'_>, heat: Heat) {
    let Some(ratio) = in_joint::heat_ratio(x.view) else { return };
    x.examined("/runs");
    let (best, middle, remedy) = match heat {
        Heat::TooLittle => (ratio.hot, ratio.middle_at_small, "more current, a slower travel or more runs"),
        Heat::TooMuch => (ratio.cold, ratio.middle_at_large, "less current, a faster travel or fewer runs"),
    };
    let held = [(Severity::Error, best, ratio.widest), (Severity::Caution, middle, ratio.usual)];
    let held = held.map(|(severity, shown, range)| (severity, shown, heat.limit(range)));
    let Some((severity, shown, limit)) = held.into_iter().find(|(_, shown, limit)| outside(*shown, *limit)) else {
        return;
    };
    let (stated, limit) = (format!("{} times", figure(shown)), range_limit(limit, "times"));
    x.report(
        severity,
        "/runs",
        format!(
            "the heat of all runs is {stated} what melts the cross-section of the joint at best; {limit} is in use"
        ),
    )
    .stated(stated)
    .limit(limit, &ratio.row.origin.source_ref())
    .hint(format!("state {remedy}, or correct the size of the joint"));
}

fn square_butt(x: &mut Examiner<'_>, heat: Heat) {
    let view = x.view;
    let Some((run, [cold, middle, hot])) = in_joint::square_ratio(view) else { return };
    let Some(current) = run.value(&keys::CURRENT) else { return };
    let tungsten = run.process.is_some_and(|process| process.uses_tungsten);
    let least = (Severity::Error, hot, fusion::SQUARE_HOT_LEAST);
    let held = match heat {
        Heat::TooLittle if tungsten => vec![least, (Severity::Caution, middle, fusion::SQUARE_MIDDLE_LEAST)],
        Heat::TooLittle => vec![least],
        Heat::TooMuch => vec![(Severity::Caution, cold, fusion::SQUARE_COLD_MOST)],
    };
    let (then, remedy) = match heat {
        Heat::TooLittle => ("", "more current or a slower travel, or weld from both sides"),
        Heat::TooMuch => (": it burns through", "less current or a faster travel, or correct the thickness"),
    };
    x.examined(&current.pointer);
    let mut held = held.into_iter().map(|(severity, shown, rule)| (severity, shown, heat.limit(rule.value), rule));
    let Some((severity, shown, limit, rule)) = held.find(|(_, shown, limit, _)| outside(*shown, *limit)) else {
        return;
    };
    let (stated, limit) = (format!("{} times", figure(shown)), range_limit(limit, "times"));
    x.report(
        severity,
        &current.pointer,
        format!("the arc has {stated} the power that fuses a square butt of this thickness through ({limit}){then}"),
    )
    .stated(stated)
    .limit(limit, &rule.origin.source_ref())
    .hint(format!("state {remedy}"));
}
