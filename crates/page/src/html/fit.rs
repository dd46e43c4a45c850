//! How large the type of a one-page sheet may be in print.
//!
//! A page without script cannot measure itself, so its height is estimated from the lengths of its texts and the
//! sizes in `templates/sheet.css`; a change there is a change here. The estimate errs towards small type, since a
//! second page would be lost on the bench.

use crate::block::{Block, Field, Figure, NoticeItem, NoticeKind, Sheet, Table, in_rows};
use crate::house::House;
use crate::paper::Paper;

/// Type at its natural size in print, pt.
const ROOT: f64 = 9.4;
/// Margins of the page, pt: 14 mm at the sides, 13 mm and 14 mm at head and foot.
const SIDES: f64 = 28.0 * 72.0 / 25.4;
const HEAD_AND_FOOT: f64 = 27.0 * 72.0 / 25.4;
/// Mean width of a condensed character, relative to its size, long words that do not fill their line included: of
/// running text, and of settings, whose few words fill a line worse.
const CHARACTER: (f64, f64) = (0.5, 0.58);
/// Type larger than this, in rem, is that of settings.
const SETTING: f64 = 1.2;
/// What estimates of this kind are off by.
const RESERVE: f64 = 1.05;
/// The largest type, that which is still easy to read, and the smallest, relative to the natural size, with the step.
const LARGEST: f64 = 1.3;
const EASY: f64 = 0.86;
const SMALLEST: f64 = 0.4;
const STEP: f64 = 0.02;
/// Widths of a column under which fields stand three and two abreast, rem.
const THREE_ABREAST: f64 = 34.0;
const TWO_ABREAST: f64 = 24.0;
/// Greatest height of a drawing, mm at the natural size.
const DRAWING: f64 = 52.0;
/// Size of the settings, rem, and the least, pt.
const SETTINGS: (f64, f64) = (2.1, 14.0);
/// Least width of a drawing, rem.
const FIGURE: f64 = 10.5;
/// Space between columns and between drawings, rem.
const GUTTER: f64 = 1.9;

/// How large type and drawings of a one-page sheet are in print, relative to their natural size.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Fit {
    /// Factor of the type and of every space.
    pub kind: f64,
    /// Factor of the greatest height of a drawing, on top of that of the type.
    pub drawing: f64,
}

impl Fit {
    /// A sheet that takes the pages it needs.
    pub(super) const NATURAL: Self = Self { kind: 1.0, drawing: 1.0 };
    /// One that takes more pages for larger type.
    pub(super) const LARGE: Self = Self { kind: 1.16, drawing: 1.0 };
}

/// The size with which a one-page sheet fits its page: drawings shrink before type gets hard to read.
pub(super) fn fit(sheet: &Sheet, paper: Paper, house: Option<&House>) -> Fit {
    let (width, height) = match paper {
        Paper::A4 => (595.28, 841.89),
        Paper::Letter => (612.0, 792.0),
    };
    let (width, height) = (width - SIDES, height - HEAD_AND_FOOT);
    let fits = |fit: Fit| Measure::new(fit).sheet(sheet, house, width) * RESERVE <= height;
    let steps = |from: f64, to: f64, drawing: f64| {
        std::iter::successors(Some(from), |kind| Some(kind - STEP))
            .take_while(move |kind| *kind >= to - STEP / 2.0)
            .map(move |kind| Fit { kind, drawing })
    };
    let mut attempts = steps(LARGEST, EASY, 1.0)
        .chain([0.85, 0.7, 0.55].map(|drawing| Fit { kind: EASY, drawing }))
        .chain(steps(EASY, SMALLEST, 0.5));
    attempts.find(|attempt| fits(*attempt)).unwrap_or(Fit { kind: SMALLEST, drawing: 0.4 })
}

/// Heights in pt at one size of type.
struct Measure {
    factor: f64,
    drawing: f64,
    rem: f64,
}

impl Measure {
    fn new(fit: Fit) -> Self {
        Self { factor: fit.kind, drawing: fit.drawing, rem: ROOT * fit.kind }
    }

    /// Height of text of `size` rem in a column, with its leading.
    fn text(&self, text: &str, size: f64, leading: f64, width: f64) -> f64 {
        let fit = (width / (size * self.rem * if size > SETTING { CHARACTER.1 } else { CHARACTER.0 })).max(1.0);
        #[expect(clippy::cast_precision_loss, reason = "a text is shorter than 2^52 characters")]
        let lines: f64 = text.split('\n').map(|line| (line.chars().count() as f64 / fit).ceil().max(1.0)).sum();
        lines * size * leading * self.rem
    }

    fn sheet(&self, sheet: &Sheet, house: Option<&House>, width: f64) -> f64 {
        let head = &sheet.masthead;
        let code = if head.qr.is_some() { 6.4 } else { 0.0 };
        let left = width - (15.0 + code) * self.rem;
        let mut what = 1.4 * self.rem + self.text(&head.title, 2.2, 1.12, left);
        if let Some(stamp) = &head.stamp {
            what += 0.9 * self.rem + self.text(stamp, 1.0, 1.32, left);
        }
        if let Some(house) = house {
            what += if house.logo.is_some() { 3.4 * self.rem } else { 0.0 };
            what += if house.lines.is_empty() {
                0.0
            } else {
                0.3 * self.rem + self.text(&house.lines.join(" · "), 0.81, 1.32, left)
            };
        }
        #[expect(clippy::cast_precision_loss, reason = "there are few facts")]
        let facts = (1.8 + 1.3 * head.facts.len() as f64).max(code) * self.rem;
        let foot = 1.6 * self.rem + self.text(&sheet.footer.checked, 0.78, 1.32, width * 0.8) + self.rem;
        what.max(facts) + self.rem + self.blocks(&sheet.blocks, width) + foot
    }

    fn blocks(&self, blocks: &[Block], width: f64) -> f64 {
        blocks.iter().map(|block| self.block(block, width)).sum()
    }

    fn block(&self, block: &Block, width: f64) -> f64 {
        match block {
            Block::Heading { text, .. } => 1.6 * self.rem + self.text(text, 1.06, 1.25, width * 0.7),
            Block::Fields { fields } | Block::Strip { fields } => self.fields(fields, width),
            Block::Table(table) => self.table(table, width, 0.9375, 1.25),
            Block::Settings(table) => self.table(table, width, SETTINGS.0.max(SETTINGS.1 / self.rem), 1.15),
            Block::Drawings { drawings } => self.drawings(drawings, width),
            Block::Notice { kind, title, items } => self.notice(*kind, title.as_deref(), items, width),
            Block::Paragraph { text, small } => {
                0.5 * self.rem + self.text(text, if *small { 0.81 } else { 0.94 }, 1.32, width)
            }
            Block::List { items, .. } => {
                items.iter().map(|item| 0.25 * self.rem + self.text(item, 0.94, 1.32, width * 0.95)).sum::<f64>()
                    + 0.5 * self.rem
            }
            Block::Signatures { .. } => 7.5 * self.rem,
            Block::Columns { left, right, share } => {
                let share = if share.is_finite() { share.clamp(0.3, 0.7) } else { 0.5 };
                let width = width - GUTTER * self.rem;
                self.blocks(left, width * share).max(self.blocks(right, width * (1.0 - share)))
            }
            Block::Together { blocks } | Block::GivesWay { blocks, .. } => self.blocks(blocks, width),
            Block::PageBreak => 0.0,
        }
    }

    /// Drawings stand in rows of as many as have their least width.
    fn drawings(&self, figures: &[Figure], width: f64) -> f64 {
        let least = FIGURE * self.rem;
        let gutter = GUTTER * self.rem;
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_sign_loss,
            reason = "a page holds few drawings abreast"
        )]
        let abreast = ((width + gutter) / (least + gutter)).max(1.0) as usize;
        let rows = figures.chunks(abreast).map(|row| {
            let share: f64 = row.iter().map(|figure| figure.drawing.width).sum();
            #[expect(clippy::cast_precision_loss, reason = "a row holds few drawings")]
            let room = width - gutter * (row.len() as f64 - 1.0);
            let heights = row.iter().map(|figure| {
                let drawing = &figure.drawing;
                let width = (room * drawing.width / share).max(least.min(width));
                let most = DRAWING * self.factor * self.drawing * 72.0 / 25.4;
                let caption = figure.caption.as_deref().map_or(0.0, |it| self.text(it, 0.875, 1.32, width));
                let title = self.text(&figure.title, 0.9375, 1.25, width);
                (width * drawing.height / drawing.width).min(most) + caption + title
            });
            1.7 * self.rem + heights.fold(0.0, f64::max)
        });
        rows.sum()
    }

    fn fields(&self, fields: &[Field], width: f64) -> f64 {
        let across: u8 = if width < TWO_ABREAST * self.rem {
            2
        } else if width < THREE_ABREAST * self.rem {
            3
        } else {
            4
        };
        let rows = in_rows(fields, across).into_iter().map(|row| {
            let heights = row.into_iter().map(|(_, span, field)| {
                let width = width * f64::from(span) / f64::from(across) - 1.1 * self.rem;
                let (size, label) = if field.large { (1.35, 0.875) } else { (1.0, 0.78) };
                let height = self.text(&field.label, label, 1.3, width) + self.text(&field.value, size, 1.32, width);
                height + 0.45 * self.rem
            });
            heights.fold(0.0, f64::max)
        });
        rows.fold(0.6 * self.rem, |total, row| total + row)
    }

    /// A table whose cells are set in `size` rem with that leading.
    fn table(&self, table: &Table, width: f64, size: f64, leading: f64) -> f64 {
        let weight = |weight: f64| if weight.is_finite() { weight.max(0.01) } else { 1.0 };
        let total: f64 = table.columns.iter().map(|column| weight(column.weight)).sum();
        let column = |index: usize| {
            let share = table.columns.get(index).map_or(total, |column| weight(column.weight));
            (width * share / total - 0.7 * self.rem).max(1.0)
        };
        let rows = table.rows.iter().map(|row| {
            let cells = row.cells.iter().enumerate().map(|(index, cell)| {
                let note = cell.note.as_deref().map_or(0.0, |note| self.text(note, 1.1, 1.25, column(index)));
                self.text(&cell.text, size, leading, column(index)) + note
            });
            cells.fold(0.0, f64::max) + 1.0 * self.rem
        });
        let units = table.columns.iter().any(|column| column.unit.is_some());
        let caption = table.caption.as_deref().map_or(0.0, |caption| self.text(caption, 0.81, 1.5, width));
        caption + (if units { 3.3 } else { 2.4 }) * self.rem + rows.sum::<f64>()
    }

    fn notice(&self, kind: NoticeKind, title: Option<&str>, items: &[NoticeItem], width: f64) -> f64 {
        let (mut led, mut own) = (String::new(), 0.0);
        let stop = kind == NoticeKind::Stop;
        let size = if stop { 1.06 } else { 0.94 };
        let title_width = title.filter(|_| stop).map_or(0.0, |_| 11.0 * self.rem).min(width * 0.5);
        let width = width - 2.5 * self.rem - title_width;
        for item in items {
            if stop || item.lead.is_some() {
                // These run on in one paragraph.
                for part in [item.lead.as_deref().unwrap_or_default(), &item.text, "·"] {
                    led.push_str(part);
                    led.push(' ');
                }
            } else {
                own += 0.2 * self.rem + self.text(&item.text, size, 1.32, width);
            }
        }
        let title = title.filter(|_| !stop).map_or(0.0, |title| self.text(title, 1.06, 1.25, width));
        let led = if led.is_empty() { 0.0 } else { self.text(&led, size, 1.32, width) };
        (if stop { 2.8 } else { 1.5 }) * self.rem + title + led + own
    }
}
