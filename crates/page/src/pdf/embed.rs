//! The faces as they stand in a file: the glyphs that its pages use, with widths and the table that makes text
//! searchable, as printpdf writes them, packed.
//!
//! Cutting and packing a face takes longer than writing a page. Documents of one shop use nearly the same letters, so
//! the usual ones are always in, and what was made for one document is kept in [`Faces`] for the next with the same characters.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, PoisonError, RwLock};

use lopdf::{Dictionary, Object, ObjectId};
use printpdf::{FontId, Op, PdfDocument, PdfFont, PdfFontHandle, PdfPage, PdfSaveOptions, Pt, Rect, TextItem};
use seamwright_drawing::face::{FACES, Face};

use super::error::PdfError;
use super::fonts::{resource, subset};
use super::object::{named, pack};
use super::used::Used;

/// What nearly every sheet uses of a face.
const USUAL: &str = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789 .,:;()/%=+-–·°±×";

/// The most that is kept of each face; a run over more different sets of characters starts anew.
const MOST_KEPT: usize = 32;

/// The faces that a file uses.
pub(super) struct Fonts(Vec<(Face, Arc<Embedded>)>);

impl Fonts {
    /// The faces with the characters that pages use.
    pub(super) fn of(used: &Used, kept: &Faces) -> Result<Self, PdfError> {
        let faces = FACES.into_iter().map(|face| (face, used.of(face))).filter(|(_, used)| !used.is_empty());
        faces.map(|(face, used)| Ok((face, kept.with(face, &used)?))).collect::<Result<_, _>>().map(Self)
    }

    /// The glyph of a character; the empty glyph for one that the pages were not said to use.
    pub(super) fn glyph(&self, face: Face, character: char) -> u16 {
        self.0.iter().find(|(own, _)| *own == face).map_or(0, |(_, embedded)| embedded.glyph(character))
    }

    /// Adds the faces to a document; gives them by the names that pages call them by.
    pub(super) fn add_to(&self, document: &mut lopdf::Document) -> Dictionary {
        let mut names = Dictionary::new();
        for (face, embedded) in &self.0 {
            names.set(resource(*face), Object::Reference(embedded.add_to(document)));
        }
        names
    }
}

/// A part of a face, ready to stand in a file.
#[derive(Debug)]
struct Embedded {
    /// Glyphs of the first characters of Unicode, in order.
    first: [u16; 256],
    /// Glyphs of all others.
    others: BTreeMap<char, u16>,
    /// The font and what belongs to it; the trailer names it.
    objects: lopdf::Document,
}

/// Under this key of its trailer stands the font of [`Embedded::objects`].
const FONT: &[u8] = b"Root";

type Kept = BTreeMap<(Face, BTreeSet<char>), Arc<Embedded>>;

/// Parts of faces that were made lately.
#[derive(Debug, Default)]
pub(crate) struct Faces(RwLock<Kept>);

impl Faces {
    /// The face with the usual characters and these.
    fn with(&self, face: Face, characters: &BTreeSet<char>) -> Result<Arc<Embedded>, PdfError> {
        let all: BTreeSet<char> = USUAL.chars().chain(characters.iter().copied()).collect();
        let key = (face, all);
        // A thread that died left nothing half-done: what is kept is whole when it is put in.
        if let Some(made) = self.0.read().unwrap_or_else(PoisonError::into_inner).get(&key) {
            return Ok(Arc::clone(made));
        }
        let made = Arc::new(Embedded::make(face, &key.1)?);
        let mut kept = self.0.write().unwrap_or_else(PoisonError::into_inner);
        if kept.len() >= MOST_KEPT {
            kept.clear();
        }
        kept.insert(key, Arc::clone(&made));
        Ok(made)
    }
}

impl Embedded {
    fn make(face: Face, characters: &BTreeSet<char>) -> Result<Self, PdfError> {
        let font = subset(face, characters)?;
        let mut first = [0; 256];
        let mut others = BTreeMap::new();
        for &character in characters {
            let glyph = font.lookup_glyph_index(u32::from(character)).unwrap_or(0);
            match first.get_mut(character as usize) {
                Some(place) => *place = glyph,
                None => _ = others.insert(character, glyph),
            }
        }
        Ok(Self { first, others, objects: as_objects(face, font, characters)? })
    }

    fn glyph(&self, character: char) -> u16 {
        match self.first.get(character as usize) {
            Some(&glyph) => glyph,
            None => self.others.get(&character).copied().unwrap_or(0),
        }
    }

    /// Adds the font to a document; gives its place.
    fn add_to(&self, document: &mut lopdf::Document) -> ObjectId {
        let mut own = self.objects.clone();
        own.renumber_objects_with(document.max_id + 1);
        document.max_id = own.max_id;
        document.objects.extend(own.objects);
        font_of(&own.trailer).unwrap_or_default()
    }
}

fn font_of(trailer: &Dictionary) -> Option<ObjectId> {
    trailer.get(FONT).and_then(Object::as_reference).ok()
}

/// The font as printpdf writes it for a page that shows each of the characters.
fn as_objects(
    face: Face,
    font: printpdf::ParsedFont,
    characters: &BTreeSet<char>,
) -> Result<lopdf::Document, PdfError> {
    let id = FontId(resource(face).to_owned());
    let mut document = PdfDocument::new("");
    document.resources.fonts.map.insert(id.clone(), PdfFont::new(font));
    let area = Rect::from_wh(Pt(1.0), Pt(1.0));
    let ops = vec![
        Op::SetFont { font: PdfFontHandle::External(id), size: Pt(1.0) },
        Op::ShowText { items: vec![TextItem::Text(characters.iter().collect())] },
    ];
    document.pages.push(PdfPage { media_box: area.clone(), trim_box: area.clone(), crop_box: area, ops });
    let mut document = document.to_lopdf_document(&PdfSaveOptions::default(), &mut Vec::new());
    let font = document
        .page_iter()
        .next()
        .and_then(|page| named(&document, page, b"Resources"))
        .and_then(|resources| named(&document, resources, b"Font"))
        .and_then(|list| named(&document, list, resource(face).as_bytes()))
        .ok_or_else(|| PdfError::Font { reason: "the built-in font was not embedded".to_owned() })?;
    document.trailer = Dictionary::from_iter([(FONT.to_vec(), Object::Reference(font))]);
    document.prune_objects();
    pack(&mut document)?;
    Ok(document)
}
