//! A sheet as the templates see it: the blocks with what HTML needs beside them.
//!
//! Everything here is text and numbers that the templates escape, but for `css`, `page_css`, `svg`, `qr` and `href`,
//! which the program has written or escaped itself.

use serde::Serialize;
use tera::Context;

use crate::block::{Align, Block, Cell, Column, Field, Figure, NoticeItem, NoticeKind, Sheet, Table, Way};
use crate::house::House;
use crate::logo::Logo;
use crate::options::SheetOptions;
use crate::paper::Paper;
use crate::words::label;

use super::embed::Link;
use super::error::HtmlError;
use super::fit::{Fit, fit};
use super::options::HtmlOptions;
use super::qr::qr;
use super::text::{GENERATOR, css_string};

/// What the blocks of a sheet share while they are turned into views.
struct Shared {
    /// Figures so far, which their parts are named by.
    figures: usize,
    /// For the words that are added.
    words: SheetOptions,
}

/// The words that templates print beside those of the blocks.
#[derive(Serialize)]
struct Words {
    number: String,
    source_of_sheet: String,
    source_file: String,
    download: String,
    source_digest: String,
}

impl Words {
    fn new(sheet: &Sheet) -> Self {
        let words = sheet.words();
        let file = [("file", sheet.source.file_name.as_str())];
        Self {
            number: words.say(label::NUMBER).into_owned(),
            source_of_sheet: words.say(label::SOURCE_OF_SHEET).into_owned(),
            source_file: words.fill(label::SOURCE_FILE, &file),
            download: words.fill(label::DOWNLOAD, &file),
            source_digest: words.fill(label::SOURCE_DIGEST_SENTENCE, &[("digest", &sheet.source.digest)]),
        }
    }
}

#[derive(Serialize)]
struct Given<'a> {
    language: &'a str,
    words: Words,
    generator: &'a str,
    css: &'a str,
    page_css: String,
    one_page: bool,
    planned: bool,
    masthead: Head<'a>,
    blocks: Vec<View<'a>>,
    source: Link<'a>,
    footer: Foot<'a>,
}

#[derive(Serialize)]
struct Head<'a> {
    manufacturer: &'a str,
    kind: &'a str,
    title: &'a str,
    number: &'a str,
    facts: Vec<Fact<'a>>,
    stamp: Option<&'a str>,
    qr: Option<String>,
    lines: &'a [String],
    logo: Option<String>,
}

#[derive(Serialize)]
struct Fact<'a> {
    label: &'a str,
    value: &'a str,
}

#[derive(Serialize)]
struct Foot<'a> {
    checked: &'a str,
    digest: &'a str,
    reference: &'a str,
}

/// A block; its kind is under `block`.
#[derive(Serialize)]
#[serde(tag = "block", rename_all = "kebab-case")]
enum View<'a> {
    Heading { text: &'a str, clause: Option<&'a str> },
    Fields { fields: Vec<FieldView<'a>>, strip: bool },
    Table(TableView<'a>),
    Drawings { drawings: Vec<FigureView<'a>> },
    Notice { kind: NoticeKind, title: Option<&'a str>, level: u8, items: &'a [NoticeItem] },
    Paragraph { text: &'a str, small: bool },
    List { numbered: bool, small: bool, items: &'a [String] },
    Signatures { boxes: Vec<BoxView<'a>>, signature: String, date: String },
    Columns { left: Vec<View<'a>>, right: Vec<View<'a>>, left_share: f64, right_share: f64 },
    Together { blocks: Vec<View<'a>> },
    GivesWay { way: Way, blocks: Vec<View<'a>> },
    PageBreak {},
}

#[derive(Serialize)]
struct FieldView<'a> {
    label: &'a str,
    value: &'a str,
    span: u8,
    large: bool,
}

#[derive(Serialize)]
struct TableView<'a> {
    caption: Option<&'a str>,
    /// Set in large type.
    settings: bool,
    /// So many columns that a narrow screen shows rows as cards.
    wide: bool,
    columns: Vec<ColumnView<'a>>,
    rows: Vec<RowView<'a>>,
}

#[derive(Serialize)]
struct ColumnView<'a> {
    heading: &'a str,
    unit: Option<&'a str>,
    right: bool,
    /// Percent of the table.
    width: f64,
}

#[derive(Serialize)]
struct RowView<'a> {
    marked: bool,
    cells: Vec<CellView<'a>>,
}

#[derive(Serialize)]
struct CellView<'a> {
    text: &'a str,
    note: Option<&'a str>,
    class: String,
    label: String,
}

#[derive(Serialize)]
struct FigureView<'a> {
    title: &'a str,
    clause: Option<&'a str>,
    caption: Option<&'a str>,
    svg: String,
    /// Width in mm, by which the figures share the line.
    share: f64,
}

#[derive(Serialize)]
struct BoxView<'a> {
    role: &'a str,
    name: &'a str,
}

/// Columns that a narrow screen still shows side by side.
const NARROW_COLUMNS: usize = 3;
/// Characters that fit on half a narrow screen in a line or two; a column of longer texts gets the whole.
const HALF_A_SCREEN: usize = 32;

/// Everything that `sheet.html` is given.
///
/// Errors: [`HtmlError`] for a drawing, a QR code or a source that cannot be written.
pub(super) fn context(sheet: &Sheet, options: &HtmlOptions, css: &str) -> Result<Context, HtmlError> {
    let head = &sheet.masthead;
    let mut shared = Shared { figures: 0, words: sheet.words() };
    let given = Given {
        language: sheet.language_tag(&options.language),
        words: Words::new(sheet),
        generator: GENERATOR,
        css,
        page_css: page_css(sheet, options),
        one_page: sheet.one_page,
        planned: sheet.planned.is_some(),
        masthead: Head {
            manufacturer: &head.manufacturer,
            kind: &head.kind,
            title: &head.title,
            number: &head.number,
            facts: head.facts.iter().map(|(label, value)| Fact { label, value }).collect(),
            stamp: head.stamp.as_deref(),
            qr: head.qr.as_ref().map(qr).transpose()?,
            lines: options.house.as_deref().map_or(&[], |house| &house.lines),
            logo: options.house.as_deref().and_then(|house| house.logo.as_ref()).map(Logo::address),
        },
        blocks: {
            let mut blocks = views(&sheet.blocks, &mut shared)?;
            if !sheet.annex.is_empty() {
                blocks.push(View::PageBreak {});
                blocks.extend(views(&sheet.annex, &mut shared)?);
            }
            blocks
        },
        source: Link::new(&sheet.source, options.paper)?,
        footer: Foot {
            checked: &sheet.footer.checked,
            // Some kinds of sheet name the digest in the sentence already.
            digest: if sheet.footer.checked.contains(&sheet.source.digest) { "" } else { &sheet.source.digest },
            reference: &sheet.footer.reference,
        },
    };
    Context::from_serialize(&given).map_err(|error| HtmlError::Template {
        file: "sheet.html".to_owned(),
        line: None,
        reason: format!("the sheet cannot be handed over: {error}"),
    })
}

/// The paper, and the running foot of every printed page.
fn page_css(sheet: &Sheet, options: &HtmlOptions) -> String {
    let paper = options.paper;
    let accent = options.house.as_deref().and_then(House::css);
    let accent = accent.map_or_else(String::new, |rules| format!("\n{rules}"));
    let size = match paper {
        Paper::A4 => "A4",
        Paper::Letter => "letter",
    };
    let digest = &sheet.source.digest;
    let left =
        if digest.is_empty() { String::new() } else { sheet.words().fill(label::SOURCE_DIGEST, &[("digest", digest)]) };
    let foot = "font:6.6pt \"DejaVu Sans Condensed\",\"Arial Narrow\",sans-serif;color:#545454;vertical-align:top;\
                padding-top:2mm";
    let fit = match (sheet.one_page, sheet.large) {
        (true, _) => fit(sheet, paper, options.house.as_deref()),
        (false, true) => Fit::LARGE,
        (false, false) => Fit::NATURAL,
    };
    let (kind, drawing) = (hundredths(fit.kind), hundredths(fit.drawing));
    format!(
        "{accent}\n@media print{{:root{{--fit:{kind};--drawing:{drawing}}}}}\n@page{{size:{size};margin:13mm 14mm 14mm;\
         @bottom-left{{content:{};{foot}}}\
         @bottom-right{{content:{} \" · \" counter(page) \" / \" counter(pages);{foot}}}}}",
        css_string(&left),
        css_string(&sheet.footer.reference),
    )
}

fn views<'a>(blocks: &'a [Block], shared: &mut Shared) -> Result<Vec<View<'a>>, HtmlError> {
    let mut under_heading = false;
    let mut views = Vec::with_capacity(blocks.len());
    for block in blocks {
        views.push(view(block, under_heading, shared)?);
        under_heading = matches!(block, Block::Heading { .. });
    }
    Ok(views)
}

fn view<'a>(block: &'a Block, under_heading: bool, shared: &mut Shared) -> Result<View<'a>, HtmlError> {
    Ok(match block {
        Block::Heading { text, clause } => View::Heading { text, clause: clause.as_deref() },
        Block::Fields { fields } => View::Fields { fields: fields.iter().map(field).collect(), strip: false },
        Block::Strip { fields } => View::Fields { fields: fields.iter().map(field).collect(), strip: true },
        Block::GivesWay { way, blocks, .. } => View::GivesWay { way: *way, blocks: views(blocks, shared)? },
        Block::Table(table) => View::Table(table_view(table, false)),
        Block::Settings(table) => View::Table(table_view(table, true)),
        Block::Drawings { drawings } => {
            View::Drawings { drawings: drawings.iter().map(|it| figure(it, shared)).collect::<Result<_, _>>()? }
        }
        Block::Notice { kind, title, items } => {
            View::Notice { kind: *kind, title: title.as_deref(), level: if under_heading { 3 } else { 2 }, items }
        }
        Block::Paragraph { text, small } => View::Paragraph { text, small: *small },
        Block::List { numbered, small, items } => View::List { numbered: *numbered, small: *small, items },
        Block::Signatures { boxes } => {
            let say = |label| shared.words.say(label).into_owned();
            View::Signatures {
                boxes: boxes.iter().map(|(role, name)| BoxView { role, name }).collect(),
                signature: say(label::SIGNATURE),
                date: say(label::DATE),
            }
        }
        Block::Columns { left, right, share } => {
            let share = if share.is_finite() { share.clamp(0.3, 0.7) } else { 0.5 };
            View::Columns {
                left: views(left, shared)?,
                right: views(right, shared)?,
                left_share: hundredths(share),
                right_share: hundredths(1.0 - share),
            }
        }
        Block::Together { blocks } => View::Together { blocks: views(blocks, shared)? },
        Block::PageBreak => View::PageBreak {},
    })
}

fn field(field: &Field) -> FieldView<'_> {
    FieldView { label: &field.label, value: &field.value, span: field.span.clamp(1, 6), large: field.large }
}

fn table_view(table: &Table, settings: bool) -> TableView<'_> {
    let weight = |weight: f64| if weight.is_finite() { weight.max(0.01) } else { 1.0 };
    let total: f64 = table.columns.iter().map(|column| weight(column.weight)).sum();
    let columns = table
        .columns
        .iter()
        .map(|column| ColumnView {
            heading: &column.heading,
            unit: column.unit.as_deref(),
            right: column.align == Align::Right,
            width: hundredths(100.0 * weight(column.weight) / total),
        })
        .collect();
    let wide = table.columns.len() > NARROW_COLUMNS;
    let traits: Vec<Traits> =
        table.columns.iter().enumerate().map(|(index, column)| traits(table, column, index, wide)).collect();
    let rows = table
        .rows
        .iter()
        .map(|row| {
            let cells = row.cells.iter().enumerate().map(|(index, cell)| cell_view(cell, traits.get(index)));
            RowView { marked: row.marked, cells: cells.collect() }
        })
        .collect();
    TableView { caption: table.caption.as_deref(), settings, wide, columns, rows }
}

/// What the cells of a column have in common.
struct Traits {
    right: bool,
    long: bool,
    label: String,
}

fn traits(table: &Table, column: &Column, index: usize, wide: bool) -> Traits {
    // Only rows that turn into cards need the heading beside each value.
    let label = match &column.unit {
        _ if !wide => String::new(),
        Some(unit) => format!("{}, {unit}", column.heading).replace('\n', " "),
        None => column.heading.replace('\n', " "),
    };
    let cells = table.rows.iter().filter_map(|row| row.cells.get(index));
    let long = wide && cells.map(|cell| cell.text.chars().count()).max() > Some(HALF_A_SCREEN);
    Traits { right: column.align == Align::Right, long, label }
}

fn cell_view<'a>(cell: &'a Cell, traits: Option<&Traits>) -> CellView<'a> {
    let (right, long) = traits.map_or((false, false), |traits| (traits.right, traits.long));
    let label = traits.map(|traits| traits.label.clone()).unwrap_or_default();
    let mut class = Vec::new();
    for (set, name) in [(right, "r"), (cell.bold, "b"), (long, "l")] {
        if set {
            class.push(name);
        }
    }
    CellView { text: &cell.text, note: cell.note.as_deref(), class: class.join(" "), label }
}

fn figure<'a>(figure: &'a Figure, shared: &mut Shared) -> Result<FigureView<'a>, HtmlError> {
    shared.figures += 1;
    let svg = figure
        .drawing
        .svg(&format!("d{}", shared.figures), &figure.title, &figure.alt)
        .map_err(|_| HtmlError::Drawing { title: figure.title.clone() })?;
    Ok(FigureView {
        title: &figure.title,
        clause: figure.clause.as_deref(),
        caption: figure.caption.as_deref(),
        svg,
        share: hundredths(figure.drawing.width),
    })
}

/// `value` with two decimals.
fn hundredths(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}
