//! Common jobs with wire: what a practitioner would look for in their drafts.

use seamwright_draft::{Choices, Facts, Refused, Typed, draft};
use seamwright_model::document::Document;
use seamwright_model::procedure::{Layer, Preparation, Procedure, Run, Side, Sides, TransferMode};
use seamwright_model::quantity::{Length, Quantity, Range, Speed, Temperature};
use seamwright_model::stated::{OrNone, Stated};

fn text(words: &str) -> Result<String, Refused> {
    let words: Vec<&str> = words.split(' ').collect();
    let word = |at: usize| words.get(at).copied().unwrap_or_default().to_owned();
    let typed = Typed {
        process: word(0),
        to: None,
        metal: word(1),
        thickness: format!("{} mm", word(2)),
        joint: word(3),
        position: word(4),
        diameter: words.get(5).map(|diameter| format!("{diameter} mm")),
    };
    Facts::read(&typed).and_then(|facts| draft(&facts))
}

/// The draft for `process metal thickness-in-mm joint position [diameter-in-mm]`.
fn procedure(words: &str) -> Procedure {
    let text = text(words).unwrap_or_else(|why| panic!("{words}: {why}"));
    match seamwright_model::load(words, text.as_bytes()).unwrap_or_else(|_| panic!("{text}")).document {
        Document::Procedure(procedure) => *procedure,
        other => panic!("{}", other.kind()),
    }
}

fn high<Q: Quantity>(stated: Option<&Stated<Range<Q>>>, figure: impl Fn(Q) -> f64) -> Option<f64> {
    stated?.value()?.high().map(figure)
}

fn transfer(run: &Run) -> Option<TransferMode> {
    run.settings.transfer_mode.as_ref().and_then(Stated::value).copied()
}

#[test]
fn an_open_root_is_closed_by_short_circuits_with_the_tip_near_and_filled_with_spray() {
    let procedure = procedure("135 S355J2 8 butt PA");
    let tip = |run: &Run| high(run.settings.contact_tip_to_work.as_ref(), Length::mm).expect("a distance");
    let [root, over @ ..] = procedure.runs.as_slice() else { panic!("no runs") };
    assert_eq!((root.layer, transfer(root)), (Some(Layer::Root), Some(TransferMode::ShortCircuit)));
    assert!(!over.is_empty());
    for run in over {
        assert_eq!(transfer(run), Some(TransferMode::Spray));
        assert!(tip(root) < tip(run));
    }
}

#[test]
fn thick_plate_takes_a_double_v_from_both_sides_and_a_pipe_a_v_from_one() {
    for process in ["111", "135", "136", "114"] {
        let plate = procedure(&format!("{process} S355J2 25 butt PA"));
        let joint = plate.joint.as_ref().expect("a joint");
        assert_eq!(joint.preparation.as_ref().and_then(Stated::value), Some(&Preparation::DoubleV), "{process}");
        assert_eq!(joint.welded_from.as_ref().and_then(Stated::value), Some(&Sides::Both), "{process}");
        assert!(joint.back_gouging.as_deref().is_some_and(|gouging| gouging != "none"), "{process}");
        for side in [Side::First, Side::Second] {
            assert!(plate.runs.iter().filter(|run| run.side == Some(side)).count() > 1, "{process} {side:?}");
        }
        let pipe = procedure(&format!("{process} S355J2 25 butt PA 323.9"));
        let joint = pipe.joint.as_ref().expect("a joint");
        assert_eq!(joint.preparation.as_ref().and_then(Stated::value), Some(&Preparation::SingleV), "{process}");
        assert!(pipe.runs.iter().all(|run| run.side.is_none()), "{process}");
    }
}

#[test]
fn the_leg_at_the_edge_of_a_lap_is_no_longer_than_the_edge() {
    for (words, thickness) in [("135 S235JR 0.8 lap PB", 0.8), ("135 304L 1.5 lap PB", 1.5), ("131 5083 3 lap PB", 3.0)]
    {
        let procedure = procedure(words);
        let size = procedure.weld_size.as_ref().and_then(Stated::value).expect("a size");
        let (edge, face) = (high(size.leg.as_ref(), Length::mm), high(size.second_leg.as_ref(), Length::mm));
        assert!(edge.is_some_and(|edge| edge <= thickness), "{words}: {edge:?}");
        // No hand lays so little metal that the other leg would be as short.
        assert!(face > edge, "{words}: {face:?}");
    }
}

#[test]
fn travel_by_hand_stays_within_what_a_hand_follows() {
    for words in ["135 S235JR 0.8 lap PB", "135 S235JR 2 tee PB", "136 S355J2 6 tee PF", "114 S235JR 2 tee PB"] {
        for run in &procedure(words).runs {
            let speed = high(run.settings.travel_speed.as_ref(), Speed::mm_per_min).expect("a speed");
            assert!(speed <= 900.0, "{words}: {speed} mm/min");
        }
    }
}

#[test]
fn what_the_tables_do_not_reach_is_refused_with_its_reason() {
    for (words, reason) in [
        ("131 C12200 6 tee PF", "pulsed"),
        ("114 S235JR 3 tee PF", "E71T-11 is not for welding upwards"),
        ("135 S355J2 8 tee PG", "downwards"),
    ] {
        match text(words) {
            Err(why) => assert!(why.to_string().contains(reason), "{words}: {why}"),
            Ok(_) => panic!("{words} is drafted"),
        }
    }
}

// EN 1011-2 method A: the coldest run decides, a root, too; a draft asks for what its check asks for.
#[test]
fn a_draft_is_preheated_as_its_check_asks() {
    for process in ["111", "135", "136", "138"] {
        for thickness in [12, 16, 18, 20, 22, 25, 30] {
            for joint in ["butt PA", "tee PB", "butt PF"] {
                let words = format!("{process} S355J2 {thickness} {joint}");
                let Ok(text) = text(&words) else { continue };
                let loaded = seamwright_model::load("draft", text.as_bytes()).expect("a draft is read");
                let Document::Procedure(procedure) = &loaded.document else { panic!("{words} is no procedure") };
                let findings = seamwright_check::check(procedure).findings;
                let cold = findings.iter().find(|finding| finding.check == "preheat-below-needed");
                assert!(cold.is_none(), "{words}: {}", cold.map_or("", |finding| &finding.message));
            }
        }
    }
}

// A practitioner's review of drafts, remembered: the preheat of grade 91 is kept until the joint is welded, and the joint cools
// to 95 °C or below, so that it has transformed, before it is treated at 730 to 775 °C.
#[test]
fn modified_nine_chromium_steel_keeps_its_preheat_and_cools_before_it_is_treated() {
    let heat = procedure("141 A335-P91 10 butt PA 168.3").temperatures.expect("temperatures");
    let low = |stated: Option<&Stated<Range<Temperature>>>| stated?.value()?.low().map(Temperature::celsius);
    assert_eq!(low(heat.preheat_maintenance.as_ref()), low(heat.preheating.as_ref()));
    assert!(low(heat.preheating.as_ref()).is_some_and(|celsius| celsius >= 150.0));
    let treatment = heat.post_weld_heat_treatment.as_ref().and_then(OrNone::value).expect("a treatment");
    assert_eq!(low(treatment.temperature.as_ref()), Some(730.0));
    assert!(treatment.method.as_deref().is_some_and(|method| method.contains("cooled to 95 °C or below")));
    // Other chromium steel has no such step.
    let heat = procedure("141 A335-P22 16 butt PA 168.3").temperatures.expect("temperatures");
    let treatment = heat.post_weld_heat_treatment.as_ref().and_then(OrNone::value).expect("a treatment");
    assert!(treatment.method.is_none() && heat.preheat_maintenance.is_none());
}

// A plate of one inch is among the commonest: 25.4 mm, as thick as the plate of 25 mm.
#[test]
fn a_plate_of_one_inch_is_drafted_like_one_of_25_millimetres() {
    for process in ["111", "135", "136", "138"] {
        let preparation = |words: &str| procedure(words).joint.and_then(|joint| joint.preparation?.value().copied());
        let inch = preparation(&format!("{process} A36 25.4 butt PA"));
        assert_eq!(inch, preparation(&format!("{process} A36 25 butt PA")), "{process}");
    }
}

// Common practice: the arc under flux melts through a root alone, so that a hot pass goes before it.
#[test]
fn a_root_under_flux_has_a_hot_pass_over_it() {
    for (words, root) in [("141,121 S355J2 12 butt PA", "141"), ("111,121 A36 20 butt PA", "111")] {
        let procedure = procedure(words);
        let of = |at: usize| {
            let run = &procedure.runs[at];
            (run.run.to_string(), run.process.as_deref().map(str::to_owned), run.layer)
        };
        assert_eq!(of(0), ("1".to_owned(), Some(root.to_owned()), Some(Layer::Root)), "{words}");
        assert_eq!(of(1), ("2".to_owned(), Some(root.to_owned()), Some(Layer::Hot)), "{words}");
        assert!(of(2).0.starts_with('3') && of(2).1.as_deref() == Some("121"), "{words}: {:?}", of(2));
    }
    // Elsewhere the root is one run.
    let other = procedure("141,111 S355J2 12 butt PA");
    assert_eq!(other.runs[1].process.as_deref(), Some("111"));
}

// Usage of the trade: the gas that the metal takes tells MIG from MAG, and the class of a cored wire whether it needs gas
// (AWS A5.20: T-1 with gas, T-8 and T-11 without); a fillet laid flat on its plate is horizontal in PB, a groove in PC.
#[test]
fn words_of_the_trade_are_taken_for_what_metal_filler_and_joint_make_of_them() {
    for (process, metal, filler, joint, position, means, code) in [
        ("MIG", "S235JR", None, "fillet", "horizontal", "135", "PB"),
        ("mig", "304L", None, "fillet", "flat", "135", "PA"),
        ("GMAW", "A36", None, "t-joint", "flat", "135", "PA"),
        ("MIG", "5083", None, "fillet", "flat", "131", "PA"),
        ("MIG welding", "6061-T6", None, "fillet", "horizontal", "131", "PB"),
        ("TIG", "304L", None, "fillet", "vertical up", "141", "PF"),
        ("stick", "A36", None, "fillet", "overhead", "111", "PD"),
        ("stick", "A36", None, "groove", "overhead", "111", "PE"),
        ("stick", "A36", None, "groove", "horizontal", "111", "PC"),
        ("MIG", "S235JR", None, "fillet", "vertical down", "135", "PG"),
        ("flux core", "A36", None, "fillet", "flat", "136", "PA"),
        ("flux core", "A36", Some("E71T-1M"), "fillet", "horizontal", "136", "PB"),
        ("flux core", "A36", Some("E71T-1"), "fillet", "horizontal", "136", "PB"),
        ("flux-core", "A36", Some("E71T-8"), "fillet", "horizontal", "114", "PB"),
        ("FCAW", "A36", Some("E71T-11"), "fillet", "flat", "114", "PA"),
        ("gasless flux core", "A36", None, "fillet", "flat", "114", "PA"),
        ("metal core", "S355J2", None, "fillet", "flat", "138", "PA"),
        ("sub arc", "S355J2", None, "groove", "flat", "121", "PA"),
    ] {
        let what = format!("{process} on {metal}, {joint} {position}");
        let typed = Typed {
            process: process.to_owned(),
            to: None,
            metal: metal.to_owned(),
            thickness: if means == "121" {
                "12 mm"
            } else if code == "PG" {
                "3 mm"
            } else {
                "6 mm"
            }
            .to_owned(),
            joint: joint.to_owned(),
            position: position.to_owned(),
            diameter: None,
        };
        let choices = Choices { filler: filler.map(str::to_owned), ..Choices::default() };
        let page = Facts::read_with(&typed, &choices).and_then(|facts| draft(&facts));
        let page = page.unwrap_or_else(|why| panic!("{what}: {why}"));
        assert!(page.contains(&format!("`{process}` is taken as {means}")), "{what}: {page}");
        assert!(page.contains(&format!("`{position}` is taken as {code}")), "{what}: {page}");
        let read = match seamwright_model::load(&what, page.as_bytes()).unwrap_or_else(|_| panic!("{page}")).document {
            Document::Procedure(procedure) => procedure,
            other => panic!("{}", other.kind()),
        };
        let processes: Vec<String> = read.processes.iter().map(|(number, _)| number.to_string()).collect();
        assert_eq!(processes, [means], "{what}");
        if let Some(filler) = filler {
            assert!(read.fillers.iter().all(|(_, own)| own.designation.starts_with(filler)), "{what}: {page}");
        }
    }
}
