//! Power sources, torches and regulators.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::procedure::{Alternating, ArcStart, Cooling, CurrentControl, Polarity};
use crate::quantity::{Current, Flow, Frequency, Length, Power, Pressure, Range, Share, Speed, Voltage};
use crate::stated::{Named, Quantity, Stated, Text, YesNo};
use crate::words::words;

/// A welding power source.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PowerSource {
    /// Name in the shop.
    #[schemars(example = &"bench 1")]
    pub name: Text,
    /// Processes that it welds with, by ISO 4063 number or AWS letters.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub processes: Vec<Text>,
    /// Range of the current.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub current: Quantity<Current>,
    /// Range of the current by process, where it differs.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub current_by_process: Named<Stated<Range<Current>>>,
    /// Range of the voltage of a machine with constant voltage.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub voltage: Quantity<Voltage>,
    /// Open-circuit voltage.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub open_circuit_voltage: Quantity<Voltage>,
    /// Types of current and polarity that it gives.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub polarity: Vec<Polarity>,
    /// Rated points of the name plate: current with its duty cycle.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub rated_points: Vec<RatedPoint>,
    /// Ways of starting the arc.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub arc_start: Vec<ArcStart>,
    /// Ways of controlling the current while welding.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub current_control: Vec<CurrentControl>,
    /// Whether the machine opens and shuts the gas.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub gas_solenoid: Option<YesNo>,
    /// Whether it pulses the current.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pulse: Option<YesNo>,
    /// Whether the current rises at the start and falls at the end by a time that is set.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub slopes: Option<YesNo>,
    /// Whether it has a hot start for covered electrodes.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub hot_start: Option<YesNo>,
    /// Whether the arc force can be set.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub arc_force: Option<YesNo>,
    /// Whether the inductance can be set.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub inductance: Option<YesNo>,
    /// Range of the pulse frequency.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pulse_frequency: Quantity<Frequency>,
    /// Ranges of frequency and electrode-negative share with alternating current.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ac: Option<Alternating>,
    /// Range of the wire feed speed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wire_feed_speed: Quantity<Speed>,
    /// Where its wire feeder stands.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wire_feeder: Option<WireFeeder>,
    /// Cross-section range or name of the cable connectors: `10-25 mm2`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"35-50 mm2")]
    pub connector: Option<Text>,
    /// Whether a water cooler belongs to it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub water_cooler: Option<YesNo>,
    /// Power drawn while the machine idles.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub idle_power: Quantity<Power>,
    /// Efficiency of the machine.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub efficiency: Quantity<Share>,
    /// Remarks.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notes: Vec<Text>,
}

words! {
    /// Where a wire feeder stands.
    WireFeeder, "wire feeder" {
        /// In the case of the power source.
        BuiltIn = "built-in",
        /// In a case of its own, between power source and torch.
        Separate = "separate",
    }
}

impl PowerSource {
    /// The current range of a process: its own where stated, else that of the machine.
    pub fn current_of(&self, process: &str) -> Option<&Range<Current>> {
        self.current_by_process.get(process).or(self.current.as_ref())?.value()
    }
}

/// A current and how long in ten minutes it may be drawn.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RatedPoint {
    /// Current.
    pub current: Stated<Range<Current>>,
    /// Share of ten minutes.
    pub duty_cycle: Stated<Range<Share>>,
    /// Process for which the point holds; all where it is not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub process: Option<Text>,
}

/// A torch of the shop.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ShopTorch {
    /// Name in the shop.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<Text>,
    /// Size number: 9, 17, 26, 20, 18.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = 17)]
    pub size: Option<Text>,
    /// Processes, where it is not a torch for 141.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub processes: Vec<Text>,
    /// How it is cooled.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cooling: Option<Cooling>,
    /// Whether it has a gas valve that is opened by hand.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub valve: Option<YesNo>,
    /// Whether it has a switch.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub switch: Option<YesNo>,
    /// Rated points.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub rated_points: Vec<RatedPoint>,
    /// Length of cable and hose.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cable_length: Quantity<Length>,
    /// Connector of the power cable.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub connector: Option<Text>,
}

/// A gas regulator.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Regulator {
    /// Name in the shop.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub name: Option<Text>,
    /// Gases that it is made for, by name or designation: argon, CO2, `I1`.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub gases: Vec<Text>,
    /// Range of the flow.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flow: Quantity<Flow>,
    /// Whether a flow meter shows the flow.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flow_meter: Option<YesNo>,
    /// Highest cylinder pressure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub inlet_pressure: Quantity<Pressure>,
}
