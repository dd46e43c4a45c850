//! `house-style.yaml`: what a shop puts on its sheets, read and looked over before any sheet is made.

use std::path::Path;

use anyhow::{Context, Result, anyhow, bail};
use seamwright_page::house::House;
use seamwright_page::logo::{LOGO_LIMIT, Logo};
use seamwright_page::pdf::missing_glyphs;
use serde::Deserialize;

use crate::files::{self, Asked, Files};

pub use crate::files::HOUSE_STYLE as FILE;

/// Most lines of a name block, and the most characters of one.
pub(crate) const LINES: (usize, usize) = (6, 120);

/// Most bytes of the file: 64 KiB.
const MOST: u64 = 64 << 10;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Written {
    #[serde(default)]
    lines: Vec<String>,
    accent: Option<String>,
    logo: Option<String>,
    print_logo: Option<String>,
}

/// Reads a file of house style; the logo is looked for beside it.
pub fn read(files: &dyn Files, path: &Path) -> Result<House> {
    let name = path.display();
    let written: Written = files::yaml(path, &files::text(files, path, MOST)?)?;
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
    let beside = path.parent().unwrap_or(Path::new(""));
    let read = |key: &str, file: Option<String>| {
        file.map(|file| logo(files, &name.to_string(), beside, key, &file)).transpose()
    };
    house.logo = read("logo", written.logo)?;
    house.print_logo = read("print_logo", written.print_logo)?;
    if let Some(print) = &house.print_logo {
        print.check_print().with_context(|| format!("{name}: `print_logo`"))?;
    }
    Ok(house)
}

/// Reads a logo that a key of the house style names.
fn logo(files: &dyn Files, style: &str, beside: &Path, key: &str, file: &str) -> Result<Logo> {
    let what = format!("{style}: `{key}: {file}`");
    let bytes = files
        .read(&beside.join(file), Asked::Found, LOGO_LIMIT as u64)
        .map_err(|error| anyhow!("{what} cannot be read: {}", files::reason(&error)))?;
    if bytes.len() > LOGO_LIMIT {
        bail!("{what} has more than {LOGO_LIMIT} bytes");
    }
    Logo::new(&bytes).context(what)
}

/// Whether PDF sheets can carry the logo; says what to write where they cannot.
pub fn check_print(house: &House) -> Result<()> {
    match (&house.logo, &house.print_logo) {
        (Some(logo), None) => logo.check_print().context("the logo of the house style, which `print_logo` can replace"),
        _ => Ok(()),
    }
}
