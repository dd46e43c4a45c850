//! Preheating and interpass temperature: by formula for steel that it holds for, else by practice.

use seamwright_calc::composition::{Composition, Element};
use seamwright_calc::{carbon_equivalent, preheat};
use seamwright_handbook::{
    Range, Size, interpass_temperature, metal_families, metal_heat, planning, preheat_methods, process_suitability,
};
use seamwright_model::finding::Basis;

use crate::cooling;
use crate::facts::Facts;
use crate::figures::figure;
use crate::page::{Said, Value};
use crate::plan::rule;
use crate::settings::{Settings, heat};

/// Temperatures of the page.
pub(crate) struct Temperatures {
    pub(crate) preheating: Value,
    pub(crate) interpass: Option<Value>,
    pub(crate) treatment: Treatment,
}

/// Heat treatment after welding.
pub(crate) enum Treatment {
    /// The metal needs it at this temperature.
    Asked(Value),
    /// Nobody asks for it, or codes do without it at this thickness and preheat.
    None(Said),
    /// The metal hardens, and the handbook does not say.
    Open,
}

/// Preheat as found, °C; nothing where none is needed.
struct Found {
    celsius: Option<f64>,
    said: Said,
}

pub(crate) fn temperatures(facts: &Facts, settings: &Settings) -> Temperatures {
    let interpass = usual_interpass_said(facts);
    let heats: Vec<Range> = settings.runs.iter().filter_map(|run| cooling::heat(facts, run.arc())).collect();
    let heat_kj_mm = heats.into_iter().reduce(Range::hull);
    let found = preheat(facts, settings.low_hydrogen, least_heat(facts, settings));
    let (least, _) = rule("least-temperature");
    let found = match heat_kj_mm.and_then(|heat| cooling::least_preheat(facts, heat.low)) {
        Some(celsius) if found.celsius.is_none_or(|own| own < celsius) => {
            Found { celsius: Some(celsius), said: cooling_said("no faster") }
        }
        _ => found,
    };
    let wanted = found.celsius.filter(|celsius| *celsius > least.high).map(|celsius| (celsius / 5.0).ceil() * 5.0);
    // The interpass temperature lies above the preheat, but not above what the family stands.
    let (over, _) = rule("interpass-over-preheat");
    let families = [&facts.metal.family, &facts.second().family];
    let limits = families.into_iter().filter_map(|family| interpass_temperature::get(family));
    let most = limits.map(|row| row.usual_max_c).reduce(f64::min);
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
    let slowest = heat_kj_mm.and_then(|heat| cooling::most_interpass(facts, heat.high));
    let interpass = match (interpass, slowest) {
        (_, Some(celsius)) if usual_interpass(facts).is_some_and(|usual| celsius < usual) => {
            Some(Value::new(format!("{} °C maximum", figure(celsius)), cooling_said("no slower")))
        }
        (interpass, _) => interpass,
    };
    let preheat_c = held.map(|(celsius, _)| celsius);
    let treatment = match facts.other().map(|other| treatment(&other, preheat_c)) {
        Some(asked @ Treatment::Asked(_)) => asked,
        _ => treatment(facts, preheat_c),
    };
    Temperatures { preheating, interpass, treatment }
}

/// The preheat of the metal, or the higher of two.
fn preheat(facts: &Facts, low_hydrogen: bool, heat_kj_mm: Option<f64>) -> Found {
    let own = preheat_of_one(facts, low_hydrogen, heat_kj_mm);
    match facts.other().map(|other| preheat_of_one(&other, low_hydrogen, heat_kj_mm)) {
        Some(other) if other.celsius > own.celsius => other,
        _ => own,
    }
}

/// The preheat by the table of practice, or by formula at a heat input in kJ/mm where the metal is of the kind that it holds for.
fn preheat_of_one(facts: &Facts, low_hydrogen: bool, heat_kj_mm: Option<f64>) -> Found {
    let practice = Size::from_mm(facts.thickness_mm)
        .and_then(|size| metal_heat::preheat(facts.metal, size))
        .filter(|row| row.minimum_c.is_some());
    let by_table =
        practice.map(|row| Found { celsius: row.minimum_c, said: Said::table(row.origin.source_of("minimum_c")) });
    let method = || {
        let heat = heat_kj_mm?;
        by_thickness(facts, low_hydrogen, heat).or_else(|| by_method(facts, low_hydrogen, heat))
    };
    match (by_table, practice.is_some_and(|row| row.needed)) {
        (Some(table), true) => table,
        // The table's figure is a floor where the formula asks for more.
        (Some(table), false) => match method() {
            Some(found) if found.celsius > table.celsius => found,
            _ => table,
        },
        (None, _) => method().unwrap_or_else(|| Found {
            celsius: None,
            said: Said::how(rule("least-temperature").1, "no preheat; warm enough that no water stands on it"),
        }),
    }
}

/// The preheat that a weld with a heat input in kJ/mm is given for its hydrogen, °C.
pub(crate) fn preheat_c(facts: &Facts, low_hydrogen: bool, heat_kj_mm: f64) -> Option<f64> {
    preheat(facts, low_hydrogen, Some(heat_kj_mm)).celsius
}

/// The highest interpass temperature in use for the metal, or the lower of two, °C, and where it stands.
fn usual_interpass_said(facts: &Facts) -> Option<(f64, Said)> {
    let own = interpass_of_one(facts);
    let other = facts.other().and_then(|other| interpass_of_one(&other));
    match (own, other) {
        (Some(own), Some(other)) => Some(if other.0 < own.0 { other } else { own }),
        (own, other) => own.or(other),
    }
}

fn interpass_of_one(facts: &Facts) -> Option<(f64, Said)> {
    let limit = interpass_temperature::get(&facts.metal.family);
    let usual = limit.map(|row| (row.usual_max_c, Said::table(row.origin.source_of("usual_max_c"))));
    let custom =
        planning::interpass(facts.metal).map(|row| (row.interpass_max_c, Said::table(row.origin.source_ref())));
    usual.or(custom)
}

/// The highest interpass temperature in use for the metal, °C.
pub(crate) fn usual_interpass(facts: &Facts) -> Option<f64> {
    usual_interpass_said(facts).map(|(celsius, _)| celsius)
}

fn cooling_said(word: &str) -> Said {
    let how = format!("EN 1011-2 D.5: from 800 to 500 °C {word} than cooling-time-windows has it for the metal");
    Said::Computed(how.into(), Basis::Published)
}

/// The heat treatment that the metal needs at its thickness, on metal preheated to a temperature in degrees Celsius.
fn treatment(facts: &Facts, preheat_c: Option<f64>) -> Treatment {
    let Some(row) = metal_heat::treatment(facts.metal) else {
        let hardens = process_suitability::family(&facts.metal.family).is_some_and(|row| row.hardens);
        return if hardens { Treatment::Open } else { Treatment::None(where_asked()) };
    };
    if row.asked == metal_heat::Asked::Optional {
        return Treatment::None(where_asked());
    }
    if row.spared(facts.metal, facts.thickness_mm, preheat_c) {
        let thin = row.thin_mm.map_or(String::new(), figure);
        let how = format!("codes do without it up to {thin} mm where the metal is preheated");
        return Treatment::None(Said::how(row.origin.source_of("preheated"), how));
    }
    match row.usual_c {
        Some(usual) => Treatment::Asked(crate::settings::ranged(usual, "°C", row.origin.source_of("usual_c"))),
        None => Treatment::Open,
    }
}

fn where_asked() -> Said {
    Said::Decide("where the code asks for it".into())
}

/// Highest contents that the specification of a steel allows together, where its carbon is known; not of stainless and cast iron.
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
    let contents: Vec<(Element, f64)> = contents.collect();
    let steel = Composition::new(contents.iter().copied()).ok()?;
    let equivalent = carbon_equivalent::ce_iiw_pct(&steel);
    // Where the specification bounds the carbon equivalent, no steel has every content at its highest at once.
    let steel = match facts.metal.carbon_equivalent_max.filter(|most| *most < equivalent) {
        Some(most) => Composition::new(contents.into_iter().map(|(own, pct)| (own, pct * most / equivalent))).ok()?,
        None => steel,
    };
    steel.states(Element::C).then_some(steel)
}

/// The least heat input of the runs, kJ/mm.
fn least_heat(facts: &Facts, settings: &Settings) -> Option<f64> {
    settings.runs.iter().filter_map(|run| heat(facts, run)).reduce(f64::min)
}

/// No preheat by method A of EN 1011-2, where the combined thickness needs none.
fn by_thickness(facts: &Facts, low_hydrogen: bool, heat_input: f64) -> Option<Found> {
    let steel = highest(facts)?;
    let ce = facts.metal.carbon_equivalent_max.unwrap_or_else(|| carbon_equivalent::ce_iiw_pct(&steel));
    let hydrogen = metal_heat::hydrogen(&facts.process.number, low_hydrogen)?;
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

/// Method B of EN 1011-2 for steel that is neither stainless nor cast iron and hardens as the method has it; no preheat on
/// thinner metal than it holds for.
fn by_method(facts: &Facts, low_hydrogen: bool, heat_input_kj_mm: f64) -> Option<Found> {
    let steel = highest(facts)?;
    let cet_pct = carbon_equivalent::cet_pct(&steel);
    let hydrogen = metal_heat::hydrogen(&facts.process.number, low_hydrogen)?;
    let holds = |quantity| preheat_methods::valid_range("B", quantity).map(|row| row.range);
    if let Some(range) = holds("thickness").filter(|range| facts.thickness_mm < range.low) {
        let how = format!("no preheat under {} mm, where EN 1011-2 method B begins", figure(range.low));
        return Some(Found { celsius: None, said: Said::how(rule("least-temperature").1, how) });
    }
    let range = holds("CET")?;
    if cet_pct > range.high {
        let how = format!(
            "the highest contents that {} allows harden more (CET {cet_pct:.2} %) than EN 1011-2 method B holds for: compute with the certificate, or ask the maker",
            facts.metal.specification
        );
        return Some(Found { celsius: None, said: Said::Decide(how.into()) });
    }
    // Beyond the ends of what it holds for the method is asked at its ends.
    let within = |quantity, value: f64| holds(quantity).map_or(value, |range| value.clamp(range.low, range.high));
    let asked = preheat::MethodB {
        cet_pct,
        thickness_mm: within("thickness", facts.thickness_mm),
        hydrogen_ml_100g: within("hydrogen", hydrogen.hydrogen_ml),
        heat_input_kj_mm: within("heat-input", heat_input_kj_mm),
    };
    let celsius = asked.preheat().ok()?.temperature_c;
    let result = if celsius > 0.0 { format!("{celsius:.0} °C") } else { "none".to_owned() };
    let how = format!(
        "EN 1011-2 method B gives {result} from CET {cet_pct:.2} % (highest contents that {} allows), {} mm, {} ml/100 g ({}), {:.2} kJ/mm",
        facts.metal.specification,
        figure(asked.thickness_mm),
        figure(asked.hydrogen_ml_100g),
        hydrogen.origin.basis.as_str(),
        asked.heat_input_kj_mm,
    );
    Some(Found { celsius: Some(celsius), said: Said::Computed(how.into(), Basis::Published) })
}
