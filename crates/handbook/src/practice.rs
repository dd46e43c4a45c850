//! Statements of practice: rules in words that no figure holds.

use crate::rule::Statement;
use crate::table::{named, table};

table!("practice-statements", Statement);
named!("practice-statements");

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_subject_stands_once() {
        for row in rows() {
            let same = |other: &&Statement| other.subject == row.subject;
            assert_eq!(rows().iter().filter(same).count(), 1, "{}", row.subject);
        }
        let named = [(ACCEPTANCE, "acceptance"), (PULSE_STEP, "pulse-step"), (DATE, "date"), (HISTORY, "history")];
        assert!(named.iter().all(|(own, subject)| own.subject == *subject));
    }
}
