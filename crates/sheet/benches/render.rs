//! A procedure sheet from a checked procedure: its blocks, the PDF and the HTML of them: `cargo bench -p seamwright-sheet`.

use std::hint::black_box;

use criterion::Criterion;
use seamwright_check::check_document;
use seamwright_model::load;
use seamwright_page::html::{HtmlOptions, HtmlRenderer};
use seamwright_page::lately::Lately;
use seamwright_page::pdf::{self, PdfOptions};
use seamwright_page::{Kind, SheetOptions};
use seamwright_sheet::kinds::{Subject, sheet};

const PIPE: &[u8] = include_bytes!("../../../procedures/pipe-butt-p235gh-141-111.yaml");

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    let loaded = load("pipe.yaml", PIPE).expect("a procedure");
    let outcome = check_document(&loaded.document);
    let lately = Lately::default();
    let options = PdfOptions { lately: lately.clone(), ..PdfOptions::default() };
    let subject =
        Subject { loaded: &loaded, outcome: &outcome, shop: None, procedure: None, estimate: None, lately: &lately };
    let blocks = |kind| sheet(kind, subject, SheetOptions::default()).expect("a sheet");
    criterion.bench_function("blocks", |bencher| bencher.iter(|| blocks(black_box(Kind::Procedure))));
    let page = HtmlRenderer::new().expect("the built-in templates");
    for (name, kind) in [("procedure", Kind::Procedure), ("bench card", Kind::BenchCard)] {
        let sheet = blocks(kind);
        criterion.bench_function(&format!("{name} as PDF"), |bencher| {
            bencher.iter(|| pdf::render(black_box(&sheet), &options).expect("a PDF"));
        });
        criterion.bench_function(&format!("{name} as HTML"), |bencher| {
            bencher.iter(|| page.render(black_box(&sheet), &HtmlOptions::default()).expect("a page"));
        });
    }
    criterion.bench_function("built-in templates", |bencher| bencher.iter(HtmlRenderer::new));
    criterion.final_summary();
}
