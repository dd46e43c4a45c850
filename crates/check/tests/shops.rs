//! Procedures held against a shop: each check finds its faulty cases and stays quiet on its sound ones, and what the shop
//! computes agrees with figures worked by hand.

mod common;

use common::{edit, example, starter};
use seamwright_check::rule::Case;
use seamwright_check::shops::FITNESS;
use seamwright_check::{Context, Outcome, check_with};
use seamwright_model::shop::Shop;
use seamwright_model::{Document, load};
use seamwright_weld::{View, machines};

fn documents(case: &Case) -> (Document, Box<Shop>) {
    let mut procedure = starter(case.base);
    let mut shop = example("shop/shop");
    for (pointer, yaml) in case.edits {
        match pointer.strip_prefix("shop:") {
            Some(pointer) => edit(&mut shop, pointer, yaml),
            None => edit(&mut procedure, pointer, yaml),
        }
    }
    let read =
        |value| load::from_value(value).unwrap_or_else(|reason| panic!("{} {:?}: {reason}", case.base, case.edits));
    let Document::Shop(shop) = read(&shop) else { panic!("a shop") };
    (read(&procedure), shop)
}

fn outcome(case: &Case) -> Outcome {
    let (procedure, shop) = documents(case);
    check_with(&procedure, &Context { shop: Some(&shop), ..Context::default() })
}

#[test]
fn each_check_finds_its_fault_and_stays_quiet_on_a_shop_that_can() {
    assert!(FITNESS.windows(2).all(|pair| pair[0].name < pair[1].name));
    for rule in FITNESS {
        for (case, faulty) in rule.faulty.iter().map(|case| (case, true)).chain(rule.sound.iter().map(|c| (c, false))) {
            let outcome = outcome(case);
            let found: Vec<_> = outcome.findings.iter().filter(|finding| finding.check == rule.name).collect();
            assert_eq!(!found.is_empty(), faulty, "{} on {} {:?}: {found:#?}", rule.name, case.base, case.edits);
        }
    }
}

// The shop's plate rates 120 A at 100 %, 150 A at 60 %: at 140 A the square law of IEC 60974-1 gives from the point above
// 60 (150/140)^2 = 68.9 %.
#[test]
fn the_duty_cycle_follows_the_square_law_from_the_rated_point_above() {
    let (_, shop) = documents(&Case { base: "lap-fillet-2-carbon-141", edits: &[] });
    let duty = |amperes| machines::duty_at(&shop.power_sources[1], "141", amperes).unwrap().duty_cycle_pct;
    assert!((duty(140.0) - 60.0 * (150.0_f64 / 140.0).powi(2)).abs() < 1e-9);
    assert!((duty(90.0) - 100.0).abs() < 1e-9);
    // Past the last point the last point must do: 35 (200/220)^2.
    assert!((duty(220.0) - 35.0 * (200.0_f64 / 220.0).powi(2)).abs() < 1e-9);
    // Points of another process do not count: 110 A at 100 % is for 111.
    assert!((machines::duty_at(&shop.power_sources[1], "111", 110.0).unwrap().duty_cycle_pct - 100.0).abs() < 1e-9);
}

/// A plain machine for covered electrodes, which has no valve for the gas.
const PLAIN: &[(&str, &str)] = &[(
    "shop:/power_sources",
    "[{name: plain, processes: [111, 141], current: 10-160 A, polarity: [DCEN, DCEP], arc_start: [scratch, lift], gas_solenoid: no}]",
)];

#[test]
fn the_best_machine_is_the_one_that_lacks_nothing() {
    for (base, best, by_hand) in [
        ("lap-fillet-2-carbon-141", "AC/DC machine", false),
        ("tee-fillet-3-6061-141", "AC/DC machine", false),
        // At 125 A: 30 (160/125)^2 = 49 % against 35 (170/125)^2 = 65 %.
        ("butt-12-s355-111", "AC/DC machine", false),
    ] {
        let (document, shop) = documents(&Case { base, edits: &[] });
        let Document::Procedure(procedure) = &document else { panic!("a procedure") };
        let view = View::new(procedure);
        let found = machines::for_processes(&shop, &view);
        assert_eq!(found.len(), 1);
        let (_, fit) = &found[0];
        assert!(fit.lacks.is_empty(), "{base}: {:?}", fit.lacks);
        assert_eq!((&*fit.machine.name.0, fit.gas_by_hand), (best, by_hand), "{base}");
    }
    let (document, shop) = documents(&Case { base: "lap-fillet-2-carbon-141", edits: PLAIN });
    let Document::Procedure(procedure) = &document else { panic!("a procedure") };
    let view = View::new(procedure);
    let found = machines::for_processes(&shop, &view);
    assert!(found[0].1.lacks.is_empty() && found[0].1.gas_by_hand, "{:?}", found[0].1);
}

// The same words in a hint as the trade means: vertical down is PG, and downhand is flat.
#[test]
fn a_position_in_words_is_told_by_its_meaning() {
    const CASES: [(&[(&str, &str)], &str); 7] = [
        (&[("/positions", "[vertical down]")], "write `PG`"),
        (&[("/positions", "[vertical up]")], "write `PF`"),
        (&[("/positions", "[uphill]")], "write `PF`"),
        (&[("/positions", "[downhill]")], "write `PG`"),
        (&[("/positions", "[downhand]")], "write `PA`"),
        (&[("/positions", "[overhead]")], "write `PD`"),
        (&[("/positions", "[horizontal]")], "write `PB`"),
    ];
    for (edits, hint) in CASES {
        let (document, _) = documents(&Case { base: "lap-fillet-2-carbon-141", edits });
        let Document::Procedure(procedure) = &document else { panic!("a procedure") };
        let found = seamwright_check::check(procedure).findings;
        let own = found.iter().find(|own| own.check == "position-not-of-weld").unwrap_or_else(|| panic!("{edits:?}"));
        assert_eq!(own.hint.as_deref(), Some(hint), "{edits:?}");
    }
}
