//! Push or drag by process.

use crate::table::{Origin, table};

table!("torch-directions", Row);

/// The direction that processes are welded in.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// ISO 4063 numbers.
    pub processes: &'static [&'static str],
    /// `push` or `drag`.
    pub usual: &'static str,
    /// Whether slag covers the bead.
    pub slag: bool,
    /// Whether both directions are usual in vertical upward welding.
    pub either_upward: bool,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The row of a process (ISO 4063 number), where custom knows one direction.
pub fn get(process: &str) -> Option<&'static Row> {
    rows().iter().find(|row| row.processes.contains(&process))
}

#[cfg(test)]
mod tests {
    use super::*;

    // Common practice: the torch of a tungsten arc is pushed, a covered electrode dragged.
    #[test]
    fn tungsten_is_pushed_and_slag_is_dragged() {
        assert_eq!(get("141").unwrap().usual, "push");
        assert_eq!(get("111").unwrap().usual, "drag");
        assert!(get("135").is_none());
    }
}
