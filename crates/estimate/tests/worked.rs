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

// By hand for 40 ft of 3/16 in by 141: 0.0598 lb/ft, 2.39 lb. By hand 0.5 to 2.0 lb/h are common practice, at the middle 1.91 h of
// arc (1.78 h at 4.5 in/min); arc on 20 % of the time: 9.6 h at 65; 98 % of the rod: 2.44 lb at 5; 38 ft3 of argon at 0.10.
// Of 1/4 in the metal is 4.25 lb, the rod 4.34 lb; the rate lies within common practice.
#[test]
fn forty_feet_by_tungsten_arc_take_what_a_sum_by_hand_gives() {
    let shop = shop("}");
    let found = of(141, "3/16 in", 40.0, Some(&shop));
    near(found.weld_metal_kg.middle / KG_LB, 2.39, 1.0, "weld metal");
    near(found.fillers[0].mass_kg.middle / KG_LB, 2.44, 2.0, "rod");
    near(found.arc_time_min / 60.0, 1.91, 10.0, "arc time");
    near(found.working_time_min / 60.0, 9.6, 10.0, "working time");
    near(found.gases.iter().map(|gas| gas.volume_l / L_FT3).sum(), 38.2, 10.0, "argon");
    near(found.cost.as_ref().unwrap().price, 9.6 * 65.0 + 2.44 * 5.0 + 38.2 * 0.10, 10.0, "price");
    let found = of(141, "1/4 in", 40.0, Some(&shop));
    near(found.weld_metal_kg.middle / KG_LB, 4.25, 1.0, "weld metal");
    near(found.fillers[0].mass_kg.middle / KG_LB, 4.34, 2.0, "rod");
    let rate = found.weld_metal_kg.middle / KG_LB / (found.arc_time_min / 60.0);
    assert!((0.5..=2.0).contains(&rate), "{rate} lb/h");
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
    let left = remainders([&one, &two]);
    assert_eq!(left.len(), 2, "{left:?}");
    near(left[0].in_stock, 33.0 * KG_LB, 1e-6, "one spool, once");
    near(left[0].used, one.fillers[0].mass_kg.middle + two.fillers[0].mass_kg.middle, 1e-6, "what both take");
    near(one.gases[0].cylinders.unwrap(), one.gases[0].volume_l / L_FT3 / 125.0, 1e-6, "cylinders as stocked");
    // 2 x 21.2 lb from one spool of 33 lb: another spool.
    let buy = buying([&one, &two]);
    assert_eq!(buy[0].packages, Some((1, "spool")), "{buy:?}");
}

// 1 in a hundred of the time that a browser page takes to show.
#[test]
fn five_hundred_joints_are_estimated_at_once() {
    let many: Vec<Joint> =
        (0..500).map(|n| Joint { name: format!("W{n}"), length_mm: 100.0 + f64::from(n), count: 2 }).collect();
    let shop = shop("}");
    let options = Options { thickness_mm: None, shop: Some(&shop) };
    let procedures = [fillet(135, "5/16 in"), fillet(111, "1/4 in"), fillet(136, "3/8 in"), fillet(141, "3/16 in")];
    estimate(&procedures[0], &many, &options).unwrap();
    let begun = std::time::Instant::now();
    let all: Vec<Estimate> =
        procedures.iter().zip(many.chunks(125)).map(|(own, joints)| estimate(own, joints, &options).unwrap()).collect();
    let cost = quote(&all.iter().collect::<Vec<_>>(), &shop).unwrap();
    let taken = begun.elapsed();
    assert_eq!(cost.joints.len(), 500);
    assert!(taken.as_millis() < 100, "{taken:?}");
}
