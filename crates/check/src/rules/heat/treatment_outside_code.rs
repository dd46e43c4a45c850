//! `treatment-outside-code`: explanation, cases, logic.

use seamwright_calc::Band;
use seamwright_calc::band::{above, below};
use seamwright_handbook::code_scope::title;
use seamwright_handbook::measure::{self, figure};
use seamwright_model::finding::{Limit, Severity};
use seamwright_model::procedure::{HeatTreatment, time_by_thickness};
use seamwright_model::quantity::{HeatingRate, Range, Temperature};
use seamwright_model::stated::Stated;

use super::treatment;
use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use crate::treatment::{Asked, least_time};

/// The check.
pub const RULE: Rule = Rule {
    name: "treatment-outside-code",
    harm: Harm::Metal,
    finds: "A heat treatment after welding that is colder, hotter, shorter or faster than its code of construction has it.",
    matters: "Too cold or too short leaves stress and hardness; too hot softens the metal; too fast warps and cracks thick parts.",
    remedy: "Write the figures of the code; `seamwright calc heat-treatment` works them out.",
    limit: "Holding temperature and time by P-Number and thickness, rates of heating and cooling: ASME VIII-1 UCS-56 and UHA-32, B31.3 Table 331.1.1, B31.1 132.5. An error under the code that is named; under ASME IX alone a caution where both have it otherwise.",
    tables: &["treatment-thickness", "treatment-holding", "treatment-lowered", "treatment-rates"],
    examine,
    faulty: &[
        // A fillet goes by its throat: 1 h for 1 in, not 2 h 15 min of the plate.
        fillet_built!("{throat: 1 in}", "200 °F minimum", "{temperature: 1100 °F, time: 50 min}"),
        fillet_built!("{throat: 25 mm}", "95 °C minimum", "{temperature: 595 °C, time: 50 min}"),
        built!("asme-viii-1", "2 in", "200 °F minimum", "{temperature: 1100 °F, time_by_thickness: 50 min per 1 in}"),
        built!("asme-viii-1", "50 mm", "95 °C minimum", "{temperature: 595 °C, time_by_thickness: 50 min per 25 mm}"),
        // P-1 under VIII-1: 1100 °F (595 °C), 1 h for each inch up to 2 in, above 2 h and 15 min for each inch.
        built!("asme-viii-1", "1-1/2 in", "50 °F minimum", "{temperature: 1100 °F, time: 89 min}"),
        built!("asme-viii-1", "50 mm", "10 °C minimum", "{temperature: 600 °C, time: 119 min}"),
        built!("asme-viii-1", "3 in", "200 °F minimum", "{temperature: 1100 °F, time: 134 min}"),
        built!("asme-viii-1", "1/4 in", "50 °F minimum", "{temperature: 1100 °F, time: 14 min}"),
        // Lower by 50 °F asks for 2 h, by 200 °F for 20 h, and no lower.
        built!("asme-viii-1", "1 in", "50 °F minimum", "{temperature: 1050 °F, time: 119 min}"),
        built!("asme-viii-1", "1 in", "50 °F minimum", "{temperature: 890 °F, time: 30 h}"),
        // 400 °F/h over the thickness in inches; 222 °C/h.
        built!("asme-viii-1", "2 in", "200 °F minimum", "{temperature: 1100 °F, time: 2 h, heating_rate: 210 °F/h}"),
        built!(
            "asme-viii-1",
            "50.8 mm",
            "95 °C minimum",
            "{temperature: 600 °C, time: 150 min, heating_rate: 112 °C/h}"
        ),
        built!("asme-viii-1", "2 in", "200 °F minimum", "{temperature: 1100 °F, time: 2 h, cooling_rate: 251 °F/h}"),
        // B31.3 has a largest temperature.
        built!("asme-b31.3", "2 in", "200 °F minimum", "{temperature: 1100-1210 °F, time: 2 h}"),
        built!("asme-b31.3", "50 mm", "95 °C minimum", "{temperature: 595-655 °C, time: 2 h}"),
        // No code of construction is named, and both have it longer.
        Case {
            base: "butt-20-a516-121",
            edits: &[("/temperatures/post_weld_heat_treatment", "{temperature: 600 °C, time: 15 min}")],
        },
    ],
    sound: &[
        fillet_built!("{throat: 1 in}", "200 °F minimum", "{temperature: 1100 °F, time: 1 h}"),
        fillet_built!("{throat: 25 mm}", "95 °C minimum", "{temperature: 595 °C, time: 1 h}"),
        built!("asme-viii-1", "2 in", "200 °F minimum", "{temperature: 1100 °F, time_by_thickness: 1 h per 1 in}"),
        built!("asme-viii-1", "50 mm", "95 °C minimum", "{temperature: 595 °C, time_by_thickness: 1 h per 25 mm}"),
        built!(
            "asme-viii-1",
            "50 mm",
            "95 °C minimum",
            "{temperature: 595 °C, time: 2 h minimum, time_by_thickness: 50 min per 25 mm}"
        ),
        built!("asme-viii-1", "1-1/2 in", "50 °F minimum", "{temperature: 1100 °F, time: 90 min}"),
        built!("asme-viii-1", "50 mm", "10 °C minimum", "{temperature: 595 °C minimum, time: 2 h}"),
        built!("asme-viii-1", "3 in", "200 °F minimum", "{temperature: 1100 °F, time: 135 min}"),
        built!("asme-viii-1", "1/4 in", "50 °F minimum", "{temperature: 1100 °F, time: 15 min}"),
        built!("asme-viii-1", "1 in", "50 °F minimum", "{temperature: 1050 °F, time: 2 h}"),
        built!("asme-viii-1", "1 in", "50 °F minimum", "{temperature: 900 °F, time: 20 h}"),
        built!("asme-viii-1", "2 in", "200 °F minimum", "{temperature: 1100 °F, time: 2 h, heating_rate: 200 °F/h}"),
        built!(
            "asme-viii-1",
            "50.8 mm",
            "95 °C minimum",
            "{temperature: 600 °C, time: 150 min, heating_rate: 111 °C/h}"
        ),
        built!("asme-viii-1", "2 in", "200 °F minimum", "{temperature: 1100 °F, time: 2 h, cooling_rate: 250 °F/h}"),
        built!("asme-b31.3", "2 in", "200 °F minimum", "{temperature: 1100-1200 °F, time: 2 h}"),
        built!("asme-b31.3", "50 mm", "95 °C minimum", "{temperature: 595-650 °C, time: 2 h}"),
        Case {
            base: "butt-20-a516-121",
            edits: &[("/temperatures/post_weld_heat_treatment", "{temperature: 600 °C, time: 1 h}")],
        },
        Case { base: "pipe-butt-p91-141", edits: &[] },
    ],
};

/// A value of a heat treatment that a code has otherwise.
struct Fault {
    key: &'static str,
    stated: String,
    message: String,
    limit: Limit,
    source: seamwright_model::finding::SourceRef,
}

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let Some(own) = view.procedure.heat_treatment() else { return };
    let (codes, firm) = treatment::codes(view);
    // Under several codes a value is wrong where it is so under each.
    let mut of_each = codes.into_iter().map(|code| {
        let asked = treatment::asked(view, code);
        // Between two metals the one that is held hotter rules.
        let ruling = asked.into_iter().max_by(|(_, a), (_, b)| {
            let least = |own: &Asked<'_>| own.holding().map_or(0.0, |row| row.hold_min_c);
            least(a).total_cmp(&least(b))
        });
        ruling.map_or_else(Vec::new, |(_, asked)| {
            let mut found = faults(own, &asked);
            found.extend(too_fast(own, &treatment::of_parts(view, asked)));
            found
        })
    });
    let Some(mut found) = of_each.next() else { return };
    for other in of_each {
        found.retain(|fault| other.iter().any(|own| own.key == fault.key));
    }
    x.examined("/temperatures/post_weld_heat_treatment");
    for fault in found {
        let severity = if firm { Severity::Error } else { Severity::Caution };
        x.report(severity, format!("/temperatures/post_weld_heat_treatment/{}", fault.key), fault.message)
            .stated(fault.stated)
            .limit(fault.limit.clone(), &fault.source)
            .hint(format!("write {}: {}", fault.key, fault.limit));
    }
}

fn faults(own: &HeatTreatment, asked: &Asked<'_>) -> Vec<Fault> {
    let mut found = Vec::new();
    let name = title(asked.code);
    let fault = |key, stated: &str, what: String, limit: Limit, source| Fault {
        key,
        stated: stated.to_owned(),
        message: format!("{stated} {what} under {name} ({limit})"),
        limit,
        source,
    };
    let of = format!("P-Number {} of {}", asked.metal.p_number, asked.thickness.text());
    let temperature = own.temperature.as_ref().and_then(Stated::value);
    let time = own.time.as_ref().and_then(Stated::value);
    if let Some(row) = asked.holding() {
        let source = row.origin.source_ref();
        let customary = temperature.map_or(asked.thickness.is_customary(), |own| measure::is_customary(own.unit()));
        let (least, unit) = row.least().column(customary);
        let end = |end: Option<Temperature>| end.map(|own| measure::degrees(own, unit));
        let low = temperature.and_then(|own| end(own.low().or(own.high())));
        let step = low.filter(|low| below(*low, least)).map(|low| asked.lowered(least - low, customary));
        if let (Some(temperature), Some(None)) = (temperature, step) {
            let limit = range_limit(Band::at_least(least), unit);
            found.push(fault(
                "temperature",
                temperature.spelled(),
                format!("is too cold for {of}"),
                limit,
                source.clone(),
            ));
        }
        let most = row.most().map(|own| own.column(customary).0);
        let high = temperature.and_then(|own| end(own.high()));
        if let (Some(temperature), Some(most), Some(high)) = (temperature, most, high)
            && above(high, most)
        {
            let limit = range_limit(Band::at_most(most), unit);
            found.push(fault(
                "temperature",
                temperature.spelled(),
                format!("is too hot for {of}"),
                limit,
                source.clone(),
            ));
        }
        let needed = match step {
            Some(Some((row, minutes))) => Some((minutes, row.origin.source_ref())),
            Some(None) => None,
            None => asked.time(row).map(|time| (time.minutes, source)),
        };
        let stated = [
            time.and_then(|own| Some(("time", own.spelled(), own.low().or(own.high())?.minutes()))),
            own.time_by_thickness
                .as_deref()
                .and_then(|text| Some(("time_by_thickness", text, by_thickness(text, asked)?))),
        ];
        // Of a time for each step and a least time the longer holds.
        let longest = stated.into_iter().flatten().max_by(|a, b| a.2.total_cmp(&b.2));
        if let (Some((key, text, own)), Some((minutes, source))) = (longest, needed)
            && below(own, minutes)
        {
            let limit = least_time(minutes);
            found.push(fault(key, text, format!("is too short for {of}"), limit, source));
        }
    }
    found
}

/// The time (min) that a time by thickness gives for the thickness that governs.
fn by_thickness(text: &str, asked: &Asked<'_>) -> Option<f64> {
    let (time, step) = time_by_thickness(text).ok()?;
    let minutes = time.low().or(time.high())?.minutes();
    Some(minutes * asked.thickness.length().mm() / step.single()?.mm())
}

/// Rates that are too fast for the thickness of the parts.
fn too_fast(own: &HeatTreatment, asked: &Asked<'_>) -> Vec<Fault> {
    let mut found = Vec::new();
    let rates: [(&str, &'static str, Option<&Range<HeatingRate>>); 2] = [
        ("heating", "heating_rate", own.heating_rate.as_ref().and_then(Stated::value)),
        ("cooling", "cooling_rate", own.cooling_rate.as_ref().and_then(Stated::value)),
    ];
    for (change, key, rate) in rates {
        let Some(rate) = rate else { continue };
        let customary = measure::is_customary(rate.unit());
        let Some((row, most, unit)) = asked.rate(change, customary) else { continue };
        let figure_of = |own: HeatingRate| if customary { own.fahrenheit_per_h() } else { own.celsius_per_h() };
        if rate.high().or(rate.low()).map(figure_of).is_some_and(|own| above(own, most)) {
            let (above, degree) = row.above().column(customary);
            let limit = format!("{} {unit} maximum above {} {degree}", figure(most), figure(above));
            let (stated, thickness) = (rate.spelled().to_owned(), asked.thickness.text());
            let message =
                format!("{change} at {stated} is too fast for {thickness} under {} ({limit})", title(asked.code));
            found.push(Fault { key, stated, message, limit: limit.into(), source: row.origin.source_ref() });
        }
    }
    found
}
