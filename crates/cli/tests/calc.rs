//! `calc` as its users meet it: every calculation in text and JSON, published worked examples, equal answers for equal
//! quantities in other units, and nonsense refused with the reason.

mod common;

use common::seamwright;
use serde_json::Value;

fn json(args: &[&str]) -> Value {
    common::json(&[&["calc"], args, &["--format", "json"]].concat())
}

fn value(args: &[&str], key: &str) -> f64 {
    json(args)["results"][key]["value"].as_f64().unwrap_or_else(|| panic!("{args:?} has no {key}"))
}

fn near(found: f64, expected: f64, tolerance: f64, what: &str) {
    assert!((found - expected).abs() <= tolerance, "{what}: {found}, expected {expected}");
}

const STEEL: &str = "C=0.16,Mn=1.45,Si=0.3";
const V_JOINT: &[&str] = &["weld-metal", "--preparation", "single-v", "--included-angle", "60 deg"];

/// Each calculation with the keys and units that programs rely on.
type Case = (&'static [&'static str], &'static [(&'static str, &'static str)]);
const CALCULATIONS: &[Case] = &[
    (
        &["heat-input", "--process", "135", "--voltage", "24 V", "--current", "220 A", "--travel-speed", "360 mm/min"],
        &[("arc_energy", "kJ/mm"), ("heat_input", "kJ/mm")],
    ),
    (
        &["heat-input", "--process", "GMAW", "--arc-power", "4.8 kW", "--travel-speed", "500 mm/min"],
        &[("arc_energy", "kJ/mm"), ("heat_input", "kJ/mm")],
    ),
    (
        &["carbon-equivalent", "--composition", STEEL],
        &[("ce_iiw", "%"), ("cet", "%"), ("pcm", "%"), ("cen", "%"), ("ce_aws", "%")],
    ),
    (
        &[
            "preheat",
            "--composition",
            STEEL,
            "--thickness",
            "30 mm",
            "--heat-input",
            "1.5 kJ/mm",
            "--hydrogen",
            "5 ml/100g",
        ],
        &[("preheating_temperature", "°C")],
    ),
    (
        &[
            "preheat",
            "--method",
            "en-1011-2-a",
            "--composition",
            STEEL,
            "--thickness",
            "30 mm",
            "--heat-input",
            "1.5 kJ/mm",
            "--hydrogen",
            "5 ml/100g",
        ],
        &[("ce_iiw", "%"), ("thickness_without_preheat", "mm")],
    ),
    (
        &[
            "preheat",
            "--method",
            "aws-d1.1-hydrogen-control",
            "--composition",
            STEEL,
            "--thickness",
            "30 mm",
            "--hydrogen",
            "5 ml/100g",
            "--restraint",
            "low",
        ],
        &[("preheating_temperature", "°C"), ("susceptibility_index", "")],
    ),
    (
        &["cooling-time", "--heat-input", "1 kJ/mm", "--thickness", "20 mm", "--preheat", "20 °C"],
        &[("cooling_time_8_5", "s"), ("transition_thickness", "mm")],
    ),
    (
        &["cooling-time", "--cooling-time", "10-20 s", "--thickness", "20 mm", "--preheat", "20 °C"],
        &[("heat_input_low", "kJ/mm"), ("heat_input_high", "kJ/mm")],
    ),
    (
        &["weld-metal", "--preparation", "fillet", "--leg", "6 mm", "--length", "1 m", "--metal", "carbon-steel"],
        &[("cross_section", "mm2"), ("mass", "kg")],
    ),
    (&["gas-supply", "--flow", "10 L/min", "--contents", "10 m3"], &[("flow_time", "h")]),
    (
        &["duty-cycle", "--rated-current", "200 A", "--rated-duty", "60 %", "--current", "250 A"],
        &[("duty_cycle", "%"), ("arc_minutes_in_ten", "min"), ("rest_minutes_in_ten", "min")],
    ),
    (&["filler", "--mass", "1 kg", "--process", "136"], &[("filler_mass", "kg")]),
    (
        &["ferrite", "--composition", "C=0.02,Cr=19.8,Ni=10.2,N=0.05"],
        &[("chromium_equivalent", "%"), ("nickel_equivalent", "%"), ("ferrite_number", "FN")],
    ),
    (&["convert", "3/32 in", "--to", "mm"], &[("value", "mm")]),
    (
        &["hardness", "--composition", STEEL, "--cooling-time", "8 s"],
        &[("hardness", "HV10"), ("martensite_hardness", "HV10"), ("bainite_hardness", "HV10")],
    ),
    (
        &["purge", "--inside-diameter", "50 mm", "--length", "1 m", "--flow", "10 L/min"],
        &[("volume", "L"), ("purge_time", "min"), ("gas", "L")],
    ),
    (&["shrinkage", "--cross-section", "95", "--thickness", "12 mm"], &[("transverse_shrinkage", "mm")]),
    (
        &["preheat", "--method", "aws-d1.1-table", "--category", "B", "--thickness", "50 mm"],
        &[("preheating_temperature", "°C")],
    ),
    (&["throat", "--leg", "6 mm", "--allowable-stress", "140 MPa"], &[("throat", "mm"), ("leg", "mm")]),
];

// EN 1011-2 Annex C: Tp = 697 CET + 160 tanh(d/35) + 62 HD^0.35 + (53 CET - 32) Q - 328, each term as the equation prints it.
#[test]
fn the_working_of_method_b_shows_the_terms_of_its_equation() {
    // CET = 0.2 + 1.5/10 = 0.35.
    let args = ["calc", "preheat", "--composition", "C=0.2,Mn=1.5"];
    let given = ["--thickness", "30 mm", "--hydrogen", "5 ml/100g", "--heat-input", "1.5 kJ/mm"];
    let output = seamwright(&[&args[..], &given[..]].concat());
    let worked = String::from_utf8(output.stdout).unwrap();
    // 697 x 0.35, 160 tanh(30/35), 62 x 5^0.35, (53 x 0.35 - 32) x 1.5, by hand.
    for term in ["243.9", "111.2", "108.9", "-20.18"] {
        assert!(worked.contains(term), "{term}: {worked}");
    }
}

#[test]
fn every_calculation_answers_in_json_with_its_keys_and_units() {
    for (args, keys) in CALCULATIONS {
        let answer = json(args);
        assert_eq!(answer["calculation"], args[0], "{args:?}");
        assert!(!answer["method"].as_str().unwrap().is_empty());
        assert!(args[0] == "convert" || !answer["sources"].as_array().unwrap().is_empty(), "{args:?}");
        for (key, unit) in *keys {
            let result = &answer["results"][key];
            assert!(result["value"].as_f64().is_some_and(f64::is_finite), "{args:?}: {key} is {result}");
            assert_eq!(result["unit"], *unit, "{args:?}: {key}");
        }
    }
}

#[test]
fn every_calculation_shows_its_working_in_text() {
    for (args, keys) in CALCULATIONS {
        let args: Vec<&str> = ["calc"].into_iter().chain(args.iter().copied()).collect();
        let output = seamwright(&args);
        let text = String::from_utf8(output.stdout).unwrap();
        assert_eq!(output.status.code(), Some(0), "{args:?}");
        for part in ["put in", "result"] {
            assert!(text.contains(part), "{args:?}: no {part} in\n{text}");
        }
        // A conversion and a table have no equation.
        let plain = args[1] == "convert" || args.contains(&"aws-d1.1-table");
        assert!(plain || ["equation", "source"].iter().all(|part| text.contains(part)), "{text}");
        for (key, _) in *keys {
            assert!(text.contains(key), "{args:?}: no {key} in\n{text}");
        }
    }
}

// Worked answer of an inspectors' forum on ASME BPVC IX QW-409.1: 29 V, 325 A, 12.5 in/min give 45.24 kJ/in.
#[test]
fn heat_input_agrees_with_a_published_answer() {
    let args =
        ["heat-input", "--process", "121", "--voltage", "29 V", "--current", "325 A", "--travel-speed", "12.5 in/min"];
    near(value(&args, "arc_energy") * 25.4, 45.24, 0.005, "kJ/in");
}

// Line pipe grade B illustration with the IIW formula: 0.70 %.
#[test]
fn carbon_equivalent_agrees_with_a_published_answer() {
    let args = ["carbon-equivalent", "--composition", "C=0.25,Mn=1.4,Cr=0.5,Mo=0.25,V=0.05,Ni=0.5,Cu=0.4"];
    near(value(&args, "ce_iiw"), 0.70, 0.005, "CE");
}

// University course notes on dissimilar metal welding: Ni equivalent 11.3, Cr equivalent 18.8 after Schaeffler.
#[test]
fn equivalents_agree_with_a_published_answer() {
    let args = ["ferrite", "--method", "schaeffler", "--composition", "C=0.02,Mn=1.2,Si=0.4,Cr=18.2,Ni=10.1,Mo=0,Nb=0"];
    near(value(&args, "nickel_equivalent"), 11.3, 0.05, "Ni equivalent");
    near(value(&args, "chromium_equivalent"), 18.8, 0.05, "Cr equivalent");
}

// Electrode consumption handbook, table for V joints of 60 degrees without root face: cm3 a metre, within 2 %.
#[test]
fn volumes_of_v_joints_agree_with_a_published_table() {
    for (thickness, gap, volume) in [
        ("4 mm", "1 mm", 13.0),
        ("6 mm", "1 mm", 27.0),
        ("8 mm", "1.5 mm", 49.0),
        ("10 mm", "2 mm", 77.5),
        ("12 mm", "2 mm", 107.0),
        ("16 mm", "2 mm", 180.0),
        ("20 mm", "2 mm", 271.0),
        ("25 mm", "2 mm", 411.0),
    ] {
        let args: Vec<&str> =
            V_JOINT.iter().copied().chain(["--thickness", thickness, "--root-gap", gap, "--length", "1 m"]).collect();
        near(value(&args, "volume"), volume, volume * 0.02, thickness);
    }
}

// Welding handbook of a consumables maker: fillet of 1/2 in, one foot, 0.283 lb/in3, is 0.424 lb; the density here is 7850 kg/m3.
#[test]
fn mass_of_a_fillet_agrees_with_a_published_answer() {
    let args =
        ["weld-metal", "--preparation", "fillet", "--leg", "1/2 in", "--length", "12 in", "--metal", "carbon-steel"];
    let pounds = value(&args, "mass") / 0.453_592_37;
    near(pounds, 0.424, 0.424 * 0.01, "lb");
}

// Duty cycle by IEC 60974-1 (from memory): 200 A at 60 % is 38.4 % at 250 A.
#[test]
fn duty_cycle_agrees_with_the_handbook() {
    let args = ["duty-cycle", "--rated-current", "200 A", "--rated-duty", "60 %", "--current", "250 A"];
    near(value(&args, "duty_cycle"), 38.4, 1e-9, "duty cycle");
    near(value(&args, "arc_minutes_in_ten"), 3.84, 1e-9, "minutes");
    // Backwards, and 100 % at 154.9 A.
    let current =
        |duty| value(&["duty-cycle", "--rated-current", "200 A", "--rated-duty", "60 %", "--duty", duty], "current");
    near(current("38.4 %"), 250.0, 1e-9, "A");
    near(current("100 %"), 154.9, 0.05, "A");
}

#[test]
fn equal_quantities_in_other_units_give_the_same() {
    for (si, us, key) in [
        (
            &[
                "heat-input",
                "--process",
                "141",
                "--voltage",
                "11 V",
                "--current",
                "120 A",
                "--travel-speed",
                "127 mm/min",
            ][..],
            &[
                "heat-input",
                "--process",
                "GTAW",
                "--voltage",
                "11 V",
                "--current",
                "120 A",
                "--travel-speed",
                "5 in/min",
            ][..],
            "heat_input",
        ),
        (
            &["cooling-time", "--heat-input", "1 kJ/mm", "--thickness", "12.7 mm", "--preheat", "100 °C"],
            &["cooling-time", "--heat-input", "25.4 kJ/in", "--thickness", "1/2 in", "--preheat", "212 °F"],
            "cooling_time_8_5",
        ),
        (
            &["weld-metal", "--preparation", "square", "--thickness", "3.175 mm", "--root-gap", "1.5875 mm"],
            &["weld-metal", "--preparation", "square", "--thickness", "1/8 in", "--root-gap", "1/16 in"],
            "cross_section",
        ),
        (
            &["gas-supply", "--flow", "20 cfh", "--contents", "200 ft3"],
            &["gas-supply", "--flow", "9.438948864 L/min", "--contents", "5663.3693184 L"],
            "flow_time",
        ),
        (
            &["filler", "--mass", "0.45359237 kg", "--process", "135"],
            &["filler", "--mass", "1 lb", "--process", "GMAW"],
            "filler_mass",
        ),
    ] {
        let (one, other) = (value(si, key), value(us, key));
        near(one, other, 1e-9 * one.abs(), key);
    }
}

#[test]
fn a_range_gives_low_middle_and_high() {
    let args = [
        "heat-input",
        "--process",
        "135",
        "--voltage",
        "20-24 V",
        "--current",
        "180-220 A",
        "--travel-speed",
        "240-360 mm/min",
    ];
    let energy = &json(&args)["results"]["arc_energy"];
    // Least voltage and current at the highest speed, and the reverse: 20 x 180 / 6 and 24 x 220 / 4 J/mm.
    near(energy["low"].as_f64().unwrap(), 0.6, 1e-9, "low");
    near(energy["value"].as_f64().unwrap(), 22.0 * 200.0 / 5.0 / 1000.0, 1e-9, "middle");
    near(energy["high"].as_f64().unwrap(), 1.32, 1e-9, "high");
}

#[test]
fn outside_validity_still_computes_and_says_so() {
    let args = [
        "preheat",
        "--composition",
        STEEL,
        "--thickness",
        "200 mm",
        "--heat-input",
        "9 kJ/mm",
        "--hydrogen",
        "5 ml/100g",
    ];
    let answer = json(&args);
    let notes = answer["notes"].to_string();
    assert!(notes.contains("thickness is 200 mm") && notes.contains("heat input is 9 kJ/mm"), "{notes}");
    assert!(answer["results"]["preheating_temperature"]["value"].is_number());
}

#[test]
fn nonsense_is_refused_with_the_reason() {
    for (args, reason) in [
        (
            &[
                "heat-input",
                "--process",
                "135",
                "--voltage",
                "24 V",
                "--current",
                "200 A",
                "--travel-speed",
                "0 mm/min",
            ][..],
            "greater than 0",
        ),
        (
            &["heat-input", "--process", "135", "--voltage", "24", "--current", "200 A", "--travel-speed", "1 mm/s"],
            "no unit",
        ),
        (
            &["heat-input", "--process", "999", "--voltage", "24 V", "--current", "200 A", "--travel-speed", "1 mm/s"],
            "no process",
        ),
        (&["heat-input", "--process", "135", "--travel-speed", "1 mm/s"], "--voltage"),
        (&["cooling-time", "--heat-input", "1 kJ/mm", "--thickness", "10 mm", "--preheat", "500 °C"], "less than 500"),
        (
            &["cooling-time", "--heat-input", "1 kJ/mm", "--thickness", "10 mm", "--preheat", "20 °C", "--f2", "0"],
            "shape factor",
        ),
        (
            &["cooling-time", "--heat-input", "1 kJ/mm", "--thickness", "10 mm", "--preheat", "20 °C", "--shape", "x"],
            "bead on plate",
        ),
        (&["carbon-equivalent", "--composition", "C=60,Mn=50"], "at most 100 %"),
        (&["carbon-equivalent", "--composition", "Xx=1"], "Xx"),
        (&["weld-metal", "--preparation", "square", "--thickness", "-3 mm"], "-3 mm"),
        (&["weld-metal", "--preparation", "zigzag", "--thickness", "3 mm"], "single-v"),
        (&["weld-metal", "--preparation", "single-v", "--thickness", "3 mm"], "--included-angle"),
        (
            &["weld-metal", "--preparation", "single-u", "--thickness", "20 mm", "--included-angle", "20 deg"],
            "--radius",
        ),
        (&["weld-metal", "--preparation", "fillet", "--leg", "6 mm", "--metal", "cheese"], "cheese"),
        (&["gas-supply", "--flow", "8-10 L/min", "--contents", "10 m3"], "one value"),
        (&["duty-cycle", "--rated-current", "200 A", "--rated-duty", "160 %", "--current", "100 A"], "100"),
        (&["filler", "--mass", "1 kg", "--process", "135", "--gas", "steam"], "steam"),
        (&["ferrite", "--composition", "Cr=20", "--parent", "Cr=18", "--dilution", "130 %"], "dilution"),
        (&["convert", "3 mm", "--to", "A"], "A"),
        (&["convert", "3", "--to", "mm"], "unit"),
    ] {
        let args: Vec<&str> = ["calc"].into_iter().chain(args.iter().copied()).collect();
        let output = seamwright(&args);
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{args:?}: {said}");
        assert!(said.contains(reason), "{args:?} should say `{reason}`: {said}");
        assert!(output.stdout.is_empty(), "{args:?}");
    }
}

// AWS D1.1 prequalified minimum preheat of A36 with low-hydrogen electrodes, category B: 12, 25, 50 and 75 mm ask for 32, 50, 150
// and 225 °F (Unified Facilities Criteria UFC 3-320-01A, after the table of AWS D1.1), in whole steps of 5 °C.
#[test]
fn preheat_by_category_agrees_with_a_published_table() {
    for (thickness, fahrenheit) in [("12 mm", 32.0), ("25 mm", 50.0), ("50 mm", 150.0), ("75 mm", 225.0)] {
        let args = ["preheat", "--method", "aws-d1.1-table", "--category", "B", "--thickness", thickness];
        near(value(&args, "preheating_temperature"), (fahrenheit - 32.0) / 1.8, 3.0, thickness);
    }
}

// QW-409.1(b): a bead of 200 mm from 280 mm of electrode is a ratio of 0.714 (own arithmetic).
#[test]
fn bead_length_over_electrode_length_is_shown() {
    let args = [
        "heat-input",
        "--process",
        "111",
        "--voltage",
        "24 V",
        "--current",
        "120 A",
        "--travel-speed",
        "150 mm/min",
        "--bead-length",
        "200 mm",
        "--electrode-length",
        "280 mm",
    ];
    near(value(&args, "bead_length_ratio"), 200.0 / 280.0, 1e-12, "ratio");
}

/// ASME IX QW-409.1(b) measures the bead and needs no travel speed; a self-chosen gas is of no matter for flux cored wire.
#[test]
fn what_is_not_needed_is_not_asked_for() {
    let bead = ["heat-input", "--process", "111", "--bead-length", "150 mm", "--electrode-length", "200 mm"];
    near(value(&bead, "bead_length_ratio"), 0.75, 1e-9, "QW-409.1(b)");
    let filler = value(&["filler", "--mass", "1 kg", "--process", "136", "--gas", "CO2"], "filler_mass");
    near(filler, value(&["filler", "--mass", "1 kg", "--process", "136"], "filler_mass"), 1e-9, "136 with CO2");
}

/// A window of cooling time from thick to thin heat flow names the flow of each end: EN 1011-2 annex D, 20 mm at 100 °C.
#[test]
fn each_end_of_a_window_has_its_heat_flow() {
    let window = json(&["cooling-time", "--cooling-time", "10-20 s", "--thickness", "20 mm", "--preheat", "100 °C"]);
    let results = &window["results"];
    assert_ne!(results["heat_flow_low"], results["heat_flow_high"], "{window}");
}

/// AWS D1.1 Table 5.8 and its annex in inches: 1-1/2 in stands in the row 3/4 through 1-1/2 in (TI 809-26 Table 3-1).
#[test]
fn preheat_in_inches_takes_the_row_of_the_inches() {
    let table = ["preheat", "--method", "aws-d1.1-table", "--category", "B", "--thickness", "1-1/2 in"];
    let found = json(&table);
    assert_eq!(found["results"]["preheating_temperature"]["unit"], "°F", "{found}");
    near(value(&table, "preheating_temperature"), 50.0, 1e-9, "category B");
}

/// ASME VIII-1 Table UCS-56-1 and B31.3 Table 331.1.1 (published): P-1 at 1100 °F (595 °C), 1 h for each inch (25 mm) to 2 in
/// (50 mm), 15 min at least; above 2 h and 15 min for each inch over 2 in. UCS-56.1 and UCS-56(d) as remembered.
#[test]
fn heat_treatment_follows_the_tables_of_construction_codes() {
    let viii = |thickness| ["heat-treatment", "--code", "asme-viii-1", "--p-number", "1", "--thickness", thickness];
    for (thickness, minutes) in [
        ("1/8 in", 15.0),
        ("1/4 in", 15.0),
        ("1 in", 60.0),
        ("2 in", 120.0),
        ("3 in", 135.0),
        ("6 in", 180.0),
        ("25 mm", 60.0),
        ("50 mm", 120.0),
        ("75 mm", 135.0),
    ] {
        near(value(&viii(thickness), "holding_time"), minutes, 1e-6, thickness);
    }
    near(value(&viii("2 in"), "holding_temperature"), 1100.0, 1e-9, "inches");
    near(value(&viii("50 mm"), "holding_temperature"), 595.0, 1e-9, "millimetres");
    near(value(&viii("2 in"), "heating_rate"), 200.0, 1e-9, "400 °F/h over 2 in");
    near(value(&viii("8 in"), "heating_rate"), 100.0, 1e-9, "no less than 100 °F/h");
    near(value(&viii("1/2 in"), "cooling_rate"), 500.0, 1e-9, "500 °F/h at most");
    let lower = [&viii("1 in")[..], &["--temperature", "1000 °F"]].concat();
    near(value(&lower, "holding_time"), 240.0, 1e-6, "100 °F below");
    // Asked for over 1-1/2 in, over 1-1/4 in where it is not preheated to 200 °F.
    let required = |args: &[&str]| json(args)["results"]["required"].clone();
    for (thickness, cold, warm) in
        [("1-1/4 in", "no", "no"), ("1-3/8 in", "yes", "no"), ("1-1/2 in", "yes", "no"), ("1-9/16 in", "yes", "yes")]
    {
        let word = |more: &[&str]| {
            let found = required(&[&viii(thickness)[..], more].concat());
            found.as_str().or_else(|| found["value"].as_str()).map(str::to_owned)
        };
        assert_eq!(word(&[]).as_deref(), Some(cold), "{thickness}");
        assert_eq!(word(&["--preheat", "200 °F"]).as_deref(), Some(warm), "{thickness}");
    }
    let p91 = ["heat-treatment", "--code", "asme-b31.3", "--metal", "P91", "--thickness", "25 mm"];
    near(value(&p91, "holding_temperature"), 705.0, 1e-9, "P-15E");
    near(value(&p91, "holding_temperature_most"), 775.0, 1e-9, "P-15E");
    for (args, word) in [
        (&["heat-treatment", "--code", "x", "--p-number", "1", "--thickness", "1 in"][..], "asme-viii-1"),
        (&["heat-treatment", "--code", "asme-viii-1", "--p-number", "99", "--thickness", "1 in"][..], "P-Number 99"),
        (&[&viii("1 in")[..], &["--temperature", "800 °F"]].concat()[..], "does not permit"),
        (&viii("0 in")[..], "greater than 0"),
    ] {
        let output = seamwright(&[&["calc"], args].concat());
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert!(!output.status.success() && said.contains(word), "{args:?}: {said}");
    }
}
