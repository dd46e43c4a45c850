//! A whole estimate of a pipe butt with two processes: `cargo bench -p seamwright-estimate`.

use std::hint::black_box;

use criterion::Criterion;
use seamwright_estimate::{Joint, Options, estimate};
use seamwright_model::{Document, load};

const PROCEDURE: &[u8] = include_bytes!("../../../procedures/pipe-butt-p235gh-141-111.yaml");

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    let loaded = load("pipe.yaml", PROCEDURE).unwrap_or_else(|(_, faults)| panic!("{faults:?}"));
    let Document::Procedure(procedure) = &loaded.document else { panic!("a procedure") };
    let joints = [Joint { name: "seam".to_owned(), length_mm: 190.0, count: 12 }];
    let options = Options::default();
    criterion.bench_function("estimate", |bencher| {
        bencher.iter(|| estimate(black_box(procedure), &joints, &options).expect("an estimate"));
    });
    criterion.final_summary();
}
