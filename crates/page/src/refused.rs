//! Why the look of a shop is refused.

/// Largest logo, bytes.
pub const LOGO_LIMIT: usize = 256 * 1024;

/// Why a colour or a logo is refused.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum HouseError {
    /// The logo is too large.
    #[error("the logo has more than {LOGO_LIMIT} bytes")]
    LogoTooLarge,
    /// The logo is neither SVG nor PNG, or broken.
    #[error("the logo cannot be read as SVG or PNG")]
    LogoFormat,
    /// The SVG is not well-formed.
    #[error("the logo cannot be read as SVG: {0}")]
    LogoBroken(String),
    /// The SVG holds more than a drawing.
    #[error("the logo holds `{0}`, which a drawing does without")]
    LogoUnsafe(String),
    /// The PNG is broken.
    #[error("the logo cannot be read as PNG: {0}")]
    PngBroken(String),
    /// The PNG has too many pixels.
    #[error("the logo has more than {0} pixels a side")]
    LogoTooWide(u32),
    /// The logo is for pages only.
    #[error(transparent)]
    LogoNotPrinted(#[from] Unprinted),
    /// The colour cannot be read.
    #[error("a colour is written as # and six hexadecimal digits, such as #1f4e79")]
    Colour,
    /// White paper would swallow the colour.
    #[error("the colour is too light to be seen on white paper or from a black-and-white printer (3 : 1 is asked for)")]
    TooLight,
}

/// What of an SVG no PDF shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
#[error("{found} is not printed in a PDF: {instead}")]
pub struct Unprinted {
    pub(crate) found: &'static str,
    pub(crate) instead: &'static str,
}
