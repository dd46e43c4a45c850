//! What holds for every table: names, documentation, origin of each row, sound figures.

use std::collections::BTreeSet;

use serde_json::Value;

use super::*;

#[test]
fn names_are_unique_sorted_and_kebab_case() {
    let names: Vec<&str> = TABLES.iter().map(|info| info.name()).collect();
    let mut sorted = names.clone();
    sorted.sort_unstable();
    sorted.dedup();
    assert_eq!(names, sorted, "TABLES is sorted by name and has no name twice");
    for name in names {
        assert!(
            name.split('-')
                .all(|word| !word.is_empty() && word.chars().all(|c| c.is_ascii_lowercase() || c.is_ascii_digit())),
            "{name}"
        );
    }
}

#[test]
fn every_file_of_a_table_is_listed() {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tables");
    let files: BTreeSet<String> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned())
        .collect();
    let listed: BTreeSet<String> = TABLES.iter().map(|info| info.name().to_owned()).collect();
    assert_eq!(files, listed);
}

#[test]
fn every_table_is_documented() {
    for info in TABLES {
        let table = info.table();
        assert_eq!(table.name, info.name());
        assert!(table.about.trim_end().ends_with('.'), "{}: `about` is a sentence", table.name);
        for column in &table.columns {
            assert!(!column.meaning.is_empty() && !column.label.is_empty(), "{} {}", table.name, column.key);
        }
    }
}

#[test]
fn every_row_has_source_and_basis() {
    for info in TABLES {
        let table = info.table();
        for row in &table.rows {
            let keys = row.get("source").and_then(Value::as_array).unwrap();
            assert!(!keys.is_empty(), "{} {row:?}", table.name);
            for key in keys {
                assert!(table.source(key.as_str().unwrap()).is_some(), "{} {row:?}", table.name);
            }
            let basis = row.get("basis").cloned().unwrap();
            assert!(serde_json::from_value::<Basis>(basis).is_ok(), "{} {row:?}", table.name);
        }
    }
}

#[test]
fn every_figure_is_finite_and_every_range_runs_upwards() {
    fn look(table: &str, value: &Value) {
        match value {
            Value::Number(number) => assert!(number.as_f64().is_some_and(f64::is_finite), "{table}"),
            Value::Array(items) => {
                if let [Value::Number(low), Value::Number(high)] = items.as_slice() {
                    assert!(low.as_f64() <= high.as_f64(), "{table}: {value}");
                }
                for item in items {
                    look(table, item);
                }
            }
            Value::Object(map) => map.values().for_each(|item| look(table, item)),
            _ => {}
        }
    }
    for info in TABLES {
        for row in &info.table().rows {
            row.values().for_each(|value| look(info.name(), value));
        }
    }
}

#[test]
fn a_missing_table_gets_the_nearest_names() {
    assert_eq!(table("Tungsten Current").unwrap().name, "tungsten-current");
    let error = table("tungsten-curent").unwrap_err();
    assert_eq!(error.nearest.first(), Some(&"tungsten-current"));
}

/// The rows of a table of which these columns hold these values.
fn found(name: &str, wanted: &[(&str, Value)]) -> Vec<&'static serde_json::Map<String, Value>> {
    let rows = table(name).unwrap().rows.iter();
    rows.filter(|row| wanted.iter().all(|(key, value)| row.get(*key) == Some(value))).collect()
}

fn only(name: &str, wanted: &[(&str, Value)]) -> &'static serde_json::Map<String, Value> {
    let rows = found(name, wanted);
    assert_eq!(rows.len(), 1, "{name} {wanted:?}");
    rows[0]
}

// Makers' data sheets of E316-16 and E316L-16 (70 to 85 A at 3/32 in), Machinery's Handbook 31 p. 1594 (E7018, 3/16 in from
// 180 A), Modern Welding 2020 p. 205 (copper wire at 22 to 28 V).
#[test]
fn currents_reach_what_makers_and_books_print() {
    use serde_json::json;
    let current = |class: &str, diameter: f64, column: &str| {
        only("electrode-current", &[("class", json!(class)), ("diameter_mm", json!(diameter))])[column].clone()
    };
    assert_eq!(current("E308L-16", 2.4, "envelope_a"), json!([30, 90]));
    assert_eq!(current("E308L-16", 3.2, "usual_a"), json!([80, 110]));
    assert_eq!(current("E309L-16", 3.2, "envelope_a")[1], json!(115));
    assert_eq!(current("E309L-16", 2.4, "envelope_a")[1], json!(90));
    assert_eq!(current("E7018", 4.8, "envelope_a"), json!([180, 275]));
    let series = found("electrode-current-series", &[("class", json!("E7018")), ("range_a", json!([105, 155]))]);
    assert_eq!(series[0]["source"], json!(["H"]), "the first set is a maker's, not that of AWS A5.1");
    let copper = found("gmaw-parameters", &[("wire", json!("copper"))]);
    assert!(copper.iter().all(|row| row["voltage_v"][0].as_f64() <= Some(24.0)), "{copper:?}");
}

// Migal.Co on aluminium (120 °C; 100 °C where heat treatable), NAVSEA S9074-AR-GIB-010/278 Tables IV and V (65 °C above 3 %
// magnesium, copper-nickel 175 °C at most), AWS D1.1 on quenched and tempered steel (10 °C up to 20 mm).
#[test]
fn temperatures_between_runs_and_preheat_are_those_of_the_sources() {
    use serde_json::json;
    let interpass = |metal: &str| only("interpass-temperature", &[("metal", json!(metal))]);
    let magnesium = interpass("aluminium-magnesium");
    assert_eq!((&magnesium["usual_max_c"], &magnesium["envelope_max_c"]), (&json!(65), &json!(120)));
    assert_eq!(interpass("aluminium-heat-treatable")["usual_max_c"], json!(100));
    assert_eq!(interpass("nickel")["usual_max_c"], json!(150));
    assert_eq!(only("interpass-practice", &[("metal", json!("copper-nickel"))])["interpass_max_c"], json!(150));
    let thin = [("metal", json!("quenched-and-tempered-steel")), ("up_to_mm", json!(20))];
    assert_eq!(only("preheat-practice", &thin)["minimum_c"], json!(10));
    for metal in ["9cr-1mo", "1.25cr-half-mo"] {
        let row = only("preheat-practice", &[("metal", json!(metal))]);
        assert!(row["doubt"].as_str().is_some_and(|doubt| doubt.contains("13 mm")), "{metal}");
    }
}

// A maker's guide to AWS D1.1, p. 35: X52 in category C, A516 in A and B; D1.1:2020 p. 87 for the positions of joints; note d
// of B-U6; B-L2c-S over 1 in (from memory).
#[test]
fn rows_of_aws_d1_1_are_those_of_the_code() {
    use serde_json::json;
    let categories = |metal: &str| base_metals::find(metal).unwrap().d1_1_preheat;
    assert_eq!(categories("X52"), ["C"]);
    for grade in ["A516-55", "A516-60", "A516-65", "A516-70"] {
        assert_eq!(categories(grade), ["A", "B"], "{grade}");
    }
    let joint = |name: &str| found("aws-d1-1-joints", &[("designation", json!(name))]);
    assert!(joint("B-U6").iter().all(|row| row["back_gouged"] == json!(true)));
    let narrow = joint("B-U2a").into_iter().find(|row| row["root_opening_in"] == json!(0.5)).unwrap();
    assert_eq!(narrow["positions"], json!(["flat", "vertical", "overhead"]));
    let gas = joint("B-U2a-GF").into_iter().find(|row| row["root_opening_in"] == json!(0.1875)).unwrap();
    assert_eq!(gas["gas"], json!("required"));
    assert!(joint("B-L2c-S").iter().any(|row| row["root_face_max_in"] == json!(0.625)));
    let reinforcement = found("aws-d1-1-acceptance", &[("imperfection", json!("groove reinforcement"))]);
    assert_eq!(
        reinforcement.iter().map(|row| row["maximum_mm"].as_f64().unwrap()).fold(0.0, f64::max).to_bits(),
        6.0_f64.to_bits()
    );
    let pores = found("aws-d1-1-acceptance", &[("condition", json!("cyclic, fillets"))]);
    assert_eq!(pores[0]["maximum_mm"], json!(2.5));
    let thick = found("asme-ix-ranges", &[("tested_from_mm", json!(38)), ("quantity", json!("base-thickness"))]);
    assert!(thick[0]["note"].as_str().unwrap().contains("GTAW"));
}

// Practice of the trade: 10 to 15 L/min in short-circuit transfer, 15 to 20 in spray; the tip 10 to 15 mm off with 1.2 mm wire.
#[test]
fn wire_rules_tell_transfer_and_diameter_apart() {
    use gmaw_parameters::{GAS_FLOW_SHORT_CIRCUIT, GAS_FLOW_SPRAY, Setting, Transfer, range};
    assert!(GAS_FLOW_SPRAY.value.low > GAS_FLOW_SHORT_CIRCUIT.value.low);
    let tip = |diameter| range("carbon-steel", diameter, Some(Transfer::ShortCircuit), Setting::TipToWork).unwrap();
    assert!(tip(1.2).envelope.contains(15.0) && tip(0.8).envelope.contains(6.0));
    let mechanized = gtaw_starting_points::rows().iter().filter(|row| row.mechanized);
    assert!(mechanized.clone().count() == 24 && mechanized.clone().all(|row| row.travel_mm_min.is_some()));
    let spray = &table("spray-transition").unwrap().sources[0];
    assert!(spray.publisher.is_some() && spray.clause.as_deref().is_some_and(|page| page.contains("Table 1-2")));
}
