//! What a procedure states for a variable of a code, and where.

use seamwright_handbook::measure::figure;
use seamwright_handbook::positions::{self, Row as PositionRow};
use seamwright_handbook::{Band, filler_classes};
use seamwright_model::procedure::Joint;
use seamwright_model::quantity::{Angle, Length, Range};
use seamwright_model::stated::Stated as Model;
use seamwright_weld::view::Metal;

use crate::codes::code::Code;
use crate::codes::range::{ANY_PARTIAL, Bounds, Qualified};
use crate::codes::summary::{ProcessSummary, Summary, Treatment, Value};
use crate::codes::words::{pair, treatment_word};

/// What a procedure states for a variable.
pub(super) enum Stated {
    /// A range of figures; whether an open end counts as without limit.
    Figures(Value<Band>, bool),
    /// A word, and whether it is one of those that are qualified.
    Word(Value<String>, bool),
}

impl Stated {
    pub(super) fn is_customary(&self) -> bool {
        matches!(self, Self::Figures(value, _) if value.is_customary())
    }
}

pub(super) fn of_process<'s, 'd>(summary: &'s Summary<'d>, name: &str) -> Option<&'s ProcessSummary<'d>> {
    let number = seamwright_handbook::processes::get(name).map_or(name, |row| row.number);
    summary.process(number)
}

/// What a procedure states for a variable, by place.
pub(super) fn stated(summary: &Summary<'_>, range: &Qualified, code: &dyn Code) -> Vec<(String, Stated)> {
    let figures = |values: Vec<Value<Band>>, open: bool| -> Vec<(String, Stated)> {
        values.into_iter().map(|value| (value.pointer.clone(), Stated::Figures(value, open))).collect()
    };
    let words = |values: Vec<Value<String>>, allowed: &dyn Fn(&str) -> bool| -> Vec<(String, Stated)> {
        values
            .into_iter()
            .map(|value| {
                let fits = allowed(&value.value);
                (value.pointer.clone(), Stated::Word(value, fits))
            })
            .collect()
    };
    let listed = |word: &str| matches!(&range.bounds, Bounds::Set(words) if words.iter().any(|own| own == word));
    let process = range.process.as_deref().and_then(|name| of_process(summary, name));
    match range.variable {
        "base_metal_thickness" => figures(summary.thickness.clone(), true),
        "outside_diameter" => figures(summary.diameter.clone(), true),
        "throat_thickness" => figures(summary.throat.clone().into_iter().collect(), true),
        "preheating" => figures(summary.preheating.clone().into_iter().collect(), false),
        "interpass" => figures(summary.interpass.clone().into_iter().collect(), false),
        "holding_temperature" => match &summary.treatment {
            Some(Value { value: Treatment::Held(held, _), stated, pointer }) => {
                figures(vec![Value { value: *held, stated: stated.clone(), pointer: pointer.clone() }], false)
            }
            _ => Vec::new(),
        },
        "yield_strength" => figures(
            summary
                .view
                .metals
                .iter()
                .filter_map(|metal| {
                    let strength = metal.known?.yield_min_mpa?;
                    Some(Value {
                        value: Band::at_most(strength),
                        stated: format!("{} MPa of {}", figure(strength), metal.stated.specification),
                        pointer: metal.pointer("specification"),
                    })
                })
                .collect(),
            false,
        ),
        "deposit_thickness" => {
            let deposit = process.and_then(|own| own.deposit.clone());
            figures(deposit.into_iter().collect(), false)
        }
        "heat_input" => figures(process.map(|own| code.heat(own).to_vec()).unwrap_or_default(), false),
        "filler_strength" => figures(
            process
                .map(|own| own.fillers.as_slice())
                .unwrap_or_default()
                .iter()
                .filter_map(|filler| {
                    let strength = filler.value?.tensile_min_mpa?;
                    Some(Value {
                        value: Band::at_most(strength),
                        stated: format!("{} MPa of {}", figure(strength), filler.stated),
                        pointer: filler.pointer.clone(),
                    })
                })
                .collect(),
            false,
        ),
        "current" | "voltage" | "travel_speed" | "wire_feed_speed" | "gas_flow" | "filler_diameter" => {
            let stated = process.and_then(|own| own.figures.iter().find(|own| own.variable == range.variable));
            figures(stated.map(|own| own.each.clone()).unwrap_or_default(), false)
        }
        "groove_angle" | "root_opening" | "root_face" => {
            let joint = summary.view.procedure.joint.as_ref();
            figures(joint.and_then(|joint| of_joint(joint, range.variable)).into_iter().collect(), false)
        }
        "base_metal_group" => base_metals(summary, range, code),
        "time_between_runs" => figures(summary.between.clone().into_iter().collect(), false),
        "mechanization" => words(process.map(|own| named(&own.mechanization)).unwrap_or_default(), &listed),
        "polarity" => words(process.map(|own| named(&own.polarity)).unwrap_or_default(), &listed),
        "transfer_mode" => words(process.map(|own| named(&own.transfer)).unwrap_or_default(), &listed),
        "shielding_gas" => words(process.map(|own| own.gas.clone()).unwrap_or_default(), &listed),
        "filler_designation" => {
            let same = |word: &str| {
                let row = filler_classes::find(word);
                matches!(&range.bounds, Bounds::Set(words)
                    if words.iter().any(|own| own == word || row.is_some() && filler_classes::find(own) == row))
            };
            words(process.map(|own| named(&own.fillers)).unwrap_or_default(), &same)
        }
        "weld_type" => {
            let weld = summary.weld.map(|weld| Value {
                value: weld.to_string(),
                stated: weld.to_string(),
                pointer: "/joint/weld".to_owned(),
            });
            words(weld.into_iter().collect(), &listed)
        }
        "position" => summary
            .positions
            .iter()
            .map(|value| {
                let fits = positions::get(&value.value).is_none_or(|row| position_fits(row, summary.downward, range));
                (value.pointer.clone(), Stated::Word(value.clone(), fits))
            })
            .collect(),
        "progression" => {
            let word = summary.downward.map(|down| if down { "downward" } else { "upward" });
            let value = word.map(|word| Value {
                value: word.to_owned(),
                stated: word.to_owned(),
                pointer: "/progression".to_owned(),
            });
            words(value.into_iter().collect(), &listed)
        }
        "post_weld_heat_treatment" => {
            let value = summary.treatment.as_ref().map(|own| Value {
                value: treatment_word(&own.value),
                stated: own.stated.clone(),
                pointer: own.pointer.clone(),
            });
            words(value.into_iter().collect(), &listed)
        }
        "groove_type" => {
            let partial = !summary.view.full_penetration();
            words(code.stated(range.variable, summary, process), &|word| listed(word) || partial && listed(ANY_PARTIAL))
        }
        variable => words(code.stated(variable, summary, process), &listed),
    }
}

/// A size of the groove: degrees of its angle, millimetres of its root.
pub(in crate::codes) fn of_joint(joint: &Joint, variable: &str) -> Option<Value<Band>> {
    let length = |value: Option<&Model<Range<Length>>>, key: &str| {
        let range = value?.value()?;
        let pointer = format!("/joint/{key}");
        Some(Value::of(range, Length::mm, pointer))
    };
    match variable {
        "groove_angle" => {
            let range = joint.included_angle.as_ref()?.value()?;
            let pointer = "/joint/included_angle".to_owned();
            Some(Value::of(range, Angle::degrees, pointer))
        }
        "root_opening" => length(joint.root_gap.as_ref(), "root_gap"),
        _ => length(joint.root_face.as_ref(), "root_face"),
    }
}

/// Values as the words that are written.
fn named<T>(values: &[Value<T>]) -> Vec<Value<String>> {
    values
        .iter()
        .map(|value| Value {
            value: value.stated.clone(),
            stated: value.stated.clone(),
            pointer: value.pointer.clone(),
        })
        .collect()
}

/// The metals of the joint: each by itself where the coupon had one kind, else as a pair.
fn base_metals(summary: &Summary<'_>, range: &Qualified, code: &dyn Code) -> Vec<(String, Stated)> {
    let Bounds::Set(allowed) = &range.bounds else { return Vec::new() };
    let metals = &summary.view.metals;
    let paired = allowed.iter().any(|word| word.contains(" to "));
    let told = |metal: &Metal<'_>| {
        let label = code.label(metal);
        if *label == *metal.stated.specification { label } else { format!("{label} ({})", metal.stated.specification) }
    };
    if !paired {
        return metals
            .iter()
            .map(|metal| {
                let pointer = metal.pointer("specification");
                let value = Value { value: code.label(metal), stated: told(metal), pointer: pointer.clone() };
                let fits = allowed.contains(&value.value);
                (pointer, Stated::Word(value, fits))
            })
            .collect();
    }
    let (Some(first), Some(last)) = (metals.first(), metals.last()) else { return Vec::new() };
    let pair = pair(&code.label(first), &code.label(last));
    let fits = allowed.contains(&pair);
    let pointer = last.pointer("specification");
    let stated = if metals.len() == 1 { told(first) } else { format!("{} to {}", told(first), told(last)) };
    vec![(pointer.clone(), Stated::Word(Value { value: pair, stated, pointer }, fits))]
}

/// Whether a position lies among the words of a range.
fn position_fits(row: &PositionRow, downward: Option<bool>, range: &Qualified) -> bool {
    let Bounds::Set(words) = &range.bounds else { return true };
    let down = row.vertical && (downward == Some(true) || row.progression == positions::Progression::Downward);
    let up = row.vertical && !down && (downward == Some(false) || row.progression == positions::Progression::Upward);
    let whole = words.iter().any(|word| match word.as_str() {
        "all" => true,
        "all but vertical upward" => !up,
        "all but vertical downward" => !down,
        "vertical downward" => down,
        _ => false,
    });
    whole || row.parts().iter().all(|part| words.iter().any(|word| word == part))
}
