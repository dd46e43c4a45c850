//! What follows from the settings of a run: what it lays down, its heat, its nozzle.

use std::sync::OnceLock;

use seamwright_calc::Spread;
use seamwright_handbook::{Band, deposition};
use seamwright_model::finding::SourceRef;

/// How a deposition rate is found.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum By {
    /// From the stated wire feed speed and the wire's diameter.
    WireFeed,
    /// From the wire feed speed that the current asks for.
    Current,
    /// From the handbook's rates by class, diameter and current of the electrode or wire.
    Size,
    /// From the current of a covered electrode for steel, of whose class and size the handbook has no rate.
    Melted,
    /// From the handbook's rates of the process: a wide range.
    Table,
}

/// What a run lays down.
#[derive(Debug, Clone, PartialEq)]
pub struct Deposit {
    /// Weld metal in an hour of arc time, kg.
    pub rate_kg_h: Spread,
    /// Cross-section of one run, mm²; nothing where the travel speed is not stated.
    pub area_mm2: Option<Spread>,
    /// How it is found.
    pub by: By,
    /// Share of what is melted that ends in the weld, %, without the stub, where the row of the size tells.
    pub melted_pct: Option<f64>,
    /// Share of the filler bought that ends in the weld, %, with the row's own word for the process.
    pub efficiency: &'static deposition::EfficiencyRow,
    /// Density of the weld metal, kg/m³.
    pub density_kg_m3: f64,
    /// Where the figures are written.
    pub sources: Vec<SourceRef>,
}

/// Arc energy and heat input of a run, kJ/mm, lowest to highest.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RunHeat {
    /// Arc energy, which QW-409.1(a) calls heat input: no thermal efficiency.
    pub arc_energy: Band,
    /// Heat input of ISO/TR 17671-1, with the thermal efficiency k of the process.
    pub heat_input: Band,
    /// Thermal efficiency k.
    pub k: f64,
}

/// A nozzle by its number, where it is one of those that have numbers, and its bore.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Nozzle {
    pub(crate) number: Option<u32>,
    pub(crate) bore_mm: f64,
}

/// What follows from the settings of a run, once it is asked for; runs with equal settings share it.
#[derive(Debug, Default)]
pub(crate) struct Follows {
    pub(crate) laid: OnceLock<Option<Deposit>>,
    pub(crate) heat: OnceLock<Option<RunHeat>>,
    pub(crate) nozzle: OnceLock<Option<Nozzle>>,
}
