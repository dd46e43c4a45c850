//! Current limits of tungsten electrodes, and the single series that they are drawn from.
//!
//! To add a source, add its rows to `tungsten-current-series` and widen the limits in `tungsten-current`; a test compares them.

use serde::{Deserialize, Serialize};

use crate::band::{Band, Limits};
use crate::find;
use crate::table::{Origin, table};
use crate::tungsten_types::Group;

table!(INFO, rows, "tungsten-current", Row);
table!(SERIES, series, "tungsten-current-series", SeriesRow);

/// The kind of welding current as far as the electrode feels it.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum CurrentType {
    /// Direct current, electrode negative.
    Dcen,
    /// Direct current, electrode positive.
    Dcep,
    /// Alternating current with equal half-waves.
    AcBalanced,
    /// Alternating current with more electrode-negative time.
    AcUnbalanced,
    /// Alternating current whose balance is not stated: the wider of both.
    Ac,
}

/// Limits of one electrode group, current type and diameter.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Pure or oxide.
    pub electrode: Group,
    /// Never `Ac`: the table tells balanced from unbalanced.
    pub current: CurrentType,
    /// Diameter in millimetres.
    pub diameter_mm: f64,
    /// Widest range over all sources, in amperes.
    pub envelope_a: Band,
    /// Range that most sources share, in amperes.
    pub usual_a: Option<Band>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The range that one source prints.
#[derive(Debug, Clone, PartialEq)]
pub struct SeriesRow {
    /// Pure or oxide.
    pub electrode: Group,
    /// Never `Ac`.
    pub current: CurrentType,
    /// Diameter in millimetres.
    pub diameter_mm: f64,
    /// Range in amperes.
    pub range_a: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Current limits of an electrode in amperes, by group, current type and diameter in millimetres.
///
/// The nearest listed diameter counts if it lies within 5 %; otherwise there is no limit. With [`CurrentType::Ac`] the
/// limits hold both the balanced and the unbalanced row.
pub fn range(group: Group, current: CurrentType, diameter_mm: f64) -> Option<Limits> {
    if current == CurrentType::Ac {
        let both =
            (range(group, CurrentType::AcBalanced, diameter_mm), range(group, CurrentType::AcUnbalanced, diameter_mm));
        return match both {
            (Some(one), Some(other)) => Some(Limits {
                envelope: one.envelope.hull(other.envelope),
                usual: one.usual.zip(other.usual).map(|(one, other)| one.hull(other)),
                ..one
            }),
            (one, other) => one.or(other),
        };
    }
    let rows = rows().iter().filter(|row| row.electrode == group && row.current == current);
    let row = find::by_size(rows, diameter_mm, |row| row.diameter_mm)?;
    Some(Limits {
        envelope: row.envelope_a,
        usual: row.usual_a,
        source: row.origin.source_ref(),
        doubt: row.origin.doubt,
    })
}

/// The listed diameters in millimetres whose usual range holds a current in amperes, smallest first; what a hint proposes.
pub fn diameters_for(group: Group, current: CurrentType, amperes: f64) -> Vec<f64> {
    let mut diameters: Vec<f64> =
        rows().iter().filter(|row| row.electrode == group).map(|row| row.diameter_mm).collect();
    diameters.sort_by(f64::total_cmp);
    diameters.dedup();
    diameters.retain(|diameter| {
        range(group, current, *diameter).is_some_and(|limits| limits.usual.unwrap_or(limits.envelope).contains(amperes))
    });
    diameters
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn limits_are_drawn_from_the_series() {
        for row in rows() {
            let of = |series: &&SeriesRow| {
                series.electrode == row.electrode
                    && series.current == row.current
                    && (series.diameter_mm - row.diameter_mm).abs() < 1e-9
            };
            let ranges: Vec<Band> = series().iter().filter(of).map(|series| series.range_a).collect();
            assert!(!ranges.is_empty(), "{row:?}");
            for range in &ranges {
                assert!(row.envelope_a.covers(*range), "{row:?} {range:?}");
            }
            if let Some(usual) = row.usual_a {
                for end in [usual.low, usual.high] {
                    let sharing = ranges.iter().filter(|range| range.contains(end)).count();
                    assert!(2 * sharing > ranges.len(), "{row:?}");
                }
            }
        }
        assert!(series().iter().all(|series| range(series.electrode, series.current, series.diameter_mm).is_some()));
    }

    #[test]
    fn a_diameter_between_the_listed_ones_has_no_limits() {
        assert!(range(Group::Oxide, CurrentType::Dcen, 2.5).is_some());
        assert!(range(Group::Oxide, CurrentType::Dcen, 2.8).is_none());
    }

    #[test]
    fn unstated_balance_takes_the_wider_of_both() {
        let ac = range(Group::Oxide, CurrentType::Ac, 3.2).unwrap().envelope;
        assert!(ac.covers(range(Group::Oxide, CurrentType::AcBalanced, 3.2).unwrap().envelope));
        assert!(ac.covers(range(Group::Oxide, CurrentType::AcUnbalanced, 3.2).unwrap().envelope));
    }

    // AWS Welding Handbook vol. 2, current ranges of tungsten electrodes: 2.4 mm thoriated, DCEN, 150 to 250 A.
    #[test]
    fn handbook_range_lies_inside_the_envelope() {
        let limits = range(Group::Oxide, CurrentType::Dcen, 2.4).unwrap();
        assert!(limits.envelope.covers(Band::new(150.0, 250.0)));
        assert_eq!(limits.source.table.as_deref(), Some("tungsten-current"));
    }

    #[test]
    fn a_current_finds_the_diameters_that_carry_it() {
        assert!(diameters_for(Group::Oxide, CurrentType::Dcen, 100.0).contains(&1.6));
    }
}
