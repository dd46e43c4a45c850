//! `draft` as its users meet it: the page goes straight into `check`, and what cannot be drafted is refused with the reason.

mod common;

use std::path::Path;

use common::{piped, root};

fn facts<'a>(process: &'a str, metal: &'a str, thickness: &'a str, joint: &'a str, position: &'a str) -> Vec<&'a str> {
    let names = ["--process", "--metal", "--thickness", "--joint", "--position"];
    let values = [process, metal, thickness, joint, position];
    std::iter::once("draft").chain(names.into_iter().zip(values).flat_map(|(name, value)| [name, value])).collect()
}

fn refused(args: &[&str], words: &[&str]) {
    let output = piped(args, b"");
    let message = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2), "{args:?}: {message}");
    assert!(output.stdout.is_empty(), "{args:?} writes no half a page");
    for word in words {
        assert!(message.contains(word), "{args:?}: {message} does not say `{word}`");
    }
}

#[test]
fn a_draft_of_each_process_passes_the_checks_and_each_value_says_where_it_comes_from() {
    for (process, metal, thickness, joint, position) in [
        ("141", "304L", "3mm", "butt", "PA"),
        ("TIG", "6061-T6", "1/8in", "tee", "PB"),
        ("111", "S355J2", "10 mm", "butt", "PF"),
        ("135", "S235JR", "4 mm", "tee", "PB"),
        ("131", "5083", "6 mm", "butt", "PA"),
        ("136", "S355J2", "12 mm", "tee", "3F"),
        ("114", "S355J2", "8 mm", "tee", "PB"),
    ] {
        let args = facts(process, metal, thickness, joint, position);
        let page = piped(&args, b"");
        assert!(page.status.success(), "{args:?}: {}", String::from_utf8_lossy(&page.stderr));
        let text = String::from_utf8(page.stdout.clone()).unwrap();
        for key in ["designation:", "current:", "voltage:", "travel_speed:", "preheating:", "interpass:"] {
            let line = text.lines().find(|line| line.contains(key)).unwrap_or_else(|| panic!("{args:?}: no {key}"));
            let comment = line.split_once(" # ").unwrap_or_else(|| panic!("{line} has no comment")).1;
            let basis = ["published", "from-memory", "common-practice", "web-page", "decide"];
            assert!(basis.iter().any(|word| comment.contains(word)), "{line}");
        }
        let checked = piped(&["check", "--deny", "cautions", "-"], &page.stdout);
        assert!(checked.status.success(), "{args:?}: {}", String::from_utf8_lossy(&checked.stdout));
        assert_eq!(piped(&args, b"").stdout, page.stdout, "the same facts give the same page");
    }
}

#[test]
fn what_cannot_be_drafted_is_refused_with_the_reason() {
    refused(&facts("111", "Grade 2", "3 mm", "butt", "PA"), &["does not suit", "141"]);
    refused(&facts("135", "5083", "6 mm", "butt", "PA"), &["does not suit", "131"]);
    refused(&facts("141", "S3555", "3 mm", "butt", "PA"), &["not known", "S355"]);
    refused(&facts("141", "304L", "3", "butt", "PA"), &["thickness", "mm"]);
    refused(&facts("141", "304L", "-3 mm", "butt", "PA"), &["thickness"]);
    refused(&facts("141", "304L", "2-3 mm", "butt", "PA"), &["one value"]);
    refused(&facts("141", "304L", "60 mm", "butt", "PA"), &["60 mm", "0.8-16 mm"]);
    refused(&facts("111", "S235JR", "1 mm", "butt", "PA"), &["1 mm", "use 141"]);
    refused(&facts("141", "304L", "3 mm", "butt", "PB"), &["PB", "fillet"]);
    let pipe = |diameter| {
        [facts("GTAW", "A106-B", "6 in sch 40", "butt", "6G").as_slice(), &["--diameter", diameter]].concat()
    };
    refused(&pipe("60.3 mm"), &["6 in sch 40", "6.625 in", "60.3 mm"]);
    page(&pipe("168.3 mm"), &[]);
    refused(&facts("141", "304L", "3 mm", "butt", "PH"), &["PH", "diameter"]);
    refused(&facts("141", "304L", "3 mm", "but", "PA"), &["joint", "butt"]);
    refused(&facts("141", "304L", "3 mm", "edge", "PA"), &["edge"]);
    refused(&facts("125", "S355J2", "10 mm", "butt", "PA"), &["125", "141"]);
    refused(&facts("121", "S355J2", "20 mm", "butt", "PF"), &["PF"]);
    let mut pipe = facts("141", "304L", "10 mm", "butt", "PH");
    pipe.extend(["--diameter", "15 mm"]);
    refused(&pipe, &["15 mm", "10 mm"]);
    refused(&["draft", "--process", "141"], &["--metal", "--thickness", "--joint", "--position", "--interactive"]);
    refused(&["draft"], &["five facts", "--process", "16 ga", "for example"]);
    let mut held = facts("111", "A36", "1/2 in", "tee", "2F");
    held.extend(["--backing", "strip"]);
    refused(&held, &["fillet", "no backing"]);
}

#[test]
fn questions_are_asked_in_the_terminal() {
    let page = piped(&["draft", "--interactive", "--metal", "304L"], b"141\n2 mm\nbutt\nnone\nPF\n");
    let text = String::from_utf8(page.stdout).unwrap();
    assert!(page.status.success() && text.contains("positions: [PF]"), "{text}");
    assert!(String::from_utf8_lossy(&page.stderr).contains("thickness [3 mm]"));
    assert_eq!(piped(&["draft", "--interactive"], b"141\n").status.code(), Some(2));
}

/// A file of an invented shop with the power sources that are given as a list of YAML.
fn shop(folder: &Path, machines: &str) -> String {
    let head = "format: 1\ndocument: shop\nidentification: {number: S-9, revision: 1, title: Trial shop}\n";
    let path = folder.join("shop.yaml");
    std::fs::write(
        &path,
        format!("{head}power_sources: {machines}\ntorches: [{{name: valve torch, size: 17, valve: yes}}]\n"),
    )
    .unwrap();
    path.to_str().unwrap().to_owned()
}

#[test]
fn a_draft_takes_what_the_shop_has_and_says_what_is_missing() {
    let example = "examples/shop/shop.yaml";
    for (process, metal, thickness, joint, position, words) in [
        ("141", "304L", "2 mm", "butt", "PA", ["ER308L 1.6 mm", "WLa15", "nozzle No.", "AC/DC machine"]),
        ("141", "6061-T6", "3 mm", "tee", "PB", ["ER5356 2.4 mm", "WLa15", "gas I1", "AC/DC machine"]),
        ("111", "S355J2", "8 mm", "butt", "PF", ["E7018 2.5 mm", "E7018 3.2 mm", "Machine for 111", "duty cycle"]),
    ] {
        let mut args = facts(process, metal, thickness, joint, position);
        args.extend(["--shop", example]);
        let page = piped(&args, b"");
        let text = String::from_utf8(page.stdout.clone()).unwrap();
        assert!(page.status.success(), "{args:?}: {}", String::from_utf8_lossy(&page.stderr));
        let head = text.split("format: 1").next().unwrap();
        for word in words {
            assert!(head.contains(word), "{args:?}: `{word}` is not said in\n{head}");
        }
        // What the page does not call missing, the checks against the shop do not call missing either.
        let checked = piped(&["check", "--format", "json", "--shop", example, "-"], &page.stdout);
        let report: serde_json::Value = serde_json::from_slice(&checked.stdout).unwrap();
        let findings = report["files"][0]["findings"].as_array().unwrap();
        let fit = |finding: &&serde_json::Value| finding["check"].as_str().unwrap().contains("stock");
        assert!(findings.iter().all(|finding| finding["severity"] != "error"), "{findings:#?}");
        assert_eq!(findings.iter().filter(fit).count(), head.matches("Missing: ").count(), "{head}\n{findings:#?}");
    }
    // Nothing of titanium stands on the shelf.
    let mut args = facts("141", "Grade 2", "2 mm", "butt", "PA");
    args.extend(["--shop", example]);
    let text = String::from_utf8(piped(&args, b"").stdout).unwrap();
    assert!(text.contains("# Missing: ") && text.contains("filler-not-in-stock"), "{text}");
}

#[test]
fn a_plain_machine_and_a_valve_torch_are_an_outfit_for_steel() {
    let folder = tempfile::tempdir().unwrap();
    let plain = "[{name: plain machine, processes: [111, 141], current: 10-160 A, polarity: [DCEN, DCEP], arc_start: [scratch], gas_solenoid: no}]";
    let path = shop(folder.path(), plain);
    let mut args = facts("141", "S235JR", "2 mm", "lap", "PB");
    args.extend(["--shop", &path]);
    let page = piped(&args, b"");
    let text = String::from_utf8(page.stdout).unwrap();
    assert!(page.status.success(), "{}", String::from_utf8_lossy(&page.stderr));
    for word in ["Gas by hand: open the valve of the valve torch", "arc_start: scratch", "size: 17"] {
        assert!(text.contains(word), "`{word}` is not said in\n{text}");
    }
}

#[test]
fn a_shop_that_cannot_weld_it_is_refused_with_what_is_lacking() {
    let folder = tempfile::tempdir().unwrap();
    let small =
        "[{name: small machine, processes: [111, 141], current: 10-60 A, polarity: [DCEN, DCEP], arc_start: [lift]}]";
    let path = shop(folder.path(), small);
    let with = |mut args: Vec<&'static str>, words: &[&str]| {
        let path: &'static str = Box::leak(path.clone().into_boxed_str());
        args.extend(["--shop", path]);
        refused(&args, words);
    };
    with(facts("141", "6061-T6", "2 mm", "tee", "PB"), &["small machine gives DCEN, DCEP", "AC"]);
    with(facts("111", "S235JR", "8 mm", "tee", "PB"), &["small machine gives 10-60 A", "8 mm"]);
    with(
        facts("135", "S235JR", "3 mm", "tee", "PB"),
        &["no machine of the shop welds 135", "small machine welds 111, 141"],
    );
    // Other processes are offered where the same shop can weld by them.
    let example = |mut args: Vec<&'static str>, words: &[&str]| {
        args.extend(["--shop", "examples/shop/shop.yaml"]);
        refused(&args, words);
    };
    example(facts("135", "S235JR", "3 mm", "tee", "PB"), &["no machine", "use 141 or 111 instead"]);
    example(facts("111", "6061-T6", "5 mm", "tee", "PB"), &["does not suit", "use 141 instead"]);
    let mut none = facts("141", "304L", "2 mm", "butt", "PA");
    none.extend(["--shop", "examples/shop/absent.yaml"]);
    refused(&none, &["absent.yaml"]);
    none[11 + 1] = "procedures/butt-2-304l-141.yaml";
    refused(&none, &["a shop is meant"]);
}

/// Every process that a refusal offers gives a draft for the same facts.
#[test]
fn what_is_offered_instead_can_be_drafted() {
    let mut offered = 0;
    for (process, metal, thickness, joint, position) in [
        ("111", "Grade 2", "3 mm", "butt", "PA"),
        ("111", "5083", "20 mm", "butt", "PA"),
        ("135", "5083", "1.5 mm", "butt", "PA"),
        ("141", "304L", "20 mm", "tee", "PB"),
        ("111", "S235JR", "1 mm", "butt", "PA"),
        ("136", "S235JR", "2 mm", "butt", "PE"),
        ("114", "304L", "2 mm", "butt", "PF"),
        ("131", "S355J2", "4 mm", "tee", "PD"),
    ] {
        let args = facts(process, metal, thickness, joint, position);
        let output = piped(&args, b"");
        let message = String::from_utf8(output.stderr).unwrap();
        assert_eq!(output.status.code(), Some(2), "{args:?}: {message}");
        let Some((_, instead)) = message.trim().rsplit_once("use ") else { continue };
        for other in instead.trim_end_matches(" instead").split(" or ") {
            let page = piped(&facts(other, metal, thickness, joint, position), b"");
            assert!(page.status.success(), "{args:?} offers {other}: {}", String::from_utf8_lossy(&page.stderr));
            offered += 1;
        }
    }
    assert!(offered >= 6, "{offered}");
}

#[test]
fn two_metals_get_the_filler_of_their_pair() {
    let mut args = facts("141", "S235JR", "3 mm", "butt", "PA");
    args.extend(["--metal", "304L"]);
    let page = piped(&args, b"");
    let text = String::from_utf8(page.stdout.clone()).unwrap();
    assert!(page.status.success(), "{}", String::from_utf8_lossy(&page.stderr));
    for word in ["designation: ER309L", "- specification: S235JR", "- specification: 304L", "304L to S235JR"] {
        assert!(text.contains(word), "`{word}` is not in\n{text}");
    }
    assert!(piped(&["check", "--deny", "cautions", "-"], &page.stdout).status.success());
    let mut apart = facts("141", "S235JR", "3 mm", "butt", "PA");
    apart.extend(["--metal", "5083"]);
    refused(&apart, &["no filler", "S235JR", "5083"]);
    apart.extend(["--metal", "304L"]);
    refused(&apart, &["3 times"]);
}

/// The page for facts with more options.
fn page(facts: &[&str], more: &[&str]) -> String {
    let output = piped(&[facts, more].concat(), b"");
    assert!(output.status.success(), "{facts:?} {more:?}: {}", String::from_utf8_lossy(&output.stderr));
    let checked = piped(&["check", "--deny", "cautions", "-"], &output.stdout);
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(checked.status.success(), "{facts:?}: {}\n{text}", String::from_utf8_lossy(&checked.stdout));
    text
}

#[test]
fn american_work_is_read_and_written_in_inches() {
    for (facts, words) in [
        (
            facts("GMAW", "mild steel", "16 ga", "butt", "1G"),
            ["0.0598 in", "`mild steel` is taken as A36", "in/min", "ft3/h"],
        ),
        (
            facts("SMAW", "A36", "1/4 in", "t joint", "2F"),
            ["leg: 3/16 in", "diameter: 1/8 in", "process: SMAW", "50 °F minimum"],
        ),
        (facts("GTAW", "A106-B", "6 in sch 40", "butt", "6G"), ["6.625 in", "0.28 in", "6 in sch 40", "3/32 in"]),
    ] {
        let text = page(&facts, &[]);
        for word in words {
            assert!(text.contains(word), "{facts:?}: `{word}` is not in\n{text}");
        }
        let body = text.split("# Tables").next().unwrap();
        assert!(!body.contains(" mm") && !body.contains("°C"), "{facts:?}: metric in\n{body}");
    }
}

#[test]
fn a_prequalified_joint_of_the_code_is_named() {
    let text = page(&facts("SMAW", "A36", "3/8 in", "butt", "3G"), &["--code", "aws-d1.1"]);
    for word in ["B-U2a", "route: prequalified", "type: strip", "included_angle: 45 deg", "code: aws-d1.1"] {
        assert!(text.contains(word), "`{word}` is not in\n{text}");
    }
}

// A draft made to a detail has its figures, in the unit of the work, and passes the checks of the code.
#[test]
fn a_butt_is_drafted_to_a_detail() {
    for (facts, detail, words) in [
        (
            facts("FCAW", "A36", "3/4 in", "butt", "1G"),
            "B-U2a-GF",
            ["detail: B-U2a-GF", "root_gap: 3/16 in", "included_angle: 30 deg", "code: aws-d1.1"],
        ),
        (
            facts("SMAW", "A36", "3/8 in", "butt", "2G"),
            "B-U2a",
            ["detail: B-U2a", "root_gap: 1/4 in", "included_angle: 45 deg", "type: strip"],
        ),
    ] {
        let text = page(&facts, &["--detail", detail]);
        for word in words {
            assert!(text.contains(word), "{detail}: `{word}` is not in\n{text}");
        }
    }
    let with = |facts: Vec<&'static str>, more: &[&'static str]| [facts, more.to_vec()].concat();
    let butt = || facts("SMAW", "A36", "3/8 in", "butt", "2G");
    refused(&with(butt(), &["--detail", "B-U2x"]), &["B-U2x"]);
    refused(&with(butt(), &["--detail", "B-L1a"]), &["thickness"]);
    refused(&with(butt(), &["--detail", "B-U2a-GF"]), &["processes"]);
    refused(&with(butt(), &["--detail", "B-U2a", "--code", "asme-ix"]), &["another code"]);
    refused(&with(facts("SMAW", "A36", "3/8 in", "tee", "2F"), &["--detail", "B-U2a"]), &["butt"]);
}

// A test record of a procedure is a record that can be read, with the tests of its code and the former of its steel.
#[test]
fn a_test_record_is_drafted_with_coupon_and_former() {
    for (code, words) in [
        ("aws-d1.1", ["# Coupon, ", "former 1-1/2 in", "method: tensile, count: 2", "method: bend, count: 4"]),
        ("asme-ix", ["no least size", "former 1-1/2 in", "method: tensile, count: 2", "method: bend, count: 4"]),
        ("iso-15614-1", ["350 mm long", "former 40 mm", "method: tensile, count: 2", "method: bend, count: 4"]),
    ] {
        let file = root().join("procedures/butt-3-8-in-a36-111-3g.yaml");
        let mut text = std::fs::read_to_string(&file).unwrap();
        if code != "aws-d1.1" {
            text = text.replace("code: aws-d1.1, edition: 2020", &format!("code: {code}"));
            text = text.replace("route: prequalified", "route: none");
        }
        let folder = std::env::temp_dir().join(format!("seamwright-record-{code}-{}", std::process::id()));
        std::fs::create_dir_all(&folder).unwrap();
        let own = folder.join("own.yaml");
        std::fs::write(&own, text).unwrap();
        let output = piped(&["draft", "--record", own.to_str().unwrap()], b"");
        std::fs::remove_dir_all(&folder).unwrap();
        let page = String::from_utf8(output.stdout).unwrap();
        assert!(output.status.success(), "{code}: {}", String::from_utf8_lossy(&output.stderr));
        for word in words {
            assert!(page.contains(word), "{code}: `{word}` is not in\n{page}");
        }
        let document = seamwright_model::load("record.yaml", page.as_bytes());
        assert!(document.is_ok(), "{code}: {:?}\n{page}", document.err().map(|(_, faults)| faults));
    }
}

#[test]
fn two_processes_weld_root_and_rest() {
    let mut pipe = facts("141,111", "P235GH", "8 mm", "butt", "PH");
    pipe.extend(["--diameter", "168.3 mm"]);
    let text = page(&pipe, &[]);
    for word in ["root-rod:", "fill-electrode:", "  141:", "  111:", "141 root with 111"] {
        assert!(text.contains(word), "`{word}` is not in\n{text}");
    }
    let first = text.split("runs:").nth(1).unwrap();
    assert!(first.find("process: 141") < first.find("process: 111"), "{text}");
    let text = page(&facts("141,136", "S355J2", "12 mm", "butt", "PF"), &[]);
    assert!(text.contains("root-rod:") && text.contains("fill-wire:"), "{text}");
    refused(&facts("141,111", "S355J2", "8 mm", "tee", "PB"), &["two processes weld a butt"]);
    refused(&facts("141,111,136", "S355J2", "8 mm", "butt", "PA"), &["3 processes"]);
}

#[test]
fn what_is_chosen_goes_before_the_tables() {
    let text = page(&facts("111", "S355J2", "10 mm", "tee", "PB"), &["--leg", "5 mm", "--filler", "E7016"]);
    assert!(text.contains("leg: 5 mm") && text.contains("designation: E7016"), "{text}");
    let text = page(&facts("136", "S355J2", "12 mm", "butt", "PA"), &["--backing", "strip"]);
    assert!(text.contains("type: strip") && text.contains("included_angle: 30 deg"), "{text}");
    let text = page(&facts("111", "S355J2", "16 mm", "butt", "PA"), &["--backing", "gouge"]);
    assert!(text.contains("welded_from: both sides"), "{text}");
    let mut odd = facts("111", "S355J2", "10 mm", "tee", "PB");
    odd.extend(["--filler", "ER4043"]);
    refused(&odd, &["ER4043"]);
}

#[test]
fn a_lesson_and_a_shop_are_drafted() {
    let root = common::root();
    let procedure = root.join("procedures/lap-fillet-2-carbon-141.yaml");
    let folder = tempfile::tempdir().unwrap();
    let output = piped(&["draft", "--lesson", procedure.to_str().unwrap(), "--learners", "10", "--booths", "5"], b"");
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(output.status.success() && text.contains("learners: 10"), "{text}");
    let file = folder.path().join("lesson.yaml");
    std::fs::write(&file, &text).unwrap();
    let checked = piped(&["check", file.to_str().unwrap()], b"");
    assert!(checked.status.success(), "{}\n{text}", String::from_utf8_lossy(&checked.stdout));
    let output = piped(&["draft", "--shop-file"], b"Our shop\n");
    let text = String::from_utf8(output.stdout).unwrap();
    assert!(output.status.success() && text.contains("Our shop"), "{text}");
    let checked = piped(&["check", "-"], text.as_bytes());
    assert!(checked.status.success(), "{}\n{text}", String::from_utf8_lossy(&checked.stdout));
}

#[test]
fn the_file_is_asked_for_and_nothing_is_lost() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("own.yaml");
    let name = file.to_str().unwrap();
    let answers = format!("141\n304L\nnone\n2 mm\nbutt\nnone\nPA\n{name}\n");
    let output = piped(&["draft", "--interactive"], answers.as_bytes());
    assert!(output.status.success() && output.stdout.is_empty(), "{}", String::from_utf8_lossy(&output.stderr));
    assert!(std::fs::read_to_string(&file).unwrap().contains("positions: [PA]"));
    // A file that is there is not overwritten unasked.
    let again = piped(&["draft", "--interactive"], answers.as_bytes());
    assert!(String::from_utf8_lossy(&again.stderr).contains("is there already"));
    assert!(String::from_utf8_lossy(&again.stdout).contains("positions: [PA]"));
}

#[cfg(unix)]
#[test]
fn a_file_that_is_replaced_keeps_its_mode_and_its_link() {
    use std::os::unix::fs::{PermissionsExt, symlink};

    let folder = tempfile::tempdir().unwrap();
    let (own, link) = (folder.path().join("kept.yaml"), folder.path().join("link.yaml"));
    std::fs::write(&own, "old").unwrap();
    std::fs::set_permissions(&own, std::fs::Permissions::from_mode(0o640)).unwrap();
    symlink(&own, &link).unwrap();
    // The same name again says that it is to be replaced.
    let name = link.to_str().unwrap();
    let answers = format!("141\n304L\nnone\n2 mm\nbutt\nnone\nPA\n{name}\n{name}\n");
    let output = piped(&["draft", "--interactive"], answers.as_bytes());
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    assert!(link.is_symlink());
    assert!(std::fs::read_to_string(&own).unwrap().contains("positions: [PA]"));
    assert_eq!(std::fs::metadata(&own).unwrap().permissions().mode() & 0o777, 0o640);
    let left: Vec<_> = std::fs::read_dir(folder.path()).unwrap().map(|entry| entry.unwrap().file_name()).collect();
    assert_eq!(left.len(), 2, "{left:?}");
}
