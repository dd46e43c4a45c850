//! The welding symbol of the joint: ISO 2553, system A with its dashed line, or AWS A2.4.
//!
//! In ISO 2553 system A a symbol on the solid line stands for the arrow side and one on the dashed line for the other
//! side; a weld that is the same on both sides needs no dashed line. In AWS A2.4 the arrow side is under the line. A
//! further elementary symbol is a variant of [`Elementary`] and its strokes in `strokes`.

use std::f64::consts::FRAC_1_SQRT_2;

use seamwright_model::procedure::Contour;

use crate::block::Block;
use crate::canvas::{Canvas, sane};
use crate::drawing::{
    Anchor, Drawing, Fill, Segment, Stroke,
    line::{FINE, MEDIUM},
};
use crate::fit::fit_clear;
use crate::path::arc;
use crate::point::Point;
use crate::text::{POINT, Rect, width};

/// The standard that the symbol follows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum SymbolStandard {
    /// ISO 2553, system A.
    #[default]
    Iso2553A,
    /// AWS A2.4.
    AwsA24,
}

/// An elementary symbol.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Elementary {
    /// Fillet weld.
    Fillet,
    /// Square butt or groove weld.
    Square,
    /// Single-V.
    V,
    /// Single-bevel.
    Bevel,
    /// Single-U.
    U,
    /// Single-J.
    J,
    /// Edge weld.
    Edge,
    /// Backing run or back weld: a half round.
    BackingRun,
    /// Backing: a rectangle, with a letter where one is given as `inside`.
    Backing,
    /// Flare-V: between two rounded members.
    FlareV,
    /// Flare-bevel: between a rounded member and a flat one.
    FlareBevel,
    /// Plug weld.
    Plug,
    /// Spot weld made with an arc from one side.
    Spot,
    /// Root that stands through: melt-through.
    RootReinforcement,
    /// Surfacing.
    Surfacing,
}

/// What stands on one side of the reference line.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SideSymbol {
    /// The elementary symbol.
    pub weld: Elementary,
    /// The size, to the left of the symbol: "z6", "a4", "s8" (ISO), "1/4" (AWS).
    pub size: Option<String>,
    /// The length, to the right of the symbol.
    pub length: Option<String>,
    /// The root gap, within the symbol or next to it.
    pub gap: Option<String>,
    /// The angle of the groove, beyond the gap.
    pub angle: Option<String>,
    /// A letter inside the rectangle of a backing.
    pub inside: Option<String>,
    /// The fillet on a groove, by its size: it stands beyond the symbol of the groove.
    pub fillet: Option<String>,
    /// The shape of the face: beyond the angle, and along the face of a fillet.
    pub contour: Option<Contour>,
}

impl SideSymbol {
    /// A bare symbol.
    pub const fn new(weld: Elementary) -> Self {
        Self { weld, size: None, length: None, gap: None, angle: None, inside: None, fillet: None, contour: None }
    }
}

/// A welding symbol to be drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct SymbolSketch {
    /// The standard.
    pub standard: SymbolStandard,
    /// On the side of the arrow.
    pub arrow_side: Option<SideSymbol>,
    /// On the other side.
    pub other_side: Option<SideSymbol>,
    /// Welded all around.
    pub all_around: bool,
    /// Made on site.
    pub site: bool,
    /// What stands in the tail: the process, the procedure.
    pub tail: Option<String>,
    /// Widest drawing, mm.
    pub max_width: f64,
    /// Highest drawing, mm.
    pub max_height: f64,
    /// Size of the type, pt.
    pub text_size: f64,
}

impl Default for SymbolSketch {
    fn default() -> Self {
        Self {
            standard: SymbolStandard::Iso2553A,
            arrow_side: None,
            other_side: None,
            all_around: false,
            site: false,
            tail: None,
            max_width: 70.0,
            max_height: 40.0,
            text_size: 8.0,
        }
    }
}

/// Half the width of a symbol in parts of its height.
const fn half_width(weld: Elementary) -> f64 {
    match weld {
        Elementary::Square | Elementary::Edge => 0.22,
        Elementary::FlareV => 0.75,
        _ => 0.5,
    }
}

/// An arc of a symbol: centre, radius, from which heading to which, degrees counter-clockwise from the right.
type Arc = (Point, f64, f64, f64);

/// Strokes of a symbol: x from its middle, y away from the line, in parts of its height. Arcs are those
/// of a symbol that stands on the line.
fn strokes(weld: Elementary) -> (Vec<Vec<Point>>, Vec<Arc>) {
    match weld {
        // The upright leg is on the left, whichever side the symbol is on.
        Elementary::Fillet => (vec![vec![(-0.5, 0.0), (-0.5, 1.0), (0.5, 0.0)]], Vec::new()),
        Elementary::Square => (vec![vec![(-0.2, 0.0), (-0.2, 1.0)], vec![(0.2, 0.0), (0.2, 1.0)]], Vec::new()),
        Elementary::V => (vec![vec![(-0.5, 0.9), (0.0, 0.0), (0.5, 0.9)]], Vec::new()),
        Elementary::Bevel => (vec![vec![(-0.35, 0.0), (-0.35, 0.95)], vec![(-0.35, 0.0), (0.5, 0.9)]], Vec::new()),
        Elementary::U => (vec![vec![(0.0, 0.0), (0.0, 0.4)]], vec![((0.0, 0.9), 0.5, 180.0, 360.0)]),
        Elementary::J => (vec![vec![(-0.3, 0.0), (-0.3, 0.95)]], vec![((-0.3, 0.9), 0.55, 270.0, 360.0)]),
        Elementary::Edge => (
            vec![vec![(-0.2, 0.0), (-0.2, 1.0)], vec![(0.0, 0.0), (0.0, 1.0)], vec![(0.2, 0.0), (0.2, 1.0)]],
            Vec::new(),
        ),
        Elementary::BackingRun => (Vec::new(), vec![((0.0, 0.0), 0.45, 0.0, 180.0)]),
        Elementary::Backing | Elementary::Plug => {
            (vec![vec![(-0.5, 0.0), (-0.5, 0.65), (0.5, 0.65), (0.5, 0.0)]], Vec::new())
        }
        // Quarters of the two members, or of one beside the flat one.
        Elementary::FlareV => (Vec::new(), vec![((-0.75, 0.0), 0.72, 0.0, 90.0), ((0.75, 0.0), 0.72, 90.0, 180.0)]),
        Elementary::FlareBevel => (vec![vec![(-0.35, 0.0), (-0.35, 0.95)]], vec![((0.5, 0.0), 0.72, 90.0, 180.0)]),
        Elementary::Spot => (Vec::new(), vec![((0.0, 0.5), 0.5, 0.0, 360.0)]),
        Elementary::RootReinforcement => (Vec::new(), vec![((0.0, 0.0), 0.45, 0.0, 180.0)]),
        Elementary::Surfacing => (Vec::new(), vec![((-0.3, 0.0), 0.3, 0.0, 180.0), ((0.3, 0.0), 0.3, 0.0, 180.0)]),
    }
}

/// The welding symbol, at most as large as the sketch allows.
pub fn symbol(sketch: &SymbolSketch) -> Drawing {
    let size = sane(sketch.text_size, 4.0, 40.0, 8.0);
    let canvas = fit_clear((sketch.max_width, sketch.max_height), 0.4, 1.0, |scale| {
        let mut canvas = Canvas::default();
        // The symbol is a little higher than a figure, as in ISO 2553 and AWS A2.4.
        let height = size * POINT * 1.9 * scale.max(0.7);
        let iso = sketch.standard == SymbolStandard::Iso2553A;
        let symmetric = sketch.arrow_side == sketch.other_side;
        let dashed = iso && !symmetric;
        let sides =
            [(&sketch.arrow_side, if iso { 1.0 } else { -1.0 }), (&sketch.other_side, if iso { -1.0 } else { 1.0 })];
        // Room for the texts to the left and to the right of the symbols.
        let text = |text: &Option<String>| text.as_deref().map_or(0.0, |text| width(text, size, false));
        let left = sides
            .iter()
            .filter_map(|(side, _)| side.as_ref())
            .map(|side| text(&side.size).max(text(&side.fillet)) + wider(side, height, size))
            .fold(0.0, f64::max);
        let right = sides
            .iter()
            .filter_map(|(side, _)| side.as_ref())
            .map(|side| text(&side.length) + wider(side, height, size))
            .fold(0.0, f64::max);
        let start = 0.0;
        let beyond = sides
            .iter()
            .filter_map(|(side, _)| side.as_ref())
            .map(|side| text(&side.gap).max(text(&side.angle)) / 2.0 + 0.6)
            .fold(0.0, f64::max);
        let centre = start + (4.0 + left + 1.2 + height * 0.6).max(beyond + 1.0);
        let end = centre + (height * 0.6 + 1.2 + right + 3.0).max(beyond);
        canvas.line((start, 0.0), (end, 0.0), MEDIUM);
        let second = 1.5;
        if dashed {
            canvas.line((start, second), (end, second), Stroke { dash: Some((2.0, 1.1)), ..MEDIUM });
        }
        for (side, up) in sides {
            let Some(side) = side else { continue };
            let base = if dashed && up < 0.0 { second } else { 0.0 };
            one_side(&mut canvas, side, (centre, base), up, height, size);
        }
        // The arrow, bent towards the member that is prepared where only one is.
        let one_prepared = [&sketch.arrow_side, &sketch.other_side].into_iter().any(|side| {
            side.as_ref()
                .is_some_and(|side| matches!(side.weld, Elementary::Bevel | Elementary::J | Elementary::FlareBevel))
        });
        let reach = height * 2.0 + 3.0;
        let tip = (start - reach, reach);
        if one_prepared {
            let (a, b) = ((start - reach * 0.55, reach * 0.3), (start - reach * 0.45, reach * 0.62));
            canvas.polyline(&[(start, 0.0), a, b], MEDIUM);
            canvas.arrow(b, tip, MEDIUM, 2.4);
        } else {
            canvas.arrow((start, 0.0), tip, MEDIUM, 2.4);
        }
        if sketch.all_around {
            canvas.circle((start, 0.0), height * 0.24, Fill::None, Some(MEDIUM));
        }
        if sketch.site {
            canvas.line((start, 0.0), (start, -height * 1.9), MEDIUM);
            canvas.polygon(
                &[(start, -height * 1.9), (start + height * 0.8, -height * 1.55), (start, -height * 1.2)],
                Fill::Black,
                None,
            );
        }
        if let Some(text) = &sketch.tail {
            let fork = height * 0.55;
            canvas.polyline(&[(end + fork, -fork), (end, 0.0), (end + fork, fork)], FINE);
            canvas.text_beyond((end + fork * 0.8, 0.0), (1.0, 0.0), text, size, 32.0);
        }
        canvas
    });
    canvas.finish(sketch.max_width, sketch.max_height)
}

/// How much wider than usual a rectangle is to each side, mm, for the letter in it.
fn wider(side: &SideSymbol, height: f64, size: f64) -> f64 {
    let letter = side.inside.as_deref().map_or(0.0, |text| width(text, size, false) + 1.2);
    ((letter - height) / 2.0).max(0.0)
}

/// Draws a symbol with its texts; `up` is 1 above its line and -1 under it.
fn one_side(canvas: &mut Canvas, side: &SideSymbol, (x, base): Point, up: f64, height: f64, size: f64) {
    let wider = wider(side, height, size);
    let at = |point: &Point| (x + point.0 * (height + 2.0 * wider), base - up * point.1 * height);
    let (lines, arcs) = strokes(side.weld);
    for line in lines {
        canvas.polyline(&line.iter().map(at).collect::<Vec<_>>(), MEDIUM);
    }
    for (centre, radius, from, to) in arcs {
        let (from, to) = if up > 0.0 { (from, to) } else { (-from, -to) };
        let segments: Vec<Segment> = arc(at(&centre), radius * height, from, to);
        // Filled in, it is the root that stands through.
        let fill = if side.weld == Elementary::RootReinforcement { Fill::Black } else { Fill::None };
        canvas.path(segments, fill, Some(MEDIUM));
    }
    let em = size * POINT;
    let half = half_width(side.weld) * height + wider;
    let level = base - up * height * 0.5;
    let block = |text: &str| Block::new(text, size, false, 60.0);
    if let Some(text) = &side.size {
        let block = block(text);
        let rect = block.at(x - half - 1.2 - block.width(), level - em * 0.5);
        canvas.set(&block, rect, Anchor::End, false);
    }
    if let Some(text) = &side.length {
        let block = block(text);
        let rect = block.at(x + half + 1.2, level - em * 0.5);
        canvas.set(&block, rect, Anchor::Start, false);
    }
    if let Some(text) = &side.inside {
        let small = Block::new(text, size, false, 60.0);
        let middle = base - up * height * 0.325;
        let rect = small.at(x - small.width() / 2.0, middle - em * 0.5);
        canvas.set(&small, rect, Anchor::Middle, false);
    }
    let mut from = base - up * height;
    if let Some(size_of_fillet) = &side.fillet {
        // A combined weld: its symbols stand one beyond the other, from the line outwards.
        let contour = side.contour;
        let fillet = SideSymbol { size: Some(size_of_fillet.clone()), contour, ..SideSymbol::new(Elementary::Fillet) };
        one_side(canvas, &fillet, (x, from - up * 0.4), up, height, size);
        from -= up * (height + 0.4);
    }
    // Gap and angle stand beyond the opening of the symbol, the gap next to it.
    for text in [&side.gap, &side.angle].into_iter().flatten() {
        let block = block(text);
        let top = if up > 0.0 { from - 0.4 - block.height() } else { from + 0.4 };
        let rect: Rect = block.at(x - block.width() / 2.0, top);
        canvas.set(&block, rect, Anchor::Middle, false);
        from = if up > 0.0 { rect.top } else { rect.bottom };
    }
    if let Some(contour) = side.contour.filter(|_| side.fillet.is_none()) {
        let slope = FRAC_1_SQRT_2;
        let axes = if side.weld == Elementary::Fillet {
            // Beside the middle of the slope, along it.
            [at(&(0.22, 0.72)), (slope, up * slope), (slope, -up * slope)]
        } else {
            [(x, from - up * height * 0.3), (1.0, 0.0), (0.0, -up)]
        };
        face(canvas, contour, axes, height);
    }
}

/// The shape of a face about its middle, along a direction; what bulges does so outwards.
fn face(canvas: &mut Canvas, contour: Contour, [middle, along, out]: [Point; 3], height: f64) {
    let bulge = match contour {
        Contour::Flush => 0.0,
        Contour::Convex => 0.25,
        Contour::Concave => -0.25,
    };
    let points = (-4..=4).map(|step: i32| {
        let part = f64::from(step) / 4.0;
        let (reach, rise) = (part * 0.4 * height, (1.0 - part * part) * bulge * height);
        (middle.0 + along.0 * reach + out.0 * rise, middle.1 + along.1 * reach + out.1 * rise)
    });
    canvas.polyline(&points.collect::<Vec<_>>(), MEDIUM);
}

#[cfg(test)]
mod tests;
