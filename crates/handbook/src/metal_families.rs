//! Families of metals that other tables speak of, and the groups of ISO/TR 15608 that belong to each.
//!
//! A limit that is given for a family holds for the families inside it, unless those have their own row: [`chain`] walks
//! from a family outwards.

use std::collections::HashMap;
use std::sync::LazyLock;

use crate::find;
use crate::table::{Origin, table};

table!("metal-families", Row);

/// One family.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Name of the family.
    pub family: &'static str,
    /// The wider family that it belongs to.
    pub parent: Option<&'static str>,
    /// Groups of ISO/TR 15608.
    #[cfg_attr(false, optional)]
    pub groups: &'static [&'static str],
    /// The family in words.
    pub means: &'static str,
    /// Whether iron is the base.
    pub ferrous: bool,
    /// Whether welding gives fume with hexavalent chromium.
    pub chromium: bool,
    /// Whether hot metal must be kept from air until cool.
    pub reactive: bool,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The family with this name.
pub fn get(name: &str) -> Option<&'static Row> {
    find::by_name(rows(), name, |row| [row.family])
}

/// Names that are spelt most like this one.
pub fn nearest(name: &str) -> Vec<&'static str> {
    find::nearest(name, rows().iter().map(|row| row.family))
}

/// The family of a group of ISO/TR 15608 such as `8.1`, by the subgroup if it has a row, else by its group.
pub fn of_group(group: &str) -> Option<&'static Row> {
    let group = group.trim();
    let whole = group.split_once('.').map_or(group, |(whole, _)| whole);
    let by = |wanted: &str| rows().iter().find(|row| row.groups.contains(&wanted));
    by(group).or_else(|| by(whole))
}

/// A family and the wider ones around it, narrowest first; empty for an unknown name.
pub fn chain(name: &str) -> &'static [&'static Row] {
    static CHAINS: LazyLock<HashMap<&str, Vec<&Row>>> =
        LazyLock::new(|| rows().iter().map(|row| (row.family, chain_of(row))).collect());
    let known = CHAINS.get(name).or_else(|| CHAINS.get(get(name)?.family));
    known.map_or(&[], Vec::as_slice)
}

fn chain_of(row: &'static Row) -> Vec<&'static Row> {
    let mut chain: Vec<&'static Row> = Vec::new();
    let mut next = Some(row);
    while let Some(row) = next.filter(|row| !chain.contains(row)) {
        chain.push(row);
        next = row.parent.and_then(get);
    }
    chain
}

/// Whether a family is `wider`, or lies inside it.
pub fn is_in(family: &str, wider: &str) -> bool {
    chain(family).iter().any(|row| find::same(row.family, wider))
}

/// The first row that speaks for a family or, failing that, for the nearest wider one.
pub(crate) fn first<'r, R>(rows: &'r [R], family: &str, of: impl Fn(&R) -> &str) -> Option<&'r R> {
    chain(family).iter().find_map(|link| rows.iter().find(|row| find::same(of(row), link.family)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parents_exist_and_chains_end() {
        for row in rows() {
            assert!(row.parent.is_none_or(|parent| get(parent).is_some()), "{}", row.family);
            assert!(chain(row.family).len() < 6, "{}", row.family);
        }
    }

    // ISO/TR 15608: 8.1 austenitic, 10.2 duplex with more than 24 % chromium, 6.4 9 % chromium, 1.2 carbon-manganese.
    #[test]
    fn groups_find_their_family() {
        for (group, family) in [
            ("8.1", "austenitic-stainless"),
            ("10.2", "superduplex-stainless"),
            ("10.1", "duplex-stainless"),
            ("6.4", "9-chromium-steel"),
            ("5.2", "creep-resisting-steel"),
            ("1.2", "carbon-steel"),
            ("22.3", "aluminium-magnesium"),
        ] {
            assert_eq!(of_group(group).map(|row| row.family), Some(family), "{group}");
        }
        assert!(of_group("99").is_none() && of_group("").is_none());
    }

    #[test]
    fn a_family_lies_in_the_wider_ones() {
        assert!(is_in("Superduplex stainless", "stainless") && is_in("superduplex-stainless", "steel"));
        assert!(!is_in("aluminium", "steel"));
    }
}
