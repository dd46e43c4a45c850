//! A shop as types: machines, torches, regulators, stock, rates and welders. Only what is stated: no limit, no rule.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::allowance::Allowance;
use crate::price::Price;
use crate::procedure::{
    Alternating, ArcStart, Cooling, CurrentControl, Deviation, FormatVersion, Identification, Polarity, Quantity,
    RevisionEntry, WeldType,
};
use crate::quantity::{
    Current, Duration, Flow, Frequency, GasVolume, Length, Mass, Power, Pressure, Range, Share, Speed, Voltage,
};
use crate::stated::{Composition, Date, Named, Stated, Text, YesNo};
use crate::trade::Taken;
use crate::words::{document_word, words};

document_word!(ShopWord, "shop");

/// A shop: what stands in the workshop, what it costs, and who welds there.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Shop {
    /// Version of the file format; this program reads 1.
    #[schemars(with = "FormatVersion")]
    pub format: u32,
    /// The kind of document.
    #[schemars(with = "ShopWord")]
    pub document: String,
    /// Number, revision and title.
    pub identification: Identification,
    /// Welding power sources.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub power_sources: Vec<PowerSource>,
    /// Torches.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub torches: Vec<ShopTorch>,
    /// Gas regulators and flow meters.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub regulators: Vec<Regulator>,
    /// Consumables on the shelf.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stock: Option<Stock>,
    /// What labour and consumables cost.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rates: Option<Rates>,
    /// Times that the shop reckons beside the arc.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub times: Option<Times>,
    /// When the shop works.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub working: Option<Working>,
    /// Welders and the tests that they passed.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub welders: Vec<Welder>,
    /// Who coordinates the welding, and what they know.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub coordinator: Option<Coordinator>,
    /// Remarks.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notes: Vec<Text>,
    /// The history of the document, oldest first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub revisions: Vec<RevisionEntry>,
    /// Findings accepted for a stated reason.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub deviations: Vec<Deviation>,
    /// Words of the trade in the file that were taken for words of the format; no key.
    #[serde(skip)]
    #[schemars(skip)]
    pub taken: Vec<Taken>,
}

/// Who coordinates the welding of a shop.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Coordinator {
    /// Name.
    pub name: Text,
    /// Technical knowledge by ISO 14731.
    pub knowledge: Knowledge,
}

words! {
    /// Technical knowledge of a welding coordinator (ISO 14731).
    Knowledge, "knowledge" {
        /// Basic: simple welded structures.
        Basic = "basic",
        /// Specific: a selected field.
        Specific = "specific",
        /// Comprehensive: all welded structures.
        Comprehensive = "comprehensive",
    }
}

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

/// What labour and consumables cost.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Rates {
    /// Currency by its ISO 4217 code.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"EUR")]
    pub currency: Option<Text>,
    /// Labour: `52 per h`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub labour: Option<Price>,
    /// Filler by its classification or by its process, else under `other`: `ER70S-2: 9.50 per kg`.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub filler: Named<Price>,
    /// Gas by its designation, else under `other`: `I1: 7.20 per m3`.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub gas: Named<Price>,
    /// Flux by its designation, else under `other`.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub flux: Named<Price>,
    /// Electricity: `0.31 per kWh`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub electricity: Option<Price>,
    /// Rental of one cylinder by its gas, else under `other`: `argon: 9 per month`.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub rental: Named<Price>,
    /// What else is paid for, by a name of your choice: `galvanizing: 1.20 per kg`, `radiograph: 45 per joint`.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub charges: Named<Price>,
    /// Overhead as a share of labour.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"40 %")]
    pub overhead: Quantity<Share>,
    /// Overhead for each hour of work, where the shop reckons it so: `25 per h`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub overhead_per_hour: Option<Price>,
    /// Mark-up on the cost.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"15 %")]
    pub mark_up: Quantity<Share>,
    /// Margin as a share of the price, in place of a mark-up.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub margin: Quantity<Share>,
    /// Least that is charged: `75 per job`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub least_charge: Option<Price>,
}

/// Times that a shop reckons beside the arc, each for a piece, a joint, a job, a metre or a foot of weld.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Times {
    /// Setting up machine, fixture and documents.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub set_up: Option<Allowance>,
    /// Fitting up the parts.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub fit_up: Option<Allowance>,
    /// Tack welding.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tacks: Option<Allowance>,
    /// Handling, turning and moving.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub handling: Option<Allowance>,
    /// Preheating.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub preheating: Option<Allowance>,
    /// Cleaning before and after.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cleaning: Option<Allowance>,
    /// Grinding and dressing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub grinding: Option<Allowance>,
    /// Heat treatment.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub heat_treatment: Option<Allowance>,
    /// Examination.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub examination: Option<Allowance>,
    /// Rework as a share of the welding: its time, filler and gas.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"2 %")]
    pub rework: Quantity<Share>,
    /// Share of the welding time in which the arc burns, by process, where the shop has its own figure.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub arc_on: Named<Stated<Range<Share>>>,
}

impl Times {
    /// Each time with its name in the file, in the order of the work.
    pub fn all(&self) -> [(&'static str, Option<&Allowance>); 9] {
        [
            ("set_up", self.set_up.as_ref()),
            ("fit_up", self.fit_up.as_ref()),
            ("tacks", self.tacks.as_ref()),
            ("handling", self.handling.as_ref()),
            ("preheating", self.preheating.as_ref()),
            ("cleaning", self.cleaning.as_ref()),
            ("grinding", self.grinding.as_ref()),
            ("heat_treatment", self.heat_treatment.as_ref()),
            ("examination", self.examination.as_ref()),
        ]
    }
}

/// When a shop works.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Working {
    /// Hours of one shift.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"8 h")]
    pub hours: Quantity<Duration>,
    /// Shifts in a day; one where it is not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shifts: Option<u32>,
    /// Working days in a week; five where it is not stated.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub days: Option<u32>,
}

/// A welder and the tests that he or she passed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Welder {
    /// Name.
    #[schemars(example = &"M. Okafor")]
    pub name: Text,
    /// Stamp or number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stamp: Option<Text>,
    /// Tests passed.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub tests: Vec<WelderTest>,
}

/// A welder's test.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WelderTest {
    /// Code of the test.
    pub code: WelderCode,
    /// Number of the certificate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub number: Option<Text>,
    /// Date of the test.
    pub date: Date,
    /// Date on which the welder last welded with the process.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_use: Option<Date>,
    /// Date until which the certificate was prolonged.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub valid_until: Option<Date>,
    /// Process by ISO 4063 number or AWS letters.
    #[schemars(example = 141)]
    pub process: Text,
    /// Butt or groove weld, or fillet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weld: Option<WeldType>,
    /// Plate or pipe.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub product: Option<Product>,
    /// Positions of the coupon.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub positions: Vec<Text>,
    /// Direction of welding in a vertical position.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub progression: Option<crate::procedure::Progression>,
    /// Thickness of the coupon; of a fillet, of its thinner part.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness: Quantity<Length>,
    /// Thickness deposited with this process, where it is not the whole coupon.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub deposit_thickness: Quantity<Length>,
    /// Outside diameter of the coupon.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outside_diameter: Quantity<Length>,
    /// Filler used in the test.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"ER70S-2")]
    pub filler: Option<Text>,
    /// Filler group: FM1 to FM6 of ISO 9606-1, or F-Number of ASME IX.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"FM1")]
    pub filler_group: Option<Text>,
    /// Specification of the coupon's metal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub metal: Option<Text>,
    /// Whether the root was backed: by a strip, by weld metal, or welded from both sides.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub backing: Option<YesNo>,
    /// Whether one layer or several were welded.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub layers: Option<Layers>,
    /// Metal transfer of a wire process.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub transfer_mode: Option<crate::procedure::TransferMode>,
    /// Who witnessed the test.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub witnessed_by: Option<Text>,
}

words! {
    /// A code of welder qualification.
    WelderCode, "code" {
        /// ISO 9606-1, qualification testing of welders for steels.
        Iso9606 = "iso-9606-1",
        /// ISO 9606-2, qualification testing of welders for aluminium.
        Iso9606Aluminium = "iso-9606-2",
        /// ASME BPVC Section IX, performance qualification.
        AsmeIx = "asme-ix",
        /// AWS D1.1, performance qualification.
        AwsD11 = "aws-d1.1",
        /// API 1104, qualification of pipeline welders.
        Api1104 = "api-1104",
    }
}

words! {
    /// Form of a coupon.
    Product, "product" {
        /// Plate or sheet.
        Plate = "plate",
        /// Pipe or tube.
        Pipe = "pipe",
    }
}

words! {
    /// How many layers a fillet or groove has.
    Layers, "layers" {
        /// One layer.
        Single = "single",
        /// Several layers.
        Multiple = "multiple",
    }
}
