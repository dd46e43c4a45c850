//! `voltage-outside-range`: explanation, cases, logic.

use seamwright_handbook::measure::band;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Voltage;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rule::{range_limit, range_text};

/// The check.
pub const RULE: Rule = Rule {
    name: "voltage-outside-range",
    harm: Harm::Fusion,
    finds: "An arc voltage that the process does not weld at.",
    matters: "Voltage sets the arc length: outside the range there is no arc, or one too long to shield and control.",
    remedy: "State the voltage at the arc, not the open-circuit voltage of the machine.",
    limit: "The widest and the usual voltage of the process.",
    tables: &["processes"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/voltage", "60-80 V")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let (Some(process), Some(voltage)) = (run.process, run.value(&keys::VOLTAGE)) else { continue };
        let limits = process.voltage();
        let stated = voltage.value.spelled();
        let own = band(voltage.value, Voltage::volts);
        let outer = x.compare(&voltage.pointer, stated, own, limits.envelope, "V", &limits.source);
        let (severity, limit) = match limits.usual {
            _ if outer.either() => (Severity::Error, limits.envelope),
            Some(usual) if own.outside(usual).either() => (Severity::Note, usual),
            _ => continue,
        };
        x.report(
            severity,
            &voltage.pointer,
            format!("voltage {stated} lies outside the range of {} ({})", process.number, range_text(limit, "V")),
        )
        .stated(stated)
        .limit_of_physics(range_limit(limit, "V"), &limits.source)
        .hint("state the voltage at the arc while welding");
    }
}
