//! ASME IX: what the test of a welder covers, QW-452, QW-461 and QW-433.

use seamwright_handbook::qualified::Span;
use seamwright_handbook::{Band, Basis, SourceRef, asme_ix as asme};
use seamwright_model::shop::{Layers, Product, WelderTest};
use seamwright_weld::view::Metal;

use crate::codes::range::Qualified;
use crate::codes::summary::{ProcessSummary, Summary};
use crate::codes::welders::test::{aws_codes, f_number, is_groove, process_number, size};
use crate::codes::words::clause;

/// Process, P-Numbers, F-Numbers, deposit, diameter, position and backing.
pub(super) fn ranges(test: &WelderTest) -> Vec<Qualified> {
    let mut ranges = Vec::new();
    let groove = is_groove(test);
    let memory = asme::CONTINUITY.origin.source_ref();
    let at = |clause: &str| SourceRef { clause: Some(clause.to_owned().into()), others: 0, ..memory.clone() };
    ranges.push(
        Qualified::set("process", "QW-350", vec![process_number(&test.process)], at("QW-350"))
            .tested(test.process.to_string()),
    );
    let metal = test.metal.as_deref().and_then(seamwright_handbook::base_metals::find).and_then(|row| row.p_no);
    if let Some((number, row)) = metal.and_then(|number| Some((number, asme::welder_metal_covers(number, number)?))) {
        let words = row.p_numbers.iter().map(|number| format!("P-{number}"));
        ranges.push(
            Qualified::set("base_metal_group", &clause(&row.origin), words, row.origin.source_ref())
                .tested(format!("P-{number}")),
        );
    }
    if let (Some(f), Some(backing)) = (f_number(test), test.backing) {
        let used: Vec<u32> = asme::f_number_groups().collect();
        let covered: Vec<_> = [true, false]
            .into_iter()
            .flat_map(|with| used.iter().map(move |used| (*used, with)))
            .filter_map(|(used, with)| Some((used, with, asme::welder_f_number_covers(f, backing.0, used, with)?)))
            .collect();
        let words = covered
            .iter()
            .map(|(used, with, _)| format!("F-{used} {}", if *with { "with backing" } else { "without backing" }));
        // The row that covers is the source; of several the one that is remembered, so that it says so.
        let rows = covered.iter().map(|(_, _, row)| row);
        if let Some(row) = rows.max_by_key(|row| row.origin.basis != Basis::Published) {
            ranges.push(
                Qualified::set("f_number", &clause(&row.origin), words, row.origin.source_ref())
                    .tested(format!("F-{f} {}", if backing.0 { "with backing" } else { "without backing" })),
            );
        }
    }
    let layers = test.layers == Some(Layers::Multiple);
    if let Some(size) = size(test.deposit_thickness.as_ref()).or_else(|| size(test.thickness.as_ref())) {
        let quantity = if groove { "welder-deposit" } else { "welder-fillet-thickness" };
        let variable = if groove { "deposit_thickness" } else { "base_metal_thickness" };
        let rows = asme::welder_range(quantity, size);
        let fits = |condition: Option<&str>| match condition {
            Some("at least three layers") => layers,
            Some("fewer than three layers") => !layers,
            _ => true,
        };
        ranges.extend(rows.into_iter().find(|row| fits(row.condition)).map(|row| {
            let open = |span: Span| {
                let low = Some(span.band.low).filter(|low| *low > 0.0);
                Span { band: Band::of((low, Some(span.band.high))), ..span }
            };
            let mut range = Qualified::sizes(
                variable,
                &clause(&row.origin),
                open(row.span(size)),
                open(row.other_span(size)),
                row.origin.source_ref(),
            )
            .tested(size.text());
            range.note = row.condition.map(str::to_owned);
            range
        }));
    }
    if let Some(diameter) = size(test.outside_diameter.as_ref())
        && let Some(row) = asme::welder_range("welder-diameter", diameter).into_iter().next()
    {
        ranges.push(
            Qualified::sizes(
                "outside_diameter",
                &clause(&row.origin),
                row.span(diameter),
                row.other_span(diameter),
                row.origin.source_ref(),
            )
            .tested(diameter.text()),
        );
    }
    let pipe = test.product == Some(Product::Pipe) || test.product.is_none() && test.outside_diameter.is_some();
    let codes = aws_codes(test, pipe);
    let codes: Vec<&str> = codes.iter().map(String::as_str).collect();
    let rows = asme::welder_positions_covered(if pipe { "pipe" } else { "plate" }, &codes);
    for (variable, groove_row, get) in [
        ("position", true, (|row| row.groove_plate) as fn(&'static asme::WelderPositionRow) -> &'static [&'static str]),
        ("position_small_pipe", true, |row| row.groove_pipe),
        ("position_fillet", false, |row| row.fillet),
    ] {
        let mut words: Vec<String> = Vec::new();
        for word in ["flat", "horizontal", "vertical", "overhead"] {
            if rows.iter().any(|row| get(row).contains(&word)) {
                words.push(word.to_owned());
            }
        }
        if let (false, Some(row)) = (words.is_empty() || groove_row && !groove, rows.first()) {
            let note = match variable {
                "position" => "grooves in plate and in pipe over 610 mm",
                "position_small_pipe" => "grooves in pipe of 73 to 610 mm",
                _ => "fillets",
            };
            ranges.push(
                Qualified::set(variable, &clause(&row.origin), words, row.origin.source_ref())
                    .tested(codes.join(", "))
                    .note(note),
            );
        }
    }
    ranges
}

/// What a range does not cover of a process.
pub(super) fn not_covered(range: &Qualified, summary: &Summary<'_>, process: &ProcessSummary<'_>) -> Vec<String> {
    let (limit, reference) = (range.bounds.text(), &range.reference);
    match range.variable {
        "f_number" => {
            let backing = if summary.backed() { "with backing" } else { "without backing" };
            let outside = process.fillers.iter().filter_map(|filler| {
                let word = format!("F-{} {backing}", filler.value?.f_no.as_ref()?);
                (!range.has(&word))
                    .then(|| format!("filler {} is {word}, covered are {limit} ({reference})", filler.stated))
            });
            outside.collect()
        }
        "base_metal_group" => {
            let numbers = summary.view.metals.iter().filter_map(Metal::p_number);
            let outside = numbers.filter(|number| !range.has(&format!("P-{number}")));
            outside.map(|number| format!("P-{number} is not covered ({reference})")).collect()
        }
        _ => Vec::new(),
    }
}
