//! Filler: what runs take of it, in kilograms and in pieces.

use seamwright_calc::Spread;
use seamwright_calc::deposition::{self as deposition_formulas, Loss, Rod};
use seamwright_handbook::{Size, deposition, processes};
use seamwright_model::procedure::Filler;
use seamwright_model::quantity::Length;
use seamwright_model::stated::Stated;
use seamwright_weld::deposit::Deposit;
use seamwright_weld::{RunView, View, stock};

use crate::log::{Log, middle, rule};

/// Filler to buy.
#[derive(Debug, Clone, PartialEq)]
pub struct FillerUse {
    /// Its name in the document.
    pub name: String,
    /// Its designation.
    pub designation: String,
    /// ISO 4063 number of the process that uses it.
    pub process: &'static str,
    /// Diameter, mm.
    pub diameter_mm: Option<f64>,
    /// The same in the unit that it is stated in: `1.2 mm`, `3/32 in`.
    pub size: Option<String>,
    /// Length of one electrode or rod, mm: of the stock, else the usual one.
    pub length_mm: Option<f64>,
    /// How many electrodes weigh a kilogram.
    per_kg: Option<f64>,
    /// Mass of one spool or box of the stock, kg.
    pub package_kg: Option<f64>,
    /// Density, kg/m³.
    density_kg_m3: f64,
    /// Weld metal that it gives, kg.
    pub weld_metal_kg: f64,
    /// Mass to buy, kg.
    pub mass_kg: Spread,
    /// The same in pieces.
    pub pieces: Option<(u64, Pieces)>,
    /// What the shop has of it, kg.
    pub in_stock_kg: Option<f64>,
    /// The rows of the stock that it is taken from, each with its mass, kg.
    pub(crate) shelf: Vec<(usize, Option<f64>)>,
}

impl FillerUse {
    /// Mass of one package, kg, and the word for it: a spool of wire, a box of electrodes or rods.
    pub fn package(&self) -> Option<(f64, &'static str)> {
        let wire = self.pieces.is_some_and(|(_, kind)| kind == Pieces::Spools);
        let usual = || wire.then(|| deposition::SPOOL_MASS.value.middle());
        Some((self.package_kg.or_else(usual)?, if wire { "spool" } else { "box" }))
    }

    /// How many packages it is, and the part of one.
    pub fn packages(&self) -> Option<f64> {
        self.package().map(|(each, _)| self.mass_kg.middle / each)
    }
}

/// The pieces in which filler is bought.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pieces {
    /// Covered electrodes.
    Electrodes,
    /// Rods for tungsten arc welding.
    Rods,
    /// Spools of wire.
    Spools,
}

impl Pieces {
    /// The word for them.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Electrodes => "electrodes",
            Self::Rods => "rods",
            Self::Spools => "spools",
        }
    }

    /// A number of them in words: "1 rod", "12 rods".
    pub fn count(self, count: u64) -> String {
        let word = if count == 1 { self.as_str().trim_end_matches('s') } else { self.as_str() };
        format!("{count} {word}")
    }
}

pub(crate) fn filler(
    view: &View<'_>,
    run: &RunView<'_>,
    deposit: &Deposit,
    weld_metal: Spread,
    log: &mut Log<'_>,
) -> Option<FillerUse> {
    let (name, filler) = run.filler(view.procedure)?;
    let diameter_mm = filler.diameter.as_ref().and_then(Stated::value).and_then(|range| middle(range, Length::mm));
    let covered = run.is_covered();
    let counted = diameter_mm
        .filter(|_| covered)
        .and_then(|diameter| deposition::electrodes_per_kg(&filler.designation, diameter));
    let length_mm = length(filler, counted.map(|(_, row)| row), run.number(), log);
    // What is known of the very electrode, less the stub of its length; else what is usual of the process.
    let own = deposit.melted_pct.filter(|_| covered).zip(length_mm).and_then(|(melted, length)| {
        let stub = rule(deposition::ELECTRODE_STUB, "stub of a covered electrode", log);
        let stub_loss = deposition_formulas::stub_loss(length, stub).ok()?;
        log.assume(
            format!(
                "{}: {melted:.0} % of what is melted ends in the weld, {:.0} % is stub",
                filler.designation,
                stub_loss * 100.0
            ),
            None,
        );
        Some(Loss::EfficiencyAndStub { efficiency: melted / 100.0, stub_loss })
    });
    let share = deposit.efficiency.efficiency_pct;
    let mass = |weld_metal: f64, pct: f64| {
        // The rows of covered electrodes that are taken count the stub already.
        deposition_formulas::filler_mass_kg(weld_metal, own.unwrap_or(Loss::Efficiency(pct / 100.0))).ok()
    };
    log.formula(deposition_formulas::FILLER_MASS);
    if own.is_none() && deposit.efficiency.stub_included == Some(true) {
        log.assume("the efficiency of the electrode counts its stub: it is taken off once", None);
    }
    Some(FillerUse {
        name: name.value.to_owned(),
        designation: filler.designation.to_string(),
        process: run.number(),
        diameter_mm,
        size: filler.diameter.as_ref().and_then(Stated::value).and_then(|range| {
            let own = range.middle().or(range.high()).or(range.low())?;
            Some(Size::stated(own, range.unit()).text())
        }),
        length_mm,
        per_kg: counted.zip(length_mm).map(|((per_kg, row), length)| per_kg * row.length_mm / length),
        package_kg: log.shelf.and_then(|shelf| stock::fillers(shelf, filler).into_iter().find_map(stock::package_kg)),
        shelf: shelf_of(filler, deposit.density_kg_m3, log),
        density_kg_m3: deposit.density_kg_m3,
        weld_metal_kg: weld_metal.middle,
        mass_kg: Spread {
            low: mass(weld_metal.low, share.high)?,
            middle: mass(weld_metal.middle, share.middle())?,
            high: mass(weld_metal.high, share.low)?,
        },
        pieces: None,
        in_stock_kg: log.shelf.and_then(|shelf| stock::filler_kg(shelf, filler, deposit.density_kg_m3)),
    })
}

/// The fillers of all runs, each once, with their pieces.
pub(crate) fn fillers<'r>(of_runs: impl Iterator<Item = &'r FillerUse>, log: &mut Log<'_>) -> Vec<FillerUse> {
    let mut all: Vec<FillerUse> = Vec::new();
    for own in of_runs {
        if let Some(same) = all.iter_mut().find(|other| other.name == own.name && other.process == own.process) {
            same.weld_metal_kg += own.weld_metal_kg;
            same.mass_kg = same.mass_kg + own.mass_kg;
        } else {
            all.push(own.clone());
        }
    }
    for filler in &mut all {
        filler.pieces = pieces(filler, log);
    }
    all
}

fn pieces(filler: &FillerUse, log: &mut Log<'_>) -> Option<(u64, Pieces)> {
    match made(filler.process)? {
        Pieces::Electrodes => {
            log.formula(deposition_formulas::ELECTRODES);
            if let Some(per_kg) = filler.per_kg {
                let each = 1.0 / per_kg;
                return Some((
                    deposition_formulas::electrodes_needed(filler.mass_kg.middle, each).ok()?,
                    Pieces::Electrodes,
                ));
            }
            let stub = rule(deposition::ELECTRODE_STUB, "stub of a covered electrode", log);
            let rod = Rod {
                diameter_mm: filler.diameter_mm?,
                length_mm: filler.length_mm?,
                stub_mm: stub,
                density_kg_m3: filler.density_kg_m3,
            };
            log.assume("a covered electrode lays down as much as its core melts, its stub aside", None);
            let each = deposition_formulas::electrode_weld_metal_kg(rod, 1.0).ok()?;
            Some((deposition_formulas::electrodes_needed(filler.weld_metal_kg, each).ok()?, Pieces::Electrodes))
        }
        Pieces::Rods => {
            let rod = Rod {
                diameter_mm: filler.diameter_mm?,
                length_mm: filler.length_mm?,
                stub_mm: 0.0,
                density_kg_m3: filler.density_kg_m3,
            };
            let each = rod.mass_kg().ok()?;
            Some((deposition_formulas::electrodes_needed(filler.mass_kg.middle, each).ok()?, Pieces::Rods))
        }
        Pieces::Spools => {
            let spool = filler.package_kg.unwrap_or_else(|| rule(deposition::SPOOL_MASS, "wire on a spool", log));
            Some((deposition_formulas::spools_needed(filler.mass_kg.middle, spool).ok()?, Pieces::Spools))
        }
    }
}

/// Length of one electrode or rod, mm: of the stock, else of the row that its count stands in, else the usual one.
fn length(filler: &Filler, counted: Option<&deposition::CountRow>, process: &str, log: &mut Log<'_>) -> Option<f64> {
    let stocked = log.shelf.and_then(|shelf| {
        let own = stock::fillers(shelf, filler);
        own.iter().find_map(|own| middle(own.length.as_ref()?.value()?, Length::mm))
    });
    if stocked.is_some() {
        return stocked;
    }
    match made(process)? {
        Pieces::Electrodes => match counted {
            Some(row) => {
                log.assume(
                    format!("length of a covered electrode: {} mm", row.length_mm),
                    Some(row.origin.source_ref()),
                );
                Some(row.length_mm)
            }
            None => Some(rule(deposition::ELECTRODE_LENGTH, "length of a covered electrode", log)),
        },
        Pieces::Rods => Some(rule(deposition::ROD_LENGTH, "length of a rod", log)),
        Pieces::Spools => None,
    }
}

/// The pieces that filler of a process is made in.
fn made(process: &str) -> Option<Pieces> {
    let process = processes::get(process)?;
    Some(match process.covered_electrode() {
        true => Pieces::Electrodes,
        false if process.uses_wire_feed => Pieces::Spools,
        false => Pieces::Rods,
    })
}

/// The rows of the stock that a filler may be taken from, each with its mass, kg, where that is stated.
fn shelf_of(filler: &Filler, density_kg_m3: f64, log: &Log<'_>) -> Vec<(usize, Option<f64>)> {
    let Some(shelf) = log.shelf else { return Vec::new() };
    let own = stock::fillers(shelf, filler);
    let rows = shelf.fillers.iter().enumerate().filter(|(_, row)| own.iter().any(|own| std::ptr::eq(*own, *row)));
    rows.map(|(index, row)| (index, stock::mass_kg(row, density_kg_m3))).collect()
}
