//! The seal of a sheet: a line in the file that tells a later run whether it is still what it would be.
//!
//! The line holds what that run needs to know of the document without reading it, a digest of everything that the file was
//! made of, and a digest of these and of every other byte of the file. A file that was changed, cut off or made of something
//! else has another digest. It guards against accidents, not against forgers: whoever changes a sheet can seal it anew, and
//! `check` makes a sheet again from its source, and the note of its seal with it.
//!
//! In a PDF the line is a comment before `startxref`, where no place that the file counts on moves; in a page it is a
//! comment at the end.

use seamwright_page::html::IndexEntry;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

/// What a later run needs to know of a document.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Note {
    /// Kinds of sheet that were made of the document, by name.
    pub sheets: Vec<String>,
    /// Files that the document names, as it names them.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub beside: Vec<String>,
    /// Values that were examined.
    pub examined: usize,
    /// Findings, whatever their severity.
    pub findings: usize,
    /// Findings under a stated deviation.
    pub deviations: usize,
    /// The sheet's line in the index.
    pub entry: Option<IndexEntry>,
}

/// Whether a file is a PDF or a page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Format {
    /// PDF.
    Pdf,
    /// HTML.
    Html,
}

/// Where the seal's line stands in a file, and what is around it.
struct Parts<'f> {
    before: &'f [u8],
    digest: &'f [u8],
    made_of: &'f [u8],
    note: &'f [u8],
    after: &'f [u8],
}

/// Digits of each digest, hexadecimal.
const DIGITS: usize = 32;
const NAME: &str = "seamwright ";
const XREF: &[u8] = b"startxref\n";

impl Format {
    /// How the names of its files end.
    pub const fn ending(self) -> &'static str {
        match self {
            Self::Pdf => "pdf",
            Self::Html => "html",
        }
    }

    /// The word for it.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Pdf => "PDF",
            Self::Html => "HTML",
        }
    }

    /// How the line begins and ends.
    const fn marks(self) -> (&'static str, &'static str) {
        match self {
            Self::Pdf => ("%", "\n"),
            Self::Html => ("<!-- ", " -->\n"),
        }
    }

    /// Where the line belongs in a file that has none; nothing where the file is none of ours.
    fn place(self, bytes: &[u8]) -> Option<usize> {
        match self {
            Self::Pdf => last(bytes, XREF),
            Self::Html => Some(bytes.len()),
        }
    }
}

/// Where a text stands last in the end of a file, which alone is searched.
fn last(bytes: &[u8], text: &[u8]) -> Option<usize> {
    const END: usize = 64;
    let from = bytes.len().saturating_sub(END);
    let end = bytes.get(from..)?;
    (0..=end.len().checked_sub(text.len())?)
        .rev()
        .find(|at| end.get(*at..*at + text.len()) == Some(text))
        .map(|at| from + at)
}

/// One digest of several parts, none of which can take from the next.
pub fn digest_of<'p>(parts: impl IntoIterator<Item = &'p [u8]>) -> Vec<u8> {
    let mut hash = Sha256::new();
    for part in parts {
        hash.update((part.len() as u64).to_le_bytes());
        hash.update(part);
    }
    hash.finalize().to_vec()
}

/// A digest as its line states it.
fn digits(digest: &[u8]) -> String {
    digest.iter().take(DIGITS / 2).map(|byte| format!("{byte:02x}")).collect()
}

/// The digest of a file: what it was made of, what its note says, and its bytes.
fn digest(made_of: &[u8], note: &[u8], before: &[u8], after: &[u8]) -> String {
    digits(&digest_of([made_of, note, before, after]))
}

/// JSON without what could end the comment of a page or look like markup or the end of a PDF in it; JSON knows another way
/// to write each.
fn harmless(json: &str) -> String {
    let other = |text: String, (plain, escaped): (&str, &str)| text.replace(plain, escaped);
    let escapes = [
        ("<", "\\u003c"),
        (">", "\\u003e"),
        ("--", "-\\u002d"),
        ("--", "-\\u002d"),
        ("%", "\\u0025"),
        ("startxref", "\\u0073tartxref"),
        ("trailer", "\\u0074railer"),
        ("endobj", "end\\u006fbj"),
        ("endstream", "end\\u0073tream"),
        (" obj", " \\u006fbj"),
    ];
    escapes.into_iter().fold(json.to_owned(), other)
}

/// A note as its line holds it.
fn written(note: &Note) -> String {
    harmless(&serde_json::to_string(note).unwrap_or_default())
}

/// Seals a file that was made of what `made_of` digests.
pub fn seal(format: Format, mut bytes: Vec<u8>, made_of: &[u8], note: &Note) -> Vec<u8> {
    let Some(at) = format.place(&bytes) else { return bytes };
    let (made_of, note) = (digits(&digest_of([made_of])), written(note));
    let (open, close) = format.marks();
    let (before, after) = bytes.split_at(at);
    let digest = digest(made_of.as_bytes(), note.as_bytes(), before, after);
    let line = format!("{open}{NAME}{digest} {made_of} {note}{close}");
    bytes.splice(at..at, line.into_bytes());
    bytes
}

/// What stands around the line of a sealed file.
fn parts(format: Format, bytes: &[u8]) -> Option<Parts<'_>> {
    let (open, close) = format.marks();
    let end = format.place(bytes)?;
    let (sealed, after) = bytes.split_at_checked(end)?;
    let line = sealed.strip_suffix(close.as_bytes())?;
    // A title may hold the words of the line, but neither a line end nor the hyphens that begin a comment.
    let start = match format {
        Format::Pdf => line.iter().rposition(|byte| *byte == b'\n')? + 1,
        Format::Html => line.windows(open.len()).rposition(|own| own == open.as_bytes())?,
    };
    let (before, line) = line.split_at_checked(start)?;
    let line = line.strip_prefix(open.as_bytes())?.strip_prefix(NAME.as_bytes())?;
    let (digest, rest) = line.split_at_checked(DIGITS)?;
    let (made_of, note) = rest.strip_prefix(b" ")?.split_at_checked(DIGITS)?;
    Some(Parts { before, digest, made_of, note: note.strip_prefix(b" ")?, after })
}

/// The note of a file, whether or not its seal holds; nothing where it has none.
pub fn note(format: Format, bytes: &[u8]) -> Option<Note> {
    serde_json::from_slice(parts(format, bytes)?.note).ok()
}

/// Whether a file is whole and was made of what `made_of` digests.
pub fn holds(format: Format, bytes: &[u8], made_of: &[u8]) -> bool {
    parts(format, bytes).is_some_and(|found| {
        found.made_of == digits(&digest_of([made_of])).as_bytes()
            && digest(found.made_of, found.note, found.before, found.after).as_bytes() == found.digest
    })
}

/// A sealed file whose seal is whole, taken apart: the bytes that a back end made, and the note.
///
/// Nothing where the file has no seal, or one that any byte of the file or of its note contradicts, or that is written in
/// another way than [`seal`] writes it.
pub fn opened(format: Format, bytes: &[u8]) -> Option<(Vec<u8>, Note)> {
    let found = parts(format, bytes)?;
    let note: Note = serde_json::from_slice(found.note).ok()?;
    let whole = found.made_of.iter().all(|digit| matches!(digit, b'0'..=b'9' | b'a'..=b'f'))
        && digest(found.made_of, found.note, found.before, found.after).as_bytes() == found.digest
        && written(&note).as_bytes() == found.note;
    whole.then(|| ([found.before, found.after].concat(), note))
}

/// A file without its seal: what a back end made.
pub fn without(format: Format, bytes: &[u8]) -> Vec<u8> {
    parts(format, bytes).map_or_else(|| bytes.to_vec(), |found| [found.before, found.after].concat())
}

#[cfg(test)]
mod tests {
    use super::*;

    const PDF: &[u8] = b"%PDF-1.7\nwhat it holds\ntrailer\n<<>>\nstartxref\n1234\n%%EOF";
    const PAGE: &[u8] = b"<!doctype html>\n<p>what it <!-- seamwright --> holds</p>";

    fn note_with(title: &str) -> Note {
        let entry = IndexEntry { title: title.to_owned(), ..IndexEntry::default() };
        Note { sheets: vec!["procedure".to_owned()], examined: 40, entry: Some(entry), ..Note::default() }
    }

    #[test]
    fn a_sealed_file_holds_and_gives_its_note_and_its_bytes_back() {
        for (format, bytes) in [(Format::Pdf, PDF), (Format::Html, PAGE)] {
            for title in ["Butt", "a --> b ----- c\n", "Nähte \u{2028} %%EOF startxref 7 0 obj trailer"] {
                let sealed = seal(format, bytes.to_vec(), b"made of", &note_with(title));
                assert!(holds(format, &sealed, b"made of"), "{title}");
                assert!(!holds(format, &sealed, b"something else"));
                assert_eq!(note(format, &sealed), Some(note_with(title)));
                assert_eq!(without(format, &sealed), bytes);
                assert_eq!(opened(format, &sealed), Some((bytes.to_vec(), note_with(title))));
                let text = String::from_utf8_lossy(&sealed);
                assert!(format == Format::Html || text.matches("startxref").count() == 1, "{text}");
                assert!(format == Format::Pdf || text.matches("-->").count() == 2, "{text}");
            }
        }
    }

    #[test]
    fn every_other_byte_and_every_shorter_file_breaks_the_seal() {
        for (format, bytes) in [(Format::Pdf, PDF), (Format::Html, PAGE)] {
            let sealed = seal(format, bytes.to_vec(), b"made of", &note_with("Butt"));
            for at in 0..sealed.len() {
                let mut other = sealed.clone();
                other[at] ^= 1;
                assert!(!holds(format, &other, b"made of"), "byte {at}");
                assert_eq!(opened(format, &other), None, "byte {at}");
                assert!(!holds(format, &sealed[..at], b"made of"), "cut at {at}");
            }
        }
    }
}
