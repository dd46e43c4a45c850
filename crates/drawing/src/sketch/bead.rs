//! The runs inside the joint: each bead with its share of the area, layer on layer, fused to the walls.
//!
//! What one side of the joint fills has one bottom and one top over every x (`section.rs`). Layers are cut from it by
//! curves that are raised until the area under them is that of their beads, and a layer of several beads is cut by
//! rounded shoulders. So beads never overlap, leave no gap to each other or to the wall, and sum to the area of the
//! joint, whatever the sizes.

mod layers;
mod numbers;
mod run;
mod stack;

use self::layers::{area, lay};
use self::numbers::{Spot, number};
pub use self::run::Bead;
use self::stack::{share_out, stack};
use super::groove::{backing, metal};
use super::joint_sketch::{JointSketch, Layer};
use super::section::{Sizes, section};
use crate::canvas::{MARGIN, room_of, sane};
use crate::drawing::{Drawing, Fill, Stroke, weight};
use crate::fit::fit_measured;
use crate::point::{Point, times};

/// The beads of a joint in the order of its runs; a joint without runs is filled by one bead for each side.
pub fn beads(sketch: &JointSketch) -> Vec<Bead> {
    laid(sketch).0
}

/// Outline of the weld metal of each side, mm of the joint, y downwards: groove, cap and root, or fillet.
pub fn weld_outlines(sketch: &JointSketch) -> Vec<Vec<(f64, f64)>> {
    laid(sketch).1
}

/// Area of the weld metal, mm², with cap and root.
pub fn joint_area(sketch: &JointSketch) -> f64 {
    weld_outlines(sketch).iter().map(|outline| area(outline)).sum()
}

fn laid(sketch: &JointSketch) -> (Vec<Bead>, Vec<Vec<Point>>) {
    let sizes = Sizes::of(sketch);
    let geometry = section(&sizes, 1.0, 0.5);
    let sides = share_out(sketch, &geometry.regions);
    let mut placed: Vec<(usize, Bead)> = Vec::new();
    let mut outlines = Vec::new();
    for (region, (second_side, runs)) in geometry.regions.iter().zip(sides) {
        let layers = stack(region, &runs);
        let (cells, top) = lay(region, &layers);
        for (run, polygon) in layers.iter().flatten().zip(cells) {
            let polygon: Vec<Point> =
                polygon.into_iter().map(|at| geometry.on_paper(region.in_joint(at), 1.0)).collect();
            let bead = Bead { label: run.label.clone(), layer: run.layer, second_side, area: area(&polygon), polygon };
            placed.push((run.order, bead));
        }
        let outline = region.outline_under(&top);
        outlines.push(outline.into_iter().map(|at| geometry.on_paper(at, 1.0)).collect());
    }
    placed.sort_by_key(|(order, _)| *order);
    (placed.into_iter().map(|(_, bead)| bead).collect(), outlines)
}

/// The runs in the joint, numbered in order, at most as large as the sketch allows.
pub fn runs(sketch: &JointSketch) -> Drawing {
    let sizes = Sizes::of(sketch);
    let beads = beads(sketch);
    let spots: Vec<Spot> = beads.iter().map(Spot::of).collect();
    let (size, height) = (sane(sketch.text_size, 4.0, 40.0, 8.0), room_of(sketch.max_height) - 2.0 * MARGIN);
    let canvas = fit_measured((sketch.max_width, sketch.max_height), 0.02, 14.0, |canvas, scale| {
        let geometry = section(&sizes, 7.0 / scale, 0.35);
        backing(canvas, &sizes, &geometry, scale, None);
        metal(canvas, &geometry, scale, false);
        let outline = Some(Stroke::solid(weight::MEDIUM));
        for spot in &spots {
            let fill = match spot.bead.layer {
                Layer::Root | Layer::Backing => Fill::Grey(0.84),
                Layer::Hot => Fill::Grey(0.9),
                Layer::Fill | Layer::Single => Fill::Grey(0.94),
                Layer::Cap => Fill::Grey(0.98),
            };
            if !canvas.measures() {
                let points: Vec<Point> = spot.bead.polygon.iter().map(|at| times(*at, scale)).collect();
                canvas.polygon(&points, fill, outline);
            } else if let Some(bounds) = spot.bounds {
                canvas.rect(bounds.scaled(scale), fill, outline);
            }
        }
        number(canvas, &spots, scale, size, height);
    });
    canvas.finish(sketch.max_width, sketch.max_height)
}
