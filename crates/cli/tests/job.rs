//! `job` as a shop meets it: its week of eight joints from facts to binder, and jobs that name what is not there.

mod common;

use std::fs;
use std::path::Path;
use std::process::Command;

use common::{ended, root, run};

/// The commands of a page of the examples.
fn commands(page: &str) -> Vec<String> {
    let text = fs::read_to_string(root().join(page)).unwrap();
    text.lines().filter(|line| line.starts_with("seamwright ")).map(str::to_owned).collect()
}

#[test]
fn a_week_of_eight_joints_goes_from_facts_to_binder_in_ten_commands_or_fewer() {
    let folder = tempfile::tempdir().unwrap();
    for name in ["examples", "procedures"] {
        std::os::unix::fs::symlink(root().join(name), folder.path().join(name)).unwrap();
    }
    let binary = Path::new(env!("CARGO_BIN_EXE_seamwright"));
    let all = commands("examples/week/README.md");
    assert!(all.len() <= 10 && all.len() >= 5, "{all:?}");
    let mut said = String::new();
    for line in &all {
        let line = line.replacen("seamwright", &binary.display().to_string(), 1);
        let output = Command::new("sh").args(["-c", &line]).current_dir(folder.path()).output().unwrap();
        let (code, out, wrong) = ended(&output);
        assert!(code <= 1, "{line}: {code} {wrong}");
        said = out;
    }
    for paper in ["papers/joints.quotation.pdf", "papers/joints.office.pdf", "papers/joints.binder.pdf", "week.yaml"] {
        assert!(folder.path().join(paper).is_file(), "{paper}: {said}");
    }
    assert!(said.contains("price of all: ") && said.contains("USD"), "{said}");
    assert!(
        !said.contains("there is no procedure") && !said.contains("no machine") && !said.contains("no welder"),
        "{said}"
    );
    // The job that was written is the same job.
    let mut command = Command::new(binary);
    let output = command.args(["job", "week.yaml"]).current_dir(folder.path()).output().unwrap();
    let (_, again, wrong) = ended(&output);
    let price = |text: &str| text.lines().find(|line| line.starts_with("price of all")).map(str::to_owned);
    assert!(price(&again).is_some() && price(&again) == price(&said), "{again}{wrong}");
}

#[test]
fn what_is_not_there_is_named() {
    let folder = tempfile::tempdir().unwrap();
    let list = |text: &str| {
        let path = folder.path().join("list.csv");
        fs::write(&path, text).unwrap();
        run(&["job", &path.display().to_string(), "--procedures", "procedures", "--shop", "examples/week/shop.yaml"])
    };
    for (text, says, status) in [
        ("joint,length,procedure\nW1,18\",P-0O8\n", "there is no procedure P-0O8", 1),
        ("joint,length,procedure,machine\nW1,18\",P-008,bay 9\n", "the shop has no machine bay 9", 1),
        ("joint,length,procedure,welder\nW1,18\",P-008,A. Nobody\n", "the shop has no welder A. Nobody", 1),
        ("joint,length,procedure,thickness\nW1,18\",P-001,40 mm\n", "thickness", 1),
        ("joint,length,procedure,rev\nW1,18\",P-008,0\n", "stale", 1),
        ("joint,length,metal,thickness,type,position\nW1,18\",S235JR,2 mm,lap,PB\n", "covered by P-001", 1),
        ("joint,length,procedure,qty\nW1,18\",P-008,2\nW2,eighteen,P-008,2\n", "list.csv:3: length", 2),
        ("joint,length,procedure,leg\nW1,18\",P-008,20 mm\n", "do not make the size", 1),
    ] {
        let (code, out, wrong) = list(text);
        assert!(code == status && format!("{out}{wrong}").contains(says), "{text}: {code} {out}{wrong}");
    }
}

#[test]
fn a_number_that_two_files_have_holds_up_only_the_joints_that_name_it() {
    let folder = tempfile::tempdir().unwrap();
    let starter = |number: &str| {
        let all = fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/../../procedures"))
            .unwrap()
            .map(|own| fs::read_to_string(own.unwrap().path()).unwrap());
        all.into_iter().find(|text| text.contains(&format!("number: {number}\n"))).unwrap()
    };
    let put = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    put("a.yaml", &starter("P-001"));
    put("b.yaml", &starter("P-001").replace("status: issued", "status: draft"));
    put("c.yaml", &starter("P-008"));
    let job = |text: &str| {
        put("list.csv", text);
        let list = folder.path().join("list.csv").display().to_string();
        run(&["job", &list, "--procedures", &folder.path().display().to_string()])
    };
    let (code, said, wrong) = job("joint,length,procedure\nW1,18\",P-008\n");
    assert_eq!(code, 0, "{said}{wrong}");
    let (code, said, wrong) = job("joint,length,procedure\nW1,18\",P-008\nW2,18\",p-001\n");
    assert_eq!(code, 1, "{said}{wrong}");
    let of = |name: &str| said.lines().filter(|line| line.contains(&format!("joint {name}"))).count();
    assert!(of("W1") == 0 && of("W2") == 1, "{said}");
    for part in ["a.yaml and ", "b.yaml both have the number P-001", "only one can be meant"] {
        assert!(said.split_whitespace().collect::<Vec<_>>().join(" ").contains(part), "{part}: {said}");
    }
    // A joint that names none is not led to the one or the other.
    let (_, said, _) = job("joint,length,metal,thickness,type,position\nW1,18\",S235JR,2 mm,lap,PB\n");
    assert!(said.contains("names no procedure") && !said.contains("covered by"), "{said}");
}

#[test]
fn a_job_without_an_estimate_has_no_price_and_a_price_adds_up() {
    let folder = tempfile::tempdir().unwrap();
    let (list, out) = (folder.path().join("list.csv"), folder.path().join("papers"));
    let job = |text: &str| {
        fs::write(&list, text).unwrap();
        let (list, out) = (list.display().to_string(), out.display().to_string());
        run(&["job", &list, "--procedures", "procedures", "--shop", "examples/week/shop.yaml", "--out", &out])
    };
    // The shop's least charge is no price of a joint that nobody can weld yet.
    let (code, said, _) = job("joint,length,procedure\nW1,12\",P-999\n");
    assert!(code == 1 && !said.contains("price of all") && !said.contains("90.00"), "{said}");
    assert!(!out.join("list.quotation.pdf").exists() && out.join("list.office.pdf").exists());
    let (_, said, _) = job("joint,length,procedure,qty\nW1,12\",P-999,1\nW2,18\",P-001,7\nW3,300 mm,P-001,3\n");
    assert!(said.contains("not in the price: 1 of 3 joints"), "{said}");
    // Each piece in whole cents, times the pieces, adds up to the price of all.
    let heads = said.lines().next().unwrap();
    let row = |name: &str, pieces: f64| {
        let line = said.lines().find(|line| line.starts_with(name)).unwrap();
        let under = |head: &str| {
            let cell = &line[heads.find(head).unwrap()..];
            cell.split_whitespace().next().unwrap().parse::<f64>().unwrap()
        };
        let (price, each) = (under("price"), under("each"));
        assert!((each * pieces - price).abs() < 0.001, "{line}");
        price
    };
    let all = said.lines().find(|line| line.starts_with("price of all")).unwrap();
    let all: f64 = all.split_whitespace().nth(3).unwrap().parse().unwrap();
    assert!((row("W2", 7.0) + row("W3", 3.0) - all).abs() < 0.001, "{said}");
    let heads: Vec<&str> = heads.split_whitespace().collect();
    assert_eq!(heads, ["joint", "procedure", "rev", "pieces", "hours", "price", "each", "machine", "welder"]);
    // The shop reckons in pounds and cubic feet.
    assert!(!said.contains(" kg") && !said.contains(" L,"), "{said}");
}

#[test]
fn a_joint_of_a_job_file_is_read_as_it_is_typed_and_told_where_it_cannot_be() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("job.yaml");
    let (shop, procedures) = (root().join("examples/week/shop.yaml"), root().join("procedures"));
    let job = |joints: &str| {
        let text = format!(
            "format: 1\ndocument: job\nidentification: {{number: J-1, revision: 1, title: Frames}}\nshop: {}\nprocedures: [{}]\njoints:\n{joints}",
            shop.display(),
            procedures.display()
        );
        fs::write(&path, text).unwrap();
        run(&["job", &path.display().to_string()])
    };
    for (joint, says, status) in [
        ("length: 18\", pieces: 4", "4 x 18 in", 0),
        ("length: 1 ½ ft", "1 x 1 1/2 ft", 0),
        ("length: .5 m", "1 x 0.5 m", 0),
        ("length: 18 in, position: flat", "price of all", 0),
        ("length: 18 in, position: overhead, type: tee", "position PD is asked for", 1),
        ("length: 18 in, position: sideways", "`sideways` is no position", 1),
        ("length: 18 in, pieces: 0", "0 pieces; write how many", 1),
        ("length: 18 in, pieces: 4 pcs", "write `4`", 2),
        ("length: 18 in, qty: 4", "did you mean `pieces`?", 2),
        ("length: 18 in, leg: 5/16", "write `5/16 in`", 2),
        ("length: 4'-6\"", "write it in one unit: `54 in`", 2),
        ("length: 18 in, rev: 1", "did you mean `procedure_revision`?", 2),
    ] {
        let (code, out, wrong) = job(&format!("  - {{joint: W1, procedure: P-008, {joint}}}\n"));
        assert!(code == status && format!("{out}{wrong}").contains(says), "{joint}: {code} {out}{wrong}");
    }
    let two = "  - {joint: W1, procedure: P-008, length: 1 m}\n";
    let (code, out, _) = job(&format!("{two}{two}"));
    assert!(code == 0 && out.contains("joint W1: another one has this name"), "{code} {out}");
}

/// The lines of a text as one, however they are folded.
fn flat(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn a_leg_is_in_the_json_of_its_joint() {
    let folder = tempfile::tempdir().unwrap();
    let list = folder.path().join("list.csv");
    fs::write(&list, "joint,length,procedure,leg\nW1,12\",P-001,5/16 in\nW2,12\",P-001,\n").unwrap();
    // The leg that the procedure does not make is an error of the job, and in its answer.
    let (code, said, _) = run(&["job", list.to_str().unwrap(), "--procedures", "procedures", "--format", "json"]);
    let found: serde_json::Value = serde_json::from_str(&said).unwrap();
    assert_eq!(code, 1, "{said}");
    let [one, other] = [0, 1].map(|place| &found["joints"][place]);
    assert_eq!((&one["leg"], &one["legs"]["unit"]), (&"5/16 in".into(), &"in".into()));
    assert_eq!((one["legs"]["low"].as_f64(), one["legs"]["high"].as_f64()), (Some(0.3125), Some(0.3125)));
    assert!(other["leg"].is_null() && other["legs"].is_null(), "{other}");
}

#[test]
fn a_leg_that_the_procedure_does_not_make_is_told_and_stands_on_the_papers() {
    let folder = tempfile::tempdir().unwrap();
    let list = folder.path().join("list.csv");
    let job = |leg: &str, number: &str| {
        fs::write(&list, format!("joint,length,procedure,leg\nK1,1 m,{number},{leg}\n")).unwrap();
        let (code, out, _) = run(&["job", &list.display().to_string(), "--procedures", "procedures"]);
        (code, flat(&out))
    };
    for (leg, number, says, status) in [
        ("9 mm", "P-008", "error: joint K1: leg 9 mm is asked for, P-008 makes 6 mm", 1),
        ("6.5 mm", "P-008", "error: joint K1: leg 6.5 mm is asked for, P-008 makes 6 mm", 1),
        ("3 mm", "P-008", "caution: joint K1: leg 3 mm is asked for, P-008 makes 6 mm; the price is that of 3 mm", 0),
        ("5 mm", "P-002", "error: joint K1: leg 5 mm is asked for, P-002 makes no fillet: its weld is groove", 1),
    ] {
        let (code, said) = job(leg, number);
        assert!(code == status && said.contains(says), "{leg}: {code} {said}");
    }
    // A fraction of an inch and the millimetres that stand for it are one leg.
    for leg in ["6 mm", "6.0 mm", "5-6 mm", "1/4 in"] {
        let (code, said) = job(leg, "P-008");
        assert!(code == 0 && !said.contains("leg"), "{leg}: {code} {said}");
    }
}

#[test]
fn a_shop_without_a_rate_of_labour_has_no_price_and_an_error_of_it_is_one_of_the_job() {
    let folder = tempfile::tempdir().unwrap();
    let (list, shop, out) =
        (folder.path().join("list.csv"), folder.path().join("shop.yaml"), folder.path().join("papers"));
    fs::write(&list, "joint,length,procedure\nW1,18\",P-008\n").unwrap();
    let week = fs::read_to_string(root().join("examples/week/shop.yaml")).unwrap();
    let job = |text: &str| {
        fs::write(&shop, text).unwrap();
        let [list, shop, out] = [&list, &shop, &out].map(|path| path.display().to_string());
        let (code, said, wrong) = run(&["job", &list, "--procedures", "procedures", "--shop", &shop, "--out", &out]);
        (code, flat(&format!("{said}{wrong}")))
    };
    let quotation = out.join("list.quotation.pdf");
    let (code, said) = job(&week.replace("  labour: $65 per hour\n", ""));
    for part in
        ["price of all: not known", "states no rate of labour; write `labour: 50 per h` under `rates`", "no quotation"]
    {
        assert!(said.contains(part), "{part}: {said}");
    }
    assert!(code == 0 && !quotation.exists() && !said.contains("rates: labour"), "{code} {said}");
    let (code, said) = job(&week.replace("$65 per hour", "50 per kg"));
    assert!(code == 1 && said.contains("rates/labour: the price 50 per kg is not for a unit of this: h"), "{said}");
    assert!(!quotation.exists());
    let (code, said) = job(&week);
    assert!(code == 0 && quotation.exists() && !said.contains("labour"), "{code} {said}");
}

#[test]
fn a_welder_who_is_not_qualified_is_named_and_who_is() {
    let folder = tempfile::tempdir().unwrap();
    let test = |process: &str, filler: &str| {
        format!(
            "{{code: iso-9606-1, number: W, date: 2026-06-02, last_use: 2026-09-28, process: {process}, weld: fillet, product: plate, positions: [PB], thickness: 12 mm, filler: {filler}, filler_group: FM1, metal: S355J2+N, layers: multiple}}"
        )
    };
    let shop = format!(
        "format: 1\ndocument: shop\nidentification: {{number: S-1, revision: 1, title: Bay}}\npower_sources: [{{name: MAG, processes: [135, 111]}}]\nwelders:\n  - {{name: Ana, tests: [{}]}}\n  - {{name: Bo, stamp: B2, tests: [{}]}}\n",
        // One that has lapsed beside one that has not.
        [test("135", "ER70S-6").replace("2026-", "2023-"), test("135", "ER70S-6")].join(", "),
        test("111", "E7018")
    );
    fs::write(folder.path().join("shop.yaml"), shop).unwrap();
    let plain = fs::read_to_string(root().join("procedures/tee-fillet-12-s355-135.yaml")).unwrap();
    let under = plain.replace(
        "{route: none, code: none}",
        "{route: test-record, code: iso-15614-1, edition: 2017, level: 2, records: [T-1]}",
    );
    assert_ne!(plain, under);
    let job = |text: &str, welder: &str| {
        let own = |name: &str| folder.path().join(name).display().to_string();
        fs::write(own("p.yaml"), text.replace("status: issued", "status: draft")).unwrap();
        fs::write(own("list.csv"), format!("joint,length,procedure,welder\nJ1,1 m,P-008,{welder}\nJ2,1 m,P-008,Ana\n"))
            .unwrap();
        let (code, said, _) =
            run(&["job", &own("list.csv"), "--procedures", &own("p.yaml"), "--shop", &own("shop.yaml")]);
        (code, flat(&said))
    };
    let (code, said) = job(&under, "B2");
    assert!(code == 1 && !said.contains("no welder of the shop"), "{said}");
    let says =
        "error: joint J1: Bo is not qualified for 135 in this procedure (tested with 111); Ana is, until 2027-03-28";
    assert!(said.contains(says), "{said}");
    // Two who share one process must both be qualified; where no code governs it is a note.
    for (text, severity, welder) in
        [(&under, "error", "Ana / Bo"), (&plain, "note", "Ana and Bo"), (&plain, "note", "Bo")]
    {
        let (_, said) = job(text, welder);
        assert!(said.contains(&format!("{severity}: joint J1: Bo ")) && said.contains("; Ana "), "{welder}: {said}");
        assert!(!said.contains("the shop has no welder"), "{said}");
    }
    let (code, said) = job(&plain, "Ana / Zed");
    assert!(code == 1 && said.contains("the shop has no welder Zed; it has Ana, Bo"), "{said}");
}

#[test]
fn rework_is_bought_as_it_is_paid_and_a_cause_is_told_once() {
    let folder = tempfile::tempdir().unwrap();
    let (list, shop) = (folder.path().join("list.csv"), folder.path().join("shop.yaml"));
    let week = fs::read_to_string(root().join("examples/week/shop.yaml")).unwrap();
    let rows: String = (1..=40).map(|own| format!("W{own},24 ft,P-008,1,nobody\n")).collect();
    fs::write(&list, format!("joint,length,procedure,qty,machine\n{rows}")).unwrap();
    let job = |rework: &str, quiet: bool| {
        fs::write(&shop, week.replace("rework: 2 %", &format!("rework: {rework}"))).unwrap();
        let [list, shop] = [&list, &shop].map(|path| path.display().to_string());
        let mut args = vec!["job", &list, "--procedures", "procedures", "--shop", &shop];
        args.extend(quiet.then_some("--quiet"));
        run(&args).1
    };
    let needed = |said: &str| -> f64 {
        let said = flat(said);
        let (before, _) = said.split_once(" lb are needed").unwrap_or_else(|| panic!("{said}"));
        before.rsplit(' ').next().unwrap().parse().unwrap()
    };
    let (none, half) = (needed(&job("0 %", false)), needed(&job("50 %", false)));
    assert!((half / none - 1.5).abs() < 0.01, "{none} {half}");
    let said = job("2 %", false);
    assert!(flat(&said).contains("joints W1, W2, W3 and 37 more: the shop has no machine nobody"), "{said}");
    assert_eq!(said.matches("no machine nobody").count(), 1, "{said}");
    let quiet = job("2 %", true);
    assert!(!quiet.contains("price of all") && !quiet.contains("to buy") && quiet.contains("error: "), "{quiet}");
}

#[test]
fn a_draft_is_told_with_the_job_until_it_is_issued() {
    let folder = tempfile::tempdir().unwrap();
    let own = folder.path().join("W-1.yaml");
    let line = ["draft", "--number", "W-1", "--process", "135", "--metal", "S355J2+N", "--thickness", "8 mm"];
    let (_, text, said) = run(&[line.as_slice(), &["--joint", "tee", "--position", "PB"]].concat());
    assert!(text.contains("status: draft"), "{said}");
    fs::write(&own, text).unwrap();
    let list = folder.path().join("joints.csv");
    fs::write(
        &list,
        "joint,procedure,length,pieces,metal,thickness,type,position\nD1,W-1,900 mm,3,S355J2+N,8 mm,tee,PB\n",
    )
    .unwrap();
    let job = || run(&["job", list.to_str().unwrap(), "--procedures", own.to_str().unwrap()]);
    let (_, said, wrong) = job();
    assert_eq!(
        flat(&said).matches("caution: procedure W-1 is a draft, and not for use; issue it first").count(),
        1,
        "{said}{wrong}"
    );
    let (code, _, wrong) = run(&["issue", own.to_str().unwrap(), "--by", "R. Tanaka"]);
    assert_eq!(code, 0, "{wrong}");
    let (_, said, _) = job();
    assert!(said.contains("W-1") && !said.contains("draft"), "{said}");
}
