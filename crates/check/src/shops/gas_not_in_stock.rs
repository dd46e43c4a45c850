//! `gas-not-in-stock`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::stated::{Composition, OrNone};
use seamwright_weld::stock;

use crate::kit::gas_name;
use crate::rule::{Case, Examiner, Harm, Rule};
use crate::subject::InShop;

/// The check.
pub const RULE: Rule<InShop> = Rule {
    name: "gas-not-in-stock",
    harm: Harm::Equipment,
    finds: "A shielding or backing gas of the procedure of which the shop has no cylinder.",
    matters: "Another gas changes arc, bead and metal, or the weld is not shielded at all.",
    remedy: "Order the gas, or state one that is there and suits process and metal.",
    limit: "The cylinders that the shop states, by their group of ISO 14175.",
    tables: &["shielding-gases"],
    examine,
    faulty: &[Case { base: "butt-10-s355-135", edits: &[] }],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "butt-10-s355-135", edits: &[("shop:/stock/gas_cylinders", "")] },
    ],
};

fn examine(x: &mut Examiner<'_, InShop>) {
    let (view, shop) = (x.view.view, x.view.shop);
    let Some(shelf) = shop.stock.as_ref().filter(|shelf| !shelf.gas_cylinders.is_empty()) else { return };
    let mut asked: Vec<(String, Option<&str>, Option<&Composition>)> = Vec::new();
    for run in &view.runs {
        if let Some(gas) = run.gas() {
            asked.push((gas.pointer, gas.value.designation.as_deref(), gas.value.composition.as_ref()));
        }
    }
    if let Some(gas) = view.procedure.backing_gas.as_ref().and_then(OrNone::value) {
        asked.push(("/backing_gas".to_owned(), gas.designation.as_deref(), gas.composition.as_ref()));
    }
    for (pointer, designation, composition) in asked {
        if designation.is_none() && composition.is_none() {
            continue;
        }
        x.examined(&pointer);
        if stock::cylinders(shelf, designation, composition).is_empty() {
            let name = gas_name(designation, composition);
            x.report(Severity::Caution, pointer, format!("the shop has no cylinder of {name}"))
                .stated(name)
                .hint("order it, or write a gas that is there and suits process and metal");
        }
    }
}
