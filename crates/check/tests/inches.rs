//! A limit beside a value in inches is said in inches, in the message and in the hint as in the limit itself; one beside ksi in ksi.

use std::fs;
use std::path::Path;

use seamwright_check::{Context, check_with};

/// Whether a text holds a figure with one of these units.
fn has(text: &str, units: &[&str]) -> bool {
    let words: Vec<&str> = text.split([' ', '(', ')', ',', ';', ':', '`']).collect();
    words.windows(2).any(|own| own[0].ends_with(|last: char| last.is_ascii_digit()) && units.contains(&own[1]))
}

/// The texts of a procedure with each of its inch values made absurd, one at a time.
fn absurd(text: &str) -> Vec<String> {
    let mut all = Vec::new();
    for unit in [" in", " in/min"] {
        for (at, _) in text.match_indices(unit) {
            if text[at + unit.len()..].starts_with(|next: char| next.is_alphanumeric() || next == '/') {
                continue;
            }
            let figure = |own: char| own.is_ascii_digit() || matches!(own, '.' | '/' | '-');
            let from = text[..at].trim_end_matches(figure).len();
            if from == at {
                continue;
            }
            all.extend(["0.01", "9", "60"].map(|other| format!("{}{other}{}", &text[..from], &text[at..])));
        }
    }
    all
}

#[test]
fn no_message_mixes_inches_and_millimetres() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../procedures");
    let (mut mixed, mut held) = (Vec::new(), 0);
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if !path.to_string_lossy().contains("-in-") {
            continue;
        }
        for text in absurd(&fs::read_to_string(&path).unwrap()) {
            let Ok(loaded) = seamwright_model::load("p.yaml", text.as_bytes()) else { continue };
            for finding in check_with(&loaded.document, &Context::default()).findings {
                if finding.limit.as_deref().is_none_or(|limit| !has(limit, &["in", "in/min"])) {
                    continue;
                }
                held += 1;
                for said in [Some(&finding.message), finding.hint.as_ref()].into_iter().flatten() {
                    if has(said, &["mm", "cm", "mm/min", "cm/min", "m/min"]) {
                        mixed.push(format!("{}: {said}", finding.check));
                    }
                }
            }
        }
    }
    mixed.sort();
    mixed.dedup();
    assert!(held > 50, "{held}");
    assert!(mixed.is_empty(), "{mixed:#?}");
}

#[test]
fn a_requirement_beside_a_value_in_ksi_is_said_in_ksi() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../examples/inspection/record-iso.yaml");
    let text = fs::read_to_string(path).unwrap();
    let said = |value: &str| {
        let text = text.replacen("value: 455 MPa", &format!("value: {value}"), 1);
        let loaded = seamwright_model::load("record.yaml", text.as_bytes()).unwrap();
        let findings = check_with(&loaded.document, &Context::default()).findings;
        findings.iter().find(|own| own.check == "result-contradicts-requirement").map(|own| own.message.clone())
    };
    let ksi = said("45 ksi").unwrap();
    assert!(ksi.contains("45 ksi does not meet 360 MPa minimum (52.3 ksi minimum)"), "{ksi}");
    let mpa = said("310 MPa").unwrap();
    assert!(mpa.ends_with("310 MPa does not meet 360 MPa minimum"), "{mpa}");
    assert_eq!(said("66 ksi"), None);
}
