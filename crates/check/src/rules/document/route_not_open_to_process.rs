//! `route-not-open-to-process`: explanation, cases, logic.

use crate::rules::positions;
use seamwright_handbook::code_scope;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{Route, keys};
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule = Rule {
    name: "route-not-open-to-process",
    harm: Harm::Qualification,
    finds: "A procedure called prequalified with a process that cannot be.",
    matters: "A prequalified procedure needs no test only within the bounds of its code.",
    remedy: "Qualify it by test: `route: test-record`.",
    limit: "Processes, metal transfer and progression of plate that may be prequalified under AWS D1.1; an error.",
    tables: &["code-scope"],
    examine,
    faulty: &[
        Case { base: "butt-3-carbon-141", edits: &[("/qualification", "{route: prequalified, code: aws-d1.1}")] },
        Case { base: "butt-3-8-in-a36-111-3g", edits: &[("/progression", "downward")] },
        Case {
            base: "tee-fillet-12-s355-135",
            edits: &[
                ("/qualification", "{route: prequalified, code: aws-d1.1}"),
                ("/processes/135/transfer_mode", "short-circuit"),
            ],
        },
    ],
    sound: &[
        Case { base: "butt-3-carbon-141", edits: &[] },
        Case { base: "tee-fillet-12-s355-135", edits: &[("/qualification", "{route: prequalified, code: aws-d1.1}")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some(qualification) = &view.procedure.qualification else { return };
    if qualification.route != Route::Prequalified {
        return;
    }
    x.examined("/qualification/route");
    let Some(scope) = qualification.code.and_then(|code| code_scope::get(code.as_str())) else { return };
    let fault = view.runs.iter().find_map(|run| {
        let transfer = run.value(&keys::TRANSFER_MODE);
        let mode = transfer
            .map(|at| at.value.as_str())
            .filter(|mode| scope.not_prequalified_mode.iter().any(|closed| closed == mode));
        let closed = run.process.is_some() && !scope.prequalified.iter().any(|open| *open == run.number());
        // Pipe may be welded downwards.
        let down = scope.not_prequalified_progression.filter(|word| {
            let plate = x.view.metals.iter().all(|metal| metal.stated.outside_diameter.is_none());
            let vertical = positions::run_positions(view, run).iter().any(|(.., row)| row.vertical);
            let own = view.procedure.progression.as_ref().and_then(Stated::value).map(|own| own.as_str());
            plate && vertical && own == Some(word)
        });
        match mode {
            None if down.is_some() => {
                Some(format!("{} in vertical position {}", run.number(), down.unwrap_or_default()))
            }
            Some(mode) => Some(format!("{} with {mode} transfer", run.number())),
            None => closed.then(|| run.number().to_owned()),
        }
    });
    if let Some(fault) = fault {
        x.report(Severity::Error, "/qualification/route", format!("{fault} cannot be prequalified"))
            .stated(qualification.route.as_str())
            .limit(format!("prequalified: {}", scope.prequalified.join(", ")), &scope.origin.source_ref())
            .hint("write `route: test-record` with its record");
    }
}
