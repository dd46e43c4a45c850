//! Settings moved to where the checks hold them: a finding names the run, the quantity and its limit.

use seamwright_check::rules::heat::heat_too_much_for_joint;
use seamwright_check::rules::joint::runs_overfill_joint;
use seamwright_handbook::Band;
use seamwright_handbook::measure::band;
use seamwright_handbook::planning;
use seamwright_model::finding::Finding;
use seamwright_model::quantity::{Current, Quantity, Range, Speed, Voltage};

use crate::figures::{opened, rounded, rule, stepped};

const TOO_MUCH_HEAT: &str = heat_too_much_for_joint::RULE.name;
const TOO_MUCH_METAL: &str = runs_overfill_joint::RULE.name;

/// Preheat and highest interpass temperature, °C.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Warmth {
    pub(crate) cold: f64,
    pub(crate) hot: f64,
}

/// What the settings of a run are held within.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Hold {
    current_a: Option<Band>,
    voltage_v: Option<Band>,
    travel_mm_min: Option<Band>,
    /// Travel speed over that which the tables give.
    faster: f64,
    /// Current over that which the tables give.
    less: f64,
    /// The temperatures that the runs share, where the metal must cool in time.
    pub(crate) warmth: Option<Warmth>,
}

impl Default for Hold {
    fn default() -> Self {
        Self { current_a: None, voltage_v: None, travel_mm_min: None, faster: 1.0, less: 1.0, warmth: None }
    }
}

impl Hold {
    /// A current in amperes, of an electrode or a wire with a range of its own.
    pub(crate) fn current(&self, own: Band, all: Band) -> Band {
        let less = if self.less < 1.0 { rounded(own.scaled(self.less), 1.0) } else { own };
        let held = moved(less, self.current_a, 1.0);
        if held == own { own } else { held.overlap(all).filter(|both| both.high > both.low).unwrap_or(own) }
    }

    /// A voltage in volts.
    pub(crate) fn voltage(&self, own: Band) -> Band {
        let (wide, _) = rule(planning::NARROW_VOLTAGE);
        let narrow = Band::new(own.low, own.high.min(wide.high * own.low));
        if moved(own, self.voltage_v, 0.5) == own { own } else { moved(narrow, self.voltage_v, 0.5) }
    }

    /// A travel speed in millimetres per minute.
    pub(crate) fn travel(&self, own: Band) -> Band {
        let by = self.faster;
        let (least, _) = rule(planning::RANGE_LEAST);
        let faster = || stepped(opened(own.scaled(by), least.high, 5.0));
        let own = if by > 1.0 { faster() } else { own };
        moved(own, self.travel_mm_min, 5.0)
    }

    /// The part of the widest travel speed, mm/min, in which the middle of a range that a hand can hold keeps to the limit.
    pub(crate) fn widest(&self, own: Band) -> Band {
        let Some(limit) = self.travel_mm_min else { return own };
        let (narrow, _) = rule(planning::NARROW_SPEED);
        let low = 2.0 * limit.low / (1.0 + narrow.high);
        let high = 2.0 * limit.high * narrow.high / (1.0 + narrow.high);
        own.overlap(Band::new(low, high)).unwrap_or(own)
    }

    /// Whether a faster travel than that of the tables is asked for.
    pub(crate) fn moved_faster(&self) -> bool {
        self.faster > 1.0
    }

    /// Whether travel is moved.
    pub(crate) fn moves_travel(&self, own: Band) -> bool {
        self.travel(own) != own
    }
}

/// A range whose middle lies outside a limit moved inside, as wide in proportion as it was.
fn moved(own: Band, limit: Option<Band>, step: f64) -> Band {
    let Some(limit) = limit.filter(|limit| !limit.contains(own.middle())) else { return own };
    let ratio = own.high / own.low;
    let moved = if own.middle() < limit.low {
        Band::new(limit.low, limit.high.min(limit.low * ratio))
    } else {
        Band::new(limit.low.max(limit.high / ratio), limit.high)
    };
    let (least, _) = rule(planning::RANGE_LEAST);
    opened(rounded(moved, step), ratio.min(least.high), step)
}

/// The holds of the runs, by their place on the page.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Holds {
    runs: Vec<Hold>,
    /// How often leg and heat were found not to fit.
    leg_steps: u32,
    moves: u32,
    warmth: Option<Warmth>,
}

impl Holds {
    /// Nothing held but the temperatures of the weld.
    pub(crate) fn at(warmth: Option<Warmth>) -> Self {
        Self { warmth, ..Self::default() }
    }

    /// The hold of a run.
    pub(crate) fn of(&self, place: usize) -> Hold {
        Hold { warmth: self.warmth, ..self.runs.get(place).copied().unwrap_or_default() }
    }

    /// How many steps the leg of a fillet is larger than planned.
    pub(crate) fn leg_steps(&self) -> u32 {
        self.leg_steps
    }

    /// Learns from findings; whether something is held that was not.
    pub(crate) fn learn(&mut self, found: &[Finding], runs: usize) -> bool {
        let before = self.clone();
        self.runs.resize(runs, Hold::default());
        for finding in found {
            let Some(limit) = finding.limit.as_deref() else { continue };
            let mut parts = finding.pointer.trim_start_matches('/').split('/');
            if parts.next() != Some("runs") {
                continue;
            }
            let place = parts.next().and_then(|own| own.parse::<usize>().ok());
            let hold = place.and_then(|place| self.runs.get_mut(place));
            match (hold, parts.next()) {
                (Some(hold), Some("current")) => hold.current_a = both(hold.current_a, read(limit, Current::amperes)),
                (Some(hold), Some("voltage")) => hold.voltage_v = both(hold.voltage_v, read(limit, Voltage::volts)),
                (Some(hold), Some("travel_speed")) => {
                    hold.travel_mm_min = both(hold.travel_mm_min, read(limit, Speed::mm_per_min));
                }
                // Too much heat or metal: by turns a faster travel, less current, a larger fillet.
                (None, None) if matches!(finding.check, TOO_MUCH_HEAT | TOO_MUCH_METAL) => {
                    // As much as the heat asks for, in small steps.
                    let times = |text: &str| text.split_whitespace().next().and_then(|own| own.parse::<f64>().ok());
                    let over = finding.stated.as_deref().and_then(times).zip(times(limit));
                    let step = over.map_or(1.08, |(own, most)| (1.01 * own / most).clamp(1.02, 1.08));
                    match self.moves % 2 {
                        0 => self.runs.iter_mut().for_each(|hold| hold.faster *= step),
                        _ if finding.check == TOO_MUCH_HEAT => self.leg_steps += 1,
                        _ => self.runs.iter_mut().for_each(|hold| hold.less /= step),
                    }
                    self.moves += 1;
                }
                _ => {}
            }
        }
        before != *self
    }
}

/// What two limits have in common; the later one where they have nothing.
fn both(own: Option<Band>, other: Option<Band>) -> Option<Band> {
    match (own, other) {
        (Some(own), Some(other)) => Some(own.overlap(other).unwrap_or(other)),
        (own, other) => other.or(own),
    }
}

/// A limit as a finding prints it.
fn read<Q: Quantity>(text: &str, figure: impl Fn(Q) -> f64) -> Option<Band> {
    let range: Range<Q> = text.parse().ok()?;
    let own = band(&range, figure);
    // A limit is printed rounded: half a unit inside it holds.
    let (low, high) = ((own.low + 0.5).max(0.0), own.high - 0.5);
    (high > low).then(|| Band::new(low, high))
}
