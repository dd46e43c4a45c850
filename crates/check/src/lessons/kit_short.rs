//! `kit-short`: explanation, cases, logic.

use seamwright_calc::band::above;
use seamwright_handbook::measure::figure;
use seamwright_model::finding::Severity;
use seamwright_model::lesson::Lesson;
use seamwright_model::quantity::Length;
use seamwright_model::shop::{Shop, Stock};
use seamwright_model::stated::Stated;
use seamwright_weld::deposit::{self, middle};
use seamwright_weld::{View, stock};

use crate::kit::{self, Coupons, Kit};
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<Lesson> = Rule {
    name: "kit-short",
    harm: Harm::Equipment,
    finds: "Metal, filler, tungsten electrodes or gas in the stock of the shop that does not last for the class.",
    matters: "The lesson stops when the first cylinder or the last coupon is gone.",
    remedy: "Order what is missing, or plan fewer pieces.",
    limit: "The kit computed from learners, exercises and the procedure, with what practice loses, against the stated stock; what the shop does not list is not compared.",
    tables: &["lesson-rules", "deposition-efficiency"],
    examine,
    faulty: &[
        Case { base: "lesson/lesson", edits: &[("/learners", "2000"), ("/booths", "2000")] },
        Case { base: "lesson/lesson", edits: &[("/exercises/0/coupon/width", "30 m")] },
    ],
    sound: &[Case { base: "lesson/lesson", edits: &[] }],
};

fn examine(x: &mut Examiner<'_, Lesson>) {
    let (lesson, Some(view), Some(shop)) = (x.view.lesson, x.view.procedure, x.view.shop) else { return };
    let Some(shelf) = &shop.stock else { return };
    let kit = kit::of(lesson, view, Some(shop));
    x.examined("/learners");
    for (what, need, have) in shortages(&kit, view, shop, shelf) {
        x.report(
            Severity::Caution,
            "/learners",
            format!("{need} of {what} are needed for {} learners, {have} are in stock", lesson.learners),
        )
        .stated(lesson.learners.to_string())
        .hint("order what is missing, or plan fewer pieces");
    }
}

/// What is short: what, what is needed, what is there.
fn shortages(kit: &Kit, view: &View<'_>, shop: &Shop, shelf: &Stock) -> Vec<(String, String, String)> {
    let mut short = Vec::new();
    let mut compare = |what: &str, need: f64, have: f64, unit: &str| {
        if above(need, have) {
            let words = |amount: f64| format!("{} {unit}", figure(amount)).trim_end().to_owned();
            short.push((what.to_owned(), words(need), words(have)));
        }
    };
    for own in &kit.fillers {
        let Some(filler) = view.procedure.fillers.get(&own.name) else { continue };
        let run =
            view.runs.iter().find(|run| run.filler(view.procedure).is_some_and(|(name, _)| name.value == own.name));
        let Some((density, _)) = run.and_then(|run| deposit::density(view, run)) else { continue };
        let masses: Option<f64> = stock::fillers(shelf, filler).iter().map(|one| stock::mass_kg(one, density)).sum();
        if let (false, Some(have)) = (shelf.fillers.is_empty(), masses) {
            compare(&own.designation, own.mass_kg, have, "kg");
        }
    }
    if let Some((name, count)) = kit.tungstens.as_ref().filter(|_| !shelf.tungstens.is_empty()) {
        let have: u32 = shelf
            .tungstens
            .iter()
            .filter(|own| {
                let size = own.diameter.as_ref().and_then(Stated::value).map(ToString::to_string).unwrap_or_default();
                *name == format!("{} {size}", own.designation)
            })
            .map(|own| own.count.unwrap_or(0))
            .sum();
        compare(&format!("tungsten {name}"), f64::from(*count), f64::from(have), "");
    }
    // A gas comes from the same cylinders at the torch, at the root and behind the torch.
    let mut gases: Vec<(&kit::Gas, f64)> = Vec::new();
    for gas in kit.gases.iter().filter(|_| !shelf.gas_cylinders.is_empty()) {
        match gases.iter_mut().find(|(own, _)| own.designation == gas.designation) {
            Some((_, litres)) => *litres += gas.litres,
            None => gases.push((gas, gas.litres)),
        }
    }
    for (gas, litres) in gases {
        let have: Option<f64> = kit::stated(gas, view).map_or(Some(0.0), |(designation, composition)| {
            stock::cylinders(shelf, designation, composition).iter().map(|one| stock::contents_l(one)).sum()
        });
        if let Some(have) = have {
            compare(&gas.designation, litres / 1000.0, have / 1000.0, "m3");
        }
    }
    metals(kit, shop, &mut compare);
    short
}

/// Sheet and plate by their area: what a saw or shear loses is not reckoned.
fn metals(kit: &Kit, shop: &Shop, compare: &mut impl FnMut(&str, f64, f64, &str)) {
    let Some(shelf) = shop.stock.as_ref().filter(|shelf| !shelf.metals.is_empty()) else { return };
    let size = |stated: &Option<Stated<seamwright_model::quantity::Range<Length>>>| {
        middle(stated.as_ref()?.value()?, Length::mm)
    };
    let mut done: Vec<(&str, Option<f64>)> = Vec::new();
    for coupon in kit.coupons.iter().filter(|coupon| coupon.outside_diameter_mm.is_none()) {
        let key = (coupon.specification.as_str(), coupon.thickness_mm);
        if done.contains(&key) {
            continue;
        }
        done.push(key);
        let alike =
            |own: &&Coupons| own.outside_diameter_mm.is_none() && (own.specification.as_str(), own.thickness_mm) == key;
        #[expect(clippy::cast_precision_loss, reason = "a count of coupons is far below 2^53")]
        let area = |own: &Coupons| Some(own.width_mm? * own.length_mm? * own.pieces as f64 / 1e6);
        let Some(need) = kit.coupons.iter().filter(alike).map(area).sum::<Option<f64>>() else { continue };
        let have: Option<f64> = shelf
            .metals
            .iter()
            .filter(|own| {
                seamwright_handbook::find::same(&own.specification, key.0)
                    && size(&own.thickness).zip(key.1).is_none_or(|(own, asked)| (own - asked).abs() < 0.05)
            })
            .map(|own| Some(size(&own.width)? * size(&own.length)? * f64::from(own.count.unwrap_or(1)) / 1e6))
            .sum();
        if let Some(have) = have {
            let thick = key.1.map(|thickness| format!(" {thickness} mm")).unwrap_or_default();
            compare(&format!("{}{thick}", key.0), need, have, "m2");
        }
    }
}
