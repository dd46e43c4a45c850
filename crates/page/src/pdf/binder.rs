//! Several sheets in one file, behind a table of contents.

use seamwright_drawing::face::Face;

use crate::block::{Sheet, Source};
use crate::house::House;

use super::document::{self, File, Label, Node};
use super::error::PdfError;
use super::fonts;
use super::furniture::{head_rule, paint_logo};
use super::measure::wrap;
use super::options::PdfOptions;
use super::pages::{self, Page};
use super::piece::{Mark, Piece, Place};
use super::sound::check;
use super::style::{BOTTOM, MARGIN, TOP, grey};
use super::tag::{Link, Node as Part, Role};

const TITLE: f64 = 20.0;
const ENTRY: f64 = 9.4;
const SMALL: f64 = 7.4;
/// Width of the column of numbers.
const NUMBER: f64 = 92.0;
/// Width of the column of pages.
const PAGE: f64 = 34.0;

/// Sets sheets as one PDF file with a table of contents whose lines lead to them.
///
/// `heading` is the title of the contents and of the file. Every sheet keeps its own page numbers; the contents give
/// the page of the file. Each source is attached once. Errors: as [`super::render`], for the first sheet that fails.
pub fn binder(sheets: &[Sheet], heading: &str, options: &PdfOptions) -> Result<Vec<u8>, PdfError> {
    fonts::check(heading)?;
    let layouts = sheets
        .iter()
        .map(|sheet| {
            check(sheet)?;
            pages::lay_out(sheet, options)
        })
        .collect::<Result<Vec<Vec<Page>>, PdfError>>()?;

    // How long the contents are does not depend on the numbers in them.
    let lengths: Vec<usize> = layouts.iter().map(Vec::len).collect();
    let front = contents(sheets, heading, options, &vec![0; sheets.len()]).pages.len();
    let mut starts = Vec::with_capacity(lengths.len());
    let mut next = front;
    for length in lengths {
        starts.push(next);
        next += length;
    }
    let contents = contents(sheets, heading, options, &starts);

    let mut outline = vec![Node { title: "Contents".to_owned(), page: 0, y: 0.0, children: Vec::new() }];
    let mut labels = vec![Label { page: 0, roman: true, prefix: String::new() }];
    let mut all = contents.pages;
    for ((sheet, layout), start) in sheets.iter().zip(layouts).zip(starts) {
        let children = document::outline(&layout, start);
        outline.push(Node { title: sheet.whole_title(), page: start, y: 0.0, children });
        labels.push(Label { page: start, roman: false, prefix: format!("{} · ", sheet.footer.reference) });
        all.extend(layout);
    }
    let mut sources: Vec<&Source> = Vec::new();
    for sheet in sheets {
        let attached =
            sources.iter().any(|source| source.file_name == sheet.source.file_name && source.text == sheet.source.text);
        if !attached {
            sources.push(&sheet.source);
        }
    }
    let author = sheets.first().map_or_else(String::new, |sheet| sheet.masthead.manufacturer.clone());
    let date = sheets.iter().filter_map(|sheet| sheet.source.date.as_deref()).max();
    File {
        paper: options.paper,
        language: language(sheets, &options.language),
        title: heading.to_owned(),
        author,
        subject: format!("{} documents", sheets.len()),
        keywords: sheets.iter().map(|sheet| sheet.footer.reference.as_str()).collect::<Vec<_>>().join(", "),
        date,
        outline,
        labels,
        links: contents.links,
        sources,
        logo: options.house.as_deref().and_then(House::printed),
        faces: options.lately.faces(),
    }
    .write(&all)
}

/// The language of the sheets where they share one, else the one that was given.
fn language<'t>(sheets: &[Sheet], given: &'t str) -> &'t str {
    match sheets.split_first() {
        Some((first, others)) if others.iter().all(|other| other.language() == first.language()) => {
            first.language_tag(given)
        }
        _ => given,
    }
}

struct Contents {
    pages: Vec<Page>,
    links: Vec<Link>,
}

/// The pages of the contents; `starts` are the pages that the sheets begin on, from zero.
fn contents(sheets: &[Sheet], heading: &str, options: &PdfOptions, starts: &[usize]) -> Contents {
    let (page_width, page_height) = options.paper.size();
    let house = options.house.as_deref();
    let width = page_width - 2.0 * MARGIN;
    let bottom = page_height - BOTTOM - 24.0;
    let right = MARGIN + width;

    let root = Part::document();
    let mut head = Piece::default();
    if house.is_some_and(|house| house.printed().is_some()) {
        head.tag(&Part::figure(&root, "Logo"));
    }
    let mut y = house.map_or(TOP, |house| paint_logo(house, MARGIN, TOP, &mut head.marks));
    head.tag(&Part::within(&root, Role::Title));
    y = head.lines(&wrap(Face::Bold, TITLE, heading, width), Place::Left(MARGIN), y, TITLE, grey::INK);
    let lines = house.map(|house| house.lines.join(" · ")).unwrap_or_default();
    if !lines.is_empty() {
        head.tag(&Part::within(&root, Role::Paragraph));
    }
    y = head.lines(&wrap(Face::Regular, SMALL, &lines, width), Place::Left(MARGIN), y, SMALL, grey::LABEL);
    head.untag();
    y += 6.0;
    head_rule(house, y, width, &mut head);
    y += 12.0;
    let mut result = Contents { pages: vec![Page { marks: head.marks, entries: Vec::new() }], links: Vec::new() };

    for (sheet, &start) in sheets.iter().zip(starts) {
        let masthead = &sheet.masthead;
        let number = wrap(Face::Bold, ENTRY, &masthead.number, NUMBER - 10.0);
        let name = wrap(Face::Regular, ENTRY, &masthead.title, width - NUMBER - PAGE);
        let kind = format!("{} · {}", masthead.kind, sheet.footer.reference);
        let kind = wrap(Face::Regular, SMALL, &kind, width - NUMBER - PAGE);
        let page = wrap(Face::Bold, ENTRY, &(start + 1).to_string(), PAGE);

        let mut row = Piece::default();
        let part = Part::within(&Part::within(&root, Role::Paragraph), Role::Link);
        row.tag(&part);
        let first = row.lines(&number, Place::Left(MARGIN), 4.0, ENTRY, grey::INK);
        let second = row.lines(&name, Place::Left(MARGIN + NUMBER), 4.0, ENTRY, grey::INK);
        let second = row.lines(&kind, Place::Left(MARGIN + NUMBER), second, SMALL, grey::LABEL);
        row.lines(&page, Place::Right(right), 4.0, ENTRY, grey::INK);
        row.untag();
        let rule = first.max(second) + 4.0;
        row.rule(MARGIN, rule, width, 0.4, grey::RULE);
        let tall = rule + 0.4;

        if y + tall > bottom {
            result.pages.push(Page::default());
            y = TOP;
        }
        let index = result.pages.len() - 1;
        if let Some(page) = result.pages.last_mut() {
            page.marks.extend(row.marks.into_iter().map(|mark| mark.moved(y)));
        }
        let words = format!("{}, {}", masthead.number, masthead.title);
        result.links.push(Link { page: index, area: [MARGIN, y, width, tall], target: start, part, words });
        y += tall;
    }

    let count = result.pages.len();
    for (index, page) in result.pages.iter_mut().enumerate() {
        page.marks.extend(foot(heading, index + 1, count, page_height, width));
    }
    result
}

fn foot(heading: &str, number: usize, count: usize, page_height: f64, width: f64) -> Vec<Mark> {
    let mut piece = Piece::default();
    piece.tag(&Part::furniture(Role::PageFoot));
    let top = page_height - BOTTOM - 12.0;
    piece.rule(MARGIN, top, width, 0.5, grey::HEADING_RULE);
    let text = super::measure::shorten(Face::Regular, SMALL, heading, width * 0.7);
    piece.lines(&wrap(Face::Regular, SMALL, &text, width), Place::Left(MARGIN), top + 4.0, SMALL, grey::LABEL);
    let place = format!("contents {number} / {count}");
    piece.lines(
        &wrap(Face::Regular, SMALL, &place, width),
        Place::Right(MARGIN + width),
        top + 4.0,
        SMALL,
        grey::LABEL,
    );
    piece.untag();
    piece.marks
}
