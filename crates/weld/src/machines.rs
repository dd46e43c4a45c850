//! Which machine of a shop can weld a run, what the others lack, and what to set.

use seamwright_calc::band::below;
use seamwright_calc::duty_cycle::{self, DutyCycle};
use seamwright_handbook::trade_words::{self, Kind};
use seamwright_handbook::{deposition, find, processes};
use seamwright_model::procedure::{ArcStart, CurrentControl, keys};
use seamwright_model::quantity::{Current, Duration, Quantity, Range, Share};
use seamwright_model::shop::{PowerSource, Shop};
use seamwright_model::stated::{Stated, YesNo};

use crate::view::{Located, RunView, View};

/// Something that a run asks for and a machine does not give.
#[derive(Debug, Clone, PartialEq)]
pub struct Lack {
    /// What is lacking, in words.
    pub what: String,
    /// JSON pointer of the value that asks for it.
    pub pointer: String,
    /// The value as stated.
    pub stated: String,
    /// What the machine gives.
    pub gives: String,
}

impl Lack {
    /// What the machine has of the kind, in words.
    pub fn has(&self) -> &str {
        if self.gives.is_empty() || self.gives == NOTHING { "none" } else { &self.gives }
    }
}

/// What stands in [`Lack::gives`] where a machine has nothing of the kind.
const NOTHING: &str = "nothing of the kind";

/// A machine held against a run.
#[derive(Debug, Clone)]
pub struct Fitness<'s> {
    /// The machine.
    pub machine: &'s PowerSource,
    /// Whether it welds the process at all.
    pub welds: bool,
    /// What it lacks; nothing where it can weld the run.
    pub lacks: Vec<Lack>,
    /// Duty cycle at the highest current of the run, where the machine's rated points tell.
    pub duty: Option<DutyCycle>,
    /// Whether the gas is opened by hand at the torch.
    pub gas_by_hand: bool,
}

/// The processes that a word names, which may be one of the trade: `flux core` is 136 and 114.
pub fn processes_of(word: &str) -> Vec<&'static processes::Row> {
    if let Some(row) = processes::get(word) {
        return vec![row];
    }
    let Some(trade) = trade_words::get(Kind::Process, word) else { return Vec::new() };
    // A machine for one kind of flux cored wire feeds the other as well.
    std::iter::once(&trade.means).chain(&trade.self_shielded).filter_map(|name| processes::get(name)).collect()
}

/// Whether two names mean one process.
pub fn same_process(one: &str, other: &str) -> bool {
    let others = processes_of(other);
    // Letters name several numbers.
    let same =
        |one: &processes::Row, other: &processes::Row| one.number == other.number || one.letters == other.letters;
    processes_of(one).into_iter().any(|one| others.iter().any(|other| same(one, other)))
}

/// The machine of a shop with this name.
pub fn find<'s>(shop: &'s Shop, name: &str) -> Option<&'s PowerSource> {
    shop.power_sources.iter().find(|machine| find::same(&machine.name, name))
}

/// The best machine for each process of a procedure, with what it lacks for any run of it.
///
/// A machine that the runs name is the only one that counts, where the shop has it; runs of one process on two machines are
/// two entries.
pub fn for_processes<'s, 'd>(shop: &'s Shop, view: &'d View<'d>) -> Vec<(&'d RunView<'d>, Fitness<'s>)> {
    let mut done: Vec<(&str, Option<&str>)> = Vec::new();
    let mut best: Vec<(&RunView<'_>, Fitness<'_>)> = Vec::new();
    for run in &view.runs {
        let machine = run.machine().map(|at| at.value);
        if run.process.is_none() || done.contains(&(run.number(), machine)) {
            continue;
        }
        done.push((run.number(), machine));
        let same =
            |other: &&RunView<'_>| other.number() == run.number() && other.machine().map(|at| at.value) == machine;
        let runs: Vec<&RunView<'_>> = view.runs.iter().filter(same).collect();
        let only = machine.and_then(|name| find(shop, name));
        let mut machines: Vec<(&RunView<'_>, Fitness<'_>)> = Vec::new();
        for machine in shop.power_sources.iter().filter(|machine| only.is_none_or(|only| std::ptr::eq(only, *machine)))
        {
            let mut of_all: Option<(&RunView<'_>, Fitness<'_>)> = None;
            for run in &runs {
                let own = fitness(shop, machine, run);
                match &mut of_all {
                    None => of_all = Some((run, own)),
                    Some((hardest, whole)) => {
                        for lack in own.lacks {
                            if !whole
                                .lacks
                                .iter()
                                .any(|other| other.what == lack.what && (other.pointer == lack.pointer || !own.welds))
                            {
                                whole.lacks.push(lack);
                            }
                        }
                        if let Some(duty) = own.duty
                            && whole.duty.is_none_or(|other| duty.duty_cycle_pct < other.duty_cycle_pct)
                        {
                            whole.duty = Some(duty);
                            *hardest = run;
                        }
                    }
                }
            }
            machines.extend(of_all);
        }
        let rank = |(_, one): &(&RunView<'_>, Fitness<'_>)| {
            (
                !one.welds,
                one.lacks.len(),
                one.gas_by_hand,
                one.duty.map_or(i64::MAX, |duty| {
                    #[expect(clippy::cast_possible_truncation, reason = "a duty cycle lies within 0 and 100 %")]
                    let tenths = (duty.duty_cycle_pct * 10.0) as i64;
                    -tenths
                }),
            )
        };
        machines.sort_by_key(rank);
        best.extend(machines.into_iter().next());
    }
    best
}

fn fitness<'s>(shop: &'s Shop, machine: &'s PowerSource, run: &RunView<'_>) -> Fitness<'s> {
    let list = |words: Vec<String>| words.join(", ");
    if !machine.processes.is_empty() && !machine.processes.iter().any(|own| same_process(own, run.number())) {
        let lack = Lack {
            what: "process".to_owned(),
            pointer: format!("{}/process", run.pointer()),
            stated: run.number().to_owned(),
            gives: list(machine.processes.iter().map(ToString::to_string).collect()),
        };
        // Of a process that it does not weld nothing else need be said.
        return Fitness { machine, welds: false, lacks: vec![lack], duty: None, gas_by_hand: false };
    }
    let mut lacks = Vec::new();
    let mut lack = |what: &str, pointer: String, stated: String, gives: String| {
        lacks.push(Lack { what: what.to_owned(), pointer, stated, gives });
    };
    let polarity = run.value(&keys::POLARITY);
    if let Some(at) = &polarity
        && !machine.polarity.is_empty()
        && !machine.polarity.contains(at.value)
    {
        lack(
            "polarity",
            at.pointer.clone(),
            at.value.to_string(),
            list(machine.polarity.iter().map(ToString::to_string).collect()),
        );
    }
    let mut within = |what: &str, stated: Option<(String, String, bool)>, gives: &dyn Fn() -> String| {
        if let Some((pointer, stated, covered)) = stated
            && !covered
        {
            lack(what, pointer, stated, gives());
        }
    };
    let current = run.value(&keys::CURRENT);
    let own_current = machine
        .current_by_process
        .iter()
        .find(|(name, _)| same_process(name, run.number()))
        .map(|(_, range)| range)
        .or(machine.current.as_ref())
        .and_then(Stated::value);
    // The stated ends: a range open below is as good as its high end.
    within(
        "current",
        current
            .as_ref()
            .zip(own_current)
            .map(|(at, own)| (at.pointer.clone(), at.value.to_string(), reaches(own, at.value))),
        &|| own_current.map(ToString::to_string).unwrap_or_default(),
    );
    let pulse = run.part(&keys::PULSE);
    if let Some((section, peak)) =
        pulse.as_ref().and_then(|at| Some((&at.pointer, at.value.peak_current.as_ref().and_then(Stated::value)?)))
    {
        within(
            "peak current",
            own_current.map(|own| (format!("{section}/peak_current"), peak.to_string(), reaches(own, peak))),
            &|| own_current.map(ToString::to_string).unwrap_or_default(),
        );
    }
    if let Some(at) = &pulse {
        within(
            "pulse",
            machine.pulse.as_ref().map(|has| (at.pointer.clone(), "pulsed current".to_owned(), has.0)),
            &|| "no pulse".to_owned(),
        );
        let own = machine.pulse_frequency.as_ref().and_then(Stated::value);
        let stated = at.value.frequency.as_ref().and_then(Stated::value);
        within(
            "pulse frequency",
            stated
                .zip(own)
                .map(|(stated, own)| (format!("{}/frequency", at.pointer), stated.to_string(), reaches(own, stated))),
            &|| own.map(ToString::to_string).unwrap_or_default(),
        );
    }
    let voltage = run.value(&keys::VOLTAGE);
    let own_voltage = machine.voltage.as_ref().and_then(Stated::value);
    let wire = run.process.is_some_and(|process| process.uses_wire_feed);
    within(
        "voltage",
        voltage
            .zip(own_voltage)
            .filter(|_| wire)
            .map(|(at, own)| (at.pointer.clone(), at.value.to_string(), reaches(own, at.value))),
        &|| own_voltage.map(ToString::to_string).unwrap_or_default(),
    );
    let feed = run.value(&keys::WIRE_FEED_SPEED);
    let own_feed = machine.wire_feed_speed.as_ref().and_then(Stated::value);
    within(
        "wire feed speed",
        feed.zip(own_feed).map(|(at, own)| (at.pointer.clone(), at.value.to_string(), reaches(own, at.value))),
        &|| own_feed.map(ToString::to_string).unwrap_or_default(),
    );
    let ac = run.value(&keys::AC);
    if let (Some(at), Some(own)) = (&ac, &machine.ac) {
        let pair =
            own.frequency.as_ref().and_then(Stated::value).zip(at.value.frequency.as_ref().and_then(Stated::value));
        within(
            "frequency",
            pair.map(|(own, stated)| (format!("{}/frequency", at.pointer), stated.to_string(), reaches(own, stated))),
            &|| pair.map(|(own, _)| own.to_string()).unwrap_or_default(),
        );
        let pair = own
            .electrode_negative
            .as_ref()
            .and_then(Stated::value)
            .zip(at.value.electrode_negative.as_ref().and_then(Stated::value));
        within(
            "electrode-negative share",
            pair.map(|(own, stated)| {
                (format!("{}/electrode_negative", at.pointer), stated.to_string(), reaches(own, stated))
            }),
            &|| pair.map(|(own, _)| own.to_string()).unwrap_or_default(),
        );
    }
    // The electrode can be scratched on any machine.
    if let Some(at) = run.value(&keys::ARC_START) {
        let known =
            *at.value == ArcStart::Scratch || machine.arc_start.is_empty() || machine.arc_start.contains(at.value);
        within("arc start", Some((at.pointer, at.value.to_string(), known)), &|| {
            list(machine.arc_start.iter().map(ToString::to_string).collect())
        });
    }
    if let Some(at) = run.value(&keys::CURRENT_CONTROL) {
        let known = *at.value == CurrentControl::Fixed
            || machine.current_control.is_empty()
            || machine.current_control.contains(at.value);
        within("current control", Some((at.pointer, at.value.to_string(), known)), &|| {
            list(machine.current_control.iter().map(ToString::to_string).collect())
        });
    }
    let seconds = |stated: Option<Located<'_, Range<Duration>>>, has: Option<&YesNo>| {
        let at = stated.filter(|at| at.value.high().or(at.value.low()).is_some_and(|end| end.seconds() > 0.0))?;
        Some((at.pointer, at.value.to_string(), has.is_none_or(|has| has.0)))
    };
    let none = || NOTHING.to_owned();
    let slope = run.value(&keys::UP_SLOPE);
    within("up-slope", seconds(slope, machine.slopes.as_ref()), &none);
    let slope = run.value(&keys::DOWN_SLOPE);
    within("down-slope", seconds(slope, machine.slopes.as_ref()), &none);
    for (what, at, has) in [
        ("inductance", run.setting(&keys::INDUCTANCE), &machine.inductance),
        ("arc force", run.setting(&keys::ARC_FORCE), &machine.arc_force),
    ] {
        let stated = at.filter(|at| !matches!(at.value, "none" | "off" | "0"));
        let covered = has.as_ref().is_none_or(|has| has.0);
        within(what, stated.map(|at| (at.pointer, at.value.to_owned(), covered)), &none);
    }
    let tungsten = run.process.is_some_and(|process| process.uses_tungsten);
    let gas_by_hand = tungsten && machine.gas_solenoid.as_ref().is_some_and(|solenoid| !solenoid.0);
    let valve =
        shop.torches.is_empty() || shop.torches.iter().any(|torch| torch.valve.as_ref().is_some_and(|has| has.0));
    if gas_by_hand && !valve {
        let pointer = run.gas().map_or_else(|| run.pointer(), |at| at.pointer);
        within("valve for the gas", Some((pointer, "shielding gas".to_owned(), false)), &|| {
            "no solenoid and no torch with a valve".to_owned()
        });
    }
    let duty = current
        .as_ref()
        .and_then(|at| at.value.high().or(at.value.low()))
        .and_then(|high| duty_at(machine, run.number(), high.amperes()));
    Fitness { machine, welds: true, lacks, duty, gas_by_hand }
}

/// What a welder does by hand on a machine, for want of what it does not do by itself; shop practice.
pub fn by_hand(fitness: &Fitness<'_>, run: &RunView<'_>) -> Vec<String> {
    let machine = fitness.machine;
    let mut all = Vec::new();
    if !fitness.welds || !run.process.is_some_and(|process| process.uses_tungsten) {
        return all;
    }
    let has = |stated: Option<&YesNo>| stated.is_some_and(|has| has.0);
    let lacks = |stated: Option<&YesNo>| stated.is_some_and(|has| !has.0);
    let stick: Vec<&str> = [("hot start", &machine.hot_start), ("arc force", &machine.arc_force)]
        .into_iter()
        .filter(|(_, stated)| has(stated.as_ref()))
        .map(|(what, _)| what)
        .collect();
    if !stick.is_empty() {
        all.push(format!("{} off: they are for covered electrodes", stick.join(" and ")));
    }
    if lacks(machine.slopes.as_ref()) {
        // Where a valve is opened by hand, the hook-up says how long the torch is held there.
        let held = if fitness.gas_by_hand { "" } else { " and hold the torch over the crater while gas flows" };
        all.push(format!(
            "no down-slope: move back over the bead to fill the crater, then draw the arc out quickly{held}"
        ));
    }
    all
}

/// Whether a machine reaches every stated end of a range.
fn reaches<Q: Quantity>(own: &Range<Q>, stated: &Range<Q>) -> bool {
    [stated.low(), stated.high()].into_iter().flatten().all(|end| own.contains(end))
}

/// The duty cycle of a machine at a current (A), from the rated point next to it.
pub fn duty_at(machine: &PowerSource, process: &str, amperes: f64) -> Option<DutyCycle> {
    let points = machine.rated_points.iter().filter_map(|point| {
        if !point.process.as_deref().is_none_or(|own| same_process(own, process)) {
            return None;
        }
        let current = point.current.value()?.middle().map(Current::amperes)?;
        Some((current, point.duty_cycle.value()?.middle().map(Share::percent)?))
    });
    let mut all: Vec<(f64, f64)> = points.collect();
    all.sort_by(|a, b| a.0.total_cmp(&b.0));
    // The next point above is on the safe side; past the last one the last one must do.
    let (current, duty) = all.iter().copied().find(|(current, _)| !below(*current, amperes)).or(all.last().copied())?;
    duty_cycle::duty_cycle(current, duty, amperes).ok()
}

/// The duty cycle of a machine at the highest current of a run, A, and that current.
///
/// Nothing where the machine's rated points do not tell, or where it may weld without a stop.
pub fn short_duty(fitness: &Fitness<'_>, run: &RunView<'_>) -> Option<(DutyCycle, f64)> {
    let duty = fitness.duty.filter(|duty| duty.duty_cycle_pct < 99.5)?;
    let current = run.value(&keys::CURRENT)?.value;
    Some((duty, current.high().or(current.low())?.amperes()))
}

/// How long the arc burns in ten minutes by the usual operating factor of a run's process, min, and how it is mechanized.
pub fn usual_arc_minutes(run: &RunView<'_>) -> Option<(f64, String, &'static deposition::OperatingFactorRow)> {
    let mechanization = run
        .value(&keys::MECHANIZATION)
        .map(|at| at.value.to_string())
        .or_else(|| run.process?.mechanization.first().map(|own| (*own).to_owned()))?;
    let row = deposition::operating_factor(run.number(), &mechanization)?;
    let pct = row.arc_on_typical_pct.unwrap_or_else(|| row.arc_on_pct.middle());
    Some((duty_cycle::PERIOD_MIN * pct / 100.0, mechanization, row))
}
