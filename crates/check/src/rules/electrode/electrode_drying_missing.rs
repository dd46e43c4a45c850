//! `electrode-drying-missing`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::covered_electrodes;
use seamwright_model::finding::Severity;
use seamwright_model::source::escape;

use super::of_run;
use crate::rule::range_text;

/// The check.
pub const RULE: Rule = Rule {
    name: "electrode-drying-missing",
    harm: Harm::Metal,
    finds: "A low-hydrogen electrode without a word on drying or holding.",
    matters: "A covering that has drawn moisture from the air brings hydrogen into the weld, and cold cracks hours later.",
    remedy: "State drying before use and the holding temperature, as the manufacturer gives them.",
    limit: "The drying and holding of low-hydrogen electrodes.",
    tables: &["electrode-rules", "covered-electrodes"],
    examine,
    faulty: &[
        Case {
            base: "butt-12-s355-111",
            edits: &[("/fillers/fill-electrode/drying", ""), ("/fillers/fill-electrode/holding", "")],
        },
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[("/fillers/electrode", "{designation: ISO 2560-A E 42 4 B 42 H5, diameter: 3.2 mm}")],
        },
        // What has no figure states nothing.
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[("/fillers/electrode/drying", "as per manufacturer"), ("/fillers/electrode/holding", "")],
        },
        // An ordinary covering is not left as it is.
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[("/fillers/electrode", "{designation: E7018, diameter: 3.2 mm, drying: none}")],
        },
    ],
    sound: &[
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[("/fillers/electrode", "{designation: E7018-H4R, diameter: 3.2 mm, drying: none}")],
        },
        Case { base: "butt-12-s355-111", edits: &[] },
        Case { base: "pipe-butt-a106-111", edits: &[] },
        Case { base: "butt-12-s355-111", edits: &[("/fillers/fill-electrode/drying", "")] },
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[("/fillers/electrode", "{designation: E6013, diameter: 3.2 mm}")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let (drying, holding) = (covered_electrodes::RE_DRYING, covered_electrodes::HOLDING_OVEN);
    for run in &x.view.runs {
        let Some(electrode) = of_run::electrode(x.view, run).filter(of_run::Electrode::low_hydrogen) else {
            continue;
        };
        let section = format!("/fillers/{}", escape(electrode.name));
        x.examined(&section);
        // A covering that resists moisture may go undried.
        let resists = electrode.filler.designation.trim_end().ends_with('R');
        let says = |text: Option<&str>| {
            text.is_some_and(|text| {
                text.chars().any(|c| c.is_ascii_digit()) || (text == "none" && resists) || text.contains("vacuum")
            })
        };
        if says(electrode.filler.drying.as_deref()) || says(electrode.filler.holding.as_deref()) {
            continue;
        }
        let source = drying.origin.source_ref();
        let limit = format!("drying {}, holding {}", range_text(drying.value, "°C"), range_text(holding.value, "°C"));
        x.report(
            Severity::Caution,
            section,
            format!("low-hydrogen electrode {} without drying or holding", electrode.filler.designation),
        )
        .limit(limit, &source)
        .hint("write `drying: 350 °C for 2 h` and `holding: 120 °C`, or what the manufacturer gives");
    }
}
