//! What a welder's test covers, until when, and who of a shop may weld a procedure: ISO 9606-1, ASME IX QW-452, QW-461,
//! AWS D1.1 and API 1104.

mod api_1104;
mod aws_d1_1;

use seamwright_handbook::qualified::Span;
use seamwright_handbook::{
    Basis, Size, SourceRef, asme_ix as asme, aws_d1_1 as aws, filler_classes, find, iso_9606_1 as iso, measure,
    positions, processes,
};
use seamwright_model::procedure::WeldType;
use seamwright_model::quantity::{Length, Range as Stretch};
use seamwright_model::shop::{Layers, Product, Shop, Welder, WelderCode, WelderTest};
use seamwright_model::stated::{Date, Stated};

use super::summary::{Ends, Summary, Value};
use super::{Bounds, Qualified, clause};
use crate::rule::figure;
use crate::view::View;

/// What one test of a welder covers.
#[derive(Debug, Clone)]
pub struct Cover<'d> {
    /// The welder.
    pub welder: &'d Welder,
    /// The test.
    pub test: &'d WelderTest,
    /// Ranges, each with the certificate's number under `records`.
    pub ranges: Vec<Qualified>,
    /// Day on which it lapses if nothing is confirmed.
    pub lapses: Option<Date>,
    /// Why it lapses then.
    pub because: String,
    /// JSON pointer of the test in the shop.
    pub pointer: String,
}

/// What the tests of every welder of a shop cover; of one code where one is named.
pub fn covers(shop: &Shop, code: Option<WelderCode>) -> Vec<Cover<'_>> {
    let mut covers = Vec::new();
    for (place, welder) in shop.welders.iter().enumerate() {
        for (index, test) in welder.tests.iter().enumerate() {
            if code.is_some_and(|code| code != test.code) {
                continue;
            }
            let mut ranges = match test.code {
                WelderCode::Iso9606 => iso_9606(test),
                WelderCode::AsmeIx => qw_452(test),
                WelderCode::AwsD11 => aws_d1_1::ranges(test),
                WelderCode::Api1104 => api_1104::ranges(test),
            };
            let name = test.number.as_ref().map_or_else(|| welder.name.to_string(), ToString::to_string);
            for range in &mut ranges {
                range.records = vec![name.clone()];
            }
            let (lapses, because) = lapse(test);
            let pointer = format!("/welders/{place}/tests/{index}");
            covers.push(Cover { welder, test, ranges, lapses, because, pointer });
        }
    }
    covers
}

/// When a qualification lapses, and why.
fn lapse(test: &WelderTest) -> (Option<Date>, String) {
    let used = test.last_use.unwrap_or(test.date);
    let later = |from: Date, rule: Option<&seamwright_handbook::Rule>, per: i32| {
        // A few months or years: the figure is small and whole.
        #[allow(clippy::cast_possible_truncation, reason = "months of a table")]
        rule.and_then(|rule| from.months_later(rule.value.high as i32 * per))
    };
    let mut ends: Vec<(Date, &str)> = Vec::new();
    match test.code {
        WelderCode::Iso9606 => {
            ends.extend(
                later(used, iso::rule("confirmation"), 1).map(|date| (date, "use is confirmed each six months")),
            );
            let retest = test.valid_until.or_else(|| later(test.date, iso::rule("retest"), 12));
            ends.extend(retest.map(|date| (date, "the test is to be repeated")));
        }
        // The code of pipelines lets a qualification stand until there is reason to doubt it.
        WelderCode::Api1104 => ends.extend(test.valid_until.map(|date| (date, "end of the certificate"))),
        WelderCode::AsmeIx | WelderCode::AwsD11 => {
            let continuity = match test.code {
                WelderCode::AwsD11 => aws::rule("welder-continuity"),
                _ => asme::rule("continuity"),
            };
            ends.extend(later(used, continuity, 1).map(|date| (date, "six months without the process")));
            ends.extend(test.valid_until.map(|date| (date, "end of the certificate")));
        }
    }
    let first = ends.into_iter().min_by_key(|(date, _)| *date);
    first.map_or((None, String::new()), |(date, why)| (Some(date), why.to_owned()))
}

fn length(value: Option<&Stated<Stretch<Length>>>) -> Option<f64> {
    let range = value?.value()?;
    range.low().or(range.high()).map(Length::mm)
}

/// A stated length in its own unit.
fn size(value: Option<&Stated<Stretch<Length>>>) -> Option<Size> {
    let range = value?.value()?;
    Some(Size::stated(range.low().or(range.high())?, range.unit()))
}

fn is_groove(test: &WelderTest) -> bool {
    test.weld.is_none_or(WeldType::has_groove)
}

fn process_number(text: &str) -> String {
    processes::get(text).map_or_else(|| text.to_owned(), |row| row.number.clone())
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

/// ISO 9606-1: process, product, weld, filler group, deposit, diameter, position, backing and layers.
fn iso_9606(test: &WelderTest) -> Vec<Qualified> {
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

/// ASME IX: process, P-Numbers, F-Numbers, deposit, diameter, position and backing.
fn qw_452(test: &WelderTest) -> Vec<Qualified> {
    let mut ranges = Vec::new();
    let groove = is_groove(test);
    let Some(memory) = asme::rule("continuity").map(|rule| rule.origin.source_ref()) else { return ranges };
    let at = |clause: &str| SourceRef { clause: Some(clause.to_owned().into()), others: 0, ..memory.clone() };
    ranges.push(
        Qualified::set("process", "QW-350", vec![process_number(&test.process)], at("QW-350"))
            .tested(test.process.to_string()),
    );
    let metal =
        test.metal.as_deref().and_then(seamwright_handbook::base_metals::find).and_then(|row| row.p_no.as_deref());
    if let Some((number, row)) = metal.and_then(|number| Some((number, asme::welder_metal_covers(number, number)?))) {
        let words = row.p_numbers.iter().map(|number| format!("P-{number}")).collect();
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
            .map(|(used, with, _)| format!("F-{used} {}", if *with { "with backing" } else { "without backing" }))
            .collect();
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
        ranges.extend(rows.into_iter().find(|row| fits(row.condition.as_deref())).map(|row| {
            let open = |span: Span| Span { low: span.low.filter(|low| *low > 0.0), ..span };
            let mut range = Qualified::sizes(
                variable,
                &clause(&row.origin),
                open(row.span(size)),
                open(row.other_span(size)),
                row.origin.source_ref(),
            )
            .tested(size.text());
            range.note.clone_from(&row.condition);
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
        ("position", true, (|row| &row.groove_plate) as fn(&'static asme::WelderPositionRow) -> &'static Vec<String>),
        ("position_small_pipe", true, |row| &row.groove_pipe),
        ("position_fillet", false, |row| &row.fillet),
    ] {
        let mut words: Vec<String> = Vec::new();
        for word in ["flat", "horizontal", "vertical", "overhead"] {
            if rows.iter().any(|row| get(row).iter().any(|own| own == word)) {
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

/// The positions of a test by their codes of AWS, on plate or pipe.
fn aws_codes(test: &WelderTest, pipe: bool) -> Vec<String> {
    test.positions
        .iter()
        .map(|text| match positions::get(text) {
            Some(row) if row.system == "iso" => aws_code(row, pipe),
            Some(row) => row.code.clone(),
            None => text.to_string(),
        })
        .collect()
}

/// The code of AWS for a position of ISO 6947 on plate or pipe.
fn aws_code(row: &positions::Row, pipe: bool) -> String {
    let fits = |code: &&String| {
        positions::get(code).is_some_and(|own| match own.product {
            positions::Product::Both => true,
            positions::Product::Pipe => pipe,
            positions::Product::Plate => !pipe,
        })
    };
    row.equivalent.iter().find(fits).or(row.equivalent.first()).cloned().unwrap_or_else(|| row.code.clone())
}

/// F-Number of the test's filler: as stated, or by its class.
fn f_number(test: &WelderTest) -> Option<u32> {
    let digits = |text: &str| text.chars().filter(char::is_ascii_digit).collect::<String>().parse().ok();
    test.filler_group
        .as_deref()
        .and_then(digits)
        .or_else(|| filler_classes::find(test.filler.as_deref()?)?.f_no.as_deref().and_then(digits))
}

/// A welder beside a process of a procedure.
#[derive(Debug, Clone)]
pub struct Fit<'d> {
    /// The process, by its ISO 4063 number.
    pub process: String,
    /// The test that covers it, or comes nearest.
    pub cover: Cover<'d>,
    /// What is not covered, in words; the welder may weld where nothing stands here.
    pub gaps: Vec<String>,
}

/// For each process of a procedure the welders of a shop with the test that comes nearest to covering it.
pub fn fits<'d>(view: &View<'_>, shop: &'d Shop) -> Vec<Fit<'d>> {
    let summary = Summary::of(view);
    let covers = covers(shop, None);
    let mut found = Vec::new();
    for process in &summary.processes {
        for welder in &shop.welders {
            let best = covers
                .iter()
                .filter(|cover| cover.welder.name == welder.name && cover.welder.stamp == welder.stamp)
                .filter(|cover| covers_process(cover, &process.number))
                .map(|cover| (gaps(&summary, process, cover), cover))
                .min_by_key(|(gaps, _)| gaps.len());
            if let Some((gaps, cover)) = best {
                found.push(Fit { process: process.number.clone(), cover: cover.clone(), gaps });
            }
        }
    }
    found
}

/// Whether a test is one for a process.
fn covers_process(cover: &Cover<'_>, number: &str) -> bool {
    let own = cover.ranges.iter().find(|range| range.variable == "process");
    match own.map(|range| &range.bounds) {
        Some(Bounds::Set(words)) => words.iter().any(|word| word == number),
        _ => process_number(&cover.test.process) == number,
    }
}

/// What a test does not cover of a process of a procedure.
fn gaps(summary: &Summary<'_>, process: &super::summary::ProcessSummary<'_>, cover: &Cover<'_>) -> Vec<String> {
    let mut gaps = Vec::new();
    let fillet = summary.weld == Some(WeldType::Fillet);
    let backed = backed(summary);
    for range in &cover.ranges {
        let reference = &range.reference;
        let limit = range.bounds.text();
        let outside = |value: &Value<Ends>| {
            let Bounds::Span { low, high, unit } = range.bounds_for(value.is_customary()) else { return false };
            let own = |end: Option<f64>| end.map(|mm| measure::converted(mm, "mm", unit));
            let ends = (own(value.value.0), own(value.value.1));
            low.zip(ends.0.or(ends.1)).is_some_and(|(low, own)| own < low * (1.0 - 1e-9))
                || high.zip(ends.1.or(ends.0)).is_some_and(|(high, own)| own > high * (1.0 + 1e-9))
        };
        let words = match &range.bounds {
            Bounds::Set(words) => words.as_slice(),
            _ => &[],
        };
        let has = |word: &str| words.iter().any(|own| own == word);
        let groove_test = is_groove(cover.test);
        match range.variable {
            "weld_type" if fillet == groove_test => gaps.push(format!("the test is a {limit} weld ({reference})")),
            "deposit_thickness" if !fillet => {
                let alone = (summary.processes.len() == 1).then(|| summary.thickness.last()).flatten();
                if let Some(value) = process.deposit.as_ref().or(alone)
                    && outside(value)
                {
                    gaps.push(format!("deposit {} outside {limit} ({reference})", value.stated));
                }
            }
            "base_metal_thickness" | aws_d1_1::FILLET_THICKNESS
                if cover.test.code == WelderCode::Api1104
                    || fillet
                        == (range.variable == aws_d1_1::FILLET_THICKNESS || cover.test.code != WelderCode::AwsD11) =>
            {
                gaps.extend(
                    summary
                        .thickness
                        .iter()
                        .filter(|value| outside(value))
                        .map(|value| format!("thickness {} outside {limit} ({reference})", value.stated)),
                );
            }
            "outside_diameter" => gaps.extend(
                summary
                    .diameter
                    .iter()
                    .filter(|value| outside(value))
                    .map(|value| format!("diameter {} outside {limit} ({reference})", value.stated)),
            ),
            "filler_group" => gaps.extend(process.fillers.iter().filter_map(|filler| {
                let group = filler_group(filler.value?)?;
                (!has(group)).then(|| format!("filler {} is {group}, covered are {limit} ({reference})", filler.stated))
            })),
            "pipeline_filler_group" => gaps.extend(process.fillers.iter().filter_map(|filler| {
                let row = seamwright_handbook::api_1104::filler(&filler.stated);
                let group = row.map_or_else(|| "in no group".to_owned(), |row| format!("group {}", row.group));
                (!has(&group))
                    .then(|| format!("filler {} is {group}, covered are {limit} ({reference})", filler.stated))
            })),
            "pipe_position" => gaps.extend(summary.positions.iter().filter_map(|position| {
                let turning = super::api_1104::turning(positions::get(&position.value)?);
                (!has(turning))
                    .then(|| format!("position {} is {turning}, the test was {limit} ({reference})", position.stated))
            })),
            "f_number" => gaps.extend(process.fillers.iter().filter_map(|filler| {
                let number = filler.value?.f_no.as_ref()?;
                let word = format!("F-{number} {}", if backed { "with backing" } else { "without backing" });
                (!has(&word)).then(|| format!("filler {} is {word}, covered are {limit} ({reference})", filler.stated))
            })),
            "base_metal_group" => gaps.extend(summary.view.metals.iter().filter_map(|metal| {
                let number = super::asme_ix::p_number(metal)?;
                (!has(&format!("P-{number}"))).then(|| format!("P-{number} is not covered ({reference})"))
            })),
            "electrode_group" => gaps.extend(process.fillers.iter().filter_map(|filler| {
                let group = format!("F{}", filler.value?.f_no.as_ref()?);
                (!has(&group))
                    .then(|| format!("filler {} is {group}, covered are {limit} ({reference})", filler.stated))
            })),
            "progression" => {
                let vertical = summary.positions.iter().filter_map(|position| positions::get(&position.value));
                let word = summary.downward.map(|down| if down { "downward" } else { "upward" });
                if let (true, Some(word)) = (vertical.into_iter().any(|row| row.vertical), word)
                    && !has(word)
                {
                    gaps.push(format!("progression {word}, the test was {limit} ({reference})"));
                }
            }
            "backing" if !backed && !has("without backing") => {
                gaps.push(format!("the root has no backing, the test had one ({reference})"));
            }
            "position" | "position_small_pipe" | "position_fillet" => {
                // Outside diameter in mm from which pipe counts as plate is in the note of the row.
                let pipe = summary.is_pipe();
                let meant = match (range.variable, cover.test.code) {
                    (_, WelderCode::Iso9606 | WelderCode::Api1104) => true,
                    ("position_fillet", _) => fillet,
                    ("position_small_pipe", _) => !fillet && pipe,
                    _ => !fillet && !pipe,
                };
                if meant {
                    gaps.extend(summary.positions.iter().filter_map(|position| {
                        let row = positions::get(&position.value)?;
                        (!position_covered(row, summary.downward, words))
                            .then(|| format!("position {} outside {limit} ({reference})", position.stated))
                    }));
                }
            }
            _ => {}
        }
    }
    gaps
}

fn position_covered(row: &positions::Row, downward: Option<bool>, words: &[String]) -> bool {
    let by_code = std::iter::once(&row.code).chain(&row.equivalent).any(|code| {
        let other = positions::get(code);
        let opposite = other.is_some_and(|other| {
            downward == Some(true) && other.progression == positions::Progression::Upward
                || downward == Some(false) && other.progression == positions::Progression::Downward
        });
        !opposite && words.contains(code)
    });
    by_code || super::compare::parts_of(row).iter().all(|part| words.iter().any(|word| word == part))
}

/// Whether the weld is made on backing, from both sides, or has no root of its own.
fn backed(summary: &Summary<'_>) -> bool {
    use seamwright_model::stated::OrNone;
    let Some(joint) = &summary.view.procedure.joint else { return false };
    let backing =
        matches!(&joint.backing, Some(OrNone::Is(own)) if own.kind != seamwright_model::procedure::BackingType::Gas);
    backing || !summary.view.one_sided() || summary.weld == Some(WeldType::Fillet)
}
