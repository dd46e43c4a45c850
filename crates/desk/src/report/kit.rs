//! The kit of a class, for people and for programs.

use std::io::{self, Write};

use seamwright_check::kit::Kit;
use seamwright_check::rule::counted;
use serde_json::{Value, json};

/// Prints a kit, a line for each thing.
pub fn print(out: &mut impl Write, name: &str, kit: &Kit) -> io::Result<()> {
    writeln!(out, "{name}: kit of the class")?;
    for own in &kit.coupons {
        let size = [own.thickness_mm, own.outside_diameter_mm, own.width_mm, own.length_mm];
        let size: Vec<String> = size.into_iter().flatten().map(|size| format!("{size}")).collect();
        writeln!(out, "  coupons    {} of {}, {} mm", own.pieces, own.specification, size.join(" x "))?;
    }
    for own in &kit.fillers {
        let rods = own.rods.map(|rods| format!(", {rods} rods")).unwrap_or_default();
        writeln!(out, "  filler     {:.2} kg of {}{rods}", own.mass_kg, own.designation)?;
    }
    if let Some((designation, count)) = &kit.tungstens {
        writeln!(out, "  tungstens  {count} of {designation}")?;
    }
    for gas in &kit.gases {
        let cylinders = gas.cylinders.map(|count| format!(", {}", counted(count, "cylinder"))).unwrap_or_default();
        writeln!(out, "  gas        {:.2} m3 of {}{cylinders}", gas.litres / 1000.0, gas.designation)?;
    }
    writeln!(
        out,
        "  time       {:.0} min each, {} turns, {:.0} min in the booths",
        kit.minutes_each, kit.turns, kit.minutes_in_booths
    )?;
    let costs = kit.costs();
    if !costs.is_empty() {
        let total: f64 = costs.iter().map(|(_, cost)| cost).sum();
        writeln!(out, "  cost       {total:.2} {} of filler and gas", kit.currency)?;
    }
    for own in &kit.assumptions {
        let source = own.source.as_ref().map(|source| format!(" ({})", source.line())).unwrap_or_default();
        writeln!(out, "  assumed    {}{source}", own.text)?;
    }
    for own in &kit.not_stated {
        writeln!(out, "  not stated {own}")?;
    }
    Ok(())
}

/// A kit in the shape that programs rely on.
pub fn json(kit: &Kit) -> Value {
    let mm = |size: Option<f64>| size.map(|size| json!({"value": size, "unit": "mm"}));
    json!({
        "coupons": kit.coupons.iter().map(|own| json!({
            "specification": own.specification,
            "thickness": mm(own.thickness_mm),
            "outside_diameter": mm(own.outside_diameter_mm),
            "width": mm(own.width_mm),
            "length": mm(own.length_mm),
            "pieces": own.pieces,
        })).collect::<Vec<_>>(),
        "fillers": kit.fillers.iter().map(|own| json!({
            "designation": own.designation,
            "mass": {"value": own.mass_kg, "unit": "kg"},
            "rods": own.rods,
        })).collect::<Vec<_>>(),
        "tungstens": kit.tungstens.as_ref().map(|(designation, count)| json!({"designation": designation, "count": count})),
        "gases": kit.gases.iter().map(|gas| json!({
            "designation": gas.designation,
            "volume": {"value": gas.litres, "unit": "L"},
            "cylinders": gas.cylinders,
        })).collect::<Vec<_>>(),
        "time_each": {"value": kit.minutes_each, "unit": "min"},
        "turns": kit.turns,
        "time_in_booths": {"value": kit.minutes_in_booths, "unit": "min"},
        "cost": kit.costs().into_iter().map(|(what, cost)| json!({"what": what, "value": cost, "unit": kit.currency})).collect::<Vec<_>>(),
        "assumptions": kit.assumptions.iter().map(|own| json!({"text": own.text, "source": own.source})).collect::<Vec<_>>(),
        "not_stated": kit.not_stated,
    })
}
