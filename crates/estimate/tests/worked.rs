//! Estimates against published weights and worked estimates, and against sums by hand.
//!
//! Weights of fillets and shares of filler: Weldingpro, tables for estimating electrode quantity and cost, page 1a; The ESAB
//! Group, Filler Metal Data Handbook, section 8; Kobe Steel, welding references 1-1. Wire in a pound: The ESAB Group, inches of
//! solid wire per pound (0.045 in: 2,196 in/lb). Rates and shares of arc time: the handbook tables. Prices are invented.

use seamwright_estimate::{Estimate, Joint, Options, Slower, buying, estimate, quote, remainders};
use seamwright_model::document::Document;
use seamwright_model::load;
use seamwright_model::procedure::Procedure;
use seamwright_model::shop::Shop;

const KG_LB: f64 = 0.453_592_37;
const L_FT3: f64 = 28.316_846_592;
const MM_FT: f64 = 304.8;

fn document(text: &str) -> Document {
    load::load("trial.yaml", text.as_bytes()).unwrap_or_else(|(_, faults)| panic!("{faults:?}\n{text}")).document
}

fn procedure(text: &str) -> Procedure {
    let Document::Procedure(procedure) = document(text) else { panic!("a procedure") };
    *procedure
}

fn shop(more: &str) -> Shop {
    let text = format!(
        "format: 1\ndocument: shop\nidentification: {{number: S-1, revision: 1, title: Trial}}\n\
         rates: {{currency: USD, labour: $65 per hour, filler: {{ER70S-6: 1.80 per pound, E71T-1: 2.60 per lb, E7018: 2.20 per lb, ER70S-2: 5 per lb}}, gas: {{other: 0.10 per cubic foot}}{more}\n"
    );
    let Document::Shop(shop) = document(&text) else { panic!("a shop") };
    *shop
}

/// A fillet in carbon steel with one of four processes, its settings those of a leg of about 1/4 in.
fn fillet(process: u32, leg: &str) -> Procedure {
    let (filler, settings) = match process {
        135 => (
            "{designation: ER70S-6, diameter: 0.045 in}",
            "wire_feed_speed: 350 in/min, current: 260-280 A, voltage: 27-29 V, travel_speed: 14-16 in/min, shielding_gas: {designation: M21, flow: 35 ft3/h}",
        ),
        136 => (
            "{designation: E71T-1, diameter: 1/16 in}",
            "current: 300 A, voltage: 28-30 V, travel_speed: 14-16 in/min, shielding_gas: {designation: C1, flow: 40 ft3/h}",
        ),
        111 => {
            ("{designation: E7018, diameter: 1/8 in}", "current: 105-115 A, voltage: 21-23 V, travel_speed: 6-8 in/min")
        }
        _ => (
            "{designation: ER70S-2, diameter: 3/32 in}",
            "current: 140-160 A, voltage: 12-14 V, travel_speed: 4-5 in/min, shielding_gas: {designation: I1, flow: 20 ft3/h, pre_flow: 1 s, post_flow: 12 s}",
        ),
    };
    procedure(&format!(
        "format: 1\ndocument: procedure\nidentification: {{number: P-{process}, revision: 1, title: Trial}}\n\
         parent_metals: [{{specification: A36, thickness: 3/4 in}}]\njoint: {{type: tee, weld: fillet}}\nweld_size: {{leg: {leg}}}\n\
         fillers: {{f: {filler}}}\nprocesses: {{{process}: {{filler: f}}}}\nruns: [{{run: 1, process: {process}, {settings}}}]\n"
    ))
}

fn joints(feet: f64) -> Vec<Joint> {
    vec![Joint { name: "W1".to_owned(), length_mm: feet * MM_FT, count: 1 }]
}

fn of(process: u32, leg: &str, feet: f64, shop: Option<&Shop>) -> Estimate {
    estimate(&fillet(process, leg), &joints(feet), &Options { thickness_mm: None, shop }).unwrap()
}

fn near(found: f64, expected: f64, pct: f64, what: &str) {
    assert!((found - expected).abs() <= pct / 100.0 * expected, "{what}: {found}, expected {expected}");
}

// Weldingpro, page 1a: pounds of weld metal, covered electrode, cored and solid wire for a foot of fillet.
#[test]
fn pounds_agree_with_a_printed_table() {
    for (leg, weld, stick, cored, solid) in [
        ("1/4 in", 0.106, 0.193, 0.133, 0.118),
        ("5/16 in", 0.166, 0.302, 0.208, 0.184),
        ("3/8 in", 0.239, 0.434, 0.298, 0.265),
        ("1/2 in", 0.425, 0.773, 0.531, 0.472),
    ] {
        for (process, filler) in [(111, stick), (136, cored), (135, solid)] {
            let found = of(process, leg, 1.0, None);
            near(found.weld_metal_kg.middle / KG_LB, weld, 1.0, leg);
            // The page reckons 55, 80 and 90 % of the filler; a maker's table 62 to 66, 86 and 93 to 98 %.
            let share = found.weld_metal_kg.middle / found.fillers[0].mass_kg.middle;
            near(found.fillers[0].mass_kg.middle / KG_LB, filler, 13.0, &format!("{process} {leg} at {share}"));
        }
    }
}

// By hand for 40 ft of 5/16 in, 6.64 lb of weld metal:
// 135: 350 in/min x 60 / 2,196 in/lb x 94 % = 8.99 lb/h; 0.739 h of arc, 40 %: 1.85 h at 65 = 120; 7.06 lb at 1.80 = 12.7;
//      0.739 h x 35 ft3/h = 25.9 ft3 at 0.10 = 2.6; together 135.
// 111: 2.58 lb/h at 120 A, 2.365 at 110; 2.81 h of arc, 25 %: 11.2 h at 65 = 730; 6.64 / (71.6 % x 12.04 / 14.02) = 10.8 lb at
//      2.20 = 23.8; together 754.
// 136: 10.2 lb/h; 0.651 h of arc, 35 %: 1.86 h at 65 = 121; 6.64 / 0.86 = 7.7 lb at 2.60 = 20; 26 ft3 at 0.10 = 2.6; together 144.
#[test]
fn forty_feet_cost_what_a_sum_by_hand_gives() {
    let shop = shop("}");
    for (process, hours, arc_h, cost, gas_ft3, right) in [
        (135, 1.85, 0.739, 135.0, 25.9, 127.0..=139.0),
        (111, 11.2, 2.81, 754.0, 0.0, 740.0..=900.0),
        (136, 1.86, 0.651, 144.0, 26.0, 130.0..=160.0),
    ] {
        let found = of(process, "5/16 in", 40.0, Some(&shop));
        near(found.weld_metal_kg.middle / KG_LB, 6.64, 1.0, "weld metal");
        near(found.arc_time_min / 60.0, arc_h, 2.0, "arc time");
        near(found.working_time_min / 60.0, hours, 2.0, "working time");
        assert_eq!(found.runs[0].slower, Some(Slower::Deposition));
        assert!(found.runs[0].by_travel_min.unwrap() < found.runs[0].by_rate_min.unwrap());
        let gas: f64 = found.gases.iter().map(|gas| gas.volume_l / L_FT3).sum();
        assert!((gas - gas_ft3).abs() < 2.0, "{gas}");
        let price = found.cost.as_ref().unwrap();
        near(price.price, cost, 2.0, "price");
        assert!(right.contains(&price.price), "{process}: {}", price.price);
        assert_eq!(price.currency, "USD");
        assert!(price.lines.iter().all(|line| ["h", "lb", "ft3"].contains(&line.unit)), "{:?}", price.lines);
    }
}

/// A fillet of a leg with the settings and the number of runs that a shop welds it with.
fn sized(process: u32, leg: &str, set: &str, runs: u32, travel_in_min: f64) -> Procedure {
    let (filler, settings) = match process {
        135 => (
            "{designation: ER70S-6, diameter: 0.045 in}".to_owned(),
            format!("wire_feed_speed: {set}, shielding_gas: {{composition: {{Ar: 75, CO2: 25}}, flow: 35 ft3/h}}"),
        ),
        136 => (
            "{designation: E71T-1, diameter: 1/16 in}".to_owned(),
            format!("current: {set}, shielding_gas: {{designation: C1, flow: 40 ft3/h}}"),
        ),
        111 => {
            let (diameter, current) = set.split_once(", ").unwrap();
            (format!("{{designation: E7018, diameter: {diameter}}}"), format!("current: {current}"))
        }
        _ => (
            "{designation: ER70S-2, diameter: 3/32 in}".to_owned(),
            format!(
                "current: {set}, shielding_gas: {{designation: I1, flow: 20 ft3/h, pre_flow: 1 s, post_flow: 12 s}}"
            ),
        ),
    };
    let run = if runs == 1 { "1".to_owned() } else { format!("1-{runs}") };
    procedure(&format!(
        "format: 1\ndocument: procedure\nidentification: {{number: P-{process}, revision: 1, title: Trial}}\n\
         parent_metals: [{{specification: A36, thickness: 3/4 in}}]\njoint: {{type: tee, weld: fillet}}\nweld_size: {{leg: {leg}}}\n\
         fillers: {{f: {filler}}}\nprocesses: {{{process}: {{filler: f}}}}\n\
         runs: [{{run: {run}, process: {process}, travel_speed: {travel_in_min} in/min, {settings}}}]\n"
    ))
}

// 40 ft of fillet, each line worked by hand with settings that suit the leg.
//
// Weld metal: 0.060, 0.106, 0.166, 0.239 and 0.425 lb/ft for legs of 3/16 to 1/2 in (The ESAB Group, Filler Metal Data Handbook,
// section 8, triangle of 45 degrees), by 40.
// Rate, lb/h: 135: feed x 60 / 2,196 in/lb (The ESAB Group, inches of 0.045 in wire in a pound) x 96 % (75/25). 136, 1/16 in: 10.2 at
// 300 A (worksheet of the handbook), 9.4 at 275 A and 8.29 at 250 A between 5.2 at 180 A and that (lesson IX, remembered). 111, E7018:
// 2.58 at 120 A, 3.33 at 150 A between 3.11 at 140 A and 3.78 at 170 A (lesson IX, remembered), 5.4 at 250 A (worksheet). 141: 0.5 to
// 2.0 by hand (common practice), 1.25 in the middle.
// Filler: 96 % of solid wire, 87 % of cored wire; of the electrode 71.6, 74.5, 73.5 and 74.6 % of what melts, 12 in of 14; 98 % of rod.
// Arc time: the longer of weld metal over rate and runs x 480 in over travel. At work: arc on 40, 35, 25 and 20 % of the time
// (common practice). Gas: flow by arc time; by 141 13 s more at each start, a start each 200 mm.
// Price: hours at 65, pounds at 1.80, 2.60, 2.20 and 5, cubic feet at 0.10.
#[test]
fn legs_from_3_16_to_1_2_in_agree_with_sums_by_hand() {
    let shop = shop("}");
    let mut before = (0, 0.0);
    // Process, leg, setting, runs, travel in in/min; pounds laid and bought, hours of arc and at work, cubic feet, dollars.
    for (process, leg, set, runs, travel, [laid, bought, arc, work, gas, price]) in [
        (135, "3/16 in", "250 in/min", 1, 21.0, [2.40, 2.50, 0.38, 0.95, 13.3, 68.0]),
        (135, "1/4 in", "350 in/min", 1, 17.0, [4.24, 4.42, 0.47, 1.18, 16.5, 86.0]),
        (135, "5/16 in", "400 in/min", 1, 12.5, [6.64, 6.92, 0.64, 1.60, 22.4, 119.0]),
        (135, "3/8 in", "400 in/min", 2, 16.0, [9.56, 9.96, 1.00, 2.50, 35.0, 184.0]),
        (135, "1/2 in", "400 in/min", 3, 15.0, [17.00, 17.71, 1.62, 4.05, 56.7, 301.0]),
        (136, "3/16 in", "250 A", 1, 25.0, [2.40, 2.76, 0.32, 0.91, 12.8, 68.0]),
        (136, "1/4 in", "275 A", 1, 17.5, [4.24, 4.87, 0.46, 1.31, 18.3, 99.0]),
        (136, "5/16 in", "300 A", 1, 12.0, [6.64, 7.63, 0.67, 1.90, 26.7, 146.0]),
        (136, "3/8 in", "300 A", 2, 17.0, [9.56, 10.99, 0.94, 2.69, 37.6, 207.0]),
        (136, "1/2 in", "300 A", 3, 14.5, [17.00, 19.54, 1.67, 4.76, 66.7, 367.0]),
        (111, "3/16 in", "1/8 in, 120 A", 1, 8.5, [2.40, 3.91, 0.94, 3.76, 0.0, 253.0]),
        (111, "1/4 in", "5/32 in, 150 A", 1, 6.3, [4.24, 6.64, 1.27, 5.09, 0.0, 346.0]),
        (111, "5/16 in", "5/32 in, 170 A", 1, 4.6, [6.64, 10.54, 1.76, 7.03, 0.0, 480.0]),
        (111, "3/8 in", "3/16 in, 250 A", 2, 9.0, [9.56, 14.95, 1.78, 7.11, 0.0, 495.0]),
        (111, "1/2 in", "3/16 in, 250 A", 3, 7.6, [17.00, 26.59, 3.16, 12.63, 0.0, 880.0]),
        (141, "3/16 in", "150 A", 1, 4.2, [2.40, 2.45, 1.92, 9.60, 42.8, 641.0]),
        (141, "1/4 in", "150 A", 2, 4.7, [4.24, 4.33, 3.40, 17.02, 76.9, 1136.0]),
        (141, "5/16 in", "150 A", 3, 4.5, [6.64, 6.78, 5.33, 26.67, 119.9, 1779.0]),
        (141, "3/8 in", "150 A", 4, 4.2, [9.56, 9.76, 7.65, 38.24, 170.6, 2551.0]),
        (141, "1/2 in", "150 A", 7, 4.1, [17.00, 17.35, 13.66, 68.29, 304.0, 4556.0]),
    ] {
        let what = |of: &str| format!("{process}, {leg}: {of}");
        let options = Options { thickness_mm: None, shop: Some(&shop) };
        let found = estimate(&sized(process, leg, set, runs, travel), &joints(40.0), &options).unwrap();
        near(found.weld_metal_kg.middle / KG_LB, laid, 1.0, &what("weld metal, lb"));
        near(found.fillers[0].mass_kg.middle / KG_LB, bought, 5.0, &what("filler, lb"));
        near(found.arc_time_min / 60.0, arc, 5.0, &what("arc, h"));
        near(found.working_time_min / 60.0, work, 5.0, &what("at work, h"));
        let volume: f64 = found.gases.iter().map(|gas| gas.volume_l / L_FT3).sum();
        assert!((volume - gas).abs() <= 0.05 * gas, "{}: {volume}, expected {gas}", what("gas, ft3"));
        near(found.cost.as_ref().unwrap().price, price, 5.0, &what("price"));
        assert_eq!(found.cannot_make, None, "{}", what("size"));
        // The larger the leg, the more labour.
        assert!(before.0 != process || found.working_time_min > before.1, "{}", what("labour"));
        before = (process, found.working_time_min);
    }
}

// By hand for settings that stay those of 1/4 in: 4.24 lb at 1.25 lb/h are 3.40 h of arc by 141, where 40 ft at 4.5 in/min are 1.78 h.
#[test]
fn a_rod_fed_by_hand_takes_the_time_that_its_metal_takes() {
    let found = of(141, "1/4 in", 40.0, None);
    near(found.arc_time_min / 60.0, 3.40, 2.0, "arc time");
    assert_eq!(found.runs[0].slower, Some(Slower::Deposition));
    near(found.runs[0].by_travel_min.unwrap() / 60.0, 1.78, 1.0, "by travel");
    assert!(
        found.assumptions.iter().any(|said| said.text.contains("0.57 is reckoned with")),
        "{:?}",
        found.assumptions
    );
}

// A leg of 1/2 in has (12.7 / 6)^2 = 4.48 times the metal of 6 mm, and where the metal is what takes time, 4.48 times the labour.
#[test]
fn labour_rises_with_the_leg() {
    for process in [111, 135, 136, 141] {
        let mut last = 0.0;
        for leg in ["3/16 in", "6 mm", "1/4 in", "5/16 in", "3/8 in", "1/2 in"] {
            let found = of(process, leg, 40.0, None);
            assert!(found.working_time_min >= last - 1e-9, "{process} {leg}");
            last = found.working_time_min;
        }
        let (small, large) = (of(process, "6 mm", 40.0, None), of(process, "1/2 in", 40.0, None));
        near(large.weld_metal_kg.middle / small.weld_metal_kg.middle, 4.48, 0.1, "metal");
        assert!(large.working_time_min > 2.5 * small.working_time_min, "{process}");
        assert!(large.cannot_make.is_some_and(|words| words.contains("do not make the size")), "{process}");
        assert!(small.cannot_make.is_none(), "{process}: {:?}", small.cannot_make);
    }
}

// The ESAB Group, Filler Metal Data Handbook, section 8: labour and overhead of 45 USD/h; E71T-1 of 1/16 in at 300 A, arc on
// 45 % of the time: 9.80 USD of labour for a pound; E7018 of 3/16 in at 250 A, 30 %, 2 in stub: 27.78 USD of labour and 1.33 USD
// of electrode at 0.85 USD/lb.
#[test]
fn cost_of_a_pound_agrees_with_a_printed_worksheet() {
    let of = |text: &str, arc_on: &str| {
        let shop = format!(
            "format: 1\ndocument: shop\nidentification: {{number: S-1, revision: 1, title: Trial}}\n\
             rates: {{currency: USD, labour: 45 per h, filler: {{other: 0.85 per lb}}, gas: {{other: 0 per ft3}}}}\ntimes: {{arc_on: {arc_on}}}\n"
        );
        let Document::Shop(shop) = document(&shop) else { panic!("a shop") };
        let options = Options { thickness_mm: None, shop: Some(&shop) };
        let found = estimate(&procedure(text), &joints(1.0), &options).unwrap();
        let pounds = found.weld_metal_kg.middle / KG_LB;
        let cost = found.cost.unwrap();
        let line =
            |what: &str| cost.lines.iter().find(|line| line.what.starts_with(what)).map(|line| line.cost / pounds);
        (line("labour").unwrap(), line("filler").unwrap())
    };
    let head = "format: 1\ndocument: procedure\nidentification: {number: P-1, revision: 1, title: Trial}\nparent_metals: [{specification: A36, thickness: 3/4 in}]\njoint: {type: tee, weld: fillet}\nweld_size: {leg: 1/2 in}\n";
    let (labour, _) = of(
        &format!(
            "{head}fillers: {{f: {{designation: E71T-1, diameter: 1/16 in}}}}\nprocesses: {{136: {{filler: f}}}}\nruns: [{{run: 1, process: 136, current: 300 A}}]\n"
        ),
        "{136: 45 %}",
    );
    near(labour, 9.80, 0.1, "labour, cored wire");
    let (labour, electrode) = of(
        &format!(
            "{head}fillers: {{f: {{designation: E7018, diameter: 3/16 in}}}}\nprocesses: {{111: {{filler: f}}}}\nruns: [{{run: 1, process: 111, current: 250 A}}]\n"
        ),
        "{SMAW: 30 %}",
    );
    // The table of the same maker has 5.36 lb/h where the worksheet rounds to 5.4.
    near(labour, 27.78, 1.0, "labour, covered electrode");
    near(electrode, 1.33, 1.0, "covered electrode");
}

// Kobe Steel, welding references 1-1: a leg of 8 mm, 20 % of reinforcement, 55 % of a covered electrode: 0.55 kg/m. Without
// the reinforcement that is 0.457 kg/m; this program's electrode gives 61 %.
#[test]
fn a_metric_fillet_agrees_with_a_printed_consumption() {
    let found = of(111, "8 mm", 1000.0 / MM_FT, None);
    near(found.fillers[0].mass_kg.middle * 0.614 / 0.55, 0.548 / 1.2, 2.0, "electrodes");
    let found = of(135, "8 mm", 1000.0 / MM_FT, None);
    near(found.fillers[0].mass_kg.middle, 0.317 / 1.2, 2.0, "solid wire");
}

// By hand: 2 joints of 3 pieces; set-up 30 min per job, fit-up 4 min per piece, cleaning 2 min per m, inspection 5 min per joint.
#[test]
fn a_price_holds_what_the_shop_states() {
    let text = "}, overhead: 50 %, mark_up: 20 %, least_charge: 10 per job, charges: {paint: 3 per piece}}\ntimes: {set_up: 30 min per job, fit_up: 4 min per piece, cleaning: 2 min per m, examination: 5 min per joint, rework: 10 %}\nworking: {hours: 8 h}\n";
    let shop = shop(text.strip_prefix('}').unwrap());
    let two = vec![
        Joint { name: "A".to_owned(), length_mm: 1000.0, count: 3 },
        Joint { name: "B".to_owned(), length_mm: 2000.0, count: 3 },
    ];
    let options = Options { thickness_mm: None, shop: Some(&shop) };
    let found = estimate(&fillet(135, "5/16 in"), &two, &options).unwrap();
    let cost = found.cost.clone().unwrap();
    let line = |what: &str| {
        cost.lines.iter().find(|line| line.what == what).unwrap_or_else(|| panic!("{what}: {:?}", cost.lines))
    };
    near(line("labour, set up").amount, 0.5, 1e-6, "set-up");
    near(line("labour, fit up").amount, 6.0 * 4.0 / 60.0, 1e-6, "fit-up");
    near(line("labour, cleaning").amount, 9.0 * 2.0 / 60.0, 1e-6, "cleaning");
    near(line("labour, examination").amount, 10.0 / 60.0, 1e-6, "examination");
    near(line("paint").cost, 18.0, 1e-6, "paint");
    let welding = line("labour, welding").cost;
    let goods = line("filler ER70S-6").cost + line("gas M21").cost;
    near(line("rework of the welding").cost, 0.1 * (welding + goods), 1e-6, "rework");
    let labour: f64 = cost.lines.iter().filter(|line| line.what.starts_with("labour")).map(|line| line.cost).sum();
    near(line("overhead on labour").cost, 0.5 * (labour + 0.1 * welding), 1e-6, "overhead");
    near(cost.price, cost.total * 1.2, 1e-6, "mark-up");
    assert!(!cost.least_charge);
    near(cost.joints.iter().map(|joint| joint.price).sum(), cost.price, 1e-6, "joints add up");
    near(cost.joints.iter().map(|joint| joint.time_min).sum(), cost.time_min, 1e-6, "times add up");
    assert!(cost.joints[1].each > cost.joints[0].each);
    near(cost.days.unwrap(), cost.time_min / 480.0, 1e-6, "days");
    // What is for the job stands in the price of two procedures once.
    let twice = quote(&[&found, &found], &shop).unwrap();
    near(twice.price, 2.0 * cost.price - 0.5 * 65.0 * 1.5 * 1.2, 1e-6, "two procedures");
    let small = estimate(&fillet(135, "5/16 in"), &joints(0.01), &options).unwrap().cost.unwrap();
    assert!(small.price > 10.0);
}

#[test]
fn a_least_charge_and_a_margin_count() {
    // Dallan, hourly cost of a machine: (77.3 + 12) / (100 - 15) x 100 = 105.
    let margin = shop(", margin: 15 %}");
    let cost = of(135, "5/16 in", 40.0, Some(&margin)).cost.unwrap();
    near(cost.price, cost.total / 0.85, 1e-9, "margin");
    let least = shop(", least_charge: 500 per job}");
    let cost = of(135, "5/16 in", 40.0, Some(&least)).cost.unwrap();
    assert!(cost.least_charge && (cost.price - 500.0).abs() < 1e-9);
}

#[test]
fn one_shelf_counts_once_whatever_it_is_called() {
    let stocked = shop(
        "}\nstock:\n  fillers: [{designation: ER70S-6, diameter: 0.045 in, package: 33 lb, packages: 1}]\n  gas_cylinders: [{designation: M21, contents: 125 cubic feet, count: 2}]\n",
    );
    let options = Options { thickness_mm: None, shop: Some(&stocked) };
    let one = estimate(&fillet(135, "5/16 in"), &joints(120.0), &options).unwrap();
    let mut other = fillet(135, "5/16 in");
    other.fillers = procedure(
        "format: 1\ndocument: procedure\nidentification: {number: P, revision: 1, title: T}\nfillers: {f: {designation: ISO 14341-A G 42 4 M21 3Si1, diameter: 1.15 mm}}\n",
    )
    .fillers;
    let two = estimate(&other, &joints(120.0), &options).unwrap();
    let left = remainders([&one, &two], None);
    assert_eq!(left.len(), 2, "{left:?}");
    near(left[0].in_stock, 33.0 * KG_LB, 1e-6, "one spool, once");
    near(left[0].used, one.fillers[0].mass_kg.middle + two.fillers[0].mass_kg.middle, 1e-6, "what both take");
    near(one.gases[0].cylinders.unwrap(), one.gases[0].volume_l / L_FT3 / 125.0, 1e-6, "cylinders as stocked");
    // 2 x 21.2 lb from one spool of 33 lb: another spool.
    let buy = buying([&one, &two], None);
    assert_eq!(buy[0].packages, Some((1, "spool")), "{buy:?}");
    // Each is called by the size that its document states, in the unit of the document.
    assert!(remainders([&one], None)[0].what.contains("0.045 in"), "{:?}", remainders([&one], None));
    assert!(remainders([&two], None)[0].what.contains("1.15 mm"), "{:?}", remainders([&two], None));
}
