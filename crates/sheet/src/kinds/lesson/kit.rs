//! What a class uses up.

use seamwright_check::kit;
use seamwright_model::lesson::Lesson;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::{GasVolume, Length, Mass, UnitSystem};
use seamwright_model::shop::Shop;
use seamwright_page::SheetOptions;
use seamwright_page::block::{Align, Block, Cell, Column, Row, Table};
use seamwright_page::words::label;
use seamwright_weld::View;
use seamwright_weld::consumption::GasPlace;
use seamwright_weld::section::Assumption;

use super::piece::{name, piece};
use crate::kinds::{joined, quantity, setup, sold};

/// What a class uses up, ready to print.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
struct Kit {
    /// The items in order.
    items: Vec<KitItem>,
    /// Cost of all, with currency, where rates are known.
    total: Option<String>,
    /// What was taken for granted, one sentence each.
    assumptions: Vec<String>,
}

/// One thing of the kit.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
struct KitItem {
    /// What it is: "ER70S-2, 1.6 mm".
    what: String,
    /// For the class, with unit: "1.2 kg".
    quantity: String,
    /// For one learner, with unit, where it is shared out.
    each: Option<String>,
    /// Cost, with currency, where a rate is known.
    cost: Option<String>,
}

/// An amount in the units of the sheet, where it can be told in those of the US.
fn in_units(si: String, us: Option<String>, units: UnitSystem) -> String {
    match (units, us) {
        (UnitSystem::Si, _) | (_, None) => si,
        (UnitSystem::Us, Some(us)) => us,
        (UnitSystem::Both, Some(us)) => format!("{si} ({us})"),
    }
}

/// The kit that the exercises, the procedure and the shop's rates ask for.
fn computed(lesson: &Lesson, view: &View<'_>, shop: Option<&Shop>, options: SheetOptions) -> Kit {
    let units = options.units;
    let found = kit::of(lesson, view, shop);
    let learners = f64::from(lesson.learners.max(1));
    let item = |what: String, quantity: String, each: Option<String>| KitItem { what, quantity, each, cost: None };
    let money = |cost: f64| format!("{cost:.2} {}", found.currency).trim_end().to_owned();
    let mut items = Vec::new();
    for own in &found.coupons {
        let size = [own.thickness_mm, own.outside_diameter_mm, own.width_mm, own.length_mm];
        let size = size.into_iter().flatten().filter_map(Length::from_mm).map(|size| size.print(units));
        items.push(item(
            format!("{}, {}", own.specification, size.collect::<Vec<_>>().join(" × ")),
            options.fill(label::PIECES, &[("count", &own.pieces.to_string())]),
            None,
        ));
    }
    for own in &found.fillers {
        let rods = own.rods.map(|rods| options.fill(label::RODS, &[("count", &rods.to_string())])).unwrap_or_default();
        let pounds = |kg: f64| Mass::from_kg(kg).map(|mass| mass.print(UnitSystem::Us));
        let all = in_units(format!("{:.2} kg", own.mass_kg), pounds(own.mass_kg), units);
        let each = own.mass_kg / learners;
        let each = in_units(format!("{:.0} g", each * 1000.0), pounds(each), units);
        let stated = view.procedure.fillers.get(&own.name);
        let what = stated.map_or_else(
            || own.designation.clone(),
            |filler| joined([Some(filler.designation.to_string()), sold(filler.diameter.as_ref(), options)]),
        );
        items.push(KitItem { cost: own.cost.map(money), ..item(what, all + &rods, Some(each)) });
    }
    if let Some((designation, count)) = &found.tungstens {
        let stated = view.runs.iter().find_map(|run| run.setting(&keys::TUNGSTEN));
        let what = stated.map(|at| {
            let name = at.value.designation.as_ref().map(ToString::to_string);
            joined([name, sold(at.value.diameter.as_ref(), options)])
        });
        items.push(item(
            what.unwrap_or_else(|| designation.clone()),
            options.fill(label::PIECES, &[("count", &count.to_string())]),
            None,
        ));
    }
    for gas in &found.gases {
        let cylinders = gas
            .cylinders
            .map(|count| {
                if count == 1 {
                    return options.say(label::ONE_CYLINDER).into_owned();
                }
                options.fill(label::CYLINDERS, &[("count", &count.to_string())])
            })
            .unwrap_or_default();
        let cubic_feet = |litres: f64| GasVolume::from_litres(litres).map(|volume| volume.print(UnitSystem::Us));
        let all = in_units(format!("{:.2} m³", gas.litres / 1000.0), cubic_feet(gas.litres), units);
        let each = gas.litres / learners;
        let each = in_units(format!("{each:.0} L"), cubic_feet(each), units);
        let what = match gas.place {
            GasPlace::Torch => options.fill(label::GAS_NAMED, &[("name", &gas.designation)]),
            GasPlace::Root => format!("{} {}", options.term("/backing_gas"), gas.designation),
            GasPlace::Trailing => format!("{} {}", options.term(keys::TRAILING_GAS.of_process), gas.designation),
        };
        items.push(KitItem { cost: gas.cost.map(money), ..item(what, all + &cylinders, Some(each)) });
    }
    items.push(item(
        options.say(label::TIME_IN_THE_BOOTHS).into_owned(),
        options.fill(
            label::TURNS,
            &[("minutes", &format!("{:.0}", found.minutes_in_booths)), ("count", &found.turns.to_string())],
        ),
        Some(format!("{:.0} min", found.minutes_each)),
    ));
    let costs = found.costs();
    let total: f64 = costs.iter().map(|(_, cost)| cost).sum();
    let said = |own: &Assumption| {
        let text = options.word(&own.text);
        own.source.as_ref().map_or_else(|| text.to_string(), |source| format!("{text}. {}", options.source(source)))
    };
    let missing = found.not_stated.iter().map(|text| options.fill(label::LEFT_OUT, &[("text", &options.word(text))]));
    Kit {
        items,
        total: (!costs.is_empty()).then(|| options.fill(label::OF_FILLER_AND_GAS, &[("cost", &money(total))])),
        assumptions: found.assumptions.iter().map(said).chain(missing).collect(),
    }
}

pub(super) fn kit_table(
    blocks: &mut Vec<Block>,
    lesson: &Lesson,
    view: Option<&View<'_>>,
    shop: Option<&Shop>,
    options: SheetOptions,
) {
    blocks.push(Block::heading(options.say(label::KIT), None));
    if let Some(kit) = view.map(|view| computed(lesson, view, shop, options)) {
        let priced = kit.items.iter().any(|item| item.cost.is_some());
        let mut columns = vec![
            Column::words(options.say(label::WHAT), 2.4),
            Column::new(options.say(label::FOR_THE_CLASS), Align::Right, 1.0),
            Column::new(options.say(label::EACH_LEARNER), Align::Right, 1.0),
        ];
        if priced {
            columns.push(Column::new(options.say(label::COST), Align::Right, 0.9));
        }
        let rows = kit
            .items
            .iter()
            .map(|item| {
                let mut cells = vec![
                    Cell::bold(item.what.clone()),
                    Cell::text(item.quantity.clone()),
                    Cell::text(item.each.clone().unwrap_or_default()),
                ];
                if priced {
                    cells.push(Cell::text(item.cost.clone().unwrap_or_default()));
                }
                Row { cells, marked: false }
            })
            .collect();
        blocks.push(Block::Table(Table { caption: None, columns, rows }));
        if let Some(total) = &kit.total {
            blocks.push(Block::paragraph(options.fill(label::COST_OF_ALL, &[("total", total)])));
        }
        if !kit.assumptions.is_empty() {
            blocks.push(Block::List { numbered: false, small: true, items: kit.assumptions.clone() });
        }
        return;
    }
    // Counted from what the lesson states: coupons by exercise.
    let rows: Vec<Row> = lesson
        .exercises
        .iter()
        .filter_map(|exercise| {
            let coupon = exercise.coupon.as_ref()?;
            let each = exercise.count.unwrap_or(1).saturating_mul(coupon.pieces.unwrap_or(1));
            let all = u64::from(each) * u64::from(lesson.learners);
            Some(Row {
                cells: vec![
                    Cell { note: Some(name(exercise)), ..Cell::bold(piece(coupon, view, options)) },
                    Cell::text(options.fill(label::PIECES, &[("count", &all.to_string())])),
                    Cell::text(each.to_string()),
                ],
                marked: false,
            })
        })
        .collect();
    if !rows.is_empty() {
        blocks.push(Block::Table(Table {
            caption: None,
            columns: vec![
                Column::words(options.say(label::COUPON), 2.4),
                Column::new(options.say(label::FOR_THE_CLASS), Align::Right, 1.0),
                Column::new(options.say(label::EACH_LEARNER), Align::Right, 1.0),
            ],
            rows,
        }));
    }
    let mut needs: Vec<String> = Vec::new();
    if let Some(view) = view {
        for (_, filler) in view.procedure.fillers.iter() {
            needs.push(joined([Some(filler.designation.to_string()), sold(filler.diameter.as_ref(), options)]));
        }
        for run in setup::setups(view) {
            needs.extend(
                setup::gas_name(run, options).map(|gas| options.fill(label::SHIELDING_GAS_NAMED, &[("gas", &gas)])),
            );
        }
    }
    if let Some(loss) = quantity(lesson.practice_loss.as_ref(), options) {
        needs.push(options.fill(label::LOSS_ON_TOP, &[("loss", &loss)]));
    }
    needs.dedup();
    if !needs.is_empty() {
        blocks.push(Block::List { numbered: false, small: false, items: needs });
    }
}
