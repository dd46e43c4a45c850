//! `coating-not-removed`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::{base_metals, cautions};
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "coating-not-removed",
    harm: Harm::Metal,
    finds: "A coated metal, such as galvanized sheet, whose coating the cleaning does not take off.",
    matters: "Zinc boils before steel melts: it gives poisonous fume, pores and cracks, and fouls the tungsten.",
    remedy: "Grind or strip the coating off the weld zone on both sides, and say so under `cleaning`.",
    limit: "A coating in the name of the metal or under `coating`, and a cleaning that names it.",
    tables: &["base-metals", "coating-names", "cautions"],
    examine,
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/parent_metals/0/coating", "zinc")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/parent_metals/0/specification", "DX51D+Z275")] },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/parent_metals/0/coating", "zinc"), ("/joint/cleaning", "Grind off the zinc 25 mm each side")],
        },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/parent_metals/0/coating", "none")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let cleaning = x.view.procedure.joint.as_ref().and_then(|joint| joint.cleaning.as_deref()).unwrap_or_default();
    let named = base_metals::coating(cleaning).is_some() || cleaning.to_lowercase().contains("coating");
    for metal in &x.view.metals {
        let (key, coating) = match metal.stated.coating.as_deref().map(str::trim) {
            Some("none" | "not applicable") => continue,
            Some(coating) => ("coating", coating),
            None => match base_metals::lookup(&metal.stated.specification).and_then(|found| found.coating) {
                Some(coating) => ("specification", coating),
                None => continue,
            },
        };
        let pointer = metal.pointer(key);
        x.examined(&pointer);
        if named {
            continue;
        }
        let caution = cautions::rows().iter().find(|row| row.cause == "coated-metal");
        let Some(source) = caution.map(|row| row.origin.source_ref()) else { continue };
        x.report(
            Severity::Caution,
            pointer,
            format!("{} is coated with {coating}, and the cleaning does not take it off", metal.stated.specification),
        )
        .stated(coating)
        .limit("the coating off the weld zone", &source)
        .hint(format!("write for example `cleaning: grind off the {coating} 25 mm each side`"));
    }
}
