//! The marking sheet of one learner: room for a measured value and a mark, and for those of a second attempt.

use seamwright_handbook::{iso_5817, workshop};
use seamwright_model::lesson::{Assessment, Lesson, Measure};
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Length;
use seamwright_model::stated::Stated;
use seamwright_page::SheetOptions;
use seamwright_page::block::{Block, Cell, Column, Row, Table};
use seamwright_page::words::label;
use seamwright_weld::View;

use crate::kinds::joint::middle;
use crate::kinds::print;
use crate::kinds::words::{field, section};

/// Adds the marking sheet.
pub(super) fn marking(
    blocks: &mut Vec<Block>,
    assessment: &Assessment,
    lesson: &Lesson,
    view: Option<&View<'_>>,
    options: SheetOptions,
) {
    let retest = assessment.retest.as_ref().is_some_and(|retest| retest.0);
    section(
        blocks,
        &options.say(label::MARKING_SHEET),
        None,
        vec![
            field(&options.say(label::LEARNER), Some("\u{a0}")),
            field(&options.say(label::WELDED_FOR_IT), assessment.weld.as_deref()),
            field(&options.say(label::ACCEPTANCE), assessment.acceptance.as_deref()),
        ],
    );
    let mut columns = vec![
        Column::words(options.say(label::MEASURED), 1.2),
        Column::words(options.say(label::ACCEPTED), 2.2),
        Column::words(options.say(label::MEASURED_WITH), 1.0),
        Column::words(options.say(label::VALUE), 0.8),
        Column::words(options.say(label::PASSED), 0.7),
    ];
    if retest {
        columns.push(Column::words(options.say(label::RETEST_VALUE), 0.9));
        columns.push(Column::words(options.say(label::RETEST_PASSED), 0.9));
    }
    let level = assessment.acceptance.as_deref().and_then(iso_5817::level_in);
    let limits = level.map(|level| Limits::new(level, lesson, view, options));
    let mut sources: Vec<String> = Vec::new();
    let rows = assessment
        .measures
        .iter()
        .map(|measure| {
            let (figures, from) = limits.as_ref().map(|limits| limits.of(measure)).unwrap_or_default();
            for line in from {
                if !sources.contains(&line) {
                    sources.push(line);
                }
            }
            let voltage = is_voltage(measure).then(|| stated_voltage(view, options)).flatten();
            let note = figures.into_iter().chain(voltage).collect::<Vec<_>>().join("; ");
            // The second line leaves height for a pen.
            let note = if note.is_empty() { "\u{a0}".to_owned() } else { note };
            let mut cells = vec![
                Cell::bold(measure.what.to_string()),
                Cell { note: Some(note), ..Cell::text(measure.accepted.as_deref().unwrap_or_default()) },
                Cell::text(measure.with.as_deref().unwrap_or_default()),
            ];
            let value = || value_cell(measure, options);
            cells.extend([value(), Cell::text("")]);
            if retest {
                cells.extend([value(), Cell::text("")]);
            }
            Row { cells, marked: false }
        })
        .collect();
    blocks.push(Block::Table(Table { caption: None, columns, rows }));
    if !sources.is_empty() {
        blocks.push(Block::List { numbered: false, small: true, items: sources });
    }
}

/// Whether the dial of the machine is held against a meter.
fn is_voltage(measure: &Measure) -> bool {
    let what = measure.what.to_lowercase();
    what.contains("voltage") || what.contains("volts")
}

/// Room for a value; the dial of the machine and the meter have a line each.
fn value_cell(measure: &Measure, options: SheetOptions) -> Cell {
    if is_voltage(measure) {
        Cell {
            text: options.say(label::DIAL).into_owned(),
            note: Some(options.say(label::METER).into_owned()),
            bold: false,
        }
    } else {
        Cell::text("")
    }
}

/// The voltage that the procedure states.
fn stated_voltage(view: Option<&View<'_>>, options: SheetOptions) -> Option<String> {
    let run = view?.runs.first()?;
    let voltage = run.value(&keys::VOLTAGE)?;
    Some(options.fill(label::PROCEDURE_SAYS, &[("value", &print(voltage.value, options))]))
}

/// The figures of ISO 5817, or of ISO 10042, for the weld of a lesson.
struct Limits {
    level: (iso_5817::Standard, &'static str),
    fillet: bool,
    thickness_mm: Option<f64>,
    throat_mm: Option<f64>,
    options: SheetOptions,
}

impl Limits {
    /// For the last coupon of the lesson, or else for the procedure's metal.
    fn new(
        level: (iso_5817::Standard, &'static str),
        lesson: &Lesson,
        view: Option<&View<'_>>,
        options: SheetOptions,
    ) -> Self {
        let coupon = lesson.exercises.iter().rev().find_map(|own| middle(own.coupon.as_ref()?.thickness.as_ref()));
        let metal = view.and_then(|view| view.metals.first()).and_then(|metal| middle(metal.stated.thickness.as_ref()));
        let size = view.and_then(|view| view.procedure.weld_size.as_ref()).and_then(Stated::value);
        let throat = size.and_then(|size| middle(size.throat.as_ref()));
        let leg = size.and_then(|size| middle(size.leg.as_ref()));
        Self {
            level,
            fillet: view.and_then(View::weld).is_some_and(|weld| weld.has_fillet() && !weld.has_groove()),
            thickness_mm: coupon.or(metal),
            throat_mm: throat.or(leg.map(|leg| leg / std::f64::consts::SQRT_2)),
            options,
        }
    }

    /// The figures for a measure in words, and their sources.
    fn of(&self, measure: &Measure) -> (Vec<String>, Vec<String>) {
        let Some(thickness) = self.thickness_mm else { return Default::default() };
        let weld = if self.fillet { "fillet" } else { "butt" };
        let (mut figures, mut sources) = (Vec::new(), Vec::new());
        for known in workshop::measured(&measure.what, weld) {
            let rows = iso_5817::limits(self.level, known.imperfection, thickness);
            for row in rows.into_iter().filter(|row| row.weld.is_none_or(|own| own == weld)).take(1) {
                figures.push(format!("{} {}", self.options.word(known.reads), self.figure(row)));
                sources.push(self.options.fill(
                    label::LEVEL_OF,
                    &[
                        ("number", row.number),
                        ("level", row.level),
                        ("source", &self.options.source(&row.origin.source_ref())),
                    ],
                ));
            }
        }
        (figures, sources)
    }

    fn length(&self, mm: f64) -> String {
        // A limit is never rounded up; a product such as 0.1 x 3 is a hair off.
        let mm = (mm * 100.0 + 1e-6).floor() / 100.0;
        Length::from_mm(mm).map_or_else(String::new, |length| Length::print_range(length, length, self.options.units))
    }

    /// A limit in words: `at most 0.2 mm`; of a width, which is measured on the weld, with its formula.
    fn figure(&self, row: &iso_5817::Row) -> String {
        let options = self.options;
        if !row.permitted {
            return options.say(label::FIGURE_NONE).into_owned();
        }
        let size = match row.of {
            Some("t" | "s") => self.thickness_mm,
            Some("a") => self.throat_mm,
            _ => None,
        };
        let short = if row.short_only { options.say(label::SHORT_ONLY) } else { "".into() };
        match (size, row.times) {
            (None, Some(times)) => {
                let plus = row.plus_mm.map_or_else(String::new, |plus| format!("{} + ", self.length(plus)));
                let most = row.max_mm.map_or_else(String::new, |most| {
                    options.fill(label::NO_MORE_THAN, &[("value", &self.length(most))])
                });
                let of = options.say(if row.of == Some("a") { label::THROAT } else { label::WIDTH });
                options.fill(
                    label::AT_MOST_TIMES,
                    &[("plus", &plus), ("times", &times.to_string()), ("of", &of), ("most", &most), ("short", &short)],
                )
            }
            (size, _) => match row.limit_mm(size.unwrap_or_default()) {
                Some(limit) => options.fill(label::AT_MOST_VALUE, &[("value", &self.length(limit)), ("short", &short)]),
                None => options.fill(label::FREE, &[("short", &short)]),
            },
        }
    }
}
