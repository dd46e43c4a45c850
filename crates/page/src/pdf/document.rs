//! Pages become a file: printpdf writes the pages with their links, lopdf the rest (outline, labels, attachments,
//! metadata); what stands on a page is painted by `paint`, in fonts from `embed`.

use lopdf::{Dictionary, Object, ObjectId, SaveOptions, Stream, StringFormat, dictionary, text_string};
use printpdf::{
    Actions, BorderArray, ColorArray, Destination, LinkAnnotation, Op, PdfDocument, PdfPage, PdfSaveOptions, Pt, Rect,
};
use sha2::{Digest, Sha256};

use crate::attached::PRODUCER;
use crate::block::Source;
use crate::logo::Printed;

use super::attach;
use super::embed::{Faces, Fonts};
use super::error::PdfError;
use super::logo;
use super::object::{LEVEL, named, pack, pdf_date};
use super::pages::Page;
use super::paint::Painter;
use super::tag::{Link, Structure};
use super::used::Used;
use super::{colour, xmp};
use crate::paper::Paper;

/// An entry of the outline and those under it.
pub(super) struct Node {
    pub title: String,
    /// Index of the page.
    pub page: usize,
    /// From the top of the page, pt.
    pub y: f64,
    pub children: Vec<Node>,
}

/// From which page on pages are labelled how.
pub(super) struct Label {
    pub page: usize,
    pub roman: bool,
    pub prefix: String,
}

/// A file to be written.
pub(super) struct File<'a> {
    pub paper: Paper,
    pub language: &'a str,
    pub title: String,
    pub author: String,
    pub subject: String,
    pub keywords: String,
    /// ISO 8601; only its day is used.
    pub date: Option<&'a str>,
    pub outline: Vec<Node>,
    pub labels: Vec<Label>,
    pub links: Vec<Link>,
    pub sources: Vec<&'a Source>,
    /// The shop's logo.
    pub logo: Option<&'a Printed>,
    /// Faces that were made lately.
    pub faces: &'a Faces,
}

impl File<'_> {
    /// Writes the file.
    pub(super) fn write(&self, pages: &[Page]) -> Result<Vec<u8>, PdfError> {
        let mut document = self.pages_with_links(pages.len());
        let structure = self.paint(&mut document, pages)?;
        self.finish(&mut document, &structure)?;
        let mut bytes = Vec::with_capacity(32 * 1024);
        // Small objects stand together in packed streams; pages and attachments stay as they are.
        let options = SaveOptions::builder()
            .use_object_streams(true)
            .use_xref_streams(true)
            .max_objects_per_stream(TOGETHER)
            .compression_level(LEVEL)
            .build();
        document
            .save_with_options(&mut bytes, options)
            .map_err(|error| PdfError::Write { reason: error.to_string() })?;
        Ok(bytes)
    }

    fn pages_with_links(&self, count: usize) -> lopdf::Document {
        let (width, height) = self.paper.size();
        let area = Rect::from_wh(points(width), points(height));
        let mut document = PdfDocument::new("");
        for index in 0..count {
            let links = self.links.iter().filter(|link| link.page == index);
            let ops = links.map(|link| link_op(link, height)).collect();
            document.pages.push(PdfPage {
                media_box: area.clone(),
                trim_box: area.clone(),
                crop_box: area.clone(),
                ops,
            });
        }
        document.to_lopdf_document(&PdfSaveOptions::default(), &mut Vec::new())
    }

    /// Fills the pages.
    fn paint(&self, document: &mut lopdf::Document, pages: &[Page]) -> Result<Structure, PdfError> {
        let (_, height) = self.paper.size();
        let mut used = Used::default();
        for page in pages {
            used.note(&page.marks);
        }
        let fonts = Fonts::of(&used, self.faces)?;
        let names = fonts.add_to(document);
        let mut structure = Structure::default();
        let places: Vec<ObjectId> = document.page_iter().collect();
        for (place, page) in places.into_iter().zip(pages) {
            if let Some(contents) = named(document, place, b"Contents") {
                let painted = Painter::new(height, &fonts).page(&page.marks, &mut structure);
                document.set_object(contents, Stream::new(Dictionary::new(), painted));
            }
            // All pages share one list of fonts.
            let resources = named(document, place, b"Resources");
            if let Some(list) = resources.and_then(|resources| named(document, resources, b"Font")) {
                document.set_object(list, names.clone());
            }
        }
        Ok(structure)
    }

    fn finish(&self, document: &mut lopdf::Document, structure: &Structure) -> Result<(), PdfError> {
        "1.7".clone_into(&mut document.version);
        let wrong = |_| PdfError::Write { reason: "the document has no catalog".to_owned() };
        let pages: Vec<ObjectId> = document.get_pages().into_values().collect();
        drop_empty(document, &pages);

        if let Some(printed) = self.logo {
            logo::embed(printed, document, &pages);
        }

        let (_, height) = self.paper.size();
        let outline = self.write_outline(document, &pages, height);
        let labels = self.page_labels();
        let date = self.date.and_then(pdf_date);
        let files = attach::embed(document, &self.sources, self.paper);
        let links: Vec<(&Link, ObjectId)> = self.annotations(document, &pages);
        let tree = structure.write(document, &pages, &links);
        let said = xmp::Said {
            title: &self.title,
            author: &self.author,
            subject: &self.subject,
            keywords: &self.keywords,
            language: self.language,
            day: self.date,
        };
        let metadata = document.add_object(
            Stream::new(
                dictionary! { "Type" => "Metadata", "Subtype" => Object::Name(b"XML".to_vec()) },
                said.packet().into_bytes(),
            )
            .with_compression(false),
        );
        let profile = document.add_object(Stream::new(dictionary! { "N" => 3 }, colour::srgb()));
        let intent = dictionary! {
            "Type" => "OutputIntent",
            "S" => Object::Name(b"GTS_PDFA1".to_vec()),
            "OutputConditionIdentifier" => Object::string_literal("sRGB"),
            "Info" => Object::string_literal("sRGB, IEC 61966-2-1"),
            "DestOutputProfile" => Object::Reference(profile),
        };

        let catalog = document.catalog_mut().map_err(wrong)?;
        catalog.set("Lang", Object::string_literal(self.language));
        catalog.set("ViewerPreferences", dictionary! { "DisplayDocTitle" => true });
        catalog.set("PageLabels", labels);
        catalog.set("MarkInfo", dictionary! { "Marked" => true });
        catalog.set("Metadata", Object::Reference(metadata));
        catalog.set("OutputIntents", Object::Array(vec![Object::Dictionary(intent)]));
        if let Some(tree) = tree {
            catalog.set("StructTreeRoot", Object::Reference(tree));
        }
        if let Some(outline) = outline {
            catalog.set("Outlines", outline);
            catalog.set("PageMode", Object::Name(b"UseOutlines".to_vec()));
        }
        if !files.is_empty() {
            let references: Vec<Object> = files.iter().map(|(_, id)| Object::Reference(*id)).collect();
            let names = files.into_iter().flat_map(|(name, id)| [text_string(&name), Object::Reference(id)]).collect();
            catalog.set("AF", Object::Array(references));
            catalog.set(
                "Names",
                dictionary! {
                    "EmbeddedFiles" => dictionary! { "Names" => Object::Array(names) },
                },
            );
        }

        let mut info = dictionary! {
            "Title" => text_string(&self.title),
            "Author" => text_string(&self.author),
            "Subject" => text_string(&self.subject),
            "Keywords" => text_string(&self.keywords),
            "Creator" => Object::string_literal(concat!("Seamwright ", env!("CARGO_PKG_VERSION"))),
            "Producer" => Object::string_literal(PRODUCER),
        };
        if let Some(date) = date {
            info.set("CreationDate", Object::string_literal(date.clone()));
            info.set("ModDate", Object::string_literal(date));
        }
        if let Ok(id) = document.trailer.get(b"Info").and_then(Object::as_reference) {
            document.set_object(id, info);
        } else {
            let id = document.add_object(info);
            document.trailer.set("Info", Object::Reference(id));
        }

        // What was removed leaves gaps in the numbers, at which one reader stumbles.
        document.renumber_objects();
        pack(document)?;
        let id = Object::String(self.identity(document), StringFormat::Hexadecimal);
        document.trailer.set("ID", Object::Array(vec![id.clone(), id]));
        Ok(())
    }

    /// Sixteen bytes that are equal for equal documents: the digest of what the file says, shows and carries.
    fn identity(&self, document: &lopdf::Document) -> Vec<u8> {
        let mut hash = Sha256::new();
        for text in [&self.title, &self.author, &self.subject, &self.keywords] {
            hash.update(text.len().to_be_bytes());
            hash.update(text);
        }
        hash.update(self.language);
        for ((number, _), object) in &document.objects {
            if let Object::Stream(stream) = object {
                hash.update(number.to_be_bytes());
                hash.update(&stream.content);
            }
        }
        hash.finalize().iter().take(16).copied().collect()
    }

    /// The links of the pages as objects of their own, each with its words.
    fn annotations(&self, document: &mut lopdf::Document, pages: &[ObjectId]) -> Vec<(&Link, ObjectId)> {
        let mut found = Vec::new();
        for (index, &page) in pages.iter().enumerate() {
            let links: Vec<&Link> = self.links.iter().filter(|link| link.page == index).collect();
            let Ok(given) = document.get_dictionary(page).and_then(|page| page.get(b"Annots")) else { continue };
            let Ok(given) = document.dereference(given).and_then(|(_, given)| given.as_array()).cloned() else {
                continue;
            };
            let mut references = Vec::new();
            for (link, annotation) in links.into_iter().zip(given) {
                let Ok((_, Object::Dictionary(own))) = document.dereference(&annotation) else { continue };
                let mut own = own.clone();
                own.set("Contents", text_string(&link.words));
                let id = match annotation {
                    Object::Reference(id) => id,
                    _ => document.new_object_id(),
                };
                document.set_object(id, own);
                references.push(Object::Reference(id));
                found.push((link, id));
            }
            if let Ok(page) = document.get_dictionary_mut(page) {
                page.set("Annots", Object::Array(references));
            }
        }
        found
    }

    fn page_labels(&self) -> Dictionary {
        let mut numbers = Vec::new();
        for label in &self.labels {
            let mut style =
                dictionary! { "S" => Object::Name(if label.roman { b"r".to_vec() } else { b"D".to_vec() }) };
            if !label.prefix.is_empty() {
                style.set("P", text_string(&label.prefix));
            }
            numbers.push(Object::Integer(i64::try_from(label.page).unwrap_or(i64::MAX)));
            numbers.push(Object::Dictionary(style));
        }
        dictionary! { "Nums" => Object::Array(numbers) }
    }

    fn write_outline(&self, document: &mut lopdf::Document, pages: &[ObjectId], height: f64) -> Option<ObjectId> {
        if self.outline.is_empty() {
            return None;
        }
        let root = document.new_object_id();
        let (first, last, count) = write_nodes(document, &self.outline, root, pages, height)?;
        document.set_object(
            root,
            dictionary! {
                "Type" => "Outlines",
                "First" => Object::Reference(first),
                "Last" => Object::Reference(last),
                "Count" => count,
            },
        );
        Some(root)
    }
}

/// Writes nodes of one level; gives the first, the last and how many are open.
fn write_nodes(
    document: &mut lopdf::Document,
    nodes: &[Node],
    parent: ObjectId,
    pages: &[ObjectId],
    height: f64,
) -> Option<(ObjectId, ObjectId, i64)> {
    let ids: Vec<ObjectId> = nodes.iter().map(|_| document.new_object_id()).collect();
    let mut open = 0;
    for (index, (node, &id)) in nodes.iter().zip(&ids).enumerate() {
        let page = pages.get(node.page).copied()?;
        let top = Object::Real(points(height - node.y + 4.0).0);
        let destination = vec![Object::Reference(page), Object::Name(b"XYZ".to_vec()), Object::Null, top, Object::Null];
        let mut entry = dictionary! {
            "Title" => text_string(&node.title),
            "Parent" => Object::Reference(parent),
            "Dest" => Object::Array(destination),
        };
        if let Some(before) = index.checked_sub(1).and_then(|before| ids.get(before)) {
            entry.set("Prev", Object::Reference(*before));
        }
        if let Some(after) = ids.get(index + 1) {
            entry.set("Next", Object::Reference(*after));
        }
        if let Some((first, last, count)) = write_nodes(document, &node.children, id, pages, height) {
            entry.set("First", Object::Reference(first));
            entry.set("Last", Object::Reference(last));
            // Negative: shown closed.
            entry.set("Count", -count);
        }
        document.set_object(id, entry);
        open += 1;
    }
    Some((*ids.first()?, *ids.last()?, open))
}

fn link_op(link: &Link, height: f64) -> Op {
    let [left, top, width, tall] = link.area;
    let rect = Rect::from_xywh(points(left), points(height - top - tall), points(width), points(tall));
    let destination = Destination::Xyz { page: link.target + 1, left: None, top: None, zoom: None };
    Op::LinkAnnotation {
        link: LinkAnnotation::new(
            rect,
            Actions::go_to(destination),
            Some(BorderArray::Solid([0.0, 0.0, 0.0])),
            Some(ColorArray::Transparent),
            None,
        ),
    }
}

#[expect(clippy::cast_possible_truncation, reason = "a place on a page, rounded to hundredths of a point")]
fn points(value: f64) -> Pt {
    Pt(((value * 100.0).round() / 100.0) as f32)
}

/// Removes what a page of ours never has: empty resources and empty lists.
fn drop_empty(document: &mut lopdf::Document, pages: &[ObjectId]) {
    let mut empty = Vec::new();
    for &page in pages {
        let Ok(entries) = document.get_dictionary_mut(page) else { continue };
        if entries.get(b"Annots").and_then(Object::as_array).is_ok_and(Vec::is_empty) {
            entries.remove(b"Annots");
        }
        // Both equal the media box, which is what a reader takes where they are absent.
        entries.remove(b"TrimBox");
        entries.remove(b"CropBox");
        let Ok(resources) = entries.get(b"Resources").and_then(Object::as_reference) else { continue };
        let Ok(resources) = document.get_dictionary_mut(resources) else { continue };
        for name in [b"XObject".as_slice(), b"ExtGState", b"Shading"] {
            if let Some(Object::Reference(id)) = resources.remove(name) {
                empty.push(id);
            }
        }
    }
    for id in empty {
        document.objects.remove(&id);
    }
}

/// How many small objects are packed as one: those of a sheet all together.
const TOGETHER: usize = 1000;

/// The outline of a sheet's pages, the first of which is page `offset` of the file.
pub(super) fn outline(pages: &[Page], offset: usize) -> Vec<Node> {
    let mut nodes = Vec::new();
    for (index, page) in pages.iter().enumerate() {
        for entry in &page.entries {
            nodes.push(Node { title: entry.title.clone(), page: offset + index, y: entry.y, children: Vec::new() });
        }
    }
    nodes
}
