//! What stands on pages beside the blocks: the masthead, the running head of later pages, and the foot.
//!
//! Texts of any length come here, so each has a greatest number of lines; an ellipsis says where one was cut.

use std::borrow::Cow;
use std::rc::Rc;

use seamwright_drawing::Segment;
use seamwright_drawing::face::Face;

use crate::block::Sheet;
use crate::house::House;
use crate::options::SheetOptions;
use crate::qr::Modules;
use crate::words::label;

use super::error::PdfError;
use super::measure::{Line, Span, shorten, widest_word, wrap, wrap_at_most, wrap_spans};
use super::piece::{Mark, Piece, Place, ShapeFill, baseline, height};
use super::style::{BOTTOM, LEADING, MARGIN, Style, TOP, grey};
use super::tag::{Node, Role};
use crate::paper::Paper;

/// Side of the QR code, without its quiet zone.
const QR: f64 = 46.0;
/// The foot's small type does not shrink with a sheet that must fit one page.
const FOOT: f64 = 6.6;

/// The head and foot of a sheet's pages, measured.
pub(super) struct Furniture {
    head: Piece,
    /// Where the page count of the masthead stands, the top of its line, and its size.
    page_fact: (Place, f64, f64),
    running: Piece,
    foot: Vec<Line>,
    foot_height: f64,
    reference: String,
    width: f64,
    height: f64,
    /// The root of the sheet's structure.
    root: Rc<Node>,
    /// The part of the masthead that the count of pages belongs to.
    page_part: Rc<Node>,
    words: SheetOptions,
}

impl Furniture {
    pub(super) fn new(sheet: &Sheet, style: &Style, paper: Paper, beside: &Beside<'_>) -> Self {
        let (page_width, page_height) = paper.size();
        let width = page_width - 2.0 * MARGIN;
        let root = Node::document();
        let (head, page_fact, page_part) = masthead(sheet, style, width, beside, &root);
        // A reference that would take the whole foot is shortened; it stands in full in the masthead.
        let reference = shorten(Face::Regular, FOOT, &sheet.footer.reference, width * 0.36);
        let right = Face::Regular.width(&format!("{reference} · 000 / 000")) * FOOT;
        let digest = &sheet.source.digest;
        let checked = &sheet.footer.checked;
        let text = if digest.is_empty() || checked.contains(digest.as_str()) {
            Cow::Borrowed(checked.as_str())
        } else {
            Cow::Owned(format!(
                "{checked} {}",
                sheet.words().fill(label::SOURCE_DIGEST_SENTENCE, &[("digest", digest)])
            ))
        };
        let foot = wrap_at_most(Face::Regular, FOOT, &text, width - right - 14.0, 6);
        let foot_height = 16.0 + height(&foot, FOOT).max(FOOT * LEADING);
        Self {
            head,
            page_fact,
            running: running_head(sheet, width),
            foot,
            foot_height,
            reference,
            width,
            height: page_height,
            root,
            page_part,
            words: sheet.words(),
        }
    }

    /// The root of the sheet's structure.
    pub(super) const fn root(&self) -> &Rc<Node> {
        &self.root
    }

    /// From the top margin to the first block.
    pub(super) const fn masthead_height(&self) -> f64 {
        self.head.height
    }

    /// From the top margin to the first block of a later page.
    pub(super) const fn running_height(&self) -> f64 {
        self.running.height
    }

    /// From the last block to the bottom margin.
    pub(super) const fn foot_height(&self) -> f64 {
        self.foot_height
    }

    /// The masthead of the first of `count` pages.
    pub(super) fn masthead(&self, count: usize) -> Vec<Mark> {
        let mut piece = self.head.clone();
        let (place, top, size) = self.page_fact;
        piece.tag(&Node::within(&self.page_part, Role::Body));
        piece.lines(
            &wrap(Face::Bold, size, &self.words.fill(label::PAGE_OF, &[("count", &count.to_string())]), 200.0),
            place,
            top,
            size,
            grey::INK,
        );
        piece.untag();
        piece.marks.into_iter().map(|mark| mark.moved(TOP)).collect()
    }

    /// The head of a later page.
    pub(super) fn running_head(&self) -> Vec<Mark> {
        self.running.marks.iter().cloned().map(|mark| mark.moved(TOP)).collect()
    }

    /// The foot of page `number` of `count`.
    pub(super) fn foot(&self, number: usize, count: usize) -> Vec<Mark> {
        let mut piece = Piece::default();
        piece.rule(MARGIN, 0.0, self.width, 0.5, grey::HEADING_RULE);
        // What was checked is read once, at the end of the first page.
        if number == 1 {
            piece.tag(&Node::within(&self.root, Role::Paragraph));
        }
        let foot = Node::furniture(Role::PageFoot);
        if number > 1 {
            piece.tag(&foot);
        }
        piece.lines(&self.foot, Place::Left(MARGIN), 4.0, FOOT, grey::LABEL);
        piece.tag(&foot);
        let reference = format!("{} · {number} / {count}", self.reference);
        piece.lines(
            &wrap(Face::Regular, FOOT, &reference, self.width),
            Place::Right(MARGIN + self.width),
            4.0,
            FOOT,
            grey::LABEL,
        );
        piece.untag();
        let top = self.height - BOTTOM - self.foot_height + 12.0;
        piece.marks.into_iter().map(|mark| mark.moved(top)).collect()
    }
}

/// Who issues what at the left, number and facts at the right, and the QR code beside them.
fn masthead(
    sheet: &Sheet,
    style: &Style,
    width: f64,
    beside: &Beside<'_>,
    root: &Rc<Node>,
) -> (Piece, (Place, f64, f64), Rc<Node>) {
    let head = &sheet.masthead;
    let code = beside.code;
    let mut piece = Piece::default();
    let right = MARGIN + width;
    let facts_right = if code.is_some() { right - QR - 14.0 } else { right };
    let size = 8.4;

    // The right-hand side.
    let mut facts = Piece::default();
    let list = Node::within(root, Role::List);
    let page_part = Node::within(&list, Role::Item);
    let (facts_left, page_fact) = if sheet.one_page {
        facts_beneath(sheet, width, facts_right, size, &mut facts, (&list, &page_part))
    } else {
        facts_in_pairs(sheet, width, facts_right, size, &mut facts, (&list, &page_part))
    };
    let mut lower = facts.height;

    // The left-hand side.
    let left = (facts_left - 16.0 - MARGIN).max(width * 0.25);
    let who = [
        Span { face: Face::Bold, text: shorten(Face::Bold, size, &head.manufacturer, left * 1.5).into() },
        Span {
            face: Face::Regular,
            text: match head.manufacturer.as_str() {
                "" => Cow::Owned(shorten(Face::Regular, size, &head.kind, left)),
                _ => Cow::Owned(format!(" · {}", shorten(Face::Regular, size, &head.kind, left))),
            },
        },
    ];
    let mut y = beside.house.map_or(0.0, |house| {
        piece.tag(&Node::figure(root, &sheet.words().fill(label::LOGO_OF, &[("name", &head.manufacturer)])));
        let below = paint_logo(house, MARGIN, 0.0, &mut piece.marks);
        piece.untag();
        below
    });
    piece.tag(&Node::within(root, Role::Paragraph));
    y = piece.lines(&wrap_spans(&who, size, left), Place::Left(MARGIN), y + 1.0, size, grey::INK) + 2.0;
    let (title_size, title) = title_lines(&head.title, style.title, left);
    piece.tag(&Node::within(root, Role::Title));
    y = piece.lines(&title, Place::Left(MARGIN), y, title_size, grey::INK);
    piece.untag();
    if let Some(house) = beside.house.filter(|house| !house.lines.is_empty()) {
        let lines = wrap_at_most(Face::Regular, 7.4, &house.lines.join(" · "), left, 3);
        piece.tag(&Node::within(root, Role::Paragraph));
        y = piece.lines(&lines, Place::Left(MARGIN), y + 2.0, 7.4, grey::LABEL);
        piece.untag();
    }
    piece.absorb(facts, 0.0);

    if let Some(modules) = code {
        piece.tag(&Node::figure(root, &sheet.words().say(label::CODE_TO_SCAN)));
        paint_qr(modules, right - QR, 1.0, &mut piece.marks);
        piece.untag();
        lower = lower.max(QR + 1.0);
    }
    let rule = y.max(lower) + style.gap(6.0).min(6.0);
    head_rule(beside.house, rule, width, &mut piece);
    let mut bottom = rule + 1.4;
    if let Some(stamp) = &head.stamp {
        bottom = paint_stamp(stamp, style, bottom + 4.0, width, &mut piece, root);
    }
    piece.height = bottom + style.gap(if style.planned { 5.0 } else { 10.0 });
    (piece, page_fact, page_part)
}

/// The stamp on a bar across the sheet: white on black, so that no one overlooks it; gives the place under it.
fn paint_stamp(stamp: &str, style: &Style, top: f64, width: f64, piece: &mut Piece, root: &Rc<Node>) -> f64 {
    let size = (10.5 * style.kind).max(9.0);
    let lines = wrap_at_most(Face::Bold, size, stamp, width - 16.0, 3);
    let tall = height(&lines, size) + 5.0;
    piece.marks.push(Mark::Block { x: MARGIN, y: top, width, height: tall, grey: grey::INK });
    piece.tag(&Node::within(root, Role::Paragraph));
    piece.lines(&lines, Place::Left(MARGIN + 8.0), top + 2.5, size, 1.0);
    piece.untag();
    top + tall
}

/// Number and facts one beneath the other, the number large: for a card that is read at arm's length. Gives the left
/// edge and the place of the page count.
fn facts_beneath(
    sheet: &Sheet,
    width: f64,
    facts_right: f64,
    size: f64,
    piece: &mut Piece,
    (list, page_part): (&Rc<Node>, &Rc<Node>),
) -> (f64, (Place, f64, f64)) {
    let words = sheet.words();
    let number_label = words.say(label::NUMBER);
    let head = &sheet.masthead;
    // Labels end where the values begin.
    let number_size = 15.5;
    let most = width * 0.24;
    let number_width = most.max(widest_word(Face::Bold, number_size, &head.number).min(width * 0.3));
    let number = wrap_at_most(Face::Bold, number_size, &head.number, number_width, 3);
    let facts: Vec<(&str, Vec<Line>)> = head
        .facts
        .iter()
        .map(|(label, value)| (label.as_str(), wrap_at_most(Face::Bold, size, value, most, 3)))
        .collect();
    let page = Face::Bold.width(&words.fill(label::PAGE_OF, &[("count", "000")])) * size;
    let values =
        number.iter().chain(facts.iter().flat_map(|(_, lines)| lines)).map(|line| line.width).fold(page, f64::max);
    let labels_right = facts_right - values - 10.0;
    let labels = head.facts.iter().map(|(label, _)| label.as_str()).chain([&*number_label]);
    let label_width = labels.map(|label| Face::Regular.width(label) * size).fold(0.0, f64::max).min(width * 0.16);
    let mut lower = 0.0;
    let put = |piece: &mut Piece, text: &str, top: f64| {
        let lines = wrap_at_most(Face::Regular, size, text, label_width, 3);
        piece.lines(&lines, Place::Right(labels_right), top, size, grey::LABEL)
    };
    let drop = baseline(number_size) - baseline(size);
    let mut item = Node::within(list, Role::Item);
    piece.tag(&Node::within(&item, Role::Label));
    let below = put(piece, &number_label, lower + drop);
    piece.tag(&Node::within(&item, Role::Body));
    lower = below.max(piece.lines(&number, Place::Right(facts_right), lower, number_size, grey::INK)) + 1.0;
    for (name, value) in &facts {
        item = Node::within(list, Role::Item);
        piece.tag(&Node::within(&item, Role::Label));
        let below = put(piece, name, lower);
        piece.tag(&Node::within(&item, Role::Body));
        lower = below.max(piece.lines(value, Place::Right(facts_right), lower, size, grey::INK)) + 0.8;
    }
    let page_top = lower;
    piece.tag(&Node::within(page_part, Role::Label));
    piece.height = put(piece, &words.say(label::PAGE), lower);
    piece.untag();
    (labels_right - label_width, (Place::Right(facts_right), page_top, size))
}

/// Number, facts and page in two columns of labels and values. Gives the left edge and the place of the page count.
fn facts_in_pairs(
    sheet: &Sheet,
    width: f64,
    facts_right: f64,
    size: f64,
    piece: &mut Piece,
    (list, page_part): (&Rc<Node>, &Rc<Node>),
) -> (f64, (Place, f64, f64)) {
    const GAP: f64 = 5.0;
    let head = &sheet.masthead;
    let words = sheet.words();
    let (number_label, page_label) = (words.say(label::NUMBER), words.say(label::PAGE));
    let page_of = words.fill(label::PAGE_OF, &[("count", "00")]);
    let number = [(&*number_label, head.number.as_str())];
    let facts = head.facts.iter().map(|(label, value)| (label.as_str(), value.as_str()));
    // The widest count of pages keeps its room; the count itself is written when it is known.
    let all: Vec<(&str, &str)> = number.into_iter().chain(facts).chain([(&*page_label, page_of.as_str())]).collect();
    let set: Vec<(Vec<Line>, Vec<Line>)> = all
        .iter()
        .map(|(label, value)| {
            let own = (width * 0.15).max(widest_word(Face::Bold, size, value).min(width * 0.22));
            (wrap_at_most(Face::Regular, size, label, width * 0.1, 2), wrap_at_most(Face::Bold, size, value, own, 3))
        })
        .collect();
    let widest =
        |lines: &mut dyn Iterator<Item = &Vec<Line>>| lines.flatten().map(|line| line.width).fold(0.0, f64::max);
    let columns: Vec<(f64, f64)> = (0..2)
        .map(|column| {
            let own = || set.iter().skip(column).step_by(2);
            (widest(&mut own().map(|(label, _)| label)), widest(&mut own().map(|(_, value)| value)))
        })
        .collect();
    let taken: f64 = columns.iter().map(|(label, value)| label + GAP + value).sum::<f64>() + 12.0;
    let left = facts_right - taken;
    let mut page_fact = (Place::Right(facts_right), 0.0, size);
    let mut y: f64 = 1.0;
    for (row, pair) in set.chunks(2).enumerate() {
        let (mut x, mut below) = (left, y);
        for (column, ((label, value), (label_width, value_width))) in pair.iter().zip(&columns).enumerate() {
            let last = row * 2 + column + 1 == set.len();
            let item = if last { Rc::clone(page_part) } else { Node::within(list, Role::Item) };
            piece.tag(&Node::within(&item, Role::Label));
            below = below.max(piece.lines(label, Place::Left(x), y, size, grey::LABEL));
            let at = Place::Left(x + label_width + GAP);
            if last {
                page_fact = (at, y, size);
            } else {
                piece.tag(&Node::within(&item, Role::Body));
                below = below.max(piece.lines(value, at, y, size, grey::INK));
            }
            x += label_width + GAP + value_width + 12.0;
        }
        y = below + 1.0;
    }
    piece.untag();
    piece.height = y;
    (left, page_fact)
}

/// The rule under the head, in the shop's colour.
pub(super) fn head_rule(house: Option<&House>, top: f64, width: f64, piece: &mut Piece) {
    let Some(colour) = house.and_then(|house| house.accent) else {
        piece.rule(MARGIN, top, width, 1.4, grey::INK);
        return;
    };
    let (right, bottom) = (MARGIN + width, top + 1.4);
    let mut segments = vec![Segment::Move((MARGIN, top))];
    segments.extend([(right, top), (right, bottom), (MARGIN, bottom)].map(Segment::Line));
    segments.push(Segment::Close);
    piece.marks.push(Mark::Shape { segments, fill: ShapeFill::Colour(colour), stroke: None });
}

/// Paints the logo with its top left corner at (x, y); gives the place under it, or `y` where there is none.
pub(super) fn paint_logo(house: &House, x: f64, y: f64, marks: &mut Vec<Mark>) -> f64 {
    let Some(logo) = house.printed() else { return y };
    let (width, height) = logo.size();
    marks.push(Mark::Logo { x, y, width, height });
    y + height + 4.0
}

/// The title in two lines if the type can be made so small, but never smaller than a heading needs.
fn title_lines(title: &str, size: f64, width: f64) -> (f64, Vec<Line>) {
    let mut size = size;
    loop {
        let lines = wrap_at_most(Face::Bold, size, title, width, 6);
        let whole = widest_word(Face::Bold, size, title) <= width;
        if (lines.len() <= 2 && whole) || size <= 12.0 {
            return (size, lines);
        }
        size = (size - 1.0).max(12.0);
    }
}

/// Number and title in small over a thin rule.
fn running_head(sheet: &Sheet, width: f64) -> Piece {
    let size = 8.0;
    let head = &sheet.masthead;
    let mut piece = Piece::default();
    piece.tag(&Node::furniture(Role::PageHead));
    let issuer = match head.manufacturer.as_str() {
        "" => head.kind.clone(),
        manufacturer => format!("{manufacturer} · {}", head.kind),
    };
    let reference = shorten(Face::Bold, size, &sheet.footer.reference, width * 0.25);
    let beside = width - 14.0 - Face::Bold.width(&reference) * size - size;
    // Cut only where both do not fit, and the title first.
    let left_over = beside - Face::Regular.width(&head.title) * size;
    let issuer = shorten(Face::Regular, size, &issuer, left_over.max(width * 0.42));
    let room = beside - Face::Regular.width(&issuer) * size;
    let title = shorten(Face::Regular, size, &head.title, room);
    let spans = [
        Span { face: Face::Bold, text: reference.into() },
        Span { face: Face::Regular, text: format!("  {title}").into() },
    ];
    let bottom = piece.lines(&wrap_spans(&spans, size, width), Place::Left(MARGIN), 0.0, size, grey::INK);
    piece.lines(&wrap(Face::Regular, size, &issuer, width), Place::Right(MARGIN + width), 0.0, size, grey::LABEL);
    piece.rule(MARGIN, bottom + 3.0, width, 0.8, grey::INK);
    piece.untag();
    piece.height = bottom + 3.8 + 12.0;
    piece
}

/// What the head of a page has beside the sheet's own texts.
pub(super) struct Beside<'a> {
    pub code: Option<&'a Modules>,
    pub house: Option<&'a House>,
}

/// The QR code (ISO/IEC 18004) of the masthead, where it has one.
///
/// Errors: [`PdfError::QrTooLong`] for a text that no code holds.
pub(super) fn qr_modules(sheet: &Sheet) -> Result<Option<&Modules>, PdfError> {
    let Some(code) = &sheet.masthead.qr else { return Ok(None) };
    code.modules().map(Some).ok_or(PdfError::QrTooLong { bytes: code.text().len() })
}

/// Paints the QR code with its top left corner at (x, y).
fn paint_qr(modules: &Modules, x: f64, y: f64, marks: &mut Vec<Mark>) {
    #[expect(clippy::cast_precision_loss, reason = "a code has at most 177 modules in a row")]
    let count = modules.len().max(1) as f64;
    // A module is a whole number of hundredths of a point wide, so that all are equally wide on paper.
    let side = (QR / count * 100.0).floor() / 100.0;
    let mut runs = Vec::new();
    for (row, own) in modules.iter().enumerate() {
        let mut column = 0;
        for run in own.chunk_by(|a, b| a == b) {
            if run.first() == Some(&true) {
                runs.push([column, row, run.len()]);
            }
            column += run.len();
        }
    }
    marks.push(Mark::Code { x, y, side, rows: modules.len(), runs: runs.into() });
}
