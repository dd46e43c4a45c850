//! How large a sketch is drawn: [`fit`] finds the largest scale at which it fits its room.

use crate::canvas::{Canvas, MARGIN, room_of};
use crate::path::HAIR;
use crate::text::Rect;

/// Whether the ink fits the room.
pub(crate) fn is_within(canvas: &Canvas, room: (f64, f64)) -> bool {
    let bounds = canvas.bounds().grown(MARGIN);
    bounds.width() <= room_of(room.0) && bounds.height() <= room_of(room.1)
}

/// Builds a sketch at the largest scale between `low` and `high` (paper mm for a mm of the thing) that fits the room;
/// gives the scale, too.
pub(crate) fn fit(room: (f64, f64), low: f64, high: f64, build: impl Fn(f64) -> Canvas) -> (f64, Canvas) {
    largest(room, low, high, |scale| {
        let canvas = build(scale);
        (canvas.bounds(), canvas)
    })
}

/// As [`fit`], for a sketch whose labels stand where they are told: each scale is only measured, and one is drawn.
///
/// What a path leaves out of its corners ([`HAIR`]) may be measured and not drawn.
pub(crate) fn fit_measured(room: (f64, f64), low: f64, high: f64, draw: impl Fn(&mut Canvas, f64)) -> Canvas {
    let (scale, measured) = largest(room, low, high, |scale| {
        let mut canvas = Canvas::measure();
        draw(&mut canvas, scale);
        (canvas.bounds(), canvas.bounds())
    });
    let mut canvas = Canvas::default();
    draw(&mut canvas, scale);
    debug_assert!(
        canvas.bounds().grown(-1e-9).is_in(&measured) && measured.is_in(&canvas.bounds().grown(HAIR)),
        "drawn to {:?}, measured as {measured:?}",
        canvas.bounds()
    );
    canvas
}

/// The largest scale at which the bounds that `build` gives fit the room, and what it gave with them.
///
/// Scales are tried on a ladder of [`STEPS`] equal ratios. A sketch grows nearly in a straight line with its scale, so two
/// tries tell where the last one that fits must be; where lettering makes a bend in the line, it is a few tries more.
fn largest<T>(room: (f64, f64), low: f64, high: f64, build: impl Fn(f64) -> (Rect, T)) -> (f64, T) {
    let room = (room_of(room.0), room_of(room.1));
    let low = low.min(high);
    let tried = |step: u32| {
        let (bounds, built) = build(scale_at(step, low, high));
        let bounds = bounds.grown(MARGIN);
        Tried { step, size: (bounds.width(), bounds.height()), built }
    };
    let fits = |own: &Tried<T>| own.size.0 <= room.0 && own.size.1 <= room.1;
    let mut above = tried(STEPS);
    if fits(&above) {
        return (high, above.built);
    }
    let largest = above.size;
    let mut best = tried(0);
    let mut guesses = 0;
    while above.step - best.step > 1 {
        let (from, to) = (scale_at(best.step, low, high), scale_at(above.step, low, high));
        let meets = |small: f64, large: f64, room: f64| {
            if large > small { from + (to - from) * (room - small) / (large - small) } else { to }
        };
        let at = meets(best.size.0, above.size.0, room.0).min(meets(best.size.1, above.size.1, room.1));
        let step = if guesses < GUESSES { step_of(at, low, high) } else { u32::midpoint(best.step, above.step) };
        guesses += 1;
        let next = tried(step.clamp(best.step + 1, above.step - 1));
        if fits(&next) {
            best = next;
        } else {
            above = next;
        }
    }
    // Texts give way in jumps, so it may fit again above that; never where the picture alone would fill the room.
    let reach = step_of(high * (room.0 / largest.0).min(room.1 / largest.1), low, high);
    let again = (best.step + 1..=reach).rev().step_by(STRIDE).map(tried).find(fits);
    let best = again.unwrap_or(best);
    (scale_at(best.step, low, high), best.built)
}

/// Steps of the ladder that are passed over in the search from above.
const STRIDE: usize = 12;
/// How many ratios lie between the smallest and the largest scale of [`fit`].
const STEPS: u32 = 1 << HALVINGS;
/// How often the ratio of both is halved until it is that of one step.
const HALVINGS: u32 = 9;
/// How often [`fit`] guesses before it halves what is left.
const GUESSES: u32 = 4;

/// A sketch at a step of the ladder, and its width and height with the margin.
struct Tried<T> {
    step: u32,
    size: (f64, f64),
    built: T,
}

/// The scale of a step of the ladder; square roots are the same on every machine, powers need not be.
fn scale_at(step: u32, low: f64, high: f64) -> f64 {
    if step == STEPS {
        return high;
    }
    let (mut scale, mut root) = (low, high / low);
    for halving in (0..HALVINGS).rev() {
        root = root.sqrt();
        if step >> halving & 1 == 1 {
            scale *= root;
        }
    }
    scale
}

/// The step of the ladder at or below a scale.
#[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "held between 0 and the number of steps")]
fn step_of(scale: f64, low: f64, high: f64) -> u32 {
    let part = (scale.max(low) / low).ln() / (high / low).ln();
    (part * f64::from(STEPS)).clamp(0.0, f64::from(STEPS)).floor() as u32
}

/// As [`fit`], but where the texts are too large for the picture at that scale, the picture is made larger until they
/// stand clear; [`Canvas::finish`] then scales the whole down.
pub(crate) fn fit_clear(room: (f64, f64), low: f64, high: f64, build: impl Fn(f64) -> Canvas) -> Canvas {
    let (low, high) = (low.min(high), high);
    let (_, fitted) = fit(room, low, high, &build);
    apart(fitted, low, high * 3.0, build)
}

/// A sketch as it is where its texts stand clear; else larger than its room, from one scale up to another, until they do.
pub(crate) fn apart(fitted: Canvas, from: f64, to: f64, build: impl Fn(f64) -> Canvas) -> Canvas {
    if fitted.clashes() == 0 {
        return fitted;
    }
    let mut best = (fitted.clashes(), fitted);
    let mut scale = from;
    while scale < to {
        scale *= 1.25;
        let canvas = build(scale);
        let clashes = canvas.clashes();
        let larger = canvas.bounds().width() >= best.1.bounds().width();
        if clashes < best.0 && larger {
            best = (clashes, canvas);
        }
        if best.0 == 0 {
            break;
        }
    }
    best.1
}
