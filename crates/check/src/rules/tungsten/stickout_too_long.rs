//! `stickout-too-long`: explanation, cases, logic.

use seamwright_handbook::measure::band;
use seamwright_handbook::{Band, tungsten_stickout};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Length;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rule::{range_limit, range_text};

/// The check.
pub const RULE: Rule = Rule {
    name: "stickout-too-long",
    harm: Harm::Soundness,
    finds: "A tungsten electrode that stands out too far beyond the nozzle.",
    matters: "Beyond the shield the tip oxidises and the weld draws in air.",
    remedy: "Shorten the stickout, take a larger nozzle, or fit a gas lens.",
    limit: "Electrode diameters and nozzle bores, with and without a gas lens; past the longest is an error, past the shortest a note.",
    tables: &["tungsten-stickout"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/tungsten/stickout", "25 mm")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let Some(stickout) = run.value(&keys::TUNGSTEN_STICKOUT) else { continue };
        let Some(diameter) = super::of_run::diameter(run) else { continue };
        let bore = run.nozzle().map(|(_, _, bore)| bore);
        let Some(limits) = tungsten_stickout::range(run.gas_lens(), diameter, bore) else { continue };
        let own = Band::at_most(band(stickout.value, Length::mm).closed().high);
        let stated = stickout.value.spelled();
        let most = Band::at_most(limits.envelope.high);
        let outer = x.compare(&stickout.pointer, stated, own, most, "mm", &limits.source);
        if outer.above {
            let with = if run.gas_lens() { "with a gas lens" } else { "without a gas lens" };
            x.report(
                Severity::Error,
                &stickout.pointer,
                format!("stickout {stated} is too long {with} ({})", range_text(most, "mm")),
            )
            .stated(stated)
            .limit(range_limit(most, "mm"), &limits.source)
            .hint("shorten it, take a larger nozzle, or fit a gas lens");
        }
    }
}
