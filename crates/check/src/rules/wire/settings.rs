//! What the checks of processes with a wire electrode share: the settings of a run beside the limits of its wire.
//!
//! [`examine`] holds one setting of every run against the handbook. Another setting is a variant of [`Setting`] with its
//! line in [`Setting::of`] and [`Setting::limits`].

use seamwright_handbook::processes::Wire as Kind;
use seamwright_handbook::{Limits, fcaw_parameters, gmaw_parameters};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::{Current, Frequency, Length, Quantity, Range, Speed, Voltage};
use seamwright_weld::view::Located;
use seamwright_weld::wire::Wire;
use seamwright_weld::{RunView, in_joint};

use crate::rule::{Examiner, range_limit};
use crate::rules::bounds::{Side, Value, typical};

/// A setting of a process with a wire electrode.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Setting {
    Current,
    Voltage,
    WireFeed,
    TipToWork,
    Peak,
    Background,
    Frequency,
}

impl Setting {
    /// Name of the setting and unit of its limits.
    fn words(self) -> (&'static str, &'static str) {
        match self {
            Self::Current => ("current", "A"),
            Self::Voltage => ("voltage", "V"),
            Self::WireFeed => ("wire feed speed", "m/min"),
            Self::TipToWork => ("contact tip distance", "mm"),
            Self::Peak => ("peak current", "A"),
            Self::Background => ("background current", "A"),
            Self::Frequency => ("pulse frequency", "Hz"),
        }
    }

    /// What a run states, in the unit of the tables: A, V, m/min, mm or Hz.
    pub fn of<'d>(self, run: &RunView<'d>) -> Option<Value<'d>> {
        fn value<Q: Quantity>(at: Located<'_, Range<Q>>, figure: impl Fn(Q) -> f64) -> Value<'_> {
            Value::of(at.pointer, at.value, figure)
        }
        Some(match self {
            Self::Current => value(run.value(&keys::CURRENT)?, Current::amperes),
            Self::Voltage => value(run.value(&keys::VOLTAGE)?, Voltage::volts),
            Self::WireFeed => value(run.value(&keys::WIRE_FEED_SPEED)?, Speed::m_per_min),
            Self::TipToWork => value(run.value(&keys::CONTACT_TIP_TO_WORK)?, Length::mm),
            Self::Peak => value(run.value(&keys::PULSE_PEAK_CURRENT)?, Current::amperes),
            Self::Background => value(run.value(&keys::PULSE_BACKGROUND_CURRENT)?, Current::amperes),
            Self::Frequency => value(run.value(&keys::PULSE_FREQUENCY)?, Frequency::hertz),
        })
    }

    /// Its limits for a wire, in the unit of [`Setting::of`].
    pub fn limits(self, wire: &Wire<'_>) -> Option<Limits> {
        use gmaw_parameters::Setting as Tables;
        let setting = match self {
            Self::Current => Tables::Current,
            Self::Voltage => Tables::Voltage,
            Self::WireFeed => Tables::WireFeed,
            Self::TipToWork => Tables::TipToWork,
            Self::Peak => Tables::Peak,
            Self::Background => Tables::Background,
            Self::Frequency => Tables::Frequency,
        };
        if wire.kind == Kind::FluxCored {
            return wire.classes().find_map(|class| fcaw_parameters::range(class, wire.diameter?, setting));
        }
        gmaw_parameters::range(wire.family?, wire.diameter?, wire.transfer, setting)
    }
}

/// Holds a setting of every run with one of these kinds of wire against its limits: one end of it, or both.
///
/// Outside what the handbook gives is a caution, by rounding nothing and by little a note; farther than any weld of that kind,
/// by the rule `settings-farthest`, an error.
pub(super) fn examine(x: &mut Examiner<'_>, kinds: &[Kind], setting: Setting, looked_at: Option<Side>) {
    let farthest = gmaw_parameters::SETTINGS_FARTHEST.value.high;
    let (name, unit) = setting.words();
    for run in &x.view.runs {
        let Some(wire) = run.wire.as_ref().filter(|wire| kinds.contains(&wire.kind)) else { continue };
        let (Some(value), Some(limits)) = (setting.of(run), setting.limits(wire)) else { continue };
        let own = looked_at.map_or(value.band, |side| side.of(value.band));
        let range = limits.envelope;
        let outer = x.compare(&value.pointer, value.stated, own, range, unit, &limits.source);
        if !outer.either() {
            continue;
        }
        // What the arc of a solid wire has at its current is no fault of the wire, where no mode of transfer is stated.
        let open = wire.kind == Kind::Solid && wire.transfer.is_none();
        if open && setting == Setting::Voltage && of_the_arc(run, &value) {
            continue;
        }
        // A range that reaches into that of the wire can be welded in part.
        let apart = value.band.bounded().is_none_or(|own| range.overlap(own).is_none());
        let far = apart && own.is_past(range, farthest);
        let Some(severity) = typical(own, range) else { continue };
        let severity = match severity {
            Severity::Note => Severity::Note,
            _ if far => Severity::Error,
            _ => Severity::Caution,
        };
        let side = match (outer.below, outer.above) {
            (true, true) => "beyond both ends of",
            (true, false) => "below",
            _ => "above",
        };
        let limit = range_limit(range, unit);
        x.report(
            severity,
            value.pointer,
            format!("{name} {} lies {side} the range of {} ({limit})", value.stated, wire.words()),
        )
        .stated(value.stated)
        .limit(limit.clone(), &limits.source)
        .hint(format!("write a value within {limit}, or another wire or mode of transfer"));
    }
}

/// Whether a voltage is that of the arc at the current of its run, by the conventional voltage and its usual spread.
fn of_the_arc(run: &RunView<'_>, voltage: &Value<'_>) -> bool {
    let middle = voltage.band.bounded().map(|range| range.middle());
    let usual = in_joint::arc(run).zip(in_joint::current_a(run)).map(|(arc, amperes)| arc.at(amperes).0);
    !in_joint::pulsed(run) && middle.zip(usual).is_some_and(|(middle, usual)| usual.contains(middle))
}
