//! Statements of practice: rules in words that no figure holds.

use crate::rule::{self, Statement};
use crate::table::table;

table!("practice-statements", Statement);

/// The statement with this subject: `touch-free-start`, `pedal-current`, `pulse-step`, `gas-backing`, `strip-backing`,
/// `tile-backing`, `approval`, `acceptance`, `date`, `history`.
pub fn get(subject: &str) -> Option<&'static Statement> {
    rule::statement(rows(), subject)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_subject_stands_once() {
        for row in rows() {
            let same = |other: &&Statement| other.subject == row.subject;
            assert_eq!(rows().iter().filter(same).count(), 1, "{}", row.subject);
            assert_eq!(get(row.subject), Some(row));
        }
    }
}
