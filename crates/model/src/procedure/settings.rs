//! What may be set for a process and overridden by a run.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::consumables::{Flux, ShieldingGas, Torch, Tungsten};
use crate::quantity::{Angle, Current, Duration, Frequency, HeatInput, Length, Power, Share, Speed, Voltage};
use crate::stated::{OrNone, Quantity, Stated, Text};
use crate::words::words;

/// What may be set for a process and overridden by a run.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Settings {
    /// The machine that it is welded on, by its name in the shop's file.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub machine: Option<Text>,
    /// Degree of mechanization.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub mechanization: Option<Stated<Mechanization>>,
    /// Type of current and polarity of the electrode.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub polarity: Option<Stated<Polarity>>,
    /// Name of a filler under `fillers`, or `none`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub filler: Option<Text>,
    /// Welding current.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub current: Quantity<Current>,
    /// Arc voltage.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub voltage: Quantity<Voltage>,
    /// Instantaneous arc power of waveform-controlled welding.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub arc_power: Quantity<Power>,
    /// Travel speed along the joint.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub travel_speed: Quantity<Speed>,
    /// Length of weld from one electrode.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub run_out_length: Quantity<Length>,
    /// Thickness of the weld metal deposited with the process.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub deposit_thickness: Quantity<Length>,
    /// Greatest thickness of a single run.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub run_thickness: Quantity<Length>,
    /// Heat input, where it is specified.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub heat_input: Quantity<HeatInput>,
    /// Wire feed speed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wire_feed_speed: Quantity<Speed>,
    /// Metal transfer through the arc.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub transfer_mode: Option<Stated<TransferMode>>,
    /// Distance from contact tip to workpiece.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub contact_tip_to_work: Quantity<Length>,
    /// Tungsten electrode.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tungsten: Option<Tungsten>,
    /// Torch and nozzle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub torch: Option<Torch>,
    /// Shielding gas, or `none`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shielding_gas: Option<OrNone<ShieldingGas>>,
    /// Gas that follows the torch over the hot weld, or `none`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub trailing_gas: Option<OrNone<ShieldingGas>>,
    /// Plasma gas.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub plasma_gas: Option<OrNone<ShieldingGas>>,
    /// Bore of the plasma nozzle.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub orifice: Quantity<Length>,
    /// How the arc is started.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub arc_start: Option<Stated<ArcStart>>,
    /// How the current is controlled while welding.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub current_control: Option<Stated<CurrentControl>>,
    /// Pulsed current.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pulse: Option<OrNone<Pulse>>,
    /// Alternating current: frequency and share of electrode-negative time.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ac: Option<Stated<Alternating>>,
    /// Rise of the current at the start.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub up_slope: Quantity<Duration>,
    /// Fall of the current at the end.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub down_slope: Quantity<Duration>,
    /// Inductance as the machine has it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub inductance: Option<Text>,
    /// Arc force as the machine has it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub arc_force: Option<Text>,
    /// Flux of submerged arc welding.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub flux: Option<Flux>,
    /// Number of wires.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = 1)]
    pub number_of_wires: Option<Text>,
    /// Distance between wires.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wire_spacing: Quantity<Length>,
    /// Beads, angles and cleaning.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub technique: Option<Technique>,
}

words! {
    /// Degree of mechanization (ISO 857-1).
    Mechanization, "mechanization" {
        /// Torch and filler by hand.
        Manual = "manual",
        /// Torch by hand, wire fed by machine.
        PartlyMechanized = "partly-mechanized",
        /// Torch and wire moved by machine, watched and set by hand.
        FullyMechanized = "fully-mechanized",
        /// All by machine.
        Automatic = "automatic",
    }
}

words! {
    /// Type of current and polarity of the electrode.
    Polarity, "polarity" {
        /// Direct current, electrode negative.
        Dcen = "DCEN",
        /// Direct current, electrode positive.
        Dcep = "DCEP",
        /// Alternating current.
        Ac = "AC",
    }
}

words! {
    /// Metal transfer through the arc.
    TransferMode, "transfer mode" {
        /// By short circuits.
        ShortCircuit = "short-circuit",
        /// In large drops.
        Globular = "globular",
        /// In a spray of fine drops.
        Spray = "spray",
        /// One drop for each pulse of current.
        Pulsed = "pulsed",
    }
}

words! {
    /// How the arc is started.
    ArcStart, "arc start" {
        /// By scratching the electrode on the work.
        Scratch = "scratch",
        /// By touching and lifting.
        Lift = "lift",
        /// By a high-frequency spark, without touching.
        HighFrequency = "high-frequency",
    }
}

words! {
    /// How the current is controlled while welding.
    CurrentControl, "current control" {
        /// Set at the machine.
        Fixed = "fixed",
        /// On and off at the torch.
        TorchSwitch = "torch-switch",
        /// By a foot pedal.
        FootPedal = "foot-pedal",
    }
}

/// Pulsed current.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Pulse {
    /// Current of the pulse.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub peak_current: Quantity<Current>,
    /// Current between pulses.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub background_current: Quantity<Current>,
    /// Pulses in a second.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frequency: Quantity<Frequency>,
    /// Share of each period at peak current, or its time.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub peak_time: Quantity<Share>,
}

/// Alternating current.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Alternating {
    /// Frequency.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub frequency: Quantity<Frequency>,
    /// Share of time with the electrode negative.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub electrode_negative: Quantity<Share>,
}

/// Beads, angles and cleaning.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Technique {
    /// Straight or woven bead.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub bead: Option<Stated<Bead>>,
    /// Largest width of a bead or weave.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub maximum_bead_width: Quantity<Length>,
    /// Oscillation of a mechanized torch: width.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub oscillation_width: Quantity<Length>,
    /// Oscillation of a mechanized torch: frequency.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub oscillation_frequency: Quantity<Frequency>,
    /// Oscillation of a mechanized torch: dwell at the sides.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub oscillation_dwell: Quantity<Duration>,
    /// Torch pushed or dragged along.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub direction: Option<Stated<Direction>>,
    /// Lean of the torch along the joint, from the vertical.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub travel_angle: Quantity<Angle>,
    /// Angle between torch and surface, across the joint.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub work_angle: Quantity<Angle>,
    /// Angle between filler rod and surface.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub filler_angle: Quantity<Angle>,
    /// Length of the arc.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub arc_length: Quantity<Length>,
    /// Cleaning between runs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub interpass_cleaning: Option<Text>,
}

words! {
    /// Straight or woven bead.
    Bead, "bead" {
        /// A straight bead.
        Stringer = "stringer",
        /// A bead made with side-to-side movement.
        Weave = "weave",
    }
}

words! {
    /// Whether the torch is pushed or dragged along.
    Direction, "direction" {
        /// The torch points the way it moves.
        Push = "push",
        /// The torch points back at the weld.
        Drag = "drag",
    }
}
