//! A procedure held against the ranges that its test records qualify.

use seamwright_handbook::filler_classes;
use seamwright_handbook::measure::{self, figure};
use seamwright_handbook::positions::{self, Row as PositionRow};
use seamwright_model::finding::{Basis, Severity};
use seamwright_model::procedure::{WeldType, toughness};
use seamwright_model::test_record::{TestMethod, TestRecord};
use seamwright_weld::View;
use seamwright_weld::view::Metal;

use super::code::Code;
use super::combine::SetAside;
use super::range::{Bounds, Effect, Qualified, THICKER_MEMBER};
use super::summary::{Ends, ProcessSummary, Summary, Treatment, Value};
use super::words::{pair, treatment_word};
use crate::rule::{Case, Comparison, Examiner, Harm, Rule};
use crate::subject::Subject;

/// A procedure held against test records.
pub struct AgainstRecords;

impl Subject for AgainstRecords {
    const WORD: &'static str = "procedure against test records";
    type View<'d> = AgainstView<'d>;
}

/// A procedure, its records and what they qualify together.
pub struct AgainstView<'d> {
    /// The procedure; pointers of findings lead into it.
    pub view: &'d View<'d>,
    /// The code.
    pub code: &'d dyn Code,
    /// The records.
    pub records: &'d [&'d TestRecord],
    /// What those that the procedure may rest on qualify together.
    pub ranges: &'d [Qualified],
    /// The others.
    pub aside: &'d [SetAside],
}

/// Every check of a procedure against test records, by name.
pub const RULES: &[&Rule<AgainstRecords>] = &[
    &OUTSIDE_QUALIFIED_RANGE,
    &PROCESS_NOT_TESTED,
    &QUALIFIED_VARIABLE_NOT_STATED,
    &RECORD_OF_ANOTHER_CONDITION,
    &TOUGHNESS_NOT_TESTED,
];

/// `outside-qualified-range`.
const OUTSIDE_QUALIFIED_RANGE: Rule<AgainstRecords> = Rule {
    name: "outside-qualified-range",
    harm: Harm::Qualification,
    finds: "A variable of the procedure outside the range that its test records qualify.",
    matters: "The procedure is not qualified there: nobody has shown that the weld holds what the code asks for.",
    remedy: "Write a value within the range, name another record, or make a new test.",
    limit: "The ranges of the code for the tested values; `seamwright range RECORD` prints them.",
    tables: &["iso-15614-1-ranges", "asme-ix-ranges", "aws-d1-1-ranges", "iso-15614-1-variables"],
    examine: outside,
    faulty: &[
        Case { base: "inspection/procedure", edits: &[("/parent_metals/0/thickness", "2-11 mm")] },
        Case { base: "inspection/procedure", edits: &[("/parent_metals/0/specification", "S355J2+N")] },
        Case { base: "inspection/procedure", edits: &[("/temperatures/interpass", "350 °C maximum")] },
        Case { base: "inspection/procedure", edits: &[("/processes/141/polarity", "AC")] },
        Case { base: "inspection/procedure-asme", edits: &[("/processes/GTAW/deposit_thickness", "12 mm maximum")] },
        Case { base: "inspection/procedure-asme", edits: &[("/fillers/fill-electrode/designation", "E6010")] },
        Case { base: "inspection/procedure-asme", edits: &[("record:/temperatures/preheating", "150 °C")] },
    ],
    sound: &[Case { base: "inspection/procedure", edits: &[] }, Case { base: "inspection/procedure-asme", edits: &[] }],
};

/// `process-not-tested`.
const PROCESS_NOT_TESTED: Rule<AgainstRecords> = Rule {
    name: "process-not-tested",
    harm: Harm::Qualification,
    finds: "A process of the procedure that none of its test records has.",
    matters: "A process is qualified by a test with that process only.",
    remedy: "Name a record with the process, or make a test.",
    limit: "The processes of the records.",
    tables: &[],
    examine: untested,
    faulty: &[Case { base: "inspection/procedure", edits: &[("/runs/1/process", "136")] }],
    sound: &[Case { base: "inspection/procedure", edits: &[] }],
};

/// `qualified-variable-not-stated`.
const QUALIFIED_VARIABLE_NOT_STATED: Rule<AgainstRecords> = Rule {
    name: "qualified-variable-not-stated",
    harm: Harm::Qualification,
    finds: "An essential variable that the procedure does not state, though its records limit it.",
    matters: "The welder cannot keep within a range that the sheet does not show.",
    remedy: "State the variable within the range.",
    limit: "The ranges of the code for the tested values.",
    tables: &[],
    examine: unstated,
    faulty: &[Case { base: "inspection/procedure", edits: &[("/temperatures/interpass", "")] }],
    sound: &[Case { base: "inspection/procedure", edits: &[] }],
};

/// `record-of-another-condition`.
const RECORD_OF_ANOTHER_CONDITION: Rule<AgainstRecords> = Rule {
    name: "record-of-another-condition",
    harm: Harm::Qualification,
    finds: "A test record beside others whose coupon was heat treated where the procedure is not, or the reverse, or has no impact tests where the procedure asks for them.",
    matters: "Heat treatment and toughness are variables of the whole weld: such a record widens no range of the others.",
    remedy: "Leave the record out, or write a procedure of its own for that condition.",
    limit: "ISO 15614-1 8.4.11, ASME IX QW-407.1 and QW-401, AWS D1.1 Table 6.5: heat treatment added or left out.",
    tables: &["iso-15614-1-variables", "asme-ix-variables", "aws-d1-1-variables"],
    examine: aside,
    // The second record of a case is the first one with these edits.
    faulty: &[
        Case {
            base: "inspection/procedure",
            edits: &[("second:/temperatures/post_weld_heat_treatment", "{temperature: 600 °C, time: 30 min}")],
        },
        Case {
            base: "inspection/procedure-asme",
            edits: &[
                ("record:/toughness", "27 J at -20 °C"),
                ("/qualification/toughness", "27 J at -20 °C"),
                ("second:/toughness", "not required"),
            ],
        },
    ],
    sound: &[Case { base: "inspection/procedure", edits: &[("second:/parent_metals/0/thickness", "5.6 mm")] }],
};

/// `toughness-not-tested`.
const TOUGHNESS_NOT_TESTED: Rule<AgainstRecords> = Rule {
    name: "toughness-not-tested",
    harm: Harm::Qualification,
    finds: "A procedure that asks for impact toughness, with records that have no impact test.",
    matters: "Toughness depends on heat input and filler; only impact specimens of the coupon show it.",
    remedy: "Name a record with impact tests at that temperature or below, or make them.",
    limit: "Impact tests at the temperature that is asked for, or lower.",
    tables: &["coupon-tests"],
    examine: not_tested,
    faulty: &[Case { base: "inspection/procedure", edits: &[("/qualification/toughness", "27 J at -20 °C")] }],
    sound: &[Case { base: "inspection/procedure", edits: &[] }],
};

/// What a procedure states for a variable.
enum Stated {
    /// A range of figures; whether an open end counts as without limit.
    Figures(Value<Ends>, bool),
    /// A word, and whether it is one of those that are qualified.
    Word(Value<String>, bool),
}

impl Stated {
    fn is_customary(&self) -> bool {
        matches!(self, Self::Figures(value, _) if value.is_customary())
    }
}

fn outside(x: &mut Examiner<'_, AgainstRecords>) {
    let view = x.view;
    let summary = Summary::of(view.view);
    for group in groups(view.ranges) {
        let Some(first) = group.first() else { continue };
        if first.effect == Effect::Nonessential || !applies(&summary, first, view.code) {
            continue;
        }
        for (place, _) in stated(&summary, first, view.code) {
            // Ranges of one record hold together; those of several records are a choice.
            let mut records: Vec<&[String]> = group.iter().map(|range| range.records.as_slice()).collect();
            records.dedup();
            let at = |range: &Qualified| {
                stated(&summary, range, view.code).into_iter().find(|(other, _)| other == &place).map(|(_, own)| own)
            };
            let mut failed = None;
            let fitting = records.iter().find(|own| {
                group.iter().filter(|range| range.records.as_slice() == **own).all(|range| {
                    let own = at(range);
                    let customary = own.as_ref().is_some_and(Stated::is_customary);
                    let Some(bounds) = binding(view, &summary, range, (&place, customary)) else { return true };
                    let held = own.is_none_or(|value| within(&value, &bounds));
                    if !held {
                        failed.get_or_insert(*range);
                    }
                    held
                })
            });
            let shown = match (fitting, failed) {
                (Some(own), _) => group.iter().find(|range| range.records.as_slice() == *own).copied(),
                (None, failed) => failed,
            };
            let Some((range, value)) = shown.and_then(|range| Some((range, at(range)?))) else { continue };
            let Some(bounds) = binding(view, &summary, range, (&place, value.is_customary())) else { continue };
            let text = match &value {
                Stated::Figures(value, _) => value.stated.clone(),
                Stated::Word(value, _) => value.stated.clone(),
            };
            let fits = fitting.is_some();
            x.examined(place.clone());
            x.comparisons.push(Comparison {
                check: x.rule,
                pointer: place.clone(),
                stated: text.clone(),
                limit: bounds.text(),
                source: range.source.clone(),
                within: fits,
            });
            if !fits {
                let (limit, name, reference) = (bounds.text(), range.name(), range.reference.clone());
                let process = range.process.as_deref().map_or_else(String::new, |process| format!(" of {process}"));
                let message = format!(
                    "{name}{process} {text} lies outside what {} qualifies: {limit} ({} {reference})",
                    range.records.join(", "),
                    view.code.title(),
                );
                let hint = hint(range, &bounds);
                let source = range.source.clone();
                x.report(Severity::Error, place, message).stated(text).limit(limit, &source).hint(hint);
            }
        }
    }
}

/// What a range binds a procedure to at a place, in the unit that stands there; nothing where it does not bind.
///
/// Supplementary limits bind where impact tests are asked for, or as the code has it. The thicker of two members may have no
/// upper limit.
fn binding(
    view: &AgainstView<'_>,
    summary: &Summary<'_>,
    range: &Qualified,
    (place, customary): (&str, bool),
) -> Option<Bounds> {
    let bounds = range.bounds_for(customary);
    if range.effect == Effect::Supplementary && !summary.toughness {
        return view.code.without_impact_tests(range, bounds);
    }
    let uncapped = || {
        let of = |own: &&Qualified| own.variable == THICKER_MEMBER && own.records == range.records;
        view.ranges.iter().any(|own| of(&own)) && thicker_member(summary).is_some_and(|own| own == place)
    };
    if range.variable == "base_metal_thickness" && uncapped() {
        return bounds.uncapped(true);
    }
    Some(bounds.clone())
}

/// Place of the thickness of the thicker member, where two members differ.
fn thicker_member<'s>(summary: &'s Summary<'_>) -> Option<&'s str> {
    let high = |value: &Value<Ends>| value.value.1.unwrap_or(f64::INFINITY);
    let [first, .., last] = summary.thickness.as_slice() else { return None };
    let (thinner, thicker) = if high(first) <= high(last) { (first, last) } else { (last, first) };
    (high(thinner) < high(thicker)).then_some(thicker.pointer.as_str())
}

fn aside(x: &mut Examiner<'_, AgainstRecords>) {
    for own in x.view.aside {
        x.examined(own.pointer);
        let names = own.records.join(", ");
        x.report(Severity::Caution, own.pointer, format!("{names} supports nothing of this procedure: {}", own.why))
            .hint("leave the record out; the ranges are those of the other records");
    }
}

/// What to write to stay within bounds, and how far they are to be believed.
fn hint(range: &Qualified, bounds: &Bounds) -> String {
    const VERIFY: &str = "verify against your edition";
    let within = match bounds {
        Bounds::Span { low: Some(low), high: None, unit } => {
            format!("no less than {}", measure::length_text(*low, unit))
        }
        Bounds::Span { low: None, high: Some(high), unit } => {
            format!("no more than {}", measure::length_text(*high, unit))
        }
        Bounds::Span { .. } => format!("a value within {}", bounds.text()),
        Bounds::Set(words) if words.len() > 1 => format!("one of {}", bounds.text()),
        Bounds::Set(_) | Bounds::All => bounds.text(),
    };
    let note = range.note.as_deref().filter(|note| !note.contains(VERIFY));
    let note = note.map_or_else(String::new, |note| format!(" ({note})"));
    let verify = if range.source.basis == Basis::FromMemory { format!("; {VERIFY}") } else { String::new() };
    format!("write {within}, or make a new test{note}{verify}")
}

fn untested(x: &mut Examiner<'_, AgainstRecords>) {
    let summary = Summary::of(x.view.view);
    let tested: Vec<&Qualified> = x.view.ranges.iter().filter(|range| range.variable == "process").collect();
    for process in &summary.processes {
        let known =
            tested.iter().any(|range| matches!(&range.bounds, Bounds::Set(words) if words.contains(&process.number)));
        x.examined(process.pointer.clone());
        if !known {
            let names: Vec<&str> = tested.iter().filter_map(|range| range.process.as_deref()).collect();
            let message =
                format!("process {} is in none of the test records; they have {}", process.name, names.join(", "));
            let report = x.report(Severity::Error, process.pointer.clone(), message).stated(process.name.clone());
            let report = match tested.first() {
                Some(range) => report.limit(names.join(", "), &range.source),
                None => report,
            };
            report.hint("name a record with this process, or make a test");
        }
    }
}

fn unstated(x: &mut Examiner<'_, AgainstRecords>) {
    let summary = Summary::of(x.view.view);
    for range in x.view.ranges {
        let bare = matches!(range.bounds, Bounds::All) || binding(x.view, &summary, range, ("", false)).is_none();
        let bare = bare || range.effect == Effect::Nonessential;
        // A single process deposits the whole thickness; what is computed or looked up is not for the writer to state.
        let implied = match range.variable {
            "deposit_thickness" => summary.processes.len() < 2,
            "heat_input"
            | "yield_strength"
            | "filler_strength"
            | "holding_temperature"
            | "process"
            | "a_number"
            | "f_number"
            | "pipeline_filler_group"
            | THICKER_MEMBER
            | "outside_diameter"
            | "weld_type" => true,
            _ => false,
        };
        if bare || implied || !applies(&summary, range, x.view.code) {
            continue;
        }
        if stated(&summary, range, x.view.code).is_empty() {
            let process = range.process.as_deref().map_or_else(String::new, |process| format!(" of {process}"));
            let message = format!(
                "{}{process} is not stated; {} qualifies {} ({} {})",
                range.name(),
                range.records.join(", "),
                range.bounds.text(),
                x.view.code.title(),
                range.reference
            );
            let pointer = section(&summary, range);
            let source = range.source.clone();
            let hint = hint(range, &range.bounds);
            x.report(Severity::Caution, pointer, message).limit(range.bounds.text(), &source).hint(hint);
        }
    }
}

/// The place where a variable would stand.
fn section(summary: &Summary<'_>, range: &Qualified) -> String {
    match range.variable {
        "preheating" | "interpass" | "time_between_runs" | "post_weld_heat_treatment" => {
            format!("/temperatures/{}", range.variable)
        }
        "base_metal_thickness" => "/parent_metals/0/thickness".to_owned(),
        "position" | "pipe_position" => "/positions".to_owned(),
        "joint_design" => "/joint/preparation".to_owned(),
        "progression" => "/progression".to_owned(),
        variable => {
            let own = range.process.as_deref().and_then(|name| of_process(summary, name));
            own.map_or_else(String::new, |process| format!("{}/{variable}", process.pointer))
        }
    }
}

fn not_tested(x: &mut Examiner<'_, AgainstRecords>) {
    let asked = x.view.view.procedure.qualification.as_ref().and_then(|own| own.toughness.as_deref());
    let Some((text, (_, temperature))) = asked.and_then(|text| Some((text, toughness(text).ok()??))) else { return };
    x.examined("/qualification/toughness");
    let lowest = temperature.low().or(temperature.high());
    let shown = x.view.records.iter().any(|record| {
        record.tests.iter().filter(|test| test.method == TestMethod::Impact).any(|test| {
            let at = test
                .temperature
                .as_ref()
                .and_then(|stated| stated.value())
                .and_then(|range| range.low().or(range.high()));
            at.zip(lowest).is_none_or(|(at, asked)| at <= asked)
        })
    });
    if !shown {
        x.report(
            Severity::Error,
            "/qualification/toughness",
            format!("{text} is asked for, and no record has an impact test at that temperature or below"),
        )
        .stated(text)
        .hint("name a record with such a test, or make it");
    }
}

/// Ranges of one variable and process together, in order.
fn groups(ranges: &[Qualified]) -> Vec<Vec<&Qualified>> {
    let mut groups: Vec<Vec<&Qualified>> = Vec::new();
    for range in ranges {
        match groups.iter_mut().find(|group| {
            group.first().is_some_and(|own| own.variable == range.variable && own.process == range.process)
        }) {
            Some(group) => group.push(range),
            None => groups.push(vec![range]),
        }
    }
    groups
}

/// Whether a range says something of this procedure.
fn applies(summary: &Summary<'_>, range: &Qualified, code: &dyn Code) -> bool {
    let fillet = summary.weld == Some(WeldType::Fillet) && code.groove_covers_fillets();
    let size = matches!(range.variable, "base_metal_thickness" | "deposit_thickness" | "outside_diameter");
    let process = range.process.as_deref().is_none_or(|name| of_process(summary, name).is_some());
    !(fillet && size) && process && range.variable != "process"
}

fn of_process<'s, 'd>(summary: &'s Summary<'d>, name: &str) -> Option<&'s ProcessSummary<'d>> {
    let number = seamwright_handbook::processes::get(name).map_or(name, |row| row.number);
    summary.process(number)
}

/// What a procedure states for a variable, by place.
fn stated(summary: &Summary<'_>, range: &Qualified, code: &dyn Code) -> Vec<(String, Stated)> {
    let figures = |values: Vec<Value<Ends>>, open: bool| -> Vec<(String, Stated)> {
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
    let figure_of = |key: &str| -> Vec<(String, Stated)> {
        let found = process.and_then(|own| own.figures.iter().find(|(name, ..)| *name == key));
        figures(found.map(|(_, _, value)| value.clone()).into_iter().collect(), false)
    };
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
                        value: (None, Some(strength)),
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
                        value: (None, Some(strength)),
                        stated: format!("{} MPa of {}", figure(strength), filler.stated),
                        pointer: filler.pointer.clone(),
                    })
                })
                .collect(),
            false,
        ),
        "current" => figure_of("settings.current"),
        "voltage" => figure_of("settings.voltage"),
        "travel_speed" => figure_of("settings.travel_speed"),
        "wire_feed_speed" => figure_of("settings.wire_feed_speed"),
        "gas_flow" => figure_of("settings.shielding_gas.flow"),
        "filler_diameter" => figure_of("fillers.diameter"),
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
        variable => words(code.stated(variable, summary, process), &listed),
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

fn within(value: &Stated, bounds: &Bounds) -> bool {
    // A conversion between units may leave the last digit off.
    let slack = |figure: f64| 1e-9 * figure.abs().max(1.0);
    match (value, bounds) {
        (Stated::Figures(value, open), Bounds::Span { low, high, unit }) => {
            let own = |end: Option<f64>| match *unit {
                "in" => end.map(|mm| measure::converted(mm, "mm", "in")),
                "°F" => end.map(|celsius| measure::converted(celsius, "°C", "°F")),
                _ => end,
            };
            let (from, to) = (own(value.value.0), own(value.value.1));
            let low = low.is_none_or(|low| from.map_or(!open, |from| low <= from + slack(from)));
            let high = high.is_none_or(|high| to.or(from.filter(|_| !open)).map_or(!open, |to| to <= high + slack(to)));
            low && high
        }
        (Stated::Word(_, fits), Bounds::Set(_)) => *fits,
        _ => true,
    }
}
