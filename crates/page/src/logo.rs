//! The logo of a shop: looked over once, shown by a page as it is, printed as pixels or as the paths of a drawing.
//!
//! Every PNG can be printed. Of an SVG a PDF takes plain paths; what else one holds is for pages only, and
//! [`Logo::check_print`] names it.

mod acts;
mod artwork;
mod pixels;
mod reach;

use roxmltree::Document;

use crate::html::base64;
use crate::refused::HouseError;

pub(crate) use artwork::Artwork;
pub(crate) use pixels::{Colours, Pixels};

pub use crate::refused::{LOGO_LIMIT, Unprinted};

/// The box that a logo fills on paper, pt.
const BOX: (f64, f64) = (114.0, 28.0);
/// The bytes that every PNG begins with (ISO/IEC 15948, 5.2).
const SIGNATURE: &[u8] = b"\x89PNG\r\n\x1a\n";

/// A picture that was looked over.
#[derive(Debug, Clone, PartialEq)]
pub struct Logo {
    kind: &'static str,
    bytes: Vec<u8>,
    printed: Result<Printed, HouseError>,
}

/// A logo as a PDF takes it.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Printed {
    /// From a PNG.
    Pixels(Pixels),
    /// From an SVG.
    Artwork(Artwork),
}

impl Logo {
    /// A logo from the bytes of an SVG or PNG file; an SVG that could act or fetch is refused, and so is a broken PNG.
    pub fn new(bytes: &[u8]) -> Result<Self, HouseError> {
        if bytes.len() > LOGO_LIMIT {
            return Err(HouseError::LogoTooLarge);
        }
        if bytes.starts_with(SIGNATURE) {
            let printed = Ok(Printed::Pixels(pixels::read(bytes)?));
            return Ok(Self { kind: "image/png", bytes: bytes.to_vec(), printed });
        }
        let text = std::str::from_utf8(bytes).map_err(|_| HouseError::LogoFormat)?;
        if !text.contains("<svg") {
            return Err(HouseError::LogoFormat);
        }
        // A document type is refused by the parser: its entities could fetch or multiply.
        let drawing = Document::parse(text).map_err(|error| HouseError::LogoBroken(error.to_string()))?;
        if !drawing.root_element().has_tag_name((acts::SVG, "svg")) {
            return Err(HouseError::LogoFormat);
        }
        if let Some(found) = drawing.descendants().find_map(acts::acts) {
            return Err(HouseError::LogoUnsafe(found));
        }
        let printed = artwork::read(&drawing).map(Printed::Artwork).map_err(HouseError::LogoNotPrinted);
        Ok(Self { kind: "image/svg+xml", bytes: bytes.to_vec(), printed })
    }

    /// Whether the logo can be printed in a PDF; [`HouseError::LogoNotPrinted`] names why not.
    pub fn check_print(&self) -> Result<(), HouseError> {
        self.printed.as_ref().map(|_| ()).map_err(Clone::clone)
    }

    /// The logo as a PDF takes it.
    pub(crate) fn printed(&self) -> Option<&Printed> {
        self.printed.as_ref().ok()
    }

    /// The logo as a `data:` address; as an image it runs nothing, whatever it holds.
    pub(crate) fn address(&self) -> String {
        format!("data:{};base64,{}", self.kind, base64::encode(&self.bytes))
    }
}

impl Printed {
    /// Width and height on paper, pt: as large as the box allows.
    pub(crate) fn size(&self) -> (f64, f64) {
        let (width, height) = match self {
            Self::Pixels(pixels) => (f64::from(pixels.width), f64::from(pixels.height)),
            Self::Artwork(artwork) => (f64::from(artwork.width), f64::from(artwork.height)),
        };
        let scale = (BOX.0 / width).min(BOX.1 / height);
        (width * scale, height * scale)
    }
}

#[cfg(test)]
mod tests;
