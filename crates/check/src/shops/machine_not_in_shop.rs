//! `machine-not-in-shop`: explanation, cases, logic.

use seamwright_handbook::find;
use seamwright_model::finding::Severity;
use seamwright_weld::machines;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::subject::InShop;

/// The check.
pub const RULE: Rule<InShop> = Rule {
    name: "machine-not-in-shop",
    harm: Harm::Equipment,
    finds: "A machine that a procedure names and the shop does not have.",
    matters: "The welder takes another machine, with another start, slope and duty cycle than the procedure was written for.",
    remedy: "Write the name as the shop's file has it, or add the machine there.",
    limit: "Names of the power sources of the shop; case, spaces and hyphens do not count.",
    tables: &[],
    examine,
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/machine", "bench nine")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/machine", "DC stik machine")] },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/machine", "ac/dc machine")] },
    ],
};

fn examine(x: &mut Examiner<'_, InShop>) {
    let (view, shop) = (x.view.view, x.view.shop);
    for run in &view.runs {
        let Some(at) = run.machine() else { continue };
        x.examined(&at.pointer);
        if machines::find(shop, at.value).is_some() {
            continue;
        }
        let names: Vec<&str> = shop.power_sources.iter().map(|machine| &*machine.name).collect();
        let near = find::nearest(at.value, names.iter().copied());
        let hint = near
            .first()
            .map_or_else(|| format!("the shop has {}", names.join(", ")), |name| format!("write `machine: {name}`"));
        x.report(Severity::Error, &at.pointer, format!("the shop has no machine of the name `{}`", at.value))
            .stated(at.value)
            .hint(hint);
    }
}
