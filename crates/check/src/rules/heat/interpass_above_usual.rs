//! `interpass-above-usual`: explanation, cases, logic.

use seamwright_handbook::{Band, Heat, interpass_temperature, measure};
use seamwright_model::finding::Severity;

use crate::rule::range_limit;
use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds;

/// The check.
pub const RULE: Rule = Rule {
    name: "interpass-above-usual",
    harm: Harm::Metal,
    finds: "An interpass temperature above the highest that the metal takes.",
    matters: "Slow cooling coarsens the grain, sensitises stainless steel, softens hardened metal and widens the pool.",
    remedy: "Let the joint cool, and state the lower figure.",
    limit: "The highest figure of any source for the family, and a margin, is the limit of an error; the usual figure, of a caution, and up to half the way between them of a note. Where none speaks, the solidus of the metal is the limit of an error.",
    tables: &["interpass-temperature", "base-metals", "settings-rules"],
    examine,
    faulty: &[
        Case { base: "butt-2-304l-141", edits: &[("/temperatures/interpass", "350 °C maximum")] },
        Case { base: "butt-6-copper-141", edits: &[("/temperatures/interpass", "2000-3500 °C")] },
        Case { base: "butt-2-304l-141", edits: &[("/temperatures/interpass", "360 °F maximum")] },
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
                ("/temperatures/interpass", "250 °C maximum"),
            ],
        },
        // 300 °F is printed beside 150 °C.
        Case { base: "butt-2-304l-141", edits: &[("/temperatures/interpass", "300 °F maximum")] },
        Case { base: "butt-2-304l-141", edits: &[] },
        Case { base: "butt-6-copper-141", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let Some(interpass) = x.view.procedure.interpass() else { return };
    let Some(high) = interpass.high() else { return };
    let customary = measure::is_customary(interpass.unit());
    let pointer = "/temperatures/interpass";
    let view = x.view;
    let rows = view.heated_as_they_stand().filter_map(|metal| {
        let known = metal.known?;
        let own = interpass_temperature::get(metal.family())
            .map(|row| (row.envelope(), row.usual(), row.origin.source_ref()));
        let solidus = || {
            let celsius = Heat::new(known.melting_c?.low, None);
            Some((celsius, celsius, known.origin.source_of("melting_c")))
        };
        let (envelope, usual, source) = own.or_else(solidus)?;
        Some((envelope, usual, source, metal))
    });
    let Some((envelope, usual, source, metal)) = rows.min_by(|a, b| a.0.celsius.total_cmp(&b.0.celsius)) else {
        return;
    };
    let stated = interpass.spelled();
    let (envelope, unit) = envelope.column(customary);
    let (usual, usual_unit) = usual.column(customary);
    let most = Band::at_most(envelope);
    let outer = x.compare(pointer, stated, Band::at_most(measure::degrees(high, unit)), most, unit, &source);
    // A few degrees over the highest figure of a source are no ruin: that asks for more.
    let far = bounds::typical(Band::at_most(measure::degrees(high, unit)), most)
        .is_some_and(|grade| grade >= Severity::Caution);
    let (severity, limit) = if outer.above && far {
        (Severity::Error, range_limit(most, unit))
    } else {
        let most = Band::at_most(usual);
        let high = measure::degrees(high, usual_unit);
        let over = bounds::typical(Band::at_most(high), most).is_some();
        if !outer.above && !over {
            return;
        }
        let little = usual_unit == unit && high <= f64::midpoint(usual, envelope);
        let severity = if outer.above || !little { Severity::Caution } else { Severity::Note };
        (severity, range_limit(most, usual_unit))
    };
    x.report(
        severity,
        pointer,
        format!("interpass temperature {stated} is high for {} ({})", metal.stated.specification, limit),
    )
    .stated(stated)
    .limit(limit, &source)
    .hint(if source.table.as_deref() == Some("base-metals") {
        "look at the figure and its unit".to_owned()
    } else {
        format!("write for example {usual:.0} {usual_unit} maximum")
    });
}
