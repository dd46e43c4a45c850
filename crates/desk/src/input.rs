//! What was typed, as numbers for formulas.

use anyhow::{Result, anyhow, bail};
use seamwright_calc::Element;
use seamwright_calc::composition::CompositionLimit;
use seamwright_handbook::measure::band;
use seamwright_handbook::{Band, base_metals, densities, find, metal_families, preheat_methods, processes};
use seamwright_model::finding::SourceRef;
use seamwright_model::quantity::{Quantity, Range};

/// Most joints of a list.
pub const JOINTS: usize = 10_000;

/// The one value of a quantity; a range or an open end is refused. `of` reads it in the unit that is wanted.
pub fn one<Q: Quantity>(name: &str, stated: &Range<Q>, of: impl Fn(Q) -> f64) -> Result<f64> {
    match stated.single() {
        Some(value) => Ok(of(value)),
        None => bail!("{name} takes one value, not `{stated}`"),
    }
}

/// Both ends of a quantity; an open end is refused.
pub fn ends<Q: Quantity>(name: &str, stated: &Range<Q>, of: impl Fn(Q) -> f64) -> Result<Band> {
    let both = band(stated, of).bounded();
    both.ok_or_else(|| anyhow!("{name} takes a value or a range with both ends, not `{stated}`"))
}

/// Both ends of a quantity that may be left out.
pub fn ends_or<Q: Quantity>(name: &str, stated: Option<&Range<Q>>, other: f64, of: impl Fn(Q) -> f64) -> Result<Band> {
    match stated {
        Some(stated) => ends(name, stated, of),
        None => Ok(Band::at(other)),
    }
}

/// The process with this number or letters.
pub fn process(text: &str) -> Result<&'static processes::Row> {
    processes::get(text).ok_or_else(|| unknown("process", text, &processes::nearest(text)))
}

/// Density (kg/m³) of a metal, its family or a base metal.
pub fn density(text: &str) -> Result<(f64, SourceRef)> {
    let row = densities::metal(text).or_else(|| {
        let metal = base_metals::find(text)?;
        densities::metal(metal.family)
    });
    let Some(row) = row else {
        let names = densities::metals().iter().map(|row| row.metal);
        let families = metal_families::rows().iter().map(|row| row.family);
        let nearest = find::nearest(text, names.chain(families));
        return Err(unknown("metal with a known density", text, &nearest));
    };
    Ok((row.density_kg_m3.middle(), row.origin.source_ref()))
}

/// The error for a name that no table knows.
pub fn unknown(kind: &str, text: &str, nearest: &[&str]) -> anyhow::Error {
    if nearest.is_empty() {
        anyhow::anyhow!("`{text}` is no {kind}")
    } else {
        anyhow::anyhow!("`{text}` is no {kind}; the nearest are {}", nearest.join(", "))
    }
}

/// A composition as it is written: `C 0.12, Mn 1.45`, in mass percent.
pub fn composition(composition: &seamwright_calc::Composition) -> String {
    let parts: Vec<String> = composition.iter().map(|(element, pct)| format!("{} {pct}", element.symbol())).collect();
    format!("{} %", parts.join(", "))
}

/// The contents for which the handbook says that the hardness formula holds.
pub fn hardness_limits() -> Vec<CompositionLimit> {
    [(preheat_methods::YURIOKA_CARBON.value, Element::C), (preheat_methods::YURIOKA_NITROGEN.value, Element::N)]
        .into_iter()
        .map(|(range, element)| CompositionLimit { element, low_pct: Some(range.low), high_pct: Some(range.high) })
        .collect()
}
