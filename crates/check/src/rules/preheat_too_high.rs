//! `preheat-too-high`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Rule, range_text};
use seamwright_handbook::{Range, metal_heat};
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Temperature;
use seamwright_model::stated::Stated;

/// The check.
pub const RULE: Rule = Rule {
    name: "preheat-too-high",
    finds: "A preheat higher than the metal stands.",
    matters: "Hot aluminium softens and its magnesium alloys corrode; stainless steel loses corrosion resistance; titanium takes up air.",
    remedy: "Preheat less, only to drive off moisture; use helium or more current on thick aluminium.",
    limit: "The highest preheat of any source is the limit of an error; the usual one, of a caution.",
    tables: &["preheat-practice"],
    examine,
    faulty: &[
        Case { base: "butt-6-5083-141", edits: &[("/temperatures/preheating", "200 °C minimum")] },
        Case { base: "pipe-butt-2205-141", edits: &[("/temperatures/preheating", "120-140 °C")] },
    ],
    sound: &[
        Case { base: "butt-6-5083-141", edits: &[("/temperatures/preheating", "50-90 °C")] },
        Case { base: "butt-6-copper-141", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let temperatures = x.view.procedure.temperatures.as_ref();
    let Some(range) = temperatures.and_then(|t| t.preheating.as_ref()).and_then(Stated::value) else { return };
    // A minimum alone is held against the limit too: the joint is at least that hot.
    let Some(most) = range.high().or(range.low()).map(Temperature::celsius) else { return };
    let rows = x.view.metals.iter().filter_map(|metal| {
        let thickness = metal.thickness_mm().unwrap_or(0.0);
        let row = metal_heat::preheat(metal.known?, thickness)?;
        Some((row.envelope_max_c?, row.usual_max_c?, row, metal))
    });
    let Some((envelope, usual, row, metal)) = rows.min_by(|a, b| a.0.total_cmp(&b.0)) else { return };
    let (pointer, stated, source) = ("/temperatures/preheating", range.spelled(), row.origin.source_ref());
    let limit = Range::new(f64::NEG_INFINITY, envelope);
    let (severity, limit) = if x.compare(pointer, stated, (None, Some(most)), limit, "°C", &source).above {
        (Severity::Error, limit)
    } else if most > usual {
        (Severity::Caution, Range::new(f64::NEG_INFINITY, usual))
    } else {
        return;
    };
    let limit = range_text(limit, "°C");
    x.report(severity, pointer, format!("preheat {stated} is too high for {} ({limit})", metal.stated.specification))
        .stated(stated)
        .limit(limit, &source)
        .hint(format!("write a preheat of at most {usual:.0} °C"));
}
