//! The marking sheet of one learner: room for a measured value and a mark, and for those of a second attempt.

use seamwright_check::View;
use seamwright_handbook::{iso_5817, workshop};
use seamwright_model::lesson::{Assessment, Lesson, Measure};
use seamwright_model::quantity::{Length, UnitSystem};
use seamwright_model::stated::Stated;

use crate::block::{Block, Cell, Column, Row, Table};
use crate::kinds::joint::middle;
use crate::kinds::words::{field, section};

/// Adds the marking sheet.
pub(super) fn marking(
    blocks: &mut Vec<Block>,
    assessment: &Assessment,
    lesson: &Lesson,
    view: Option<&View<'_>>,
    units: UnitSystem,
) {
    let retest = assessment.retest.as_ref().is_some_and(|retest| retest.0);
    section(
        blocks,
        "Marking sheet",
        None,
        vec![
            field("Learner", Some("\u{a0}")),
            field("Welded for it", assessment.weld.as_deref()),
            field("Acceptance", assessment.acceptance.as_deref()),
        ],
    );
    let mut columns = vec![
        Column::words("Measured", 1.2),
        Column::words("Accepted", 2.2),
        Column::words("With", 1.0),
        Column::words("Value", 0.8),
        Column::words("Passed", 0.7),
    ];
    if retest {
        columns.push(Column::words("Retest value", 0.9));
        columns.push(Column::words("Retest passed", 0.9));
    }
    let level = assessment.acceptance.as_deref().and_then(iso_5817::level_in);
    let limits = level.map(|level| Limits::new(level, lesson, view, units));
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
            let voltage = is_voltage(measure).then(|| stated_voltage(view, units)).flatten();
            let note = figures.into_iter().chain(voltage).collect::<Vec<_>>().join("; ");
            // The second line leaves height for a pen.
            let note = if note.is_empty() { "\u{a0}".to_owned() } else { note };
            let mut cells = vec![
                Cell::bold(measure.what.to_string()),
                Cell { note: Some(note), ..Cell::text(measure.accepted.as_deref().unwrap_or_default()) },
                Cell::text(measure.with.as_deref().unwrap_or_default()),
            ];
            let value = || value_cell(measure);
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
fn value_cell(measure: &Measure) -> Cell {
    if is_voltage(measure) {
        Cell { text: "dial".into(), note: Some("meter".into()), bold: false }
    } else {
        Cell::text("")
    }
}

/// The voltage that the procedure states.
fn stated_voltage(view: Option<&View<'_>>, units: UnitSystem) -> Option<String> {
    let run = view?.runs.first()?;
    let voltage = run.quantity("voltage", |s| s.voltage.as_ref())?;
    Some(format!("procedure {}", voltage.value.print(units)))
}

/// The figures of ISO 5817 for the weld of a lesson.
struct Limits {
    level: &'static str,
    fillet: bool,
    thickness_mm: Option<f64>,
    throat_mm: Option<f64>,
    units: UnitSystem,
}

impl Limits {
    /// For the last coupon of the lesson, or else for the procedure's metal.
    fn new(level: &'static str, lesson: &Lesson, view: Option<&View<'_>>, units: UnitSystem) -> Self {
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
            units,
        }
    }

    /// The figures for a measure in words, and their sources.
    fn of(&self, measure: &Measure) -> (Vec<String>, Vec<String>) {
        let Some(thickness) = self.thickness_mm else { return Default::default() };
        let weld = if self.fillet { "fillet" } else { "butt" };
        let (mut figures, mut sources) = (Vec::new(), Vec::new());
        for known in workshop::measured(&measure.what, weld) {
            let rows = iso_5817::limits(&known.imperfection, self.level, thickness);
            for row in rows.into_iter().filter(|row| row.weld.as_deref().is_none_or(|own| own == weld)).take(1) {
                figures.push(format!("{} {}", known.reads, self.figure(row)));
                sources.push(format!("{}, level {}: {}", row.number, row.level, row.origin.source_ref().line()));
            }
        }
        (figures, sources)
    }

    fn length(&self, mm: f64) -> String {
        let mm = (mm * 100.0).round() / 100.0;
        Length::from_mm(mm).map_or_else(String::new, |length| Length::print_range(length, length, self.units))
    }

    /// A limit in words: `at most 0.2 mm`; of a width, which is measured on the weld, with its formula.
    fn figure(&self, row: &iso_5817::Row) -> String {
        if !row.permitted {
            return "none".to_owned();
        }
        let size = match row.of.as_deref() {
            Some("t" | "s") => self.thickness_mm,
            Some("a") => self.throat_mm,
            _ => None,
        };
        let short = if row.short_only { ", short only" } else { "" };
        match (size, row.times) {
            (None, Some(times)) => {
                let plus = row.plus_mm.map_or_else(String::new, |plus| format!("{} + ", self.length(plus)));
                let most = row.max_mm.map_or_else(String::new, |most| format!(", no more than {}", self.length(most)));
                let of = if row.of.as_deref() == Some("a") { "throat" } else { "width" };
                format!("at most {plus}{times} × {of}{most}{short}")
            }
            (size, _) => match row.limit_mm(size.unwrap_or_default()) {
                Some(limit) => format!("at most {}{short}", self.length(limit)),
                None => format!("free{short}"),
            },
        }
    }
}
