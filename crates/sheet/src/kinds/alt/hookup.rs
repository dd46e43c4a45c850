//! The hook-up in words.

use seamwright_drawing::sketch::hookup::{ArcCarrier, ArcStart, GasPath, HookupSketch, Polarity, Remote};
use seamwright_page::SheetOptions;
use seamwright_page::words::label;

/// The connection: the one line that may not be got wrong.
pub(in super::super) fn connection(sketch: &HookupSketch, options: SheetOptions) -> String {
    let said = match sketch.polarity {
        Polarity::ElectrodeNegative => label::ELECTRODE_NEGATIVE,
        Polarity::ElectrodePositive => label::ELECTRODE_POSITIVE,
        Polarity::Alternating => label::ALTERNATING,
    };
    options.fill(said, &[("holder", &sketch.names.holder)])
}

/// What a hook-up asks of the welder.
pub(in super::super) fn notes(sketch: &HookupSketch, options: SheetOptions) -> Vec<String> {
    let mut notes = Vec::new();
    if sketch.has_gas() && sketch.gas == GasPath::TorchValve {
        notes.push(label::NO_SOLENOID);
    }
    if sketch.carrier == ArcCarrier::Tungsten {
        match sketch.arc_start {
            ArcStart::Lift => notes.push(label::LIFT_START),
            ArcStart::Scratch => notes.push(label::SCRATCH_START),
            ArcStart::HighFrequency => notes.push(label::HIGH_FREQUENCY_START),
            ArcStart::Unsaid => {}
        }
    }
    if sketch.carrier == ArcCarrier::SelfShieldedWire {
        notes.push(label::SHIELDS_ITSELF);
    }
    notes.into_iter().map(|note| options.say(note).into_owned()).collect()
}

/// The hook-up: connection, way of the gas, what stands with the machine, and what it asks of the welder.
pub(in super::super) fn hookup(sketch: &HookupSketch, options: SheetOptions) -> String {
    let mut said = vec![options.fill(label::HOOK_UP_DRAWN, &[("connection", &connection(sketch, options))])];
    let mut say = |label| said.push(options.say(label).into_owned());
    if sketch.has_gas() {
        say(if sketch.gas == GasPath::TorchValve { label::GAS_TO_TORCH_VALVE } else { label::GAS_BY_SOLENOID });
    }
    if sketch.is_wire() {
        say(if sketch.separate_feeder { label::FEEDER_APART } else { label::FEEDER_INSIDE });
    }
    if sketch.water_cooler {
        say(label::COOLER_FEEDS);
    }
    match sketch.remote {
        Remote::None => {}
        Remote::FootPedal => say(label::PEDAL_CONTROLS),
        Remote::TorchSwitch => say(label::TORCH_SWITCHES),
    }
    if sketch.has_gas() && !sketch.names.gas.is_empty() {
        said.push(options.fill(label::GAS_DRAWN, &[("gas", &sketch.names.gas)]));
    }
    said.extend(notes(sketch, options));
    said.join(" ")
}
