//! `treatment-missing-under-code`: explanation, cases, logic.

use seamwright_handbook::measure::figure;
use seamwright_model::finding::Severity;

use super::treatment;
use crate::rule::{Case, Examiner, Harm, Rule};
use crate::treatment::bound;

/// The check.
pub const RULE: Rule = Rule {
    name: "treatment-missing-under-code",
    harm: Harm::Metal,
    finds: "A joint without the heat treatment after welding that its code of construction asks for.",
    matters: "Thick metal keeps the stress and the hardness of welding, and cracks in the test or in service.",
    remedy: "State the heat treatment, or the preheat that the code takes for it.",
    limit: "Thickness by P-Number of ASME VIII-1 Table UCS-56 and B31.3 Table 331.1.3 under the code of construction that is named; an error.",
    tables: &["treatment-thickness", "treatment-exemptions"],
    examine,
    faulty: &[
        // A fillet goes by its throat: 1-1/2 in (38 mm), 54 mm of leg.
        fillet_built!("{throat: 1-9/16 in}", "200 °F minimum", "none"),
        fillet_built!("{throat: 39 mm}", "95 °C minimum", "none"),
        fillet_built!("{leg: 55 mm}", "95 °C minimum", "none"),
        // VIII-1, P-1: over 1-1/2 in (38 mm); over 1-1/4 in (32 mm) where it is not preheated to 200 °F (95 °C).
        built!("asme-viii-1", "1-9/16 in", "200 °F minimum", "none"),
        built!("asme-viii-1", "38.5 mm", "95 °C minimum", "none"),
        built!("asme-viii-1", "1-3/8 in", "190 °F minimum", "none"),
        built!("asme-viii-1", "33 mm", "90 °C minimum", "none"),
        built!("asme-b31.3", "1-1/16 in", "150 °F minimum", "none"),
        Case {
            base: "pipe-butt-p91-141",
            edits: &[
                ("/qualification", "{route: test-record, code: asme-ix, construction: asme-b31.3}"),
                ("/temperatures/post_weld_heat_treatment", "none"),
            ],
        },
    ],
    sound: &[
        fillet_built!("{throat: 1-1/2 in}", "200 °F minimum", "none"),
        fillet_built!("{throat: 38 mm}", "95 °C minimum", "none"),
        fillet_built!("{leg: 53 mm}", "95 °C minimum", "none"),
        built!("asme-viii-1", "1-1/2 in", "200 °F minimum", "none"),
        built!("asme-viii-1", "38 mm", "95 °C minimum", "none"),
        built!("asme-viii-1", "1-1/4 in", "50 °F minimum", "none"),
        built!("asme-viii-1", "32 mm", "10 °C minimum", "none"),
        built!("asme-viii-1", "2 in", "50 °F minimum", "{temperature: 1100-1150 °F, time: 2 h}"),
        built!("asme-b31.3", "1 in", "50 °F minimum", "none"),
        built!("asme-b31.3", "2 in", "200 °F minimum", "none"),
        Case { base: "butt-20-a516-121", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let (codes, true) = treatment::codes(view) else { return };
    let [code] = codes.as_slice() else { return };
    if view.procedure.heat_treatment().is_some() {
        return;
    }
    let pointer = "/temperatures/post_weld_heat_treatment";
    for (metal, asked) in treatment::asked(view, code) {
        let Some(row) = asked.exemption() else { continue };
        x.examined(pointer);
        let size = asked.thickness;
        let always = row.asks(size);
        if !asked.needs(row, view.procedure.preheating()) {
            continue;
        }
        let over = |mm, inches| {
            bound(size, mm, inches).map_or_else(|| "at every thickness".to_owned(), |own| format!("over {own}"))
        };
        let limit = if always {
            over(row.over_mm, row.over_in)
        } else {
            let preheat = row.preheat().map(|own| own.column(size.is_customary()));
            let preheat = preheat.map_or_else(String::new, |(figure_of, unit)| {
                format!(" unless preheated to {} {unit}", figure(figure_of))
            });
            format!("{}{preheat}", over(row.cold_over_mm, row.cold_over_in))
        };
        let (name, number) = (&metal.stated.specification, asked.metal.p_number);
        let message = format!(
            "{name} (P-Number {number}) of {} has no heat treatment after welding, and {} asks for it {limit}",
            size.text(),
            code.title
        );
        let hint = asked.holding().map_or_else(
            || "state temperature and time under `post_weld_heat_treatment:`".to_owned(),
            |row| {
                let (least, unit) = row.least().column(size.is_customary());
                format!("write `post_weld_heat_treatment: {{temperature: {least:.0} {unit} minimum, time: ...}}`; `seamwright calc heat-treatment` gives the time")
            },
        );
        x.report(Severity::Error, pointer, message).limit(limit, &row.origin.source_ref()).hint(hint);
        return;
    }
}
