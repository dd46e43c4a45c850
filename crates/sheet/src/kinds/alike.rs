//! What holds alike at several runs, told once with the runs that it holds at.

use std::collections::HashMap;
use std::hash::Hash;

use seamwright_handbook::variables::{self, Terms};
use seamwright_page::words::label;

use super::compared::place;

/// Most stretches of runs that are named in one place: where there are more, what follows stands in another.
const STRETCHES: usize = 12;

/// A place of a run: its index in the list, and what it is of the run.
fn of_run(pointer: &str) -> Option<(usize, &str)> {
    let rest = pointer.strip_prefix("/runs/")?;
    let (index, key) = rest.split_once('/').unwrap_or((rest, ""));
    Some((index.parse().ok()?, key))
}

/// What says the same of the same value of several runs: the first of each group with the places of all, in the order of the
/// first ones. What is put in is a place, what is said there, and the thing itself.
///
/// Nothing but runs is put together, and no group has more stretches of runs than a person reads in one place.
pub fn alike<'p, T, K: Eq + Hash>(all: impl IntoIterator<Item = (&'p str, K, T)>) -> Vec<(T, Vec<&'p str>)> {
    let mut groups: Vec<(T, Vec<&str>)> = Vec::new();
    // The group that is open for what is said, its last run, and its stretches.
    let mut open: HashMap<(&str, K), (usize, usize, usize)> = HashMap::new();
    for (pointer, says, one) in all {
        if let Some((index, key)) = of_run(pointer) {
            let (at, last, stretches) = open.entry((key, says)).or_insert((usize::MAX, index, 0));
            let begins = index != *last + 1;
            if let Some((_, places)) = groups.get_mut(*at)
                && (!begins || *stretches < STRETCHES)
            {
                places.push(pointer);
                (*last, *stretches) = (index, *stretches + usize::from(begins));
                continue;
            }
            (*at, *last, *stretches) = (groups.len(), index, 1);
        }
        groups.push((one, vec![pointer]));
    }
    groups
}

/// The places of a group of [`alike`] in the words of the dictionary: `Current, entries 1-3, 5 of the runs`.
pub fn places(pointers: &[&str], terms: Terms) -> String {
    let first = match pointers {
        [] => return String::new(),
        [alone] => return place(alone, terms),
        [first, ..] => first,
    };
    let mut indexes: Vec<usize> =
        pointers.iter().filter_map(|pointer| of_run(pointer)).map(|(index, _)| index + 1).collect();
    indexes.sort_unstable();
    let mut stretches: Vec<(usize, usize)> = Vec::new();
    for index in indexes {
        match stretches.last_mut() {
            Some((_, last)) if index == *last + 1 => *last = index,
            _ => stretches.push((index, index)),
        }
    }
    let said = |(low, high): &(usize, usize)| if low == high { low.to_string() } else { format!("{low}-{high}") };
    let numbers: Vec<String> = stretches.iter().map(said).collect();
    label::TERM_ENTRIES_NUMBERS_OF_THE_RUNS
        .fill(&[("term", variables::term(first, terms)), ("numbers", &numbers.join(", "))])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn grouped(pointers: &[&str]) -> Vec<String> {
        let all = alike(pointers.iter().map(|own| (*own, (), ())));
        all.iter().map(|((), group)| places(group, Terms::Iso)).collect()
    }

    #[test]
    fn what_is_alike_at_several_runs_is_told_once_with_the_runs() {
        let all = ["/runs/0/current", "/joint", "/runs/1/current", "/runs/2/voltage", "/runs/4/current", "/joint"];
        let joint = place("/joint", Terms::Iso);
        assert_eq!(
            grouped(&all),
            ["Current, entries 1-2, 5 of the runs", &joint, "Voltage, entry 3 of the runs", &joint]
        );
        let many: Vec<String> = (0..9000).map(|run| format!("/runs/{run}/current")).collect();
        let many: Vec<&str> = many.iter().map(String::as_str).collect();
        assert_eq!(grouped(&many), ["Current, entries 1-9000 of the runs"]);
        let every_other: Vec<&str> = many.iter().copied().step_by(2).collect();
        let groups = alike(every_other.iter().map(|own| (*own, (), ())));
        assert_eq!(groups.iter().map(|((), group)| group.len()).sum::<usize>(), 4500);
        assert!(groups.iter().all(|((), group)| group.len() <= STRETCHES), "each has as many as are read in one place");
    }
}
