//! `fillet-leg-too-small`: explanation, cases, logic.

use seamwright_handbook::{Range, aws_d1_1};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::CodeName;

use super::bounds::limits;
use super::joints::{legs, thicknesses};
use crate::rule::{Case, Examiner, Rule, range_text};

/// The check.
pub const RULE: Rule = Rule {
    name: "fillet-leg-too-small",
    finds: "A fillet leg small beside the thicker part.",
    matters: "A small bead on a thick part chills at once: it cracks or does not fuse.",
    remedy: "Write a larger leg, or preheat and say why in the notes.",
    limit: "Least leg of AWS D1.1 by the thicker part, never more than the thinner part: under that code an error, for other steel a caution; for any metal a share of the thicker part.",
    tables: &["aws-d1-1-minimum-fillet", "setting-limits"],
    examine,
    faulty: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[("/weld_size/leg", "2 mm"), ("/weld_size/throat", "")] },
        Case { base: "tee-fillet-3-6061-141", edits: &[("/weld_size/leg", "0.2 mm")] },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "tee-fillet-3-6061-141", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some((thinner, thicker)) = thicknesses(view) else { return };
    let Some((share, _)) = limits("leg-over-thicker", "") else { return };
    let coded = view.procedure.qualification.as_ref().is_some_and(|q| q.code == Some(CodeName::AwsD11));
    let row = aws_d1_1::minimum_fillet(thicker).filter(|_| view.any_metal("steel"));
    for leg in legs(view) {
        let least = share.envelope.low * thicker;
        let (least, source, severity) = match row {
            Some(row) if row.leg_min_mm.min(thinner) >= least => {
                let severity = if coded { Severity::Error } else { Severity::Caution };
                (row.leg_min_mm.min(thinner), row.origin.source_ref(), severity)
            }
            _ => (least.min(thinner), share.source.clone(), Severity::Caution),
        };
        let limit = Range::new(least, f64::INFINITY);
        if x.compare(&leg.pointer, leg.stated, (leg.low, None), limit, "mm", &source).below {
            let text = range_text(limit, "mm");
            x.report(
                severity,
                &leg.pointer,
                format!("leg {} is small for {thicker} mm thickness ({text})", leg.stated),
            )
            .stated(leg.stated)
            .limit(text, &source)
            .hint("write a larger leg, or give the reason as a deviation");
        }
    }
}
