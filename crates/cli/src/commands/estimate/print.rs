//! Estimates as text, JSON and CSV.

use std::io::Write;

use anyhow::Result;
use seamwright_calc::Spread;
use seamwright_estimate::{Buy, Cost, Estimate, FillerUse, Remainder, RunEstimate, buying, quote, remainders, unit_of};
use seamwright_model::shop::Shop;
use serde_json::{Value, json};

use super::Estimated;
use crate::commands::calc::answer::number;
use crate::results;

/// An amount in kilograms or litres, in the unit in which the shop reckons.
fn amount(value: Spread, unit: &'static str, shop: Option<&Shop>) -> String {
    let (unit, by) = unit_of(shop, unit);
    spread(Spread { low: value.low * by, middle: value.middle * by, high: value.high * by }, unit)
}

/// A length in metres, or in feet where the shop reckons in pounds.
fn length(mm: f64, shop: Option<&Shop>) -> String {
    if unit_of(shop, "kg").0 == "lb" {
        format!("{} ft", number(mm / 304.8))
    } else {
        format!("{} m", number(mm / 1000.0))
    }
}

fn exactly(value: f64) -> Spread {
    Spread { low: value, middle: value, high: value }
}

fn spread(spread: Spread, unit: &str) -> String {
    if (spread.high - spread.low).abs() < 1e-9 * spread.high.abs().max(1e-9) {
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
fn prices(out: &mut impl Write, cost: &Cost, shop: Option<&Shop>) -> std::io::Result<()> {
    for line in &cost.lines {
        writeln!(
            out,
            "  cost           {}: {} {} at {}: {}",
            line.what,
            number(line.amount),
            line.unit,
            number(line.price),
            money(cost, line.cost)
        )?;
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
fn to_buy(out: &mut impl Write, lead: &str, list: &[Buy]) -> std::io::Result<()> {
    for own in list {
        let packages = own.packages.map_or(String::new(), |(count, word)| {
            format!(
                ", {count} {word}{}",
                if count == 1 {
                    ""
                } else if word.ends_with('x') {
                    "es"
                } else {
                    "s"
                }
            )
        });
        writeln!(out, "{lead}{}: {} {}{packages}", own.what, number(own.amount), own.unit)?;
    }
    Ok(())
}

/// For people: totals, runs, what was put in.
pub fn text(done: &[Estimated], shop: Option<&Shop>) -> Result<()> {
    results::folded(|out| write_text(out, done, shop))
}

fn write_text(out: &mut impl Write, done: &[Estimated], shop: Option<&Shop>) -> Result<()> {
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
            let what = if gas.backing { "backing gas  " } else { "gas          " };
            let share = gas.cylinders.map_or(String::new(), |share| format!(", {} of a full cylinder", number(share)));
            writeln!(out, "  {what}  {}: {}{share}", gas.designation, amount(exactly(gas.volume_l), "L", shop))?;
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
        let heads =
            ["run", "process", "weld metal kg", "filler kg", "gas L", "arc time min", "by travel min", "by rate min"];
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
        results::columns(out, &rows, "  ", usize::MAX)?;
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
        let total = total(done);
        writeln!(
            out,
            "total: weld metal {}, filler {}, gas {}, arc time {}, working time {}, electricity {} kWh{}",
            amount(exactly(total.weld_metal_kg), "kg", shop),
            amount(exactly(total.filler_kg), "kg", shop),
            amount(exactly(total.gas_l), "L", shop),
            minutes(total.arc_time_min),
            minutes(total.working_time_min),
            number(total.energy_kwh),
            total
                .cost
                .map_or(String::new(), |(cost, currency)| format!(", cost {cost:.2} {currency}").trim_end().to_owned()),
        )?;
        stock(out, "stock: ", &left(done.iter().map(|one| &one.estimate), shop))?;
        to_buy(out, "to buy: ", &needed(done.iter().map(|one| &one.estimate), shop))?;
        if let Some(cost) = shop.and_then(|shop| quote(&done.iter().map(|one| &one.estimate).collect::<Vec<_>>(), shop))
        {
            writeln!(out, "\nprice of all:")?;
            prices(out, &cost, shop)?;
        }
    }
    Ok(())
}

/// What is left of the stock, in the units of the shop.
fn left<'e>(estimates: impl IntoIterator<Item = &'e Estimate>, shop: Option<&Shop>) -> Vec<Remainder> {
    remainders(estimates).into_iter().map(|own| own.in_units_of(shop)).collect()
}

/// What must be bought, in the units of the shop.
fn needed<'e>(estimates: impl IntoIterator<Item = &'e Estimate>, shop: Option<&Shop>) -> Vec<Buy> {
    buying(estimates).into_iter().map(|own| own.in_units_of(shop)).collect()
}

fn stock(out: &mut impl Write, lead: &str, remainders: &[Remainder]) -> std::io::Result<()> {
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

/// Sums over all procedures.
struct Total {
    weld_metal_kg: f64,
    filler_kg: f64,
    gas_l: f64,
    arc_time_min: f64,
    working_time_min: f64,
    energy_kwh: f64,
    cost: Option<(f64, String)>,
}

fn total(done: &[Estimated]) -> Total {
    let sum = |of: &dyn Fn(&Estimate) -> f64| done.iter().map(|one| of(&one.estimate)).sum::<f64>();
    let costs: Option<Vec<&Cost>> = done.iter().map(|one| one.estimate.cost.as_ref()).collect();
    let cost = costs.and_then(|costs| {
        let currency = costs.first()?.currency.clone();
        Some((costs.iter().map(|cost| cost.total).sum(), currency))
    });
    Total {
        weld_metal_kg: sum(&|estimate| estimate.weld_metal_kg.middle),
        filler_kg: sum(&|estimate| estimate.fillers.iter().map(|filler| filler.mass_kg.middle).sum()),
        gas_l: sum(&|estimate| estimate.gases.iter().map(|gas| gas.volume_l).sum()),
        arc_time_min: sum(&|estimate| estimate.arc_time_min),
        working_time_min: sum(&|estimate| estimate.working_time_min),
        energy_kwh: sum(&|estimate| estimate.energy_kwh),
        cost,
    }
}

/// A figure with its unit.
pub fn figure(value: f64, unit: &str) -> Value {
    json!({"value": value, "unit": unit})
}

fn figures(spread: Spread, unit: &str) -> Value {
    json!({"value": spread.middle, "low": spread.low, "high": spread.high, "unit": unit})
}

fn filler_value(filler: &FillerUse) -> Value {
    json!({
        "name": filler.name,
        "designation": filler.designation,
        "filler_mass": figures(filler.mass_kg, "kg"),
        "pieces": filler.pieces.map(|(count, kind)| json!({"count": count, "kind": kind.as_str()})),
    })
}

fn run_value(run: &RunEstimate) -> Value {
    json!({
        "run": run.run,
        "count": run.count,
        "process": run.process,
        "cross_section": figures(run.area_mm2, "mm2"),
        "deposited_area": run.deposited_mm2.map(|area| figures(area, "mm2")),
        "weld_metal": figures(run.weld_metal_kg, "kg"),
        "filler": run.filler.as_ref().map(filler_value),
        "gas": run.gas.as_ref().map(|gas| json!({"designation": gas.designation, "volume": figure(gas.volume_l, "L")})),
        "arc_time": run.arc_time_min.map(|time| figure(time, "min")),
        "arc_time_by_travel_speed": run.by_travel_min.map(|time| figure(time, "min")),
        "slower": run.slower.map(seamwright_estimate::Slower::as_str),
        "arc_time_by_deposition_rate": run.by_rate_min.map(|time| figure(time, "min")),
        "disagreement": run.disagreement_pct.map(|pct| figure(pct, "%")),
        "working_time": run.working_time_min.map(|time| figure(time, "min")),
        "energy": run.energy_kwh.map(|energy| figure(energy, "kWh")),
        "starts": run.starts,
    })
}

/// A cost with its lines and the price of each joint.
pub fn cost_value(cost: &Cost) -> Value {
    json!({
        "currency": cost.currency,
        "lines": cost.lines.iter().map(|line| json!({
            "what": line.what, "amount": figure(line.amount, line.unit), "price": line.price, "cost": line.cost,
        })).collect::<Vec<_>>(),
        "total": cost.total,
        "added": cost.added.as_ref().map(|(what, amount)| json!({"what": what, "amount": amount})),
        "price": cost.price,
        "least_charge": cost.least_charge,
        "time": figure(cost.time_min, "min"),
        "joints": cost.joints.iter().map(|joint| json!({
            "joint": joint.name, "pieces": joint.pieces, "length": figure(joint.length_mm, "mm"),
            "time": figure(joint.time_min, "min"), "price": joint.price, "each": joint.each,
        })).collect::<Vec<_>>(),
    })
}

/// What an estimate takes: metal, filler, gas, time and energy.
pub fn uses(estimate: &Estimate) -> Value {
    json!({
        "length": figure(estimate.length_mm, "mm"),
        "cross_section": figures(estimate.area_mm2, "mm2"),
        "weld_metal": figures(estimate.weld_metal_kg, "kg"),
        "fillers": estimate.fillers.iter().map(filler_value).collect::<Vec<_>>(),
        "gases": estimate.gases.iter().map(|gas| json!({
            "designation": gas.designation, "backing": gas.backing, "volume": figure(gas.volume_l, "L"), "cylinders": gas.cylinders,
        })).collect::<Vec<_>>(),
        "arc_time": figure(estimate.arc_time_min, "min"),
        "working_time": figure(estimate.working_time_min, "min"),
        "energy": figure(estimate.energy_kwh, "kWh"),
        "cannot_make": estimate.cannot_make,
        "not_stated": estimate.not_stated,
    })
}

/// An estimate with its runs, its cost, and what it goes by.
fn whole(one: &Estimated) -> Value {
    let estimate = &one.estimate;
    let mut whole = json!({
        "file": one.file,
        "number": one.number,
        "joints": estimate.joints.iter().map(|joint| json!({
            "joint": joint.name, "length": figure(joint.length_mm, "mm"), "count": joint.count,
        })).collect::<Vec<_>>(),
        "runs": estimate.runs.iter().map(run_value).collect::<Vec<_>>(),
        "cost": estimate.cost.as_ref().map(cost_value),
        "assumptions": estimate.assumptions.iter().map(|assumption| json!({
            "text": assumption.text, "source": assumption.source,
        })).collect::<Vec<_>>(),
        "equations": estimate.formulas.iter().map(|formula| formula.equation).collect::<Vec<_>>(),
    });
    if let (Value::Object(whole), Value::Object(uses)) = (&mut whole, uses(estimate)) {
        whole.extend(uses);
    }
    whole
}

/// For programs.
pub fn json(done: &[Estimated]) -> Result<()> {
    let estimates: Vec<Value> = done.iter().map(whole).collect();
    let total = total(done);
    let whole = json!({
        "estimates": estimates,
        "total": {
            "weld_metal": figure(total.weld_metal_kg, "kg"),
            "filler_mass": figure(total.filler_kg, "kg"),
            "gas": figure(total.gas_l, "L"),
            "arc_time": figure(total.arc_time_min, "min"),
            "working_time": figure(total.working_time_min, "min"),
            "energy": figure(total.energy_kwh, "kWh"),
            "cost": total.cost.map(|(cost, currency)| json!({"value": cost, "currency": currency})),
            "stock": remainders(done.iter().map(|one| &one.estimate)).iter().map(|own| json!({
                "what": own.what,
                "in_stock": figure(own.in_stock, own.unit),
                "used": figure(own.used, own.unit),
                "left": figure(own.left(), own.unit),
            })).collect::<Vec<_>>(),
        },
    });
    results::json("estimate", whole)
}

/// For spreadsheets: a line for each run, with the unit in the heading.
pub fn csv(done: &[Estimated]) -> Result<()> {
    let mut out = csv::Writer::from_writer(std::io::stdout().lock());
    out.write_record([
        "procedure",
        "run",
        "count",
        "process",
        "length_m",
        "weld_metal_kg",
        "filler",
        "filler_kg",
        "gas",
        "gas_L",
        "arc_time_min",
        "working_time_min",
        "energy_kWh",
    ])?;
    for one in done {
        for run in &one.estimate.runs {
            let or_empty = |value: Option<f64>| value.map(number).unwrap_or_default();
            let (filler, gas) = (run.filler.as_ref(), run.gas.as_ref());
            out.write_record([
                text_cell(&one.number),
                text_cell(&run.run),
                run.count.to_string(),
                run.process.to_owned(),
                number(one.estimate.length_mm / 1000.0),
                number(run.weld_metal_kg.middle),
                filler.map(|filler| text_cell(&filler.designation)).unwrap_or_default(),
                or_empty(filler.map(|filler| filler.mass_kg.middle)),
                gas.map(|gas| text_cell(&gas.designation)).unwrap_or_default(),
                or_empty(gas.map(|gas| gas.volume_l)),
                or_empty(run.arc_time_min),
                or_empty(run.working_time_min),
                or_empty(run.energy_kwh),
            ])?;
        }
    }
    out.flush()?;
    Ok(())
}

/// Text for a cell: a spreadsheet would compute what begins with one of these signs, so a quotation mark goes before it.
fn text_cell(text: &str) -> String {
    if text.starts_with(['=', '+', '-', '@', '\t', '\r']) { format!("'{text}") } else { text.to_owned() }
}
