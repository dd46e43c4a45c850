//! What lies on the shelf and on the rack.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::quantity::{GasVolume, Length, Mass, Pressure};
use crate::stated::{Composition, Quantity, Text, YesNo};

/// Consumables on the shelf.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Stock {
    /// Tungsten electrodes.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub tungstens: Vec<StockTungsten>,
    /// Rods, electrodes and wires.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub fillers: Vec<StockFiller>,
    /// Gas nozzles.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub nozzles: Vec<StockNozzle>,
    /// Gas lenses.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub gas_lenses: Vec<StockGasLens>,
    /// Gas cylinders.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub gas_cylinders: Vec<GasCylinder>,
    /// Plate, sheet and pipe for coupons.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub metals: Vec<StockMetal>,
}

/// Tungsten electrodes of one kind.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StockTungsten {
    /// Designation by ISO 6848 or AWS A5.12.
    #[schemars(example = &"WLa15")]
    pub designation: Text,
    /// Diameter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub diameter: Quantity<Length>,
    /// How many.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<u32>,
}

/// Rods, electrodes or wire of one kind.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StockFiller {
    /// Classification by AWS A5 or ISO.
    #[schemars(example = &"ER70S-2")]
    pub designation: Text,
    /// Diameter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub diameter: Quantity<Length>,
    /// Mass on the shelf.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mass: Quantity<Mass>,
    /// Length of one rod or electrode.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Quantity<Length>,
    /// Mass of one spool, box or tube as it is bought.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"33 lb")]
    pub package: Quantity<Mass>,
    /// How many packages; with `package` they give the mass on the shelf.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub packages: Option<u32>,
    /// How many rods or electrodes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<u32>,
    /// Make and trade name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub make: Option<Text>,
    /// Batch or lot number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub batch: Option<Text>,
}

/// Gas nozzles of one kind.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StockNozzle {
    /// Nozzle by number (`No. 7`) or by bore (`11 mm`).
    #[schemars(example = &"No. 7")]
    pub nozzle: Text,
    /// Torch sizes that it fits.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub torches: Vec<Text>,
    /// Whether it is made for a gas lens.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gas_lens: Option<YesNo>,
    /// How many.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<u32>,
}

/// Gas lenses of one kind.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StockGasLens {
    /// Diameter of the tungsten electrode.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub diameter: Quantity<Length>,
    /// Torch sizes that it fits.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub torches: Vec<Text>,
    /// How many.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<u32>,
}

/// Gas cylinders of one kind.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GasCylinder {
    /// Designation by ISO 14175 or AWS A5.32.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"I1")]
    pub designation: Option<Text>,
    /// Volume percent of each gas: Ar, He, CO2, O2, H2, N2.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub composition: Option<Composition>,
    /// Gas in one cylinder, as volume at atmospheric pressure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub contents: Quantity<GasVolume>,
    /// Water capacity of one cylinder.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub capacity: Quantity<GasVolume>,
    /// Pressure in the cylinder.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pressure: Quantity<Pressure>,
    /// How many; one where it is not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<u32>,
}

/// Plate, sheet or pipe on the rack.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StockMetal {
    /// Specification and grade.
    #[schemars(example = &"S235JR")]
    pub specification: Text,
    /// Thickness.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness: Quantity<Length>,
    /// Outside diameter of pipe.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outside_diameter: Quantity<Length>,
    /// Width.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub width: Quantity<Length>,
    /// Length.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Quantity<Length>,
    /// How many pieces; one where it is not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<u32>,
}
