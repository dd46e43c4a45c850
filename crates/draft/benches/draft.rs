//! A draft for jobs from the common to the slow, with the handbook already read: `cargo bench -p seamwright-draft`.

use std::hint::black_box;

use criterion::{BenchmarkId, Criterion};
use seamwright_draft::{Facts, Typed, draft};

/// Process, metal, thickness, joint, position; of the last the settings are tried with several sizes of run.
const JOBS: [[&str; 5]; 6] = [
    ["141", "304L", "3 mm", "butt", "PA"],
    ["141", "6061-T6", "3 mm", "tee", "PB"],
    ["135", "S355J2", "10 mm", "butt", "PF"],
    ["111", "S355J2", "20 mm", "butt", "PF"],
    ["136", "S690QL", "20 mm", "butt", "PA"],
    ["135", "S32205", "8 mm", "lap", "PB"],
];

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    let mut group = criterion.benchmark_group("draft");
    for job in JOBS {
        let [process, metal, thickness, joint, position] = job.map(str::to_owned);
        let typed = Typed { process, metal, to: None, thickness, joint, position, diameter: None };
        group.bench_with_input(BenchmarkId::from_parameter(job.join(" ")), &typed, |bencher, typed| {
            bencher.iter(|| draft(&Facts::read(black_box(typed)).expect("facts")).expect("a draft"));
        });
    }
    group.finish();
    criterion.final_summary();
}
