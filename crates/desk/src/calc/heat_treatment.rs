//! Post-weld heat treatment: whether a code asks for it, temperature, time and rates.

use anyhow::{Result, bail};
use seamwright_calc::band::below;
use seamwright_calc::heat_treatment as formulas;
use seamwright_check::treatment::{Asked, bound, time_text};
use seamwright_handbook::code_scope::title;
use seamwright_handbook::treatment::{self as tables, Numbered};
use seamwright_handbook::{Size, base_metals, find, measure};
use seamwright_model::quantity::{Length, Range, Temperature};

use super::Answer;
use crate::report::number;

/// What it takes.
#[derive(Debug, Clone)]
pub struct Given {
    /// Code of construction: asme-viii-1 (UCS-56, UHA-32) or asme-b31.3.
    pub code: String,
    /// P-Number of the metal, with its group where that counts, such as 1, 3 or 15E.
    pub p_number: Option<String>,
    /// Group number within the P-Number.
    pub group: Option<u32>,
    /// Metal by any name that the handbook knows, in place of its P-Number.
    pub metal: Option<String>,
    /// Nominal thickness.
    pub thickness: Range<Length>,
    /// Preheat, which may spare the treatment.
    pub preheat: Option<Range<Temperature>>,
    /// A holding temperature below the least of the code.
    pub temperature: Option<Range<Temperature>>,
}

/// The answer.
pub fn answer(given: &Given) -> Result<Answer> {
    let codes = tables::codes();
    let Some(code) = codes.iter().find(|own| find::same(own, &given.code)) else {
        bail!("`{}` is no code of construction with holding times; write {}", given.code, codes.join(" or "));
    };
    let Some(length) = given.thickness.single().filter(|own| own.mm() > 0.0) else {
        bail!("--thickness {} must be one value greater than 0", given.thickness);
    };
    let thickness = Size::stated(length, given.thickness.unit());
    let (p_number, group) = metal(given)?;
    let asked = Asked { code, metal: Numbered { p_number: &p_number, group }, thickness };
    let known = tables::p_numbers(code);
    if asked.holding().is_none() && asked.exemption().is_none() {
        bail!("the handbook has no P-Number {p_number} of {}; it has {}", title(code), known.join(", "));
    }
    let shown = group.map_or_else(|| p_number.clone(), |group| format!("{p_number} group {group}"));
    let mut answer = Answer::new("heat-treatment", format!("{}, post-weld heat treatment", title(code)))
        .given("P-Number", shown)
        .given("thickness", &given.thickness);
    answer = required(answer, given, &asked);
    answer = holding(answer, given, &asked)?;
    for (change, key) in [("heating", "heating_rate"), ("cooling", "cooling_rate")] {
        if asked.holding().is_none() {
            continue;
        }
        if let Some((row, rate, unit)) = asked.rate(change, thickness.is_customary()) {
            let (above, degree) = row.above().column(thickness.is_customary());
            answer = answer
                .by(formulas::CHANGE)
                .source(row.origin.source_ref())
                .result(key, rate, unit)
                .note(format!("the rate of {change} holds above {above} {degree}"));
            if let Some(doubt) = row.origin.doubt {
                answer = answer.note(format!("rates: {doubt}"));
            }
        }
    }
    Ok(answer
        .note("service, contract and impact tests may ask for more")
        .note("verify against your edition of the code"))
}

/// P-Number and group as typed, or those of the metal.
fn metal(given: &Given) -> Result<(String, Option<u32>)> {
    let Some(name) = &given.metal else {
        let typed = given.p_number.as_deref().unwrap_or_default().trim();
        let bare = typed.trim_start_matches(['P', 'p']).trim_start_matches(|c: char| !c.is_ascii_digit());
        if bare.is_empty() {
            bail!("`{typed}` is no P-Number; write for example --p-number 1 or --p-number 15E");
        }
        return Ok((bare.to_uppercase(), given.group));
    };
    let Some(row) = base_metals::find(name) else {
        let near = base_metals::nearest(name);
        bail!(
            "`{name}` is no metal that the handbook knows; {}",
            seamwright_check::rule::nearest_in_words(&near, "base-metals")
        );
    };
    match row.p_no {
        Some(number) => Ok((number.to_owned(), given.group.or(row.group_no))),
        None => bail!("the handbook has no P-Number of {}; write --p-number", row.specification),
    }
}

/// Whether the code asks for it.
fn required(answer: Answer, given: &Given, asked: &Asked<'_>) -> Answer {
    let Some(row) = asked.exemption() else {
        return answer
            .word("required", "not known")
            .note("the handbook has no exemption of this P-Number under the code");
    };
    let size = asked.thickness;
    let over =
        |mm, inches| bound(size, mm, inches).map_or_else(|| "every thickness".to_owned(), |own| format!("over {own}"));
    let asks = asked.needs(row, given.preheat.as_ref());
    let mut answer = answer.source(row.origin.source_ref()).word("required", if asks { "yes" } else { "no" });
    if row.over_mm.is_some() {
        answer = answer.note(format!("asked for {}", over(row.over_mm, row.over_in)));
    }
    if let (Some(preheat), Some(_)) = (row.preheat(), row.cold_over_mm) {
        let (figure, unit) = preheat.column(size.is_customary());
        let cold = over(row.cold_over_mm, row.cold_over_in);
        answer = answer.note(format!("asked for {cold} where the metal is not preheated to {figure} {unit}"));
    }
    if let Some(carbon) = row.carbon_max_pct {
        answer = answer.note(format!("spared only with no more than {carbon} % carbon"));
    }
    for text in row.origin.note.iter().chain(&row.origin.doubt) {
        answer = answer.note(*text);
    }
    answer
}

/// Temperature and time.
fn holding(mut answer: Answer, given: &Given, asked: &Asked<'_>) -> Result<Answer> {
    let Some(row) = asked.holding() else { return Ok(answer) };
    let customary =
        given.temperature.as_ref().map_or(asked.thickness.is_customary(), |own| measure::is_customary(own.unit()));
    let (least, unit) = row.least().column(customary);
    answer = answer.looked_up("least holding temperature", format!("{least} {unit}"), row.origin.source_ref());
    if let Some(most) = row.most() {
        let (most, unit) = most.column(customary);
        answer = answer.given("largest holding temperature", format!("{most} {unit}")).result(
            "holding_temperature_most",
            most,
            unit,
        );
    }
    let typed =
        given.temperature.as_ref().and_then(|own| own.low().or(own.high())).map(|own| measure::degrees(own, unit));
    if let Some(typed) = typed.filter(|typed| below(*typed, least)) {
        let Some((step, minutes)) = asked.lowered(least - typed, customary) else {
            bail!(
                "{} is {} {unit} below the least of {least} {unit}, which the code does not permit for P-Number {}",
                given.temperature.as_ref().map(ToString::to_string).unwrap_or_default(),
                number(least - typed),
                asked.metal.p_number
            );
        };
        return Ok(answer
            .by(formulas::HOLDING_ABOVE)
            .given("lower by", format!("{} {unit}", number(least - typed)))
            .source(step.origin.source_ref())
            .worked(format!("t = 60 x {} h + more beyond the first = {}", step.first_h, time_text(minutes)))
            .result("holding_temperature", typed, unit)
            .result("holding_time", minutes, "min"));
    }
    answer = answer.result("holding_temperature", typed.unwrap_or(least), unit);
    if let Some(time) = asked.time(row) {
        answer = answer
            .by(if time.above { formulas::HOLDING_ABOVE } else { formulas::HOLDING })
            .worked(time.worked)
            .result("holding_time", time.minutes, "min")
            .note(format!("holding time in words: {}", time_text(time.minutes)));
    }
    if let Some(doubt) = row.origin.doubt {
        answer = answer.note(doubt);
    }
    Ok(answer)
}
