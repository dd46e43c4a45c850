//! Marks become page operators. Numbers are rounded to hundredths of a point, and a state that is already set is not
//! set again, which keeps the pages small.

use std::collections::BTreeSet;

use printpdf::{
    Color, CurTransMat, Greyscale, Line, LineCapStyle, LineDashPattern, LinePoint, Op, PaintMode, PdfFontHandle, Point,
    Polygon, PolygonRing, Pt, Rect, Rgb, TextItem, WindingOrder, XObjectId, XObjectTransform,
};

use crate::sketch::drawing::Segment;

use super::fonts::{Face, as_set};
use super::piece::{Mark, ShapeFill, ShapeStroke};

/// Name of the logo's pixels among the resources of a page.
pub(super) const LOGO: &str = "Logo";

/// Characters that the pages use, by face.
#[derive(Debug, Default)]
pub(super) struct Used {
    regular: BTreeSet<char>,
    bold: BTreeSet<char>,
}

impl Used {
    pub(super) fn of(&self, face: Face) -> Vec<char> {
        match face {
            Face::Regular => self.regular.iter().copied().collect(),
            Face::Bold => self.bold.iter().copied().collect(),
        }
    }

    fn note(&mut self, face: Face, text: &str) {
        match face {
            Face::Regular => self.regular.extend(text.chars()),
            Face::Bold => self.bold.extend(text.chars()),
        }
    }
}

/// Paints pages of one height.
pub(super) struct Painter<'u> {
    height: f64,
    used: &'u mut Used,
    ops: Vec<Op>,
    fill: Option<i32>,
    stroke: Option<ShapeStroke>,
    font: Option<(Face, i64)>,
    /// Where the text cursor stands, in hundredths of a point, while a text section is open.
    cursor: Option<(i64, i64)>,
}

/// Hundredths of a point.
#[expect(clippy::cast_possible_truncation, reason = "a place on a page is far below 2^63 hundredths of a point")]
fn hundredths(value: f64) -> i64 {
    (value * 100.0).round() as i64
}

/// Hundredths of a point as the file writes them.
#[expect(clippy::cast_precision_loss, clippy::cast_possible_truncation, reason = "places on a page are small")]
fn pt(hundredths: i64) -> Pt {
    Pt((hundredths as f64 / 100.0) as f32)
}

fn rounded(value: f64) -> Pt {
    pt(hundredths(value))
}

impl<'u> Painter<'u> {
    pub(super) const fn new(height: f64, used: &'u mut Used) -> Self {
        Self { height, used, ops: Vec::new(), fill: None, stroke: None, font: None, cursor: None }
    }

    /// The operators of a page.
    pub(super) fn page(mut self, marks: &[Mark]) -> Vec<Op> {
        for mark in marks {
            match mark {
                Mark::Text { x, y, size, face, grey, text, .. } => self.text(*x, *y, *size, *face, *grey, text),
                Mark::Block { x, y, width, height, grey } => {
                    self.end_text();
                    self.fill(*grey);
                    let lower = self.height - y - height;
                    self.ops.push(Op::DrawRectangle {
                        rectangle: Rect {
                            x: rounded(*x),
                            y: rounded(lower),
                            width: rounded(*width),
                            height: rounded(*height),
                            mode: Some(PaintMode::Fill),
                            winding_order: None,
                        },
                    });
                }
                Mark::Frame { x, y, width, height, line } => {
                    self.end_text();
                    self.stroke(ShapeStroke { width: *line, dash: None, grey: 0.0 });
                    let lower = self.height - y - height;
                    self.ops.push(Op::DrawRectangle {
                        rectangle: Rect {
                            x: rounded(x + line / 2.0),
                            y: rounded(lower + line / 2.0),
                            width: rounded(width - line),
                            height: rounded(height - line),
                            mode: Some(PaintMode::Stroke),
                            winding_order: None,
                        },
                    });
                }
                Mark::Logo { x, y, width, height } => self.logo(*x, *y, *width, *height),
                Mark::Shape { segments, fill, stroke } => self.shape(segments, *fill, *stroke),
            }
        }
        self.end_text();
        self.ops
    }

    fn end_text(&mut self) {
        if self.cursor.take().is_some() {
            self.ops.push(Op::EndTextSection);
        }
    }

    #[expect(clippy::cast_possible_truncation, reason = "a grey is between 0 and 1")]
    fn fill(&mut self, grey: f64) {
        let percent = (grey * 100.0).round() as i32;
        if self.fill != Some(percent) {
            self.fill = Some(percent);
            self.ops.push(Op::SetFillColor { col: Color::Greyscale(Greyscale::new(pt(i64::from(percent)).0, None)) });
        }
    }

    fn stroke(&mut self, stroke: ShapeStroke) {
        let before = self.stroke.replace(stroke);
        if before.is_none() {
            // Round ends and joints: leaders and beads meet without notches.
            self.ops.push(Op::SetLineJoinStyle { join: printpdf::LineJoinStyle::Round });
            self.ops.push(Op::SetLineCapStyle { cap: LineCapStyle::Butt });
        }
        if before.is_none_or(|before| hundredths(before.width) != hundredths(stroke.width)) {
            self.ops.push(Op::SetOutlineThickness { pt: rounded(stroke.width) });
        }
        if before.is_none_or(|before| hundredths(before.grey) != hundredths(stroke.grey)) {
            self.ops.push(Op::SetOutlineColor { col: Color::Greyscale(Greyscale::new(rounded(stroke.grey).0, None)) });
        }
        if before.map_or(stroke.dash.is_some(), |before| before.dash != stroke.dash) {
            let dash = match stroke.dash {
                Some((dash, gap)) => LineDashPattern::new(0.0, &[rounded(dash).0, rounded(gap).0]),
                None => LineDashPattern::new(0.0, &[]),
            };
            self.ops.push(Op::SetLineDashPattern { dash });
        }
    }

    fn text(&mut self, x: f64, y: f64, size: f64, face: Face, grey: f64, text: &str) {
        self.fill(grey);
        let (x, y) = (hundredths(x), hundredths(self.height - y));
        let from = self.cursor.unwrap_or_else(|| {
            self.ops.push(Op::StartTextSection);
            (0, 0)
        });
        let font = (face, hundredths(size));
        if self.font != Some(font) {
            self.font = Some(font);
            self.ops.push(Op::SetFont {
                font: PdfFontHandle::External(printpdf::FontId(face.resource().to_owned())),
                size: rounded(size),
            });
        }
        // The cursor moves relative to the line before.
        self.ops.push(Op::SetTextCursor { pos: Point { x: pt(x - from.0), y: pt(y - from.1) } });
        let text: String = text.chars().map(as_set).collect();
        self.used.note(face, &text);
        self.ops.push(Op::ShowText { items: vec![TextItem::Text(text)] });
        self.cursor = Some((x, y));
    }

    fn shape(&mut self, segments: &[Segment], fill: ShapeFill, stroke: Option<ShapeStroke>) {
        self.end_text();
        let contours = self.contours(segments);
        if contours.is_empty() {
            return;
        }
        let filled = |mode| Op::DrawPolygon {
            polygon: Polygon {
                rings: contours.iter().map(|contour| PolygonRing { points: contour.points.clone() }).collect(),
                mode,
                winding_order: WindingOrder::NonZero,
            },
        };
        match (fill, stroke) {
            (ShapeFill::Grey(grey), Some(stroke)) if matches!(contours.as_slice(), [one] if one.is_closed) => {
                self.fill(grey);
                self.stroke(stroke);
                self.ops.push(filled(PaintMode::FillStroke));
                return;
            }
            (ShapeFill::Grey(grey), _) => {
                self.fill(grey);
                self.ops.push(filled(PaintMode::Fill));
            }
            (ShapeFill::Colour([red, green, blue]), _) => {
                self.fill = None;
                let part = |part: u8| f32::from(part) / 255.0;
                let col = Color::Rgb(Rgb::new(part(red), part(green), part(blue), None));
                self.ops.push(Op::SetFillColor { col });
                self.ops.push(filled(PaintMode::Fill));
            }
            (ShapeFill::Hatch(spacing), _) => {
                self.fill(1.0);
                self.ops.push(filled(PaintMode::Fill));
                self.hatch(segments, spacing, filled(PaintMode::Clip));
            }
            (ShapeFill::None, _) => {}
        }
        if let Some(stroke) = stroke {
            self.stroke(stroke);
            self.ops.extend(contours.into_iter().map(|line| Op::DrawLine { line }));
        }
    }

    /// Places the pixels of the logo, which fill a square of one by one point.
    fn logo(&mut self, x: f64, y: f64, width: f64, height: f64) {
        self.end_text();
        let place = [width, 0.0, 0.0, height, x, self.height - y - height].map(|value| rounded(value).0);
        let transform = XObjectTransform { no_auto_scale: true, ..XObjectTransform::default() };
        self.ops.extend([
            Op::SaveGraphicsState,
            Op::SetTransformationMatrix { matrix: CurTransMat::Raw(place) },
            Op::UseXobject { id: XObjectId(LOGO.to_owned()), transform },
            Op::RestoreGraphicsState,
        ]);
    }

    fn contours(&self, segments: &[Segment]) -> Vec<Line> {
        let point = |at: (f64, f64), bezier| LinePoint {
            p: Point { x: rounded(at.0), y: rounded(self.height - at.1) },
            bezier,
        };
        let mut contours: Vec<Line> = Vec::new();
        for segment in segments {
            match *segment {
                Segment::Move(at) => {
                    contours.push(Line { points: vec![point(at, false)], is_closed: false });
                }
                Segment::Line(at) => {
                    if let Some(line) = contours.last_mut() {
                        line.points.push(point(at, false));
                    }
                }
                Segment::Curve(a, b, c) => {
                    if let Some(line) = contours.last_mut() {
                        line.points.extend([point(a, true), point(b, true), point(c, false)]);
                    }
                }
                Segment::Close => {
                    if let Some(line) = contours.last_mut() {
                        line.is_closed = true;
                    }
                }
            }
        }
        contours.retain(|line| line.points.len() > 1);
        contours
    }

    /// Lines sloping up to the right, clipped to the shape.
    fn hatch(&mut self, segments: &[Segment], spacing: f64, clip: Op) {
        let mut bounds = (f64::INFINITY, f64::INFINITY, f64::NEG_INFINITY, f64::NEG_INFINITY);
        for segment in segments {
            let points: &[(f64, f64)] = match segment {
                Segment::Move(a) | Segment::Line(a) => &[*a],
                Segment::Curve(a, b, c) => &[*a, *b, *c],
                Segment::Close => &[],
            };
            for &(x, y) in points {
                bounds = (bounds.0.min(x), bounds.1.min(y), bounds.2.max(x), bounds.3.max(y));
            }
        }
        let (left, top, right, bottom) = bounds;
        if !(left < right && top < bottom) {
            return;
        }
        self.ops.push(Op::SaveGraphicsState);
        self.ops.push(clip);
        let before = self.stroke;
        self.stroke(ShapeStroke { width: 0.4, dash: None, grey: 0.55 });
        // A line x + y = c meets the box for c between its two corners; c is a multiple of the step, so that the
        // hatch of two neighbours lines up.
        let step = (spacing * std::f64::consts::SQRT_2).max(1.0);
        let mut sum = ((left + top) / step).ceil() * step;
        while sum < right + bottom {
            let from = (left.max(sum - bottom), 0.0);
            let to = (right.min(sum - top), 0.0);
            let ends = [(from.0, sum - from.0), (to.0, sum - to.0)];
            let points = ends
                .iter()
                .map(|&(x, y)| LinePoint { p: Point { x: rounded(x), y: rounded(self.height - y) }, bezier: false })
                .collect();
            self.ops.push(Op::DrawLine { line: Line { points, is_closed: false } });
            sum += step;
        }
        self.ops.push(Op::RestoreGraphicsState);
        self.stroke = before;
    }
}
