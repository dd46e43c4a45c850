//! Preheating and interpass temperature: by formula for steel that it holds for, else by practice.

use seamwright_calc::composition::{Composition, Element};
use seamwright_calc::{carbon_equivalent, preheat};
use seamwright_handbook::{
    interpass_temperature, metal_families, metal_heat, planning, preheat_methods, process_suitability,
};
use seamwright_model::finding::Basis;

use crate::facts::Facts;
use crate::figures::figure;
use crate::page::{Said, Value};
use crate::plan::rule;
use crate::settings::{Settings, heat};

/// Temperatures of the page.
pub(crate) struct Temperatures {
    pub(crate) preheating: Value,
    pub(crate) interpass: Option<Value>,
    /// Whether heat treatment after welding is a question for the family.
    pub(crate) hardens: bool,
    /// Temperature of the heat treatment that the metal needs at this thickness.
    pub(crate) treatment: Option<Value>,
}

/// Preheat as found, °C; nothing where none is needed.
struct Found {
    celsius: Option<f64>,
    said: Said,
}

pub(crate) fn temperatures(facts: &Facts, settings: &Settings) -> Temperatures {
    let practice = metal_heat::preheat(facts.metal, facts.thickness_mm).filter(|row| row.minimum_c.is_some());
    let limit = interpass_temperature::get(&facts.metal.family);
    let usual = limit.map(|row| (row.usual_max_c, Said::table(row.origin.source_of("usual_max_c"))));
    let custom =
        planning::interpass(facts.metal).map(|row| (row.interpass_max_c, Said::table(row.origin.source_ref())));
    let interpass = usual.or(custom);
    let (least, least_source) = rule("least-temperature");
    let by_table =
        practice.map(|row| Found { celsius: row.minimum_c, said: Said::table(row.origin.source_of("minimum_c")) });
    let method = || by_thickness(facts, settings).or_else(|| by_method(facts, settings));
    let found = match (by_table, practice.is_some_and(|row| row.needed)) {
        (Some(table), true) => table,
        // The table's figure is a floor where the formula asks for more.
        (Some(table), false) => match method() {
            Some(found) if found.celsius > table.celsius => found,
            _ => table,
        },
        (None, _) => method().unwrap_or(Found {
            celsius: None,
            said: Said::how(least_source, "no preheat; warm enough that no water stands on it"),
        }),
    };
    let wanted = found.celsius.filter(|celsius| *celsius > least.high).map(|celsius| (celsius / 5.0).ceil() * 5.0);
    // The interpass temperature lies above the preheat, but not above what the family stands.
    let (over, _) = rule("interpass-over-preheat");
    let most = limit.map(|row| row.usual_max_c);
    let held = match (wanted, most) {
        (Some(wanted), Some(most)) if wanted > most => Some((most, true)),
        (Some(wanted), _) => Some((wanted, false)),
        (None, _) => None,
    };
    let preheating = match held {
        Some((celsius, true)) => Value::new(
            format!("{} °C minimum", figure(celsius)),
            Said::Decide(format!("method B asks for {} °C with the highest contents of the specification, above the usual interpass temperature: compute again with the certificate", figure(wanted.unwrap_or(celsius))).into()),
        ),
        Some((celsius, false)) => Value::new(format!("{} °C minimum", figure(celsius)), found.said),
        None => Value::new(format!("{} °C minimum", figure(least.high)), found.said),
    };
    let interpass = match (interpass, held) {
        (Some((usual, said)), Some((preheat, _))) if most.is_none() && usual < preheat + over.high => Some(Value::new(
            format!("{} °C maximum", figure(preheat + over.high)),
            match said {
                Said::Table(source, _) => Said::how(source, "raised above the preheat"),
                other => other,
            },
        )),
        (Some((usual, said)), _) => Some(Value::new(format!("{} °C maximum", figure(usual)), said)),
        (None, _) => None,
    };
    let hardens = process_suitability::family(&facts.metal.family).is_some_and(|row| row.hardens);
    let row = metal_heat::treatment(facts.metal);
    let asked = row.filter(|row| match row.asked {
        metal_heat::Asked::Always => true,
        metal_heat::Asked::AboveThickness => row.thin_mm.is_none_or(|thin| facts.thickness_mm > thin),
        metal_heat::Asked::Optional => false,
    });
    let treatment =
        asked.and_then(|row| Some(crate::settings::ranged(row.usual_c?, "°C", row.origin.source_of("usual_c"))));
    // A metal that hardens and has no row is left to the writer.
    let hardens = hardens && row.is_none();
    Temperatures { preheating, interpass, hardens, treatment }
}

/// Highest contents of a steel that is neither stainless nor cast iron, where its carbon is known.
fn highest(facts: &Facts) -> Option<Composition> {
    let family = &facts.metal.family;
    if !metal_families::is_in(family, "steel") || metal_families::is_in(family, "stainless") {
        return None;
    }
    let contents = facts
        .metal
        .composition
        .iter()
        .filter_map(|(symbol, content)| Some((symbol.parse::<Element>().ok()?, content.max.or(content.min)?)));
    let steel = Composition::new(contents).ok()?;
    steel.states(Element::C).then_some(steel)
}

/// The least heat input of the runs, kJ/mm.
fn least_heat(facts: &Facts, settings: &Settings) -> Option<f64> {
    settings.runs.iter().filter_map(|run| heat(facts, run)).reduce(f64::min)
}

/// No preheat by method A of EN 1011-2, where the combined thickness needs none.
fn by_thickness(facts: &Facts, settings: &Settings) -> Option<Found> {
    let steel = highest(facts)?;
    let ce = facts.metal.carbon_equivalent_max.unwrap_or_else(|| carbon_equivalent::ce_iiw_pct(&steel));
    let heat_input = least_heat(facts, settings)?;
    let hydrogen = metal_heat::hydrogen(&facts.process.number, settings.low_hydrogen)?;
    let row = preheat_methods::thickness_without_preheat(hydrogen.hydrogen_ml, ce, heat_input)?;
    // Two plates meet at a butt joint, and at a fillet the one that runs on both ways counts twice.
    let plates = if facts.groove() { 2 } else { 3 };
    let combined = preheat::combined_thickness_mm(&vec![facts.thickness_mm; plates], false).ok()?;
    if combined > row.combined_thickness_max_mm {
        return None;
    }
    let how = format!(
        "no preheat by EN 1011-2 method A up to {} mm combined thickness; here {} mm, CE {ce:.2} %, {} ml/100 g, {heat_input:.2} kJ/mm",
        figure(row.combined_thickness_max_mm),
        figure(combined),
        figure(hydrogen.hydrogen_ml),
    );
    Some(Found { celsius: None, said: Said::how(row.origin.source_ref(), how) })
}

/// Method B of EN 1011-2 for steel that is neither stainless nor cast iron.
fn by_method(facts: &Facts, settings: &Settings) -> Option<Found> {
    let steel = highest(facts)?;
    let cet_pct = carbon_equivalent::cet_pct(&steel);
    let heat_input_kj_mm = least_heat(facts, settings)?;
    let thickness = preheat_methods::valid_range("B", "thickness");
    let hydrogen = metal_heat::hydrogen(&facts.process.number, settings.low_hydrogen)?;
    // More hydrogen than the method reaches counts as its most.
    let most = preheat_methods::valid_range("B", "hydrogen").map_or(hydrogen.hydrogen_ml, |row| row.range.high);
    let asked = preheat::MethodB {
        cet_pct,
        thickness_mm: thickness.map_or(facts.thickness_mm, |row| facts.thickness_mm.min(row.range.high)),
        hydrogen_ml_100g: hydrogen.hydrogen_ml.min(most),
        heat_input_kj_mm,
    };
    let celsius = asked.preheat().ok()?.temperature_c;
    let outside: Vec<&str> = [
        ("CET", cet_pct),
        ("thickness", asked.thickness_mm),
        ("hydrogen", asked.hydrogen_ml_100g),
        ("heat-input", heat_input_kj_mm),
    ]
    .into_iter()
    .filter(|(quantity, value)| {
        preheat_methods::valid_range("B", quantity).is_some_and(|row| !row.range.contains(*value))
    })
    .map(|(quantity, _)| quantity)
    .collect();
    let outside =
        if outside.is_empty() { String::new() } else { format!("; outside its range: {}", outside.join(", ")) };
    let result = if celsius > 0.0 { format!("{celsius:.0} °C") } else { "none".to_owned() };
    let how = format!(
        "EN 1011-2 method B gives {result} from CET {cet_pct:.2} % (highest contents of {}), {} mm, {} ml/100 g ({}), {heat_input_kj_mm:.2} kJ/mm{outside}",
        facts.metal.specification,
        figure(asked.thickness_mm),
        figure(asked.hydrogen_ml_100g),
        hydrogen.origin.basis.as_str(),
    );
    Some(Found { celsius: Some(celsius), said: Said::Computed(how.into(), Basis::Published) })
}
