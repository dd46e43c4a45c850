//! What the checks of processes with a wire electrode share: the settings of a run beside the limits of its wire.
//!
//! [`examine`] holds one setting of every run against the handbook. Another setting is a variant of [`Setting`] with its
//! line in [`Setting::of`] and [`Setting::limits`].

use seamwright_handbook::designation;
use seamwright_handbook::measure::figure;
use seamwright_handbook::processes::Wire as Kind;
use seamwright_handbook::{Band, Limits, SourceRef, fcaw_parameters, find, gmaw_parameters, positions};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{self, ShieldingGas, keys};
use seamwright_model::quantity::{Current, Frequency, Length, Quantity, Range, Speed, Voltage};
use seamwright_model::stated::Stated;
use seamwright_weld::view::At;
use seamwright_weld::wire::Wire;
use seamwright_weld::{RunView, View, in_joint};

use super::bounds::{Side, Value, typical};
use crate::rule::{Examiner, Report, range_limit};

/// A setting of a process with a wire electrode.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Setting {
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
        fn value<Q: Quantity>(at: At<'_, Range<Q>>, figure: impl Fn(Q) -> f64) -> Value<'_> {
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
    pub(super) fn limits(self, wire: &Wire<'_>) -> Option<Limits> {
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

/// The positions in which a run is welded: its own, else those of the document; each with its pointer.
pub(crate) fn run_positions<'d>(view: &View<'d>, run: &RunView<'d>) -> Vec<(String, &'d str, &'static positions::Row)> {
    let (stated, section) = if run.run.positions.is_empty() {
        (&view.procedure.positions, String::new())
    } else {
        (&run.run.positions, run.pointer())
    };
    let places = stated.iter().enumerate();
    places
        .filter_map(|(at, text)| Some((format!("{section}/positions/{at}"), &**text, positions::get(text)?)))
        .collect()
}

/// What a position asks of a consumable, in the words of designations: `vertical-up`, `vertical-down`, `overhead`.
pub(super) fn asked_of(view: &View<'_>, position: &positions::Row) -> Vec<&'static str> {
    let downward = matches!(view.procedure.progression, Some(Stated::Is(procedure::Progression::Downward)));
    let down = match position.progression {
        positions::Progression::Downward => true,
        positions::Progression::Either => downward,
        positions::Progression::Upward | positions::Progression::None => false,
    };
    let mut asked = Vec::new();
    if position.vertical {
        asked.push(if down { "vertical-down" } else { "vertical-up" });
    }
    if position.overhead {
        asked.push("overhead");
    }
    asked
}

/// Reports a position of a run, in words, that the class of its consumable does not permit.
pub(super) fn not_permitted<'x>(
    x: &'x mut Examiner<'_>,
    (pointer, stated): (String, &str),
    (consumable, position): (&str, &str),
    permitted: &[&str],
    source: Option<SourceRef>,
) -> Report<'x> {
    let limit = permitted.join(", ");
    let message = format!("{consumable} is not for welding {position} ({stated}); its positions are {limit}");
    let report = x.report(Severity::Error, pointer, message).stated(stated);
    match source {
        Some(source) => report.limit(limit, &source),
        None => report,
    }
}

/// Percent by volume of a component of a gas: by its composition, else by its designation, else by its symbol.
pub(super) fn share(gas: &ShieldingGas, component: &str) -> Option<Band> {
    let exact = |percent: f64| Band::at(percent);
    if let Some(composition) = &gas.composition {
        return Some(exact(composition.percent(component)));
    }
    let read = designation::gas::parse(gas.designation.as_deref()?).ok()?;
    if !read.composition.is_empty() {
        let parts = read.composition.iter().filter(|(name, _)| find::same(name, component));
        return Some(exact(parts.map(|(_, percent)| percent).sum()));
    }
    let own = read.row.components().into_iter().find(|(name, _)| find::same(name, component));
    if let Some(range) = own.and_then(|(_, range)| range) {
        return Some(range);
    }
    if read.row.balance.is_some_and(|balance| find::same(balance, component)) {
        let others = read.row.components().into_iter().filter_map(|(_, range)| range);
        let rest = others.fold(Band::at(0.0), |sum, part| Band::new(sum.low + part.low, sum.high + part.high));
        return Some(Band::new(100.0 - rest.high, 100.0 - rest.low));
    }
    Some(exact(0.0))
}

/// JSON pointer of what names a gas: its composition, else its designation.
pub(super) fn gas_pointer(gas: &At<'_, ShieldingGas>) -> String {
    let key = if gas.value.composition.is_some() { "composition" } else { "designation" };
    format!("{}/{key}", gas.pointer)
}

/// A gas in words: its designation, else its composition.
pub(super) fn gas_words(gas: &ShieldingGas) -> String {
    match (&gas.designation, &gas.composition) {
        (Some(designation), _) => designation.to_string(),
        (None, Some(parts)) => {
            let parts: Vec<String> =
                parts.iter().map(|(name, percent)| format!("{} % {name}", figure(percent))).collect();
            parts.join(", ")
        }
        (None, None) => "that is not named".to_owned(),
    }
}
