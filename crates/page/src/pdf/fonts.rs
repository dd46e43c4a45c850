//! The two faces of every sheet: what they hold, how wide it is, and the part of them that a document embeds.
//!
//! Text is measured on the full font, in the whole thousandths of an em that the document states as widths, so that
//! what is laid out is what a reader shows. A document embeds only the glyphs that it uses. Another face is one more
//! variant of [`Face`] and its line in [`FACES`].

use std::collections::{BTreeMap, BTreeSet};
use std::sync::LazyLock;

use allsorts::binary::read::ReadScope;
use allsorts::font_data::{DynamicFontTableProvider, FontData};
use allsorts::subset::{CmapTarget, SubsetProfile, subset};
use allsorts::tables::cmap::Cmap;
use allsorts::tables::os2::Os2;
use allsorts::tables::{FontTableProvider, HeadTable, HheaTable, HmtxTable, MaxpTable};
use allsorts::tag;
use seamwright_model::source::hidden;
use sha2::{Digest, Sha256};

use super::error::PdfError;

/// A face of the type.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Face {
    /// Running text and labels.
    Regular,
    /// Values and headings.
    Bold,
}

/// Every face, in the order of their resource names.
pub(super) const FACES: [Face; 2] = [Face::Regular, Face::Bold];

/// Height of the type above its baseline, in em; accents on capitals reach a little higher.
pub(super) const ASCENT: f64 = 0.76;
/// Depth of the type below its baseline, in em.
pub(super) const DESCENT: f64 = 0.24;

/// The tables that a reader needs of an embedded TrueType font (ISO 32000-1, 9.9), besides the outlines. The names,
/// mostly the licence in full, would be a third of the file; `cvt`, `fpgm` and `prep` serve the instructions of glyphs, and
/// no glyph of these faces has any.
const EMBEDDED: [u32; 5] = [tag::CMAP, tag::HEAD, tag::HHEA, tag::HMTX, tag::MAXP];

/// What is read once of a font: which glyph a character has and how wide it is.
struct Metrics {
    provider: DynamicFontTableProvider<'static>,
    /// Glyph of each character of the basic plane; 0 where there is none.
    basic: Vec<u16>,
    /// Glyphs beyond the basic plane.
    beyond: BTreeMap<u32, u16>,
    /// Width of each glyph, in font units.
    advances: Vec<u16>,
    /// The same in thousandths of an em, cut to whole numbers as the document states them.
    thousandths: Vec<u32>,
    units_per_em: u16,
    ascender: i16,
    descender: i16,
    bounds: [i16; 4],
    weight: u16,
}

static REGULAR: LazyLock<Result<Metrics, String>> = LazyLock::new(|| Metrics::read(dejavu::sans_condensed::regular()));
static BOLD: LazyLock<Result<Metrics, String>> = LazyLock::new(|| Metrics::read(dejavu::sans_condensed::bold()));

impl Metrics {
    fn read(bytes: &'static [u8]) -> Result<Self, String> {
        let wrong = |what: &str| format!("the built-in font has no readable {what} table");
        let data = ReadScope::new(bytes).read::<FontData<'static>>().map_err(|_| wrong("directory"))?;
        let provider = data.table_provider(0).map_err(|_| wrong("directory"))?;
        let table = |tag, name: &str| provider.read_table_data(tag).map_err(|_| wrong(name));

        let head_data = table(tag::HEAD, "head")?;
        let head = ReadScope::new(&head_data).read::<HeadTable>().map_err(|_| wrong("head"))?;
        let maxp_data = table(tag::MAXP, "maxp")?;
        let maxp = ReadScope::new(&maxp_data).read::<MaxpTable>().map_err(|_| wrong("maxp"))?;
        let hhea_data = table(tag::HHEA, "hhea")?;
        let hhea = ReadScope::new(&hhea_data).read::<HheaTable>().map_err(|_| wrong("hhea"))?;
        let hmtx_data = table(tag::HMTX, "hmtx")?;
        let hmtx = ReadScope::new(&hmtx_data)
            .read_dep::<HmtxTable<'_>>((usize::from(maxp.num_glyphs), usize::from(hhea.num_h_metrics)))
            .map_err(|_| wrong("hmtx"))?;
        let weight = provider
            .read_table_data(tag::OS_2)
            .ok()
            .and_then(|data| ReadScope::new(&data).read_dep::<Os2>(data.len()).ok().map(|os2| os2.us_weight_class));

        let mut basic = vec![0_u16; 0x1_0000];
        let mut beyond = BTreeMap::new();
        let cmap_data = table(tag::CMAP, "cmap")?;
        let cmap = ReadScope::new(&cmap_data).read::<Cmap<'_>>().map_err(|_| wrong("cmap"))?;
        let (_, subtable) =
            allsorts::font::read_cmap_subtable(&cmap).ok().flatten().ok_or_else(|| wrong("Unicode cmap"))?;
        subtable
            .mappings_fn(|character, glyph| match basic.get_mut(character as usize) {
                Some(place) => *place = glyph,
                None => _ = beyond.insert(character, glyph),
            })
            .map_err(|_| wrong("cmap"))?;
        let advances: Vec<u16> =
            (0..maxp.num_glyphs).map(|glyph| hmtx.horizontal_advance(glyph).unwrap_or(0)).collect();
        let units_per_em = head.units_per_em.max(1);

        Ok(Self {
            basic,
            beyond,
            thousandths: advances.iter().map(|&own| u32::from(own) * 1000 / u32::from(units_per_em)).collect(),
            advances,
            units_per_em,
            ascender: hhea.ascender,
            descender: hhea.descender,
            bounds: [head.x_min, head.y_min, head.x_max, head.y_max],
            weight: weight.unwrap_or(400),
            provider,
        })
    }

    fn glyph(&self, character: char) -> u16 {
        let code = u32::from(character);
        match self.basic.get(code as usize) {
            Some(&glyph) => glyph,
            None => self.beyond.get(&code).copied().unwrap_or(0),
        }
    }

    /// Width in thousandths of an em.
    fn advance(&self, glyph: u16) -> u32 {
        self.thousandths.get(usize::from(glyph)).copied().unwrap_or(0)
    }
}

impl Face {
    fn metrics(self) -> Option<&'static Metrics> {
        match self {
            Self::Regular => REGULAR.as_ref().ok(),
            Self::Bold => BOLD.as_ref().ok(),
        }
    }

    fn loaded(self) -> Result<&'static Metrics, PdfError> {
        let read = match self {
            Self::Regular => &*REGULAR,
            Self::Bold => &*BOLD,
        };
        read.as_ref().map_err(|reason| PdfError::Font { reason: reason.clone() })
    }

    /// Name of the font in the resources of a page.
    pub(super) const fn resource(self) -> &'static str {
        match self {
            Self::Regular => "R",
            Self::Bold => "B",
        }
    }

    /// The font's own name.
    const fn name(self) -> &'static str {
        match self {
            Self::Regular => "DejaVuSansCondensed",
            Self::Bold => "DejaVuSansCondensed-Bold",
        }
    }

    /// Width of one character, in em.
    pub(super) fn advance(self, character: char) -> f64 {
        let character = as_set(character);
        self.metrics().map_or(0.0, |metrics| f64::from(metrics.advance(metrics.glyph(character))) / 1000.0)
    }

    /// Width of a text, in em.
    pub(super) fn width(self, text: &str) -> f64 {
        let Some(metrics) = self.metrics() else { return 0.0 };
        let thousandths: u32 = text.chars().map(|character| metrics.advance(metrics.glyph(as_set(character)))).sum();
        f64::from(thousandths) / 1000.0
    }

    /// The part of the face that holds `characters`, ready to be embedded.
    pub(super) fn subset(self, characters: &BTreeSet<char>) -> Result<printpdf::ParsedFont, PdfError> {
        let metrics = self.loaded()?;
        let mut glyphs: Vec<u16> = characters.iter().map(|&character| metrics.glyph(character)).collect();
        glyphs.push(0);
        glyphs.sort_unstable();
        glyphs.dedup();
        let profile = SubsetProfile::Custom(EMBEDDED.to_vec());
        let bytes = subset(&metrics.provider, &glyphs, &profile, CmapTarget::Unicode)
            .map_err(|error| PdfError::Font { reason: format!("the built-in font cannot be subset: {error}") })?;

        // A subset numbers its glyphs anew, in the order asked for.
        let mut mapping = BTreeMap::new();
        let mut widths = BTreeMap::new();
        for &character in characters {
            let glyph = metrics.glyph(character);
            let renumbered = glyphs.binary_search(&glyph).ok().and_then(|place| u16::try_from(place).ok());
            let renumbered = renumbered.unwrap_or(0);
            mapping.insert(u32::from(character), renumbered);
            widths.insert(renumbered, metrics.advances.get(usize::from(glyph)).copied().unwrap_or(0));
        }
        let name = format!("{}+{}", subset_tag(&glyphs), self.name());
        let mut font = printpdf::ParsedFont::with_glyph_data(
            bytes,
            0,
            Some(name),
            mapping,
            widths,
            metrics.units_per_em,
            printpdf::FontMetrics { ascent: metrics.ascender, descent: metrics.descender },
        );
        let [x_min, y_min, x_max, y_max] = metrics.bounds;
        font.pdf_font_metrics.x_min = x_min;
        font.pdf_font_metrics.y_min = y_min;
        font.pdf_font_metrics.x_max = x_max;
        font.pdf_font_metrics.y_max = y_max;
        font.pdf_font_metrics.us_weight_class = metrics.weight;
        Ok(font)
    }
}

/// Six capitals that mark a subset (ISO 32000-1, 9.6.4), made from the glyphs so that equal subsets have equal tags.
fn subset_tag(glyphs: &[u16]) -> String {
    let mut hash = Sha256::new();
    for glyph in glyphs {
        hash.update(glyph.to_be_bytes());
    }
    hash.finalize().iter().take(6).map(|byte| char::from(b'A' + byte % 26)).collect()
}

/// The character that is set for one of the text: every kind of white space is a plain space.
pub(super) const fn as_set(character: char) -> char {
    match character {
        '\t' | '\n' | '\r' | '\u{a0}' => ' ',
        other => other,
    }
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

fn is_missing(character: char) -> bool {
    let character = as_set(character);
    FACES.iter().any(|face| face.metrics().is_none_or(|metrics| metrics.glyph(character) == 0))
}

/// Width of a text in the sheets' type, in em.
pub fn text_width(text: &str, bold: bool) -> f64 {
    if bold { Face::Bold.width(text) } else { Face::Regular.width(text) }
}

/// The characters of `text` that a sheet cannot print, each once, in the order of the text: those that have no glyph
/// in one of the two faces, control and formatting characters, and letters that run from right to left.
pub fn missing_glyphs(text: &str) -> Vec<char> {
    let mut missing = Vec::new();
    if text.bytes().all(|byte| matches!(byte, b' '..=b'~' | b'\n')) {
        return missing;
    }
    for character in text.chars() {
        let refused = steers_text(character) || runs_from_the_right(character) || is_missing(character);
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
