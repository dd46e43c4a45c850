//! What each calculation of `calc` takes.

use clap::{Args, Subcommand};
use seamwright_calc::Composition;
use seamwright_desk::calc;
use seamwright_model::quantity::{
    Angle, Current, Duration, Energy, Flow, GasVolume, HeatInput, Hydrogen, Length, Mass, Oxygen, Power, Range, Share,
    Speed, Stress, Temperature, Voltage,
};

use super::{Form, words};

/// Arguments of `calc`.
#[derive(Debug, Args)]
pub struct CalcArgs {
    /// What to compute.
    #[command(subcommand)]
    pub calculation: Calculation,
    /// Text that shows the working, or json.
    #[arg(long, value_enum, default_value_t = Form::Text, global = true)]
    pub format: Form,
}

/// What a calculation takes, as it is typed, and the request that it fills.
macro_rules! takes {
    ($(#[$of:meta])* $args:ident, $given:path { $($(#[$at:meta])* $field:ident: $kind:ty,)* }) => {
        #[derive(Debug, Args)]
        $(#[$of])*
        pub struct $args {
            $($(#[$at])* $field: $kind,)*
        }

        impl From<$args> for $given {
            fn from(args: $args) -> Self {
                Self { $($field: args.$field,)* }
            }
        }
    };
}

/// The calculations.
#[expect(clippy::large_enum_variant, reason = "parsed once a run: the size of a variant does not matter")]
#[derive(Debug, Subcommand)]
pub enum Calculation {
    /// Carbon equivalents CE (IIW), CET, Pcm, CEN and CE (AWS) of a steel.
    CarbonEquivalent(CarbonEquivalentArgs),
    /// A quantity in another unit.
    Convert(ConvertArgs),
    /// Cooling time from 800 to 500 °C, or the heat input that keeps it.
    CoolingTime(CoolingTimeArgs),
    /// Duty cycle of a power source at a current, or its current at a duty cycle.
    DutyCycle(DutyCycleArgs),
    /// Chromium and nickel equivalents and ferrite number of stainless weld metal.
    Ferrite(FerriteArgs),
    /// Filler to buy for a mass of weld metal.
    Filler(FillerArgs),
    /// How long a gas supply lasts.
    GasSupply(GasSupplyArgs),
    /// Estimate of the hardness of the heat-affected zone.
    Hardness(HardnessArgs),
    /// Arc energy and heat input of a run.
    HeatInput(HeatInputArgs),
    /// Post-weld heat treatment: whether a code asks for it, temperature, time and rates.
    HeatTreatment(HeatTreatmentArgs),
    /// Preheating temperature of a steel.
    Preheat(PreheatArgs),
    /// Volume, time and gas of purging a pipe.
    Purge(PurgeArgs),
    /// Estimate of transverse shrinkage and of the angular distortion of a fillet.
    Shrinkage(ShrinkageArgs),
    /// Throat of a fillet and, for information, the load that it carries.
    Throat(ThroatArgs),
    /// Cross-section and mass of the weld metal of a groove or a fillet.
    WeldMetal(WeldMetalArgs),
}

takes! {
    #[command(after_help = "Example:\n  seamwright calc carbon-equivalent --composition C=0.16,Mn=1.45,Si=0.3")]
    CarbonEquivalentArgs, calc::carbon_equivalent::Given {
        /// Mass percent of each element, such as C=0.12,Mn=1.45.
        #[arg(long)]
        composition: Composition,
    }
}

takes! {
    #[command(after_help = "Example:\n  seamwright calc convert \"3/32 in\" --to mm")]
    ConvertArgs, calc::convert::Given {
        /// A value or a range with its unit.
        #[arg(allow_hyphen_values = true)]
        quantity: String,
        /// Unit to convert into.
        #[arg(long)]
        to: String,
    }
}

takes! {
    #[command(
        after_help = "Examples:\n  seamwright calc cooling-time --heat-input \"1.2 kJ/mm\" --thickness \"12 mm\" --preheat \"20 °C\"\n  seamwright calc cooling-time --cooling-time \"10-20 s\" --thickness \"25 mm\" --preheat \"100 °C\""
    )]
    CoolingTimeArgs, calc::cooling_time::Given {
        /// Heat input, with the thermal efficiency k.
        #[arg(long, required_unless_present = "cooling_time", conflicts_with = "cooling_time", allow_hyphen_values = true)]
        heat_input: Option<Range<HeatInput>>,
        /// Cooling time to keep: the answer is then the window of heat input.
        #[arg(long, allow_hyphen_values = true)]
        cooling_time: Option<Range<Duration>>,
        /// Thickness of the plate.
        #[arg(long, allow_hyphen_values = true)]
        thickness: Range<Length>,
        /// Preheating or interpass temperature.
        #[arg(long, allow_hyphen_values = true)]
        preheat: Range<Temperature>,
        /// Kind of weld, by its name in the table shape-factors.
        #[arg(long, conflicts_with_all = ["f2", "f3"])]
        shape: Option<String>,
        /// Shape factor for two-dimensional heat flow; 1 if left out.
        #[arg(long)]
        f2: Option<f64>,
        /// Shape factor for three-dimensional heat flow; 1 if left out.
        #[arg(long)]
        f3: Option<f64>,
    }
}

takes! {
    #[command(
        after_help = "Examples:\n  seamwright calc duty-cycle --rated-current \"200 A\" --rated-duty \"35 %\" --current \"140 A\"\n  seamwright calc duty-cycle --rated-current \"200 A\" --rated-duty \"35 %\" --duty \"60 %\""
    )]
    DutyCycleArgs, calc::duty_cycle::Given {
        /// Current of the rated point.
        #[arg(long, allow_hyphen_values = true)]
        rated_current: Range<Current>,
        /// Duty cycle of the rated point.
        #[arg(long, allow_hyphen_values = true)]
        rated_duty: Range<Share>,
        /// Current to be used.
        #[arg(long, required_unless_present = "duty", allow_hyphen_values = true)]
        current: Option<Range<Current>>,
        /// Duty cycle to be had: the answer then has the current.
        #[arg(long, conflicts_with = "current", allow_hyphen_values = true)]
        duty: Option<Range<Share>>,
    }
}

takes! {
    #[command(
        after_help = "Examples:\n  seamwright calc ferrite --composition C=0.02,Cr=19.8,Ni=10.2,Mn=1.8,Si=0.4,N=0.05\n  seamwright calc ferrite --composition C=0.02,Cr=23.5,Ni=13 --parent C=0.17,Mn=1.4 --parent C=0.02,Cr=18.2,Ni=8.5 --dilution \"30 %\""
    )]
    FerriteArgs, calc::ferrite::Given {
        /// Mass percent of each element of the weld metal; with `--parent`, of the filler.
        #[arg(long)]
        composition: Composition,
        /// Mass percent of each element of a parent metal; a second one for a joint of two metals.
        #[arg(long, requires = "dilution")]
        parent: Vec<Composition>,
        /// Share of molten parent metal in the weld.
        #[arg(long, requires = "parent", allow_hyphen_values = true)]
        dilution: Option<Range<Share>>,
        /// Share of the first parent metal in what melts of both.
        #[arg(long, default_value = "50 %", allow_hyphen_values = true)]
        first_share: Range<Share>,
        /// By which diagram.
        #[arg(long, value_parser = words::ferrite(), default_value = "wrc-1992")]
        method: calc::ferrite::Method,
    }
}

takes! {
    #[command(after_help = "Example:\n  seamwright calc filler --mass \"1.2 kg\" --process 111")]
    FillerArgs, calc::filler::Given {
        /// Mass of weld metal.
        #[arg(long, allow_hyphen_values = true)]
        mass: Range<Mass>,
        /// ISO 4063 number or AWS letters: the deposition efficiency hangs on it.
        #[arg(long)]
        process: String,
        /// Shielding gas by the table's name, such as 75Ar-25CO2.
        #[arg(long)]
        gas: Option<String>,
        /// Diameter of rods: the answer then has their number.
        #[arg(long, requires_all = ["length", "metal"])]
        diameter: Option<Range<Length>>,
        /// Length of a rod or electrode.
        #[arg(long, allow_hyphen_values = true)]
        length: Option<Range<Length>>,
        /// Stub that is thrown away.
        #[arg(long, requires = "length", allow_hyphen_values = true)]
        stub: Option<Range<Length>>,
        /// Metal of the rod, for its density.
        #[arg(long)]
        metal: Option<String>,
    }
}

takes! {
    #[command(after_help = "Example:\n  seamwright calc gas-supply --flow \"10 L/min\" --contents \"10 m3\"")]
    GasSupplyArgs, calc::gas_supply::Given {
        /// Gas flow.
        #[arg(long, allow_hyphen_values = true)]
        flow: Range<Flow>,
        /// Contents of the cylinder as free gas.
        #[arg(long, allow_hyphen_values = true)]
        contents: Range<GasVolume>,
    }
}

takes! {
    #[command(
        after_help = "Example:\n  seamwright calc hardness --composition C=0.16,Mn=1.45,Si=0.3 --cooling-time \"8 s\""
    )]
    HardnessArgs, calc::hardness::Given {
        /// Mass percent of each element, such as C=0.12,Mn=1.45.
        #[arg(long)]
        composition: Composition,
        /// Cooling time from 800 to 500 °C.
        #[arg(long, allow_hyphen_values = true)]
        cooling_time: Range<Duration>,
        /// Which formula.
        #[arg(long, value_parser = words::hardness(), default_value = "yurioka")]
        method: calc::hardness::Method,
    }
}

takes! {
    #[command(
        after_help = "Examples:\n  seamwright calc heat-input --process 135 --voltage \"24 V\" --current \"220 A\" --travel-speed \"360 mm/min\"\n  seamwright calc heat-input --process 131 --arc-power \"4.8 kW\" --travel-speed \"500 mm/min\""
    )]
    HeatInputArgs, calc::heat_input::Given {
        /// ISO 4063 number or AWS letters: the thermal efficiency hangs on it.
        #[arg(long)]
        process: String,
        /// Arc voltage.
        #[arg(long, requires = "current", allow_hyphen_values = true)]
        voltage: Option<Range<Voltage>>,
        /// Welding current.
        #[arg(long, requires = "voltage", allow_hyphen_values = true)]
        current: Option<Range<Current>>,
        /// Travel speed.
        #[arg(long, required_unless_present_any = ["arc_energy", "bead_length"], allow_hyphen_values = true)]
        travel_speed: Option<Range<Speed>>,
        /// Mean of the instantaneous power, for waveform-controlled machines.
        #[arg(long, conflicts_with_all = ["voltage", "arc_energy"])]
        arc_power: Option<Range<Power>>,
        /// Sum of the instantaneous energy over `--length`, for waveform-controlled machines.
        #[arg(long, requires = "length", conflicts_with = "voltage", allow_hyphen_values = true)]
        arc_energy: Option<Range<Energy>>,
        /// Bead laid from `--electrode-length`, for the measure of QW-409.1(b).
        #[arg(long, requires = "electrode_length", allow_hyphen_values = true)]
        bead_length: Option<Range<Length>>,
        /// Electrode used up for `--bead-length`.
        #[arg(long, requires = "bead_length", allow_hyphen_values = true)]
        electrode_length: Option<Range<Length>>,
        /// Length of the run, with `--arc-energy`.
        #[arg(long, requires = "arc_energy", allow_hyphen_values = true)]
        length: Option<Range<Length>>,
    }
}

takes! {
    #[command(
        after_help = "Examples:\n  seamwright calc heat-treatment --code asme-viii-1 --p-number 1 --thickness \"2 in\"\n  seamwright calc heat-treatment --code asme-b31.3 --metal P91 --thickness \"25 mm\""
    )]
    HeatTreatmentArgs, calc::heat_treatment::Given {
        /// Code of construction: asme-viii-1 (UCS-56, UHA-32) or asme-b31.3.
        #[arg(long)]
        code: String,
        /// P-Number of the metal, with its group where that counts, such as 1, 3 or 15E.
        #[arg(long, required_unless_present = "metal", conflicts_with = "metal")]
        p_number: Option<String>,
        /// Group number within the P-Number.
        #[arg(long)]
        group: Option<u32>,
        /// Metal by any name that the handbook knows, in place of its P-Number.
        #[arg(long)]
        metal: Option<String>,
        /// Nominal thickness.
        #[arg(long, allow_hyphen_values = true)]
        thickness: Range<Length>,
        /// Preheat, which may spare the treatment.
        #[arg(long, allow_hyphen_values = true)]
        preheat: Option<Range<Temperature>>,
        /// A holding temperature below the least of the code.
        #[arg(long, allow_hyphen_values = true)]
        temperature: Option<Range<Temperature>>,
    }
}

takes! {
    #[command(
        after_help = "Example:\n  seamwright calc preheat --composition C=0.16,Mn=1.45,Si=0.3 --thickness \"30 mm\" --heat-input \"1.5 kJ/mm\" --hydrogen \"5 ml/100g\""
    )]
    PreheatArgs, calc::preheat::Given {
        /// By which method.
        #[arg(long, value_parser = words::preheat(), default_value = "en-1011-2-b")]
        method: calc::preheat::Method,
        /// Mass percent of each element, such as C=0.12,Mn=1.45.
        #[arg(long, required_unless_present = "category")]
        composition: Option<Composition>,
        /// Thickness of the plate; for method A the combined thickness.
        #[arg(long, allow_hyphen_values = true)]
        thickness: Range<Length>,
        /// Heat input, with the thermal efficiency k.
        #[arg(long, required_unless_present_any = ["restraint", "category"], allow_hyphen_values = true)]
        heat_input: Option<Range<HeatInput>>,
        /// Diffusible hydrogen of the weld metal.
        #[arg(long, required_unless_present = "category", allow_hyphen_values = true)]
        hydrogen: Option<Range<Hydrogen>>,
        /// Restraint of the joint (low, medium, high), for hydrogen control.
        #[arg(long)]
        restraint: Option<String>,
        /// Category A to D of AWS D1.1 Table 5.8, for the table.
        #[arg(long)]
        category: Option<String>,
    }
}

takes! {
    #[command(
        after_help = "Example:\n  seamwright calc purge --inside-diameter \"54.5 mm\" --length \"600 mm\" --flow \"8 L/min\" --oxygen \"50 ppm\""
    )]
    PurgeArgs, calc::purge::Given {
        /// Inside diameter of the pipe.
        #[arg(long, allow_hyphen_values = true)]
        inside_diameter: Range<Length>,
        /// Length between the dams.
        #[arg(long, allow_hyphen_values = true)]
        length: Range<Length>,
        /// Flow of the backing gas.
        #[arg(long, allow_hyphen_values = true)]
        flow: Range<Flow>,
        /// Oxygen to reach; without it the volume changes of the handbook are taken.
        #[arg(long, allow_hyphen_values = true)]
        oxygen: Option<Range<Oxygen>>,
        /// Oxygen of the backing gas itself.
        #[arg(long, default_value = "5 ppm", allow_hyphen_values = true)]
        gas_oxygen: Range<Oxygen>,
    }
}

takes! {
    #[command(
        after_help = "Examples:\n  seamwright calc shrinkage --cross-section 95 --thickness \"12 mm\" --root-gap \"2 mm\"\n  seamwright calc shrinkage --flange-width \"150 mm\" --leg \"6 mm\" --thickness \"10 mm\""
    )]
    ShrinkageArgs, calc::shrinkage::Given {
        /// Cross-section of a butt weld.
        #[arg(long, value_name = "MM2", required_unless_present = "flange_width")]
        cross_section: Option<f64>,
        /// Thickness of the plate, or of the flange of a fillet.
        #[arg(long, allow_hyphen_values = true)]
        thickness: Range<Length>,
        /// Root gap of a butt weld; 0 if left out.
        #[arg(long, requires = "cross_section", allow_hyphen_values = true)]
        root_gap: Option<Range<Length>>,
        /// Width of the flange that a fillet pulls.
        #[arg(long, requires = "leg", allow_hyphen_values = true)]
        flange_width: Option<Range<Length>>,
        /// Leg of the fillet.
        #[arg(long, requires = "flange_width", allow_hyphen_values = true)]
        leg: Option<Range<Length>>,
    }
}

takes! {
    #[command(
        after_help = "Example:\n  seamwright calc throat --leg \"6 mm\" --allowable-stress \"140 MPa\" --length \"200 mm\""
    )]
    ThroatArgs, calc::throat::Given {
        /// Leg of the fillet.
        #[arg(long, required_unless_present = "throat", allow_hyphen_values = true)]
        leg: Option<Range<Length>>,
        /// Other leg, where the legs are unequal.
        #[arg(long, requires = "leg", allow_hyphen_values = true)]
        second_leg: Option<Range<Length>>,
        /// Throat, instead of the leg.
        #[arg(long, conflicts_with = "leg", allow_hyphen_values = true)]
        throat: Option<Range<Length>>,
        /// Allowable shear stress on the throat, by your design code.
        #[arg(long, allow_hyphen_values = true)]
        allowable_stress: Option<Range<Stress>>,
        /// Length of the weld.
        #[arg(long, requires = "allowable_stress", allow_hyphen_values = true, value_parser = words::length_of_weld)]
        length: Option<Range<Length>>,
    }
}

takes! {
    #[command(
        after_help = "Examples:\n  seamwright calc weld-metal --preparation single-v --thickness \"12 mm\" --included-angle \"60 deg\" --root-gap \"2-3 mm\" --root-face \"1 mm\" --length \"1 m\" --metal carbon-steel\n  seamwright calc weld-metal --preparation fillet --leg \"6 mm\" --length \"2.4 m\" --metal S355J2"
    )]
    WeldMetalArgs, calc::weld_metal::Given {
        /// Preparation, such as square, single-v, double-u; or fillet.
        #[arg(long)]
        preparation: String,
        /// Thickness of the plate, for grooves.
        #[arg(long, allow_hyphen_values = true)]
        thickness: Option<Range<Length>>,
        /// Included angle of the groove.
        #[arg(long, allow_hyphen_values = true)]
        included_angle: Option<Range<Angle>>,
        /// Root gap; 0 if left out.
        #[arg(long, allow_hyphen_values = true)]
        root_gap: Option<Range<Length>>,
        /// Root face; 0 if left out.
        #[arg(long, allow_hyphen_values = true)]
        root_face: Option<Range<Length>>,
        /// Root radius of U and J preparations.
        #[arg(long, allow_hyphen_values = true)]
        radius: Option<Range<Length>>,
        /// Height of the cap above the plate; 0 if left out. For a fillet, its convexity.
        #[arg(long, allow_hyphen_values = true)]
        cap_height: Option<Range<Length>>,
        /// Height of the root under the plate; 0 if left out.
        #[arg(long, allow_hyphen_values = true)]
        root_height: Option<Range<Length>>,
        /// Leg of a fillet.
        #[arg(long, allow_hyphen_values = true)]
        leg: Option<Range<Length>>,
        /// Other leg of a fillet with unequal legs.
        #[arg(long, requires = "leg", allow_hyphen_values = true)]
        second_leg: Option<Range<Length>>,
        /// Throat of a fillet, instead of its leg.
        #[arg(long, conflicts_with = "leg", allow_hyphen_values = true)]
        throat: Option<Range<Length>>,
        /// Length of the weld.
        #[arg(long, default_value = "1 m", allow_hyphen_values = true, value_parser = words::length_of_weld)]
        length: Range<Length>,
        /// Metal, its family or a base metal: its density gives the mass.
        #[arg(long)]
        metal: Option<String>,
        /// Cross-section that one run fills: the answer then has the number of runs.
        #[arg(long, value_name = "MM2")]
        run_cross_section: Option<f64>,
    }
}
