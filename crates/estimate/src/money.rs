//! What the work costs at a shop's rates, and the price of it.
//!
//! [`quote`] takes the estimates of all procedures of a job: what is paid for the job as a whole stands in it once.

use seamwright_handbook::{filler_classes, find, processes};
use seamwright_model::allowance::Per;
use seamwright_model::price::{Bought, Price};
use seamwright_model::quantity::{Duration, Quantity, Range, Share};
use seamwright_model::shop::{Rates, Shop, Working};
use seamwright_model::stated::{Named, Stated};
use seamwright_weld::consumption::GasPlace;
use seamwright_weld::stock::same_gas_word;

use crate::Estimate;

/// What to type where the rate of labour is missing.
pub const LABOUR_HINT: &str = "write `labour: 50 per h` under `rates`";

/// What a line of a cost is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Time at the work.
    Labour,
    /// Filler.
    Filler,
    /// Gas, and rental of its cylinders.
    Gas,
    /// Electricity.
    Electricity,
    /// What the shop charges besides.
    Charge,
    /// Rework.
    Rework,
    /// Overhead.
    Overhead,
}

/// One line of a cost, in the units of the shop's price.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// What it is for.
    pub kind: Kind,
    /// What is paid for.
    pub what: String,
    /// The amount in `unit`.
    pub amount: f64,
    /// Unit of the amount.
    pub unit: &'static str,
    /// Price of one unit.
    pub price: f64,
    /// What it costs.
    pub cost: f64,
}

impl Line {
    /// What the amount is a share of, where it is one in percent.
    pub fn share_of(&self) -> Option<f64> {
        (self.unit == "%").then_some(self.price * 100.0)
    }
}

/// What a weld costs, and its price.
#[derive(Debug, Clone, PartialEq)]
pub struct Cost {
    /// Currency as the shop names it, or empty text.
    pub currency: String,
    /// The lines.
    pub lines: Vec<Line>,
    /// Sum of the lines.
    pub total: f64,
    /// What is added to the cost: its name with the share, and the amount.
    pub added: Option<(String, f64)>,
    /// Whether the least charge of the shop stands in place of a lower price.
    pub least_charge: bool,
    /// What the customer pays.
    pub price: f64,
    /// The price by joint, in the order of the estimates.
    pub joints: Vec<JointPrice>,
    /// Time of all work, min.
    pub time_min: f64,
    /// Working days that the time fills, where the shop states its hours.
    pub days: Option<f64>,
    /// Whether the shop states a rate of labour; without it no price is whole.
    pub labour_stated: bool,
    /// What no rate is stated for, so that it is not in the cost.
    pub not_stated: Vec<String>,
}

/// The price of the joints of one name.
#[derive(Debug, Clone, PartialEq)]
pub struct JointPrice {
    /// Name of the joint.
    pub name: String,
    /// Which of the estimates it belongs to.
    pub estimate: usize,
    /// How many pieces.
    pub pieces: u32,
    /// Length of one, mm.
    pub length_mm: f64,
    /// Time of all of them, min.
    pub time_min: f64,
    /// Price of all of them.
    pub price: f64,
    /// Price of one.
    pub each: f64,
}

/// One end of a quantity that stands for it in a sum: its middle, else the end that is stated.
pub(crate) fn figure<Q: Quantity>(stated: Option<&Stated<Range<Q>>>, of: impl Fn(Q) -> f64) -> Option<f64> {
    let range = stated?.value()?;
    range.middle().or(range.low()).or(range.high()).map(of)
}

/// Joints of an estimate as the units of an allowance count them.
struct Work {
    pieces: f64,
    length_m: f64,
}

impl Work {
    fn count(&self, per: Per) -> f64 {
        match per {
            Per::Piece => self.pieces,
            Per::Joint => 1.0,
            Per::Job => 0.0,
            Per::Metre => self.length_m,
            Per::Foot => self.length_m / 0.3048,
        }
    }
}

#[derive(Default)]
struct Lines {
    all: Vec<Line>,
    not_stated: Vec<String>,
}

impl Lines {
    /// Adds an amount in the base unit of what is bought at a price; nothing where the amount is nothing.
    fn add(&mut self, kind: Kind, what: String, base: f64, price: Option<&Price>) {
        if base <= 0.0 {
            return;
        }
        let Some(price) = price else {
            let text = match kind {
                Kind::Labour => format!("the rate of labour ({LABOUR_HINT}), so it is not in the cost"),
                _ => format!("the rate of {what}, so it is not in the cost"),
            };
            if !self.not_stated.contains(&text) {
                self.not_stated.push(text);
            }
            return;
        };
        let (amount, each) = (price.units(base), price.amount());
        match self.all.iter_mut().find(|own| own.what == what && own.unit == price.per()) {
            Some(same) => {
                same.amount += amount;
                same.cost += amount * each;
            }
            None => self.all.push(Line { kind, what, amount, unit: price.per(), price: each, cost: amount * each }),
        }
    }

    fn sum(&self, of: impl Fn(&Line) -> bool) -> f64 {
        self.all.iter().filter(|line| of(line)).map(|line| line.cost).sum()
    }
}

/// What the work of several estimates costs together, and its price; nothing where the shop states no rates.
pub fn quote(estimates: &[&Estimate], shop: &Shop) -> Option<Cost> {
    let rates = shop.rates.as_ref()?;
    let mut lines = Lines::default();
    let labour = rates.labour.as_ref().filter(|price| price.of(Bought::Time).is_some());
    let times = shop.times.as_ref();
    let welding_min: f64 = estimates.iter().map(|estimate| estimate.working_time_min).sum();
    lines.add(Kind::Labour, "labour, welding".to_owned(), welding_min / 60.0, labour);
    // Time of each joint beside the arc, and that of the whole job.
    let mut beside: Vec<Vec<f64>> = estimates.iter().map(|estimate| vec![0.0; estimate.joints.len()]).collect();
    let mut of_job_min = 0.0;
    for (name, allowance) in times.into_iter().flat_map(|times| times.all()) {
        let Some(allowance) = allowance else { continue };
        let mut minutes = 0.0;
        if allowance.per() == Per::Job {
            minutes = allowance.minutes();
            of_job_min += minutes;
        }
        for (estimate, own) in estimates.iter().zip(&mut beside) {
            for (joint, time) in estimate.joints.iter().zip(own) {
                let work = work(joint);
                let part = allowance.minutes() * work.count(allowance.per());
                *time += part;
                minutes += part;
            }
        }
        lines.add(Kind::Labour, format!("labour, {}", name.replace('_', " ")), minutes / 60.0, labour);
    }
    goods_of(estimates, rates, &mut lines);
    let rework = rework(Some(shop));
    let rework_min = welding_min * rework;
    let rework_cost =
        rework * lines.sum(|line| matches!(line.kind, Kind::Filler | Kind::Gas) || line.what == "labour, welding");
    if rework_cost > 0.0 {
        lines.all.push(Line {
            kind: Kind::Rework,
            what: "rework of the welding".to_owned(),
            amount: rework * 100.0,
            unit: "%",
            price: rework_cost / (rework * 100.0),
            cost: rework_cost,
        });
    }
    let beside_min: f64 = beside.iter().flatten().sum();
    let time_min = welding_min + beside_min + of_job_min + rework_min;
    let days = days(shop.working.as_ref(), time_min);
    rental(estimates, rates, days, &mut lines);
    charges(estimates, rates, time_min, &mut lines);
    overhead(rates, time_min, rework_min, labour, &mut lines);
    let total: f64 = lines.all.iter().map(|line| line.cost).sum();
    let added = added(rates, total);
    let mut price = total + added.as_ref().map_or(0.0, |(_, amount)| *amount);
    let least = rates.least_charge.as_ref().and_then(|price| price.of(Bought::Job));
    let least_charge = least.is_some_and(|least| least > price);
    price = least.map_or(price, |least| least.max(price));
    let joints = joints(estimates, &beside, of_job_min + rework_min, price, rates);
    Some(Cost {
        currency: rates.currency.as_deref().unwrap_or_default().to_owned(),
        lines: lines.all,
        total,
        added,
        least_charge,
        price,
        joints,
        time_min,
        days,
        labour_stated: labour.is_some(),
        not_stated: lines.not_stated,
    })
}

/// The share of the welding that a shop reckons to do again.
pub(crate) fn rework(shop: Option<&Shop>) -> f64 {
    let times = shop.and_then(|shop| shop.times.as_ref());
    figure(times.and_then(|times| times.rework.as_ref()), Share::percent).map_or(0.0, |pct| pct / 100.0)
}

fn work(joint: &crate::Joint) -> Work {
    let pieces = f64::from(joint.count);
    Work { pieces, length_m: joint.length_mm * pieces / 1000.0 }
}

/// Filler, gas and electricity.
fn goods_of(estimates: &[&Estimate], rates: &Rates, lines: &mut Lines) {
    fillers(estimates, rates, lines);
    gases(estimates, rates, lines);
    let electricity = rates.electricity.as_ref().filter(|price| price.of(Bought::Energy).is_some());
    let energy = estimates.iter().map(|estimate| estimate.energy_kwh).sum();
    lines.add(Kind::Electricity, "electricity".to_owned(), energy, electricity);
}

fn fillers(estimates: &[&Estimate], rates: &Rates, lines: &mut Lines) {
    for filler in estimates.iter().flat_map(|estimate| &estimate.fillers) {
        let price = named(&rates.filler, |key| {
            find::same(key, &filler.designation)
                || same_class(key, &filler.designation)
                || processes::get(key).is_some_and(|row| row.number == filler.process)
        });
        let what = format!("filler {}", filler.designation);
        let amount = price.and_then(|price| match price.bought() {
            Bought::Mass => Some(filler.mass_kg.middle),
            #[expect(clippy::cast_precision_loss, reason = "a count of pieces is far below 2^53")]
            Bought::Piece => filler.pieces.map(|(count, _)| count as f64),
            Bought::Package => filler.packages(),
            _ => None,
        });
        lines.add(Kind::Filler, what, amount.unwrap_or(filler.mass_kg.middle), price.filter(|_| amount.is_some()));
    }
}

fn gases(estimates: &[&Estimate], rates: &Rates, lines: &mut Lines) {
    for gas in estimates.iter().flat_map(|estimate| &estimate.gases) {
        let price = named(&rates.gas, |key| same_gas_word(key, &gas.designation));
        let what = match gas.place {
            GasPlace::Torch => "gas",
            GasPlace::Root => "backing gas",
            GasPlace::Trailing => "trailing gas",
        };
        let amount = price.and_then(|price| match price.bought() {
            Bought::Volume => Some(gas.volume_l / 1000.0),
            Bought::Package => gas.cylinders,
            _ => None,
        });
        let what = format!("{what} {}", gas.designation);
        lines.add(Kind::Gas, what, amount.unwrap_or(gas.volume_l / 1000.0), price.filter(|_| amount.is_some()));
    }
}

/// Rental of the cylinders that the work takes, over the days that it lasts.
fn rental(estimates: &[&Estimate], rates: &Rates, days: Option<f64>, lines: &mut Lines) {
    let mut cylinders: Vec<(&str, f64)> = Vec::new();
    for gas in estimates.iter().flat_map(|estimate| &estimate.gases) {
        let Some(share) = gas.cylinders else { continue };
        match cylinders.iter_mut().find(|(name, _)| same_gas_word(name, &gas.designation)) {
            Some(same) => same.1 += share,
            None => cylinders.push((&gas.designation, share)),
        }
    }
    for (name, share) in cylinders {
        let Some(price) = named(&rates.rental, |key| same_gas_word(key, name)) else { continue };
        match days {
            Some(days) => lines.add(
                Kind::Gas,
                format!("rental of cylinders, {name}"),
                days.ceil() * share.ceil(),
                Some(price).filter(|price| price.of(Bought::Days).is_some()),
            ),
            None => lines.not_stated.push(format!("working/hours, so no rental of cylinders of {name}")),
        }
    }
}

/// What the shop charges besides, for each unit of the work.
fn charges(estimates: &[&Estimate], rates: &Rates, time_min: f64, lines: &mut Lines) {
    let all = || estimates.iter().flat_map(|estimate| &estimate.joints).map(work);
    for (name, price) in rates.charges.iter() {
        let amount = match price.bought() {
            Bought::Piece => all().map(|work| work.pieces).sum(),
            Bought::Joint => all().map(|_| 1.0).sum(),
            Bought::Length => all().map(|work| work.length_m).sum(),
            Bought::Job => 1.0,
            Bought::Time => time_min / 60.0,
            Bought::Mass => estimates.iter().map(|estimate| estimate.weld_metal_kg.middle).sum(),
            _ => 0.0,
        };
        lines.add(Kind::Charge, name.to_owned(), amount, Some(price));
    }
}

fn overhead(rates: &Rates, time_min: f64, rework_min: f64, labour: Option<&Price>, lines: &mut Lines) {
    let per_hour = rates.overhead_per_hour.as_ref().filter(|price| price.of(Bought::Time).is_some());
    if per_hour.is_some() {
        lines.add(Kind::Overhead, "overhead".to_owned(), time_min / 60.0, per_hour);
    }
    if let Some(share) =
        figure(rates.overhead.as_ref(), Share::percent).map(|pct| pct / 100.0).filter(|share| *share > 0.0)
    {
        let of_rework = labour.and_then(|price| price.of(Bought::Time)).unwrap_or(0.0) * rework_min / 60.0;
        let base = lines.sum(|line| line.kind == Kind::Labour) + of_rework;
        lines.all.push(Line {
            kind: Kind::Overhead,
            what: "overhead on labour".to_owned(),
            amount: share * 100.0,
            unit: "%",
            price: base / 100.0,
            cost: base * share,
        });
    }
}

/// The mark-up on the cost, or the margin in the price.
fn added(rates: &Rates, total: f64) -> Option<(String, f64)> {
    if let Some(share) = figure(rates.mark_up.as_ref(), Share::percent).map(|pct| pct / 100.0) {
        return Some((format!("mark-up {} %", round(share * 100.0)), total * share));
    }
    let share = figure(rates.margin.as_ref(), Share::percent).map(|pct| pct / 100.0).filter(|share| *share < 1.0)?;
    Some((format!("margin {} % of the price", round(share * 100.0)), total / (1.0 - share) - total))
}

fn round(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

/// Working days that a time fills.
fn days(working: Option<&Working>, time_min: f64) -> Option<f64> {
    let working = working?;
    let hours = figure(working.hours.as_ref(), Duration::seconds)? / 3600.0 * f64::from(working.shifts.unwrap_or(1));
    (hours > 0.0).then(|| time_min / 60.0 / hours)
}

/// The price shared out over the joints: each by its own time and what it takes, the rest in that proportion.
fn joints(estimates: &[&Estimate], beside: &[Vec<f64>], shared_min: f64, price: f64, rates: &Rates) -> Vec<JointPrice> {
    let hour = rates.labour.as_ref().and_then(|price| price.of(Bought::Time)).unwrap_or(0.0);
    let mut own: Vec<(JointPrice, f64)> = Vec::new();
    for (index, (estimate, beside)) in estimates.iter().zip(beside).enumerate() {
        let mut goods = Lines::default();
        goods_of(&[*estimate], rates, &mut goods);
        let goods = goods.sum(|_| true);
        for (joint, beside) in estimate.joints.iter().zip(beside) {
            let share = joint.length_mm * f64::from(joint.count) / estimate.length_mm;
            let time_min = estimate.working_time_min * share + beside;
            let (name, pieces, length_mm) = (joint.name.clone(), joint.count, joint.length_mm);
            let entry = JointPrice { name, estimate: index, pieces, length_mm, time_min, price: 0.0, each: 0.0 };
            own.push((entry, time_min / 60.0 * hour + goods * share));
        }
    }
    let weights: f64 = own.iter().map(|(_, weight)| weight).sum();
    let times: f64 = own.iter().map(|(joint, _)| joint.time_min).sum();
    let even = 1.0 / f64::from(u32::try_from(own.len()).unwrap_or(u32::MAX).max(1));
    own.into_iter()
        .map(|(mut joint, weight)| {
            joint.price = price * if weights > 0.0 { weight / weights } else { even };
            joint.each = joint.price / f64::from(joint.pieces.max(1));
            joint.time_min += shared_min * if times > 0.0 { joint.time_min / times } else { even };
            joint
        })
        .collect()
}

/// The price under the first key that suits, else under `other`.
fn named(prices: &Named<Price>, suits: impl Fn(&str) -> bool) -> Option<&Price> {
    prices.iter().find(|(key, _)| suits(key)).map(|(_, price)| price).or_else(|| prices.get("other"))
}

fn same_class(one: &str, other: &str) -> bool {
    let class = |text: &str| filler_classes::find(text).map(|row| row.classification);
    class(one).is_some_and(|one| class(other) == Some(one))
}
