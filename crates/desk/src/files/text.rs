//! Files that are no documents, as text and as YAML.

use std::path::Path;

use anyhow::{Result, anyhow, bail};
use seamwright_model::load::{Fault, hidden};
use serde::de::DeserializeOwned;

use super::shown::{reason, shown};
use super::{Asked, Files};

/// The text of a file that is no document: at most `most` bytes, without characters that hide or steer.
///
/// Errors name the file, with line and column where they have one.
pub fn text(files: &dyn Files, path: &Path, most: u64) -> Result<String> {
    let name = shown(path);
    let bytes = files.read(path, Asked::Typed, most);
    let bytes = bytes.map_err(|error| anyhow!("{name}: cannot be read: {}", reason(&error)))?;
    if bytes.len() as u64 > most {
        bail!("{name}: the file has more than {most} bytes");
    }
    let text = String::from_utf8(bytes).map_err(|_| anyhow!("{name}: the file is not text in UTF-8"))?;
    match hidden(&text).first() {
        Some(Fault { message, span: Some(span), .. }) => bail!("{name}:{}:{}: {message}", span.line, span.column),
        _ => Ok(text),
    }
}

/// Reads the text of a file that is no document as YAML; errors name the file, line and column.
pub fn yaml<T: DeserializeOwned>(path: &Path, text: &str) -> Result<T> {
    serde_yaml::from_str(text).map_err(|error| {
        let place = error.location().map_or_else(String::new, |at| format!(":{}:{}", at.line(), at.column()));
        let words = error.without_snippet().to_string();
        let words = words.split(" at line ").next().unwrap_or(&words);
        anyhow!("{}{place}: {words}", shown(path))
    })
}
