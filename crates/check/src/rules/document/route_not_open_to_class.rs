//! `route-not-open-to-class`: explanation, cases, logic.

use seamwright_calc::band::above;
use seamwright_handbook::en_1090_2;
use seamwright_handbook::measure::figure;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;

use crate::rule::{Case, Examiner, Harm, Rule};

/// A fillet of the library under EN 1090-2, with its steel, route and class.
macro_rules! structure {
    ($steel:literal, $route:literal, $class:literal) => {
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/parent_metals/0/specification", $steel),
                ("/qualification", concat!("{route: ", $route, ", execution_class: ", $class, "}")),
                ("/processes/111/mechanization", "manual"),
            ],
        }
    };
}

/// The check.
pub const RULE: Rule = Rule {
    name: "route-not-open-to-class",
    harm: Harm::Qualification,
    finds: "A route of qualification that EN 1090-2 does not open for the execution class, the steel or the mechanization.",
    matters: "A procedure on a route that is not open counts as not qualified.",
    remedy: "Qualify it by a procedure test or a pre-production test.",
    limit: "Table 12 of EN 1090-2 by execution class; an error.",
    tables: &["en-1090-2-routes"],
    examine,
    faulty: &[
        structure!("S355J2+N", "none", "EXC2"),
        structure!("S235JR", "previous-experience", "EXC3"),
        structure!("S235JR", "standard-procedure", "EXC4"),
        structure!("S355J2+N", "tested-consumables", "EXC2"),
        structure!("S420N", "standard-procedure", "EXC2"),
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/parent_metals/0/specification", "S235JR"),
                ("/qualification", "{route: previous-experience, execution_class: EXC2}"),
                ("/processes/111/mechanization", "automatic"),
            ],
        },
    ],
    sound: &[
        structure!("S355J2+N", "none", "EXC1"),
        structure!("S275JR", "previous-experience", "EXC2"),
        structure!("S355J2+N", "standard-procedure", "EXC2"),
        structure!("S420N", "test-record", "EXC4"),
        structure!("S420N", "pre-production-test", "EXC3"),
        Case { base: "tee-fillet-10-s355-111", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some(own) = &view.procedure.qualification else { return };
    let Some(class) = own.execution_class else { return };
    let pointer = "/qualification/route";
    x.examined(pointer);
    let Some(row) = en_1090_2::route(own.route.as_str()) else {
        let Some(first) = en_1090_2::routes().first() else { return };
        let open: Vec<&str> = en_1090_2::routes().iter().map(|row| row.route).collect();
        x.report(Severity::Error, pointer, format!("{} is no route of EN 1090-2", own.route))
            .stated(own.route.as_str())
            .limit(open.join(", "), &first.origin.source_ref())
            .hint("write `route: test-record` with its record");
        return;
    };
    let of_class = row.classes.iter().any(|one| *one == class.as_str());
    let steel = view.metals.iter().find(|metal| {
        let strength = metal.known.and_then(|known| known.yield_min_mpa);
        row.yield_max_mpa.zip(strength).is_some_and(|(most, own)| above(own, most))
    });
    let degree = view.runs.iter().find_map(|run| {
        let stated = run.value(&keys::MECHANIZATION)?;
        let closed =
            !row.mechanization.is_empty() && !row.mechanization.iter().any(|one| *one == stated.value.as_str());
        closed.then(|| stated.value.as_str())
    });
    // What EXC1 does without needs no bound.
    let why = match (of_class, steel, degree) {
        (false, ..) => format!("execution class {class}"),
        (true, Some(metal), _) => metal.stated.specification.to_string(),
        (true, None, Some(degree)) => format!("{degree} welding"),
        (true, None, None) => return,
    };
    let steel = row.yield_max_mpa.map_or_else(String::new, |most| format!(", steel to {} MPa", figure(most)));
    let degrees =
        if row.mechanization.is_empty() { String::new() } else { format!(", {}", row.mechanization.join(" or ")) };
    let limit = format!("{}{steel}{degrees}", row.classes.join(", "));
    let message = format!("route {} ({}) is not open to {why}; verify against your edition", own.route, row.method);
    x.report(Severity::Error, pointer, message)
        .stated(own.route.as_str())
        .limit(limit, &row.origin.source_ref())
        .hint("write `route: test-record` with its record");
}
