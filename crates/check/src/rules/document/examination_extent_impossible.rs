//! `examination-extent-impossible`: explanation, cases, logic.

use seamwright_handbook::measure::band;
use seamwright_handbook::setting_limits;
use seamwright_model::finding::Severity;
use seamwright_model::quantity::{Range, Share};

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use crate::rules::bounds::limits;

/// The check.
pub const RULE: Rule = Rule {
    name: "examination-extent-impossible",
    harm: Harm::Qualification,
    finds: "An extent of examination over the whole, or none of it.",
    matters: "Nobody can examine more than every weld.",
    remedy: "Write a share of the welds up to 100 %.",
    limit: "Shares from just above none to all; an error.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/inspection/0/extent", "2000 %")] }],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/inspection/0/extent", "spot")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some((limits, unit)) = limits(setting_limits::EXTENT, "") else { return };
    for (index, examination) in view.procedure.inspection.iter().enumerate() {
        let Some(extent) = examination.extent.as_deref() else { continue };
        let Ok(share) = extent.parse::<Range<Share>>() else { continue };
        let pointer = format!("/inspection/{index}/extent");
        let own = band(&share, Share::percent);
        let outer = x.compare(&pointer, extent, own, limits.envelope, unit, &limits.source);
        if outer.either() {
            x.report(Severity::Error, pointer, format!("an extent of {extent}"))
                .stated(extent)
                .limit(range_limit(limits.envelope, unit), &limits.source)
                .hint("write a share up to 100 %");
        }
    }
}
