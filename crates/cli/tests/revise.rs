//! `issue` and `revise`, and what they forbid: a changed revision under its old number.

mod common;

use std::fs;
use std::path::Path;

use common::run;

fn copy(folder: &Path) -> String {
    let path = folder.join("tray.yaml");
    let text = fs::read_to_string(common::root().join("procedures/lap-fillet-2-carbon-141.yaml")).unwrap();
    fs::write(&path, text.replace("status: issued", "status: draft")).unwrap();
    path.display().to_string()
}

fn sheets(file: &str, out: &Path) -> (i32, String, String) {
    run(&["render", file, "--sheet", "bench-card", "--to", "pdf", "--out", &out.display().to_string()])
}

#[test]
fn an_issued_revision_is_sealed_until_it_is_raised() {
    let folder = tempfile::tempdir().unwrap();
    let file = copy(folder.path());
    let out = folder.path().join("sheets");
    let (code, said, wrong) = run(&["issue", &file, "--by", "A. Lindqvist"]);
    assert_eq!(code, 0, "{said}{wrong}");
    let issued = fs::read_to_string(&file).unwrap();
    assert!(issued.contains("seal: ") && issued.contains("status: issued"), "{issued}");
    assert_eq!(run(&["check", &file]).0, 0);
    assert_eq!(sheets(&file, &out).0, 0);
    let card = out.join("tray.bench-card.pdf");
    let printed = fs::read(&card).unwrap();
    // The same revision is not issued twice.
    assert_eq!(run(&["issue", &file, "--by", "B"]).0, 2);
    // A changed value cannot pass, nor be printed under the number.
    let changed = issued.replacen("leg: 2 mm", "leg: 2.5 mm", 1);
    assert_ne!(changed, issued);
    fs::write(&file, &changed).unwrap();
    let (code, said, wrong) = run(&["check", &file]);
    assert!(code == 1 && format!("{said}{wrong}").contains("issued-content-changed"), "{code} {said}{wrong}");
    let (code, said, wrong) = sheets(&file, &out);
    assert!(
        code != 0 && format!("{said}{wrong}").contains("no sheet is printed under its number"),
        "{code} {said}{wrong}"
    );
    assert_eq!(fs::read(&card).unwrap(), printed);
    // Taking the seal out does not help: the sheet that stands was issued.
    let unsealed: String =
        changed.lines().filter(|line| !line.contains("seal: ")).map(|line| format!("{line}\n")).collect();
    fs::write(&file, &unsealed).unwrap();
    assert_ne!(sheets(&file, &out).0, 0);
    assert_eq!(fs::read(&card).unwrap(), printed);
}

#[test]
fn a_revision_is_raised_with_its_history_and_the_old_one_kept() {
    let folder = tempfile::tempdir().unwrap();
    let file = copy(folder.path());
    let out = folder.path().join("sheets");
    run(&["issue", &file, "--by", "A. Lindqvist"]);
    assert_eq!(sheets(&file, &out).0, 0);
    let issued = fs::read_to_string(&file).unwrap();
    let why = "gap of the trial welded too wide: leg raised";
    let (code, said, wrong) =
        run(&["revise", &file, "--why", why, "--by", "M. Okafor", "--sheets", &out.display().to_string()]);
    assert_eq!(code, 0, "{said}{wrong}");
    let raised = fs::read_to_string(&file).unwrap();
    for words in ["revision: 2", why, "M. Okafor", "not yet approved", "status: draft"] {
        assert!(raised.contains(words), "{words}: {raised}");
    }
    assert!(!raised.contains("seal: "));
    let kept = fs::read_to_string(folder.path().join("superseded/tray.rev-1.yaml")).unwrap();
    assert_eq!(kept, issued.replace("status: issued", "status: superseded"));
    assert!(out.join("superseded/tray.rev-1.bench-card.pdf").exists() && !out.join("tray.bench-card.pdf").exists());
    // What was kept still has its seal.
    let kept = folder.path().join("superseded/tray.rev-1.yaml").display().to_string();
    let (_, said, wrong) = run(&["check", &kept]);
    assert!(!format!("{said}{wrong}").contains("issued-content-changed"), "{said}{wrong}");
    // Now it may be changed, issued and printed.
    fs::write(&file, raised.replacen("leg: 2 mm", "leg: 2.5 mm", 1)).unwrap();
    assert_eq!(run(&["issue", &file, "--by", "A. Lindqvist"]).0, 0);
    assert_eq!(sheets(&file, &out).0, 0);
    // The old card is proved and superseded: by which revision, why, and what changed; the new one holds.
    let old = out.join("superseded/tray.rev-1.bench-card.pdf").display().to_string();
    let (code, said, wrong) = run(&["check", &old, "--procedure", &file]);
    assert_eq!(code, 1, "{said}{wrong}");
    for words in ["sheet is proved", "is superseded", "shows revision 1", "which is revision 2 now", why] {
        assert!(said.contains(words), "{words}: {said}");
    }
    assert!(said.contains("2 mm -> 2.5 mm"), "{said}");
    let (_, said, _) = run(&["check", &old, "--procedure", &file, "--format", "json"]);
    let whole: serde_json::Value = serde_json::from_str(&said).unwrap();
    let current = &whole["files"][0]["received"]["current"];
    assert_eq!(current["state"], "superseded");
    assert_eq!((&current["revision"], &current["revision_now"]), (&"1".into(), &"2".into()));
    assert_eq!(current["changes"].as_array().unwrap().len(), 1, "{current:#}");
    let (_, said, _) = run(&["check", &old, "--procedure", &file, "--format", "sarif"]);
    assert!(said.contains("\"ruleId\": \"superseded\""), "{said}");
    let card = out.join("tray.bench-card.pdf").display().to_string();
    let (code, said, wrong) = run(&["check", &card, "--procedure", &file]);
    assert!(code == 0 && said.contains("which holds by"), "{said}{wrong}");
    // The kept file is the older one; and a card is no card of another procedure.
    let kept = folder.path().join("superseded/tray.rev-1.yaml").display().to_string();
    let (code, said, _) = run(&["check", &card, "--procedure", &kept]);
    assert!(code == 1 && said.contains("the file is the older one") && !said.contains("is superseded"), "{said}");
    let (code, said, _) = run(&["check", &card, "--procedure", "procedures/butt-3-carbon-141.yaml"]);
    assert!(code == 1 && said.contains("the sheet is of"), "{said}");
}

/// Ways around the seal: whichever is taken, the card of the issued revision stays as it was, or the change is told.
#[test]
fn no_way_around_prints_another_content_under_an_issued_number() {
    let folder = tempfile::tempdir().unwrap();
    let file = copy(folder.path());
    let out = folder.path().join("sheets");
    run(&["issue", &file, "--by", "A. Lindqvist"]);
    let first = fs::read_to_string(&file).unwrap();
    run(&["revise", &file, "--why", "leg raised after the trial", "--by", "M. Okafor"]);
    let raised = fs::read_to_string(&file).unwrap().replacen("leg: 2 mm", "leg: 2.5 mm", 1);
    fs::write(&file, raised).unwrap();
    assert_eq!(run(&["issue", &file, "--by", "A. Lindqvist"]).0, 0);
    assert_eq!(sheets(&file, &out).0, 0);
    let card = out.join("tray.bench-card.pdf");
    let printed = fs::read(&card).unwrap();
    let issued = fs::read_to_string(&file).unwrap();
    let edited = issued.replacen("leg: 2.5 mm", "leg: 3 mm", 1);
    let without = |text: &str, start: &str| -> String {
        text.lines().filter(|line| !line.trim_start().starts_with(start)).map(|line| format!("{line}\n")).collect()
    };
    let mut history = serde_yaml::from_str::<serde_json::Value>(&edited).unwrap();
    history.as_object_mut().unwrap().remove("revisions");
    let history = serde_yaml::to_string(&history).unwrap();
    for (way, text) in [
        ("by hand", edited.clone()),
        ("history deleted", history.clone()),
        ("seal deleted", without(&edited, "seal: ")),
        ("history and seal deleted", without(&history, "seal: ")),
        ("as a draft", edited.replace("status: issued", "status: draft")),
        ("as a draft without a seal", without(&edited.replace("status: issued", "status: draft"), "seal: ")),
    ] {
        fs::write(&file, &text).unwrap();
        // Neither over the card nor elsewhere.
        for folder in [&out, &folder.path().join("elsewhere")] {
            let (code, said, wrong) = sheets(&file, folder);
            let said = format!("{said}{wrong}");
            assert!(
                code != 0 && said.contains("no sheet is printed") && said.contains("revise"),
                "{way}: {code} {said}"
            );
        }
        assert_eq!(fs::read(&card).unwrap(), printed, "{way}");
        assert!(!folder.path().join("elsewhere/tray.bench-card.pdf").exists(), "{way}");
        // With its seal the file itself tells; without, the card beside it tells against it.
        let (code, said, _) = run(&["check", &file]);
        assert!(code == 1 && said.contains("issued-content-changed"), "{way}: {code} {said}");
        let sealed = text.contains("seal: ");
        assert!(sealed || said.contains("tray.bench-card.pdf shows revision 2 of P-001"), "{way}: {said}");
        // It cannot be issued under the number once more.
        let (code, _, wrong) = run(&["issue", &file, "--by", "B"]);
        assert!(code == 2 && wrong.contains("seamwright revise"), "{way}: {code} {wrong}");
        assert_eq!(fs::read_to_string(&file).unwrap(), text, "{way}");
        let (code, said, _) = run(&["check", &card.display().to_string(), "--procedure", &file]);
        assert!(code == 1 && said.contains("another content under the same revision"), "{way}: {code} {said}");
    }
    // With the card gone, the kept copy of revision 1 tells against another revision 1; its own text, and a new revision, pass.
    let gone = folder.path().join("gone");
    fs::create_dir(&gone).unwrap();
    fs::rename(&card, gone.join("other.pdf")).unwrap();
    let kept = fs::read_to_string(folder.path().join("superseded/tray.rev-1.yaml")).unwrap();
    fs::write(&file, without(&without(&kept, "seal: "), "status: ").replacen("leg: 2 mm", "leg: 3 mm", 1)).unwrap();
    let (code, said, _) = run(&["check", &file]);
    assert!(code == 1 && said.contains("superseded/tray.rev-1.yaml shows revision 1"), "{code} {said}");
    for text in [&kept, &issued, &first] {
        fs::write(&file, text).unwrap();
        let (_, said, _) = run(&["check", &file]);
        assert!(!said.contains("issued-content-changed"), "{said}");
    }
    // A stale card of revision 1 in the folder: revision 2 may be printed over it, it is another number.
    fs::write(&file, &first).unwrap();
    let other = folder.path().join("other");
    assert_eq!(sheets(&file, &other).0, 0);
    fs::write(&file, &issued).unwrap();
    assert_eq!(sheets(&file, &other).0, 0);
}

#[test]
fn what_cannot_be_revised_is_refused_and_nothing_is_lost() {
    let folder = tempfile::tempdir().unwrap();
    let file = copy(folder.path());
    let before = fs::read(&file).unwrap();
    for args in [
        vec!["revise", &*file, "--why", " "],
        vec!["revise", &*file, "--why", "x", "--revision", "1"],
        vec!["revise", &*file, "--why", "x", "--sheets", "/nowhere/at/all"],
        vec!["revise", "examples/shop/shop.yaml", "--why", "x"],
        vec!["revise", "nothing.yaml", "--why", "x"],
    ] {
        let (code, _, wrong) = run(&args);
        assert!(code == 2 && !wrong.is_empty(), "{args:?}: {wrong}");
        assert_eq!(fs::read(&file).unwrap(), before);
    }
    // A kept revision is never written over.
    fs::create_dir(folder.path().join("superseded")).unwrap();
    fs::write(folder.path().join("superseded/tray.rev-1.yaml"), "mine").unwrap();
    assert_eq!(run(&["revise", &file, "--why", "x"]).0, 2);
    assert_eq!(fs::read(folder.path().join("superseded/tray.rev-1.yaml")).unwrap(), b"mine");
    assert_eq!(fs::read(&file).unwrap(), before);
}

// The file that a person named is written over: with its mode, and through the link that was named.
#[cfg(unix)]
#[test]
fn issuing_and_revising_keep_the_mode_and_the_link() {
    use std::os::unix::fs::{PermissionsExt, symlink};

    let folder = tempfile::tempdir().unwrap();
    let apart = folder.path().join("apart");
    fs::create_dir(&apart).unwrap();
    let own = copy(&apart);
    let mode = |path: &str| fs::metadata(path).unwrap().permissions().mode() & 0o777;
    fs::set_permissions(&own, fs::Permissions::from_mode(0o640)).unwrap();
    let link = folder.path().join("tray.yaml");
    symlink(&own, &link).unwrap();
    let named = link.display().to_string();
    let (code, said, wrong) = run(&["issue", &named, "--by", "A. Lindqvist"]);
    assert_eq!(code, 0, "{said}{wrong}");
    assert!(link.is_symlink() && fs::read_to_string(&own).unwrap().contains("status: issued"));
    assert_eq!(mode(&own), 0o640);
    let (code, said, wrong) = run(&["revise", &named, "--why", "another electrode", "--by", "M. Okafor"]);
    assert_eq!(code, 0, "{said}{wrong}");
    assert!(link.is_symlink() && fs::read_to_string(&own).unwrap().contains("revision: 2"));
    assert_eq!(mode(&own), 0o640);
    // Nothing of the writing is left behind.
    for folder in [folder.path(), &apart] {
        for entry in fs::read_dir(folder).unwrap() {
            let name = entry.unwrap().file_name().into_string().unwrap();
            assert!(!name.starts_with('.'), "{name}");
        }
    }
}

#[test]
fn issuing_names_what_is_still_to_decide_and_settles_what_it_makes_untrue() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("draft.yaml").display().to_string();
    let facts = ["--metal", "S235JR", "--thickness", "3 mm", "--joint", "tee", "--position", "PB", "--process", "141"];
    let mut args = vec!["draft", "--number", "D-1"];
    args.extend(facts);
    let (code, draft, wrong) = run(&args);
    assert!(code == 0 && draft.contains("# until someone signs it"), "{draft}{wrong}");
    fs::write(&file, draft).unwrap();
    for (args, says) in [
        (&["issue", &file, "--by", " "][..], "--by is empty"),
        (&["revise", &file, "--why", "more current", "--by", ""], "--by is empty"),
        (&["revise", &file, "--why", ""], "--why is empty"),
    ] {
        let (code, said, wrong) = run(args);
        assert!(code == 2 && format!("{said}{wrong}").contains(says), "{args:?}: {code} {said}{wrong}");
    }
    let (code, _, said) = run(&["issue", &file, "--by", "A. Weld"]);
    let issued = fs::read_to_string(&file).unwrap();
    let open: Vec<String> = issued
        .lines()
        .enumerate()
        .filter(|(_, line)| line.contains("decide:"))
        .map(|(index, _)| (index + 1).to_string())
        .collect();
    assert!(code == 0 && open.len() > 3, "{code} {said}");
    let says = format!("{} values still say `decide`: lines {}", open.len(), open.join(", "));
    let flat = said.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(flat.contains(&says), "{says}: {said}");
    assert!(!issued.contains("until someone signs it") && !issued.contains("decide: revision and date"), "{issued}");
    assert_eq!(run(&["check", &file]).0, 0);
}

#[test]
fn the_sheet_of_another_issued_procedure_is_not_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let out = folder.path().join("sheets");
    let (one, other) = (folder.path().join("one"), folder.path().join("other"));
    for own in [&one, &other] {
        fs::create_dir(own).unwrap();
    }
    let file = copy(&one);
    assert_eq!(run(&["issue", &file, "--by", "A. Weld"]).0, 0);
    assert_eq!(sheets(&file, &out).0, 0);
    let card = out.join("tray.bench-card.pdf");
    let printed = fs::read(&card).unwrap();
    let another = copy(&other);
    let text = fs::read_to_string(&another).unwrap().replace("number: P-001", "number: P-901");
    fs::write(&another, text).unwrap();
    let (code, said, wrong) = sheets(&another, &out);
    let flat = format!("{said}{wrong}").split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(code == 2 && flat.contains("revision 1 of P-001 as it was issued"), "{code} {flat}");
    assert_eq!(fs::read(&card).unwrap(), printed);
    // A draft's sheet may be, and the procedure's own is.
    assert_eq!(sheets(&another, &folder.path().join("drafts")).0, 0);
    fs::write(&another, fs::read_to_string(&another).unwrap().replace("number: P-901", "number: P-902")).unwrap();
    assert_eq!(sheets(&another, &folder.path().join("drafts")).0, 0);
}
