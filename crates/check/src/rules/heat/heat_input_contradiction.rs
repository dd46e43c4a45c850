//! `heat-input-contradiction`: explanation, cases, logic.

use seamwright_handbook::measure::{band, figure};
use seamwright_handbook::{Band, setting_limits};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::HeatInput;
use seamwright_weld::heat;

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use crate::rules::bounds::limits;

/// The check.
pub const RULE: Rule = Rule {
    name: "heat-input-contradiction",
    harm: Harm::Instruction,
    finds: "A stated heat input that current, voltage and travel speed do not make.",
    matters: "One of the four figures is wrong, and the one that is believed sets the cooling of the weld.",
    remedy: "Compute it from the other three, or mend them.",
    limit: "Heat input of ISO/TR 17671-1 from the stated ranges, and arc energy of QW-409.1; the stated range must meet one of them within the tolerance of the table.",
    tables: &["setting-limits", "thermal-efficiency"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/heat_input", "5 kJ/mm")] }],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/heat_input", "0.4 kJ/mm")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/heat_input", "1 kJ/mm maximum")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    for run in &view.runs {
        let Some(stated) = run.value(&keys::HEAT_INPUT) else { continue };
        let (Some(computed), Some((slack, _))) =
            (heat::of(run), limits(setting_limits::HEAT_INPUT_STATED, run.number()))
        else {
            continue;
        };
        let hull = computed.heat_input.hull(computed.arc_energy);
        let allowed = Band::new(hull.low * slack.envelope.low, hull.high * slack.envelope.high);
        // A cap may lie above what the figures make, a floor below.
        let own = band(stated.value, HeatInput::kj_per_mm);
        let (text, own) = (stated.value.spelled(), Band::new(own.high, own.low));
        let outer = x.compare(&stated.pointer, text, own, allowed, "kJ/mm", &slack.source);
        if outer.either() {
            x.report(
                Severity::Error,
                &stated.pointer,
                format!(
                    "heat input {text} is not what voltage, current and travel speed make ({} to {} kJ/mm)",
                    figure(hull.low),
                    figure(hull.high)
                ),
            )
            .stated(text)
            .limit(range_limit(allowed, "kJ/mm"), &slack.source)
            .hint("compute it from the other three, or mend them");
        }
    }
}
