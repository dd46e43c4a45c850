//! A job worked out against the folder: which procedure covers each joint, what it takes and costs, in words.

use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

use seamwright_desk::companions;
use seamwright_desk::files::Files;
use seamwright_desk::job::{self, Distinct, Known, Worked};
use seamwright_desk::report::number;
use seamwright_estimate::Buy;
use seamwright_model::finding::Severity;
use seamwright_model::job::Job;
use seamwright_model::shop::Shop;

use crate::app::App;
use crate::folder::{Listed, read};
use crate::judge::Judged;
use crate::listing::shop;

/// A job worked out against the folder.
pub struct Planned {
    /// The procedures that its joints can name.
    known: Vec<Arc<Known>>,
    /// The shop that welds it.
    shop: Option<Box<Shop>>,
    /// What came of it.
    pub worked: Worked,
    /// What it names and what cannot be read.
    pub trouble: Vec<String>,
}

impl Planned {
    /// A job that lies at a path below the folder.
    pub fn new(app: &App, files: &dyn Files, below: &Path, job: &Job) -> Self {
        let mut trouble = Vec::new();
        let beside = below.parent().unwrap_or(Path::new(""));
        let shop = match &job.shop {
            None => shop(app).map(|(_, shop)| shop),
            Some(name) => {
                let read = companions::shop(files, &app.folder.path(&beside.join(&**name)));
                read.inspect_err(|_| trouble.push(format!("the shop {name} cannot be read"))).ok()
            }
        };
        let mut places = Vec::new();
        for name in &job.procedures {
            match tidy(&beside.join(&**name)) {
                Some(place) => places.push(place),
                None => trouble.push(format!("{name} lies outside this folder: its procedures are not seen here")),
            }
        }
        if job.procedures.is_empty() {
            places.push(PathBuf::new());
        }
        let listed = app.folder.look().unwrap_or_default();
        let within = |one: &&Listed| places.iter().any(|place| one.below.starts_with(place));
        let known: Vec<Arc<Known>> = listed.iter().filter(within).filter_map(|one| known(app, one)).collect();
        let distinct = Distinct::of(known.iter().map(|own| &**own));
        trouble.extend(distinct.doubled.iter().map(ToString::to_string));
        let worked = job::work_out(job, &distinct, shop.as_deref(), app.today());
        Self { known, shop, worked, trouble }
    }

    /// The job of a judged document.
    pub fn of(judged: &Judged<'_, '_>, job: &Job) -> Self {
        Self::new(judged.app, judged.files, judged.below, job)
    }

    /// The procedures, each number once.
    pub fn known(&self) -> Vec<&Known> {
        Distinct::of(self.known.iter().map(|own| &**own)).known
    }

    /// The shop that welds it.
    pub fn shop(&self) -> Option<&Shop> {
        self.shop.as_deref()
    }
}

/// A path without `.` and `..`; nothing where it leads out of the folder.
fn tidy(path: &Path) -> Option<PathBuf> {
    let mut own = PathBuf::new();
    for part in path.components() {
        match part {
            Component::Normal(name) => own.push(name),
            Component::CurDir => {}
            Component::ParentDir if own.pop() => {}
            _ => return None,
        }
    }
    Some(own)
}

/// A document as a procedure with its checks; what was not changed is not checked again.
pub fn known(app: &App, one: &Listed) -> Option<Arc<Known>> {
    let text = match app.store.unsaved(&one.id) {
        Some(own) => own.text,
        None => String::from_utf8(read(&app.folder.path(&one.below)).ok()?).ok()?,
    };
    app.known(&one.below, &text)
}

/// What is to be had at hand, in a line.
pub fn buy(own: &Buy) -> (String, String) {
    let packages = own.packages().map_or_else(String::new, |own| format!(", {own}"));
    (own.what.clone(), format!("{} {}{packages}", number(own.amount), own.unit))
}

/// Time and price of all joints, in words.
pub fn total(worked: &Worked) -> String {
    let hours: f64 = worked.papers.rows.iter().filter_map(|row| row.hours).sum();
    let cost = worked.papers.cost.as_ref().filter(|cost| cost.price > 0.0 && worked.papers.total.is_some());
    let price = cost.map(|cost| format!("{:.2} {}", cost.price, cost.currency));
    let open = match worked.papers.rows.iter().filter(|row| row.hours.is_none()).count() {
        0 => String::new(),
        1 => "; 1 joint is not reckoned".to_owned(),
        n => format!("; {n} joints are not reckoned"),
    };
    format!("{} h{}{open}", number(hours), price.map_or_else(String::new, |price| format!(", {price}")))
}

/// The price of a joint, where the shop states what it takes for it.
pub fn money(price: Option<f64>) -> Option<String> {
    price.filter(|price| *price > 0.0).map(|price| format!("{price:.2}"))
}

/// What the price leaves out.
pub fn not_stated(worked: &Worked) -> Option<String> {
    let cost = worked.papers.cost.as_ref()?;
    let plain = |own: &String| own.trim_end_matches(", so it is not in the cost").to_owned();
    let all: Vec<String> = cost.not_stated.iter().map(plain).collect();
    (!all.is_empty()).then(|| all.join("; "))
}

/// What stands against a job, in a few words.
pub fn verdict(worked: &Worked) -> String {
    let count = |severity, one: &str| match worked.against.iter().filter(|own| own.severity == severity).count() {
        0 => None,
        1 => Some(format!("1 {one}")),
        n => Some(format!("{n} {one}s")),
    };
    let parts: Vec<String> =
        [count(Severity::Error, "error"), count(Severity::Caution, "caution")].into_iter().flatten().collect();
    let found = if parts.is_empty() { "nothing stands against it".to_owned() } else { parts.join(", ") };
    let joints = worked.papers.rows.len();
    format!("{joints} joint{}: {found}. {}", if joints == 1 { "" } else { "s" }, total(worked))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_path_stays_in_the_folder() {
        assert_eq!(tidy(Path::new("week/../procedures")), Some("procedures".into()));
        assert_eq!(tidy(Path::new("./.")), Some(PathBuf::new()));
        assert_eq!(tidy(Path::new("week/../../etc")), None);
        assert_eq!(tidy(Path::new("/etc")), None);
    }
}
