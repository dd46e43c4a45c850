//! Reference pictures: each kind of sheet looks as it did when a person last looked at it. `cargo xtask bless` renews them.
#![expect(clippy::disallowed_methods, clippy::disallowed_macros, reason = "a test is not the core")]

mod made;

use std::fs::{self, File};
use std::io::BufReader;
use std::path::{Path, PathBuf};
use std::process::Command;

use seamwright_sheet::pdf::{self, PdfOptions};

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
    let options = PdfOptions::default();
    for (document, kind, sheet) in made::sheets() {
        // The code in the corner and the digests change with the version; the picture is of what a person reads.
        let stem = format!("{} {}", document.trim_end_matches(".yaml").replace('/', "-"), kind.name());
        let file = found.join(format!("{stem}.pdf"));
        fs::write(&file, pdf::render(&sheet, &options).unwrap()).unwrap();
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
    assert!(now.len() >= 15, "{now:?}");
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
