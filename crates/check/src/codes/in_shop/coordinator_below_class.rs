//! `coordinator-below-class`: explanation, cases, logic.

use seamwright_handbook::en_1090_2;
use seamwright_handbook::measure::figure;
use seamwright_model::finding::Severity;
use seamwright_model::shop::Knowledge;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::subject::InShop;

/// A fillet of the library in an execution class, in steel of a thickness, under a coordinator of the shop.
macro_rules! coordinated {
    ($class:literal, $metal:literal, $knowledge:literal) => {
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/qualification", concat!("{route: test-record, execution_class: ", $class, "}")),
                ("/parent_metals", concat!("[{specification: ", $metal, "}]")),
                ("shop:/coordinator", concat!("{name: M. Okafor, knowledge: ", $knowledge, "}")),
            ],
        }
    };
}

/// The check.
pub const RULE: Rule<InShop> = Rule {
    name: "coordinator-below-class",
    harm: Harm::Qualification,
    finds: "A welding coordinator of the shop who knows less than the execution class of EN 1090-2 asks for.",
    matters: "The manufacturer may not mark the structure, and who takes it over may reject it.",
    remedy: "Name a coordinator with the knowledge that the class asks for; one from outside may serve.",
    limit: "Technical knowledge by execution class, yield strength and thickness of EN 1090-2; a caution.",
    tables: &["welding-coordination"],
    examine,
    faulty: &[
        coordinated!("EXC2", "S355J2+N, thickness: 25.1 mm", "basic"),
        coordinated!("EXC2", "S355J2+N, thickness: 1 in", "basic"),
        coordinated!("EXC3", "S355J2+N, thickness: 50.1 mm", "specific"),
        coordinated!("EXC3", "S690QL, thickness: 30 mm", "specific"),
        coordinated!("EXC4", "S235JR, thickness: 10 mm", "specific"),
    ],
    sound: &[
        coordinated!("EXC1", "S355J2+N, thickness: 60 mm", "basic"),
        coordinated!("EXC2", "S355J2+N, thickness: 25 mm", "basic"),
        coordinated!("EXC2", "S355J2+N, thickness: 15/16 in", "basic"),
        coordinated!("EXC3", "S355J2+N, thickness: 50 mm", "specific"),
        coordinated!("EXC3", "S690QL, thickness: 25 mm", "specific"),
        coordinated!("EXC4", "S235JR, thickness: 10 mm", "comprehensive"),
        Case { base: "tee-fillet-10-s355-111", edits: &[] },
    ],
};

const fn rank(knowledge: Knowledge) -> &'static [&'static str] {
    match knowledge {
        Knowledge::Basic => &["basic"],
        Knowledge::Specific => &["basic", "specific"],
        Knowledge::Comprehensive => &["basic", "specific", "comprehensive"],
    }
}

fn examine(x: &mut Examiner<'_, InShop>) {
    let (view, shop) = (x.view.view, x.view.shop);
    let class = view.procedure.qualification.as_ref().and_then(|own| own.execution_class);
    let (Some(class), Some(coordinator)) = (class, &shop.coordinator) else { return };
    let pointer = "/qualification/execution_class";
    x.examined(pointer);
    for metal in &view.metals {
        let strength = metal.known.and_then(|known| known.yield_min_mpa);
        let (Some(strength), Some(thickness)) = (strength, metal.thickness_mm()) else { continue };
        let Some(row) = en_1090_2::coordination(class.as_str(), strength, thickness) else { continue };
        if rank(coordinator.knowledge).contains(&row.knowledge) {
            continue;
        }
        let limit = format!("{} knowledge", row.knowledge);
        let message = format!(
            "{class} asks for a coordinator with {limit} for {} of {} mm; {} has {}",
            metal.stated.specification,
            figure(thickness),
            coordinator.name,
            coordinator.knowledge
        );
        x.report(Severity::Caution, pointer, message)
            .stated(coordinator.knowledge.to_string())
            .limit(limit, &row.origin.source_ref())
            .hint(format!("name a coordinator with {} knowledge for this work", row.knowledge));
        return;
    }
}
