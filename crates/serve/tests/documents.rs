//! Documents on the page: sound, faulty, no YAML, changed, raised; and what the program says where it cannot begin.

mod common;

use common::{PROCEDURE, options, page, page_with, serve};
use seamwright_model::document::Document;
use seamwright_serve::start;
use serde_json::json;

fn starter(name: &str) -> String {
    std::fs::read_to_string(format!("{}/../../procedures/{name}", env!("CARGO_MANIFEST_DIR"))).unwrap()
}

fn refused(change: impl FnOnce(&mut seamwright_serve::Options)) -> String {
    let place = tempfile::tempdir().unwrap();
    let mut options = options(place.path());
    change(&mut options);
    match start(&options) {
        Ok(_) => panic!("it began"),
        Err(error) => error.to_string(),
    }
}

#[test]
fn what_cannot_begin_says_so() {
    assert!(refused(|own| own.folder = "/no/such/folder".into()).contains("there is no such folder"));
    assert!(
        refused(|own| own.folder = concat!(env!("CARGO_MANIFEST_DIR"), "/Cargo.toml").into())
            .contains("this is a file")
    );
    assert!(refused(|own| own.shop = Some("/no/shop.yaml".into())).contains("/no/shop.yaml: cannot be read"));
    let taken = std::net::TcpListener::bind("127.0.0.1:0").unwrap();
    let port = taken.local_addr().unwrap().port();
    let words = refused(|own| own.port = port);
    assert!(words.contains(&format!("port {port} is in use")) && words.contains("--port"), "{words}");
}

#[test]
fn a_file_that_is_no_yaml_is_listed_and_shown_as_text() {
    let page = page(&[("a.yaml", "format: [1\n\tdocument"), ("b.yaml", ""), ("c.yaml", "- 1\n- 2\n")]);
    for row in page.get("/rows").json().as_array().unwrap() {
        assert_eq!(row["worst"], "unreadable", "{row}");
    }
    for name in ["a.yaml", "b.yaml", "c.yaml"] {
        let answer = page.get(&format!("/d/{}", page.id(name)));
        assert_eq!(answer.status, 200, "{name}");
        assert!(answer.body.contains("cannot be shown as a form") || answer.body.contains("Identification"), "{name}");
        let frame = page.get(&format!("/d/{}/frame?kind=procedure", page.id(name)));
        assert!(frame.body.contains("No sheet yet"), "{name}");
        assert_eq!(page.get(&format!("/d/{}/pdf?kind=procedure", page.id(name))).status, 422, "{name}");
    }
    std::fs::write(page.folder.join("d.yaml"), [0xff, 0xfe, 0x00]).unwrap();
    assert_eq!(page.get(&format!("/d/{}", page.id("d.yaml"))).status, 422);
}

#[test]
fn a_document_with_faults_shows_what_can_be_read_and_is_mended_in_its_field() {
    let text = starter("lap-fillet-2-carbon-141.yaml").replace("polarity: DCEN", "polarity: DCXX");
    let page = page(&[("a.yaml", &text)]);
    let id = page.id("a.yaml");
    let state = page.state(&id);
    assert_eq!(state["live"]["worst"], "unreadable");
    assert_eq!(state["live"]["faults"][0]["pointer"], "/processes/141/polarity");
    assert!(state["form"].as_str().unwrap().contains("S235JR"));
    let edited = page.edit(&id, &json!([{"op": "type", "at": "/processes/141/polarity", "text": "dc-"}]));
    assert!(edited["live"]["faults"].as_array().unwrap().is_empty(), "{}", edited["live"]["faults"]);
    assert_eq!(edited["text"].as_str().unwrap(), starter("lap-fillet-2-carbon-141.yaml"));
}

#[test]
fn a_finding_says_why_and_its_value_makes_it_go() {
    let page = page(&[("a.yaml", &starter("lap-fillet-2-carbon-141.yaml"))]);
    let id = page.id("a.yaml");
    let mut offered = 0;
    for (at, text) in [
        ("/runs/0/current", "60-300"),
        ("/processes/141/shielding_gas/flow", "6-60"),
        ("/processes/141/tungsten/included_angle", "20-170"),
        ("/processes/141/tungsten/stickout", "4-60"),
    ] {
        let edited = page.edit(&id, &json!([{"op": "type", "at": at, "text": text}]));
        assert!(edited["refused"].as_array().unwrap().is_empty(), "{}", edited["refused"]);
        let findings = edited["live"]["findings"].as_array().unwrap().clone();
        if let Some(own) = findings.iter().find(|own| own["fix"].is_object()) {
            assert!(own["limit"].is_string() && own["source"].is_string(), "{own}");
            let fix = &own["fix"];
            let mended = page.edit(&id, &json!([{"op": "put", "at": fix["pointer"], "value": fix["value"]}]));
            let left = mended["live"]["findings"].as_array().unwrap();
            let same = |one: &serde_json::Value| one["check"] == own["check"] && one["pointer"] == own["pointer"];
            assert!(!left.iter().any(same), "{left:#?}");
            offered += 1;
        }
        page.post(&format!("/d/{id}/discard"), &json!({}));
    }
    assert!(offered > 0);
}

#[test]
fn what_follows_stands_beside_the_runs() {
    let page = page(&[("a.yaml", &starter("butt-10-s355-135.yaml"))]);
    let state = page.state(&page.id("a.yaml"));
    let figures = &state["live"]["figures"][0];
    assert!(figures["heat"].as_str().unwrap().ends_with(" kJ/mm"), "{figures}");
    assert!(figures["cooling"].as_str().unwrap().ends_with(" s"), "{figures}");
    assert!(figures["deposit"].as_str().unwrap().ends_with(" kg/h"), "{figures}");
    assert!(state["live"]["totals"][0]["name"].as_str().unwrap().contains("S355"), "{}", state["live"]["totals"]);
    assert!(!state["live"]["cautions"].as_array().unwrap().is_empty());
}

#[test]
fn two_windows_of_one_document_change_different_fields_and_lose_nothing() {
    let page = page(&[("a.yaml", PROCEDURE)]);
    let id = page.id("a.yaml");
    let before = page.state(&id);
    let send = |at: &str, text: &str| {
        let body = json!({"of": before["live"]["digest"], "base": before["base"], "n": 1, "ops": [{"op": "type", "at": at, "text": text}]});
        page.post(&format!("/d/{id}/edit"), &body)
    };
    assert_eq!(send("/identification/title", "Tee").status, 200);
    assert_eq!(send("/identification/job", "J-7").status, 200);
    let text = page.state(&id)["text"].as_str().unwrap().to_owned();
    assert!(text.contains("Tee") && text.contains("J-7"), "{text}");
    // A whole text that is made from an older one is not taken.
    let body =
        json!({"of": before["live"]["digest"], "base": before["base"], "n": 2, "ops": [{"op": "text", "text": "x"}]});
    assert_eq!(page.post(&format!("/d/{id}/edit"), &body).status, 409);
    // Nor does a save of a text that this window has not seen write anything.
    let save = page.save(&id, before["live"]["digest"].as_str().unwrap(), before["base"].as_str().unwrap());
    assert_eq!(save.status, 409);
    assert_eq!(std::fs::read_to_string(page.folder.join("a.yaml")).unwrap(), PROCEDURE);
}

#[test]
fn what_was_not_saved_is_there_when_the_program_is_started_again() {
    let place = tempfile::tempdir().unwrap();
    std::fs::write(place.path().join("a.yaml"), PROCEDURE).unwrap();
    let first = serve(&options(place.path()));
    let id = first.id("a.yaml");
    first.edit(&id, &json!([{"op": "type", "at": "/identification/title", "text": "Half done"}]));
    let second = serve(&options(place.path()));
    let state = second.state(&id);
    assert_eq!((state["title"].as_str(), state["unsaved"].as_bool()), (Some("Half done"), Some(true)));
    assert_eq!(std::fs::read_to_string(place.path().join("a.yaml")).unwrap(), PROCEDURE);
}

#[test]
fn an_unsaved_shop_counts_for_the_documents_that_name_it() {
    let shop = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/../../examples/shop/shop.yaml")).unwrap();
    let text =
        starter("lap-fillet-2-carbon-141.yaml").replace("identification:\n", "identification:\n  shop: shop.yaml\n");
    let page = page(&[("a.yaml", &text), ("shop.yaml", &shop)]);
    let id = page.id("a.yaml");
    let machines = |page: &common::Page| page.state(&id)["live"]["machines"].to_string();
    let before = machines(&page);
    assert!(before.len() > 4, "{before}");
    let first = page.state(&page.id("shop.yaml"))["text"].as_str().unwrap().to_owned();
    let values = seamwright_model::read("x", first.as_bytes()).tree.unwrap().to_value();
    let sources = values["power_sources"].as_array().unwrap();
    let place = sources.iter().position(|own| before.contains(own["name"].as_str().unwrap())).unwrap();
    let at = format!("/power_sources/{place}/name");
    page.edit(&page.id("shop.yaml"), &json!([{"op": "type", "at": at, "text": "the red one"}]));
    let after = machines(&page);
    assert!(after.contains("the red one"), "{before} {after}");
}

#[test]
fn a_change_raises_the_revision_and_keeps_the_old_one_as_superseded() {
    let page = page(&[("a.yaml", &starter("lap-fillet-2-carbon-141.yaml"))]);
    let id = page.id("a.yaml");
    assert_eq!(page.post(&format!("/d/{id}/change"), &json!({"why": " "})).status, 422);
    let changed = page.post(&format!("/d/{id}/change"), &json!({"why": "wider gap on site", "by": "A. Tester"}));
    assert_eq!(changed.status, 200, "{changed:?}");
    let text = |name: &str| std::fs::read_to_string(page.folder.join(name)).unwrap();
    let (new, old) = (text("a.yaml"), text("a-rev-1.yaml"));
    for words in ["revision: 2", "status: draft", "not yet approved", "wider gap on site", "2026-03-01"] {
        assert!(new.contains(words), "{words}: {new}");
    }
    assert!(old.contains("status: superseded") && old.contains("revision: 1"), "{old}");
    // The old name is taken: nothing of a second change is written over it.
    std::fs::write(page.folder.join("a-rev-2.yaml"), "taken: 1\n").unwrap();
    assert_eq!(page.post(&format!("/d/{id}/change"), &json!({"why": "again"})).status, 422);
    assert_eq!(text("a.yaml"), new);
}

#[test]
fn a_raised_revision_has_no_seal_and_a_broken_one_is_not_kept_as_issued() {
    let unsealed = starter("lap-fillet-2-carbon-141.yaml");
    let with = |seal: &str| unsealed.replace("  status: issued\n", &format!("  status: issued\n  seal: \"{seal}\"\n"));
    let Document::Procedure(procedure) = seamwright_model::load("a.yaml", unsealed.as_bytes()).unwrap().document else {
        panic!("no procedure")
    };
    let seal = seamwright_model::issue::seal(&procedure);
    let page = page(&[("a.yaml", &with(&seal)), ("b.yaml", &with("0123456789abcdef"))]);
    let text = |name: &str| std::fs::read_to_string(page.folder.join(name)).unwrap();
    let changed = page.post(&format!("/d/{}/change", page.id("a.yaml")), &json!({"why": "wider gap on site"}));
    assert_eq!(changed.status, 200, "{changed:?}");
    assert!(!text("a.yaml").contains("seal"), "{}", text("a.yaml"));
    assert!(text("a-rev-1.yaml").contains(&seal), "the kept revision is what was issued");
    let before = text("b.yaml");
    let refused = page.post(&format!("/d/{}/change", page.id("b.yaml")), &json!({"why": "wider gap on site"}));
    assert_eq!(refused.status, 422, "{refused:?}");
    assert_eq!(text("b.yaml"), before);
    assert!(!page.folder.join("b-rev-1.yaml").exists());
}

#[test]
fn a_thousand_documents_are_listed_and_searched_by_more_than_their_words() {
    let files: Vec<(String, String)> = (0..300)
        .map(|number| {
            (
                format!("p-{number}.yaml"),
                starter("lap-fillet-2-carbon-141.yaml").replace("P-001", &format!("P-{number:04}")),
            )
        })
        .collect();
    let files: Vec<(&str, &str)> = files.iter().map(|(name, text)| (name.as_str(), text.as_str())).collect();
    let page = page_with(&files, |_| {});
    let rows = page.get("/rows").json();
    assert_eq!(rows.as_array().unwrap().len(), 300);
    let words = rows[0]["words"].as_str().unwrap();
    assert!(words.contains("GTAW") && words.contains("TIG"), "{words}");
    let begun = std::time::Instant::now();
    page.get("/rows");
    assert!(begun.elapsed() < std::time::Duration::from_secs(2), "{:?}", begun.elapsed());
}

#[test]
fn a_new_document_is_drafted_and_never_written_over_another() {
    let page = page(&[("a.yaml", PROCEDURE)]);
    let facts = json!({"from": "facts", "process": "TIG", "metal": "304L", "thickness": "1/8\"", "joint": "butt", "position": "1G", "number": "P-77", "length": "18\""});
    let draft = page.post("/new/draft", &facts).json();
    assert!(draft["refused"].is_null(), "{draft}");
    let text = draft["text"].as_str().unwrap();
    assert!(text.contains("1/8 in") && text.contains("P-77") && text.contains("18 in"), "{text}");
    assert!(draft["origins"].as_array().unwrap().len() > 10);
    // What was typed in inches is shown in inches.
    assert!(draft["sheet"].as_str().unwrap().contains("in/min"), "{}", draft["sheet"]);
    // Hints are words for this page, not commands of a terminal.
    assert!(!draft["findings"].to_string().contains("explain "), "{}", draft["findings"]);
    let wrong = page.post("/new/draft", &json!({"from": "facts", "process": "TIG", "metal": "unobtainium", "thickness": "3 mm", "joint": "butt", "position": "PA"})).json();
    assert!(wrong["refused"].as_str().unwrap().contains("unobtainium"));
    assert_eq!(page.post("/new/keep", &json!({"name": "b", "text": text})).status, 200);
    assert_eq!(page.post("/new/keep", &json!({"name": "b", "text": "other"})).status, 422);
    assert_eq!(std::fs::read_to_string(page.folder.join("b.yaml")).unwrap(), text);
}

#[test]
fn a_job_is_planned_joint_by_joint() {
    let page = page(&[
        ("a.yaml", &starter("tee-fillet-10-s355-111.yaml")),
        ("b.yaml", &starter("lap-fillet-2-carbon-141.yaml")),
    ]);
    let text = "mark;material;thickness;type;position;length;pieces\nJ1;S355J2;10 mm;T;PB;2.4 m;4\nJ2;unobtainium;3 mm;butt;PA;1 m;1\nJ3;S235JR;2 mm;lap;PB;18\";2\n";
    let plan = page.post("/job/plan", &json!({"text": text, "number": "J-7"})).json();
    let lines = plan["lines"].as_array().unwrap();
    assert_eq!(lines.len(), 3, "{plan:#}");
    assert!(lines[1]["against"][0][1].as_str().unwrap().contains("unobtainium"), "{plan:#}");
    assert_eq!(lines[2]["procedure"][1], "P-001", "{plan:#}");
    assert!(lines[2]["hours"].as_str().unwrap().ends_with(" h"), "{plan:#}");
    assert!(plan["total"].as_str().unwrap().contains("1 joint is not reckoned"), "{plan:#}");
    let text = "joint;metal;thickness;type;position;length;pieces;leg\nJ1;S355J2;10 mm;T;PB;2.4 m;4;6 mm\n";
    let legs = page.post("/job/plan", &json!({"text": text, "number": "J-8"})).json();
    assert_eq!(legs["lines"][0]["asked"], "S355J2, 10 mm, tee, PB, leg 6 mm, 2.4 m, 4 ×", "{legs:#}");
    assert_eq!(page.post("/job/plan", &json!({"text": " "})).status, 422);
    let refused = page.post("/job/plan", &json!({"text": "A;S235JR;2 mm;lap;PB;eighteen;1"}));
    assert!(refused.status == 422 && refused.body.contains("length"), "{refused:?}");
    // Kept, it is a document that the page edits: its joints are a table with time and price.
    let kept = page.post("/new/keep", &json!({"name": "j-7", "text": plan["text"]})).json();
    let id = kept["id"].as_str().unwrap();
    let state = page.state(id);
    assert_eq!(state["kind"], "job");
    assert!(state["live"]["figures"][2]["hours"].as_str().unwrap().ends_with(" h"), "{state:#}");
    assert!(state["form"].as_str().unwrap().contains("data-table=\"/joints\""));
    let found = state["live"]["findings"].to_string();
    assert!(found.contains("joint J2: names no procedure"), "{found}");
    // A procedure that is not there is told at its field, with one that covers the joint to take.
    let edited = page.edit(id, &json!([{"op": "type", "at": "/joints/2/procedure", "text": "P-0O1"}]));
    let own = edited["live"]["findings"].as_array().unwrap();
    let own = own.iter().find(|own| own["pointer"] == "/joints/2/procedure").unwrap();
    assert!(own["message"].as_str().unwrap().contains("there is no procedure P-0O1"), "{own}");
    assert_eq!(own["fix"]["value"], "P-001");
    for (kind, words) in [("office", "Hours"), ("traveller", "Welded, sign and date"), ("cover", "Inside")] {
        let frame = page.get(&format!("/d/{id}/frame?kind={kind}"));
        assert!(frame.body.contains(words), "{kind}");
    }
    let binder = page.get(&format!("/d/{id}/pdf?kind=binder"));
    assert!(binder.status == 200 && binder.body.starts_with("%PDF-"), "{}", binder.status);
    assert!(page.get(&format!("/d/{id}/frame?kind=quotation")).body.contains("name a shop"));
}

#[test]
fn a_job_keeps_to_the_folder_and_to_the_revision_that_holds() {
    let procedure = starter("lap-fillet-2-carbon-141.yaml");
    let old = procedure.replace("revision: 1", "revision: 0").replace("status: issued", "status: superseded");
    let job = |procedures: &str| {
        format!(
            "format: 1\ndocument: job\nidentification: {{number: J-1, revision: 1, title: Week}}\nprocedures: [{procedures}]\njoints:\n  - {{joint: A, procedure: P-001, length: 1 m}}\n"
        )
    };
    let page = page(&[
        ("a-rev-0.yaml", &old),
        ("b.yaml", &procedure),
        ("c.yaml", &procedure.replace("2 mm", "3 mm")),
        ("here.yaml", &job("b.yaml")),
        ("twice.yaml", &job(".")),
        ("out.yaml", &job("../elsewhere")),
    ]);
    let live = |name: &str| page.state(&page.id(name))["live"].clone();
    let here = live("here.yaml");
    assert!(
        here["trouble"].as_array().unwrap().is_empty() && here["findings"].as_array().unwrap().is_empty(),
        "{here}"
    );
    let twice = live("twice.yaml");
    assert!(twice["trouble"][0].as_str().unwrap().contains("both have the number P-001"), "{twice}");
    assert!(twice["findings"][0]["message"].as_str().unwrap().contains("only one can be meant"), "{twice}");
    let out = live("out.yaml");
    assert!(out["trouble"][0].as_str().unwrap().contains("lies outside this folder"), "{out}");
    assert!(out["findings"][0]["message"].as_str().unwrap().contains("there is no procedure"), "{out}");
}

#[test]
fn a_change_under_an_issued_number_is_told_and_not_printed() {
    let issued = starter("lap-fillet-2-carbon-141.yaml");
    let kept = issued.replace("status: issued", "status: superseded");
    let page = page(&[("tray.yaml", &issued), ("superseded/tray.rev-1.yaml", &kept)]);
    let id = page.id("tray.yaml");
    let told = |state: &serde_json::Value| {
        let all = state["live"]["findings"].as_array().unwrap().clone();
        all.into_iter().filter(|own| own["check"] == "issued-content-changed").collect::<Vec<_>>()
    };
    assert!(told(&page.state(&id)).is_empty());
    assert_eq!(page.get(&format!("/d/{id}/pdf?kind=bench-card")).status, 200);
    let edited = page.edit(&id, &json!([{"op": "type", "at": "/weld_size/leg", "text": "2.5 mm"}]));
    let found = told(&edited);
    assert_eq!(found.len(), 1, "{}", edited["live"]["findings"]);
    let words = found[0]["message"].as_str().unwrap();
    assert!(found[0]["severity"] == "error" && words.contains("tray.rev-1.yaml shows revision 1 of P-001"), "{words}");
    assert_eq!(edited["live"]["worst"], "error");
    assert!(edited["live"]["verdict"].as_str().unwrap().contains("1 error"), "{}", edited["live"]["verdict"]);
    let row = page.get("/rows").json();
    let row = row.as_array().unwrap().iter().find(|own| own["file"] == "tray.yaml").unwrap().clone();
    assert!(row["worst"] == "error" && row["finding"].as_str().unwrap().contains("as it was issued"), "{row}");
    // Nothing leaves the page under the number; what might be, and what was found, does.
    for path in [
        format!("/d/{id}/pdf?kind=bench-card"),
        format!("/d/{id}/pdf?kind=procedure"),
        format!("/print/binder?kind=bench-card&id={id}"),
    ] {
        let answer = page.get(&path);
        assert!(
            answer.status == 422 && answer.body.contains("no sheet is printed under its number"),
            "{path}: {answer:?}"
        );
    }
    for kind in ["review", "estimate&length=2.4%20m"] {
        assert_eq!(page.get(&format!("/d/{id}/pdf?kind={kind}")).status, 200, "{kind}");
    }
    // Another revision is another number.
    let raised = page.edit(&id, &json!([{"op": "type", "at": "/identification/revision", "text": "2"}]));
    assert!(told(&raised).is_empty(), "{}", raised["live"]["findings"]);
}
