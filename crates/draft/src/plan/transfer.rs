//! The modes of transfer of root and fill runs.

use seamwright_handbook::gmaw_parameters::{self, Transfer};
use seamwright_handbook::planning::{self, FamilyRow, Part};
use seamwright_handbook::processes::Wire;
use seamwright_handbook::{Band, metal_families, metal_heat};

use crate::facts::Facts;
use crate::figures::rule;
use crate::no_draft::nothing;
use crate::refused::Refused;

/// A mode of transfer, where the process has modes.
#[derive(Clone, Copy)]
pub(super) struct Mode(pub(super) Option<Transfer>);

impl Mode {
    /// Spray, if either is spray: it asks most of the gas.
    pub(super) fn max_spray(self, other: Self) -> Option<Transfer> {
        [self.0, other.0].into_iter().flatten().find(|mode| *mode == Transfer::Spray).or(other.0)
    }
}

/// The modes of transfer of root and fill runs.
pub(super) fn transfers(facts: &Facts, like: Option<&FamilyRow>) -> Result<(Mode, Mode), Refused> {
    let process = facts.process;
    if process.shielded_wire(Wire::MetalCored) {
        return Ok(metal_cored_modes(facts));
    }
    match (process.shielded_wire(Wire::Solid), process.inert_gas_alone()) {
        (true, true) => inert_modes(facts, like),
        (true, false) => active_modes(facts, like),
        (false, _) => Ok((Mode(None), Mode(None))),
    }
}

/// Whether a metal is welded in a mode of transfer where it lies.
fn used(facts: &Facts, mode: Transfer) -> bool {
    planning::run(facts.metal, facts.process.number, Some(mode), Part::Fill, facts.attitude()).is_some()
}

/// Whether the handbook has settings of a mode of transfer for the wire.
fn has_rows(like: Option<&FamilyRow>, mode: Transfer) -> bool {
    gmaw_parameters::rows().iter().any(|row| row.transfer == mode && like.is_some_and(|like| like.like == row.wire))
}

/// The mode of solid wire in inert gas: spray where the pool stays, else pulsed.
fn inert_modes(facts: &Facts, like: Option<&FamilyRow>) -> Result<(Mode, Mode), Refused> {
    let serves = |mode: &Transfer| used(facts, *mode) && has_rows(like, *mode);
    match [Transfer::Spray, Transfer::Pulsed].into_iter().find(serves) {
        Some(mode) => Ok((Mode(Some(mode)), Mode(Some(mode)))),
        None => Err(nothing(
            format!(
                "spray transfer of this metal runs out of the joint in {}, and the handbook has no pulsed settings for it",
                facts.position.code
            ),
            facts,
        )),
    }
}

/// The modes of metal cored wire: spray where the pool stays; else pulsed, over an open root by short circuits.
fn metal_cored_modes(facts: &Facts) -> (Mode, Mode) {
    if used(facts, Transfer::Spray) && !facts.cool {
        return (Mode(Some(Transfer::Spray)), Mode(Some(Transfer::Spray)));
    }
    let root = if facts.groove() { Transfer::ShortCircuit } else { Transfer::Pulsed };
    (Mode(Some(root)), Mode(Some(Transfer::Pulsed)))
}

/// The modes of solid wire in active gas: short circuits on thin metal, spray or pulsed on thick, an open root with a cool arc.
fn active_modes(facts: &Facts, like: Option<&FamilyRow>) -> Result<(Mode, Mode), Refused> {
    let short = Some(Transfer::ShortCircuit);
    let thickness = gmaw_parameters::SHORT_CIRCUIT_THICKNESS.value;
    // Stainless steel of some millimetres is spared the heat of spray, and fuses better than by short circuits.
    let stainless = metal_families::is_in(facts.metal.family, "stainless");
    let (cool, _) = rule(planning::STAINLESS_PULSED);
    let spared = stainless && cool.contains(facts.thickness_mm) && used(facts, Transfer::Pulsed);
    let cool = facts.cool && facts.thickness_mm <= thickness.high;
    if cool || (facts.thickness_mm <= thickness.low && !spared) {
        return Ok((Mode(short), Mode(short)));
    }
    // A spray pool runs out of a groove in a horizontal seam on a vertical wall.
    let wall = facts.groove() && facts.horizontal() && used(facts, Transfer::Pulsed);
    let hot = if used(facts, Transfer::Spray) && !spared && !wall { Transfer::Spray } else { Transfer::Pulsed };
    if has_rows(like, hot) {
        return Ok((Mode(Some(active_root(facts, hot, thickness))), Mode(Some(hot))));
    }
    if facts.thickness_mm <= thickness.high {
        return Ok((Mode(short), Mode(short)));
    }
    Err(nothing(
        format!(
            "short-circuit transfer does not fuse {} well, and the handbook has no pulsed settings for {}",
            facts.thickness, facts.position.code
        ),
        facts,
    ))
}

/// The mode of the root run under runs of a hot mode: an open root is closed with a cool arc.
fn active_root(facts: &Facts, hot: Transfer, short_circuit_mm: Band) -> Transfer {
    // Metal that must not cool too fast wants more heat in the root than short circuits give.
    let tender = metal_heat::cooling_time(facts.metal).is_some() && used(facts, Transfer::Pulsed);
    // On a steel strip nothing falls through.
    let strip = facts.backing().is_some_and(|own| own == "strip");
    if !facts.groove() || strip {
        hot
    } else if tender {
        Transfer::Pulsed
    } else if facts.thickness_mm > short_circuit_mm.low {
        Transfer::ShortCircuit
    } else {
        hot
    }
}
