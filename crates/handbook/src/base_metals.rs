//! Base metals with family, groups, strength and composition, and how a name on a drawing finds one.
//!
//! To add a metal, add a row: its names go to `aliases`; a metal that many product specifications name alike gets
//! `products` and `grades`, each of which combines with each. A word that says that a surface is coated is a row of
//! `coating-names`.

mod spelling;
#[cfg(test)]
mod tests;

use std::collections::HashMap;
use std::sync::LazyLock;

use crate::band::Band;
use crate::composition::Composition;
use crate::find as names;
use crate::table::{Origin, table};
use spelling::{LEAST, introduces, key, letters, long, product_apart};

table!("base-metals", BaseMetal);
table!(MORE, more, "base-metals-more", BaseMetal);
table!(NAMES, trade_names, "metal-names", TradeName);
table!(COATING_NAMES, coating_names, "coating-names", CoatingName);

/// One metal.
#[derive(Debug, Clone, PartialEq)]
pub struct BaseMetal {
    /// Name by which the metal is ordered.
    pub specification: &'static str,
    /// Family of `metal-families`.
    pub family: &'static str,
    /// Kind of alloy within the family, by which `filler-choice` tells metals apart.
    pub alloy: Option<&'static str>,
    /// P-Number of ASME IX.
    pub p_no: Option<&'static str>,
    /// Group number of ASME IX.
    pub group_no: Option<u32>,
    /// Group of ISO/TR 15608.
    pub iso_group: Option<&'static str>,
    /// Least tensile strength, in megapascals.
    pub tensile_min_mpa: Option<f64>,
    /// Least yield strength, in megapascals.
    pub yield_min_mpa: Option<f64>,
    /// Least tensile strength of a welded joint where heat softens the metal, in megapascals.
    pub welded_tensile_min_mpa: Option<f64>,
    /// Solidus and liquidus in degrees Celsius.
    pub melting_c: Option<Band>,
    /// Highest carbon equivalent (IIW) that the specification allows, in percent.
    pub carbon_equivalent_max: Option<f64>,
    /// Group of prequalified base metals of AWS D1.1, where it is one.
    pub d1_1_group: Option<&'static str>,
    /// Categories of minimum preheat of AWS D1.1: `A` for electrodes that are not low-hydrogen, `B` or `C` for the rest.
    #[cfg_attr(false, optional)]
    pub d1_1_preheat: &'static [&'static str],
    /// Metal that coats the surface.
    pub coating: Option<&'static str>,
    /// Limits by element, in mass percent.
    #[cfg_attr(false, optional)]
    pub composition: Composition,
    /// Other names, numbers and former names.
    #[cfg_attr(false, optional)]
    pub aliases: &'static [&'static str],
    /// Product specifications, which combine with `grades`.
    #[cfg_attr(false, optional)]
    pub products: &'static [&'static str],
    /// How product specifications name the metal.
    #[cfg_attr(false, optional)]
    pub grades: &'static [&'static str],
    /// Of a P-Number or a group alone, the least of its alloys, by which preheat and heat treatment go.
    pub heat_like: Option<&'static str>,
    /// Whether it is a P-Number or a group alone, of which strength and composition are not known.
    #[cfg_attr(false, optional)]
    pub generic: bool,
    /// Where the row comes from.
    pub origin: Origin,
}

impl BaseMetal {
    fn names(&self) -> impl Iterator<Item = &str> {
        std::iter::once(self.specification).chain(self.aliases.iter().copied())
    }

    /// What `filler-choice` may call the metal, narrowest first: its alloy, its family and the wider families.
    pub fn kinds(&self) -> Vec<&str> {
        let families = crate::metal_families::chain(self.family).iter().map(|row| row.family);
        self.alloy.into_iter().chain(families).collect()
    }
}

/// A word or mark that says that a surface is coated.
#[derive(Debug, Clone, PartialEq)]
pub struct CoatingName {
    /// The word or mark.
    pub name: &'static str,
    /// Metal of the coating.
    pub coating: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A name of the trade that tells no grade.
#[derive(Debug, Clone, PartialEq)]
pub struct TradeName {
    /// The name.
    pub name: &'static str,
    /// Specification that it is taken as.
    pub metal: &'static str,
    /// What that metal is.
    pub why: Option<&'static str>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A metal as it was found by a name.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The row.
    pub metal: &'static BaseMetal,
    /// Delivery condition or temper in the name that the row does not list: its strength may differ from the row's.
    pub condition: Option<String>,
    /// Metal that coats the surface, by the row or by the name.
    pub coating: Option<&'static str>,
    /// What was taken, in words, where the name tells no grade.
    pub taken: Option<String>,
}

/// Every metal: those that are met often first.
pub fn all() -> impl Iterator<Item = &'static BaseMetal> {
    rows().iter().chain(more())
}

/// The metal with this name; [`lookup`] says more.
pub fn find(text: &str) -> Option<&'static BaseMetal> {
    static KNOWN: names::Known<Option<&'static BaseMetal>> = names::Known::new();
    KNOWN.of(text, || lookup(text).map(|found| found.metal))
}

/// The metal with this name and what else the name says.
///
/// Case, spaces and hyphens are forgiven, and so are words that only introduce a name (`EN 10025-2`, `ASTM`, `SA-` for
/// `A`, `Grade`, `Type`), a delivery condition after `+`, the form of the product, and a second name of the same metal:
/// `SA-516 Gr. 70`, `EN AW-6082 T6`, `S355J2+N`, `X5CrNi18-10 (1.4301)`.
pub fn lookup(text: &str) -> Option<Found> {
    let trade = trade_name(text);
    let (metal, condition) = resolve(text)?;
    let taken = match trade {
        Some(row) => {
            let why = row.why.map_or(String::new(), |why| format!(", {why}"));
            Some(format!("{} is taken as {}{why}", row.name, metal.specification))
        }
        None => metal.generic.then(|| format!("{} alone tells no strength and no composition", metal.specification)),
    };
    let coating = metal.coating.or_else(|| coating(text));
    Some(Found { metal, condition, coating, taken })
}

/// The metal of a coating that a name speaks of: `zinc` for `S235JR galvanized` or `DX51D+Z275`.
pub fn coating(text: &str) -> Option<&'static str> {
    let upper = text.to_uppercase();
    let mut parts = upper.split(|c: char| !(c.is_alphanumeric() || c == '+')).flat_map(|word| {
        // The marks after a plus stand alone: `DX51D+Z275` has the mark `+Z`.
        let marks = word.match_indices('+').filter_map(|(at, _)| word.get(at..));
        marks.map(|mark| mark.trim_end_matches(|c: char| c.is_ascii_digit()).to_owned()).chain([word.to_owned()])
    });
    parts
        .find_map(|part| coating_names().iter().find(|row| row.name.eq_ignore_ascii_case(&part)).map(|row| row.coating))
}

/// Up to three names that are spelt most like `text`.
pub fn nearest(text: &str) -> Vec<&'static str> {
    let trade = trade_names().iter().map(|row| row.name);
    names::nearest(text, all().filter(|metal| !metal.generic).flat_map(BaseMetal::names).chain(trade))
}

type Resolved = (&'static BaseMetal, Option<String>);

fn resolve(text: &str) -> Option<Resolved> {
    let plain = text.replace(['\u{2010}', '\u{2011}', '\u{2012}', '\u{2013}'], "-");
    if let Some(metal) = spelled(rows(), &plain) {
        return Some((metal, None));
    }
    if let Some(metal) = trade_name(&plain).and_then(|row| exact(row.metal)).or_else(|| numbered(&plain, true)) {
        return Some((metal, None));
    }
    if let Some(metal) = exact(&plain) {
        return Some((metal, None));
    }
    let (name, condition) = match plain.split_once('+') {
        Some((name, condition)) => (name.to_owned(), Some(condition.trim().to_owned())),
        None => (plain.clone(), None),
    };
    let form_left_off = name.split_whitespace().filter(|word| !is_form(word)).collect::<Vec<_>>().join(" ");
    exact(&name)
        .or_else(|| exact(&form_left_off))
        .map(|metal| (metal, condition.clone()))
        .or_else(|| tempered(&form_left_off))
        .or_else(|| together(&form_left_off).map(|metal| (metal, condition)))
        .or_else(|| line_pipe(&name).map(|metal| (metal, None)))
        .or_else(|| of_product(&form_left_off).map(|metal| (metal, None)))
        .or_else(|| Some((numbered(&plain, false)?, None)))
}

/// A grade of line pipe with its delivery condition and level: `API 5L X65M PSL2`, `L450N`.
fn line_pipe(text: &str) -> Option<&'static BaseMetal> {
    let key = key(text);
    let grade = key.strip_suffix("PSL1").or_else(|| key.strip_suffix("PSL2")).unwrap_or(&key);
    let pipe = grade.contains("5L") || grade.starts_with(['X', 'L']);
    let plain = grade.strip_suffix(['M', 'N', 'Q', 'R']).filter(|own| own.ends_with(|c: char| c.is_ascii_digit()));
    [plain, Some(grade)].into_iter().flatten().filter(|_| pipe).find_map(exact)
}

/// A grade behind the specification of a product that no row combines with it: `A270 316L`, `B209 6061-T6`, `B575 N10276`.
fn of_product(text: &str) -> Option<&'static BaseMetal> {
    let upper = text.to_uppercase();
    let words = upper.split(|c: char| c.is_whitespace() || "(),;_".contains(c)).flat_map(product_apart);
    let mut words = words.filter(|word| !word.is_empty() && !introduces(word));
    let product = words.next()?;
    let number = product.strip_prefix('S').unwrap_or(product).strip_prefix(['A', 'B'])?.trim_start_matches('-');
    let grade: String = words.collect::<Vec<_>>().join(" ");
    let whole = number.split('/').next()?.chars().all(|c| c.is_ascii_digit() || c == 'M');
    // A product that rows have is made of their grades alone.
    let listed = letters(product);
    let own = |metal: &BaseMetal| {
        metal.names().chain(metal.products.iter().copied()).any(|name| letters(name).starts_with(&listed))
    };
    if all().any(own) {
        return None;
    }
    let known = |grade: &str| exact(grade).or_else(|| tempered(grade).map(|(metal, _)| metal));
    (whole && !number.is_empty() && key(&grade).len() >= LEAST).then(|| known(&grade)).flatten()
}

/// The row of a name of the trade that tells no grade.
pub fn trade_name(text: &str) -> Option<&'static TradeName> {
    names::by_name(trade_names(), text, |row| [row.name])
}

/// A P-Number of ASME IX or a group of ISO/TR 15608 alone: `P-No. 8 Gr 1`, `P-1`, `group 1.2`, `ISO 15608 8.1`.
///
/// `named` asks for the word: `P-22` may be pipe of A335.
fn numbered(text: &str, named: bool) -> Option<&'static BaseMetal> {
    let upper = text.trim().to_uppercase();
    let words: Vec<&str> =
        upper.split(|c: char| c.is_whitespace() || "-.,:/_".contains(c)).filter(|word| !word.is_empty()).collect();
    let name = match words.as_slice() {
        ["P", "NO" | "NUMBER" | "NUM" | "NR", number, rest @ ..] | ["PNO" | "P#", number, rest @ ..] => {
            with_group(number, rest)?
        }
        ["P", number, rest @ ..] if !named || !rest.is_empty() => with_group(number, rest)?,
        words => {
            let standard = words.iter().take_while(|word| matches!(**word, "ISO" | "CEN" | "TR" | "15608")).count();
            match words.get(standard..)? {
                ["GROUP", whole, rest @ ..] => group_of(whole, rest)?,
                [whole, rest @ ..] if standard > 1 => group_of(whole, rest)?,
                _ => return None,
            }
        }
    };
    more().iter().find(|metal| metal.generic && metal.specification == name)
}

fn with_group(number: &str, rest: &[&str]) -> Option<String> {
    match rest {
        [] => Some(format!("P-{number}")),
        ["GR" | "GROUP", group] | ["GR" | "GROUP", "NO", group] => Some(format!("P-{number} Gr {group}")),
        [group] => Some(format!("P-{number} Gr {}", group.strip_prefix("GR")?)),
        _ => None,
    }
}

fn group_of(whole: &str, rest: &[&str]) -> Option<String> {
    match rest {
        [] => Some(format!("group {whole}")),
        [sub] => Some(format!("group {whole}.{sub}")),
        _ => None,
    }
}

/// An aluminium alloy whose temper no row lists: the alloy's first row, and the temper.
fn tempered(name: &str) -> Option<Resolved> {
    let key = key(name);
    let digits = key.chars().take_while(char::is_ascii_digit).count();
    let alloy = if key.chars().nth(digits) == Some('A') { digits + 1 } else { digits };
    let temper = key.get(alloy..)?;
    let shape = temper.strip_prefix(['T', 'H', 'O', 'F', 'W'])?.chars().all(|c| c.is_ascii_digit());
    if digits != 4 || !shape {
        return None;
    }
    Some((exact(key.get(..alloy)?)?, Some(temper.to_owned())))
}

/// Several names of one metal beside each other: each must be known, and all of one family.
fn together(text: &str) -> Option<&'static BaseMetal> {
    let parts = text.split(|c: char| c.is_whitespace() || "/(),;".contains(c)).filter(|part| !part.is_empty());
    let metals: Option<Vec<_>> = parts.filter(|part| !introduces(&part.to_uppercase())).map(exact).collect();
    let metals = metals?;
    let first = metals.first()?;
    (metals.len() > 1 && metals.iter().all(|metal| metal.family == first.family)).then_some(first)
}

fn exact(text: &str) -> Option<&'static BaseMetal> {
    static INDEX: LazyLock<HashMap<String, usize>> = LazyLock::new(|| index(rows()));
    static MORE_INDEX: LazyLock<HashMap<String, usize>> = LazyLock::new(|| index(more()));
    // Most documents spell a name as the table does, and making an index takes longer than checking one of them.
    let in_first = |name: &str| INDEX.get(name).and_then(|at| rows().get(*at));
    let in_more = |name: &str| MORE_INDEX.get(name).and_then(|at| more().get(*at));
    let (letters, key) = (letters(text), key(text));
    spelled(rows(), text)
        .or_else(|| in_first(&letters))
        .or_else(|| in_more(&letters))
        .or_else(|| in_first(&key))
        .or_else(|| in_more(&key))
}

/// The row that spells one of its names so.
fn spelled(rows: &'static [BaseMetal], text: &str) -> Option<&'static BaseMetal> {
    rows.iter().find(|metal| metal.names().any(|own| own == text))
}

fn index(rows: &'static [BaseMetal]) -> HashMap<String, usize> {
    let mut index = HashMap::new();
    for (name, at) in indexed(rows) {
        index.entry(name).or_insert(at);
    }
    index
}

/// Every name by which a row is found, as it is compared, with the place of the row.
fn indexed(rows: &'static [BaseMetal]) -> impl Iterator<Item = (String, usize)> {
    rows.iter().enumerate().filter(|(_, metal)| !metal.generic).flat_map(|(at, metal)| {
        let own = metal
            .names()
            .flat_map(|name| [letters(name), Some(key(name)).filter(|name| long(name)).unwrap_or_default()]);
        let grades: Vec<String> = metal.grades.iter().map(|grade| key(grade)).collect();
        let combined = metal.products.iter().flat_map(|product| {
            let product = key(product);
            grades.iter().map(move |grade| format!("{product}{grade}"))
        });
        let alone = grades.iter().filter(|name| long(name)).cloned();
        let names: Vec<String> = own.chain(combined).chain(alone).filter(|name| !name.is_empty()).collect();
        names.into_iter().map(move |name| (name, at))
    })
}

/// Words for the form or finish of a product.
fn is_form(word: &str) -> bool {
    const FORMS: &[&str] = &[
        "aluminium",
        "aluminum",
        "annealed",
        "bar",
        "casting",
        "coil",
        "dip",
        "flat",
        "forging",
        "hot-dip",
        "hot",
        "pipe",
        "pickled",
        "plate",
        "profile",
        "rolled",
        "seamless",
        "section",
        "sheet",
        "smls",
        "stainless",
        "steel",
        "tube",
        "welded",
    ];
    let word = word.to_lowercase();
    FORMS.contains(&word.as_str()) || coating_names().iter().any(|row| row.name.eq_ignore_ascii_case(&word))
}
