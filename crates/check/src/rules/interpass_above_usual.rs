//! `interpass-above-usual`: explanation, cases, logic.

use seamwright_handbook::{Range, interpass_temperature};
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Temperature;
use seamwright_model::stated::Stated;

use crate::rule::range_text;
use crate::rule::{Case, Examiner, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "interpass-above-usual",
    finds: "An interpass temperature above the highest that the metal takes.",
    matters: "Slow cooling coarsens the grain, sensitises stainless steel, softens hardened metal and widens the pool.",
    remedy: "Let the joint cool, and state the lower figure.",
    limit: "The highest figure of any source for the family is the limit of an error; the usual figure, of a caution.",
    tables: &["interpass-temperature"],
    examine,
    faulty: &[Case { base: "butt-2-304l-141", edits: &[("/temperatures/interpass", "350 °C maximum")] }],
    sound: &[Case { base: "butt-2-304l-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let Some(interpass) =
        x.view.procedure.temperatures.as_ref().and_then(|t| t.interpass.as_ref()).and_then(Stated::value)
    else {
        return;
    };
    let Some(high) = interpass.high().map(Temperature::celsius) else { return };
    let pointer = "/temperatures/interpass";
    let strictest = x
        .view
        .metals
        .iter()
        .filter_map(|metal| Some((interpass_temperature::get(metal.family())?, metal)))
        .min_by(|a, b| a.0.envelope_max_c.total_cmp(&b.0.envelope_max_c));
    let Some((row, metal)) = strictest else { return };
    let stated = interpass.spelled();
    let source = row.origin.source_ref();
    let most = Range::new(f64::NEG_INFINITY, row.envelope_max_c);
    let outer = x.compare(pointer, stated, (None, Some(high)), most, "°C", &source);
    let (severity, limit) = if outer.above {
        (Severity::Error, most)
    } else if high > row.usual_max_c {
        (Severity::Caution, Range::new(f64::NEG_INFINITY, row.usual_max_c))
    } else {
        return;
    };
    x.report(
        severity,
        pointer,
        format!(
            "interpass temperature {stated} is high for {} ({})",
            metal.stated.specification,
            range_text(limit, "°C")
        ),
    )
    .stated(stated)
    .limit(range_text(limit, "°C"), &source)
    .hint(format!("write for example {:.0} °C maximum", row.usual_max_c));
}
