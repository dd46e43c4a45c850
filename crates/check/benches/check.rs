//! The checks of each starter procedure, with the handbook already read: `cargo bench -p seamwright-check`.

use std::hint::black_box;
use std::{fs, path::Path};

use criterion::{BenchmarkId, Criterion};
use seamwright_check::check_document;
use seamwright_model::load;

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    let mut group = criterion.benchmark_group("check");
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../procedures");
    let mut files: Vec<_> = fs::read_dir(folder).expect("the starter procedures").flatten().collect();
    files.sort_by_key(fs::DirEntry::path);
    for path in files.iter().map(fs::DirEntry::path) {
        let name = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
        let text = fs::read(&path).expect("a file");
        let document = load(&name, &text).expect("a procedure").document;
        group.bench_with_input(BenchmarkId::from_parameter(name), &document, |bencher, document| {
            bencher.iter(|| check_document(black_box(document)));
        });
    }
    group.finish();
    criterion.final_summary();
}
