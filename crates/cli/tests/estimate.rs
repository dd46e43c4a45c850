//! `estimate` as its users meet it: lists of joints, cost at a shop's rates, and lists that cannot be read.

mod common;

use std::fs;
use std::path::{Path, PathBuf};

use common::{json, seamwright};
use serde_json::Value;

const BUTT: &str = "procedures/butt-3-carbon-141.yaml";
const LAP: &str = "procedures/lap-fillet-2-carbon-141.yaml";

fn file(folder: &Path, name: &str, text: &str) -> PathBuf {
    let path = folder.join(name);
    fs::write(&path, text).unwrap();
    path
}

fn number(value: &Value) -> f64 {
    value["value"].as_f64().unwrap_or_else(|| panic!("{value}"))
}

#[test]
fn a_list_of_joints_reads_the_same_from_yaml_and_csv() {
    let folder = tempfile::tempdir().unwrap();
    let csv = file(
        folder.path(),
        "joints.csv",
        "joint,length,count,procedure\n\"frame, left\",600 mm,4,P-002\nlid,1.2 m,1,P-001\nfoot,3 in,,P-001\n",
    );
    let yaml = file(
        folder.path(),
        "joints.yaml",
        "- {joint: 'frame, left', length: 600 mm, count: 4, procedure: P-002}\n- {joint: lid, length: 1.2 m, procedure: P-001}\n- {joint: foot, length: 3 in, count: 1, procedure: P-001}\n",
    );
    let of = |list: &Path| json(&["estimate", BUTT, LAP, "--joints", list.to_str().unwrap(), "--format", "json"]);
    let (one, other) = (of(&csv), of(&yaml));
    assert_eq!(one, other);
    // As it comes from a spreadsheet and a drawing office, and as `job` reads it.
    let office = file(
        folder.path(),
        "office.txt",
        "Joint;Length;Qty;WPS\nframe, left;600 mm;x4;p-002\nlid;1.2 m;1 pc;P-001\nfoot;3\";;P-001\n",
    );
    assert_eq!(of(&office), one);
    let lengths: Vec<f64> = one["estimates"].as_array().unwrap().iter().map(|one| number(&one["length"])).collect();
    assert!((lengths[0] - 2400.0).abs() < 1e-9 && (lengths[1] - 1276.2).abs() < 1e-9, "{lengths:?}");
    let sum: f64 = one["estimates"].as_array().unwrap().iter().map(|one| number(&one["weld_metal"])).sum();
    assert!((number(&one["total"]["weld_metal"]) - sum).abs() < 1e-12);
}

const SHOP: &str = "format: 1
document: shop
identification: {number: S-1, revision: 1, title: Invented workshop}
power_sources: [{name: Source, processes: [141], current: 5-200 A, polarity: [DCEN]}]
rates:
  currency: EUR
  labour: 60 per h
  filler: {ER70S-2: 10 per kg}
  gas: {I1: 8 per m3}
  electricity: 0.30 per kWh
";

#[test]
fn cost_is_amounts_times_the_rates_of_the_shop() {
    let folder = tempfile::tempdir().unwrap();
    let shop = file(folder.path(), "shop.yaml", SHOP);
    let whole = json(&["estimate", BUTT, "--length", "2 m", "--shop", shop.to_str().unwrap(), "--format", "json"]);
    let one = &whole["estimates"][0];
    let by_hand = number(&one["working_time"]) / 60.0 * 60.0
        + number(&one["fillers"][0]["filler_mass"]) * 10.0
        + number(&one["gases"][0]["volume"]) / 1000.0 * 8.0
        + number(&one["energy"]) * 0.30;
    let total = one["cost"]["total"].as_f64().unwrap();
    assert!((total - by_hand).abs() < 1e-9, "{total}, by hand {by_hand}");
    assert_eq!(whole["total"]["cost"]["currency"], "EUR");
    let text =
        String::from_utf8(seamwright(&["estimate", BUTT, "--length", "2 m", "--shop", shop.to_str().unwrap()]).stdout)
            .unwrap();
    assert!(
        text.contains("EUR") && text.contains("taken where nothing is stated:") && text.contains("equations:"),
        "{text}"
    );
}

// 10.7 m3 in each of two cylinders and 15 kg of rod, less what the two amounts say; a job takes from one shelf.
#[test]
fn what_is_left_of_the_stock_is_what_it_holds_less_what_the_work_takes() {
    let folder = tempfile::tempdir().unwrap();
    let stock = "stock:
  fillers: [{designation: ER70S-2, diameter: 2.4 mm, mass: 15 kg}]
  gas_cylinders: [{designation: I1, contents: 10.7 m3, count: 2}]
";
    let shop = file(folder.path(), "shop.yaml", &format!("{SHOP}{stock}"));
    let shop = shop.to_str().unwrap();
    let whole = json(&["estimate", BUTT, "--length", "2 m", "--shop", shop, "--format", "json"]);
    let one = &whole["estimates"][0];
    let stock = whole["total"]["stock"].as_array().unwrap();
    let of = |what: &str| stock.iter().find(|own| own["what"] == what).unwrap_or_else(|| panic!("{what}: {stock:?}"));
    for (what, in_stock, used) in [
        ("gas I1", 21_400.0, number(&one["gases"][0]["volume"])),
        ("filler ER70S-2, 2.4 mm", 15.0, number(&one["fillers"][0]["filler_mass"])),
    ] {
        let own = of(what);
        assert!((number(&own["in_stock"]) - in_stock).abs() < 1e-9, "{own}");
        assert!((number(&own["left"]) - (in_stock - used)).abs() < 1e-9 && used > 0.0, "{own}");
    }
    let both = json(&["estimate", BUTT, LAP, "--length", "2 m", "--shop", shop, "--format", "json"]);
    let sum: f64 = both["estimates"].as_array().unwrap().iter().map(|one| number(&one["gases"][0]["volume"])).sum();
    let gas = both["total"]["stock"].as_array().unwrap().iter().find(|own| own["what"] == "gas I1").unwrap();
    assert!((number(&gas["used"]) - sum).abs() < 1e-9, "{gas}");
    let short = seamwright(&["estimate", BUTT, "--length", "900 m", "--shop", shop]);
    assert!(String::from_utf8_lossy(&short.stdout).contains("short by"));
}

#[test]
fn csv_has_a_line_for_each_run_with_units_in_its_headings() {
    let output =
        seamwright(&["estimate", "procedures/pipe-butt-p235gh-141-111.yaml", "--length", "190 mm", "--format", "csv"]);
    let text = String::from_utf8(output.stdout).unwrap();
    let lines: Vec<&str> = text.lines().collect();
    assert!(lines[0].contains("weld_metal_kg") && lines[0].contains("gas_L"), "{}", lines[0]);
    let columns = lines[0].split(',').count();
    assert!(lines.len() > 2 && lines.iter().all(|line| line.split(',').count() == columns), "{text}");
}

#[test]
fn bad_input_is_refused_with_the_place_and_the_reason() {
    let folder = tempfile::tempdir().unwrap();
    let list = |name: &str, text: &str| file(folder.path(), name, text).display().to_string();
    let shop = list(
        "no-rates.yaml",
        "format: 1\ndocument: shop\nidentification: {number: S-1, revision: 1, title: Bare}\npower_sources: [{name: A, processes: [141]}]\n",
    );
    for (args, reason) in [
        (vec![BUTT.to_owned()], "--length"),
        (vec![BUTT.to_owned(), "--length".into(), "2".into()], "no unit"),
        (vec![BUTT.to_owned(), "--length".into(), "0 mm".into()], "greater than 0"),
        (vec![BUTT.to_owned(), "--length".into(), "1-2 m".into()], "one value"),
        (
            vec![BUTT.to_owned(), "--joints".into(), list("a.csv", "joint,length,count\na,2 m,-1\n")],
            "a.csv:2: pieces: `-1` is no number of pieces",
        ),
        (vec![BUTT.to_owned(), "--joints".into(), list("b.csv", "joint,length,count\na,2,1\n")], "b.csv:2: length"),
        (vec![BUTT.to_owned(), "--joints".into(), list("c.csv", "joint,metres\na,2\n")], "length"),
        (vec![BUTT.to_owned(), "--joints".into(), list("d.csv", "joint,length,colour\na,2 m,red\n")], "colour"),
        (vec![BUTT.to_owned(), "--joints".into(), list("l.csv", "joint,length,leg\na,2 m,5 mm\n")], "l.csv:2: leg"),
        (vec![BUTT.to_owned(), "--joints".into(), list("m.csv", "")], "m.csv: is empty"),
        (vec![BUTT.to_owned(), "--joints".into(), list("e.csv", "joint,length\n")], "no joints"),
        (vec![BUTT.to_owned(), "--joints".into(), list("f.yaml", "- {joint: a}\n")], "length"),
        (
            vec![
                BUTT.to_owned(),
                "--joints".into(),
                list("i.yaml", "- {joint: a, length: 1 m}\n- {joint: b, length: 1 furlong}\n"),
            ],
            "i.yaml:2:3: length: `1 furlong`",
        ),
        (
            vec![BUTT.to_owned(), "--joints".into(), list("k.yaml", "- {joint: a, length: 1 m, cuont: 2}\n")],
            "k.yaml:1:27: unknown field `cuont`",
        ),
        (vec![BUTT.to_owned(), "--joints".into(), "nowhere.csv".into()], "nowhere.csv: cannot be read: no such file"),
        (vec![BUTT.to_owned(), "--joints".into(), list("g.csv", "joint,length,procedure\na,2 m,P-999\n")], "P-999"),
        (vec![BUTT.to_owned(), LAP.to_owned(), "--joints".into(), list("h.csv", "joint,length\na,2 m\n")], "procedure"),
        (vec![BUTT.to_owned(), "--length".into(), "1 m".into(), "--shop".into(), BUTT.into()], "a shop is meant"),
        (vec![BUTT.to_owned(), "--length".into(), "1 m".into(), "--shop".into(), shop], "no rates and no stock"),
    ] {
        let args: Vec<&str> = ["estimate"].into_iter().chain(args.iter().map(String::as_str)).collect();
        let output = seamwright(&args);
        let said = String::from_utf8_lossy(&output.stderr).into_owned();
        assert_eq!(output.status.code(), Some(2), "{args:?}: {said}");
        assert!(said.contains(reason), "{args:?} should say `{reason}`: {said}");
        assert!(output.stdout.is_empty(), "{args:?}");
    }
}

#[test]
fn the_estimate_sheet_needs_a_length_and_prints_the_same_figures() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().to_str().unwrap();
    let without = seamwright(&["render", BUTT, "--out", out, "--sheet", "estimate"]);
    assert_eq!(without.status.code(), Some(2));
    assert!(String::from_utf8_lossy(&without.stderr).contains("--length"));
    assert_eq!(fs::read_dir(folder.path()).unwrap().count(), 0);
    let with = seamwright(&["render", BUTT, "--out", out, "--sheet", "estimate", "--length", "2 m"]);
    assert_eq!(with.status.code(), Some(0), "{}", String::from_utf8_lossy(&with.stderr));
    let page = fs::read_to_string(folder.path().join("butt-3-carbon-141.estimate.html")).unwrap();
    // A page holds a number and its unit together.
    let page = page.replace("<span class=\"q\">", "").replace("</span>", "");
    let whole = json(&["estimate", BUTT, "--length", "2 m", "--format", "json"]);
    for assumption in whole["estimates"][0]["assumptions"].as_array().unwrap() {
        assert!(page.contains(assumption["text"].as_str().unwrap()), "{assumption}");
    }
    assert!(folder.path().join("butt-3-carbon-141.estimate.pdf").exists());
}

#[test]
fn what_is_taken_or_left_out_is_said_once() {
    let folder = tempfile::tempdir().unwrap();
    let drafted = seamwright(&[
        "draft",
        "--process",
        "135",
        "--metal",
        "S355J2",
        "--thickness",
        "25 mm",
        "--joint",
        "butt",
        "--position",
        "PA",
    ]);
    let page = String::from_utf8(drafted.stdout).unwrap();
    let words = |name: &str, text: &str| -> Vec<String> {
        let path = file(folder.path(), name, text);
        let whole = json(&["estimate", path.to_str().unwrap(), "--length", "2 m", "--format", "json"]);
        let assumptions = whole["estimates"][0]["assumptions"].as_array().unwrap().clone();
        assumptions.iter().map(|own| own["text"].as_str().unwrap().to_owned()).collect()
    };
    let gouged = "weld metal that fills what back gouging takes out is not counted";
    let both = words("both.yaml", &page);
    assert!(both.iter().any(|text| text == gouged), "{both:#?}");
    // Gas for a fed wire stops with the arc: said once for all nine runs.
    assert_eq!(both.iter().filter(|text| text.contains("post_flow")).count(), 1, "{both:#?}");
    let told = page.find("back_gouging: ").unwrap();
    let end = told + page[told..].find('\n').unwrap();
    let one = words("one.yaml", &format!("{}back_gouging: none{}", &page[..told], &page[end..]));
    assert!(!one.iter().any(|text| text == gouged), "{one:#?}");
}

/// The estimate sheet of a fillet whose leg is made another, as page text and as PDF text.
fn sheet(folder: &Path, leg: &str) -> [String; 2] {
    let text = fs::read_to_string(common::root().join("procedures/tee-fillet-6-s235-111.yaml")).unwrap();
    let other = text.replacen("weld_size: {leg: 5 mm}", &format!("weld_size: {{leg: {leg}}}"), 1);
    assert_ne!(other, text);
    let procedure = file(folder, "tee.yaml", &other);
    let shop = "format: 1
document: shop
identification: {number: S-1, revision: 1, title: Invented workshop}
power_sources: [{name: Source, processes: [111], current: 10-250 A, polarity: [DCEP, DCEN]}]
rates: {currency: EUR, labour: 60 per h, filler: {other: 10 per kg}, electricity: 0.30 per kWh, mark_up: 20 %, least_charge: 1000 per job}
working: {hours: 8 h}
";
    let shop = file(folder, "shop.yaml", shop);
    let out = folder.join(leg);
    let text = |path: &Path| path.display().to_string();
    let output = seamwright(&[
        "render",
        &text(&procedure),
        "--sheet",
        "estimate",
        "--length",
        "2 m",
        "--shop",
        &text(&shop),
        "--out",
        &text(&out),
    ]);
    assert_ne!(output.status.code(), Some(2), "{}", String::from_utf8_lossy(&output.stderr));
    let said = seamwright(&["estimate", &text(&procedure), "--length", "2 m", "--shop", &text(&shop)]);
    [fs::read_to_string(out.join("tee.estimate.html")).unwrap(), String::from_utf8_lossy(&said.stdout).into_owned()]
}

// What the answer on the terminal says of the price, the sheet says too.
#[test]
fn the_sheet_shows_the_price_and_that_the_runs_cannot_make_the_size() {
    let folder = tempfile::tempdir().unwrap();
    let [page, said] = sheet(folder.path(), "4.5 mm");
    assert!(said.contains("price          1000.00 EUR, the least charge") && said.contains("mark-up"), "{said}");
    for words in ["1000.00 EUR", "Price, the least charge", "mark-up", "working days"] {
        assert!(page.contains(words), "{words}: {page}");
    }
    assert!(!page.contains("do not make the size") && !page.contains("provisional"));
    let [page, said] = sheet(folder.path(), "20 mm");
    assert!(said.contains("holds only if the runs are planned anew"), "{said}");
    for words in ["Cannot make the weld as planned", "do not make the size", "Price, provisional"] {
        assert!(page.contains(words), "{words}: {page}");
    }
}
