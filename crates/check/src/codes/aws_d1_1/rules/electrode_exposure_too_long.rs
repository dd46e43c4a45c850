//! `electrode-exposure-too-long`: explanation, cases, logic.

use seamwright_calc::Band;
use seamwright_calc::band::above;
use seamwright_handbook::aws_d1_1;
use seamwright_handbook::measure::figure;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::CodeName;
use seamwright_model::source::escape;
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};

/// A butt of A36 under AWS D1.1 with this electrode and its time out of the oven.
macro_rules! electrode {
    ($class:literal, $time:literal) => {
        Case {
            base: "butt-3-8-in-a36-111-3g",
            edits: &[("/fillers/electrode/designation", $class), ("/fillers/electrode/exposure", $time)],
        }
    };
}

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
        electrode!("E7018", "5 h maximum"),
        electrode!("E7018", "241 min"),
        electrode!("E7018-H4R", "10 h maximum"),
        electrode!("E8018-C3", "3 h"),
        electrode!("E9018-B3", "90 min"),
        electrode!("E11018-M", "1 h"),
    ],
    sound: &[
        electrode!("E7018", "4 h maximum"),
        electrode!("E7018", "240 min"),
        electrode!("E7018-H4R", "9 h maximum"),
        electrode!("E7018-1", "4 h"),
        electrode!("E8018-C3", "2 h"),
        electrode!("E9018-B3", "1 h"),
        electrode!("E11018-M", "30 min"),
        electrode!("E6010", "24 h"),
        Case { base: "butt-12-s355-111", edits: &[("/fillers/fill-electrode/exposure", "8 h")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let procedure = x.view.procedure;
    if procedure.qualification.as_ref().and_then(|own| own.code) != Some(CodeName::AwsD11) {
        return;
    }
    for (name, filler) in procedure.fillers.iter() {
        let Some(stated) = filler.exposure.as_ref().and_then(Stated::value) else { continue };
        let Some(longest) = stated.high().or(stated.low()).map(|time| time.minutes() / MINUTES) else { continue };
        let Some(row) = aws_d1_1::exposure(&filler.designation) else { continue };
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

/// Minutes in an hour.
const MINUTES: f64 = 60.0;
