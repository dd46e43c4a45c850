//! A job: its joints against procedures, machines, welders and stock, its price, and the papers of it.
//!
//! `rows.rs` reads a list of joints from a spreadsheet, `known.rs` has the procedures that it can name, `joint.rs` holds one joint
//! against its own, `welders.rs` judges who is named, and `papers.rs` makes what is printed.

mod joint;
mod json;
mod known;
mod papers;
mod rows;
mod text;
mod welders;
mod worked;

use std::collections::{HashMap, HashSet};

use seamwright_check::{Context, check_with};
use seamwright_estimate::{Buy, Estimate, buying, quote};
use seamwright_model::document::Document;
use seamwright_model::finding::Severity;
use seamwright_model::job::Job;
use seamwright_model::shop::Shop;
use seamwright_model::stated::Date;

use crate::report::number as figure;

pub use joint::{covering, propose};
pub use known::{Distinct, Doubled, Known};
pub use papers::{binder, paper};
pub use rows::{Heading, headed, read as rows, text};
pub(crate) use rows::{placed, size};
pub use worked::{Against, Worked};

/// Works a job out: each joint against its procedure, machine and welder, and all of them against the stock.
pub fn work_out(job: &Job, procedures: &Distinct<'_>, shop: Option<&Shop>, today: Date) -> Worked {
    let mut against = Vec::new();
    let mut estimates = Vec::new();
    let mut judged = HashMap::new();
    for (index, own) in job.joints.iter().enumerate() {
        let mut found = Vec::new();
        estimates.push(joint::one(job, own, procedures, shop, &mut judged, today, &mut found));
        against.extend(found.into_iter().map(|found| Against {
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
    if let Some(why) = cost.as_ref().and_then(papers::no_price) {
        against.push(Against {
            pointer: "/shop".to_owned(),
            severity: Severity::Caution,
            message: why,
            covered_by: None,
        });
    }
    let papers = papers::papers(job, &estimates, &procedures.known, cost, to_buy, &against);
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
