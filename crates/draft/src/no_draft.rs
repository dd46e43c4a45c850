//! Refusals of facts that were read: the handbook has nothing that would serve, or nothing that passes.

use seamwright_handbook::planning;
use seamwright_handbook::process_suitability::{self, Suits};

use crate::facts::Facts;
use crate::refused::Refused;

/// A refusal that names the processes which suit the metal as usual.
pub(crate) fn nothing(reason: String, facts: &Facts) -> Refused {
    Refused::Nothing { reason: in_own_units(reason, facts), instead: usual_processes(facts) }
}

/// The same where settings were found, and none that pass.
pub(crate) fn held_back(fault: String, facts: &Facts) -> Refused {
    Refused::HeldBack { fault: in_own_units(fault, facts), instead: usual_processes(facts) }
}

/// The other processes which suit the metal as usual at its thickness.
fn usual_processes(facts: &Facts) -> Vec<String> {
    let others = planning::processes().into_iter().filter(|number| {
        *number != facts.process.number
            && process_suitability::get(facts.metal, number).is_some_and(|row| row.suits == Suits::Usual)
            && planning::thickness(facts.metal, number).is_some_and(|row| row.thickness_mm.contains(facts.thickness_mm))
    });
    others.map(str::to_owned).collect()
}

fn in_own_units(reason: String, facts: &Facts) -> String {
    if facts.inches { crate::units::in_inches(&reason, false) } else { reason }
}
