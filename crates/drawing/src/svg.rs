//! Drawings as SVG, for pages and for files.
//!
//! The user space is the drawing's own: millimetres on paper, y downwards. Colours are plain black, white and greys,
//! so that the text stands alone as a file; a page that is shown on a dark ground inverts the whole drawing. A new
//! item of the drawing model needs an arm in [`svg`].

use std::fmt::Write as _;

use crate::drawing::{Anchor, Drawing, Fill, Item, Label, Segment, Stroke};

/// Millimetres in a point.
const POINT: f64 = 25.4 / 72.0;
/// Angle of the hatch lines, degrees.
const HATCH_ANGLE: u8 = 45;
/// Width of a hatch line, mm.
const HATCH_LINE: f64 = 0.12;
/// Grey of the hatch lines: lighter than the outline, so that dimensions stand out.
const HATCH_GREY: f64 = 0.62;
/// The closest hatch that is still seen as lines, mm.
const CLOSEST_HATCH: f64 = 0.1;
/// How far the white ground reaches beyond the letters, relative to their size.
const GROUND: f64 = 0.36;
/// A coordinate beyond this, in mm, belongs to no sheet of paper.
const FARTHEST: f64 = 10_000.0;
/// The type of the labels; widths of labels are laid out for the first.
const FONTS: &str = "DejaVu Sans Condensed,Roboto Condensed,Arial Narrow,Liberation Sans Narrow,sans-serif";

/// Why a drawing cannot be written.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("a measure of the drawing is not a number or out of bounds")]
pub struct Unsound;

/// Writes a drawing as an SVG element.
///
/// `prefix` starts every id inside and must differ between the drawings of a page; `title` names the drawing, and
/// `alt` describes it. Equal input gives equal text. Errors: [`Unsound`] for a measure that is no finite number,
/// a size that is not above zero, or a point more than 10 m away.
pub fn svg(drawing: &Drawing, prefix: &str, title: &str, alt: &str) -> Result<String, Unsound> {
    if !is_sound(drawing) {
        return Err(Unsound);
    }
    let mut hatches: Vec<f64> = Vec::new();
    let mut body = String::with_capacity(drawing.items.len() * 96);
    for item in &drawing.items {
        match item {
            Item::Path { segments, fill, stroke } => {
                path(&mut body, prefix, segments, *fill, stroke.as_ref(), &mut hatches);
            }
            Item::Text(label) => text(&mut body, label),
        }
    }
    let prefix = Escaped(prefix);
    let (width, height) = (Number(drawing.width), Number(drawing.height));
    let mut out = String::with_capacity(body.len() + 512);
    let _ = write!(
        out,
        "<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"drawing\" viewBox=\"0 0 {width} {height}\" \
         width=\"{width}mm\" height=\"{height}mm\" role=\"img\" aria-labelledby=\"{prefix}-t {prefix}-d\" \
         font-family=\"{FONTS}\" text-rendering=\"geometricPrecision\" fill=\"none\"><title id=\"{prefix}-t\">{}</title><desc id=\"{prefix}-d\">{}</desc>",
        Escaped(title),
        Escaped(alt),
    );
    if !hatches.is_empty() {
        out.push_str("<defs>");
        for (index, spacing) in hatches.iter().enumerate() {
            let spacing = Number(*spacing);
            // A tile of paper with a line along its left edge: half of the line is drawn by the tile beside it.
            let _ = write!(
                out,
                "<pattern id=\"{prefix}-h{index}\" width=\"{spacing}\" height=\"{spacing}\" \
                 patternUnits=\"userSpaceOnUse\" patternTransform=\"rotate({HATCH_ANGLE})\"><path fill=\"#fff\" \
                 d=\"M0 0h{spacing}v{spacing}H0z\"/><path stroke=\"{}\" stroke-width=\"{}\" \
                 d=\"M{HATCH_LINE} 0v{spacing}\"/></pattern>",
                Grey(HATCH_GREY),
                Number(HATCH_LINE),
            );
        }
        out.push_str("</defs>");
    }
    out.push_str(&body);
    out.push_str("</svg>");
    Ok(out)
}

/// Whether every measure of a drawing can be drawn.
fn is_sound(drawing: &Drawing) -> bool {
    let near = |value: f64| value.is_finite() && value.abs() <= FARTHEST;
    let point = |(x, y): (f64, f64)| near(x) && near(y);
    let size = |value: f64| near(value) && value > 0.0;
    size(drawing.width)
        && size(drawing.height)
        && drawing.items.iter().all(|item| match item {
            Item::Text(label) => point(label.at) && size(label.size),
            Item::Path { segments, fill, stroke } => {
                let filled = match fill {
                    Fill::Hatch(spacing) => near(*spacing) && *spacing >= CLOSEST_HATCH,
                    Fill::Grey(grey) => grey.is_finite(),
                    Fill::None | Fill::White | Fill::Black => true,
                };
                let stroked = stroke.is_none_or(|stroke| {
                    near(stroke.width)
                        && stroke.width >= 0.0
                        && stroke.grey.is_finite()
                        && stroke.dash.is_none_or(|(dash, gap)| dash >= 0.0 && gap >= 0.0 && size(dash + gap))
                });
                filled
                    && stroked
                    && segments.iter().all(|segment| match *segment {
                        Segment::Move(to) | Segment::Line(to) => point(to),
                        Segment::Curve(a, b, to) => point(a) && point(b) && point(to),
                        Segment::Close => true,
                    })
            }
        })
}

fn path(
    out: &mut String,
    prefix: &str,
    segments: &[Segment],
    fill: Fill,
    stroke: Option<&Stroke>,
    hatches: &mut Vec<f64>,
) {
    out.push_str("<path");
    match fill {
        Fill::None => {}
        Fill::White => out.push_str(" fill=\"#fff\""),
        Fill::Black => out.push_str(" fill=\"#000\""),
        Fill::Grey(grey) => {
            let _ = write!(out, " fill=\"{}\"", Grey(grey));
        }
        Fill::Hatch(spacing) => {
            let known = hatches.iter().position(|known| known.to_bits() == spacing.to_bits());
            let index = known.unwrap_or_else(|| {
                hatches.push(spacing);
                hatches.len() - 1
            });
            let _ = write!(out, " fill=\"url(#{}-h{index})\"", Escaped(prefix));
        }
    }
    if let Some(stroke) = stroke {
        let _ = write!(out, " stroke=\"{}\" stroke-width=\"{}\"", Grey(stroke.grey), Number(stroke.width));
        if let Some((dash, gap)) = stroke.dash {
            let _ = write!(out, " stroke-dasharray=\"{} {}\"", Number(dash), Number(gap));
        }
    }
    out.push_str(" d=\"");
    let mut drawn = false;
    for segment in segments {
        // An outline that does not start with a move would make the whole path invalid.
        match *segment {
            Segment::Line(to) if drawn => point(out, 'L', to),
            Segment::Curve(a, b, to) if drawn => {
                point(out, 'C', a);
                point(out, ' ', b);
                point(out, ' ', to);
            }
            Segment::Move(to) | Segment::Line(to) | Segment::Curve(_, _, to) => point(out, 'M', to),
            Segment::Close if drawn => out.push('z'),
            Segment::Close => {}
        }
        drawn = drawn || !matches!(segment, Segment::Close);
    }
    out.push_str("\"/>");
}

fn point(out: &mut String, command: char, (x, y): (f64, f64)) {
    let _ = write!(out, "{command}{} {}", Number(x), Number(y));
}

fn text(out: &mut String, label: &Label) {
    let size = label.size * POINT;
    let _ = write!(
        out,
        "<text fill=\"#000\" x=\"{}\" y=\"{}\" font-size=\"{}\"",
        Number(label.at.0),
        Number(label.at.1),
        Number(size),
    );
    match label.anchor {
        Anchor::Start => {}
        Anchor::Middle => out.push_str(" text-anchor=\"middle\""),
        Anchor::End => out.push_str(" text-anchor=\"end\""),
    }
    if label.bold {
        out.push_str(" font-weight=\"700\"");
    }
    if label.ground {
        // An outline under the letters needs no measured width, so it fits whatever type the reader has.
        let _ = write!(
            out,
            " paint-order=\"stroke\" stroke=\"#fff\" stroke-linejoin=\"round\" stroke-width=\"{}\"",
            Number(size * GROUND),
        );
    }
    let _ = write!(out, ">{}</text>", Escaped(&label.text));
}

/// A number with at most two decimals: a hundredth of a millimetre is finer than any printer.
struct Number(f64);

impl std::fmt::Display for Number {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        // Adding zero turns a negative zero into a plain one.
        let rounded = (self.0 * 100.0).round() / 100.0 + 0.0;
        write!(formatter, "{rounded}")
    }
}

/// A grey as a colour: 0 is black, 1 is white.
struct Grey(f64);

impl std::fmt::Display for Grey {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "the value is held in 0 to 255")]
        let level = (self.0.clamp(0.0, 1.0) * 255.0).round() as u8;
        match level {
            0 => formatter.write_str("#000"),
            255 => formatter.write_str("#fff"),
            _ => write!(formatter, "#{level:02x}{level:02x}{level:02x}"),
        }
    }
}

/// Text that is safe between tags and in quoted attributes, in SVG and in HTML.
///
/// Control characters, which neither allows, become U+FFFD.
pub struct Escaped<'a>(pub &'a str);

impl std::fmt::Display for Escaped<'_> {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let mut rest = self.0;
        while let Some((index, found)) = rest.char_indices().find(|&(_, character)| replacement(character).is_some()) {
            let (plain, after) = rest.split_at(index);
            formatter.write_str(plain)?;
            formatter.write_str(replacement(found).unwrap_or_default())?;
            // `found` starts `after`, so its length is a boundary of it.
            rest = after.get(found.len_utf8()..).unwrap_or_default();
        }
        formatter.write_str(rest)
    }
}

const fn replacement(character: char) -> Option<&'static str> {
    match character {
        '&' => Some("&amp;"),
        '<' => Some("&lt;"),
        '>' => Some("&gt;"),
        '"' => Some("&quot;"),
        '\'' => Some("&#39;"),
        '\t' | '\n' | '\r' => None,
        '\0'..='\u{1f}' | '\u{7f}'..='\u{9f}' | '\u{fffe}' | '\u{ffff}' => Some("\u{fffd}"),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ALT: &str = "a plate <with> \"quotes\" & 'more'";

    fn sample() -> Drawing {
        let mut drawing = Drawing::new(40.0, 20.0);
        drawing.polygon(&[(1.0, 1.0), (39.0, 1.0), (39.0, 19.004)], Fill::Hatch(1.5), Some(Stroke::solid(0.5)));
        drawing.polygon(&[(1.0, 1.0), (2.0, 1.0), (2.0, 2.0)], Fill::Hatch(1.5), Some(Stroke::dashed(0.2)));
        drawing.polygon(&[(1.0, 1.0), (2.0, 1.0), (2.0, 2.0)], Fill::Grey(0.5), None);
        drawing.items.push(Item::Text(Label {
            at: (20.0, 10.0),
            text: "</text><script>alert(1)</script>".into(),
            size: 8.0,
            anchor: Anchor::Middle,
            bold: true,
            ground: true,
        }));
        drawing
    }

    #[test]
    fn a_drawing_keeps_its_millimetres_and_shares_its_hatch() {
        let text = svg(&sample(), "d1", "Joint", ALT).unwrap();
        assert!(text.contains("viewBox=\"0 0 40 20\" width=\"40mm\" height=\"20mm\""), "{text}");
        assert!(text.contains("d=\"M1 1L39 1L39 19z\""), "{text}");
        assert_eq!(text.matches("<pattern id=\"d1-h0\"").count(), 1, "{text}");
        assert_eq!(text.matches("url(#d1-h0)").count(), 2, "{text}");
        assert!(text.contains("stroke-dasharray=\"1.6 1\""), "{text}");
        assert!(text.contains("fill=\"#808080\""), "{text}");
        // 8 pt is 8 * 25.4 / 72 = 2.82 mm.
        assert!(text.contains("font-size=\"2.82\""), "{text}");
    }

    #[test]
    fn words_cannot_break_out_of_their_place() {
        let text = svg(&sample(), "d\"><script>", "<b>", ALT).unwrap();
        assert!(!text.contains("<script"), "{text}");
        assert!(!text.contains("<b>"), "{text}");
        assert!(text.contains("a plate &lt;with&gt; &quot;quotes&quot; &amp; &#39;more&#39;"), "{text}");
    }

    #[test]
    fn measures_that_cannot_be_drawn_are_refused() {
        for (width, height) in [(f64::NAN, 1.0), (1.0, f64::INFINITY), (0.0, 1.0), (1.0, -2.0), (1e9, 1.0)] {
            assert_eq!(svg(&Drawing::new(width, height), "d", "", ""), Err(Unsound));
        }
        let mut drawing = Drawing::new(10.0, 10.0);
        drawing.line((0.0, 0.0), (f64::NAN, 1.0), Stroke::solid(0.2));
        assert_eq!(svg(&drawing, "d", "", ""), Err(Unsound));
        let mut drawing = Drawing::new(10.0, 10.0);
        drawing.polygon(&[(0.0, 0.0), (1.0, 1.0)], Fill::Hatch(0.0), None);
        assert_eq!(svg(&drawing, "d", "", ""), Err(Unsound));
    }

    #[test]
    fn an_outline_without_a_start_begins_at_its_first_point() {
        let mut drawing = Drawing::new(10.0, 10.0);
        drawing.path(vec![Segment::Close, Segment::Line((1.0, 2.0)), Segment::Line((3.0, 4.0))], Fill::None, None);
        assert!(svg(&drawing, "d", "", "").unwrap().contains("d=\"M1 2L3 4\""));
    }

    #[test]
    fn numbers_are_short_and_never_negative_zero() {
        for (given, expected) in [(0.1 + 0.2, "0.3"), (-0.001, "0"), (12.0, "12"), (-1.005, "-1"), (2.999, "3")] {
            assert_eq!(Number(given).to_string(), expected);
        }
    }

    #[test]
    fn control_characters_become_a_visible_sign() {
        assert_eq!(Escaped("a\u{0}b\u{85}c\td\n").to_string(), "a\u{fffd}b\u{fffd}c\td\n");
    }
}
