//! `heat-too-little-for-joint`: explanation, cases, logic.

use seamwright_handbook::{Range, fusion};
use seamwright_model::finding::Severity;

use crate::in_joint;
use crate::rule::{Case, Examiner, Rule, figure, range_text};

/// The check.
pub const RULE: Rule = Rule {
    name: "heat-too-little-for-joint",
    finds: "Runs whose heat cannot melt the metal that the joint asks for.",
    matters: "Metal that is not melted is not fused, whatever the bead looks like; or the settings or the number of runs are not those that were welded.",
    remedy: "State more current, a slower travel or more runs, or correct the size of the joint.",
    limit: "Net heat of all runs over the heat to melt the cross-section at the highest melting efficiency, 1/e; of a square butt in one run, its power over the least power of a line source. Below what settings in use have is a caution, below what can be an error.",
    tables: &["fusion-ratios", "fusion-rules", "melt-properties", "arc-voltage"],
    examine,
    faulty: &[
        Case { base: "butt-3-carbon-141", edits: &[("/runs/0/current", "30-40 A")] },
        Case { base: "butt-12-s355-111", edits: &[("/parent_metals/0/thickness", "25 mm")] },
        Case { base: "pipe-butt-p91-141", edits: &[("/parent_metals/0/thickness", "20 mm")] },
        Case { base: "tee-fillet-12-s355-135", edits: &[("/runs/0/travel_speed", "1400-1500 mm/min")] },
    ],
    sound: &[
        Case { base: "butt-3-carbon-141", edits: &[] },
        Case { base: "butt-12-s355-111", edits: &[] },
        Case { base: "pipe-butt-p91-141", edits: &[] },
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "tee-fillet-12-s355-114", edits: &[] },
        Case { base: "butt-25-a36-138", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    if let Some(ratio) = in_joint::heat_ratio(view) {
        x.examined("/runs");
        let error = ratio.hot < ratio.widest.low;
        if error || ratio.middle_at_small < ratio.usual.low {
            let limit = Range::new(if error { ratio.widest.low } else { ratio.usual.low }, f64::INFINITY);
            let (severity, shown) =
                if error { (Severity::Error, ratio.hot) } else { (Severity::Caution, ratio.middle_at_small) };
            let stated = format!("{} times", figure(shown));
            let limit = range_text(limit, "times");
            x.report(
                severity,
                "/runs",
                format!("the heat of all runs is {stated} what melts the cross-section of the joint at best; {limit} is in use"),
            )
            .stated(stated)
            .limit(limit, &ratio.row.origin.source_ref())
            .hint("state more current, a slower travel or more runs, or correct the size of the joint");
        }
    }
    let Some((run, [_, middle, hot])) = in_joint::square_ratio(view) else { return };
    let (Some(hot_least), Some(middle_least)) = (fusion::rule("square-hot-least"), fusion::rule("square-middle-least"))
    else {
        return;
    };
    let Some(current) = run.quantity("current", |s| s.current.as_ref()) else { return };
    x.examined(&current.pointer);
    let tungsten = run.process.is_some_and(|process| process.uses_tungsten);
    let (severity, shown, rule) = if hot < hot_least.value.low {
        (Severity::Error, hot, hot_least)
    } else if tungsten && middle < middle_least.value.low {
        (Severity::Caution, middle, middle_least)
    } else {
        return;
    };
    let (stated, limit) = (format!("{} times", figure(shown)), format!("{} times minimum", figure(rule.value.low)));
    x.report(
        severity,
        &current.pointer,
        format!("the arc has {stated} the power that fuses a square butt of this thickness through ({limit})"),
    )
    .stated(stated)
    .limit(limit, &rule.origin.source_ref())
    .hint("state more current or a slower travel, or weld from both sides");
}
