//! Which files are meant by the paths that were typed.

use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow, bail};

use super::shown::{reason, shown};
use super::{Asked, Files, HOUSE_STYLE, Kind, Listed, STANDARD_INPUT};

/// A file that was asked for: where it is, its name in messages, and where its sheets go below the output folder.
#[derive(Debug, Clone)]
pub struct Input {
    /// Path, or `-`.
    pub path: PathBuf,
    /// Name in messages.
    pub name: String,
    /// Path below the output folder, without ending.
    pub stem: PathBuf,
    /// Who asks for it.
    pub(super) asked: Asked,
}

impl Input {
    /// A path that was typed.
    pub fn typed(path: &Path) -> Self {
        if path.as_os_str() == STANDARD_INPUT {
            let (name, stem) = ("standard input".into(), "standard-input".into());
            return Self { path: path.into(), name, stem, asked: Asked::Typed };
        }
        let stem = path.file_stem().map(PathBuf::from).unwrap_or_default();
        Self { path: path.into(), name: shown(path), stem, asked: Asked::Typed }
    }

    /// A path that was found in a folder.
    pub fn found(path: PathBuf, stem: PathBuf) -> Self {
        Self { name: shown(&path), path, stem, asked: Asked::Found }
    }

    /// A path that this document gives, as seen from its own place.
    #[must_use]
    pub fn named(&self, name: &str) -> Self {
        let folder = self.path.parent().unwrap_or(Path::new(""));
        Self::found(folder.join(name), PathBuf::new())
    }
}

/// The files that paths name: folders are walked for `*.yaml` and `*.yml` in order of their names.
///
/// A path that does not exist is kept, so that it is reported beside the others; a folder without YAML is an error.
pub fn inputs(files: &dyn Files, paths: &[PathBuf]) -> Result<Vec<Input>> {
    let mut inputs = Vec::new();
    for path in paths {
        if path.as_os_str() != STANDARD_INPUT && files.is_folder(path) {
            // The house style beside documents is none of them.
            let below = below(files, path)?;
            let before = inputs.len();
            inputs.extend(below.into_iter().filter(|input| !input.path.ends_with(HOUSE_STYLE)));
            if inputs.len() == before {
                bail!("{}: no *.yaml file in this folder", shown(path));
            }
        } else {
            inputs.push(Input::typed(path));
        }
    }
    Ok(inputs)
}

/// Every `*.yaml` and `*.yml` below a folder, in order of their names.
pub fn below(files: &dyn Files, folder: &Path) -> Result<Vec<Input>> {
    let mut found = Vec::new();
    walk(files, folder, Path::new(""), 0, &mut found)?;
    Ok(found)
}

fn walk(files: &dyn Files, folder: &Path, below: &Path, depth: usize, inputs: &mut Vec<Input>) -> Result<()> {
    const DEEPEST: usize = 32;
    let all = files.list(folder).map_err(|error| anyhow!("{}: cannot be read: {}", shown(folder), reason(&error)))?;
    for Listed { path, kind } in all {
        let Some(name) = path.file_name() else { continue };
        if name.to_string_lossy().starts_with('.') {
            continue;
        }
        match kind {
            Kind::Folder if depth < DEEPEST => walk(files, &path, &below.join(name), depth + 1, inputs)?,
            Kind::Folder | Kind::LinkedFolder => {}
            Kind::File => {
                if path.extension().is_some_and(|ending| ending == "yaml" || ending == "yml") {
                    let stem = below.join(path.file_stem().unwrap_or(name));
                    inputs.push(Input::found(path, stem));
                }
            }
        }
    }
    Ok(())
}
