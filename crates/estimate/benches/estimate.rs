//! A whole estimate of a pipe butt with two processes, and 500 joints with their price: `cargo bench -p seamwright-estimate`.

use std::hint::black_box;

use criterion::Criterion;
use seamwright_estimate::{Estimate, Joint, Options, estimate, quote};
use seamwright_model::procedure::Procedure;
use seamwright_model::{Document, load};

const PROCEDURES: [&[u8]; 4] = [
    include_bytes!("../../../procedures/pipe-butt-p235gh-141-111.yaml"),
    include_bytes!("../../../procedures/tee-fillet-12-s355-135.yaml"),
    include_bytes!("../../../procedures/tee-fillet-10-s355-111.yaml"),
    include_bytes!("../../../procedures/lap-fillet-2-carbon-141.yaml"),
];
const SHOP: &[u8] = include_bytes!("../../../examples/week/shop.yaml");

fn read(text: &[u8]) -> Document {
    load("bench.yaml", text).unwrap_or_else(|(_, faults)| panic!("{faults:?}")).document
}

fn procedure(text: &[u8]) -> Procedure {
    let Document::Procedure(procedure) = read(text) else { panic!("a procedure") };
    *procedure
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    let procedures = PROCEDURES.map(procedure);
    let Document::Shop(shop) = read(SHOP) else { panic!("a shop") };
    let joints = [Joint { name: "seam".to_owned(), length_mm: 190.0, count: 12 }];
    let options = Options::default();
    criterion.bench_function("estimate", |bencher| {
        bencher.iter(|| estimate(black_box(&procedures[0]), &joints, &options).expect("an estimate"));
    });
    // Each joint its own estimate, as a job has it.
    let many: Vec<Joint> =
        (0..500).map(|n| Joint { name: format!("W{n}"), length_mm: 100.0 + f64::from(n), count: 2 }).collect();
    let options = Options { shop: Some(&shop), ..Options::default() };
    criterion.bench_function("500 joints and their price", |bencher| {
        bencher.iter(|| {
            let own = |(n, joint): (usize, &Joint)| {
                estimate(&procedures[n % procedures.len()], std::slice::from_ref(joint), &options).expect("an estimate")
            };
            let all: Vec<Estimate> = black_box(&many).iter().enumerate().map(own).collect();
            quote(&all.iter().collect::<Vec<_>>(), &shop).expect("a price")
        });
    });
    criterion.final_summary();
}
