//! Metals and joint: what is welded together, how it is prepared, and how large the weld is.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::quantity::{Angle, Length, Share};
use crate::stated::{Composition, OrNone, Quantity, Stated, Text};
use crate::words::words;

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
