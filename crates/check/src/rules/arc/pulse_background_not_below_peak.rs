//! `pulse-background-not-below-peak`: explanation, cases, logic.

use seamwright_handbook::{practice, setting_limits};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Current;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::limits;

/// The check.
pub const RULE: Rule = Rule {
    name: "pulse-background-not-below-peak",
    harm: Harm::Fusion,
    finds: "A background current that is not below the peak current.",
    matters: "Without a step between the two there is no pulse.",
    remedy: "Write the two currents as set at the machine.",
    limit: "The background current lies below the peak current, else an error; far from the usual share of a tungsten arc, common practice, a note.",
    tables: &["practice-statements", "setting-limits"],
    examine,
    faulty: &[Case {
        base: "butt-2-304l-141",
        edits: &[(
            "/processes/141/pulse",
            "{peak_current: 40 A, background_current: 90 A, frequency: 2 Hz, peak_time: 40 %}",
        )],
    }],
    sound: &[Case {
        base: "butt-2-304l-141",
        edits: &[(
            "/processes/141/pulse",
            "{peak_current: 90 A, background_current: 40 A, frequency: 2 Hz, peak_time: 40 %}",
        )],
    }],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    for run in &view.runs {
        let (Some(peak), Some(background)) =
            (run.value(&keys::PULSE_PEAK_CURRENT), run.value(&keys::PULSE_BACKGROUND_CURRENT))
        else {
            continue;
        };
        x.examined(&background.pointer);
        let (Some(top), Some(base)) = (
            peak.value.low().or(peak.value.high()).map(Current::amperes),
            background.value.high().or(background.value.low()).map(Current::amperes),
        ) else {
            continue;
        };
        let (severity, limit, source) = if base >= top {
            let text = format!("below {}", peak.value.spelled());
            (Severity::Error, text.into(), practice::PULSE_STEP.origin.source_ref())
        } else {
            // Wire has its own row of pulse settings, which another check holds.
            let Some((share, unit)) = limits(setting_limits::PULSE_BACKGROUND, run.number()) else { continue };
            let usual = share.usual.unwrap_or(share.envelope);
            if usual.contains(base / top) {
                continue;
            }
            (Severity::Note, crate::rule::range_limit(usual, unit), share.source)
        };
        x.report(
            severity,
            &background.pointer,
            format!("background current {} beside a peak of {}", background.value.spelled(), peak.value.spelled()),
        )
        .stated(background.value.spelled())
        .limit(limit, &source)
        .hint("write a background current below the peak current");
    }
}
