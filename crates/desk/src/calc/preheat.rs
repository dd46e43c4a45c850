//! Preheating temperature of a steel.

use anyhow::{Result, anyhow, bail};
use seamwright_calc::band::above;
use seamwright_calc::note::Validity;
use seamwright_calc::preheat::{self as formulas, MethodB, MethodBValidity};
use seamwright_calc::{Composition, carbon_equivalent};
use seamwright_handbook::{Size, aws_d1_1, preheat_methods as tables};
use seamwright_model::finding::SourceRef;
use seamwright_model::quantity::{HeatInput, Hydrogen, Length, Range, Temperature};

use super::Answer;
use crate::input::{composition, one};
use crate::report::number;

/// The methods.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// EN 1011-2 method B: by CET, thickness, hydrogen and heat input.
    En10112B,
    /// EN 1011-2 method A: whether a combined thickness needs preheat, by CE, hydrogen and heat input.
    En10112A,
    /// AWS D1.1 annex, hydrogen control: by Pcm, hydrogen level, restraint and thickness.
    HydrogenControl,
    /// AWS D1.1 Table 5.8: by category of the steel and process, and thickness.
    Table,
}

/// What it takes.
#[derive(Debug, Clone)]
pub struct Given {
    /// By which method.
    pub method: Method,
    /// Mass percent of each element, such as C=0.12,Mn=1.45.
    pub composition: Option<Composition>,
    /// Thickness of the plate; for method A the combined thickness.
    pub thickness: Range<Length>,
    /// Heat input, with the thermal efficiency k.
    pub heat_input: Option<Range<HeatInput>>,
    /// Diffusible hydrogen of the weld metal.
    pub hydrogen: Option<Range<Hydrogen>>,
    /// Restraint of the joint (low, medium, high), for hydrogen control.
    pub restraint: Option<String>,
    /// Category A to D of AWS D1.1 Table 5.8, for the table.
    pub category: Option<String>,
}

/// The answer.
pub fn answer(given: &Given) -> Result<Answer> {
    match given.method {
        Method::En10112B => method_b(given),
        Method::En10112A => method_a(given),
        Method::HydrogenControl => hydrogen_control(given),
        Method::Table => by_category(given),
    }
}

fn heat_input(given: &Given) -> Result<(f64, &Range<HeatInput>)> {
    let Some(stated) = &given.heat_input else { bail!("--heat-input is missing") };
    Ok((one("--heat-input", stated, HeatInput::kj_per_mm)?, stated))
}

fn steel(given: &Given) -> Result<&Composition> {
    given.composition.as_ref().ok_or_else(|| anyhow!("--composition is missing"))
}

fn hydrogen(given: &Given) -> Result<f64> {
    let Some(stated) = &given.hydrogen else { bail!("--hydrogen is missing") };
    one("--hydrogen", stated, Hydrogen::ml_per_100g)
}

fn base(given: &Given, method: &str) -> Result<Answer> {
    let answer = Answer::new("preheat", method)
        .given("composition", composition(steel(given)?))
        .given("thickness", &given.thickness);
    Ok(match &given.hydrogen {
        Some(stated) => answer.given("diffusible hydrogen", stated),
        None => answer,
    })
}

/// A thickness in the unit that it is typed in.
fn size(stated: &Range<Length>) -> Result<Size> {
    let length = stated.single().ok_or_else(|| anyhow!("--thickness must be one value"))?;
    Ok(Size::stated(length, stated.unit()))
}

fn by_category(given: &Given) -> Result<Answer> {
    let Some(category) = &given.category else { bail!("--category is missing: A, B, C or D") };
    let thickness = one("--thickness", &given.thickness, Length::mm)?;
    if thickness <= 0.0 {
        bail!("thickness is {}, must be greater than 0 mm", number(thickness));
    }
    let size = size(&given.thickness)?;
    let Some(row) = aws_d1_1::preheat(category, size) else {
        bail!("`{category}` is no category of AWS D1.1 Table 5.8; write A, B, C or D");
    };
    let (least, unit) = row.heat().column(size.is_customary());
    Ok(Answer::new("preheat", "AWS D1.1 Table 5.8, prequalified minimum preheat and interpass temperature")
        .given("category", format!("{}, {}", row.category, row.label))
        .given("thickness at the weld", &given.thickness)
        .looked_up("least preheat", format!("{least} {unit}"), row.origin.source_ref())
        .result("preheating_temperature", least, unit)
        .note("where the table says 0 °C and the metal is colder, it is warmed to 20 °C at least")
        .note("verify against your edition of the code"))
}

/// Notes where the composition leaves the range of a method.
fn composition_notes(mut answer: Answer, given: &Given, method: &str) -> Answer {
    for (element, pct) in given.composition.iter().flat_map(Composition::iter) {
        if let Some(row) = tables::valid_range(method, element.symbol()) {
            let validity = Validity { argument: element.name(), unit: "%", holds: row.range };
            answer = answer.notes(&validity.note(pct));
        }
    }
    answer
}

fn method_b(given: &Given) -> Result<Answer> {
    let (heat_input_kj_mm, stated) = heat_input(given)?;
    let method = MethodB {
        cet_pct: carbon_equivalent::cet_pct(steel(given)?),
        thickness_mm: one("--thickness", &given.thickness, Length::mm)?,
        hydrogen_ml_100g: hydrogen(given)?,
        heat_input_kj_mm,
    };
    let valid = |quantity: &str| {
        tables::valid_range("B", quantity)
            .map(|row| (row.range, row.origin.source_ref()))
            .ok_or_else(|| anyhow!("the handbook has no validity of method B for {quantity}"))
    };
    let (cet_pct, source) = valid("CET")?;
    let validity = MethodBValidity {
        cet_pct,
        thickness_mm: valid("thickness")?.0,
        hydrogen_ml_100g: valid("hydrogen")?.0,
        heat_input_kj_mm: valid("heat-input")?.0,
    };
    let found = method.preheat()?;
    let answer = base(given, "EN 1011-2 method B")?
        .by(carbon_equivalent::CET)
        .by(formulas::METHOD_B)
        .given("heat input, with k", stated)
        .source(validity_source(source))
        .worked(format!("CET = {} %", number(method.cet_pct)))
        .worked(format!(
            "Tp = 697 CET + 160 tanh(d/35) + 62 HD^0.35 + (53 CET - 32) Q - 328 = {} + {} + {} + ({}) - 328 = {} °C",
            number(697.0 * method.cet_pct),
            number(160.0 * (method.thickness_mm / 35.0).tanh()),
            number(62.0 * method.hydrogen_ml_100g.powf(0.35)),
            number((53.0 * method.cet_pct - 32.0) * method.heat_input_kj_mm),
            number(found.temperature_c)
        ))
        .result("preheating_temperature", found.temperature_c, "°C")
        .notes(&method.notes(&validity))
        .note("a result at or below the temperature of the workpiece asks for no preheat; drive off moisture all the same");
    let answer = answer.note(format!(
        "where the CET of the weld metal and {} % is higher than that of the parent metal, it governs",
        tables::WELD_METAL_ALLOWANCE.value.high
    ));
    Ok(composition_notes(answer, given, "B"))
}

fn validity_source(source: SourceRef) -> SourceRef {
    SourceRef { clause: source.clause.map(|clause| format!("validity of {clause}").into()), ..source }
}

fn method_a(given: &Given) -> Result<Answer> {
    let (heat, stated) = heat_input(given)?;
    let ce = carbon_equivalent::ce_iiw_pct(steel(given)?);
    let hydrogen = hydrogen(given)?;
    let thickness = one("--thickness", &given.thickness, Length::mm)?;
    for (name, value) in [("heat input", heat), ("thickness", thickness), ("diffusible hydrogen", hydrogen)] {
        if value <= 0.0 {
            bail!("{name} is {}, must be greater than 0", number(value));
        }
    }
    let scale = tables::hydrogen_scale(hydrogen).map_or("none", |row| row.scale);
    let mut answer = base(given, "EN 1011-2 method A, combined thickness that needs no preheat")?
        .by(carbon_equivalent::CE_IIW)
        .by(formulas::COMBINED_THICKNESS)
        .given("heat input, with k", stated)
        .given("hydrogen scale", scale)
        .result("ce_iiw", ce, "%");
    if let Some(row) = tables::thickness_without_preheat(hydrogen, ce, heat) {
        let needed = thickness > row.combined_thickness_max_mm;
        answer = answer
            .looked_up(
                "thickness without preheat",
                format!("{} mm", row.combined_thickness_max_mm),
                row.origin.source_ref(),
            )
            .result("thickness_without_preheat", row.combined_thickness_max_mm, "mm")
            .word("preheat", if needed { "needed" } else { "not needed" });
        if needed {
            answer = answer.note("how much is read from the diagrams of the standard; method B computes a figure");
        }
    } else {
        answer = answer.word("preheat", "not covered").note(
            "the handbook's extract of method A has no row for this carbon equivalent, hydrogen and heat input; method B computes a figure",
        );
    }
    Ok(composition_notes(answer, given, "A"))
}

fn hydrogen_control(given: &Given) -> Result<Answer> {
    let Some(restraint) = &given.restraint else { bail!("--restraint is missing: low, medium or high") };
    let restraint: formulas::Restraint = restraint.parse()?;
    let pcm = carbon_equivalent::pcm_pct(steel(given)?);
    let hydrogen = hydrogen(given)?;
    let thickness = one("--thickness", &given.thickness, Length::mm)?;
    if thickness <= 0.0 {
        bail!("thickness is {}, must be greater than 0 mm", number(thickness));
    }
    let index = formulas::susceptibility_index(pcm, hydrogen)?;
    let bands = tables::susceptibility_index();
    let rounded = (index * 10.0).round() / 10.0;
    let band = bands
        .iter()
        .find(|row| !above(rounded, row.index.high))
        .ok_or_else(|| anyhow!("susceptibility index {} lies beyond the table", number(index)))?;
    let (fahrenheit, row) =
        tables::hydrogen_control_preheat(restraint.as_str(), size(&given.thickness)?, band.group)
            .ok_or_else(|| anyhow!("the table has no preheat for {restraint} restraint and {}", given.thickness))?;
    let least: Range<Temperature> = format!("{fahrenheit} °F").parse()?;
    let celsius = one("preheat", &least, Temperature::celsius)?;
    Ok(base(given, "AWS D1.1 annex, hydrogen control")?
        .by(carbon_equivalent::PCM)
        .by(formulas::SUSCEPTIBILITY)
        .given("restraint", restraint)
        .worked(format!("SI = 12 x {} + log10 {} = {}", number(pcm), number(hydrogen), number(index)))
        .looked_up("susceptibility group", band.group, band.origin.source_ref())
        .looked_up("least preheat", format!("{fahrenheit} °F"), row.origin.source_ref())
        .result("preheating_temperature", celsius, "°C")
        .result("susceptibility_index", index, "")
        .word("susceptibility_group", band.group)
        .note("verify against your edition of the code"))
}
