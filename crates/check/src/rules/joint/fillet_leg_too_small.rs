//! `fillet-leg-too-small`: explanation, cases, logic.

use seamwright_handbook::measure::{self, band};
use seamwright_handbook::{Band, setting_limits};
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Length;

use super::measures::{legs, thickest, thicknesses};
use crate::codes;
use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::limits;

/// A tee of A36 under AWS D1.1, with its thickness and leg in inches.
macro_rules! inches {
    ($thickness:literal, $leg:literal) => {
        [
            ("/qualification", "{route: prequalified, code: aws-d1.1}"),
            ("/parent_metals", concat!("[{specification: A36, thickness: ", $thickness, "}]")),
            ("/weld_size", concat!("{leg: ", $leg, "}")),
        ]
    };
}

/// The check.
pub const RULE: Rule = Rule {
    name: "fillet-leg-too-small",
    harm: Harm::Fusion,
    finds: "A fillet leg small beside the thicker part.",
    matters: "A small bead on a thick part chills at once: it cracks or does not fuse.",
    remedy: "Write a larger leg, or preheat and say why in the notes.",
    limit: "Least leg of AWS D1.1 by the thicker part, never more than the thinner part: under that code an error, for other steel a caution; for any metal a share of the thicker part.",
    tables: &["aws-d1-1-minimum-fillet", "setting-limits"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-12-s355-135", edits: &inches!("5/16 in", "1/8 in") },
        Case { base: "tee-fillet-12-s355-135", edits: &inches!("1-1/2 in", "1/4 in") },
        Case { base: "tee-fillet-12-s355-135", edits: &[("/weld_size/leg", "2 mm"), ("/weld_size/throat", "")] },
        Case { base: "tee-fillet-3-6061-141", edits: &[("/weld_size/leg", "0.2 mm")] },
    ],
    sound: &[
        // AWS D1.1 Table 7.7 in inches: 1/8 in on 1/4 in, 3/16 in on 1/2 in, 5/16 in on 1-1/2 in.
        Case { base: "tee-fillet-12-s355-135", edits: &inches!("1/4 in", "1/8 in") },
        Case { base: "tee-fillet-12-s355-135", edits: &inches!("1/2 in", "3/16 in") },
        Case { base: "tee-fillet-12-s355-135", edits: &inches!("1-1/2 in", "5/16 in") },
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "tee-fillet-3-6061-141", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some((thinner, thicker)) = thicknesses(view) else { return };
    let Some((share, _)) = limits(setting_limits::LEG_OVER_THICKER, "") else { return };
    let Some(size) = thickest(view) else { return };
    let own = codes::governing(view.procedure).and_then(|code| code.least_leg(size));
    let coded = own.is_some();
    // For other steel the table of a code is good practice.
    let row = own.or_else(|| codes::CODES.iter().find_map(|code| code.least_leg(size)));
    let row = row.filter(|_| view.any_metal("steel"));
    for leg in legs(view) {
        let stated = leg.value.spelled();
        let unit = if measure::is_customary(leg.value.unit()) { "in" } else { "mm" };
        let own = |mm: f64| measure::converted(mm, "mm", unit);
        let least = own(share.envelope.low * thicker);
        // The leg's unit picks the leg, the plate's unit the row.
        let printed = row.as_ref().map(|row| if unit == "in" { row.inches } else { row.mm }.min(own(thinner)));
        let (least, source, severity) = match row.as_ref().zip(printed) {
            Some((row, printed)) if printed >= least => {
                let severity = if coded { Severity::Error } else { Severity::Caution };
                (printed, row.source.clone(), severity)
            }
            _ => (least.min(own(thinner)), share.source.clone(), Severity::Caution),
        };
        let (low, limit) = (own(band(leg.value, Length::mm).low), Band::at_least(least));
        if x.compare(&leg.pointer, stated, Band::at_least(low), limit, unit, &source).below {
            let text = measure::length_limit(Band::at_least(least), unit);
            x.report(severity, &leg.pointer, format!("leg {stated} is small for {} thickness ({text})", size.text()))
                .stated(stated)
                .limit(text, &source)
                .hint("write a larger leg, or give the reason as a deviation");
        }
    }
}
