//! The coupon sheet of a test record: where each specimen is cut, what is tested, and the former that bends it.

use seamwright_drawing::sketch::coupon::{CouponSketch, coupon};
use seamwright_handbook::code_scope::full_title;
use seamwright_handbook::coupon_tests::{self, Coupon};
use seamwright_handbook::measure::length_text;
use seamwright_handbook::{Inches, Size, coupons};
use seamwright_model::document::Document;
use seamwright_model::procedure::{CodeName, WeldType};
use seamwright_model::test_record::TestRecord;
use seamwright_page::SheetOptions;
use seamwright_page::block::{Block, Cell, Column, Field, Figure, Row, Sheet, Table};
use seamwright_page::words::label;
use seamwright_weld::View;
use seamwright_weld::view::Metal;

use super::words::strip_field;
use super::{Subject, footer, joined, masthead, quantity, source};

/// Width and height that the drawing may have, mm.
const ROOM: (f64, f64) = (170.0, 95.0);

/// The sheet of a subject; none where it is another kind of document.
pub(super) fn of(subject: Subject<'_>, options: SheetOptions) -> Option<Result<Sheet, String>> {
    let Document::TestRecord(record) = &subject.loaded.document else { return None };
    Some(sheet(subject, record, options))
}

/// Builds the sheet; `Err` says why there is none.
fn sheet(subject: Subject<'_>, record: &TestRecord, options: SheetOptions) -> Result<Sheet, String> {
    let Some(code) = record.code().filter(|code| *code != CodeName::None) else {
        return Err("the record names no code, and the code says how a coupon is cut".to_owned());
    };
    let procedure = record.to_procedure();
    let view = View::new(&procedure);
    let weld = if view.weld().is_none_or(WeldType::has_groove) { "groove" } else { "fillet" };
    let mut blocks = Vec::new();
    metals(&mut blocks, &view, options);
    drawn(&mut blocks, &view, code, weld);
    specimens(&mut blocks, record);
    bent(&mut blocks, &view, code);
    blocks.push(Block::Paragraph { text: label::COUPON_REMEMBERED.into(), small: true });
    let facts = vec![(label::CODE.into(), full_title(code.as_str()).into())];
    Ok(Sheet {
        masthead: masthead(subject, label::TEST_COUPON, facts, options),
        blocks,
        annex: Vec::new(),
        footer: footer(subject, options),
        one_page: true,
        planned: None,
        large: false,
        source: source(subject),
    })
}

/// Metal, thickness, diameter and position of the coupon.
fn metals(blocks: &mut Vec<Block>, view: &View<'_>, options: SheetOptions) {
    let mut fields: Vec<Option<Field>> = Vec::new();
    for metal in &view.metals {
        let own = metal.stated;
        let text = joined([
            Some(own.specification.to_string()),
            quantity(own.thickness.as_ref(), options),
            quantity(own.outside_diameter.as_ref(), options),
        ]);
        fields.push(strip_field(&options.term("/parent_metals"), Some(text)));
    }
    let positions = view.procedure.positions.iter().map(|own| Some(own.to_string()));
    fields.push(strip_field(&options.term("/positions"), Some(joined(positions))));
    blocks.push(Block::Strip { fields: super::words::packed(fields.into_iter().flatten().collect()) });
}

/// Thickness and outside diameter of the coupon.
fn size_of(view: &View<'_>) -> Option<Coupon> {
    let diameter = view.metals.iter().filter_map(Metal::outside_diameter).min_by_key(|own| own.length());
    Some(Coupon { thickness: view.thickness()?, diameter })
}

/// The coupon with its specimens, where the handbook knows their order and the coupon is plate.
fn drawn(blocks: &mut Vec<Block>, view: &View<'_>, code: CodeName, weld: &str) {
    let pipe = view.metals.iter().any(|metal| metal.stated.outside_diameter.is_some());
    let product = if pipe { "pipe" } else { "plate" };
    let customary = view.thickness().is_some_and(Size::is_customary);
    let sizes = coupons::sizes_of(code.as_str(), "procedure", product, weld);
    blocks.push(Block::heading(label::CUT_THE_COUPON, None));
    for row in &sizes {
        blocks.push(Block::Paragraph { text: row.words(customary), small: false });
    }
    let Some(layout) = size_of(view).and_then(|size| coupons::layout(code.as_str(), weld, size)) else { return };
    let tough = view.procedure.qualification.as_ref().and_then(|own| own.toughness.as_deref());
    let tough = tough.is_some_and(|text| !matches!(text, "not required" | "none" | "not applicable"));
    let order: Vec<&str> = layout.order.iter().copied().filter(|method| tough || *method != "impact").collect();
    let listed: Vec<String> = order.iter().enumerate().map(|(at, method)| format!("{} {method}", at + 1)).collect();
    let size = sizes.first();
    let text = |mm: f64, inches: Option<Inches>| match inches.filter(|_| customary) {
        Some(own) => length_text(own.0, "in"),
        None => length_text(mm, "mm"),
    };
    let around = pipe.then(|| label::AROUND_THE_PIPE.to_string());
    let sketch = CouponSketch {
        length: size.filter(|_| !pipe).map_or(LENGTH, |row| row.length_mm),
        width: size.and_then(|row| if pipe { Some(row.length_mm) } else { row.width_mm }).unwrap_or(WIDTH),
        // Around a pipe nothing is discarded.
        discard: if pipe { 0.0 } else { layout.discard_mm },
        specimens: (1..=order.len()).map(|at| at.to_string()).collect(),
        labels: [
            around.or_else(|| size.map(|row| text(row.length_mm, row.length_in))),
            size.and_then(|row| {
                if pipe { Some(text(row.length_mm, row.length_in)) } else { Some(text(row.width_mm?, row.width_in)) }
            }),
            (!pipe).then(|| format!("{} {}", label::DISCARD, text(layout.discard_mm, layout.discard_in))),
        ],
        max_width: ROOM.0,
        max_height: ROOM.1,
        text_size: 8.0,
    };
    let figure = Figure {
        title: String::new(),
        clause: layout.origin.source_ref().clause.map(|own| own.to_string()),
        drawing: coupon(&sketch).into(),
        alt: format!("{}: {}.", label::COUPON_FROM_ABOVE, listed.join("; ")),
        caption: Some(listed.join(" · ")),
    };
    blocks.push(Block::Drawings { drawings: vec![figure] });
}

/// Length along the weld and width of a part where the code prints none, for the drawing alone, mm.
const LENGTH: f64 = 300.0;
const WIDTH: f64 = 125.0;

/// What is tested, with room for the result.
fn specimens(blocks: &mut Vec<Block>, record: &TestRecord) {
    if record.tests.is_empty() {
        return;
    }
    let heads = [label::METHOD, label::SPECIMEN, label::NUMBER, label::REQUIREMENT, label::VALUE, label::RESULT];
    let weights = [1.2, 1.0, 0.7, 1.6, 1.4, 1.2];
    let columns = heads.into_iter().zip(weights).map(|(head, weight)| Column::words(head, weight)).collect();
    let rows = record
        .tests
        .iter()
        .map(|test| {
            let values: Vec<String> = test.value.iter().chain(&test.values).map(ToString::to_string).collect();
            let text = |own: Option<String>| Cell::text(own.unwrap_or_default());
            Row {
                cells: vec![
                    Cell::bold(test.method.to_string()),
                    text(test.specimen.as_ref().map(ToString::to_string)),
                    text(Some(test.count.unwrap_or(1).to_string())),
                    text(test.requirement.as_ref().map(ToString::to_string)),
                    text(Some(values.join(", "))),
                    text(test.result.map(|own| own.to_string())),
                ],
                marked: false,
            }
        })
        .collect();
    blocks.push(Block::Together {
        blocks: vec![Block::heading(label::SPECIMENS, None), Block::Table(Table { caption: None, columns, rows })],
    });
}

/// The former of the bend test.
fn bent(blocks: &mut Vec<Block>, view: &View<'_>, code: CodeName) {
    let Some(metal) = view.metals.first() else { return };
    let Some(size) = size_of(view) else { return };
    let bends = coupon_tests::asked(code.as_str(), "groove", size).iter().any(|row| row.method == "bend");
    let strength = metal.known.and_then(|known| known.yield_min_mpa);
    let number = metal.known.and_then(|known| known.p_no);
    let Some(row) = coupons::former(code.as_str(), strength, number).filter(|_| bends) else { return };
    let customary = view.thickness().is_some_and(Size::is_customary);
    blocks.push(Block::heading(label::BEND_FORMER, None));
    blocks.push(Block::Paragraph { text: format!("{}; {}", row.words(customary), row.accepts), small: false });
}
