//! Solid and cored wire.

use seamwright_model::procedure::{TransferMode, keys};
use seamwright_model::quantity::{Current, Flow, Length, Quantity, Range, Speed, Voltage};
use seamwright_model::stated::Stated;
use seamwright_weld::RunView;

use crate::{Span, drafted, meet};

/// A line of settings as it is printed: wire in mm, current in A, voltage in V, then what else the source has.
#[derive(Clone, Copy)]
struct Line {
    wire: Span,
    transfer: Option<TransferMode>,
    current: Span,
    voltage: Option<Span>,
    travel: Option<Span>,
    tip: Option<Span>,
    flow: Option<Span>,
}

const fn line(wire: f64, transfer: Option<TransferMode>, current: Span, voltage: Span) -> Line {
    Line { wire: (wire, wire), transfer, current, voltage: Some(voltage), travel: None, tip: None, flow: None }
}

/// What the runs of a draft state, in the units of [`Line`].
struct Run {
    wire: f64,
    transfer: Option<TransferMode>,
    current: Span,
    voltage: Span,
    travel: Span,
    tip: Option<Span>,
    flow: Option<Span>,
}

fn ends<Q: Quantity>(range: &Range<Q>, figure: impl Fn(Q) -> f64) -> Span {
    (range.low().map_or(f64::NAN, &figure), range.high().map_or(f64::NAN, &figure))
}

fn read(run: &RunView<'_>, wire: f64) -> Run {
    Run {
        wire,
        transfer: run.value(&keys::TRANSFER_MODE).map(|at| *at.value),
        current: ends(run.value(&keys::CURRENT).expect("a current").value, Current::amperes),
        voltage: ends(run.value(&keys::VOLTAGE).expect("a voltage").value, Voltage::volts),
        travel: ends(run.value(&keys::TRAVEL_SPEED).expect("a travel").value, Speed::mm_per_min),
        tip: run.value(&keys::CONTACT_TIP_TO_WORK).map(|at| ends(at.value, Length::mm)),
        flow: run.gas().and_then(|gas| gas.value.flow.as_ref()?.value().map(|flow| ends(flow, Flow::l_per_min))),
    }
}

/// The runs of a draft.
fn runs(words: &str) -> Vec<Run> {
    drafted(words, |view| {
        let of = |run: &RunView<'_>| {
            let (_, filler) = run.filler(view.procedure).expect("a filler");
            let wire = filler.diameter.as_ref().and_then(Stated::value).and_then(Range::middle).map(Length::mm);
            read(run, wire.expect("a diameter"))
        };
        view.runs.iter().map(of).collect()
    })
}

/// The settings of a run that share nothing with a printed line.
fn apart(run: &Run, line: &Line) -> Vec<&'static str> {
    let other = |printed: Option<Span>, own: Option<Span>| printed.zip(own).is_some_and(|(a, b)| !meet(a, b));
    let mut found = Vec::new();
    if !meet(line.wire, (run.wire, run.wire)) {
        found.push("wire");
    }
    if line.transfer.is_some() && line.transfer != run.transfer {
        found.push("mode of transfer");
    }
    let settings = [
        ("current", Some(line.current), Some(run.current)),
        ("voltage", line.voltage, Some(run.voltage)),
        ("travel", line.travel, Some(run.travel)),
        ("contact tip", line.tip, run.tip),
        ("gas flow", line.flow, run.flow),
    ];
    found.extend(settings.into_iter().filter(|(_, printed, own)| other(*printed, *own)).map(|(name, ..)| name));
    found
}

/// Holds every run of a draft against a printed line.
fn agrees(words: &str, line: &Line) {
    for run in runs(words) {
        let apart = apart(&run, line);
        assert!(
            apart.is_empty(),
            "{words}: {apart:?}; wire {} mm, {:?}, {:?} A, {:?} V, {:?} mm/min, tip {:?}, gas {:?}",
            run.wire,
            run.transfer,
            run.current,
            run.voltage,
            run.travel,
            run.tip,
            run.flow
        );
    }
}

/// Holds every run of a draft against several printed lines, of which one fits whole.
fn agrees_with_one(words: &str, lines: &[Line]) {
    for run in runs(words) {
        let found: Vec<_> = lines.iter().map(|line| apart(&run, line)).collect();
        assert!(
            found.iter().any(Vec::is_empty),
            "{words}: {found:?}; wire {} mm, {:?} A, {:?} V, {:?} mm/min, gas {:?}",
            run.wire,
            run.current,
            run.voltage,
            run.travel,
            run.flow
        );
    }
}

const SHORT: Option<TransferMode> = Some(TransferMode::ShortCircuit);
const SPRAY: Option<TransferMode> = Some(TransferMode::Spray);

/// Joint, thickness, wire, current, voltage, travel, contact tip, gas flow.
type Printed = (&'static str, f64, Span, Span, Span, Span, f64, Span);

// Manufacturer handbook, MAG conditions for mild steel in 80Ar-20CO2 (appendix): square butts and horizontal fillets. The
// source names no mode of transfer; at 15 to 21 V it is by short circuits.
#[test]
fn sheet_of_mild_steel_begins_with_the_printed_conditions() {
    let rows: [Printed; 9] = [
        ("butt", 0.8, (0.6, 0.8), (30.0, 40.0), (15.0, 15.0), (400.0, 550.0), 10.0, (10.0, 10.0)),
        ("butt", 1.2, (0.8, 0.9), (60.0, 70.0), (15.0, 16.0), (300.0, 500.0), 10.0, (10.0, 15.0)),
        ("butt", 1.6, (0.8, 0.9), (100.0, 110.0), (16.0, 17.0), (400.0, 600.0), 10.0, (10.0, 15.0)),
        ("butt", 3.2, (0.8, 1.2), (120.0, 140.0), (16.0, 17.0), (250.0, 300.0), 15.0, (10.0, 15.0)),
        ("butt", 4.0, (1.0, 1.2), (150.0, 160.0), (17.0, 18.0), (200.0, 300.0), 15.0, (10.0, 15.0)),
        ("tee", 1.0, (0.6, 0.8), (85.0, 90.0), (18.0, 19.0), (500.0, 600.0), 10.0, (10.0, 15.0)),
        ("tee", 1.6, (0.6, 0.8), (100.0, 110.0), (18.0, 19.5), (500.0, 600.0), 10.0, (10.0, 15.0)),
        ("tee", 2.4, (0.8, 1.0), (115.0, 125.0), (19.5, 20.0), (500.0, 600.0), 10.0, (10.0, 15.0)),
        ("tee", 3.2, (0.8, 1.2), (130.0, 140.0), (19.5, 21.0), (500.0, 600.0), 10.0, (10.0, 15.0)),
    ];
    for (joint, thickness, wire, current, voltage, travel, tip, flow) in rows {
        let position = if joint == "butt" { "PA" } else { "PB" };
        let line = Line {
            wire,
            transfer: SHORT,
            current,
            voltage: Some(voltage),
            travel: Some(travel),
            tip: Some((tip, tip)),
            flow: Some(flow),
        };
        agrees(&format!("135 S235JR {thickness} {joint} {position}"), &line);
    }
}

// Manufacturer handbook, aluminium MIG conditions (10.3.2.3): plate of 3 to 4 mm with 1.2 mm wire, of 6 mm with 1.6 mm wire.
#[test]
fn aluminium_begins_with_the_printed_conditions() {
    let of = |wire: f64, current, voltage, travel, tip, flow| Line {
        travel: Some(travel),
        tip: Some(tip),
        flow: Some(flow),
        ..line(wire, SPRAY, current, voltage)
    };
    let butt = of(1.2, (120.0, 170.0), (20.0, 24.0), (600.0, 800.0), (15.0, 18.0), (20.0, 20.0));
    let fillet = of(1.2, (140.0, 170.0), (21.0, 24.0), (500.0, 700.0), (15.0, 18.0), (15.0, 20.0));
    let thick = of(1.6, (180.0, 230.0), (23.0, 26.0), (400.0, 650.0), (17.0, 20.0), (20.0, 25.0));
    // The Aluminum Association (Welding Aluminum, 3rd edition, 1997, remembered) prints other lines for 1/4 in plate: 3/64 to
    // 1/16 in wire, 175 to 225 A at 22 to 26 V in a butt, 170 to 240 A at 24 to 28 V in a fillet, 24 to 30 in/min, 40 ft3/h.
    let association = |current, voltage| Line {
        wire: (1.2, 1.6),
        travel: Some((609.6, 762.0)),
        flow: Some((18.9, 18.9)),
        ..line(1.2, SPRAY, current, voltage)
    };
    for thickness in [3, 4] {
        agrees(&format!("131 5083 {thickness} butt PA"), &butt);
        agrees(&format!("131 5083 {thickness} tee PB"), &fillet);
    }
    // A draft keeps to one of the two, whole.
    agrees_with_one("131 5083 6 tee PB", &[thick, association((170.0, 240.0), (24.0, 28.0))]);
    let butt = association((175.0, 225.0), (22.0, 26.0));
    agrees_with_one("131 5083 6 butt PA", &[Line { travel: None, ..thick }, Line { travel: None, ..butt }]);
}

/// Holds all runs of drafts over thickness, joint and position that use the wire of a line against it; each line is used.
fn envelope(process: &str, metal: &str, lines: &[Line]) {
    let mut used = vec![0; lines.len()];
    for thickness in ["1.2", "1.6", "3", "4", "5", "6", "8", "12", "16", "25"] {
        for (joint, position) in [("butt", "PA"), ("butt", "PF"), ("tee", "PB"), ("tee", "PF"), ("lap", "PB")] {
            let words = format!("{process} {metal} {thickness} {joint} {position}");
            for run in runs(&words) {
                let of_wire = |line: &&Line| meet(line.wire, (run.wire, run.wire)) && line.transfer == run.transfer;
                let own: Vec<&Line> = lines.iter().filter(of_wire).collect();
                let fits = |line: &&&Line| apart(&run, line).is_empty();
                assert!(
                    own.is_empty() || own.iter().any(|line| fits(&line)),
                    "{words}: {:?} A at {:?} V with {} mm lies outside what is printed",
                    run.current,
                    run.voltage,
                    run.wire
                );
                for (count, line) in used.iter_mut().zip(lines) {
                    *count += usize::from(of_wire(&line) && fits(&&line));
                }
            }
        }
    }
    for (count, line) in used.iter().zip(lines) {
        assert!(*count > 0, "no draft of {process} {metal} uses {:?} mm in {:?}", line.wire, line.transfer);
    }
}

// Manufacturer handbook, data charts (tables 6-1 and 6-2), and another's typical control settings (OM-283007, 9-3; its
// voltages from shop practice): wires that no draft takes (0.8 and 0.9 mm in spray transfer) are left out.
#[test]
fn wires_of_carbon_steel_stay_within_the_printed_charts() {
    envelope(
        "135",
        "S355J2",
        &[
            line(0.8, SHORT, (70.0, 130.0), (15.0, 21.0)),
            line(0.9, SHORT, (80.0, 190.0), (16.0, 22.0)),
            line(1.2, SHORT, (100.0, 225.0), (17.0, 22.0)),
            line(0.8, SHORT, (40.0, 145.0), (15.0, 20.0)),
            line(0.9, SHORT, (50.0, 180.0), (15.0, 20.0)),
            line(1.2, SPRAY, (200.0, 315.0), (24.0, 30.0)),
        ],
    );
}

// AWS C5.6 and Welding Handbook volume 2, remembered: stainless wire by short circuits, in spray transfer.
#[test]
fn wires_of_stainless_steel_stay_within_the_handbook() {
    envelope(
        "135",
        "304L",
        &[
            line(0.8, SHORT, (50.0, 130.0), (16.0, 21.0)),
            line(0.9, SHORT, (60.0, 160.0), (17.0, 22.0)),
            line(1.2, SHORT, (100.0, 200.0), (17.0, 23.0)),
            line(1.2, SPRAY, (190.0, 300.0), (23.0, 29.0)),
        ],
    );
}

// Manufacturer handbook, flux wire in CO2 on horizontal fillets of 4 to 9 mm leg (10.3.2.2); data sheet of an E71T-1 wire,
// vertical up (2005). The wires of 1.4 and 1.6 mm of the first are no wires that a draft takes.
#[test]
fn cored_wire_begins_with_the_printed_conditions() {
    let fillet = Line { transfer: None, travel: Some((300.0, 500.0)), ..line(1.2, None, (250.0, 320.0), (27.0, 32.0)) };
    agrees("136 S355J2 12 tee PB", &fillet);
    for thickness in [6, 8, 10] {
        // The legs of thinner plate are shorter than the travel of the source lays.
        agrees(&format!("136 S355J2 {thickness} tee PB"), &Line { travel: None, ..fillet });
    }
    let upward = Line { voltage: None, ..line(1.2, None, (220.0, 250.0), (0.0, 0.0)) };
    for thickness in [6, 8, 12] {
        agrees(&format!("136 S355J2 {thickness} tee PF"), &upward);
    }
}

// AWS A5.20 and manufacturers' operating procedures, remembered: self-shielded wire.
#[test]
fn self_shielded_wire_stays_within_the_handbook() {
    let of = |wire, current, voltage, tip| Line { tip: Some(tip), ..line(wire, None, current, voltage) };
    for thickness in [1.6, 2.0, 3.0] {
        agrees(&format!("114 S235JR {thickness} tee PB"), &of(0.9, (50.0, 155.0), (14.0, 18.0), (10.0, 13.0)));
    }
    for thickness in [4, 6] {
        agrees(&format!("114 S235JR {thickness} tee PB"), &of(1.2, (90.0, 200.0), (15.0, 19.0), (13.0, 19.0)));
    }
    for thickness in [8, 12] {
        agrees(&format!("114 S235JR {thickness} tee PB"), &of(1.6, (125.0, 290.0), (18.0, 23.0), (13.0, 25.0)));
    }
}
