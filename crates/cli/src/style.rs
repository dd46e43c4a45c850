//! `house-style.yaml`: what a shop puts on its sheets, read and looked over before any sheet is made.

use std::fs;
use std::path::Path;

use anyhow::{Context, Result, bail};
use seamwright_sheet::house::{House, LOGO_LIMIT, Logo};
use seamwright_sheet::pdf::missing_glyphs;
use serde::Deserialize;

/// Name of the file beside templates.
pub const FILE: &str = "house-style.yaml";

/// Most lines of a name block, and the most characters of one.
const LINES: (usize, usize) = (6, 120);

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    #[serde(default)]
    lines: Vec<String>,
    accent: Option<String>,
    logo: Option<String>,
}

/// Reads a file of house style; the logo is looked for beside it.
pub fn read(path: &Path) -> Result<House> {
    let name = path.display();
    let text = fs::read_to_string(path).with_context(|| format!("{name}: cannot be read"))?;
    let written: Written = serde_yaml::from_str(&text).map_err(|error| anyhow::anyhow!("{name}: {error}"))?;
    let mut house = House::default();
    if written.lines.len() > LINES.0 {
        bail!("{name}: `lines` has {} lines, more than {}", written.lines.len(), LINES.0);
    }
    for line in written.lines {
        if line.chars().count() > LINES.1 {
            bail!("{name}: a line of `lines` has more than {} characters", LINES.1);
        }
        if let Some(character) = missing_glyphs(&line).into_iter().next() {
            bail!("{name}: the character `{character}` in `lines` cannot be printed on a sheet");
        }
        house.lines.push(line);
    }
    if let Some(accent) = written.accent {
        house.accent = Some(House::colour(&accent).with_context(|| format!("{name}: `accent: {accent}`"))?);
    }
    if let Some(logo) = written.logo {
        let file = path.parent().unwrap_or(Path::new("")).join(&logo);
        let size = fs::metadata(&file).with_context(|| format!("{name}: `logo: {logo}` cannot be read"))?.len();
        if size > LOGO_LIMIT as u64 {
            bail!("{name}: `logo: {logo}` has {size} bytes, more than {LOGO_LIMIT}");
        }
        let bytes = fs::read(&file).with_context(|| format!("{name}: `logo: {logo}` cannot be read"))?;
        house.logo = Some(Logo::new(&bytes).with_context(|| format!("{name}: `logo: {logo}`"))?);
    }
    Ok(house)
}
