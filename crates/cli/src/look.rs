//! The look of sheets: the built-in templates or a folder of a user's own, and the shop's name block, colour and logo.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use anyhow::{Context, Result};
use seamwright_sheet::house::House;
use seamwright_sheet::html::{HtmlError, HtmlRenderer};
use seamwright_sheet::kinds;
use seamwright_sheet::made_with::{Companion, Role};

use crate::args::LookArgs;
use crate::style;

/// The look of sheets.
#[derive(Default)]
pub struct Look {
    /// Name block, colour and logo.
    pub house: Option<Arc<House>>,
    /// Templates in place of the built-in ones, as names and texts.
    templates: Vec<(String, String)>,
    /// What of it is not built in.
    pub companions: Vec<Companion>,
}

impl Look {
    /// Reads what was named.
    pub fn read(args: &LookArgs) -> Result<Self> {
        let mut look = Self::default();
        if let Some(folder) = &args.templates {
            look.templates = templates(folder)?;
            let all: String = look.templates.iter().map(|(name, text)| format!("{name}\n{text}\n")).collect();
            look.companions.push(companion(Role::Templates, folder, &all));
        }
        if let Some(file) = style_file(args) {
            let house = style::read(&file)?;
            look.companions.push(companion(Role::HouseStyle, &file, &house.text()));
            look.house = Some(Arc::new(house));
        }
        Ok(look)
    }

    /// The parts of it that a sheet was made with.
    pub fn only(&self, house: bool, templates: bool) -> Self {
        let part = |wanted: bool, role| self.companions.iter().filter(move |own| wanted && own.role == role);
        let companions = part(house, Role::HouseStyle).chain(part(templates, Role::Templates)).cloned().collect();
        Self {
            house: self.house.clone().filter(|_| house),
            templates: if templates { self.templates.clone() } else { Vec::new() },
            companions,
        }
    }

    /// A renderer of pages in this look.
    pub fn renderer(&self) -> Result<HtmlRenderer, HtmlError> {
        HtmlRenderer::with_overrides(&self.templates)
    }
}

fn companion(role: Role, path: &Path, text: &str) -> Companion {
    let name = path.file_name().unwrap_or(path.as_os_str()).to_string_lossy().into_owned();
    Companion { role, name, digest: kinds::digest(text) }
}

/// The file of house style: the one that was named, or the one beside the templates.
fn style_file(args: &LookArgs) -> Option<PathBuf> {
    let beside = args.templates.as_ref().map(|folder| folder.join(style::FILE)).filter(|file| file.is_file());
    args.style.clone().or(beside)
}

/// The texts of a folder of templates.
fn templates(folder: &Path) -> Result<Vec<(String, String)>> {
    let entries = fs::read_dir(folder).with_context(|| format!("{}: templates cannot be read", folder.display()))?;
    let mut texts = Vec::new();
    for entry in entries {
        let path = entry?.path();
        if path.is_file() {
            let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
            texts.push((name, fs::read_to_string(&path).with_context(|| path.display().to_string())?));
        }
    }
    texts.sort();
    Ok(texts)
}
