//! `electrode-exposure-too-long`: explanation, cases, logic.

use seamwright_calc::Band;
use seamwright_calc::band::above;
use seamwright_handbook::measure::figure;
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Duration;
use seamwright_model::source::escape;
use seamwright_model::stated::Stated;

use super::low_hydrogen::{self, electrode};
use crate::rule::{Case, Examiner, Harm, Rule, range_limit};

/// The check.
pub const RULE: Rule = Rule {
    name: "electrode-exposure-too-long",
    harm: Harm::Metal,
    finds: "Low-hydrogen electrodes that may lie out of the oven longer than the code allows.",
    matters: "The covering takes up moisture from the air, and its hydrogen cracks the weld.",
    remedy: "Issue what is welded within the time, and dry once what lay longer.",
    limit: "Exposure by class of AWS D1.1 Table 7.1: past it a caution, past what tests may prove an error.",
    tables: &["electrode-exposure"],
    examine,
    faulty: &[
        electrode!("E7018", "exposure", "5 h maximum"),
        electrode!("E7018", "exposure", "241 min"),
        electrode!("E7018-H4R", "exposure", "10 h maximum"),
        electrode!("E8018-C3", "exposure", "3 h"),
        electrode!("E9018-B3", "exposure", "90 min"),
        electrode!("E11018-M", "exposure", "1 h"),
    ],
    sound: &[
        electrode!("E7018", "exposure", "4 h maximum"),
        electrode!("E7018", "exposure", "240 min"),
        electrode!("E7018-H4R", "exposure", "9 h maximum"),
        electrode!("E7018-1", "exposure", "4 h"),
        electrode!("E8018-C3", "exposure", "2 h"),
        electrode!("E9018-B3", "exposure", "1 h"),
        electrode!("E11018-M", "exposure", "30 min"),
        electrode!("E6010", "exposure", "24 h"),
        Case { base: "butt-12-s355-111", edits: &[("/fillers/fill-electrode/exposure", "8 h")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    for (name, filler, row) in low_hydrogen::electrodes(x.view.procedure) {
        let Some(stated) = filler.exposure.as_ref().and_then(Stated::value) else { continue };
        let Some(longest) = stated.high().or(stated.low()).map(Duration::hours) else { continue };
        let pointer = format!("/fillers/{}/exposure", escape(name));
        x.examined(&pointer);
        if !above(longest, row.exposure_h) {
            continue;
        }
        let limit = range_limit(Band::at_most(row.exposure_h), "h");
        let proved = row.tested_h.filter(|tested| !above(longest, *tested));
        let (severity, more) = match proved {
            Some(tested) => (Severity::Caution, format!(", {} h where tests prove it", figure(tested))),
            None => (Severity::Error, String::new()),
        };
        let message = format!("{} may not lie out for {} ({limit}{more})", filler.designation, stated.spelled());
        x.report(severity, pointer, message)
            .stated(stated.spelled())
            .limit(limit.clone(), &row.origin.source_ref())
            .hint(format!("write `exposure: {limit}`"));
    }
}
