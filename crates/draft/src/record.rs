//! A test record to be made: the coupon of a procedure, its specimens and the bend former, to be filled in as it is measured.

use std::fmt::Display;

use seamwright_handbook::coupon_tests::{self, Coupon};
use seamwright_handbook::measure::{self, figure};
use seamwright_handbook::{Size, coupons};
use seamwright_model::procedure::{CodeName, Filler, Key, Procedure, Settings, WeldType, keys};
use seamwright_model::quantity::{Length, Quantity, Range};
use seamwright_model::stated::Stated;
use seamwright_model::variants;
use seamwright_weld::View;

use crate::documents::quoted;

/// A test record of a procedure as commented YAML, under the code that it names or the one that is given.
///
/// The coupon has the middle of what the procedure states; `measure` stands where the measured value goes. `Err` says why
/// there is no such record.
pub fn record(procedure: &Procedure, code: Option<CodeName>) -> Result<String, String> {
    let own = procedure.qualification.as_ref().and_then(|own| own.code).filter(|code| *code != CodeName::None);
    let Some(code) = code.or(own) else {
        return Err("the procedure names no code: give it with --code, as --code asme-ix".to_owned());
    };
    // A coupon is welded under one condition, with one filler of each kind.
    let choice = variants::of_thickness(procedure, None);
    let procedure = choice.as_ref().map_or(procedure, |own| &own.procedure);
    let view = View::new(procedure);
    let Some(thickness) = view.metals.first().and_then(seamwright_weld::view::Metal::thickness) else {
        return Err("the procedure states no thickness, and a coupon has one".to_owned());
    };
    let mut page = String::new();
    head(&mut page, procedure, code);
    coupon(&mut page, &view, code, thickness);
    metals(&mut page, procedure);
    weld(&mut page, procedure);
    settings(&mut page, procedure);
    tests(&mut page, &view, code, thickness);
    page.push_str("\nnotes: [The values of the procedure stand here until they are measured]\n");
    Ok(page)
}

fn head(page: &mut String, procedure: &Procedure, code: CodeName) {
    let identification = &procedure.identification;
    page.push_str("# A test record to be made; `measure` stands where the value of the coupon goes.\n");
    page.push_str("format: 1\ndocument: test-record\n\nidentification:\n");
    page.push_str("  number: DRAFT  # decide: number\n  revision: 1\n");
    page.push_str(&format!("  title: \"Coupon for {}\"\n  status: draft\n\n", quoted(&identification.title)));
    page.push_str(&format!("procedure: \"{}\"\ncode: {code}\n", quoted(&identification.number)));
    let qualification = procedure.qualification.as_ref();
    for (key, value) in [
        ("edition", qualification.and_then(|own| own.edition.as_deref())),
        ("level", qualification.and_then(|own| own.level.as_deref()).filter(|_| code == CodeName::Iso15614)),
        ("toughness", qualification.and_then(|own| own.toughness.as_deref())),
    ] {
        if let Some(value) = value {
            page.push_str(&format!("{key}: \"{}\"\n", quoted(value)));
        }
    }
    page.push_str("# welded: decide; welder: decide; witnessed_by: decide; laboratory: decide\n\n");
}

/// What coupon the code asks for.
fn coupon(page: &mut String, view: &View<'_>, code: CodeName, thickness: Size) {
    let customary = thickness.is_customary();
    let weld = if view.weld().is_none_or(WeldType::has_groove) { "groove" } else { "fillet" };
    let pipe = view.metals.iter().any(|metal| metal.stated.outside_diameter.is_some());
    let product = if pipe { "pipe" } else { "plate" };
    for row in coupons::sizes_of(code.as_str(), "procedure", product, weld) {
        page.push_str(&format!("# Coupon, {}", row.words(customary)));
        page.push_str(&format!(" (test-coupons, {})\n", row.origin.basis.as_str()));
        for more in row.origin.doubt.iter().chain(&row.origin.note) {
            page.push_str(&format!("#   {more}\n"));
        }
    }
    if coupons::sizes_of(code.as_str(), "procedure", product, weld).is_empty() {
        page.push_str(
            "# Coupon: the handbook has no least size under this code; long enough for all specimens below.\n",
        );
    }
}

fn middle<Q: Quantity>(value: Option<&Stated<Range<Q>>>, of: impl Fn(&Range<Q>) -> String) -> Option<String> {
    value.and_then(Stated::value).map(of)
}

/// The middle of a length in its own unit.
fn length(range: &Range<Length>) -> String {
    let size = range.middle().or(range.high()).or(range.low()).map(|own| Size::stated(own, range.unit()));
    size.map_or_else(|| range.spelled().to_owned(), |size| measure::length_text(size.figure(), size.unit()))
}

fn metals(page: &mut String, procedure: &Procedure) {
    page.push_str("parent_metals:\n");
    for metal in &procedure.parent_metals {
        page.push_str(&format!("  - specification: \"{}\"\n", quoted(&metal.specification)));
        for (key, value) in [
            ("thickness", middle(metal.thickness.as_ref(), length)),
            ("outside_diameter", middle(metal.outside_diameter.as_ref(), length)),
        ] {
            if let Some(value) = value {
                page.push_str(&format!("    {key}: {value}  # measure\n"));
            }
        }
        if let Some(form) = metal.form.as_deref() {
            page.push_str(&format!("    form: \"{}\"\n", quoted(form)));
        }
    }
}

fn weld(page: &mut String, procedure: &Procedure) {
    if let Some(joint) = &procedure.joint {
        page.push_str(&format!("\njoint:\n  type: {}\n", joint.kind));
        if let Some(weld) = joint.weld {
            page.push_str(&format!("  weld: {weld}\n"));
        }
        if let Some(detail) = joint.detail.as_deref() {
            page.push_str(&format!("  detail: \"{}\"\n", quoted(detail)));
        }
        let words = [
            ("penetration", joint.penetration.as_ref().and_then(Stated::value).map(|own| own.as_str())),
            ("preparation", joint.preparation.as_ref().and_then(Stated::value).map(|own| own.as_str())),
        ];
        for (key, word) in words {
            if let Some(word) = word {
                page.push_str(&format!("  {key}: {word}\n"));
            }
        }
        for (key, value) in [("root_gap", &joint.root_gap), ("root_face", &joint.root_face)] {
            if let Some(value) = middle(value.as_ref(), length) {
                page.push_str(&format!("  {key}: {value}  # measure\n"));
            }
        }
        if let Some(angle) = joint.included_angle.as_ref().and_then(Stated::value).and_then(Range::middle) {
            page.push_str(&format!("  included_angle: {} deg  # measure\n", figure(angle.degrees())));
        }
    }
    if let Some(leg) =
        procedure.weld_size.as_ref().and_then(Stated::value).and_then(|own| middle(own.leg.as_ref(), length))
    {
        page.push_str(&format!("\nweld_size: {{leg: {leg}}}  # measure\n"));
    }
    if let Some(first) = procedure.positions.first() {
        page.push_str(&format!("\npositions: [{first}]  # decide: the position that covers most\n"));
    }
    if let Some(way) = procedure.progression.as_ref().and_then(Stated::value) {
        page.push_str(&format!("progression: {way}\n"));
    }
}

fn filler(page: &mut String, name: &str, filler: &Filler) {
    page.push_str(&format!("  \"{}\":\n    designation: \"{}\"\n", quoted(name), quoted(&filler.designation)));
    if let Some(diameter) = middle(filler.diameter.as_ref(), length) {
        page.push_str(&format!("    diameter: {diameter}\n"));
    }
    page.push_str("    # batch: decide\n");
}

fn settings(page: &mut String, procedure: &Procedure) {
    if !procedure.fillers.is_empty() {
        page.push_str("\nfillers:\n");
        for (name, own) in procedure.fillers.iter() {
            filler(page, name, own);
        }
    }
    if !procedure.processes.is_empty() {
        page.push_str("\nprocesses:\n");
        for (name, own) in procedure.processes.iter() {
            process(page, name, own, procedure.processes.iter().count() > 1);
        }
    }
    page.push_str("\n# temperatures: preheating, interpass and time between runs as measured\n");
    page.push_str("# runs: each with current, voltage and travel speed as measured, such as\n");
    page.push_str("#   - {run: 1, layer: root, current: 95 A, voltage: 24 V, travel_speed: 120 mm/min}\n");
    if !procedure.runs.is_empty() {
        page.push_str("runs:\n");
    }
    for run in &procedure.runs {
        page.push_str(&format!("  - run: {}\n", run.run));
        if let Some(layer) = run.layer {
            page.push_str(&format!("    layer: {layer}\n"));
        }
        if let Some(process) = run.process.as_deref() {
            page.push_str(&format!("    process: \"{}\"\n", quoted(process)));
        }
        named(page, &run.settings);
        page.push_str("    # measure: current, voltage, travel_speed\n");
    }
}

/// A word that settings state.
fn word<T: Display>(page: &mut String, own: &Settings, key: &Key<Stated<T>>) {
    if let Some(word) = key.of(own).and_then(Stated::value) {
        page.push_str(&format!("    {}: {word}\n", key.path));
    }
}

/// The filler that settings name.
fn named(page: &mut String, own: &Settings) {
    if let Some(name) = keys::FILLER.of(own) {
        page.push_str(&format!("    {}: \"{}\"\n", keys::FILLER.path, quoted(name)));
    }
}

fn process(page: &mut String, name: &str, own: &Settings, several: bool) {
    page.push_str(&format!("  \"{}\":\n", quoted(name)));
    let before = page.len();
    word(page, own, &keys::MECHANIZATION);
    word(page, own, &keys::POLARITY);
    word(page, own, &keys::TRANSFER_MODE);
    named(page, own);
    if page.len() == before {
        page.truncate(before - 1);
        page.push_str(" {}\n");
    }
    if several {
        page.push_str("    # measure: deposit_thickness\n");
    }
}

/// The specimens that the code asks for, and the former that bends them.
fn tests(page: &mut String, view: &View<'_>, code: CodeName, thickness: Size) {
    let weld = if view.weld().is_none_or(WeldType::has_groove) { "groove" } else { "fillet" };
    let diameter =
        view.metals.iter().filter_map(seamwright_weld::view::Metal::outside_diameter).min_by_key(|own| own.length());
    let rows = coupon_tests::asked(code.as_str(), weld, Coupon { thickness, diameter });
    let toughness = view.procedure.qualification.as_ref().and_then(|own| own.toughness.as_deref());
    let tough = toughness.is_some_and(|text| !matches!(text, "not required" | "none" | "not applicable"));
    page.push_str("\n# Specimens (coupon-tests; verify the numbers against your edition)\n");
    if let Some(metal) = view.metals.first() {
        let strength = metal.known.and_then(|known| known.yield_min_mpa);
        let number = metal.known.and_then(|known| known.p_no);
        if let Some(row) = coupons::former(code.as_str(), strength, number) {
            page.push_str(&format!("# Bend former, {}\n", row.words(thickness.is_customary())));
            page.push_str(&format!("#   accepted: {} (bend-formers, {})\n", row.accepts, row.origin.basis.as_str()));
            for more in row.origin.note.iter().chain(&row.origin.doubt) {
                page.push_str(&format!("#   {more}\n"));
            }
        }
    }
    if rows.is_empty() {
        page.push_str("tests: []\n");
        return;
    }
    page.push_str("tests:\n");
    for row in rows {
        if row.condition == Some("toughness") && !tough {
            continue;
        }
        let method = row.methods().first().copied().unwrap_or(row.method).to_owned();
        let others: Vec<&str> = row.methods().into_iter().skip(1).collect();
        let or = if others.is_empty() { String::new() } else { format!("  # or {}", others.join(", ")) };
        let kind = row.specimen.map_or_else(String::new, |own| format!(", type: {own}"));
        let hard = if row.condition == Some("hardness") { "  # where the metal hardens" } else { "" };
        page.push_str(&format!("  - {{method: {method}{kind}, count: {}, result: open}}{or}{hard}\n", row.count));
    }
}
