//! Which fields a form shows, as short texts: a page says what it has, and is told what is new.

use super::{Form, Group, Section};

/// A text that is the same where the same fields stand in groups.
pub fn shape_of(groups: &[Group]) -> String {
    let mut all = String::new();
    write_shape(groups, &mut all);
    short(&all)
}

/// Key and shape of each section, as a page tells which fields it shows.
pub fn shapes(form: &Form) -> String {
    form.sections.iter().map(|own| format!("{}={}", own.key, own.shape())).collect::<Vec<_>>().join(" ")
}

fn write_shape(groups: &[Group], all: &mut String) {
    for group in groups {
        for (fields, what) in [(&group.fields, '+'), (&group.more, '-'), (&group.elsewhere, '!')] {
            for field in fields {
                all.push(what);
                all.push_str(&field.pointer);
            }
        }
    }
}

fn short(text: &str) -> String {
    crate::folder::digest(text.as_bytes()).chars().take(12).collect()
}

impl Section {
    /// A text that is the same where the same fields stand in the section, under the same titles.
    pub fn shape(&self) -> String {
        let mut all = String::new();
        write_shape(&self.groups, &mut all);
        for group in self.groups.iter().chain(self.plates.iter().flat_map(|plate| &plate.groups)) {
            all.push_str(&group.title);
        }
        for plate in &self.plates {
            all.push_str(&plate.pointer);
            write_shape(&plate.groups, &mut all);
        }
        if let Some(table) = &self.table {
            // Every row has the same columns.
            all.push_str(&table.rows.len().to_string());
            for column in &table.columns {
                all.push('=');
                all.push_str(column.key);
            }
        }
        short(&all)
    }
}
