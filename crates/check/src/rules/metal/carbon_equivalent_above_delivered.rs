//! `carbon-equivalent-above-delivered`: explanation, cases, logic.

use seamwright_calc::Band;
use seamwright_calc::band::above;
use seamwright_calc::carbon_equivalent::{ce_iiw_pct, pcm_pct};
use seamwright_calc::composition::Composition;
use seamwright_handbook::base_metals::BaseMetal;
use seamwright_handbook::measure::figure;
use seamwright_handbook::toughness;
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Share;
use seamwright_model::stated::Stated;
use seamwright_weld::view::Metal;

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};

/// A fillet of the library in a steel with its thickness and composition.
macro_rules! delivered {
    ($metal:literal) => {
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[("/parent_metals", concat!("[{specification: ", $metal, "}]")), ("/weld_size/leg", "8 mm")],
        }
    };
}

/// The check.
pub const RULE: Rule = Rule {
    name: "carbon-equivalent-above-delivered",
    harm: Harm::Metal,
    finds: "A composition whose carbon equivalent, or a stated carbon equivalent that, is more than the product standard allows for the grade and thickness.",
    matters: "The certificate is of another steel, or the figure is a slip: the steel hardens more than its grade promises.",
    remedy: "Compare the certificate with the grade; where the steel is as stated, preheat by its composition.",
    limit: "Largest carbon equivalent (IIW), or Pcm of line pipe, by product standard and nominal thickness; a caution.",
    tables: &["carbon-equivalent-limits"],
    examine,
    faulty: &[
        delivered!("S355J2+N, thickness: 30 mm, carbon_equivalent: 0.46 %"),
        delivered!("S355J2+N, thickness: 1-1/4 in, carbon_equivalent: 0.48 %"),
        // S355J2: 0.45 % up to 30 mm, 0.47 % over it: C + Mn/6.
        delivered!("S355J2+N, thickness: 30 mm, composition: {C: 0.20, Mn: 1.53}"),
        delivered!("S355J2+N, thickness: 31 mm, composition: {C: 0.22, Mn: 1.53}"),
        delivered!("S355J2+N, thickness: 1-1/4 in, composition: {C: 0.22, Mn: 1.53}"),
        delivered!("S235JR, thickness: 20 mm, composition: {C: 0.17, Mn: 1.15}"),
        delivered!("API 5L X52, thickness: 10 mm, composition: {C: 0.20, Mn: 1.45}"),
    ],
    sound: &[
        delivered!("S355J2+N, thickness: 30 mm, composition: {C: 0.20, Mn: 1.49}"),
        delivered!("S355J2+N, thickness: 31 mm, composition: {C: 0.20, Mn: 1.59}"),
        delivered!("S355J2+N, thickness: 1-1/4 in, composition: {C: 0.20, Mn: 1.59}"),
        delivered!("S235JR, thickness: 20 mm, composition: {C: 0.16, Mn: 1.12}"),
        delivered!("API 5L X52, thickness: 10 mm, composition: {C: 0.20, Mn: 1.35}"),
        delivered!("S355J2+N, thickness: 30 mm"),
        delivered!("S355J2+N, thickness: 30 mm, carbon_equivalent: 0.45 %"),
        delivered!("S355J2+N, thickness: 1-1/4 in, carbon_equivalent: 0.47 %"),
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    for metal in &view.metals {
        let Some(known) = metal.known else { continue };
        stated_as_delivered(x, metal, known);
        let Some(stated) = metal.stated.composition.as_ref() else { continue };
        let Some(thickness) = metal.thickness_mm().filter(|_| stated.names("C") && stated.names("Mn")) else {
            continue;
        };
        let elements = stated.iter().filter_map(|(element, percent)| Some((element.parse().ok()?, percent)));
        let Ok(steel) = Composition::new(elements) else { continue };
        let carbon = stated.iter().find(|(element, _)| *element == "C").map_or(0.0, |(_, percent)| percent);
        let Some(row) = toughness::carbon(known, &metal.stated.specification, thickness, carbon) else { continue };
        let pointer = metal.pointer("composition");
        x.examined(&pointer);
        let (name, own, most) = match (row.cev_max_pct, row.pcm_max_pct) {
            (Some(most), _) => ("carbon equivalent (IIW)", ce_iiw_pct(&steel), most),
            (None, Some(most)) => ("Pcm", pcm_pct(&steel), most),
            (None, None) => continue,
        };
        if !above(own, most) {
            continue;
        }
        let limit = range_limit(Band::at_most(most), "%");
        let message = format!(
            "{name} {own:.3} % of {} is more than {limit} as delivered in {} mm",
            metal.stated.specification,
            figure(thickness)
        );
        x.report(Severity::Caution, pointer, message)
            .stated(format!("{own:.3} %"))
            .limit(limit, &row.origin.source_ref())
            .hint("compare the certificate with the grade, or name the grade that it is of");
    }
}

/// Holds a carbon equivalent that the document states against the product standard.
fn stated_as_delivered(x: &mut Examiner<'_>, metal: &Metal<'_>, known: &'static BaseMetal) {
    let Some(range) = metal.stated.carbon_equivalent.as_ref().and_then(Stated::value) else { return };
    let (Some(own), Some(thickness)) = (range.high().or(range.low()).map(Share::percent), metal.thickness_mm()) else {
        return;
    };
    let row = toughness::carbon(known, &metal.stated.specification, thickness, 0.0);
    let Some((row, most)) = row.and_then(|row| Some((row, row.cev_max_pct?))) else { return };
    let pointer = metal.pointer("carbon_equivalent");
    x.examined(&pointer);
    if !above(own, most) {
        return;
    }
    let limit = range_limit(Band::at_most(most), "%");
    let message = format!(
        "carbon equivalent (IIW) {range} of {} is more than {limit} as delivered in {} mm",
        metal.stated.specification,
        figure(thickness)
    );
    x.report(Severity::Caution, pointer, message)
        .stated(range.spelled())
        .limit(limit, &row.origin.source_ref())
        .hint("compare the certificate with the grade, or name the grade that it is of");
}
