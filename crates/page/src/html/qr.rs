//! The QR code of the masthead (ISO/IEC 18004) as an inline drawing.

use std::fmt::Write as _;

use seamwright_drawing::svg::Escaped;

use crate::qr::Qr;

use super::error::HtmlError;

/// Light modules around the code (ISO/IEC 18004: four).
const QUIET: usize = 4;

/// The code as an SVG element, one unit for a module: dark on light in every scheme, or readers miss it.
///
/// Errors: [`HtmlError::QrTooLong`] for a text that no code holds.
pub(super) fn qr(code: &Qr) -> Result<String, HtmlError> {
    let modules = code.modules().ok_or(HtmlError::QrTooLong { bytes: code.text().len() })?;
    let side = modules.len() + 2 * QUIET;
    let mut out = format!(
        "<svg class=\"qr\" viewBox=\"0 0 {side} {side}\" role=\"img\" aria-label=\"QR code: {}\" \
         shape-rendering=\"crispEdges\"><path fill=\"#fff\" d=\"M0 0h{side}v{side}H0z\"/><path fill=\"#000\" d=\"",
        Escaped(code.text()),
    );
    for (y, row) in modules.iter().enumerate() {
        let mut x = 0;
        for run in row.chunk_by(|a, b| a == b) {
            if run.first() == Some(&true) {
                let length = run.len();
                let _ = write!(out, "M{} {}h{length}v1h-{length}z", x + QUIET, y + QUIET);
            }
            x += run.len();
        }
    }
    out.push_str("\"/></svg>");
    Ok(out)
}
