//! What of an SVG could act or fetch.

use roxmltree::{Node, NodeType};

/// The name space of SVG 2.
pub(super) const SVG: &str = "http://www.w3.org/2000/svg";
/// That of HTML, whose elements act inside a drawing, too.
const XHTML: &str = "http://www.w3.org/1999/xhtml";

/// The elements of SVG 2 that draw, and none that act, animate or hold another language.
const DRAW: [&str; 26] = [
    "circle",
    "clipPath",
    "defs",
    "desc",
    "ellipse",
    "g",
    "image",
    "line",
    "linearGradient",
    "marker",
    "mask",
    "metadata",
    "path",
    "pattern",
    "polygon",
    "polyline",
    "radialGradient",
    "rect",
    "stop",
    "style",
    "svg",
    "symbol",
    "text",
    "title",
    "tspan",
    "use",
];

/// What of a node could act or fetch; nothing where it only draws.
pub(super) fn acts(node: Node<'_, '_>) -> Option<String> {
    match node.node_type() {
        NodeType::PI => return Some("<?".to_owned()),
        NodeType::Text if node.parent().is_some_and(|parent| parent.tag_name().name() == "style") => {
            return node.text().and_then(fetches);
        }
        NodeType::Element => {}
        _ => return None,
    }
    let tag = node.tag_name();
    let draws = match tag.namespace() {
        Some(SVG) => DRAW.contains(&tag.name()),
        // What drawing programs note for themselves.
        Some(XHTML) | None => false,
        Some(_) => node.ancestors().any(|above| above.has_tag_name((SVG, "metadata"))),
    };
    if !draws {
        return Some(format!("<{}", tag.name()));
    }
    node.attributes().find_map(|attribute| {
        let (name, value) = (attribute.name().to_lowercase(), attribute.value());
        if name.starts_with("on") {
            return Some(format!("{name}="));
        }
        let inside = ["#", "data:image/png;", "data:image/jpeg;"].iter().any(|start| value.starts_with(start));
        if name == "href" && !inside {
            return Some(format!("href={value}"));
        }
        fetches(value)
    })
}

/// What of a style or an attribute could fetch: an address other than that of a part of the drawing.
fn fetches(text: &str) -> Option<String> {
    let text = text.to_lowercase();
    // An escape could spell any of the words.
    if let Some(found) = ["@import", "javascript:", "\\"].into_iter().find(|part| text.contains(part)) {
        return Some(found.to_owned());
    }
    let outside = |rest: &&str| !rest.trim_start_matches([' ', '"', '\'']).starts_with('#');
    text.split("url(").skip(1).find(outside).map(|rest| format!("url({}", rest.chars().take(20).collect::<String>()))
}
