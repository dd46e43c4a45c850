//! `heat-too-much-for-joint`: explanation, cases, logic.

use seamwright_handbook::{Range, fusion};
use seamwright_model::finding::Severity;

use crate::in_joint;
use crate::rule::{Case, Examiner, Rule, figure, range_text};

/// The check.
pub const RULE: Rule = Rule {
    name: "heat-too-much-for-joint",
    finds: "Runs that put far more heat into the joint than its metal takes.",
    matters: "Thin metal burns through, thick metal is over-welded, warped and coarse; or thickness, leg or number of runs are not those that were welded.",
    remedy: "State less current, a faster travel or fewer runs, or correct the size of the joint.",
    limit: "Net heat of all runs over the heat to melt the cross-section at the highest melting efficiency, 1/e; of a square butt in one run, its power over the least power of a line source. Above what settings in use have is a caution, far above an error.",
    tables: &["fusion-ratios", "fusion-rules", "melt-properties", "arc-voltage"],
    examine,
    faulty: &[
        Case { base: "butt-3-carbon-141", edits: &[("/parent_metals/0/thickness", "0.8 mm")] },
        Case { base: "butt-12-s355-111", edits: &[("/parent_metals/0/thickness", "5 mm")] },
        Case { base: "tee-fillet-12-s355-135", edits: &[("/weld_size/leg", "2.5 mm")] },
        Case { base: "tee-fillet-10-s355-111", edits: &[("/runs/0/travel_speed", "30-35 mm/min")] },
    ],
    sound: &[
        Case { base: "butt-3-carbon-141", edits: &[] },
        Case { base: "butt-12-s355-111", edits: &[] },
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "tee-fillet-3-6061-141", edits: &[] },
        Case { base: "butt-6-5083-141", edits: &[] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    if let Some(ratio) = in_joint::heat_ratio(view) {
        x.examined("/runs");
        let error = ratio.cold > ratio.widest.high;
        if error || ratio.middle_at_large > ratio.usual.high {
            let limit = Range::new(f64::NEG_INFINITY, if error { ratio.widest.high } else { ratio.usual.high });
            let (severity, shown) =
                if error { (Severity::Error, ratio.cold) } else { (Severity::Caution, ratio.middle_at_large) };
            let stated = format!("{} times", figure(shown));
            let limit = range_text(limit, "times");
            x.report(
                severity,
                "/runs",
                format!("the heat of all runs is {stated} what melts the cross-section of the joint at best; {limit} is in use"),
            )
            .stated(stated)
            .limit(limit, &ratio.row.origin.source_ref())
            .hint("state less current, a faster travel or fewer runs, or correct the size of the joint");
        }
    }
    let Some((run, [cold, _, _])) = in_joint::square_ratio(view) else { return };
    let Some(rule) = fusion::rule("square-cold-most") else { return };
    let Some(current) = run.quantity("current", |s| s.current.as_ref()) else { return };
    x.examined(&current.pointer);
    if cold <= rule.value.high {
        return;
    }
    let (stated, limit) = (format!("{} times", figure(cold)), format!("{} times maximum", figure(rule.value.high)));
    x.report(
        Severity::Caution,
        &current.pointer,
        format!("the arc has {stated} the power that fuses a square butt of this thickness through ({limit}): it burns through"),
    )
    .stated(stated)
    .limit(limit, &rule.origin.source_ref())
    .hint("state less current or a faster travel, or correct the thickness");
}
