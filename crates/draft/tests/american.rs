//! Common American drafts, by gauge, fraction and schedule, held against what a practitioner would sign: from practice and memory.

mod common;

use common::typed;
use seamwright_draft::{Facts, draft};
use seamwright_model::document::Document;
use seamwright_model::procedure::{Procedure, Side, TransferMode};
use seamwright_model::quantity::{Current, Flow, Length, Quantity, Range, Voltage};
use seamwright_model::stated::{OrNone, Stated};

fn text(words: &str) -> String {
    Facts::read(&typed(words)).and_then(|facts| draft(&facts)).unwrap_or_else(|why| panic!("{words}: {why}"))
}

fn procedure(words: &str) -> Procedure {
    let text = text(words);
    match seamwright_model::load(words, text.as_bytes()).unwrap_or_else(|_| panic!("{text}")).document {
        Document::Procedure(procedure) => *procedure,
        other => panic!("{}", other.kind()),
    }
}

fn ends<Q: Quantity>(stated: Option<&Stated<Range<Q>>>, figure: impl Fn(Q) -> f64) -> (f64, f64) {
    let range = stated.and_then(Stated::value).expect("a range");
    (range.low().map_or(0.0, &figure), range.high().map_or(f64::INFINITY, &figure))
}

fn leg_in(procedure: &Procedure) -> f64 {
    let size = procedure.weld_size.as_ref().and_then(Stated::value).expect("a size");
    ends(size.leg.as_ref(), Length::mm).1 / 25.4
}

// A gauge is no leg: 10 ga is 0.1345 in, and a welder's gauge has 1/8 in.
#[test]
fn sheet_by_gauge_has_a_leg_in_a_fraction() {
    for (words, leg) in [
        ("111|A36|10 ga|lap|2F", 0.125),
        ("135|A36|11 ga|lap|2F", 0.125),
        ("111|A36|10 ga|tee|2F", 0.125),
        ("135|A36|14 ga|lap|2F", 5.0 / 64.0),
        ("141|304|16 ga|tee|2F", 0.0625),
        // No fraction is near the wall of this tube.
        ("141|4130|0.049 in|tee|2F", 0.049),
    ] {
        let found = leg_in(&procedure(words));
        assert!((found - leg).abs() < 0.002, "{words}: {found}");
    }
}

// The root on a strip takes the electrode and the transfer of the rest: 1/8 in, and no short circuits on steel of 3/8 in.
#[test]
fn the_root_on_a_strip_is_welded_like_the_rest() {
    for words in ["111|A36|3/8 in|butt|3G", "111|A36|1/2 in|butt|1G"] {
        let procedure = procedure(words);
        for (_, filler) in procedure.fillers.iter() {
            assert!(ends(filler.diameter.as_ref(), Length::mm).0 > 3.1, "{words}: {:?}", filler.diameter);
        }
    }
    let procedure = procedure("135|A36|3/8 in|butt|1G");
    for run in &procedure.runs {
        let own = run.settings.transfer_mode.as_ref().and_then(Stated::value);
        let shared = procedure.processes.iter().find_map(|(_, own)| own.transfer_mode.as_ref().and_then(Stated::value));
        assert_eq!(own.or(shared), Some(&TransferMode::Spray), "run {}", run.run);
    }
}

#[test]
fn one_run_a_side_where_one_fills_it() {
    let procedure = procedure("121|S355J2|20 mm|butt|PA");
    for side in [Side::First, Side::Second] {
        assert_eq!(procedure.runs.iter().filter(|run| run.side == Some(side)).count(), 1, "{side:?}");
    }
}

// Argon of 15 to 20 ft3/h on an aluminium tee and 20 to 30 over titanium; arcs of no more voltage than the load that machines are rated at; a gas-cooled torch that is
// not used up to its rating.
#[test]
fn a_tungsten_arc_has_the_flow_the_voltage_and_the_torch_of_practice() {
    for (words, flow_ft3_h) in [
        ("141|6061-T6|1/8 in|tee|2F", (14.5, 20.5)),
        ("141|Ti-Gr2|1/16 in|butt|1G", (20.0, 32.0)),
        ("141|304|1/8 in|tee|2F", (12.5, 18.0)),
    ] {
        let procedure = procedure(words);
        let (_, settings) = procedure.processes.iter().next().unwrap();
        let gas = settings.shielding_gas.as_ref().and_then(OrNone::value).unwrap();
        let (low, high) = ends(gas.flow.as_ref(), |flow: Flow| flow.l_per_min() / 0.4719);
        assert!(low >= flow_ft3_h.0 && high <= flow_ft3_h.1 && high >= 1.1 * low, "{words}: {low}-{high}");
    }
    for words in ["141|6061-T6|1/4 in|tee|2F", "141,111|A106-B|6 in sch 80|butt|6G", "141|304L|1 in sch 10|butt|5G"] {
        let procedure = procedure(words);
        let run = &procedure.runs[0].settings;
        let (_, settings) = procedure.processes.iter().next().unwrap();
        let torch = settings.torch.as_ref().and_then(|torch| torch.size.as_deref()).unwrap();
        let amperes = ends(run.current.as_ref(), Current::amperes).1;
        // IEC 60974-1: the load voltage of a tungsten arc is taken as 10 V and 0.04 V for each ampere.
        let volts = ends(run.voltage.as_ref(), Voltage::volts).1;
        assert!(volts <= 10.0 + 0.04 * amperes + 1.0, "{words}: {volts} V at {amperes} A");
        assert!(torch != "9" || amperes < 107.0, "{words}: torch 9 at {amperes} A");
    }
}

#[test]
fn common_jobs_are_not_held_back() {
    for words in [
        "131|6061-T6|1/8 in|tee|2F",
        "131|5052|3/16 in|lap|2F",
        "135|A36|14 ga|lap|2F",
        "135|A36|16 ga|butt|1G",
        "141|6061-T6|1/4 in|tee|2F",
        "111|A36|1/8 in|butt|1G",
        "114|A36|1/8 in|lap|2F",
        "136|A992|1/2 in|tee|3F",
    ] {
        assert!(text(words).contains("document: procedure"), "{words}");
    }
}
