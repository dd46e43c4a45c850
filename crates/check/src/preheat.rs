//! The preheat that a joint needs, by the table of its code, by formula, or by practice; and what was worked out from what.
//!
//! A code speaks alone where it has the metal, the practice by P-Number where its shops go by that; else method B of
//! EN 1011-2 where a composition is given and the method holds, and the practice for the metal and thickness where not, unless
//! method A with a stated carbon equivalent asks for no preheat. Where none of them speaks, method A does, with the carbon
//! equivalent that is stated or that the specification allows. To add a method, add its function and its turn in [`needed`].

use seamwright_calc::carbon_equivalent;
use seamwright_calc::composition::Composition as Steel;
use seamwright_calc::preheat::{MethodB, combined_thickness_mm};
use seamwright_handbook::designation;
use seamwright_handbook::measure::figure;
use seamwright_handbook::{Size, SourceRef, metal_heat, planning, preheat_methods};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::JointType;
use seamwright_model::quantity::Share;
use seamwright_model::stated::Stated;
use seamwright_weld::view::Metal;
use seamwright_weld::{RunView, View, heat};

use crate::codes::{self, Preheat};

/// A preheat that is asked for.
#[derive(Debug, Clone)]
pub struct Needed {
    /// Least preheat, degrees Celsius.
    pub celsius: f64,
    /// Least preheat in degrees Fahrenheit, where the source prints it.
    pub fahrenheit: Option<f64>,
    /// How it was found, with its inputs, in words.
    pub how: String,
    /// Where the limit is written.
    pub source: SourceRef,
    /// How grave less is: an error where it contradicts the code or every source, a note where it hangs on the certificate.
    pub severity: Severity,
    /// Whether it is the table of the code that the document names.
    pub of_code: bool,
}

/// The preheat that the joint needs, by one method: the highest over its metals. Nothing where none is asked for.
///
/// The table of the code where the document names one that has the metal; nothing else speaks beside it. Else the practice
/// that no source does without; else method B where a composition is given, and the practice where not.
pub fn needed(view: &View<'_>) -> Option<Needed> {
    let code = codes::governing(view.procedure);
    let each = view.metals.iter().filter_map(|metal| {
        let thickness = metal.thickness().or_else(|| view.thickness())?;
        if let Some(own) = code.and_then(|code| code.preheat(view, metal, thickness)) {
            return by_code(own);
        }
        match (by_practice(metal, thickness), by_formula(view, metal, thickness.mm())) {
            (Some(practice), Some(formula)) if practice.severity == Severity::Error => {
                Some(if practice.celsius < formula.celsius { formula } else { practice })
            }
            (practice, formula) => {
                let delivered = by_carbon_equivalent(view, metal);
                let cold = delivered.as_ref().is_some_and(|own| own.stated && own.cold);
                let practice = practice.filter(|own| own.severity == Severity::Error || !cold);
                formula.or(practice).or_else(|| delivered?.needed)
            }
        }
    });
    each.max_by(|a, b| a.celsius.total_cmp(&b.celsius))
}

/// The preheat of a code; nothing where it asks for none.
fn by_code(own: Preheat) -> Option<Needed> {
    let Preheat { celsius, fahrenheit, how, source } = own;
    (celsius > 0.0).then_some(Needed { celsius, fahrenheit, how, source, severity: Severity::Error, of_code: true })
}

/// Method B of EN 1011-2, within what it holds for; the run that asks for most counts.
fn by_formula(view: &View<'_>, metal: &Metal<'_>, thickness_mm: f64) -> Option<Needed> {
    let steel = metal.is("steel") && !metal.is("stainless") && !metal.is("9-chromium-steel");
    let stated = metal.stated.composition.as_ref().filter(|stated| steel && stated.names("C"))?;
    if codes::governing(view.procedure).is_some_and(|code| !code.preheat_by_formula()) {
        return None;
    }
    let elements = stated.iter().filter_map(|(element, percent)| Some((element.parse().ok()?, percent)));
    let cet_pct = carbon_equivalent::cet_pct(&Steel::new(elements).ok()?);
    let holds = |quantity: &str, value: f64| {
        preheat_methods::valid_range("B", quantity).is_some_and(|row| (row.range.low..=row.range.high).contains(&value))
    };
    let row = preheat_methods::valid_range("B", "CET")?;
    if !holds("CET", cet_pct) || !holds("thickness", thickness_mm) {
        return None;
    }
    view.runs
        .iter()
        .filter_map(|run| {
            let hydrogen_ml_100g = hydrogen(view, run)?;
            let heat = preheat_methods::valid_range("B", "heat-input")?.range;
            let heat_input_kj_mm = heat::of(run)?.heat_input.low.clamp(heat.low, heat.high);
            if !holds("hydrogen", hydrogen_ml_100g) {
                return None;
            }
            let found = MethodB { cet_pct, thickness_mm, hydrogen_ml_100g, heat_input_kj_mm }.preheat().ok()?;
            Some(Needed {
                celsius: found.temperature_c,
                fahrenheit: None,
                how: format!(
                    "EN 1011-2 method B: CET {} %, {} mm, {} ml/100 g, {} kJ/mm",
                    figure(cet_pct),
                    figure(thickness_mm),
                    figure(hydrogen_ml_100g),
                    figure(heat_input_kj_mm)
                ),
                source: row.origin.source_ref(),
                severity: Severity::Caution,
                of_code: false,
            })
        })
        .max_by(|a, b| a.celsius.total_cmp(&b.celsius))
}

/// What method A of EN 1011-2 says of a steel.
struct ByCarbonEquivalent {
    /// Whether the carbon equivalent is stated as delivered; else it is the highest that the specification allows.
    stated: bool,
    /// Whether every run lies in the table of the method and may be welded cold.
    cold: bool,
    /// The preheat that is asked for.
    needed: Option<Needed>,
}

/// Method A of EN 1011-2 with the carbon equivalent that is stated as delivered, or that the specification allows; nothing where
/// neither is known, or the table of the method does not go so far.
fn by_carbon_equivalent(view: &View<'_>, metal: &Metal<'_>) -> Option<ByCarbonEquivalent> {
    let steel = metal.is("steel") && !metal.is("stainless") && metal.stated.composition.is_none();
    if !steel || codes::governing(view.procedure).is_some_and(|code| !code.preheat_by_formula()) {
        return None;
    }
    let own = metal.stated.carbon_equivalent.as_ref().and_then(Stated::value);
    let own = own.and_then(|range| range.high().or(range.low())).map(Share::percent);
    let ce_pct = own.or(metal.known?.carbon_equivalent_max)?;
    let thickness_mm = view.thickness().map(Size::mm)?;
    // Two parts meet in a butt or lap; the one that a tee stands on runs on both ways.
    let parts = if view.procedure.joint.as_ref().is_some_and(|own| own.kind == JointType::Tee) { 3 } else { 2 };
    let combined = combined_thickness_mm(&vec![thickness_mm; parts], false).ok()?;
    let (least, first) = (planning::METHOD_A_LEAST_HEAT.value.high, planning::METHOD_A_FIRST_PREHEAT);
    let mut needed: Option<Needed> = None;
    let mut cold = !view.runs.is_empty();
    for run in &view.runs {
        let hydrogen_ml = hydrogen(view, run)?;
        // With a stated figure the coldest setting decides; else only what no setting makes good.
        let heat = heat::of(run)?.heat_input;
        let heat = if own.is_some() { heat.low } else { heat.high };
        let (most, row) = preheat_methods::cold_thickness(hydrogen_ml, ce_pct, heat)?;
        cold &= heat >= least && combined <= most;
        if combined > most {
            let whose = if own.is_some() { "stated" } else { "of the specification" };
            needed = Some(Needed {
                celsius: first.value.high,
                fahrenheit: None,
                how: format!(
                    "EN 1011-2 method A: {} mm combined thickness, {} mm without preheat at CE {} % {whose}, {} ml/100 g, {} kJ/mm",
                    figure(combined),
                    figure(most.round()),
                    figure(ce_pct),
                    figure(hydrogen_ml),
                    figure((heat * 100.0).round() / 100.0),
                ),
                source: row.origin.source_ref(),
                severity: if own.is_some() { Severity::Caution } else { Severity::Note },
                of_code: false,
            });
        }
    }
    Some(ByCarbonEquivalent { stated: own.is_some(), cold, needed })
}

/// The practice for a metal and thickness.
fn by_practice(metal: &Metal<'_>, thickness: Size) -> Option<Needed> {
    let known = metal.known?;
    let row = metal_heat::preheat(known, thickness)?;
    Some(Needed {
        celsius: row.minimum_c?,
        fahrenheit: row.minimum_f,
        how: format!("practice for {}, {}", row.metal, thickness.text()),
        source: row.origin.source_ref(),
        severity: if row.needed { Severity::Error } else { Severity::Caution },
        of_code: false,
    })
}

/// Diffusible hydrogen of a run, ml/100 g: by the mark of its filler, else by its process.
fn hydrogen(view: &View<'_>, run: &RunView<'_>) -> Option<f64> {
    let marked = run
        .filler(view.procedure)
        .and_then(|(_, filler)| designation::parse(&filler.designation).ok())
        .and_then(|read| read.hydrogen_ml_100g);
    marked.or_else(|| Some(metal_heat::hydrogen(run.number(), run.low_hydrogen(view.procedure))?.hydrogen_ml))
}
