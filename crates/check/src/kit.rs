//! The kit of a class: coupons, filler, tungsten electrodes, gas, time and cost of a lesson's exercises.
//!
//! What the lesson does not state comes from the handbook's table `lesson-rules` and is named in [`Kit::assumptions`]; what
//! nothing states is named in [`Kit::not_stated`] and left out.

use seamwright_calc::band::whole_up;
use seamwright_calc::deposition::{Rod, spools_needed};
use seamwright_calc::gas::cylinders_needed;
use seamwright_handbook::{deposition, find, workshop};
use seamwright_model::lesson::{Exercise, Lesson};
use seamwright_model::price::{Bought, Price};
use seamwright_model::procedure::{ShieldingGas, keys};
use seamwright_model::quantity::{Length, Range, Share};
use seamwright_model::shop::Shop;
use seamwright_model::stated::{Composition, Named, OrNone, Stated};
use seamwright_weld::consumption::{self, GasPlace, Work};
use seamwright_weld::deposit::{self, middle};
use seamwright_weld::machines::same_process;
use seamwright_weld::section::{self, Assumption};
use seamwright_weld::{RunView, View, stock};

/// What a class needs.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Kit {
    /// Coupons, alike ones together.
    pub coupons: Vec<Coupons>,
    /// Filler, by name in the procedure.
    pub fillers: Vec<Filler>,
    /// Tungsten electrodes: designation, and how many.
    pub tungstens: Option<(String, u32)>,
    /// Gases at the torch, at the root and behind the torch, each once.
    pub gases: Vec<Gas>,
    /// Time of one learner in the booth, min.
    pub minutes_each: f64,
    /// Turns in which the class uses the booths.
    pub turns: u32,
    /// Time that the booths are used, min.
    pub minutes_in_booths: f64,
    /// Currency of the costs, or empty text.
    pub currency: String,
    /// What was put in beside the stated values.
    pub assumptions: Vec<Assumption>,
    /// What nothing states, and what is left out for it.
    pub not_stated: Vec<String>,
}

/// Pieces of one size.
#[derive(Debug, Clone, PartialEq)]
pub struct Coupons {
    /// Specification of the metal.
    pub specification: String,
    /// Thickness, mm.
    pub thickness_mm: Option<f64>,
    /// Outside diameter of pipe, mm.
    pub outside_diameter_mm: Option<f64>,
    /// Width, mm.
    pub width_mm: Option<f64>,
    /// Length, mm.
    pub length_mm: Option<f64>,
    /// How many pieces, with what practice loses.
    pub pieces: u64,
}

/// Filler of one kind.
#[derive(Debug, Clone, PartialEq)]
pub struct Filler {
    /// Name in the procedure.
    pub name: String,
    /// Designation and size.
    pub designation: String,
    /// Mass, kg, with what practice loses.
    pub mass_kg: f64,
    /// How many rods, where it is fed in rods.
    pub rods: Option<u64>,
    /// What it costs, where the shop states its rate.
    pub cost: Option<f64>,
}

/// Gas of one place.
#[derive(Debug, Clone, PartialEq)]
pub struct Gas {
    /// Designation.
    pub designation: String,
    /// Where it flows.
    pub place: GasPlace,
    /// Litres, with pre-flow and post-flow of every start and what practice loses.
    pub litres: f64,
    /// How many cylinders of the shop that is, where it has the gas.
    pub cylinders: Option<u64>,
    /// What it costs, where the shop states its rate.
    pub cost: Option<f64>,
}

impl Kit {
    /// What the shop knows the cost of, and how much it is.
    pub fn costs(&self) -> Vec<(&str, f64)> {
        let fillers = self.fillers.iter().map(|own| (own.designation.as_str(), own.cost));
        let gases = self.gases.iter().map(|own| (own.designation.as_str(), own.cost));
        fillers.chain(gases).filter_map(|(what, cost)| Some((what, cost?))).collect()
    }
}

/// How often the booths are filled until each learner had a turn.
pub fn turns(lesson: &Lesson) -> u32 {
    lesson.learners.div_ceil(lesson.booths.unwrap_or(lesson.learners).max(1))
}

/// Time of one learner in the booth, min: the time of every exercise, as often as it is welded.
pub fn minutes_each(lesson: &Lesson) -> f64 {
    let minutes = |one: &Exercise| {
        let time = one.time.as_ref()?.value()?;
        Some(time.high().or(time.low())?.seconds() / 60.0 * f64::from(one.count.unwrap_or(1)))
    };
    lesson.exercises.iter().filter_map(minutes).sum()
}

/// The kit of a lesson on a procedure, with the shelf and the rates of a shop where one is given.
pub fn of(lesson: &Lesson, view: &View<'_>, shop: Option<&Shop>) -> Kit {
    let turns = turns(lesson);
    let minutes_each = minutes_each(lesson);
    let mut kit = Kit { turns, minutes_each, minutes_in_booths: minutes_each * f64::from(turns), ..Kit::default() };
    let loss = loss(lesson, &mut kit);
    let runs: Vec<(&RunView<'_>, u32)> = consumption::counted(view).collect();
    let run_count: u32 = runs.iter().map(|(_, count)| count).sum();
    let area = match section::of(view, None) {
        Ok(section) => Some(section.area_mm2.middle),
        Err(reason) => {
            kit.not_stated.push(format!("{reason}, so no filler"));
            None
        }
    };
    let starts_rule = workshop::STARTS_PER_WELD;
    let starts = starts_rule.value.middle();
    for (index, exercise) in lesson.exercises.iter().enumerate() {
        let pieces = exercise.coupon.as_ref().map_or(1, |coupon| coupon.pieces.unwrap_or(1));
        let welds = f64::from(lesson.learners) * f64::from(exercise.count.unwrap_or(1)) * loss;
        // A plate that is used again is counted where it was new, and an arc that stays off melts nothing.
        if exercise.reuse.is_none() {
            add_coupons(&mut kit, exercise, view, welds * f64::from(pieces));
        }
        if exercise.arc_off.as_ref().is_some_and(|off| off.0) {
            continue;
        }
        let own = exercise.length.as_ref().or_else(|| exercise.coupon.as_ref()?.length.as_ref());
        let Some(length_mm) = size(own) else {
            kit.not_stated.push(format!("length of exercise {}, so no filler and gas of it", index + 1));
            continue;
        };
        // A coupon of one piece takes a bead, one of several takes the whole joint.
        let joint = pieces > 1;
        let with_filler = exercise.with_filler.as_ref().is_none_or(|with| with.0);
        for (run, count) in if joint { runs.as_slice() } else { runs.get(..1).unwrap_or_default() } {
            let count = if joint { f64::from(*count) } else { 1.0 };
            let work = Work {
                area_mm2: area.unwrap_or(0.0) / f64::from(run_count.max(1)),
                length_mm: length_mm * count * welds,
                starts: starts * count * welds,
            };
            if with_filler && area.is_some() {
                add_filler(&mut kit, view, run, work);
            }
            if let Some(gas) = run.gas() {
                add_gas(&mut kit, named(gas.value), GasPlace::Torch, consumption::gas_l(run, gas.value, work));
            }
            if let Some(gas) = run.part(&keys::TRAILING_GAS) {
                add_gas(&mut kit, named(gas.value), GasPlace::Trailing, consumption::gas_l(run, gas.value, work));
            }
        }
        // A bead on one plate has no root.
        let backing = view.procedure.backing_gas.as_ref().and_then(OrNone::value).filter(|_| joint);
        if let (Some(gas), Some((first, _))) = (backing, runs.first()) {
            let litres = consumption::backing_l(view, first, welds, length_mm * welds);
            add_gas(&mut kit, gas_name(gas.designation.as_deref(), gas.composition.as_ref()), GasPlace::Root, litres);
        }
    }
    if !kit.gases.is_empty() {
        kit.assumptions.push(Assumption {
            text: format!("{starts} starts of the arc for one weld"),
            source: Some(starts_rule.origin.source_ref()),
        });
    }
    if kit.gases.iter().any(|own| own.place == GasPlace::Root) {
        kit.assumptions.push(Assumption {
            text: "the backing gas flows before each joint and over its first run, not under beads on plate".to_owned(),
            source: None,
        });
    }
    rods(&mut kit, view, shop);
    tungstens(&mut kit, lesson, &runs);
    if let Some(shop) = shop {
        on_the_shelf(&mut kit, view, shop);
        cost(&mut kit, view, shop);
    }
    kit
}

/// One and what practice loses on top.
fn loss(lesson: &Lesson, kit: &mut Kit) -> f64 {
    if let Some(share) =
        lesson.practice_loss.as_ref().and_then(Stated::value).and_then(|range| middle(range, Share::percent))
    {
        return 1.0 + share / 100.0;
    }
    let rule = workshop::PRACTICE_LOSS;
    kit.assumptions.push(Assumption {
        text: format!(
            "practice_loss is not stated: {} to {} %, the middle is reckoned with",
            rule.value.low, rule.value.high
        ),
        source: Some(rule.origin.source_ref()),
    });
    1.0 + rule.value.middle() / 100.0
}

fn size(stated: Option<&Stated<Range<Length>>>) -> Option<f64> {
    middle(stated?.value()?, Length::mm)
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "a count of pieces, rounded up and far below 2^53"
)]
fn whole(count: f64) -> u64 {
    whole_up(count).max(0.0) as u64
}

fn add_coupons(kit: &mut Kit, exercise: &Exercise, view: &View<'_>, pieces: f64) {
    let Some(coupon) = &exercise.coupon else { return };
    let first = view.procedure.parent_metals.first();
    let specification = coupon.specification.as_ref().or(first.map(|metal| &metal.specification));
    let new = Coupons {
        specification: specification.map(ToString::to_string).unwrap_or_default(),
        thickness_mm: size(coupon.thickness.as_ref())
            .or_else(|| size(first.and_then(|metal| metal.thickness.as_ref()))),
        outside_diameter_mm: size(coupon.outside_diameter.as_ref()),
        width_mm: size(coupon.width.as_ref()),
        length_mm: size(coupon.length.as_ref()),
        pieces: whole(pieces),
    };
    match kit.coupons.iter_mut().find(|own| Coupons { pieces: own.pieces, ..new.clone() } == **own) {
        Some(same) => same.pieces += new.pieces,
        None => kit.coupons.push(new),
    }
}

fn add_filler(kit: &mut Kit, view: &View<'_>, run: &RunView<'_>, work: Work) {
    let Some((name, filler)) = run.filler(view.procedure) else { return };
    let Some(mass) = consumption::filler_kg(view, run, work) else {
        let text = format!("density or deposition efficiency of {}, so no mass of it", filler.designation);
        if !kit.not_stated.contains(&text) {
            kit.not_stated.push(text);
        }
        return;
    };
    if let Some(same) = kit.fillers.iter_mut().find(|own| own.name == name.value) {
        same.mass_kg += mass;
        return;
    }
    let size = filler.diameter.as_ref().and_then(Stated::value).map(ToString::to_string);
    let words: Vec<String> = [Some(filler.designation.to_string()), size].into_iter().flatten().collect();
    kit.fillers.push(Filler {
        name: name.value.to_owned(),
        designation: words.join(" "),
        mass_kg: mass,
        rods: None,
        cost: None,
    });
}

fn add_gas(kit: &mut Kit, designation: String, place: GasPlace, litres: Option<f64>) {
    let Some(litres) = litres else {
        let text = match place {
            GasPlace::Torch => "flow or travel_speed, so no gas",
            GasPlace::Root => "backing_gas/flow or travel_speed, so no backing gas",
            GasPlace::Trailing => "trailing_gas/flow or travel_speed, so no trailing gas",
        }
        .to_owned();
        if !kit.not_stated.contains(&text) {
            kit.not_stated.push(text);
        }
        return;
    };
    if let Some(same) = kit.gases.iter_mut().find(|own| own.place == place && own.designation == designation) {
        same.litres += litres;
    } else {
        kit.gases.push(Gas { designation, place, litres, cylinders: None, cost: None });
    }
}

/// Filler that is fed by hand in rods, by number.
fn rods(kit: &mut Kit, view: &View<'_>, shop: Option<&Shop>) {
    for own in &mut kit.fillers {
        let Some(filler) = view.procedure.fillers.get(&own.name) else { continue };
        let run =
            view.runs.iter().find(|run| run.filler(view.procedure).is_some_and(|(name, _)| name.value == own.name));
        let Some(run) = run.filter(|run| run.process.is_some_and(|process| !process.consumable_electrode)) else {
            continue;
        };
        let shelf = shop.and_then(|shop| shop.stock.as_ref());
        let stated =
            shelf.and_then(|shelf| stock::fillers(shelf, filler).into_iter().find_map(|one| size(one.length.as_ref())));
        let length_mm = stated.unwrap_or_else(|| {
            let rule = deposition::ROD_LENGTH;
            kit.assumptions.push(Assumption {
                text: format!("{} {} is the length of a rod", rule.value.middle(), rule.unit),
                source: Some(rule.origin.source_ref()),
            });
            rule.value.middle()
        });
        let density = deposit::density(view, run).map(|(density, _)| density);
        let (Some(diameter_mm), Some(density_kg_m3)) = (size(filler.diameter.as_ref()), density) else { continue };
        let rod = Rod { diameter_mm, length_mm, stub_mm: 0.0, density_kg_m3 };
        own.rods = rod.mass_kg().and_then(|each| spools_needed(own.mass_kg, each)).ok();
    }
}

fn tungstens(kit: &mut Kit, lesson: &Lesson, runs: &[(&RunView<'_>, u32)]) {
    let Some((run, _)) = runs.iter().find(|(run, _)| run.process.is_some_and(|process| process.uses_tungsten)) else {
        return;
    };
    let rule = workshop::TUNGSTENS_PER_LEARNER;
    let tungsten = run.setting(&keys::TUNGSTEN);
    let words: Vec<String> = tungsten
        .map(|at| {
            let size = at.value.diameter.as_ref().and_then(Stated::value).map(ToString::to_string);
            [at.value.designation.as_ref().map(ToString::to_string), size].into_iter().flatten().collect()
        })
        .unwrap_or_default();
    let count = whole(f64::from(lesson.learners) * rule.value.high);
    kit.tungstens = Some((words.join(" "), u32::try_from(count).unwrap_or(u32::MAX)));
    kit.assumptions.push(Assumption {
        text: format!("{} tungsten electrodes for each learner", rule.value.high),
        source: Some(rule.origin.source_ref()),
    });
}

/// The name of a gas: its designation, else its composition.
pub(crate) fn named(gas: &ShieldingGas) -> String {
    gas_name(gas.designation.as_deref(), gas.composition.as_ref())
}

/// A designation, else a composition in words.
pub(crate) fn gas_name(designation: Option<&str>, composition: Option<&Composition>) -> String {
    designation.map_or_else(
        || {
            let parts = composition.into_iter().flat_map(Composition::iter);
            parts.map(|(name, percent)| format!("{name} {percent}")).collect::<Vec<_>>().join(" ")
        },
        str::to_owned,
    )
}

/// Designation and composition of a gas of the kit, as the procedure states them.
pub(crate) fn stated<'d>(own: &Gas, view: &View<'d>) -> Option<(Option<&'d str>, Option<&'d Composition>)> {
    let of_runs = |of: fn(&RunView<'d>) -> Option<&'d ShieldingGas>| {
        let gas = view.runs.iter().filter_map(of).find(|gas| named(gas) == own.designation)?;
        Some((gas.designation.as_deref(), gas.composition.as_ref()))
    };
    match own.place {
        GasPlace::Torch => of_runs(|run| run.gas().map(|at| at.value)),
        GasPlace::Trailing => of_runs(|run| run.part(&keys::TRAILING_GAS).map(|at| at.value)),
        GasPlace::Root => {
            let gas = view.procedure.backing_gas.as_ref().and_then(OrNone::value)?;
            Some((gas.designation.as_deref(), gas.composition.as_ref()))
        }
    }
}

fn on_the_shelf(kit: &mut Kit, view: &View<'_>, shop: &Shop) {
    let Some(shelf) = &shop.stock else { return };
    for own in &mut kit.gases {
        let Some((designation, composition)) = stated(own, view) else { continue };
        let cylinders = stock::cylinders(shelf, designation, composition);
        own.cylinders = cylinders
            .iter()
            .find_map(|one| stock::one_cylinder_l(one))
            .and_then(|each| cylinders_needed(own.litres, each).ok());
    }
}

fn cost(kit: &mut Kit, view: &View<'_>, shop: &Shop) {
    let Some(rates) = &shop.rates else { return };
    let price = |prices: &Named<Price>, suits: &dyn Fn(&str) -> bool, by: Bought| {
        let named = prices.iter().find(|(key, _)| suits(key)).map(|(_, price)| price);
        named.or_else(|| prices.get("other")).and_then(|price| price.of(by))
    };
    for own in &mut kit.fillers {
        let Some(filler) = view.procedure.fillers.get(&own.name) else { continue };
        let of_process = |key: &str| view.runs.iter().any(|run| same_process(key, run.number()));
        let suits = |key: &str| stock::same_class(key, &filler.designation) || of_process(key);
        match price(&rates.filler, &suits, Bought::Mass) {
            Some(each) => own.cost = Some(own.mass_kg * each),
            None => kit.not_stated.push(format!("price of {}, so it is not in the cost", own.designation)),
        }
    }
    for gas in &mut kit.gases {
        match price(&rates.gas, &|key| find::same(key, &gas.designation), Bought::Volume) {
            Some(each) => gas.cost = Some(gas.litres / 1000.0 * each),
            None => kit.not_stated.push(format!("price of {}, so it is not in the cost", gas.designation)),
        }
    }
    rates.currency.as_deref().unwrap_or_default().clone_into(&mut kit.currency);
}

/// Time in words, for messages: `2 h 12 min`.
pub(crate) fn time(minutes: f64) -> String {
    let minutes = whole(minutes);
    match (minutes / 60, minutes % 60) {
        (0, minutes) => format!("{minutes} min"),
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}

#[cfg(test)]
mod tests {
    use super::time;

    #[test]
    fn time_is_told_in_hours_and_minutes() {
        let told = [0.0, -5.0, 50.0, 59.5, 132.0, 180.0].map(time);
        assert_eq!(told, ["0 min", "0 min", "50 min", "1 h", "2 h 12 min", "3 h"]);
    }
}
