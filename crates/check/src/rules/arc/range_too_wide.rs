//! `range-too-wide`: explanation, cases, logic.

use seamwright_handbook::measure::band;
use seamwright_handbook::{Band, setting_limits};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{CurrentControl, Key, keys};
use seamwright_model::quantity::{Current, Quantity, Range, Speed, Voltage};
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::rules::bounds::{Grade, Value, at_most, hold, limits};

/// The check.
pub const RULE: Rule = Rule {
    name: "range-too-wide",
    harm: Harm::Instruction,
    finds: "A range of current, voltage or travel speed so wide that it instructs nobody.",
    matters: "The heat of both ends differs severalfold: a weld from one end says nothing of the other.",
    remedy: "Narrow the range to what the test weld and the welder need.",
    limit: "High end over low end, common practice: past the usual is a note, past the widest a caution; a foot pedal rules its current itself.",
    tables: &["setting-limits"],
    examine,
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/current", "40-160 A")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/travel_speed", "50-400 mm/min")] },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "tee-fillet-3-6061-141", edits: &[("/runs/0/current", "40-140 A")] },
        Case { base: "tee-fillet-3-6061-141", edits: &[("/runs/0/current", "140 A maximum")] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    width(x, setting_limits::WIDTH_OF_CURRENT, &keys::CURRENT, "current", Current::amperes);
    width(x, setting_limits::WIDTH_OF_VOLTAGE, &keys::VOLTAGE, "voltage", Voltage::volts);
    width(x, setting_limits::WIDTH_OF_SPEED, &keys::TRAVEL_SPEED, "travel speed", Speed::mm_per_min);
}

fn width<Q: Quantity>(
    x: &mut Examiner<'_>,
    quantity: &str,
    key: &Key<Stated<Range<Q>>>,
    what: &str,
    figure: impl Fn(Q) -> f64,
) {
    let view = x.view;
    for run in &view.runs {
        let pedal = run.value(&keys::CURRENT_CONTROL).is_some_and(|at| *at.value == CurrentControl::FootPedal);
        if key.path == keys::CURRENT.path && pedal {
            continue;
        }
        let Some(at) = run.value(key) else { continue };
        let Some((limits, unit)) = limits(quantity, run.number()) else { continue };
        let Some(own) = band(at.value, &figure).bounded().filter(|own| own.low > 0.0) else { continue };
        let grade = Grade {
            what,
            usual: Severity::Note,
            widest: Severity::Caution,
            hint: "narrow the range, or give runs or positions their own",
        };
        let value = Value::new(at.pointer, at.value.spelled(), Band::at_most(own.high / own.low));
        hold(x, value, &at_most(&limits), unit, &grade);
    }
}
