//! What changed between two revisions of a procedure, and what each change means under the governing code.
//!
//! [`compare`] holds what is welded against each other: runs by their numbers with the settings that they inherit
//! (`runs.rs`), lists of entries by what is alike in them, quantities by value. One [`Change`] stands for each value that
//! differs, over all runs that it differs in alike. `judge.rs` says which of a code's variables a change counts for.

mod judge;
mod runs;

use std::collections::HashMap;

use seamwright_handbook::{SourceRef, processes, variables};
use seamwright_model::Loaded;
use seamwright_model::procedure::{CodeName, Procedure, toughness};
use seamwright_model::quantity;
use seamwright_model::source::escape;
use seamwright_weld::View;
use serde_json::{Map, Value};

use crate::codes::{Classified, Effect, Heats, Pair};
use crate::completeness;

use runs::Row;

/// What a change means.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Meaning {
    /// Neither the code nor ISO 15609-1 asks for the value.
    Editorial,
    /// Revise and reissue.
    Nonessential,
    /// A new test where impact tests are asked for.
    Supplementary,
    /// A new test.
    Essential,
}

impl Meaning {
    /// The word for it.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Editorial => "editorial",
            Self::Nonessential => "nonessential",
            Self::Supplementary => "supplementary essential",
            Self::Essential => "essential",
        }
    }
}

/// One variable that changed.
#[derive(Debug, Clone, PartialEq)]
pub struct Change {
    /// JSON pointer of the value, in the new document, or in the old one where it is gone.
    pub pointer: String,
    /// The numbers of the runs that it holds for, where it is of runs: `2`, `1, 3-5`.
    pub runs: Option<String>,
    /// The variable in the words of ISO 15609-1.
    pub term: String,
    /// The value before; nothing where it was not stated.
    pub old: Option<String>,
    /// The value after; nothing where it is not stated.
    pub new: Option<String>,
    /// What the change means.
    pub meaning: Meaning,
    /// The variables of the code that it counts for, the heaviest first.
    pub variables: Vec<Classified>,
}

impl Change {
    /// The value before and after, in words.
    pub fn from_and_to(&self) -> String {
        let [old, new] = [&self.old, &self.new].map(|value| value.as_deref().unwrap_or("not stated"));
        format!("{old} -> {new}")
    }
}

/// What two revisions differ in.
#[derive(Debug, Clone, PartialEq)]
pub struct Comparison {
    /// The code by which changes are judged.
    pub code: CodeName,
    /// Whether impact tests are asked for.
    pub toughness: bool,
    /// The changes in the order of the documents.
    pub changes: Vec<Change>,
}

impl Comparison {
    /// How many changes have a meaning.
    pub fn count(&self, meaning: Meaning) -> usize {
        self.changes.iter().filter(|change| change.meaning == meaning).count()
    }

    /// Whether the code asks for a new test.
    pub fn needs_test(&self) -> bool {
        self.count(Meaning::Essential) > 0 || (self.toughness && self.count(Meaning::Supplementary) > 0)
    }

    /// The verdict in a sentence.
    pub fn verdict(&self) -> &'static str {
        if self.needs_test() {
            "a new test is needed"
        } else if self.count(Meaning::Supplementary) > 0 {
            "revise and reissue; a new test is needed where impact tests are asked for"
        } else if self.count(Meaning::Nonessential) > 0 {
            "revise and reissue, no new test"
        } else if self.changes.is_empty() {
            "no change"
        } else {
            "editorial changes only"
        }
    }

    /// Where the code's variables are written, each source once.
    pub fn sources(&self) -> Vec<SourceRef> {
        let mut sources: Vec<SourceRef> = Vec::new();
        for variable in self.changes.iter().flat_map(|change| &change.variables) {
            if !sources.contains(&variable.source) {
                sources.push(variable.source.clone());
            }
        }
        sources
    }
}

/// Compares two procedures; `code` takes the place of the code that the new one names.
pub fn compare(old: (&Loaded, &Procedure), new: (&Loaded, &Procedure), code: Option<CodeName>) -> Comparison {
    let own = new.1.qualification.as_ref();
    let code = code.or(own.and_then(|own| own.code)).unwrap_or(CodeName::None);
    let asks = |procedure: &Procedure| {
        let text = procedure.qualification.as_ref().and_then(|own| own.toughness.as_deref());
        text.is_some_and(|text| !matches!(toughness(text), Ok(None)))
    };
    let pair = Pair {
        old: View::new(old.1),
        new: View::new(new.1),
        code,
        toughness: asks(new.1),
        processes: judge::processes_of(new.1, old.1),
        heats: Heats::default(),
    };
    let mut walk = Walk { pair: &pair, changes: Vec::new() };
    walk.documents(section(old.0.tree.to_value()), section(new.0.tree.to_value()));
    Comparison { code, toughness: pair.toughness, changes: walk.changes }
}

/// The entries of a section; none where it is something else.
fn section(value: Value) -> Map<String, Value> {
    match value {
        Value::Object(entries) => entries,
        _ => Map::new(),
    }
}

/// Whether two items are the same one.
type Alike<'a> = &'a dyn Fn(&(&str, &Value), &(&str, &Value)) -> bool;

/// Entries of two lists that belong together, by their places: those that are alike first, then those of one name, then
/// the others in order.
fn aligned(old: &[(&str, &Value)], new: &[(&str, &Value)]) -> Vec<(Option<usize>, Option<usize>)> {
    let mut partner: Vec<Option<usize>> = vec![None; new.len()];
    let mut free: Vec<bool> = vec![true; old.len()];
    let named = |one: &(&str, &Value), other: &(&str, &Value)| !one.0.is_empty() && one.0 == other.0;
    let alike = |one: &(&str, &Value), other: &(&str, &Value)| equal(Some(one.1), Some(other.1));
    let both = |one: &(&str, &Value), other: &(&str, &Value)| named(one, other) && alike(one, other);
    let rules: [Alike<'_>; 4] = [&both, &alike, &named, &|_, _| true];
    for rule in rules {
        for (place, own) in partner.iter_mut().enumerate().filter(|(_, own)| own.is_none()) {
            let Some(entry) = new.get(place) else { continue };
            let found =
                old.iter().enumerate().position(|(at, other)| free.get(at) == Some(&true) && rule(other, entry));
            if let Some(at) = found {
                *own = Some(at);
                if let Some(free) = free.get_mut(at) {
                    *free = false;
                }
            }
        }
    }
    let gone = free.iter().enumerate().filter(|(_, free)| **free).map(|(at, _)| (Some(at), None));
    partner.iter().enumerate().map(|(place, own)| (*own, Some(place))).chain(gone.collect::<Vec<_>>()).collect()
}

/// Settings of runs and processes with their filler named by what it is, in the same words for fillers that belong together.
fn refer(document: &mut Map<String, Value>, names: &HashMap<String, String>) {
    let rename = |settings: &mut Value| {
        if let Some(own) = settings.as_object_mut().and_then(|own| own.get_mut("filler"))
            && let Some(name) = text(own).and_then(|name| names.get(&name))
        {
            *own = Value::String(name.clone());
        }
    };
    if let Some(Value::Object(blocks)) = document.get_mut("processes") {
        blocks.values_mut().for_each(rename);
    }
    if let Some(Value::Array(runs)) = document.get_mut("runs") {
        runs.iter_mut().for_each(rename);
    }
}

/// A filler in words: its designation and diameter.
fn filler_words(filler: &Value) -> String {
    let part = |key: &str| filler.get(key).map(plain).unwrap_or_default();
    format!("{} {}", part("designation"), part("diameter")).trim().to_owned()
}

fn text(value: &Value) -> Option<String> {
    match value {
        Value::String(text) => Some(text.clone()),
        Value::Number(number) => Some(number.to_string()),
        _ => None,
    }
}

/// A value as a reader knows it.
fn plain(value: &Value) -> String {
    completeness::plain(value, str::to_owned)
}

/// Whether two texts state the same: the same letters, or the same quantity in other units.
fn same(old: &str, new: &str) -> bool {
    if old == new {
        return true;
    }
    let folded = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    folded(old) == folded(new) || quantity::equal(old, new)
}

/// Whether two values state the same.
fn equal(old: Option<&Value>, new: Option<&Value>) -> bool {
    match (old, new) {
        (Some(Value::Object(old)), Some(Value::Object(new))) => {
            old.iter().all(|(key, value)| equal(Some(value), new.get(key)))
                && new.iter().all(|(key, value)| old.contains_key(key) || equal(None, Some(value)))
        }
        (Some(Value::Array(old)), Some(Value::Array(new))) => {
            old.len() == new.len() && old.iter().zip(new).all(|(old, new)| equal(Some(old), Some(new)))
        }
        // Numbers without a unit are shares and counts; identifiers are text.
        (Some(Value::Number(old)), Some(Value::Number(new))) => old.as_f64() == new.as_f64(),
        (old, new) => match (stated(old), stated(new)) {
            (Some(old), Some(new)) => same(&old, &new),
            (None, None) => true,
            _ => false,
        },
    }
}

/// A value as a reader knows it; nothing where it is empty.
fn stated(value: Option<&Value>) -> Option<String> {
    value.map(plain).filter(|text| !text.is_empty())
}

/// Lists whose order means nothing, as sets of the words of a position or of a record.
fn as_set(pointer: &str, value: Option<&Value>) -> Option<Vec<String>> {
    let word: fn(&str) -> String = match pointer {
        "/positions" => runs::position,
        "/qualification/records" => |name| name.trim().to_owned(),
        _ => return None,
    };
    let Some(Value::Array(items)) = value else { return None };
    let mut words: Vec<String> = items.iter().map(|item| word(&plain(item))).collect();
    words.sort();
    words.dedup();
    Some(words)
}

/// Where a procedure states the toughness that is asked for.
const TOUGHNESS: &str = "/qualification/toughness";

struct Walk<'p> {
    pair: &'p Pair<'p>,
    changes: Vec<Change>,
}

impl Walk<'_> {
    fn documents(&mut self, mut old: Map<String, Value>, mut new: Map<String, Value>) {
        for document in [&mut old, &mut new] {
            // The history of revisions differs by nature, and so do the number and date of the revision.
            document.remove("revisions");
            if let Some(Value::Object(identification)) = document.get_mut("identification") {
                for own in ["revision", "date"] {
                    identification.remove(own);
                }
            }
        }
        let fillers =
            (section(old.remove("fillers").unwrap_or_default()), section(new.remove("fillers").unwrap_or_default()));
        let (before, after): (Vec<_>, Vec<_>) = (entries(&fillers.0), entries(&fillers.1));
        let fillers = aligned(&before, &after);
        let (mut old_names, mut new_names) = (HashMap::new(), HashMap::new());
        for (was, is) in &fillers {
            let of = |list: &[(&str, &Value)], place: &Option<usize>| {
                place.and_then(|at| list.get(at)).map(|(name, filler)| ((*name).to_owned(), filler_words(filler)))
            };
            let (was, is) = (of(&before, was), of(&after, is));
            let words = is.as_ref().or(was.as_ref()).map(|(_, words)| words.clone()).unwrap_or_default();
            old_names.extend(was.map(|(name, _)| (name, words.clone())));
            new_names.extend(is.map(|(name, _)| (name, words)));
        }
        refer(&mut old, &old_names);
        refer(&mut new, &new_names);
        let runs = |document: &mut Map<String, Value>| match document.remove("runs") {
            Some(Value::Array(runs)) => runs,
            _ => Vec::new(),
        };
        let runs = (runs(&mut old), runs(&mut new));
        let blocks = (old.remove("processes").unwrap_or_default(), new.remove("processes").unwrap_or_default());
        let rows = (Row::all(&self.pair.old, runs.0, &blocks.0), Row::all(&self.pair.new, runs.1, &blocks.1));
        for key in keys(&old, &new) {
            let (own, other) = (old.get(&key), new.get(&key));
            match (key.as_str(), own, other) {
                ("parent_metals" | "inspection", own, other) => {
                    let list = |value: Option<&Value>| value.and_then(Value::as_array).cloned().unwrap_or_default();
                    self.list(&key, &list(own), &list(other));
                }
                (_, own, other) => self.values(&format!("/{}", escape(&key)), own, other),
            }
        }
        for (was, is) in fillers {
            let of = |list: &[(&str, &Value)], place: Option<usize>| {
                place.and_then(|at| list.get(at)).map(|(name, filler)| ((*name).to_owned(), (*filler).clone()))
            };
            let (was, is) = (of(&before, was), of(&after, is));
            let mut users = Vec::new();
            for (procedure, own) in [(self.pair.old.procedure, &was), (self.pair.new.procedure, &is)] {
                users.extend(own.iter().flat_map(|(name, _)| judge::filler_users(procedure, name)));
            }
            users.sort();
            users.dedup();
            let name = is.as_ref().or(was.as_ref()).map(|(name, _)| escape(name).into_owned()).unwrap_or_default();
            let filler = |own: &Option<(String, Value)>| own.as_ref().map(|(_, filler)| filler.clone());
            self.belonging(&format!("/fillers/{name}"), &users, filler(&was).as_ref(), filler(&is).as_ref());
        }
        self.processes((&blocks.0, &rows.0), (&blocks.1, &rows.1));
        self.runs(&rows.0, &rows.1);
    }

    /// Entries of a list, each with the one that it belongs to.
    fn list(&mut self, name: &str, old: &[Value], new: &[Value]) {
        fn unnamed(list: &[Value]) -> Vec<(&str, &Value)> {
            list.iter().map(|entry| ("", entry)).collect()
        }
        for (was, is) in aligned(&unnamed(old), &unnamed(new)) {
            let place = is.or(was).unwrap_or_default();
            let pointer = format!("/{name}/{place}");
            self.values(&pointer, was.and_then(|at| old.get(at)), is.and_then(|at| new.get(at)));
        }
    }

    /// Blocks of processes: those that come or go, and those that no run inherits from.
    fn processes(&mut self, old: (&Value, &[Row]), new: (&Value, &[Row])) {
        let by_number = |blocks: &Value| -> Map<String, Value> {
            let Value::Object(blocks) = blocks else { return Map::new() };
            blocks.iter().map(|(key, block)| (processes::number_of(key).to_owned(), block.clone())).collect()
        };
        let (before, after) = (by_number(old.0), by_number(new.0));
        for number in keys(&before, &after) {
            let (was, is) = (before.get(&number), after.get(&number));
            let inherited = [old.1, new.1].iter().all(|rows| rows.iter().any(|row| row.process == number));
            if was.is_some() && is.is_some() && inherited {
                continue;
            }
            let key = |procedure: &Procedure| {
                procedure.processes.keys().find(|key| processes::number_of(key) == number).map(str::to_owned)
            };
            let key = key(self.pair.new.procedure).or_else(|| key(self.pair.old.procedure)).unwrap_or_default();
            self.values(&seamwright_model::procedure::keys::process(&key), was, is);
        }
    }

    /// Runs by their numbers; what differs in several of them alike is one change.
    fn runs(&mut self, old: &[Row], new: &[Row]) {
        let mut order: Vec<Over<'_>> = Vec::new();
        let mut places: HashMap<String, usize> = HashMap::new();
        for stretch in runs::stretches(old, new) {
            let mut differ = Vec::new();
            match (stretch.old, stretch.new) {
                (Some(was), Some(is)) => differences("", Some(&was.holds), Some(&is.holds), &mut differ),
                // A run that comes or goes is one change with the row that states it.
                (was, is) => {
                    let whole = |row: Option<&Row>| row.map(|row| plain(&row.own));
                    differ.push(Differs { below: String::new(), old: whole(was), new: whole(is) });
                }
            }
            for one in differ {
                let row = |row: Option<&Row>| row.map(|row| row.index);
                let whole = one.below.is_empty().then(|| (row(stretch.old), row(stretch.new)));
                let process = |row: Option<&Row>| row.map(|row| row.process.clone());
                let (was, is) = (process(stretch.old), process(stretch.new));
                let name = format!("{one:?} {whole:?} {was:?} {is:?}");
                let place = *places.entry(name).or_insert_with(|| {
                    order.push(Over { one, old: stretch.old, new: stretch.new, numbers: Vec::new() });
                    order.len() - 1
                });
                if let Some(over) = order.get_mut(place) {
                    over.numbers.extend(&stretch.numbers);
                }
            }
        }
        for Over { one, old, new, numbers } in order {
            let stating = [new, old].into_iter().flatten().find(|row| row.states(&one.below));
            let Some(row) = stating.or(new).or(old) else { continue };
            let pointer = row.place(&one.below);
            let users: Vec<String> = vec![row.process.clone()];
            let judged = format!("/runs/{}{}", row.index, one.below);
            let variables = judge::variables(self.pair, &judged, &users, one.old.as_deref(), one.new.as_deref());
            let runs = Some(runs::numbers(&numbers));
            self.push(pointer, runs, &judged, one.old, one.new, variables);
        }
    }

    fn values(&mut self, pointer: &str, old: Option<&Value>, new: Option<&Value>) {
        self.belonging(pointer, &[], old, new);
    }

    /// Values that belong to the processes `users`, where these are known.
    fn belonging(&mut self, pointer: &str, users: &[String], old: Option<&Value>, new: Option<&Value>) {
        let mut found = Vec::new();
        differences(pointer, old, new, &mut found);
        for Differs { below, old, new } in found {
            let variables = judge::variables(self.pair, &below, users, old.as_deref(), new.as_deref());
            self.push(below.clone(), None, &below, old, new, variables);
        }
    }

    fn push(
        &mut self,
        pointer: String,
        runs: Option<String>,
        judged: &str,
        old: Option<String>,
        new: Option<String>,
        variables: Vec<Classified>,
    ) {
        let asked = variables::get(judged).is_some_and(|row| !row.iso_items().is_empty());
        let tough = judged == TOUGHNESS;
        if tough && judge::same_toughness(old.as_deref(), new.as_deref()) {
            return;
        }
        let meaning = match variables.first() {
            Some(first) => match first.effect {
                Effect::Essential => Meaning::Essential,
                Effect::Supplementary => Meaning::Supplementary,
                Effect::Nonessential => Meaning::Nonessential,
            },
            None if tough && judge::tougher(self.pair.code, old.as_deref(), new.as_deref()) => Meaning::Supplementary,
            None if asked || tough => Meaning::Nonessential,
            None => Meaning::Editorial,
        };
        let term = variables::get(judged)
            .map_or_else(|| judged.trim_start_matches('/').to_owned(), |row| row.iso_term.to_owned());
        self.changes.push(Change { pointer, runs, term, old, new, meaning, variables });
    }
}

/// A value that differs, and where.
#[derive(Debug, Clone)]
struct Differs {
    /// JSON pointer.
    below: String,
    old: Option<String>,
    new: Option<String>,
}

/// A value that differs alike in several runs.
struct Over<'r> {
    one: Differs,
    old: Option<&'r Row>,
    new: Option<&'r Row>,
    numbers: Vec<(u32, u32)>,
}

fn entries(section: &Map<String, Value>) -> Vec<(&str, &Value)> {
    section.iter().map(|(name, entry)| (name.as_str(), entry)).collect()
}

/// The keys of the new section, then those that are gone.
fn keys(old: &Map<String, Value>, new: &Map<String, Value>) -> Vec<String> {
    new.keys().chain(old.keys().filter(|key| !new.contains_key(*key))).cloned().collect()
}

/// The values that differ at a place and below it.
fn differences(pointer: &str, old: Option<&Value>, new: Option<&Value>, found: &mut Vec<Differs>) {
    let none = Map::new();
    let sections = match (old, new) {
        (Some(Value::Object(old)), Some(Value::Object(new))) => Some((old, new)),
        // An entry that comes or goes is one change; other sections are walked.
        (None | Some(Value::Null), Some(Value::Object(new))) if !is_entry(pointer) => Some((&none, new)),
        (Some(Value::Object(old)), None | Some(Value::Null)) if !is_entry(pointer) => Some((old, &none)),
        _ => None,
    };
    if let Some((old, new)) = sections {
        for key in keys(old, new) {
            differences(&format!("{pointer}/{}", escape(&key)), old.get(&key), new.get(&key), found);
        }
        return;
    }
    let alike = match (as_set(pointer, old), as_set(pointer, new)) {
        (Some(old), Some(new)) => old == new,
        _ => equal(old, new),
    };
    if !alike {
        found.push(Differs { below: pointer.to_owned(), old: stated(old), new: stated(new) });
    }
}

/// Whether a pointer names a whole process, filler, metal or inspection.
fn is_entry(pointer: &str) -> bool {
    let mut steps = pointer.split('/').skip(1);
    let section = steps.next().unwrap_or_default();
    ["processes", "fillers", "parent_metals", "inspection"].contains(&section)
        && steps.next().is_some()
        && steps.next().is_none()
}
