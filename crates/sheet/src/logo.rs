//! The logo of a shop: looked over once, then shown by a page as it is, and printed from a plain PNG.
//!
//! A PDF takes the packed rows of a PNG as they stand (ISO 32000-1, 7.4.4.4), so nothing is unpacked but to see that
//! it is whole. What it cannot take so, an SVG and a PNG that is see-through, interlaced or deeper than 8 bits, is for
//! pages only, and [`Logo::check_print`] says so.

use std::io::Read;

use flate2::read::ZlibDecoder;
use roxmltree::{Document, Node, NodeType};

use crate::house::HouseError;
use crate::html::base64;

/// Largest logo, bytes.
pub const LOGO_LIMIT: usize = 256 * 1024;
/// Most rows and columns of a printed PNG.
const SIDE: u32 = 4096;
/// The box that a logo fills on paper, pt.
const BOX: (f64, f64) = (114.0, 28.0);
/// The bytes that every PNG begins with (ISO/IEC 15948, 5.2).
const SIGNATURE: &[u8] = b"\x89PNG\r\n\x1a\n";

/// A picture that was looked over.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Logo {
    kind: &'static str,
    bytes: Vec<u8>,
    printed: Result<Pixels, HouseError>,
}

/// A PNG as a PDF takes it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Pixels {
    /// Pixels in a row.
    pub width: u32,
    /// Rows.
    pub height: u32,
    /// Bits of a sample.
    pub depth: u8,
    /// What the samples are.
    pub colours: Colours,
    /// The rows as the PNG packs them.
    pub packed: Vec<u8>,
}

/// What the samples of a picture are.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) enum Colours {
    /// A grey each.
    Grey,
    /// Red, green and blue.
    Rgb,
    /// Places in a list of red, green and blue.
    Listed(Vec<u8>),
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
    /// A logo from the bytes of an SVG or PNG file; an SVG that could act or fetch is refused, and so is a broken PNG.
    pub fn new(bytes: &[u8]) -> Result<Self, HouseError> {
        if bytes.len() > LOGO_LIMIT {
            return Err(HouseError::LogoTooLarge);
        }
        if bytes.starts_with(SIGNATURE) {
            return match pixels(bytes) {
                Err(HouseError::LogoFormat) => Err(HouseError::LogoFormat),
                printed => Ok(Self { kind: "image/png", bytes: bytes.to_vec(), printed }),
            };
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
        Ok(Self { kind: "image/svg+xml", bytes: bytes.to_vec(), printed: Err(HouseError::LogoNotPrinted("an SVG")) })
    }

    /// Whether the logo can be printed in a PDF; [`HouseError::LogoNotPrinted`] names why not.
    pub fn check_print(&self) -> Result<(), HouseError> {
        self.printed.as_ref().map(|_| ()).map_err(Clone::clone)
    }

    /// The logo as a PDF takes it.
    pub(crate) fn pixels(&self) -> Option<&Pixels> {
        self.printed.as_ref().ok()
    }

    /// The logo as a `data:` address; as an image it runs nothing, whatever it holds.
    pub(crate) fn address(&self) -> String {
        format!("data:{};base64,{}", self.kind, base64::encode(&self.bytes))
    }
}

impl Pixels {
    /// Width and height on paper, pt: as large as the box allows.
    pub(crate) fn size(&self) -> (f64, f64) {
        let (width, height) = (f64::from(self.width), f64::from(self.height));
        let scale = (BOX.0 / width).min(BOX.1 / height);
        (width * scale, height * scale)
    }

    /// Samples of a pixel.
    pub(crate) const fn samples(&self) -> u8 {
        match self.colours {
            Colours::Rgb => 3,
            Colours::Grey | Colours::Listed(_) => 1,
        }
    }

    /// Whether the rows unpack to just what the picture's size asks for, each with a filter that is known.
    fn is_whole(&self) -> bool {
        let bits = u64::from(self.width) * u64::from(self.samples()) * u64::from(self.depth);
        let row = bits.div_ceil(8) + 1;
        let whole = row * u64::from(self.height);
        let mut rows = Vec::new();
        let read = ZlibDecoder::new(self.packed.as_slice()).take(whole + 1).read_to_end(&mut rows);
        let row = usize::try_from(row).unwrap_or(usize::MAX);
        read.is_ok_and(|length| length as u64 == whole)
            && rows.chunks(row).all(|row| row.first().is_some_and(|filter| *filter <= 4))
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

/// The chunks of a PNG: name and content (ISO/IEC 15948, 5.3).
fn chunks(bytes: &[u8]) -> impl Iterator<Item = (&[u8], &[u8])> {
    let mut rest = bytes.get(SIGNATURE.len()..).unwrap_or_default();
    std::iter::from_fn(move || {
        let (length, after) = rest.split_first_chunk::<4>()?;
        let (name, after) = after.split_at_checked(4)?;
        let length = usize::try_from(u32::from_be_bytes(*length)).ok()?;
        let (content, after) = after.split_at_checked(length)?;
        // Four bytes of check sum.
        rest = after.get(4..)?;
        Some((name, content))
    })
}

/// A PNG as a PDF takes it (ISO/IEC 15948, 11.2).
fn pixels(bytes: &[u8]) -> Result<Pixels, HouseError> {
    let chunk = |wanted: &[u8]| chunks(bytes).find(|(name, _)| *name == wanted).map(|(_, content)| content);
    let head = chunk(b"IHDR").ok_or(HouseError::LogoFormat)?;
    let &[a, b, c, d, e, f, g, h, depth, kind, _, _, interlaced] = head else { return Err(HouseError::LogoFormat) };
    let (width, height) = (u32::from_be_bytes([a, b, c, d]), u32::from_be_bytes([e, f, g, h]));
    if width == 0 || height == 0 {
        return Err(HouseError::LogoFormat);
    }
    if width > SIDE || height > SIDE {
        return Err(HouseError::LogoNotPrinted("a PNG of more than 4096 pixels a side"));
    }
    if interlaced != 0 {
        return Err(HouseError::LogoNotPrinted("an interlaced PNG"));
    }
    let colours = match (kind, depth) {
        (0, 1 | 2 | 4 | 8) => Colours::Grey,
        (2, 8) => Colours::Rgb,
        (3, 1 | 2 | 4 | 8) => Colours::Listed(chunk(b"PLTE").ok_or(HouseError::LogoFormat)?.to_vec()),
        (4 | 6, 8 | 16) => return Err(HouseError::LogoNotPrinted("a see-through PNG")),
        (0 | 2, 16) => return Err(HouseError::LogoNotPrinted("a PNG of 16 bits")),
        _ => return Err(HouseError::LogoFormat),
    };
    if chunk(b"tRNS").is_some() {
        return Err(HouseError::LogoNotPrinted("a see-through PNG"));
    }
    let packed = chunks(bytes).filter(|(name, _)| *name == b"IDAT").flat_map(|(_, content)| content).copied().collect();
    let pixels = Pixels { width, height, depth, colours, packed };
    if pixels.is_whole() { Ok(pixels) } else { Err(HouseError::LogoFormat) }
}

#[cfg(test)]
mod tests {
    use std::io::Write;

    use flate2::Compression;
    use flate2::write::ZlibEncoder;

    use super::*;

    /// A PNG with its rows unfiltered; check sums are left empty, for nothing here reads them.
    fn png(width: u32, height: u32, kind: u8, rows: &[u8]) -> Vec<u8> {
        let chunk = |name: &[u8], content: &[u8]| {
            let length = u32::try_from(content.len()).unwrap().to_be_bytes();
            [&length, name, content, &[0; 4]].concat()
        };
        let head = [&width.to_be_bytes()[..], &height.to_be_bytes(), &[8, kind, 0, 0, 0]].concat();
        let mut packer = ZlibEncoder::new(Vec::new(), Compression::default());
        packer.write_all(rows).unwrap();
        let data = packer.finish().unwrap();
        let (first, second) = data.split_at(data.len() / 2);
        let parts = [chunk(b"IHDR", &head), chunk(b"IDAT", first), chunk(b"IDAT", second), chunk(b"IEND", &[])];
        [SIGNATURE.to_vec(), parts.concat()].concat()
    }

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

    #[test]
    fn a_plain_png_is_printed_as_it_is_packed() {
        let logo = Logo::new(&png(2, 1, 2, &[0, 200, 0, 0, 0, 0, 200])).unwrap();
        let pixels = logo.pixels().unwrap();
        assert_eq!((pixels.width, pixels.height, pixels.samples()), (2, 1, 3));
        assert_eq!(pixels.size(), (56.0, 28.0));
        for (bytes, why) in [
            (png(1, 1, 6, &[0, 1, 2, 3, 4]), "a see-through PNG"),
            (png(5000, 1, 0, &[0; 5001]), "a PNG of more than 4096 pixels a side"),
        ] {
            assert_eq!(Logo::new(&bytes).unwrap().check_print(), Err(HouseError::LogoNotPrinted(why)));
        }
        let svg = Logo::new(b"<svg xmlns=\"http://www.w3.org/2000/svg\"/>").unwrap();
        assert_eq!(svg.check_print(), Err(HouseError::LogoNotPrinted("an SVG")));
    }

    #[test]
    fn a_png_that_is_not_whole_is_refused() {
        let whole = png(2, 2, 0, &[0, 9, 9, 1, 9, 9]);
        assert!(Logo::new(&whole).unwrap().check_print().is_ok());
        for bad in [
            whole[..30].to_vec(),
            SIGNATURE.to_vec(),
            png(2, 2, 0, &[0, 9, 9, 1, 9]),
            png(2, 2, 0, &[0, 9, 9, 1, 9, 9, 9]),
            png(2, 2, 0, &[0, 9, 9, 7, 9, 9]),
            png(2, 2, 5, &[0, 9, 9, 1, 9, 9]),
            png(2, 2, 3, &[0, 9, 9, 1, 9, 9]),
        ] {
            assert_eq!(Logo::new(&bad), Err(HouseError::LogoFormat));
        }
    }
}
