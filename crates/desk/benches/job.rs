//! A job of 500 joints as a shop has it, from the list that is pasted to its price and papers: `cargo bench -p seamwright-desk`.

use std::fmt::Write;
use std::hint::black_box;

use criterion::Criterion;
use seamwright_desk::job::{self, Heading, Known};
use seamwright_model::stated::Date;
use seamwright_model::{Document, load};

/// Procedures with what a line of the list says beside its name and length.
const PROCEDURES: [(&str, &[u8]); 5] = [
    ("P-008;bay 1;J. Marsh;S355J2+N;12 mm;tee;PB", include_bytes!("../../../procedures/tee-fillet-12-s355-135.yaml")),
    (
        "P-005;stick machine;J. Marsh;S355J2+N;10 mm;tee;PB",
        include_bytes!("../../../procedures/tee-fillet-10-s355-111.yaml"),
    ),
    ("P-001;TIG bench;P. Osei;S235JR;2 mm;lap;PB", include_bytes!("../../../procedures/lap-fillet-2-carbon-141.yaml")),
    ("P-002;TIG bench;P. Osei;S235JR;3 mm;butt;PA", include_bytes!("../../../procedures/butt-3-carbon-141.yaml")),
    ("P-009;bay 1;J. Marsh;S355J2+N;10 mm;butt;PA", include_bytes!("../../../procedures/butt-10-s355-135.yaml")),
];
const SHOP: &[u8] = include_bytes!("../../../examples/week/shop.yaml");

fn read(text: &[u8]) -> seamwright_model::Loaded {
    load("bench.yaml", text).unwrap_or_else(|(_, faults)| panic!("{faults:?}"))
}

/// The whole way: list, procedures and shop are read, each joint is judged and estimated, and all are priced.
fn whole(list: &str, today: Date) -> f64 {
    let heading = Heading {
        number: "J-1".to_owned(),
        title: "Joints".to_owned(),
        date: today,
        shop: None,
        procedures: Vec::new(),
    };
    let rows = job::rows("list.csv", list).expect("a list");
    let text = job::text(&heading, &rows).expect("a job");
    let Document::Job(own) = read(text.as_bytes()).document else { panic!("a job") };
    let Document::Shop(shop) = read(SHOP).document else { panic!("a shop") };
    let all: Vec<Known> = PROCEDURES.iter().filter_map(|(_, text)| Known::new(read(text), today)).collect();
    let known = job::Distinct::of(&all);
    let worked = job::work_out(&own, &known, Some(&shop), today);
    assert!(worked.estimates.iter().all(Option::is_some), "{:?}", worked.against.first());
    worked.papers.total.expect("a price")
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    let today = "2026-03-01".parse().expect("a day");
    let mut list = "joint;wps;machine;welder;metal;thickness;type;pos;length;qty\n".to_owned();
    for number in 0..500 {
        let (says, _) = PROCEDURES.get(number % PROCEDURES.len()).expect("one of them");
        writeln!(list, "W{number};{says};{} mm;2", 100 + number).expect("text");
    }
    criterion.bench_function("500 joints from list to price", |bencher| {
        bencher.iter(|| whole(black_box(&list), today));
    });
    criterion.final_summary();
}
