//! A job: its joints against procedures, machines, welders and stock, its price, and the papers of it.
//!
//! `rows.rs` reads a list of joints from a spreadsheet, `welders.rs` judges who is named.

mod json;
mod rows;
mod text;
mod welders;

use std::borrow::Cow;
use std::collections::{HashMap, HashSet};
use std::fmt;
use std::sync::OnceLock;

use anyhow::{Result, anyhow};
use seamwright_check::cover::{self, Verdict, Wanted};
use seamwright_check::rule::counted;
use seamwright_check::shops;
use seamwright_check::{Context, Outcome, check_with, codes};
use seamwright_estimate::{Buy, Cost, Estimate, Joint, LABOUR_HINT, Options, buying, estimate, quote};
use seamwright_handbook::{base_metals, find};
use seamwright_model::Loaded;
use seamwright_model::document::Document;
use seamwright_model::finding::Severity;
use seamwright_model::job::{Job, JobJoint};
use seamwright_model::procedure::{Procedure, Status};
use seamwright_model::quantity::{Home, Length, Range, UnitSystem};
use seamwright_model::shop::Shop;
use seamwright_model::stated::{Date, Stated};
use seamwright_sheet::kinds::{self, JobPaper, JobRow, JobSheets, Subject};
use seamwright_weld::{View, machines};

use seamwright_page::block::Sheet;
use seamwright_page::lately::Lately;
use seamwright_page::pdf::{self, Paper};
use seamwright_page::{Kind, SheetOptions};
use serde_json::{Value, json};

use crate::appearance::Appearance;
use crate::report::number as figure;
use crate::sheets;

pub use rows::{Heading, headed, read as rows, text};
pub(crate) use rows::{placed, size};

/// A procedure of a job with what its own checks find, which are made where a joint asks for it.
#[derive(Debug)]
pub struct Known {
    loaded: Loaded,
    today: Date,
    outcome: OnceLock<Outcome>,
}

impl Known {
    /// A document with its checks of a day; nothing where it is no procedure.
    pub fn new(loaded: Loaded, today: Date) -> Option<Self> {
        if !matches!(loaded.document, Document::Procedure(_)) {
            return None;
        }
        Some(Self { loaded, today, outcome: OnceLock::new() })
    }

    /// What its own checks find on the day.
    fn outcome(&self) -> &Outcome {
        let context = Context { today: Some(self.today), ..Context::default() };
        self.outcome.get_or_init(|| check_with(&self.loaded.document, &context))
    }

    /// The document.
    pub fn loaded(&self) -> &Loaded {
        &self.loaded
    }

    /// Its number.
    pub fn number(&self) -> &str {
        self.loaded.document.number()
    }

    fn procedure(&self) -> &Procedure {
        match &self.loaded.document {
            Document::Procedure(procedure) => procedure,
            // cannot be: only procedures are known
            _ => unreachable!("a procedure"),
        }
    }
}

/// The procedures that joints can name.
#[derive(Debug, Default)]
pub struct Distinct<'k> {
    /// Each number once: a superseded revision gives way to the one that holds.
    pub known: Vec<&'k Known>,
    /// The numbers of which nobody knows which file is meant; none of theirs is known.
    pub doubled: Vec<Doubled>,
}

/// A number that several files have, each with another content.
#[derive(Debug)]
pub struct Doubled {
    /// The number.
    pub number: String,
    files: Vec<String>,
}

impl fmt::Display for Doubled {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let all = if self.files.len() == 2 { "both" } else { "all" };
        write!(formatter, "{} {all} have the number {}", self.files.join(" and "), self.number)
    }
}

impl<'k> Distinct<'k> {
    /// Sorts procedures by their numbers.
    pub fn of(all: impl IntoIterator<Item = &'k Known>) -> Self {
        let superseded = |own: &Known| own.procedure().identification.status == Some(Status::Superseded);
        let (old, holding): (Vec<&Known>, Vec<&Known>) = all.into_iter().partition(|own| superseded(own));
        let mut own = Self::default();
        for one in holding.into_iter().chain(old) {
            let name = |known: &Known| known.loaded.source.name.to_string();
            let Some(other) = own.known.iter().find(|other| other.number() == one.number()) else {
                own.known.push(one);
                continue;
            };
            if superseded(one) || other.loaded.source.text == one.loaded.source.text {
                continue;
            }
            if let Some(doubled) = own.doubled.iter_mut().find(|own| own.number == one.number()) {
                doubled.files.push(name(one));
            } else {
                let files = vec![name(other), name(one)];
                own.doubled.push(Doubled { number: one.number().to_owned(), files });
            }
        }
        let Self { known, doubled } = &mut own;
        known.retain(|own| doubled.iter().all(|doubled| doubled.number != own.number()));
        own
    }
}

/// What stands against a job.
#[derive(Debug, Clone, PartialEq)]
pub struct Against {
    /// JSON pointer of the joint, or of what it names.
    pub pointer: String,
    /// How grave it is.
    pub severity: Severity,
    /// What was found.
    pub message: String,
    /// Number of a procedure that covers the joint, where the one named does not or none is.
    pub covered_by: Option<String>,
}

/// A job worked out.
#[derive(Debug)]
pub struct Worked {
    /// What each joint uses and costs, where that can be told.
    pub estimates: Vec<Option<Estimate>>,
    /// What stands against it.
    pub against: Vec<Against>,
    /// What its papers print.
    pub papers: JobSheets,
}

/// Works a job out: each joint against its procedure, machine and welder, and all of them against the stock.
pub fn work_out(job: &Job, procedures: &Distinct<'_>, shop: Option<&Shop>, today: Date) -> Worked {
    let mut against = Vec::new();
    let mut estimates = Vec::new();
    let mut judged = HashMap::new();
    for (index, joint) in job.joints.iter().enumerate() {
        let mut own = Vec::new();
        estimates.push(one(job, joint, procedures, shop, &mut judged, today, &mut own));
        against.extend(own.into_iter().map(|found| Against {
            pointer: format!("/joints/{index}{}", found.at.map_or_else(String::new, |key| format!("/{key}"))),
            severity: found.severity,
            message: found.message,
            covered_by: found.covered_by,
        }));
    }
    against.extend(twice(job));
    against.extend(shop.into_iter().flat_map(of_shop));
    let done: Vec<&Estimate> = estimates.iter().flatten().collect();
    let to_buy = buying(done.iter().copied(), shop).into_iter().map(|own| own.in_units_of(shop));
    let to_buy: Vec<Buy> = to_buy.collect();
    for buy in to_buy.iter().filter(|buy| buy.in_stock.is_some()) {
        against.push(Against {
            pointer: "/joints".to_owned(),
            severity: Severity::Caution,
            message: format!(
                "{}: {} {} are needed, {} {} are in stock",
                buy.what,
                figure(buy.used),
                buy.unit,
                figure(buy.in_stock.unwrap_or(0.0)),
                buy.unit
            ),
            covered_by: None,
        });
    }
    // Where nothing is estimated there is no price: not the least charge either.
    let cost = shop.filter(|_| !done.is_empty()).and_then(|shop| quote(&done, shop));
    if let Some(why) = cost.as_ref().and_then(no_price) {
        against.push(Against {
            pointer: "/shop".to_owned(),
            severity: Severity::Caution,
            message: why,
            covered_by: None,
        });
    }
    let papers = papers(job, &estimates, &procedures.known, cost, to_buy, &against);
    Worked { estimates, against, papers }
}

/// The errors of the shop's own file: its rates and times are those of the price.
fn of_shop(shop: &Shop) -> impl Iterator<Item = Against> + use<> {
    let name = shop.identification.number.to_string();
    let outcome = check_with(&Document::Shop(Box::new(shop.clone())), &Context::default());
    let errors = outcome.findings.into_iter().filter(|own| own.severity == Severity::Error);
    errors.map(move |own| Against {
        pointer: "/shop".to_owned(),
        severity: Severity::Error,
        message: format!(
            "shop {name}: {}: {}{}",
            own.pointer.trim_start_matches('/'),
            own.message,
            own.hint.as_deref().map_or(String::new(), |hint| format!("; {hint}"))
        ),
        covered_by: None,
    })
}

/// Why no price is told although the shop states rates; nothing where one is.
fn no_price(cost: &Cost) -> Option<String> {
    let unpaid = cost.time_min > 0.0 && !cost.labour_stated;
    unpaid.then(|| format!("there is no price: the shop states no rate of labour; {LABOUR_HINT}"))
}

/// Joints that have the name of one before them: on a traveller nobody knows which is signed.
fn twice(job: &Job) -> impl Iterator<Item = Against> {
    let mut names = HashSet::new();
    let all = job.joints.iter().enumerate();
    all.filter(move |(_, own)| !names.insert((own.joint.to_string(), own.drawing.clone()))).map(|(index, own)| {
        Against {
            pointer: format!("/joints/{index}/joint"),
            severity: Severity::Caution,
            message: format!(
                "joint {}: another one has this name; give each its own, or put their pieces together",
                own.joint
            ),
            covered_by: None,
        }
    })
}

/// An amount of money in whole cents.
fn cents(amount: f64) -> f64 {
    (amount * 100.0).round() / 100.0
}

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

/// A paper of a job as a sheet. `Err` says in words why there is none.
pub fn paper(kind: JobPaper, loaded: &Loaded, shop: Option<&Shop>, worked: &Worked) -> Result<Sheet, String> {
    if kind == JobPaper::Quotation {
        match &worked.papers.cost {
            None => return Err("there is no price: name a shop that states its rates".to_owned()),
            Some(cost) => no_price(cost).map_or(Ok(()), Err)?,
        }
    }
    let outcome = Outcome::default();
    let lately = &Lately::default();
    let subject = Subject { loaded, outcome: &outcome, shop, procedure: None, estimate: None, lately };
    Ok(kinds::job_sheet(kind, subject, &worked.papers))
}

/// Cover, traveller and the bench card of each procedure that is named, as the bytes of one PDF.
pub fn binder(
    loaded: &Loaded,
    shop: Option<&Shop>,
    worked: &Worked,
    known: &[&Known],
    options: SheetOptions,
    size: Paper,
    appearance: &Appearance,
) -> Result<Vec<u8>> {
    let mut all = Vec::new();
    for kind in [JobPaper::Cover, JobPaper::Traveller] {
        all.push(paper(kind, loaded, shop, worked).map_err(|why| anyhow!(why))?);
    }
    // In the order of the joints, as the cover lists them.
    let mut done: Vec<&str> = Vec::new();
    for row in &worked.papers.rows {
        let own = known.iter().find(|own| find::same(&row.procedure, own.number()));
        if let Some(own) = own.filter(|own| !done.contains(&own.number())) {
            done.push(own.number());
            let (loaded, outcome, lately) = (&own.loaded, own.outcome(), &appearance.lately);
            let subject = Subject { loaded, outcome, shop, procedure: None, estimate: None, lately };
            let card = kinds::sheet(Kind::BenchCard, subject, options);
            all.push(card.map_err(|why| anyhow!("{}: {why}", own.number()))?);
        }
    }
    let title = loaded.document.identification().title.to_string();
    Ok(pdf::binder(&all, &title, &sheets::pdf_options(size, appearance))?)
}

/// What was found at a joint.
struct Found {
    /// The key of what it names; nothing for the joint itself.
    at: Option<&'static str>,
    severity: Severity,
    message: String,
    covered_by: Option<String>,
}

impl Found {
    fn error(at: Option<&'static str>, message: String) -> Self {
        Self { at, severity: Severity::Error, message, covered_by: None }
    }
}

/// What stands against a procedure with a machine and a welder, by the three names.
type Judged = HashMap<(String, String, String), Vec<(Option<&'static str>, Severity, String)>>;

/// One joint: its estimate, and what stands against it.
fn one(
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
            format!("; issue it first: seamwright issue {} --by NAME", own.loaded.source.name)
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
                own.loaded.source.name
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
fn as_written(length: &Range<Length>) -> String {
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

/// What stands against a job, each cause once: of what many joints have in common the first are named.
fn folded(job: &Job, against: &[Against]) -> Vec<(Severity, String)> {
    const NAMED: usize = 3;
    let mut all: Vec<(Severity, &str, Vec<&str>)> = Vec::new();
    let mut places: HashMap<(Severity, &str), usize> = HashMap::new();
    for own in against {
        let index = own.pointer.strip_prefix("/joints/").and_then(|rest| rest.split('/').next()?.parse::<usize>().ok());
        let joint = index.and_then(|index| job.joints.get(index)).map(|own| &*own.joint);
        let of_joint = joint.and_then(|joint| {
            let cause = own.message.strip_prefix("joint ")?.strip_prefix(joint)?.strip_prefix(": ")?;
            Some((joint, cause))
        });
        let (joint, cause) = of_joint.map_or((None, &*own.message), |(joint, cause)| (Some(joint), cause));
        let place = *places.entry((own.severity, cause)).or_insert_with(|| {
            all.push((own.severity, cause, Vec::new()));
            all.len() - 1
        });
        if let (Some((.., joints)), Some(joint)) = (all.get_mut(place), joint)
            && joints.last() != Some(&joint)
        {
            joints.push(joint);
        }
    }
    let words = |(severity, cause, joints): (Severity, &str, Vec<&str>)| {
        let text = match joints.as_slice() {
            [] => cause.to_owned(),
            [one] => format!("joint {one}: {cause}"),
            few if few.len() <= NAMED + 1 => format!("joints {}: {cause}", few.join(", ")),
            [first @ .., _] => {
                let more = joints.len() - NAMED;
                format!("joints {} and {more} more: {cause}", first[..NAMED].join(", "))
            }
        };
        (severity, text)
    };
    all.into_iter().map(words).collect()
}

/// How a procedure stands that is not to be welded by.
fn not_for_use(procedure: &Procedure) -> Option<&'static str> {
    match procedure.identification.status? {
        Status::Draft => Some("a draft"),
        Status::Withdrawn => Some("withdrawn"),
        Status::Superseded => Some("superseded"),
        Status::Issued => None,
    }
}

/// What the papers of a job print.
fn papers(
    job: &Job,
    done: &[Option<Estimate>],
    known: &[&Known],
    cost: Option<Cost>,
    buying: Vec<Buy>,
    against: &[Against],
) -> JobSheets {
    let mut priced = cost.iter().flat_map(|cost| &cost.joints);
    let price = cost.as_ref().is_some_and(|cost| no_price(cost).is_none());
    let rows = job.joints.iter().zip(done).map(|(joint, estimate)| {
        let own = joint.procedure.as_deref().unwrap_or_default();
        let revision = known.iter().find(|known| find::same(known.number(), own));
        let priced = if estimate.is_some() { priced.next() } else { None };
        JobRow {
            joint: joint.joint.to_string(),
            drawing: joint.drawing.as_deref().unwrap_or_default().to_owned(),
            procedure: own.to_owned(),
            revision: revision.map_or_else(String::new, |own| own.procedure().identification.revision.to_string()),
            machine: joint.machine.as_deref().unwrap_or_default().to_owned(),
            welder: joint.welder.as_deref().unwrap_or_default().to_owned(),
            length: joint.length.value().map(as_written).unwrap_or_default(),
            leg: joint.leg.as_ref().and_then(Stated::value).map(as_written).unwrap_or_default(),
            pieces: joint.pieces.unwrap_or(1),
            hours: priced.map(|own| own.time_min / 60.0).or(estimate.as_ref().map(|own| own.working_time_min / 60.0)),
            // What a customer can add up: a piece in whole cents, times the pieces.
            price: priced.filter(|_| price).map(|own| cents(own.each) * f64::from(own.pieces)),
            each: priced.filter(|_| price).map(|own| cents(own.each)),
        }
    });
    let rows: Vec<JobRow> = rows.collect();
    let mut unready: Vec<String> = Vec::new();
    for row in &rows {
        let own = known.iter().find(|known| find::same(known.number(), &row.procedure));
        let standing = own.and_then(|own| Some(format!("{} is {}", own.number(), not_for_use(own.procedure())?)));
        unready.extend(standing.filter(|said| !unready.contains(said)));
    }
    let total = price.then(|| cents(rows.iter().filter_map(|row| row.price).sum()));
    JobSheets {
        rows,
        unready,
        cost,
        total,
        buying,
        findings: folded(job, against).into_iter().map(|(own, text)| (own.as_str().to_owned(), text)).collect(),
    }
}
