//! How a name finds its row: case, spaces, hyphens and the like do not count, and a miss gets the nearest names.

use std::collections::HashMap;
use std::sync::{LazyLock, PoisonError, RwLock};

use seamwright_calc::band::SLACK;

/// What names were found to mean: documents and the joints of a job ask for the same few again and again.
pub(crate) struct Known<T>(LazyLock<RwLock<HashMap<String, T>>>);

impl<T: Clone> Known<T> {
    /// Nothing found yet.
    pub(crate) const fn new() -> Self {
        Self(LazyLock::new(RwLock::default))
    }

    /// What a name means, found once.
    pub(crate) fn of(&self, name: &str, find: impl FnOnce() -> T) -> T {
        // Names of documents are short; what is not is found each time, and the memory stays small.
        const LONGEST: usize = 64;
        const MOST: usize = 2048;
        if name.len() > LONGEST {
            return find();
        }
        if let Some(own) = self.0.read().unwrap_or_else(PoisonError::into_inner).get(name) {
            return own.clone();
        }
        let own = find();
        let mut all = self.0.write().unwrap_or_else(PoisonError::into_inner);
        if all.len() >= MOST {
            all.clear();
        }
        all.insert(name.to_owned(), own.clone());
        own
    }
}

/// What stands under a key of a row's section.
pub(crate) fn value_of<T>(pairs: &'static [(&'static str, T)], key: &str) -> Option<&'static T> {
    pairs.iter().find(|(own, _)| *own == key).map(|(_, value)| value)
}

/// The first of names of which any may be taken: `ER70S-6` of `ER70S-6 or ER70S-3`.
pub fn first(names: &str) -> &str {
    names.split(" or ").next().unwrap_or(names)
}

/// A name with only its letters and digits left, in lower case, and the `+`, `.` and `/` that tell names apart.
///
/// `E 308L-16`, `e308l16` and `E308L-16` are one name; `4.8` and `48` are two.
pub fn folded(name: &str) -> String {
    letters(name).collect()
}

/// The letters that [`folded`] leaves, one by one.
fn letters(name: &str) -> impl Iterator<Item = char> {
    name.chars().filter(|c| c.is_alphanumeric() || matches!(c, '.' | '/' | '+')).flat_map(char::to_lowercase)
}

/// The same of a name in ASCII.
fn bytes(name: &str) -> impl Iterator<Item = u8> {
    let kept = |c: &u8| c.is_ascii_alphanumeric() || matches!(c, b'.' | b'/' | b'+');
    name.bytes().filter(kept).map(|c| c.to_ascii_lowercase())
}

/// Whether two names are the same but for case, spaces and hyphens.
#[inline]
pub fn same(a: &str, b: &str) -> bool {
    // Names are compared many thousand times for one document, and most differ in their first letters.
    for (one, other) in a.bytes().zip(b.bytes()) {
        if !one.is_ascii_alphanumeric() || !other.is_ascii_alphanumeric() {
            break;
        }
        if !one.eq_ignore_ascii_case(&other) {
            return false;
        }
    }
    a == b || same_letters(a, b)
}

fn same_letters(a: &str, b: &str) -> bool {
    // Bytes where they are ASCII, and nothing is copied.
    if a.is_ascii() && b.is_ascii() {
        return bytes(a).eq(bytes(b));
    }
    letters(a).eq(letters(b))
}

/// The row that one of whose names is `name`, forgiving case, spaces and hyphens.
pub fn by_name<'r, R, N: AsRef<str>, I: IntoIterator<Item = N>>(
    rows: &'r [R],
    name: &str,
    names: impl Fn(&'r R) -> I,
) -> Option<&'r R> {
    rows.iter().find(|row| names(row).into_iter().any(|own| same(own.as_ref(), name)))
}

/// Up to three of `names` that are spelt most like `name`, nearest first; none where nothing is near.
pub fn nearest<'n>(name: &str, names: impl IntoIterator<Item = &'n str>) -> Vec<&'n str> {
    nearest_of(name, &mut names.into_iter())
}

fn nearest_of<'n>(name: &str, names: &mut dyn Iterator<Item = &'n str>) -> Vec<&'n str> {
    const NEAR: f64 = 0.75;
    const MOST: usize = 3;
    let wanted = folded(name);
    // A long name that a short one is no part of shares its first letters by chance.
    let alike = |own: &str| own.len() <= 2 * wanted.len() || own.contains(&wanted);
    let mut scored: Vec<(f64, &str)> = names
        .map(|own| (folded(own), own))
        .filter(|(folded, _)| alike(folded))
        .map(|(folded, own)| (strsim::jaro_winkler(&wanted, &folded), own))
        .filter(|(score, _)| *score >= NEAR)
        .collect();
    scored.sort_by(|a, b| b.0.total_cmp(&a.0).then(a.1.cmp(b.1)));
    scored.dedup_by_key(|scored| scored.1);
    scored.into_iter().take(MOST).map(|(_, own)| own).collect()
}

/// The row whose size is nearest to `size`, if it lies within 5 % of it: 2.5 mm finds 2.4 mm, 2.8 mm finds nothing.
///
/// Nothing is interpolated: a size that no table lists has no row.
pub fn by_size<'r, R>(rows: impl IntoIterator<Item = &'r R>, size: f64, of: impl Fn(&R) -> f64) -> Option<&'r R> {
    let off = |row: &R| (of(row) - size).abs();
    let nearest = rows.into_iter().min_by(|a, b| off(a).total_cmp(&off(b)))?;
    same_size(of(nearest), size).then_some(nearest)
}

/// Whether two sizes are the same listed size: within 5 % of the larger.
pub fn same_size(a: f64, b: f64) -> bool {
    const WITHIN: f64 = 0.05;
    // A hair more, so that 4.75 against 5.0 is in although neither has an exact binary form.
    (a - b).abs() <= WITHIN * a.abs().max(b.abs()) * (1.0 + SLACK)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_looked_up_once_and_memory_stays_small() {
        static KNOWN: Known<Option<usize>> = Known::new();
        let looked = std::cell::Cell::new(0);
        let of = |name: &str| {
            KNOWN.of(name, || {
                looked.set(looked.get() + 1);
                (name != "nothing").then_some(name.len())
            })
        };
        for _ in 0..3 {
            assert_eq!((of("one"), of("nothing")), (Some(3), None));
        }
        assert_eq!(looked.get(), 2);
        let long = "x".repeat(65);
        assert_eq!((of(&long), of(&long), looked.get()), (Some(65), Some(65), 4));
        for number in 0..5000 {
            of(&number.to_string());
        }
        assert!(KNOWN.0.read().unwrap().len() <= 2048);
        assert_eq!(of("one"), Some(3));
    }

    #[test]
    fn names_forgive_case_spaces_and_hyphens_but_not_points() {
        assert!(same("E 308L-16", "e308l16"));
        assert!(!same("4.8", "48"));
        assert!(same("-ER70S", "er70s ") && !same("ER70S", "ER70S2") && same("Łódź 1", "łódź-1"));
    }

    #[test]
    fn sizes_match_within_five_percent_only() {
        let sizes = [1.6, 2.0, 2.4, 3.2, 4.8];
        let find = |size| by_size(&sizes, size, |own| *own).copied();
        assert_eq!(find(2.5), Some(2.4));
        assert_eq!(find(5.0), Some(4.8));
        assert_eq!(find(2.8), None);
        assert_eq!(find(f64::NAN), None);
    }

    #[test]
    fn nearest_names_come_best_first() {
        assert_eq!(
            nearest("tungsten-curent", ["torches", "tungsten-types", "tungsten-current"]).first(),
            Some(&"tungsten-current")
        );
        assert!(nearest("zzz", ["torches"]).is_empty());
        assert!(nearest("banana", ["backing-gas-active"]).is_empty());
        assert_eq!(nearest("polarity-wrong", ["polarity-wrong-for-metal"]).len(), 1);
    }
}
