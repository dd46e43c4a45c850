//! `backing-contradiction`: explanation, cases, logic.

use seamwright_handbook::{base_metals, metal_families, practice, process_suitability};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{BackingType, Layer};
use seamwright_model::stated::OrNone;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "backing-contradiction",
    harm: Harm::Fusion,
    finds: "A backing that contradicts the rest of the joint.",
    matters: "The fitter makes one thing and the welder expects another.",
    remedy: "State one backing, of the same kind of metal where it is a strip.",
    limit: "A gas backing goes with a backing gas, a strip is of the family of the metal, ceramic tiles do not go with a tungsten root; common practice.",
    tables: &["family-welding", "metal-families", "practice-statements"],
    examine,
    faulty: &[
        Case { base: "butt-6-5083-131", edits: &[("/joint/backing", "{type: strip, material: S235JR}")] },
        Case { base: "butt-2-304l-141", edits: &[("/joint/backing", "{type: ceramic}")] },
        Case { base: "butt-2-304l-141", edits: &[("/joint/backing", "{type: gas}"), ("/backing_gas", "none")] },
    ],
    sound: &[
        Case { base: "butt-6-5083-131", edits: &[] },
        Case { base: "butt-2-304l-141", edits: &[] },
        Case { base: "butt-15-s355-136", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some(joint) = &view.procedure.joint else { return };
    let Some(backing) = joint.backing.as_ref().and_then(OrNone::value) else { return };
    x.examined("/joint/backing/type");
    let root = view.runs.iter().find(|run| matches!(run.run.layer, Some(Layer::Root | Layer::Single)));
    let tungsten = root.and_then(|run| run.process).is_some_and(|process| process.uses_tungsten);
    let purged = matches!(view.procedure.backing_gas, Some(OrNone::Is(_)));
    if backing.kind == BackingType::Gas && !purged {
        x.report(Severity::Error, "/joint/backing/type", "a gas backing, and no backing gas")
            .stated(backing.kind.as_str())
            .limit("a backing gas", &practice::GAS_BACKING.origin.source_ref())
            .hint("write `backing_gas` with designation and flow, or mend the backing");
    }
    if backing.kind == BackingType::Ceramic && tungsten {
        x.report(Severity::Caution, "/joint/backing/type", "ceramic backing under a tungsten arc root")
            .stated(backing.kind.as_str())
            .limit("a gas or a strip under a tungsten arc", &practice::TILE_BACKING.origin.source_ref())
            .hint("purge the root, or weld it with wire");
    }
    let (BackingType::Strip, Some(material)) = (backing.kind, backing.material.as_deref()) else { return };
    x.examined("/joint/backing/material");
    let Some(strip) = base_metals::find(material) else { return };
    let root_family = |family: &str| metal_families::chain(family).last().map(|row| row.family);
    let alike = view.metals.iter().any(|metal| root_family(metal.family()) == root_family(strip.family));
    let removable = process_suitability::family(strip.family).is_some_and(|row| row.removable_backing);
    if !alike && !removable && view.metals.iter().any(|metal| metal.known.is_some()) {
        let metal = view.metals.first().map_or("", |metal| &*metal.stated.specification);
        x.report(Severity::Error, "/joint/backing/material", format!("a strip of {material} under {metal}"))
            .stated(material)
            .limit(
                "a strip of the same kind of metal, or one that comes off",
                &practice::STRIP_BACKING.origin.source_ref(),
            )
            .hint(format!("write `material: {metal}`"));
    }
}
