//! The look of a shop: its name block, one colour and, in HTML, its logo.

use roxmltree::{Document, Node, NodeType};

use crate::html::base64;

/// Largest logo, bytes.
pub const LOGO_LIMIT: usize = 256 * 1024;

/// What a shop puts on its sheets.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct House {
    /// Lines under the head of the first page: address, telephone, certificates.
    pub lines: Vec<String>,
    /// Colour of the rule under the head, as red, green and blue.
    pub accent: Option<[u8; 3]>,
    /// Logo at the head of a page in HTML.
    pub logo: Option<Logo>,
}

/// A picture that was looked over.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Logo {
    kind: &'static str,
    bytes: Vec<u8>,
}

/// Why a colour or a logo is refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum HouseError {
    /// The logo is too large.
    #[error("the logo has more than {LOGO_LIMIT} bytes")]
    LogoTooLarge,
    /// The logo is neither SVG nor PNG.
    #[error("the logo is neither SVG nor PNG")]
    LogoFormat,
    /// The SVG is not well-formed.
    #[error("the logo cannot be read as SVG: {0}")]
    LogoBroken(String),
    /// The SVG holds more than a drawing.
    #[error("the logo holds `{0}`, which a drawing does without")]
    LogoUnsafe(String),
    /// The colour cannot be read.
    #[error("a colour is written as # and six hexadecimal digits, such as #1f4e79")]
    Colour,
    /// White paper would swallow the colour.
    #[error("the colour is too light to be seen on white paper or from a black-and-white printer (3 : 1 is asked for)")]
    TooLight,
}

/// The name space of SVG 2.
const SVG: &str = "http://www.w3.org/2000/svg";
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

impl Logo {
    /// A logo from the bytes of an SVG or PNG file; an SVG that could act or fetch is refused.
    ///
    /// PNG signature: ISO/IEC 15948, 5.2.
    pub fn new(bytes: &[u8]) -> Result<Self, HouseError> {
        if bytes.len() > LOGO_LIMIT {
            return Err(HouseError::LogoTooLarge);
        }
        if bytes.starts_with(b"\x89PNG\r\n\x1a\n") {
            return Ok(Self { kind: "image/png", bytes: bytes.to_vec() });
        }
        let text = std::str::from_utf8(bytes).map_err(|_| HouseError::LogoFormat)?;
        if !text.contains("<svg") {
            return Err(HouseError::LogoFormat);
        }
        // A document type is refused by the parser: its entities could fetch or multiply.
        let drawing = Document::parse(text).map_err(|error| HouseError::LogoBroken(error.to_string()))?;
        if !drawing.root_element().has_tag_name((SVG, "svg")) {
            return Err(HouseError::LogoFormat);
        }
        if let Some(found) = drawing.descendants().find_map(acts) {
            return Err(HouseError::LogoUnsafe(found));
        }
        Ok(Self { kind: "image/svg+xml", bytes: bytes.to_vec() })
    }

    /// The logo as a `data:` address; as an image it runs nothing, whatever it holds.
    pub(crate) fn address(&self) -> String {
        format!("data:{};base64,{}", self.kind, base64::encode(&self.bytes))
    }
}

/// What of a node could act or fetch; nothing where it only draws.
fn acts(node: Node<'_, '_>) -> Option<String> {
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

impl House {
    /// A colour from `#1f4e79`, dark enough for white paper: contrast of at least 3 : 1 (WCAG 2.1, 1.4.11).
    pub fn colour(text: &str) -> Result<[u8; 3], HouseError> {
        let digits = text.strip_prefix('#').filter(|digits| digits.len() == 6).ok_or(HouseError::Colour)?;
        if !digits.bytes().all(|digit| digit.is_ascii_hexdigit()) {
            return Err(HouseError::Colour);
        }
        let value = u32::from_str_radix(digits, 16).map_err(|_| HouseError::Colour)?;
        let [_, red, green, blue] = value.to_be_bytes();
        let linear = |part: u8| {
            let part = f64::from(part) / 255.0;
            if part <= 0.040_45 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
        };
        // Relative luminance by WCAG 2.1.
        let luminance = 0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue);
        if 1.05 / (luminance + 0.05) < 3.0 { Err(HouseError::TooLight) } else { Ok([red, green, blue]) }
    }

    /// All of it as one text, of which a digest can be taken.
    pub fn text(&self) -> String {
        let colour = self.css().unwrap_or_default();
        let logo = self.logo.as_ref().map(Logo::address).unwrap_or_default();
        format!("{}\n{colour}\n{logo}", self.lines.join("\n"))
    }

    /// The colour as CSS.
    pub(crate) fn css(&self) -> Option<String> {
        self.accent.map(|[red, green, blue]| format!("#{red:02x}{green:02x}{blue:02x}"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_logo_that_could_act_is_refused() {
        let svg =
            |inside: &str| format!("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\">{inside}</svg>");
        assert!(Logo::new(svg("<path d=\"M0 0h9v9z\"/>").as_bytes()).is_ok());
        for bad in [
            "<script>1</script>",
            "<rect onload=\"x()\"/>",
            "<rect\nonclick='x()'/>",
            "<a href=\"javascript:x\"/>",
            "<image href=\"http://example.org/x.png\"/>",
            "<foreignObject/>",
        ] {
            assert!(matches!(Logo::new(svg(bad).as_bytes()), Err(HouseError::LogoUnsafe(_))), "{bad}");
        }
        assert_eq!(Logo::new(b"GIF89a"), Err(HouseError::LogoFormat));
        assert_eq!(Logo::new(&vec![b' '; LOGO_LIMIT + 1]), Err(HouseError::LogoTooLarge));
    }

    // WCAG 2.1, relative luminance: #767676 on white is 4.54 : 1, #ffff00 is 1.07 : 1.
    #[test]
    fn a_colour_must_be_seen_on_paper() {
        assert_eq!(House::colour("#767676"), Ok([0x76; 3]));
        assert_eq!(House::colour("#ffff00"), Err(HouseError::TooLight));
        for bad in ["red", "#12", "#12345g", "#+12345", "1f4e79"] {
            assert_eq!(House::colour(bad), Err(HouseError::Colour), "{bad}");
        }
    }
}
