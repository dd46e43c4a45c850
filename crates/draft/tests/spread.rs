//! Drafts over process, metal, thickness, joint and position beside the spread of settings that makers, books and practice
//! have for that thickness and position (`settings-by-thickness` of the handbook): at least three lines that lie alike, of the
//! kind of joint, from two thirds to one and a half times the thickness; the runs of a groove from every thickness.

use seamwright_draft::{Facts, Typed, draft};
use seamwright_handbook::gtaw_starting_points::Joint;
use seamwright_handbook::settings_by_thickness::{self, Row};
use seamwright_handbook::{Band, base_metals};
use seamwright_model::document::Document;
use seamwright_model::procedure::{Preparation, Run};
use seamwright_model::quantity::{Current, Quantity, Range, Speed, Voltage};
use seamwright_model::stated::Stated;

const PROCESSES: [&str; 8] = ["111", "114", "121", "131", "135", "136", "138", "141"];
const METALS: [&str; 6] = ["S235JR", "S355J2", "304L", "6061-T6", "5083-O", "C12200"];
const THICKNESSES: [&str; 8] = ["1 mm", "2 mm", "3 mm", "5 mm", "6 mm", "8 mm", "12 mm", "20 mm"];
const JOINTS: [(&str, Joint, [&str; 4]); 4] = [
    ("butt", Joint::Butt, ["PA", "PC", "PF", "PE"]),
    ("tee", Joint::Tee, ["PB", "PF", "PD", "PG"]),
    ("lap", Joint::Lap, ["PB", "PF", "PD", "PG"]),
    ("corner", Joint::Corner, ["PA", "PB", "PF", "PD"]),
];

/// What was compared, and what lies outside.
#[derive(Default)]
struct Tally {
    values: usize,
    outside: Vec<String>,
}

impl Tally {
    fn add(&mut self, what: &str, own: Option<Band>, hull: Option<Band>) {
        let (Some(own), Some(hull)) = (own, hull) else { return };
        self.values += 1;
        // One printed figure has a spread of its own: what a dial is read by.
        let hull = Band::new(hull.low * 0.95, hull.high * 1.05);
        if !hull.contains(own.middle()) {
            self.outside.push(format!("{what} {}-{}, printed {:.1}-{:.1}", own.low, own.high, hull.low, hull.high));
        }
    }
}

fn ends<Q: Quantity>(stated: Option<&Stated<Range<Q>>>, figure: impl Fn(Q) -> f64) -> Option<Band> {
    let range = stated?.value()?;
    Some(Band::new(range.low().map(&figure)?, range.high().map(&figure)?))
}

/// How a position lies: flat, horizontal, up, down or overhead.
fn lies(code: &str) -> &'static str {
    match code {
        "vertical" | "PF" | "PH" => "up",
        "PG" | "PJ" => "down",
        "PE" | "PD" => "overhead",
        "PC" => "horizontal",
        _ => "flat",
    }
}

/// What at least three lines span.
fn spread(rows: &[&Row], figure: impl Fn(&Row) -> Option<Band>) -> Option<Band> {
    let all: Vec<Band> = rows.iter().filter_map(|row| figure(row)).collect();
    if all.len() < 3 { None } else { all.into_iter().reduce(Band::hull) }
}

fn compare(tally: &mut Tally, name: &str, run: &Run, rows: &[&Row]) {
    let own = &run.settings;
    let current = spread(rows, |row| row.current_a);
    tally.add(&format!("{name}: current A"), ends(own.current.as_ref(), Current::amperes), current);
    let voltage = spread(rows, |row| row.voltage_v);
    tally.add(&format!("{name}: voltage V"), ends(own.voltage.as_ref(), Voltage::volts), voltage);
    let travel = spread(rows, Row::travel);
    tally.add(&format!("{name}: travel mm/min"), ends(own.travel_speed.as_ref(), Speed::mm_per_min), travel);
}

#[test]
fn ninety_five_of_a_hundred_values_lie_within_the_printed_spread() {
    let mut tally = Tally::default();
    for process in PROCESSES {
        for metal in METALS {
            let family = base_metals::find(metal).expect("a metal").family;
            for thickness in THICKNESSES {
                let mm: f64 = thickness.trim_end_matches(" mm").parse().expect("a figure");
                for (joint, kind, codes) in JOINTS {
                    let Some(wanted) = settings_by_thickness::family(family) else { continue };
                    for code in codes {
                        let near = |row: &Row, groove: bool| {
                            let off = |own: f64| (own / mm).ln().abs() <= 1.5_f64.ln() + 1e-9;
                            groove
                                || row.thickness().is_some_and(|own| own.contains(mm) || off(own.low) || off(own.high))
                        };
                        let rows = |groove: bool| -> Vec<&Row> {
                            settings_by_thickness::rows()
                                .iter()
                                .filter(|row| row.processes.contains(&process))
                                .filter(|row| row.metals.contains(&wanted) && row.kind() == Some(kind))
                                .filter(|row| lies(row.position.unwrap_or_default()) == lies(code))
                                .filter(|row| near(row, groove))
                                .collect()
                        };
                        let typed = Typed {
                            process: process.to_owned(),
                            metal: metal.to_owned(),
                            to: None,
                            thickness: thickness.to_owned(),
                            joint: joint.to_owned(),
                            position: code.to_owned(),
                            diameter: None,
                        };
                        let Ok(text) = Facts::read(&typed).and_then(|facts| draft(&facts)) else { continue };
                        let loaded =
                            seamwright_model::load("draft", text.as_bytes()).unwrap_or_else(|_| panic!("{text}"));
                        let Document::Procedure(procedure) = &loaded.document else { panic!("{text}") };
                        let preparation = procedure.joint.as_ref().and_then(|own| own.preparation.as_ref());
                        let square = preparation.and_then(Stated::value) == Some(&Preparation::Square);
                        let rows = rows(joint == "butt" && !square);
                        for run in procedure.runs.iter().filter(|run| run.process.as_deref() == Some(process)) {
                            let name = format!("{process} {metal} {thickness} {joint} {code} run {}", &*run.run);
                            compare(&mut tally, &name, run, &rows);
                        }
                    }
                }
            }
        }
    }
    println!("{} of {} values lie outside the printed spread:", tally.outside.len(), tally.values);
    for line in &tally.outside {
        println!("  {line}");
    }
    assert!(tally.values > 500, "{}", tally.values);
    assert!(tally.outside.len() * 20 <= tally.values, "{} of {}", tally.outside.len(), tally.values);
}
