//! Drafts on the machines and from the shelf of a shop, and drafts of a chosen leg or gas.

mod common;

use common::typed;
use seamwright_draft::{Choices, Facts, draft, draft_in_shop};
use seamwright_model::document::Document;
use seamwright_model::procedure::{Procedure, TransferMode};
use seamwright_model::quantity::{Current, Length};
use seamwright_model::shop::Shop;
use seamwright_model::stated::Stated;

// Invented: a small wire feeder, a plain stick machine, and a machine with alternating current.
const SHOP: &str = "\
format: 1
document: shop
identification: {number: S-9, revision: 1, title: Small shop}
power_sources:
  - {name: small feeder, processes: [135], current: 30-190 A, voltage: 14-24 V, wire_feed_speed: 1.5-12 m/min, polarity: [DCEP, DCEN], gas_solenoid: yes}
  - {name: stick machine, processes: [111, 141], current: 10-140 A, polarity: [DCEP, DCEN], arc_start: [scratch], current_control: [fixed], gas_solenoid: no, slopes: no, hot_start: yes, arc_force: yes, pulse: no}
  - {name: AC machine, processes: [141, 111], current: 5-200 A, polarity: [DCEP, DCEN, AC], arc_start: [high-frequency], gas_solenoid: yes, slopes: yes}
torches:
  - {name: valve torch, size: 17, cooling: gas, valve: yes, switch: no}
stock:
  fillers:
    - {designation: ER70S-6, diameter: 0.9 mm, package: 33 lb, packages: 1}
    - {designation: E7018, diameter: 2.5 mm, package: 10 lb, packages: 1}
    - {designation: ER308L, diameter: 1.6 mm, mass: 5 lb, length: 36 in}
  gas_cylinders:
    - {designation: argon, contents: 125 cubic feet, count: 1}
    - {designation: 75/25, contents: 125 cubic feet, count: 1}
";

fn shop() -> Shop {
    match seamwright_model::load("shop", SHOP.as_bytes()).unwrap_or_else(|(_, faults)| panic!("{faults:?}")).document {
        Document::Shop(shop) => *shop,
        other => panic!("{}", other.kind()),
    }
}

/// The draft for `process|metal|thickness|joint|position`, in the shop where it is one, or why there is none.
fn page(words: &str, choices: &Choices, shop: Option<&Shop>) -> Result<String, String> {
    let typed = typed(words);
    let page = Facts::read_with(&typed, choices).and_then(|facts| match shop {
        Some(shop) => draft_in_shop(&facts, shop),
        None => draft(&facts),
    });
    page.map_err(|refused| refused.with_alternatives(&typed, choices, shop).to_string())
}

fn read(page: &str) -> Procedure {
    match seamwright_model::load("draft", page.as_bytes()).unwrap_or_else(|_| panic!("{page}")).document {
        Document::Procedure(procedure) => *procedure,
        other => panic!("{}", other.kind()),
    }
}

fn most_amperes(procedure: &Procedure) -> f64 {
    let ends = procedure.runs.iter().filter_map(|run| run.settings.current.as_ref()?.value()?.high());
    ends.map(Current::amperes).fold(0.0, f64::max)
}

fn diameters(procedure: &Procedure) -> Vec<f64> {
    let all = procedure.fillers.iter().filter_map(|(_, own)| own.diameter.as_ref()?.value()?.middle());
    all.map(Length::mm).collect()
}

fn on(machine: &str) -> Choices {
    Choices { machine: Some(machine.to_owned()), ..Choices::default() }
}

#[test]
fn a_small_feeder_gets_the_wire_on_the_shelf_and_short_circuits_before_it_is_given_up() {
    let shop = shop();
    let page = page("135|S235JR|6 mm|tee|PB", &on("small feeder"), Some(&shop)).unwrap();
    let procedure = read(&page);
    assert!(most_amperes(&procedure) <= 190.0, "{page}");
    assert_eq!(diameters(&procedure), [0.9], "{page}");
    assert_eq!(procedure.machine.as_deref(), Some("small feeder"));
    let modes = procedure.processes.iter().filter_map(|(_, own)| own.transfer_mode.as_ref().and_then(Stated::value));
    assert!(modes.into_iter().all(|mode| *mode == TransferMode::ShortCircuit), "{page}");
    assert!(!page.contains("Missing: ER70S-6"), "{page}");
}

#[test]
fn an_electrode_of_the_shelf_goes_before_the_usual_size() {
    let shop = shop();
    for words in ["111|S235JR|6 mm|tee|PB", "111|S235JR|8 mm|butt|PA"] {
        let page = page(words, &on("stick machine"), Some(&shop)).unwrap();
        let procedure = read(&page);
        assert_eq!(diameters(&procedure), [2.5], "{words}: {page}");
        assert!(page.contains("the shop has it") && !page.contains("Missing"), "{page}");
    }
    // A size that was asked for stays.
    let asked = Choices { size: Some("3.2 mm".to_owned()), ..on("stick machine") };
    let page = page("111|S235JR|6 mm|tee|PB", &asked, Some(&shop)).unwrap();
    assert!(diameters(&read(&page)) == [3.2] && page.contains("Missing: E7018 3.2 mm"), "{page}");
}

#[test]
fn a_plain_stick_machine_gets_no_slopes_and_no_high_frequency() {
    let shop = shop();
    let page = page("141|304L|2 mm|butt|PA", &on("stick machine"), Some(&shop)).unwrap();
    let procedure = read(&page);
    let settings = procedure.processes.iter().next().unwrap().1;
    assert!(settings.up_slope.is_none() && settings.down_slope.is_none(), "{page}");
    assert!(page.contains("no slopes, as stick machine has none") && page.contains("Gas by hand"), "{page}");
    assert!(page.contains("arc_start: scratch"), "{page}");
}

#[test]
fn what_no_machine_gives_is_refused_with_what_does() {
    let shop = shop();
    for (words, choices, says) in [
        ("141|6061-T6|6 mm|butt|PA", on("AC machine"), "a machine that gives"),
        (
            "111|S235JR|6 mm|tee|PB",
            on("red box"),
            "the shop has no machine `red box`; it has small feeder, stick machine",
        ),
        ("111|S235JR|6 mm|tee|PB", on("small feeder"), "small feeder welds 135, and 111 is asked for"),
        ("135|S355J2|20 mm|tee|PB", on("small feeder"), "30-190 A"),
    ] {
        let why = page(words, &choices, Some(&shop)).unwrap_err();
        assert!(why.contains(says), "{words}: {why}");
    }
}

#[test]
fn a_chosen_leg_is_drafted_or_refused_with_what_can_be_done() {
    let leg = |leg: &str| Choices { leg: Some(leg.to_owned()), ..Choices::default() };
    // One run of 1.2 mm wire lays down more than 5 mm: a thinner wire does.
    let text = page("135|S355J2|8 mm|tee|PB", &leg("5 mm"), None).unwrap();
    let procedure = read(&text);
    assert!(text.contains("leg: 5 mm") && diameters(&procedure)[0] < 1.2, "{text}");
    assert!(text.contains("the size that makes the leg"), "{text}");
    for (words, own) in [("135|S355J2|8 mm|tee|PB", "3 mm"), ("135|S355J2|8 mm|tee|PB", "4 mm")] {
        let why = page(words, &leg(own), None).unwrap_err();
        assert!(why.contains("5 mm minimum") && why.contains("--leg") && !why.contains("instead"), "{own}: {why}");
    }
    assert!(page("135|S355J2|8 mm|tee|PB", &leg("6 mm"), None).unwrap().contains("leg: 6 mm"));
    assert!(page("135|S355J2|6 mm|tee|PB", &leg("4 mm"), None).unwrap().contains("leg: 4 mm"));
}

#[test]
fn a_gas_is_taken_by_its_names_and_none_is_left_aside() {
    let gas = |gas: &str| Choices { gas: Some(gas.to_owned()), ..Choices::default() };
    for word in ["M21", "C25", "75/25"] {
        let text = page("135|S235JR|3 mm|tee|PB", &gas(word), None).unwrap();
        assert!(text.contains("designation: M21"), "{word}: {text}");
    }
    // Carbon dioxide does where the arc is short.
    assert!(page("135|S235JR|6 mm|tee|PB", &gas("CO2"), None).unwrap().contains("designation: C1"));
    for (words, word, says) in [
        ("135|S235JR|6 mm|tee|PB", "argon", "gas argon (I1) is none of those for S235JR by process 135: M21"),
        ("135|S235JR|6 mm|tee|PB", "blue bottle", "the gas `blue bottle` is not known"),
        ("111|S235JR|6 mm|tee|PB", "M21", "takes no shielding gas"),
    ] {
        let why = page(words, &gas(word), None).unwrap_err();
        assert!(why.contains(says), "{word}: {why}");
    }
}

#[test]
fn a_machine_with_too_little_current_is_refused_with_what_the_joint_takes() {
    let named = |machine: &str| Choices { machine: Some(machine.to_owned()), ..Choices::default() };
    // Within what the machine gives where the joint reaches down to it.
    let text = page("135|S235JR|3 mm|tee|PB", &named("small feeder"), Some(&shop())).unwrap();
    assert!(most_amperes(&read(&text)) <= 190.0);
    for (words, machine, says, not) in [
        ("135|S355J2|12 mm|tee|PB", "small feeder", "small feeder gives 30-190 A", "135 instead"),
        ("141|6061|1/4 in|butt|1G", "AC machine", "AC machine gives 5-200 A", "141 instead"),
        ("111|S355J2|25 mm|tee|PB", "stick machine", "stick machine gives 10-140 A", "111 instead"),
    ] {
        match page(words, &named(machine), Some(&shop())) {
            Err(why) => assert!(why.contains(says) && why.contains("takes") && !why.contains(not), "{words}: {why}"),
            // A thinner electrode in more runs.
            Ok(text) => assert!(most_amperes(&read(&text)) <= 140.0, "{words}: {text}"),
        }
    }
}
