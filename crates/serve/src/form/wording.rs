//! Words of the form: how a value stands in a field, how a key reads as a heading, what a section says of itself.

use seamwright_model::capital::capital;
use serde_json::Value;

use super::Kind;

/// Keys, or words of keys, that are written in capitals.
const SHORT: [&str; 1] = ["ac"];

/// What can be typed into a section of a procedure that no field shows.
pub(super) fn help(key: &str) -> Option<&'static str> {
    Some(match key {
        "joint" => {
            "Several positions have commas between them; all stands for flat, horizontal, vertical and overhead."
        }
        "fillers" => {
            "Each filler has a name that runs refer to. Where any of several may be taken, or stands between them: ER70S-6 or ER70S-3, 3.2 or 4.0 mm."
        }
        "processes" => {
            "What stands here holds for every run of the process. Where any of several may be taken, or stands between them: No. 6 or No. 8."
        }
        "conditions" => {
            "For a procedure that holds for thin and thick parts, or as welded and heat-treated: each condition has a name and states what differs, and a run says which it is for."
        }
        "runs" => {
            "2-4 stands for three runs with the same settings, 3-n for as many as the joint takes. What a run leaves empty it has from its process."
        }
        _ => return None,
    })
}

/// A value as it stands in a field.
pub(super) fn shown(value: &Value, kind: Kind) -> String {
    match value {
        Value::Array(all) => {
            all.iter().map(text).collect::<Vec<_>>().join(if kind == Kind::Lines { "\n" } else { ", " })
        }
        Value::Object(all) => {
            all.iter().map(|(key, value)| format!("{key} {}", text(value))).collect::<Vec<_>>().join(", ")
        }
        other => text(other),
    }
}

/// A single value as text.
pub(super) fn text(value: &Value) -> String {
    match value {
        Value::String(text) => text.clone(),
        Value::Bool(true) => "yes".to_owned(),
        Value::Bool(false) => "no".to_owned(),
        Value::Null => String::new(),
        other => other.to_string(),
    }
}

/// One of what a list holds: `power_sources` is `power source`, `gas_lenses` is `gas lens`.
pub(super) fn singular(key: &str) -> String {
    let words = key.replace('_', " ");
    match words.as_str() {
        "parent metals" => "metal".to_owned(),
        "inspection" => "examination".to_owned(),
        own => {
            let many = ["processes", "gases", "lenses", "torches"].iter().any(|plural| own.ends_with(plural));
            own.strip_suffix(if many { "es" } else { "s" }).unwrap_or(own).to_owned()
        }
    }
}

/// A key as a heading, where no dictionary has a word for it: `rated_points` is `Rated points`, `ac` is `AC`.
pub(super) fn heading(key: &str) -> String {
    let words: Vec<String> =
        key.split('_').map(|word| if SHORT.contains(&word) { word.to_uppercase() } else { word.to_owned() }).collect();
    capital(&words.join(" "))
}
