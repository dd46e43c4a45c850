//! Published starting points are good practice: made into a procedure, none may raise an error.
//!
//! Sources: the sources named in the handbook tables `gtaw-starting-points`, `electrode-current-series`, `gmaw-parameters`,
//! `gmaw-starting-points` and `fcaw-parameters`.

use seamwright_check::check_document;
use seamwright_handbook::gmaw_parameters::Transfer;
use seamwright_handbook::tungsten_current::CurrentType;
use seamwright_handbook::tungsten_types::Group;
use seamwright_handbook::{Band, covered_electrodes, electrode_current, filler_classes, tungsten_current};
use seamwright_handbook::{fcaw_parameters as fcaw, gmaw_parameters as gmaw, gtaw_starting_points as gtaw};
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
        for family in row.metals {
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
        let polarity = covered_electrodes::get(row.classification)
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
        let found: Vec<String> = errors(row.classification, &text)
            .into_iter()
            .filter(|finding| !finding.starts_with("filler-unsuited"))
            .collect();
        assert!(found.is_empty(), "{found:#?}\n{text}");
        tried += 1;
    }
    assert!(tried > 100, "{tried}");
}

/// A wire setting as YAML, where the row has it: `key: 3-5 unit`.
fn setting(key: &str, range: Option<Band>, unit: &str) -> String {
    range.map_or(String::new(), |range| format!(", {key}: {}-{} {unit}", range.low, range.high))
}

/// A procedure with one run of a wire process; `run` is the run's own settings, each with a comma before it.
fn wire_procedure(process: &str, metal: (&str, f64), filler: (&str, f64), polarity: &str, run: &str) -> String {
    let ((metal, thickness), (filler, diameter)) = (metal, filler);
    format!(
        "format: 1
document: procedure
identification: {{number: S-3, revision: 1, title: starting point}}
parent_metals: [{{specification: '{metal}', thickness: {thickness} mm}}]
joint: {{type: tee, weld: fillet}}
positions: [PA]
fillers: {{wire: {{designation: '{filler}', diameter: {diameter} mm}}}}
processes: {{{process}: {{polarity: {polarity}, filler: wire}}}}
runs: [{{run: 1, layer: single, process: {process}{run}}}]
"
    )
}

/// The errors of a procedure, which must have compared its current with the range of its wire.
fn wire_errors(text: &str, compared_by: &str) -> Vec<String> {
    let loaded = load("S-3", text.as_bytes()).unwrap_or_else(|(_, faults)| panic!("{faults:#?}\n{text}"));
    let outcome = check_document(&loaded.document);
    assert!(
        outcome.comparisons.iter().any(|compared| compared.check == compared_by),
        "{compared_by} is silent\n{text}"
    );
    errors("S-3", text)
}

/// Process, metal, wire and gas for a wire and mode of transfer of the tables.
fn wire_example(wire: &str, transfer: Transfer) -> (&'static str, &'static str, &'static str, &'static str) {
    match (wire, transfer) {
        ("carbon-steel", Transfer::ShortCircuit) => ("135", "S235JR", "ER70S-6", "M21-ArC-20"),
        ("carbon-steel", _) => ("135", "S355J2+N", "ER70S-6", "M20-ArC-10"),
        ("stainless", _) => ("135", "304L", "ER308LSi", "M12-ArC-2"),
        ("aluminium", _) => ("131", "5083-H111", "ER5183", "I1"),
        ("metal-cored", _) => ("138", "S355J2+N", "E70C-6M", "M21-ArC-18"),
        ("copper", _) => ("131", "Cu-DHP", "ERCu", "I1"),
        ("nickel", _) => ("131", "N06625", "ERNiCrMo-3", "I1"),
        ("titanium", _) => ("131", "Grade 2", "ERTi-2", "I1"),
        _ => panic!("no example for {wire}"),
    }
}

#[test]
fn no_published_gmaw_setting_raises_an_error() {
    for row in gmaw::rows() {
        let (process, metal, filler, gas) = wire_example(row.wire, row.transfer);
        let pulse =
            row.peak_a.zip(row.background_a).zip(row.frequency_hz).map_or(String::new(), |((peak, back), hz)| {
                format!(
                    ", pulse: {{peak_current: {}-{} A, background_current: {}-{} A, frequency: {}-{} Hz}}",
                    peak.low, peak.high, back.low, back.high, hz.low, hz.high
                )
            });
        let run = [
            setting("current", Some(row.current_a), "A"),
            setting("voltage", Some(row.voltage_v), "V"),
            setting("wire_feed_speed", row.wire_feed_m_min, "m/min"),
            setting("contact_tip_to_work", row.tip_to_work_mm, "mm"),
            setting("travel_speed", row.travel_mm_min, "mm/min"),
            format!(", transfer_mode: {}", row.transfer.as_str()),
            format!(", shielding_gas: {{designation: {gas}{}}}", setting("flow", row.gas_flow_l_min, "L/min")),
            pulse,
        ];
        let thickness = row.thickness_mm.map_or(5.0, |range| range.middle());
        let text = wire_procedure(process, (metal, thickness), (filler, row.diameter_mm), "DCEP", &run.concat());
        let found = wire_errors(&text, "wire-current-above-range");
        assert!(found.is_empty(), "{found:#?}\n{text}");
    }
    assert!(gmaw::rows().len() > 30);
}

#[test]
fn no_published_gmaw_starting_point_raises_an_error() {
    for row in gmaw::starting_points() {
        let (process, metal, filler, _) = wire_example(row.wire, row.transfer);
        for diameter in [row.diameter_mm.low, row.diameter_mm.high] {
            let run = [
                setting("current", Some(row.current_a), "A"),
                setting("voltage", Some(row.voltage_v), "V"),
                setting("contact_tip_to_work", Some(row.tip_to_work_mm), "mm"),
                setting("travel_speed", Some(row.travel_mm_min), "mm/min"),
                format!(", transfer_mode: {}", row.transfer.as_str()),
                format!(
                    ", shielding_gas: {{composition: {{Ar: 80, CO2: 20}}{}}}",
                    setting("flow", Some(row.gas_flow_l_min), "L/min")
                ),
            ];
            let text = wire_procedure(process, (metal, row.thickness_mm), (filler, diameter), "DCEP", &run.concat());
            let found = wire_errors(&text, "wire-current-above-range");
            assert!(found.is_empty(), "{found:#?}\n{text}");
        }
    }
    assert!(gmaw::starting_points().len() > 5);
}

#[test]
fn no_published_fcaw_setting_raises_an_error() {
    for row in fcaw::rows() {
        let class = fcaw::electrode(row.classification);
        let class = class.unwrap_or_else(|| panic!("{} is not described", row.classification));
        let polarity = class.polarity.first().map_or("DCEN", |polarity| polarity.as_str());
        let (process, gas) = if class.self_shielded {
            ("114", String::new())
        } else {
            let flow = setting("flow", row.gas_flow_l_min, "L/min");
            ("136", format!(", shielding_gas: {{designation: C1{flow}}}"))
        };
        let run = [
            setting("current", Some(row.current_a), "A"),
            setting("voltage", row.voltage_v, "V"),
            setting("wire_feed_speed", row.wire_feed_m_min, "m/min"),
            setting("contact_tip_to_work", row.tip_to_work_mm, "mm"),
            setting("travel_speed", row.travel_mm_min, "mm/min"),
            gas,
        ];
        let filler = (row.classification, row.diameter_mm);
        // On a metal that the wire is for.
        let families = filler_classes::find(row.classification).map_or(&[][..], |own| own.families);
        let metal = match families.first().copied() {
            Some("austenitic-stainless") => "304L",
            Some("duplex-stainless") => "S32205",
            _ => "S355J2+N",
        };
        let text = wire_procedure(process, (metal, 8.0), filler, polarity, &run.concat());
        let found = wire_errors(&text, "cored-wire-current-outside-range");
        assert!(found.is_empty(), "{found:#?}\n{text}");
    }
    assert!(fcaw::rows().len() > 20);
}
