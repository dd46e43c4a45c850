//! `torch-part-not-in-stock`: explanation, cases, logic.

use seamwright_handbook::find;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::shop::Stock;
use seamwright_model::stated::Stated;
use seamwright_weld::RunView;
use seamwright_weld::stock::{same_nozzle, same_size, same_tungsten};

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::subject::InShop;

/// The check.
pub const RULE: Rule<InShop> = Rule {
    name: "torch-part-not-in-stock",
    harm: Harm::Equipment,
    finds: "A torch, tungsten electrode, nozzle or gas lens of the procedure that the shop does not have.",
    matters: "Tip, nozzle and stickout decide shielding and arc; with other parts the stated flow and current are wrong.",
    remedy: "Order the part, or state one that is there, with the flow and current that go with it.",
    limit: "What the shop states of its torches and its stock.",
    tables: &["tungsten-types", "gas-nozzles"],
    examine,
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/tungsten/diameter", "4.8 mm")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/torch/nozzle", "No. 12")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/torch/size", "18")] },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[
                ("/processes/141/torch/gas_lens", "yes"),
                ("shop:/stock/gas_lenses", "[{diameter: 4.0 mm, count: 1}]"),
            ],
        },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        // The same electrode under its AWS name.
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/tungsten/designation", "EWLa-1.5")] },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/processes/141/tungsten/diameter", "4.8 mm"), ("shop:/stock/tungstens", "")],
        },
    ],
};

fn examine(x: &mut Examiner<'_, InShop>) {
    let (view, shop) = (x.view.view, x.view.shop);
    let none = Stock::default();
    let shelf = shop.stock.as_ref().unwrap_or(&none);
    for run in view.runs.iter().filter(|run| run.process.is_some_and(|process| process.uses_tungsten)) {
        tungsten(x, run, shelf);
        let size = run.setting(&keys::TORCH_SIZE);
        if let Some(at) = size
            && !shop.torches.is_empty()
        {
            x.examined(&at.pointer);
            if !shop.torches.iter().any(|own| own.size.as_deref().is_some_and(|size| find::same(size, at.value))) {
                absent(x, at.pointer, format!("torch {}", at.value));
            }
        }
        if let Some((at, number, bore)) = run.nozzle()
            && !shelf.nozzles.is_empty()
        {
            x.examined(&at.pointer);
            let there = shelf.nozzles.iter().any(|own| same_nozzle(own, number, bore));
            if !there {
                absent(x, at.pointer, format!("nozzle {}", at.value));
            }
        }
        let diameter = run.setting(&keys::TUNGSTEN).and_then(|at| at.value.diameter.as_ref());
        if run.gas_lens() && !shelf.gas_lenses.is_empty() {
            let pointer = run.setting(&keys::TORCH_GAS_LENS).map_or_else(|| run.pointer(), |at| at.pointer);
            x.examined(&pointer);
            if !shelf.gas_lenses.iter().any(|own| same_size(own.diameter.as_ref(), diameter)) {
                let size = diameter.and_then(Stated::value).map(ToString::to_string).unwrap_or_default();
                absent(x, pointer, format!("gas lens for {size}"));
            }
        }
    }
}

fn tungsten(x: &mut Examiner<'_, InShop>, run: &RunView<'_>, shelf: &Stock) {
    let Some(at) = run.setting(&keys::TUNGSTEN) else { return };
    if shelf.tungstens.is_empty() {
        return;
    }
    x.examined(&at.pointer);
    let same = |own: &str| at.value.designation.as_deref().is_none_or(|name| same_tungsten(own, name));
    let there = shelf
        .tungstens
        .iter()
        .any(|own| same(&own.designation) && same_size(own.diameter.as_ref(), at.value.diameter.as_ref()));
    if !there {
        let size = at.value.diameter.as_ref().and_then(Stated::value).map(ToString::to_string);
        let name = at.value.designation.as_ref().map(ToString::to_string);
        let words: Vec<String> = [name, size].into_iter().flatten().collect();
        absent(x, at.pointer, format!("tungsten {}", words.join(" ")));
    }
}

fn absent(x: &mut Examiner<'_, InShop>, pointer: String, part: String) {
    x.report(Severity::Caution, pointer, format!("{part} is not in the shop"))
        .stated(part)
        .hint("order it, or write a part that is there");
}
