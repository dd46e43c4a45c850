//! The look of sheets: the built-in templates or a folder of a user's own, and the shop's name block, colour and logo.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use anyhow::{Context, Result, anyhow};
use seamwright_page::house::House;
use seamwright_page::html::{HtmlError, HtmlRenderer};
use seamwright_page::lately::Lately;
use seamwright_page::made_with::{Companion, Role};
use seamwright_sheet::kinds;

use crate::files::{Asked, Files, Kind, MOST, reason};
use crate::house_style;

/// The folder and the file that the look of sheets is read from, where it is not the built-in one.
#[derive(Debug, Clone, Default)]
pub struct AppearanceFiles {
    /// Folder with templates that take the place of the built-in ones of the same names.
    pub templates: Option<PathBuf>,
    /// File with the shop's name block, colour and logo; that in the folder of templates if left out.
    pub style: Option<PathBuf>,
}

/// The look of sheets.
#[derive(Debug, Default)]
pub struct Appearance {
    /// Name block, colour and logo.
    pub house: Option<Arc<House>>,
    /// Templates in place of the built-in ones, as names and texts.
    templates: Vec<(String, String)>,
    /// What of it is not built in.
    pub companions: Vec<Companion>,
    /// What was made lately of other sheets.
    pub lately: Lately,
}

impl Appearance {
    /// Reads what was named.
    pub fn read(files: &dyn Files, named: &AppearanceFiles) -> Result<Self> {
        let mut look = Self::default();
        if let Some(folder) = &named.templates {
            look.templates = templates(files, folder)?;
            let all: String = look.templates.iter().map(|(name, text)| format!("{name}\n{text}\n")).collect();
            look.companions.push(companion(Role::Templates, folder, &all));
        }
        if let Some(file) = style_file(files, named) {
            let house = house_style::read(files, &file)?;
            look.companions.push(companion(Role::HouseStyle, &file, &house.text()));
            look.house = Some(Arc::new(house));
        }
        Ok(look)
    }

    /// The parts of it that a sheet was made with.
    #[must_use]
    pub fn only(&self, house: bool, templates: bool) -> Self {
        let part = |wanted: bool, role| self.companions.iter().filter(move |own| wanted && own.role == role);
        let companions = part(house, Role::HouseStyle).chain(part(templates, Role::Templates)).cloned().collect();
        Self {
            house: self.house.clone().filter(|_| house),
            templates: if templates { self.templates.clone() } else { Vec::new() },
            companions,
            lately: self.lately.clone(),
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
fn style_file(files: &dyn Files, named: &AppearanceFiles) -> Option<PathBuf> {
    let is_there = |folder: &PathBuf| {
        let all = files.list(folder).unwrap_or_default();
        all.into_iter().find(|own| own.kind == Kind::File && own.path.ends_with(house_style::FILE)).map(|own| own.path)
    };
    named.style.clone().or_else(|| named.templates.as_ref().and_then(is_there))
}

/// The texts of a folder of templates.
fn templates(files: &dyn Files, folder: &Path) -> Result<Vec<(String, String)>> {
    let all = files.list(folder).with_context(|| format!("{}: templates cannot be read", folder.display()))?;
    let mut texts = Vec::new();
    for path in all.into_iter().filter(|own| own.kind == Kind::File).map(|own| own.path) {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let bytes =
            files.read(&path, Asked::Found, MOST).map_err(|error| anyhow!("{}: {}", path.display(), reason(&error)))?;
        let text =
            String::from_utf8(bytes).map_err(|_| anyhow!("{}: the file is not text in UTF-8", path.display()))?;
        texts.push((name, text));
    }
    texts.sort();
    Ok(texts)
}
