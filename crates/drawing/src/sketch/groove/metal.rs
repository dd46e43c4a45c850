//! Members in section, and what holds the root.

use crate::canvas::Canvas;
use crate::drawing::{Fill, Stroke, weight};
use crate::point::{Point, add, sub, times, unit};
use crate::sketch::joint_sketch::Backing;
use crate::sketch::section::{Geometry, Sizes};

/// Draws the members: hatch or white, edges heavy, broken ends as a fine wave.
pub(in crate::sketch) fn metal(canvas: &mut Canvas, geometry: &Geometry, scale: f64, hatch: bool) {
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
///
/// `gas` is what a purge is called and the size of its letters; no words are set without.
pub(in crate::sketch) fn backing(
    canvas: &mut Canvas,
    sizes: &Sizes,
    geometry: &Geometry,
    scale: f64,
    gas: Option<(&str, f64)>,
) {
    let Some((outline, hollow)) = geometry.backing(sizes) else { return };
    let on_paper = |points: &[Point]| points.iter().map(|&at| geometry.on_paper(at, scale)).collect::<Vec<_>>();
    let heavy = Some(Stroke::solid(weight::HEAVY));
    match sizes.backing {
        Backing::None => {}
        Backing::Strip => canvas.polygon(&on_paper(&outline), Fill::Hatch(0.9), heavy),
        Backing::Gas => purge(canvas, &on_paper(&outline), sizes.pipe, gas),
        Backing::Ceramic => {
            canvas.polygon(&on_paper(&outline), Fill::Grey(0.8), heavy);
            canvas.polygon(&on_paper(&hollow), Fill::White, Some(Stroke::solid(weight::MEDIUM)));
        }
        Backing::Flux => {
            canvas.polygon(&on_paper(&outline), Fill::Grey(0.9), Some(Stroke::dashed(weight::MEDIUM)));
        }
    }
}

/// The room of a purge with its gas going in and out: a channel under a plate, two dams in a pipe.
fn purge(canvas: &mut Canvas, outline: &[Point], pipe: bool, gas: Option<(&str, f64)>) {
    let wall = Stroke::solid(weight::HEAVY);
    let &[first, second, third, ref rest @ ..] = outline else { return };
    let last = rest.first().copied();
    match last {
        Some(last) if pipe => {
            canvas.line(first, second, wall);
            canvas.line(third, last, wall);
        }
        _ => canvas.polyline(outline, wall),
    }
    let middle = |a: Point, b: Point| times(add(a, b), 0.5);
    let enters = middle(first, second);
    let along = unit(sub(third, second));
    let reach = (sub(third, second).0.hypot(sub(third, second).1) * 0.3).min(4.0);
    let arrow = Stroke::solid(weight::MEDIUM);
    let outside = if pipe { 0.0 } else { 4.0 };
    if pipe && gas.is_some() {
        // Among the dimensions there is no room for arrows: they stand where the runs are drawn.
        return;
    }
    let from = sub(enters, times(along, outside));
    canvas.arrow(from, add(enters, times(along, reach)), arrow, 2.0);
    if let Some((name, size)) = gas {
        canvas.text_beyond(from, times(along, -1.0), name, size, 20.0);
    }
    if let Some(last) = last {
        let leaves = middle(third, last);
        canvas.arrow(sub(leaves, times(along, reach)), add(leaves, times(along, outside)), arrow, 2.0);
    }
}

/// A centre line: long dashes and dots.
pub(in crate::sketch) fn chain(canvas: &mut Canvas, from: Point, to: Point) {
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
