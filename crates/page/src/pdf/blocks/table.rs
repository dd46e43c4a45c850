//! Tables: columns that share their width, rows that stay whole, headers that are repeated.

use std::rc::Rc;

use seamwright_drawing::face::Face;

use super::Setter;
use crate::block::{Align, Cell, Column, Row, Table};
use crate::pdf::measure::{natural_width, widest_word, wrap};
use crate::pdf::piece::{Header, Keep, Mark, Piece, Place, height};
use crate::pdf::style::{LEADING, LEAST_SETTINGS, LEAST_TYPE, MM, grey};
use crate::pdf::tag::{Node, Role};

impl Setter<'_> {
    pub(super) fn table(&self, table: &Table) -> Vec<Piece> {
        let sizes = TableSizes {
            heading: self.style.label(),
            cell: self.style.cell(),
            note: self.style.small(),
            face: None,
            gutter: TABLE_GUTTER,
            pad: self.gap(if self.style.planned { 2.0 } else { 3.6 }),
        };
        self.ruled(table, &sizes)
    }

    pub(super) fn settings(&self, table: &Table) -> Vec<Piece> {
        let mut sizes = TableSizes {
            heading: self.style.label() * 1.1,
            cell: self.style.settings,
            note: self.style.value(),
            face: Some(Face::Bold),
            gutter: TABLE_GUTTER,
            pad: self.gap(5.0),
        };
        // Where words would break, the type gives way first, but never below arm's length.
        while sizes.cell > LEAST_SETTINGS {
            let least: f64 = least_widths(table, &sizes).iter().sum();
            if least <= columns_room(self.width, table.columns.len(), sizes.gutter) {
                break;
            }
            sizes.cell = (sizes.cell - 1.0).max(LEAST_SETTINGS);
        }
        self.ruled(table, &sizes)
    }

    fn ruled(&self, table: &Table, sizes: &TableSizes) -> Vec<Piece> {
        if table.columns.is_empty() {
            return Vec::new();
        }
        let sizes = &sizes.fitting(self.width, table.columns.len());
        let widths = column_widths(table, sizes, self.width);
        let mut places = Vec::with_capacity(widths.len());
        let mut x = self.x;
        for (column, &width) in table.columns.iter().zip(&widths) {
            places.push((column, x, width));
            x += width + sizes.gutter;
        }

        let mut pieces = Vec::new();
        let part = Node::within(self.root, Role::Table);
        if let Some(caption) = &table.caption {
            let lines = wrap(Face::Regular, self.style.small(), caption, self.width);
            let mut piece = Piece { gap: self.gap(8.0), keep: Keep::Must, ..Piece::default() };
            piece.tag(&Node::within(&part, Role::Caption));
            piece.height = piece.lines(&lines, Place::Left(self.x), 0.0, self.style.small(), grey::LABEL);
            piece.untag();
            pieces.push(piece);
        }
        let mut header = self.table_header(&places, sizes, &Node::within(&part, Role::Row));
        let repeated = Rc::new(Header { height: header.height, marks: header.marks.clone() });
        header.gap = self.gap(if table.caption.is_some() { 2.0 } else { 8.0 });
        header.keep = Keep::Must;
        pieces.push(header);
        // Heads never outnumber what they lead to.
        let (columns, rows) = (table.columns.len(), table.rows.len());
        let first = if columns + rows <= (columns - 1) * rows { Role::RowHead } else { Role::Cell };
        for row in &table.rows {
            pieces.push(self.table_row(row, &places, sizes, &repeated, (&Node::within(&part, Role::Row), first)));
        }
        // The last row is not left alone on a page.
        let count = table.rows.len();
        if count > 2
            && let Some(piece) = pieces.iter_mut().rev().nth(1)
        {
            piece.keep = Keep::Wish;
        }
        if count == 0
            && let Some(last) = pieces.last_mut()
        {
            last.keep = Keep::No;
        }
        pieces
    }

    fn table_header(&self, places: &[(&Column, f64, f64)], sizes: &TableSizes, part: &Rc<Node>) -> Piece {
        let size = sizes.heading;
        let set: Vec<_> = places
            .iter()
            .map(|&(column, x, width)| {
                let mut lines = wrap(Face::Regular, size, &column.heading, width);
                if let Some(unit) = &column.unit {
                    lines.extend(wrap(Face::Regular, size, unit, width));
                }
                (place(column.align, x, width), lines)
            })
            .collect();
        let tall = set.iter().map(|(_, lines)| height(lines, size)).fold(0.0, f64::max);
        let mut piece = Piece::default();
        for (place, lines) in set {
            piece.tag(&Node::within(part, Role::ColumnHead));
            piece.lines(&lines, place, tall - height(&lines, size), size, grey::LABEL);
        }
        piece.untag();
        let rule = tall + self.gap(2.2);
        piece.rule(self.x, rule, self.width, 0.8, grey::INK);
        piece.height = rule + 0.8;
        piece
    }

    fn table_row(
        &self,
        row: &Row,
        places: &[(&Column, f64, f64)],
        sizes: &TableSizes,
        header: &Rc<Header>,
        (part, first): (&Rc<Node>, Role),
    ) -> Piece {
        let mut piece = Piece { header: Some(Rc::clone(header)), ..Piece::default() };
        let mut bottom = sizes.pad + sizes.cell * LEADING;
        for (index, (cell, &(column, x, width))) in row.cells.iter().zip(places).enumerate() {
            piece.tag(&Node::within(part, if index == 0 { first } else { Role::Cell }));
            let face = sizes.face.unwrap_or(if cell.bold || row.marked { Face::Bold } else { Face::Regular });
            let lines = wrap(face, sizes.cell, &cell.text, width);
            let place = place(column.align, x, width);
            let mut y = piece.lines(&lines, place, sizes.pad, sizes.cell, grey::INK);
            if let Some(note) = &cell.note {
                let shade = if sizes.face.is_some() { grey::INK } else { grey::LABEL };
                let lines = wrap(Face::Regular, sizes.note, note, width);
                y = piece.lines(&lines, place, y, sizes.note, shade);
            }
            bottom = bottom.max(y);
        }
        piece.untag();
        if row.cells.iter().any(Cell::is_to_write_in) {
            bottom = bottom.max(FOR_A_PEN - sizes.pad);
        }
        let rule = bottom + sizes.pad;
        piece.height = rule + 0.4;
        if row.marked {
            let height = piece.height;
            piece
                .marks
                .insert(0, Mark::Block { x: self.x - 6.0, y: 1.5, width: 3.0, height: height - 3.0, grey: grey::INK });
        }
        piece.rule(self.x, rule, self.width, 0.4, grey::RULE);
        piece
    }
}

/// Height of a row that a hand writes in, pt.
const FOR_A_PEN: f64 = 8.5 * MM;

/// Width of a column whose cells are left to a hand, pt.
const TO_WRITE_IN: f64 = 62.0;

/// Room between the columns of a table.
const TABLE_GUTTER: f64 = 9.0;

struct TableSizes {
    heading: f64,
    cell: f64,
    note: f64,
    /// The face of every cell, where the kind of table sets it.
    face: Option<Face>,
    gutter: f64,
    pad: f64,
}

impl TableSizes {
    /// The same sizes, or smaller ones where so many columns share the width that letters would not fit in them.
    fn fitting(&self, width: f64, columns: usize) -> Self {
        #[expect(clippy::cast_precision_loss, reason = "a count of columns is far below 2^52")]
        let share = width / columns.max(1) as f64;
        let scale = (share / (self.cell * 2.0)).min(1.0);
        Self {
            heading: (self.heading * scale).max(LEAST_TYPE),
            cell: (self.cell * scale).max(LEAST_TYPE),
            note: (self.note * scale).max(LEAST_TYPE),
            face: self.face,
            gutter: self.gutter.min(share * 0.25),
            pad: self.pad,
        }
    }
}

fn place(align: Align, x: f64, width: f64) -> Place {
    match align {
        Align::Left => Place::Left(x),
        Align::Right => Place::Right(x + width),
    }
}

fn columns_room(width: f64, columns: usize, gutter: f64) -> f64 {
    #[expect(clippy::cast_precision_loss, reason = "a count of columns is far below 2^52")]
    let gutters = columns.saturating_sub(1) as f64 * gutter;
    (width - gutters).max(1.0)
}

/// The least width of each column in which no word breaks.
fn least_widths(table: &Table, sizes: &TableSizes) -> Vec<f64> {
    measured(table, sizes, widest_word)
}

/// For each column the greatest of what `measure` finds in its cells and heading.
fn measured(table: &Table, sizes: &TableSizes, measure: fn(Face, f64, &str) -> f64) -> Vec<f64> {
    table
        .columns
        .iter()
        .enumerate()
        .map(|(index, column)| {
            let mut width = measure(Face::Regular, sizes.heading, &column.heading);
            if let Some(unit) = &column.unit {
                width = width.max(measure(Face::Regular, sizes.heading, unit));
            }
            for row in &table.rows {
                let Some(cell) = row.cells.get(index) else { continue };
                let face = sizes.face.unwrap_or(if cell.bold || row.marked { Face::Bold } else { Face::Regular });
                width = width.max(measure(face, sizes.cell, &cell.text));
                if let Some(note) = &cell.note {
                    width = width.max(measure(Face::Regular, sizes.note, note));
                }
            }
            // A column to write in has room for a hand.
            let mut cells = table.rows.iter().filter_map(|row| row.cells.get(index));
            if !table.rows.is_empty() && cells.all(|cell| cell.text.trim().is_empty()) {
                width = width.max(TO_WRITE_IN.min(600.0 / f64::from(u32::try_from(table.columns.len()).unwrap_or(9))));
            }
            // A hair of room, so that rounding never breaks a word that fits.
            width + 0.01
        })
        .collect()
}

/// Shares the width of a table among its columns: by their weights, but so that no word breaks where that can be
/// had, and with room that one column does not need given to those that would wrap.
fn column_widths(table: &Table, sizes: &TableSizes, width: f64) -> Vec<f64> {
    let room = columns_room(width, table.columns.len(), sizes.gutter);
    let least = least_widths(table, sizes);
    let natural = measured(table, sizes, natural_width);
    let weights: Vec<f64> = table
        .columns
        .iter()
        .map(|column| if column.weight.is_finite() && column.weight > 0.0 { column.weight.min(1e6) } else { 1.0 })
        .collect();
    let wanted: f64 = least.iter().sum();
    if wanted >= room {
        // Words must break somewhere: narrow columns keep their width, the widest give way.
        return level(&least, room);
    }
    let total: f64 = weights.iter().sum();
    let mut widths: Vec<f64> = weights.iter().map(|weight| room * weight / total).collect();
    // Columns that are too narrow for a word take their least width; the others share what is left by weight.
    let mut fixed = vec![false; widths.len()];
    loop {
        let taken: f64 = least.iter().zip(&fixed).map(|(least, &fixed)| if fixed { *least } else { 0.0 }).sum();
        let free: f64 = weights.iter().zip(&fixed).map(|(weight, &fixed)| if fixed { 0.0 } else { *weight }).sum();
        let mut changed = false;
        for (((width, weight), least), fixed) in widths.iter_mut().zip(&weights).zip(&least).zip(&mut fixed) {
            if *fixed {
                continue;
            }
            *width = (room - taken) * weight / free;
            if *width < *least {
                *width = *least;
                *fixed = true;
                changed = true;
            }
        }
        if !changed {
            break;
        }
    }
    let spare: f64 = widths.iter().zip(&natural).map(|(width, natural)| (width - natural).max(0.0)).sum();
    let short: f64 = widths.iter().zip(&natural).map(|(width, natural)| (natural - width).max(0.0)).sum();
    if spare > 0.0 && short > 0.0 {
        let moved = spare.min(short);
        for (width, natural) in widths.iter_mut().zip(&natural) {
            let over = *width - natural;
            *width -= if over > 0.0 { over / spare * moved } else { over / short * moved };
        }
    }
    widths
}

/// Cuts widths down to a common greatest one, so that they sum to `room`.
fn level(widths: &[f64], room: f64) -> Vec<f64> {
    let mut order: Vec<f64> = widths.to_vec();
    order.sort_by(f64::total_cmp);
    let mut left = room;
    let mut count = order.len();
    let mut cap = 0.0;
    for width in order {
        #[expect(clippy::cast_precision_loss, reason = "a count of columns is far below 2^52")]
        let share = left / count as f64;
        cap = share;
        if width > share {
            break;
        }
        left -= width;
        count -= 1;
    }
    widths.iter().map(|width| width.min(cap)).collect()
}
