//! Settings moved to where the checks hold them: a finding names the run, the quantity and its limit.

use seamwright_handbook::Range;
use seamwright_model::finding::Finding;
use seamwright_model::quantity::{Current, Quantity, Range as Stretch, Speed, Voltage};

/// What the settings of a run are held within.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Hold {
    current_a: Option<Range>,
    voltage_v: Option<Range>,
    travel_mm_min: Option<Range>,
    /// Travel speed over that which the tables give.
    faster: Option<f64>,
}

impl Hold {
    /// A current in amperes.
    pub(crate) fn current(&self, own: Range) -> Range {
        moved(own, self.current_a, 1.0)
    }

    /// A voltage in volts.
    pub(crate) fn voltage(&self, own: Range) -> Range {
        moved(own, self.voltage_v, 0.5)
    }

    /// A travel speed in millimetres per minute.
    pub(crate) fn travel(&self, own: Range) -> Range {
        let by = self.faster.unwrap_or(1.0);
        let own = if by > 1.0 {
            crate::settings::stepped(Range::new(own.low * by, own.high * by))
        } else {
            own
        };
        moved(own, self.travel_mm_min, 5.0)
    }

    /// Whether travel is moved.
    pub(crate) fn moves_travel(&self, own: Range) -> bool {
        self.travel(own) != own
    }
}

/// A range whose middle lies outside a limit moved inside, as wide in proportion as it was.
fn moved(own: Range, limit: Option<Range>, step: f64) -> Range {
    let Some(limit) = limit.filter(|limit| !limit.contains(own.middle())) else { return own };
    let ratio = own.high / own.low;
    let moved = if own.middle() < limit.low {
        Range::new(limit.low, limit.high.min(limit.low * ratio))
    } else {
        Range::new(limit.low.max(limit.high / ratio), limit.high)
    };
    crate::figures::rounded(moved, step)
}

/// The holds of the runs, by their place on the page.
#[derive(Debug, Clone, PartialEq, Default)]
pub(crate) struct Holds(Vec<Hold>);

impl Holds {
    /// The hold of a run.
    pub(crate) fn of(&self, place: usize) -> Hold {
        self.0.get(place).copied().unwrap_or_default()
    }

    /// Learns from findings; whether something is held that was not.
    pub(crate) fn learn(&mut self, found: &[Finding], runs: usize) -> bool {
        let before = self.clone();
        self.0.resize(runs, Hold::default());
        for finding in found {
            let Some(limit) = finding.limit.as_deref() else { continue };
            let mut parts = finding.pointer.trim_start_matches('/').split('/');
            if parts.next() != Some("runs") {
                continue;
            }
            let place = parts.next().and_then(|own| own.parse::<usize>().ok());
            let hold = place.and_then(|place| self.0.get_mut(place));
            match (hold, parts.next()) {
                (Some(hold), Some("current")) => hold.current_a = both(hold.current_a, read(limit, Current::amperes)),
                (Some(hold), Some("voltage")) => hold.voltage_v = both(hold.voltage_v, read(limit, Voltage::volts)),
                (Some(hold), Some("travel_speed")) => {
                    hold.travel_mm_min = both(hold.travel_mm_min, read(limit, Speed::mm_per_min));
                }
                // The heat of all runs, as a ratio: they travel faster by as much.
                (None, None) => {
                    let times = |text: &str| text.split_whitespace().next().and_then(|own| own.parse::<f64>().ok());
                    if let Some((own, most)) = finding.stated.as_deref().and_then(times).zip(times(limit)) {
                        for hold in &mut self.0 {
                            hold.faster = Some(hold.faster.unwrap_or(1.0) * (1.02 * own / most).max(1.0));
                        }
                    }
                }
                _ => {}
            }
        }
        before != *self
    }
}

/// What two limits have in common; the later one where they have nothing.
fn both(own: Option<Range>, other: Option<Range>) -> Option<Range> {
    match (own, other) {
        (Some(own), Some(other)) => Some(own.overlap(other).unwrap_or(other)),
        (own, other) => other.or(own),
    }
}

/// A limit as a finding prints it.
fn read<Q: Quantity>(text: &str, figure: impl Fn(Q) -> f64) -> Option<Range> {
    let range: Stretch<Q> = text.parse().ok()?;
    let (low, high) = (range.low().map(&figure), range.high().map(&figure));
    (low.is_some() || high.is_some()).then(|| Range::new(low.unwrap_or(0.0), high.unwrap_or(f64::INFINITY)))
}
