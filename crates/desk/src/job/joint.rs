//! One joint of a job against its procedure, machine and welder.

use std::borrow::Cow;
use std::collections::HashMap;

use seamwright_check::cover::{self, Verdict, Wanted};
use seamwright_check::rule::counted;
use seamwright_check::shops;
use seamwright_check::{Context, check_with, codes};
use seamwright_estimate::{Estimate, Joint, Options, estimate};
use seamwright_handbook::{base_metals, find};
use seamwright_model::document::Document;
use seamwright_model::finding::Severity;
use seamwright_model::job::{Job, JobJoint};
use seamwright_model::procedure::{Procedure, Status};
use seamwright_model::quantity::{Home, Length, Range, UnitSystem};
use seamwright_model::shop::Shop;
use seamwright_model::stated::{Date, Stated};
use seamwright_weld::{View, machines};
use serde_json::{Value, json};

use super::known::{Distinct, Known, not_for_use};
use super::{rows, welders};

/// The numbers of the procedures that cover a joint; none where nothing is said of it.
pub fn covering(joint: &JobJoint, known: &[&Known]) -> Vec<String> {
    if !asks(joint) {
        return Vec::new();
    }
    let wanted = wanted(joint, &mut Vec::new());
    let covers = |own: &&&Known| cover::cover(&View::new(own.procedure()), &wanted).0 == Verdict::Covered;
    known.iter().filter(covers).map(|own| own.number().to_owned()).collect()
}

/// Names a procedure that covers it for each joint of a list that names none.
pub fn propose(joints: &mut [Value], known: &[&Known]) {
    for joint in joints {
        let Ok(read) = serde_json::from_value::<JobJoint>(joint.clone()) else { continue };
        if let (None, Some(number)) = (&read.procedure, covering(&read, known).into_iter().next()) {
            joint["procedure"] = json!(number);
        }
    }
}

/// Whether a joint says what it is, so that a procedure can be held against it.
fn asks(joint: &JobJoint) -> bool {
    joint.metal.is_some() || joint.thickness.is_some() || joint.kind.is_some() || joint.position.is_some()
}

/// What was found at a joint.
pub(super) struct Found {
    /// The key of what it names; nothing for the joint itself.
    pub(super) at: Option<&'static str>,
    pub(super) severity: Severity,
    pub(super) message: String,
    pub(super) covered_by: Option<String>,
}

impl Found {
    fn error(at: Option<&'static str>, message: String) -> Self {
        Self { at, severity: Severity::Error, message, covered_by: None }
    }
}

/// What stands against a procedure with a machine and a welder, by the three names.
pub(super) type Judged = HashMap<(String, String, String), Vec<(Option<&'static str>, Severity, String)>>;

/// One joint: its estimate, and what stands against it.
pub(super) fn one(
    job: &Job,
    joint: &JobJoint,
    procedures: &Distinct<'_>,
    shop: Option<&Shop>,
    judged: &mut Judged,
    today: Date,
    found: &mut Vec<Found>,
) -> Option<Estimate> {
    const PROCEDURE: Option<&str> = Some("procedure");
    let (name, known) = (&joint.joint, &*procedures.known);
    let wanted = wanted(joint, found);
    let Some(number) = joint.procedure.as_deref() else {
        let others = covering(joint, known);
        let hint = if others.is_empty() { String::new() } else { format!("; it is covered by {}", others.join(", ")) };
        let message = format!("joint {name}: names no procedure{hint}");
        found.push(Found { covered_by: others.into_iter().next(), ..Found::error(PROCEDURE, message) });
        return None;
    };
    if let Some(doubled) = procedures.doubled.iter().find(|own| find::same(&own.number, number)) {
        let message =
            format!("joint {name}: {doubled}, and only one can be meant; give one of them a number of its own");
        found.push(Found::error(PROCEDURE, message));
        return None;
    }
    let Some(own) = known.iter().find(|own| find::same(own.number(), number)) else {
        let near = find::nearest(number, known.iter().map(|own| own.number()));
        let hint = if near.is_empty() { String::new() } else { format!("; did you mean {}?", near.join(" or ")) };
        let covered_by = covering(joint, known).into_iter().next();
        let message = format!("joint {name}: there is no procedure {number}{hint}");
        found.push(Found { covered_by, ..Found::error(PROCEDURE, message) });
        return None;
    };
    if joint.pieces == Some(0) {
        let message = format!("joint {name}: 0 pieces; write how many there are, 1 or more");
        found.push(Found::error(Some("pieces"), message));
        return None;
    }
    let procedure = own.procedure();
    let identification = &procedure.identification;
    if let Some(planned) = joint.procedure_revision.as_deref().filter(|planned| **planned != *identification.revision) {
        let why = procedure.revisions.iter().find(|entry| entry.revision == identification.revision);
        let why = why.map_or(String::new(), |entry| format!(" ({})", entry.change));
        found.push(Found::error(
            Some("procedure_revision"),
            format!(
                "joint {name}: planned with revision {planned} of {number}, which is revision {} now{why}: its estimate, traveller and card are stale",
                identification.revision
            ),
        ));
    }
    if let Some(standing) = not_for_use(procedure) {
        let hint = if identification.status == Some(Status::Draft) {
            format!("; issue it first: seamwright issue {} --by NAME", own.loaded().source.name)
        } else {
            String::new()
        };
        let message = format!("procedure {number} is {standing}, and not for use{hint}");
        found.push(Found { severity: Severity::Caution, ..Found::error(PROCEDURE, message) });
    }
    let errors = own.outcome().count(Severity::Error);
    if errors > 0 {
        found.push(Found::error(
            PROCEDURE,
            format!(
                "procedure {number}: {}; see seamwright check {}",
                counted(errors, "error"),
                own.loaded().source.name
            ),
        ));
    }
    if asks(joint) {
        let (verdict, off) = cover::cover(&View::new(procedure), &Wanted { leg: None, ..wanted.clone() });
        if verdict != Verdict::Covered {
            let off: Vec<String> = off
                .iter()
                .map(|off| {
                    let covers = if off.covers.is_empty() { "nothing stated" } else { &off.covers };
                    format!("{} {} is asked for, it covers {covers}", off.what, off.asked)
                })
                .collect();
            let others = covering(joint, known);
            let hint = if others.is_empty() { String::new() } else { format!("; covered by {}", others.join(", ")) };
            let message = format!("joint {name}: {} by {number}: {}{hint}", verdict.as_str(), off.join(", "));
            found.push(Found { covered_by: others.into_iter().next(), ..Found::error(PROCEDURE, message) });
        }
    }
    found.extend(leg(joint, own, wanted.leg, known));
    if let Some(shop) = shop {
        let day = job.start.unwrap_or(today);
        let key = (
            number.to_owned(),
            joint.machine.as_deref().unwrap_or_default().to_owned(),
            joint.welder.as_deref().unwrap_or_default().to_owned(),
        );
        let against = judged.entry(key).or_insert_with(|| in_shop(procedure, joint, shop, day));
        found.extend(against.iter().map(|(at, severity, text)| Found {
            at: *at,
            severity: *severity,
            message: format!("joint {name}: {text}"),
            covered_by: None,
        }));
    }
    estimated(joint, procedure, shop, found)
}

/// What stands against the leg of a joint: the welder makes that of the procedure, whatever the list asks for.
fn leg(joint: &JobJoint, own: &Known, leg: Option<Range<Length>>, known: &[&Known]) -> Option<Found> {
    let asked = as_written(leg.as_ref()?);
    let wanted = Wanted { leg, ..Wanted::default() };
    let off = cover::cover(&View::new(own.procedure()), &wanted).1.into_iter().next()?;
    let covers = if off.covers.is_empty() { "no leg that it states" } else { &off.covers };
    let mut message = format!("joint {}: leg {asked} is asked for, {} makes {covers}", joint.joint, own.number());
    let more = off.by_mm.is_some_and(|by| by < 0.0);
    if more {
        message.push_str(&format!("; the price is that of {asked}"));
    }
    let others = covering(joint, known);
    if !others.is_empty() {
        message.push_str(&format!("; covered by {}", others.join(", ")));
    }
    let severity = if more { Severity::Caution } else { Severity::Error };
    Some(Found { severity, covered_by: others.into_iter().next(), ..Found::error(Some("leg"), message) })
}

/// A length in the unit that it is stated in, as a sheet prints it: `18"` is 18 in.
pub(super) fn as_written(length: &Range<Length>) -> String {
    length.print(if length.unit().home == Home::Us { UnitSystem::Us } else { UnitSystem::Si })
}

/// What a joint uses and costs by its procedure.
fn estimated(joint: &JobJoint, procedure: &Procedure, shop: Option<&Shop>, found: &mut Vec<Found>) -> Option<Estimate> {
    let name = &joint.joint;
    let mut procedure = Cow::Borrowed(procedure);
    if let (Some(leg), Some(Stated::Is(_))) = (&joint.leg, &procedure.weld_size)
        && let Some(Stated::Is(size)) = &mut procedure.to_mut().weld_size
    {
        size.leg = Some(leg.clone());
        size.throat = None;
    }
    let thickness_mm = joint.thickness.as_ref().and_then(Stated::value).and_then(|range| range.high()).map(Length::mm);
    let thickness_mm = thickness_mm.filter(|_| View::new(&procedure).weld().is_some_and(|weld| weld.has_groove()));
    let length_mm = joint.length.value().and_then(|range| range.middle().or(range.high())).map_or(0.0, Length::mm);
    let joints = [Joint { name: name.to_string(), length_mm, count: joint.pieces.unwrap_or(1).max(1) }];
    match estimate(&procedure, &joints, &Options { thickness_mm, shop }) {
        Ok(estimate) => {
            if let Some(words) = &estimate.cannot_make {
                found.push(Found::error(None, format!("joint {name}: {words}")));
            }
            Some(estimate)
        }
        Err(reason) => {
            found.push(Found::error(None, format!("joint {name}: no estimate: {reason}")));
            None
        }
    }
}

fn wanted(joint: &JobJoint, found: &mut Vec<Found>) -> Wanted {
    let metal = joint.metal.as_deref().and_then(|name| {
        let metal = base_metals::find(name);
        if metal.is_none() {
            let message = format!(
                "joint {}: `{name}` is no metal that the handbook knows: it is not held against the procedure",
                joint.joint
            );
            found.push(Found { severity: Severity::Caution, ..Found::error(Some("metal"), message) });
        }
        metal
    });
    Wanted {
        metal,
        thickness_mm: joint.thickness.as_ref().and_then(Stated::value).and_then(|range| range.high()).map(Length::mm),
        joint: joint.kind,
        leg: joint.leg.as_ref().and_then(Stated::value).cloned(),
        position: joint.position.as_deref().and_then(|word| match rows::position(word, joint.kind) {
            Ok(position) => Some(position),
            Err(why) => {
                found.push(Found::error(Some("position"), format!("joint {}: {why}", joint.joint)));
                None
            }
        }),
        ..Wanted::default()
    }
}

/// What stands against a procedure on the machine and with the welder of a joint.
fn in_shop(
    procedure: &Procedure,
    joint: &JobJoint,
    shop: &Shop,
    day: Date,
) -> Vec<(Option<&'static str>, Severity, String)> {
    let mut found = Vec::new();
    let (mut procedure, mut shop) = (procedure.clone(), shop.clone());
    if let Some(machine) = &joint.machine {
        if machines::find(&shop, machine).is_none() {
            let names: Vec<&str> = shop.power_sources.iter().map(|own| &*own.name).collect();
            found.push((
                Some("machine"),
                Severity::Error,
                format!("the shop has no machine {machine}; it has {}", names.join(", ")),
            ));
        } else {
            procedure.machine = Some(machine.clone());
            for settings in procedure.processes.0.iter_mut().map(|(_, settings)| settings) {
                settings.machine = None;
            }
        }
    }
    if let Some(cell) = &joint.welder {
        match welders::named(&shop, cell) {
            Ok(own) => {
                let against = welders::against(&procedure, &shop, &own, day);
                found.extend(against.into_iter().map(|(severity, text)| (Some("welder"), severity, text)));
            }
            Err(unknown) => {
                let names: Vec<&str> = shop.welders.iter().map(|own| &*own.name).collect();
                let has = if names.is_empty() { "none".to_owned() } else { names.join(", ") };
                found.push((
                    Some("welder"),
                    Severity::Error,
                    format!("the shop has no welder {}; it has {has}", unknown.join(", ")),
                ));
            }
        }
        // Those who are named are judged: of the others nothing is asked.
        shop.welders.clear();
    }
    let outcome = check_with(
        &Document::Procedure(Box::new(procedure)),
        &Context { shop: Some(&shop), today: Some(day), ..Context::default() },
    );
    let of_shop = |check: &str| {
        shops::FITNESS.iter().any(|rule| rule.name == check)
            || codes::in_shop::RULES.iter().any(|rule| rule.name == check)
    };
    let own = outcome.findings.iter().filter(|finding| of_shop(finding.check) && finding.severity != Severity::Note);
    found.extend(own.map(|finding| (None, finding.severity, finding.message.clone())));
    found
}
