//! `impact-colder-than-filler`: explanation, cases, logic.

use seamwright_calc::Band;
use seamwright_calc::band::below;
use seamwright_handbook::designation::symbols;
use seamwright_handbook::{SourceRef, designation, toughness as delivered};
use seamwright_model::finding::Severity;

use super::impact_colder_than_metal::{AT, asked};
use crate::rule::{Case, Examiner, Harm, Rule, range_limit};

/// A fillet of the library with an electrode, with what toughness is asked for.
macro_rules! tough {
    ($filler:literal, $toughness:literal) => {
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/fillers/electrode/designation", $filler),
                ("/parent_metals/0/specification", "S355NL"),
                ("/qualification", concat!("{route: test-record, code: iso-15614-1, toughness: ", $toughness, "}")),
            ],
        }
    };
}

/// The check.
pub const RULE: Rule = Rule {
    name: "impact-colder-than-filler",
    harm: Harm::Metal,
    finds: "Toughness asked for at a lower temperature than that at which the class of the filler is tested, or of a class that is not tested.",
    matters: "The weld metal of another batch need not hold at that temperature though that of the test did.",
    remedy: "Choose a class that is tested at that temperature, such as E7018-1, or agree on the certificate of the batch.",
    limit: "Temperature of the Charpy V test by class of AWS A5 and by the symbol of ISO; a caution, for a make may be better than its class.",
    tables: &["impact-fillers", "designation-symbols"],
    examine,
    faulty: &[
        tough!("E7018", "27 J at -31 °C"),
        tough!("E7018", "20 J at -25 °F"),
        tough!("ISO 2560-A E 42 4 B 42 H5", "27 J at -41 °C"),
        tough!("E6013", "27 J at 0 °C"),
    ],
    sound: &[
        tough!("E7018", "27 J at -30 °C"),
        tough!("E7018", "20 J at -20 °F"),
        tough!("E7018-1", "27 J at -45 °C"),
        tough!("ISO 2560-A E 42 4 B 42 H5", "27 J at -40 °C"),
        tough!("E6013", "not required"),
        Case { base: "tee-fillet-10-s355-111", edits: &[] },
    ],
};

/// Temperature of the test of a class in °C and °F; nothing inside where the class has no test.
#[expect(clippy::option_option, reason = "an unknown class, no test and a test are three answers")]
fn tested(designation: &str) -> Option<Option<(f64, Option<f64>, SourceRef)>> {
    let read = designation::parse(designation).ok()?;
    if let Some(row) = delivered::filler(&read.class) {
        return Some(row.test_c.map(|own| (own, row.test_f, row.origin.source_ref())));
    }
    let own = read.impact_c?;
    let symbol = symbols::of(read.standard, "impact").find(|row| row.impact_c == read.impact_c)?;
    Some(Some((own, None, symbol.origin.source_ref())))
}

fn examine(x: &mut Examiner<'_>) {
    let Some((celsius, text)) = asked(x.view) else { return };
    for (name, filler) in x.view.procedure.fillers.iter() {
        let Some(found) = tested(&filler.designation) else { continue };
        x.examined(format!("/fillers/{}/designation", seamwright_model::source::escape(name)));
        let Some((own, fahrenheit, source)) = found else {
            let message = format!("{text} is asked for, and the class {} has no impact test", filler.designation);
            x.report(Severity::Caution, AT, message)
                .stated(text)
                .hint("choose a class that is tested at that temperature, such as E7018-1");
            return;
        };
        if !below(celsius, own) || fahrenheit.is_some_and(|own| !below(celsius * 1.8 + 32.0, own)) {
            continue;
        }
        let limit = range_limit(Band::at(own), "°C");
        let message = format!("{text} is asked for, and {} is tested at {limit}", filler.designation);
        x.report(Severity::Caution, AT, message)
            .stated(text)
            .limit(limit, &source)
            .hint("choose a class that is tested at that temperature, or agree on the certificate of the batch");
        return;
    }
}
