//! The papers of a job: what they print, each as a sheet, and all of them bound.

use std::collections::HashMap;

use anyhow::{Result, anyhow};
use seamwright_check::Outcome;
use seamwright_estimate::{Buy, Cost, Estimate, LABOUR_HINT};
use seamwright_handbook::find;
use seamwright_model::Loaded;
use seamwright_model::finding::Severity;
use seamwright_model::job::Job;
use seamwright_model::shop::Shop;
use seamwright_model::stated::Stated;
use seamwright_page::block::Sheet;
use seamwright_page::lately::Lately;
use seamwright_page::pdf::{self, Paper};
use seamwright_page::{Kind, SheetOptions};
use seamwright_sheet::kinds::{self, JobPaper, JobRow, JobSheets, Subject};

use super::joint::as_written;
use super::known::{Known, not_for_use};
use super::worked::{Against, Worked};
use crate::appearance::Appearance;
use crate::sheets;

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
            let (loaded, outcome, lately) = (own.loaded(), own.outcome(), &appearance.lately);
            let subject = Subject { loaded, outcome, shop, procedure: None, estimate: None, lately };
            let card = kinds::sheet(Kind::BenchCard, subject, options);
            all.push(card.map_err(|why| anyhow!("{}: {why}", own.number()))?);
        }
    }
    let title = loaded.document.identification().title.to_string();
    Ok(pdf::binder(&all, &title, &sheets::pdf_options(size, appearance))?)
}

/// Why no price is told although the shop states rates; nothing where one is.
pub(super) fn no_price(cost: &Cost) -> Option<String> {
    let unpaid = cost.time_min > 0.0 && !cost.labour_stated;
    unpaid.then(|| format!("there is no price: the shop states no rate of labour; {LABOUR_HINT}"))
}

/// An amount of money in whole cents.
fn cents(amount: f64) -> f64 {
    (amount * 100.0).round() / 100.0
}

/// What the papers of a job print.
pub(super) fn papers(
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
