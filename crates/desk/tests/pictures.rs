//! Reference pictures: each kind of sheet looks as it did when a person last looked at it. `cargo xtask bless` renews them.
#![expect(clippy::disallowed_methods, clippy::disallowed_macros, reason = "a test is not the core")]

mod made;

use std::fs::{self, File};
use std::io::BufReader;
use std::path::{Path, PathBuf};
use std::process::Command;

use seamwright_desk::job::{self, Distinct, Heading, Known};
use seamwright_handbook::variables::Terms;
use seamwright_model::document::Document;
use seamwright_model::quantity::UnitSystem;
use seamwright_page::SheetOptions;
use seamwright_page::block::Sheet;
use seamwright_page::pdf::{self, Paper, PdfOptions};
use seamwright_sheet::kinds::JobPaper;

/// A page in grey.
struct Picture {
    width: usize,
    height: usize,
    grey: Vec<u8>,
}

impl Picture {
    fn read(path: &Path) -> Self {
        let file = BufReader::new(File::open(path).unwrap_or_else(|why| panic!("{}: {why}", path.display())));
        let mut reader = png::Decoder::new(file).read_info().unwrap();
        let mut bytes = vec![0; reader.output_buffer_size().unwrap()];
        let info = reader.next_frame(&mut bytes).unwrap();
        assert_eq!(info.bit_depth, png::BitDepth::Eight);
        // Sheets are black, grey and white: any channel is the grey.
        let grey = bytes.iter().copied().step_by(info.color_type.samples()).collect();
        Self { width: info.width as usize, height: info.height as usize, grey }
    }

    /// Mean grey of each square of pixels: what two versions of the rasterizer agree on.
    fn squares(&self) -> Vec<u32> {
        const SIDE: usize = 4;
        let mut means = Vec::new();
        for top in (0..self.height).step_by(SIDE) {
            for left in (0..self.width).step_by(SIDE) {
                let rows = top..(top + SIDE).min(self.height);
                let (mut sum, mut count) = (0, 0);
                for (x, y) in rows.flat_map(|y| (left..(left + SIDE).min(self.width)).map(move |x| (x, y))) {
                    sum += u32::from(self.grey[y * self.width + x]);
                    count += 1;
                }
                means.push(sum / count);
            }
        }
        means
    }

    /// How many squares in 10,000 are clearly lighter or darker; all of them where the pages differ in size.
    fn difference(&self, other: &Self) -> usize {
        const CLEAR: u32 = 28;
        if (self.width, self.height) != (other.width, other.height) {
            return 10_000;
        }
        let (ours, theirs) = (self.squares(), other.squares());
        ours.iter().zip(&theirs).filter(|(a, b)| a.abs_diff(**b) > CLEAR).count() * 10_000 / ours.len()
    }
}

/// How much of a page, in parts of 10,000, may look different: another version of the rasterizer.
const TOLERANCE: usize = 10;

fn pictures_in(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).map(|entries| entries.map(|entry| entry.unwrap().path()).collect());
    let mut paths: Vec<PathBuf> = entries.unwrap_or_default();
    paths.retain(|path| path.extension().is_some_and(|ending| ending == "png"));
    paths.sort();
    paths
}

/// What is looked at: every kind in both units; one of each kind on A4 in SI, and on Letter in US units and terms; the papers of
/// a job.
fn pages() -> Vec<(String, Sheet, Paper)> {
    const EACH: [&str; 3] =
        ["procedures/butt-10-s355-135.yaml", "examples/lesson/lesson.yaml", "examples/inspection/record-iso.yaml"];
    let stem = |document: &str, kind: &str| format!("{} {kind}", document.trim_end_matches(".yaml").replace('/', "-"));
    let both =
        made::sheets().into_iter().map(|(document, kind, sheet)| (stem(document, kind.name()), sheet, Paper::A4));
    let mut pages: Vec<_> = both.collect();
    for (units, terms, paper, of) in
        [(UnitSystem::Si, Terms::Iso, Paper::A4, "SI A4"), (UnitSystem::Us, Terms::Aws, Paper::Letter, "US Letter")]
    {
        let options = SheetOptions { units, terms, ..SheetOptions::default() };
        for (document, kind, sheet) in EACH.into_iter().flat_map(|name| made::of_document(name, options)) {
            pages.push((format!("{} {of}", stem(document, kind.name())), sheet, paper));
        }
        pages.extend(papers().into_iter().map(|(name, sheet)| (format!("job {name} {of}"), sheet, paper)));
    }
    pages
}

/// The papers of a job of three joints, of which one has no procedure.
fn papers() -> Vec<(String, Sheet)> {
    let read = |name: &str| {
        let bytes = fs::read(made::top().join(name)).unwrap();
        seamwright_model::load(name, &bytes).unwrap_or_else(|(_, faults)| panic!("{name}: {faults:?}"))
    };
    let list = "joint;wps;metal;thickness;type;pos;length;qty\n\
                A1;P-008;S355J2+N;12 mm;tee;PB;1200 mm;4\nB1;P-009;S355J2+N;10 mm;butt;PA;300 mm;2\nC1;;S235JR;2 mm;lap;PB;150 mm;20\n";
    let rows = job::rows("list.csv", list).unwrap();
    let heading = Heading {
        number: "J-1".to_owned(),
        title: "Frames".to_owned(),
        date: made::day(),
        shop: None,
        procedures: Vec::new(),
    };
    let text = job::text(&heading, &rows).unwrap();
    let loaded = seamwright_model::load("job.yaml", text.as_bytes()).unwrap_or_else(|(_, faults)| panic!("{faults:?}"));
    let Document::Job(own) = &loaded.document else { panic!("a job") };
    let shop = read("examples/week/shop.yaml");
    let Document::Shop(shop) = &shop.document else { panic!("a shop") };
    let names = ["procedures/tee-fillet-12-s355-135.yaml", "procedures/butt-10-s355-135.yaml"];
    let all: Vec<Known> = names.iter().filter_map(|name| Known::new(read(name), made::day())).collect();
    let worked = job::work_out(own, &Distinct::of(&all), Some(shop), made::day());
    JobPaper::ALL
        .into_iter()
        .filter_map(|paper| Some((paper.name().to_owned(), job::paper(paper, &loaded, Some(shop), &worked).ok()?)))
        .collect()
}

#[test]
fn every_kind_of_sheet_looks_as_it_did() {
    if Command::new("pdftoppm").arg("-v").output().is_err() {
        println!("no pdftoppm here (poppler-utils): no pictures were made");
        return;
    }
    let expected = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/pictures");
    let found = Path::new(env!("CARGO_TARGET_TMPDIR")).join("pictures");
    let _ = fs::remove_dir_all(&found);
    fs::create_dir_all(&found).unwrap();
    for (stem, sheet, paper) in pages() {
        // The code in the corner and the digests change with the version; the picture is of what a person reads.
        let file = found.join(format!("{stem}.pdf"));
        fs::write(&file, pdf::render(&sheet, &PdfOptions { paper, ..PdfOptions::default() }).unwrap()).unwrap();
        let done = Command::new("pdftoppm")
            .args(["-r", "50", "-gray", "-png", "-sep", " "])
            .args([&file, &found.join(&stem)])
            .status();
        assert!(done.unwrap().success(), "{}", file.display());
    }
    if std::env::var_os("BLESS").is_some() {
        let _ = fs::remove_dir_all(&expected);
        fs::create_dir_all(&expected).unwrap();
        for picture in pictures_in(&found) {
            fs::copy(&picture, expected.join(picture.file_name().unwrap())).unwrap();
        }
    }
    let name = |path: &PathBuf| path.file_name().unwrap().to_os_string();
    let (then, now) = (pictures_in(&expected), pictures_in(&found));
    assert_eq!(
        then.iter().map(name).collect::<Vec<_>>(),
        now.iter().map(name).collect::<Vec<_>>(),
        "other sheets or pages than in {}; where that is meant: cargo xtask bless",
        expected.display()
    );
    assert!(now.len() >= 50, "{now:?}");
    let differ: Vec<String> = then
        .iter()
        .zip(&now)
        .map(|(then, now)| (Picture::read(then).difference(&Picture::read(now)), now))
        .filter(|(share, _)| *share > TOLERANCE)
        .map(|(share, now)| format!("{share} parts in 10,000 of {}", now.display()))
        .collect();
    assert!(differ.is_empty(), "look different; where that is meant: cargo xtask bless: {differ:#?}");
}

/// A picture that differs by a line of text is told apart, one of the same page is not.
#[test]
fn a_line_of_text_is_a_difference() {
    let page = |dark: std::ops::Range<usize>| {
        let (width, height) = (496, 702);
        let grey = (0..width * height).map(|at| if dark.contains(&(at / width)) && at % 3 == 0 { 40 } else { 255 });
        Picture { width, height, grey: grey.collect() }
    };
    assert!(page(100..107).difference(&page(100..107)) == 0);
    assert!(page(100..107).difference(&page(0..0)) > TOLERANCE);
}
