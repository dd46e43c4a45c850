//! Welding positions (ISO 6947): the joint as it stands, where the arc comes from, which way the seam grows, and
//! which way is down.

use seamwright_model::procedure::Preparation;

use super::torch::left_of;
use crate::canvas::{Canvas, sane};
use crate::drawing::{
    Anchor, Drawing, Fill, Label, Stroke,
    line::{FINE, HEAVY, MEDIUM},
    weight,
};
use crate::fit::fit_clear;
use crate::point::{Point, add, heading, times};
use crate::text::Rect;

/// A welding position of ISO 6947.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Position {
    /// Flat.
    Pa,
    /// Horizontal vertical.
    Pb,
    /// Horizontal.
    Pc,
    /// Horizontal overhead.
    Pd,
    /// Overhead.
    Pe,
    /// Vertical up.
    Pf,
    /// Vertical down.
    Pg,
    /// Pipe, vertical up.
    Ph,
    /// Pipe, vertical down.
    Pj,
    /// Pipe, all around without a stop (orbital).
    Pk,
    /// Pipe at 45°, upwards.
    Hl045,
    /// Pipe at 45°, downwards.
    Jl045,
    /// Pipe at 45°, all around without a stop (orbital).
    Kl045,
}

impl Position {
    /// The position with a symbol of ISO 6947, such as `PA` or `H-L045`; none for another text.
    pub fn of(symbol: &str) -> Option<Self> {
        Some(match symbol {
            "PA" => Self::Pa,
            "PB" => Self::Pb,
            "PC" => Self::Pc,
            "PD" => Self::Pd,
            "PE" => Self::Pe,
            "PF" => Self::Pf,
            "PG" => Self::Pg,
            "PH" => Self::Ph,
            "PJ" => Self::Pj,
            "H-L045" => Self::Hl045,
            "J-L045" => Self::Jl045,
            "PK" => Self::Pk,
            "K-L045" => Self::Kl045,
            _ => return None,
        })
    }
}

/// The sides of a member that have a fillet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sides {
    /// That of the arc.
    One,
    /// That of the arc and the other.
    Both,
}

/// A position to be drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct PositionSketch {
    /// The position.
    pub position: Position,
    /// A pipe where the position allows both (PA is then a turning pipe, PC a pipe with its axis upright).
    pub pipe: bool,
    /// A fillet where the position allows both.
    pub fillet: bool,
    /// How the edges are prepared, where the weld is a groove.
    pub preparation: Preparation,
    /// One member lies on the other: a lap joint.
    pub lap: bool,
    /// Where fillets are, as far as the section shows it.
    pub sides: Sides,
    /// The symbol to print, such as "PF" or "3G".
    pub label: Option<String>,
    /// Widest drawing, mm.
    pub max_width: f64,
    /// Highest drawing, mm.
    pub max_height: f64,
    /// Size of the type, pt.
    pub text_size: f64,
}

impl Default for PositionSketch {
    fn default() -> Self {
        Self {
            position: Position::Pa,
            pipe: false,
            fillet: false,
            preparation: Preparation::SingleV,
            lap: false,
            sides: Sides::One,
            label: None,
            max_width: 40.0,
            max_height: 34.0,
            text_size: 8.0,
        }
    }
}

/// The electrode: a slim bar with its tip at a point, coming from a heading.
fn electrode(canvas: &mut Canvas, tip: Point, from: f64, scale: f64) {
    let along = heading(from);
    let side = times(left_of(along), 0.9 * scale);
    let (near, far) = (add(tip, times(along, 2.6 * scale)), add(tip, times(along, 13.0 * scale)));
    canvas.polygon(
        &[tip, add(near, side), add(far, side), add(far, times(side, -1.0)), add(near, times(side, -1.0))],
        Fill::White,
        Some(MEDIUM),
    );
}

/// The position, as a joint with its electrode, the direction of travel and the pull of gravity.
pub fn position(sketch: &PositionSketch) -> Drawing {
    let size = sane(sketch.text_size, 4.0, 40.0, 8.0);
    let canvas = fit_clear((sketch.max_width, sketch.max_height), 0.2, 2.0, |scale| {
        let mut canvas = Canvas::default();
        let at = |x: f64, y: f64| (x * scale, y * scale);
        let rect = |left: f64, top: f64, right: f64, bottom: f64| Rect {
            left: left * scale,
            top: top * scale,
            right: right * scale,
            bottom: bottom * scale,
        };
        let metal = Fill::Hatch(1.5);
        let weld = Fill::Grey(0.6);
        // A small picture has no room for the hours.
        let hours: &[f64] = if sketch.max_height < 30.0 { &[] } else { &[90.0, -90.0] };
        match sketch.position {
            Position::Pa if sketch.pipe => {
                pipe_end(&mut canvas, scale);
                electrode(&mut canvas, at(0.0, -11.0), 90.0, scale);
                // The pipe turns under the arc.
                canvas.arc(at(0.0, 0.0), 14.0 * scale, 200.0, 150.0, MEDIUM);
                canvas.arrow_head_of(times(heading(200.0), 14.0 * scale), heading(290.0), 2.4);
            }
            Position::Pa if sketch.fillet => {
                // In the trough, the face of the fillet lies level.
                for side in [-1.0, 1.0] {
                    let along = heading(90.0 - side * 45.0);
                    let under = times(left_of(along), -side * 4.0 * scale);
                    let (near, far) = (at(0.0, 6.0), add(at(0.0, 6.0), times(along, 19.0 * scale)));
                    canvas.polygon(&[near, far, add(far, under), add(near, under)], metal, Some(HEAVY));
                }
                canvas.polygon(&[at(0.0, 6.0), at(-4.0, 2.0), at(4.0, 2.0)], weld, Some(MEDIUM));
                electrode(&mut canvas, at(0.0, 1.0), 90.0, scale);
            }
            Position::Pa | Position::Pe => {
                let up = if sketch.position == Position::Pa { 1.0 } else { -1.0 };
                groove(&mut canvas, sketch.preparation, 17.0, |across, depth| at(across, depth * up));
                electrode(&mut canvas, at(0.0, -4.0 * up), 90.0 * up, scale);
            }
            Position::Pb | Position::Pd => {
                let up = if sketch.position == Position::Pb { 1.0 } else { -1.0 };
                let y = |value: f64| value * up;
                let tall = |left: f64, a: f64, right: f64, b: f64| rect(left, y(a).min(y(b)), right, y(a).max(y(b)));
                canvas.rect(tall(-13.0, 4.0, 17.0, 9.0), metal, Some(HEAVY));
                // The other member stands on it, or lies over it.
                let (left, top) = match (sketch.lap, sketch.sides) {
                    (true, Sides::Both) => (-21.0, -1.0),
                    (true, Sides::One) => (-17.0, -1.0),
                    (false, _) => (-3.0, -12.0),
                };
                canvas.rect(tall(left, top, 2.0, 4.0), Fill::Hatch(2.1), Some(HEAVY));
                canvas.polygon(&[at(2.0, y(4.0)), at(2.0, y(-1.0)), at(7.0, y(4.0))], weld, Some(MEDIUM));
                if sketch.sides == Sides::Both {
                    let (foot, out, away) = if sketch.lap { (-13.0, 9.0, 4.0) } else { (-3.0, -1.0, 4.0) };
                    let other = [at(foot, y(4.0)), at(foot, y(out)), at(foot - 5.0, y(away))];
                    canvas.polygon(&other, weld, Some(MEDIUM));
                }
                electrode(&mut canvas, at(5.2, y(0.8)), 45.0 * up, scale);
            }
            Position::Pc if sketch.pipe => {
                canvas.rect(rect(-8.0, -14.0, 8.0, 14.0), Fill::White, None);
                for x in [-8.0, 8.0] {
                    canvas.line(at(x, -14.0), at(x, 14.0), HEAVY);
                }
                for end in [-14.0, 14.0] {
                    canvas.line(at(-8.0, end), at(8.0, end), FINE);
                }
                canvas.rect(rect(-8.6, -1.2, 8.6, 1.2), weld, Some(MEDIUM));
                electrode(&mut canvas, at(9.8, 0.0), 0.0, scale);
            }
            Position::Pc => {
                // A bevel is on the upper member: the lower one is the shelf.
                groove(&mut canvas, sketch.preparation, 14.0, |across, depth| at(-depth, -across));
                electrode(&mut canvas, at(4.0, 0.0), 0.0, scale);
            }
            Position::Pf | Position::Pg => {
                let up = sketch.position == Position::Pf;
                canvas.rect(rect(-14.0, -14.0, 0.0, 14.0), Fill::White, Some(HEAVY));
                canvas.rect(rect(0.0, -14.0, 14.0, 14.0), Fill::White, Some(HEAVY));
                let (from, to) = if up { (0.0, 14.0) } else { (-14.0, 0.0) };
                if sketch.fillet && !sketch.lap {
                    // The standing member is seen on its edge.
                    canvas.rect(rect(-4.6, -14.0, -1.4, 14.0), metal, Some(HEAVY));
                }
                canvas.rect(rect(-1.4, from, 1.4, to), weld, Some(MEDIUM));
                electrode(&mut canvas, at(0.0, 0.0), -35.0, scale);
                let (start, end) = if up { (6.0, -8.0) } else { (-6.0, 8.0) };
                canvas.arrow(at(-8.0, start), at(-8.0, end), MEDIUM, 2.4);
            }
            Position::Pk => {
                pipe_end(&mut canvas, scale);
                canvas.arc(at(0.0, 0.0), 12.6 * scale, 70.0, -250.0, MEDIUM);
                canvas.arrow_head_of(times(heading(-252.0), 12.6 * scale), heading(20.0), 2.4);
                electrode(&mut canvas, times(heading(90.0), 11.2 * scale), 90.0, scale);
                clock(&mut canvas, scale, size, hours.get(1..).unwrap_or_default());
            }
            Position::Ph | Position::Pj => {
                pipe_end(&mut canvas, scale);
                clock(&mut canvas, scale, size, hours);
                let up = sketch.position == Position::Ph;
                around(&mut canvas, scale, up);
                let from = if up { -60.0 } else { 60.0 };
                electrode(&mut canvas, times(heading(from), 11.2 * scale), from, scale);
            }
            Position::Hl045 | Position::Jl045 | Position::Kl045 => {
                let along = heading(45.0);
                let across = left_of(along);
                let place = |a: f64, b: f64| add(times(along, a * scale), times(across, b * scale));
                canvas.polygon(
                    &[place(-17.0, -7.0), place(17.0, -7.0), place(17.0, 7.0), place(-17.0, 7.0)],
                    Fill::White,
                    None,
                );
                for b in [-7.0, 7.0] {
                    canvas.line(place(-17.0, b), place(17.0, b), HEAVY);
                }
                for a in [-17.0, 17.0] {
                    canvas.line(place(a, -7.0), place(a, 7.0), FINE);
                }
                canvas.polygon(
                    &[place(-1.2, -7.6), place(1.2, -7.6), place(1.2, 7.6), place(-1.2, 7.6)],
                    weld,
                    Some(MEDIUM),
                );
                // Along the ring, on the face that is seen.
                let up = sketch.position != Position::Jl045;
                let (from, to) = if up { (-5.5, 5.5) } else { (5.5, -5.5) };
                canvas.arrow(place(4.0, from), place(4.0, to), MEDIUM, 2.4);
                if sketch.position == Position::Kl045 {
                    // On round the side that is not seen.
                    canvas.arrow(place(-4.0, to), place(-4.0, from), Stroke::dashed(weight::MEDIUM), 2.4);
                }
                let corner = place(-17.0, -7.0);
                canvas.line(corner, add(corner, at(17.0, 0.0)), FINE);
                canvas.arc(corner, 10.0 * scale, 0.0, 45.0, FINE);
                canvas.text_beyond(add(corner, times(heading(22.0), 10.0 * scale)), (1.0, 0.0), "45°", size, 30.0);
            }
        }
        gravity(&mut canvas, size);
        if let Some(text) = &sketch.label {
            let bounds = canvas.bounds();
            let size = size * 1.25;
            canvas.label(Label {
                at: (f64::midpoint(bounds.left, bounds.right), bounds.bottom + size * 0.42),
                text: text.clone(),
                size,
                anchor: Anchor::Middle,
                bold: true,
                ground: false,
            });
        }
        canvas
    });
    canvas.finish(sketch.max_width, sketch.max_height)
}

/// A groove in section: `place` puts a point across the seam (to the first member, to the second) and from the face at
/// -2.5 to the root at 2.5.
fn groove(canvas: &mut Canvas, preparation: Preparation, end: f64, place: impl Fn(f64, f64) -> Point) {
    use Preparation::{
        DoubleBevel, DoubleJ, DoubleU, DoubleV, FlareBevel, FlareV, SingleBevel, SingleJ, SingleU, SingleV, Square,
    };
    // Half the opening and its depth, from the root to the face.
    let flank: &[(f64, f64)] = match preparation {
        Square => &[(0.6, 2.5), (0.6, -2.5)],
        SingleV | SingleBevel => &[(0.6, 2.5), (3.0, -2.5)],
        DoubleV | DoubleBevel => &[(2.4, 2.5), (0.5, 0.0), (2.4, -2.5)],
        FlareV | FlareBevel => &[(0.2, 2.5), (0.3, 1.5), (0.6, 0.5), (1.2, -0.5), (2.2, -1.5), (3.4, -2.5)],
        SingleU | SingleJ => &[(0.5, 2.5), (0.5, 1.6), (1.7, 0.9), (2.4, -0.4), (2.8, -2.5)],
        DoubleU | DoubleJ => &[(2.3, 2.5), (1.9, 1.0), (0.5, 0.4), (0.5, -0.4), (1.9, -1.0), (2.3, -2.5)],
    };
    let plain: &[(f64, f64)] = &[(0.6, 2.5), (0.6, -2.5)];
    let one = matches!(preparation, SingleBevel | DoubleBevel | SingleJ | DoubleJ | FlareBevel);
    let sides = [(-1.0, if one { plain } else { flank }), (1.0, flank)];
    let edge = |(side, flank): (f64, &[(f64, f64)])| -> Vec<Point> {
        flank.iter().map(|&(across, depth)| place(side * across, depth)).collect()
    };
    let [left, right] = sides.map(edge);
    for (side, own) in [(-1.0, &left), (1.0, &right)] {
        let outline: Vec<Point> =
            own.iter().copied().chain([place(side * end, -2.5), place(side * end, 2.5)]).collect();
        canvas.polygon(&outline, Fill::Hatch(1.5), Some(HEAVY));
    }
    let filled: Vec<Point> = left.into_iter().chain(right.into_iter().rev()).collect();
    canvas.polygon(&filled, Fill::Grey(0.6), Some(MEDIUM));
}

/// Places on a fixed pipe as on the face of a clock (ISO 6947, annex A, common practice).
fn clock(canvas: &mut Canvas, scale: f64, size: f64, headings: &[f64]) {
    for &at in headings {
        let (along, hour) = (heading(at), if at > 0.0 { "12" } else { "6" });
        canvas.text_beyond(times(along, 10.4 * scale), along, hour, size * 0.9, 20.0);
    }
}

/// A pipe seen along its axis.
fn pipe_end(canvas: &mut Canvas, scale: f64) {
    canvas.circle((0.0, 0.0), 10.0 * scale, Fill::White, Some(HEAVY));
    canvas.circle((0.0, 0.0), 7.5 * scale, Fill::White, Some(MEDIUM));
    canvas.line((-2.0 * scale, 0.0), (2.0 * scale, 0.0), FINE);
    canvas.line((0.0, -2.0 * scale), (0.0, 2.0 * scale), FINE);
}

/// Arrows up or down both sides of a pipe.
fn around(canvas: &mut Canvas, scale: f64, up: bool) {
    let radius = 12.6 * scale;
    for side in [-1.0, 1.0] {
        // From near the start at the bottom or top to the other end.
        let (from, to): (f64, f64) = if up { (-15.0, 62.0) } else { (15.0, -62.0) };
        let (from, to) = if side > 0.0 { (from, to) } else { (180.0 - from, 180.0 - to) };
        canvas.arc((0.0, 0.0), radius, from, to, MEDIUM);
        let turn = if to > from { 90.0 } else { -90.0 };
        canvas.arrow_head_of(times(heading(to + turn * 0.09), radius), heading(to + turn), 2.4);
    }
}

/// The pull of gravity, at the right of the drawing.
fn gravity(canvas: &mut Canvas, size: f64) {
    let bounds = canvas.bounds();
    let x = bounds.right + 4.0;
    let middle = f64::midpoint(bounds.top, bounds.bottom);
    let half = (bounds.height() * 0.22).clamp(3.0, 8.0);
    canvas.arrow((x, middle - half), (x, middle + half), HEAVY, 2.8);
    canvas.text_beyond((x, middle - half), (0.0, -1.0), "g", size, 20.0);
}
