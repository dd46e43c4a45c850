//! Blocks become pieces. Every kind of block has its function here; a new block is one more, and an arm in
//! [`Setter::block`].

use std::borrow::Cow;
use std::rc::Rc;

use crate::block::{Align, Block, Column, Field, Figure, NoticeItem, NoticeKind, Row, Table};

use super::figure;
use super::fonts::Face;
use super::measure::{self, Line, Span, natural_width, widest_word, wrap, wrap_spans};
use super::piece::{Entry, Header, Keep, Mark, Piece, Place, baseline, height};
use super::style::{LEADING, LEAST_SETTINGS, Style, grey};

/// Room between the columns of a grid.
const GUTTER: f64 = 10.0;
/// Columns of the grid of fields.
const GRID: u8 = 4;

/// Sets blocks into a frame of the page.
#[derive(Clone, Copy)]
pub(super) struct Setter<'s> {
    pub style: &'s Style,
    /// Left edge of the frame.
    pub x: f64,
    /// Width of the frame.
    pub width: f64,
    /// Height of a whole page, which no drawing exceeds.
    pub page: f64,
    /// Columns of the grid of fields in this frame.
    pub grid: u8,
}

impl<'s> Setter<'s> {
    /// A setter for the full width of a page.
    pub(super) const fn new(style: &'s Style, x: f64, width: f64, page: f64) -> Self {
        Self { style, x, width, page, grid: GRID }
    }

    /// Sets a list of blocks.
    pub(super) fn blocks(&self, blocks: &[Block]) -> Vec<Piece> {
        let mut pieces: Vec<Piece> = Vec::new();
        let mut new_page = false;
        for block in blocks {
            if matches!(block, Block::PageBreak) {
                new_page = true;
                continue;
            }
            let mut set = self.block(block);
            // A heading has its own room below; what follows comes close under it.
            if pieces.last().is_some_and(|last| last.keep == Keep::Must)
                && let Some(first) = set.first_mut()
            {
                first.gap = first.gap.min(self.style.gap(5.0));
            }
            if new_page && let Some(first) = set.first_mut() {
                first.new_page = true;
                new_page = false;
            }
            pieces.extend(set);
        }
        pieces
    }

    fn block(&self, block: &Block) -> Vec<Piece> {
        match block {
            Block::Heading { text, clause } => vec![self.heading(text, clause.as_deref())],
            Block::Fields { fields } => self.fields(fields),
            Block::Table(table) => self.table(table),
            Block::Drawings { drawings } => self.drawings(drawings),
            Block::Notice { kind, title, items } => self.notice(*kind, title.as_deref(), items),
            Block::Paragraph { text, small } => self.paragraph(text, *small),
            Block::List { numbered, small, items } => self.list(*numbered, *small, items),
            Block::Settings(table) => self.settings(table),
            Block::Signatures { boxes } => self.signatures(boxes),
            Block::Columns { left, right, share } => self.columns(left, right, *share),
            Block::Together { blocks } => {
                let mut pieces = self.blocks(blocks);
                let last = pieces.len().saturating_sub(1);
                for piece in pieces.iter_mut().take(last) {
                    piece.keep = piece.keep.max(Keep::Wish);
                }
                pieces
            }
            Block::PageBreak => Vec::new(),
        }
    }

    fn gap(&self, points: f64) -> f64 {
        self.style.gap(points)
    }

    fn heading(&self, text: &str, clause: Option<&str>) -> Piece {
        let mut piece = self.headline(text, clause, self.x, self.width);
        piece.gap = self.gap(14.0);
        piece.keep = Keep::Must;
        piece.entries.push(Entry { title: measure::shorten(Face::Bold, 1.0, text, 400.0), y: 0.0 });
        piece
    }

    /// A heading over its rule, the clause at the right.
    fn headline(&self, text: &str, clause: Option<&str>, x: f64, width: f64) -> Piece {
        let size = self.style.heading();
        let small = self.style.clause();
        let clause = clause.map_or_else(Vec::new, |clause| wrap(Face::Regular, small, clause, width * 0.5));
        let taken = clause.iter().map(|line| line.width).fold(0.0, f64::max);
        let room = if taken > 0.0 { width - taken - GUTTER } else { width };
        let lines = wrap(Face::Bold, size, text, room);

        let mut piece = Piece::default();
        let bottom = piece.lines(&lines, Place::Left(x), 0.0, size, grey::INK);
        let drop = baseline(size) - baseline(small);
        let other = piece.lines(&clause, Place::Right(x + width), drop, small, grey::LABEL);
        let rule = bottom.max(other) + self.gap(2.5);
        piece.rule(x, rule, width, 0.5, grey::HEADING_RULE);
        piece.height = rule + 0.5;
        piece
    }

    fn fields(&self, fields: &[Field]) -> Vec<Piece> {
        let grid = f64::from(self.grid);
        let column = (self.width - GUTTER * (grid - 1.0)) / grid;
        let mut rows: Vec<Vec<(u8, u8, &Field)>> = Vec::new();
        let mut used = self.grid;
        for field in fields {
            let span = field.span.clamp(1, self.grid);
            if used + span > self.grid {
                rows.push(Vec::new());
                used = 0;
            }
            if let Some(row) = rows.last_mut() {
                row.push((used, span, field));
            }
            used += span;
        }
        let mut pieces = Vec::new();
        for row in rows {
            let mut piece = Piece { gap: self.gap(6.5), ..Piece::default() };
            let size = self.style.label();
            // Labels of a row share their lowest line, so that the values begin at one height.
            let set: Vec<_> = row
                .iter()
                .map(|&(start, span, field)| {
                    let x = self.x + f64::from(start) * (column + GUTTER);
                    let width = column * f64::from(span) + GUTTER * f64::from(span - 1);
                    (x, width, field, wrap(Face::Regular, size, &field.label, width))
                })
                .collect();
            let labels = set.iter().map(|(.., lines)| height(lines, size)).fold(0.0, f64::max);
            for (x, width, field, lines) in set {
                piece.lines(&lines, Place::Left(x), labels - height(&lines, size), size, grey::LABEL);
                let size = self.value_size(field, width);
                let value = wrap(Face::Bold, size, &field.value, width);
                let bottom = piece.lines(&value, Place::Left(x), labels + self.gap(0.8), size, grey::INK);
                piece.height = piece.height.max(bottom);
            }
            pieces.push(piece);
        }
        pieces
    }

    /// Size of a value: a large one gives way until its words fit their column.
    fn value_size(&self, field: &Field, width: f64) -> f64 {
        let normal = self.style.value();
        if !field.large {
            return normal;
        }
        let large = self.style.large_value();
        let widest = widest_word(Face::Bold, large, &field.value);
        if widest <= width { large } else { (large * width / widest).max(normal) }
    }

    fn paragraph(&self, text: &str, small: bool) -> Vec<Piece> {
        let (size, shade) = self.body(small);
        let lines = wrap(Face::Regular, size, text, self.width);
        let mut pieces = running(&lines, self.x, size, shade);
        if let Some(first) = pieces.first_mut() {
            first.gap = self.gap(if small { 4.0 } else { 6.0 });
        }
        pieces
    }

    fn body(&self, small: bool) -> (f64, f64) {
        if small { (self.style.small(), grey::LABEL) } else { (self.style.body(), grey::INK) }
    }

    fn list(&self, numbered: bool, small: bool, items: &[String]) -> Vec<Piece> {
        let (size, shade) = self.body(small);
        let mark = |index: usize| if numbered { format!("{}", index + 1) } else { "–".to_owned() };
        let widest = (0..items.len()).map(|index| Face::Bold.width(&mark(index)) * size).fold(0.0, f64::max);
        let indent = widest + size * 0.6;
        let mut pieces = Vec::new();
        for (index, item) in items.iter().enumerate() {
            let lines = wrap(Face::Regular, size, item, self.width - indent);
            let mut set = running(&lines, self.x + indent, size, shade);
            if let Some(first) = set.first_mut() {
                first.gap = self.gap(match (index, small) {
                    (0, _) => 5.0,
                    (_, true) => 1.0,
                    (_, false) => 2.2,
                });
                let lead = wrap(if numbered { Face::Bold } else { Face::Regular }, size, &mark(index), indent);
                let text = std::mem::take(&mut first.marks);
                first.lines(&lead, Place::Right(self.x + widest), 0.0, size, shade);
                first.marks.extend(text);
            }
            pieces.extend(set);
        }
        pieces
    }

    fn notice(&self, kind: NoticeKind, title: Option<&str>, items: &[NoticeItem]) -> Vec<Piece> {
        match kind {
            NoticeKind::Stop => self.stop(title, items),
            NoticeKind::Caution => self.barred(2.2, grey::INK, title, items),
            NoticeKind::Remark => self.barred(0.7, grey::HEADING_RULE, title, items),
        }
    }

    /// Text beside a bar. Short cautions run on as one text, long ones begin a line each.
    fn barred(&self, bar: f64, shade: f64, title: Option<&str>, items: &[NoticeItem]) -> Vec<Piece> {
        let size = self.style.body();
        let indent = 9.0;
        let width = self.width - indent;
        let length: usize = items.iter().map(|item| item.text.len() + item.lead.as_ref().map_or(0, String::len)).sum();
        let run_on = self.style.run_on || length <= 420;

        let mut paragraphs: Vec<Vec<Span<'_>>> = Vec::new();
        if let Some(title) = title {
            paragraphs.push(vec![Span { face: Face::Bold, text: title.into() }]);
        }
        let mut open = false;
        for item in items {
            let spans = item_spans(item);
            match paragraphs.last_mut() {
                Some(last) if open && item.lead.is_some() => {
                    last.push(Span { face: Face::Regular, text: " ".into() });
                    last.extend(spans);
                }
                _ => paragraphs.push(spans),
            }
            open = run_on && item.lead.is_some();
        }

        let mut pieces: Vec<Piece> = Vec::new();
        let space = self.gap(2.2);
        for paragraph in &paragraphs {
            let lines = wrap_spans(paragraph, size, width);
            for (index, mut piece) in running(&lines, self.x + indent, size, grey::INK).into_iter().enumerate() {
                // The bar runs on through the space between paragraphs.
                if index == 0 && !pieces.is_empty() {
                    piece.marks.iter_mut().for_each(|mark| mark.shift(space));
                    piece.height += space;
                }
                let height = piece.height;
                piece.marks.insert(0, Mark::Block { x: self.x, y: 0.0, width: bar, height, grey: shade });
                pieces.push(piece);
            }
        }
        if title.is_some()
            && let Some(first) = pieces.first_mut()
        {
            first.keep = Keep::Must;
        }
        if let Some(first) = pieces.first_mut() {
            first.gap = self.gap(8.0);
        }
        pieces
    }

    /// A heavy box: the title at the left, what not to pass at the right.
    fn stop(&self, title: Option<&str>, items: &[NoticeItem]) -> Vec<Piece> {
        let size = self.style.value();
        let big = self.style.large_value();
        let (edge, line) = (self.gap(9.0).max(5.0), 1.6);
        let inner = self.width - 2.0 * edge;
        let mut piece = Piece { gap: self.gap(12.0), ..Piece::default() };

        let mut left = 0.0;
        let mut bottom = edge;
        if let Some(title) = title {
            let lines = wrap(Face::Bold, big, title, inner * 0.32);
            let taken = lines.iter().map(|line| line.width).fold(0.0, f64::max);
            bottom = piece.lines(&lines, Place::Left(self.x + edge), edge, big, grey::INK);
            left = taken + 14.0;
        }
        let width = (inner - left).max(size);
        let listed = !self.style.run_on && (items.len() > 6 || items.iter().any(|item| item.text.len() > 70));
        let mut y = edge + if title.is_some() { baseline(big) - baseline(size) } else { 0.0 };
        let x = self.x + edge + left;
        if listed {
            for item in items {
                let lines = wrap_spans(&item_spans(item), size, width);
                y = piece.lines(&lines, Place::Left(x), y, size, grey::INK) + self.gap(1.5);
            }
        } else {
            let mut spans = Vec::new();
            for (index, item) in items.iter().enumerate() {
                if index > 0 {
                    spans.push(Span { face: Face::Regular, text: "\u{a0}· ".into() });
                }
                spans.extend(item_spans(item));
            }
            y = piece.lines(&wrap_spans(&spans, size, width), Place::Left(x), y, size, grey::INK);
        }
        piece.height = bottom.max(y) + edge;
        let height = piece.height;
        piece.marks.insert(0, Mark::Frame { x: self.x, y: 0.0, width: self.width, height, line });
        vec![piece]
    }

    fn signatures(&self, boxes: &[(String, String)]) -> Vec<Piece> {
        let per_row = if self.width > 350.0 { 3 } else { 2 };
        #[expect(clippy::cast_precision_loss, reason = "three at most")]
        let count = per_row.min(boxes.len().max(1)) as f64;
        let width = (self.width - GUTTER * 2.0 * (count - 1.0)) / count;
        let (small, size) = (self.style.label(), self.style.value());
        let mut pieces = Vec::new();
        for row in boxes.chunks(per_row) {
            let mut piece = Piece { gap: self.gap(9.0), ..Piece::default() };
            let mut x = self.x;
            let set: Vec<_> = row
                .iter()
                .map(|(role, name)| (wrap(Face::Regular, small, role, width), wrap(Face::Bold, size, name, width)))
                .collect();
            let top = set
                .iter()
                .map(|(role, name)| height(role, small) + height(name, size).max(size * LEADING))
                .fold(0.0, f64::max);
            // Room for a hand that signs does not shrink with the type.
            let line = top + self.gap(24.0).max(16.0);
            for (role, name) in &set {
                let y = piece.lines(role, Place::Left(x), 0.0, small, grey::LABEL);
                piece.lines(name, Place::Left(x), y, size, grey::INK);
                piece.rule(x, line, width * 0.66, 0.6, grey::INK);
                piece.rule(x + width * 0.7, line, width * 0.3, 0.6, grey::INK);
                let signature = wrap(Face::Regular, small, "signature", width * 0.66);
                let date = wrap(Face::Regular, small, "date", width * 0.3);
                let below = piece.lines(&signature, Place::Left(x), line + 1.5, small, grey::LABEL);
                piece.lines(&date, Place::Left(x + width * 0.7), line + 1.5, small, grey::LABEL);
                piece.height = piece.height.max(below);
                x += width + GUTTER * 2.0;
            }
            pieces.push(piece);
        }
        pieces
    }

    fn columns(&self, left: &[Block], right: &[Block], share: f64) -> Vec<Piece> {
        let share = if share.is_finite() { share.clamp(0.3, 0.7) } else { 0.5 };
        let gutter = 20.0;
        // A frame that is a column already is too narrow for two: they go one under the other.
        if self.width < 240.0 {
            return self.blocks(left).into_iter().chain(self.blocks(right)).collect();
        }
        let first = (self.width - gutter) * share;
        let second = self.width - gutter - first;
        let grid = |width: f64| {
            if width > 390.0 {
                GRID
            } else if width > 280.0 {
                3
            } else if width > 110.0 {
                2
            } else {
                1
            }
        };
        let mut piece = Piece { gap: self.gap(10.0), ..Piece::default() };
        for (blocks, x, width) in [(left, self.x, first), (right, self.x + first + gutter, second)] {
            let inner = Self { x, width, grid: grid(width), ..*self };
            let column = stacked(inner.blocks(blocks));
            piece.height = piece.height.max(column.height);
            piece.absorb(column, 0.0);
        }
        vec![piece]
    }

    fn drawings(&self, figures: &[Figure]) -> Vec<Piece> {
        figure::rows(figures, self.style, self.width).into_iter().map(|row| self.figure_row(&row)).collect()
    }

    fn figure_row(&self, row: &figure::FigureRow<'_>) -> Piece {
        let mut piece = Piece { gap: self.gap(13.0), ..Piece::default() };
        let titled = row.figures.iter().any(|figure| !figure.title.is_empty() || figure.clause.is_some());
        let small = self.style.small();
        let mut heads = Vec::new();
        let mut captions = Vec::new();
        let mut x = self.x;
        for (figure, &width) in row.figures.iter().zip(&row.widths) {
            heads.push((
                x,
                if titled {
                    self.headline(&figure.title, figure.clause.as_deref(), x, width)
                } else {
                    Piece::default()
                },
            ));
            captions.push(
                figure.caption.as_ref().map_or_else(Vec::new, |caption| wrap(Face::Regular, small, caption, width)),
            );
            x += width + figure::GUTTER;
        }
        let head = heads.iter().map(|(_, piece)| piece.height).fold(0.0, f64::max);
        let under = captions.iter().map(|lines| height(lines, small)).fold(0.0, f64::max);
        let edge = self.gap(6.0);
        let spare = (self.page * 0.92 - head - under - 2.0 * edge).max(20.0);
        let tallest = row.figures.iter().map(|figure| figure.drawing.height).fold(0.0, f64::max);
        let scale = if tallest * row.scale > spare { spare / tallest } else { row.scale };
        let tall = tallest * scale;
        let places = row.figures.iter().zip(&row.widths).zip(heads).zip(captions);
        for (((figure, &width), (x, headline)), caption) in places {
            let drop = head - headline.height;
            if !figure.title.is_empty() {
                piece.entries.push(Entry { title: figure.title.clone(), y: 0.0 });
            }
            piece.absorb(headline, drop);
            let wide = figure.drawing.width * scale;
            let y = head + edge + (tall - figure.drawing.height * scale) / 2.0;
            figure::paint(&figure.drawing, x + (width - wide).max(0.0) / 2.0, y, scale, &mut piece.marks);
            piece.lines(&caption, Place::Left(x), head + edge + tall + edge * 0.5, small, grey::LABEL);
        }
        piece.height = head + edge + tall + if under > 0.0 { edge * 0.5 + under } else { 0.0 };
        piece
    }

    fn table(&self, table: &Table) -> Vec<Piece> {
        let sizes = TableSizes {
            heading: self.style.label(),
            cell: self.style.cell(),
            note: self.style.small(),
            face: None,
            gutter: TABLE_GUTTER,
            pad: self.gap(3.6),
        };
        self.ruled(table, &sizes)
    }

    fn settings(&self, table: &Table) -> Vec<Piece> {
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
        if let Some(caption) = &table.caption {
            let lines = wrap(Face::Regular, self.style.small(), caption, self.width);
            let mut piece = Piece { gap: self.gap(8.0), keep: Keep::Must, ..Piece::default() };
            piece.height = piece.lines(&lines, Place::Left(self.x), 0.0, self.style.small(), grey::LABEL);
            pieces.push(piece);
        }
        let mut header = self.table_header(&places, sizes);
        let repeated = Rc::new(Header { height: header.height, marks: header.marks.clone() });
        header.gap = self.gap(if table.caption.is_some() { 2.0 } else { 8.0 });
        header.keep = Keep::Must;
        pieces.push(header);
        for row in &table.rows {
            pieces.push(self.table_row(row, &places, sizes, &repeated));
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

    fn table_header(&self, places: &[(&Column, f64, f64)], sizes: &TableSizes) -> Piece {
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
            piece.lines(&lines, place, tall - height(&lines, size), size, grey::LABEL);
        }
        let rule = tall + self.gap(2.2);
        piece.rule(self.x, rule, self.width, 0.8, grey::INK);
        piece.height = rule + 0.8;
        piece
    }

    fn table_row(&self, row: &Row, places: &[(&Column, f64, f64)], sizes: &TableSizes, header: &Rc<Header>) -> Piece {
        let mut piece = Piece { header: Some(Rc::clone(header)), ..Piece::default() };
        let mut bottom = sizes.pad + sizes.cell * LEADING;
        for (cell, &(column, x, width)) in row.cells.iter().zip(places) {
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
            heading: self.heading * scale,
            cell: self.cell * scale,
            note: self.note * scale,
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

fn item_spans(item: &NoticeItem) -> Vec<Span<'_>> {
    let mut spans = Vec::with_capacity(3);
    if let Some(lead) = &item.lead {
        spans.push(Span { face: Face::Bold, text: lead.into() });
        spans.push(Span { face: Face::Regular, text: Cow::Borrowed(" ") });
    }
    spans.push(Span { face: Face::Regular, text: (&item.text).into() });
    spans
}

/// One piece for each line; the first two and the last two stay together.
fn running(lines: &[Line], x: f64, size: f64, shade: f64) -> Vec<Piece> {
    let count = lines.len();
    lines
        .iter()
        .enumerate()
        .map(|(index, line)| {
            let mut piece = Piece::of(size * LEADING);
            piece.lines(std::slice::from_ref(line), Place::Left(x), 0.0, size, shade);
            if index + 1 < count && (index == 0 || index + 2 == count) {
                piece.keep = Keep::Must;
            }
            piece
        })
        .collect()
}

/// Pieces one under the other as one piece.
pub(super) fn stacked(pieces: Vec<Piece>) -> Piece {
    let mut stack = Piece::default();
    for (index, piece) in pieces.into_iter().enumerate() {
        let top = stack.height + if index == 0 { 0.0 } else { piece.gap };
        let height = piece.height;
        stack.absorb(piece, top);
        stack.height = top + height;
    }
    stack
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
