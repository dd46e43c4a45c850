//! A new document: from a few facts, as a copy of another, or empty.

use std::path::PathBuf;
use std::sync::Arc;

use axum::body::Bytes;
use axum::extract::State;
use axum::http::Uri;
use axum::response::{IntoResponse, Redirect};
use seamwright_desk::draft::{self, Draft, DraftRequest};
use seamwright_desk::editors;
use seamwright_draft::Typed;
use seamwright_handbook::{planning, positions, processes};
use seamwright_model::shop::Shop;
use seamwright_page::Kind;
use serde::{Deserialize, Serialize};

use super::answer::{Answer, Base, Refused, json, page as answer, read as sent};
use super::document::{sheet_page, standing};
use super::wanted::Wanted;
use crate::app::App;
use crate::edit::{self, Op};
use crate::form::{Choice, choices};
use crate::guard::query;
use crate::judge::judge;
use crate::listing::{listing, shop};
use crate::live::live;
use crate::pages::data;

/// A process that drafts are written for.
#[derive(Serialize)]
struct Process {
    number: String,
    /// Whether the page begins with it.
    first: bool,
    name: String,
}

/// A position as a picture.
#[derive(Serialize)]
struct Position {
    code: String,
    name: String,
    aws: String,
    groove: bool,
    fillet: bool,
    pipe: bool,
}

#[derive(Serialize)]
struct Page {
    base: Base,
    processes: Vec<Process>,
    positions: Vec<Position>,
    metals: Vec<Choice>,
    machines: Vec<String>,
    shop: Option<String>,
    number: String,
    copies: Vec<(String, String)>,
    data: String,
}

/// The ISO positions that the page shows as pictures, with the AWS names beside them.
fn pictured() -> Vec<Position> {
    const SHOWN: [(&str, &str); 8] = [
        ("PA", "1G, 1F"),
        ("PB", "2F"),
        ("PC", "2G"),
        ("PD", "4F"),
        ("PE", "4G"),
        ("PF", "3G, 3F up"),
        ("PG", "3G, 3F down"),
        ("PH", "5G up"),
    ];
    SHOWN
        .iter()
        .filter_map(|(code, aws)| {
            let row = positions::get(code)?;
            let weld = |own| row.weld == positions::Weld::Both || row.weld == own;
            Some(Position {
                code: (*code).to_owned(),
                name: row.name.to_owned(),
                aws: (*aws).to_owned(),
                groove: weld(positions::Weld::Groove),
                fillet: weld(positions::Weld::Fillet),
                pipe: row.product == positions::Product::Pipe,
            })
        })
        .collect()
}

#[derive(Serialize)]
struct ShopPage {
    base: Base,
    shops: Vec<(String, String, String)>,
}

/// The shop: the only one is opened, several are listed, and where there is none one can be begun.
pub async fn shop_page(State(app): State<Arc<App>>) -> Answer {
    let rows = app.work_on_all(|app| listing(app)).await?.unwrap_or_default();
    let shops: Vec<_> =
        rows.into_iter().filter(|row| row.kind == "shop").map(|row| (row.id, row.file, row.title)).collect();
    if let [(id, _, _)] = shops.as_slice() {
        return Ok(Redirect::to(&format!("/d/{id}")).into_response());
    }
    answer(&app, "shop.html", &ShopPage { base: Base::new(&app, "My shop", "shop"), shops })
}

/// The number after the greatest of the folder: `P-021` after `P-020`.
fn next_number(app: &App) -> String {
    let rows = listing(app).unwrap_or_default();
    let figures = |number: &str| number.strip_prefix("P-").and_then(|own| own.parse::<u32>().ok());
    let last = rows.iter().filter_map(|row| figures(&row.number)).max().unwrap_or(0);
    format!("P-{:03}", last + 1)
}

/// The page of a new document.
pub async fn page(State(app): State<Arc<App>>, uri: Uri) -> Answer {
    const USUAL: &str = "135";
    let copy = query(uri.query(), "copy").unwrap_or_default();
    let page = app
        .work_on_all(move |app| {
            let shop = shop(app);
            let drafted = planning::processes();
            // What the shop has a machine for; of wire and gas, what most shops have, where nothing is known.
            let has = |number: &str| {
                let machines = shop.iter().flat_map(|(_, shop)| &shop.power_sources);
                machines
                    .flat_map(|own| &own.processes)
                    .any(|own| processes::get(own).is_some_and(|row| row.number == number))
            };
            let begins = if shop.is_none() || has(USUAL) {
                USUAL
            } else {
                drafted.iter().copied().find(|own| has(own)).unwrap_or(USUAL)
            };
            let processes = drafted.iter().filter_map(|number| processes::get(number)).map(|row| Process {
                first: row.number == begins,
                number: row.number.to_owned(),
                name: row.name.to_owned(),
            });
            let rows = listing(app).unwrap_or_default();
            let copies = rows.iter().map(|row| (row.id.clone(), format!("{} {}", row.number, row.title))).collect();
            let machines =
                shop.iter().flat_map(|(_, shop)| &shop.power_sources).map(|own| own.name.to_string()).collect();
            Page {
                base: Base::new(app, "New", "new"),
                processes: processes.collect(),
                positions: pictured(),
                metals: choices("metals", shop.as_ref().map(|(_, shop)| &**shop)),
                machines,
                shop: shop.as_ref().map(|(name, _)| name.clone()),
                number: next_number(app),
                copies,
                data: data(&copy),
            }
        })
        .await?;
    answer(&app, "new.html", &page)
}

/// The facts of a draft, as typed.
#[derive(Debug, Clone, Default, Deserialize)]
#[serde(default)]
struct Asked {
    /// `facts`, `copy` or `empty`.
    from: String,
    process: String,
    metal: String,
    to: String,
    thickness: String,
    joint: String,
    position: String,
    diameter: String,
    leg: String,
    length: String,
    number: String,
    title: String,
    machine: String,
    in_shop: bool,
    copy: String,
}

#[derive(Serialize)]
struct Drafted {
    text: String,
    sheet: String,
    verdict: String,
    findings: Vec<crate::live::Found>,
    /// What cannot be drafted, in words.
    refused: Option<String>,
    /// Each drafted value with where it comes from.
    origins: Vec<(String, String)>,
    name: String,
}

/// Drafts anew for facts; nothing is written.
pub async fn draft(State(app): State<Arc<App>>, body: Bytes) -> Answer {
    let asked: Asked = sent(&body)?;
    Ok(json(&app.work(move |app| drafted(app, &asked)).await?))
}

fn drafted(app: &App, asked: &Asked) -> Drafted {
    let name = asked.number.trim().to_lowercase().replace([' ', '/'], "-");
    match text_of(app, asked) {
        Ok(text) => {
            let below = beside(app, asked).join("new.yaml");
            let live = judge(app, &below, &text, |judged| live(&text, judged));
            let wanted = Wanted {
                kind: if live.sheets == ["lesson"] { Kind::Lesson } else { Kind::BenchCard },
                options: seamwright_page::SheetOptions {
                    units: if live.us {
                        seamwright_model::quantity::UnitSystem::Us
                    } else {
                        seamwright_model::quantity::UnitSystem::Si
                    },
                    ..Default::default()
                },
                ..Wanted::asked(None)
            };
            Drafted {
                sheet: sheet_page(app, &below, &text, wanted, None),
                verdict: live.verdict,
                findings: live.findings,
                refused: live.faults.first().map(|fault| fault.message.clone()),
                origins: Draft { text: text.clone() }.origins(),
                text,
                name,
            }
        }
        Err(words) => Drafted {
            text: String::new(),
            sheet: super::document::no_sheet(&words),
            verdict: String::new(),
            findings: Vec::new(),
            refused: Some(words),
            origins: Vec::new(),
            name,
        },
    }
}

/// The folder in which a new document goes: that of the one that is copied, so that what it names is found.
fn beside(app: &App, asked: &Asked) -> PathBuf {
    let copied = (asked.from == "copy").then(|| app.folder.find(&asked.copy)).flatten();
    copied.and_then(|below| below.parent().map(PathBuf::from)).unwrap_or_default()
}

/// What is drafted, copied or begun.
fn text_of(app: &App, asked: &Asked) -> Result<String, String> {
    let mut ops = Vec::new();
    let mut fill = |at: &str, text: &str| {
        if !text.trim().is_empty() {
            ops.push(Op::Type { at: at.to_owned(), text: text.trim().to_owned() });
        }
    };
    let text = match asked.from.as_str() {
        "copy" => {
            let from = standing(app, &asked.copy).map_err(|_| "choose the document to copy".to_owned())?;
            fill("/identification/number", &asked.number);
            fill("/identification/revision", "1");
            fill("/identification/status", "draft");
            fill("/identification/title", &asked.title);
            from.text
        }
        "empty" => {
            let number = if asked.number.trim().is_empty() { "P-001" } else { asked.number.trim() };
            let title = if asked.title.trim().is_empty() { "Title" } else { asked.title.trim() };
            editors::with_line(&format!(
                "format: 1\ndocument: procedure\nidentification:\n  number: {}\n  revision: 1\n  title: {}\n  status: draft\n",
                quoted(number),
                quoted(title)
            ))
        }
        _ => {
            let length = |text: &str| crate::typed::quantity("length", text, "3 mm");
            let typed = Typed {
                process: asked.process.trim().to_owned(),
                metal: asked.metal.trim().to_owned(),
                to: Some(asked.to.trim().to_owned()).filter(|to| !to.is_empty()),
                thickness: length(&asked.thickness),
                joint: asked.joint.trim().to_owned(),
                position: asked.position.trim().to_owned(),
                diameter: Some(length(&asked.diameter)).filter(|own| !own.is_empty()),
            };
            let shop = asked.in_shop.then(|| shop(app)).flatten().map(|(_, shop)| only_machine(shop, &asked.machine));
            fill("/weld_size/leg", &asked.leg);
            fill("/weld_size/length", &asked.length);
            fill("/identification/title", &asked.title);
            let request = DraftRequest { typed, number: asked.number.clone(), ..DraftRequest::default() };
            draft::procedure(&request, shop.as_deref()).map_err(|refused| refused.to_string())?.text
        }
    };
    let (text, not_taken) = edit::apply(&text, &ops)?;
    match not_taken.first() {
        Some(fault) => Err(fault.message.clone()),
        None => Ok(text),
    }
}

/// The shop with one machine only, where one is named.
fn only_machine(mut shop: Box<Shop>, name: &str) -> Box<Shop> {
    if shop.power_sources.iter().any(|own| *own.name == *name) {
        shop.power_sources.retain(|own| *own.name == *name);
    }
    shop
}

/// Text as a quoted scalar.
fn quoted(text: &str) -> String {
    serde_json::to_string(text).unwrap_or_default()
}

#[derive(Deserialize)]
struct Keep {
    name: String,
    text: String,
    /// The document that it is a copy of.
    #[serde(default)]
    copy: String,
}

#[derive(Serialize)]
struct Kept {
    id: String,
}

/// Writes a new document under a name.
pub async fn keep(State(app): State<Arc<App>>, body: Bytes) -> Answer {
    let keep: Keep = sent(&body)?;
    let id = app
        .work(move |app| {
            let name = app.folder.place_for(&keep.name)?;
            let folder = app.folder.find(&keep.copy).and_then(|below| below.parent().map(PathBuf::from));
            Ok::<_, Refused>(app.create(&folder.unwrap_or_default().join(name), &keep.text)?)
        })
        .await??;
    Ok(json(&Kept { id }))
}
