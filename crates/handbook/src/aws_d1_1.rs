//! AWS D1.1: essential variables, qualified ranges, preheat, prequalified limits and joints, fillets, fit-up, acceptance.

pub(crate) mod electrodes;
pub(crate) mod joints;
pub(crate) mod preheat;
pub(crate) mod prequalified;
pub(crate) mod qualification;
pub mod welders;

use crate::iso_15609_1::Row as Item;
use crate::rule::Rule;
use crate::table::{Origin, named, table};

pub use electrodes::{EXPOSURE, ExposureRow, FILLERS, FillerRow, exposure, exposures, filler_group, fillers};
pub use joints::{
    FIT_UP, FitUpRow, JOINT_MARKS, JOINTS, JointMarkRow, JointRow, Printed, fit_up, fit_ups, joint, joint_marks,
    joints, nearest_joints,
};
pub use preheat::{PREHEAT, PreheatRow, preheat, preheats};
pub use prequalified::{
    MINIMUM_FILLET, MinimumFilletRow, PREQUALIFIED, PrequalifiedRow, limits, minimum_fillet, minimum_fillets,
    prequalified, quantity,
};
pub use qualification::{
    GROUPS, GroupRow, POSITIONS, PositionRow, RANGES, VARIABLES, VariableRow, group, groups, pipe_range, plate_range,
    positions, positions_covered, ranges, variables, variables_of,
};

table!(RULES, rules, "aws-d1-1-rules", Rule);
named!("aws-d1-1-rules");
table!(CONTENTS, contents, "aws-d1-1-contents", Item);
table!(ACCEPTANCE, acceptances, "aws-d1-1-acceptance", AcceptanceRow);

/// A limit of visual inspection.
#[derive(Debug, Clone, PartialEq)]
pub struct AcceptanceRow {
    /// The imperfection in words.
    pub imperfection: &'static str,
    /// When the row holds.
    pub condition: Option<&'static str>,
    /// The limit in words.
    pub limit: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::processes;

    #[test]
    fn joints_and_variables_name_processes_that_exist() {
        for number in
            joints().iter().flat_map(|row| row.processes).chain(variables().iter().flat_map(|row| row.processes))
        {
            assert!(processes::get(number).is_some(), "{number}");
        }
        assert_eq!(joint("b-u2a").len(), 3);
        assert!(variables_of("GTAW").iter().any(|row| row.variable == "current" && row.increase_over == Some(25.0)));
    }
}
