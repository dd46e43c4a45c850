//! A job: joints typed or pasted from a spreadsheet, which procedure covers each, what it takes and costs, and its papers.

use std::path::Path;
use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::State;
use seamwright_desk::job::{self, Distinct, Heading, Known};
use seamwright_desk::report::machine::Machine;
use seamwright_desk::report::number;
use seamwright_model::document::Document;
use seamwright_weld::View;
use serde::{Deserialize, Serialize};

use super::answer::{Answer, Base, Refused, json, page as answer, read as sent};
use crate::app::App;
use crate::folder::id_of;
use crate::listing::{listing, shop};
use crate::planned::{Planned, buy, known, money, not_stated, total};

#[derive(Serialize)]
struct Page {
    base: Base,
    shop: Option<String>,
    /// Id, number, title and state of the jobs of the folder.
    jobs: Vec<(String, String, String, String)>,
    number: String,
}

/// The page of jobs: those of the folder, and a list to make one of.
pub async fn page(State(app): State<Arc<App>>) -> Answer {
    let page = app
        .work_on_all(move |app| {
            let rows = listing(app).unwrap_or_default();
            let jobs = rows.iter().filter(|row| row.kind == "job");
            Page {
                base: Base::new(app, "Job", "job"),
                shop: shop(app).map(|(name, _)| name),
                number: format!("J-{}", jobs.clone().count() + 1),
                jobs: jobs
                    .map(|row| (row.id.clone(), row.number.clone(), row.title.clone(), row.changed.clone()))
                    .collect(),
            }
        })
        .await?;
    answer(&app, "job.html", &page)
}

/// Most joints of one job.
const MOST: usize = 500;

#[derive(Deserialize)]
struct Asked {
    text: String,
    #[serde(default)]
    number: String,
    #[serde(default)]
    title: String,
}

/// A joint with what was found for it.
#[derive(Debug, Serialize)]
struct Line {
    joint: String,
    asked: String,
    /// Id and number of its procedure.
    procedure: Option<(String, String)>,
    machine: String,
    hours: String,
    price: String,
    /// Severity and words.
    against: Vec<(&'static str, String)>,
}

#[derive(Debug, Serialize)]
struct Plan {
    /// The job as a document, to be kept.
    text: String,
    lines: Vec<Line>,
    buy: Vec<(String, String)>,
    total: String,
    /// What the price leaves out.
    missing: String,
    trouble: Vec<String>,
}

/// Plans a list; nothing is written.
pub async fn plan(State(app): State<Arc<App>>, body: Bytes) -> Answer {
    let asked: Asked = sent(&body)?;
    Ok(json(&app.work_on_all(move |app| planned(app, &asked)).await??))
}

fn planned(app: &App, asked: &Asked) -> Result<Plan, Refused> {
    if asked.text.trim().is_empty() {
        return Err(Refused::from("paste or type a joint on each line".to_owned()));
    }
    let mut rows = job::rows("the list", &job::headed(&asked.text)).map_err(|error| error.to_string())?;
    if rows.len() > MOST {
        return Err(Refused::from(format!("a job has at most {MOST} joints")));
    }
    let listed = app.folder.look().unwrap_or_default();
    let all: Vec<Arc<Known>> = listed.iter().filter_map(|one| known(app, one)).collect();
    // Numbers that several files have are told by the plan; none of theirs is proposed.
    job::propose(&mut rows, &Distinct::of(all.iter().map(|own| &**own)).known);
    let or = |typed: &str, usual: String| if typed.trim().is_empty() { usual } else { typed.trim().to_owned() };
    let shop = shop(app).map(|(name, _)| name);
    let heading = Heading {
        number: or(&asked.number, "J-1".to_owned()),
        title: or(&asked.title, format!("Joints of {}", app.today())),
        date: app.today(),
        // One that was named for this run alone is no part of the job.
        shop: shop.filter(|_| app.companions.shop.is_none()),
        procedures: vec![".".to_owned()],
    };
    let text = job::text(&heading, &rows).map_err(|error| error.to_string())?;
    let loaded = seamwright_model::load("the list", text.as_bytes()).map_err(|(_, faults)| {
        let words = |pointer: &str| {
            let mut parts = pointer.trim_start_matches("/joints/").splitn(2, '/');
            let place = parts.next().and_then(|own| own.parse::<usize>().ok()).map_or(0, |own| own + 1);
            format!("joint {place}, {}", parts.next().unwrap_or_default())
        };
        faults.first().map_or_else(String::new, |fault| format!("{}: {}", words(&fault.pointer), fault.message))
    })?;
    let Document::Job(job) = &loaded.document else { return Err(Refused::from("this is no job".to_owned())) };
    let planned = Planned::new(app, &app.disk(), Path::new("job.yaml"), job);
    let known = planned.known();
    let papers = &planned.worked.papers;
    let lines = job.joints.iter().zip(&papers.rows).enumerate().map(|(index, (joint, row))| {
        let own = known.iter().find(|own| own.number() == row.procedure);
        let best = || {
            let Document::Procedure(procedure) = &own?.loaded().document else { return None };
            Machine::for_procedure(&View::new(procedure), planned.shop()?).first().map(ToString::to_string)
        };
        let pointer = format!("/joints/{index}");
        let mine = |at: &str| at == pointer || at.starts_with(&format!("{pointer}/"));
        let asked = [
            joint.metal.as_deref().map(str::to_owned),
            joint.thickness.as_ref().and_then(|own| own.value()).map(|own| own.spelled().to_owned()),
            joint.kind.map(|own| own.to_string()),
            joint.position.as_deref().map(str::to_owned),
            (!row.leg.is_empty()).then(|| format!("leg {}", row.leg)),
            Some(row.length.clone()),
            Some(format!("{} ×", row.pieces)),
        ];
        Line {
            joint: row.joint.clone(),
            asked: asked.into_iter().flatten().collect::<Vec<_>>().join(", "),
            procedure: own.map(|own| (id_of(Path::new(&*own.loaded().source.name)), row.procedure.clone())),
            machine: if row.machine.is_empty() { best().unwrap_or_default() } else { row.machine.clone() },
            hours: row.hours.map_or_else(String::new, |hours| format!("{} h", number(hours))),
            price: money(row.price).unwrap_or_default(),
            against: planned
                .worked
                .against
                .iter()
                .filter(|own| mine(&own.pointer))
                .map(|own| (own.severity.as_str(), own.message.clone()))
                .collect(),
        }
    });
    Ok(Plan {
        lines: lines.collect(),
        buy: papers.buying.iter().map(buy).collect(),
        total: total(&planned.worked),
        missing: not_stated(&planned.worked).unwrap_or_default(),
        trouble: planned
            .trouble
            .into_iter()
            .chain(planned.worked.against.iter().filter(|own| own.pointer == "/joints").map(|own| own.message.clone()))
            .collect(),
        text,
    })
}
