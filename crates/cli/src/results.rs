//! Results on standard output: JSON for programs, columns for people.

use std::io::{self, Write};

use anyhow::Result;
use serde::Serialize;

/// Prints a value as JSON.
pub fn json(value: &impl Serialize) -> Result<()> {
    let mut out = io::stdout().lock();
    serde_json::to_writer_pretty(&mut out, value).map_err(io::Error::from)?;
    writeln!(out)?;
    Ok(())
}

/// Writes rows in columns as wide as their widest cell, but no wider than `most` characters; a longer cell reaches beyond
/// its own. The first row is the headings.
pub fn columns(out: &mut impl Write, rows: &[Vec<String>], indent: &str, most: usize) -> io::Result<()> {
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    let width = |column: usize| {
        rows.iter().filter_map(|row| row.get(column)).map(|cell| cell.chars().count()).max().unwrap_or(0).min(most)
    };
    let widths: Vec<usize> = (0..count).map(width).collect();
    for row in rows {
        let cells: Vec<String> =
            row.iter().zip(&widths).map(|(cell, width)| format!("{cell:width$}", width = *width)).collect();
        writeln!(out, "{indent}{}", cells.join("  ").trim_end())?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::columns;

    #[test]
    fn columns_are_as_wide_as_their_widest_cell_up_to_a_limit() {
        let rows = [["a", "b", ""], ["long °C", "much longer", "c"]].map(|row| row.map(str::to_owned).to_vec());
        let mut out = Vec::new();
        columns(&mut out, &rows, "  ", 8).unwrap();
        assert_eq!(String::from_utf8(out).unwrap(), "  a        b\n  long °C  much longer  c\n");
    }
}
