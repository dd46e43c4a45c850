//! ISO 9606-1: what the test of a welder covers.

use seamwright_handbook::{SourceRef, filler_classes, find, iso_9606_1 as iso, positions};
use seamwright_model::shop::{Layers, Product, WelderTest};
use seamwright_model::stated::Date;

use crate::codes::code::{Code, Weld};
use crate::codes::range::Qualified;
use crate::codes::summary::{ProcessSummary, Summary};
use crate::codes::welders::test::{TURNED_PIPE, is_groove, later, length, process_number};
use crate::codes::words::clause;
use crate::rule::figure;

/// The code.
pub(super) struct Iso9606;

impl Code for Iso9606 {
    fn word(&self) -> &'static str {
        "iso-9606-1"
    }

    fn welder(&self, test: &WelderTest) -> Vec<Qualified> {
        ranges(test)
    }

    fn lapses(&self, test: &WelderTest) -> Vec<(Date, &'static str)> {
        let used = later(test.last_use.unwrap_or(test.date), iso::rule("confirmation"), 1);
        let retest = test.valid_until.or_else(|| later(test.date, iso::rule("retest"), 12));
        let used = used.map(|date| (date, "use is confirmed each six months"));
        used.into_iter().chain(retest.map(|date| (date, "the test is to be repeated"))).collect()
    }

    fn speaks_of(&self, variable: &str, weld: Weld) -> bool {
        variable != "base_metal_thickness" || weld.fillet
    }

    fn not_covered(&self, range: &Qualified, summary: &Summary<'_>, process: &ProcessSummary<'_>) -> Vec<String> {
        let (limit, reference) = (range.bounds.text(), &range.reference);
        match range.variable {
            "product" if !summary.is_pipe() && !range.has("plate") => {
                return vec![format!("plate, the test covers {limit} ({reference})")];
            }
            "transfer_mode" => {
                let outside = process.transfer.iter().filter(|mode| !range.has(&mode.stated));
                return outside
                    .map(|mode| format!("{} transfer, covered are {limit} ({reference})", mode.stated))
                    .collect();
            }
            "filler_group" => {}
            _ => return Vec::new(),
        }
        let outside = process.fillers.iter().filter_map(|filler| {
            let group = filler_group(filler.value?)?;
            (!range.has(group))
                .then(|| format!("filler {} is {group}, covered are {limit} ({reference})", filler.stated))
        });
        outside.collect()
    }
}

/// A position by its code of ISO 6947, where the progression tells it from the other way round.
fn iso_code(text: &str, test: &WelderTest) -> String {
    use seamwright_model::procedure::Progression;
    let Some(row) = positions::get(text) else { return text.to_owned() };
    if row.system == "iso" {
        return row.code.clone();
    }
    let down = test.progression == Some(Progression::Downward);
    let mut codes = row.equivalent.iter().filter(|code| {
        positions::get(code).is_some_and(|own| {
            own.progression != if down { positions::Progression::Upward } else { positions::Progression::Downward }
        })
    });
    codes.next().or(row.equivalent.first()).cloned().unwrap_or_else(|| row.code.clone())
}

/// Process, product, transfer mode, weld, filler group, deposit, diameter, position, backing and layers.
fn ranges(test: &WelderTest) -> Vec<Qualified> {
    let mut ranges = Vec::new();
    let groove = is_groove(test);
    let Some(first) = iso::fillers().first() else { return ranges };
    let own = first.origin.source_ref();
    let memory = |clause: &str| SourceRef { clause: Some(clause.to_owned().into()), others: 0, ..own.clone() };
    ranges.push(
        Qualified::set("process", "5.2", iso_processes(&test.process), memory("5.2")).tested(test.process.to_string()),
    );
    ranges.push(
        Qualified::set("weld_type", "5.4", vec![if groove { "groove" } else { "fillet" }.to_owned()], memory("5.4"))
            .tested(test.weld.map_or_else(|| "groove".to_owned(), |weld| weld.to_string())),
    );
    let group =
        test.filler_group.as_deref().map(str::to_owned).or_else(|| {
            test.filler.as_deref().and_then(filler_classes::find).and_then(filler_group).map(str::to_owned)
        });
    if let Some(row) = group.and_then(|group| iso::fillers().iter().find(|row| find::same(&row.tested, &group))) {
        ranges.push(
            Qualified::set("filler_group", &clause(&row.origin), row.covers.clone(), row.origin.source_ref())
                .tested(row.tested.clone()),
        );
    }
    let size = length(test.deposit_thickness.as_ref()).or_else(|| length(test.thickness.as_ref()));
    let quantity = if groove { "butt-deposit" } else { "fillet-thickness" };
    let variable = if groove { "deposit_thickness" } else { "base_metal_thickness" };
    ranges.extend(size.and_then(|size| {
        let (span, row) = iso::range(quantity, size)?;
        let mut range =
            Qualified::span(variable, &clause(&row.origin), (span.low, span.high), "mm", row.origin.source_ref())
                .tested(format!("{} mm", figure(size)));
        range.note.clone_from(&row.condition);
        Some(range)
    }));
    let diameter = length(test.outside_diameter.as_ref());
    let product = test.product.unwrap_or(if diameter.is_some() { Product::Pipe } else { Product::Plate });
    let across = match (product, diameter) {
        (Product::Pipe, Some(diameter)) => iso::range("outside-diameter", diameter).map(|(span, row)| {
            Qualified::span(
                "outside_diameter",
                &clause(&row.origin),
                (span.low, span.high),
                "mm",
                row.origin.source_ref(),
            )
            .tested(format!("{} mm", figure(diameter)))
        }),
        _ => iso::rule("plate-covers-fixed-pipe").map(|rule| {
            Qualified::span(
                "outside_diameter",
                &clause(&rule.origin),
                (Some(rule.value.low), None),
                "mm",
                rule.origin.source_ref(),
            )
            .tested("plate")
        }),
    };
    ranges.extend(across);
    if let (Product::Plate, Some(rule)) = (product, iso::rule("plate-covers-rotated-pipe")) {
        let least = (Some(rule.value.low), None);
        ranges.push(
            Qualified::span(TURNED_PIPE, &clause(&rule.origin), least, "mm", rule.origin.source_ref())
                .tested("plate")
                .note("pipe that is turned, in PA, PB, PC and PD"),
        );
    }
    if let (Product::Pipe, Some(diameter), Some(rule)) = (product, diameter, iso::rule("pipe-covers-plate")) {
        let plate = (diameter > rule.value.high).then_some("plate");
        let words = [Some("pipe"), plate].into_iter().flatten().map(str::to_owned).collect();
        ranges.push(
            Qualified::set("product", &clause(&rule.origin), words, rule.origin.source_ref())
                .tested(format!("pipe of {} mm", figure(diameter))),
        );
    }
    if let Some((mode, row)) = test.transfer_mode.and_then(|mode| Some((mode, iso::transfer(mode.as_str())?))) {
        ranges.push(
            Qualified::set("transfer_mode", &clause(&row.origin), row.covers.clone(), row.origin.source_ref())
                .tested(mode.to_string()),
        );
    }
    let mut words: Vec<String> = Vec::new();
    let mut source = None;
    let weld = if groove { "butt" } else { "fillet" };
    for position in &test.positions {
        let code = iso_code(position, test);
        for row in iso::positions().iter().filter(|row| row.weld == weld && row.tested == code) {
            source.get_or_insert(&row.origin);
            words.extend(row.covers.iter().filter(|word| !words.contains(word)).cloned().collect::<Vec<_>>());
        }
    }
    if let Some(origin) = source {
        let tested: Vec<&str> = test.positions.iter().map(|text| &**text).collect();
        ranges.push(Qualified::set("position", &clause(origin), words, origin.source_ref()).tested(tested.join(", ")));
    }
    if let (true, Some(backing)) = (groove, test.backing) {
        let words = if backing.0 {
            vec!["with backing".to_owned()]
        } else {
            vec!["with backing".to_owned(), "without backing".to_owned()]
        };
        ranges.push(Qualified::set("backing", "Table 12", words, memory("Table 12")).tested(if backing.0 {
            "with backing"
        } else {
            "without backing"
        }));
    }
    if let (false, Some(layers)) = (groove, test.layers) {
        let words = match layers {
            Layers::Single => vec!["single".to_owned()],
            Layers::Multiple => vec!["single".to_owned(), "multiple".to_owned()],
        };
        ranges.push(Qualified::set("layers", "Table 12", words, memory("Table 12")).tested(layers.to_string()));
    }
    ranges
}

/// The processes that a test covers by ISO 9606-1.
fn iso_processes(tested: &str) -> Vec<String> {
    let own = process_number(tested);
    iso::processes(&own).map_or_else(|| vec![own.clone()], |row| row.covers.clone())
}

/// Filler group of ISO 9606-1 of a class, by the family that it is meant for; the table has the families.
fn filler_group(row: &filler_classes::Row) -> Option<&'static str> {
    iso::fillers()
        .iter()
        .find(|own| own.families.iter().any(|family| row.families.first() == Some(family)))
        .map(|own| own.tested.as_str())
}
