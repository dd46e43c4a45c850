//! `machine-unfit`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_weld::machines;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::subject::InShop;

/// The check.
pub const RULE: Rule<InShop> = Rule {
    name: "machine-unfit",
    harm: Harm::Equipment,
    finds: "A process that no power source of the shop can weld as stated: for want of alternating current, of amperes, of a way to start the arc, of pulse or pedal.",
    matters: "The welder changes settings to what the machine gives, and the procedure is no longer the one that was checked.",
    remedy: "Weld it on another machine, or state settings that a machine of the shop gives.",
    limit: "What the shop states of the machine that lacks least; what it does not state is taken as given.",
    tables: &["processes"],
    examine,
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/current", "210-240 A")] },
        Case { base: "butt-10-s355-135", edits: &[] },
        // Alternating current is wanted, and the machine that has it is gone.
        Case {
            base: "tee-fillet-3-6061-141",
            edits: &[("shop:/power_sources/1", "{name: AC/DC machine, processes: [141], polarity: [DCEN]}")],
        },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[
                ("shop:/power_sources/1/current_control", "[fixed]"),
                ("/processes/141/current_control", "foot-pedal"),
            ],
        },
        // The machine that is named lacks what the other one has.
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/machine", "DC stick machine"), ("/processes/141/current_control", "foot-pedal")],
        },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[
                ("/machine", "DC stick machine"),
                ("/processes/141/down_slope", "2-3 s"),
                ("shop:/power_sources/0/slopes", "no"),
            ],
        },
        // Nothing opens the gas.
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("shop:/power_sources/1/gas_solenoid", "no"), ("shop:/torches/0/valve", "no")],
        },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "tee-fillet-3-6061-141", edits: &[] },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/machine", "AC/DC machine"), ("/processes/141/current_control", "foot-pedal")],
        },
        Case { base: "butt-12-s355-111", edits: &[] },
        // A plain direct current machine with a torch that has a valve is an outfit for steel.
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[(
                "shop:/power_sources/1",
                "{name: DC stick machine, processes: [111, 141], current: 10-160 A, polarity: [DCEN, DCEP], arc_start: [scratch, lift], current_control: [fixed], gas_solenoid: no}",
            )],
        },
    ],
};

fn examine(x: &mut Examiner<'_, InShop>) {
    let (view, shop) = (x.view.view, x.view.shop);
    for (run, best) in machines::for_processes(shop, view) {
        x.examined(keys::CURRENT.in_run(run.index));
        for lack in &best.lacks {
            let gives = if lack.gives.is_empty() { "nothing of the kind" } else { &lack.gives };
            let named = run.machine().is_some_and(|at| machines::find(shop, at.value).is_some());
            let message = if named {
                format!(
                    "{} is named and cannot weld {} as stated: {} {} is asked for, it gives {gives}",
                    best.machine.name,
                    run.number(),
                    lack.what,
                    lack.stated
                )
            } else if best.welds {
                format!(
                    "no machine of the shop can weld {} as stated; {} comes nearest: {} {} is asked for, it gives {gives}",
                    run.number(),
                    best.machine.name,
                    lack.what,
                    lack.stated
                )
            } else {
                format!("no machine of the shop welds {}", run.number())
            };
            let hint = if best.welds {
                format!("write a {} that {} gives: {gives}", lack.what, best.machine.name)
            } else {
                "take another process, or another shop".to_owned()
            };
            x.report(Severity::Error, &lack.pointer, message).stated(&lack.stated).hint(hint);
        }
    }
}
