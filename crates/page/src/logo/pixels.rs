//! A PNG as a PDF takes it: 8 bits a sample, on white where it is see-through.

use std::io::{Cursor, Write};

use flate2::Compression;
use flate2::write::ZlibEncoder;
use png::{BitDepth, ColorType, Decoder, Transformations};

use crate::refused::HouseError;

/// Most rows and columns.
const SIDE: u32 = 4096;

/// The rows of a picture.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Pixels {
    /// Pixels in a row.
    pub width: u32,
    /// Rows.
    pub height: u32,
    /// What the samples are.
    pub colours: Colours,
    /// The rows, each a filter and its samples (ISO/IEC 15948, 9), packed by zlib.
    pub packed: Vec<u8>,
}

/// What the samples of a picture are, 8 bits each.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Colours {
    /// A grey each.
    Grey,
    /// Red, green and blue.
    Rgb,
}

impl Colours {
    /// Samples of a pixel.
    pub(crate) const fn samples(self) -> u8 {
        match self {
            Self::Grey => 1,
            Self::Rgb => 3,
        }
    }
}

/// Reads a whole PNG of up to 4096 pixels a side.
pub(super) fn read(bytes: &[u8]) -> Result<Pixels, HouseError> {
    let broken = |error: png::DecodingError| HouseError::PngBroken(error.to_string());
    let mut decoder = Decoder::new(Cursor::new(bytes));
    decoder.set_transformations(Transformations::EXPAND | Transformations::STRIP_16);
    let (width, height) = decoder.read_header_info().map_err(broken)?.size();
    if width > SIDE || height > SIDE {
        return Err(HouseError::LogoTooWide(SIDE));
    }
    let mut reader = decoder.read_info().map_err(broken)?;
    let mut samples = vec![0; reader.output_buffer_size().ok_or(HouseError::LogoFormat)?];
    let frame = reader.next_frame(&mut samples).map_err(broken)?;
    reader.finish().map_err(broken)?;
    let (colours, see_through) = match (frame.color_type, frame.bit_depth) {
        (ColorType::Grayscale, BitDepth::Eight) => (Colours::Grey, false),
        (ColorType::GrayscaleAlpha, BitDepth::Eight) => (Colours::Grey, true),
        (ColorType::Rgb, BitDepth::Eight) => (Colours::Rgb, false),
        (ColorType::Rgba, BitDepth::Eight) => (Colours::Rgb, true),
        _ => return Err(HouseError::LogoFormat),
    };
    let samples = if see_through { on_white(&samples, usize::from(colours.samples())) } else { samples };
    let row = usize::from(colours.samples()) * usize::try_from(width).map_err(|_| HouseError::LogoFormat)?;
    Ok(Pixels { width, height, colours, packed: pack(&samples, row) })
}

/// Lays pixels of `samples` samples and their opacity on white.
fn on_white(pixels: &[u8], samples: usize) -> Vec<u8> {
    let laid = |pixel: &[u8]| -> Vec<u8> {
        let (colours, opacity) = pixel.split_at(samples);
        let opacity = opacity.first().copied().map_or(255, u32::from);
        let mix = |sample: &u8| (u32::from(*sample) * opacity + 255 * (255 - opacity) + 127) / 255;
        colours.iter().map(|sample| u8::try_from(mix(sample)).unwrap_or(255)).collect()
    };
    pixels.chunks_exact(samples + 1).flat_map(laid).collect()
}

/// Packs rows of `row` bytes, each as its difference from the row above.
fn pack(samples: &[u8], row: usize) -> Vec<u8> {
    const UP: u8 = 2;
    let mut packer = ZlibEncoder::new(Vec::new(), Compression::default());
    let mut above = vec![0; row];
    let mut filtered = Vec::with_capacity(row + 1);
    for samples in samples.chunks_exact(row) {
        filtered.clear();
        filtered.push(UP);
        filtered.extend(samples.iter().zip(&above).map(|(sample, above)| sample.wrapping_sub(*above)));
        packer.write_all(&filtered).expect("memory takes every byte");
        above.copy_from_slice(samples);
    }
    packer.finish().expect("memory takes every byte")
}
