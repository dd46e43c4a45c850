//! `composition-outside-specification`: explanation, cases, logic.

use seamwright_handbook::Band;
use seamwright_handbook::measure::figure;
use seamwright_model::finding::Severity;

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};

/// The check.
pub const RULE: Rule = Rule {
    name: "composition-outside-specification",
    harm: Harm::Metal,
    finds: "A content of an element that the specification of the metal does not allow.",
    matters: "The certificate is of another metal, or the figure is a slip: preheat and filler are chosen by it.",
    remedy: "Compare the certificate with the specification, and copy its figures in mass percent.",
    limit: "The composition of the metal in the handbook; a note, for an edition or a product may allow a little more.",
    tables: &["base-metals"],
    examine,
    faulty: &[
        Case { base: "pipe-butt-13crmo4-5-141-111", edits: &[("/parent_metals/0/composition/Cr", "9")] },
        Case { base: "pipe-butt-13crmo4-5-141-111", edits: &[("/parent_metals/0/composition/Mo", "0.05")] },
    ],
    sound: &[
        Case { base: "pipe-butt-13crmo4-5-141-111", edits: &[] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
        Case { base: "butt-12-s690ql-111", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    for metal in &view.metals {
        let (Some(known), Some(composition)) = (metal.known, &metal.stated.composition) else { continue };
        let source = known.origin.source_of("composition");
        for (element, percent) in composition.iter() {
            let Some(content) = known.composition.get(element) else { continue };
            if content.min.is_none() && content.max.is_none() {
                continue;
            }
            let allowed = Band::new(content.min.unwrap_or(f64::NEG_INFINITY), content.max.unwrap_or(f64::INFINITY));
            let pointer = metal.pointer(&format!("composition/{element}"));
            let stated = format!("{} %", figure(percent));
            let outer = x.compare(&pointer, &stated, Band::at(percent), allowed, "%", &source);
            if !outer.either() {
                continue;
            }
            let limit = range_limit(allowed, "%");
            x.report(
                Severity::Note,
                pointer,
                format!("{element} {stated} lies outside what {} allows ({limit})", known.specification),
            )
            .stated(stated)
            .limit(limit, &source)
            .hint("compare the certificate with the specification");
        }
    }
}
