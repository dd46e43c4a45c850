//! What the code of a procedure asks it to state, or ISO 15609-1, against what it states: a matrix with clause numbers.
//!
//! What is asked for, and of which process, stands in the tables of the code, or in `iso-15609-1-contents`. A new condition
//! of an item is an arm of `Asked::holds`. Nothing here is a finding: an item that is missing may be right where the contract
//! does not want it.

use seamwright_handbook::iso_15609_1::{Asks, When};
use seamwright_handbook::variables::{self, Terms};
use seamwright_handbook::{covered_electrodes, positions, processes};
use seamwright_model::procedure::{Mechanization, Preparation, Procedure, Route, Settings, TransferMode, keys};
use seamwright_model::stated::{NONE, NOT_APPLICABLE, OrNone, Stated};
use seamwright_weld::{RunView, View};
use serde_json::Value;

use crate::codes::{self, Item};

/// Whether an item is stated.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum State {
    /// Asked for, and not stated.
    Missing,
    /// Asked for only where the parties specify it, and not stated.
    Unspecified,
    /// Stated as not applicable.
    NotApplicable,
    /// Stated.
    Stated,
}

impl State {
    /// The state as programs know it.
    pub const fn as_str(self) -> &'static str {
        match self {
            Self::Missing => "missing",
            Self::Unspecified => "not-specified",
            Self::NotApplicable => "not-applicable",
            Self::Stated => "stated",
        }
    }

    /// The state in words.
    pub const fn in_words(self) -> &'static str {
        match self {
            Self::Missing => "missing",
            Self::Unspecified => "not specified",
            Self::NotApplicable => NOT_APPLICABLE,
            Self::Stated => "stated",
        }
    }
}

/// One item of the matrix.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Entry {
    /// The standard or code that asks.
    pub standard: &'static str,
    /// Its clause, paragraph or table.
    pub reference: String,
    /// What is asked for.
    pub item: String,
    /// The key of the process that it is asked of; nothing where it is asked of the document.
    pub process: Option<String>,
    /// Keys that state it, as the handbook writes them.
    pub keys: &'static [&'static str],
    /// Whether it is stated.
    pub state: State,
    /// What is stated, in short.
    pub stated: String,
}

impl Entry {
    /// The item in a line: `4.4.8 size of the filler (141)`.
    pub fn line(&self) -> String {
        let process = self.process.as_ref().map_or(String::new(), |process| format!(" ({process})"));
        format!("{} {}{process}", self.reference, self.item)
    }
}

/// The matrix of a procedure: what the code that it names asks, and ISO 15609-1 where that asks for nothing of its own.
///
/// An item of a procedure for several conditions is stated where each of them states it.
pub fn matrix(view: &View<'_>) -> Vec<Entry> {
    let each = view.variants().iter().map(|own| matrix_of(&View::new(&own.procedure)));
    let worst = each.reduce(|mut whole, more| {
        for entry in more {
            let same = |own: &&mut Entry| {
                own.standard == entry.standard && own.line() == entry.line() && own.keys == entry.keys
            };
            match whole.iter_mut().find(same) {
                Some(own) if entry.state < own.state => *own = entry,
                Some(_) => {}
                None => whole.push(entry),
            }
        }
        whole
    });
    worst.unwrap_or_else(|| matrix_of(view))
}

fn matrix_of(view: &View<'_>) -> Vec<Entry> {
    // cannot fail: a procedure that was read can be written
    let document = serde_json::to_value(view.procedure).unwrap_or_default();
    let asked = Asked { view, document: &document, groups: groups(view) };
    let mut entries = Vec::new();
    let code = view.procedure.qualification.as_ref().and_then(|own| codes::of(own.code?));
    for item in code.map_or_else(codes::iso_15609_1, |code| code.asks(view)) {
        let same = |entry: &Entry| entry.standard == item.standard && entry.item == item.text;
        if !(item.once && entries.iter().any(same)) {
            asked.add(&mut entries, &item);
        }
    }
    entries
}

/// The entries that a review goes through: where the code that governs asks for items of its own, those alone.
pub fn asked(view: &View<'_>) -> Vec<Entry> {
    let of_iso = |entry: &Entry| entry.standard.starts_with("ISO");
    let mut entries = matrix(view);
    if !entries.iter().all(of_iso) {
        entries.retain(|entry| !of_iso(entry));
    }
    entries
}

/// The clause that asks for a key: of the code that governs, or of ISO 15609-1.
pub fn clause(key: &str, view: &View<'_>) -> Option<String> {
    codes::governing(view.procedure).and_then(|code| code.clause(key, view)).or_else(|| {
        let clause = variables::get(key)?.clauses().first().copied()?;
        Some(format!("ISO 15609-1, {clause}"))
    })
}

/// The entries that are missing.
pub fn missing(entries: &[Entry]) -> impl Iterator<Item = &Entry> {
    entries.iter().filter(|entry| entry.state == State::Missing)
}

/// A process of the document and its runs.
struct Group<'d> {
    name: &'d str,
    row: Option<&'static processes::Row>,
    block: Option<&'d Settings>,
    runs: Vec<&'d RunView<'d>>,
}

/// The processes of a document: those with a block, then those that only runs name.
fn groups<'d>(view: &'d View<'d>) -> Vec<Group<'d>> {
    let blocks = view.procedure.processes.iter().map(|(name, block)| (name, Some(block)));
    let mut groups: Vec<Group<'d>> =
        blocks.map(|(name, block)| Group { name, row: processes::get(name), block, runs: Vec::new() }).collect();
    for run in &view.runs {
        let Some(name) = run.block.map(|(name, _)| name).or(run.run.process.as_deref()) else { continue };
        match groups.iter_mut().find(|group| group.name == name) {
            Some(group) => group.runs.push(run),
            None => groups.push(Group { name, row: run.process, block: None, runs: vec![run] }),
        }
    }
    groups
}

/// A document and what is asked of it.
struct Asked<'d> {
    view: &'d View<'d>,
    document: &'d Value,
    groups: Vec<Group<'d>>,
}

impl Asked<'_> {
    /// Adds an item where it is asked for: once for the document, or for each process that it is for.
    fn add(&self, entries: &mut Vec<Entry>, item: &Item) {
        let by_process = item.keys.iter().any(|key| keys::is_setting(key));
        let numbers = item.processes;
        let is_for =
            |group: &Group<'_>| numbers.is_empty() || group.row.is_some_and(|row| numbers.contains(&row.number));
        if by_process {
            for group in self.groups.iter().filter(|group| is_for(group) && self.holds(item.when, Some(group))) {
                entries.push(self.entry(item, Some(group)));
            }
        } else if self.groups.iter().any(is_for) || numbers.is_empty() {
            let same = |entry: &Entry| {
                entry.standard == item.standard && entry.reference == item.reference && entry.item == item.text
            };
            // The lists of several processes ask the document for one thing once.
            if self.holds(item.when, None) && !entries.iter().any(same) {
                entries.push(self.entry(item, None));
            }
        }
    }

    fn entry(&self, item: &Item, group: Option<&Group<'_>>) -> Entry {
        let mut found: Vec<(State, String)> = Vec::new();
        for key in item.keys {
            let (state, text) = self.look_up(key, group);
            // Of several keys each needs its name; one alone has that of the item.
            let label = if item.keys.len() > 1 && state == State::Stated { label(key) } else { None };
            let text = match label {
                Some(label) => format!("{}: {text}", label.to_lowercase()),
                None => text,
            };
            found.push((state, text));
        }
        let states = found.iter().map(|(state, _)| *state);
        let state = match item.asks {
            Asks::Any => states.max(),
            Asks::All => states.min(),
        };
        let state = match state.unwrap_or(State::Missing) {
            State::Missing if item.when == When::Specified => State::Unspecified,
            state => state,
        };
        let texts: Vec<String> = found.into_iter().filter(|(_, text)| !text.is_empty()).map(|(_, text)| text).collect();
        Entry {
            standard: item.standard,
            reference: item.reference.clone(),
            item: item.text.clone().into_owned(),
            process: group.map(|group| group.name.to_owned()),
            keys: item.keys,
            state,
            stated: texts.join("; "),
        }
    }

    /// Whether the value of a key is stated wherever it belongs, and what is stated.
    fn look_up(&self, key: &str, group: Option<&Group<'_>>) -> (State, String) {
        let steps: Vec<&str> = key.split('.').collect();
        let Some((first, rest)) = steps.split_first() else { return (State::Missing, String::new()) };
        let section = self.document.get(*first);
        match (*first, section) {
            ("settings", _) => group.map_or((State::Missing, String::new()), |group| self.setting(rest, group)),
            ("processes", Some(Value::Object(map))) if rest.is_empty() => {
                (State::Stated, map.keys().cloned().collect::<Vec<_>>().join(", "))
            }
            ("fillers", Some(Value::Object(map))) => {
                together(map.iter().filter(|(_, own)| filler_counts(key, own)).map(|(_, own)| value(own, rest)))
            }
            ("parent_metals" | "runs", Some(Value::Array(items))) if !rest.is_empty() => {
                together(items.iter().map(|item| value(item, rest)))
            }
            ("runs", Some(Value::Array(items))) => (State::Stated, format!("{} entries", items.len())),
            (_, Some(section)) => match value(section, rest) {
                // A time for each step of thickness is a time.
                (State::Missing, _) if rest == ["post_weld_heat_treatment", "time"] => {
                    value(section, &["post_weld_heat_treatment", "time_by_thickness"])
                }
                own => own,
            },
            (_, None) => (State::Missing, String::new()),
        }
    }

    /// A setting of a process: stated in its block, or in each of its runs.
    fn setting(&self, rest: &[&str], group: &Group<'_>) -> (State, String) {
        let at =
            |section: Option<&Value>| section.map_or((State::Missing, String::new()), |section| value(section, rest));
        let block = at(self.document.get("processes").and_then(|all| all.get(group.name)));
        let all = self.document.get("runs");
        let runs = group.runs.iter().map(|run| match at(all.and_then(|all| all.get(run.index))) {
            (State::Missing, _) => block.clone(),
            own => own,
        });
        if group.runs.is_empty() { block } else { together(runs) }
    }

    /// Whether what an item hangs on holds, for a process or for any of them.
    fn holds(&self, when: When, group: Option<&Group<'_>>) -> bool {
        let procedure = self.view.procedure;
        let joint = procedure.joint.as_ref();
        let preparation = joint.and_then(|joint| joint.preparation.as_ref()).and_then(Stated::value).copied();
        let groove = self.view.weld().is_some_and(seamwright_model::procedure::WeldType::has_groove);
        let any = |test: &dyn Fn(&Group<'_>) -> bool| group.map_or_else(|| self.groups.iter().any(test), test);
        let positions = || procedure.positions.iter().filter_map(|text| positions::get(text));
        match when {
            When::Always | When::Specified => true,
            When::Tested => procedure
                .qualification
                .as_ref()
                .is_some_and(|own| matches!(own.route, Route::TestRecord | Route::PreProductionTest)),
            When::Pipe => is_pipe(procedure) || positions().any(|row| row.product == positions::Product::Pipe),
            When::Groove => groove,
            When::Bevelled => groove && preparation.is_some_and(Preparation::is_cut),
            When::Rounded => matches!(
                preparation,
                Some(Preparation::SingleU | Preparation::DoubleU | Preparation::SingleJ | Preparation::DoubleJ)
            ),
            When::Fillet => self.view.weld().is_some_and(seamwright_model::procedure::WeldType::has_fillet),
            When::Partial => {
                let penetration = joint.and_then(|joint| joint.penetration.as_ref()).and_then(Stated::value);
                penetration.is_some_and(|own| own.as_str() == "partial")
            }
            When::BothSides => joint.is_some() && !self.view.one_sided(),
            When::Backed => joint.and_then(|joint| joint.backing.as_ref()).and_then(OrNone::value).is_some(),
            When::GasBacked => procedure.backing_gas.as_ref().and_then(OrNone::value).is_some(),
            When::Vertical => positions().any(|row| row.progression == positions::Progression::Either),
            When::SeveralRuns => procedure.runs.len() > 1 || self.view.runs.iter().any(RunView::several),
            When::Manual => any(&|group| !group.mechanized()),
            When::Mechanized => any(&|group| group.mechanized()),
            When::MechanizedWire => any(&|group| group.mechanized() && group.row.is_some_and(|row| row.uses_wire_feed)),
            When::Oscillated => any(&|group| {
                group.settings().filter_map(|own| own.technique.as_ref()).any(|own| {
                    own.oscillation_width.is_some()
                        || own.oscillation_frequency.is_some()
                        || own.oscillation_dwell.is_some()
                })
            }),
            When::Filler => any(&|group| {
                let none = group
                    .settings()
                    .any(|own| own.filler.as_deref().is_some_and(|name| matches!(name, NONE | NOT_APPLICABLE)));
                !none && group.row.is_none_or(|row| row.filler != processes::Filler::None)
            }),
            When::LowHydrogen => {
                let designations = procedure.fillers.iter().map(|(_, filler)| Value::from(&*filler.designation));
                designations.into_iter().any(|own| low_hydrogen(Some(&own)))
            }
            When::SeveralWires => any(&|group| {
                let wires = group.settings().filter_map(|own| own.number_of_wires.as_deref());
                wires.filter_map(|text| text.trim().parse::<u32>().ok()).any(|wires| wires > 1)
            }),
            When::Pulsed => any(&|group| {
                group.settings().any(|own| {
                    own.pulse.as_ref().and_then(OrNone::value).is_some()
                        || own.transfer_mode.as_ref().and_then(Stated::value) == Some(&TransferMode::Pulsed)
                })
            }),
            When::HeatTreated => procedure.heat_treatment().is_some(),
        }
    }
}

/// The term of ISO for a key as the tables write it.
fn label(key: &str) -> Option<&'static str> {
    let row = match keys::named(key) {
        Some(own) => variables::get(own.of_process),
        None => variables::get(&format!("/{}", key.replace('.', "/"))),
    };
    row.map(|row| row.term(Terms::Iso))
}

impl Group<'_> {
    /// The settings of the process and of its runs.
    fn settings(&self) -> impl Iterator<Item = &Settings> {
        self.block.into_iter().chain(self.runs.iter().map(|run| &run.run.settings))
    }

    /// Whether the torch is moved by machine; a process that does not say is taken to be worked as is usual for it.
    fn mechanized(&self) -> bool {
        let stated = self.settings().find_map(|own| own.mechanization.as_ref().and_then(Stated::value));
        let usual = || {
            let usual = self.row.map_or(&[][..], |row| row.mechanization);
            !usual.is_empty() && usual.iter().all(|own| matches!(*own, "fully-mechanized" | "automatic"))
        };
        stated.map_or_else(usual, |own| matches!(own, Mechanization::FullyMechanized | Mechanization::Automatic))
    }
}

/// Whether a form of product or a diameter says pipe or tube.
fn is_pipe(procedure: &Procedure) -> bool {
    procedure.parent_metals.iter().any(|metal| {
        let form = metal.form.as_deref().map(str::to_lowercase);
        metal.outside_diameter.is_some() || form.is_some_and(|form| form.contains("pipe") || form.contains("tube"))
    })
}

/// Drying and holding are asked of low-hydrogen electrodes only.
fn filler_counts(key: &str, filler: &Value) -> bool {
    !matches!(key, "fillers.drying" | "fillers.holding") || low_hydrogen(filler.get("designation"))
}

fn low_hydrogen(designation: Option<&Value>) -> bool {
    let row = designation.and_then(Value::as_str).and_then(covered_electrodes::get);
    row.is_some_and(|row| row.low_hydrogen)
}

/// The state of several values of one key: missing where any is; their texts without repeats.
fn together(values: impl Iterator<Item = (State, String)>) -> (State, String) {
    let mut state = None;
    let mut texts: Vec<String> = Vec::new();
    for (own, text) in values {
        state = Some(state.map_or(own, |so_far: State| so_far.min(own)));
        if !text.is_empty() && !texts.contains(&text) {
            texts.push(text);
        }
    }
    (state.unwrap_or(State::Missing), texts.join(", "))
}

/// The value under some steps: a section that is left out on purpose leaves out what stands in it.
fn value(section: &Value, steps: &[&str]) -> (State, String) {
    match (section, steps) {
        (Value::String(text), _) if text == NOT_APPLICABLE => (State::NotApplicable, text.clone()),
        (Value::String(text), []) if text == NONE => (State::Stated, text.clone()),
        (Value::String(text), [_, ..]) if text == NONE => (State::NotApplicable, text.clone()),
        (Value::Object(map), [step, rest @ ..]) => {
            map.get(*step).map_or((State::Missing, String::new()), |inside| value(inside, rest))
        }
        (_, [_, ..]) | (Value::Null, []) => (State::Missing, String::new()),
        (own, []) => (State::Stated, plain(own, |key| key.replace('_', " "))),
    }
}

/// A value in a line, as a reader knows it; `name` says how the keys of a section are written.
pub(crate) fn plain(value: &Value, name: fn(&str) -> String) -> String {
    let of_key = |(key, own): (&String, &Value)| format!("{} {}", name(key), plain(own, name));
    match value {
        Value::String(text) => text.clone(),
        Value::Array(items) => items.iter().map(|own| plain(own, name)).collect::<Vec<_>>().join(", "),
        Value::Object(map) => map.iter().map(of_key).collect::<Vec<_>>().join(", "),
        Value::Null => String::new(),
        Value::Bool(own) => if *own { "yes" } else { "no" }.to_owned(),
        Value::Number(number) => number.to_string(),
    }
}
