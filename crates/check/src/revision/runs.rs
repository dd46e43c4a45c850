//! The runs of two revisions as they are welded: expanded to run numbers, each with the settings that it inherits.
//!
//! Runs are never written out one by one: both lists are cut at each other's ends, so that the work grows with the rows
//! of the files and not with the numbers in them.

use std::collections::{BTreeMap, BTreeSet, HashMap};

use seamwright_handbook::positions;
use seamwright_model::procedure::keys;
use seamwright_weld::View;
use serde_json::Value;

/// A row of runs with the settings that hold for it.
pub(super) struct Row {
    /// Its place in the list.
    pub(super) index: usize,
    /// First and last number.
    pub(super) numbers: (u32, u32),
    /// ISO 4063 number of its process, or its name where that is unknown.
    pub(super) process: String,
    /// Key of the block of its process.
    block: Option<String>,
    /// What it states itself.
    pub(super) own: Value,
    /// What holds for it, its own values over those of its process.
    pub(super) holds: Value,
    /// The positions that its settings are for, as a set, and the condition.
    positions: Vec<String>,
}

/// Runs by number that are the same row in each of the revisions.
pub(super) struct Stretch<'r> {
    /// First and last numbers.
    pub(super) numbers: Vec<(u32, u32)>,
    /// The row of the old revision.
    pub(super) old: Option<&'r Row>,
    /// The row of the new revision.
    pub(super) new: Option<&'r Row>,
}

impl Row {
    /// The rows of a procedure; `runs` and `blocks` are the plain values of its sections.
    pub(super) fn all(view: &View<'_>, runs: Vec<Value>, blocks: &Value) -> Vec<Self> {
        let number = |name: &str| seamwright_handbook::processes::number_of(name).to_owned();
        view.runs
            .iter()
            .zip(runs)
            .map(|(seen, mut own)| {
                let block = seen.block.map(|(key, _)| key.to_owned());
                let name = seen.run.process.as_deref().or(block.as_deref()).unwrap_or_default();
                let process = number(name);
                let mut positions: Vec<String> = seen.run.positions.iter().map(|own| position(own)).collect();
                positions.sort();
                positions.dedup();
                positions.extend(seen.run.condition.as_ref().map(ToString::to_string));
                if let Some(own) = own.as_object_mut() {
                    for key in ["run", "positions", "condition"] {
                        own.remove(key);
                    }
                }
                let mut holds = own.clone();
                if let Some(settings) = block.as_ref().and_then(|key| blocks.get(key)) {
                    inherit(&mut holds, settings);
                }
                if let Some(holds) = holds.as_object_mut() {
                    holds.insert("process".to_owned(), Value::String(process.clone()));
                }
                Self { index: seen.index, numbers: seen.numbers, process, block, own, holds, positions }
            })
            .collect()
    }

    /// Where a value below a run is written: in the run, or in the block of its process.
    pub(super) fn place(&self, below: &str) -> String {
        let block = self.block.as_ref().filter(|_| self.own.pointer(below).is_none() && below != "/process");
        match block {
            Some(key) => keys::process(key) + below,
            None => format!("/runs/{}{below}", self.index),
        }
    }

    /// Whether the value below the run is stated, by it or by its process.
    pub(super) fn states(&self, below: &str) -> bool {
        self.holds.pointer(below).is_some()
    }
}

/// The code of a position, by any of its names.
pub(super) fn position(name: &str) -> String {
    positions::get(name).map_or_else(|| name.trim().to_owned(), |row| row.code.to_owned())
}

/// Adds what a run inherits: whole sections and single values of them that it does not state; a composition is one value.
fn inherit(run: &mut Value, settings: &Value) {
    let (Value::Object(run), Value::Object(settings)) = (run, settings) else { return };
    for (key, value) in settings {
        match run.get_mut(key) {
            None | Some(Value::Null) => {
                run.insert(key.clone(), value.clone());
            }
            Some(own @ Value::Object(_)) if key != "composition" => inherit(own, value),
            Some(_) => {}
        }
    }
}

/// Both lists cut at each other's ends: what stands for the same numbers and positions belongs together, in the order of
/// the files where several rows do.
pub(super) fn stretches<'r>(old: &'r [Row], new: &'r [Row]) -> Vec<Stretch<'r>> {
    let mut by_positions: BTreeMap<&[String], [Vec<&'r Row>; 2]> = BTreeMap::new();
    for (side, rows) in [old, new].into_iter().enumerate() {
        for row in rows {
            if let Some(list) = by_positions.entry(&row.positions).or_default().get_mut(side) {
                list.push(row);
            }
        }
    }
    let mut cut: Vec<Stretch<'r>> = Vec::new();
    for sides in by_positions.into_values() {
        let starts: BTreeSet<u32> =
            sides.iter().flatten().flat_map(|row| [row.numbers.0, row.numbers.1.saturating_add(1)]).collect();
        let starts: Vec<u32> = starts.into_iter().collect();
        let mut coming = sides.map(|mut rows| {
            rows.sort_by_key(|row| (row.numbers.0, row.index));
            rows.into_iter().peekable()
        });
        // Rows that stand for the numbers at hand, in the order of the file.
        let mut standing: [Vec<&'r Row>; 2] = [Vec::new(), Vec::new()];
        let mut places: HashMap<(Option<usize>, Option<usize>), usize> = HashMap::new();
        for pair in starts.windows(2) {
            let &[from, next] = pair else { continue };
            for (standing, coming) in standing.iter_mut().zip(&mut coming) {
                standing.retain(|row| row.numbers.1 >= from);
                let before = standing.len();
                while let Some(row) = coming.next_if(|row| row.numbers.0 <= from) {
                    standing.push(row);
                }
                if standing.len() > before {
                    standing.sort_by_key(|row| row.index);
                }
            }
            let [before, after] = &standing;
            for at in 0..before.len().max(after.len()) {
                let (old, new) = (before.get(at).copied(), after.get(at).copied());
                let key = (old.map(|row| row.index), new.map(|row| row.index));
                let place = *places.entry(key).or_insert_with(|| {
                    cut.push(Stretch { numbers: Vec::new(), old, new });
                    cut.len() - 1
                });
                let Some(stretch) = cut.get_mut(place) else { continue };
                match stretch.numbers.last_mut() {
                    Some(last) if last.1.saturating_add(1) == from => last.1 = next - 1,
                    _ => stretch.numbers.push((from, next - 1)),
                }
            }
        }
    }
    cut.sort_by_key(|stretch| stretch.numbers.first().copied());
    cut
}

/// Numbers of runs as a person writes them: `1`, `2-4`, `1, 3-5`.
pub(super) fn numbers(stretches: &[(u32, u32)]) -> String {
    let mut sorted = stretches.to_vec();
    sorted.sort_unstable();
    let mut joined: Vec<(u32, u32)> = Vec::new();
    for (first, last) in sorted {
        match joined.last_mut() {
            Some(before) if first <= before.1.saturating_add(1) => before.1 = before.1.max(last),
            _ => joined.push((first, last)),
        }
    }
    let one = |(first, last): (u32, u32)| if first == last { first.to_string() } else { format!("{first}-{last}") };
    joined.into_iter().map(one).collect::<Vec<_>>().join(", ")
}
