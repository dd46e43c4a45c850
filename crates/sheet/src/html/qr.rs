//! The QR code of the masthead (ISO/IEC 18004) as an inline drawing.

use std::fmt::Write as _;

use qrcode::{Color, EcLevel, QrCode};

use crate::svg::Escaped;

use super::HtmlError;

/// Light modules around the code (ISO/IEC 18004: four).
const QUIET: usize = 4;

/// The code for `text` as an SVG element, one unit for a module: dark on light in every scheme, or readers miss it.
///
/// Errors: [`HtmlError::QrTooLong`] for a text that no code holds.
pub(super) fn qr(text: &str) -> Result<String, HtmlError> {
    let code = QrCode::with_error_correction_level(text, EcLevel::M)
        .map_err(|_| HtmlError::QrTooLong { bytes: text.len() })?;
    let width = code.width();
    let side = width + 2 * QUIET;
    let mut out = format!(
        "<svg class=\"qr\" viewBox=\"0 0 {side} {side}\" role=\"img\" aria-label=\"QR code: {}\" \
         shape-rendering=\"crispEdges\"><path fill=\"#fff\" d=\"M0 0h{side}v{side}H0z\"/><path fill=\"#000\" d=\"",
        Escaped(text),
    );
    let colors = code.to_colors();
    for (y, row) in colors.chunks(width.max(1)).enumerate() {
        let mut x = 0;
        for run in row.chunk_by(|a, b| a == b) {
            if run.first() == Some(&Color::Dark) {
                let length = run.len();
                let _ = write!(out, "M{} {}h{length}v1h-{length}z", x + QUIET, y + QUIET);
            }
            x += run.len();
        }
    }
    out.push_str("\"/></svg>");
    Ok(out)
}
