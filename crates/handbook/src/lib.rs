//! The handbook: tables of limits, designations and starting points, each figure with its source and basis.
//!
//! A limit of this program stands here and nowhere else. A table has its figures in one file and its row type in another:
//!
//! - `tables/NAME.yaml` holds the figures: `table`, `title`, `about`, `sources` (key, title, edition, clause, and `register`:
//!   the documents in the table `sources`, from which publisher, standing and address come), `columns`
//!   (key, label, unit, meaning, and `printed: true` where no code reads it), `rows` and `notes`. A row is one line; it names
//!   its `source` by key and gives its `basis`: `published` (read in a published page), `from-memory` (the standard is known,
//!   the figure is remembered) or `common-practice`; `web-page` is a page without standing, which raises notes at most.
//!   `basis_of` gives the basis of single fields that differ, `doubt` says why a row is not beyond doubt.
//!   A figure stands as a plain number in its column's unit, a range as `[low, high]`.
//! - a module of `src` holds the row type and the lookups that checks and sheets call; tables of one code share one.
//!
//! The build script writes the rows as statics of their type and the whole table as JSON for printing, and stops the build at a
//! table that is not sound: a source that is not listed, a row without basis, a column without meaning, a range that runs
//! downwards.
//!
//! # To add a table
//!
//! 1. Write `tables/NAME.yaml`, kebab-case, in the pattern of its neighbours.
//! 2. Write in a module of `src`: a row type with a field `origin` of type [`Origin`], `table!("NAME", Row);`, and the lookups.
//!    A lookup forgives case, spaces and hyphens ([`find`]), and gives [`Limits`] where a check compares a value with a range.
//!    A new module has its line below; the build script puts the table into [`TABLES`].
//!
//! To add a process, a metal, a gas or an electrode, add a row: behaviour that differs stands in columns.

pub mod band;
pub mod bounds;
pub mod code_scope;
pub mod composition;
pub mod find;
mod inches;
pub mod measure;
pub mod qualified;
pub mod rule;
pub mod table;

pub mod api_1104;
pub mod asme_ix;
pub mod aws_d1_1;
pub mod aws_d1_3;
pub mod base_metals;
pub mod cautions;
pub mod coupon_tests;
pub mod coupons;
pub mod covered_electrodes;
pub mod densities;
pub mod deposition;
pub mod designation;
pub mod electrode_current;
pub mod en_1090_2;
pub mod fcaw_parameters;
pub mod filler_choice;
pub mod filler_classes;
pub mod filler_suitability;
pub mod fusion;
pub mod gas_nozzles;
pub mod gmaw_parameters;
pub mod gtaw_polarity;
pub mod gtaw_starting_points;
pub mod interpass_temperature;
pub mod iso_15609_1;
pub mod iso_15614_1;
pub mod iso_15614_2;
pub mod iso_5817;
pub mod iso_9606_1;
pub mod iso_9606_2;
pub mod joint_preparations;
pub mod lens_shade;
pub mod metal_families;
pub mod metal_heat;
pub mod nominal_sizes;
pub mod nozzle_gas_flow;
pub mod planning;
pub mod positions;
pub mod practice;
pub mod preheat_methods;
pub mod process_suitability;
pub mod processes;
pub mod purge_oxygen;
pub mod setting_limits;
pub mod settings_by_thickness;
pub mod sheet_sizes;
pub mod shielding_gases;
pub mod sources;
pub mod technique;
pub mod thermal_efficiency;
pub mod torch_directions;
pub mod torches;
pub mod toughness;
pub mod trade_words;
pub mod treatment;
pub mod tungsten_current;
pub mod tungsten_stickout;
pub mod tungsten_tips;
pub mod tungsten_types;
pub mod variables;
pub mod weld_metal;
pub mod workshop;

pub use band::{Band, Limits, Usual};
pub use measure::{Heat, Inches, Size};
pub use rule::{Rule, Statement};
pub use seamwright_model::finding::{Basis, SourceRef};
pub use table::{Column, Origin, Source, Table, TableInfo, UnknownTable};

/// Differs where any table has changed since a build: 16 hexadecimal digits.
pub const STAMP: &str = env!("HANDBOOK_STAMP");

// Every table, by name: the build script lists what the modules declare.
include!(concat!(env!("OUT_DIR"), "/tables.rs"));

/// The table with this name, forgiving case, spaces and hyphens; an error names the nearest.
pub fn table(name: &str) -> Result<&'static Table, UnknownTable> {
    match TABLES.iter().find(|info| find::same(info.name(), name)) {
        Some(info) => Ok(info.table()),
        None => Err(UnknownTable::new(name, TABLES.iter().map(|info| info.name()))),
    }
}

#[cfg(test)]
mod tests;
