//! What a sheet is made of. One list of blocks feeds HTML and PDF, so that both say the same.
//!
//! Values arrive here as finished text: units, ranges and wording are decided by the kind of sheet
//! (`kinds/`), the look by the back ends (`html.rs`, `pdf.rs`). A new block needs an arm in each of them.

use seamwright_drawing::Drawn;
use serde::Serialize;

use crate::language::Language;
use crate::made_with::MadeWith;
use crate::options::SheetOptions;
use crate::qr::Qr;

/// A whole sheet, ready to be set.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Sheet {
    /// The masthead of the first page; later pages repeat its number, revision and title in small.
    pub masthead: Masthead,
    /// The blocks in reading order.
    pub blocks: Vec<Block>,
    /// What follows on pages of its own where it was asked for.
    pub annex: Vec<Block>,
    /// The foot of every page; the page number is added by the back end.
    pub footer: Footer,
    /// One page whatever it holds: the back end shrinks type in steps until it fits (bench card).
    pub one_page: bool,
    /// Whether it lies on a bench and is read there, also by those who read little: larger type on as many pages as that takes.
    pub large: bool,
    /// Pages that the sheet is planned for: what [`Block::GivesWay`] holds goes before a page more is taken. None for a
    /// sheet that takes the pages it needs.
    pub planned: Option<usize>,
    /// The YAML source, attached to the output byte for byte.
    pub source: Source,
}

impl Sheet {
    /// Number and title.
    pub(crate) fn whole_title(&self) -> String {
        format!("{} {}", self.masthead.number, self.masthead.title)
    }

    /// The language that its words are in.
    pub fn language(&self) -> Language {
        self.source.made_with.as_ref().map_or(Language::En, |made| made.language)
    }

    /// For the words that a back end adds.
    pub(crate) fn words(&self) -> SheetOptions {
        SheetOptions { language: self.language(), ..SheetOptions::default() }
    }

    /// The tag of its language (BCP 47): `given` for a sheet in English, of which there may be kinds.
    pub(crate) fn language_tag<'t>(&self, given: &'t str) -> &'t str {
        match self.language() {
            Language::En => given,
            other => other.tag(),
        }
    }
}

/// What stands at the top of the first page.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Masthead {
    /// Who issues the sheet.
    pub manufacturer: String,
    /// What kind of sheet it is, in words: "welding procedure specification".
    pub kind: String,
    /// The document's title.
    pub title: String,
    /// The document's number, set large.
    pub number: String,
    /// Label and value under the number: revision, date, code. The back end adds the page in print.
    pub facts: Vec<(String, String)>,
    /// A stamp across the head, such as "NOT QUALIFIED: no test record named".
    pub stamp: Option<String>,
    /// Text of the small QR code: number, revision and digest.
    pub qr: Option<Qr>,
}

/// The foot of every page.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Footer {
    /// What was checked against what, and the digest of the source.
    pub checked: String,
    /// Number and revision, for the right-hand side.
    pub reference: String,
}

/// The document that the sheet was made from.
#[derive(Debug, Clone, Default, Serialize)]
pub struct Source {
    /// File name for the attachment, without folders.
    pub file_name: String,
    /// The text, byte for byte.
    pub text: String,
    /// Short digest of the text, printed on every page.
    pub digest: String,
    /// Date of the document (ISO 8601), used wherever the output needs a date, so that equal input gives equal bytes.
    pub date: Option<String>,
    /// What the sheet was made with, where it is known.
    pub made_with: Option<MadeWith>,
}

/// One part of a sheet.
#[derive(Debug, Clone, Serialize)]
#[serde(tag = "block", rename_all = "kebab-case")]
pub enum Block {
    /// A section heading over a rule; never left alone at the foot of a page.
    Heading {
        /// The words.
        text: String,
        /// Where the standard asks for this section, set small at the right: "ISO 15609-1, 4.3".
        clause: Option<String>,
    },
    /// Labels over values on the grid of four columns.
    Fields {
        /// The fields in order; they flow into rows.
        fields: Vec<Field>,
    },
    /// Labels over values, closer than fields: six columns, as many of which each field takes as its text asks.
    Strip {
        /// The fields in order; `span` counts sixths of the width.
        fields: Vec<Field>,
    },
    /// Blocks that a planned sheet does without, or puts on its last page, before it takes a page more.
    GivesWay {
        /// When they go.
        way: Way,
        /// The blocks.
        blocks: Vec<Block>,
        /// What stands in their place.
        instead: Vec<Block>,
    },
    /// A table whose header is repeated on every page that it reaches; no row is split.
    Table(Table),
    /// Drawings side by side, each with its caption; they share the width by their own widths.
    Drawings {
        /// The drawings.
        drawings: Vec<Figure>,
    },
    /// A boxed or barred notice: cautions, limits not to pass.
    Notice {
        /// How it looks.
        kind: NoticeKind,
        /// Title inside the notice, if any.
        title: Option<String>,
        /// Lead word in bold and the text after it.
        items: Vec<NoticeItem>,
    },
    /// Running text.
    Paragraph {
        /// The words.
        text: String,
        /// Small grey type, for remarks and sources.
        small: bool,
    },
    /// A list, numbered or with dashes; used for steps, sources, equations.
    List {
        /// Numbered from one.
        numbered: bool,
        /// Small type, for lists of sources.
        small: bool,
        /// The entries.
        items: Vec<String>,
    },
    /// Settings in type that is read at arm's length (14 pt and more): the bench card's table.
    Settings(Table),
    /// Boxes to sign: role, name as stated (may be empty), and room for signature and date.
    Signatures {
        /// Role and name.
        boxes: Vec<(String, String)>,
    },
    /// Two columns of blocks side by side; kept together on one page.
    Columns {
        /// The left column and its share of the width (0 to 1).
        left: Vec<Block>,
        /// The right column.
        right: Vec<Block>,
        /// Share of the width that the left column takes, 0.3 to 0.7.
        share: f64,
    },
    /// Blocks that stay on one page where they can.
    Together {
        /// The blocks.
        blocks: Vec<Block>,
    },
    /// A new page in print; a rule on screen.
    PageBreak,
}

/// What a planned sheet does without, in the order in which it goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Way {
    /// A drawing that is larger than it must be: a small one stands in its place.
    Size,
    /// Compositions, which the annex repeats.
    Composition,
    /// Drawings of torch and tungsten, which move to the last page.
    Drawings,
    /// Cautions in full, on a card that has no other page.
    Cautions,
    /// Drawings of the hook-up, which stands in words too.
    HookUp,
    /// Drawings of runs and position: the joint stands beside what follows it.
    Beside,
    /// The large type of many settings: they stand in the size of text.
    Settings,
}

/// A label over a value.
#[derive(Debug, Clone, Serialize)]
pub struct Field {
    /// The term, small and grey.
    pub label: String,
    /// The value, in bold; it wraps inside its columns.
    pub value: String,
    /// How many columns it takes: 1 to 4 in a block of fields, 1 to 6 in a strip.
    pub span: u8,
    /// Set large (bench card).
    pub large: bool,
}

/// A table.
#[derive(Debug, Clone, Serialize)]
pub struct Table {
    /// Said to a screen reader and set small above the table where given.
    pub caption: Option<String>,
    /// The columns.
    pub columns: Vec<Column>,
    /// The rows; each has one cell per column.
    pub rows: Vec<Row>,
}

/// A column of a table.
#[derive(Debug, Clone, Serialize)]
pub struct Column {
    /// Heading.
    pub heading: String,
    /// Unit, set under the heading.
    pub unit: Option<String>,
    /// Numbers stand at the right.
    pub align: Align,
    /// Share of the width relative to the other columns.
    pub weight: f64,
}

impl Column {
    /// A column without a unit.
    pub fn new(heading: impl Into<String>, align: Align, weight: f64) -> Self {
        Self { heading: heading.into(), unit: None, align, weight }
    }

    /// A column of words.
    pub fn words(heading: impl Into<String>, weight: f64) -> Self {
        Self::new(heading, Align::Left, weight)
    }
}

/// Where text stands in its column.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Align {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

/// A row of a table.
#[derive(Debug, Clone, Serialize)]
pub struct Row {
    /// One cell per column.
    pub cells: Vec<Cell>,
    /// Set heavier with a mark at the left: a result that failed.
    pub marked: bool,
}

/// A cell of a table.
#[derive(Debug, Clone, Serialize)]
pub struct Cell {
    /// The main text.
    pub text: String,
    /// A second line in small type.
    pub note: Option<String>,
    /// Set in bold.
    pub bold: bool,
}

/// How a notice looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum NoticeKind {
    /// Cautions: a bar at the left.
    Caution,
    /// Limits not to pass: a heavy box.
    Stop,
    /// A remark: a thin bar.
    Remark,
    /// Short cautions in a box, in two columns of small type.
    Safety,
}

/// One item of a notice.
#[derive(Debug, Clone, Serialize)]
pub struct NoticeItem {
    /// Lead word in bold, such as "Arc light".
    pub lead: Option<String>,
    /// What to mind.
    pub text: String,
}

/// A drawing with its caption.
#[derive(Debug, Clone, Serialize)]
pub struct Figure {
    /// Small heading over the drawing.
    pub title: String,
    /// Clause at the right of the heading.
    pub clause: Option<String>,
    /// The drawing.
    pub drawing: Drawn,
    /// What it shows, for those who cannot see it.
    pub alt: String,
    /// Text under the drawing.
    pub caption: Option<String>,
}

impl Block {
    /// A section heading with the clause that asks for it.
    pub fn heading(text: impl Into<String>, clause: Option<&str>) -> Self {
        Self::Heading { text: text.into(), clause: clause.map(Into::into) }
    }

    /// Running text in the normal size.
    pub fn paragraph(text: impl Into<String>) -> Self {
        Self::Paragraph { text: text.into(), small: false }
    }
}

/// Fields in rows of a grid of so many columns, each with the column that it begins in and how many it takes.
pub fn in_rows(fields: &[Field], columns: u8) -> Vec<Vec<(u8, u8, &Field)>> {
    let mut rows: Vec<Vec<(u8, u8, &Field)>> = Vec::new();
    let mut used = columns;
    for field in fields {
        let span = field.span.clamp(1, columns);
        if used + span > columns {
            rows.push(Vec::new());
            used = 0;
        }
        if let Some(row) = rows.last_mut() {
            row.push((used, span, field));
        }
        used += span;
    }
    rows
}

impl Field {
    /// A field that takes one column.
    pub fn new(label: impl Into<String>, value: impl Into<String>) -> Self {
        Self { label: label.into(), value: value.into(), span: 1, large: false }
    }

    /// The same field over `span` columns.
    #[must_use]
    pub fn wide(self, span: u8) -> Self {
        Self { span, ..self }
    }
}

/// A line that holds nothing.
const BLANK: &str = "\u{a0}";

impl Cell {
    /// Plain text.
    pub fn text(text: impl Into<String>) -> Self {
        Self { text: text.into(), note: None, bold: false }
    }

    /// Nothing yet: its row leaves height for a pen.
    pub fn to_write_in() -> Self {
        Self { note: Some(BLANK.to_owned()), ..Self::text("") }
    }

    /// Whether a hand writes in it.
    pub fn is_to_write_in(&self) -> bool {
        self.text.is_empty() && self.note.as_deref() == Some(BLANK)
    }

    /// Text in bold.
    pub fn bold(text: impl Into<String>) -> Self {
        Self { text: text.into(), note: None, bold: true }
    }
}
