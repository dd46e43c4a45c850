//! `filler-not-in-stock`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::source::escape;
use seamwright_weld::stock;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::subject::InShop;

/// The check.
pub const RULE: Rule<InShop> = Rule {
    name: "filler-not-in-stock",
    harm: Harm::Equipment,
    finds: "A filler of the procedure that does not lie on the shelf in its class and size.",
    matters: "The welder takes what is there, and the weld metal is another one.",
    remedy: "Order the filler, or state one that is in stock and suits the metal.",
    limit: "The stock that the shop states; classes are held against each other through their AWS and ISO designations.",
    tables: &["filler-classes"],
    examine,
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/fillers/rod/designation", "ER80S-D2")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/fillers/rod/diameter", "3.2 mm")] },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        // A shop that states no fillers says nothing about them.
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/fillers/rod/diameter", "3.2 mm"), ("shop:/stock/fillers", "")],
        },
    ],
};

fn examine(x: &mut Examiner<'_, InShop>) {
    let (view, shop) = (x.view.view, x.view.shop);
    let Some(shelf) = shop.stock.as_ref().filter(|shelf| !shelf.fillers.is_empty()) else { return };
    for (name, filler) in view.procedure.fillers.iter() {
        let pointer = format!("/fillers/{}/designation", escape(name));
        x.examined(&pointer);
        if !stock::fillers(shelf, filler).is_empty() {
            continue;
        }
        let sizes: Vec<String> = shelf
            .fillers
            .iter()
            .filter(|own| stock::same_class(&own.designation, &filler.designation))
            .filter_map(|own| own.diameter.as_ref().and_then(|size| size.value()).map(ToString::to_string))
            .collect();
        let size = filler.diameter.as_ref().and_then(|size| size.value()).map(ToString::to_string);
        let stated = [Some(filler.designation.to_string()), size].into_iter().flatten().collect::<Vec<_>>().join(" ");
        let have = if sizes.is_empty() { String::new() } else { format!("; it is there in {}", sizes.join(", ")) };
        x.report(Severity::Caution, pointer, format!("{stated} is not in the stock of the shop{have}"))
            .stated(stated)
            .hint("order it, or write a filler that is in stock and suits the metal");
    }
}
