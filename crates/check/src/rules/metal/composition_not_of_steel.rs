//! `composition-not-of-steel`: explanation, cases, logic.

use seamwright_handbook::Band;
use seamwright_handbook::measure::figure;
use seamwright_model::finding::Severity;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, Value, at_most, hold, limits};

/// The check.
pub const RULE: Rule = Rule {
    name: "composition-not-of-steel",
    harm: Harm::Impossible,
    finds: "A content of carbon, silicon or manganese that is not that of a steel for welding.",
    matters: "Preheat and carbon equivalent are computed from it: a slip of the point makes nonsense of both.",
    remedy: "Copy the figures from the certificate, in mass percent.",
    limit: "Most of each element in carbon and low-alloy steel, common practice, and 2 % of carbon, the definition of steel; more is a caution.",
    tables: &["setting-limits"],
    examine,
    faulty: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[("/parent_metals/0/composition/C", "2.8")] }],
    sound: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    for metal in view.metals.iter().filter(|metal| metal.is("steel") && !metal.is("stainless")) {
        let Some(composition) = &metal.stated.composition else { continue };
        for (element, percent) in composition.iter() {
            let Some((limits, unit)) = limits(&format!("steel-{element}"), "") else { continue };
            let pointer = metal.pointer(&format!("composition/{element}"));
            let grade = Grade {
                what: element,
                usual: Severity::Note,
                widest: Severity::Caution,
                hint: "copy the figure from the certificate, in mass percent",
            };
            let stated = format!("{} %", figure(percent));
            hold(x, Value::new(pointer, &stated, Band::at_most(percent)), &at_most(&limits), unit, &grade);
        }
    }
}
