//! Sheets that arrive: what they show is held against what is attached to them.

mod common;

use std::fs;
use std::path::{Path, PathBuf};

use common::{piped, root, seamwright};
use lopdf::{Document, Object, Stream, dictionary};

fn check(path: &Path) -> (Option<i32>, String) {
    let output = seamwright(&["check", path.to_str().unwrap()]);
    (output.status.code(), said(&output))
}

/// What a command printed, on either stream.
fn said(output: &std::process::Output) -> String {
    String::from_utf8([output.stdout.as_slice(), output.stderr.as_slice()].concat()).unwrap()
}

fn rendered(more: &[&str]) -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().to_str().unwrap();
    let arguments = [&["render", "procedures/butt-3-carbon-141.yaml", "--out", out], more].concat();
    assert_eq!(seamwright(&arguments).status.code(), Some(0));
    folder
}

fn files(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let paths = fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    paths.filter(|path| path.extension().is_some_and(|own| own == ending) && !path.ends_with("index.html")).collect()
}

#[test]
fn an_untouched_sheet_agrees_whatever_its_kind_units_and_terms() {
    for more in [&[][..], &["--units", "us", "--terms", "aws", "--paper", "letter"], &["--sheet", "review"]] {
        let folder = rendered(more);
        for path in files(folder.path(), "pdf").into_iter().chain(files(folder.path(), "html")) {
            let (code, said) = check(&path);
            assert_eq!(code, Some(0), "{}: {said}", path.display());
            assert!(said.contains("sheet is proved: made again from its attached source"), "{said}");
        }
    }
}

#[test]
fn a_page_with_a_changed_value_is_refused() {
    let folder = rendered(&["--to", "html"]);
    let path = files(folder.path(), "html").remove(0);
    let page = fs::read_to_string(&path).unwrap();
    let changed = page.replace("deg", "grad");
    assert_ne!(page, changed);
    fs::write(&path, changed).unwrap();
    let (code, said) = check(&path);
    assert_eq!(code, Some(2));
    assert!(said.contains("sheet is not proved: it was changed"), "{said}");
}

#[test]
fn a_pdf_with_a_changed_page_is_refused() {
    let folder = rendered(&["--to", "pdf"]);
    let path = files(folder.path(), "pdf").remove(0);
    let mut document = Document::load(&path).unwrap();
    let page = document.get_pages()[&1];
    document.add_page_contents(page, b"q 1 1 1 rg 100 100 200 200 re f Q".to_vec()).unwrap();
    document.save(&path).unwrap();
    let (code, said) = check(&path);
    assert_eq!(code, Some(2), "{said}");
    assert!(said.contains("page 1: something else is drawn"), "{said}");
}

/// A made-up sheet as bytes, after a change of the one that was rendered.
fn changed(name: &str, change: impl FnOnce(&mut Document)) -> (tempfile::TempDir, PathBuf) {
    let folder = rendered(&["--to", "pdf"]);
    let path = files(folder.path(), "pdf").remove(0);
    let mut document = Document::load(&path).unwrap();
    change(&mut document);
    let path = folder.path().join(name);
    document.save(&path).unwrap();
    (folder, path)
}

/// The list of names and descriptions of the attached files.
fn attachments(document: &mut Document) -> &mut Vec<Object> {
    let catalog = document.catalog_mut().unwrap();
    let names = catalog.get_mut(b"Names").unwrap().as_dict_mut().unwrap();
    let files = names.get_mut(b"EmbeddedFiles").unwrap().as_dict_mut().unwrap();
    files.get_mut(b"Names").unwrap().as_array_mut().unwrap()
}

/// The stream that holds the source.
fn source(document: &mut Document) -> &mut Stream {
    let mut streams = document.objects.values_mut().filter_map(|object| object.as_stream_mut().ok());
    let named = |stream: &&mut Stream| {
        stream.dict.get(b"Type").and_then(Object::as_name).is_ok_and(|name| name == b"EmbeddedFile")
    };
    streams.find(named).unwrap()
}

/// A stream of a few kilobytes that unpacks to so many megabytes.
fn bomb(megabytes: usize) -> Stream {
    let mut stream = Stream::new(dictionary! {}, vec![b' '; megabytes * 1024 * 1024]);
    stream.compress().unwrap();
    assert!(stream.content.len() < 1024 * 1024, "{}", stream.content.len());
    stream
}

/// What is refused ends with status 2 under `check` and under `render`, says why, and leaves nothing behind.
fn refused(path: &Path, reason: &str) {
    let (code, said) = check(path);
    assert_eq!(code, Some(2), "{}: {said}", path.display());
    assert!(said.contains(reason), "{}: {reason:?} is not in\n{said}", path.display());
    assert!(!said.contains("panicked"), "{said}");
    let out = tempfile::tempdir().unwrap();
    let output = seamwright(&["render", path.to_str().unwrap(), "--out", out.path().to_str().unwrap()]);
    assert_eq!(output.status.code(), Some(2), "{}", path.display());
    assert_eq!(fs::read_dir(out.path()).unwrap().count(), 0, "{}", path.display());
    let json = seamwright(&["check", "--format", "json", path.to_str().unwrap()]);
    assert_eq!(json.status.code(), Some(2));
    let json: serde_json::Value = serde_json::from_slice(&json.stdout).unwrap();
    let file = &json["files"][0];
    let messages = [&file["received"]["message"], &file["findings"][0]["message"]];
    assert!(messages.iter().any(|own| own.as_str().is_some_and(|own| own.contains(reason))), "{json:#}");
    assert_ne!(file["received"]["proved"], true, "{json:#}");
}

#[test]
fn a_pdf_whose_attachments_are_listed_otherwise_is_refused() {
    let again = "saved it again";
    let (_folder, none) = changed("none.pdf", |document| attachments(document).clear());
    refused(&none, again);
    let (_folder, gone) = changed("gone.pdf", |document| {
        document.catalog_mut().unwrap().remove(b"Names");
    });
    refused(&gone, again);
    let (_folder, two) = changed("two.pdf", |document| {
        let files = attachments(document);
        let again = files[1].clone();
        files.extend([lopdf::text_string("0002"), again]);
    });
    refused(&two, again);
}

/// Lists that qpdf and others write beside a page's fonts, empty or of no use any more (ISO 32000-2, 14.2).
#[test]
fn a_page_with_an_empty_list_of_pictures_was_saved_again() {
    let with = |key: &str, own: Object| {
        changed("listed.pdf", |document| {
            let page = document.get_pages()[&1];
            let named = document.get_dictionary(page).unwrap().get(b"Resources").unwrap().as_reference().ok();
            let holder = named.unwrap_or(page);
            let page = document.get_dictionary_mut(holder).unwrap();
            let list = if named.is_some() { page } else { page.get_mut(b"Resources").unwrap().as_dict_mut().unwrap() };
            list.set(key, own);
        })
    };
    let (_folder, empty) = with("XObject", Object::Dictionary(dictionary! {}));
    refused(&empty, "saved it again");
    let (_folder, names) = with("ProcSet", vec![Object::from("PDF"), Object::from("Text")].into());
    refused(&names, "saved it again");
    let (_folder, fonts) = with("Font", Object::Dictionary(dictionary! {}));
    refused(&fonts, "its fonts or pictures are other ones");
}

#[test]
fn a_source_that_was_changed_or_is_over_the_limit_is_refused() {
    let (_folder, other) = changed("other.pdf", |document| {
        let own = source(document);
        let text = own.get_plain_content_with_limit(1 << 20).unwrap();
        own.dict.remove(b"Filter");
        own.set_content(String::from_utf8(text).unwrap().replace("mm", "cm").into_bytes());
    });
    refused(&other, "it was changed after it was written");
    let (_folder, large) = changed("large.pdf", |document| {
        let own = source(document);
        own.dict.remove(b"Filter");
        // Bytes that do not pack: a plain stream over the limit.
        own.set_content((0..1_100_000_u32).map(|n| n.wrapping_mul(2_654_435_761).to_be_bytes()[0]).collect());
    });
    refused(&large, "more than 1048576 bytes");
    let (_folder, packed) = changed("packed.pdf", |document| {
        let bomb = bomb(64);
        let own = source(document);
        own.dict.set("Filter", "FlateDecode");
        own.set_content(bomb.content);
    });
    refused(&packed, "more than 1048576 bytes");
}

#[test]
fn a_stream_that_unpacks_to_too_much_is_refused_wherever_it_stands() {
    // What no page and no attachment names is never unpacked.
    let (_folder, unused) = changed("unused.pdf", |document| {
        document.add_object(bomb(64));
    });
    refused(&unused, "saved it again");
    let (_folder, page) = changed("page.pdf", |document| {
        let id = document.add_object(bomb(64));
        let page = document.get_pages()[&1];
        document.get_dictionary_mut(page).unwrap().set("Contents", id);
    });
    refused(&page, "unpacks to more than");
    // The same in the table of objects, which is read before anything else.
    let folder = rendered(&["--to", "pdf"]);
    let path = files(folder.path(), "pdf").remove(0);
    let mut document = Document::load(&path).unwrap();
    let mut objects = bomb(64);
    objects.dict.extend(&dictionary! { "Type" => "ObjStx", "N" => 1, "First" => 10 });
    document.add_object(objects);
    document.save(&path).unwrap();
    let mut bytes = fs::read(&path).unwrap();
    // The library leaves such a stream out when it writes; so it gets its name afterwards.
    let at = bytes.windows(6).position(|own| own == b"ObjStx").unwrap();
    bytes[at + 5] = b'm';
    fs::write(&path, bytes).unwrap();
    refused(&path, "unpacks to more than");
}

/// A change of an entry of a PDF.
type Change = fn(&mut lopdf::Dictionary);

/// What programs write down that holds without it, and how they spell a page, is not called a change; a word of it is.
#[test]
fn innocent_saves_are_not_called_changed() {
    let again = "saved it again";
    let innocent: [(&str, Change); 5] = [
        ("crop.pdf", |page| {
            let frame = page.get(b"MediaBox").unwrap().clone();
            page.set("CropBox", frame);
        }),
        ("boxes.pdf", |page| {
            for key in ["TrimBox", "BleedBox", "ArtBox"] {
                let frame = page.get(b"MediaBox").unwrap().clone();
                page.set(key, frame);
            }
        }),
        ("rotate.pdf", |page| page.set("Rotate", 0)),
        ("unit.pdf", |page| page.set("UserUnit", 1)),
        ("annots.pdf", |page| page.set("Annots", Object::Array(Vec::new()))),
    ];
    for (name, change) in innocent {
        let (_folder, path) = changed(name, |document| {
            let page = document.get_pages()[&1];
            change(document.get_dictionary_mut(page).unwrap());
        });
        refused(&path, again);
    }
    let seen: [(&str, Change); 4] = [
        ("cropped.pdf", |page| page.set("CropBox", vec![0.into(), 0.into(), 300.into(), 300.into()])),
        ("trimmed.pdf", |page| page.set("TrimBox", vec![0.into(), 0.into(), 300.into(), 300.into()])),
        ("turned.pdf", |page| page.set("Rotate", 90)),
        ("scaled.pdf", |page| page.set("UserUnit", 2)),
    ];
    for (name, change) in seen {
        let (_folder, path) = changed(name, |document| {
            let page = document.get_pages()[&1];
            change(document.get_dictionary_mut(page).unwrap());
        });
        refused(&path, "it was changed after it was written");
    }
    let (_folder, described) = changed("described.pdf", |document| {
        for object in document.objects.values_mut() {
            if let Object::Dictionary(own) = object
                && own.has(b"EF")
            {
                own.set("Desc", Object::string_literal("Source, digest 0000 0000 0000"));
            }
        }
    });
    refused(&described, "its attachment is described as");
    let folder = rendered(&["--to", "html"]);
    let page = fs::read_to_string(files(folder.path(), "html").remove(0)).unwrap();
    let html = "<html";
    let note = format!("<!-- saved from url=(0022)http://localhost/a.html -->\n{html}");
    for (name, other, words) in [
        ("line-ends.html", page.replace('\n', "\r\n"), again),
        ("last-line-end.html", page.trim_end().to_owned(), again),
        ("note-of-a-browser.html", page.replacen(html, &note, 1), again),
        ("names-of-letters.html", page.replace('\u{A0}', "&nbsp;").replace("/></svg>", "></path></svg>"), again),
        ("hidden.html", page.replacen("<main", "<main hidden", 1).replace('\n', "\r\n"), "it was changed"),
    ] {
        let path = folder.path().join(name);
        fs::write(&path, other).unwrap();
        refused(&path, words);
    }
}

#[test]
fn broken_and_foreign_pdfs_are_refused() {
    let folder = rendered(&["--to", "pdf"]);
    let path = files(folder.path(), "pdf").remove(0);
    let bytes = fs::read(&path).unwrap();
    for share in [0, 1, 4, 50, 95] {
        let cut = folder.path().join(format!("cut-{share}.pdf"));
        fs::write(&cut, &bytes[..bytes.len() * share / 100]).unwrap();
        refused(&cut, "");
    }
    let text = folder.path().join("text.pdf");
    fs::write(&text, "document: procedure\n").unwrap();
    refused(&text, "does not begin with %PDF-");
    let (_folder, foreign) = changed("foreign.pdf", |document| {
        let info = document.trailer.get(b"Info").unwrap().as_reference().unwrap();
        document.get_dictionary_mut(info).unwrap().set("Producer", Object::string_literal("Another Program 3"));
    });
    refused(&foreign, "other software (Another Program 3) saved it again");
    let (_folder, unnamed) = changed("unnamed.pdf", |document| {
        document.trailer.remove(b"Info");
    });
    refused(&unnamed, "it was changed after it was written");
}

#[test]
fn pages_without_with_several_and_with_changed_sources_are_refused() {
    let folder = rendered(&["--to", "html"]);
    let path = files(folder.path(), "html").remove(0);
    let page = fs::read_to_string(&path).unwrap();
    let start = page.find("<a id=\"source-file\"").unwrap();
    let link = &page[start..start + page[start..].find("</a>").unwrap() + 4];
    let put = |name: &str, text: &str| {
        let path = folder.path().join(name);
        fs::write(&path, text).unwrap();
        path
    };
    refused(&put("none.html", &page.replace(link, "")), "carries no source");
    refused(&put("two.html", &page.replace(link, &link.repeat(2))), "it was changed after it was written");
    let packed = link.split("base64,").nth(1).unwrap();
    let letter = if packed.starts_with('I') { "J" } else { "I" };
    let tampered = page.replace(packed, &format!("{letter}{}", &packed[1..]));
    refused(&put("tampered.html", &tampered), "");
    let large = page.replace(packed, &format!("{}\">", "QUFB".repeat(400_000)));
    refused(&put("large.html", &large), "none that can be read as a source");
    refused(&put("cut.html", &page[..start]), "carries no source");
    refused(&put("foreign.html", "<!doctype html><title>a form</title><p>WPS"), "carries no source");
    refused(&put("words.html", "WPS 12"), "neither a document type nor an html element");
    // A page is known by its beginning as well as by its name, and a sheet that says nothing of its making is not believed.
    refused(&put("page.txt", &page.replacen("deg", "grad", 1)), "it was changed after it was written");
    let made = &link[link.find(" data-made-with=").unwrap()..link.find(" href=").unwrap()];
    refused(&put("silent.html", &page.replace(made, "")), "does not say what it was made with");
    refused(&put("hidden.html", &page.replace("<main>", "<main hidden>")), "its styles or drawings differ");
}

#[test]
fn a_sheet_on_standard_input_is_compared_as_well() {
    let folder = rendered(&[]);
    for ending in ["pdf", "html"] {
        let bytes = fs::read(files(folder.path(), ending).remove(0)).unwrap();
        let output = piped(&["check", "-"], &bytes);
        let said = said(&output);
        assert_eq!(output.status.code(), Some(0), "{said}");
        assert!(said.contains("standard input: the procedure sheet is proved"), "{said}");
    }
}

/// Renders one file with what stands beside it; gives its sheets.
fn made(arguments: &[&str]) -> (tempfile::TempDir, Vec<PathBuf>) {
    let folder = tempfile::tempdir().unwrap();
    let output = seamwright(&[&["render", "--out", folder.path().to_str().unwrap()], arguments].concat());
    assert_ne!(output.status.code(), Some(2), "{}", String::from_utf8_lossy(&output.stderr));
    let sheets: Vec<PathBuf> = files(folder.path(), "pdf").into_iter().chain(files(folder.path(), "html")).collect();
    assert_eq!(sheets.len(), 2, "{sheets:?}");
    (folder, sheets)
}

const RECORD: &str = "examples/inspection/record-iso.yaml";
const SHOP: &str = "examples/shop/shop.yaml";
const TAUGHT: &str = "procedures/lap-fillet-2-carbon-141.yaml";
const STYLE: &str = "examples/house-style/house-style.yaml";

/// What a sheet was made with must be at hand; then one more render tells whether it agrees, and what else is given then
/// takes part in the check alone.
#[test]
fn what_a_sheet_was_made_with_is_asked_for_by_name() {
    for (made_with, needs, named, more) in [
        (
            &["examples/inspection/procedure.yaml", "--record", RECORD][..],
            &["--record", RECORD][..],
            "the test record T-009 (digest ",
            &["--shop", SHOP][..],
        ),
        (
            &["examples/inspection/procedure.yaml", "--sheet", "review", "--record", RECORD, "--shop", SHOP],
            &["--shop", SHOP, "--record", RECORD],
            "the test record T-009 (digest ",
            &[],
        ),
        (&[TAUGHT, "--sheet", "estimate", "--length", "2.4 m", "--shop", SHOP], &["--shop", SHOP], "the shop ", &[]),
        (&[TAUGHT, "--sheet", "estimate", "--length", "80 in"], &[], "", &["--shop", SHOP]),
        (
            &["examples/lesson/lesson.yaml", "--sheet", "lesson", "--units", "both"],
            &["--procedure", TAUGHT, "--shop", SHOP],
            "the procedure ",
            &[],
        ),
        (
            &[TAUGHT, "--sheet", "bench-card", "--style", STYLE],
            &["--style", STYLE],
            "the house style house-style.yaml",
            &[],
        ),
        (&["examples/inspection/procedure.yaml", "--code", "iso-15614-1"], &[], "", &["--record", RECORD]),
    ] {
        let (_folder, sheets) = made(made_with);
        for sheet in sheets {
            let sheet = sheet.to_str().unwrap();
            let run = |arguments: &[&str]| {
                let output = seamwright(&[&["check", sheet], arguments].concat());
                (output.status.code(), said(&output))
            };
            let (code, said) = run(&[needs, more].concat());
            assert_ne!(code, Some(2), "{made_with:?}: {said}");
            assert!(said.contains("sheet is proved"), "{made_with:?}: {said}");
            if !needs.is_empty() {
                let (code, said) = run(&[]);
                assert_eq!(code, Some(2), "{made_with:?}: {said}");
                assert!(said.contains("it was made with") && said.contains(named), "{made_with:?}: {said}");
                for flag in needs.iter().filter(|word| word.starts_with("--")) {
                    assert!(said.contains(&format!("{flag} FILE")), "{flag}: {said}");
                }
            }
        }
    }
}

#[test]
fn another_version_of_a_record_is_told_apart() {
    let (folder, sheets) = made(&["examples/inspection/procedure.yaml", "--record", RECORD]);
    let text = fs::read_to_string(root().join(RECORD)).unwrap();
    let other = folder.path().join("record.yaml");
    fs::write(&other, text.replace("interpass: 210", "interpass: 240")).unwrap();
    let output = seamwright(&["check", sheets[0].to_str().unwrap(), "--record", other.to_str().unwrap()]);
    let said = said(&output);
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(said.contains("of which another version is at hand"), "{said}");
}

#[test]
fn files_over_the_limit_are_refused() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["large.yaml", "large.pdf", "large.html"] {
        let large = folder.path().join(name);
        fs::write(&large, vec![b'#'; 40 * 1024 * 1024]).unwrap();
        refused(&large, "larger than");
    }
}

// Each fault that the example's page lists stands on its review, by the name of the check.
#[test]
fn the_review_of_the_submitted_procedure_lists_every_planted_fault() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().to_str().unwrap();
    let code =
        seamwright(&["render", "examples/submitted/submitted.yaml", "--sheet", "review", "--to", "html", "--out", out])
            .status
            .code();
    assert_eq!(code, Some(1));
    let page = fs::read_to_string(files(folder.path(), "html").remove(0)).unwrap();
    let listed = fs::read_to_string(root().join("examples/submitted/README.md")).unwrap();
    let rows = listed.lines().filter(|line| line.starts_with("| ") && line.contains('-') && !line.contains("---"));
    let names: Vec<&str> = rows.filter_map(|line| line.trim_end_matches(" |").rsplit(" | ").next()).collect();
    assert!(names.len() >= 17, "{names:?}");
    for name in names {
        assert!(page.contains(name), "{name}");
    }
    assert!(page.contains("Not acceptable as it stands"));
}
