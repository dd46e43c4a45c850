//! A week of joints, typed or pasted from a spreadsheet: which procedure covers each, on which machine, what it takes and
//! costs, and what to buy.

use std::collections::BTreeMap;
use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::State;
use seamwright_check::View;
use seamwright_check::cover::{self, Verdict, Wanted};
use seamwright_check::rule::figure;
use seamwright_desk::report::machine::Machine;
use seamwright_estimate::{Estimate, Joint, Options, estimate};
use seamwright_handbook::{base_metals, positions, processes};
use seamwright_model::document::Document;
use seamwright_model::procedure::Procedure;
use seamwright_model::quantity::{Length, Range};
use seamwright_model::shop::Shop;
use serde::{Deserialize, Serialize};

use super::document::standing;
use super::{Answer, Base, Refused, json, page as answer, read as sent};
use crate::app::App;
use crate::typed;
use crate::work::loaded;

#[derive(Serialize)]
struct Page {
    base: Base,
    shop: Option<String>,
}

/// The page of a job.
pub async fn page(State(app): State<Arc<App>>) -> Answer {
    let shop = app.work(|app| super::new::shop(app).map(|(name, _)| name)).await?;
    answer(&app, "job.html", &Page { base: Base::new(&app, "Job", "job"), shop })
}

/// Most joints of one job.
const MOST: usize = 500;

#[derive(Deserialize)]
struct Asked {
    text: String,
}

/// A joint with what was found for it.
#[derive(Debug, Default, Serialize)]
struct Line {
    joint: String,
    asked: String,
    trouble: Option<String>,
    /// The best procedure: id, number and title.
    procedure: Option<(String, String, String)>,
    verdict: String,
    off: Vec<String>,
    machine: Option<String>,
    weld_metal: String,
    time: String,
    cost: String,
    missing: Vec<String>,
}

#[derive(Debug, Default, Serialize)]
struct Plan {
    lines: Vec<Line>,
    buy: Vec<(String, String)>,
    total: String,
    trouble: Option<String>,
}

/// Plans a job; nothing is written.
pub async fn plan(State(app): State<Arc<App>>, body: Bytes) -> Answer {
    let asked: Asked = sent(&body)?;
    Ok(json(&app.work(move |app| planned(app, &asked.text)).await??))
}

/// The columns of a list, in the order in which they stand where it has no heads.
const COLUMNS: [&str; 8] = ["joint", "metal", "thickness", "type", "position", "length", "pieces", "process"];

/// The rows of a pasted list by the names of its columns.
fn rows(text: &str) -> Result<Vec<BTreeMap<&'static str, String>>, String> {
    let lines: Vec<&str> = text.lines().filter(|line| !line.trim().is_empty()).collect();
    let Some(first) = lines.first() else { return Err("paste or type a joint on each line".to_owned()) };
    let mark = ['\t', ';'].into_iter().find(|mark| first.contains(*mark)).unwrap_or(',');
    let cells = |line: &str| -> Vec<String> { line.split(mark).map(|cell| cell.trim().to_owned()).collect() };
    let column = |head: &str| match head.to_lowercase().as_str() {
        "joint" | "name" | "mark" | "item" => Some("joint"),
        "metal" | "material" | "grade" => Some("metal"),
        "thickness" | "thick" | "t" => Some("thickness"),
        "type" | "joint type" | "kind" => Some("type"),
        "position" | "pos" => Some("position"),
        "length" | "weld length" => Some("length"),
        "pieces" | "count" | "qty" | "quantity" | "no" => Some("pieces"),
        "process" => Some("process"),
        _ => None,
    };
    let heads: Vec<Option<&'static str>> = cells(first).iter().map(|head| column(head)).collect();
    let headed = heads.iter().filter(|head| head.is_some()).count() >= 3;
    let heads: Vec<Option<&'static str>> = if headed { heads } else { COLUMNS.iter().copied().map(Some).collect() };
    let body = lines.iter().skip(usize::from(headed));
    let all: Vec<_> = body
        .map(|line| heads.iter().zip(cells(line)).filter_map(|(head, cell)| Some(((*head)?, cell))).collect())
        .collect();
    if all.len() > MOST {
        return Err(format!("a job has at most {MOST} joints"));
    }
    Ok(all)
}

fn planned(app: &Arc<App>, text: &str) -> Result<Plan, Refused> {
    let rows = rows(text)?;
    let shop = super::new::shop(app).map(|(_, shop)| shop);
    let listing = app.listing().unwrap_or_default();
    let procedures: Vec<(String, Box<Procedure>)> = listing
        .iter()
        .filter(|row| row.kind == "procedure" && row.status != "superseded")
        .filter_map(|row| {
            let text = standing(app, &row.id).ok()?.text;
            match loaded(&row.file, &text).ok()?.document {
                Document::Procedure(own) => Some((row.id.clone(), own)),
                _ => None,
            }
        })
        .collect();
    let mut plan = Plan::default();
    let mut estimates = Vec::new();
    for (place, row) in rows.iter().enumerate() {
        plan.lines.push(match line(row, place, &procedures, shop.as_deref(), &mut estimates) {
            Ok(line) => line,
            Err((line, trouble)) => Line { trouble: Some(trouble), ..line },
        });
    }
    totals(&mut plan, &estimates);
    Ok(plan)
}

/// What was found for one joint; `Err` says what of it is not understood.
fn line(
    row: &BTreeMap<&'static str, String>,
    place: usize,
    procedures: &[(String, Box<Procedure>)],
    shop: Option<&Shop>,
    estimates: &mut Vec<Estimate>,
) -> Result<Line, (Line, String)> {
    let cell = |name: &str| row.get(name).map(|own| own.trim()).filter(|own| !own.is_empty());
    let joint = cell("joint").map_or_else(|| format!("joint {}", place + 1), str::to_owned);
    let asked = ["metal", "thickness", "type", "position", "length", "pieces"]
        .iter()
        .filter_map(|name| cell(name))
        .collect::<Vec<_>>()
        .join(", ");
    let line = Line { joint: joint.clone(), asked, ..Line::default() };
    macro_rules! known {
        ($result:expr) => {
            match $result {
                Ok(value) => value,
                Err(words) => return Err((line, words)),
            }
        };
    }
    let length = |name: &str| -> Result<Option<f64>, String> {
        let Some(own) = cell(name) else { return Ok(None) };
        let own = typed::quantity("length", own, "1 mm");
        let range = Range::<Length>::parse(&own).map_err(|error| format!("{name} `{own}`: {}", error.message()))?;
        let single = range.single().ok_or_else(|| format!("{name} `{own}` is a range: give one value"))?;
        if single.mm() > 0.0 { Ok(Some(single.mm())) } else { Err(format!("{name} `{own}` is not more than nothing")) }
    };
    let metal = known!(cell("metal").map_or(Ok(None), |name| {
        base_metals::find(name).map(Some).ok_or_else(|| format!("the metal `{name}` is not known"))
    }));
    let position = cell("position");
    known!(position.map_or(Ok(()), |name| {
        positions::get(name).map(|_| ()).ok_or_else(|| format!("the position `{name}` is not known"))
    }));
    known!(cell("process").map_or(Ok(()), |name| {
        processes::get(name).map(|_| ()).ok_or_else(|| format!("the process `{name}` is not known"))
    }));
    let kinds: Vec<String> = ["butt", "tee", "lap", "corner", "edge"].map(str::to_owned).into();
    let kind = known!(cell("type").map_or(Ok(None), |name| {
        typed::word(name, &kinds).parse().map(Some).map_err(|_| format!("`{name}` is no type of joint"))
    }));
    let wanted = Wanted {
        metal,
        thickness_mm: known!(length("thickness")),
        joint: kind,
        position: position.map(str::to_owned),
        process: cell("process").map(str::to_owned),
        ..Wanted::default()
    };
    let length_mm = known!(length("length"));
    let pieces = known!(
        cell("pieces").map_or(Ok(1), |own| own.parse::<u32>().map_err(|_| format!("`{own}` is no number of pieces")))
    );
    let mut found: Vec<_> = procedures
        .iter()
        .map(|(id, own)| {
            let (verdict, off) = cover::cover(&View::new(own), &wanted);
            (verdict, off, id, own)
        })
        .collect();
    found.sort_by(|one, other| {
        (one.0, one.1.len(), &one.3.identification.number).cmp(&(
            other.0,
            other.1.len(),
            &other.3.identification.number,
        ))
    });
    let Some((verdict, off, id, procedure)) = found.into_iter().next() else {
        return Err((line, "the folder has no procedures".to_owned()));
    };
    let mut line = Line { verdict: verdict.as_str().to_owned(), ..line };
    if verdict == Verdict::Not {
        return Ok(line);
    }
    line.procedure =
        Some((id.clone(), procedure.identification.number.to_string(), procedure.identification.title.to_string()));
    line.off = off
        .iter()
        .map(|own| {
            format!(
                "{} {} is outside {}",
                own.what,
                own.asked,
                if own.covers.is_empty() { "nothing stated" } else { &own.covers }
            )
        })
        .collect();
    if let Some(shop) = shop {
        line.machine = Machine::for_procedure(&View::new(procedure), shop).first().map(ToString::to_string);
    }
    if let Some(length_mm) = length_mm {
        let options = Options { thickness_mm: wanted.thickness_mm, shop };
        match estimate(procedure, &[Joint { name: joint, length_mm, count: pieces }], &options) {
            Ok(own) => {
                line.weld_metal = format!("{} kg", figure(own.weld_metal_kg.middle));
                line.time = format!("{} h", figure(own.working_time_min / 60.0));
                line.cost =
                    own.cost.as_ref().map_or_else(String::new, |cost| format!("{:.2} {}", cost.total, cost.currency));
                line.missing.clone_from(&own.not_stated);
                estimates.push(own);
            }
            Err(words) => line.missing.push(words),
        }
    }
    Ok(line)
}

/// What all joints take together.
fn totals(plan: &mut Plan, estimates: &[Estimate]) {
    let mut fillers: BTreeMap<String, f64> = BTreeMap::new();
    let mut gases: BTreeMap<String, f64> = BTreeMap::new();
    for own in estimates {
        for filler in &own.fillers {
            let size = filler.diameter_mm.map_or_else(String::new, |mm| format!(", {} mm", figure(mm)));
            *fillers.entry(format!("{}{size}", filler.designation)).or_default() += filler.mass_kg.middle;
        }
        for gas in &own.gases {
            *gases.entry(gas.designation.clone()).or_default() += gas.volume_l;
        }
    }
    plan.buy.extend(fillers.into_iter().map(|(what, kg)| (what, format!("{} kg", figure(kg)))));
    plan.buy.extend(
        gases.into_iter().map(|(what, litres)| (format!("gas {what}"), format!("{} m³", figure(litres / 1000.0)))),
    );
    for left in seamwright_estimate::remainders(estimates).iter().filter(|own| own.left() < 0.0) {
        plan.buy
            .push((format!("short on the shelf: {}", left.what), format!("{} {}", figure(-left.left()), left.unit)));
    }
    let hours: f64 = estimates.iter().map(|own| own.working_time_min / 60.0).sum();
    let currency =
        estimates.iter().find_map(|own| own.cost.as_ref().map(|cost| cost.currency.clone())).unwrap_or_default();
    let cost: f64 = estimates.iter().filter_map(|own| own.cost.as_ref()).map(|cost| cost.total).sum();
    plan.total =
        if cost > 0.0 { format!("{} h, {cost:.2} {currency}", figure(hours)) } else { format!("{} h", figure(hours)) };
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pasted_list_is_read_with_and_without_heads() {
        let heads = rows("Mark\tMaterial\tThick\tQty\nA\tS235JR\t3 mm\t2\n\nB;x\t304L\t2 mm\t1\n").unwrap();
        assert_eq!(heads.len(), 2);
        assert_eq!((heads[0]["metal"].as_str(), heads[0]["pieces"].as_str()), ("S235JR", "2"));
        let bare = rows("A; S355J2; 10 mm; tee; PB; 2.4 m; 4").unwrap();
        assert_eq!(
            (bare[0]["joint"].as_str(), bare[0]["length"].as_str(), bare[0]["pieces"].as_str()),
            ("A", "2.4 m", "4")
        );
        assert!(rows(" \n").is_err());
    }
}
