//! The faces of a sheet in a document: the part of each that a document embeds, and what they cannot print.
//!
//! A document embeds only the glyphs that it uses; their widths are those that the text was measured with.

use std::collections::{BTreeMap, BTreeSet};

use allsorts::binary::read::ReadScope;
use allsorts::font_data::{DynamicFontTableProvider, FontData};
use allsorts::subset::{CmapTarget, SubsetProfile, subset as cut};
use allsorts::tables::os2::Os2;
use allsorts::tables::{FontTableProvider, HeadTable, HheaTable};
use allsorts::tag;
use seamwright_drawing::face::{FACES, Face};
use seamwright_model::source::hidden;
use sha2::{Digest, Sha256};

use super::error::PdfError;

/// The tables that a reader needs of an embedded TrueType font (ISO 32000-1, 9.9), besides the outlines. The names,
/// mostly the licence in full, would be a third of the file; `cvt`, `fpgm` and `prep` serve the instructions of glyphs, and
/// no glyph of these faces has any.
const EMBEDDED: [u32; 5] = [tag::CMAP, tag::HEAD, tag::HHEA, tag::HMTX, tag::MAXP];

/// Name of the font in the resources of a page.
pub(super) const fn resource(face: Face) -> &'static str {
    match face {
        Face::Regular => "R",
        Face::Bold => "B",
    }
}

/// The font's own name.
const fn name(face: Face) -> &'static str {
    match face {
        Face::Regular => "DejaVuSansCondensed",
        Face::Bold => "DejaVuSansCondensed-Bold",
    }
}

/// A font as it is cut, and what a document says of it beside its widths.
struct Whole {
    provider: DynamicFontTableProvider<'static>,
    ascender: i16,
    descender: i16,
    bounds: [i16; 4],
    weight: u16,
}

impl Whole {
    fn read(face: Face) -> Result<Self, PdfError> {
        let wrong = |what: &str| PdfError::Font { reason: format!("the built-in font has no readable {what} table") };
        let data = ReadScope::new(face.font()).read::<FontData<'static>>().map_err(|_| wrong("directory"))?;
        let provider = data.table_provider(0).map_err(|_| wrong("directory"))?;
        let table = |tag, name: &str| provider.read_table_data(tag).map_err(|_| wrong(name));

        let head_data = table(tag::HEAD, "head")?;
        let head = ReadScope::new(&head_data).read::<HeadTable>().map_err(|_| wrong("head"))?;
        let hhea_data = table(tag::HHEA, "hhea")?;
        let hhea = ReadScope::new(&hhea_data).read::<HheaTable>().map_err(|_| wrong("hhea"))?;
        let weight = provider
            .read_table_data(tag::OS_2)
            .ok()
            .and_then(|data| ReadScope::new(&data).read_dep::<Os2>(data.len()).ok().map(|os2| os2.us_weight_class));
        Ok(Self {
            ascender: hhea.ascender,
            descender: hhea.descender,
            bounds: [head.x_min, head.y_min, head.x_max, head.y_max],
            weight: weight.unwrap_or(400),
            provider,
        })
    }
}

/// The part of a face that holds `characters`, ready to be embedded.
pub(super) fn subset(face: Face, characters: &BTreeSet<char>) -> Result<printpdf::ParsedFont, PdfError> {
    let metrics = face.metrics().map_err(|reason| PdfError::Font { reason: reason.to_owned() })?;
    let whole = Whole::read(face)?;
    let mut glyphs: Vec<u16> = characters.iter().map(|&character| metrics.glyph(character)).collect();
    glyphs.push(0);
    glyphs.sort_unstable();
    glyphs.dedup();
    let profile = SubsetProfile::Custom(EMBEDDED.to_vec());
    let bytes = cut(&whole.provider, &glyphs, &profile, CmapTarget::Unicode)
        .map_err(|error| PdfError::Font { reason: format!("the built-in font cannot be subset: {error}") })?;

    // A subset numbers its glyphs anew, in the order asked for.
    let mut mapping = BTreeMap::new();
    let mut widths = BTreeMap::new();
    for &character in characters {
        let glyph = metrics.glyph(character);
        let renumbered = glyphs.binary_search(&glyph).ok().and_then(|place| u16::try_from(place).ok());
        let renumbered = renumbered.unwrap_or(0);
        mapping.insert(u32::from(character), renumbered);
        widths.insert(renumbered, metrics.units(glyph));
    }
    let name = format!("{}+{}", subset_tag(&glyphs), name(face));
    let mut font = printpdf::ParsedFont::with_glyph_data(
        bytes,
        0,
        Some(name),
        mapping,
        widths,
        metrics.units_per_em(),
        printpdf::FontMetrics { ascent: whole.ascender, descent: whole.descender },
    );
    let [x_min, y_min, x_max, y_max] = whole.bounds;
    font.pdf_font_metrics.x_min = x_min;
    font.pdf_font_metrics.y_min = y_min;
    font.pdf_font_metrics.x_max = x_max;
    font.pdf_font_metrics.y_max = y_max;
    font.pdf_font_metrics.us_weight_class = whole.weight;
    Ok(font)
}

/// Six capitals that mark a subset (ISO 32000-1, 9.6.4), made from the glyphs so that equal subsets have equal tags.
fn subset_tag(glyphs: &[u16]) -> String {
    let mut hash = Sha256::new();
    for glyph in glyphs {
        hash.update(glyph.to_be_bytes());
    }
    hash.finalize().iter().take(6).map(|byte| char::from(b'A' + byte % 26)).collect()
}

/// Characters that are not ink: they steer text and have no place on a printed sheet.
fn steers_text(character: char) -> bool {
    hidden(character) && !matches!(character, '\n' | '\t' | '\r')
}

/// Letters of scripts that run from right to left (the blocks of Unicode 16.0): set from the left they would read backwards.
fn runs_from_the_right(character: char) -> bool {
    matches!(
        character,
        '\u{590}'..='\u{8ff}' | '\u{fb1d}'..='\u{fdff}' | '\u{fe70}'..='\u{fefc}' | '\u{10800}'..='\u{10fff}' | '\u{1e800}'..='\u{1efff}'
    )
}

/// The characters of `text` that a sheet cannot print, each once, in the order of the text: those that have no glyph
/// in one of the two faces, control and formatting characters, and letters that run from right to left.
pub fn missing_glyphs(text: &str) -> Vec<char> {
    let mut missing = Vec::new();
    if text.bytes().all(|byte| matches!(byte, b' '..=b'~' | b'\n')) {
        return missing;
    }
    for character in text.chars() {
        let refused =
            steers_text(character) || runs_from_the_right(character) || FACES.iter().any(|face| !face.has(character));
        if refused && !missing.contains(&character) {
            missing.push(character);
        }
    }
    missing
}

/// Refuses a text that cannot be printed as it stands.
pub(super) fn check(text: &str) -> Result<(), PdfError> {
    match missing_glyphs(text).first() {
        None => Ok(()),
        Some(&character) if steers_text(character) || runs_from_the_right(character) => {
            Err(PdfError::Unprintable { character, text: shortened(text) })
        }
        Some(&character) => Err(PdfError::MissingGlyph { character, text: shortened(text) }),
    }
}

/// A text for a message: its first words, with escapes for what cannot be shown.
fn shortened(text: &str) -> String {
    let mut short: String = text
        .chars()
        .take(60)
        .flat_map(|c| if steers_text(c) { c.escape_unicode().collect::<Vec<_>>() } else { vec![c] })
        .collect();
    if text.chars().nth(60).is_some() {
        short.push('…');
    }
    short
}
