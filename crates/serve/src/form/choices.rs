//! What can be picked: names from the handbook, and what stands on the shelf of the shop first.

use seamwright_handbook::{base_metals, filler_classes, positions, processes, shielding_gases, tungsten_types};
use seamwright_model::shop::Shop;
use serde::Serialize;
use serde_json::Value;

use crate::row::Row;

/// Something to pick.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Choice {
    /// What is written.
    pub value: String,
    /// What it is, in a few words.
    pub label: String,
}

/// The list of a field.
pub(super) fn list_of(pointer: &str, key: &str) -> Option<&'static str> {
    let under = |part: &str| pointer.contains(part);
    match key {
        "specification" => Some("metals"),
        "metal" if under("/joints/") => Some("metals"),
        "procedure" if under("/joints/") => Some("procedures"),
        "machine" => Some("machines"),
        "welder" if under("/joints/") => Some("welders"),
        "designation" if under("gas/") => Some("gases"),
        "designation" if under("tungsten") => Some("tungstens"),
        "designation" if under("filler") => Some("fillers"),
        "filler" => Some("own-fillers"),
        "condition" => Some("conditions"),
        "positions" | "position" => Some("positions"),
        "process" => Some("processes"),
        _ => None,
    }
}

/// The procedures of the folder that a joint can name.
pub fn procedures(rows: &[Row]) -> Vec<Choice> {
    let named = rows.iter().filter(|row| row.kind == "procedure" && row.status != "superseded");
    named.map(|row| Choice { value: row.number.clone(), label: row.title.clone() }).collect()
}

/// The names that a document gives its own fillers and conditions, which its runs refer to.
pub fn own_names(list: &str, document: &Value) -> Vec<Choice> {
    let key = if list == "conditions" { "conditions" } else { "fillers" };
    let named = document.get(key).and_then(Value::as_object).into_iter().flatten();
    let told = |entry: &Value| {
        let parts = ["designation", "diameter", "thickness", "outside_diameter"].map(|key| entry.get(key)?.as_str());
        parts.into_iter().flatten().collect::<Vec<_>>().join(", ")
    };
    named.map(|(name, entry)| Choice { value: name.clone(), label: told(entry) }).collect()
}

/// The choices of a list; what the shop has stands first.
pub fn choices(list: &str, shop: Option<&Shop>) -> Vec<Choice> {
    let choice = |value: &str, label: &str| Choice { value: value.to_owned(), label: label.to_owned() };
    let mut all: Vec<Choice> = Vec::new();
    let stock = shop.and_then(|shop| shop.stock.as_ref());
    match list {
        "metals" => {
            all.extend(
                stock.into_iter().flat_map(|own| &own.metals).map(|own| choice(&own.specification, "on the shelf")),
            );
            all.extend(base_metals::rows().iter().map(|row| choice(row.specification, &row.family.replace('-', " "))));
        }
        "fillers" => {
            all.extend(
                stock.into_iter().flat_map(|own| &own.fillers).map(|own| choice(&own.designation, "on the shelf")),
            );
            all.extend(
                filler_classes::rows()
                    .iter()
                    .map(|row| choice(row.classification, &row.families.join(", ").replace('-', " "))),
            );
        }
        "gases" => all.extend(shielding_gases::rows().iter().map(|row| choice(row.symbol, row.group))),
        "positions" => {
            for row in positions::rows() {
                all.push(choice(row.code, row.name));
            }
        }
        "processes" => all
            .extend(processes::rows().iter().map(|row| choice(row.number, &format!("{}: {}", row.letters, row.name)))),
        "tungstens" => all.extend(
            tungsten_types::rows().iter().map(|row| choice(row.iso6848, &format!("{}, {}", row.colour, row.oxide))),
        ),
        "machines" => {
            all.extend(shop.into_iter().flat_map(|own| &own.power_sources).map(|own| choice(&own.name, "in the shop")));
        }
        "welders" => all.extend(shop.into_iter().flat_map(|own| &own.welders).map(|own| choice(&own.name, "welder"))),
        _ => {}
    }
    let mut seen = std::collections::BTreeSet::new();
    all.retain(|own| seen.insert(own.value.clone()));
    all
}
