//! `weld-metal-undermatching`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::{filler_choice, filler_classes, filler_suitability, metal_families};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::Layer;
use seamwright_model::source::escape;

/// The check.
pub const RULE: Rule = Rule {
    name: "weld-metal-undermatching",
    harm: Harm::Metal,
    finds: "A filler for a groove weld whose least strength lies under that of the weaker metal.",
    matters: "A butt weld carries the full load of the parts: the joint breaks in the weld.",
    remedy: "Take a class of the strength of the metal, or say why the design allows a softer weld.",
    limit: "Least tensile strength of the class against that of the weaker metal, less what editions round; not for fillets, aluminium, the root and the run over it.",
    tables: &["filler-classes", "base-metals", "filler-rules"],
    examine,
    faulty: &[Case { base: "butt-12-s690ql-111", edits: &[("/fillers/electrode/designation", "E7018")] }],
    sound: &[
        Case { base: "butt-12-s690ql-111", edits: &[] },
        Case { base: "pipe-butt-x52-111-pj", edits: &[] },
        // A soft fillet is made larger instead, and the weaker of the two metals counts.
        Case { base: "tee-fillet-10-s355-111", edits: &[("/parent_metals/0/specification", "S690QL")] },
        Case { base: "tee-fillet-3-6061-141", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    if !x.view.weld().is_some_and(|weld| weld.has_groove()) || x.view.any_metal("aluminium") {
        return;
    }
    let known: Vec<_> = x.view.metals.iter().filter_map(|metal| metal.known).collect();
    let (Some(first), Some(second)) = (known.first(), known.last()) else { return };
    for run in &x.view.runs {
        if matches!(run.run.layer, Some(Layer::Root | Layer::Hot | Layer::Backing)) {
            continue;
        }
        let Some((name, filler)) = run.filler(x.view.procedure) else { continue };
        let Some(class) = filler_classes::find(&filler.designation) else { continue };
        let pointer = format!("/fillers/{}/designation", escape(name.value));
        x.examined(&pointer);
        let Some(reason) = filler_suitability::weaker(class, [first, second]) else { continue };
        let source = class.origin.source_ref();
        // What the trade takes for the pair is no fault where nothing stronger is usual; a nickel filler is the usual one on
        // nickel steel, where the design counts on its lower strength.
        let usual = filler_choice::choose(first, second, run.number())
            .is_some_and(|(_, classes)| classes.first().is_some_and(|own| own.classification == class.classification));
        let cold = [first, second].iter().any(|metal| metal_families::is_in(metal.family, "nickel-steel"))
            && class.classification.contains("NiCr");
        let severity = if usual || cold { Severity::Note } else { Severity::Caution };
        x.report(severity, &pointer, format!("{} is weaker than the metal: {reason}", filler.designation))
            .stated(&*filler.designation)
            .limit("not weaker than the weaker metal", &source)
            .hint("`seamwright table filler-classes` lists classes by strength");
    }
}
