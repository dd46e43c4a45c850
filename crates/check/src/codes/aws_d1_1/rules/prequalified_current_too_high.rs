//! `prequalified-current-too-high`: explanation, cases, logic.

use seamwright_calc::Band;
use seamwright_calc::band::above;
use seamwright_handbook::aws_d1_1;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{Layer, keys};
use seamwright_model::quantity::{Current, Length};
use seamwright_model::stated::Stated;

use super::prequalified;
use crate::rule::{Case, Examiner, Harm, Rule, range_limit};

/// The submerged arc butt of the library, prequalified, with one run.
macro_rules! flux {
    ($run:literal, $layer:literal, $current:literal) => {
        Case {
            base: "butt-20-a516-121",
            edits: &[
                ("/qualification", "{route: prequalified, code: aws-d1.1}"),
                ("/runs", concat!("[{run: ", $run, ", layer: ", $layer, ", process: 121, current: ", $current, "}]")),
            ],
        }
    };
}

/// The check.
pub const RULE: Rule = Rule {
    name: "prequalified-current-too-high",
    harm: Harm::Qualification,
    finds: "A current under flux above what a prequalified procedure may have.",
    matters: "A deep and narrow bead cracks along its middle, and the root burns through.",
    remedy: "Weld with less current, or qualify the procedure by test.",
    limit: "Largest current of AWS D1.1 Table 5.1 for submerged arc by weld, run and number of wires; an error. None for the last layer.",
    tables: &["aws-d1-1-prequalified"],
    examine,
    faulty: &[flux!(1, "root", "601 A"), flux!(2, "fill", "580-650 A"), flux!(1, "root", "700 A")],
    sound: &[
        flux!(1, "root", "600 A"),
        flux!(2, "fill", "550-600 A"),
        flux!(4, "cap", "700 A"),
        Case { base: "butt-20-a516-121", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    if !prequalified::applies(view) {
        return;
    }
    for run in &view.runs {
        let Some(at) = run.value(&keys::CURRENT) else { continue };
        let Some(highest) = at.value.high().map(Current::amperes) else { continue };
        let gap = view.procedure.joint.as_ref().and_then(|joint| joint.root_gap.as_ref()).and_then(Stated::value);
        let open = gap.and_then(|gap| gap.high()).is_some_and(|gap| gap.mm() > 0.0);
        let weld = match prequalified::weld(view, run) {
            "fillet" => "fillet",
            "root" if open && gap.and_then(|gap| gap.low()).map(Length::mm) != Some(0.0) => "groove root with opening",
            "root" => "groove root without opening",
            _ if run.run.layer == Some(Layer::Cap) => "groove cap",
            _ => "groove fill",
        };
        let wires = run.setting(&keys::NUMBER_OF_WIRES);
        let several = wires.and_then(|at| at.value.trim().parse::<u32>().ok()).is_some_and(|wires| wires > 1);
        let rows = aws_d1_1::limits(aws_d1_1::quantity::CURRENT, run.number(), "");
        let rows = rows.into_iter().filter(|row| row.weld == Some(weld));
        // Several wires may be in parallel or have sources of their own: the wider limit rules.
        let mut own = rows.filter(|row| (row.electrodes == Some("single")) != several);
        let Some(row) = own.next() else { continue };
        x.examined(&at.pointer);
        if several && own.any(|row| row.maximum.is_none()) {
            continue;
        }
        let Some(most) = row.maximum.filter(|most| above(highest, *most)) else { continue };
        let limit = range_limit(Band::at_most(most), "A");
        let message = format!("{} is too much for a prequalified {weld} under flux ({limit})", at.value.spelled());
        x.report(Severity::Error, at.pointer, message)
            .stated(at.value.spelled())
            .limit(limit, &row.origin.source_ref())
            .hint("write less, or `route: test-record` with its record");
    }
}
