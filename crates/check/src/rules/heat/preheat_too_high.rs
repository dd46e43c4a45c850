//! `preheat-too-high`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use seamwright_handbook::{Band, Heat, Size, interpass_temperature, measure, metal_heat};
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "preheat-too-high",
    harm: Harm::Metal,
    finds: "A preheat higher than the metal stands.",
    matters: "Hot aluminium softens and its magnesium alloys corrode; stainless steel loses corrosion resistance; titanium takes up air.",
    remedy: "Preheat less, only to drive off moisture; use helium or more current on thick aluminium.",
    limit: "The highest preheat of any source is the limit of an error; the usual one, of a caution. Where none speaks, the highest interpass temperature of the metal is the limit of an error, else its solidus.",
    tables: &["preheat-practice", "interpass-temperature", "base-metals"],
    examine,
    faulty: &[
        Case { base: "butt-6-5083-141", edits: &[("/temperatures/preheating", "200 °C minimum")] },
        Case { base: "pipe-butt-2205-141", edits: &[("/temperatures/preheating", "120-140 °C")] },
        Case { base: "butt-12-s355-111", edits: &[("/temperatures/preheating", "400 °C minimum")] },
    ],
    sound: &[
        // Beside a metal that asks for preheat, stainless steel is heated with it.
        Case {
            base: "pipe-butt-304l-141-pc",
            edits: &[
                (
                    "/parent_metals",
                    "[{specification: A335-P22, thickness: 5 mm}, {specification: A312 TP304L, thickness: 5 mm}]",
                ),
                ("/temperatures/preheating", "150 °C minimum"),
            ],
        },
        Case { base: "butt-6-5083-141", edits: &[("/temperatures/preheating", "50-90 °C")] },
        Case { base: "butt-6-copper-141", edits: &[] },
        Case { base: "butt-12-s355-111", edits: &[("/temperatures/preheating", "150 °C minimum")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let Some(range) = x.view.procedure.preheating() else { return };
    // A minimum alone is held against the limit too: the joint is at least that hot.
    let Some(most) = range.high().or(range.low()) else { return };
    let view = x.view;
    let rows = view.heated_as_they_stand().filter_map(|metal| {
        let thickness = metal.thickness().or_else(|| Size::from_mm(0.0))?;
        let known = metal.known?;
        let own = metal_heat::preheat(known, thickness).and_then(|row| {
            let celsius = |figure: Option<f64>| Some(Heat::new(figure?, None));
            Some((celsius(row.envelope_max_c)?, celsius(row.usual_max_c)?, row.origin.source_ref()))
        });
        let between_runs = || {
            let row = interpass_temperature::get(known.family)?;
            Some((row.envelope(), row.envelope(), row.origin.source_ref()))
        };
        let solidus = || {
            let celsius = Heat::new(known.melting_c?.low, None);
            Some((celsius, celsius, known.origin.source_of("melting_c")))
        };
        let (envelope, usual, source) = own.or_else(between_runs).or_else(solidus)?;
        Some((envelope, usual, source, metal))
    });
    let Some((envelope, usual, source, metal)) = rows.min_by(|a, b| a.0.celsius.total_cmp(&b.0.celsius)) else {
        return;
    };
    let (pointer, stated) = ("/temperatures/preheating", range.spelled());
    let customary = measure::is_customary(range.unit());
    let ((envelope, unit), (usual, usual_unit)) = (envelope.column(customary), usual.column(customary));
    let limit = Band::at_most(envelope);
    let own = Band::at_most(measure::degrees(most, unit));
    let (severity, limit) = if x.compare(pointer, stated, own, limit, unit, &source).above {
        (Severity::Error, range_limit(limit, unit))
    } else if measure::degrees(most, usual_unit) > usual {
        (Severity::Caution, range_limit(Band::at_most(usual), usual_unit))
    } else {
        return;
    };
    x.report(severity, pointer, format!("preheat {stated} is too high for {} ({limit})", metal.stated.specification))
        .stated(stated)
        .limit(limit, &source)
        .hint(if source.table.as_deref() == Some("base-metals") {
            "look at the figure and its unit".to_owned()
        } else {
            format!("write a preheat of at most {usual:.0} {usual_unit}")
        });
}
