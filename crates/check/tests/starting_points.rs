//! Published starting points are good practice: made into a procedure, none may raise an error.
//!
//! Sources: the sources named in the handbook tables `gtaw-starting-points` and `electrode-current-series`.

use seamwright_check::check_document;
use seamwright_handbook::tungsten_current::CurrentType;
use seamwright_handbook::tungsten_types::Group;
use seamwright_handbook::{covered_electrodes, electrode_current, gtaw_starting_points as gtaw, tungsten_current};
use seamwright_model::load;

fn errors(name: &str, text: &str) -> Vec<String> {
    let loaded = load(name, text.as_bytes()).unwrap_or_else(|(_, faults)| panic!("{name}: {faults:#?}\n{text}"));
    let outcome = check_document(&loaded.document);
    let loud = outcome.findings.iter().filter(|finding| finding.severity.as_str() == "error");
    loud.map(|finding| format!("{}: {}", finding.check, finding.message)).collect()
}

/// A metal and a filler of a family of the starting points.
fn example(family: &str) -> Option<(&'static str, &'static str, &'static str)> {
    Some(match family {
        "carbon-steel" | "steel" => ("S235JR", "ER70S-2", "DCEN"),
        "low-alloy-steel" => ("16Mo3", "ER80S-D2", "DCEN"),
        "stainless" | "austenitic-stainless" => ("304L", "ER308L", "DCEN"),
        "aluminium" | "aluminium-heat-treatable" => ("6061-T6", "ER4043", "AC"),
        "aluminium-magnesium" => ("5083-H111", "ER5183", "AC"),
        "copper" => ("Cu-ETP", "ERCu", "DCEN"),
        "titanium" => ("Grade 2", "ERTi-2", "DCEN"),
        "nickel" | "nickel-chromium" => ("N06600", "ERNiCr-3", "DCEN"),
        "magnesium" => ("AZ31B", "ERAZ61A", "AC"),
        _ => return None,
    })
}

#[test]
fn no_published_gtaw_starting_point_raises_an_error() {
    let mut tried = 0;
    for row in gtaw::rows() {
        for family in &row.metals {
            let Some((metal, filler, _)) = example(family) else { panic!("no example for {family}") };
            let polarity = row.polarity.as_str();
            // A row with a range of electrodes: the one whose usual range holds the current.
            let kind = if polarity == "AC" { CurrentType::Ac } else { CurrentType::Dcen };
            let fits = tungsten_current::diameters_for(Group::Oxide, kind, row.current_a.high);
            let electrode = fits
                .iter()
                .copied()
                .find(|size| row.electrode_mm.low - 0.05 <= *size && *size <= row.electrode_mm.high + 0.05)
                .unwrap_or(row.electrode_mm.high);
            let nozzle =
                row.nozzle.map_or(String::new(), |nozzle| format!("torch: {{nozzle: No. {}}}\n    ", nozzle.high));
            let post_flow = (row.current_a.middle() / 10.0).max(8.0).ceil();
            let text = format!(
                "format: 1
document: procedure
identification: {{number: S-1, revision: 1, title: starting point}}
parent_metals: [{{specification: '{metal}', thickness: {} mm}}]
joint: {{type: lap, weld: fillet}}
positions: [PB]
fillers: {{rod: {{designation: {filler}, diameter: {} mm}}}}
processes:
  141:
    polarity: {polarity}
    filler: rod
    tungsten: {{designation: WLa15, diameter: {electrode} mm}}
    {nozzle}shielding_gas: {{designation: I1, flow: {}-{} L/min, post_flow: {post_flow} s}}
runs: [{{run: 1, layer: single, process: 141, current: {}-{} A}}]
",
                (row.thickness_mm.middle() * 100.0).round() / 100.0,
                row.filler_mm.high,
                row.argon_l_min.low,
                row.argon_l_min.high,
                row.current_a.low,
                row.current_a.high,
            );
            let found = errors(family, &text);
            assert!(found.is_empty(), "{found:#?}\n{text}");
            tried += 1;
        }
    }
    assert!(tried > 50, "{tried}");
}

#[test]
fn no_published_electrode_current_raises_an_error() {
    let mut tried = 0;
    for row in electrode_current::series() {
        let polarity = covered_electrodes::get(&row.classification)
            .and_then(|class| class.polarity.first())
            .map_or("DCEP", |polarity| polarity.as_str());
        let metal = if row.classification.starts_with("E3") || row.classification.starts_with("E22") {
            "304L"
        } else {
            "S235JR"
        };
        let text = format!(
            "format: 1
document: procedure
identification: {{number: S-2, revision: 1, title: starting point}}
parent_metals: [{{specification: {metal}, thickness: 10 mm}}]
joint: {{type: tee, weld: fillet}}
positions: [PA]
fillers: {{electrode: {{designation: {}, diameter: {} mm}}}}
processes: {{111: {{polarity: {polarity}, filler: electrode}}}}
runs: [{{run: 1, layer: single, process: 111, current: {}-{} A, voltage: 20-26 V}}]
",
            row.classification, row.diameter_mm, row.range_a.low, row.range_a.high
        );
        let found: Vec<String> = errors(&row.classification, &text)
            .into_iter()
            .filter(|finding| !finding.starts_with("filler-unsuited"))
            .collect();
        assert!(found.is_empty(), "{found:#?}\n{text}");
        tried += 1;
    }
    assert!(tried > 100, "{tried}");
}
