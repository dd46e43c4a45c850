//! The two faces of every sheet: which characters they have, and how wide each is.
//!
//! Text is measured on the full font, in the whole thousandths of an em that a PDF states as widths, so that what is laid
//! out is what a reader shows. Another face is one more variant of [`Face`] and its line in [`FACES`].

use std::collections::BTreeMap;
use std::sync::LazyLock;

use allsorts::binary::read::ReadScope;
use allsorts::font_data::FontData;
use allsorts::tables::cmap::Cmap;
use allsorts::tables::{FontTableProvider, HeadTable, HheaTable, HmtxTable, MaxpTable};
use allsorts::tag;

/// A face of the type.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Face {
    /// Running text and labels.
    Regular,
    /// Values and headings.
    Bold,
}

/// Every face, in the order of their resource names.
pub const FACES: [Face; 2] = [Face::Regular, Face::Bold];

/// Height of the type above its baseline, in em; accents on capitals reach a little higher.
pub const ASCENT: f64 = 0.76;
/// Depth of the type below its baseline, in em.
pub const DESCENT: f64 = 0.24;

/// What is read once of a font: which glyph a character has and how wide it is.
pub struct Metrics {
    /// Glyph of each character of the basic plane; 0 where there is none.
    basic: Vec<u16>,
    /// Glyphs beyond the basic plane.
    beyond: BTreeMap<u32, u16>,
    /// Width of each glyph, in font units.
    advances: Vec<u16>,
    /// The same in thousandths of an em, cut to whole numbers as a PDF states them.
    thousandths: Vec<u32>,
    units_per_em: u16,
}

static REGULAR: LazyLock<Result<Metrics, String>> = LazyLock::new(|| Metrics::read(Face::Regular));
static BOLD: LazyLock<Result<Metrics, String>> = LazyLock::new(|| Metrics::read(Face::Bold));

impl Metrics {
    fn read(face: Face) -> Result<Self, String> {
        let wrong = |what: &str| format!("the built-in font has no readable {what} table");
        let data = ReadScope::new(face.font()).read::<FontData<'static>>().map_err(|_| wrong("directory"))?;
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
        })
    }

    /// The glyph of a character; 0 where there is none.
    pub fn glyph(&self, character: char) -> u16 {
        let code = u32::from(character);
        match self.basic.get(code as usize) {
            Some(&glyph) => glyph,
            None => self.beyond.get(&code).copied().unwrap_or(0),
        }
    }

    /// Width of a glyph in font units.
    pub fn units(&self, glyph: u16) -> u16 {
        self.advances.get(usize::from(glyph)).copied().unwrap_or(0)
    }

    /// Font units of an em.
    pub const fn units_per_em(&self) -> u16 {
        self.units_per_em
    }

    /// Width in thousandths of an em.
    fn advance(&self, glyph: u16) -> u32 {
        self.thousandths.get(usize::from(glyph)).copied().unwrap_or(0)
    }
}

impl Face {
    /// The whole font, as a file.
    pub fn font(self) -> &'static [u8] {
        match self {
            Self::Regular => dejavu::sans_condensed::regular(),
            Self::Bold => dejavu::sans_condensed::bold(),
        }
    }

    /// Glyphs and widths. `Err` says in words why the built-in font cannot be read.
    pub fn metrics(self) -> Result<&'static Metrics, &'static str> {
        let read = match self {
            Self::Regular => &*REGULAR,
            Self::Bold => &*BOLD,
        };
        read.as_ref().map_err(String::as_str)
    }

    /// Whether the face has a shape for a character.
    pub fn has(self, character: char) -> bool {
        self.metrics().is_ok_and(|metrics| metrics.glyph(as_set(character)) != 0)
    }

    /// Width of one character, in em.
    pub fn advance(self, character: char) -> f64 {
        let character = as_set(character);
        self.metrics().map_or(0.0, |metrics| f64::from(metrics.advance(metrics.glyph(character))) / 1000.0)
    }

    /// Width of a text, in em.
    pub fn width(self, text: &str) -> f64 {
        let Ok(metrics) = self.metrics() else { return 0.0 };
        let thousandths: u32 = text.chars().map(|character| metrics.advance(metrics.glyph(as_set(character)))).sum();
        f64::from(thousandths) / 1000.0
    }
}

/// The character that is set for one of the text: every kind of white space is a plain space.
pub const fn as_set(character: char) -> char {
    match character {
        '\t' | '\n' | '\r' | '\u{a0}' => ' ',
        other => other,
    }
}

/// Width of a text in the sheets' type, in em.
pub fn text_width(text: &str, bold: bool) -> f64 {
    if bold { Face::Bold.width(text) } else { Face::Regular.width(text) }
}
