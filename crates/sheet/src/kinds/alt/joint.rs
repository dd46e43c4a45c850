//! The joint and its runs in words.

use seamwright_drawing::sketch::cavity::CavitySketch;
use seamwright_drawing::sketch::flare::FlareSketch;
use seamwright_drawing::sketch::groove::{Backing, JointKind, JointSketch, Layer, RunBead, Section};
use seamwright_model::procedure::Preparation;
use seamwright_page::SheetOptions;
use seamwright_page::words::label;

use super::Description;

/// The prepared joint with its dimensions; what unit they have stands under the drawing.
pub(in super::super) fn joint(sketch: &JointSketch, options: SheetOptions) -> String {
    let what = what(sketch, options);
    let mut said = Description::new(options.fill(label::SECTION_TO_SCALE, &[("what", &what)]), options);
    let labels = &sketch.labels;
    let thickness = options.low("/parent_metals/*/thickness");
    let members = [label::OF_FIRST_MEMBER, label::OF_SECOND_MEMBER];
    let both = labels.thickness.iter().all(Option::is_some);
    for (text, member) in labels.thickness.iter().zip(members) {
        let name = if both { options.fill(member, &[("what", &thickness)]) } else { thickness.clone() };
        said.size(&name, text.as_ref());
    }
    let included = matches!(
        sketch.preparation,
        Some(Preparation::SingleV | Preparation::DoubleV | Preparation::SingleU | Preparation::DoubleU)
    );
    let angle =
        if included { options.low("/joint/included_angle") } else { options.say(label::BEVEL_ANGLE).into_owned() };
    said.size(&options.low("/parent_metals/*/outside_diameter"), labels.diameter.as_ref());
    said.size(&angle, labels.angle.as_ref());
    said.size(&options.low("/joint/root_gap"), labels.gap.as_ref());
    said.size(&options.low("/joint/root_face"), labels.root_face.as_ref());
    said.size(&options.low("/joint/root_radius"), labels.radius.as_ref());
    said.size(&options.say(label::GROOVE_DEPTH), labels.depth.as_ref());
    said.size(&options.low("/weld_size/leg"), labels.leg[0].as_ref());
    said.size(&options.say(label::OTHER_LEG), labels.leg[1].as_ref());
    said.size(&options.low("/weld_size/throat"), labels.throat.as_ref());
    said.size(&options.low("/joint/backing"), labels.backing.as_ref());
    said.end()
}

/// The cavity of a repair.
pub(in super::super) fn cavity(sketch: &CavitySketch, options: SheetOptions) -> String {
    let what = options.word("cavity");
    let mut said = Description::new(options.fill(label::SECTION_TO_SCALE, &[("what", &what)]), options);
    let names = [
        options.low("/parent_metals/*/thickness"),
        options.say(label::GROOVE_DEPTH).into_owned(),
        options.low("/joint/cavity_width"),
        options.low("/joint/included_angle"),
    ];
    for (name, text) in names.iter().zip(&sketch.labels) {
        said.size(name, text.as_ref());
    }
    said.end()
}

/// The flare beside a round member.
pub(in super::super) fn flare(sketch: &FlareSketch, options: SheetOptions) -> String {
    let what = options.word(if sketch.both { "flare V" } else { "flare bevel" });
    let mut said = Description::new(options.fill(label::SECTION_TO_SCALE, &[("what", &what)]), options);
    let round = if sketch.bar { "/parent_metals/*/outside_diameter" } else { "/joint/root_radius" };
    let names = [options.low(round), options.low("/joint/root_gap"), options.say(label::GROOVE_DEPTH).into_owned()];
    for (name, text) in names.iter().zip(&sketch.labels) {
        said.size(name, text.as_ref());
    }
    said.end()
}

/// The runs in the joint, in the order of welding.
pub(in super::super) fn runs(sketch: &JointSketch, options: SheetOptions) -> String {
    let what = what(sketch, options);
    let mut said = Description::new(options.fill(label::SECTION_TO_SCALE, &[("what", &what)]), options);
    let numbered: Vec<&RunBead> = sketch.runs.iter().filter(|bead| !bead.label.is_empty()).collect();
    said.parts.push(options.count(numbered.len(), label::ONE_RUN_DRAWN, label::RUNS_DRAWN));
    for alike in numbered.chunk_by(|one, next| (one.layer, one.second_side) == (next.layer, next.second_side)) {
        let Some(first) = alike.first() else { continue };
        let numbers: Vec<&str> = alike.iter().map(|bead| bead.label.as_str()).collect();
        let side = if first.second_side { format!(" {}", options.say(label::FROM_OTHER_SIDE)) } else { String::new() };
        said.parts.push(format!("{}{side}: {}", layer(first.layer, options), numbers.join(", ")));
    }
    said.end()
}

fn layer(layer: Layer, options: SheetOptions) -> String {
    match layer {
        Layer::Root => options.word("root"),
        Layer::Hot => options.say(label::HOT_PASS),
        Layer::Fill => options.word("fill"),
        Layer::Cap => options.word("cap"),
        Layer::Backing => options.say(label::BACKING_RUN),
        Layer::Single => options.say(label::SINGLE_RUN),
    }
    .into_owned()
}

/// What kind of weld in what: `butt joint in pipe, single V, on a backing strip`.
fn what(sketch: &JointSketch, options: SheetOptions) -> String {
    let metal = options.word(match sketch.section {
        Section::Plate => "plate",
        Section::Pipe { .. } => "pipe",
    });
    let joint = options.say(match sketch.joint {
        JointKind::Butt => label::BUTT_JOINT,
        JointKind::Tee => label::TEE_JOINT,
        JointKind::Lap => label::LAP_JOINT,
        JointKind::Corner => label::CORNER_JOINT,
        JointKind::Edge => label::EDGE_JOINT,
    });
    let preparation = sketch.preparation.map(|shape| match shape {
        Preparation::Square => "square",
        Preparation::SingleV => "single V",
        Preparation::DoubleV => "double V",
        Preparation::SingleBevel => "single bevel",
        Preparation::DoubleBevel => "double bevel",
        Preparation::SingleU => "single U",
        Preparation::DoubleU => "double U",
        Preparation::SingleJ => "single J",
        Preparation::DoubleJ => "double J",
        Preparation::FlareV => "flare V",
        Preparation::FlareBevel => "flare bevel",
    });
    let fillet = sketch.fillet.map(|fillet| match (preparation, fillet.both_sides) {
        (Some(_), _) => label::FILLET_ON_TOP,
        (None, true) => label::FILLETS_ON_BOTH_SIDES,
        (None, false) => label::FILLET_WELD,
    });
    let backing = match sketch.backing {
        Backing::Strip => Some(label::ON_A_STRIP),
        Backing::Gas => Some(label::GAS_AT_THE_ROOT),
        Backing::Ceramic => Some(label::ON_CERAMIC),
        Backing::Flux => Some(label::ON_A_FLUX_BED),
        Backing::None => None,
    };
    let mut parts = vec![options.fill(label::JOINT_IN_METAL, &[("joint", &joint), ("metal", &metal)])];
    parts.extend(preparation.map(|shape| options.word(shape).into_owned()));
    parts.extend([fillet, backing].into_iter().flatten().map(|said| options.say(said).into_owned()));
    parts.join(", ")
}
