//! Notices: cautions beside a bar, limits in a box.

use std::borrow::Cow;

use seamwright_drawing::face::Face;

use super::{Setter, running};
use crate::block::{NoticeItem, NoticeKind};
use crate::pdf::measure::{Span, wrap, wrap_spans};
use crate::pdf::piece::{Keep, Mark, Piece, Place, baseline};
use crate::pdf::style::grey;
use crate::pdf::tag::{Node, Role};

impl Setter<'_> {
    pub(super) fn notice(&self, kind: NoticeKind, title: Option<&str>, items: &[NoticeItem]) -> Vec<Piece> {
        match kind {
            NoticeKind::Stop => self.stop(title, items),
            NoticeKind::Caution => self.barred(2.2, grey::INK, title, items),
            NoticeKind::Remark => self.barred(0.7, grey::HEADING_RULE, title, items),
            NoticeKind::Safety => self.safety(items),
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
            let part = Node::within(self.root, Role::Paragraph);
            for (index, mut piece) in running(&lines, self.x + indent, size, grey::INK, &part).into_iter().enumerate() {
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

    /// Short cautions in a box, a line each, in two columns of about equal height.
    fn safety(&self, items: &[NoticeItem]) -> Vec<Piece> {
        let size = self.style.label();
        let (edge, line, gutter) = (5.0, 0.8, 12.0);
        let width = (self.width - 2.0 * edge - gutter) / 2.0;
        let set: Vec<_> = items.iter().map(|item| wrap_spans(&item_spans(item), size, width)).collect();
        let total: usize = set.iter().map(Vec::len).sum();
        let mut piece = Piece { gap: self.gap(6.0), ..Piece::default() };
        let (mut y, mut x, mut placed, mut bottom) = (edge, self.x + edge, 0, 0.0_f64);
        for lines in set {
            if placed > 0 && x < self.x + width && placed + lines.len() > total.div_ceil(2) {
                (x, y) = (self.x + edge + width + gutter, edge);
            }
            placed += lines.len();
            piece.tag(&Node::within(self.root, Role::Paragraph));
            y = piece.lines(&lines, Place::Left(x), y, size, grey::INK);
            bottom = bottom.max(y);
        }
        piece.untag();
        piece.height = bottom + edge;
        let height = piece.height;
        piece.marks.insert(0, Mark::Frame { x: self.x, y: 0.0, width: self.width, height, line });
        vec![piece]
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
            piece.tag(&Node::within(self.root, Role::Paragraph));
            bottom = piece.lines(&lines, Place::Left(self.x + edge), edge, big, grey::INK);
            left = taken + 14.0;
        }
        let width = (inner - left).max(size);
        let listed = !self.style.run_on && (items.len() > 6 || items.iter().any(|item| item.text.len() > 70));
        let mut y = edge + if title.is_some() { baseline(big) - baseline(size) } else { 0.0 };
        let x = self.x + edge + left;
        piece.tag(&Node::within(self.root, Role::Paragraph));
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
        piece.untag();
        piece.height = bottom.max(y) + edge;
        let height = piece.height;
        piece.marks.insert(0, Mark::Frame { x: self.x, y: 0.0, width: self.width, height, line });
        vec![piece]
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
