//! Estimates for people.

use std::io::{self, Write};

use seamwright_calc::Spread;
use seamwright_estimate::{Buy, Cost, Estimate, FillerUse, GasPlace, Remainder, buying, quote, remainders, unit_of};
use seamwright_model::shop::Shop;

use super::answer::EstimateAnswer;
use crate::report::{columns, number};

/// An amount in kilograms or litres, in the unit in which the shop reckons.
fn amount(value: Spread, unit: &'static str, shop: Option<&Shop>) -> String {
    let (unit, by) = unit_of(shop, unit);
    spread(value.times(by), unit)
}

/// A length in metres, or in feet where the shop reckons in pounds.
fn length(mm: f64, shop: Option<&Shop>) -> String {
    if unit_of(shop, "kg").0 == "lb" {
        format!("{} ft", number(mm / 304.8))
    } else {
        format!("{} m", number(mm / 1000.0))
    }
}

fn spread(spread: Spread, unit: &str) -> String {
    if spread.is_single() {
        format!("{} {unit}", number(spread.middle))
    } else {
        format!("{} {unit} ({} to {})", number(spread.middle), number(spread.low), number(spread.high))
    }
}

fn minutes(minutes: f64) -> String {
    if minutes >= 90.0 { format!("{} h", number(minutes / 60.0)) } else { format!("{} min", number(minutes)) }
}

fn pieces(filler: &FillerUse) -> String {
    filler.pieces.map_or(String::new(), |(count, kind)| format!(", {}", kind.count(count)))
}

fn money(cost: &Cost, amount: f64) -> String {
    format!("{amount:.2} {}", cost.currency).trim_end().to_owned()
}

/// The lines of a cost, what is added, and the price by joint.
fn prices(out: &mut impl Write, cost: &Cost, shop: Option<&Shop>) -> io::Result<()> {
    for line in &cost.lines {
        let by = match line.share_of() {
            Some(whole) => format!("of {whole:.2}"),
            None => format!("at {}", number(line.price)),
        };
        let (amount, unit) = (number(line.amount), line.unit);
        writeln!(out, "  cost           {}: {amount} {unit} {by}: {}", line.what, money(cost, line.cost))?;
    }
    writeln!(out, "  cost, total    {}", money(cost, cost.total))?;
    if let Some((what, amount)) = &cost.added {
        writeln!(out, "  added          {what}: {}", money(cost, *amount))?;
    }
    let least = if cost.least_charge { ", the least charge" } else { "" };
    writeln!(out, "  price          {}{least}", money(cost, cost.price))?;
    if let Some(days) = cost.days {
        writeln!(out, "  time           {}, {} working days", minutes(cost.time_min), number(days))?;
    }
    for joint in &cost.joints {
        let each = if joint.pieces > 1 { format!(", {} each", money(cost, joint.each)) } else { String::new() };
        writeln!(
            out,
            "  price of       {}, {} x {}: {}{each}, {}",
            joint.name,
            joint.pieces,
            length(joint.length_mm, shop),
            money(cost, joint.price),
            minutes(joint.time_min)
        )?;
    }
    Ok(())
}

/// What must be bought.
fn to_buy(out: &mut impl Write, lead: &str, list: &[Buy]) -> io::Result<()> {
    for own in list {
        let packages = own.packages().map_or(String::new(), |own| format!(", {own}"));
        writeln!(out, "{lead}{}: {} {}{packages}", own.what, number(own.amount), own.unit)?;
    }
    Ok(())
}

impl EstimateAnswer {
    /// For people, in so many columns: totals, runs, what was put in.
    pub fn text(&self, out: &mut impl Write, room: Option<usize>) -> io::Result<()> {
        let (done, shop) = (&self.done, self.shop.as_deref());
        for one in done {
            let estimate = &one.estimate;
            writeln!(out, "{}  {}", one.number, one.title)?;
            for joint in &estimate.joints {
                writeln!(out, "  joint          {} x {}, {}", joint.count, length(joint.length_mm, shop), joint.name)?;
            }
            writeln!(out, "  length         {}", length(estimate.length_mm, shop))?;
            writeln!(out, "  cross-section  {}", spread(estimate.area_mm2, "mm2"))?;
            writeln!(out, "  weld metal     {}", amount(estimate.weld_metal_kg, "kg", shop))?;
            for filler in &estimate.fillers {
                writeln!(
                    out,
                    "  filler         {}: {}{}",
                    filler.designation,
                    amount(filler.mass_kg, "kg", shop),
                    pieces(filler)
                )?;
            }
            for gas in &estimate.gases {
                let what = match gas.place {
                    GasPlace::Torch => "gas          ",
                    GasPlace::Root => "backing gas  ",
                    GasPlace::Trailing => "trailing gas ",
                };
                let share =
                    gas.cylinders.map_or(String::new(), |share| format!(", {} of a full cylinder", number(share)));
                writeln!(
                    out,
                    "  {what}  {}: {}{share}",
                    gas.designation,
                    amount(Spread::exactly(gas.volume_l), "L", shop)
                )?;
            }
            writeln!(out, "  arc time       {}", minutes(estimate.arc_time_min))?;
            writeln!(out, "  working time   {}", minutes(estimate.working_time_min))?;
            writeln!(out, "  electricity    {} kWh", number(estimate.energy_kwh))?;
            if let Some(words) = &estimate.cannot_make {
                writeln!(out, "  attention      {words}")?;
            }
            if let Some(cost) = &estimate.cost {
                prices(out, cost, shop)?;
                if let Some(words) = &estimate.cannot_make {
                    writeln!(out, "  price          holds only if the runs are planned anew: {words}")?;
                }
            }
            if done.len() == 1 {
                stock(out, "  stock          ", &left([estimate], shop))?;
                to_buy(out, "  to buy         ", &needed([estimate], shop))?;
            }
            writeln!(out)?;
            let heads = [
                "run",
                "process",
                "weld metal kg",
                "filler kg",
                "gas L",
                "arc time min",
                "by travel min",
                "by rate min",
            ];
            let mut rows = vec![heads.map(str::to_owned).to_vec()];
            for run in &estimate.runs {
                let or_dash = |value: Option<f64>| value.map_or("-".to_owned(), number);
                let apart = run.disagreement_pct.map_or(String::new(), |pct| format!(" ({pct:+.0} %)"));
                rows.push(vec![
                    run.run.clone(),
                    run.process.to_owned(),
                    number(run.weld_metal_kg.middle),
                    or_dash(run.filler.as_ref().map(|filler| filler.mass_kg.middle)),
                    or_dash(run.gas.as_ref().map(|gas| gas.volume_l)),
                    or_dash(run.arc_time_min),
                    or_dash(run.by_travel_min),
                    or_dash(run.by_rate_min) + &apart,
                ]);
            }
            columns(out, &rows, "  ", usize::MAX, room)?;
            if !estimate.not_stated.is_empty() {
                writeln!(out, "\n  not stated:")?;
                for missing in &estimate.not_stated {
                    writeln!(out, "  - {missing}")?;
                }
            }
            writeln!(out, "\n  taken where nothing is stated:")?;
            for assumption in &estimate.assumptions {
                let source = assumption.source.as_ref().map_or(String::new(), |source| format!(". {}", source.line()));
                writeln!(out, "  - {}{source}", assumption.text)?;
            }
            writeln!(out, "\n  equations:")?;
            for formula in &estimate.formulas {
                writeln!(out, "  - {}", formula.equation)?;
            }
            writeln!(out)?;
        }
        if done.len() > 1 {
            let total = self.total();
            writeln!(
                out,
                "total: weld metal {}, filler {}, gas {}, arc time {}, working time {}, electricity {} kWh{}",
                amount(Spread::exactly(total.weld_metal_kg), "kg", shop),
                amount(Spread::exactly(total.filler_kg), "kg", shop),
                amount(Spread::exactly(total.gas_l), "L", shop),
                minutes(total.arc_time_min),
                minutes(total.working_time_min),
                number(total.energy_kwh),
                total.cost.map_or(String::new(), |(cost, currency)| format!(", cost {cost:.2} {currency}")
                    .trim_end()
                    .to_owned()),
            )?;
            stock(out, "stock: ", &left(done.iter().map(|one| &one.estimate), shop))?;
            to_buy(out, "to buy: ", &needed(done.iter().map(|one| &one.estimate), shop))?;
            if let Some(cost) =
                shop.and_then(|shop| quote(&done.iter().map(|one| &one.estimate).collect::<Vec<_>>(), shop))
            {
                writeln!(out, "\nprice of all:")?;
                prices(out, &cost, shop)?;
            }
        }
        Ok(())
    }
}

/// What is left of the stock, in the units of the shop.
fn left<'e>(estimates: impl IntoIterator<Item = &'e Estimate>, shop: Option<&Shop>) -> Vec<Remainder> {
    remainders(estimates, shop).into_iter().map(|own| own.in_units_of(shop)).collect()
}

/// What must be bought, in the units of the shop.
fn needed<'e>(estimates: impl IntoIterator<Item = &'e Estimate>, shop: Option<&Shop>) -> Vec<Buy> {
    buying(estimates, shop).into_iter().map(|own| own.in_units_of(shop)).collect()
}

fn stock(out: &mut impl Write, lead: &str, remainders: &[Remainder]) -> io::Result<()> {
    for own in remainders {
        let (left, unit) = (own.left(), own.unit);
        let rest = if left < 0.0 { "short by" } else { "left" };
        writeln!(
            out,
            "{lead}{}: {} {unit} in stock, {} {unit} used, {rest} {} {unit}",
            own.what,
            number(own.in_stock),
            number(own.used),
            number(left.abs()),
        )?;
    }
    Ok(())
}
