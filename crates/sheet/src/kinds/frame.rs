//! The head and the foot of every sheet, and the source that it carries.

use seamwright_page::SheetOptions;
use seamwright_page::attached::plain_file_name;
use seamwright_page::block::{Footer, Masthead, Source};
use seamwright_page::qr::Qr;
use seamwright_page::words::{Label, label};
use sha2::{Digest, Sha256};

use super::standing::{counts, stamp};
use super::subject::Subject;

/// The last line of every sheet.
pub(crate) const DEFERS: Label = label::DEFERS;

/// A short digest of a source: the first 12 hexadecimal digits of its SHA-256, in groups of four.
pub fn digest(text: &str) -> String {
    let full = Sha256::digest(text.as_bytes());
    let digits: String = full.iter().take(6).map(|byte| format!("{byte:02x}")).collect();
    digits.as_bytes().chunks(4).map(String::from_utf8_lossy).collect::<Vec<_>>().join(" ")
}

/// The head of a sheet of the kind that `kind` says in words; `facts` stand under revision and date.
pub(crate) fn masthead(
    subject: Subject<'_>,
    kind: Label,
    mut facts: Vec<(String, String)>,
    options: SheetOptions,
) -> Masthead {
    let identification = subject.loaded.document.identification();
    let mut all = vec![(options.say(label::REVISION).into_owned(), identification.revision.to_string())];
    if let Some(date) = identification.date {
        all.push((options.say(label::DATE).into_owned(), date.to_string()));
    }
    all.append(&mut facts);
    Masthead {
        manufacturer: identification.manufacturer.as_deref().unwrap_or_default().into(),
        kind: options.say(kind).into_owned(),
        title: identification.title.to_string(),
        number: identification.number.to_string(),
        facts: all,
        stamp: stamp(subject, options),
        qr: Some(format!(
            "{} rev {} {}",
            identification.number,
            identification.revision,
            digest(&subject.loaded.source.text)
        ))
        .filter(|text| text.len() <= QR_MOST)
        .map(Qr::from),
    }
}

/// Most bytes of a code that is still read from paper: what version 10 holds at level M (ISO/IEC 18004, table 7).
const QR_MOST: usize = 213;

/// The foot of a sheet: what was checked, and the digest of the source.
pub(crate) fn footer(subject: Subject<'_>, options: SheetOptions) -> Footer {
    let identification = subject.loaded.document.identification();
    Footer {
        checked: options.fill(
            label::CHECKED,
            &[("counts", &counts(subject, options)), ("digest", &digest(&subject.loaded.source.text))],
        ),
        reference: options
            .fill(label::REFERENCE, &[("number", &identification.number), ("revision", &identification.revision)]),
    }
}

pub(crate) fn source(subject: Subject<'_>) -> Source {
    let text = subject.loaded.source.text.to_string();
    Source {
        file_name: plain_file_name(&subject.loaded.source.name),
        digest: digest(&text),
        text,
        date: subject.loaded.document.identification().date.map(|date| date.to_string()),
        made_with: None,
    }
}
