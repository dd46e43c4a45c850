//! The QR code of the masthead (ISO/IEC 18004), worked out once for every format that shows it.

use std::sync::OnceLock;

use fast_qr::{ECL, QRBuilder};
use serde::Serialize;

/// The rows of modules of a code, dark where true.
pub type Modules = Vec<Vec<bool>>;

/// A text to be shown as a QR code.
#[derive(Debug, Clone, Serialize)]
#[serde(transparent)]
pub struct Qr {
    text: String,
    #[serde(skip)]
    modules: OnceLock<Option<Modules>>,
}

impl Qr {
    /// The text that a reader of the code gets.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The modules of the code, or nothing for a text that no code holds; the first call works them out.
    pub fn modules(&self) -> Option<&Modules> {
        let made = self.modules.get_or_init(|| {
            let code = QRBuilder::new(self.text.as_str()).ecl(ECL::M).build().ok()?;
            let row = |row: usize| code[row].iter().map(|module| module.value()).collect();
            Some((0..code.size).map(row).collect())
        });
        made.as_ref()
    }
}

impl<T: Into<String>> From<T> for Qr {
    fn from(text: T) -> Self {
        Self { text: text.into(), modules: OnceLock::new() }
    }
}
