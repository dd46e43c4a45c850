//! Base metals with family, groups, strength and composition, and how a name on a drawing finds one.
//!
//! To add a metal, add a row: its names go to `aliases`; a metal that many product specifications name alike gets
//! `products` and `grades`, each of which combines with each. A word that says that a surface is coated is a row of
//! `coating-names`.

use std::collections::HashMap;
use std::sync::LazyLock;

use serde::Deserialize;

use crate::composition::Composition;
use crate::find as names;
use crate::range::Range;
use crate::table::{Origin, table};

table!("base-metals", BaseMetal);
table!(MORE, more, "base-metals-more", BaseMetal);
table!(NAMES, trade_names, "metal-names", TradeName);
table!(COATING_NAMES, coating_names, "coating-names", CoatingName);

/// One metal.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct BaseMetal {
    /// Name by which the metal is ordered.
    pub specification: String,
    /// Family of `metal-families`.
    pub family: String,
    /// Kind of alloy within the family, by which `filler-choice` tells metals apart.
    pub alloy: Option<String>,
    /// P-Number of ASME IX.
    pub p_no: Option<String>,
    /// Group number of ASME IX.
    pub group_no: Option<u32>,
    /// Group of ISO/TR 15608.
    pub iso_group: Option<String>,
    /// Least tensile strength, in megapascals.
    pub tensile_min_mpa: Option<f64>,
    /// Least yield strength, in megapascals.
    pub yield_min_mpa: Option<f64>,
    /// Least tensile strength of a welded joint where heat softens the metal, in megapascals.
    pub welded_tensile_min_mpa: Option<f64>,
    /// Solidus and liquidus in degrees Celsius.
    pub melting_c: Option<Range>,
    /// Highest carbon equivalent (IIW) that the specification allows, in percent.
    pub carbon_equivalent_max: Option<f64>,
    /// Group of prequalified base metals of AWS D1.1, where it is one.
    pub d1_1_group: Option<String>,
    /// Categories of minimum preheat of AWS D1.1: `A` for electrodes that are not low-hydrogen, `B` or `C` for the rest.
    #[serde(default)]
    pub d1_1_preheat: Vec<String>,
    /// Metal that coats the surface.
    pub coating: Option<String>,
    /// Limits by element, in mass percent.
    #[serde(default)]
    pub composition: Composition,
    /// Other names, numbers and former names.
    #[serde(default)]
    pub aliases: Vec<String>,
    /// Product specifications, which combine with `grades`.
    #[serde(default)]
    pub products: Vec<String>,
    /// How product specifications name the metal.
    #[serde(default)]
    pub grades: Vec<String>,
    /// Of a P-Number or a group alone, the least of its alloys, by which preheat and heat treatment go.
    pub heat_like: Option<String>,
    /// Whether it is a P-Number or a group alone, of which strength and composition are not known.
    #[serde(default)]
    pub generic: bool,
    /// Where the row comes from.
    pub origin: Origin,
}

impl BaseMetal {
    fn names(&self) -> impl Iterator<Item = &str> {
        std::iter::once(self.specification.as_str()).chain(self.aliases.iter().map(String::as_str))
    }

    /// What `filler-choice` may call the metal, narrowest first: its alloy, its family and the wider families.
    pub fn kinds(&self) -> Vec<&str> {
        let families = crate::metal_families::chain(&self.family).iter().map(|row| row.family.as_str());
        self.alloy.as_deref().into_iter().chain(families).collect()
    }
}

/// A word or mark that says that a surface is coated.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct CoatingName {
    /// The word or mark.
    pub name: String,
    /// Metal of the coating.
    pub coating: String,
    /// Where the row comes from.
    pub origin: Origin,
}

/// A name of the trade that tells no grade.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct TradeName {
    /// The name.
    pub name: String,
    /// Specification that it is taken as.
    pub metal: String,
    /// What that metal is.
    pub why: Option<String>,
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
            let why = row.why.as_deref().map_or(String::new(), |why| format!(", {why}"));
            Some(format!("{} is taken as {}{why}", row.name, metal.specification))
        }
        None => metal.generic.then(|| format!("{} alone tells no strength and no composition", metal.specification)),
    };
    let coating = metal.coating.as_deref().or_else(|| coating(text));
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
    parts.find_map(|part| {
        coating_names().iter().find(|row| row.name.eq_ignore_ascii_case(&part)).map(|row| row.coating.as_str())
    })
}

/// Up to three names that are spelt most like `text`.
pub fn nearest(text: &str) -> Vec<&'static str> {
    let trade = trade_names().iter().map(|row| row.name.as_str());
    names::nearest(text, all().filter(|metal| !metal.generic).flat_map(BaseMetal::names).chain(trade))
}

type Resolved = (&'static BaseMetal, Option<String>);

fn resolve(text: &str) -> Option<Resolved> {
    let plain = text.replace(['\u{2010}', '\u{2011}', '\u{2012}', '\u{2013}'], "-");
    if let Some(metal) = spelled(rows(), &plain) {
        return Some((metal, None));
    }
    if let Some(metal) = trade_name(&plain).and_then(|row| exact(&row.metal)).or_else(|| numbered(&plain, true)) {
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
        metal.names().chain(metal.products.iter().map(String::as_str)).any(|name| letters(name).starts_with(&listed))
    };
    if all().any(own) {
        return None;
    }
    let known = |grade: &str| exact(grade).or_else(|| tempered(grade).map(|(metal, _)| metal));
    (whole && !number.is_empty() && key(&grade).len() >= LEAST).then(|| known(&grade)).flatten()
}

/// The row of a name of the trade that tells no grade.
pub fn trade_name(text: &str) -> Option<&'static TradeName> {
    names::by_name(trade_names(), text, |row| [row.name.as_str()])
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

/// Least length of a name that is left when words are taken off, so that a bare figure finds nothing.
const LEAST: usize = 3;

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

fn long(name: &str) -> bool {
    name.len() >= LEAST
}

/// Letters and digits in upper case, and points between digits.
fn letters(text: &str) -> String {
    let upper = text.to_uppercase();
    let mut kept = String::with_capacity(upper.len());
    let mut before = ' ';
    let mut rest = upper.chars().peekable();
    while let Some(c) = rest.next() {
        let between_digits = before.is_ascii_digit() && rest.peek().is_some_and(char::is_ascii_digit);
        if c.is_alphanumeric() || (c == '.' && between_digits) {
            kept.push(c);
        }
        before = c;
    }
    kept
}

/// A name without the words that only introduce it, as [`letters`].
fn key(text: &str) -> String {
    let upper = text.to_uppercase();
    let text = without_standard(upper.trim());
    let words = text.split(|c: char| c.is_whitespace() || "(),;_".contains(c));
    let words: Vec<&str> = words.flat_map(product_apart).collect();
    let mut kept = String::new();
    for (at, word) in words.iter().enumerate() {
        let next = words.get(at + 1).map_or(0, |next| letters(next).len());
        // `alloy 6061` is 6061, but alloy 400 and 400 are two metals.
        if introduces(word) || (*word == "ALLOY" && next > LEAST) {
            continue;
        }
        kept.push_str(&letters(&without_prefix(word)));
    }
    kept
}

/// A product specification and the grade that a hyphen ties to it: `A312-TP316L`, `SA-106-Gr.B`, `A106/A106M-B`.
fn product_apart(word: &str) -> impl Iterator<Item = &str> {
    let own = word.rfind('/').map_or(0, |at| at + 1);
    let tied = word.get(own..).and_then(|own| {
        let number = own.strip_prefix('S').unwrap_or(own).strip_prefix(['A', 'B'])?;
        let number = number.strip_prefix('-').unwrap_or(number);
        let after = number.trim_start_matches(|c: char| c.is_ascii_digit());
        let grade = after.strip_prefix('M').unwrap_or(after).strip_prefix('-')?;
        (after.len() < number.len() && !grade.is_empty()).then_some(grade)
    });
    let product = tied.and_then(|grade| word.get(..word.len() - grade.len() - 1)).unwrap_or(word);
    std::iter::once(product).chain(tied)
}

/// Words that stand before or between the parts of a name and tell no metals apart.
fn introduces(word: &str) -> bool {
    matches!(
        word,
        "ASTM"
            | "ASME"
            | "AISI"
            | "SAE"
            | "UNS"
            | "EN"
            | "ENAW"
            | "AW"
            | "DIN"
            | "ISO"
            | "W.NR."
            | "WNR"
            | "WERKSTOFF"
            | "NO."
            | "NR."
            | "NR"
            | "SPEC"
            | "GR"
            | "GR."
            | "GRADE"
            | "TYPE"
            | "TP"
            | "P/N"
            | "STEEL"
    )
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

/// One word without what only introduces it: `SA-516` is `A516`, `GR.70` is `70`, `A516/A516M` is `A516`.
fn without_prefix(word: &str) -> String {
    let digit_next = |rest: &str| rest.starts_with(|c: char| c.is_ascii_digit());
    let word = match word.split_once('/') {
        Some((head, tail)) if tail.strip_suffix('M') == Some(head) => head,
        Some(("A" | "B", tail)) if tail.starts_with('S') => tail,
        _ => word,
    };
    let introduced =
        ["ASTM-", "AISI-", "UNS-", "AW-", "AW", "ENAW-", "ENAW"].iter().find_map(|prefix| word.strip_prefix(prefix));
    let word = introduced.unwrap_or(word);
    for (written, meant) in [("SA", "A"), ("SB", "B")] {
        if let Some(rest) = word.strip_prefix(written).map(|rest| rest.trim_start_matches('-'))
            && digit_next(rest)
        {
            return format!("{meant}{rest}");
        }
    }
    // `TP316L` and `SS 304`: but `SS400` is a steel of its own.
    for (prefix, series) in [("TP", "23456789"), ("SUS", "234"), ("SS", "239")] {
        if let Some(rest) = word.strip_prefix(prefix).map(|rest| rest.trim_start_matches('-'))
            && rest.len() >= LEAST
            && rest.starts_with(|c: char| series.contains(c))
        {
            return rest.to_owned();
        }
    }
    for grade in ["GRADE", "GR.", "GR"] {
        if let Some(rest) = word.strip_prefix(grade).map(|rest| rest.trim_start_matches('-'))
            && (digit_next(rest) || grade == "GR.")
        {
            return rest.to_owned();
        }
    }
    match word.strip_prefix("CLASS").or_else(|| word.strip_prefix("CL.")) {
        Some(rest) => format!("CL{rest}"),
        None => word.to_owned(),
    }
}

/// A name without the European or international standard before it: `EN 10025-2:2019 S355J2` is `S355J2`.
fn without_standard(text: &str) -> &str {
    const SEPARATORS: [char; 3] = [' ', '-', ':'];
    let mut rest = text;
    let mut body = false;
    while let Some(next) = ["BS", "DIN", "NF", "UNI", "SS", "EN", "ISO"].iter().find_map(|name| {
        let next = rest.strip_prefix(name)?;
        // A separator or a figure must follow, so that `SS400` and `ENxyz` stay.
        (next.starts_with(SEPARATORS) || (*name == "EN" && next.starts_with(|c: char| c.is_ascii_digit())))
            .then_some(next)
    }) {
        rest = next.trim_start_matches(SEPARATORS);
        body = true;
    }
    if !body {
        return text;
    }
    let number = |text: &str| text.chars().take_while(char::is_ascii_digit).count();
    let digits = number(rest);
    // Standards of metals have four or five figures; four may be an alloy, so a part or a year must follow those.
    let after = rest.get(digits..).unwrap_or_default();
    let part = after.strip_prefix('-').map_or(0, number);
    if digits == 5 || (digits >= 3 && (1..=2).contains(&part)) {
        let after = if part > 0 { after.get(part + 1..).unwrap_or_default() } else { after };
        let year = after.strip_prefix(':').map_or(0, number);
        let after = if year == 4 { after.get(year + 1..).unwrap_or_default() } else { after };
        let name = after.trim_start_matches(SEPARATORS);
        return if name.is_empty() { rest } else { name };
    }
    rest
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::metal_families;

    fn name(text: &str) -> Option<&'static str> {
        find(text).map(|metal| metal.specification.as_str())
    }

    // How the specifications themselves write these names: ASTM A516, ASME SA-516, EN 10025-2, EN 10088-1 (number and
    // name), EN 573 (EN AW-), ASTM B265.
    #[test]
    fn a_name_is_found_however_it_is_introduced() {
        for (written, specification) in [
            ("ASTM A516 Gr. 70", "A516-70"),
            ("SA-516 Grade 70", "A516-70"),
            ("A/SA-516 Gr 70", "A516-70"),
            ("A516/A516M Gr.70", "A516-70"),
            ("a516-70", "A516-70"),
            ("ASTM A106 Gr. B", "A106-B"),
            ("ASTM A572 Grade 50", "A572-50"),
            ("SA-387 Gr 11 Class 2", "A387-11 Cl2"),
            ("ASTM A335 P91", "A335-P91"),
            ("API 5L Gr. B", "API 5L B"),
            ("API 5L X52", "API 5L X52"),
            ("S355J2", "S355J2"),
            ("S355J2+N", "S355J2"),
            ("EN 10025-2 S355J2+N", "S355J2"),
            ("EN 10025-2:2019 S355J2", "S355J2"),
            ("BS EN 10028-2 P265GH", "P265GH"),
            ("S355", "S355JR"),
            ("p235gh", "P235GH"),
            ("16 Mo 3", "16Mo3"),
            ("13CrMo4-5", "13CrMo4-5"),
            ("304L", "304L"),
            ("AISI 304L", "304L"),
            ("ASTM A240 Type 304L", "304L"),
            ("SA-312 TP304L", "304L"),
            ("A182 F316L", "316L"),
            ("304/304L", "304L"),
            ("X5CrNi18-10", "1.4301"),
            ("EN 1.4301", "1.4301"),
            ("EN 10088-2 1.4404", "1.4404"),
            ("X5CrNi18-10 (1.4301)", "1.4301"),
            ("1.4462 / 2205", "1.4462"),
            ("UNS S32205", "S32205"),
            ("6061-T6", "6061-T6"),
            ("EN AW-6082 T6", "6082-T6"),
            ("ENAW 6082-T6", "6082-T6"),
            ("EN AW-5754 H111", "5754-H111"),
            ("AlMg4.5Mn0.7", "5083-O"),
            ("alloy 6061-T6", "6061-T6"),
            ("Grade 2 titanium", "Titanium grade 2"),
            ("ASTM B265 Gr. 2", "Titanium grade 2"),
            ("3.7035", "Titanium grade 2"),
            ("Ti-6Al-4V", "Titanium grade 5"),
            ("Cu-ETP", "Cu-ETP"),
            ("CW004A", "Cu-ETP"),
            ("alloy 625", "N06625"),
            ("UNS N10276", "N10276"),
            ("304L stainless steel", "304L"),
            ("S235JR galvanized sheet", "S235JR"),
        ] {
            assert_eq!(name(written), Some(specification), "{written}");
        }
    }

    #[test]
    fn what_is_no_metal_is_not_found() {
        for written in
            ["", " ", "2", "70", "Gr", "Unobtainium 9", "A516 304L", "EN", "EN 10025-2", "+", "A", "()", "T6"]
        {
            assert_eq!(name(written), None, "{written}");
        }
        assert_eq!(nearest("S355J3").first().map(|name| name.starts_with("S355")), Some(true));
    }

    #[test]
    fn condition_and_coating_in_the_name_are_told() {
        let found = lookup("S355J2+N").unwrap();
        assert_eq!((found.condition.as_deref(), found.coating), (Some("N"), None));
        let found = lookup("6082-T4").unwrap();
        assert_eq!((found.metal.specification.as_str(), found.condition.as_deref()), ("6082-T6", Some("T4")));
        assert_eq!(lookup("DX51D+Z275").unwrap().coating, Some("zinc"));
        assert_eq!(lookup("S235JR, hot-dip galvanised").unwrap().coating, Some("zinc"));
        assert_eq!(lookup("S235JR").unwrap().coating, None);
    }

    #[test]
    fn every_name_finds_its_own_row_only() {
        let mut owner: HashMap<String, &str> = HashMap::new();
        let both = indexed(rows()).map(|(name, at)| (name, &rows()[at]));
        for (name, metal) in both.chain(indexed(more()).map(|(name, at)| (name, &more()[at]))) {
            let first = *owner.entry(name.clone()).or_insert(metal.specification.as_str());
            assert_eq!(first, metal.specification, "{name}");
        }
        for metal in all() {
            for name in metal.names() {
                // Bare `P-22` is pipe of A335.
                let name = if metal.generic { name.replace("P-", "P-No. ") } else { name.to_owned() };
                assert_eq!(find(&name), Some(metal), "{name}");
            }
        }
        for row in trade_names() {
            assert!(exact(&row.metal).is_some_and(|metal| metal.specification == row.metal), "{}", row.metal);
        }
    }

    #[test]
    fn four_hundred_metals_and_their_numbers_are_known() {
        assert!(all().filter(|metal| !metal.generic).count() >= 400);
        for (written, specification) in [
            ("TP310", "310S"),
            ("TP316L", "316L"),
            ("SS304", "304"),
            ("SS 316L", "316L"),
            ("C12A", "A217-C12A"),
            ("A217 Gr. C12A", "A217-C12A"),
            ("EH36", "A131-AH36"),
            ("Q345R", "Q345R"),
            ("F22", "A182-F22 Cl3"),
            ("A182 F22", "A182-F22 Cl3"),
            ("S31603", "316L"),
            ("UNS S31603", "316L"),
            ("1.4404", "1.4404"),
            ("A513", "A513 1020"),
            ("DOM", "A513 1020 DOM"),
            ("WP22", "A234-WP22"),
            ("A105", "A105"),
            ("P-No. 8", "P-8"),
            ("P-No. 1 Gr 2", "P-1 Gr 2"),
            ("P-1", "P-1"),
            ("P No. 5A", "P-5A"),
            ("P-Number 4", "P-4"),
            ("P-11", "A335-P11"),
            ("group 1.2", "group 1.2"),
            ("ISO 15608 group 8.1", "group 8.1"),
            ("mild steel", "A36"),
            ("stainless", "304L"),
            ("aluminum", "6061-T6"),
            ("Inconel 625", "N06625"),
        ] {
            assert_eq!(name(written), Some(specification), "{written}");
        }
        assert!(lookup("mild steel").unwrap().taken.is_some_and(|taken| taken.contains("A36")));
        assert!(lookup("P-No. 8").unwrap().taken.is_some());
        assert_eq!(lookup("A36").unwrap().taken, None);
        assert_eq!(find("P-No. 8").unwrap().p_no.as_deref(), Some("8"));
    }

    // ISO/TR 15608 puts 16Mo3 and the half-molybdenum steels with the unalloyed ones; their use is at high temperature.
    #[test]
    fn family_agrees_with_the_iso_group() {
        for metal in all() {
            assert!(metal_families::get(&metal.family).is_some(), "{}: {}", metal.specification, metal.family);
            let Some(group) = &metal.iso_group else { continue };
            let by_group = metal_families::of_group(group).unwrap_or_else(|| panic!("{group}"));
            let near = metal_families::is_in(&metal.family, &by_group.family)
                || metal_families::is_in(&by_group.family, &metal.family);
            assert!(near || metal.alloy.as_deref() == Some("half-mo"), "{}: {group}", metal.specification);
        }
    }

    // As drawings, certificates and catalogues spell product specifications of ASTM, ASME and API, and their grades.
    #[test]
    fn product_specifications_are_known_in_every_usual_spelling() {
        for (specification, spellings) in [
            (
                "316L",
                &[
                    "A312-TP316L",
                    "A312 TP316L",
                    "ASTM A312 Grade TP316L",
                    "ASME SA-312 TP316L",
                    "SA312-TP316L",
                    "A312 TP316/316L",
                    "A403-WP316L",
                    "A182 F316L",
                    "A240-316L",
                    "A270 316L",
                    "A269-316L",
                ][..],
            ),
            (
                "304L",
                &["A312-TP304L", "A240-304L", "A240 Type 304L", "A312 Gr. TP304/304L", "SA-240 304L", "A554 MT304L"],
            ),
            (
                "A335-P22",
                &["A335-P22", "A335 P22", "ASTM A335 Gr. P22", "SA-335-P22", "SA335 Grade P22", "A335/A335M-P22"],
            ),
            (
                "A106-B",
                &[
                    "A106-B",
                    "A106 Gr. B",
                    "ASTM A106 Grade B",
                    "ASTM A106/A106M Gr.B",
                    "SA-106-B",
                    "SA-106 Gr B",
                    "A106-Gr.B",
                    "ASTM A106-B",
                ],
            ),
            ("A333-6", &["A333-6", "A333 Gr. 6", "A333 Grade 6", "ASTM A333 Gr.6", "SA-333-6", "A333-Gr.6"]),
            ("A53-B", &["A53-B", "A53 Gr. B", "ASTM A53 Grade B", "A53 Type E Grade B", "SA-53 Gr.B"]),
            (
                "API 5L X52",
                &[
                    "API 5L X52",
                    "API 5L Gr. X52",
                    "API-5L-X52",
                    "API 5LX-52",
                    "5L X52",
                    "X52",
                    "API 5L X52N",
                    "API 5L X52M PSL2",
                    "API 5L X52 PSL2",
                ],
            ),
            ("API 5L X65", &["API 5L X65M", "X65Q", "API 5L L450M PSL2"]),
            ("A500-B", &["A500-B", "A500 Gr. B", "ASTM A500 Grade B", "A500-Gr.B"]),
            ("A572-50", &["A572-50", "A572 Gr. 50", "ASTM A572 GR50", "A572/A572M-50", "A572 Grade 50", "A572-Gr.50"]),
            ("A36", &["A36", "ASTM A36", "ASTM A36/A36M", "SA-36", "SA36"]),
            (
                "A516-70",
                &[
                    "A516-70",
                    "A516 Gr. 70",
                    "SA-516 Gr. 70",
                    "SA516-70",
                    "ASTM A516 Grade 70",
                    "SA-516-70",
                    "A516-Gr.70",
                ],
            ),
            ("304", &["A240-304", "A240 Type 304", "SA-240-304"]),
            ("6061-T6", &["B209 6061-T6", "ASTM B221-6061-T6", "SB-209 6061-T6"]),
            ("N10276", &["B575 N10276", "ASTM B575-N10276", "SB-575 N10276"]),
        ] {
            for spelling in spellings {
                assert_eq!(find(spelling).map(|metal| metal.specification.as_str()), Some(specification), "{spelling}");
            }
        }
        for nothing in ["B575", "A312", "B209", "A270 B", "A516 304L", "A999 Z", "X52Z", "L"] {
            assert!(find(nothing).is_none(), "{nothing}");
        }
    }

    // EN 10025-2:2004 tables 2 and 7 and ASME IX QW-422, as the facts of the table have them.
    #[test]
    fn groups_and_strength_are_those_of_the_standards() {
        let s355 = find("S355J2").unwrap();
        assert_eq!((s355.tensile_min_mpa, s355.yield_min_mpa), (Some(470.0), Some(355.0)));
        assert_eq!(s355.composition.max("C"), Some(0.2));
        let a36 = find("A36").unwrap();
        assert_eq!((a36.p_no.as_deref(), a36.group_no), (Some("1"), Some(1)));
        assert_eq!(a36.d1_1_preheat, ["A", "B"]);
        assert_eq!(find("2205").unwrap().p_no.as_deref(), Some("10H"));
        assert_eq!(find("5083-O").unwrap().welded_tensile_min_mpa, Some(270.0));
    }

    #[test]
    fn figures_are_in_order() {
        for metal in all() {
            if let (Some(tensile), Some(least)) = (metal.tensile_min_mpa, metal.yield_min_mpa) {
                assert!(least < tensile, "{}", metal.specification);
            }
            for (element, content) in metal.composition.iter() {
                let share = |figure: Option<f64>| figure.is_none_or(|figure| figure > 0.0 && figure <= 100.0);
                assert!(share(content.min) && share(content.max), "{} {element}", metal.specification);
            }
        }
    }
}
