//! Designations as the standards print them, and what is no designation.

use super::*;
use crate::band::Band;
use crate::processes::Polarity;
use Form::{CoveredElectrode, FluxCoredWire, MetalCoredWire, RodOrWire, WireAndFlux};
use Polarity::{Ac, Dcen, Dcep};

fn read(text: &str) -> Filler {
    parse(text).unwrap_or_else(|error| panic!("{text}: {error}"))
}

fn gas(filler: &Filler) -> Vec<&str> {
    match &filler.shielding {
        Some(Shielding::Gas(gases)) => gases.clone(),
        Some(Shielding::SelfShielded) => vec!["none"],
        None => vec![],
    }
}

// AWS A5.1/A5.1M:2012, figure of the classification system: E7018-1 H4R.
#[test]
fn aws_a5_1_covered_electrodes() {
    for text in ["E7018-1 H4R", "e7018-1h4r", "E 7018-1 H4 R", "AWS A5.1 E7018-1 H4R", "SFA-5.1: E7018-1H4R"] {
        let f = read(text);
        assert_eq!((f.standard, f.form, f.class.as_str()), ("AWS A5.1", CoveredElectrode, "E7018-1"), "{text}");
        assert_eq!((f.tensile_min_mpa, f.hydrogen_ml_100g, f.low_hydrogen), (Some(490.0), Some(4.0), Some(true)));
        assert_eq!(f.polarity, [Ac, Dcep]);
        assert_eq!(f.positions, ["flat", "horizontal", "vertical-up", "overhead"]);
        assert!(f.moisture_resistant);
    }
    let f = read("E6010");
    assert_eq!((f.tensile_min_mpa, f.low_hydrogen, f.covering), (Some(430.0), Some(false), Some("cellulose-sodium")));
    assert_eq!(f.polarity, [Dcep]);
    assert!(f.positions.contains(&"vertical-down"));
    assert_eq!(read("E6013").polarity, [Ac, Dcep, Dcen]);
    assert_eq!(read("E7024").positions, ["flat", "horizontal-fillet"]);
    assert_eq!(read("E7048").positions, ["flat", "horizontal", "vertical-down", "overhead"]);
    assert_eq!(read("E7018M").polarity, [Dcep]);
    assert_eq!(read("E7018 H8").class, "E7018");
}

// AWS A5.5/A5.5M:2014: E8018-B2, E8045-P2 (vertical-down pipe electrode), E11018-M.
#[test]
fn aws_a5_5_covered_electrodes() {
    let f = read("E8018-B2H4R");
    assert_eq!((f.standard, f.class.as_str(), f.alloy.as_deref()), ("AWS A5.5", "E8018-B2", Some("B2")));
    assert_eq!((f.tensile_min_mpa, f.hydrogen_ml_100g), (Some(550.0), Some(4.0)));
    let f = read("E8045-P2");
    assert_eq!((f.alloy.as_deref(), f.low_hydrogen), (Some("P2"), Some(true)));
    assert_eq!(f.polarity, [Dcep]);
    assert_eq!(f.positions, ["flat", "horizontal", "vertical-down", "overhead"]);
    let f = read("E11018-M");
    assert_eq!((f.standard, f.tensile_min_mpa, f.class.as_str()), ("AWS A5.5", Some(760.0), "E11018-M"));
    assert_eq!(read("E11018M").class, "E11018-M");
    assert_eq!(read("E7018-A1").standard, "AWS A5.5");
    assert_eq!(read("E9015-B91").alloy.as_deref(), Some("B91"));
}

// AWS A5.4/A5.4M:2012: -15 DCEP, -16 and -17 AC or DCEP; AWS A5.11: ENiCrFe-3.
#[test]
fn aws_covered_electrodes_that_are_not_carbon_steel() {
    let f = read("E308L-16");
    assert_eq!((f.standard, f.alloy.as_deref(), f.class.as_str()), ("AWS A5.4", Some("308L"), "E308L-16"));
    assert_eq!(f.polarity, [Ac, Dcep]);
    assert_eq!(read("E308L-15").polarity, [Dcep]);
    assert_eq!(read("e 309LMo - 17").alloy.as_deref(), Some("309LMO"));
    assert_eq!(read("E2209-17").standard, "AWS A5.4");
    assert_eq!(read("E16-8-2-15").alloy.as_deref(), Some("16-8-2"));
    assert_eq!(read("ENiCrFe-3").standard, "AWS A5.11");
    assert_eq!(read("ENi-CI").standard, "AWS A5.15");
    assert_eq!(read("ECuNi").standard, "AWS A5.6");
    assert_eq!(read("E4043").standard, "AWS A5.3");
    let f = read("ENiFeT3-CI");
    assert_eq!((f.standard, f.form, gas(&f)), ("AWS A5.15", FluxCoredWire, vec!["none"]));
}

// AWS A5.18/A5.18M:2005 and A5.28/A5.28M:2005, figures of the classification systems: ER70S-6, E70C-6M, ER80S-B2.
#[test]
fn aws_wires_for_steel() {
    let f = read("ER70S-6");
    assert_eq!((f.standard, f.form, f.tensile_min_mpa), ("AWS A5.18", RodOrWire, Some(480.0)));
    assert_eq!((f.class.as_str(), f.alloy.as_deref()), ("ER70S-6", Some("6")));
    let f = read("E70C-6M H4");
    assert_eq!((f.standard, f.form, gas(&f)), ("AWS A5.18", MetalCoredWire, vec!["M21"]));
    assert_eq!((f.class.as_str(), f.hydrogen_ml_100g), ("E70C-6M", Some(4.0)));
    let f = read("A5.28 ER80S-B2");
    assert_eq!((f.standard, f.alloy.as_deref(), f.tensile_min_mpa), ("AWS A5.28", Some("B2"), Some(550.0)));
    assert_eq!(read("E80C-Ni1 H4").class, "E80C-NI1");
    assert_eq!(read("ER80S-Ni1").standard, "AWS A5.28");
}

// AWS A5.20/A5.20M:2005 and A5.29/A5.29M:2010, figures of the classification systems, and A5.36/A5.36M:2012.
#[test]
fn aws_cored_wires_for_steel() {
    let f = read("E71T-1M-H8");
    assert_eq!((f.standard, f.form, f.class.as_str()), ("AWS A5.20", FluxCoredWire, "E71T-1M"));
    assert_eq!((f.tensile_min_mpa, f.hydrogen_ml_100g, gas(&f)), (Some(490.0), Some(8.0), vec!["M21"]));
    assert_eq!(f.positions, ["flat", "horizontal", "vertical-up", "overhead"]);
    assert_eq!(f.polarity, [Dcep]);
    assert_eq!(read("E71T-1MJH8").hydrogen_ml_100g, Some(8.0));
    assert_eq!(gas(&read("E71T-1C")), ["C1"]);
    assert_eq!(gas(&read("E71T-1C/M")), ["C1", "M21"]);
    let f = read("E71T-8");
    assert_eq!((gas(&f), f.single_pass), (vec!["none"], false));
    assert_eq!(f.polarity, [Dcen]);
    let f = read("E71T-11");
    assert_eq!(f.class, "E71T-11");
    assert!(f.positions.contains(&"vertical-down"));
    assert!(read("E71T-GS").single_pass);
    assert_eq!(read("E70T-4").positions, ["flat", "horizontal"]);
    let f = read("E81T1-Ni1M");
    assert_eq!((f.standard, f.alloy.as_deref(), gas(&f)), ("AWS A5.29", Some("NI1"), vec!["M21"]));
    assert_eq!((f.tensile_min_mpa, f.class.as_str()), (Some(550.0), "E81T1-NI1M"));
    let f = read("E111T1-K3MJ-H4");
    assert_eq!((f.alloy.as_deref(), f.tensile_min_mpa, f.hydrogen_ml_100g), (Some("K3"), Some(760.0), Some(4.0)));
    let f = read("E71T8-Ni1J");
    assert_eq!((f.alloy.as_deref(), gas(&f), f.class.as_str()), (Some("NI1"), vec!["none"], "E71T8-NI1"));
    let f = read("E71T1-M21A4-CS1-H8");
    assert_eq!((f.standard, gas(&f), f.alloy.as_deref()), ("AWS A5.36", vec!["M21"], Some("CS1")));
    assert_eq!((f.impact_c, f.hydrogen_ml_100g), (Some(-40.0), Some(8.0)));
}

// AWS A5.22/A5.22M:2012: position 1, shielding 1 (CO2) or 4 (75-80 % argon).
#[test]
fn aws_cored_wires_for_stainless_steel() {
    let f = read("E308LT1-1/4");
    assert_eq!((f.standard, f.alloy.as_deref(), gas(&f)), ("AWS A5.22", Some("308L"), vec!["C1", "M21"]));
    assert_eq!(f.class, "E308LT1-1/4");
    assert_eq!(gas(&read("E308LT1-1/-4")), ["C1", "M21"]);
    assert_eq!(read("E309LMoT0-1").positions, ["flat", "horizontal"]);
    assert_eq!(gas(&read("E308LT0-3")), ["none"]);
    assert_eq!(read("E2209T1-4").alloy.as_deref(), Some("2209"));
    assert_eq!(read("R308LT1-5").form, RodOrWire);
}

// AWS A5.7, A5.9, A5.10, A5.14, A5.15, A5.16, A5.19, A5.24: a class of each.
#[test]
fn aws_bare_rods_and_wires() {
    for (text, standard, alloy) in [
        ("ER308LSi", "AWS A5.9", "308LSI"),
        ("ER2209", "AWS A5.9", "2209"),
        ("ER16-8-2", "AWS A5.9", "16-8-2"),
        ("ER4043", "AWS A5.10", "4043"),
        ("R4043", "AWS A5.10", "4043"),
        ("ER2319", "AWS A5.10", "2319"),
        ("R-A356.0", "AWS A5.10", "A356.0"),
        ("ERNiCr-3", "AWS A5.14", "NICR-3"),
        ("ERNi-CI", "AWS A5.15", "NI-CI"),
        ("ERTi-2", "AWS A5.16", "TI-2"),
        ("ERCuSi-A", "AWS A5.7", "CUSI-A"),
        ("ERAZ61A", "AWS A5.19", "AZ61A"),
        ("ERZr2", "AWS A5.24", "ZR2"),
    ] {
        let f = read(text);
        assert_eq!((f.standard, f.form, f.alloy.as_deref()), (standard, RodOrWire, Some(alloy)), "{text}");
    }
    assert_eq!(read("EC308L").form, MetalCoredWire);
}

// AWS A5.17/A5.17M-97, figures of the classification system: F7A6-EM12K (-60 °F) and F48A6-EM12K (-60 °C).
#[test]
fn aws_wire_and_flux() {
    let f = read("F7A6-EM12K");
    assert_eq!((f.standard, f.form, f.tensile_min_mpa), ("AWS A5.17", WireAndFlux, Some(480.0)));
    assert_eq!((f.impact_c, f.alloy.as_deref(), f.class.as_str()), (Some(-51.0), Some("EM12K"), "F7A6-EM12K"));
    assert_eq!(read("F48A6-EM12K-H8").impact_c, Some(-60.0));
    assert_eq!(read("F48A6-EM12K-H8").hydrogen_ml_100g, Some(8.0));
    assert_eq!(read("F9P2-EB3-B3").standard, "AWS A5.23");
}

// ISO 2560:2009, clause 11, examples of designation: E 46 3 1Ni B 5 4 H5 (system A), E5518-N2 A U H5 (system B).
#[test]
fn iso_2560() {
    for text in
        ["ISO 2560-A - E 46 3 1Ni B 5 4 H5", "E 46 3 1Ni B 54 H5", "e4631nib54h5", "EN ISO 2560-A: E463 1Ni B54 H5"]
    {
        let f = read(text);
        assert_eq!((f.standard, f.alloy.as_deref()), ("ISO 2560-A", Some("1NI")), "{text}");
        assert_eq!((f.yield_min_mpa, f.impact_c, f.hydrogen_ml_100g), (Some(460.0), Some(-30.0), Some(5.0)));
        assert_eq!((f.low_hydrogen, f.tensile_mpa), (Some(true), Some(Band::new(530.0, 680.0))));
        assert_eq!(f.positions, ["flat"]);
    }
    let f = read("E 42 4 B 42 H5");
    assert_eq!((f.yield_min_mpa, f.impact_c, f.covering), (Some(420.0), Some(-40.0), Some("basic")));
    assert_eq!(f.polarity, [Dcep, Dcen]);
    assert!(!f.positions.contains(&"vertical-down"));
    assert_eq!(read("E 38 0 RC 11").covering, Some("rutile-cellulosic"));
    assert_eq!(read("E 38 3 C 21").covering, Some("cellulosic"));
    assert_eq!(read("E 42 0 RR 12").yield_min_mpa, Some(420.0));
    assert_eq!(read("E 38 Z R").impact_c, None);
    let f = read("ISO 2560-B - E5518-N2 A U H5");
    assert_eq!((f.standard, f.alloy.as_deref(), f.class.as_str()), ("ISO 2560-B", Some("N2"), "E5518N2"));
    assert_eq!((f.tensile_min_mpa, f.hydrogen_ml_100g), (Some(550.0), Some(5.0)));
    assert_eq!(read("E4918-1 A U H10").tensile_min_mpa, Some(490.0));
    assert_eq!(read("E4310").covering, Some("cellulosic"));
    // ISO 18275:2011 and ISO 3580:2010, examples of designation (from memory).
    assert_eq!(read("E 62 7 Mn1.5Ni B 3 4 H5").standard, "ISO 18275-A");
    let f = read("E CrMo1 B 4 4 H5");
    assert_eq!((f.standard, f.alloy.as_deref()), ("ISO 3580-A", Some("CRMO1")));
}

// ISO 14341:2010, ISO 636:2017, ISO 17632:2015, ISO 14171:2016: examples of designation, from memory.
#[test]
fn iso_wires_rods_and_cored_wires() {
    for text in ["ISO 14341-A - G 46 5 M21 3Si1", "g465m213si1", "14341-A G 46 5 M21 3Si1"] {
        let f = read(text);
        assert_eq!((f.standard, f.alloy.as_deref(), gas(&f)), ("ISO 14341-A", Some("3SI1"), vec!["M21"]), "{text}");
        assert_eq!((f.yield_min_mpa, f.impact_c), (Some(460.0), Some(-50.0)));
    }
    assert_eq!(read("G 42 4 M 3Si1").alloy.as_deref(), Some("3SI1"));
    assert_eq!(gas(&read("G 38 2 C1 2Si")), ["C1"]);
    assert_eq!(read("G 3Si1").yield_min_mpa, None);
    let f = read("G 69 4 M21 Mn3Ni1CrMo");
    assert_eq!((f.standard, f.alloy.as_deref()), ("ISO 16834-A", Some("MN3NI1CRMO")));
    let f = read("G 49A 6 M21 S3");
    assert_eq!((f.standard, f.tensile_min_mpa, f.alloy.as_deref()), ("ISO 14341-B", Some(490.0), Some("S3")));
    let f = read("W 42 5 W3Si1");
    assert_eq!((f.standard, f.alloy.as_deref(), f.yield_min_mpa), ("ISO 636-A", Some("3SI1"), Some(420.0)));
    assert_eq!(read("W 3Si1").alloy.as_deref(), Some("3SI1"));
    assert_eq!(read("W 2Ti").alloy.as_deref(), Some("2TI"));
    assert_eq!(read("ISO 21952-A W CrMo1Si").alloy.as_deref(), Some("CRMO1SI"));
    let f = read("ISO 17632-A - T 46 3 1Ni B M21 4 H5");
    assert_eq!((f.standard, f.alloy.as_deref(), gas(&f)), ("ISO 17632-A", Some("1NI"), vec!["M21"]));
    assert_eq!((f.covering, f.hydrogen_ml_100g), (Some("basic"), Some(5.0)));
    let f = read("T464PM211H5");
    assert_eq!((f.yield_min_mpa, gas(&f), f.hydrogen_ml_100g), (Some(460.0), vec!["M21"], Some(5.0)));
    assert_eq!(f.positions.len(), 5);
    assert_eq!(gas(&read("T 42 2 P C 1 H10")), ["C1"]);
    assert_eq!(gas(&read("T 38 Z W NO 1")), ["none"]);
    assert_eq!(read("T 42 4 M M21 1 H5").form, MetalCoredWire);
    for text in ["T554T5-1M21A-N2-UH5", "ISO 17632-B - T 55 4 T5-1 M21 A-N2-U H5"] {
        let f = read(text);
        assert_eq!((f.standard, f.alloy.as_deref(), gas(&f)), ("ISO 17632-B", Some("N2"), vec!["M21"]), "{text}");
        assert_eq!((f.tensile_min_mpa, f.hydrogen_ml_100g), (Some(550.0), Some(5.0)));
    }
    assert_eq!(read("T49ZT11-1NA").polarity, [Dcen]);
    let f = read("ISO 14171-A - S 46 3 AB S2");
    assert_eq!((f.standard, f.form, f.alloy.as_deref()), ("ISO 14171-A", WireAndFlux, Some("S2")));
    assert_eq!(read("S 38 2 S2Si").impact_c, Some(-20.0));
    assert_eq!(read("T CrMo1 P M21 2 H5").standard, "ISO 17634-A");
}

// ISO 3581:2016, ISO 14343:2017, ISO 17633:2017, ISO 18273:2015, ISO 18274:2010: examples of designation, from memory.
#[test]
fn iso_stainless_and_non_ferrous() {
    for text in ["ISO 3581-A - E 19 9 L R 3 2", "E 19 9 L R 32", "E199LR32"] {
        let f = read(text);
        assert_eq!(
            (f.standard, f.alloy.as_deref(), f.covering),
            ("ISO 3581-A", Some("199L"), Some("rutile")),
            "{text}"
        );
    }
    assert_eq!(read("E 19 12 3 L R 12").alloy.as_deref(), Some("19123L"));
    for text in ["G 19 9 L Si", "W 19 9 L Si", "ISO 14343-A - G 19 9 L Si", "19 9 L Si"] {
        let f = read(text);
        assert_eq!((f.standard, f.alloy.as_deref()), ("ISO 14343-A", Some("199LSI")), "{text}");
    }
    assert_eq!(read("W 22 9 3 N L").alloy.as_deref(), Some("2293NL"));
    assert_eq!(read("T 19 9 L P M21 2").standard, "ISO 17633-A");
    for text in ["S Al 5356", "S Al 5356 (AlMg5Cr)", "ISO 18273 - S Al 5356 (AlMg5Cr(A))", "18273 Al 5356"] {
        match parse(text) {
            Ok(f) => assert_eq!((f.standard, f.alloy.as_deref()), ("ISO 18273", Some("AL5356")), "{text}"),
            Err(error) => assert!(text.contains("(A)"), "{text}: {error}"),
        }
    }
    assert_eq!(read("ISO 18274 - S Ni 6625 (NiCr22Mo9Nb)").alloy.as_deref(), Some("NI6625"));
    assert_eq!(read("S Cu 6560").standard, "ISO 24373");
    assert_eq!(read("S Ti 0120").standard, "ISO 24034");
    assert_eq!(read("S Cu 5180A").alloy.as_deref(), Some("CU5180A"));
    assert_eq!(read("E Ni 6182 (NiCr15Fe6Mn)").standard, "ISO 14172");
    assert_eq!(read("E C NiFe-CI 1").standard, "ISO 1071");
}

#[test]
fn what_is_no_designation_is_told_why() {
    assert_eq!(parse("  "), Err(Unread::Empty));
    for text in ["X", "70", "Unobtainium", "E", "ER", "ISO", "ISO 2560-A", "AWS", "AWS A5.18", "\u{0}", "é", "F7"] {
        assert!(parse(text).is_err(), "{text}");
    }
    let error = parse("ISO 2560-A E 42 1 B 42").unwrap_err();
    assert!(matches!(&error, Unread::At { standard: "ISO 2560-A", .. }), "{error:?}");
    // A5.1 has no covering 17, no strength 65, no position 5.
    for text in ["E7017", "E6518", "E7058", "E7018-1 H5", "E7018-1 H4RX", "E8018", "E71T-1X", "E71T-99"] {
        assert!(parse(text).is_err(), "{text}: {:?}", parse(text));
    }
    assert_eq!(
        parse("E7018-1 H5").unwrap_err().to_string(),
        "`E7018-1 H5` has `H5` where AWS A5.1 asks for an optional mark or the end"
    );
    // The standard before the designation must be the one that it follows.
    assert!(parse("AWS A5.1 ER70S-6").is_err());
    assert!(parse("ISO 14341-A E 42 4 B 42").is_err());
}

#[test]
fn every_text_is_read_or_refused() {
    let pieces = [
        "E", "7018", "-", " ", "T", "1", "M21", "R", "H4", "19", "L", "G", "Si", "(", ")", "/", ".", "ü", "ISO", "A5.1",
    ];
    let mut text = String::new();
    let (mut seed, mut read) = (7_usize, 0);
    for _ in 0..5_000 {
        seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648;
        if seed.is_multiple_of(7) {
            text.clear();
        }
        text.push_str(pieces[seed / 64 % pieces.len()]);
        let _ = (gas::parse(&text), tungsten::parse(&text));
        let Ok(filler) = parse(&text) else { continue };
        // What was read says the same with its standard before it.
        if !text.trim_start().starts_with(filler.standard) {
            read += 1;
            let named = format!("{} {text}", filler.standard);
            assert_eq!(parse(&named).as_ref(), Ok(&filler), "{named}");
        }
    }
    assert!(read > 10, "{read}");
}
