//! Published figures that pass through several crates, each with its source beside it.

use seamwright_handbook::{gas_nozzles, tungsten_types};
use seamwright_model::load;
use seamwright_model::quantity::{UnitSystem, convert};
use seamwright_page::html::{HtmlOptions, HtmlRenderer};
use seamwright_page::lately::Lately;
use seamwright_page::{Kind, SheetOptions};
use seamwright_sheet::kinds::{self, Subject};

/// The text of every cell of the sheet of a document, those of the heads of its columns among them.
fn cells(text: &str, units: UnitSystem) -> Vec<String> {
    let loaded = load("trial.yaml", text.as_bytes()).unwrap();
    let outcome = seamwright_check::check_document(&loaded.document);
    let (loaded, outcome, lately) = (&loaded, &outcome, &Lately::default());
    let subject = Subject { loaded, outcome, shop: None, procedure: None, estimate: None, lately };
    let sheet = kinds::sheet(Kind::Procedure, subject, SheetOptions { units, ..SheetOptions::default() }).unwrap();
    let page = HtmlRenderer::new().unwrap().render(&sheet, &HtmlOptions::default()).unwrap();
    let cell = scraper::Selector::parse("thead th, td").unwrap();
    scraper::Html::parse_document(&page)
        .select(&cell)
        .map(|cell| cell.text().collect::<String>().split_whitespace().collect::<Vec<_>>().join(" "))
        .collect()
}

/// 29 V, 325 A, 12.5 in/min give 45.24 kJ/in (worked answer on an inspectors' forum; ASME BPVC IX QW-409.1).
#[test]
fn the_sheet_prints_the_published_heat_input() {
    let text = "format: 1\ndocument: procedure\nidentification: {number: P-9, revision: 1, title: Trial}\n\
        runs:\n- {run: 1, process: 135, voltage: 29 V, current: 325 A, travel_speed: 12.5 in/min}\n";
    let has = |cells: &[String], wanted: &[&str]| wanted.iter().all(|text| cells.iter().any(|cell| cell == text));
    // Thermal efficiency of 135 by ISO/TR 17671-1: 0.8, so 36.19 kJ/in.
    let us = cells(text, UnitSystem::Us);
    assert!(has(&us, &["Heat input kJ/in", "36.2", "Arc energy kJ/in", "45.2"]), "{us:?}");
    // 45.24 kJ/in over 25.4 mm/in: 1.781 kJ/mm.
    let si = cells(text, UnitSystem::Si);
    assert!(has(&si, &["Arc energy kJ/mm", "1.78"]), "{si:?}");
}

/// ISO 6848:2015 and AWS A5.12M/A5.12, table 1: designation, class, oxide, colour.
#[test]
fn tungsten_electrodes_are_found_by_either_standard() {
    for (iso, aws, oxide, colour) in [
        ("WP", "EWP", "none", "green"),
        ("WCe20", "EWCe-2", "CeO2", "grey"),
        ("WLa10", "EWLa-1", "La2O3", "black"),
        ("WLa15", "EWLa-1.5", "La2O3", "gold"),
        ("WLa20", "EWLa-2", "La2O3", "blue"),
        ("WTh10", "EWTh-1", "ThO2", "yellow"),
        ("WTh20", "EWTh-2", "ThO2", "red"),
        ("WZr8", "EWZr-8", "ZrO2", "white"),
    ] {
        let row = tungsten_types::get(iso).unwrap_or_else(|| panic!("{iso}"));
        let same = tungsten_types::get(aws).unwrap_or_else(|| panic!("{aws}"));
        assert_eq!((row.iso6848, same.iso6848), (iso, iso));
        assert_eq!((row.oxide, row.colour), (oxide, colour), "{iso}");
    }
    assert!(tungsten_types::get("WXx99").is_none());
}

/// The number of a gas nozzle counts sixteenths of an inch (common practice); bores are printed to 0.1 mm.
#[test]
fn nozzle_numbers_count_sixteenths_of_an_inch() {
    let rows = gas_nozzles::rows();
    assert!(rows.len() >= 8);
    for row in rows {
        let exact = f64::from(row.number) * 25.4 / 16.0;
        assert!((row.bore_mm - exact).abs() <= 0.1, "No. {}: {} mm, not {exact} mm", row.number, row.bore_mm);
        assert_eq!(gas_nozzles::by_bore(exact).map(|found| found.number), Some(row.number));
    }
}

/// Factors of NIST SP 811 (2008), appendix B.8.
#[test]
fn units_convert_by_the_published_factors() {
    for (stated, unit, published) in [
        ("1 in", "mm", 25.4),
        ("1 lb", "kg", 0.453_592_37),
        ("1 ksi", "MPa", 6.894_757),
        ("1 psi", "bar", 0.068_947_57),
        ("1 cfh", "L/min", 0.471_947_4),
        ("60 in/min", "mm/s", 25.4),
        ("25.4 kJ/in", "kJ/mm", 1.0),
        ("212 °F", "°C", 100.0),
        ("32 °F", "°C", 0.0),
    ] {
        let found = convert(stated, unit).unwrap_or_else(|error| panic!("{stated}: {}", error.message()));
        let value = found.value().unwrap();
        assert!((value - published).abs() <= published.abs() * 1e-6 + 1e-12, "{stated} is {value} {unit}");
    }
}
