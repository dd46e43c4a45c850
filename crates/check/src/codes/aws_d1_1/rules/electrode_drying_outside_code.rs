//! `electrode-drying-outside-code`: explanation, cases, logic.

use seamwright_calc::band::above;
use seamwright_handbook::Band;
use seamwright_handbook::aws_d1_1::ExposureRow;
use seamwright_handbook::measure::{band, degrees, figure, is_customary};
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Temperature;
use seamwright_model::source::escape;

use super::low_hydrogen::{self, electrode};
use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use crate::rules::electrode::drying::{temperature, time};

/// The check.
pub const RULE: Rule = Rule {
    name: "electrode-drying-outside-code",
    harm: Harm::Metal,
    finds: "Drying or holding of low-hydrogen electrodes that AWS D1.1 does not take.",
    matters: "What was dried too cold or too briefly keeps the moisture that cracks the weld, and the code does not count it as dried.",
    remedy: "Dry as the code gives for the specification of the electrode, within what its maker allows.",
    limit: "Temperature and least time of drying, and least temperature of holding, of AWS D1.1, 7.3.2, in the unit that is stated: outside is a caution.",
    tables: &["electrode-exposure"],
    examine,
    faulty: &[
        electrode!("E7018", "drying", "650 °F for 1 h"),
        electrode!("E7018", "drying", "480 °F for 2 h"),
        electrode!("E7018", "drying", "250 °C for 2 h"),
        electrode!("E8018-C3", "drying", "650 °F for 1 h"),
        electrode!("E7018", "holding", "200 °F"),
    ],
    sound: &[
        electrode!("E7018", "drying", "500-800 °F for 2 h"),
        electrode!("E7018", "drying", "260-430 °C for 2 h"),
        electrode!("E7018", "drying", "650 °F for 2 h minimum"),
        electrode!("E7018", "drying", "as the manufacturer gives"),
        electrode!("E8018-C3", "drying", "750 °F for 1 h"),
        electrode!("E7018", "holding", "250 °F"),
        electrode!("E7018", "holding", "120 °C"),
        electrode!("E6010", "drying", "200 °F for 1 h"),
        Case { base: "butt-12-s355-111", edits: &[("/fillers/fill-electrode/drying", "350 °C for 1 h")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for (name, filler, row) in low_hydrogen::electrodes(x.view.procedure) {
        let place = |key: &str| format!("/fillers/{}/{key}", escape(name));
        if let Some(text) = filler.drying.as_deref() {
            let hot = |fahrenheit| if fahrenheit { row.drying_f } else { row.drying_c };
            held(x, place("drying"), ("drying", &filler.designation, text), row, hot);
            briefly(x, place("drying"), (&filler.designation, text), row);
        }
        if let Some(text) = filler.holding.as_deref() {
            let hot = |fahrenheit| Band::at_least(if fahrenheit { row.holding_f } else { row.holding_c });
            held(x, place("holding"), ("holding", &filler.designation, text), row, hot);
        }
    }
}

/// Holds a temperature against the column of the unit that it is stated in.
fn held(
    x: &mut Examiner<'_>,
    pointer: String,
    (what, electrode, text): (&str, &str, &str),
    row: &ExposureRow,
    limit: impl Fn(bool) -> Band,
) {
    let Some(stated) = temperature(text) else { return };
    let customary = is_customary(stated.unit());
    let unit = if customary { "°F" } else { "°C" };
    let (limit, own) = (limit(customary), band(&stated, |own: Temperature| degrees(own, unit)));
    let source = row.origin.source_ref();
    if !x.compare(&pointer, text, own, limit, unit, &source).either() {
        return;
    }
    let printed = range_limit(limit, unit);
    let message = format!("{what} of {electrode} at {} lies outside what the code takes ({printed})", stated.spelled());
    x.report(Severity::Caution, pointer, message)
        .stated(text)
        .limit(printed.clone(), &source)
        .hint(format!("write a temperature of {printed} that the maker of the electrode allows"));
}

/// Holds the time of drying.
fn briefly(x: &mut Examiner<'_>, pointer: String, (electrode, text): (&str, &str), row: &ExposureRow) {
    let Some(stated) = time(text) else { return };
    let Some(shortest) = stated.low().or(stated.high()) else { return };
    if !above(row.drying_h, shortest.hours()) {
        return;
    }
    let printed = range_limit(Band::at_least(row.drying_h), "h");
    let message = format!("drying of {electrode} for {} is shorter than the code asks ({printed})", stated.spelled());
    x.report(Severity::Caution, pointer, message)
        .stated(text)
        .limit(printed.clone(), &row.origin.source_ref())
        .hint(format!("write `{}`", text.replacen(stated.spelled(), &format!("{} h", figure(row.drying_h)), 1)));
}
