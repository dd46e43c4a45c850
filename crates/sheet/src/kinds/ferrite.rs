//! The stainless weld metal on the WRC-1992 diagram, with its operating point.

use seamwright_calc::ferrite::{Equivalents, FERRITE_LINES, LINE_HIGH_NICKEL_PCT, LINE_LOW_NICKEL_PCT};
use seamwright_drawing::sketch::ferrite::{FerriteLine, FerritePoint, FerriteSketch, ferrite};
use seamwright_page::block::{Block, Figure};
use seamwright_page::lately::Lately;
use seamwright_page::words::label;
use seamwright_weld::{View, constitution};

const MAX_WIDTH: f64 = 86.0;
const MAX_HEIGHT: f64 = 58.0;

/// The diagram of the first run whose weld metal it can show.
pub(super) fn block(view: &View<'_>, lately: &Lately) -> Option<Block> {
    let (run, weld) = view.runs.iter().find_map(|run| Some((run, constitution::of(view, run)?)))?;
    let window = constitution::window();
    let points = &weld.points;
    let name = |index: usize| view.metals.get(index).map(|metal| metal.stated.specification.to_string());
    let mut drawn = vec![point(points.parent_1, name(0).unwrap_or_default(), false)];
    if view.metals.len() > 1 {
        drawn.push(point(points.parent_2, name(view.metals.len() - 1).unwrap_or_default(), false));
    }
    let filler = run.filler(view.procedure).map(|(_, filler)| filler.designation.to_string()).unwrap_or_default();
    drawn.push(point(points.filler, filler, false));
    drawn.push(point(
        points.weld,
        label::WELD_ABOUT_FN_NUMBER.fill(&[("number", &format!("{:.0}", weld.ferrite.value))]),
        true,
    ));
    // The frame of the printed diagram, and wider where a metal lies outside.
    let wide = |from: f64, to: f64, of: fn(&FerritePoint) -> f64| {
        let low = drawn.iter().map(of).fold(from, f64::min).max(0.0).floor();
        let high = drawn.iter().map(of).fold(to, f64::max).ceil();
        (low, high)
    };
    let sketch = FerriteSketch {
        lines: FERRITE_LINES
            .iter()
            .map(|line| FerriteLine {
                points: vec![
                    (line.chromium_at_low_pct, LINE_LOW_NICKEL_PCT),
                    (line.chromium_at_high_pct, LINE_HIGH_NICKEL_PCT),
                ],
                label: format!("{:.0}", line.ferrite_number),
            })
            .collect(),
        chromium: wide(window.chromium_pct.low, window.chromium_pct.high, |point| point.at.0),
        nickel: wide(window.nickel_pct.low, window.nickel_pct.high, |point| point.at.1),
        points: drawn,
        chromium_label: label::CHROMIUM_EQUIVALENT.into(),
        nickel_label: label::NICKEL_EQUIVALENT.into(),
        max_width: MAX_WIDTH,
        max_height: MAX_HEIGHT,
        ..FerriteSketch::default()
    };
    let mut caption = label::FERRITE_CAPTION.fill(&[
        ("run", &run.run.run),
        ("low", &format!("{:.0}", weld.dilution_pct.low)),
        ("high", &format!("{:.0}", weld.dilution_pct.high)),
        ("source", &weld.source.line()),
    ]);
    if weld.by_specification {
        caption.push_str(&label::MIDDLE_OF_LIMITS);
    }
    Some(Block::Drawings {
        drawings: vec![Figure {
            title: label::FERRITE_OF_THE_WELD_METAL_WRC_1992.into(),
            clause: None,
            drawing: lately.drawing(ferrite, &sketch),
            alt: alt(&sketch),
            caption: Some(caption),
        }],
    })
}

fn point(at: Equivalents, label: String, main: bool) -> FerritePoint {
    FerritePoint { at: (at.chromium_pct, at.nickel_pct), label, main }
}

fn alt(sketch: &FerriteSketch) -> String {
    let points = sketch.points.iter().map(|point| {
        let (chromium, nickel) = (format!("{:.1}", point.at.0), format!("{:.1}", point.at.1));
        label::POINT_ON_DIAGRAM.fill(&[("name", &point.label), ("chromium", &chromium), ("nickel", &nickel)])
    });
    let parts: Vec<String> = std::iter::once(label::CONSTITUTION_DRAWN.into()).chain(points).collect();
    format!("{}.", parts.join("; "))
}
