//! Every draft that is allowed, over process, family of metal, thickness, joint and position, loads and passes the checks.

use std::collections::BTreeMap;

use seamwright_draft::{Facts, Refused, Typed, draft};
use seamwright_handbook::{base_metals, planning, positions};
use seamwright_model::document::Document;
use seamwright_model::finding::Severity;

const THICKNESSES: [&str; 7] = ["0.8 mm", "2 mm", "3 mm", "5 mm", "8 mm", "12 mm", "25 mm"];
const JOINTS: [&str; 4] = ["butt", "tee", "lap", "corner"];

/// What came of a walk.
#[derive(Default)]
struct Walked {
    drafted: usize,
    refused: BTreeMap<&'static str, usize>,
    /// Findings of severity error or caution, how often, and where first.
    faults: BTreeMap<String, (usize, String)>,
    /// Checks that no settings of the tables pass, how often, and where first.
    held_back: BTreeMap<String, (usize, String)>,
    /// The same by metal and thickness, with the words of the first refusal.
    held_where: BTreeMap<String, (usize, String)>,
}

impl Walked {
    /// Drafts one combination and holds it against the checks.
    fn step(&mut self, process: &str, metal: &str, thickness: &str, joint: &str, position: &positions::Row) {
        let pipe = position.product == positions::Product::Pipe;
        let typed = Typed {
            process: process.to_owned(),
            metal: metal.to_owned(),
            to: None,
            thickness: thickness.to_owned(),
            joint: joint.to_owned(),
            position: position.code.to_owned(),
            diameter: pipe.then(|| "168.3 mm".to_owned()),
        };
        match Facts::read(&typed).and_then(|facts| draft(&facts)) {
            Ok(text) => {
                self.drafted += 1;
                let name = format!("{process} {metal} {thickness} {joint} {}", position.code);
                for fault in faults(&name, &text) {
                    self.faults.entry(fault).or_insert_with(|| (0, name.clone())).0 += 1;
                }
            }
            Err(why) => {
                let kind = match why {
                    Refused::Unsuited { .. } => "unsuited",
                    Refused::Thickness { .. } => "thickness",
                    Refused::Contradiction(_) => "contradiction",
                    Refused::HeldBack { fault: reason, .. } => {
                        let fault = reason.rsplit('(').next().unwrap_or_default().trim_end_matches(')').to_owned();
                        let name = format!("{process} {metal} {thickness} {joint} {}", position.code);
                        let place = format!("{fault} {metal} {thickness}");
                        self.held_where.entry(place).or_insert_with(|| (0, format!("{name}: {reason}"))).0 += 1;
                        self.held_back.entry(fault).or_insert_with(|| (0, name)).0 += 1;
                        "held back by a check"
                    }
                    Refused::Nothing { .. } => "nothing to begin with",
                    other => panic!("{typed:?}: {other}"),
                };
                *self.refused.entry(kind).or_default() += 1;
            }
        }
    }

    fn report(&self, what: &str) {
        let held: usize = self.held_back.values().map(|(count, _)| count).sum();
        println!(
            "{what}: {} drafts pass, {held} combinations are held back, refused {:?}; held back by: {:?}",
            self.drafted, self.refused, self.held_back
        );
        for (place, (count, first)) in &self.held_where {
            println!("  {count} x {place} (first: {first})");
        }
        // What a process does not weld is refused by a table that says what to use instead: all else has settings that pass.
        assert_eq!(held, 0, "{what}: held back beside {}: {:?}", self.drafted, self.held_back);
        let line = |(fault, (count, first)): (&String, &(usize, String))| format!("{count} x {fault} (first: {first})");
        let list: Vec<String> = self.faults.iter().map(line).collect();
        assert!(list.is_empty(), "{} kinds of fault:\n{}", list.len(), list.join("\n"));
    }
}

/// One metal of each family, or of each alloy of each family, by name.
fn metals(alloys: bool) -> Vec<&'static str> {
    let mut first: BTreeMap<(&str, Option<&str>), &str> = BTreeMap::new();
    for metal in base_metals::rows() {
        let alloy = metal.alloy.filter(|_| alloys);
        first.entry((metal.family, alloy)).or_insert(metal.specification);
    }
    first.into_values().collect()
}

/// Findings of severity error or caution in a draft.
fn faults(name: &str, text: &str) -> Vec<String> {
    let loaded = match seamwright_model::load(name, text.as_bytes()) {
        Ok(loaded) => loaded,
        Err((_, faults)) => return faults.into_iter().map(|fault| format!("not read: {}", fault.message)).collect(),
    };
    let Document::Procedure(procedure) = &loaded.document else { return vec!["no procedure".to_owned()] };
    let found = seamwright_check::check(procedure).findings.into_iter();
    let worse = found.filter(|finding| finding.severity != Severity::Note);
    worse.map(|finding| format!("{}: {} at {}", finding.check, finding.message, finding.pointer)).collect()
}

fn walk(process: &'static str, metals: &[&str], thicknesses: &[&str], joints: &[&str], system: &str) -> Walked {
    let mut walked = Walked::default();
    for metal in metals {
        for thickness in thicknesses {
            for joint in joints {
                for position in positions::rows().iter().filter(|row| row.system == system) {
                    walked.step(process, metal, thickness, joint, position);
                }
            }
        }
    }
    walked
}

/// One test for each process, so that they run side by side.
macro_rules! grid {
    ($($(#[$more:meta])* $name:ident: $process:literal),+ $(,)?) => {$(
        $(#[$more])*
        #[test]
        fn $name() {
            let whole = walk($process, &metals(false), &THICKNESSES, &JOINTS, "iso");
            whole.report(concat!($process, ", every family"));
            assert!(whole.drafted > 300, "{}", whole.drafted);
            // Every alloy, at two thicknesses; the positions of AWS, by one joint of each kind.
            walk($process, &metals(true), &["3 mm", "10 mm"], &["butt", "tee"], "iso").report("every alloy");
            walk($process, &["S355J2", "304L", "5083"], &["3 mm", "6 mm"], &["butt", "tee"], "aws").report("AWS positions");
        }
    )+};
}

grid! {
    drafts_for_111_pass_the_checks: "111",
    drafts_for_114_pass_the_checks: "114",
    drafts_for_131_pass_the_checks: "131",
    drafts_for_138_pass_the_checks: "138",
    drafts_for_135_pass_the_checks: "135",
    drafts_for_136_pass_the_checks: "136",
    drafts_for_141_pass_the_checks: "141",
}

/// Under flux the pool lies flat, so that fewer positions are drafted.
#[test]
fn drafts_for_121_pass_the_checks() {
    let whole = walk("121", &metals(false), &THICKNESSES, &JOINTS, "iso");
    whole.report("121, every family");
    assert!(whole.drafted > 40, "{}", whole.drafted);
    walk("121", &metals(true), &["8 mm", "12 mm"], &["butt", "tee"], "iso").report("every alloy");
}

#[test]
fn the_grid_has_every_process_that_is_drafted() {
    let mut drafted = planning::processes();
    drafted.sort_unstable();
    assert_eq!(drafted, ["111", "114", "121", "131", "135", "136", "138", "141"]);
}

/// Joints of two metals: what is handed out passes the checks and has both metals, and metals that do not fuse are refused.
#[test]
fn drafts_of_two_metals_pass_the_checks() {
    let pairs = [
        ("304L", "S235JR"),
        ("S355J2", "S32205"),
        ("316L", "304L"),
        ("5083", "6061-T6"),
        ("S355J2", "S690QL"),
        ("A335-P11", "A335-P22"),
    ];
    let typed = |process: &str, metal: &str, to: &str, thickness: &str, joint: &str| Typed {
        process: process.to_owned(),
        metal: metal.to_owned(),
        to: Some(to.to_owned()),
        thickness: thickness.to_owned(),
        joint: joint.to_owned(),
        position: if joint == "butt" { "PA" } else { "PB" }.to_owned(),
        diameter: None,
    };
    for (metal, to) in pairs {
        let processes = if metal == "5083" { ["141", "131"].as_slice() } else { &["141", "111", "135", "136"] };
        for process in processes {
            for thickness in ["3 mm", "5 mm", "8 mm"] {
                for joint in ["butt", "tee"] {
                    let name = format!("{process} {metal} to {to} {thickness} {joint}");
                    let drafted = |metal: &str, to: &str| {
                        let facts = Facts::read(&typed(process, metal, to, thickness, joint));
                        facts.and_then(|facts| draft(&facts)).unwrap_or_else(|why| panic!("{name}: {why}"))
                    };
                    let text = drafted(metal, to);
                    assert_eq!(faults(&name, &text), Vec::<String>::new(), "{text}");
                    assert!(text.contains(metal) && text.contains(to), "{text}");
                    assert_eq!(text, drafted(to, metal), "{name}: which is named first does not matter");
                }
            }
        }
    }
    for (metal, to) in [("5083", "S235JR"), ("Grade 2", "304L")] {
        let why = Facts::read(&typed("141", metal, to, "3 mm", "butt")).and_then(|facts| draft(&facts)).unwrap_err();
        assert!(why.to_string().contains("no filler"), "{why}");
    }
}
