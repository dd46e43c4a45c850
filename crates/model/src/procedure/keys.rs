//! The settings of a run and of its process by name: where each stands, and how it is read.
//!
//! A field of [`Settings`] has a line here. Its path, its row of the dictionary and its reading come from the same words.

use super::consumables::{Cooling, Flux, ShieldingGas, Torch, Tungsten};
use super::settings::{
    Alternating, ArcStart, Bead, CurrentControl, Direction, Mechanization, Polarity, Pulse, Settings, Technique,
    TransferMode,
};
use crate::quantity::{
    Angle, Current, Duration, Flow, Frequency, HeatInput, Length, Power, Range, Share, Speed, Voltage,
};
use crate::source::escape;
use crate::stated::{Composition, OrNone, Stated, YesNo};

/// A setting of a run or of its process: where it stands and how it is read.
pub struct Key<T: ?Sized + 'static> {
    /// Where it stands below a run or a process: `technique/travel_angle`.
    pub path: &'static str,
    /// Its row of the dictionary: `/processes/*/technique/travel_angle`.
    pub of_process: &'static str,
    /// The words by which the tables of codes name it: `settings.technique.travel_angle`.
    pub in_tables: &'static str,
    get: fn(&Settings) -> Option<&T>,
}

impl<T: ?Sized> Key<T> {
    /// What settings state at it.
    pub fn of<'s>(&self, settings: &'s Settings) -> Option<&'s T> {
        (self.get)(settings)
    }

    /// Where it stands in the block of a process: `/processes/141/technique/travel_angle`.
    pub fn in_process(&self, name: &str) -> String {
        [&*process(name), "/", self.path].concat()
    }

    /// Where it stands in a run: `/runs/0/technique/travel_angle`.
    pub fn in_run(&self, index: usize) -> String {
        ["/runs/", &index.to_string(), "/", self.path].concat()
    }
}

/// Where the block of a process stands: `/processes/141`.
pub fn process(name: &str) -> String {
    ["/processes/", &*escape(name)].concat()
}

/// The key that the tables of codes name so; nothing for what is no setting.
pub fn named(in_tables: &str) -> Option<&'static Key<()>> {
    ALL.iter().find(|key| key.in_tables == in_tables)
}

/// Whether the tables of codes name a setting so.
pub fn is_setting(in_tables: &str) -> bool {
    in_tables.starts_with("settings.")
}

/// A section that no word may stand for: its value is itself, as that of [`Stated`] and [`OrNone`] is their part.
trait Section {
    fn value(&self) -> Option<&Self> {
        Some(self)
    }
}

impl Section for Tungsten {}
impl Section for Torch {}
impl Section for Flux {}
impl Section for Technique {}

/// Makes a key of each name, type and place, and a list of all.
macro_rules! keys {
    ($($name:ident: $what:ty = $first:ident $(. $below:ident)?;)+) => {
        $(
            #[doc = concat!("What stands at `", stringify!($first) $(, "/", stringify!($below))?, "`.")]
            pub const $name: Key<$what> = Key {
                path: concat!(stringify!($first) $(, "/", stringify!($below))?),
                of_process: concat!("/processes/*/", stringify!($first) $(, "/", stringify!($below))?),
                in_tables: concat!("settings.", stringify!($first) $(, ".", stringify!($below))?),
                get: |settings| {
                    let own = settings.$first.as_ref();
                    $(let own = own.and_then(|section| section.value()).and_then(|section| section.$below.as_ref());)?
                    // Text is read as `str`.
                    own.map(|own| -> &$what { own })
                },
            };
        )+

        /// Every key, read for whether it is stated.
        pub const ALL: &[Key<()>] = &[$(Key {
            path: $name.path,
            of_process: $name.of_process,
            in_tables: $name.in_tables,
            get: |settings| $name.of(settings).map(|_| &()),
        }),+];
    };
}

keys! {
    MACHINE: str = machine;
    MECHANIZATION: Stated<Mechanization> = mechanization;
    POLARITY: Stated<Polarity> = polarity;
    FILLER: str = filler;
    CURRENT: Stated<Range<Current>> = current;
    VOLTAGE: Stated<Range<Voltage>> = voltage;
    ARC_POWER: Stated<Range<Power>> = arc_power;
    TRAVEL_SPEED: Stated<Range<Speed>> = travel_speed;
    RUN_OUT_LENGTH: Stated<Range<Length>> = run_out_length;
    DEPOSIT_THICKNESS: Stated<Range<Length>> = deposit_thickness;
    RUN_THICKNESS: Stated<Range<Length>> = run_thickness;
    HEAT_INPUT: Stated<Range<HeatInput>> = heat_input;
    WIRE_FEED_SPEED: Stated<Range<Speed>> = wire_feed_speed;
    TRANSFER_MODE: Stated<TransferMode> = transfer_mode;
    CONTACT_TIP_TO_WORK: Stated<Range<Length>> = contact_tip_to_work;
    TUNGSTEN: Tungsten = tungsten;
    TUNGSTEN_DESIGNATION: str = tungsten.designation;
    TUNGSTEN_DIAMETER: Stated<Range<Length>> = tungsten.diameter;
    TUNGSTEN_INCLUDED_ANGLE: Stated<Range<Angle>> = tungsten.included_angle;
    TUNGSTEN_TIP_FLAT: Stated<Range<Length>> = tungsten.tip_flat;
    TUNGSTEN_STICKOUT: Stated<Range<Length>> = tungsten.stickout;
    TORCH: Torch = torch;
    TORCH_SIZE: str = torch.size;
    TORCH_NOZZLE: str = torch.nozzle;
    TORCH_GAS_LENS: YesNo = torch.gas_lens;
    TORCH_COOLING: Cooling = torch.cooling;
    SHIELDING_GAS: OrNone<ShieldingGas> = shielding_gas;
    SHIELDING_GAS_DESIGNATION: str = shielding_gas.designation;
    SHIELDING_GAS_COMPOSITION: Composition = shielding_gas.composition;
    SHIELDING_GAS_FLOW: Stated<Range<Flow>> = shielding_gas.flow;
    SHIELDING_GAS_PRE_FLOW: Stated<Range<Duration>> = shielding_gas.pre_flow;
    SHIELDING_GAS_POST_FLOW: Stated<Range<Duration>> = shielding_gas.post_flow;
    SHIELDING_GAS_MAKE: str = shielding_gas.make;
    TRAILING_GAS: OrNone<ShieldingGas> = trailing_gas;
    TRAILING_GAS_DESIGNATION: str = trailing_gas.designation;
    TRAILING_GAS_COMPOSITION: Composition = trailing_gas.composition;
    TRAILING_GAS_FLOW: Stated<Range<Flow>> = trailing_gas.flow;
    TRAILING_GAS_PRE_FLOW: Stated<Range<Duration>> = trailing_gas.pre_flow;
    TRAILING_GAS_POST_FLOW: Stated<Range<Duration>> = trailing_gas.post_flow;
    TRAILING_GAS_MAKE: str = trailing_gas.make;
    PLASMA_GAS: OrNone<ShieldingGas> = plasma_gas;
    PLASMA_GAS_DESIGNATION: str = plasma_gas.designation;
    PLASMA_GAS_COMPOSITION: Composition = plasma_gas.composition;
    PLASMA_GAS_FLOW: Stated<Range<Flow>> = plasma_gas.flow;
    PLASMA_GAS_PRE_FLOW: Stated<Range<Duration>> = plasma_gas.pre_flow;
    PLASMA_GAS_POST_FLOW: Stated<Range<Duration>> = plasma_gas.post_flow;
    PLASMA_GAS_MAKE: str = plasma_gas.make;
    ORIFICE: Stated<Range<Length>> = orifice;
    ARC_START: Stated<ArcStart> = arc_start;
    CURRENT_CONTROL: Stated<CurrentControl> = current_control;
    PULSE: OrNone<Pulse> = pulse;
    PULSE_PEAK_CURRENT: Stated<Range<Current>> = pulse.peak_current;
    PULSE_BACKGROUND_CURRENT: Stated<Range<Current>> = pulse.background_current;
    PULSE_FREQUENCY: Stated<Range<Frequency>> = pulse.frequency;
    PULSE_PEAK_TIME: Stated<Range<Share>> = pulse.peak_time;
    AC: Stated<Alternating> = ac;
    AC_FREQUENCY: Stated<Range<Frequency>> = ac.frequency;
    AC_ELECTRODE_NEGATIVE: Stated<Range<Share>> = ac.electrode_negative;
    UP_SLOPE: Stated<Range<Duration>> = up_slope;
    DOWN_SLOPE: Stated<Range<Duration>> = down_slope;
    INDUCTANCE: str = inductance;
    ARC_FORCE: str = arc_force;
    FLUX: Flux = flux;
    FLUX_DESIGNATION: str = flux.designation;
    FLUX_MAKE: str = flux.make;
    FLUX_DRYING: str = flux.drying;
    FLUX_RECYCLING: str = flux.recycling;
    NUMBER_OF_WIRES: str = number_of_wires;
    WIRE_SPACING: Stated<Range<Length>> = wire_spacing;
    TECHNIQUE: Technique = technique;
    BEAD: Stated<Bead> = technique.bead;
    MAXIMUM_BEAD_WIDTH: Stated<Range<Length>> = technique.maximum_bead_width;
    OSCILLATION_WIDTH: Stated<Range<Length>> = technique.oscillation_width;
    OSCILLATION_FREQUENCY: Stated<Range<Frequency>> = technique.oscillation_frequency;
    OSCILLATION_DWELL: Stated<Range<Duration>> = technique.oscillation_dwell;
    DIRECTION: Stated<Direction> = technique.direction;
    TRAVEL_ANGLE: Stated<Range<Angle>> = technique.travel_angle;
    WORK_ANGLE: Stated<Range<Angle>> = technique.work_angle;
    FILLER_ANGLE: Stated<Range<Angle>> = technique.filler_angle;
    ARC_LENGTH: Stated<Range<Length>> = technique.arc_length;
    INTERPASS_CLEANING: str = technique.interpass_cleaning;
}

#[cfg(test)]
mod tests {
    use serde_json::{Value, json};

    use super::*;

    /// Settings that state every key.
    fn whole() -> Value {
        let document = include_str!("../../../../tests/golden/procedure.yaml");
        let document: Value = serde_yaml::from_str(document).unwrap();
        document.pointer("/processes/141").unwrap().clone()
    }

    fn settings(value: Value) -> Settings {
        serde_json::from_value(value).unwrap()
    }

    #[test]
    fn a_key_reads_what_stands_at_its_path_and_nothing_else() {
        for key in ALL {
            let own = whole().pointer(&format!("/{}", key.path)).unwrap().clone();
            let alone = key.path.rsplit('/').fold(own, |inside, step| json!({ step: inside }));
            assert!(key.of(&settings(alone)).is_some(), "{} alone", key.path);

            let mut others = whole();
            let (section, name) = match key.path.split_once('/') {
                Some((section, name)) => (&mut others[section], name),
                None => (&mut others, key.path),
            };
            section.as_object_mut().unwrap().remove(name);
            assert!(key.of(&settings(others)).is_none(), "all but {}", key.path);
        }
    }

    #[test]
    fn the_words_of_a_key_are_those_of_its_place() {
        let settings = settings(whole());
        assert_eq!(TORCH_NOZZLE.of(&settings), Some("No. 7"));
        assert_eq!(PULSE_FREQUENCY.of(&settings).unwrap().value().unwrap().spelled(), "60-120 Hz");
        assert_eq!(TRAVEL_ANGLE.path, "technique/travel_angle");
        assert_eq!(TRAVEL_ANGLE.of_process, "/processes/*/technique/travel_angle");
    }

    #[test]
    fn a_section_left_out_on_purpose_states_nothing_below_it() {
        let settings = settings(json!({"pulse": "none", "ac": "not applicable"}));
        assert!(PULSE.of(&settings).is_some() && PULSE_FREQUENCY.of(&settings).is_none());
        assert!(AC.of(&settings).is_some() && AC_FREQUENCY.of(&settings).is_none());
    }
}
