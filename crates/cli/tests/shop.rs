//! Documents held against a shop, lessons with what they name, and procedures found for a joint, as users meet them.

mod common;

use std::fs;
use std::process::Output;

use common::seamwright;
use serde_json::Value;

fn said(output: &Output) -> String {
    format!("{}{}", String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr))
}

#[test]
fn a_procedure_that_the_shop_can_weld_is_clean_and_names_the_machine() {
    let shop = "examples/shop/shop.yaml";
    let procedure = "procedures/lap-fillet-2-carbon-141.yaml";
    let output = seamwright(&["check", procedure, "--shop", shop]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    assert!(said(&output).contains("141 on AC/DC machine: DCEN, 70-90 A, duty cycle 100 %"), "{}", said(&output));
    let output = seamwright(&["check", procedure, "--shop", shop, "--format", "json"]);
    let report: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(report["files"][0]["machines"][0]["machine"], "AC/DC machine");
    assert_eq!(report["files"][0]["machines"][0]["duty_cycle"]["unit"], "%");
}

#[test]
fn a_procedure_that_no_machine_welds_is_an_error_once() {
    let output = seamwright(&[
        "check",
        "procedures/butt-10-s355-135.yaml",
        "--shop",
        "examples/shop/shop.yaml",
        "--format",
        "json",
    ]);
    assert_eq!(output.status.code(), Some(1), "{}", said(&output));
    let report: Value = serde_json::from_slice(&output.stdout).unwrap();
    let unfit: Vec<&Value> = report["files"][0]["findings"]
        .as_array()
        .unwrap()
        .iter()
        .filter(|finding| finding["check"] == "machine-unfit")
        .collect();
    assert_eq!(unfit.len(), 1, "{unfit:#?}");
    assert_eq!(unfit[0]["message"], "no machine of the shop welds 135");
}

#[test]
fn a_shop_that_is_none_is_refused_with_its_file_and_place() {
    let folder = tempfile::tempdir().unwrap();
    let bare = folder.path().join("bare.yaml");
    let head = "format: 1\ndocument: shop\nidentification: {number: S-9, revision: 1, title: Trial}\n";
    fs::write(&bare, head).unwrap();
    let broken = folder.path().join("broken.yaml");
    fs::write(&broken, format!("{head}power_sources: [{{name: one, current: 10-160}}]\n")).unwrap();
    for (shop, texts) in [
        (bare.to_str().unwrap(), ["names no power source", "bare.yaml"]),
        (broken.to_str().unwrap(), ["broken.yaml:4:", "unit"]),
        ("procedures/butt-2-304l-141.yaml", ["a shop is meant", "procedure"]),
        ("nowhere.yaml", ["nowhere.yaml", "cannot be read"]),
    ] {
        let output = seamwright(&["check", "procedures/butt-2-304l-141.yaml", "--shop", shop]);
        assert_eq!(output.status.code(), Some(2), "{}", said(&output));
        for text in texts {
            assert!(said(&output).contains(text), "{text:?} is not in:\n{}", said(&output));
        }
    }
}

#[test]
fn a_lesson_that_names_a_file_that_is_not_there_is_refused_at_its_line() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("lesson.yaml");
    let head = "format: 1\ndocument: lesson\nidentification: {number: L-9, revision: 1, title: Trial}\n";
    fs::write(&path, format!("{head}procedure: gone.yaml\nlearners: 4\nduration: 2 h\n")).unwrap();
    let output = seamwright(&["check", path.to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(2), "{}", said(&output));
    assert!(said(&output).contains("lesson.yaml:4:12") && said(&output).contains("gone.yaml"), "{}", said(&output));
    fs::write(&path, format!("{head}procedure: gone.yaml\nlearners: -4\nduration: 2 h\n")).unwrap();
    let output = seamwright(&["check", path.to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(2), "{}", said(&output));
    assert!(said(&output).contains("lesson.yaml:5:"), "{}", said(&output));
}

#[test]
fn procedures_are_found_for_a_joint_with_what_is_off_by_how_much() {
    let ask = |thickness: &str, position: &str| {
        let output = seamwright(&[
            "find",
            "--metal",
            "S235JR",
            "--thickness",
            thickness,
            "--joint",
            "lap",
            "--position",
            position,
            "--process",
            "GTAW",
            "--format",
            "json",
            "procedures",
        ]);
        let report = serde_json::from_slice::<Value>(&output.stdout).unwrap();
        assert_eq!(output.status.code(), Some(i32::from(report["covered"] == 0)), "{}", said(&output));
        report
    };
    let first = |report: &Value| report["procedures"][0].clone();
    // The lap fillet of the library is of 2 mm, in PB, which AWS calls 2F.
    for position in ["PB", "2F"] {
        let report = ask("2 mm", position);
        assert_eq!(report["covered"], 1, "{report:#}");
        assert_eq!(first(&report)["number"], "P-001");
    }
    let nearly = ask("2.5 mm", "PB");
    assert_eq!(first(&nearly)["verdict"], "nearly covered");
    assert_eq!(first(&nearly)["off"][0]["what"], "thickness");
    assert!((first(&nearly)["off"][0]["by"]["value"].as_f64().unwrap() - 0.5).abs() < 1e-9);
    let thinner = ask("1/16 in", "PB");
    assert!((first(&thinner)["off"][0]["by"]["value"].as_f64().unwrap() - (1.5875 - 2.0)).abs() < 1e-9);
    assert_eq!(ask("2.5 mm", "PF")["nearly_covered"], 0);
}

#[test]
fn a_joint_of_two_metals_is_not_covered_by_a_procedure_for_one() {
    let ask = |args: &[&str]| {
        let output = seamwright(
            &[&["find", "--joint", "tee", "--process", "141", "--format", "json"], args, &["procedures"]].concat(),
        );
        let report: Value = serde_json::from_slice(&output.stdout).unwrap();
        let list = report["procedures"].as_array().unwrap().clone();
        let covered = list.iter().filter(|one| one["verdict"] == "covered").map(|one| one["number"].to_string());
        covered.collect::<Vec<_>>()
    };
    assert_eq!(ask(&["--metal", "S355J2", "--to", "304L"]), ["\"P-029\""]);
    assert_eq!(ask(&["--metal", "304L", "--to", "S355J2"]), ["\"P-029\""]);
    assert!(!ask(&["--metal", "304L"]).contains(&"\"P-029\"".to_owned()));
}

#[test]
fn what_cannot_be_found_is_refused_with_the_nearest_names() {
    for (args, text) in [
        (["--metal", "S235JT"], "the nearest are S235"),
        (["--position", "PX"], "PX"),
        (["--process", "TOG"], "TOG"),
        (["--thickness", "3"], "unit"),
        (["--thickness", "0 mm"], "greater than 0"),
        (["--joint", "scarf"], "butt"),
    ] {
        let output = seamwright(&["find", args[0], args[1], "procedures"]);
        assert_eq!(output.status.code(), Some(2), "{args:?} {}", said(&output));
        assert!(said(&output).contains(text), "{text:?} is not in:\n{}", said(&output));
    }
}

#[test]
fn a_lesson_prints_the_kit_of_its_class() {
    let output = seamwright(&["check", "examples/lesson/lesson.yaml"]);
    assert_eq!(output.status.code(), Some(0), "{}", said(&output));
    for text in
        ["44 of S235JR, 2 x 100 x 150 mm", "9 rods", "24 of WLa15 1.6 mm", "0.74 m3 of I1", "2 turns", "7.68 EUR"]
    {
        assert!(said(&output).contains(text), "{text:?} is not in:\n{}", said(&output));
    }
    let output = seamwright(&["check", "examples/lesson/lesson.yaml", "--format", "json"]);
    let report: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_eq!(report["files"][0]["kit"]["time_in_booths"]["value"], 126.0);
    assert_eq!(report["files"][0]["kit"]["fillers"][0]["mass"]["unit"], "kg");
}

/// What an owner types in place of a line of a shop's file: understood, where nothing is to be said, or told with what to write.
#[test]
fn what_an_owner_types_is_understood_or_told_as_it_is_to_be_written() {
    let shop = fs::read_to_string(common::root().join("examples/week/shop.yaml")).unwrap();
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("shop.yaml");
    let argon = "{designation: argon, contents: 330 cubic feet, count: 1}";
    for (line, typed, says) in [
        ("labour: $65 per hour", "labour: 65 an hour", ""),
        ("labour: $65 per hour", "labour: $65/hr.", ""),
        ("labour: $65 per hour", "labour: 65 per man-hour", ""),
        ("labour: $65 per hour", "labour: 65", "write `65 per h`"),
        ("labour: $65 per hour", "labour: 65,50 € per h", "write `65.50 per h`"),
        ("labour: $65 per hour", "labour: USD 65 per h", "write `65 per h`"),
        ("labour: $65 per hour", "labour: 4.50 per lb", "write for example `4.5 per h`"),
        ("labour: $65 per hour", "shop_rate: 65 per h", "did you mean `labour`?"),
        ("electricity: 0.14 per kWh", "electricity: .14/kwh", ""),
        ("electricity: 0.14 per kWh", "electricity: 14 cents per kWh", "write `0.14 per kWh`"),
        ("{other: 9 per month}", "{other: $12/mo.}", ""),
        ("{other: 9 per month}", "{other: 12 mo}", "write `12 per month`"),
        ("least_charge: 90 per job", "least_charge: 90", "write `90 per job`"),
        ("least_charge: 90 per job", "minimum: 90 per job", "did you mean `least_charge`?"),
        ("overhead: 30 %", "overhead: 30 percent", ""),
        ("overhead: 30 %", "overhead: $25/hr", "write `overhead_per_hour: $25/hr`"),
        ("package: 33 lb, packages: 2", "package: 33#, packages: 2", ""),
        ("package: 33 lb, packages: 2", "package: 33 lb, packages: 2 spools", "write `2`"),
        ("package: 33 lb, packages: 2", "package: 33 lb, spools: 2", "did you mean `packages`?"),
        ("package: 33 lb, packages: 2", "weight: 66 lb", "did you mean `mass`?"),
        ("diameter: 1.2 mm", "diameter: .045\"", ""),
        ("diameter: 1.2 mm", "diameter: 3/64", "write `3/64 in`"),
        ("diameter: 1.2 mm", "size: .045\"", "did you mean `diameter`?"),
        ("designation: E7018,", "designation: 7018,", "did you mean `E7018`?"),
        ("length: 36 in", "length: 1 yd", "1 yd is 3 ft"),
        ("{nozzle: \"#5\", count: 6}", "{nozzle: \"#8 cup\", count: 6}", ""),
        ("{nozzle: \"#5\", count: 6}", "{nozzle: #8, count: 6}", "put quotation marks around"),
        ("{nozzle: \"#5\", count: 6}", "{cup: 8, qty: 6}", "did you mean `nozzle`?"),
        (argon, "{designation: straight argon, contents: 125 cuft}", ""),
        (argon, "{composition: {argon: 75 %, co2: 25 %}, contents: 125 CF}", ""),
        (argon, "{composition: 75/25, contents: 125 ft3}", "write `designation: 75/25`"),
        (argon, "{composition: {Ar: 75, CO2: 30}, contents: 125 ft3}", "add up to 105 %"),
        (argon, "{designation: argon, size: T}", "did you mean `contents`?"),
        (argon, "{designation: argon, contents: T}", "write what a full one holds, as its label says"),
        (argon, "{designation: argon, contents: \"#4\"}", "write what a full one holds"),
        (argon, "{designation: argon, capacity: 11 gal, pressure: 2200 psi}", "1 US gallon is 3.785 L"),
        (
            argon,
            "{designation: argon, capacity: 50 L, pressure: 2200#}",
            "write a pressure, for example `3 bar` or `45 psi`",
        ),
        ("hours: 8 h", "hours: 8½ hrs", ""),
        ("hours: 8 h", "hours: 7-3:30", "write how long it is"),
        ("days: 5", "days: 5 days", "write `5`"),
        ("days: 5", "days: Mon-Fri", "write its digits"),
        ("fit_up: 5 min per piece", "fit_up: 5 mins each", ""),
        ("fit_up: 5 min per piece", "fitup: 5 min/pc", "did you mean `fit_up`?"),
        ("set_up: 30 min per job", "set_up: ½ hr per job", ""),
        (
            "[{current: 350 A, duty_cycle: 40 %}, {current: 250 A, duty_cycle: 100 %}]",
            "[350 A @ 40%]",
            "write its keys: `{current: 90 A, duty_cycle: 70 %}`",
        ),
        ("processes: [135, 136, 138]", "processes: MIG", "write a list: `[MIG]`"),
        ("processes: [135, 136, 138]", "processes: [MIG, flux core]", ""),
        ("power_sources:", "machines:", "did you mean `power_sources`?"),
        ("gas_cylinders:", "bottles:", "did you mean `gas_cylinders`?"),
    ] {
        assert!(shop.contains(line), "{line}");
        fs::write(&path, shop.replacen(line, typed, 1)).unwrap();
        let output = seamwright(&["check", path.to_str().unwrap()]);
        let all = said(&output);
        let silent = output.status.code() == Some(0) && !all.contains("caution[") && !all.contains("error[");
        assert!(if says.is_empty() { silent } else { all.contains(says) }, "{typed}: {all}");
    }
}
