//! `stock-short-for-weld`: explanation, cases, logic.

use seamwright_handbook::measure::figure;
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::Length;
use seamwright_model::source::escape;
use seamwright_model::stated::Stated;
use seamwright_weld::consumption::{self, Work};
use seamwright_weld::{deposit, section, stock};

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::subject::InShop;

/// The check.
pub const RULE: Rule<InShop> = Rule {
    name: "stock-short-for-weld",
    harm: Harm::Equipment,
    finds: "Filler or gas in stock that does not last for the stated length of weld.",
    matters: "The weld stops half-way; the rest is welded with another batch, or without gas.",
    remedy: "Order more before the weld is begun.",
    limit: "Filler from cross-section, length and deposition efficiency; gas from flow and arc time, one start for each run.",
    tables: &["deposition-efficiency", "metal-densities"],
    examine,
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/weld_size", "{leg: 2 mm, length: 5000 m}")] },
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[("/weld_size", "{leg: 2 mm, length: 20 m}"), ("shop:/stock/gas_cylinders/0/contents", "0.4 m3")],
        },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/weld_size", "{leg: 2 mm, length: 3 m}")] },
    ],
};

fn examine(x: &mut Examiner<'_, InShop>) {
    let (view, shop) = (x.view.view, x.view.shop);
    let Some(shelf) = &shop.stock else { return };
    let size = view.procedure.weld_size.as_ref().and_then(Stated::value);
    let Some(length) = size.and_then(|size| size.length.as_ref()).and_then(Stated::value) else { return };
    let Some(length_mm) = length.high().or(length.low()).map(Length::mm) else { return };
    x.examined("/weld_size/length");
    let total: u32 = consumption::counted(view).map(|(_, count)| count).sum();
    let area = section::of(view, None).ok().map(|section| section.area_mm2.middle);
    let mut fillers: Vec<(&str, f64, f64)> = Vec::new();
    let mut gases: Vec<(String, &seamwright_model::procedure::ShieldingGas, f64)> = Vec::new();
    for (run, count) in consumption::counted(view) {
        let count = f64::from(count);
        let work = Work {
            area_mm2: area.unwrap_or(0.0) / f64::from(total.max(1)),
            length_mm: length_mm * count,
            starts: count,
        };
        if let (Some((name, filler)), Some(_)) = (run.filler(view.procedure), area) {
            // What is not in stock at all is another check's business.
            let have = deposit::density(view, run).and_then(|(density, _)| stock::filler_kg(shelf, filler, density));
            if let (Some(have), Some(mass)) = (have, consumption::filler_kg(view, run, work)) {
                match fillers.iter_mut().find(|(other, ..)| *other == name.value) {
                    Some(same) => same.1 += mass,
                    None => fillers.push((name.value, mass, have)),
                }
            }
        }
        for gas in run.gas().into_iter().chain(run.part(&keys::TRAILING_GAS)) {
            let Some(litres) = consumption::gas_l(run, gas.value, work) else { continue };
            match gases.iter_mut().find(|(pointer, ..)| *pointer == gas.pointer) {
                Some(same) => same.2 += litres,
                None => gases.push((gas.pointer, gas.value, litres)),
            }
        }
    }
    for (name, mass, have) in fillers {
        if have > 0.0 && mass > have {
            x.report(
                Severity::Caution,
                format!("/fillers/{}", escape(name)),
                format!("{} kg of {name} are needed for {length}, {} kg are in stock", figure(mass), figure(have)),
            )
            .stated(length.spelled())
            .hint(format!("order {} kg", figure((mass - have).ceil())));
        }
    }
    for (pointer, gas, litres) in gases {
        let have = stock::gas_l(shelf, gas.designation.as_deref(), gas.composition.as_ref());
        let Some(have) = have else { continue };
        if have > 0.0 && litres > have {
            let name = gas.designation.as_deref().unwrap_or("gas");
            x.report(
                Severity::Caution,
                pointer,
                format!(
                    "{} m3 of {name} are needed for {length}, {} m3 are in stock",
                    figure(litres / 1000.0),
                    figure(have / 1000.0)
                ),
            )
            .stated(length.spelled())
            .hint("order another cylinder");
        }
    }
}
