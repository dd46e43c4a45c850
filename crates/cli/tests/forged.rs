//! Forged sheets: whatever is changed in a sheet, it is not proved, and no file takes more memory or time than it may.

mod common;

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use std::time::{Duration, Instant};

use common::{root, seamwright};
use lopdf::{Dictionary, Document, Object, Stream, dictionary};
use serde_json::Value;

/// A sheet of a starter procedure in a folder of its own.
fn sheet(ending: &str) -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().to_str().unwrap();
    let done = seamwright(&["render", "procedures/butt-3-carbon-141.yaml", "--out", out, "--to", ending]);
    assert_eq!(done.status.code(), Some(0));
    let path = folder.path().join(format!("butt-3-carbon-141.{ending}"));
    (folder, path)
}

/// What `check` says of a file: exit status, verdict, and the sentence for it.
fn judged(path: &Path) -> (Option<i32>, String, String) {
    let start = Instant::now();
    let output = seamwright(&["check", "--format", "json", path.to_str().unwrap()]);
    assert!(start.elapsed() < Duration::from_secs(10), "{}: {:?}", path.display(), start.elapsed());
    let said = String::from_utf8_lossy(&output.stderr).into_owned();
    assert!(!said.contains("panicked"), "{}: {said}", path.display());
    let whole: Value = serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{}: {said}", path.display()));
    let received = &whole["files"][0]["received"];
    let text = |key: &str| received[key].as_str().unwrap_or_default().to_owned();
    assert_eq!(received["proved"].as_bool(), Some(text("verdict") == "proved"), "{whole:#}");
    (output.status.code(), text("verdict"), text("message"))
}

#[test]
fn an_untouched_sheet_is_proved() {
    for ending in ["pdf", "html"] {
        let (_folder, path) = sheet(ending);
        let (code, verdict, message) = judged(&path);
        assert_eq!((code, verdict.as_str()), (Some(0), "proved"), "{message}");
    }
}

/// Font of a name in the resources of the first page.
fn resources(document: &mut Document) -> &mut Dictionary {
    let page = document.get_pages()[&1];
    let own = document.get_dictionary(page).unwrap().get(b"Resources").unwrap().clone();
    match own {
        Object::Reference(id) => document.get_dictionary_mut(id).unwrap(),
        _ => document.get_dictionary_mut(page).unwrap().get_mut(b"Resources").unwrap().as_dict_mut().unwrap(),
    }
}

fn fonts(document: &mut Document) -> &mut Dictionary {
    let own = resources(document).get(b"Font").unwrap().clone();
    match own {
        Object::Reference(id) => document.get_dictionary_mut(id).unwrap(),
        _ => resources(document).get_mut(b"Font").unwrap().as_dict_mut().unwrap(),
    }
}

fn page(document: &mut Document) -> &mut Dictionary {
    let page = document.get_pages()[&1];
    document.get_dictionary_mut(page).unwrap()
}

fn page_tree(document: &mut Document) -> &mut Dictionary {
    let tree = document.catalog().unwrap().get(b"Pages").and_then(Object::as_reference).unwrap();
    document.get_dictionary_mut(tree).unwrap()
}

fn filespec(document: &mut Document) -> &mut Dictionary {
    let found = document.objects.values_mut().filter_map(|object| object.as_dict_mut().ok());
    found.into_iter().find(|own| own.has(b"EF")).unwrap()
}

fn other_source(document: &mut Document) -> lopdf::ObjectId {
    let text = fs::read(root().join("procedures/butt-3-carbon-141.yaml")).unwrap();
    let text = String::from_utf8(text).unwrap().replace(" A\n", " kA\n").replace("mm", "cm");
    document.add_object(Stream::new(dictionary! {"Type" => "EmbeddedFile"}, text.into_bytes()))
}

/// A box over the page, as page operators.
const BOX: &[u8] = b"q 1 1 1 rg 100 100 200 200 re f Q";

/// The contents of the first page, unpacked.
fn plain_contents(document: &mut Document) -> &mut Stream {
    let first = document.get_pages()[&1];
    let own = document.get_page_contents(first)[0];
    let drawn = document.get_object_mut(own).unwrap().as_stream_mut().unwrap();
    let bytes = drawn.get_plain_content_with_limit(1 << 24).unwrap();
    drawn.dict.remove(b"Filter");
    drawn.set_content(bytes);
    drawn
}

/// Operators with other white space, strings in digits, and comments between.
fn spelled_otherwise(drawn: &[u8]) -> Vec<u8> {
    let (mut out, mut at) = (b"%as written by another\n".to_vec(), 0);
    while let Some(byte) = drawn.get(at) {
        match byte {
            b'(' => {
                let mut end = at + 1;
                while drawn[end] != b')' {
                    end += if drawn[end] == b'\\' { 2 } else { 1 };
                }
                let string = literal(&drawn[at + 1..end]);
                out.push(b'<');
                for byte in string {
                    out.extend(format!("{byte:02x} ").bytes());
                }
                out.push(b'>');
                at = end;
            }
            b' ' | b'\n' => out.push(b'\n'),
            other => out.push(*other),
        }
        at += 1;
    }
    out
}

/// A literal string without its escapes.
fn literal(raw: &[u8]) -> Vec<u8> {
    let (mut out, mut at) = (Vec::new(), 0);
    while at < raw.len() {
        if raw[at] != b'\\' {
            out.push(raw[at]);
            at += 1;
            continue;
        }
        let digits: Vec<u8> = raw[at + 1..].iter().copied().take(3).take_while(u8::is_ascii_digit).collect();
        let (byte, length) = match raw[at + 1] {
            b'n' => (b'\n', 2),
            b'r' => (b'\r', 2),
            b't' => (b'\t', 2),
            b'b' => (8, 2),
            b'f' => (12, 2),
            _ if !digits.is_empty() => {
                (u8::from_str_radix(std::str::from_utf8(&digits).unwrap(), 8).unwrap(), digits.len() + 1)
            }
            other => (other, 2),
        };
        out.push(byte);
        at += length;
    }
    out
}

/// A signature as a field of a page, on a place of so many points.
fn signature(document: &mut Document, size: i64, more: &[(&str, Object)]) {
    let value = dictionary! {
        "Type" => "Sig", "Filter" => "Adobe.PPKLite", "ByteRange" => vec![0.into(), 1.into(), 2.into(), 3.into()],
    };
    let value = document.add_object(value);
    let mut field = dictionary! {
        "Type" => "Annot", "Subtype" => "Widget", "FT" => "Sig", "F" => 132, "T" => Object::string_literal("Signature1"),
        "Rect" => vec![0.into(), 0.into(), size.into(), size.into()], "V" => Object::Reference(value),
    };
    for (key, value) in more {
        field.set(*key, value.clone());
    }
    let field = document.add_object(field);
    let page = page(document);
    let mut all = page.get(b"Annots").and_then(Object::as_array).cloned().unwrap_or_default();
    all.push(Object::Reference(field));
    page.set("Annots", all);
    let form = dictionary! {"Fields" => vec![Object::Reference(field)], "SigFlags" => 3};
    document.catalog_mut().unwrap().set("AcroForm", form);
}

type Change = (&'static str, &'static str, fn(&mut Document));

const CHANGES: &[Change] = &[
    ("overlay-after-a-stop", "changed", |document| {
        let page = document.get_pages()[&1];
        let hidden = [b"\x80\xff)>> ] ".as_slice(), BOX].concat();
        document.add_page_contents(page, hidden).unwrap();
    }),
    ("direct-annotation", "changed", |document| {
        let note = dictionary! {
            "Type" => "Annot", "Subtype" => "Square", "Rect" => vec![100.into(), 100.into(), 300.into(), 300.into()],
            "IC" => vec![1.into(), 1.into(), 1.into()],
        };
        page(document).set("Annots", vec![Object::Dictionary(note)]);
    }),
    ("picture-typed-as-attachment", "several-sources", |document| {
        let form = dictionary! {
            "Type" => "EmbeddedFile", "Subtype" => "Form",
            "BBox" => vec![0.into(), 0.into(), 600.into(), 800.into()],
        };
        let form = document.add_object(Stream::new(form, BOX.to_vec()));
        resources(document).set("XObject", dictionary! {"Over" => Object::Reference(form)});
        let first = document.get_pages()[&1];
        document.add_page_contents(first, b"/Over Do".to_vec()).unwrap();
    }),
    ("glyphs-exchanged", "changed", |document| {
        let streams = document.objects.values_mut().filter_map(|object| object.as_stream_mut().ok());
        let program = streams.max_by_key(|stream| if stream.dict.has(b"Length1") { stream.content.len() } else { 0 });
        let program = program.unwrap();
        let mut bytes = program.get_plain_content_with_limit(1 << 24).unwrap();
        let middle = bytes.len() / 2;
        bytes[middle..middle + 40].reverse();
        program.dict.remove(b"Filter");
        program.set_content(bytes);
    }),
    ("fonts-swapped", "changed", |document| {
        let fonts = fonts(document);
        let names: Vec<Vec<u8>> = fonts.iter().map(|(name, _)| name.clone()).collect();
        let (one, other) = (fonts.get(&names[0]).unwrap().clone(), fonts.get(&names[1]).unwrap().clone());
        fonts.set(names[0].clone(), other);
        fonts.set(names[1].clone(), one);
    }),
    ("crop-box", "changed", |document| {
        page(document).set("CropBox", vec![0.into(), 400.into(), 595.into(), 842.into()]);
    }),
    ("rotate", "changed", |document| page(document).set("Rotate", 180)),
    // What a page does not state it has from the tree of pages above it.
    ("rotate-inherited", "changed", |document| page_tree(document).set("Rotate", 90)),
    ("media-box-inherited", "changed", |document| {
        page(document).remove(b"MediaBox");
        page_tree(document).set("MediaBox", vec![0.into(), 500.into(), 595.into(), 842.into()]);
    }),
    // The same is seen: only who wrote the file has changed.
    ("resources-inherited", "saved-again", |document| {
        let own = page(document).remove(b"Resources").unwrap();
        page_tree(document).set("Resources", own);
    }),
    // As programs spell the operators of a page anew.
    ("spelled-otherwise", "saved-again", |document| {
        let drawn = plain_contents(document);
        drawn.set_content(spelled_otherwise(&drawn.content));
    }),
    ("spelled-otherwise-and-moved", "changed", |document| {
        let drawn = plain_contents(document);
        let text = spelled_otherwise(&drawn.content);
        let at = text.windows(4).position(|own| own == b"\nTd\n" || own == b"\nTm\n").unwrap();
        drawn.set_content([&text[..at], b"1", &text[at..]].concat());
    }),
    ("drawn-by-other-steps", "saved-again", |document| {
        let drawn = plain_contents(document);
        let text = [b"q 2 0 0 2 0 0 cm .5 0 0 .5 0 0 cm\n".as_slice(), &drawn.content, b"\nQ"].concat();
        drawn.set_content(text);
    }),
    ("drawn-a-little-larger", "changed", |document| {
        let drawn = plain_contents(document);
        let text = [b"q 1.0001 0 0 1.0001 0 0 cm\n".as_slice(), &drawn.content, b"\nQ"].concat();
        drawn.set_content(text);
    }),
    ("signed-unseen", "saved-again", |document| signature(document, 0, &[])),
    ("signed-over-the-page", "changed", |document| signature(document, 300, &[])),
    ("signed-with-a-script", "changed", |document| {
        let script = dictionary! {"S" => "JavaScript", "JS" => Object::string_literal("app.alert('x')")};
        signature(document, 0, &[("AA", Object::Dictionary(dictionary! {"F" => script}))]);
    }),
    ("packed-otherwise", "changed", |document| {
        // The same bytes, of which readers unpack others.
        let drawn = plain_contents(document);
        drawn.dict.set("Filter", "ASCIIHexDecode");
    }),
    ("font-packed-otherwise", "changed", |document| {
        let streams = document.objects.values_mut().filter_map(|object| object.as_stream_mut().ok());
        let program = streams.into_iter().find(|stream| stream.dict.has(b"Length1")).unwrap();
        let bytes = program.get_plain_content_with_limit(1 << 24).unwrap();
        program.set_content(bytes);
        program.dict.set("Filter", "ASCIIHexDecode");
    }),
    ("page-inside-the-list", "changed", |document| {
        let first = document.get_pages()[&1];
        let own = document.get_dictionary(first).unwrap().clone();
        let drawn = document.add_object(Stream::new(dictionary! {}, BOX.to_vec()));
        let mut more = own;
        more.set("Contents", Object::Reference(drawn));
        page_tree(document).get_mut(b"Kids").unwrap().as_array_mut().unwrap().push(Object::Dictionary(more));
    }),
    ("picture-of-the-page", "changed", |document| {
        let thumb = document.add_object(Stream::new(dictionary! {"Width" => 1, "Height" => 1}, vec![0]));
        page(document).set("Thumb", Object::Reference(thumb));
    }),
    ("shown-from-the-right", "changed", |document| {
        let wishes = dictionary! {"Direction" => "R2L", "PrintArea" => "ArtBox"};
        document.catalog_mut().unwrap().set("ViewerPreferences", wishes);
    }),
    ("threads", "changed", |document| {
        document.catalog_mut().unwrap().set("Threads", Vec::<Object>::new());
    }),
    ("part-of-many", "changed", |document| {
        let own = page(document).get(b"Contents").and_then(Object::as_reference).unwrap();
        let empty = document.add_object(Stream::new(dictionary! {}, Vec::new()));
        let over = document.add_object(Stream::new(dictionary! {}, BOX.to_vec()));
        let mut parts = vec![Object::Reference(own)];
        parts.extend(vec![Object::Reference(empty); 2_100]);
        parts.push(Object::Reference(over));
        page(document).set("Contents", parts);
    }),
    ("page-twice", "changed", |document| {
        let first = document.get_pages()[&1];
        let tree = page_tree(document);
        tree.get_mut(b"Kids").unwrap().as_array_mut().unwrap().push(Object::Reference(first));
        let count = tree.get(b"Count").unwrap().as_i64().unwrap();
        tree.set("Count", count + 1);
    }),
    ("user-unit", "changed", |document| page(document).set("UserUnit", 10)),
    ("open-action-with-script", "changed", |document| {
        let action = dictionary! {"S" => "JavaScript", "JS" => Object::string_literal("app.alert('x')")};
        document.catalog_mut().unwrap().set("OpenAction", action);
    }),
    ("launch", "changed", |document| {
        let action = dictionary! {"S" => "Launch", "F" => Object::string_literal("calc.exe")};
        document.catalog_mut().unwrap().set("AA", dictionary! {"WC" => action});
    }),
    ("link-over-the-page", "changed", |document| {
        let link = dictionary! {
            "Type" => "Annot", "Subtype" => "Link", "Rect" => vec![0.into(), 0.into(), 595.into(), 842.into()],
            "A" => dictionary! {"S" => "URI", "URI" => Object::string_literal("https://example.org")},
        };
        let link = document.add_object(link);
        page(document).set("Annots", vec![Object::Reference(link)]);
    }),
    ("another-source-under-uf", "several-sources", |document| {
        let other = other_source(document);
        filespec(document).get_mut(b"EF").unwrap().as_dict_mut().unwrap().set("UF", Object::Reference(other));
    }),
    ("kids-beside-names", "several-sources", |document| {
        let other = other_source(document);
        let other = document.add_object(dictionary! {
            "Type" => "Filespec", "F" => Object::string_literal("other.yaml"),
            "EF" => dictionary! {"F" => Object::Reference(other)},
        });
        let kid = document
            .add_object(dictionary! {"Names" => vec![Object::string_literal("0001"), Object::Reference(other)]});
        let names = document.catalog_mut().unwrap().get_mut(b"Names").unwrap().as_dict_mut().unwrap();
        let files = names.get_mut(b"EmbeddedFiles").unwrap().as_dict_mut().unwrap();
        files.set("Kids", vec![Object::Reference(kid)]);
    }),
    ("title-and-keywords", "changed", |document| {
        let info = document.trailer.get(b"Info").and_then(Object::as_reference).unwrap();
        let info = document.get_dictionary_mut(info).unwrap();
        info.set("Title", Object::string_literal("Approved"));
        info.set("Keywords", Object::string_literal("approved"));
    }),
    ("spoken-otherwise", "changed", |document| {
        let parts = document.objects.values_mut().filter_map(|object| object.as_dict_mut().ok());
        let figure = parts.into_iter().find(|part| part.has(b"Alt")).unwrap();
        figure.set("Alt", Object::string_literal("Approved"));
    }),
    ("list-of-contents", "changed", |document| {
        let parts = document.objects.values_mut().filter_map(|object| object.as_dict_mut().ok());
        let line = parts.into_iter().find(|part| part.has(b"Title") && part.has(b"Parent")).unwrap();
        line.set("Title", Object::string_literal("Approved"));
    }),
    ("list-of-contents-leads-away", "changed", |document| {
        let parts = document.objects.values_mut().filter_map(|object| object.as_dict_mut().ok());
        let line = parts.into_iter().find(|part| part.has(b"Title") && part.has(b"Parent")).unwrap();
        line.set("A", dictionary! {"S" => "URI", "URI" => Object::string_literal("https://example.org")});
    }),
    ("title-beside", "changed", |document| {
        let own = document.catalog().unwrap().get(b"Metadata").and_then(Object::as_reference).unwrap();
        let stream = document.get_object_mut(own).unwrap().as_stream_mut().unwrap();
        let told = String::from_utf8(stream.get_plain_content_with_limit(1 << 20).unwrap()).unwrap();
        stream.dict.remove(b"Filter");
        stream.set_content(told.replace("carbon steel sheet", "approved for all").into_bytes());
    }),
    ("subject-beside", "changed", |document| {
        let own = document.catalog().unwrap().get(b"Metadata").and_then(Object::as_reference).unwrap();
        let stream = document.get_object_mut(own).unwrap().as_stream_mut().unwrap();
        let told = String::from_utf8(stream.get_plain_content_with_limit(1 << 20).unwrap()).unwrap();
        stream.dict.remove(b"Filter");
        stream.set_content(told.replace("welding procedure specification", "approved for all").into_bytes());
    }),
    ("page-from-elsewhere", "changed", |document| {
        let own = page(document).get(b"Contents").and_then(Object::as_reference).unwrap();
        let stream = document.get_object_mut(own).unwrap().as_stream_mut().unwrap();
        stream.dict.set("F", Object::string_literal("other.bin"));
    }),
    ("pages-numbered-otherwise", "changed", |document| {
        let label = dictionary! {"S" => "D", "P" => Object::string_literal("Approved ")};
        let labels = dictionary! {"Nums" => vec![0.into(), Object::Dictionary(label)]};
        document.catalog_mut().unwrap().set("PageLabels", labels);
    }),
    ("script-by-name", "changed", |document| {
        let action = dictionary! {"S" => "JavaScript", "JS" => Object::string_literal("app.alert('x')")};
        let tree = dictionary! {"Names" => vec![Object::string_literal("a"), Object::Dictionary(action)]};
        document.catalog_mut().unwrap().get_mut(b"Names").unwrap().as_dict_mut().unwrap().set("JavaScript", tree);
    }),
    ("pages-kept-aside", "changed", |document| {
        let first = document.get_pages()[&1];
        let tree = dictionary! {"Names" => vec![Object::string_literal("a"), Object::Reference(first)]};
        document.catalog_mut().unwrap().get_mut(b"Names").unwrap().as_dict_mut().unwrap().set("Templates", tree);
    }),
    ("layers", "changed", |document| {
        let layers = dictionary! {"OCGs" => Vec::<Object>::new(), "D" => dictionary! {"BaseState" => "OFF"}};
        document.catalog_mut().unwrap().set("OCProperties", layers);
    }),
    ("forms-of-another-kind", "changed", |document| {
        let form = dictionary! {"XFA" => Object::string_literal("<xdp/>"), "Fields" => Vec::<Object>::new()};
        document.catalog_mut().unwrap().set("AcroForm", form);
    }),
    ("greys-turned-white", "changed", |document| {
        let white = vec![1.into(), 1.into(), 1.into()];
        let white = dictionary! {"WhitePoint" => white, "Gamma" => Object::Real(0.01)};
        let grey = vec![Object::Name(b"CalGray".to_vec()), Object::Dictionary(white)];
        resources(document).set("ColorSpace", dictionary! {"DefaultGray" => grey});
    }),
    ("letters-exchanged", "changed", |document| {
        let tables = document.objects.values_mut().filter_map(|object| object.as_stream_mut().ok());
        let told = |own: &Stream| own.get_plain_content_with_limit(1 << 20).unwrap_or_default();
        let table = tables.into_iter().find(|own| told(own).windows(7).any(|own| own == b"beginbf")).unwrap();
        let text = String::from_utf8(told(table)).unwrap();
        let line = text.lines().find(|line| line.matches('<').count() == 2 && line.ends_with('>')).unwrap();
        let (glyph, _) = line.rsplit_once('<').unwrap();
        let other = text.replacen(line, &format!("{glyph}<0041>"), 1);
        table.dict.remove(b"Filter");
        table.set_content(other.into_bytes());
    }),
    ("saved-again", "saved-again", |_| {}),
    ("attachment-by-annotation", "several-sources", |document| {
        let other = other_source(document);
        let note = dictionary! {
            "Type" => "Annot", "Subtype" => "FileAttachment", "Rect" => vec![0.into(), 0.into(), 1.into(), 1.into()],
            "FS" => dictionary! {"Type" => "Filespec", "F" => Object::string_literal("p.yaml"), "EF" => dictionary! {"F" => Object::Reference(other)}},
        };
        page(document).set("Annots", vec![Object::Dictionary(note)]);
    }),
    ("source-gone", "no-source", |document| {
        document.catalog_mut().unwrap().remove(b"Names");
        document.catalog_mut().unwrap().remove(b"AF");
        let gone: Vec<_> = document
            .objects
            .iter()
            .filter(|(_, own)| {
                own.as_stream().is_ok_and(|own| {
                    own.dict.get(b"Type").and_then(Object::as_name).is_ok_and(|name| name == b"EmbeddedFile")
                })
            })
            .map(|(id, _)| *id)
            .collect();
        for id in gone {
            document.objects.remove(&id);
        }
    }),
    ("source-changed", "changed", |document| {
        let streams = document.objects.values_mut().filter_map(|object| object.as_stream_mut().ok());
        let named = |own: &&mut Stream| {
            own.dict.get(b"Type").and_then(Object::as_name).is_ok_and(|name| name == b"EmbeddedFile")
        };
        let own = streams.into_iter().find(named).unwrap();
        let text = own.get_plain_content_with_limit(1 << 20).unwrap();
        own.dict.remove(b"Filter");
        own.set_content(String::from_utf8(text).unwrap().replace("mm", "cm").into_bytes());
    }),
];

#[test]
fn no_change_of_a_pdf_is_proved() {
    let (folder, path) = sheet("pdf");
    for (name, expected, change) in CHANGES {
        let mut document = Document::load(&path).unwrap();
        change(&mut document);
        let forged = folder.path().join(format!("{name}.pdf"));
        document.save(&forged).unwrap();
        let (code, verdict, message) = judged(&forged);
        assert_eq!((code, verdict.as_str()), (Some(2), *expected), "{name}: {message}");
    }
    // What stands in the text, before and behind it, in bytes alone.
    let whole = fs::read(&path).unwrap();
    let line = whole.windows(12).rposition(|own| own == b"%seamwright ").unwrap();
    let other = if whole[line + 20] == b'0' { b"1" } else { b"0" };
    let end = line + whole[line..].iter().position(|byte| *byte == b'\n').unwrap() + 1;
    for (name, bytes) in [
        ("behind.pdf", [whole.as_slice(), b"\n% more\n"].concat()),
        ("twice.pdf", [whole.as_slice(), whole.as_slice()].concat()),
        ("space.pdf", [whole.as_slice(), b"\n"].concat()),
        ("no-seal.pdf", [&whole[..line], &whole[end..]].concat()),
        ("seal-alone-changed.pdf", [&whole[..line + 20], other, &whole[line + 21..]].concat()),
        ("two-seals.pdf", [&whole[..end], &whole[line..]].concat()),
    ] {
        let forged = folder.path().join(name);
        fs::write(&forged, bytes).unwrap();
        let (code, verdict, message) = judged(&forged);
        assert_eq!(code, Some(2), "{name}: {verdict}: {message}");
        assert_ne!(verdict, "proved", "{name}: {message}");
    }
}

// Readers open a file by its name: the bytes of one format under the name of another are not the sheet that is seen.
#[test]
fn no_sheet_under_the_name_of_another_format_is_proved() {
    for (ending, others) in [("pdf", ["html", "HTM", "xhtml"]), ("html", ["pdf", "PDF", "Pdf"])] {
        let (folder, path) = sheet(ending);
        for other in others {
            let forged = folder.path().join(format!("named.{other}"));
            fs::copy(&path, &forged).unwrap();
            let (code, verdict, message) = judged(&forged);
            assert_eq!((code, verdict.as_str()), (Some(2), "no-source"), "{ending} as {other}: {message}");
        }
    }
}

// A dictionary may have an entry twice; some readers take the first, others the last.
#[test]
fn no_entry_that_stands_twice_looks_the_same() {
    let (folder, path) = sheet("pdf");
    let mut document = Document::load(&path).unwrap();
    let other = document.add_object(Stream::new(dictionary! {}, BOX.to_vec()));
    let own = page(&mut document).get(b"Contents").and_then(Object::as_reference).unwrap();
    let forged = folder.path().join("plain.pdf");
    document.save(&forged).unwrap();
    let bytes = fs::read(&forged).unwrap();
    let entry = format!("/Contents {} 0 R", own.0).into_bytes();
    let at = find(&bytes, &entry);
    let twice = [&bytes[..at], format!("/Contents {} 0 R", other.0).as_bytes(), &bytes[at..]].concat();
    // Tables of places are read by no one who looks for objects: what they say does not matter here.
    fs::write(&forged, twice).unwrap();
    let (code, verdict, message) = judged(&forged);
    assert_eq!((code, verdict.as_str()), (Some(2), "changed"), "{message}");
    assert!(message.contains("stands twice"), "{message}");
}

// What one reader finds in a file and another does not is never said to look as the source gives it.
#[test]
fn what_readers_take_in_different_ways_does_not_look_the_same() {
    let (folder, path) = sheet("pdf");
    let mut document = Document::load(&path).unwrap();
    let first = document.get_pages()[&1];
    let over = document.add_object(Stream::new(dictionary! {}, BOX.to_vec()));
    let plain = folder.path().join("plain.pdf");
    let drawn = plain_contents(&mut document).clone();
    let own = page(&mut document).get(b"Contents").and_then(Object::as_reference).unwrap();
    document.save(&plain).unwrap();
    let bytes = fs::read(&plain).unwrap();
    let before = find(&bytes, b"startxref");
    let put = |at: usize, more: &[u8]| [&bytes[..at], more, &bytes[at..]].concat();
    let instead = |old: &str, new: &str| {
        let at = find(&bytes, old.as_bytes());
        [&bytes[..at], new.as_bytes(), &bytes[at + old.len()..]].concat()
    };
    let length = format!("/Length {}", drawn.content.len());
    let root = document.trailer.get(b"Root").and_then(Object::as_reference).unwrap();
    let other = format!("{} 0 obj\n<</Type/Catalog/Pages {} 0 R>>\nendobj\n", over.0 + 7, first.0);
    let objects = |entries: &str| {
        format!(
            "{} 0 obj\n<</Type/ObjStm/N 1/First 4{entries}/Length 9>>\nstream\n393920303c3c3e3e>\nendstream\nendobj\n",
            over.0 + 8
        )
    };
    for (name, forged) in [
        ("length", instead(&length, "/Length 40")),
        ("generation", instead(&format!("/Contents {} 0 R", own.0), &format!("/Contents {} 1 R", own.0))),
        ("other-generation", put(before, format!("{} 1 obj\n<<>>\nendobj\n", over.0 + 9).as_bytes())),
        ("comment-in-the-head", put(before, format!("{} %\n0 %\nobj <<>> endobj\n", own.0).as_bytes())),
        ("spaces-in-the-head", put(before, format!("{} {}0 obj <<>> endobj\n", own.0, " ".repeat(50)).as_bytes())),
        ("objects-in-digits", put(before, objects("/Filter/ASCIIHexDecode").as_bytes())),
        ("second-catalog", put(before, format!("{other}trailer\n<</Root {} 0 R>>\n", over.0 + 7).as_bytes())),
        (
            "second-catalog-without-a-type",
            put(
                before,
                format!(
                    "{other}{} 0 obj\n<</W[1 2 1]/Root {} 0 R/Length 0>>\nstream\n\nendstream\nendobj\n",
                    over.0 + 9,
                    over.0 + 7
                )
                .as_bytes(),
            ),
        ),
    ] {
        assert_ne!(forged, bytes, "{name} {}", root.0);
        let path = folder.path().join(format!("{name}.pdf"));
        fs::write(&path, forged).unwrap();
        let (code, verdict, message) = judged(&path);
        assert_eq!(code, Some(2), "{name}: {message}");
        let hedged = message.contains("readers may show it otherwise");
        assert!(verdict == "changed" || (verdict == "saved-again" && hedged), "{name}: {verdict}: {message}");
    }
}

fn find(bytes: &[u8], word: &[u8]) -> usize {
    bytes.windows(word.len()).rposition(|own| own == word).unwrap()
}

// Readers take the last of several versions of an object: what stands first, and was sealed, is then not what is seen.
#[test]
fn no_second_version_of_an_object_is_proved() {
    let (folder, path) = sheet("pdf");
    let whole = fs::read(&path).unwrap();
    let document = Document::load(&path).unwrap();
    let first = document.get_pages()[&1];
    let root = document.trailer.get(b"Root").and_then(Object::as_reference).unwrap();
    let size = document.max_id + 9;
    let before: usize = {
        let at = find(&whole, b"startxref") + 10;
        let digits: Vec<u8> = whole[at..].iter().copied().take_while(u8::is_ascii_digit).collect();
        String::from_utf8(digits).unwrap().parse().unwrap()
    };
    // The page turned over, as one object.
    let mut turned = document.get_dictionary(first).unwrap().clone();
    turned.set("Rotate", 180);
    let mut text = Vec::new();
    let mut alone = Document::with_version("1.7");
    alone.objects.insert(first, Object::Dictionary(turned));
    alone.save_to(&mut text).unwrap();
    let begin = format!("{} 0 obj", first.0).into_bytes();
    let begin = find(&text, &begin);
    let end = begin + find(&text[begin..], b"endobj") + 7;
    let object = &text[begin..end];
    let body = &object[object.iter().position(|own| *own == b'<').unwrap()..object.len() - 7];
    let head = |previous: usize| format!("/Size {size} /Root {} 0 R /Prev {previous}", root.0);
    let update = |place: usize, previous: usize| {
        let own = [b"\n".as_slice(), object].concat();
        let table = format!("xref\n{} 1\n{:010} 00000 n \ntrailer\n<< {} >>\n", first.0, place + 1, head(previous));
        let at = place + own.len();
        [own, table.into_bytes(), format!("startxref\n{at}\n%%EOF\n").into_bytes()].concat()
    };
    let at = |bytes: &[u8], more: Vec<u8>| [bytes, &more].concat();
    // A table in a stream, with the page in a stream of objects.
    let packed = {
        let objects = [format!("{} 0 ", first.0).into_bytes(), body.to_vec()].concat();
        let first_byte = objects.len() - body.len();
        let (own, table) = (size - 2, size - 1);
        let stream = [
            format!("\n{own} 0 obj\n<< /Type /ObjStm /N 1 /First {first_byte} /Length {} >>\nstream\n", objects.len())
                .into_bytes(),
            objects,
            b"\nendstream\nendobj\n".to_vec(),
        ]
        .concat();
        let place = whole.len() + 1;
        let start = whole.len() + stream.len();
        let entry = |kind: u8, one: usize, two: u8| {
            [vec![kind], u32::try_from(one).unwrap().to_be_bytes().to_vec(), vec![two]].concat()
        };
        let rows = [entry(2, own as usize, 0), entry(1, place, 0), entry(1, start, 0)].concat();
        let table = format!(
            "{table} 0 obj\n<< /Type /XRef /W [1 4 1] /Index [{} 1 {own} 1 {table} 1] /Length {} {} >>\nstream\n",
            first.0,
            rows.len(),
            head(before),
        );
        let end = format!("\nendstream\nendobj\nstartxref\n{start}\n%%EOF\n");
        [whole.clone(), stream, table.into_bytes(), rows, end.into_bytes()].concat()
    };
    let line = find(&whole, b"%seamwright ");
    let seal = whole[line..].to_vec();
    let swapped = {
        let mut bytes = whole.clone();
        // The table of places is a stream of its own, packed.
        let packed = before + whole[before..].windows(7).position(|own| own == b"stream\n").unwrap() + 12;
        bytes[packed] ^= 1;
        bytes
    };
    let elsewhere = {
        let mut bytes = whole.clone();
        let digit = find(&whole, b"startxref") + 10;
        bytes[digit] = if bytes[digit] == b'9' { b'8' } else { bytes[digit] + 1 };
        bytes
    };
    for (name, bytes) in [
        ("update", at(&whole, update(whole.len(), before))),
        ("update-before-the-seal", [&whole[..line], &update(line, before), &seal].concat()),
        ("update-and-the-seal-again", [whole.clone(), update(whole.len(), before), seal.clone()].concat()),
        ("update-that-follows-itself", at(&whole, update(whole.len(), whole.len() + 1 + object.len()))),
        ("object-stream", packed.clone()),
        ("object-stream-and-the-seal-again", [packed, seal].concat()),
        ("object-twice-without-a-table", [&whole[..before], object, &whole[before..]].concat()),
        ("table-points-elsewhere", swapped),
        ("start-points-elsewhere", elsewhere),
        ("before-the-header", [b"%!PS\n".as_slice(), &whole].concat()),
    ] {
        let forged = folder.path().join(format!("{name}.pdf"));
        fs::write(&forged, bytes).unwrap();
        let (code, verdict, message) = judged(&forged);
        assert_eq!(code, Some(2), "{name}: {verdict}: {message}");
        assert_ne!(verdict, "proved", "{name}: {message}");
    }
}

// Nothing that is seen differs, but the file is not the one that was written.
#[test]
fn a_sheet_whose_seal_was_taken_off_is_said_to_lack_it() {
    for (ending, open) in [("pdf", "%seamwright "), ("html", "<!-- seamwright ")] {
        let (folder, path) = sheet(ending);
        let whole = fs::read(&path).unwrap();
        let line = whole.windows(open.len()).rposition(|own| own == open.as_bytes()).unwrap();
        let end = line + whole[line..].iter().position(|byte| *byte == b'\n').unwrap() + 1;
        let forged = folder.path().join(format!("no-seal.{ending}"));
        fs::write(&forged, [&whole[..line], &whole[end..]].concat()).unwrap();
        let (code, verdict, message) = judged(&forged);
        assert_eq!((code, verdict.as_str()), (Some(2), "changed"), "{message}");
        assert!(message.contains("the line with its seal was taken off"), "{message}");
    }
}

#[test]
fn a_changed_value_is_named_with_its_page() {
    let (folder, path) = sheet("pdf");
    let mut document = Document::load(&path).unwrap();
    let page = document.get_pages()[&1];
    let contents = document.get_page_contents(page)[0];
    let stream = document.get_object_mut(contents).unwrap().as_stream_mut().unwrap();
    let mut drawn = stream.get_plain_content_with_limit(1 << 24).unwrap();
    // The glyphs of the first text that has some, the first in place of the last.
    let open = drawn.iter().position(|byte| *byte == b'(').unwrap();
    drawn.swap(open + 2, open + 4);
    stream.dict.remove(b"Filter");
    stream.set_content(drawn);
    let forged = folder.path().join("value.pdf");
    document.save(&forged).unwrap();
    let (_, verdict, message) = judged(&forged);
    assert_eq!(verdict, "changed");
    assert!(message.contains("page 1: it shows `") && message.contains("where the source gives `"), "{message}");
}

#[test]
fn no_change_of_a_page_is_proved() {
    let (folder, path) = sheet("html");
    let page = fs::read_to_string(&path).unwrap();
    let seal = page.rfind("<!-- seamwright ").unwrap();
    let with_seal = |line: String| format!("{}{line}", &page[..seal]);
    let line = &page[seal..];
    let digit = |line: &str, at: usize| {
        let mut line = line.as_bytes().to_vec();
        line[at] = if line[at] == b'0' { b'1' } else { b'0' };
        String::from_utf8(line).unwrap()
    };
    let changes: Vec<(&str, String)> = vec![
        ("value", page.replacen("deg", "grad", 1)),
        ("hidden", page.replacen("<main", "<main hidden", 1)),
        ("style", page.replacen("</style>", "main{display:none}</style>", 1)),
        ("script", page.replacen("</body>", "<script>document.title='x'</script></body>", 1)),
        ("markup-in-the-seal", with_seal(line.replacen(" {", " --><h1>Approved</h1><!-- {", 1))),
        ("markup-in-the-note", with_seal(line.replacen("\"title\":\"", "\"title\":\"--><h1>Approved</h1>", 1))),
        ("note", with_seal(line.replacen("\"examined\":", "\"examined\":1", 1))),
        ("spaces-in-the-note", with_seal(line.replacen(':', ": ", 1))),
        ("digest", with_seal(digit(line, 20))),
        ("made-of", with_seal(digit(line, 55))),
        ("kept-aside", page.replacen("</main>", "<template shadowrootmode=\"open\">300 A</template></main>", 1)),
        ("printed-otherwise", page.replacen("</style>", "@media print{main{display:none}}</style>", 1)),
        ("written-by-style", page.replacen("</style>", "h1::after{content:\" approved\"}</style>", 1)),
        ("unseen-letter", page.replacen(" mm", " \u{200B}mm", 1)),
        ("turned-letters", page.replacen(" mm", " \u{202E}mm", 1)),
        ("letter-of-another-script", page.replacen(" mm", " \u{043C}m", 1)),
        ("policy-gone", page.replacen("default-src 'none'", "default-src *", 1)),
        ("behind-the-seal", format!("{page}<h1>Approved</h1>")),
        ("second-seal", format!("{page}{line}")),
        ("no-seal", page[..seal].to_owned()),
        ("half-a-seal", with_seal(line[..60].to_owned())),
        ("empty-seal", with_seal("<!-- seamwright  -->\n".to_owned())),
        (
            "second-source",
            page.replacen("</main>", "<a href=\"data:application/yaml;base64,Zm9ybWF0OiAxCg==\">source</a></main>", 1),
        ),
        ("line-ends", page.replace('\n', "\r\n")),
        ("recipe-gone", page.replacen("data-made-with", "data-made-without", 1)),
        ("byte-order-mark", format!("\u{FEFF}{page}")),
        ("attribute", page.replacen("<main", "<main onclick=\"alert(1)\"", 1)),
        ("attribute-order", page.replacen("<html lang=\"en\"", "<html  lang=\"en\"", 1)),
        ("style-attribute", page.replacen("<main", "<main style=\"display:none\"", 1)),
        ("capitals", page.replacen("<main", "<MAIN", 1)),
        ("entity", page.replacen(" mm", " &#109;m", 1)),
        ("comment", page.replacen("</main>", "<!-- approved --></main>", 1)),
        ("comment-over-a-part", page.replacen("<main", "<!--<main", 1).replacen("</main>", "</main>-->", 1)),
        ("base", page.replacen("<head>", "<head><base href=\"https://example.org\">", 1)),
        ("refresh", page.replacen("<head>", "<head><meta http-equiv=refresh content=0>", 1)),
        ("frame", page.replacen("</body>", "<iframe srcdoc=\"<h1>Approved</h1>\"></iframe></body>", 1)),
        ("space-behind", format!("{page} ")),
        ("line-behind", format!("{page}\n")),
        ("nothing-behind", format!("{page}\0")),
        ("comment-behind", format!("{page}<!-- -->\n")),
        ("comment-before", format!("<!-- -->{page}")),
        ("page-twice", format!("{page}{page}")),
        ("seal-first", format!("{line}{page}")),
    ];
    for (name, forged) in changes {
        assert_ne!(forged, page, "{name}");
        let path = folder.path().join(format!("{name}.html"));
        fs::write(&path, forged).unwrap();
        let (code, verdict, message) = judged(&path);
        assert_eq!(code, Some(2), "{name}: {verdict}: {message}");
        assert_ne!(verdict, "proved", "{name}: {message}");
    }
}

#[test]
fn another_version_is_never_called_changed() {
    for ending in ["pdf", "html"] {
        let (folder, path) = sheet(ending);
        let bytes = fs::read(&path).unwrap();
        let own = env!("CARGO_PKG_VERSION");
        let other = folder.path().join(format!("other.{ending}"));
        if ending == "html" {
            let page = String::from_utf8(bytes)
                .unwrap()
                .replace(&format!("&quot;version&quot;:&quot;{own}+"), "&quot;version&quot;:&quot;9.9.9+");
            fs::write(&other, page).unwrap();
        } else {
            let mut document = Document::load(&path).unwrap();
            let spec = filespec(&mut document);
            let text = lopdf::decode_text_string(spec.get(b"SeamwrightMadeWith").unwrap()).unwrap();
            spec.set("SeamwrightMadeWith", lopdf::text_string(&text.replace(own, "9.9.9")));
            document.save(&other).unwrap();
        }
        let (code, verdict, message) = judged(&other);
        assert_eq!((code, verdict.as_str()), (Some(2), "other-version"), "{message}");
        assert!(message.contains("9.9.9"), "{message}");
    }
}

/// `check` of a file in an address space of so many MiB.
fn limited(path: &Path, mebibytes: usize) -> Output {
    Command::new("sh")
        .args(["-c", &format!("ulimit -v {}; exec \"$0\" check --format json \"$1\"", mebibytes * 1024)])
        .arg(env!("CARGO_BIN_EXE_seamwright"))
        .arg(path)
        .output()
        .unwrap()
}

fn packed(bytes: &[u8]) -> Vec<u8> {
    let mut stream = Stream::new(dictionary! {}, bytes.to_vec());
    stream.compress().unwrap();
    stream.content
}

/// An object of a file, by number.
fn object(number: usize, entries: &str, stream: &[u8]) -> Vec<u8> {
    let head = format!("{number} 0 obj\n<<{entries}/Length {}>>\nstream\n", stream.len());
    [head.as_bytes(), stream, b"\nendstream\nendobj\n"].concat()
}

#[test]
fn no_file_takes_more_memory_or_time_than_it_may() {
    const MOST: usize = 15 * 1024 * 1024;
    let head = b"%PDF-1.7\n1 0 obj\n<</Type/Catalog/Pages 2 0 R>>\nendobj\n2 0 obj\n<</Type/Pages/Kids[3 0 R]/Count 1>>\nendobj\n".to_vec();
    let tail = b"trailer\n<</Root 1 0 R>>\nstartxref\n0\n%%EOF\n".to_vec();
    let whole = |middle: Vec<u8>| [head.clone(), middle, tail.clone()].concat();
    let filled = |part: &[u8]| part.repeat(MOST / part.len());
    let zeros = packed(&vec![b' '; 64 * 1024 * 1024]);
    let small = packed(&b"9 0 ".repeat(1_000_000));
    let many_streams = |entries: &str, stream: &[u8]| {
        let count = (MOST / (stream.len() + 120)).min(4000);
        (0..count).flat_map(|at| object(at + 10, entries, stream)).collect::<Vec<u8>>()
    };
    let (_folder, honest) = sheet("html");
    let honest = fs::read_to_string(honest).unwrap();
    let files: Vec<(&str, Vec<u8>)> = vec![
        ("object-streams.pdf", whole(many_streams("/Type/ObjStm/N 500000/First 10/Filter/FlateDecode", &small))),
        ("bombs-of-objects.pdf", whole(many_streams("/Type/ObjStm/N 1/First 10/Filter/FlateDecode", &zeros))),
        ("bombs-attached.pdf", whole(many_streams("/Type/EmbeddedFile/Filter/FlateDecode", &zeros))),
        ("page-of-bombs.pdf", {
            let parts: String = (0..4000).map(|_| "10 0 R ".to_owned()).collect();
            let page = format!("3 0 obj\n<</Type/Page/Parent 2 0 R/Contents[{parts}]>>\nendobj\n");
            whole([page.into_bytes(), object(10, "/Filter/FlateDecode", &zeros)].concat())
        }),
        ("arrays.pdf", whole([b"3 0 obj\n".to_vec(), filled(b"[")].concat())),
        ("dictionaries.pdf", whole([b"3 0 obj\n".to_vec(), filled(b"<</A")].concat())),
        ("strings.pdf", whole(filled(b"4 0 obj ("))),
        ("comments.pdf", whole(filled(b"4 0 obj %"))),
        ("objects.pdf", whole(filled(b"4 0 obj 7 endobj "))),
        ("streams.pdf", whole(filled(b"4 0 obj <</N 1/First 1>>%"))),
        ("trailers.pdf", whole(filled(b"trailer<<"))),
        ("pages.pdf", whole(filled(b"2 0 obj <</Kids[2 0 R 2 0 R]>> "))),
        ("names.pdf", whole([b"3 0 obj\n<<".to_vec(), filled(b"/#41 1 "), b">>".to_vec()].concat())),
        ("empty.pdf", b"%PDF-".to_vec()),
        ("links.html", format!("<!doctype html>{}", "<a id=\"source-file\" href=\"".repeat(MOST / 26)).into_bytes()),
        (
            "data.html",
            format!("<!doctype html>{}", "data:application/yaml;base64,AAAA ".repeat(MOST / 34)).into_bytes(),
        ),
        ("tags.html", format!("<!doctype html>{}", "<style ".repeat(MOST / 7)).into_bytes()),
        ("long.html", format!("{honest}{}", "<p>more</p>".repeat(MOST / 11)).into_bytes()),
        ("comments.html", format!("{honest}{}", "<!-- ".repeat(MOST / 5)).into_bytes()),
    ];
    let folder = tempfile::tempdir().unwrap();
    for (name, bytes) in files {
        assert!(bytes.len() <= 16 * 1024 * 1024, "{name}: {}", bytes.len());
        let path = folder.path().join(name);
        fs::write(&path, bytes).unwrap();
        let start = Instant::now();
        let output = limited(&path, 300);
        let (took, said) = (start.elapsed(), String::from_utf8_lossy(&output.stderr).into_owned());
        assert_eq!(output.status.code(), Some(2), "{name}: {said}");
        let whole: Value = serde_json::from_slice(&output.stdout).unwrap_or_else(|_| panic!("{name}: {said}"));
        assert_eq!(whole["files"][0]["received"]["proved"], Value::Bool(false), "{name}: {whole:#}");
        // Built without optimisation; the program itself has 10 s.
        assert!(took < Duration::from_secs(40), "{name}: {took:?}");
        fs::remove_file(path).unwrap();
    }
}

#[test]
fn a_run_without_memory_ends_with_a_message() {
    let within = |mebibytes: usize, arguments: &str, out: &Path| {
        Command::new("sh")
            .args(["-c", &format!("ulimit -v {}; exec \"$0\" {arguments}", mebibytes * 1024)])
            .arg(env!("CARGO_BIN_EXE_seamwright"))
            .arg(out)
            .current_dir(root())
            .output()
            .unwrap()
    };
    let (mut short, mut enough) = (0, 0);
    for arguments in ["check procedures", "table", "explain", "schema", "render procedures --out \"$1\""] {
        let out = tempfile::tempdir().unwrap();
        // From where the system can load the program at all.
        let sizes = (40..400).step_by(12).skip_while(|size| !within(*size, "--version", out.path()).status.success());
        for mebibytes in sizes.take(8) {
            let output = within(mebibytes, arguments, out.path());
            let said = String::from_utf8_lossy(&output.stderr).into_owned();
            let code = output.status.code();
            assert!(matches!(code, Some(0..=2)), "{arguments} in {mebibytes} MiB: {code:?} {said}");
            if code == Some(2) {
                assert!(said.contains("does not suffice"), "{arguments} in {mebibytes} MiB: {said}");
                short += 1;
            } else {
                enough += 1;
            }
        }
    }
    assert!(short > 0 && enough > 0, "{short} runs without enough memory, {enough} with");
}
