//! A run seen as a weld in its joint: what settings in print span for its thickness, joint and position, and the heat of
//! all runs beside the least that fuses the joint.

use std::cell::RefCell;

use seamwright_calc::fusion as formulas;
use seamwright_handbook::fusion::{self, ArcRow, MeltRow, RatioRow};
use seamwright_handbook::gmaw_parameters::Transfer;
use seamwright_handbook::gtaw_starting_points::Joint;
use seamwright_handbook::measure::MM_IN;
use seamwright_handbook::positions::{self, Product, Progression};
use seamwright_handbook::settings_by_thickness::{self as printed, Span};
use seamwright_handbook::{Band, find, rule};
use seamwright_model::procedure::{self, JointType, Layer, Polarity, Preparation, ShieldingGas, Side, keys};
use seamwright_model::quantity::{Current, Length, Speed, Temperature, Voltage};
use seamwright_model::stated::Stated;

use crate::consumption;
use crate::deposit::middle;
use crate::section;
use crate::view::{RunView, View};

/// The joint that runs are welded in.
#[derive(Debug)]
pub struct InJoint {
    /// Kind of joint.
    pub joint: Joint,
    /// Thickness of the thinnest part, mm, from the least to the most that is stated.
    pub thickness_mm: Band,
    /// Families of the metals.
    pub families: Vec<&'static str>,
    /// Whether each side is welded in one run.
    pub single: bool,
    /// What was looked up: runs are mostly alike.
    found: RefCell<Vec<Found>>,
}

/// What settings in print span for a process and a stretch of thickness in mm.
type Found = ((&'static str, Band), Option<Span>);

/// Which way a run goes, as far as its speed is concerned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Way {
    Flat,
    Up,
    Down,
    Overhead,
    /// Up around a fixed pipe.
    Around,
}

/// The joint of a procedure; nothing where kind, thickness or metal are not known.
pub fn of(view: &View<'_>) -> Option<InJoint> {
    let joint = match view.procedure.joint.as_ref()?.kind {
        JointType::Butt => Joint::Butt,
        JointType::Tee => Joint::Tee,
        JointType::Lap => Joint::Lap,
        JointType::Corner => Joint::Corner,
        JointType::Edge | JointType::Cavity => return None,
    };
    if view.weld().is_none_or(|weld| !weld.has_groove() && !weld.has_fillet()) {
        return None;
    }
    let each = view.metals.iter().filter_map(|metal| {
        let range = metal.stated.thickness.as_ref()?.value()?;
        let (low, high) = (range.low().or(range.high())?, range.high().or(range.low())?);
        Some(Band::new(low.mm(), high.mm()))
    });
    let thickness_mm = each.reduce(|a, b| if b.high < a.high { b } else { a }).filter(|range| range.low > 0.0)?;
    let mut families: Vec<&str> = view.metals.iter().map(|metal| metal.family()).collect();
    families.retain(|family| printed::family(family).is_some());
    families.dedup();
    if families.is_empty() || view.runs.is_empty() {
        return None;
    }
    let on = |side: Option<Side>| -> u32 {
        let runs = consumption::counted(view).filter(|(run, _)| (run.run.side == Some(Side::Second)) == side.is_some());
        runs.map(|(_, count)| count).sum()
    };
    let single = on(None) <= 1 && on(Some(Side::Second)) <= 1;
    Some(InJoint { joint, thickness_mm, families, single, found: RefCell::default() })
}

impl InJoint {
    /// As how thick a run of a weld of several runs counts, mm.
    pub fn layer_mm(run: &RunView<'_>) -> f64 {
        rule::get(printed::rules(), &format!("layer-{}", run.number())).unwrap_or(printed::LAYER).value.low
    }

    /// The thickness that a run counts as, mm: that of the joint, or of a layer of it and more.
    fn counts_as(&self, run: &RunView<'_>) -> Band {
        if self.single {
            // Those of a sheet that is thinner by a little are used on this one; those of a thicker one burn through.
            return Band::new(self.thickness_mm.low / printed::NEAR.value.high, self.thickness_mm.high);
        }
        Band::new(Self::layer_mm(run).min(self.thickness_mm.low), self.thickness_mm.high)
    }

    fn hull(&self, run: &RunView<'_>, thickness_mm: Band) -> Option<Span> {
        let key = (run.number(), thickness_mm);
        let known = self.found.borrow().iter().find(|(own, _)| *own == key).map(|(_, span)| span.clone());
        known.unwrap_or_else(|| {
            let span = self.looked_up(run, thickness_mm);
            self.found.borrow_mut().push((key, span.clone()));
            span
        })
    }

    fn looked_up(&self, run: &RunView<'_>, thickness_mm: Band) -> Option<Span> {
        let each = self.families.iter();
        let spans = each.filter_map(|family| printed::span(run.number(), family, self.joint, thickness_mm));
        spans.reduce(|a, b| {
            let both = |a: Option<Band>, b: Option<Band>| a.zip(b).map(|(a, b)| a.hull(b)).or(a).or(b);
            Span {
                current_a: both(a.current_a, b.current_a),
                travel: both(a.travel, b.travel),
                fill: both(a.fill, b.fill),
                up: both(a.up, b.up),
                down: both(a.down, b.down),
                published: a.published.min(b.published),
                publishers: a.publishers.min(b.publishers),
                from_mm: a.from_mm.min(b.from_mm),
                thinner: a.thinner && b.thinner,
                thicker: a.thicker && b.thicker,
                origin: a.origin,
            }
        })
    }

    /// What the settings in print span for the current of a run.
    pub fn currents(&self, run: &RunView<'_>) -> Option<Span> {
        let mut layer = self.counts_as(run);
        // Copper takes the heat of a layer into the whole plate: each run has the current of the plate.
        if let (false, ["copper"]) = (self.single, &*self.families) {
            layer.low = layer.low.max(printed::LAYER_COPPER.value.low.min(self.thickness_mm.low));
        }
        self.hull(run, layer)
    }

    /// The travel speeds in mm/min that settings in print span for a run, one for each position that it is welded in.
    pub fn speeds(&self, view: &View<'_>, run: &RunView<'_>) -> Vec<(String, Band)> {
        let layer = self.counts_as(run);
        let (share, slow, overhead) = (printed::TRAVEL_SHARE, printed::UP_OF_FLAT, printed::OVERHEAD_OF_FLAT);
        let thickness = if self.single {
            layer
        } else {
            Band::new(layer.low.max(share.value.low * layer.high).min(layer.high), layer.high)
        };
        let Some(span) = self.hull(run, thickness) else { return Vec::new() };
        // A speed up or down that is printed for thinner metal bounds that of thicker metal, which is welded slower.
        let around = || self.hull(run, Band::new(0.0, self.thickness_mm.high * SAME));
        let up = || span.up.or_else(|| around()?.up);
        let down = || span.down.or_else(|| around()?.down).or(span.travel);
        let slowed = || span.travel.map(|range| Band::new(range.low * slow.value.low, range.high));
        let stated = if run.run.positions.is_empty() { &view.procedure.positions } else { &run.run.positions };
        let over_the_root = !self.single
            && matches!(run.run.layer, Some(Layer::Fill | Layer::Cap))
            && run.transfer().is_none_or(|at| at.value != Transfer::ShortCircuit);
        let flat = if over_the_root { span.fill } else { span.travel };
        let cool = view.any_metal("steel")
            && run.transfer().is_some_and(|at| matches!(at.value, Transfer::ShortCircuit | Transfer::Pulsed));
        let places = stated.iter().filter_map(|text| Some((text.to_string(), way(view, text)?)));
        places
            .filter_map(|(text, way)| {
                let range = match way {
                    // Flat speeds of such wire in steel are mostly of spray, which no overhead pool holds.
                    Way::Overhead if cool => flat.map(|range| Band::new(range.low * overhead.value.low, range.high)),
                    Way::Flat | Way::Overhead => flat,
                    Way::Down => down(),
                    // With a rod makers print one speed for vertical and flat; a slag or a wire asks for that of its steepest part.
                    Way::Up | Way::Around if run.process.is_some_and(|process| process.uses_tungsten) => {
                        up().zip(span.travel).map(|(up, flat)| up.hull(flat)).or_else(slowed)
                    }
                    Way::Up | Way::Around => up().or_else(slowed),
                };
                Some((text, range?))
            })
            .collect()
    }
}

/// Cells whose thickness begins within this share above the joint count as those of the joint.
const SAME: f64 = 1.15;

fn way(view: &View<'_>, position: &str) -> Option<Way> {
    let row = positions::get(position)?;
    let downward = matches!(view.procedure.progression, Some(Stated::Is(procedure::Progression::Downward)));
    Some(match row.progression {
        Progression::Downward => Way::Down,
        Progression::Either if downward => Way::Down,
        _ if row.overhead && !row.vertical => Way::Overhead,
        _ if !row.vertical => Way::Flat,
        _ if row.product == Product::Pipe => Way::Around,
        _ => Way::Up,
    })
}

/// The middle of a stated range, or its one end.
pub fn current_a(run: &RunView<'_>) -> Option<f64> {
    middle(run.value(&keys::CURRENT)?.value, Current::amperes)
}

/// Whether the current of a run is pulsed: its mean then says little of arc and voltage.
pub fn pulsed(run: &RunView<'_>) -> bool {
    run.part(&keys::PULSE).is_some() || run.transfer().is_some_and(|at| at.value == Transfer::Pulsed)
}

/// The row of the voltage that the arc of a run has at its current.
pub fn arc(run: &RunView<'_>) -> Option<&'static ArcRow> {
    let named = |gas: &ShieldingGas| gas.composition.as_ref().map(|parts| parts.percent("He") > 0.0);
    let helium = run.gas().and_then(|gas| named(gas.value)).or_else(|| {
        let row = run.gas_row()?;
        let part = row.components().into_iter().any(|(name, range)| find::same(name, "He") && range.is_some());
        Some(part || row.balance.is_some_and(|balance| find::same(balance, "He")))
    });
    let helium = helium.unwrap_or(false);
    fusion::arc(run.number(), helium)
}

/// Net power of a run in W and its travel speed in mm/s: with the least heat per length, the middle, and the most.
struct Net {
    power_w: [f64; 3],
    speed_mm_s: [f64; 3],
}

fn net(run: &RunView<'_>, row: &RatioRow) -> Option<Net> {
    let alternating = run.value(&keys::POLARITY).is_some_and(|at| *at.value == Polarity::Ac);
    let efficiency = if alternating { row.efficiency_ac.unwrap_or(row.efficiency) } else { row.efficiency };
    let current = run.value(&keys::CURRENT)?.value;
    let amperes =
        [current.low().or(current.high())?.amperes(), current_a(run)?, current.high().or(current.low())?.amperes()];
    let volts = if let Some(at) = run.value(&keys::VOLTAGE) {
        let (low, high) = (at.value.low().or(at.value.high())?, at.value.high().or(at.value.low())?);
        [low.volts(), middle(at.value, Voltage::volts)?, high.volts()]
    } else {
        // An arc whose voltage is not stated has about the conventional one.
        let arc = arc(run)?;
        amperes.map(|amperes| arc.conventional_v(amperes))
    };
    let travel = run.value(&keys::TRAVEL_SPEED)?.value;
    let speed_mm_s = [
        travel.high().or(travel.low())?.mm_per_s(),
        middle(travel, Speed::mm_per_s)?,
        travel.low().or(travel.high())?.mm_per_s(),
    ];
    let [cold, middle, hot] = [0, 1, 2]
        .map(|at: usize| efficiency * amperes.get(at).copied().unwrap_or(0.0) * volts.get(at).copied().unwrap_or(0.0));
    Some(Net { power_w: [cold, middle, hot], speed_mm_s })
}

/// The heat of a joint over the least that fuses it: with the least heat that is stated, the middle, and the most.
#[derive(Debug, Clone, Copy)]
pub struct HeatRatio {
    /// With the least heat that is stated, over the largest joint.
    pub cold: f64,
    /// The middle over the smallest joint that the document covers.
    pub middle_at_small: f64,
    /// The middle over the largest.
    pub middle_at_large: f64,
    /// With the most, over the smallest joint.
    pub hot: f64,
    /// What is usual.
    pub usual: Band,
    /// What can be.
    pub widest: Band,
    /// Where the limits are written.
    pub row: &'static RatioRow,
}

/// The heat of all runs over the heat that melts the cross-section of the weld; nothing for a square butt, whose edges are
/// melted and not filled, and where a quantity is not stated.
pub fn heat_ratio(view: &View<'_>) -> Option<HeatRatio> {
    let melt = melt(view)?;
    let best = fusion::MELTING_EFFICIENCY.value.high;
    let grooved = view.weld()?.has_groove();
    if grooved && square(view) {
        return None;
    }
    let area = section::of(view, None).ok()?.area_mm2;
    let (mut heat, mut limits): ([f64; 3], Vec<(f64, &RatioRow)>) = ([0.0; 3], Vec::new());
    for (run, count) in consumption::counted(view) {
        // The runs of a fillet's second side fill a second fillet.
        if !grooved && run.run.side == Some(Side::Second) {
            continue;
        }
        let row = fusion::ratio(run.number(), view.metals.first()?.family(), grooved)?;
        let net = net(run, row)?;
        let before = heat[1];
        for ((sum, power), speed) in heat.iter_mut().zip(net.power_w).zip(net.speed_mm_s) {
            *sum += f64::from(count) * power / speed;
        }
        limits.push((heat[1] - before, row));
    }
    let row = limits.iter().max_by(|a, b| a.0.total_cmp(&b.0))?.1;
    // Each process counts by its share of the heat.
    let shared = |get: fn(&RatioRow) -> f64| limits.iter().map(|(own, row)| own / heat[1] * get(row)).sum::<f64>();
    let usual = Band::new(shared(|row| row.usual.low), shared(|row| row.usual.high));
    let widest = Band::new(shared(|row| row.widest.low), shared(|row| row.widest.high));
    let ratio = |heat: f64, area: f64| formulas::heat_ratio(heat, area, melt.j_per_mm3, best).ok();
    let [cold, middle, hot] = heat;
    // Of a range of thickness each end must do with what is stated: too little is judged on the smallest joint, too much on
    // the largest.
    let stretch = of(view).is_some_and(|joint| joint.thickness_mm.high > SAME * joint.thickness_mm.low);
    let (small, large) = if stretch { (area.low, area.high) } else { (area.middle, area.middle) };
    Some(HeatRatio {
        cold: ratio(cold, area.high)?,
        middle_at_small: ratio(middle, small)?,
        middle_at_large: ratio(middle, large)?,
        hot: ratio(hot, area.low)?,
        usual,
        widest,
        row,
    })
}

/// The power of the one run of a square butt over the least that fuses it through.
pub fn square_ratio<'v, 'd>(view: &'v View<'d>) -> Option<(&'v RunView<'d>, [f64; 3])> {
    let joint = of(view).filter(|joint| joint.joint == Joint::Butt)?;
    if !square(view) || !view.full_penetration() || !view.one_sided() {
        return None;
    }
    let mut runs = consumption::counted(view);
    let (Some((run, 1)), None) = (runs.next(), runs.next()) else { return None };
    let thickness_mm = joint.thickness_mm.low;
    if thickness_mm > fusion::SQUARE_TO_MM.value.high {
        return None;
    }
    let plate_c = view.procedure.preheating().and_then(|range| range.low()).map(Temperature::celsius);
    // Copper leads the heat away so fast that the rule tells nothing of it cold.
    if view.any_metal("copper") && plate_c.is_none_or(|celsius| celsius < WARM_C) {
        return None;
    }
    let melt = melt(view)?;
    let row = fusion::ratio(run.number(), view.metals.first()?.family(), true)?;
    let tungsten = run.process?.uses_tungsten;
    let least_width = if tungsten { fusion::LEAST_WIDTH_141 } else { fusion::LEAST_WIDTH }.value.low;
    let strip = formulas::Strip {
        thickness_mm,
        width_mm: thickness_mm.max(least_width),
        heat_j_mm3: melt.j_per_mm3,
        conductivity_w_mm_k: melt.conductivity_w_mm_k,
        rise_k: melt.melting_c - plate_c.unwrap_or(ROOM_C),
    };
    let net = net(run, row)?;
    let at = |power: f64, speed: f64| Some(power / strip.least_power_w(speed).ok()?);
    let ([cold, middle, hot], [fast, usual, slow]) = (net.power_w, net.speed_mm_s);
    Some((run, [at(cold, fast)?, at(middle, usual)?, at(hot, slow)?]))
}

/// Temperature of a plate that is not heated, °C.
const ROOM_C: f64 = 20.0;
/// Preheat from which copper is warm, °C.
const WARM_C: f64 = 100.0;

fn melt(view: &View<'_>) -> Option<&'static MeltRow> {
    fusion::melt(view.metals.first()?.family())
}

fn square(view: &View<'_>) -> bool {
    let shape = view.procedure.joint.as_ref().and_then(|joint| joint.preparation.as_ref()).and_then(Stated::value);
    matches!(shape, Some(Preparation::Square))
        || shape.is_none() && view.procedure.joint.as_ref().is_some_and(|joint| joint.included_angle.is_none())
}

/// Lowest stated thickness of the joint in words: "3 mm".
pub fn thickness_words(view: &View<'_>) -> Option<String> {
    let each = view.metals.iter().filter_map(|metal| {
        let range = metal.stated.thickness.as_ref()?.value()?;
        Some((range.high().or(range.low()).map(Length::mm)?, range.spelled()))
    });
    each.reduce(|a, b| if b.0 < a.0 { b } else { a }).map(|(_, text)| text.to_owned())
}

/// A range of speeds in mm/min in the unit in which a speed is spelled, and that unit.
pub fn speeds_like(spelled: &str, mm_min: Band) -> (Band, &'static str) {
    let (size, unit) = match spelled.trim_end().rsplit_once(' ').map_or(spelled, |(_, unit)| unit) {
        "in/min" | "ipm" | "IPM" => (MM_IN, "in/min"),
        "cm/min" => (10.0, "cm/min"),
        "m/min" => (1000.0, "m/min"),
        _ => (1.0, "mm/min"),
    };
    let tenths = |mm_min: f64| if size > 1.0 { (mm_min / size * 10.0).round() / 10.0 } else { mm_min.round() };
    (Band::new(tenths(mm_min.low), tenths(mm_min.high)), unit)
}
