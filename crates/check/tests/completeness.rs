//! The matrix of what is asked for: stated, not applicable, missing, each told apart.

mod common;

use common::{edited, starter};
use seamwright_check::completeness::{Entry, State, matrix, missing};
use seamwright_check::rule::Case;
use seamwright_model::Document;
use seamwright_weld::View;

fn entries(base: &'static str, edits: &'static [(&'static str, &'static str)]) -> Vec<Entry> {
    let Document::Procedure(procedure) = edited(&starter(base), &Case { base, edits }) else { panic!("{base}") };
    matrix(&View::new(&procedure))
}

fn states(entries: &[Entry], reference: &str, item: &str) -> Vec<State> {
    entries.iter().filter(|own| own.reference == reference && own.item.contains(item)).map(|own| own.state).collect()
}

// ISO 15609-1:2019 4.4.11 asks every procedure for its preheating temperature.
#[test]
fn stated_not_applicable_and_missing_are_told_apart() {
    let preheating = |edits| states(&entries("butt-3-carbon-141", edits), "4.4.11", "preheating");
    assert_eq!(preheating(&[("/temperatures/preheating", "10 °C minimum")]), [State::Stated]);
    assert_eq!(preheating(&[("/temperatures/preheating", "not applicable")]), [State::NotApplicable]);
    assert_eq!(preheating(&[("/temperatures/preheating", "")]), [State::Missing]);
}

// ISO 15609-1:2019 4.5.3 asks process 13, and no other, for the mode of transfer; 4.5.4 process 14 for the tungsten.
#[test]
fn what_one_process_states_is_asked_of_no_other() {
    let wire = entries("butt-10-s355-135", &[("/processes/135/transfer_mode", ""), ("/runs/0/transfer_mode", "")]);
    assert!(states(&wire, "4.5.4", "").is_empty());
    assert!(!states(&wire, "4.5.3", "mode of transfer").is_empty());
    let tungsten = entries("butt-3-carbon-141", &[("/processes/141/tungsten/diameter", "")]);
    assert!(states(&tungsten, "4.5.3", "").is_empty());
    assert_eq!(states(&tungsten, "4.5.4", "tungsten"), [State::Missing]);
}

#[test]
fn a_setting_is_stated_by_the_process_or_by_each_run() {
    let polarity = |edits| states(&entries("butt-3-carbon-141", edits), "4.4.9", "polarity");
    assert_eq!(polarity(&[]), [State::Stated]);
    assert_eq!(polarity(&[("/processes/141/polarity", "")]), [State::Missing]);
    assert_eq!(
        polarity(&[("/processes/141/polarity", ""), ("/runs", "[{run: 1, process: 141, polarity: DCEN}]")]),
        [State::Stated]
    );
}

#[test]
fn what_hangs_on_a_condition_is_asked_only_where_it_holds() {
    let plate = entries("butt-3-carbon-141", &[]);
    assert!(states(&plate, "4.3.2", "diameter").is_empty());
    assert_eq!(
        states(&entries("butt-3-carbon-141", &[("/parent_metals/0/form", "pipe")]), "4.3.2", "diameter"),
        [State::Missing]
    );
    assert!(states(&plate, "4.4.15", "temperature, time").is_empty());
    // Specified by the parties only: no gap.
    assert!(states(&plate, "4.4.14", "").iter().all(|state| *state != State::Missing));
}

// ASME IX QW-256: the size of the tungsten is QW-409.12; supplementary variables only where impact tests are asked for.
#[test]
fn the_code_asks_for_its_variables() {
    let code = &[("/qualification", "{route: none, code: asme-ix, edition: 2023}")];
    let plain = entries("butt-3-carbon-141", code);
    assert_eq!(states(&plain, "QW-409.12", "tungsten"), [State::Stated]);
    assert!(states(&plain, "QW-406.3", "").is_empty());
    let tough = &[("/qualification", "{route: none, code: asme-ix, edition: 2023, toughness: 27 J at -20 °C}")];
    assert!(!states(&entries("butt-3-carbon-141", tough), "QW-406.3", "interpass").is_empty());
    let keyed = |entry: &&Entry| entry.standard == "ASME BPVC IX";
    assert!(plain.iter().filter(keyed).all(|entry| !entry.keys.is_empty() && entry.reference.starts_with("QW-")));
}

#[test]
fn an_empty_procedure_lacks_nearly_all() {
    let bare = entries(
        "butt-3-carbon-141",
        &[
            ("/joint", ""),
            ("/positions", ""),
            ("/fillers", ""),
            ("/processes", ""),
            ("/temperatures", ""),
            ("/runs", ""),
            ("/parent_metals", ""),
            ("/qualification", ""),
            ("/backing_gas", ""),
        ],
    );
    assert!(missing(&bare).count() > 8, "{bare:#?}");
}

// Each code asks by its own list: QW-200 and QW-250 under ASME IX, the sample form under AWS D1.1, ISO 15609-1 else.
#[test]
fn each_code_asks_by_its_own_paragraphs() {
    for (base, code, own, other) in [
        ("butt-3-carbon-141", "{route: none, code: asme-ix}", "QW-", "4."),
        ("butt-3-8-in-a36-111-3g", "{route: prequalified, code: aws-d1.1}", "Annex J", "4."),
        ("butt-3-carbon-141", "{route: none, code: iso-15614-1}", "4.", "QW-"),
        ("butt-3-carbon-141", "{route: none}", "4.", "QW-"),
    ] {
        let Document::Procedure(procedure) =
            edited(&starter(base), &Case { base: "", edits: Box::leak(Box::new([("/qualification", code)])) })
        else {
            panic!("{base}")
        };
        let found = matrix(&View::new(&procedure));
        assert!(found.iter().any(|own_entry| own_entry.reference.starts_with(own)), "{code}");
        assert!(!found.iter().any(|own_entry| own_entry.reference.starts_with(other)), "{code}");
    }
}

#[test]
fn the_form_of_d1_1_asks_for_the_root_opening_of_a_groove_and_the_size_of_a_fillet() {
    let open = entries("butt-3-8-in-a36-111-3g", &[("/joint/root_gap", "")]);
    assert_eq!(states(&open, "Annex J, joint", "root opening"), [State::Missing]);
    assert!(states(&open, "Annex J, joint", "fillet").is_empty());
    let fillet = entries("tee-fillet-3-8-in-a992-136", &[("/weld_size", "")]);
    assert_eq!(states(&fillet, "Annex J, joint", "fillet"), [State::Missing]);
    // A prequalified procedure has no essential variables of a test.
    assert!(!open.iter().any(|own| own.reference.starts_with("Table 6.5")));
}
