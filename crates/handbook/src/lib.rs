//! The handbook: tables of limits, designations and starting points, each figure with its source and basis.
//!
//! A limit of this program stands here and nowhere else. Each table is a pair of files:
//!
//! - `tables/NAME.yaml` holds the figures: `table`, `title`, `about`, `sources` (key, title, edition, clause, and `register`:
//!   the documents in the table `sources`, from which publisher, standing and address come), `columns`
//!   (key, label, unit, meaning), `rows` and `notes`. A row is one line; it names its `source` by key and gives its `basis`:
//!   `published` (read in a published page), `from-memory` (the standard is known, the figure is remembered) or
//!   `common-practice`; `web-page` is a page without standing, which raises notes at most. `basis_of` gives the basis of single fields that differ, `doubt` says why a row is not beyond doubt.
//!   A figure stands as a plain number in its column's unit, a range as `[low, high]`.
//! - `src/NAME.rs` holds the row type and the lookups that checks and sheets call.
//!
//! The build script packs each table for the program and stops the build at a table that is not sound: a source that is
//! not listed, a row without basis, a column without meaning, a range that runs downwards.
//!
//! # To add a table
//!
//! 1. Write `tables/NAME.yaml`, kebab-case, in the pattern of its neighbours.
//! 2. Write `src/NAME.rs`: a row type with a field `origin` of type [`Origin`], `table!("NAME", Row);`, and the lookups. A lookup forgives
//!    case, spaces and hyphens ([`find`]), and gives [`Limits`] where a check compares a value with a range.
//! 3. Add the module and its line in [`TABLES`], in order.
//!
//! To add a process, a metal, a gas or an electrode, add a row: behaviour that differs stands in columns.

pub mod code_scope;
pub mod composition;
pub mod find;
pub mod measure;
pub mod qualified;
pub mod range;
pub mod rule;
pub mod table;

pub mod api_1104;
pub mod asme_ix;
pub mod aws_d1_1;
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
pub mod iso_5817;
pub mod iso_9606_1;
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

pub use measure::{Heat, Inches, Size};
pub use range::{Limits, Range, Usual};
pub use rule::{Rule, Statement};
pub use seamwright_model::finding::{Basis, SourceRef};
pub use table::{Column, Origin, Source, Table, TableInfo, UnknownTable};

/// Differs where any table has changed since a build: 16 hexadecimal digits.
pub const STAMP: &str = env!("HANDBOOK_STAMP");

/// Every table, by name.
pub static TABLES: &[&TableInfo] = &[
    &filler_choice::ORDER,
    &api_1104::ACCEPTANCE,
    &api_1104::FILLERS,
    &api_1104::GROUPS,
    &api_1104::VARIABLES,
    &api_1104::WELDER_POSITIONS,
    &fusion::ARC_VOLTAGE,
    &asme_ix::A_NUMBERS,
    &asme_ix::CONTENTS,
    &asme_ix::F_NUMBERS,
    &asme_ix::METAL_RULES,
    &asme_ix::P_NUMBERS,
    &asme_ix::RANGES,
    &asme_ix::RULES,
    &asme_ix::STATEMENTS,
    &asme_ix::VARIABLES,
    &asme_ix::WELDER_F_NUMBERS,
    &asme_ix::WELDER_METALS,
    &asme_ix::WELDER_POSITIONS,
    &aws_d1_1::ACCEPTANCE,
    &aws_d1_1::CONTENTS,
    &aws_d1_1::FILLERS,
    &aws_d1_1::FIT_UP,
    &aws_d1_1::GROUPS,
    &aws_d1_1::JOINTS,
    &aws_d1_1::MINIMUM_FILLET,
    &aws_d1_1::POSITIONS,
    &aws_d1_1::PREHEAT,
    &aws_d1_1::PREQUALIFIED,
    &aws_d1_1::RANGES,
    &aws_d1_1::RULES,
    &aws_d1_1::VARIABLES,
    &aws_d1_1::welders::GROUPS,
    &aws_d1_1::welders::POSITIONS,
    &aws_d1_1::welders::RANGES,
    &preheat_methods::HYDROGEN_PREHEAT,
    &aws_d1_1::JOINT_MARKS,
    &preheat_methods::SUSCEPTIBILITY_GROUPS,
    &preheat_methods::SUSCEPTIBILITY_INDEX,
    &shielding_gases::BACKING,
    &base_metals::INFO,
    &base_metals::MORE,
    &coupons::FORMERS,
    &workshop::CONNECTORS,
    &toughness::CARBON,
    &cautions::INFO,
    &planning::CLEANING,
    &base_metals::COATING_NAMES,
    &code_scope::REACH,
    &code_scope::INFO,
    &code_scope::NAMES,
    &metal_heat::COOLING_TIME,
    &deposition::RULES,
    &coupons::LAYOUTS,
    &coupon_tests::INFO,
    &covered_electrodes::INFO,
    &preheat_methods::COMPLIANCE_FACTOR,
    &deposition::BY_SIZE,
    &deposition::EFFICIENCY,
    &deposition::RATE,
    &designation::symbols::INFO,
    &weld_metal::DILUTION,
    &purge_oxygen::DISCOLORATION,
    &densities::DUTY_CYCLE,
    &deposition::COUNTS,
    &electrode_current::INFO,
    &electrode_current::SERIES,
    &covered_electrodes::DESIGNATORS,
    &aws_d1_1::EXPOSURE,
    &nozzle_gas_flow::BY_ELECTRODE,
    &covered_electrodes::RULES,
    &planning::SIZES,
    &preheat_methods::COMBINED_THICKNESS,
    &preheat_methods::VALIDITY,
    &en_1090_2::CLASSES,
    &en_1090_2::ROUTES,
    &process_suitability::FAMILIES,
    &fcaw_parameters::INFO,
    &fcaw_parameters::RULES,
    &weld_metal::FERRITE_RULES,
    &filler_choice::INFO,
    &filler_classes::INFO,
    &filler_classes::MORE,
    &filler_classes::RULES,
    &planning::FILLERS,
    &fcaw_parameters::ELECTRODES,
    &fusion::RATIOS,
    &fusion::RULES,
    &densities::CYLINDERS,
    &densities::GASES,
    &nozzle_gas_flow::RULES,
    &shielding_gases::MIXTURE_RULES,
    &shielding_gases::NAMES,
    &gas_nozzles::INFO,
    &shielding_gases::PURITY,
    &technique::GAS_TIMING,
    &gmaw_parameters::INFO,
    &gmaw_parameters::RULES,
    &gmaw_parameters::STARTING_POINTS,
    &planning::GROOVES,
    &gtaw_starting_points::CURRENT,
    &gtaw_polarity::INFO,
    &gtaw_starting_points::RULES,
    &gtaw_starting_points::INFO,
    &preheat_methods::HARDENING_RULES,
    &toughness::HARDNESS,
    &thermal_efficiency::CODES,
    &metal_heat::HEAT_INPUT,
    &metal_heat::RULES,
    &metal_heat::TREATMENT,
    &preheat_methods::HYDROGEN_SCALES,
    &toughness::FILLERS,
    &toughness::METALS,
    &planning::INTERPASS,
    &interpass_temperature::INFO,
    &iso_15614_1::GROUPS,
    &iso_15609_1::INFO,
    &iso_15614_1::COVERED_GROUPS,
    &iso_15614_1::RANGES,
    &iso_15614_1::RULES,
    &iso_15614_1::STATEMENTS,
    &iso_15614_1::VARIABLES,
    &iso_5817::INFO,
    &iso_9606_1::FILLERS,
    &iso_9606_1::POSITIONS,
    &iso_9606_1::PROCESSES,
    &iso_9606_1::RANGES,
    &iso_9606_1::RULES,
    &iso_9606_1::TRANSFERS,
    &joint_preparations::RULES,
    &joint_preparations::INFO,
    &lens_shade::INFO,
    &lens_shade::ISO,
    &workshop::MEASURES,
    &workshop::LESSON_RULES,
    &planning::VOLTAGE,
    &fusion::MELT,
    &densities::METALS,
    &metal_families::INFO,
    &base_metals::NAMES,
    &planning::MADE,
    &metal_heat::NOT_FOR_FUSION,
    &nominal_sizes::INFO,
    &nozzle_gas_flow::INFO,
    &deposition::OPERATING_FACTOR,
    &sheet_sizes::SCHEDULES,
    &planning::RULES,
    &positions::INFO,
    &practice::INFO,
    &metal_heat::PREHEAT,
    &metal_heat::HYDROGEN,
    &positions::OF_PROCESS,
    &process_suitability::INFO,
    &planning::THICKNESS,
    &processes::INFO,
    &purge_oxygen::INFO,
    &purge_oxygen::RULES,
    &planning::RUNS,
    &setting_limits::INFO,
    &settings_by_thickness::INFO,
    &settings_by_thickness::HULL,
    &settings_by_thickness::RULES,
    &preheat_methods::SHAPE_FACTORS,
    &sheet_sizes::GAUGES,
    &shielding_gases::INFO,
    &weld_metal::SHRINKAGE_RULES,
    &sources::INFO,
    &gmaw_parameters::TRANSITION,
    &weld_metal::STAINLESS_DEPOSITS,
    &planning::FAMILIES,
    &deposition::STUB_LOSS,
    &technique::RULES,
    &coupons::SIZES,
    &coupon_tests::RULES,
    &thermal_efficiency::INFO,
    &thermal_efficiency::MEASURED,
    &torch_directions::INFO,
    &torches::RULES,
    &torches::INFO,
    &trade_words::INFO,
    &treatment::EXEMPTIONS,
    &treatment::HOLDING,
    &treatment::LOWERED,
    &treatment::RATES,
    &treatment::THICKNESSES,
    &tungsten_current::INFO,
    &tungsten_current::SERIES,
    &tungsten_stickout::INFO,
    &tungsten_tips::RULES,
    &tungsten_tips::INFO,
    &tungsten_types::INFO,
    &variables::INFO,
    &workshop::FAULTS,
    &weld_metal::SYMBOLS,
    &en_1090_2::COORDINATION,
];

/// The table with this name, forgiving case, spaces and hyphens; an error names the nearest.
pub fn table(name: &str) -> Result<&'static Table, UnknownTable> {
    match TABLES.iter().find(|info| find::same(info.name(), name)) {
        Some(info) => Ok(info.table()),
        None => Err(UnknownTable::new(name, TABLES.iter().map(|info| info.name()))),
    }
}

#[cfg(test)]
mod tests;
