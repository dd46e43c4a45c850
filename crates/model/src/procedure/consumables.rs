//! What is used up or set in the torch: fillers, electrodes, gases, flux.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::quantity::{Angle, Duration, Flow, Length, Oxygen};
use crate::stated::{Composition, Quantity, Text, YesNo};
use crate::words::words;

/// A filler metal.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Filler {
    /// Classification by AWS A5 or ISO: `ER70S-2`, `E7018`, `ISO 14341-A G 42 4 M21 3Si1`.
    #[schemars(example = &"ER70S-2")]
    pub designation: Text,
    /// Diameter of the rod, electrode or wire.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub diameter: Quantity<Length>,
    /// Drying before use: temperature and time.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"350 °C for 2 h")]
    pub drying: Option<Text>,
    /// Holding after drying or opening: temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub holding: Option<Text>,
    /// Longest time out of the oven or the opened package.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub exposure: Quantity<Duration>,
    /// Maker and trade name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub make: Option<Text>,
    /// Batch or lot number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub batch: Option<Text>,
    /// Mass percent of each element, from the certificate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub composition: Option<Composition>,
}

/// Tungsten electrode.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Tungsten {
    /// Designation by ISO 6848 or AWS A5.12: `WLa15`, `EWLa-1.5`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"WLa15")]
    pub designation: Option<Text>,
    /// Diameter.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub diameter: Quantity<Length>,
    /// Included angle of the ground tip.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub included_angle: Quantity<Angle>,
    /// Flat at the tip.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tip_flat: Quantity<Length>,
    /// Length beyond the nozzle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stickout: Quantity<Length>,
}

/// Torch and nozzle.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Torch {
    /// Size number: 9, 17, 26, 20, 18.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = 17)]
    pub size: Option<Text>,
    /// Nozzle by number (`No. 7`) or by bore (`11 mm`).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"No. 7")]
    pub nozzle: Option<Text>,
    /// Whether a gas lens is fitted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gas_lens: Option<YesNo>,
    /// How the torch is cooled.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cooling: Option<Cooling>,
}

words! {
    /// How a torch is cooled.
    Cooling, "cooling" {
        /// By the shielding gas and air.
        Gas = "gas",
        /// By water.
        Water = "water",
    }
}

/// A gas at the torch.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ShieldingGas {
    /// Designation by ISO 14175 or AWS A5.32: `I1`, `M21-ArC-18`, `SG-AC-25`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"I1")]
    pub designation: Option<Text>,
    /// Volume percent of each gas: Ar, He, CO2, O2, H2, N2.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub composition: Option<Composition>,
    /// Flow rate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flow: Quantity<Flow>,
    /// Gas before the arc.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pre_flow: Quantity<Duration>,
    /// Gas after the arc.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub post_flow: Quantity<Duration>,
    /// Make or trade name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub make: Option<Text>,
}

/// Gas at the root side.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct BackingGas {
    /// Designation by ISO 14175 or AWS A5.32.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub designation: Option<Text>,
    /// Volume percent of each gas.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub composition: Option<Composition>,
    /// Flow rate while welding.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flow: Quantity<Flow>,
    /// Purging before welding.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub purge_time: Quantity<Duration>,
    /// Oxygen at the root before welding starts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub oxygen: Quantity<Oxygen>,
    /// Until which run or thickness the gas is kept.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub maintained_until: Option<Text>,
}

/// Flux of submerged arc welding.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Flux {
    /// Classification of the flux, or of flux and wire together: `F7A2-EM12K`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"F7A2-EM12K")]
    pub designation: Option<Text>,
    /// Make and trade name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub make: Option<Text>,
    /// Drying before use: temperature and time.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drying: Option<Text>,
    /// How used flux is treated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub recycling: Option<Text>,
}
