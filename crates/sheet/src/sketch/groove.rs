//! The prepared joint to scale: metal in section, backing, dimension lines.
//!
//! A preparation is a variant of [`Preparation`] and its flanks in `section.rs`; everything else follows from the
//! outline that comes from there. Sizes are drawn at the value given; the labels say what is dimensioned, so that a
//! range is drawn at its middle and labelled as the range.

use super::canvas::{Block, Canvas, Point, add, anchor_towards, dot, fit, room_of, sane, sub, times, unit};
use super::dimension::{Linear, Style, angular, leader, linear};
use super::drawing::{Drawing, Fill, Stroke, weight};
use super::section::{Geometry, Sizes};

/// How the members meet (ISO 17659, AWS A3.0).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum JointKind {
    /// In one plane.
    #[default]
    Butt,
    /// One stands on the other.
    Tee,
    /// One over the other.
    Lap,
    /// An angle; with a fillet the members touch at their inner edges, with a groove their outer faces are flush.
    Corner,
    /// Face to face, edges level.
    Edge,
}

/// How the edges are prepared (ISO 9692-1).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Preparation {
    /// Edges as cut, no groove: a fillet.
    #[default]
    None,
    /// Square edges.
    Square,
    /// Both edges bevelled.
    SingleV,
    /// Both edges bevelled from both sides.
    DoubleV,
    /// One edge bevelled.
    SingleBevel,
    /// One edge bevelled from both sides.
    DoubleBevel,
    /// Both edges hollowed.
    SingleU,
    /// Both edges hollowed from both sides.
    DoubleU,
    /// One edge hollowed.
    SingleJ,
    /// One edge hollowed from both sides.
    DoubleJ,
}

/// What is cut through.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Section {
    /// Plate.
    #[default]
    Plate,
    /// The wall of a pipe, with its centre line.
    Pipe {
        /// Outside diameter, mm.
        outside_diameter: f64,
    },
}

/// What holds the root (ISO 15609-1, AWS A3.0).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Backing {
    /// Nothing, or weld metal from the other side.
    #[default]
    None,
    /// A strip of metal that is fused to the root.
    Strip,
    /// Gas kept at the root by a channel, or by dams in a pipe.
    Gas,
    /// A ceramic bar with a hollow for the root.
    Ceramic,
    /// A bed of flux.
    Flux,
}

/// The size of a fillet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilletSize {
    /// Legs, mm: on the standing or upper member, and on the other.
    pub legs: [f64; 2],
    /// A fillet of the same size on the other side too.
    pub both_sides: bool,
}

impl FilletSize {
    /// A fillet of equal legs between members at right angles, from its throat in mm: a leg is the throat times √2.
    pub fn from_throat(throat: f64, both_sides: bool) -> Self {
        let leg = throat * std::f64::consts::SQRT_2;
        Self { legs: [leg, leg], both_sides }
    }
}

/// Where a run lies in the joint.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Layer {
    /// The root.
    Root,
    /// On the root.
    Hot,
    /// Between root and cap.
    #[default]
    Fill,
    /// The face: all of a side lie side by side.
    Cap,
    /// Put in from the other side, before or after the joint is filled.
    Backing,
    /// The only run of its side.
    Single,
}

/// A run as a bead in the joint.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RunBead {
    /// Number in the order of welding.
    pub label: String,
    /// Where it lies.
    pub layer: Layer,
    /// Its part of the joint area, as a share or as an area: only the proportion counts. Shared out by layer where absent.
    pub share: Option<f64>,
    /// Welded from the other side.
    pub second_side: bool,
}

/// The texts of the dimensions, ready to print; what is absent is not dimensioned.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct JointLabels {
    /// Thickness of the first (left, standing, upper) and of the second member.
    pub thickness: [Option<String>; 2],
    /// Outside diameter.
    pub diameter: Option<String>,
    /// Angle of the groove: included angle of V and U, bevel angle of bevel and J.
    pub angle: Option<String>,
    /// Gap at the root.
    pub gap: Option<String>,
    /// Depth of the root face.
    pub root_face: Option<String>,
    /// Radius of U and J.
    pub radius: Option<String>,
    /// Depth of the groove of a weld of partial penetration.
    pub depth: Option<String>,
    /// Legs of the fillet: on the first and on the second member.
    pub leg: [Option<String>; 2],
    /// Throat of the fillet.
    pub throat: Option<String>,
    /// What the backing is.
    pub backing: Option<String>,
}

/// A joint to be drawn. Lengths in mm, angles in degrees.
#[derive(Debug, Clone, PartialEq)]
pub struct JointSketch {
    /// How the members meet.
    pub joint: JointKind,
    /// How their edges are prepared.
    pub preparation: Preparation,
    /// Plate or pipe.
    pub section: Section,
    /// Thickness of the first (left, standing, upper) and of the second member.
    pub thickness: [f64; 2],
    /// Included angle of V and U, bevel angle of bevel and J.
    pub angle: f64,
    /// Gap at the root.
    pub gap: f64,
    /// Depth of the root face.
    pub root_face: f64,
    /// Radius at the root of U and J.
    pub radius: f64,
    /// Depth of the groove where the weld is of partial penetration.
    pub depth: Option<f64>,
    /// What holds the root.
    pub backing: Backing,
    /// The fillet, alone or on a groove of a tee joint.
    pub fillet: Option<FilletSize>,
    /// Height of the cap over the surface; a usual height where absent.
    pub reinforcement: Option<f64>,
    /// Depth of the root below the surface; a usual depth where absent.
    pub root_penetration: Option<f64>,
    /// The runs in the order of welding.
    pub runs: Vec<RunBead>,
    /// The texts of the dimensions.
    pub labels: JointLabels,
    /// Widest drawing, mm.
    pub max_width: f64,
    /// Highest drawing, mm.
    pub max_height: f64,
    /// Size of the type, pt.
    pub text_size: f64,
}

impl Default for JointSketch {
    fn default() -> Self {
        Self {
            joint: JointKind::Butt,
            preparation: Preparation::None,
            section: Section::Plate,
            thickness: [10.0, 10.0],
            angle: 60.0,
            gap: 0.0,
            root_face: 0.0,
            radius: 6.0,
            depth: None,
            backing: Backing::None,
            fillet: None,
            reinforcement: None,
            root_penetration: None,
            runs: Vec::new(),
            labels: JointLabels::default(),
            max_width: 80.0,
            max_height: 70.0,
            text_size: 8.0,
        }
    }
}

/// The prepared joint with its dimensions, at most as large as the sketch allows.
pub fn joint(sketch: &JointSketch) -> Drawing {
    let room = (sketch.max_width, sketch.max_height);
    let canvas = fit(room, 0.02, 14.0, |scale| build(sketch, scale));
    canvas.finish(alt(sketch), sketch.max_width, sketch.max_height)
}

/// A group of dimensions.
#[derive(Debug, Clone, Copy)]
enum Step {
    Angle,
    Thickness,
    RootFace,
    Gap,
    Radius,
    Legs,
    Throat,
    Backing,
}

/// What stands nearest to the metal is set first; which order leaves every text clear of every line depends on sizes.
const ORDERS: [[Step; 8]; 4] = {
    use Step::{Angle, Backing, Gap, Legs, Radius, RootFace, Thickness, Throat};
    [
        [Angle, Throat, Legs, Thickness, RootFace, Gap, Radius, Backing],
        [Angle, Throat, RootFace, Gap, Radius, Legs, Backing, Thickness],
        [Legs, Throat, Gap, Thickness, Radius, Backing, RootFace, Angle],
        [Radius, Backing, Gap, RootFace, Thickness, Angle, Legs, Throat],
    ]
};

fn build(sketch: &JointSketch, scale: f64) -> Canvas {
    let mut best: Option<(usize, Canvas)> = None;
    for spread in [1.0, 1.8, 3.0] {
        for order in ORDERS {
            let canvas = dimensioned(sketch, scale, &order, spread);
            let clashes = canvas.clashes();
            if clashes == 0 {
                return canvas;
            }
            if best.as_ref().is_none_or(|(least, _)| clashes < *least) {
                best = Some((clashes, canvas));
            }
        }
    }
    let mut canvas = best.map(|(_, canvas)| canvas).unwrap_or_default();
    canvas.break_lines();
    canvas
}

fn dimensioned(sketch: &JointSketch, scale: f64, order: &[Step], spread: f64) -> Canvas {
    let sizes = Sizes::of(sketch);
    // Room for the dimensions of a broken-off plate.
    let geometry = Geometry::new(&sizes, 7.0 / scale, 0.5);
    let mut canvas = Canvas::default();
    let place = |at: Point| geometry.on_paper(at, scale);
    let turn = |direction: Point| geometry.turn(direction);
    let size = sane(sketch.text_size, 4.0, 40.0, 8.0);
    let room = room_of(sketch.max_width);
    let style = Style { size, room: (room * 0.36).max(16.0), spread };
    let labels = &sketch.labels;

    backing(&mut canvas, &sizes, &geometry, scale);
    metal(&mut canvas, &geometry, scale, true);
    if sizes.is_fillet() {
        for region in &geometry.regions {
            let outline: Vec<Point> = region.outline().into_iter().map(place).collect();
            canvas.polygon(&outline, Fill::Grey(0.88), Some(Stroke::solid(weight::MEDIUM)));
        }
    }
    for step in order {
        match step {
            Step::Angle => angle(&mut canvas, sketch, &geometry, scale, style),
            Step::Thickness => {
                for (text, ends, away) in [
                    (&labels.thickness[1], geometry.thickness[1], geometry.thickness_away[1]),
                    (&labels.thickness[0], geometry.thickness[0], geometry.thickness_away[0]),
                ] {
                    let Some(text) = text else { continue };
                    outside(&mut canvas, (place(ends.0), place(ends.1)), turn(away), 4.0, false, text, style);
                }
            }
            Step::RootFace => {
                // From the edge of the groove through the metal to the outside.
                for (text, ends) in [(&labels.root_face, geometry.root_face), (&labels.depth, geometry.depth)] {
                    let (Some(text), Some((a, b))) = (text, ends) else { continue };
                    outside(&mut canvas, (place(a), place(b)), turn((-1.0, 0.0)), 3.5, true, text, style);
                }
            }
            Step::Gap => {
                let (Some(text), Some((a, b))) = (&labels.gap, geometry.gap) else { continue };
                outside(&mut canvas, (place(a), place(b)), turn((0.0, -1.0)), 4.0, false, text, style);
            }
            Step::Radius => {
                let (Some(text), Some((tip, centre))) = (&labels.radius, geometry.radius) else { continue };
                let out = unit(sub(place(tip), place(centre)));
                // Through the metal and out at the root side.
                let below = turn((0.0, -1.0));
                let depth = metal_reach(&geometry, below, scale) - dot(place(tip), below);
                let length = (depth + 4.0 * style.spread) / dot(out, below).max(0.35);
                leader(&mut canvas, place(tip), add(place(tip), times(out, length)), text, style);
            }
            Step::Legs => legs(&mut canvas, sketch, &geometry, scale, style),
            Step::Throat => throat(&mut canvas, sketch, &geometry, scale, style),
            Step::Backing => {
                let (Some(text), Some(at)) = (&labels.backing, geometry.backing_mark(&sizes)) else { continue };
                let tip = place(at);
                let below = turn((0.0, -1.0));
                let reach = metal_reach(&geometry, below, scale) - dot(tip, below);
                let lean = turn((-0.45, -1.0));
                leader(&mut canvas, tip, add(tip, times(unit(lean), reach.max(0.0) + 7.0 * style.spread)), text, style);
            }
        }
    }
    if let Section::Pipe { .. } = sketch.section {
        pipe(&mut canvas, sketch, &geometry, scale, style);
    }
    canvas
}

/// A dimension outside everything that is drawn so far.
fn outside(
    canvas: &mut Canvas,
    ends: (Point, Point),
    away: Point,
    distance: f64,
    dashed: bool,
    text: &str,
    style: Style,
) {
    let far = dot(ends.0, away).max(dot(ends.1, away));
    let offset = (canvas_reach(canvas, away) - far).max(0.0) + distance * style.spread;
    linear(canvas, Linear { ends, away, offset, dashed }, text, style);
}

/// How far the ink reaches in a direction along an axis of the paper.
fn canvas_reach(canvas: &Canvas, away: Point) -> f64 {
    let bounds = canvas.bounds();
    dot(
        (if away.0 > 0.0 { bounds.right } else { bounds.left }, if away.1 > 0.0 { bounds.bottom } else { bounds.top }),
        away,
    )
}

fn metal_reach(geometry: &Geometry, away: Point, scale: f64) -> f64 {
    geometry
        .members
        .iter()
        .take(1)
        .flat_map(|member| member.outline.iter())
        .map(|&at| dot(geometry.on_paper(at, scale), away))
        .fold(f64::NEG_INFINITY, f64::max)
}

/// Draws the members: hatch or white, edges heavy, broken ends as a fine wave.
pub(super) fn metal(canvas: &mut Canvas, geometry: &Geometry, scale: f64, hatch: bool) {
    for (index, member) in geometry.members.iter().enumerate() {
        let points: Vec<Point> = member.outline.iter().map(|&at| geometry.on_paper(at, scale)).collect();
        let mut ground: Vec<Point> = Vec::new();
        let mut waves = Vec::new();
        let mut runs: Vec<Vec<Point>> = vec![Vec::new()];
        for (edge, &from) in points.iter().enumerate() {
            let Some(&to) = points.get(edge + 1).or(points.first()) else { continue };
            if member.broken.contains(&edge) {
                let wave = wave(from, to);
                ground.extend(&wave);
                waves.push(wave);
                runs.push(Vec::new());
            } else {
                ground.push(from);
                if let Some(run) = runs.last_mut() {
                    if run.is_empty() {
                        run.push(from);
                    }
                    run.push(to);
                }
            }
        }
        // Members that touch are told apart by the spacing of their hatch (ISO 128-50).
        let spacing = if index == 0 { 1.5 } else { 2.1 };
        canvas.polygon(&ground, if hatch { Fill::Hatch(spacing) } else { Fill::White }, None);
        for wave in waves {
            canvas.polyline(&wave, Stroke::solid(weight::FINE));
        }
        // The run that comes after the last broken end goes on where the outline began.
        if member.broken.is_empty() {
            canvas.polygon(&points, Fill::None, Some(Stroke::solid(weight::HEAVY)));
            continue;
        }
        if runs.len() > 1
            && let Some(mut last) = runs.pop()
            && let Some(first) = runs.first_mut()
        {
            if last.is_empty() || first.is_empty() {
                last.append(first);
            } else {
                last.extend(first.iter().skip(1));
            }
            *first = last;
        }
        for run in runs.iter().filter(|run| run.len() > 1) {
            canvas.polyline(run, Stroke::solid(weight::HEAVY));
        }
    }
}

/// A broken end: two half waves between two points.
fn wave(from: Point, to: Point) -> Vec<Point> {
    let span = sub(to, from);
    let length = span.0.hypot(span.1);
    let side = unit((-span.1, span.0));
    let height = (length * 0.06).min(1.0);
    (0..=24)
        .map(|step| {
            let t = f64::from(step) / 24.0;
            add(add(from, times(span, t)), times(side, height * (t * std::f64::consts::TAU).sin()))
        })
        .collect()
}

/// Draws what holds the root.
pub(super) fn backing(canvas: &mut Canvas, sizes: &Sizes, geometry: &Geometry, scale: f64) {
    let Some((outline, hollow)) = geometry.backing(sizes) else { return };
    let on_paper = |points: &[Point]| points.iter().map(|&at| geometry.on_paper(at, scale)).collect::<Vec<_>>();
    let heavy = Some(Stroke::solid(weight::HEAVY));
    match sizes.backing {
        Backing::None => {}
        Backing::Strip => canvas.polygon(&on_paper(&outline), Fill::Hatch(0.9), heavy),
        Backing::Gas => canvas.polyline(&on_paper(&outline), Stroke::solid(weight::HEAVY)),
        Backing::Ceramic => {
            canvas.polygon(&on_paper(&outline), Fill::Grey(0.8), heavy);
            canvas.polygon(&on_paper(&hollow), Fill::White, Some(Stroke::solid(weight::MEDIUM)));
        }
        Backing::Flux => {
            canvas.polygon(&on_paper(&outline), Fill::Grey(0.9), Some(Stroke::dashed(weight::MEDIUM)));
        }
    }
}

fn angle(canvas: &mut Canvas, sketch: &JointSketch, geometry: &Geometry, scale: f64, style: Style) {
    let (Some(text), Some(faces)) = (&sketch.labels.angle, &geometry.faces) else { return };
    let [left, right] = faces.map(|(at, direction)| (geometry.on_paper(at, scale), unit(geometry.turn(direction))));
    // Where the two faces would meet.
    let cross = left.1.0 * right.1.1 - left.1.1 * right.1.0;
    if cross.abs() < 1e-3 {
        return;
    }
    let between = sub(right.0, left.0);
    let reach = (between.0 * right.1.1 - between.1 * right.1.0) / cross;
    let apex = add(left.0, times(left.1, reach));
    let far = |at: Point| sub(at, apex).0.hypot(sub(at, apex).1);
    let radius = far(left.0).max(far(right.0)) + 5.0 * style.spread;
    for (at, direction) in [left, right] {
        let start = far(at) + 0.8;
        canvas.line(
            add(apex, times(direction, start)),
            add(apex, times(direction, radius + 0.8)),
            Stroke::solid(weight::FINE),
        );
    }
    let degrees = |direction: Point| (-direction.1).atan2(direction.0).to_degrees();
    let (from, to) = (degrees(left.1), degrees(right.1));
    let sweep = (to - from + 540.0).rem_euclid(360.0) - 180.0;
    let ends = if sweep > 0.0 { (from, from + sweep) } else { (from + sweep, from) };
    angular(canvas, apex, radius, ends, text, style);
}

fn legs(canvas: &mut Canvas, sketch: &JointSketch, geometry: &Geometry, scale: f64, style: Style) {
    let Some(wedge) = &geometry.wedge else { return };
    let apex = geometry.on_paper(wedge.apex, scale);
    let toes = wedge.toes.map(|toe| geometry.on_paper(toe, scale));
    for (index, text) in sketch.labels.leg.iter().enumerate() {
        let (Some(text), Some(&toe), Some(&other)) = (text, toes.get(index), toes.get(1 - index)) else { continue };
        let away = unit(sub(other, apex));
        let reach = sub(other, apex);
        let offset = reach.0.hypot(reach.1) + 4.0 * style.spread;
        linear(canvas, Linear { ends: (apex, toe), away, offset, dashed: false }, text, style);
    }
}

fn throat(canvas: &mut Canvas, sketch: &JointSketch, geometry: &Geometry, scale: f64, style: Style) {
    let (Some(wedge), Some(text)) = (&geometry.wedge, &sketch.labels.throat) else { return };
    let apex = geometry.on_paper(wedge.apex, scale);
    let toes = wedge.toes.map(|toe| geometry.on_paper(toe, scale));
    let chord = unit(sub(toes[1], toes[0]));
    let foot = add(toes[0], times(chord, dot(sub(apex, toes[0]), chord)));
    let span = sub(foot, apex);
    let out = unit(span);
    if span.0.hypot(span.1) > 5.0 {
        canvas.line(apex, foot, Stroke::solid(weight::FINE));
        canvas.arrow_head(apex, times(out, -1.0));
        canvas.arrow_head(foot, out);
    } else {
        canvas.arrow_head(foot, times(out, -1.0));
    }
    let leg = sub(toes[0], apex);
    let end = add(foot, times(out, 0.45 * leg.0.hypot(leg.1) + 8.0 * style.spread));
    canvas.line(foot, end, Stroke::solid(weight::FINE));
    let level = if out.0 < 0.0 { (-1.0, 0.0) } else { (1.0, 0.0) };
    let push = canvas.text_beside(end, level, 4.0, text, style.size, style.room);
    if push > 0.0 {
        canvas.line(end, add(end, times(level, push)), Stroke::solid(weight::FINE));
    }
}

/// Draws the centre line and the diameter of a pipe, broken off: the diameter itself is not to scale.
fn pipe(canvas: &mut Canvas, sketch: &JointSketch, geometry: &Geometry, scale: f64, style: Style) {
    let inside = geometry.turn((0.0, -1.0));
    let along = geometry.turn(geometry.pipe_end);
    let surface = geometry.on_paper(geometry.pipe_surface, scale);
    let axis = canvas_reach(canvas, inside) + 5.0;
    let bounds = canvas.bounds();
    let beyond = canvas_reach(canvas, along) + 5.0;
    // The dimension line: from the outer surface past the centre line.
    let on_line = |level: f64| add(times(along, beyond), times(inside, level));
    let level = dot(surface, inside);
    let fine = Stroke::solid(weight::FINE);
    canvas.line(add(surface, times(along, 0.8)), add(on_line(level), times(along, 0.8)), fine);
    canvas.line(on_line(level), on_line(axis + 4.5), fine);
    canvas.arrow_head(on_line(level), times(inside, -1.0));
    let back = if along.0 + along.1 > 0.0 {
        dot((bounds.left, bounds.top), along)
    } else {
        dot((bounds.right, bounds.bottom), along)
    };
    chain(canvas, add(times(along, back), times(inside, axis)), add(on_line(axis), times(along, 3.0)));
    if let Some(text) = &sketch.labels.diameter {
        if along.1.abs() > 0.5 {
            canvas.text_beyond(on_line(f64::midpoint(level, axis)), along, text, style.size, style.room);
        } else {
            // Beyond the centre line, where it takes no width from the joint.
            let foot = on_line(axis + 0.5 * (Block::new(text, style.size, false, style.room).height() + 1.5));
            canvas.text_beyond(foot, times(along, -1.0), text, style.size, style.room);
        }
    }
    let start = add(times(along, back), times(inside, axis));
    let block = Block::new("pipe centre line", style.size * 0.9, false, style.room);
    let foot = add(start, times(along, block.width() / 2.0 * along.0.abs() + block.height() / 2.0 * along.1.abs()));
    if let Some((_, rect)) = canvas.free_place(&block, foot, inside, 0.0) {
        canvas.set(&block, rect, anchor_towards(inside), false);
    }
}

/// A centre line: long dashes and dots.
pub(super) fn chain(canvas: &mut Canvas, from: Point, to: Point) {
    let span = sub(to, from);
    let length = span.0.hypot(span.1).min(2000.0);
    let along = unit(span);
    let mut at = 0.0;
    while at < length {
        let dash = (at + 6.0).min(length);
        canvas.line(add(from, times(along, at)), add(from, times(along, dash)), Stroke::solid(weight::FINE));
        if dash + 1.8 < length {
            canvas.line(
                add(from, times(along, dash + 1.0)),
                add(from, times(along, dash + 1.5)),
                Stroke::solid(weight::FINE),
            );
        }
        at = dash + 2.5;
    }
}

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

impl Preparation {
    /// The words for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::None => "unprepared",
            Self::Square => "square",
            Self::SingleV => "single-V",
            Self::DoubleV => "double-V",
            Self::SingleBevel => "single-bevel",
            Self::DoubleBevel => "double-bevel",
            Self::SingleU => "single-U",
            Self::DoubleU => "double-U",
            Self::SingleJ => "single-J",
            Self::DoubleJ => "double-J",
        }
    }

    /// Whether it is welded from both sides.
    pub const fn is_double(self) -> bool {
        matches!(self, Self::DoubleV | Self::DoubleBevel | Self::DoubleU | Self::DoubleJ)
    }
}

/// What kind of weld in what: "single-V butt joint in pipe".
pub(super) fn what(sketch: &JointSketch) -> String {
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

fn alt(sketch: &JointSketch) -> String {
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
