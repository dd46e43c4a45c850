//! The shielding gas, and the gas that keeps air from an open root.

use seamwright_handbook::designation::{self, Shielding};
use seamwright_handbook::gmaw_parameters::{self, Transfer};
use seamwright_handbook::planning::FamilyRow;
use seamwright_handbook::process_suitability::{self, Need};
use seamwright_handbook::processes::Wire;
use seamwright_handbook::{find, metal_families, shielding_gases};

use super::filler::Filler;
use crate::begin::Line;
use crate::facts::Facts;
use crate::joint::Shape;
use crate::machine;
use crate::page::Said;

/// A gas.
pub(crate) struct Gas {
    /// Symbol of ISO 14175.
    pub(crate) symbol: String,
    /// Components in percent by volume, where settings are for one mixture.
    pub(crate) parts: Vec<(&'static str, f64)>,
    pub(crate) said: Said,
}

/// The shielding gas; a class with a gas letter gets it written.
pub(super) fn gas(
    facts: &Facts,
    filler: &mut Filler,
    like: Option<&FamilyRow>,
    transfer: Option<Transfer>,
    line: Option<Line>,
) -> Option<Gas> {
    if !facts.process.uses_shielding_gas {
        return None;
    }
    let gases = facts.suits.gases;
    let taken: &[&str] = match filler.reads.as_ref().and_then(|reads| reads.shielding.as_ref()) {
        Some(Shielding::Gas(own)) => own,
        _ => &[],
    };
    let fits = |symbol: &&&'static str| taken.is_empty() || taken.contains(symbol);
    let usual = machine::stocked(facts, gases.iter().filter(fits), |bench, gas| bench.has_gas(gas)).or(gases.first())?;
    let source = facts.suits.origin.source_ref();
    // Settings of solid wire are for one mixture.
    let mixtures = like.map(|like| wire_mixtures(like.like, transfer)).unwrap_or_default();
    let chosen = if facts.mag() {
        let known = mixtures.into_iter().filter_map(|parts| {
            let row = shielding_gases::classify(&parts)?;
            let symbol = gases.iter().find(|own| **own == row.symbol)?;
            // Mixtures with helium are dearer and rarer: not to begin with.
            (!parts.iter().any(|(name, _)| *name == "He")).then_some((symbol, parts))
        });
        let argon = |parts: &[(&str, f64)]| {
            parts.iter().filter(|(name, _)| *name == "Ar").map(|(_, percent)| *percent).sum::<f64>()
        };
        if transfer == Some(Transfer::Spray) {
            // More argon lets spray begin at less current.
            known.max_by(|a, b| argon(&a.1).total_cmp(&argon(&b.1)))
        } else {
            { known }.next()
        }
    } else {
        None
    };
    // The gas of the line that the settings are from goes before.
    let of_line = line.and_then(|line| of_line(&line, gases)).filter(|(symbol, _)| fits(symbol));
    let asked = facts.choices.gas.as_ref().and_then(|wanted| gases.iter().find(|own| find::same(own, wanted)));
    let chosen = asked.map(|symbol| (symbol, Vec::new())).or(of_line).or(chosen);
    let (symbol, parts) = chosen.unwrap_or((usual, Vec::new()));
    if let Some(bare) = filler.class.strip_suffix("C/M") {
        filler.class = format!("{bare}{}", if symbol.starts_with('C') { "C" } else { "M" });
    }
    let how = if symbol == usual { "the usual gas for the metal" } else { "the gas that the mode of transfer needs" };
    Some(Gas { symbol: (*symbol).to_owned(), parts, said: Said::how(source, how) })
}

/// The mixture that a line of settings is for, where it is one of the gases of the metal.
fn of_line<'g>(line: &Line, gases: &'g [&'static str]) -> Option<(&'g &'static str, Vec<(&'static str, f64)>)> {
    let words = line.row.gas?;
    let parts = words.split_whitespace().find_map(mixture)?;
    let row = shielding_gases::classify(&parts)?;
    let symbol = gases.iter().find(|own| **own == row.symbol)?;
    Some((symbol, parts))
}

/// The mixtures that settings of a wire are for, such as 90Ar-10CO2: those of the mode of transfer first.
fn wire_mixtures(wire: &str, transfer: Option<Transfer>) -> Vec<Vec<(&'static str, f64)>> {
    let mut texts: Vec<&str> = Vec::new();
    if matches!(transfer, Some(Transfer::Spray | Transfer::Pulsed)) {
        texts.extend(gmaw_parameters::transitions().iter().filter(|row| row.wire == wire).map(|row| row.gas));
    }
    if wire == "carbon-steel" {
        texts.extend(gmaw_parameters::starting_points().iter().map(|row| row.gas));
    }
    texts.extend(gmaw_parameters::rows().iter().filter(|row| row.wire == wire).map(|row| row.gas));
    texts.into_iter().flat_map(str::split_whitespace).filter_map(mixture).collect()
}

/// The parts of a mixture of several gases, such as `80Ar-20CO2`.
fn mixture(word: &str) -> Option<Vec<(&'static str, f64)>> {
    designation::gas::mixture(word).filter(|parts| parts.len() > 1)
}

/// Gas at an open root that air would spoil.
pub(super) fn backing_gas(facts: &Facts, shape: &Shape) -> Option<Gas> {
    let Shape::Groove { backing: None, .. } = shape else { return None };
    // Of a joint that is welded from both sides the root is gouged out.
    if !facts.process.uses_shielding_gas || facts.process.wire == Some(Wire::FluxCored) || shape.both_sides() {
        return None;
    }
    let family = &facts.metal.family;
    let asks = process_suitability::family(family);
    let exposed = metal_families::get(family).is_some_and(|row| row.chromium || row.reactive);
    let needed = asks.is_some_and(|row| row.root_backing_gas == Need::Needed);
    if !needed && !exposed {
        return None;
    }
    let (symbol, source) = match shielding_gases::backing(family) {
        Some(row) => (row.gases.first().copied()?, row.origin.source_ref()),
        None => (facts.suits.gases.first().copied()?, facts.suits.origin.source_ref()),
    };
    Some(Gas {
        symbol: symbol.to_owned(),
        parts: Vec::new(),
        said: Said::how(source, "the root is welded from one side and open to air"),
    })
}
