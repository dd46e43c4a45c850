//! Why a sheet cannot be set as PDF.

/// Why a sheet cannot be set.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum PdfError {
    /// The type has no shape for a character.
    #[error("the character {character} (U+{:04X}) in \"{text}\" has no glyph in the sheet's type", u32::from(*character))]
    MissingGlyph {
        /// The character.
        character: char,
        /// The text it stands in, shortened.
        text: String,
    },
    /// A character that is not printed: a control or formatting character, or a letter that runs from right to left.
    #[error("the character U+{:04X} in \"{text}\" is a control character or runs from right to left, which a sheet cannot print", u32::from(*character))]
    Unprintable {
        /// The character.
        character: char,
        /// The text it stands in, shortened.
        text: String,
    },
    /// A drawing has a number that cannot be drawn.
    #[error("the drawing \"{title}\" has a measure that is not a number or out of bounds")]
    Drawing {
        /// Title of the figure.
        title: String,
    },
    /// A sheet that must fit one page does not, even in the smallest type.
    #[error("\"{title}\" does not fit on one page in type that can be read")]
    DoesNotFit {
        /// Title of the sheet.
        title: String,
    },
    /// The text of the QR code is too long for one.
    #[error("the text of the QR code has {bytes} bytes, more than a code holds")]
    QrTooLong {
        /// Length of the text.
        bytes: usize,
    },
    /// The built-in font cannot be used.
    #[error("{reason}")]
    Font {
        /// What is wrong with it.
        reason: String,
    },
    /// The file could not be put together.
    #[error("the PDF could not be written: {reason}")]
    Write {
        /// What went wrong.
        reason: String,
    },
}
