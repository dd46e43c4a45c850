//! What a welding procedure specification states under ISO 15609-1.

use serde::Deserialize;

use crate::processes;
use crate::table::{Origin, table};

table!("iso-15609-1-contents", Row);

/// One item of a specification.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Row {
    /// What is to be stated.
    pub item: String,
    /// ISO 4063 numbers that it is for; all where empty.
    #[serde(default)]
    pub processes: Vec<String>,
    /// Keys of a procedure that state it; `settings` stands for processes and runs.
    pub keys: Vec<String>,
    /// Where the row comes from.
    #[serde(flatten)]
    pub origin: Origin,
}

/// The items that a process (number or letters) has to state.
pub fn items_for(process: &str) -> Vec<&'static Row> {
    let number = processes::get(process).map_or(process, |row| row.number.as_str());
    rows().iter().filter(|row| row.processes.is_empty() || row.processes.iter().any(|own| own == number)).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tungsten_is_asked_of_tungsten_processes_only() {
        let asks = |process| items_for(process).iter().any(|row| row.item.contains("tungsten"));
        assert!(asks("GTAW") && !asks("SMAW"));
        assert!(rows().iter().flat_map(|row| &row.processes).all(|number| processes::get(number).is_some()));
    }
}
