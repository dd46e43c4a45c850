//! `regulator-unsuited-to-gas`: explanation, cases, logic.

use seamwright_calc::band::above;
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Flow;
use seamwright_model::stated::Stated;
use seamwright_weld::stock;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::subject::InShop;

/// The check.
pub const RULE: Rule<InShop> = Rule {
    name: "regulator-unsuited-to-gas",
    harm: Harm::Equipment,
    finds: "A shielding gas for which the shop has no regulator, or none that gives its flow.",
    matters: "A regulator's thread and scale are made for one gas: on another it does not fit, leaks or shows a wrong flow.",
    remedy: "Get a regulator for the gas, with a flow meter that covers the stated flow.",
    limit: "The gases and the flows that the shop states of its regulators.",
    tables: &["shielding-gases"],
    examine,
    faulty: &[
        Case { base: "butt-10-s355-135", edits: &[] },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("shop:/regulators", "[{name: small, gases: [argon], flow: 1-5 L/min}]")],
        },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("shop:/regulators", "[{name: argon, gases: [argon], flow: 3-25 L/min}]")],
        },
        Case { base: "butt-10-s355-135", edits: &[("shop:/regulators", "")] },
    ],
};

fn examine(x: &mut Examiner<'_, InShop>) {
    let (view, shop) = (x.view.view, x.view.shop);
    if shop.regulators.is_empty() {
        return;
    }
    for run in &view.runs {
        let Some(gas) = run.gas() else { continue };
        let (designation, composition) = (gas.value.designation.as_deref(), gas.value.composition.as_ref());
        if designation.is_none() && composition.is_none() {
            continue;
        }
        x.examined(&gas.pointer);
        let name = designation.unwrap_or("this gas");
        let fitting: Vec<_> = shop
            .regulators
            .iter()
            .filter(|one| {
                one.gases.is_empty() || one.gases.iter().any(|word| stock::names_gas(word, designation, composition))
            })
            .collect();
        if fitting.is_empty() {
            x.report(Severity::Caution, gas.pointer, format!("the shop has no regulator for {name}"))
                .stated(name)
                .hint("get a regulator that is made for the gas");
            continue;
        }
        let Some(flow) = gas.value.flow.as_ref().and_then(Stated::value) else { continue };
        let most = flow.high().or(flow.low()).map(Flow::l_per_min);
        let enough = fitting.iter().any(|one| {
            let own = one.flow.as_ref().and_then(Stated::value).and_then(|own| own.high()).map(Flow::l_per_min);
            own.zip(most).is_none_or(|(own, most)| !above(most, own))
        });
        if !enough {
            x.report(
                Severity::Caution,
                format!("{}/flow", gas.pointer),
                format!("no regulator of the shop gives {flow} of {name}"),
            )
            .stated(flow.spelled())
            .hint("get a regulator with a larger flow, or write a flow that it gives");
        }
    }
}
