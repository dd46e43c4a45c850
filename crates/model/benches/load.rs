//! Reading a procedure from text, small and with many runs: `cargo bench -p seamwright-model`.

use std::fmt::Write as _;
use std::hint::black_box;

use criterion::{BenchmarkId, Criterion};
use seamwright_model::load;

const PIPE: &str = include_str!("../../../procedures/pipe-butt-p235gh-141-111.yaml");

/// A procedure with so many runs.
fn with_runs(count: usize) -> String {
    let mut text = "format: 1\ndocument: procedure\nidentification: {number: P-1, revision: 1, title: Many runs}\nprocesses: {135: {polarity: DCEP}}\nruns:\n".to_owned();
    for run in 1..=count {
        let _ = writeln!(text, "  - {{run: {run}, process: 135, current: 180-220 A, voltage: 24-27 V}}");
    }
    text
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    criterion.bench_function("load", |bencher| {
        bencher.iter(|| load("pipe.yaml", black_box(PIPE.as_bytes())).expect("a procedure"));
    });
    let mut growth = criterion.benchmark_group("load by runs");
    for count in [10, 100, 500] {
        let text = with_runs(count);
        growth.bench_with_input(BenchmarkId::from_parameter(count), &text, |bencher, text| {
            bencher.iter(|| load("runs.yaml", black_box(text.as_bytes())).expect("a procedure"));
        });
    }
    growth.finish();
    criterion.final_summary();
}
