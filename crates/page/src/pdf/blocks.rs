//! Blocks become pieces. Every kind of block has its function here; a new block is one more, and an arm in
//! [`Setter::block`].

mod notice;
mod table;

use std::rc::Rc;

use seamwright_drawing::face::Face;

use super::figure;
use super::measure::{self, Line, Span, widest_word, wrap};
use super::piece::{Entry, Keep, Piece, Place, baseline, height};
use super::style::{LEADING, Shed, Style, grey};
use super::tag::{Node, Role};
use crate::block::{Block, Field, Figure, Way, in_rows};
use crate::options::SheetOptions;
use crate::words::label;

/// Room between the columns of a grid.
const GUTTER: f64 = 10.0;

/// Room for a hand that signs, pt.
const SIGNED: f64 = 15.0;

/// Columns of the grid of fields.
const GRID: u8 = 4;

/// Least size of the labels of a strip, pt.
const LABEL_OF_A_STRIP: f64 = 6.7;

/// Columns of a strip.
const STRIP: u8 = 6;

/// Sets blocks into a frame of the page.
#[derive(Clone, Copy)]
pub(super) struct Setter<'s> {
    pub style: &'s Style,
    /// The part of the document that all blocks belong to.
    pub root: &'s Rc<Node>,
    /// Left edge of the frame.
    pub x: f64,
    /// Width of the frame.
    pub width: f64,
    /// Height of a whole page, which no drawing exceeds.
    pub page: f64,
    /// Columns of the grid of fields in this frame.
    pub grid: u8,
    /// The words that are added to those of the blocks.
    pub words: SheetOptions,
}

impl<'s> Setter<'s> {
    /// A setter for the full width of a page.
    pub(super) const fn new(
        style: &'s Style,
        root: &'s Rc<Node>,
        x: f64,
        width: f64,
        page: f64,
        words: SheetOptions,
    ) -> Self {
        Self { style, root, x, width, page, grid: GRID, words }
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
            Block::Fields { fields } => self.fields(fields, self.grid, false),
            Block::Strip { fields } => self.strip(fields),
            Block::GivesWay { way, blocks, instead } => self.giving_way(*way, blocks, instead),
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
        let mut piece = self.headline(text, clause, self.x, self.width, Role::Heading);
        piece.gap = self.gap(if self.style.planned { 8.0 } else { 14.0 });
        piece.keep = Keep::Must;
        piece.entries.push(Entry { title: measure::shorten(Face::Bold, 1.0, text, 400.0), y: 0.0 });
        piece
    }

    /// A heading over its rule, the clause at the right.
    fn headline(&self, text: &str, clause: Option<&str>, x: f64, width: f64, role: Role) -> Piece {
        let size = self.style.heading();
        let small = self.style.clause();
        let clause = clause.filter(|_| self.style.shed < Shed::Clauses);
        let mut clause = clause.map_or_else(Vec::new, |clause| wrap(Face::Regular, small, clause, width * 0.5));
        let taken = clause.iter().map(|line| line.width).fold(0.0, f64::max);
        let mut room = if taken > 0.0 { width - taken - GUTTER } else { width };
        // Over a slim drawing the clause gives way to the words.
        if widest_word(Face::Bold, size, text) > room {
            clause.clear();
            room = width;
        }
        let lines = wrap(Face::Bold, size, text, room);

        let mut piece = Piece::default();
        piece.tag(&Node::within(self.root, role));
        let bottom = piece.lines(&lines, Place::Left(x), 0.0, size, grey::INK);
        let drop = baseline(size) - baseline(small);
        if !clause.is_empty() {
            piece.tag(&Node::within(self.root, Role::Paragraph));
        }
        let other = piece.lines(&clause, Place::Right(x + width), drop, small, grey::LABEL);
        piece.untag();
        let rule = bottom.max(other) + self.gap(2.5);
        piece.rule(x, rule, width, 0.5, grey::HEADING_RULE);
        piece.height = rule + 0.5;
        piece
    }

    /// Fields in as many columns of six as the width has room for.
    fn strip(&self, fields: &[Field]) -> Vec<Piece> {
        let grid = if self.width > 390.0 { STRIP } else { STRIP / 2 };
        self.fields(fields, grid, true)
    }

    /// What a sheet still has room for, what stands instead, or what moves to its last page.
    fn giving_way(&self, way: Way, blocks: &[Block], instead: &[Block]) -> Vec<Piece> {
        let gone = self.style.shed
            >= match way {
                Way::Size => Shed::Size,
                Way::Composition => Shed::Composition,
                Way::Drawings => Shed::Drawings,
                Way::Cautions => Shed::Cautions,
                Way::HookUp => Shed::HookUp,
                Way::Beside => Shed::Beside,
                Way::Settings => Shed::Settings,
            };
        if !gone {
            return self.blocks(blocks);
        }
        // A card has no last page to move drawings to.
        if way != Way::Drawings || !self.style.planned {
            return self.blocks(instead);
        }
        let mut pieces = self.blocks(blocks);
        for piece in &mut pieces {
            piece.last = true;
        }
        pieces
    }

    fn fields(&self, fields: &[Field], grid_columns: u8, close: bool) -> Vec<Piece> {
        let grid = f64::from(grid_columns);
        let column = (self.width - GUTTER * (grid - 1.0)) / grid;
        let mut pieces = Vec::new();
        let list = Node::within(self.root, Role::List);
        for row in in_rows(fields, grid_columns) {
            let mut piece = Piece { gap: self.gap(if close { 3.0 } else { 6.5 }), ..Piece::default() };
            let size = if close { LABEL_OF_A_STRIP.max(self.style.label() - 0.3) } else { self.style.label() };
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
                let item = Node::within(&list, Role::Item);
                piece.tag(&Node::within(&item, Role::Label));
                piece.lines(&lines, Place::Left(x), labels - height(&lines, size), size, grey::LABEL);
                let size = if close { self.style.close_value() } else { self.value_size(field, width) };
                let value = wrap(Face::Bold, size, &field.value, width);
                piece.tag(&Node::within(&item, Role::Body));
                let bottom = piece.lines(
                    &value,
                    Place::Left(x),
                    labels + self.gap(if close { 0.2 } else { 0.8 }),
                    size,
                    grey::INK,
                );
                piece.height = piece.height.max(bottom);
            }
            piece.untag();
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
        let mut pieces = running(&lines, self.x, size, shade, &Node::within(self.root, Role::Paragraph));
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
        let list = Node::within(self.root, if numbered { Role::NumberedList } else { Role::List });
        for (index, item) in items.iter().enumerate() {
            let lines = wrap(Face::Regular, size, item, self.width - indent);
            let part = Node::within(&list, Role::Item);
            // The label goes first in the tree as it does on the page.
            let (label, body) = (Node::within(&part, Role::Label), Node::within(&part, Role::Body));
            let mut set = running(&lines, self.x + indent, size, shade, &body);
            if let Some(first) = set.first_mut() {
                first.gap = self.gap(match (index, small) {
                    (0, _) => 5.0,
                    (_, true) => 1.0,
                    (_, false) => 2.2,
                });
                let lead = wrap(if numbered { Face::Bold } else { Face::Regular }, size, &mark(index), indent);
                let text = std::mem::take(&mut first.marks);
                if numbered {
                    first.tag(&label);
                }
                first.lines(&lead, Place::Right(self.x + widest), 0.0, size, shade);
                first.untag();
                first.marks.extend(text);
            }
            pieces.extend(set);
        }
        pieces
    }
}

impl Setter<'_> {
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
            if self.style.planned {
                pieces.push(self.signed(row, width));
                continue;
            }
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
                piece.tag(&Node::within(self.root, Role::Paragraph));
                let y = piece.lines(role, Place::Left(x), 0.0, small, grey::LABEL);
                piece.lines(name, Place::Left(x), y, size, grey::INK);
                piece.untag();
                piece.rule(x, line, width * 0.66, 0.6, grey::INK);
                piece.rule(x + width * 0.7, line, width * 0.3, 0.6, grey::INK);
                let signature = wrap(Face::Regular, small, &self.words.say(label::SIGN_HERE), width * 0.66);
                let date = wrap(Face::Regular, small, &self.words.say(label::DATE_HERE), width * 0.3);
                piece.tag(&Node::within(self.root, Role::Paragraph));
                let below = piece.lines(&signature, Place::Left(x), line + 1.5, small, grey::LABEL);
                piece.lines(&date, Place::Left(x + width * 0.7), line + 1.5, small, grey::LABEL);
                piece.untag();
                piece.height = piece.height.max(below);
                x += width + GUTTER * 2.0;
            }
            pieces.push(piece);
        }
        pieces
    }

    /// Role and name in a line, with room for a hand that signs beneath.
    fn signed(&self, row: &[(String, String)], width: f64) -> Piece {
        let mut piece = Piece { gap: self.gap(8.0).max(4.0), ..Piece::default() };
        let size = self.style.label();
        let mut x = self.x;
        for (role, name) in row {
            let spans = [
                Span { face: Face::Regular, text: role.into() },
                Span { face: Face::Bold, text: format!(" {name}").into() },
            ];
            piece.tag(&Node::within(self.root, Role::Paragraph));
            let below = piece.lines(&measure::wrap_spans(&spans, size, width), Place::Left(x), 0.0, size, grey::INK);
            piece.untag();
            let line = below + SIGNED;
            piece.rule(x, line, width, 0.6, grey::INK);
            piece.height = piece.height.max(line + 0.6);
            x += width + GUTTER * 2.0;
        }
        piece
    }

    fn columns(&self, left: &[Block], right: &[Block], share: f64) -> Vec<Piece> {
        let share = if share.is_finite() { share.clamp(0.3, 0.7) } else { 0.5 };
        let gutter = 20.0;
        // A frame that is a column already is too narrow for two: they go one under the other.
        if self.width < 240.0 {
            return self.blocks(left).into_iter().chain(self.blocks(right)).collect();
        }
        if self.style.shed >= Shed::HookUp && left.iter().any(|block| matches!(block, Block::Drawings { .. })) {
            let told = left.iter().filter(|block| !matches!(block, Block::Drawings { .. }));
            let mut pieces = self.blocks(right);
            pieces.extend(told.flat_map(|block| self.block(block)));
            return pieces;
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
        let gap = self.gap(if self.style.planned { 5.0 } else { 10.0 });
        let mut piece = Piece { gap, ..Piece::default() };
        for (blocks, x, width) in [(left, self.x, first), (right, self.x + first + gutter, second)] {
            let inner = Self { x, width, grid: grid(width), ..*self };
            let column = stacked(inner.blocks(blocks));
            piece.height = piece.height.max(column.height);
            piece.absorb(column, 0.0);
        }
        vec![piece]
    }

    fn drawings(&self, figures: &[Figure]) -> Vec<Piece> {
        if self.style.shed == Shed::Pictures {
            return Vec::new();
        }
        figure::rows(figures, self.style, self.width).into_iter().map(|row| self.figure_row(&row)).collect()
    }

    fn figure_row(&self, row: &figure::FigureRow<'_>) -> Piece {
        let gap = self.gap(if self.style.planned { 6.0 } else { 13.0 });
        let mut piece = Piece { gap, ..Piece::default() };
        let titled = row.figures.iter().any(|figure| !figure.title.is_empty() || figure.clause.is_some());
        let small = self.style.small();
        let mut heads = Vec::new();
        let mut captions = Vec::new();
        let mut x = self.x;
        for (figure, &width) in row.figures.iter().zip(&row.widths) {
            heads.push((
                x,
                if titled {
                    self.headline(&figure.title, figure.clause.as_deref(), x, width, Role::Paragraph)
                } else {
                    Piece::default()
                },
            ));
            captions.push(
                figure
                    .caption
                    .as_ref()
                    .filter(|_| self.style.shed < Shed::Captions)
                    .map_or_else(Vec::new, |caption| wrap(Face::Regular, small, caption, width)),
            );
            x += width + figure::GUTTER;
        }
        let head = heads.iter().map(|(_, piece)| piece.height).fold(0.0, f64::max);
        let under = captions.iter().map(|lines| height(lines, small)).fold(0.0, f64::max);
        let edge = self.gap(if self.style.planned { 3.0 } else { 6.0 });
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
            piece.tag(&Node::figure(self.root, &figure.alt));
            figure::paint(&figure.drawing, x + (width - wide).max(0.0) / 2.0, y, scale, &mut piece.marks);
            if caption.is_empty() {
                piece.untag();
            } else {
                piece.tag(&Node::within(self.root, Role::Paragraph));
            }
            piece.lines(&caption, Place::Left(x), head + edge + tall + edge * 0.5, small, grey::LABEL);
            piece.untag();
        }
        piece.height = head + edge + tall + if under > 0.0 { edge * 0.5 + under } else { 0.0 };
        piece
    }
}

/// One piece for each line; the first two and the last two stay together.
fn running(lines: &[Line], x: f64, size: f64, shade: f64, part: &Rc<Node>) -> Vec<Piece> {
    let count = lines.len();
    lines
        .iter()
        .enumerate()
        .map(|(index, line)| {
            let mut piece = Piece::of(size * LEADING);
            piece.tag(part);
            piece.lines(std::slice::from_ref(line), Place::Left(x), 0.0, size, shade);
            piece.untag();
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
