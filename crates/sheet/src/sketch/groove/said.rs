//! A joint in words.

use super::{Backing, JointKind, JointSketch, Preparation, Section};

impl JointKind {
    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Butt => "butt",
            Self::Tee => "tee",
            Self::Lap => "lap",
            Self::Corner => "corner",
            Self::Edge => "edge",
        }
    }
}

/// What kind of weld in what: "single-V butt joint in pipe".
pub(in crate::sketch) fn what(sketch: &JointSketch) -> String {
    let metal = match sketch.section {
        Section::Plate => "plate",
        Section::Pipe { .. } => "pipe",
    };
    let joint = sketch.joint.name();
    match (sketch.preparation, sketch.fillet) {
        (Preparation::None, Some(fillet)) => {
            let sides = if fillet.both_sides { " on both sides" } else { "" };
            format!("{joint} joint in {metal} with a fillet weld{sides}")
        }
        (preparation, Some(_)) => format!("{} {joint} joint in {metal} with a fillet on top", preparation.name()),
        (Preparation::None, None) => format!("{joint} joint in {metal}"),
        (preparation, None) => format!("{} {joint} joint in {metal}", preparation.name()),
    }
}

pub(super) fn alt(sketch: &JointSketch) -> String {
    let labels = &sketch.labels;
    let mut parts = Vec::new();
    let mut say = |name: &str, text: &Option<String>| {
        if let Some(text) = text {
            parts.push(format!("{name} {text}"));
        }
    };
    if labels.thickness[1].is_some() && labels.thickness[0].is_some() {
        say("thickness of the first member", &labels.thickness[0]);
        say("thickness of the second member", &labels.thickness[1]);
    } else {
        say("thickness", &labels.thickness[0]);
        say("thickness", &labels.thickness[1]);
    }
    say("outside diameter", &labels.diameter);
    let included = matches!(
        sketch.preparation,
        Preparation::SingleV | Preparation::DoubleV | Preparation::SingleU | Preparation::DoubleU
    );
    say(if included { "included angle" } else { "bevel angle" }, &labels.angle);
    say("root gap", &labels.gap);
    say("root face", &labels.root_face);
    say("root radius", &labels.radius);
    say("groove depth", &labels.depth);
    say("leg", &labels.leg[0]);
    say("other leg", &labels.leg[1]);
    say("throat", &labels.throat);
    say("backing:", &labels.backing);
    let backing = match sketch.backing {
        Backing::Strip => ", on a backing strip",
        Backing::Gas => ", gas held at the root",
        Backing::Ceramic => ", on ceramic backing",
        Backing::Flux => ", on a flux bed",
        Backing::None => "",
    };
    let sizes = if parts.is_empty() { String::new() } else { format!(": {}", parts.join(", ")) };
    format!("Section to scale of a {}{backing}{sizes}.", what(sketch))
}
