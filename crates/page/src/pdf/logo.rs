//! The shop's logo among the objects of a PDF: pixels or paths that fill a square of one by one unit.

use lopdf::{Document, Object, ObjectId, Stream, dictionary};

use crate::logo::{Artwork, Colours, Pixels, Printed};

use super::object::named;
use super::paint::LOGO;

/// Adds the logo to the pages that place it.
pub(super) fn embed(logo: &Printed, document: &mut Document, pages: &[ObjectId]) {
    let object = document.add_object(match logo {
        Printed::Pixels(pixels) => image(pixels),
        Printed::Artwork(artwork) => form(artwork),
    });
    for page in pages {
        let Some(resources) = named(document, *page, b"Resources") else { continue };
        let Ok(resources) = document.get_dictionary_mut(resources) else { continue };
        resources.set("XObject", dictionary! { LOGO => Object::Reference(object) });
    }
}

fn image(pixels: &Pixels) -> Stream {
    let space = match pixels.colours {
        Colours::Grey => "DeviceGray",
        Colours::Rgb => "DeviceRGB",
    };
    let entries = dictionary! {
        "Type" => "XObject",
        "Subtype" => "Image",
        "Width" => i64::from(pixels.width),
        "Height" => i64::from(pixels.height),
        "ColorSpace" => space,
        "BitsPerComponent" => 8,
        "Filter" => "FlateDecode",
        // 15: each row names its own PNG filter.
        "DecodeParms" => dictionary! {
            "Predictor" => 15,
            "Colors" => i64::from(pixels.colours.samples()),
            "BitsPerComponent" => 8,
            "Columns" => i64::from(pixels.width),
        },
    };
    Stream::new(entries, pixels.packed.clone())
}

/// Its box clips what a drawing holds beyond its edges.
fn form(artwork: &Artwork) -> Stream {
    let (width, height) = (artwork.width, artwork.height);
    let numbers = |numbers: &[f32]| numbers.iter().copied().map(Object::Real).collect::<Vec<_>>();
    let entries = dictionary! {
        "Type" => "XObject",
        "Subtype" => "Form",
        "BBox" => numbers(&[0.0, 0.0, width, height]),
        // A drawing runs downwards, a page upwards.
        "Matrix" => numbers(&[1.0 / width, 0.0, 0.0, -1.0 / height, 0.0, 1.0]),
        "Resources" => dictionary! {},
    };
    Stream::new(entries, artwork.content.clone().into_bytes())
}
