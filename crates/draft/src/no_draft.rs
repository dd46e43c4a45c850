//! Refusals of facts that were read: the handbook has nothing that would serve, or nothing that passes.

use seamwright_handbook::base_metals::BaseMetal;
use seamwright_handbook::planning;
use seamwright_handbook::process_suitability::{self, Suits};

use crate::facts::Facts;
use crate::refused::Refused;

/// A refusal that names the processes which suit the metal as usual.
pub(crate) fn nothing(reason: String, facts: &Facts) -> Refused {
    Refused::Nothing { reason: in_own_units(reason, facts), instead: other_processes(facts) }
}

/// The same where settings were found, and none that pass.
pub(crate) fn held_back(fault: String, facts: &Facts) -> Refused {
    Refused::HeldBack { fault: in_own_units(fault, facts), instead: other_processes(facts) }
}

fn other_processes(facts: &Facts) -> Vec<String> {
    usual_processes(facts.metal, facts.process.number, facts.thickness_mm)
}

/// The processes other than one, by ISO 4063 number, which suit a metal as usual at a thickness in millimetres.
pub(crate) fn usual_processes(metal: &BaseMetal, but: &str, thickness_mm: f64) -> Vec<String> {
    let others = planning::processes().into_iter().filter(|number| {
        *number != but
            && process_suitability::get(metal, number).is_some_and(|row| row.suits == Suits::Usual)
            && planning::thickness(metal, number).is_some_and(|row| row.thickness_mm.contains(thickness_mm))
    });
    others.map(str::to_owned).collect()
}

fn in_own_units(reason: String, facts: &Facts) -> String {
    if facts.inches { crate::units::in_inches(&reason, false) } else { reason }
}
