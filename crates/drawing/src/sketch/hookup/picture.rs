//! The picture of a hook-up.

use super::sketch::{ArcCarrier, GasPath, HookupSketch, Remote};
use crate::block::Block;
use crate::canvas::{Canvas, room_of, sane};
use crate::drawing::{
    Anchor, Fill, Segment, Stroke,
    line::{FINE, HEAVY, MEDIUM},
    weight,
};
use crate::point::Point;
use crate::text::{POINT, Rect, cap_middle, lesser};

const HOSE: Stroke = Stroke { width: 0.45, dash: Some((1.8, 1.1)), grey: 0.0 };
const CONTROL: Stroke = Stroke { width: 0.3, dash: Some((0.5, 0.7)), grey: 0.0 };

/// The welding cables, mm.
const CABLE: Stroke = Stroke::solid(1.1);

/// Where a long word may be broken, with a hyphen.
const PART: char = '\u{ad}';

/// The share of the usual size below which a word is broken.
const LEAST_SHARE: f64 = 0.8;

/// The picture's own places; multiplied by the scale.
struct Plan {
    scale: f64,
    /// How far the work stands to the right because of a feeder.
    shift: f64,
}

impl Plan {
    fn at(&self, x: f64, y: f64) -> Point {
        (x * self.scale, y * self.scale)
    }

    fn right(&self, x: f64, y: f64) -> Point {
        ((x + self.shift) * self.scale, y * self.scale)
    }

    fn rect(&self, left: f64, top: f64, right: f64, bottom: f64) -> Rect {
        Rect { left: left * self.scale, top: top * self.scale, right: right * self.scale, bottom: bottom * self.scale }
    }
}

fn curve(canvas: &mut Canvas, points: [Point; 4], stroke: Stroke) {
    let [from, a, b, to] = points;
    canvas.path(vec![Segment::Move(from), Segment::Curve(a, b, to)], Fill::None, Some(stroke));
}

pub(super) fn build(sketch: &HookupSketch, scale: f64) -> Canvas {
    let size = sane(sketch.text_size, 4.0, 40.0, 8.0);
    let mut canvas = Canvas::default();
    let apart = sketch.is_wire() && sketch.separate_feeder;
    let plan = Plan { scale, shift: if apart { 30.0 } else { 0.0 } };
    let gas = sketch.has_gas();

    source(&mut canvas, sketch, &plan, size);
    if sketch.water_cooler {
        cooler(&mut canvas, &plan, &sketch.names.water_cooler, size, apart);
    }
    cables(&mut canvas, sketch, &plan, apart);
    if sketch.is_wire() {
        feeder(&mut canvas, &plan, apart);
    }
    if gas {
        gas_way(&mut canvas, sketch, &plan, apart);
    }
    work(&mut canvas, &plan);
    handle(&mut canvas, sketch, &plan);
    match sketch.remote {
        Remote::None => {}
        Remote::FootPedal => pedal(&mut canvas, &plan),
        Remote::TorchSwitch => torch_switch(&mut canvas, &plan, apart),
    }

    // The names, where there is room for them.
    let names = &sketch.names;
    let room = 34.0 * scale.max(0.8);
    if gas && sketch.gas == GasPath::TorchValve {
        canvas.text_beyond(plan.right(87.6, 13.8), (0.45, -1.0), &names.valve, size, room);
    }
    canvas.text_beyond(plan.right(97.5, 16.5), (1.0, -0.25), &names.torch, size, 22.0 * scale.max(0.8));
    canvas.text_beyond(plan.right(80.5, 57.5), (0.0, 1.0), &names.work_clamp, size, room);
    if apart {
        canvas.text_beyond(plan.at(75.0, 35.5), (0.0, 1.0), &names.wire_feeder, size, room);
    }
    if sketch.remote == Remote::FootPedal {
        canvas.text_beyond(plan.at(62.0, 65.0), (1.0, 0.0), &names.foot_pedal, size, room);
    }
    if sketch.remote == Remote::TorchSwitch {
        canvas.text_beyond(plan.right(82.5, 22.5), (-0.2, 1.0), &names.torch_switch, size, room);
    }
    if gas {
        canvas.text_beyond(plan.at(3.0, 58.0), (0.0, 1.0), &names.gas, size, 24.0 * scale.max(0.9));
    }
    if !sketch.words.is_empty() {
        words(&mut canvas, sketch, size);
    }
    canvas
}

/// The power source with its terminals: the torch's above, the work's below.
fn source(canvas: &mut Canvas, sketch: &HookupSketch, plan: &Plan, size: f64) {
    let case = plan.rect(18.0, 14.0, 54.0, 58.0);
    canvas.rounded(case, 1.5 * plan.scale, Fill::White, Some(HEAVY));
    let names = &sketch.names;
    let room = case.width() - 2.0;
    let whole = names.power_source.replace(PART, "");
    // A word that would stand much smaller than the rest is broken where it may be.
    let parted = room / Block::new(&whole, size, true, room).width() < LEAST_SHARE;
    let name = if parted { names.power_source.replace(PART, "- ") } else { whole };
    let usual = Block::new(&name, size, true, room);
    let size_of_name = lesser(size, (room / usual.width()).min(1.0));
    let block = Block::new(&name, size_of_name, true, room);
    let left = f64::midpoint(case.left, case.right) - block.width() / 2.0;
    canvas.set(&block, block.at(left, case.top + 1.2), Anchor::Middle, false);
    let (torch, other) = sketch.signs();
    for (sign, name, y) in [(torch, &names.holder, 34.0), (other, &names.work, 49.0)] {
        let centre = plan.at(48.5, y);
        let radius = (3.6 * plan.scale).max(size * POINT * 0.85);
        canvas.circle(centre, radius, Fill::White, Some(HEAVY));
        canvas.text_centred(centre, sign, size * 1.25, true);
        let baseline = centre.1 + cap_middle(size);
        canvas.text((centre.0 - radius - 1.0, baseline), name, size, Anchor::End);
    }
}

/// The welding cables from the terminals to torch and clamp.
fn cables(canvas: &mut Canvas, sketch: &HookupSketch, plan: &Plan, apart: bool) {
    let out = 48.5 + 3.6_f64.max(sane(sketch.text_size, 4.0, 40.0, 8.0) * POINT * 0.85 / plan.scale);
    if apart {
        canvas.line(plan.at(out, 34.0), plan.at(66.0, 34.0), CABLE);
        let way = [plan.at(84.0, 30.0), plan.at(92.0, 30.0), plan.right(68.0, 14.0), plan.right(80.0, 17.5)];
        curve(canvas, way, CABLE);
    } else {
        let way = [plan.at(out, 34.0), plan.at(66.0, 34.0), plan.at(66.0, 12.0), plan.at(80.0, 17.5)];
        curve(canvas, way, CABLE);
    }
    let way = [plan.at(out, 49.0), plan.at(66.0, 49.0), plan.right(62.0, 62.0), plan.right(78.0, 53.0)];
    curve(canvas, way, CABLE);
}

/// The wire feeder: a spool in a case of its own or in that of the power source.
fn feeder(canvas: &mut Canvas, plan: &Plan, apart: bool) {
    let centre = if apart {
        canvas.rounded(plan.rect(66.0, 21.0, 84.0, 35.5), 1.2 * plan.scale, Fill::White, Some(HEAVY));
        plan.at(73.5, 28.5)
    } else {
        plan.at(25.5, 41.0)
    };
    canvas.circle(centre, 5.2 * plan.scale, Fill::None, Some(MEDIUM));
    canvas.circle(centre, 1.5 * plan.scale, Fill::None, Some(MEDIUM));
    canvas.line(
        (centre.0, centre.1 - 5.2 * plan.scale),
        (centre.0 + 8.0 * plan.scale, centre.1 - 5.2 * plan.scale),
        FINE,
    );
}

/// Cylinder, regulator and hose.
fn gas_way(canvas: &mut Canvas, sketch: &HookupSketch, plan: &Plan, apart: bool) {
    canvas.rounded(plan.rect(-2.0, 24.0, 8.0, 57.0), 4.0 * plan.scale, Fill::White, Some(HEAVY));
    canvas.rect(plan.rect(1.6, 20.6, 4.4, 24.0), Fill::White, Some(HEAVY));
    canvas.circle(plan.at(3.0, 18.0), 2.6 * plan.scale, Fill::White, Some(HEAVY));
    canvas.line(plan.at(3.0, 18.0), plan.at(4.4, 16.6), FINE);
    if sketch.gas == GasPath::TorchValve {
        // Over everything, straight to the valve on the torch.
        let top = if sketch.water_cooler { -4.0 } else { 8.0 };
        let path = vec![
            Segment::Move(plan.at(3.0, 15.4)),
            Segment::Curve(plan.at(3.0, top), plan.at(3.0, top), plan.at(14.0, top)),
            Segment::Line(plan.at(58.0, top)),
            Segment::Curve(plan.right(72.0, top), plan.right(78.0, 10.0), plan.right(86.2, 15.2)),
        ];
        canvas.path(path, Fill::None, Some(HOSE));
        // The valve: two triangles, point to point.
        for side in [-1.0, 1.0] {
            canvas.polygon(
                &[plan.right(87.0, 15.8), plan.right(87.0 + side * 1.7, 14.4), plan.right(87.0 + side * 1.7, 17.2)],
                Fill::Black,
                None,
            );
        }
    } else {
        canvas.line(plan.at(5.6, 18.0), plan.at(12.0, 18.0), HOSE);
        curve(canvas, [plan.at(12.0, 18.0), plan.at(15.0, 18.0), plan.at(14.0, 25.0), plan.at(18.0, 25.0)], HOSE);
        if apart {
            canvas.line(plan.at(54.0, 25.0), plan.at(66.0, 25.0), HOSE);
            let way = [plan.at(84.0, 25.0), plan.at(92.0, 25.0), plan.right(68.0, 10.0), plan.right(80.0, 15.0)];
            curve(canvas, way, HOSE);
        } else {
            let way = [plan.at(54.0, 25.0), plan.at(63.0, 25.0), plan.at(63.0, 9.0), plan.at(80.5, 15.2)];
            curve(canvas, way, HOSE);
        }
    }
}

/// The water cooler on top, with flow and return.
fn cooler(canvas: &mut Canvas, plan: &Plan, name: &str, size: f64, apart: bool) {
    let case = plan.rect(18.0, 0.0, 54.0, 11.0);
    canvas.rounded(case, 1.5 * plan.scale, Fill::White, Some(HEAVY));
    canvas.text_centred(
        (f64::midpoint(case.left, case.right), f64::midpoint(case.top, case.bottom)),
        name,
        size,
        false,
    );
    let end = if apart { 84.0 } else { 70.0 };
    for (y, x, to) in [(3.5, 84.5, 16.9), (7.5, 82.5, 16.2)] {
        let way = [plan.at(54.0, y), plan.at(end, y), plan.right(x - 8.0, to - 8.0), plan.right(x, to)];
        curve(canvas, way, FINE);
    }
}

/// The workpiece with the clamp on its edge.
fn work(canvas: &mut Canvas, plan: &Plan) {
    let (left, top) = plan.right(78.0, 47.0);
    let (right, bottom) = plan.right(118.0, 51.0);
    let half = f64::midpoint(left, right) + 4.0 * plan.scale;
    canvas.rect(Rect { left, top, right: half, bottom }, Fill::Hatch(1.5), Some(HEAVY));
    canvas.rect(Rect { left: half, top, right, bottom }, Fill::Hatch(2.1), Some(HEAVY));
    // Jaws over and under the edge.
    for (y, tip) in [(45.2, 47.0), (52.8, 51.0)] {
        canvas.line(plan.right(76.5, y), plan.right(82.5, y), Stroke::solid(weight::HEAVY * 1.6));
        canvas.line(plan.right(82.5, y), plan.right(82.5, tip), Stroke::solid(weight::HEAVY * 1.6));
    }
    canvas.line(plan.right(76.5, 45.2), plan.right(76.5, 52.8), Stroke::solid(weight::HEAVY * 1.6));
    canvas.line(plan.right(76.5, 53.0), plan.right(78.2, 53.0), CABLE);
}

/// The torch, gun or holder over the seam.
fn handle(canvas: &mut Canvas, sketch: &HookupSketch, plan: &Plan) {
    let polygon = |points: &[(f64, f64)]| points.iter().map(|&(x, y)| plan.right(x, y)).collect::<Vec<_>>();
    // The grip, from the cable towards the arc.
    canvas.polygon(&polygon(&[(80.0, 15.4), (93.5, 20.0), (92.2, 23.6), (79.0, 19.0)]), Fill::White, Some(HEAVY));
    match sketch.carrier {
        ArcCarrier::Tungsten => {
            canvas.polygon(
                &polygon(&[(93.0, 14.0), (97.0, 15.0), (96.4, 19.5), (92.6, 18.6)]),
                Fill::White,
                Some(HEAVY),
            );
            canvas.polygon(
                &polygon(&[(91.6, 18.8), (98.0, 20.4), (99.6, 33.0), (93.8, 33.6)]),
                Fill::White,
                Some(HEAVY),
            );
            canvas.polygon(
                &polygon(&[(93.6, 32.0), (100.0, 31.4), (101.4, 39.0), (97.0, 39.6)]),
                Fill::White,
                Some(HEAVY),
            );
            canvas.polygon(&polygon(&[(98.6, 39.5), (99.9, 39.3), (100.0, 45.2)]), Fill::Black, None);
        }
        ArcCarrier::Wire | ArcCarrier::SelfShieldedWire => {
            let neck = vec![
                Segment::Move(plan.right(92.6, 21.6)),
                Segment::Curve(plan.right(97.0, 23.0), plan.right(97.6, 26.0), plan.right(98.2, 31.0)),
            ];
            canvas.path(neck.clone(), Fill::None, Some(Stroke::solid(3.2 * plan.scale + weight::HEAVY)));
            let white = Stroke { width: (3.2 * plan.scale - weight::HEAVY).max(0.2), dash: None, grey: 1.0 };
            canvas.path(neck, Fill::None, Some(white));
            canvas.polygon(
                &polygon(&[(95.6, 30.4), (101.0, 29.8), (102.4, 40.0), (97.0, 40.6)]),
                Fill::White,
                Some(HEAVY),
            );
            canvas.line(plan.right(99.7, 40.4), plan.right(100.1, 45.6), Stroke::solid(0.6));
        }
        ArcCarrier::Electrode => {
            canvas.polygon(
                &polygon(&[(92.9, 18.6), (97.4, 20.6), (96.0, 25.2), (91.5, 24.2)]),
                Fill::White,
                Some(HEAVY),
            );
            canvas.polygon(
                &polygon(&[(94.6, 25.0), (96.4, 24.6), (100.9, 44.8), (99.1, 45.2)]),
                Fill::Grey(0.85),
                Some(MEDIUM),
            );
        }
    }
    canvas.polygon(&polygon(&[(100.1, 45.4), (102.4, 47.0), (97.8, 47.0)]), Fill::Grey(0.6), None);
}

fn pedal(canvas: &mut Canvas, plan: &Plan) {
    curve(canvas, [plan.at(40.0, 58.0), plan.at(40.0, 66.0), plan.at(42.0, 67.0), plan.at(47.0, 67.0)], CONTROL);
    canvas.polygon(
        &[plan.at(47.0, 69.0), plan.at(61.0, 69.0), plan.at(61.0, 61.5), plan.at(47.0, 66.6)],
        Fill::White,
        Some(HEAVY),
    );
}

fn torch_switch(canvas: &mut Canvas, plan: &Plan, apart: bool) {
    canvas.polygon(
        &[plan.right(83.0, 20.4), plan.right(87.0, 21.8), plan.right(86.6, 23.2), plan.right(82.6, 21.8)],
        Fill::Black,
        None,
    );
    if apart {
        canvas.line(plan.at(54.0, 30.0), plan.at(66.0, 30.0), CONTROL);
        let way = [plan.at(84.0, 33.0), plan.at(94.0, 33.0), plan.right(70.0, 18.0), plan.right(79.0, 19.5)];
        curve(canvas, way, CONTROL);
    } else {
        let way = [plan.at(54.0, 41.0), plan.at(70.0, 41.0), plan.at(68.0, 16.0), plan.at(79.0, 19.0)];
        curve(canvas, way, CONTROL);
    }
}

/// The connection in bold and the notes, under the picture.
fn words(canvas: &mut Canvas, sketch: &HookupSketch, size: f64) {
    let bounds = canvas.bounds();
    let width = bounds.width().min(room_of(sketch.max_width) - 1.5).max(20.0);
    let gap = size * POINT * 0.5;
    let mut top = bounds.bottom + 2.0 * gap;
    for (index, text) in sketch.words.iter().enumerate() {
        let block = Block::new(text, size, index == 0, width);
        let rect = block.at(bounds.left, top);
        canvas.set(&block, rect, Anchor::Start, false);
        top = rect.bottom + gap;
    }
}
