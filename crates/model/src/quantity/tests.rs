//! Tests of quantities: what is read, what is refused and in which words, exact factors, and printing.

use proptest::prelude::*;

use super::*;

fn read<Q: Quantity>(text: &str) -> Range<Q> {
    text.parse().unwrap_or_else(|error| panic!("{text}: {error}"))
}

fn refused<Q: Quantity>(text: &str) -> ParseError {
    match text.parse::<Range<Q>>() {
        Err(error) => error,
        Ok(range) => panic!("{text} was read as {range:?}"),
    }
}

fn assert_refused<Q: Quantity>(text: &str, kind: ParseErrorKind, message: &str, hint: &str) {
    let error = refused::<Q>(text);
    assert_eq!((error.kind(), error.message(), error.hint()), (kind, message, hint), "{text}");
}

fn exact(numerator: i128, denominator: i128) -> Exact {
    Exact::new(numerator, denominator).unwrap()
}

fn assert_ends<Q: Quantity>(text: &str, low: (i128, i128), high: (i128, i128)) {
    let range = read::<Q>(text);
    assert_eq!(range.low().map(Quantity::exact), Some(exact(low.0, low.1)), "{text}");
    assert_eq!(range.high().map(Quantity::exact), Some(exact(high.0, high.1)), "{text}");
}

/// What stands on drawings, data sheets and tapes of a shop is read as it stands there; the sheet prints the unit's own sign.
#[test]
fn the_marks_of_a_word_processor_around_a_value_are_none_of_it() {
    for text in ["“2 mm”", "„2 mm“", "‘2 mm’", "«2 mm»", "“ 2 mm ”"] {
        assert_eq!(text.parse::<Range<Length>>().map(|own| own.single().map(Length::mm)), Ok(Some(2.0)), "{text}");
    }
    assert_eq!(Range::<Length>::parse("“2 mm”").unwrap().spelled(), "2 mm");
    // An inch mark alone is a unit, and one around a number is none.
    assert_eq!("2”".parse::<Range<Length>>().map(|own| own.single().map(Length::mm)), Ok(Some(50.8)));
    assert!("“2”".parse::<Range<Length>>().is_err());
}

#[test]
fn words_of_the_shop_are_read() {
    fn same(dimension: &str, typed: &str, plain: &str) {
        let dimension = DIMENSIONS.iter().find(|own| own.format == dimension).unwrap();
        let read = |text: &str| read::read(dimension, text).unwrap_or_else(|error| panic!("{text}: {error}"));
        let (typed_extent, typed_unit) = read(typed);
        let (extent, unit) = read(plain);
        assert_eq!((typed_extent, typed_unit.symbol), (extent, unit.symbol), "{typed}");
    }
    for (dimension, typed, plain) in [
        ("length", "1/4\"", "1/4 in"),
        ("length", "1/4 \u{201d}", "1/4 in"),
        ("length", "1/4''", "1/4 in"),
        ("length", "1 / 4 inch", "1/4 in"),
        ("length", "1 1 / 4 in.", "1 1/4 in"),
        ("length", "2 To 3 MM", "2-3 mm"),
        ("length", "2 \u{2013} 3 mm", "2-3 mm"),
        ("length", "6'", "6 ft"),
        ("length", ".045\"", "0.045 in"),
        ("length", ".035-.045 in", "0.035-0.045 in"),
        ("length", ".035 in - .045 in", "0.035-0.045 in"),
        ("length", "½ in", "1/2 in"),
        ("length", "1½\"", "1 1/2 in"),
        ("length", "1 ½ in", "1 1/2 in"),
        ("length", "1-½ in", "1 1/2 in"),
        ("length", "⅜-½ in", "3/8-1/2 in"),
        ("length", "⅛ in maximum", "1/8 in maximum"),
        ("current", "90 to 120 Amps", "90-120 A"),
        ("current", "90a", "90 A"),
        ("voltage", "24 volts", "24 V"),
        ("speed", "10\u{2013}14 IPM", "10-14 in/min"),
        ("flow", "35 CFH", "35 cfh"),
        ("flow", "35 scfh maximum", "35 cfh maximum"),
        ("flow", "8 lpm", "8 L/min"),
        ("pressure", "30 PSI", "30 psi"),
        ("stress", "70 KSI", "70 ksi"),
        ("temperature", "300 deg F minimum", "300 °F minimum"),
        ("temperature", "20 c", "20 °C"),
        ("angle", "60 degrees", "60 deg"),
        ("heat-input", "1.2 KJ/mm", "1.2 kJ/mm"),
        ("time-span", "10 Secs", "10 s"),
    ] {
        same(dimension, typed, plain);
    }
    for (text, us) in [("1/4\"", "1/4 in"), (".045\"", "0.045 in"), ("1½\"", "1 1/2 in"), ("⅜-½ in", "3/8–1/2 in")]
    {
        assert_eq!(Range::<Length>::parse(text).unwrap().print(UnitSystem::Us), us);
    }
    assert_eq!(Range::<Current>::parse("90 AMPS").unwrap().print(UnitSystem::Si), "90 A");
}

#[test]
fn what_stands_for_other_things_is_refused_with_what_to_write() {
    // A degree sign alone may mean either scale, a gauge another thickness for another metal.
    for (refused, hint) in [
        (Range::<Temperature>::parse("20°").unwrap_err(), "write a temperature, for example `10 °C minimum`"),
        (Range::<Length>::parse("16 ga").unwrap_err(), "table sheet-gauges"),
        (Range::<Length>::parse("6 in sch 40").unwrap_err(), "table pipe-schedules"),
        (Range::<Length>::parse("sch 40").unwrap_err(), "write a length"),
        (Range::<Length>::parse("40 sch").unwrap_err(), "table pipe-schedules"),
        (Range::<Mass>::parse("5 gr").unwrap_err(), "write `g`"),
    ] {
        assert!(refused.hint().contains(hint), "{refused}");
    }
}

#[test]
fn registry_is_sorted_and_names_are_unique() {
    let formats: Vec<&str> = DIMENSIONS.iter().map(|dimension| dimension.format).collect();
    assert_eq!(formats, FORMATS);
    assert!(formats.is_sorted_by(|one, two| one < two));
    let mut spellings: Vec<&str> = Vec::new();
    for dimension in DIMENSIONS {
        for unit in dimension.units {
            spellings.push(unit.symbol);
            spellings.extend(unit.aliases);
            assert!(unit.factor.0 > 0 && unit.factor.1 > 0 && unit.offset.1 > 0, "{}", unit.symbol);
            for near in unit.near {
                assert!(dimension.unit(near).is_none(), "{near} is read and also refused");
            }
        }
        assert!(dimension.units.contains(&dimension.si) && dimension.units.contains(&dimension.us));
        assert!(dimension.units.iter().any(Unit::is_base), "{} has no base unit", dimension.name);
        for example in dimension.examples {
            read::read(dimension, example).unwrap();
        }
    }
    spellings.sort_unstable();
    let twice: Vec<&str> = spellings.windows(2).filter(|pair| pair[0] == pair[1]).map(|pair| pair[0]).collect();
    // The megapascal measures stress and pressure alike.
    assert_eq!(twice, ["MPa"], "a spelling names two units");
}

/// JSON Schema 2020-12 validation, section 7.3, keeps these names for other forms of text.
#[test]
fn formats_keep_clear_of_json_schema() {
    for name in ["date", "date-time", "time", "duration", "email", "hostname", "uri", "uuid", "regex"] {
        assert!(!FORMATS.contains(&name), "{name}");
    }
}

// What is read.

#[test]
fn ranges_are_read_with_every_dash() {
    for text in [
        "90-120 A",
        "90–120 A",
        "90 to 120 A",
        "90 - 120 A",
        "90\u{2011}120\u{a0}A",
        "90 — 120A",
        "90\u{2212}120 A",
        "90 A - 120 A",
        "90 A to 120 A",
        "90A-120A",
        "  90-120  A ",
        "090-120.0 A",
    ] {
        assert_ends::<Current>(text, (90, 1), (120, 1));
    }
    assert_eq!(read::<Current>("90-120 A").extent(), Extent::Between(amperes(90.0), amperes(120.0)));
}

fn amperes(figure: f64) -> Current {
    Current::from_amperes(figure).unwrap()
}

#[test]
fn open_ranges_are_read() {
    for text in ["10 °C minimum", "10 °C min", "10 °C min.", "10°C Minimum", "10 C minimum", "50 °F minimum"] {
        let range = read::<Temperature>(text);
        assert_eq!(range.low(), Temperature::from_celsius(10.0), "{text}");
        assert_eq!(range.high(), None, "{text}");
        assert_eq!((range.middle(), range.single()), (None, None));
    }
    for text in ["250 °C maximum", "250 °C max"] {
        let range = read::<Temperature>(text);
        assert_eq!((range.low(), range.high()), (None, Temperature::from_celsius(250.0)), "{text}");
    }
    assert_eq!(read::<Duration>("5 min").single(), Duration::from_minutes(5.0));
    let limit = read::<Duration>("5 min min");
    assert_eq!((limit.low(), limit.high()), (Duration::from_minutes(5.0), None));
    assert_eq!(read::<Speed>("60 mm/min max").high(), Speed::from_mm_per_min(60.0));
}

/// 1 in = 25.4 mm, exactly (NIST SP 811, 2008, appendix B), so 3/32 in is 2.38125 mm.
#[test]
fn fractions_and_mixed_numbers_are_exact() {
    for text in ["3/32 in", "0.09375 in", "2.38125 mm", "381/160 mm"] {
        assert_ends::<Length>(text, (381, 160), (381, 160));
    }
    for text in ["1 1/4 in", "1-1/4 in", "1.25 in", "5/4 in", "31.75 mm", "1\u{a0}1/4 in", "1\u{2011}1/4 in"] {
        assert_ends::<Length>(text, (127, 4), (127, 4));
    }
    assert_ends::<Length>("1/16-3/32 in", (127, 80), (381, 160));
    assert_ends::<Length>("1-1/4 - 1-1/2 in", (127, 4), (381, 10));
    assert_ends::<Length>("1-1/4-1-1/2 in", (127, 4), (381, 10));
    assert_ends::<Length>("1 1/4 to 1 1/2 in", (127, 4), (381, 10));
    assert_ends::<Length>("1/4-1-1/2 in", (127, 20), (381, 10));
    // A fraction above the whole number rises: a range.
    assert_ends::<Length>("1-5/4 in", (254, 10), (127, 4));
    assert_ends::<Length>("0-1/4 in", (0, 1), (127, 20));
}

#[test]
fn negative_temperatures_are_read() {
    assert_ends::<Temperature>("-20 °C", (-20, 1), (-20, 1));
    assert_ends::<Temperature>("\u{2212}20 °C", (-20, 1), (-20, 1));
    assert_ends::<Temperature>("–20 °C", (-20, 1), (-20, 1));
    for text in ["-20 to -10 °C", "-20--10 °C", "-20 - -10 °C", "-20–-10 °C", "-20 °C to -10 °C", "-20°C--10°C"]
    {
        assert_ends::<Temperature>(text, (-20, 1), (-10, 1));
    }
    assert_ends::<Temperature>("-20-10 °C", (-20, 1), (10, 1));
    assert_ends::<Temperature>("-40 °F", (-40, 1), (-40, 1));
    assert_ends::<Temperature>("0 K", (-5463, 20), (-5463, 20));
}

#[test]
fn equality_is_by_value() {
    assert_eq!(read::<Length>("1 in"), read::<Length>("25.4 mm"));
    assert_eq!(read::<Length>("3-3 mm"), read::<Length>("3 mm"));
    assert_ne!(read::<Length>("3 mm minimum"), read::<Length>("3 mm"));
    assert_ne!(read::<Length>("3 mm minimum"), read::<Length>("3 mm maximum"));
    assert!(read::<Length>("3-3 mm").single().is_some());
    assert_eq!(read::<Flow>("8 l/min"), read::<Flow>("8 L/min"));
    assert_eq!(read::<GasVolume>("1 m³"), read::<GasVolume>("1000 L"));
    assert_eq!(read::<Energy>("20 ft\u{a0}lbf"), read::<Energy>("20 ft-lbf"));
}

#[test]
fn every_unit_reads_its_spellings() {
    for dimension in DIMENSIONS {
        for unit in dimension.units {
            for spelling in std::iter::once(&unit.symbol).chain(unit.aliases) {
                for text in [format!("3 {spelling}"), format!("3-4{spelling}"), format!("3 {spelling} - 4 {spelling} ")]
                {
                    let (_, found) = read::read(dimension, &text).unwrap_or_else(|error| panic!("{text}: {error}"));
                    assert_eq!(found, unit, "{text}");
                }
                let (extent, _) = read::read(dimension, &format!("3 {spelling} min")).unwrap();
                assert!(matches!(extent, Extent::Minimum(_)), "{spelling}");
            }
        }
    }
}

#[test]
fn ends_middle_and_holding() {
    let range = read::<Current>("90-120 A");
    assert_eq!(range.middle(), Current::from_amperes(105.0));
    assert!(range.contains(amperes(90.0)) && range.contains(amperes(120.0)));
    assert!(!range.contains(amperes(89.999)) && !range.contains(amperes(121.0)));
    assert!(range.covers(&read("100 A")) && !range.covers(&read("100 A minimum")));
    assert!(read::<Current>("90 A minimum").covers(&range) && !read::<Current>("91 A minimum").covers(&range));
    assert!(read::<Current>("90 A minimum").contains(amperes(1e6)));
}

// Exact factors.

/// Sources stand beside the figures; a product of exact figures is exact.
#[test]
fn factors_are_the_exact_definitions() {
    // NIST SP 811 (2008), appendix B: 1 in = 25.4 mm.
    assert_ends::<Length>("1 in", (254, 10), (254, 10));
    assert_ends::<Speed>("1 in/min", (254, 10), (254, 10));
    assert_ends::<Speed>("1 mm/s", (60, 1), (60, 1));
    assert_ends::<Speed>("1 m/min", (1000, 1), (1000, 1));
    assert_ends::<Speed>("1 cm/min", (10, 1), (10, 1));
    assert_ends::<HeatInput>("25.4 kJ/in", (1, 1), (1, 1));
    assert_ends::<HeatInput>("10 kJ/cm", (1, 1), (1, 1));
    // 1 lb = 0.45359237 kg.
    assert_ends::<Mass>("1 lb", (45_359_237, 100_000), (45_359_237, 100_000));
    assert_ends::<DepositionRate>("1 lb/h", (45_359_237, 100_000_000), (45_359_237, 100_000_000));
    // 1 ft = 0.3048 m, so 1 ft3 = 28.316846592 L and 1 cfh = 28.316846592/60 L/min.
    let foot = exact(3048, 1000);
    let cubic = foot.checked_mul(foot).and_then(|square| square.checked_mul(foot)).unwrap();
    assert_eq!(read::<GasVolume>("1 ft3").low().map(Quantity::exact), Some(cubic));
    assert_eq!(read::<Flow>("60 cfh").low().map(Quantity::exact), Some(cubic));
    // 1 lbf = 0.45359237 kg x 9.80665 m/s2 (standard gravity, 3rd CGPM 1901).
    let force = exact(45_359_237, 100_000_000).checked_mul(exact(980_665, 100_000)).unwrap();
    let foot_pound = force.checked_mul(exact(3048, 10_000)).unwrap();
    assert_eq!(foot_pound, exact(13_558_179_483_314_004, 10_000_000_000_000_000));
    assert_eq!(read::<Energy>("1 ft lbf").low().map(Quantity::exact), Some(foot_pound));
    let square_inch = exact(254, 10).checked_mul(exact(254, 10)).unwrap();
    let ksi = force.checked_mul(exact(1000, 1)).and_then(|force| force.checked_div(square_inch)).unwrap();
    assert_eq!(read::<Stress>("1 ksi").low().map(Quantity::exact), Some(ksi));
    assert!((ksi.to_f64() - 6.894_757_293_168_361).abs() < 1e-14);
    // 1 psi = ksi/1000, and 1 bar = 0.1 MPa.
    let psi = ksi.checked_div(exact(100, 1)).unwrap();
    assert_eq!(read::<Pressure>("1 psi").low().map(Quantity::exact), Some(psi));
    // t/°C = (t/°F - 32)/1.8 = T/K - 273.15.
    assert_ends::<Temperature>("212 °F", (100, 1), (100, 1));
    assert_ends::<Temperature>("1 °F", (-155, 9), (-155, 9));
    assert_ends::<Temperature>("273.15 K", (0, 1), (0, 1));
    assert_ends::<HeatingRate>("180 °F/h", (100, 1), (100, 1));
    assert_ends::<Duration>("1 h", (3600, 1), (3600, 1));
    assert_ends::<Power>("2.2 kW", (2200, 1), (2200, 1));
}

#[test]
fn figures_go_in_and_out_by_unit() {
    let wire = Length::from_inches(3.0 / 32.0).unwrap();
    assert_eq!(wire.exact(), exact(381, 160));
    assert!((wire.mm() - 2.381_25).abs() < 1e-15);
    // A figure from a table and the same decimal in a file are equal.
    for figure in ["2.4", "0.1", "1.6", "12.7", "0.035", "1e-3", "123456.789"] {
        let figure: f64 = figure.parse().unwrap();
        assert_eq!(Length::from_mm(figure), Some(read::<Length>(&format!("{figure} mm")).single().unwrap()));
    }
    for figure in [f64::NAN, f64::INFINITY, f64::NEG_INFINITY, 1e15, -1e300] {
        assert_eq!(Length::from_mm(figure), None, "{figure}");
    }
    let third = Length::from_mm(1.0 / 3.0).unwrap().mm();
    assert!((third - 1.0 / 3.0).abs() < 1e-14);
    assert_eq!(Length::from_mm(1e-300).map(Length::mm), Some(0.0));
}

#[test]
fn exact_arithmetic_is_checked() {
    let great = exact(i128::MAX, 1);
    assert_eq!(great.checked_add(exact(1, 1)), None);
    assert_eq!(great.checked_mul(exact(2, 1)), None);
    assert_eq!(exact(-i128::MAX, 1).checked_sub(exact(2, 1)), None);
    assert_eq!(exact(1, 1).checked_div(Exact::ZERO), None);
    assert_eq!(Exact::new(1, 0), None);
    assert_eq!(Exact::new(1, -1), None);
    assert_eq!(exact(2, 3).checked_sub(exact(1, 6)), Some(exact(1, 2)));
    assert_eq!(exact(-1, 2).decimal(0), "-1");
    assert_eq!(exact(-1, 4).decimal(0), "0");
    assert_eq!(exact(1, 8).decimal(2), "0.13");
    assert_eq!(great.decimal(2), format!("{:.2}", great.to_f64()));
}

#[test]
fn great_numbers_come_back_from_another_unit() {
    let text = "88569-2/59 J";
    let there = convert(text, "ft lbf").unwrap();
    let back = there.extent.try_map(|value| value.into_base(there.unit));
    assert_eq!(back, Some(Extent::Single(exact(88569 * 59 + 2, 59))));
}

// A unit that is in use is never taken for another of another size: 4 ft/min is no 4 mm/min.
#[test]
fn no_hint_for_a_unit_means_another_size() {
    for (text, hint) in [
        ("4 ft/min", "write it in `in/min`: 1 ft/min is 12 in/min"),
        ("4'/min", "write it in `in/min`: 1 ft/min is 12 in/min"),
        ("4 fpm", "write it in `in/min`: 1 ft/min is 12 in/min"),
        ("4 in/s", "write it in `in/min`: 1 in/s is 60 in/min"),
        ("4 in/mn", "write `in/min`"),
        ("4 m/mi", "write `m/min`"),
    ] {
        assert!(refused::<Speed>(text).hint().starts_with(hint), "{text}: {}", refused::<Speed>(text).hint());
    }
    // As near to inches as to metres.
    assert!(!refused::<Speed>("4 i/min").hint().starts_with("write `"), "{}", refused::<Speed>("4 i/min").hint());
    assert!(refused::<Flow>("1 cfm").hint().contains("1 cfm is 60 cfh"));
    assert!(refused::<Length>("60 thou").hint().contains("1 thou is 0.001 in"));
    for dimension in DIMENSIONS {
        let spellings =
            |unit: &Unit| std::iter::once(unit.symbol).chain(unit.aliases.iter().copied()).collect::<Vec<_>>();
        for own in dimension.units.iter().flat_map(spellings) {
            let letters: Vec<char> = own.chars().collect();
            for at in 0..letters.len() {
                for letter in [None, Some('m'), Some('i'), Some('c'), Some('x')] {
                    let mut slip = letters.clone();
                    match letter {
                        Some(letter) => slip[at] = letter,
                        None => drop(slip.remove(at)),
                    }
                    let slip: String = slip.into_iter().collect();
                    let Some(Err(error)) = check_format(dimension.format, &format!("1 {slip}")) else { continue };
                    let Some(meant) = error.hint().strip_prefix("write `").and_then(|rest| rest.split('`').next())
                    else {
                        continue;
                    };
                    let Some(meant) = dimension.unit(meant) else { continue };
                    let far = |unit: &Unit| {
                        spellings(unit).into_iter().map(|known| strsim::osa_distance(known, &slip)).min().unwrap_or(99)
                    };
                    let slip_of = |unit: &Unit| {
                        let near = unit.near.iter().copied().chain(spellings(unit));
                        near.map(|known| known.to_lowercase()).any(|known| known == slip.to_lowercase())
                    };
                    for other in dimension.units.iter().filter(|own| own.factor != meant.factor) {
                        assert!(
                            slip_of(meant) || far(other) > far(meant),
                            "{slip}: {} or {}",
                            meant.symbol,
                            other.symbol
                        );
                    }
                }
            }
        }
    }
}

// What is refused.

#[test]
fn refusals_of_units() {
    use ParseErrorKind as Kind;
    assert_refused::<Length>(
        "3",
        Kind::MissingUnit,
        "`3` has no unit",
        "write a length with its unit, for example `3 mm` or `3 in`",
    );
    assert_refused::<Current>("70-90", Kind::MissingUnit, "`70-90` has no unit", "write `70-90 A`");
    for (text, meant) in [("1/8 max", "1/8 in maximum"), ("1/4 minimum", "1/4 in minimum"), (".5", ".5 in")] {
        assert_refused::<Length>(
            text,
            Kind::MissingUnit,
            &format!("`{text}` has no unit"),
            &format!("write `{meant}`"),
        );
    }
    assert_refused::<Current>("90 max", Kind::MissingUnit, "`90 max` has no unit", "write `90 A maximum`");
    assert_refused::<Temperature>(
        "10 minimum",
        Kind::MissingUnit,
        "`10 minimum` has no unit",
        "write a temperature with its unit, for example `10 °C minimum` or `10 °F minimum`",
    );
    assert_refused::<Current>(
        "90 mm",
        Kind::OtherQuantity,
        "`90 mm` is a length, a current is meant",
        "write a current, for example `90 A` or `90-120 A`",
    );
    assert_refused::<Angle>(
        "5 ksi",
        Kind::OtherQuantity,
        "`5 ksi` is a stress, an angle is meant",
        "write an angle, for example `60 deg` or `60-70 deg`",
    );
    assert_refused::<Temperature>(
        "10 min",
        Kind::OtherQuantity,
        "`10 min` is a duration, a temperature is meant",
        "write a temperature, for example `10 °C minimum` or `50 °F`; for a lowest value write the unit before `minimum`",
    );
    assert_refused::<Current>("90 ampz", Kind::UnknownUnit, "`90 ampz`: `ampz` is not a unit of current", "write `A`");
    assert_refused::<Speed>(
        "10 in/m",
        Kind::UnknownUnit,
        "`10 in/m`: `in/m` is not a unit of speed",
        "write `in/min`; the units of speed are `mm/min`, `mm/s`, `cm/min`, `m/min` and `in/min`",
    );
    assert_refused::<Flow>(
        "8 l/mn",
        Kind::UnknownUnit,
        "`8 l/mn`: `l/mn` is not a unit of flow",
        "write `L/min`; the units of flow are `L/min` and `cfh`",
    );
    assert_refused::<Length>(
        "8 furlongs",
        Kind::UnknownUnit,
        "`8 furlongs`: `furlongs` is not a unit of length",
        "write a length, for example `2.4 mm` or `3/32 in`; the units of length are `mm`, `cm`, `m`, `in` and `ft`",
    );
    assert_refused::<Length>(
        "8 milimetre",
        Kind::UnknownUnit,
        "`8 milimetre`: `milimetre` is not a unit of length",
        "write `mm`; the units of length are `mm`, `cm`, `m`, `in` and `ft`",
    );
    assert_refused::<HeatInput>(
        "1 kJ/mmm",
        Kind::UnknownUnit,
        "`1 kJ/mmm`: `kJ/mmm` is not a unit of heat input",
        "write `kJ/mm`; the units of heat input are `kJ/mm`, `kJ/cm` and `kJ/in`",
    );
    assert_refused::<Length>(
        "8 inchs",
        Kind::UnknownUnit,
        "`8 inchs`: `inchs` is not a unit of length",
        "write `in`; the units of length are `mm`, `cm`, `m`, `in` and `ft`",
    );
    for (text, rest) in [("2.5 mm, 3.2 mm", ", 3.2 mm"), ("2.4mm (3/32 in)", "(3/32 in)"), ("3 mm and up", "and up")] {
        let message = format!("`{text}` has `{rest}` after the unit");
        let hint = "write one value or one range and nothing after it, for example `2.4 mm` or `3/32 in`";
        assert_refused::<Length>(text, Kind::TextAfterUnit, &message, hint);
    }
    assert_eq!(refused::<Energy>("27 J at -20 °C").message(), "`27 J at -20 °C` has `at` after the unit");
    assert_refused::<Length>(
        "2 mm - 1/4 in",
        Kind::UnitsDiffer,
        "`2 mm - 1/4 in` has two different units",
        "write both ends in one unit, and the unit once, for example `2.4 mm` or `3/32 in`",
    );
    assert_refused::<Length>(
        "2 A - 3 mm",
        Kind::OtherQuantity,
        "`2 A - 3 mm` is a current, a length is meant",
        "write a length, for example `2.4 mm` or `3/32 in`",
    );
}

#[test]
fn any_of_several_values_may_be_stated() {
    for (text, low, high, each) in [
        ("3 mm or 4 mm", "3 mm", "4 mm", &["3 mm", "4 mm"][..]),
        ("3.2 or 4.0 mm", "3.2 mm", "4 mm", &["3.2 mm", "4.0 mm"]),
        ("1/8 or 3/32 in", "3/32 in", "1/8 in", &["1/8 in", "3/32 in"]),
        ("2.4, 3.2 or 4 mm", "2.4 mm", "4 mm", &["2.4 mm", "3.2 mm", "4 mm"]),
    ] {
        let range: Range<Length> = text.parse().unwrap();
        let single = |text: &str| text.parse::<Range<Length>>().unwrap().single();
        assert_eq!((range.low(), range.high()), (single(low), single(high)), "{text}");
        assert_eq!(alternatives(text), each, "{text}");
    }
    let range: Range<Length> = "1/8 or 5/32 in".parse().unwrap();
    assert_eq!(range.print(UnitSystem::Si), "3.2 mm or 4.0 mm");
    assert_eq!(alternatives("2.4 mm"), ["2.4 mm"]);
    for text in ["3-4 mm or 5 mm", "3 mm or 1/4 in", "3 mm or", "3 mm or more"] {
        assert!(text.parse::<Range<Length>>().is_err(), "{text}");
    }
}

#[test]
fn refusals_of_numbers() {
    use ParseErrorKind as Kind;
    let length = "write a length, for example `2.4 mm` or `3/32 in`";
    assert_refused::<Length>("2,5 mm", Kind::DecimalComma, "`2,5 mm` has a decimal comma", "write `2.5 mm`");
    assert_refused::<Length>(
        "1,5-2,5 mm",
        Kind::DecimalComma,
        "`1,5-2,5 mm` has a decimal comma",
        "write `1.5-2.5 mm`",
    );
    assert_refused::<Length>(
        "1,000 mm",
        Kind::ThousandsSeparator,
        "`1,000 mm` has a comma that may mean a decimal point or thousands",
        "write `1000 mm` or `1.000 mm`",
    );
    assert_refused::<Length>(
        "1 000 mm",
        Kind::ThousandsSeparator,
        "`1 000 mm` has a space inside a number",
        "write the digits together, `1000 mm`; a range has a dash",
    );
    for text in ["1'000 mm", "1’000 mm", "1_000 mm"] {
        let message = format!("`{text}` has a mark between thousands");
        assert_refused::<Length>(text, Kind::ThousandsSeparator, &message, "write the digits together, `1000 mm`");
    }
    let too_many = "write at most 12 digits, and at most 6 in each part of a fraction";
    for text in [
        "1234567890123 mm",
        "1.234567890123 mm",
        "1/1234567 in",
        "1234567/2 in",
        "1234567 1/2 in",
        "0.0000000000001 mm",
    ] {
        let message = format!("`{text}` has more digits than a length is read with");
        assert_refused::<Length>(text, Kind::TooManyDigits, &message, too_many);
    }
    assert_refused::<Length>("", Kind::Empty, "nothing is written where a length is meant", length);
    assert_refused::<Length>(" \u{a0}", Kind::Empty, "nothing is written where a length is meant", length);
    assert_refused::<Length>("thick", Kind::NoNumber, "`thick` does not start with a number", length);
    for text in ["NaN mm", "nan", ".nan", "inf mm", "-inf", "∞ mm"] {
        assert_refused::<Length>(text, Kind::NotFinite, &format!("`{text}` is not a finite number"), length);
    }
    for (text, meant) in [("5. mm", "5 mm"), ("5.-6. mm", "5-6 mm"), (".5-5. mm", "0.5-5 mm")] {
        assert_refused::<Length>(
            text,
            Kind::BadNumber,
            &format!("`{text}` has a decimal point without digits on both sides"),
            &format!("write `{meant}`"),
        );
    }
    for text in ["1.2.3 mm", "1/2/3 in", "1.5/2 in", "1/2.5 in"] {
        assert_refused::<Length>(text, Kind::BadNumber, &format!("`{text}` has a number that cannot be read"), length);
    }
    assert_refused::<Length>(
        "1/0 in",
        Kind::BadNumber,
        "`1/0 in` has a fraction with nothing below the stroke but zero",
        length,
    );
    assert_refused::<Length>(
        "1 5/4 in",
        Kind::BadNumber,
        "`1 5/4 in` has a fraction of one or more after a whole number",
        "write a fraction below one after the whole number, for example `1 1/4 in`",
    );
    for text in ["1.5½ in", "½½ in", "1½2 in", "1/½ in"] {
        assert_refused::<Length>(text, Kind::BadNumber, &format!("`{text}` has a number that cannot be read"), length);
    }
    for (text, inches) in [
        ("4'-6\"", "54"),
        ("4'6\"", "54"),
        ("4' 6\"", "54"),
        ("4 ft 6 in", "54"),
        ("4ft-6 1/2in", "54.5"),
        ("1' - 0 ½\"", "12.5"),
    ] {
        assert_refused::<Length>(
            text,
            Kind::UnitsDiffer,
            &format!("`{text}` is in feet and inches"),
            &format!("write it in one unit: `{inches} in`"),
        );
    }
    assert_refused::<Length>(
        "1e3 mm",
        Kind::BadNumber,
        "`1e3 mm` has a number with an exponent",
        "write all the digits, for example `1500` for `1.5e3`",
    );
    assert_refused::<Length>("+2 mm", Kind::BadNumber, "`+2 mm` has a plus sign", "leave the sign out: write `2 mm`");
    assert_refused::<Current>(
        "90..120 A",
        Kind::BadNumber,
        "`90..120 A` has dots where a dash is meant",
        "write `90-120 A`",
    );
    for text in ["90 ± 5 A", "90±5 A", "90 A ± 5 A", "90 A +/- 5 A", "90 A +/-5", "90 +/- 5 A"] {
        assert_refused::<Current>(text, Kind::BadNumber, &format!("`{text}` has a tolerance"), "write `85-95 A`");
    }
    for (text, hint) in [
        ("2 mm +/- 0.1", "write `1.9-2.1 mm`"),
        ("1/8 in +/- 1/64 in", "write the lowest and the highest value with a dash between them"),
        ("2 mm +/- 3 mm", "write the lowest and the highest value with a dash between them"),
    ] {
        assert_refused::<Length>(text, Kind::BadNumber, &format!("`{text}` has a tolerance"), hint);
    }
    assert_refused::<Current>(
        "about 90 A",
        Kind::BadNumber,
        "`about 90 A` is not exact",
        "write one value or a range, for example `90 A` or `90-120 A`",
    );
    assert_refused::<Length>("-2 mm", Kind::BelowLowest, "`-2 mm` is below zero, which a length cannot be", length);
    assert_refused::<Temperature>(
        "-300 °C",
        Kind::BelowLowest,
        "`-300 °C` is below absolute zero",
        "write a temperature, for example `10 °C minimum` or `50 °F`",
    );
    let long = format!("{} mm", "1".repeat(200));
    assert_eq!(refused::<Length>(&long).message(), format!("`{}…` is too long for a length", "1".repeat(40)));
}

#[test]
fn refusals_of_ranges() {
    use ParseErrorKind as Kind;
    assert_refused::<Current>(
        "120-90 A",
        Kind::HighToLow,
        "`120-90 A` runs from high to low",
        "write the low end first: `90-120 A`",
    );
    assert_refused::<Temperature>(
        "-10 to -20 °C",
        Kind::HighToLow,
        "`-10 to -20 °C` runs from high to low",
        "write the low end first: `-20 to -10 °C`",
    );
    assert_refused::<Length>(
        "1 - 1/4 in",
        Kind::HighToLow,
        "`1 - 1/4 in` runs from high to low",
        "write the low end first: `1/4-1 in`; a whole and a part are written `1 1/4 in`",
    );
    for (text, hint) in [
        ("min 10 °C", "write `10 °C minimum`"),
        ("maximum 250 °C", "write `250 °C maximum`"),
        ("≤ 250 °C", "write `250 °C maximum`"),
        (">10 °C", "write `10 °C minimum`"),
        ("up to 250 °C", "write `250 °C maximum`"),
    ] {
        let message = format!("`{text}` has a limit before the number");
        assert_refused::<Temperature>(text, Kind::SidePlace, &message, hint);
    }
    assert_refused::<Temperature>(
        "10 minimum °C",
        Kind::SidePlace,
        "`10 minimum °C` has a word before the unit",
        "write the unit, then the word, for example `10 °C minimum` or `250 °C maximum`",
    );
    assert_refused::<Current>(
        "90-120 A max",
        Kind::SidePlace,
        "`90-120 A max` has both ends, and a word for an open end",
        "write a range without the word, or one value with it, for example `90 A` or `90-120 A`",
    );
    assert_refused::<Current>(
        "90-100-120 A",
        Kind::TooManyNumbers,
        "`90-100-120 A` has more than two numbers",
        "write one value or one range, for example `90 A` or `90-120 A`",
    );
    assert_refused::<Current>(
        "90 5 A",
        Kind::TooManyNumbers,
        "`90 5 A` has two numbers side by side",
        "write one value, or a range with a dash, for example `90 A` or `90-120 A`",
    );
    for text in ["60.3 x 5.5 mm", "60.3×5.5 mm"] {
        assert_refused::<Length>(
            text,
            Kind::TooManyNumbers,
            &format!("`{text}` has two sizes where a length is meant"),
            "write one size here, for example `2.4 mm` or `3/32 in`",
        );
    }
    assert_refused::<Current>(
        "90- A",
        Kind::NoNumber,
        "`90- A` has no number after the dash",
        "write both ends, or one value, for example `90 A` or `90-120 A`",
    );
}

#[test]
fn refusals_show_no_control_characters() {
    let error = refused::<Length>("3 \u{202e}mm\u{7}");
    assert_eq!(error.message(), "`3 \u{fffd}mm\u{fffd}`: `\u{fffd}mm\u{fffd}` is not a unit of length");
}

// Serde and schema.

#[test]
fn serde_goes_through_the_text() {
    let range: Range<Current> = serde_json::from_str("\"90-120 A\"").unwrap();
    assert_eq!(serde_json::to_string(&range).unwrap(), "\"90-120 A\"");
    let error = serde_json::from_str::<Range<Length>>("3").unwrap_err().to_string();
    assert!(error.starts_with("`3` has no unit; write a length with its unit"), "{error}");
    let error = serde_json::from_str::<Range<Length>>("2.5").unwrap_err().to_string();
    assert!(error.starts_with("`2.5` has no unit"), "{error}");
    let error = serde_json::from_str::<Range<Length>>("true").unwrap_err().to_string();
    assert!(error.contains("expected a length, for example `2.4 mm` or `3/32 in`"), "{error}");
}

#[test]
fn schema_names_the_format_and_the_examples() {
    let schema = schemars::schema_for!(Range<HeatInput>);
    assert_eq!(schema.get("type"), Some(&"string".into()));
    assert_eq!(schema.get("format"), Some(&"heat-input".into()));
    assert_eq!(schema.get("examples"), Some(&serde_json::json!(["1.0 kJ/mm", "25.4 kJ/in"])));
    let description = "a heat input: a value, a range or a limit, with its unit (kJ/mm, kJ/cm, kJ/in)";
    assert_eq!(schema.get("description"), Some(&description.into()));
}

#[test]
fn formats_are_checked_by_name() {
    assert_eq!(check_format("length", "3 mm"), Some(Ok(())));
    assert_eq!(check_format("date", "3 mm"), None);
    assert_eq!(check_format("current", "3 mm").and_then(Result::err), Some(refused::<Current>("3 mm")));
}

// Printing.

fn assert_prints<Q: Quantity>(text: &str, si: &str, us: &str, both: &str) {
    let range = read::<Q>(text);
    let printed = [UnitSystem::Si, UnitSystem::Us, UnitSystem::Both].map(|system| range.print(system));
    assert_eq!(printed, [si, us, both], "{text}");
}

#[test]
fn stated_values_print_as_written_or_rounded() {
    assert_prints::<Length>("2.4 mm", "2.4 mm", "3/32 in", "2.4 mm (3/32 in)");
    assert_prints::<Length>("3/32 in", "2.4 mm", "3/32 in", "3/32 in (2.4 mm)");
    assert_prints::<Length>("1.6 mm", "1.6 mm", "1/16 in", "1.6 mm (1/16 in)");
    assert_prints::<Length>("3.2 mm", "3.2 mm", "1/8 in", "3.2 mm (1/8 in)");
    assert_prints::<Length>("2 mm", "2 mm", "0.079 in", "2 mm (0.079 in)");
    assert_prints::<Length>("25 mm", "25 mm", "1 in", "25 mm (1 in)");
    assert_prints::<Length>("3-11 mm", "3–11 mm", "0.119–0.433 in", "3–11 mm (0.119–0.433 in)");
    assert_prints::<Length>("1-1/4 in", "31.8 mm", "1 1/4 in", "1 1/4 in (31.8 mm)");
    assert_prints::<Length>("0.035 in", "0.89 mm", "0.035 in", "0.035 in (0.89 mm)");
    assert_prints::<Length>("60.3 mm", "60.3 mm", "2 3/8 in", "60.3 mm (2 3/8 in)");
    assert_prints::<Length>("0-1 mm", "0–1 mm", "0–0.039 in", "0–1 mm (0–0.039 in)");
    assert_prints::<Speed>("60 mm/min", "60 mm/min", "2.4 in/min", "60 mm/min (2.4 in/min)");
    assert_prints::<Speed>("60-90 mm/min", "60–90 mm/min", "2.4–3.5 in/min", "60–90 mm/min (2.4–3.5 in/min)");
    assert_prints::<Speed>("6 m/min", "6 m/min", "236 in/min", "6 m/min (236 in/min)");
    assert_prints::<HeatInput>("1.0 kJ/mm", "1.0 kJ/mm", "25.4 kJ/in", "1.0 kJ/mm (25.4 kJ/in)");
    assert_prints::<HeatInput>("20 kJ/in", "0.79 kJ/mm", "20 kJ/in", "20 kJ/in (0.79 kJ/mm)");
    assert_prints::<Current>("90-120 A", "90–120 A", "90–120 A", "90–120 A");
    assert_prints::<Temperature>("10 C min", "10 °C minimum", "50 °F minimum", "10 °C (50 °F) minimum");
    assert_prints::<Temperature>("250 °C max", "250 °C maximum", "480 °F maximum", "250 °C (480 °F) maximum");
    assert_prints::<Temperature>("-20 – -10 °C", "-20 to -10 °C", "-4 to 14 °F", "-20 to -10 °C (-4 to 14 °F)");
    assert_prints::<Temperature>("33-50 °F", "1–10 °C", "33–50 °F", "33–50 °F (1–10 °C)");
    assert_prints::<Speed>("127 mm/min", "127 mm/min", "5.0 in/min", "127 mm/min (5.0 in/min)");
    assert_prints::<Flow>("20-40 cfh", "9.5–18.8 L/min", "20–40 cfh", "20–40 cfh (9.5–18.8 L/min)");
    assert_prints::<Length>("2/3-3/4 in", "17.0–19.0 mm", "2/3–3/4 in", "2/3–3/4 in (17.0–19.0 mm)");
    assert_prints::<Temperature>("150 °F min", "66 °C minimum", "150 °F minimum", "150 °F (66 °C) minimum");
    assert_prints::<Temperature>("200 °F max", "90 °C maximum", "200 °F maximum", "200 °F (90 °C) maximum");
    assert_prints::<Flow>("8-10 l/min", "8–10 L/min", "17–21 cfh", "8–10 L/min (17–21 cfh)");
    assert_prints::<Angle>("60-70 deg", "60–70°", "60–70°", "60–70°");
    assert_prints::<Energy>("27 J", "27 J", "20 ft lbf", "27 J (20 ft lbf)");
    assert_prints::<Stress>("355 MPa", "355 MPa", "51.5 ksi", "355 MPa (51.5 ksi)");
    assert_prints::<Share>("100%", "100 %", "100 %", "100 %");
    assert_prints::<Duration>("5 min min", "5 min minimum", "5 min minimum", "5 min minimum");
}

// 150 °C is 302 °F, 80 °C 176 °F, 175 °C 347 °F (NIST SP 811). A minimum lies at or above them, a maximum at or below.
#[test]
fn temperatures_print_in_fives_of_fahrenheit_and_never_outside_what_is_stated() {
    let us = |text: &str| read::<Temperature>(text).print(UnitSystem::Us);
    for (stated, printed) in [
        ("150 °C", "300 °F"),
        ("150 °C min", "305 °F minimum"),
        ("150 °C max", "300 °F maximum"),
        ("80-175 °C", "180–345 °F"),
        ("350 °C max", "660 °F maximum"),
        ("100 °C min", "215 °F minimum"),
        // A five would lie too far off, or outside.
        ("20 °C min", "68 °F minimum"),
        ("-20 °C", "-4 °F"),
        ("20-22 °C", "68–71 °F"),
        ("150-151 °C", "302–303 °F"),
        // As written.
        ("302 °F min", "302 °F minimum"),
    ] {
        assert_eq!(us(stated), printed, "{stated}");
    }
    let si = |text: &str| read::<Temperature>(text).print(UnitSystem::Si);
    assert_eq!((si("250 °F min"), si("225 °F max")), ("125 °C minimum".to_owned(), "105 °C maximum".to_owned()));
    // A limit in a message is not moved by fives.
    assert_eq!(in_unit_of("150 °C maximum", "310 °F").as_deref(), Some("302 °F maximum"));
}

// 400 in/min is 10.16 m/min, 465 in/min 11.811 m/min; 10 in/min is 254 mm/min (1 in = 25.4 mm).
#[test]
fn fast_wire_prints_in_metres_a_minute() {
    assert_prints::<Speed>("400-465 in/min", "10.2–11.8 m/min", "400–465 in/min", "400–465 in/min (10.2–11.8 m/min)");
    assert_prints::<Speed>(
        "450 in/min max",
        "11.4 m/min maximum",
        "450 in/min maximum",
        "450 in/min (11.4 m/min) maximum",
    );
    assert_prints::<Speed>("10 in/min", "254 mm/min", "10 in/min", "10 in/min (254 mm/min)");
    assert_prints::<Speed>("400-465 cm/min", "400–465 cm/min", "158–183 in/min", "400–465 cm/min (158–183 in/min)");
}

#[test]
fn computed_values_print_rounded() {
    let heat = HeatInput::from_kj_per_mm(0.846_72).unwrap();
    assert_eq!(heat.print(UnitSystem::Si), "0.85 kJ/mm");
    assert_eq!(heat.print(UnitSystem::Both), "0.85 kJ/mm (21.5 kJ/in)");
    let more = HeatInput::from_kj_per_mm(1.2).unwrap();
    assert_eq!(HeatInput::print_range(heat, more, UnitSystem::Si), "0.85–1.20 kJ/mm");
    assert_eq!(HeatInput::print_range(more, more, UnitSystem::Si), "1.2 kJ/mm");
    assert_eq!(Temperature::from_celsius(172.6).unwrap().print(UnitSystem::Si), "173 °C");
    assert_eq!(Length::from_mm(1.25).unwrap().print(UnitSystem::Both), "1.25 mm (0.049 in)");
    assert_eq!(Length::from_mm(0.0).unwrap().print(UnitSystem::Both), "0 mm (0 in)");
    assert_eq!(Density::from_kg_per_m3(7850.0).unwrap().print(UnitSystem::Both), "7850 kg/m3");
    assert_eq!(Length::from_mm(1e14).unwrap().print(UnitSystem::Si), "100000000000000 mm");
    assert_eq!(Power::from_watts(2345.6).unwrap().print(UnitSystem::Si), "2.35 kW");
}

#[test]
fn conversion_finds_the_quantity_by_its_unit() {
    let print = |text, unit| convert(text, unit).unwrap().print();
    assert_eq!(print("3/32 in", "mm"), "2.38125 mm");
    assert_eq!(print("20 cfh", "L/min"), "9.438948864 L/min");
    assert_eq!(print("-40 °F", "C"), "-40 °C");
    assert_eq!(print("90-120 mm/min", "mm/s"), "1.5 to 2 mm/s");
    assert_eq!(print("10 °C minimum", "°F"), "50 °F minimum");
    assert_eq!(print("1 m", "in"), "39.370078740 in");
    assert_eq!(print("20 MPa", "bar"), "200 bar");
    assert_eq!(print("3 bar", "MPa"), "0.3 MPa");
    assert_eq!(print("10 ft", "m"), "3.048 m");
    assert_eq!(find_unit("MPa").unwrap().0.name, "stress");
    let conversion = convert("70 ksi", "MPa").unwrap();
    assert_eq!((conversion.dimension.name, conversion.unit.symbol), ("stress", "MPa"));
    assert!((conversion.value().unwrap() - 482.633_010_521_785_3).abs() < 1e-12);
    let error = convert("3 mm", "A").unwrap_err();
    assert_eq!(error.message(), "`A` is a unit of current, not of length");
    assert_eq!(error.hint(), "the units of length are `mm`, `cm`, `m`, `in` and `ft`");
    assert_eq!(convert("3 mm", "parsec").unwrap_err().message(), "`parsec` is not a unit of length");
    assert_eq!(convert("3", "mm").unwrap_err().kind(), ParseErrorKind::MissingUnit);
    let error = convert("3 in/m", "mm/min").unwrap_err();
    assert_eq!((error.message(), error.hint()), ("`3 in/m`: `in/m` is not a unit", "write `in/min`"));
    assert_eq!(convert("3-2 mm", "in").unwrap_err().kind(), ParseErrorKind::HighToLow);
}

// Properties.

/// Any quantity and one of its units, as indices that wrap.
fn unit_of(pick: usize, which: usize) -> (&'static Dimension, &'static Unit) {
    let dimension = DIMENSIONS[pick % DIMENSIONS.len()];
    (dimension, &dimension.units[which % dimension.units.len()])
}

/// A number as a person may write it.
fn number() -> impl Strategy<Value = String> {
    prop_oneof![
        "[0-9]{1,6}",
        "[0-9]{1,5}\\.[0-9]{1,5}",
        (0_u32..99_999, 1_u32..999).prop_map(|(above, below)| format!("{above}/{below}")),
        (1_u32..99_999, 1_u32..64, 0_u32..64).prop_map(|(whole, below, above)| format!(
            "{whole} {}/{}",
            above % below,
            below
        )),
        (1_u32..99_999, 1_u32..64, 0_u32..64).prop_map(|(whole, below, above)| format!(
            "{whole}-{}/{}",
            above % below,
            below
        )),
    ]
}

/// A text that may be a quantity, high to low half of the times that it is a range.
fn stated() -> impl Strategy<Value = (usize, usize, String)> {
    let dash = prop_oneof![Just("-"), Just("–"), Just(" to "), Just(" - "), Just(" – ")];
    let end = prop_oneof![Just(""), Just(" minimum"), Just(" max")];
    (any::<usize>(), any::<usize>(), number(), number(), dash, end, any::<bool>(), any::<bool>()).prop_map(
        |(pick, which, one, two, dash, end, range, cold)| {
            let (dimension, unit) = unit_of(pick, which);
            let sign = if cold && dimension.lowest.is_none() { "-" } else { "" };
            let text = if range {
                format!("{sign}{one}{dash}{two} {}", unit.symbol)
            } else {
                format!("{sign}{one} {}{end}", unit.symbol)
            };
            (pick, which, text)
        },
    )
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]

    #[test]
    fn print_then_parse_is_the_identity((pick, which, text) in stated()) {
        let (dimension, unit) = unit_of(pick, which);
        if let Ok((extent, found)) = read::read(dimension, &text) {
            prop_assert_eq!(found, unit);
            let system = if unit.home == Home::Us { UnitSystem::Us } else { UnitSystem::Si };
            let printed = print::stated(dimension, &text, unit, extent, system);
            let (again, found) = read::read(dimension, &printed)
                .map_err(|error| TestCaseError::fail(format!("{text} printed {printed}: {error}")))?;
            prop_assert_eq!((extent, unit), (again, found), "{} printed {}", text, printed);
        } else {
            // Only a falling range is refused; below absolute zero none of these lies.
            prop_assert_eq!(read::read(dimension, &text).unwrap_err().kind(), ParseErrorKind::HighToLow, "{}", text);
        }
    }

    #[test]
    fn converted_text_is_read_and_near((pick, which, text) in stated()) {
        let (dimension, unit) = unit_of(pick, which);
        // Whole degrees cannot say absolute zero: -459.67 °F.
        let coldest = if dimension.format == "temperature" { -272.0 } else { f64::MIN };
        if let Ok((extent, _)) = read::read(dimension, &text)
            && extent.low().or(extent.high()).is_some_and(|low| low.to_f64() >= coldest)
        {
            for system in [UnitSystem::Si, UnitSystem::Us] {
                let printed = print::stated(dimension, &text, unit, extent, system);
                let (again, _) = read::read(dimension, &printed)
                    .map_err(|error| TestCaseError::fail(format!("{text} printed {printed}: {error}")))?;
                if extent.low() != extent.high() {
                    // A range or limit never lies outside the one that is stated.
                    prop_assert!(again.low() >= extent.low(), "{} printed {}", text, printed);
                    let higher = extent.high().is_some_and(|high| again.high().is_none_or(|printed| printed > high));
                    prop_assert!(!higher, "{} printed {}", text, printed);
                }
                for (one, two) in [(extent.low(), again.low()), (extent.high(), again.high())] {
                    let (Some(one), Some(two)) = (one, two) else {
                        prop_assert_eq!(one.is_some(), two.is_some());
                        continue;
                    };
                    let (one, two) = (one.to_f64(), two.to_f64());
                    // Two digits at least; for temperatures whole degrees.
                    let slack = 0.05 * one.abs().max(if dimension.format == "temperature" { 20.0 } else { 0.0 });
                    prop_assert!((one - two).abs() <= slack + 1e-12, "{} printed {}", text, printed);
                }
            }
        }
    }

    #[test]
    fn conversion_there_and_back_is_exact((pick, which, text) in stated(), other in any::<usize>()) {
        let (dimension, unit) = unit_of(pick, which);
        let (_, target) = unit_of(pick, other);
        if let Ok((extent, _)) = read::read(dimension, &text) {
            let there = convert(&text, target.symbol).unwrap();
            let back = there.extent.try_map(|value| value.into_base(target)).unwrap();
            prop_assert_eq!(back, extent);
            let own = back.try_map(|value| value.into_unit(unit)).unwrap();
            prop_assert_eq!(own, convert(&text, unit.symbol).unwrap().extent);
        }
    }

    #[test]
    fn figures_come_back(figure in -1e9_f64..1e9) {
        let back = Exact::from_f64(figure).unwrap().to_f64();
        prop_assert!((back - figure).abs() <= figure.abs() * 1e-13, "{} {}", figure, back);
    }

    #[test]
    fn decimals_are_read_as_they_are_printed(whole in 0_u32..100_000, part in 0_u32..1000) {
        let text = format!("{whole}.{part:03}");
        let figure: f64 = text.parse().unwrap();
        prop_assert_eq!(Exact::from_f64(figure), Exact::new(i128::from(whole) * 1000 + i128::from(part), 1000));
    }

    #[test]
    fn no_text_makes_it_panic(text in "\\PC*") {
        for dimension in DIMENSIONS {
            let _ = check_format(dimension.format, &text);
        }
        let _ = convert(&text, "mm");
    }

    #[test]
    fn no_text_of_likely_characters_makes_it_panic(text in "[-0-9 ./,–\u{2212}\u{a0}×x±'_eE~tominaxAC°F%¼\u{202e}]{0,24}") {
        for dimension in DIMENSIONS {
            if let Ok((extent, unit)) = read::read(dimension, &text) {
                for system in [UnitSystem::Si, UnitSystem::Us, UnitSystem::Both] {
                    print::stated(dimension, &text, unit, extent, system);
                }
            }
        }
    }

    #[test]
    fn no_figure_makes_it_panic(bits in any::<u64>()) {
        if let Some(length) = Length::from_inches(f64::from_bits(bits)) {
            length.print(UnitSystem::Both);
            prop_assert!(length.mm().is_finite());
        }
        if let Some(energy) = Energy::from_ft_lbf(f64::from_bits(bits)) {
            energy.print(UnitSystem::Both);
            Energy::print_range(energy, energy, UnitSystem::Us);
        }
    }
}

#[test]
fn an_inch_mark_is_never_taken_for_metres() {
    for text in ["4\"/min", "4 \"/min", "4 ipm", "4\u{2033}/min", "4\"/m", "4\"/mn", "4''/min", "4 in/mn"] {
        let said = match text.parse::<Range<Speed>>() {
            Ok(range) => {
                assert!((range.low().unwrap().mm_per_s() - 4.0 * 25.4 / 60.0).abs() < 1e-9, "{text}");
                continue;
            }
            Err(error) => error.to_string(),
        };
        assert!(said.contains("write `in/min`"), "{text}: {said}");
    }
}
