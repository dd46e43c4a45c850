//! An SVG as a PDF takes it: its filled and stroked paths as page operators (ISO 32000-1, 8.5).

use std::fmt::Write;

use roxmltree::Document;
use usvg::tiny_skia_path::{Path as Outline, PathSegment};
use usvg::{BlendMode, ClipPath, Color, Fill, FillRule, Group, LineCap, LineJoin, Node, Options, Paint, PaintOrder};
use usvg::{ImageHrefResolver, Path, Stroke, Transform, Tree};

use super::acts::SVG;
use super::reach::{self, TOO_MUCH};
use crate::refused::Unprinted;

/// Most bytes of operators.
const CONTENT: usize = 1024 * 1024;

/// The paths of a drawing.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Artwork {
    /// Width, units of the drawing.
    pub width: f32,
    /// Height, units of the drawing.
    pub height: f32,
    /// Page operators in units of the drawing, origin at the top left, y downwards.
    pub content: String,
}

/// Elements that are not drawn, wherever they stand: what draws them is left out of the reader, or they multiply.
const LEFT_OUT: [(&str, Unprinted); 6] = [
    ("text", Unprinted { found: "text of an SVG", instead: "turn it into paths" }),
    ("image", Unprinted { found: "a picture within an SVG", instead: "draw it in paths, or give the picture as PNG" }),
    ("pattern", Unprinted { found: "a pattern of an SVG", instead: "fill the shape with one colour" }),
    ("mask", Unprinted { found: "a mask of an SVG", instead: "cut the shapes themselves" }),
    ("marker", Unprinted { found: "a marker of an SVG", instead: "turn it into paths" }),
    ("filter", Unprinted { found: "a filter of an SVG", instead: "draw without it" }),
];
const GRADIENT: Unprinted = Unprinted { found: "a gradient of an SVG", instead: "fill the shape with one colour" };
const SEE_THROUGH: Unprinted =
    Unprinted { found: "a see-through part of an SVG", instead: "give it the colour that shows on white" };
const CLIP: Unprinted =
    Unprinted { found: "a clip path of several shapes in an SVG", instead: "cut the shapes themselves" };
const STYLES: Unprinted =
    Unprinted { found: "a style sheet of an SVG that refers to a part of it", instead: "name the part at its element" };
const EMPTY: Unprinted = Unprinted { found: "an SVG without a path", instead: "draw one" };
const BROKEN: Unprinted = Unprinted { found: "an SVG with sizes that make no drawing", instead: "give it a view box" };
/// Reads a drawing that was found to act on nothing; refuses what it could show in part only.
pub(super) fn read(drawing: &Document) -> Result<Artwork, Unprinted> {
    for node in drawing.descendants().filter(roxmltree::Node::is_element) {
        if let Some((_, refused)) = LEFT_OUT.iter().find(|(name, _)| node.has_tag_name((SVG, *name))) {
            return Err(*refused);
        }
        if node.has_tag_name("style") && node.text().is_some_and(|text| text.to_lowercase().contains("url(")) {
            return Err(STYLES);
        }
    }
    reach::check(drawing)?;
    let nothing = ImageHrefResolver { resolve_data: Box::new(|_, _, _| None), resolve_string: Box::new(|_, _| None) };
    let options = Options { image_href_resolver: nothing, ..Options::default() };
    let tree = Tree::from_xmltree(drawing, &options).map_err(|_| BROKEN)?;
    let mut content = String::new();
    group(tree.root(), &mut content)?;
    if content.is_empty() {
        return Err(EMPTY);
    }
    Ok(Artwork { width: tree.size().width(), height: tree.size().height(), content })
}

fn group(group: &Group, content: &mut String) -> Result<(), Unprinted> {
    if group.opacity().get() < 1.0 || group.blend_mode() != BlendMode::Normal {
        return Err(SEE_THROUGH);
    }
    // Neither is read from a drawing that names none.
    if group.mask().is_some() || !group.filters().is_empty() {
        return Err(SEE_THROUGH);
    }
    if let Some(clip) = group.clip_path() {
        content.push_str("q\n");
        clip_to(clip, group.abs_transform(), content)?;
    }
    children(group, content)?;
    if group.clip_path().is_some() {
        content.push_str("Q\n");
    }
    Ok(())
}

fn children(parent: &Group, content: &mut String) -> Result<(), Unprinted> {
    for node in parent.children() {
        match node {
            Node::Group(inner) => group(inner, content)?,
            Node::Path(path) if path.is_visible() => painted(path, content)?,
            Node::Path(_) => {}
            Node::Image(_) | Node::Text(_) => return Err(EMPTY),
        }
        if content.len() > CONTENT {
            return Err(TOO_MUCH);
        }
    }
    Ok(())
}

/// Clips what follows to a clip path of one shape, and to the one that it hangs on.
fn clip_to(clip: &ClipPath, user: Transform, content: &mut String) -> Result<(), Unprinted> {
    if let Some(outer) = clip.clip_path() {
        clip_to(outer, user, content)?;
    }
    let path = only_path(clip.root()).ok_or(CLIP)?;
    let place = user.pre_concat(clip.transform()).pre_concat(path.abs_transform());
    // Placed by its points: a matrix would move what is painted inside, too.
    let shape = path.data().clone().transform(place).ok_or(BROKEN)?;
    outline(&shape, content);
    let rule = path.fill().map_or(FillRule::NonZero, Fill::rule);
    content.push_str(if rule == FillRule::EvenOdd { "W* n\n" } else { "W n\n" });
    Ok(())
}

fn only_path(group: &Group) -> Option<&Path> {
    match group.children() {
        _ if group.clip_path().is_some() => None,
        [Node::Path(path)] => Some(path),
        [Node::Group(inner)] => only_path(inner),
        _ => None,
    }
}

fn painted(path: &Path, content: &mut String) -> Result<(), Unprinted> {
    let Transform { sx, ky, kx, sy, tx, ty } = path.abs_transform();
    content.push_str("q\n");
    numbers(&[sx, ky, kx, sy, tx, ty], "cm", content);
    let fill = |content: &mut String| path.fill().map_or(Ok(()), |fill| filled(fill, path.data(), content));
    let stroke = |content: &mut String| path.stroke().map_or(Ok(()), |stroke| stroked(stroke, path.data(), content));
    match path.paint_order() {
        PaintOrder::FillAndStroke => fill(content).and_then(|()| stroke(content))?,
        PaintOrder::StrokeAndFill => stroke(content).and_then(|()| fill(content))?,
    }
    content.push_str("Q\n");
    Ok(())
}

fn filled(fill: &Fill, shape: &Outline, content: &mut String) -> Result<(), Unprinted> {
    colour(fill.paint(), fill.opacity().get(), "rg", content)?;
    outline(shape, content);
    content.push_str(if fill.rule() == FillRule::EvenOdd { "f*\n" } else { "f\n" });
    Ok(())
}

fn stroked(stroke: &Stroke, shape: &Outline, content: &mut String) -> Result<(), Unprinted> {
    colour(stroke.paint(), stroke.opacity().get(), "RG", content)?;
    let cap = match stroke.linecap() {
        LineCap::Butt => 0,
        LineCap::Round => 1,
        LineCap::Square => 2,
    };
    let join = match stroke.linejoin() {
        LineJoin::Miter | LineJoin::MiterClip => 0,
        LineJoin::Round => 1,
        LineJoin::Bevel => 2,
    };
    let _ = writeln!(content, "{} w {cap} J {join} j {} M", stroke.width().get(), stroke.miterlimit().get());
    // A dash too short to be seen is a solid line, and no work for a viewer.
    let shortest = stroke.width().get() / 100.0;
    if let Some(dashes) = stroke.dasharray().filter(|dashes| dashes.iter().all(|dash| *dash > shortest)) {
        let dashes: Vec<String> = dashes.iter().map(f32::to_string).collect();
        let _ = writeln!(content, "[{}] {} d", dashes.join(" "), stroke.dashoffset());
    }
    outline(shape, content);
    content.push_str("S\n");
    Ok(())
}

fn colour(paint: &Paint, opacity: f32, operator: &str, content: &mut String) -> Result<(), Unprinted> {
    let Paint::Color(Color { red, green, blue }) = *paint else { return Err(GRADIENT) };
    if opacity < 1.0 {
        return Err(SEE_THROUGH);
    }
    numbers(&[red, green, blue].map(|part| f32::from(part) / 255.0), operator, content);
    Ok(())
}

fn outline(shape: &Outline, content: &mut String) {
    let mut at = (0.0, 0.0);
    for segment in shape.segments() {
        match segment {
            PathSegment::MoveTo(to) => {
                numbers(&[to.x, to.y], "m", content);
                at = (to.x, to.y);
            }
            PathSegment::LineTo(to) => {
                numbers(&[to.x, to.y], "l", content);
                at = (to.x, to.y);
            }
            PathSegment::QuadTo(by, to) => {
                // The cubic that runs along the quadratic: its controls lie two thirds of the way to the one control.
                let near = |end: f32, control: f32| end + (control - end) * 2.0 / 3.0;
                let first = (near(at.0, by.x), near(at.1, by.y));
                let second = (near(to.x, by.x), near(to.y, by.y));
                numbers(&[first.0, first.1, second.0, second.1, to.x, to.y], "c", content);
                at = (to.x, to.y);
            }
            PathSegment::CubicTo(a, b, to) => {
                numbers(&[a.x, a.y, b.x, b.y, to.x, to.y], "c", content);
                at = (to.x, to.y);
            }
            PathSegment::Close => content.push_str("h\n"),
        }
    }
}

/// An operator after its numbers.
fn numbers(values: &[f32], operator: &str, content: &mut String) {
    for value in values {
        let _ = write!(content, "{value} ");
    }
    content.push_str(operator);
    content.push('\n');
}
