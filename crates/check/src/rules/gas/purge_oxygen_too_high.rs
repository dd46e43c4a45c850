//! `purge-oxygen-too-high`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule, range_limit, range_text};
use seamwright_handbook::{Band, purge_oxygen};
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Oxygen;
use seamwright_model::stated::{OrNone, Stated};

/// The check.
pub const RULE: Rule = Rule {
    name: "purge-oxygen-too-high",
    harm: Harm::Metal,
    finds: "More oxygen behind the root than the metal stands.",
    matters: "The root tints and scales: stainless steel rusts there, titanium becomes brittle.",
    remedy: "Purge longer, seal better, and measure before the arc.",
    limit: "The most oxygen of any source is the limit of an error; the most of published pages, of a caution.",
    tables: &["purge-oxygen"],
    examine,
    faulty: &[
        Case { base: "butt-2-304l-141", edits: &[("/backing_gas/oxygen", "5000 ppm maximum")] },
        Case { base: "butt-3-titanium-141", edits: &[("/backing_gas/oxygen", "200 ppm maximum")] },
    ],
    sound: &[
        Case { base: "butt-2-304l-141", edits: &[] },
        Case { base: "butt-2-304l-141", edits: &[("/backing_gas/oxygen", "100 ppm maximum")] },
        Case { base: "butt-3-titanium-141", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let Some(gas) = x.view.procedure.backing_gas.as_ref().and_then(OrNone::value) else { return };
    let Some(range) = gas.oxygen.as_ref().and_then(Stated::value) else { return };
    let Some(most) = range.high().or(range.low()).map(Oxygen::ppm) else { return };
    let limits = x.view.metals.iter().filter_map(|metal| Some((purge_oxygen::range(metal.family())?, metal)));
    let Some((limits, metal)) = limits.min_by(|a, b| a.0.envelope.high.total_cmp(&b.0.envelope.high)) else { return };
    let (pointer, stated) = ("/backing_gas/oxygen", range.spelled());
    let outer = x.compare(pointer, stated, Band::at_most(most), limits.envelope, "ppm", &limits.source);
    let usual = limits.usual.unwrap_or(limits.envelope);
    let (severity, limit) = if outer.above {
        (Severity::Error, limits.envelope.high)
    } else if most > usual.high {
        // What shops hold in practice is less than what the makers of purge equipment ask for.
        let practice = purge_oxygen::practice(metal.family()).is_some_and(|practice| most <= practice.low);
        (if practice { Severity::Note } else { Severity::Caution }, usual.high)
    } else {
        return;
    };
    let limit = range_limit(Band::at_most(limit), "ppm");
    x.report(
        severity,
        pointer,
        format!("oxygen {stated} behind the root of {} is high ({limit})", metal.stated.specification),
    )
    .stated(stated)
    .limit(limit, &limits.source)
    .hint(format!("write `oxygen: {}`", range_text(Band::at_most(usual.high), "ppm")));
}
