//! A file with faulty values is read as far as it goes.

use seamwright_model::document::Document;
use seamwright_model::{load, read};

const SOUND: &str = "format: 1
document: procedure
identification: {number: P-1, revision: 1, title: Trial}
positions: [PA, PB]
processes:
  141: {polarity: DCEN, torch: {size: 17}}
runs:
  - {run: 1, process: 141, current: 70 A}
  - {run: 2, process: 141, current: 90 A}
  - {run: 3, process: 141, current: 95 A}
";

fn with(edits: &[(&str, &str)]) -> String {
    edits.iter().fold(SOUND.to_owned(), |text, (old, new)| {
        assert!(text.contains(old), "{old}");
        text.replacen(old, new, 1)
    })
}

#[test]
fn a_sound_file_is_read_whole() {
    let reading = read("p.yaml", SOUND.as_bytes());
    assert!(reading.faults.is_empty() && reading.left_out.is_empty());
    assert_eq!(reading.document, load("p.yaml", SOUND.as_bytes()).ok().map(|loaded| loaded.document));
    assert_eq!(reading.in_file("/runs/2/current"), "/runs/2/current");
}

#[test]
fn faulty_values_are_left_out_and_the_rest_is_a_document() {
    let text =
        with(&[("70 A", "70"), ("polarity: DCEN", "polarity: DCXX"), ("title", "titel: x, title"), ("PB", "PX")]);
    let reading = read("p.yaml", text.as_bytes());
    let same = load("p.yaml", text.as_bytes()).unwrap_err();
    assert_eq!(reading.faults, same.1, "the faults are those of a reading that stops");
    assert!(reading.faults.len() >= 3, "{:?}", reading.faults);
    let Some(Document::Procedure(procedure)) = &reading.document else { panic!("{:?}", reading.faults) };
    assert_eq!(procedure.runs.len(), 3);
    for pointer in ["/runs/0/current", "/processes/141/polarity", "/identification/titel"] {
        assert!(reading.left_out.iter().any(|own| own == pointer), "{pointer}: {:?}", reading.left_out);
    }
    // The tree is that of the file.
    assert!(reading.tree.as_ref().unwrap().at("/runs/0/current").is_some());
}

#[test]
fn an_item_that_lacks_what_it_needs_goes_whole_and_places_stay_those_of_the_file() {
    let text = with(&[("run: 2, ", "")]);
    let reading = read("p.yaml", text.as_bytes());
    let Some(Document::Procedure(procedure)) = &reading.document else { panic!("{:?}", reading.faults) };
    assert_eq!(procedure.runs.len(), 2);
    assert_eq!(reading.left_out, ["/runs/1"]);
    assert_eq!(reading.in_file("/runs/0/current"), "/runs/0/current");
    assert_eq!(reading.in_file("/runs/1/current"), "/runs/2/current");
    assert_eq!(reading.in_file("/processes/141/torch/missing"), "/processes/141/torch/missing");
}

#[test]
fn what_a_document_cannot_do_without_leaves_none() {
    for text in
        [with(&[("number: P-1, ", "")]), with(&[("document: procedure", "document: x")]), "a: [".into(), "- 1".into()]
    {
        let reading = read("p.yaml", text.as_bytes());
        assert!(reading.document.is_none() && !reading.faults.is_empty(), "{text}");
    }
    assert!(read("p.yaml", b"\xff").source.is_none());
}
