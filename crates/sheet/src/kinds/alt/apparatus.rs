//! Torch, tungsten, nozzle and position in words.

use seamwright_drawing::sketch::torch::{Pointing, Seam, TorchKind, TorchSketch};
use seamwright_drawing::sketch::tungsten::{NozzleSketch, Tip, TipSketch};
use seamwright_model::procedure::keys;
use seamwright_page::SheetOptions;
use seamwright_page::words::label;

use super::Description;

fn tool(kind: TorchKind, options: SheetOptions) -> String {
    options
        .say(match kind {
            TorchKind::Tungsten => label::TORCH_WITH_TUNGSTEN,
            TorchKind::Wire => label::TORCH_WITH_WIRE,
            TorchKind::Electrode => label::ELECTRODE_IN_HOLDER,
        })
        .into_owned()
}

/// The tool from the side.
pub(in super::super) fn travel(sketch: &TorchSketch, options: SheetOptions) -> String {
    let tool = tool(sketch.kind, options);
    let mut said = Description::new(options.fill(label::SEEN_FROM_THE_SIDE, &[("tool", &tool)]), options);
    said.say(match sketch.pointing {
        Some(Pointing::Push) => label::PUSHED,
        Some(Pointing::Drag) => label::DRAGGED,
        None => label::UPRIGHT,
    });
    let labels = &sketch.labels;
    said.size(&options.low(keys::TRAVEL_ANGLE.of_process), labels.travel_angle.as_ref());
    said.size(&options.say(label::ROD_TO_THE_WORK), labels.filler_angle.as_ref());
    let distance = match sketch.kind {
        TorchKind::Wire => keys::CONTACT_TIP_TO_WORK.of_process,
        TorchKind::Tungsten | TorchKind::Electrode => keys::ARC_LENGTH.of_process,
    };
    said.size(&options.low(distance), labels.distance.as_ref());
    said.end()
}

/// The tool from the end of the seam.
pub(in super::super) fn work(sketch: &TorchSketch, options: SheetOptions) -> String {
    let tool = tool(sketch.kind, options);
    let seam = options.say(match sketch.seam {
        Seam::Butt => label::BUTT_JOINT,
        Seam::Tee => label::TEE_JOINT,
        Seam::Lap => label::LAP_JOINT,
    });
    let along = options.fill(label::SEEN_ALONG_THE_SEAM, &[("tool", &tool), ("joint", &seam)]);
    let mut said = Description::new(along, options);
    said.size(&options.low(keys::WORK_ANGLE.of_process), sketch.labels.work_angle.as_ref());
    said.end()
}

/// The tip of the tungsten.
pub(in super::super) fn tip(sketch: &TipSketch, options: SheetOptions) -> String {
    let mut said = Description::new(options.say(label::TIP_ENLARGED).into_owned(), options);
    said.say(match sketch.tip {
        Tip::Ground { .. } => label::GROUND_TO_A_CONE,
        Tip::Balled => label::MELTED_TO_A_BALL,
    });
    said.size(&options.low(keys::TUNGSTEN_DIAMETER.of_process), sketch.diameter_label.as_ref());
    said.size(&options.low(keys::TUNGSTEN_INCLUDED_ANGLE.of_process), sketch.angle_label.as_ref());
    said.parts.extend(sketch.flat_label.clone());
    said.end()
}

/// The tungsten in its nozzle.
pub(in super::super) fn nozzle(sketch: &NozzleSketch, options: SheetOptions) -> String {
    let mut said = Description::new(options.say(label::NOZZLE_IN_SECTION).into_owned(), options);
    said.parts.extend(sketch.gas_lens.then(|| options.say(label::GAS_LENS).into_owned()));
    said.parts.extend(sketch.nozzle_label.clone());
    said.size(&options.say(label::BORE), sketch.bore_label.as_ref());
    said.size(&options.low(keys::TUNGSTEN_STICKOUT.of_process), sketch.stickout_label.as_ref());
    said.end()
}

/// A position, by its symbol and its name.
pub(in super::super) fn position(code: &str, name: &str, options: SheetOptions) -> String {
    options.fill(label::POSITION_DRAWN, &[("code", code), ("name", name)])
}
