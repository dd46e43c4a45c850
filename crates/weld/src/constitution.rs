//! The stainless weld metal of a run on the WRC-1992 diagram: what filler and parent metals mix to, and its ferrite.

use seamwright_calc::ferrite::{self, DiagramWindow, Dilution, DilutionPoints};
use seamwright_calc::{Composition, Element, Noted};
use seamwright_handbook::composition::Composition as Limits;
use seamwright_handbook::{Band, base_metals, filler_classes, weld_metal};
use seamwright_model::finding::SourceRef;
use seamwright_model::procedure::{Filler, TransferMode, keys};
use seamwright_model::stated;

use crate::view::{Metal, RunView, View};

/// Elements that count in the equivalents.
const ELEMENTS: [Element; 7] =
    [Element::C, Element::Cr, Element::Ni, Element::Mo, Element::N, Element::Nb, Element::Cu];

/// Families whose weld metal the diagram describes.
const FAMILIES: [&str; 2] = ["austenitic-stainless", "duplex-stainless"];

/// A run's weld metal on the diagram.
#[derive(Debug, Clone, PartialEq)]
pub struct WeldMetal {
    /// Parent metals, filler and weld at the middle of the dilution.
    pub points: DilutionPoints,
    /// Ferrite number of the weld, with what must be said of it.
    pub ferrite: Noted<f64>,
    /// Share of molten parent metal by the handbook, %.
    pub dilution_pct: Band,
    /// Where the dilution is written.
    pub source: SourceRef,
    /// Whether a composition is taken from the limits of its specification, not from the document.
    pub by_specification: bool,
}

/// The weld metal of a run whose parent metals are austenitic or duplex, or one of them with another steel.
///
/// Compositions are those of the document, else the middle of the specification's limits. Nothing where the handbook does
/// not know a composition or the dilution of the process.
pub fn of(view: &View<'_>, run: &RunView<'_>) -> Option<WeldMetal> {
    let (first, last) = (view.metals.first()?, view.metals.last()?);
    let stainless = |metal: &Metal<'_>| FAMILIES.iter().any(|family| metal.is(family));
    if !(stainless(first) || stainless(last)) || !(first.is("steel") && last.is("steel")) {
        return None;
    }
    let (_, filler) = run.filler(view.procedure)?;
    let (filler, by_class) = filler_composition(filler)?;
    let (parent_1, by_first) = metal_composition(first)?;
    let (parent_2, by_last) = metal_composition(last)?;
    let transfer = run.value(&keys::TRANSFER_MODE);
    let rows = weld_metal::dilution(run.number());
    let row = rows
        .iter()
        .find(|row| match (row.transfer, transfer.as_ref()) {
            (None, _) => true,
            (Some(named), Some(mode)) => named == transfer_name(*mode.value),
            (Some(_), None) => false,
        })
        .or(rows.first())?;
    let mix = Dilution {
        parent_1: &parent_1,
        parent_2: &parent_2,
        filler: &filler,
        dilution: row.dilution_pct.middle() / 100.0,
        share_of_parent_1: 0.5,
    };
    let points = mix.points(ferrite::wrc_1992).ok()?;
    let ferrite = ferrite::ferrite_number(points.weld, &window()).ok()?;
    Some(WeldMetal {
        points,
        ferrite,
        dilution_pct: row.dilution_pct,
        source: row.origin.source_ref(),
        by_specification: by_class || by_first || by_last,
    })
}

/// The part of the diagram that its lines describe.
pub fn window() -> DiagramWindow {
    let (chromium, nickel) = (weld_metal::ferrite::WRC_CHROMIUM, weld_metal::ferrite::WRC_NICKEL);
    DiagramWindow { chromium_pct: chromium.value, nickel_pct: nickel.value }
}

/// Pulsed transfer melts as spray does.
fn transfer_name(mode: TransferMode) -> &'static str {
    if mode == TransferMode::ShortCircuit { "short-circuit" } else { "spray" }
}

fn metal_composition(metal: &Metal<'_>) -> Option<(Composition, bool)> {
    if let Some(composition) = metal.stated.composition.as_ref().and_then(as_stated) {
        return Some((composition, false));
    }
    let known: &base_metals::BaseMetal = metal.known?;
    Some((middle(&known.composition)?, true))
}

fn filler_composition(filler: &Filler) -> Option<(Composition, bool)> {
    if let Some(composition) = filler.composition.as_ref().and_then(as_stated) {
        return Some((composition, false));
    }
    Some((middle(&filler_classes::find(&filler.designation)?.composition)?, true))
}

fn as_stated(composition: &stated::Composition) -> Option<Composition> {
    let pct = |element: Element| (element, composition.percent(element.symbol()));
    // A certificate that leaves chromium out says nothing of the place on the diagram.
    composition.names("Cr").then(|| Composition::new(ELEMENTS.map(pct)).ok()).flatten()
}

/// The middle of each element's limits; half of the most where there is no least.
fn middle(limits: &Limits) -> Option<Composition> {
    let pct = |element: Element| {
        let content = limits.get(element.symbol());
        let value = content.and_then(|content| match (content.min, content.max) {
            (Some(min), Some(max)) => Some(f64::midpoint(min, max)),
            (None, Some(max)) => Some(max / 2.0),
            (Some(min), None) => Some(min),
            (None, None) => None,
        });
        (element, value.unwrap_or(0.0))
    };
    if limits.is_empty() { None } else { Composition::new(ELEMENTS.map(pct)).ok() }
}
