//! Temperatures of the page: preheat, interpass temperature and heat treatment, held to the heat of the settings.

use seamwright_handbook::measure::figure;
use seamwright_handbook::{Band, interpass_temperature, metal_heat, planning, process_suitability};
use seamwright_model::finding::Basis;

use crate::cooling;
use crate::facts::Facts;
use crate::figures::rule;
use crate::page::{Said, Value};
use crate::preheat::{Found, governing, preheat, usual_interpass, usual_interpass_said};
use crate::settings::{Settings, heat};

/// Temperatures of the page.
pub(crate) struct Temperatures {
    pub(crate) preheating: Value,
    pub(crate) interpass: Option<Value>,
    pub(crate) treatment: Treatment,
}

/// Heat treatment after welding.
pub(crate) enum Treatment {
    /// The metal needs it.
    Asked {
        /// Temperature.
        celsius: Value,
        /// To what the joint cools before it is treated; the preheat is kept until then.
        cool: Option<Box<Value>>,
    },
    /// Nobody asks for it, or codes do without it at this thickness and preheat.
    None(Said),
    /// The metal hardens, and the handbook does not say.
    Open,
}

pub(crate) fn temperatures(facts: &Facts, settings: &Settings) -> Temperatures {
    let interpass = usual_interpass_said(facts);
    let heats: Vec<Band> = settings.runs.iter().filter_map(|run| cooling::heat_as_written(facts, run.arc())).collect();
    let heat_kj_mm = heats.into_iter().reduce(Band::hull);
    let found = preheat(facts, settings.low_hydrogen, least_heat(facts, settings));
    let (least, _) = rule(planning::LEAST_TEMPERATURE);
    let found = match heat_kj_mm.and_then(|heat| cooling::least_preheat(facts, heat.low)) {
        Some(celsius) if found.celsius.is_none_or(|own| own < celsius) => {
            Found { celsius: Some(celsius), said: cooling_said("no shorter") }
        }
        _ => found,
    };
    let wanted = found.celsius.filter(|celsius| *celsius > least.high).map(|celsius| (celsius / 5.0).ceil() * 5.0);
    // The interpass temperature lies above the preheat, but not above what the family stands.
    let (over, _) = rule(planning::INTERPASS_OVER_PREHEAT);
    let families = governing(facts);
    let limits = families.iter().filter_map(|own| interpass_temperature::get(own.metal.family));
    let most = limits.map(|row| row.usual_max_c).reduce(f64::min);
    let held = match (wanted, most) {
        (Some(wanted), Some(most)) if wanted > most => Some((most, true)),
        (Some(wanted), _) => Some((wanted, false)),
        (None, _) => None,
    };
    let preheating = match held {
        Some((celsius, true)) => Value::new(
            format!("{} °C minimum", figure(celsius)),
            Said::Decide(
                format!(
                    "{} °C are asked for, above the usual interpass temperature: compute again with the certificate",
                    figure(wanted.unwrap_or(celsius))
                )
                .into(),
            ),
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
            Some(Value::new(format!("{} °C maximum", figure(celsius)), cooling_said("no longer")))
        }
        (interpass, _) => interpass,
    };
    let preheat_c = held.map(|(celsius, _)| celsius);
    let treatment = match facts.other().map(|other| treatment(&other, preheat_c)) {
        Some(asked @ Treatment::Asked { .. }) => asked,
        _ => treatment(facts, preheat_c),
    };
    Temperatures { preheating, interpass, treatment }
}

fn cooling_said(word: &str) -> Said {
    let how = format!("EN 1011-2 D.5: t8/5 {word} than cooling-time-windows has it for the metal");
    Said::Computed(how.into(), Basis::Published)
}

/// The heat treatment that the metal needs at its thickness, on metal preheated to a temperature in degrees Celsius.
fn treatment(facts: &Facts, preheat_c: Option<f64>) -> Treatment {
    let Some(row) = metal_heat::treatment(facts.metal) else {
        let hardens = process_suitability::family(facts.metal.family).is_some_and(|row| row.hardens);
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
        Some(usual) => Treatment::Asked {
            celsius: crate::settings::ranged(usual, "°C", row.origin.source_of("usual_c")),
            cool: row.cool_to_c.map(|cool| {
                let said = Said::how(row.origin.source_of("cool_to_c"), "so that all of it has transformed");
                Box::new(Value::new(format!("after the joint has cooled to {} °C or below", figure(cool)), said))
            }),
        },
        None => Treatment::Open,
    }
}

fn where_asked() -> Said {
    Said::Decide("where the code asks for it".into())
}

/// The heat input of the run that governs, kJ/mm: the least of those that fill the joint; of a root, which the next run heats
/// again, the most that its settings give, as the check of a draft takes it.
fn least_heat(facts: &Facts, settings: &Settings) -> Option<f64> {
    let (root, fill) = settings.runs.split_at(usize::from(settings.runs.len() > 1));
    let of_root = root.iter().filter_map(|run| Some(cooling::heat_as_written(facts, run.arc())?.high));
    fill.iter().filter_map(|run| heat(facts, run)).chain(of_root).reduce(f64::min)
}
