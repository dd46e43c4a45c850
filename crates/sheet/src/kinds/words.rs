//! Values in the words of a sheet, as several kinds of sheet print them.

use std::collections::{BTreeSet, VecDeque};

use seamwright_check::codes;
use seamwright_drawing::face::text_width;
use seamwright_handbook::variables::{self, Terms};
use seamwright_handbook::{positions, processes, shielding_gases};
use seamwright_model::procedure::{Preparation, Progression, ShieldingGas};
use seamwright_model::quantity::{Quantity, Range, UnitSystem};
use seamwright_model::stated::{Composition, Stated};
use seamwright_page::SheetOptions;
use seamwright_page::block::{Block, Field};
use seamwright_page::words::{Language, label};
use seamwright_weld::View;

use super::{joined, quantity};

/// A field whose width follows its text; nothing where nothing is stated.
pub(super) fn field(label: &str, value: Option<impl Into<String>>) -> Option<Field> {
    let value: String = value?.into();
    if value.is_empty() {
        return None;
    }
    let span = match value.chars().count() {
        0..=24 => 1,
        25..=52 => 2,
        _ => 4,
    };
    Some(Field::new(label, value).wide(span))
}

/// Width of one of the six columns of a strip, and the space between two, pt on A4.
const SIXTH: f64 = 77.0;
const BETWEEN: f64 = 10.0;

/// Adds a strip, where any field is stated.
pub(super) fn push_strip(blocks: &mut Vec<Block>, fields: Vec<Option<Field>>) {
    let fields: Vec<Field> = fields.into_iter().flatten().collect();
    if !fields.is_empty() {
        blocks.push(Block::Strip { fields: packed(fields) });
    }
}

/// A field in large type, across two columns where its value is long.
pub(super) fn large(label: &str, value: Option<String>) -> Option<Field> {
    let mut field = field(label, value)?;
    field.span = if field.value.chars().count() > 34 { 2 } else { 1 };
    field.large = true;
    Some(field)
}

/// A field of a strip, as many sixths wide as its label in a line and its value in two ask for.
pub(super) fn strip_field(label: &str, value: Option<impl Into<String>>) -> Option<Field> {
    let value: String = value?.into();
    if value.is_empty() {
        return None;
    }
    let width = |columns: u8| f64::from(columns) * (SIXTH + BETWEEN) - BETWEEN;
    // Lines are filled nine tenths: words do not break.
    let fits = |columns: &u8| {
        text_width(&value, true) * 8.4 <= width(*columns) * if *columns == 1 { 1.0 } else { 1.8 }
            && text_width(label, false) * 7.0 <= width(*columns)
    };
    let span = (1..6).find(fits).unwrap_or(6);
    Some(Field::new(label, value).wide(span))
}

/// The fields of a strip in the order in which they fill its rows: a field that a row has no room for lets a narrower one
/// of those after it go first.
pub(super) fn packed(fields: Vec<Field>) -> Vec<Field> {
    let mut rest: VecDeque<Field> = fields.into();
    let mut packed: Vec<Field> = Vec::with_capacity(rest.len());
    while !rest.is_empty() {
        let mut room = 6;
        let mut start = packed.len();
        while let Some(at) = rest.iter().position(|field| field.span <= room) {
            let Some(field) = rest.remove(at) else { break };
            room -= field.span.max(1);
            packed.push(field);
        }
        // What is left of a row goes to its fields from the last on, so that long values wrap less.
        let wide = |field: &Field| field.value.chars().count() > 18;
        if room > 0 && !rest.is_empty() {
            start = packed.iter().skip(start).rposition(wide).map_or(packed.len(), |at| start + at);
            if let Some(field) = packed.get_mut(start) {
                field.span += room;
            } else if let Some(last) = packed.last_mut() {
                last.span += room;
            }
        }
    }
    packed
}

/// The terms for several values that share a field: `Pre-flow, post-flow`.
pub(super) fn labels(keys: &[&'static str], options: SheetOptions) -> String {
    let mut text = String::new();
    for key in keys {
        if text.is_empty() {
            text.push_str(&options.term(key));
        } else {
            text.push_str(", ");
            text.push_str(&options.low(key));
        }
    }
    text
}

pub(super) fn composition(parts: &Composition) -> String {
    parts.iter().map(|(name, percent)| format!("{name} {percent}")).collect::<Vec<_>>().join(", ")
}

pub(super) fn joined_option(parts: impl IntoIterator<Item = Option<String>>) -> Option<String> {
    let text = joined(parts);
    (!text.is_empty()).then_some(text)
}

pub(super) fn setting<Q: Quantity>(value: Option<&Range<Q>>, units: UnitSystem) -> String {
    value.map_or(String::new(), |range| range.print(units))
}

pub(super) fn gas(gas: &ShieldingGas, options: SheetOptions) -> String {
    joined([
        gas_named(gas.designation.as_deref(), gas.composition.as_ref(), options),
        quantity(gas.flow.as_ref(), options),
        gas.make.as_deref().map(Into::into),
    ])
}

/// A tungsten's designation with the colour that ISO 6848 gives it.
pub(super) fn tungsten_words(designation: &str, options: SheetOptions) -> String {
    match seamwright_handbook::tungsten_types::get(designation) {
        Some(row) => format!("{designation} ({})", options.word(row.colour)),
        None => designation.to_owned(),
    }
}

/// Adds a heading with its fields, where any is stated.
pub(super) fn section(blocks: &mut Vec<Block>, title: &str, clause: Option<&str>, fields: Vec<Option<Field>>) {
    let fields: Vec<Field> = fields.into_iter().flatten().collect();
    if !fields.is_empty() {
        blocks.push(Block::heading(title, clause));
        blocks.push(Block::Fields { fields });
    }
}

/// A word of the file format as a page says it: `single-v` is single V, `foot-pedal` is foot pedal.
pub(super) fn plain(word: &str) -> String {
    match word {
        "test-record" => "welding procedure test".to_owned(),
        "tested-consumables" => "tested welding consumables".to_owned(),
        "previous-experience" => "previous welding experience".to_owned(),
        "standard-procedure" => "standard welding procedure".to_owned(),
        "pre-production-test" => "pre-production welding test".to_owned(),
        _ => match word.rsplit_once('-') {
            Some((sides @ ("single" | "double" | "flare"), shape @ ("v" | "u" | "j"))) => {
                format!("{sides} {}", shape.to_uppercase())
            }
            _ => word.replace('-', " "),
        },
    }
}

/// A word that is stated, as a page says it.
pub(super) fn plain_word<T: ToString>(value: Option<&Stated<T>>, options: impl Into<SheetOptions>) -> Option<String> {
    let options = options.into();
    super::word(value).map(|word| options.word(&plain(&word)).into_owned())
}

/// The shape of the prepared edges: single V, or single-V-groove in the words of AWS A3.0.
pub(super) fn preparation(shape: Option<&Stated<Preparation>>, options: SheetOptions) -> Option<String> {
    let word = super::word(shape)?;
    Some(match (options.terms, shape?.value()) {
        (Terms::Aws, Some(shape)) if options.language == Language::En => {
            let name = plain(shape.as_str());
            format!("{}-groove", name.replace(' ', "-"))
        }
        _ => options.word(&plain(&word)).into_owned(),
    })
}

/// A process by number or, in the words of AWS, by its letters.
pub(super) fn process_name(number: &str, terms: Terms) -> String {
    match (terms, processes::get(number)) {
        (Terms::Aws, Some(row)) => row.letters.to_owned(),
        (Terms::Iso, Some(row)) => row.number.to_owned(),
        (_, None) => number.to_owned(),
    }
}

/// A position by the code of the chosen system: the one that answers to what is stated, for the kind of weld.
pub(super) fn position_name(code: &str, terms: Terms, view: &View<'_>) -> String {
    let system = match terms {
        Terms::Iso => "iso",
        Terms::Aws => "aws",
    };
    let Some(row) = positions::get(code).filter(|row| row.system != system) else { return code.to_owned() };
    let fillet = view.weld().is_some_and(|weld| weld.has_fillet() && !weld.has_groove());
    let wanted = if fillet { positions::Weld::Fillet } else { positions::Weld::Groove };
    let downward = view.procedure.progression.as_ref().and_then(Stated::value) == Some(&Progression::Downward);
    let fits = |other: &&'static positions::Row| {
        (other.weld == wanted || other.weld == positions::Weld::Both)
            && match other.progression {
                positions::Progression::Upward => !downward,
                positions::Progression::Downward => downward,
                positions::Progression::Either | positions::Progression::None => true,
            }
    };
    let found: Vec<&'static positions::Row> = row.equivalent.iter().filter_map(|name| positions::get(name)).collect();
    let best = found.iter().copied().find(|other| fits(other)).or(found.first().copied());
    best.map_or_else(|| code.to_owned(), |other| other.code.to_owned())
}

/// The stated positions with the progression: `PF`, `3G, upward`.
pub(super) fn positions_in_words(view: &View<'_>, options: SheetOptions) -> Option<String> {
    let procedure = view.procedure;
    let mut names: Vec<String> = Vec::new();
    for code in &procedure.positions {
        let name = position_name(code, options.terms, view);
        if !names.contains(&name) {
            names.push(name);
        }
    }
    let progression = super::word(procedure.progression.as_ref()).map(|word| options.word(&word).into_owned());
    joined_option([(!names.is_empty()).then(|| names.join(", ")), progression])
}

/// What a component of a gas is called.
fn component(symbol: &str) -> &str {
    match symbol.to_ascii_lowercase().as_str() {
        "ar" => "argon",
        "he" => "helium",
        "co2" => "carbon dioxide",
        "o2" => "oxygen",
        "n2" => "nitrogen",
        "h2" => "hydrogen",
        _ => symbol,
    }
}

/// A gas in words, the mixture first: `argon 98 % + nitrogen 2 %`; of a class alone, what the class holds.
pub(super) fn gas_in_words(
    designation: Option<&str>,
    parts: Option<&Composition>,
    options: SheetOptions,
) -> Option<String> {
    let component = |symbol: &str| options.word(component(symbol)).into_owned();
    if let Some(parts) = parts {
        let mut parts: Vec<(&str, f64)> = parts.iter().collect();
        parts.sort_by(|one, other| other.1.total_cmp(&one.1));
        let said: Vec<String> =
            parts.iter().map(|(name, percent)| format!("{} {percent} %", component(name))).collect();
        return Some(said.join(" + "));
    }
    let designation = designation?;
    let row = shielding_gases::get(designation)?;
    let held: Vec<String> = row
        .components()
        .into_iter()
        .filter_map(|(name, share)| {
            let share = share?;
            Some(if share.low >= 100.0 {
                component(name)
            } else {
                let (low, high) = (share.low.to_string(), share.high.to_string());
                options.fill(label::GAS_RANGE, &[("name", &component(name)), ("low", &low), ("high", &high)])
            })
        })
        .collect();
    let held = (!held.is_empty()).then(|| held.join(&options.say(label::AND)))?;
    Some(match row.balance {
        Some(name) => options.fill(label::GAS_BALANCE, &[("gas", &component(name)), ("others", &held)]),
        None => held,
    })
}

/// A gas as a sheet names it: the words, then the class.
pub(super) fn gas_named(
    designation: Option<&str>,
    parts: Option<&Composition>,
    options: SheetOptions,
) -> Option<String> {
    let class = designation.map(|name| if name.contains(' ') { name.to_owned() } else { format!("ISO 14175-{name}") });
    joined_option([gas_in_words(designation, parts, options), class])
}

/// The clauses that ask for keys: of ISO 15609-1, or in the words of AWS the paragraphs of the code that governs.
pub(super) fn clauses<'k>(keys: impl IntoIterator<Item = &'k str>, view: &View<'_>, terms: Terms) -> Option<String> {
    let text = match terms {
        Terms::Iso => variables::clauses(keys),
        Terms::Aws => {
            let code = codes::governing(view.procedure);
            let asked =
                keys.into_iter().flat_map(|key| code.map(|code| code.paragraphs(key, view)).unwrap_or_default());
            let asked: BTreeSet<String> = asked.collect();
            asked.into_iter().take(MOST_CLAUSES).collect::<Vec<_>>().join(", ")
        }
    };
    (!text.is_empty()).then_some(text)
}

/// So many paragraphs stand over a rule.
const MOST_CLAUSES: usize = 5;
