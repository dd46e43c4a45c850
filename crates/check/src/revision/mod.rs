//! What changed between two revisions of a procedure, and what each change means under the governing code.
//!
//! [`compare`] walks both documents side by side and gives one [`Change`] for each value that differs; equal values in other
//! units are no change. `judge.rs` says which of a code's variables a change counts for.

mod judge;

use seamwright_handbook::{SourceRef, processes, variables};
use seamwright_model::Loaded;
use seamwright_model::procedure::{CodeName, Procedure, toughness};
use seamwright_model::quantity;
use seamwright_model::source::escape;
use serde_json::{Map, Value};

use crate::codes::{self, Classified};
use crate::view::View;

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

/// The two documents, with what judging them needs.
struct Pair<'d> {
    old: View<'d>,
    new: View<'d>,
    code: CodeName,
    toughness: bool,
}

/// Compares two procedures; `code` takes the place of the code that the new one names.
pub fn compare(old: (&Loaded, &Procedure), new: (&Loaded, &Procedure), code: Option<CodeName>) -> Comparison {
    let own = new.1.qualification.as_ref();
    let code = code.or(own.and_then(|own| own.code)).unwrap_or(CodeName::None);
    let asks = |procedure: &Procedure| {
        let text = procedure.qualification.as_ref().and_then(|own| own.toughness.as_deref());
        text.is_some_and(|text| matches!(toughness(text), Ok(Some(_))))
    };
    let pair = Pair { old: View::new(old.1), new: View::new(new.1), code, toughness: asks(new.1) };
    let mut walk = Walk { pair: &pair, changes: Vec::new() };
    walk.values("", Some(&canonical(old.0.tree.to_value())), Some(&canonical(new.0.tree.to_value())));
    Comparison { code, toughness: pair.toughness, changes: walk.changes }
}

/// A document with processes by their numbers, lists of runs, metals and so on as maps by what names their entries, and
/// references to fillers by what they refer to, so that another spelling or order is no change.
fn canonical(document: Value) -> Value {
    let Value::Object(mut document) = document else { return document };
    let fillers = document.get("fillers").cloned().unwrap_or_default();
    if let Some(Value::Object(blocks)) = document.get_mut("processes") {
        let named = std::mem::take(blocks).into_iter().map(|(key, block)| (number_of(&key), refer(block, &fillers)));
        *blocks = named.collect();
    }
    if let Some(Value::Array(runs)) = document.get_mut("runs") {
        let mut by_number = Map::new();
        for run in std::mem::take(runs) {
            let mut run = refer(run, &fillers);
            if let Some(Value::Object(own)) = Some(&mut run)
                && let Some(process) = own.get("process").and_then(text)
            {
                own.insert("process".to_owned(), Value::String(number_of(&process)));
            }
            let own = |key: &str| run.get(key).map(plain).unwrap_or_default();
            by_number.insert(run_name(&own("run"), &own("positions")), run);
        }
        document.insert("runs".to_owned(), Value::Object(by_number));
    }
    for list in ["parent_metals", "inspection"] {
        if let Some(Value::Array(entries)) = document.get_mut(list) {
            let by_place = std::mem::take(entries).into_iter().enumerate().map(|(at, entry)| (at.to_string(), entry));
            let by_place: Map<String, Value> = by_place.collect();
            document.insert(list.to_owned(), Value::Object(by_place));
        }
    }
    // The history of revisions differs by nature, and so do the number and date of the revision.
    document.remove("revisions");
    if let Some(Value::Object(identification)) = document.get_mut("identification") {
        for own in ["revision", "date"] {
            identification.remove(own);
        }
    }
    // A filler is known by what it is, not by its name in the file.
    if let Some(Value::Object(own)) = document.get_mut("fillers") {
        let named = std::mem::take(own).into_iter().enumerate().map(|(at, (_, filler))| (at.to_string(), filler));
        *own = named.collect();
    }
    Value::Object(document)
}

/// What a row of runs is known by: its number, and the positions that its settings are for.
fn run_name(number: &str, positions: &str) -> String {
    format!("{number} {positions}").trim().to_owned()
}

/// A pointer into the compared documents as a pointer into the new file, or the old one where the value is gone.
fn as_written(pair: &Pair<'_>, pointer: &str) -> String {
    let mut steps: Vec<String> = seamwright_model::source::steps(pointer).collect();
    let (Some(section), Some(entry)) = (steps.first().cloned(), steps.get(1).cloned()) else {
        return pointer.to_owned();
    };
    let of = |procedure: &Procedure| match section.as_str() {
        "processes" => procedure.processes.keys().find(|key| number_of(key) == entry).map(str::to_owned),
        "fillers" => procedure.fillers.keys().nth(entry.parse().ok()?).map(str::to_owned),
        "runs" => {
            let named = |run: &seamwright_model::procedure::Run| {
                let positions: Vec<String> = run.positions.iter().map(ToString::to_string).collect();
                run_name(&run.run.to_string(), &positions.join(", "))
            };
            procedure.runs.iter().position(|run| named(run) == entry).map(|at| at.to_string())
        }
        _ => None,
    };
    if let (Some(written), Some(step)) = (of(pair.new.procedure).or_else(|| of(pair.old.procedure)), steps.get_mut(1)) {
        *step = written;
    }
    steps.iter().map(|step| format!("/{}", escape(step))).collect()
}

/// The ISO 4063 number of a process by any of its names.
fn number_of(name: &str) -> String {
    processes::get(name).map_or_else(|| name.to_owned(), |row| row.number.clone())
}

/// Settings whose filler is named by its designation and diameter.
fn refer(mut settings: Value, fillers: &Value) -> Value {
    if let Some(own) = settings.as_object_mut()
        && let Some(named) = own.get("filler").and_then(text).and_then(|name| fillers.get(name))
    {
        let part = |key: &str| named.get(key).map(plain).unwrap_or_default();
        let whole = format!("{} {}", part("designation"), part("diameter"));
        own.insert("filler".to_owned(), Value::String(whole.trim().to_owned()));
    }
    settings
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
    match value {
        Value::Null => String::new(),
        Value::String(text) => text.clone(),
        Value::Array(items) => items.iter().map(plain).collect::<Vec<_>>().join(", "),
        Value::Object(map) => {
            map.iter().map(|(key, value)| format!("{key} {}", plain(value))).collect::<Vec<_>>().join(", ")
        }
        other => other.to_string(),
    }
}

/// Whether two texts state the same: the same letters, or the same quantity in other units.
fn same(old: &str, new: &str) -> bool {
    let folded = |text: &str| text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase();
    if folded(old) == folded(new) {
        return true;
    }
    let unit = new
        .trim()
        .trim_end_matches("minimum")
        .trim_end_matches("maximum")
        .trim_end_matches("min")
        .trim_end_matches("max");
    let unit = unit.trim().rsplit(|c: char| c.is_ascii_digit()).next().unwrap_or_default().trim();
    match (quantity::convert(old, unit), quantity::convert(new, unit)) {
        (Ok(one), Ok(other)) => one.extent == other.extent,
        _ => false,
    }
}

struct Walk<'p> {
    pair: &'p Pair<'p>,
    changes: Vec<Change>,
}

impl Walk<'_> {
    fn values(&mut self, pointer: &str, old: Option<&Value>, new: Option<&Value>) {
        match (old, new) {
            // A block of process, run or filler that comes or goes is one change; other sections are walked.
            (Some(Value::Object(old)), Some(Value::Object(new))) => self.maps(pointer, old, new),
            (None | Some(Value::Null), Some(Value::Object(new))) if !is_entry(pointer) => {
                self.maps(pointer, &Map::new(), new);
            }
            (Some(Value::Object(old)), None | Some(Value::Null)) if !is_entry(pointer) => {
                self.maps(pointer, old, &Map::new());
            }
            (old, new) => {
                let some = |value: Option<&Value>| value.map(plain).filter(|text| !text.is_empty());
                let (old, new) = (some(old), some(new));
                let equal = match (&old, &new) {
                    (Some(old), Some(new)) => same(old, new),
                    (None, None) => true,
                    _ => false,
                };
                if !equal {
                    self.change(pointer, old, new);
                }
            }
        }
    }

    fn maps(&mut self, pointer: &str, old: &Map<String, Value>, new: &Map<String, Value>) {
        let keys = new.keys().chain(old.keys().filter(|key| !new.contains_key(*key)));
        for key in keys {
            self.values(&format!("{pointer}/{}", escape(key)), old.get(key), new.get(key));
        }
    }

    fn change(&mut self, pointer: &str, old: Option<String>, new: Option<String>) {
        let variables = judge::variables(self.pair, pointer, old.as_deref(), new.as_deref());
        let asked = variables::get(pointer).is_some_and(|row| !row.iso_items().is_empty());
        let meaning = match variables.first() {
            Some(first) => match first.effect {
                codes::Effect::Essential => Meaning::Essential,
                codes::Effect::Supplementary => Meaning::Supplementary,
                codes::Effect::Nonessential => Meaning::Nonessential,
            },
            None if asked => Meaning::Nonessential,
            None => Meaning::Editorial,
        };
        let term = variables::get(pointer)
            .map_or_else(|| pointer.trim_start_matches('/').to_owned(), |row| row.iso_term.clone());
        self.changes.push(Change { pointer: as_written(self.pair, pointer), term, old, new, meaning, variables });
    }
}

/// Whether a pointer names a whole process, run, filler, metal or inspection.
fn is_entry(pointer: &str) -> bool {
    let mut steps = pointer.split('/').skip(1);
    let section = steps.next().unwrap_or_default();
    ["processes", "runs", "fillers", "parent_metals", "inspection"].contains(&section)
        && steps.next().is_some()
        && steps.next().is_none()
}
