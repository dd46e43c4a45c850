//! `pipe-position-on-plate`: explanation, cases, logic.

use seamwright_handbook::positions::{self, Product};
use seamwright_model::finding::Severity;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "pipe-position-on-plate",
    harm: Harm::Impossible,
    finds: "A position of pipe on plate.",
    matters: "PH, PJ, 5G and 6G turn around a pipe: on plate they say nothing.",
    remedy: "Write the position of the plate, or the outside diameter of the pipe.",
    limit: "Product of each position in ISO 6947 and ASME IX; a pipe is metal with an outside diameter or of that form. An error.",
    tables: &["positions"],
    examine,
    faulty: &[Case { base: "butt-3-carbon-141", edits: &[("/positions/0", "PH")] }],
    sound: &[Case { base: "pipe-butt-p235gh-141-111", edits: &[] }, Case { base: "butt-3-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let round = |text: &str| ["pipe", "tube", "hollow"].iter().any(|word| text.to_lowercase().contains(word));
    let pipe = view.metals.iter().any(|metal| {
        metal.stated.outside_diameter.is_some()
            || metal.stated.form.as_deref().is_some_and(round)
            || round(&metal.stated.specification)
    });
    if pipe || view.metals.is_empty() {
        return;
    }
    for (pointer, text) in super::measures::positions(view) {
        x.examined(&pointer);
        let Some(row) = positions::get(text).filter(|row| row.product == Product::Pipe) else { continue };
        x.report(Severity::Error, pointer, format!("position {text} is of pipe, and no metal has an outside diameter"))
            .stated(text)
            .limit("a position of plate", &row.origin.source_ref())
            .hint("write `outside_diameter`, or a position of plate such as PA, PC, PF");
    }
}
