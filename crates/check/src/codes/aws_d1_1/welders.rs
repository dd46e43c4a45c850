//! AWS D1.1 clauses 6 and 10: process, thickness, outside diameter, electrode group, positions, progression and backing.

use seamwright_handbook::aws_d1_1::welders as tables;
use seamwright_handbook::qualified::Span;
use seamwright_handbook::{Band, Origin, Size, aws_d1_1, positions};
use seamwright_model::procedure::Progression;
use seamwright_model::shop::{Product, WelderTest};

use crate::codes::range::Qualified;
use crate::codes::summary::ProcessSummary;
use crate::codes::welders::test::{
    FILLET_THICKNESS, aws_codes, f_number, is_groove, process_number, size as coupon_size,
};
use crate::codes::words::{clause, owned};

/// Thickness of the parts of a groove.
pub(super) const GROOVE_THICKNESS: &str = "base_metal_thickness";
/// What a test covers, by the tables for welders.
pub(super) fn ranges(test: &WelderTest) -> Vec<Qualified> {
    let mut ranges = Vec::new();
    let groove = is_groove(test);
    let weld = if groove { "groove" } else { "fillet" };
    let across = coupon_size(test.outside_diameter.as_ref());
    let pipe = test.product.map_or(across.is_some(), |product| product == Product::Pipe);
    let product = if pipe { "pipe" } else { "plate" };
    let set = |variable, origin: &Origin, words: Vec<String>, tested: &str| {
        Qualified::set(variable, &clause(origin), words, origin.source_ref()).tested(tested)
    };
    let continuity = &aws_d1_1::WELDER_CONTINUITY.origin;
    ranges.push(set("process", continuity, vec![process_number(&test.process)], &test.process));
    if !groove {
        ranges.push(set("weld_type", continuity, vec![weld.to_owned()], weld));
    }
    let coupon = coupon_size(test.thickness.as_ref()).or_else(|| coupon_size(test.deposit_thickness.as_ref()));
    if let Some((thickness, other)) = coupon.and_then(|own| Some((own, in_unit(own, !own.is_customary())?))) {
        let diameter = across.filter(|_| pipe).and_then(|own| in_unit(own, thickness.is_customary()));
        let spans = |band: &dyn Fn(Size) -> Band| {
            let of = |size: Size| Span { band: band(size), unit: size.unit() };
            (of(thickness), of(other))
        };
        for (covers, variable) in [("groove", GROOVE_THICKNESS), ("fillet", FILLET_THICKNESS)] {
            let Some(row) = tables::range((product, weld, covers), thickness, diameter) else { continue };
            let sizes = |variable, (own, other): (Span, Span), tested: String| {
                Qualified::sizes(variable, &clause(&row.origin), own, other, row.origin.source_ref()).tested(tested)
            };
            let mut range = sizes(variable, spans(&|size| row.thickness(size)), thickness.text());
            range.note = row.origin.note.map(str::to_owned);
            ranges.push(range);
            let across = spans(&|size| row.diameter(size, diameter.and_then(|own| in_unit(own, size.is_customary()))));
            if covers == weld && across.0.band != Band::ANY {
                let range = sizes("outside_diameter", across, diameter.map_or_else(|| product.to_owned(), Size::text));
                ranges.push(if pipe { range } else { range.note("pipe, after a test on plate") });
            }
        }
    }
    let number = process_number(&test.process);
    if let (true, Some(row)) = (number == "111", f_number(test).and_then(|own| tables::group(&format!("F{own}")))) {
        ranges.push(set("electrode_group", &row.origin, owned(row.covers), row.tested));
    }
    let codes = aws_codes(test, pipe);
    let codes: Vec<&str> = codes.iter().map(String::as_str).collect();
    let rows = tables::positions_covered(product, weld, &codes);
    for (variable, note, get) in [
        (
            "position",
            "grooves in plate",
            (|row| row.plate_groove) as fn(&'static tables::PositionRow) -> &'static [&'static str],
        ),
        ("position_small_pipe", "butt joints of pipe", |row| row.pipe_groove),
        ("position_fillet", "fillets", |row| row.plate_fillet),
    ] {
        let covered = |word: &&str| rows.iter().any(|row| get(row).iter().any(|own| own == word));
        let words: Vec<String> = ["flat", "horizontal", "vertical", "overhead"]
            .iter()
            .filter(|word| covered(word))
            .map(ToString::to_string)
            .collect();
        if let (false, Some(row)) = (words.is_empty(), rows.first()) {
            ranges.push(set(variable, &row.origin, words, &codes.join(", ")).note(note));
        }
    }
    let vertical = codes.iter().filter_map(|code| positions::get(code)).any(|row| row.vertical);
    if let (true, Some(way)) = (vertical, test.progression) {
        let word = if way == Progression::Downward { "downward" } else { "upward" };
        ranges.push(set("progression", continuity, vec![word.to_owned()], word));
    }
    if let (true, Some(backing), Some(row)) = (groove, test.backing, rows.first()) {
        let words: &[&str] = if backing.0 { &["with backing"] } else { &["with backing", "without backing"] };
        let words = words.iter().map(ToString::to_string).collect();
        let tested = if backing.0 { "with backing" } else { "without backing" };
        ranges.push(set("backing", &row.origin, words, tested));
    }
    ranges
}

/// The same size in the unit of the code's other column.
fn in_unit(size: Size, customary: bool) -> Option<Size> {
    if size.is_customary() == customary {
        Some(size)
    } else if customary {
        Size::from_inches(size.length().inches())
    } else {
        Size::from_mm(size.mm())
    }
}

/// What a range does not cover of a process.
pub(super) fn not_covered(range: &Qualified, process: &ProcessSummary<'_>) -> Vec<String> {
    if range.variable != "electrode_group" {
        return Vec::new();
    }
    let (limit, reference) = (range.bounds.text(), &range.reference);
    let outside = process.fillers.iter().filter_map(|filler| {
        let group = format!("F{}", filler.value?.f_no.as_ref()?);
        (!range.has(&group)).then(|| format!("filler {} is {group}, covered are {limit} ({reference})", filler.stated))
    });
    outside.collect()
}
