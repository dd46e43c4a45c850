//! Pieces are put on pages: what stays together, where a page ends, and how a sheet is made to fit a single page.

use std::collections::VecDeque;

use crate::block::Sheet;

use super::blocks::Setter;
use super::error::PdfError;
use super::furniture::{Beside, Furniture, qr_modules};
use super::options::PdfOptions;
use super::piece::{Entry, Keep, Mark, Piece};
use super::style::{BOTTOM, LEAST_SETTINGS, MARGIN, Shed, Style, TOP};
use crate::paper::Paper;

/// Rounding in sums of heights never starts a new page.
const SLACK: f64 = 0.01;

/// A page with everything on it.
#[derive(Debug, Clone, Default)]
pub(super) struct Page {
    pub marks: Vec<Mark>,
    pub entries: Vec<Entry>,
}

/// The room for blocks on a page.
#[derive(Debug, Clone, Copy)]
struct Room {
    first: f64,
    next: f64,
    bottom: f64,
}

/// Lays a sheet out on paper.
pub(super) fn lay_out(sheet: &Sheet, options: &PdfOptions) -> Result<Vec<Page>, PdfError> {
    let paper = options.paper;
    let beside = Beside { code: qr_modules(sheet)?, house: options.house.as_deref() };
    let planned = sheet.planned.and_then(|count| planned(sheet, paper, &beside, count).map(|(body, _)| body));
    let (body, furniture) = match planned {
        Some(body) => body,
        None if sheet.one_page => one_page(sheet, paper, &beside)?,
        None => many_pages(sheet, paper, &beside),
    };
    let mut body = body;
    if !sheet.annex.is_empty() {
        body.extend(annexed(sheet, paper, &furniture));
    }
    let count = body.len();
    let pages = body
        .into_iter()
        .enumerate()
        .map(|(index, mut page)| {
            // Reading order: head, body, foot.
            let mut marks = if index == 0 { furniture.masthead(count) } else { furniture.running_head() };
            marks.append(&mut page.marks);
            marks.extend(furniture.foot(index + 1, count));
            Page { marks, entries: page.entries }
        })
        .collect();
    Ok(pages)
}

/// Pieces that wait for a page.
type Queue = VecDeque<Piece>;

/// Pages without head and foot, and what stands there.
type Body = (Vec<Page>, Furniture);

/// A last page that is filled less than this is worth a try to do without it.
const HARDLY: f64 = 0.2;
/// More of a page than this left white before the next one is worth a try with smaller drawings.
const WHITE: f64 = 0.14;

fn many_pages(sheet: &Sheet, paper: Paper, beside: &Beside<'_>) -> Body {
    let attempt = |style: Style| {
        let furniture = Furniture::new(sheet, &style, paper, beside);
        let (pieces, room) = set(sheet, &style, &furniture, paper);
        (flow(pieces, room), furniture)
    };
    let part = |room: Room, height: f64| height / (room.bottom - room.next);
    let natural = if sheet.large { Style::bench() } else { Style::document() };
    let mut style = natural;
    let mut best = attempt(style);
    for drawing in [1.1, 0.95] {
        if part(best.0.room, best.0.white) <= WHITE {
            break;
        }
        let smaller = Style { drawing, ..style };
        let tried = attempt(smaller);
        if tried.0.pages.len() <= best.0.pages.len() && tried.0.white < best.0.white {
            (best, style) = (tried, smaller);
        }
    }
    let hardly_filled =
        |flow: &Flow| flow.pages.len() > 1 && (flow.hardly || part(flow.room, flow.y - flow.room.next) < HARDLY);
    // Large type has further to go.
    let steps = [(1.0, 0.85), (1.0, 0.7), (0.96, 0.7), (0.94, 0.6), (0.91, 0.55), (0.88, 0.5)];
    let most = if sheet.large { steps.len() } else { 3 };
    for (kind, space) in steps.into_iter().take(most) {
        if !hardly_filled(&best.0) {
            break;
        }
        let closer = attempt(Style { kind: kind * natural.kind, space, ..style });
        if closer.0.pages.len() < best.0.pages.len() {
            best = closer;
        }
    }
    (best.0.pages, best.1)
}

/// Type, space and drawings of a planned sheet, from comfortable to close.
const CLOSER: [(f64, f64, f64); 10] = [
    (1.0, 1.0, 1.0),
    (1.0, 0.8, 1.0),
    (1.0, 0.7, 0.9),
    (0.97, 0.6, 0.85),
    (0.95, 0.5, 0.8),
    (0.93, 0.4, 0.72),
    (0.88, 0.3, 0.62),
    (0.82, 0.2, 0.6),
    (0.78, 0.1, 0.55),
    (0.78, 0.0, 0.45),
];

/// The style with which a sheet takes the pages that it is planned for: it gives way as little as it can. Nothing where
/// it takes more.
fn planned(sheet: &Sheet, paper: Paper, beside: &Beside<'_>, count: usize) -> Option<(Body, Style)> {
    let attempt = |style: &Style| {
        let furniture = Furniture::new(sheet, style, paper, beside);
        let (pieces, room) = set(sheet, style, &furniture, paper);
        let (mut pieces, mut last): (Vec<Piece>, Vec<Piece>) = pieces.into_iter().partition(|piece| !piece.last);
        if count == 1
            && let Some(first) = last.first_mut()
        {
            first.new_page = true;
        }
        let most = if last.is_empty() { count } else { count.max(2) };
        pieces.append(&mut last);
        let pages = flow(pieces, room).pages;
        (pages.len() <= most).then_some((pages, furniture))
    };
    let style = |(kind, space, drawing): (f64, f64, f64), shed: Shed| Style {
        kind,
        space,
        drawing,
        shed,
        title: 14.0 * kind.max(0.85),
        planned: true,
        ..Style::document()
    };
    let (&comfortable, &closest) = (CLOSER.first()?, CLOSER.last()?);
    let fits = |style: &Style| attempt(style).is_some();
    let shed = Shed::ORDER.into_iter().find(|shed| fits(&style(closest, *shed)))?;
    let mut chosen = CLOSER.into_iter().map(|step| style(step, shed)).find(fits)?;
    // Room to spare goes to the drawings first, and then to the spaces.
    let most = (comfortable.2 * 1.25).max(chosen.drawing);
    grow(&mut chosen, most, fits, |style| &mut style.drawing);
    grow(&mut chosen, 1.25, fits, |style| &mut style.space);
    Some((attempt(&chosen)?, chosen))
}

/// The annex, on as many pages as it takes.
fn annexed(sheet: &Sheet, paper: Paper, furniture: &Furniture) -> Vec<Page> {
    let (width, height) = paper.size();
    let next = TOP + furniture.running_height();
    let room = Room { first: next, next, bottom: height - BOTTOM - furniture.foot_height() };
    let style = Style::document();
    let root = furniture.root();
    let setter = Setter::new(&style, root, MARGIN, width - 2.0 * MARGIN, room.bottom - room.next, sheet.words());
    flow(setter.blocks(&sheet.annex), room).pages
}

fn set(sheet: &Sheet, style: &Style, furniture: &Furniture, paper: Paper) -> (Vec<Piece>, Room) {
    let (width, height) = paper.size();
    let room = Room {
        first: TOP + furniture.masthead_height(),
        next: TOP + furniture.running_height(),
        bottom: height - BOTTOM - furniture.foot_height(),
    };
    let root = furniture.root();
    let setter = Setter::new(style, root, MARGIN, width - 2.0 * MARGIN, room.bottom - room.next, sheet.words());
    (setter.blocks(&sheet.blocks), room)
}

/// Height of the pieces when they stand under one another.
fn stack(pieces: &[Piece]) -> f64 {
    pieces.iter().map(|piece| piece.gap + piece.height).sum()
}

/// Steps of type and space, from comfortable to the least that is still read.
const STEPS: [(f64, f64, f64); 16] = [
    // type, space, settings
    (1.30, 1.20, 24.0),
    (1.30, 1.00, 22.0),
    (1.22, 1.00, 21.0),
    (1.15, 0.90, 20.0),
    (1.08, 0.90, 19.0),
    (1.00, 0.90, 18.0),
    (1.00, 0.75, 17.0),
    (0.95, 0.70, 16.0),
    (0.90, 0.65, 15.0),
    (0.86, 0.60, LEAST_SETTINGS),
    (0.82, 0.50, LEAST_SETTINGS),
    (0.78, 0.45, LEAST_SETTINGS),
    (0.72, 0.40, LEAST_SETTINGS),
    (0.66, 0.35, LEAST_SETTINGS),
    (0.60, 0.30, LEAST_SETTINGS),
    (0.55, 0.25, LEAST_SETTINGS),
];

/// The closest step that is read at arm's length: running text of 8.4 pt.
const AT_ARMS_LENGTH: usize = 6;

/// What a card gives up before its type gets smaller than that: drawings shrink, those of the torch go, the cautions get short.
const PICTURES_FIRST: [(Shed, usize, f64); 13] = [
    (Shed::Nothing, AT_ARMS_LENGTH, 0.85),
    (Shed::Nothing, AT_ARMS_LENGTH, 0.7),
    (Shed::Nothing, AT_ARMS_LENGTH, 0.55),
    (Shed::Drawings, AT_ARMS_LENGTH - 2, 1.0),
    (Shed::Drawings, AT_ARMS_LENGTH, 1.0),
    (Shed::Drawings, AT_ARMS_LENGTH, 0.85),
    (Shed::Drawings, AT_ARMS_LENGTH, 0.7),
    (Shed::Drawings, AT_ARMS_LENGTH, 0.55),
    (Shed::Drawings, AT_ARMS_LENGTH + 1, 0.7),
    (Shed::Cautions, AT_ARMS_LENGTH, 1.0),
    (Shed::Cautions, AT_ARMS_LENGTH, 0.8),
    (Shed::Cautions, AT_ARMS_LENGTH, 0.6),
    (Shed::Cautions, AT_ARMS_LENGTH + 1, 0.5),
];

/// The same with closer spaces, before more goes. Type, space, large values, drawings.
const CLOSE: [(Shed, f64, f64, f64, f64); 3] = [
    (Shed::Drawings, 0.935, 0.5, 1.0, 0.7),
    (Shed::Cautions, 0.935, 0.5, 1.0, 0.6),
    (Shed::Cautions, 0.935, 0.45, 0.92, 0.55),
];

/// Then the drawing of the hook-up goes.
const WITHOUT_HOOK_UP: [(Shed, usize, f64); 2] =
    [(Shed::HookUp, AT_ARMS_LENGTH, 0.8), (Shed::HookUp, AT_ARMS_LENGTH + 1, 0.55)];

/// What a card gives up next: its spaces, then its large values their size, then the drawings of runs and position; what is
/// done before, between and after the arc does not go under 8 pt while a step has room for it. Type, space, large values,
/// drawings.
const CLOSER_STILL: [(Shed, f64, f64, f64, f64); 12] = [
    (Shed::HookUp, 0.95, 0.55, 1.0, 0.6),
    (Shed::HookUp, 0.935, 0.45, 1.0, 0.55),
    (Shed::HookUp, 0.935, 0.35, 1.0, 0.5),
    (Shed::HookUp, 0.935, 0.35, 0.88, 0.5),
    (Shed::HookUp, 0.935, 0.25, 0.8, 0.5),
    (Shed::Beside, 0.95, 0.6, 1.0, 0.7),
    (Shed::Beside, 0.935, 0.5, 1.0, 0.6),
    (Shed::Beside, 0.935, 0.4, 0.95, 0.5),
    (Shed::Beside, 0.935, 0.35, 0.88, 0.5),
    (Shed::Beside, 0.935, 0.3, 0.82, 0.5),
    (Shed::Beside, 0.935, 0.25, 0.76, 0.5),
    (Shed::Beside, 0.935, 0.15, 0.76, 0.5),
];

/// What many settings give up then: their large type, in steps.
const SETTINGS_AS_TEXT: [(Shed, f64, f64, f64, f64); 3] = [
    (Shed::Settings, 1.0, 0.5, 0.9, 0.5),
    (Shed::Settings, 0.935, 0.35, 0.88, 0.5),
    (Shed::Settings, 0.90, 0.25, 0.82, 0.5),
];

/// What comes where not even the joint beside text has room at that size.
const CLOSEST: [(Shed, f64, f64, f64, f64); 7] = [
    (Shed::Settings, 0.90, 0.25, 0.76, 0.5),
    (Shed::Settings, 0.90, 0.15, 0.76, 0.5),
    (Shed::Settings, 0.86, 0.15, 0.76, 0.5),
    (Shed::Settings, 0.82, 0.15, 0.76, 0.5),
    (Shed::Settings, 0.78, 0.15, 0.76, 0.4),
    (Shed::Settings, 0.72, 0.15, 0.8, 0.4),
    (Shed::Settings, 0.66, 0.15, 0.8, 0.4),
];

/// Steps that are still easy to read; below them type and drawings shrink in turn, so that neither is lost.
const EASY: usize = 10;

/// What is tried when drawings of full size leave no room for type that is easy to read: a step, and the drawings.
const CROWDED: [(usize, f64); 8] = [
    (EASY - 1, 0.85),
    (EASY, 0.85),
    (EASY - 1, 0.7),
    (EASY, 0.7),
    (EASY + 1, 0.7),
    (EASY + 2, 0.7),
    (EASY - 1, 0.55),
    (EASY + 1, 0.55),
];

/// Makes a sheet fit one page, and the page well filled.
fn one_page(sheet: &Sheet, paper: Paper, beside: &Beside<'_>) -> Result<Body, PdfError> {
    let style = |(kind, space, settings): (f64, f64, f64), drawing: f64| Style {
        kind,
        space,
        settings,
        drawing,
        title: 24.0 * kind.clamp(0.6, 1.0) * (space / 0.5).clamp(0.6, 1.0),
        run_on: true,
        ..Style::document()
    };
    let step = |(index, drawing): (usize, f64)| STEPS.get(index).map(|&step| style(step, drawing));
    let given = |(shed, index, drawing): (Shed, usize, f64)| Some(Style { shed, ..step((index, drawing))? });
    let close = |(shed, kind, space, large, drawing): (Shed, f64, f64, f64, f64)| Style {
        large,
        shed,
        ..style((kind, space, LEAST_SETTINGS), drawing)
    };
    let attempts = STEPS
        .iter()
        .take(AT_ARMS_LENGTH + 1)
        .map(|&step| style(step, 1.0))
        .chain(PICTURES_FIRST.into_iter().filter_map(given))
        .chain(CLOSE.into_iter().map(close))
        .chain(WITHOUT_HOOK_UP.into_iter().filter_map(given))
        .chain(CLOSER_STILL.into_iter().map(close))
        .chain(SETTINGS_AS_TEXT.into_iter().map(close))
        .chain(CLOSEST.into_iter().map(close))
        .chain(STEPS.iter().take(EASY).skip(AT_ARMS_LENGTH + 1).map(|&step| style(step, 1.0)))
        .chain(CROWDED.into_iter().filter_map(step))
        .chain(STEPS.iter().skip(EASY).map(|&step| style(step, 0.5)))
        .chain(STEPS.iter().skip(EASY - 1).map(|&step| Style { shed: Shed::Pictures, ..style(step, 0.5) }));
    let spare = |style: &Style| {
        let furniture = Furniture::new(sheet, style, paper, beside);
        let (mut pieces, room) = set(sheet, style, &furniture, paper);
        for piece in &mut pieces {
            piece.new_page = false;
        }
        let spare = room.bottom - room.first - stack(&pieces);
        (spare, pieces, furniture, room)
    };
    let fits = |style: &Style| spare(style).0 >= 0.0;
    let Some(mut chosen) = attempts.into_iter().find(fits) else {
        return Err(PdfError::DoesNotFit { title: sheet.masthead.title.clone() });
    };
    // Room to spare goes to the drawings first, in the halving of an interval, and then to the spaces.
    let largest = if chosen.drawing < 1.0 { 1.0 } else { 2.2 };
    grow(&mut chosen, largest, fits, |style| &mut style.drawing);
    let widest = chosen.space.max(1.5);
    grow(&mut chosen, widest, fits, |style| &mut style.space);

    let (_, pieces, furniture, room) = spare(&chosen);
    Ok((flow(pieces, room).pages, furniture))
}

/// Raises one measure of a style as far as the page allows.
fn grow(style: &mut Style, largest: f64, fits: impl Fn(&Style) -> bool, measure: impl Fn(&mut Style) -> &mut f64) {
    let mut low = *measure(style);
    let mut high = largest;
    let mut attempt = *style;
    *measure(&mut attempt) = high;
    if fits(&attempt) {
        *style = attempt;
        return;
    }
    for _ in 0..5 {
        let middle = f64::midpoint(low, high);
        *measure(&mut attempt) = middle;
        if fits(&attempt) { low = middle } else { high = middle }
    }
    *measure(style) = low;
}

/// Puts pieces on pages.
fn flow(pieces: Vec<Piece>, room: Room) -> Flow {
    let mut flow = Flow { room, pages: vec![Page::default()], y: room.first, fresh: true, white: 0.0, hardly: false };
    let mut queue: Queue = pieces.into();
    // The page that the part between two page breaks began on.
    let mut part = 1;
    while let Some(first) = queue.front() {
        if first.new_page && !flow.fresh {
            let filled = (flow.y - room.next) / (room.bottom - room.next);
            flow.hardly |= flow.pages.len() > part && filled < HARDLY;
            flow.turn();
            part = flow.pages.len();
        }
        // The pieces that hold on to each other, by wish if they fit a page, or else only those that must.
        let mut count = group(&queue, Keep::Wish);
        if Flow::on_fresh(&queue, count) > room.bottom - room.next + SLACK {
            count = group(&queue, Keep::Must);
        }
        let together = flow.here(&queue, count);
        if flow.y + together <= room.bottom + SLACK {
            for _ in 0..count {
                if let Some(piece) = queue.pop_front() {
                    flow.place(piece);
                }
            }
        } else if !flow.fresh && Flow::on_fresh(&queue, count) <= room.bottom - room.next + SLACK {
            flow.white = flow.white.max(room.bottom - flow.y);
            flow.turn();
        } else if let Some(piece) = queue.pop_front() {
            // Longer than a page: begin here if a fair part fits, and cut what must be cut.
            if !flow.fresh && room.bottom - flow.y < (room.bottom - room.next) * 0.25 {
                flow.turn();
                queue.push_front(piece);
            } else if flow.y + flow.gap(&piece) + flow.header(&piece) + piece.height <= room.bottom + SLACK {
                flow.place(piece);
            } else if let Some(rest) = flow.place_part(piece) {
                queue.push_front(rest);
            }
        }
    }
    flow
}

/// How many pieces at the front hold on to each other at least as firmly as `least`.
fn group(queue: &Queue, least: Keep) -> usize {
    let held = queue.iter().take_while(|piece| piece.keep >= least && piece.keep != Keep::No).count();
    (held + 1).min(queue.len())
}

struct Flow {
    room: Room,
    pages: Vec<Page>,
    y: f64,
    /// Nothing stands on the page yet.
    fresh: bool,
    /// The most of a page that was left white since what comes next does not fit it, pt.
    white: f64,
    /// A part that ends with a page break has hardly anything on its last page.
    hardly: bool,
}

impl Flow {
    fn turn(&mut self) {
        self.pages.push(Page::default());
        self.y = self.room.next;
        self.fresh = true;
    }

    fn gap(&self, piece: &Piece) -> f64 {
        if self.fresh { 0.0 } else { piece.gap }
    }

    fn header(&self, piece: &Piece) -> f64 {
        if self.fresh { piece.header.as_ref().map_or(0.0, |header| header.height) } else { 0.0 }
    }

    fn sum(queue: &Queue, count: usize) -> f64 {
        queue.iter().take(count).map(|piece| piece.gap + piece.height).sum()
    }

    /// Height of a group on the present page.
    fn here(&self, queue: &Queue, count: usize) -> f64 {
        if self.fresh { Self::on_fresh(queue, count) } else { Self::sum(queue, count) }
    }

    /// Height of a group at the top of a page.
    fn on_fresh(queue: &Queue, count: usize) -> f64 {
        let first = queue.front();
        let header = first.and_then(|piece| piece.header.as_ref()).map_or(0.0, |header| header.height);
        Self::sum(queue, count) - first.map_or(0.0, |piece| piece.gap) + header
    }

    fn open(&mut self, piece: &Piece) {
        self.y += self.gap(piece);
        if self.fresh
            && let Some(header) = &piece.header
        {
            let y = self.y;
            if let Some(page) = self.pages.last_mut() {
                // Told once, where the table begins.
                let shown = header.marks.iter().filter(|mark| !matches!(mark, Mark::Tag(_)));
                page.marks.extend(shown.cloned().map(|mark| mark.moved(y)));
            }
            self.y += header.height;
        }
        self.fresh = false;
    }

    fn place(&mut self, piece: Piece) {
        self.open(&piece);
        let y = self.y;
        self.y += piece.height;
        if let Some(page) = self.pages.last_mut() {
            page.marks.extend(piece.marks.into_iter().map(|mark| mark.moved(y)));
            page.entries.extend(piece.entries.into_iter().map(|entry| Entry { y: entry.y + y, ..entry }));
        }
    }

    /// Places what fits of a piece that is taller than the page, and gives the rest.
    fn place_part(&mut self, piece: Piece) -> Option<Piece> {
        let room = self.room.bottom - self.y - self.gap(&piece) - self.header(&piece);
        let (part, rest) = piece.cut(room.max(0.0));
        if part.is_blank() {
            if self.fresh {
                // Not even a line fits a whole page: it is placed as it stands, for there is no better place.
                self.place(rest);
                return None;
            }
            self.turn();
            return Some(rest);
        }
        self.place(part);
        self.turn();
        if rest.is_blank() { None } else { Some(rest) }
    }
}
