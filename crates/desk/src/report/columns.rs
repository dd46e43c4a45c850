//! Rows in columns for people.

use std::io::{self, Write};

/// Writes rows in columns as wide as their widest cell, but no wider than `most` characters; a longer cell reaches beyond
/// its own. The first row is the headings.
///
/// In a room that is too narrow for them, wide columns are broken at spaces; where even that does not fit, each row is
/// written as a list of headings and cells.
pub fn columns(
    out: &mut impl Write,
    rows: &[Vec<String>],
    indent: &str,
    most: usize,
    room: Option<usize>,
) -> io::Result<()> {
    /// Between columns.
    const GAP: usize = 2;
    /// A column is broken down to this width.
    const LEAST: usize = 10;
    let count = rows.iter().map(Vec::len).max().unwrap_or(0);
    let widest = |column: usize| {
        rows.iter().filter_map(|row| row.get(column)).map(|cell| cell.chars().count()).max().unwrap_or(0)
    };
    let whole = |widths: &[usize]| indent.len() + widths.iter().sum::<usize>() + GAP * count.saturating_sub(1);
    let natural: Vec<usize> = (0..count).map(widest).collect();
    let Some(room) = room.filter(|room| whole(&natural) > *room) else {
        let widths: Vec<usize> = natural.iter().map(|own| (*own).min(most)).collect();
        for row in rows {
            let cells: Vec<String> =
                row.iter().zip(&widths).map(|(cell, width)| format!("{cell:width$}", width = *width)).collect();
            writeln!(out, "{indent}{}", cells.join("  ").trim_end())?;
        }
        return Ok(());
    };
    let mut widths = natural;
    while whole(&widths) > room {
        match widths.iter_mut().filter(|width| **width > LEAST).max() {
            Some(width) => *width -= 1,
            None => return listed(out, rows, indent, room),
        }
    }
    for row in rows {
        let cells: Vec<Vec<String>> = row.iter().zip(&widths).map(|(cell, width)| broken(cell, *width)).collect();
        for line in 0..cells.iter().map(Vec::len).max().unwrap_or(0) {
            let parts: Vec<String> = cells
                .iter()
                .zip(&widths)
                .map(|(cell, width)| format!("{:width$}", cell.get(line).map_or("", String::as_str), width = *width))
                .collect();
            writeln!(out, "{indent}{}", parts.join("  ").trim_end())?;
        }
    }
    Ok(())
}

/// Each row as a list of headings and cells.
fn listed(out: &mut impl Write, rows: &[Vec<String>], indent: &str, room: usize) -> io::Result<()> {
    let Some((head, rows)) = rows.split_first() else { return Ok(()) };
    for row in rows {
        for (name, cell) in head.iter().zip(row).filter(|(_, cell)| !cell.is_empty()) {
            for (at, line) in
                broken(&format!("{name}: {cell}"), room.saturating_sub(indent.len() + 2)).iter().enumerate()
            {
                writeln!(out, "{indent}{}{line}", if at == 0 { "" } else { "  " })?;
            }
        }
        writeln!(out)?;
    }
    Ok(())
}

/// A text in lines of at most so many characters, broken at spaces, and inside a word that is longer.
fn broken(text: &str, width: usize) -> Vec<String> {
    let mut lines = vec![String::new()];
    for word in text.split(' ') {
        let mut word: Vec<char> = word.chars().collect();
        let used = lines.last().map_or(0, |line| line.chars().count());
        if used > 0 && used + 1 + word.len() > width {
            lines.push(String::new());
        } else if used > 0 {
            lines.last_mut().into_iter().for_each(|line| line.push(' '));
        }
        while word.len() > width.max(1) {
            let rest = word.split_off(width.max(1));
            lines.last_mut().into_iter().for_each(|line| line.extend(&word));
            lines.push(String::new());
            word = rest;
        }
        lines.last_mut().into_iter().for_each(|line| line.extend(&word));
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::columns;

    #[test]
    fn columns_are_as_wide_as_their_widest_cell_up_to_a_limit() {
        let rows = [["a", "b", ""], ["long °C", "much longer", "c"]].map(|row| row.map(str::to_owned).to_vec());
        let mut out = Vec::new();
        columns(&mut out, &rows, "  ", 8, None).unwrap();
        assert_eq!(String::from_utf8(out).unwrap(), "  a        b\n  long °C  much longer  c\n");
    }

    #[test]
    fn columns_fit_a_narrow_terminal() {
        let cell = "a sentence that is longer than its column may be";
        let rows = [["Name", "Meaning"], ["travel_speed", cell]].map(|row| row.map(str::to_owned).to_vec());
        let wide = [["One", "Two", "Three", "Four", "Five", "Six"], ["1", cell, cell, cell, cell, cell]];
        let wide = wide.map(|row| row.map(str::to_owned).to_vec());
        for rows in [rows.to_vec(), wide.to_vec()] {
            let mut out = Vec::new();
            columns(&mut out, &rows, "  ", usize::MAX, Some(40)).unwrap();
            let text = String::from_utf8(out).unwrap();
            assert!(text.lines().all(|line| line.chars().count() <= 40), "{text}");
            let words = |text: &str| text.split_whitespace().filter(|word| *word == "sentence").count();
            assert_eq!(words(&text), rows[1].iter().filter(|own| *own == cell).count(), "{text}");
        }
    }
}
