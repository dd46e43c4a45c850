//! Why there is no draft.

/// Why there is no draft.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Refused {
    /// A name that the handbook does not have.
    #[error("{what} `{text}` is not known{}", nearest(.near, *.table))]
    Unknown {
        /// What was to be named.
        what: &'static str,
        /// What was written.
        text: String,
        /// The nearest names.
        near: Vec<String>,
        /// The table that lists the names, where they stand in one.
        table: Option<&'static str>,
    },
    /// A quantity that cannot be read.
    #[error("{what}: {reason}")]
    Quantity {
        /// Which quantity.
        what: &'static str,
        /// What is wrong with it.
        reason: String,
    },
    /// A process that drafts are not written for.
    #[error("no draft for process {process}: drafts are for {}", .drafted.join(", "))]
    NotDrafted {
        /// The process.
        process: String,
        /// Processes that are drafted.
        drafted: Vec<&'static str>,
    },
    /// A process that does not suit the metal.
    #[error("process {process} does not suit {metal}: {reason}{}", hint(.instead))]
    Unsuited {
        /// The process.
        process: String,
        /// The metal.
        metal: String,
        /// Why.
        reason: String,
        /// Processes to use instead.
        instead: Vec<String>,
    },
    /// A thickness that the process or the tables do not reach.
    #[error("thickness {stated} lies outside what process {process} welds of {metal} ({low}-{high} mm){}", hint(.instead))]
    Thickness {
        /// As written.
        stated: String,
        /// The process.
        process: String,
        /// The metal.
        metal: String,
        /// Least thickness, mm.
        low: String,
        /// Greatest thickness, mm.
        high: String,
        /// Processes to use instead.
        instead: Vec<String>,
    },
    /// Facts that contradict each other.
    #[error("{0}")]
    Contradiction(String),
    /// A shop that cannot weld it.
    #[error("the shop cannot weld this: {reason}{}", hint(.instead))]
    Shop {
        /// What is missing.
        reason: String,
        /// Processes to use instead.
        instead: Vec<String>,
    },
    /// Settings that no check passes, whatever is tried.
    #[error("no draft: what the tables give does not pass the checks: {fault}{}", hint(.instead))]
    HeldBack {
        /// What the check says of the first settings.
        fault: String,
        /// Processes to use instead.
        instead: Vec<String>,
    },
    /// The handbook has nothing that would serve.
    #[error("no draft: {reason}{}", hint(.instead))]
    Nothing {
        /// What is missing.
        reason: String,
        /// What to use instead.
        instead: Vec<String>,
    },
}

impl Refused {
    /// A shop that cannot weld it, before other processes are tried.
    pub(crate) fn shop(reason: String) -> Self {
        Self::Shop { reason, instead: Vec::new() }
    }
}

fn nearest(near: &[String], table: Option<&str>) -> String {
    match (near, table) {
        ([], Some(table)) => format!("; `seamwright table {table}` lists them"),
        ([], None) => String::new(),
        (near, _) => format!("; the nearest names are {}", near.join(", ")),
    }
}

fn hint(instead: &[String]) -> String {
    if instead.is_empty() { String::new() } else { format!("; use {} instead", instead.join(" or ")) }
}
