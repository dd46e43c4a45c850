//! Preheat and interpass temperature that the metal asks for: by formula for steel that it holds for, else by practice.

use seamwright_calc::composition::{Composition, Element};
use seamwright_calc::{carbon_equivalent, preheat as formula};
use seamwright_handbook::measure::figure;
use seamwright_handbook::{aws_d1_1, interpass_temperature, metal_families, metal_heat, planning, preheat_methods};

use crate::facts::Facts;
use crate::figures::rule;
use crate::page::Said;

/// Preheat as found, °C; nothing where none is needed.
pub(crate) struct Found {
    pub(crate) celsius: Option<f64>,
    pub(crate) said: Said,
}

/// The preheat of the metal, or the higher of two.
pub(crate) fn preheat(facts: &Facts, low_hydrogen: bool, heat_kj_mm: Option<f64>) -> Found {
    let own = preheat_of_one(facts, low_hydrogen, heat_kj_mm);
    match facts.other().map(|other| preheat_of_one(&other, low_hydrogen, heat_kj_mm)) {
        Some(other) if other.celsius > own.celsius => other,
        _ => own,
    }
}

/// The preheat by one method for one joint: the table of AWS D1.1 where it governs or the work is in inches and the steel
/// has a category; else what practice has for the metal; else method A of EN 1011-2 with the carbon equivalent of the grade
/// as delivered, at a heat input in kJ/mm.
fn preheat_of_one(facts: &Facts, low_hydrogen: bool, heat_kj_mm: Option<f64>) -> Found {
    if let Some(found) = by_d1_1(facts, low_hydrogen) {
        return found;
    }
    let practice =
        facts.size().and_then(|size| metal_heat::preheat(facts.metal, size)).filter(|row| row.minimum_c.is_some());
    if let Some(row) = practice {
        return Found { celsius: row.minimum_c, said: Said::table(row.origin.source_of("minimum_c")) };
    }
    heat_kj_mm.and_then(|heat| by_thickness(facts, low_hydrogen, heat)).unwrap_or_else(|| Found {
        celsius: None,
        said: Said::how(rule(planning::LEAST_TEMPERATURE).1, "no preheat; warm enough that no water stands on it"),
    })
}

/// The least preheat of AWS D1.1 for a steel that has a category there, under that code and in American work.
fn by_d1_1(facts: &Facts, low_hydrogen: bool) -> Option<Found> {
    if !facts.american() {
        return None;
    }
    let categories = &facts.metal.d1_1_preheat;
    let wanted = if low_hydrogen { ["B", "C", "D"].as_slice() } else { &["A"] };
    let category = wanted.iter().find(|own| categories.iter().any(|has| has == *own))?;
    let row = aws_d1_1::preheat(category, facts.size()?)?;
    let celsius = Some(row.preheat_min_c).filter(|celsius| *celsius > 0.0);
    Some(Found { celsius, said: Said::how(row.origin.source_ref(), format!("category {category} of AWS D1.1")) })
}

/// The preheat that a weld with a heat input in kJ/mm is given for its hydrogen, °C.
pub(crate) fn preheat_c(facts: &Facts, low_hydrogen: bool, heat_kj_mm: f64) -> Option<f64> {
    preheat(facts, low_hydrogen, Some(heat_kj_mm)).celsius
}

/// The metals whose highest temperatures hold, each as facts: of two, one alone that is heated for the other gives way.
pub(crate) fn governing(facts: &Facts) -> Vec<Facts> {
    let Some((other, size)) = facts.other().zip(facts.size()) else { return vec![facts.clone()] };
    let gives_way = |own: &Facts, beside: &Facts| metal_heat::heated_for(own.metal, beside.metal, size);
    if gives_way(facts, &other) {
        vec![other]
    } else if gives_way(&other, facts) {
        vec![facts.clone()]
    } else {
        vec![facts.clone(), other]
    }
}

/// The highest interpass temperature in use for the metal, or the lower of two, °C, and where it stands.
pub(crate) fn usual_interpass_said(facts: &Facts) -> Option<(f64, Said)> {
    let each = governing(facts);
    let own = each.first().and_then(interpass_of_one);
    let other = each.get(1).and_then(interpass_of_one);
    match (own, other) {
        (Some(own), Some(other)) => Some(if other.0 < own.0 { other } else { own }),
        (own, other) => own.or(other),
    }
}

fn interpass_of_one(facts: &Facts) -> Option<(f64, Said)> {
    let limit = interpass_temperature::get(facts.metal.family);
    let usual = limit.map(|row| (row.usual_max_c, Said::table(row.origin.source_of("usual_max_c"))));
    let custom =
        planning::interpass(facts.metal).map(|row| (row.interpass_max_c, Said::table(row.origin.source_ref())));
    usual.or(custom)
}

/// The highest interpass temperature in use for the metal, °C.
pub(crate) fn usual_interpass(facts: &Facts) -> Option<f64> {
    usual_interpass_said(facts).map(|(celsius, _)| celsius)
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

/// No preheat by method A of EN 1011-2, where the combined thickness needs none; its first step where it needs some.
///
/// A steel whose specification lets it hold more than the table goes to is held at the highest carbon equivalent of the table: it
/// needs no less than that, and what it needs with its certificate is to be decided.
fn by_thickness(facts: &Facts, low_hydrogen: bool, heat_input: f64) -> Option<Found> {
    let steel = highest(facts)?;
    let ce = facts.metal.carbon_equivalent_max.unwrap_or_else(|| carbon_equivalent::ce_iiw_pct(&steel));
    let hydrogen = metal_heat::hydrogen(facts.process.number, low_hydrogen)?;
    let table = preheat_methods::carbon_equivalent_most(hydrogen.hydrogen_ml)?;
    let (most, row) = preheat_methods::cold_thickness(hydrogen.hydrogen_ml, ce.min(table), heat_input)?;
    let most = most.round();
    // Two plates meet at a butt joint, and at a fillet the one that runs on both ways counts twice.
    let plates = if facts.groove() { 2 } else { 3 };
    let combined = formula::combined_thickness_mm(&vec![facts.thickness_mm; plates], false).ok()?;
    if combined > most {
        let (first, source) = rule(planning::METHOD_A_FIRST_PREHEAT);
        let how = format!(
            "EN 1011-2 method A wants preheat above {} mm combined thickness (here {} mm, CE {ce:.2} % at the most, {heat_input:.2} kJ/mm): its first step; read the figure with the certificate",
            figure(most),
            figure(combined),
        );
        return Some(Found { celsius: Some(first.high), said: Said::how(source, how) });
    }
    if ce > table {
        let how = format!(
            "method A of EN 1011-2 goes to CE {table:.2} % ({} mm combined thickness without preheat there, here {} mm), and the specification to {ce:.2} %: by the certificate",
            figure(most),
            figure(combined),
        );
        return Some(Found { celsius: None, said: Said::Decide(how.into()) });
    }
    let how = format!(
        "no preheat by EN 1011-2 method A up to {} mm combined thickness; here {} mm, CE {ce:.2} %, {} ml/100 g, {heat_input:.2} kJ/mm",
        figure(most),
        figure(combined),
        figure(hydrogen.hydrogen_ml),
    );
    Some(Found { celsius: None, said: Said::how(row.origin.source_ref(), how) })
}
