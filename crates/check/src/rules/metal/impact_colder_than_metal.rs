//! `impact-colder-than-metal`: explanation, cases, logic.

use seamwright_calc::Band;
use seamwright_calc::band::below;
use seamwright_handbook::measure::figure;
use seamwright_handbook::toughness as delivered;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::toughness;
use seamwright_model::quantity::Temperature;
use seamwright_weld::View;

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};

/// A fillet of the library in a steel, with what toughness is asked for.
macro_rules! tough {
    ($metal:literal, $toughness:literal) => {
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/parent_metals/0/specification", $metal),
                ("/qualification", concat!("{route: test-record, code: iso-15614-1, toughness: ", $toughness, "}")),
            ],
        }
    };
}

/// The check.
pub const RULE: Rule = Rule {
    name: "impact-colder-than-metal",
    harm: Harm::Metal,
    finds: "Toughness asked for at a lower temperature than that at which the base metal is tested as delivered.",
    matters: "The heat affected zone is hardly tougher than the plate, and the plate need not hold at that temperature.",
    remedy: "Order the quality that is tested at that temperature, or have the plate tested.",
    limit: "Temperature of the Charpy V test by grade in EN, ASTM and API standards; a caution, for the plate at hand may hold.",
    tables: &["impact-metals"],
    examine,
    faulty: &[
        tough!("S355J2+N", "27 J at -21 °C"),
        tough!("S355J2+N", "20 J at -5 °F"),
        tough!("S235JR", "27 J at 0 °C"),
        tough!("S355K2+N", "40 J at -40 °C"),
    ],
    sound: &[
        tough!("S355J2+N", "27 J at -20 °C"),
        tough!("S355J2+N", "20 J at -4 °F"),
        tough!("S235JR", "27 J at 20 °C"),
        tough!("S355NL", "27 J at -50 °C"),
        tough!("S355J2+N", "not required"),
        Case { base: "tee-fillet-10-s355-111", edits: &[] },
    ],
};

/// The temperature of the toughness that is asked for, °C, with its pointer and its text.
pub(super) fn asked<'d>(view: &View<'d>) -> Option<(f64, &'d str)> {
    let text = view.procedure.qualification.as_ref()?.toughness.as_deref()?;
    let (_, temperature) = toughness(text).ok()??;
    Some((temperature.low().or(temperature.high()).map(Temperature::celsius)?, text))
}

/// Where the toughness is stated.
pub(super) const AT: &str = "/qualification/toughness";

fn examine(x: &mut Examiner<'_>) {
    let Some((celsius, text)) = asked(x.view) else { return };
    for metal in &x.view.metals {
        let Some(known) = metal.known else { continue };
        let Some(row) = delivered::metal(known, &metal.stated.specification) else { continue };
        x.examined(AT);
        // Printed degrees Fahrenheit and Celsius of one temperature lie up to a degree apart.
        if !below(celsius, row.test_c) || row.test_f.is_some_and(|own| !below(celsius * 1.8 + 32.0, own)) {
            continue;
        }
        let limit = range_limit(Band::at(row.test_c), "°C");
        let message = format!(
            "{text} is asked for, and {} is delivered with {} J at {limit}",
            metal.stated.specification,
            figure(row.energy_j)
        );
        x.report(Severity::Caution, AT, message)
            .stated(text)
            .limit(limit, &row.origin.source_ref())
            .hint("name the quality that is tested at that temperature, or have the plate tested");
        return;
    }
}
