//! The YAML source that a finished sheet carries, and why it could not be read back.
//!
//! HTML and PDF embed the source each in its own way; what comes out again is the same [`Attached`], under the same
//! limits. What is read may come from anywhere: a file that this program did not write, that was changed, or that
//! holds no source or more than one, is refused with an error of its own.

use crate::made_with::MadeWith;

/// Most bytes of a source.
pub const SOURCE_LIMIT: usize = 1024 * 1024;

/// What a file says of the program that wrote it.
pub const PRODUCER: &str = "Seamwright";

/// The name that stands in for one that is missing or leads somewhere else.
const UNNAMED: &str = "source.yaml";

/// The source that a sheet carries.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Attached {
    /// Name of the file, without folders.
    pub file_name: String,
    /// The text, byte for byte.
    pub text: String,
    /// The digest that the sheet states for it.
    pub digest: String,
    /// What the sheet was made with; nothing where it does not say so in words of this version.
    pub made_with: Option<MadeWith>,
}

/// Why no source could be read from a file.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum ReadError {
    /// The file is larger than any that this program writes.
    #[error("the file has {bytes} bytes, over the limit of {limit}")]
    FileTooLarge {
        /// Its size.
        bytes: usize,
        /// The limit.
        limit: usize,
    },
    /// It is not of the format that its reader expects, or broken.
    #[error("the file cannot be read as {format}: {reason}")]
    NotReadable {
        /// "PDF" or "HTML".
        format: &'static str,
        /// What the reader found.
        reason: String,
    },
    /// Another program wrote it.
    #[error("the file was written by {producer}, not by {PRODUCER}, so it carries no source")]
    OtherProgram {
        /// The program it names, or "an unnamed program".
        producer: String,
    },
    /// It has no source.
    #[error("the file carries no source")]
    NoSource,
    /// It has more than one source.
    #[error("the file carries {count} sources, where one is read")]
    SeveralSources {
        /// How many.
        count: usize,
    },
    /// The source is larger than a source may be, packed or unpacked.
    #[error("the attached source has more than {limit} bytes")]
    SourceTooLarge {
        /// The limit.
        limit: usize,
    },
    /// The source is not text.
    #[error("the attached source is not UTF-8 text")]
    NotText,
    /// The source does not agree with its checksum.
    #[error("the attached source was changed: its checksum does not agree")]
    Changed,
}

/// The last part of `name` without control characters, so that a name from a file never leads out of the folder it is
/// written to; "source.yaml" where nothing is left.
pub fn plain_file_name(name: &str) -> String {
    let last = name.rsplit(['/', '\\']).next().unwrap_or_default();
    let plain: String = last.chars().filter(|character| !character.is_control()).collect();
    if matches!(plain.trim(), "" | "." | "..") { UNNAMED.to_owned() } else { plain }
}

#[cfg(test)]
mod tests {
    use super::plain_file_name;

    #[test]
    fn a_name_never_leads_out_of_its_folder() {
        for (given, expected) in [
            ("P-021.yaml", "P-021.yaml"),
            ("../../etc/passwd", "passwd"),
            ("C:\\shop\\P-021.yaml", "P-021.yaml"),
            ("folder/", "source.yaml"),
            ("..", "source.yaml"),
            ("a\u{0}\nb.yaml", "ab.yaml"),
            ("Nähte.yaml", "Nähte.yaml"),
        ] {
            assert_eq!(plain_file_name(given), expected, "{given:?}");
        }
    }
}
