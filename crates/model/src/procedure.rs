//! A welding procedure as types, in the order of ISO 15609-1. Only what is stated: no limit, no rule.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::{Map, Value};

use crate::quantity::{
    Angle, Current, Duration, Energy, Flow, Frequency, HeatInput, HeatingRate, Length, Oxygen, Power, Range, Share,
    Speed, Temperature, Voltage,
};
use crate::stated::{Composition, Date, Named, OrNone, Stated, Text, YesNo};
use crate::trade::Taken;
use crate::words::{document_word, words};

/// A quantity as stated, or `not applicable`.
pub type Quantity<Q> = Option<Stated<Range<Q>>>;

/// A welding procedure.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Procedure {
    /// Version of the file format; this program reads 1.
    #[schemars(with = "FormatVersion")]
    pub format: u32,
    /// The kind of document.
    #[schemars(with = "ProcedureWord")]
    pub document: String,
    /// Number, revision, title and people.
    pub identification: Identification,
    /// How the procedure is qualified, and under which code.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub qualification: Option<Qualification>,
    /// The metals joined; one entry means the same on both sides.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub parent_metals: Vec<ParentMetal>,
    /// The joint and its preparation.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub joint: Option<Joint>,
    /// Size of a fillet or of a partial penetration weld.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weld_size: Option<Stated<WeldSize>>,
    /// Welding positions by ISO 6947 (PA to PK, H-L045, J-L045) or AWS (1G to 6GR, 1F to 5F).
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub positions: Vec<Text>,
    /// Direction of welding in a vertical position.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub progression: Option<Stated<Progression>>,
    /// Filler metals by a name of your choice; processes and runs refer to the name.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub fillers: Named<Filler>,
    /// The machine that it is welded on, by its name in the shop's file; a process or a run may name another.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"bench 1")]
    pub machine: Option<Text>,
    /// What holds for all runs of a process, by ISO 4063 number or AWS letters; a run may override any of it.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub processes: Named<Settings>,
    /// Gas at the root side.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub backing_gas: Option<OrNone<BackingGas>>,
    /// Preheating, interpass and heat treatment.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperatures: Option<Temperatures>,
    /// Conditions of which each has its own values, by a name of your choice: thin and thick parts, as welded and heat-treated.
    #[serde(default, skip_serializing_if = "Named::is_empty")]
    pub conditions: Named<Condition>,
    /// The runs in welding order; a run is a pass in AWS terms.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub runs: Vec<Run>,
    /// Examination after welding.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub inspection: Vec<Examination>,
    /// Other documents that the work follows beside this one: number and revision.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub references: Vec<Text>,
    /// Remarks that are printed on the sheet.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notes: Vec<Text>,
    /// The history of the document, oldest first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub revisions: Vec<RevisionEntry>,
    /// Findings accepted for a stated reason; printed on the sheet, never silent.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub deviations: Vec<Deviation>,
    /// Words of the trade in the file that were taken for words of the format; no key.
    #[serde(skip)]
    #[schemars(skip)]
    pub taken: Vec<Taken>,
}

/// The schema of `format`.
pub(crate) struct FormatVersion;

impl JsonSchema for FormatVersion {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "FormatVersion".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({"const": crate::format::FORMAT})
    }
}

document_word!(ProcedureWord, "procedure");

/// Number, revision, title and people.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Identification {
    /// Document number.
    #[schemars(example = &"P-021")]
    pub number: Text,
    /// Revision number or letter.
    #[schemars(example = 1)]
    pub revision: Text,
    /// Date of this revision.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<Date>,
    /// What is welded, in a line.
    #[schemars(example = &"Fillet weld of a bracket")]
    pub title: Text,
    /// Who issues the procedure.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub manufacturer: Option<Text>,
    /// Who wrote it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub prepared_by: Option<Text>,
    /// Who approved it, or `not yet approved`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub approved_by: Option<Text>,
    /// Whether it is a draft, issued or superseded.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub status: Option<Status>,
    /// Digest of the content as it was issued; written by `seamwright issue`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seal: Option<Text>,
    /// Customer.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub customer: Option<Text>,
    /// Job or order.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub job: Option<Text>,
    /// Drawing number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub drawing: Option<Text>,
    /// Where the welding is done: workshop or site.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub location: Option<Text>,
    /// The shop document (file name) whose machines this procedure is for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shop: Option<Text>,
}

words! {
    /// Whether a document is a draft, issued or superseded.
    Status, "status" {
        /// Being written; not for use.
        Draft = "draft",
        /// For use.
        Issued = "issued",
        /// Replaced by a later revision.
        Superseded = "superseded",
        /// No longer for use, and none stands in its place.
        Withdrawn = "withdrawn",
    }
}

/// How the procedure is qualified, and under which code.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Qualification {
    /// The route of qualification.
    pub route: Route,
    /// The code that governs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub code: Option<CodeName>,
    /// Edition of the code.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = 2017)]
    pub edition: Option<Text>,
    /// The code or standard that the product is built to, beside the code of qualification.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub construction: Option<Construction>,
    /// Execution class of EN 1090-2.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub execution_class: Option<ExecutionClass>,
    /// Level of ISO 15614-1:2017, 1 or 2.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = 2)]
    pub level: Option<Text>,
    /// Numbers of the test records that support the procedure.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub records: Vec<Text>,
    /// `not required`, or an impact energy at a temperature: `27 J at -20 °C`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"27 J at -20 °C")]
    pub toughness: Option<Text>,
}

words! {
    /// A route of qualification.
    Route, "route" {
        /// Not qualified, or no qualification asked for.
        None = "none",
        /// By a procedure test (ISO 15614-1, ASME IX, AWS D1.1).
        TestRecord = "test-record",
        /// Prequalified under AWS D1.1.
        Prequalified = "prequalified",
        /// By tested welding consumables (ISO 15610).
        TestedConsumables = "tested-consumables",
        /// By previous welding experience (ISO 15611).
        PreviousExperience = "previous-experience",
        /// By adoption of a standard welding procedure (ISO 15612).
        StandardProcedure = "standard-procedure",
        /// By a pre-production welding test (ISO 15613).
        PreProductionTest = "pre-production-test",
    }
}

words! {
    /// A code of qualification.
    CodeName, "code" {
        /// No code.
        None = "none",
        /// ISO 15614-1, procedure test of steels and nickel alloys.
        Iso15614 = "iso-15614-1",
        /// ISO 15614-2, procedure test of aluminium.
        Iso15614Aluminium = "iso-15614-2",
        /// ASME BPVC Section IX.
        AsmeIx = "asme-ix",
        /// AWS D1.1, structural welding of steel.
        AwsD11 = "aws-d1.1",
        /// AWS D1.2, structural welding of aluminium.
        AwsD12 = "aws-d1.2",
        /// AWS D1.3, structural welding of sheet steel.
        AwsD13 = "aws-d1.3",
        /// AWS D1.6, structural welding of stainless steel.
        AwsD16 = "aws-d1.6",
        /// API 1104, pipelines.
        Api1104 = "api-1104",
    }
}

words! {
    /// A code that a product is built to.
    Construction, "code of construction" {
        /// ASME BPVC Section VIII Division 1, pressure vessels.
        AsmeViii1 = "asme-viii-1",
        /// ASME B31.3, process piping.
        AsmeB313 = "asme-b31.3",
        /// ASME B31.1, power piping.
        AsmeB311 = "asme-b31.1",
        /// EN 1090-2, steel structures.
        En10902 = "en-1090-2",
    }
}

words! {
    /// An execution class of EN 1090-2.
    ExecutionClass, "execution class" {
        /// The least.
        Exc1 = "EXC1",
        /// Most buildings.
        Exc2 = "EXC2",
        /// Bridges and what fatigues.
        Exc3 = "EXC3",
        /// What must not fail.
        Exc4 = "EXC4",
    }
}

/// A metal of the joint.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ParentMetal {
    /// Specification and grade: `S355J2+N`, `ASTM A106 Gr. B`, `304L`, `6061-T6`.
    #[schemars(example = &"S355J2+N")]
    pub specification: Text,
    /// Thickness at the joint.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness: Quantity<Length>,
    /// Outside diameter of pipe or tube.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outside_diameter: Quantity<Length>,
    /// Product form: plate, sheet, pipe, section.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub form: Option<Text>,
    /// Group of ISO/TR 15608, where it differs from the handbook's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub group: Option<Text>,
    /// P-Number of ASME IX, where it differs from the handbook's.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub p_number: Option<Text>,
    /// Mass percent of each element, from the certificate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub composition: Option<Composition>,
    /// Carbon equivalent CEV (IIW) as delivered, from the certificate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"0.43 %")]
    pub carbon_equivalent: Quantity<Share>,
    /// Heat number of the certificate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub heat: Option<Text>,
    /// Coating such as `zinc`, or `none`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub coating: Option<Text>,
}

/// The joint and its preparation.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Joint {
    /// Type of joint.
    #[serde(rename = "type")]
    pub kind: JointType,
    /// Type of weld.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weld: Option<WeldType>,
    /// Detail of the code that the joint is made to, by its designation: `B-U2a-GF`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"B-U2a-GF")]
    pub detail: Option<Text>,
    /// Full or partial penetration.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub penetration: Option<Stated<Penetration>>,
    /// Depth of a partial penetration weld, or of a cavity.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub penetration_depth: Quantity<Length>,
    /// Shape of the prepared edges.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub preparation: Option<Stated<Preparation>>,
    /// Angle between the prepared faces; of a single bevel or J, the angle of its one face.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub included_angle: Quantity<Angle>,
    /// Distance between the parts at the root.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub root_gap: Quantity<Length>,
    /// Width of a cavity at the surface.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cavity_width: Quantity<Length>,
    /// Height of the unprepared part of the edge.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub root_face: Quantity<Length>,
    /// Radius at the root of a U or J.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub root_radius: Quantity<Length>,
    /// Backing of the root, or `none`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub backing: Option<OrNone<Backing>>,
    /// Method and depth of back gouging, or `none`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub back_gouging: Option<Text>,
    /// How the edges are prepared: machined, thermal cut and ground, sheared.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub preparation_method: Option<Text>,
    /// Cleaning before welding.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cleaning: Option<Text>,
    /// Jigs, fixtures and clamps.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub jigging: Option<Text>,
    /// Number, length and treatment of tack welds.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tack_welds: Option<Text>,
    /// Welded from one side or from both.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub welded_from: Option<Stated<Sides>>,
}

words! {
    /// Type of joint.
    JointType, "type of joint" {
        /// Edge to edge in one plane.
        Butt = "butt",
        /// The end of one part on the face of another.
        Tee = "tee",
        /// Overlapping faces.
        Lap = "lap",
        /// Edges at an angle.
        Corner = "corner",
        /// Parallel faces with their edges flush.
        Edge = "edge",
        /// A hollow ground or gouged out for a repair.
        Cavity = "cavity",
    }
}

words! {
    /// Type of weld.
    WeldType, "type of weld" {
        /// In a gap or a prepared groove.
        Groove = "groove",
        /// In the corner of two faces.
        Fillet = "fillet",
        /// A groove with a fillet over it.
        GrooveAndFillet = "groove-and-fillet",
        /// Along flush edges.
        Edge = "edge",
        /// In a hole or slot.
        Plug = "plug",
        /// Through the upper of two parts that lie on each other.
        Spot = "spot",
        /// Weld metal laid on a surface.
        Surfacing = "surfacing",
    }
}

impl WeldType {
    /// Whether edges are prepared for it.
    pub fn has_groove(self) -> bool {
        matches!(self, Self::Groove | Self::GrooveAndFillet)
    }

    /// Whether it has legs.
    pub fn has_fillet(self) -> bool {
        matches!(self, Self::Fillet | Self::GrooveAndFillet)
    }
}

words! {
    /// Penetration of the joint.
    Penetration, "penetration" {
        /// Through the whole thickness.
        Full = "full",
        /// To a stated depth.
        Partial = "partial",
    }
}

words! {
    /// Sides from which a joint is welded.
    Sides, "side" {
        /// From one side only.
        One = "one side",
        /// From both sides.
        Both = "both sides",
    }
}

words! {
    /// Shape of the prepared edges.
    Preparation, "preparation" {
        /// Square edges.
        Square = "square",
        /// Both edges bevelled from one side.
        SingleV = "single-v",
        /// Both edges bevelled from both sides.
        DoubleV = "double-v",
        /// One edge bevelled from one side.
        SingleBevel = "single-bevel",
        /// One edge bevelled from both sides.
        DoubleBevel = "double-bevel",
        /// Both edges with a radius, from one side.
        SingleU = "single-u",
        /// Both edges with a radius, from both sides.
        DoubleU = "double-u",
        /// One edge with a radius, from one side.
        SingleJ = "single-j",
        /// One edge with a radius, from both sides.
        DoubleJ = "double-j",
        /// Between two rounded members, as bars or corners of hollow sections.
        FlareV = "flare-v",
        /// Between a rounded member and a flat one.
        FlareBevel = "flare-bevel",
    }
}

impl Preparation {
    /// Whether it is prepared from both sides.
    pub fn is_double(self) -> bool {
        matches!(self, Self::DoubleV | Self::DoubleBevel | Self::DoubleU | Self::DoubleJ)
    }

    /// Whether edges are cut at an angle, or with a radius.
    pub fn is_cut(self) -> bool {
        self != Self::Square && !self.is_flare()
    }

    /// Whether the members themselves are round and nothing is cut.
    pub fn is_flare(self) -> bool {
        matches!(self, Self::FlareV | Self::FlareBevel)
    }
}

/// Backing of the root.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Backing {
    /// Kind of backing.
    #[serde(rename = "type")]
    pub kind: BackingType,
    /// Material of the backing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub material: Option<Text>,
    /// Thickness or size.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub size: Option<Text>,
}

words! {
    /// Kind of backing.
    BackingType, "type of backing" {
        /// A metal strip, left in place or removed.
        Strip = "strip",
        /// Gas at the root side.
        Gas = "gas",
        /// Ceramic tiles.
        Ceramic = "ceramic",
        /// Weld metal of the other side.
        WeldMetal = "weld-metal",
        /// Flux.
        Flux = "flux",
    }
}

/// Size of a fillet or of a partial penetration weld.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WeldSize {
    /// Leg length (z).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub leg: Quantity<Length>,
    /// The other leg of an unequal fillet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub second_leg: Quantity<Length>,
    /// Throat thickness (a).
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub throat: Quantity<Length>,
    /// Length of the weld, for estimates.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub length: Quantity<Length>,
    /// Height of the reinforcement over the surface.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reinforcement: Quantity<Length>,
    /// Height of the root that stands through on the other side of a weld from one side.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub root_reinforcement: Quantity<Length>,
    /// Diameter of a spot or plug weld where the parts meet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub diameter: Quantity<Length>,
    /// Shape that the face of the weld is to have.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub contour: Option<Stated<Contour>>,
}

words! {
    /// Shape of the face of a weld.
    Contour, "contour" {
        /// Level with the parts, or flat.
        Flush = "flush",
        /// Higher in the middle.
        Convex = "convex",
        /// Hollow in the middle.
        Concave = "concave",
    }
}

words! {
    /// Direction of welding in a vertical position.
    Progression, "progression" {
        /// Upwards.
        Upward = "upward",
        /// Downwards.
        Downward = "downward",
    }
}

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

/// Preheating, interpass and heat treatment.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Temperatures {
    /// Preheating temperature before the first run.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub preheating: Quantity<Temperature>,
    /// Temperature between runs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub interpass: Quantity<Temperature>,
    /// Longest time from the end of a run to the start of the next.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time_between_runs: Quantity<Duration>,
    /// Temperature kept when welding is interrupted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub preheat_maintenance: Quantity<Temperature>,
    /// Post-heating for hydrogen release, or `none`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub post_heating: Option<OrNone<Soak>>,
    /// Post-weld heat treatment, or `none`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub post_weld_heat_treatment: Option<OrNone<HeatTreatment>>,
    /// How the temperature is measured.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub measurement: Option<Text>,
}

/// What holds for one of several conditions in place of what the procedure states for all.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Condition {
    /// Thickness at the joint that the condition is for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness: Quantity<Length>,
    /// Outside diameter that the condition is for.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outside_diameter: Quantity<Length>,
    /// Positions that the condition is for.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub positions: Vec<Text>,
    /// The joint, as far as it differs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub joint: Option<Joint>,
    /// The size of the weld, as far as it differs.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weld_size: Option<Stated<WeldSize>>,
    /// Preheating, interpass and heat treatment, as far as they differ.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperatures: Option<Temperatures>,
}

/// A temperature held for a time.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Soak {
    /// Temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature: Quantity<Temperature>,
    /// Time at temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Quantity<Duration>,
}

/// A heat treatment after welding.
#[derive(Debug, Clone, Default, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HeatTreatment {
    /// Temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature: Quantity<Temperature>,
    /// Time at temperature.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub time: Quantity<Duration>,
    /// Time for each step of thickness, where the time at temperature grows with it: `1 h per 25 mm`.
    #[serde(default, deserialize_with = "by_thickness", skip_serializing_if = "Option::is_none")]
    #[schemars(with = "ByThicknessSchema")]
    pub time_by_thickness: Option<Text>,
    /// Heating rate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub heating_rate: Quantity<HeatingRate>,
    /// Cooling rate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cooling_rate: Quantity<HeatingRate>,
    /// Furnace, local heating, ageing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub method: Option<Text>,
}

/// A run, or several runs with the same settings.
#[derive(Debug, Clone, PartialEq, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Run {
    /// Number of the run, or a range of numbers: `1`, `2-4`; `3-n` for as many as the joint takes.
    #[schemars(with = "RunNumberSchema")]
    pub run: Text,
    /// What the run is for.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub layer: Option<Layer>,
    /// Process by ISO 4063 number or AWS letters.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub process: Option<Text>,
    /// Positions for which these settings hold, where they differ by position.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    #[schemars(default)]
    pub positions: Vec<Text>,
    /// Condition under `conditions` for which these settings hold, where they differ by condition.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub condition: Option<Text>,
    /// Side of a joint that is welded from both sides.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub side: Option<Side>,
    /// What this run states itself.
    #[serde(flatten)]
    pub settings: Settings,
}

/// The schema of a run's number.
struct RunNumberSchema;

impl JsonSchema for RunNumberSchema {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "RunNumber".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({"type": ["integer", "string"], "format": "run-number", "minimum": 1, "examples": [1, "2-4"]})
    }
}

words! {
    /// What a run is for.
    Layer, "layer" {
        /// The first run at the root.
        Root = "root",
        /// The second run, over the root.
        Hot = "hot",
        /// A run that fills the groove.
        Fill = "fill",
        /// A run of the last layer.
        Cap = "cap",
        /// A run at the back of the root.
        Backing = "backing",
        /// The only run.
        Single = "single",
    }
}

words! {
    /// Side of a joint that is welded from both sides.
    Side, "side" {
        /// The side welded first.
        First = "first",
        /// The side welded second.
        Second = "second",
    }
}

const RUN_KEYS: [&str; 6] = ["run", "layer", "process", "positions", "condition", "side"];

impl<'de> Deserialize<'de> for Run {
    // A flattened struct cannot refuse unknown keys, so the keys of a run are taken out by hand.
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        #[derive(Deserialize)]
        struct Head {
            run: Text,
            layer: Option<Layer>,
            process: Option<Text>,
            #[serde(default)]
            positions: Vec<Text>,
            condition: Option<Text>,
            side: Option<Side>,
        }
        use serde::de::Error as _;
        let mut rest = Map::<String, Value>::deserialize(deserializer)?;
        let mut head = Map::new();
        for key in RUN_KEYS {
            if let Some(value) = rest.remove(key) {
                head.insert(key.to_owned(), value);
            }
        }
        let Head { run, layer, process, positions, condition, side } =
            Head::deserialize(Value::Object(head)).map_err(D::Error::custom)?;
        run_numbers(&run).map_err(D::Error::custom)?;
        let settings = Settings::deserialize(Value::Object(rest)).map_err(D::Error::custom)?;
        Ok(Self { run, layer, process, positions, condition, side, settings })
    }
}

/// First and last number of a run's `run` value; `Err` says what to write. Of `3-n`, as many runs as the joint takes, the
/// first number is both.
pub fn run_numbers(text: &str) -> Result<(u32, u32), String> {
    let wrong = || {
        format!(
            "`{text}` is not a run number; write a number from 1, a rising range or an open one, such as 1, 2-4 or 3-n"
        )
    };
    let mut parts = text.splitn(2, ['-', '–']);
    let number = |part: &str| part.trim().parse::<u32>().ok().filter(|n| (1..=100_000).contains(n)).ok_or_else(wrong);
    let first = number(parts.next().unwrap_or_default())?;
    let last = match parts.next() {
        Some(last) if last.trim().eq_ignore_ascii_case("n") => first,
        Some(last) => number(last)?,
        None => first,
    };
    if last < first { Err(wrong()) } else { Ok((first, last)) }
}

/// Whether a run's `run` value stands for as many runs as the joint takes: `3-n`.
pub fn runs_open(text: &str) -> bool {
    text.trim_end().ends_with(['n', 'N']) && run_numbers(text).is_ok()
}

/// An examination after welding.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Examination {
    /// Method: visual, penetrant, magnetic particle, radiographic, ultrasonic.
    pub method: Text,
    /// Extent: `100 %`, `10 %`.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub extent: Option<Text>,
    /// Acceptance: standard and level.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"ISO 5817 level C")]
    pub acceptance: Option<Text>,
}

/// An entry of the document's history.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RevisionEntry {
    /// Revision number or letter.
    pub revision: Text,
    /// Date of the revision.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<Date>,
    /// What changed.
    pub change: Text,
    /// Who changed it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by: Option<Text>,
}

/// A finding accepted for a stated reason.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Deviation {
    /// Name of the check.
    #[schemars(example = &"interpass-above-usual")]
    pub check: Text,
    /// JSON pointer of the value; left out, it stands for every place.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"/temperatures/interpass")]
    pub at: Option<Text>,
    /// Why the deviation is sound.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub reason: Option<Text>,
    /// Who accepts it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub by: Option<Text>,
    /// When it was accepted.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<Date>,
}

/// Name of the format of a time by thickness.
pub(crate) const BY_THICKNESS: &str = "time-by-thickness";

/// The schema of a time by thickness.
struct ByThicknessSchema;

impl JsonSchema for ByThicknessSchema {
    fn inline_schema() -> bool {
        true
    }
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "ByThickness".into()
    }
    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({"type": "string", "format": BY_THICKNESS, "examples": ["1 h per 25 mm", "1 h per 1 in"]})
    }
}

fn by_thickness<'de, D: serde::Deserializer<'de>>(deserializer: D) -> Result<Option<Text>, D::Error> {
    let text = Text::deserialize(deserializer)?;
    time_by_thickness(&text).map_err(serde::de::Error::custom)?;
    Ok(Some(text))
}

/// A time for each step of thickness: `1 h per 25 mm`, `1 h per in`; anything else is an error that says what to write.
pub fn time_by_thickness(text: &str) -> Result<(Range<Duration>, Range<Length>), String> {
    let wrong =
        || format!("`{text}` is no time by thickness; write a time and a step, such as 1 h per 25 mm or 1 h per 1 in");
    let (time, step) = text.split_once(" per ").ok_or_else(wrong)?;
    let step =
        if step.starts_with(|first: char| first.is_ascii_digit()) { step.to_owned() } else { format!("1 {step}") };
    match (time.parse(), step.parse::<Range<Length>>()) {
        (Ok(time), Ok(step)) if step.single().is_some_and(|step| step.mm() > 0.0) => Ok((time, step)),
        _ => Err(wrong()),
    }
}

/// An energy at a temperature.
pub type Toughness = (Range<Energy>, Range<Temperature>);

/// An impact toughness that is asked for: energy at a temperature, or `None` where none is required.
///
/// Reads `27 J at -20 °C`; `not required` and `none` ask for nothing. Anything else is an error that says what to
/// write.
pub fn toughness(text: &str) -> Result<Option<Toughness>, String> {
    if matches!(text, "not required" | "none" | "not applicable") {
        return Ok(None);
    }
    let wrong = || {
        format!(
            "`{text}` is not a toughness; write `not required` or an energy at a temperature, such as 27 J at -20 °C"
        )
    };
    let (energy, temperature) = text.split_once(" at ").ok_or_else(wrong)?;
    match (energy.parse(), temperature.parse()) {
        (Ok(energy), Ok(temperature)) => Ok(Some((energy, temperature))),
        _ => Err(wrong()),
    }
}
