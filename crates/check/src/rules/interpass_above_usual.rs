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
    limit: "The highest figure of any source for the family is the limit of an error; the usual figure, of a caution. Where none speaks, the solidus of the metal is the limit of an error.",
    tables: &["interpass-temperature", "base-metals"],
    examine,
    faulty: &[
        Case { base: "butt-2-304l-141", edits: &[("/temperatures/interpass", "350 °C maximum")] },
        Case { base: "butt-6-copper-141", edits: &[("/temperatures/interpass", "2000-3500 °C")] },
    ],
    sound: &[Case { base: "butt-2-304l-141", edits: &[] }, Case { base: "butt-6-copper-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let Some(interpass) =
        x.view.procedure.temperatures.as_ref().and_then(|t| t.interpass.as_ref()).and_then(Stated::value)
    else {
        return;
    };
    let Some(high) = interpass.high().map(Temperature::celsius) else { return };
    let pointer = "/temperatures/interpass";
    let rows = x.view.metals.iter().filter_map(|metal| {
        let known = metal.known?;
        let own = interpass_temperature::get(metal.family())
            .map(|row| (row.envelope_max_c, row.usual_max_c, row.origin.source_ref()));
        let solidus = || known.melting_c.map(|range| (range.low, range.low, known.origin.source_of("melting_c")));
        let (envelope, usual, source) = own.or_else(solidus)?;
        Some((envelope, usual, source, metal))
    });
    let Some((envelope, usual, source, metal)) = rows.min_by(|a, b| a.0.total_cmp(&b.0)) else { return };
    let stated = interpass.spelled();
    let most = Range::new(f64::NEG_INFINITY, envelope);
    let outer = x.compare(pointer, stated, (None, Some(high)), most, "°C", &source);
    let (severity, limit) = if outer.above {
        (Severity::Error, most)
    } else if high > usual {
        (Severity::Caution, Range::new(f64::NEG_INFINITY, usual))
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
    .hint(if source.table.as_deref() == Some("base-metals") {
        "look at the figure and its unit".to_owned()
    } else {
        format!("write for example {usual:.0} °C maximum")
    });
}
