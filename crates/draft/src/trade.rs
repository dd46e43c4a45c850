//! Words of the trade for processes, metals, joints and positions, and what they are taken for.

use seamwright_handbook::designation::{self, Shielding};
use seamwright_handbook::trade_words::{self, Kind};
use seamwright_handbook::{base_metals, positions, processes};
use seamwright_model::procedure::JointType;

fn say(taken: &mut Vec<String>, word: &str, means: &str) {
    let said = format!("`{}` is taken as {means}: state another where it is one", word.trim());
    if !taken.contains(&said) {
        taken.push(said);
    }
}

/// Keeps what the handbook takes a name of the trade for.
pub(crate) fn metal(text: &str, taken: &mut Vec<String>) {
    if base_metals::lookup(text).is_some_and(|found| found.taken.is_some())
        && let Some(row) = base_metals::trade_name(text)
    {
        say(taken, text, row.metal);
    }
}

/// The process for a word of the trade; a self-shielded class makes a flux-cored wire 114.
pub(crate) fn process(text: &str, filler: Option<&str>) -> String {
    let Some(row) = trade_words::get(Kind::Process, text) else { return text.to_owned() };
    let shielding = filler.and_then(|class| designation::parse(class).ok()).and_then(|reads| reads.shielding);
    let own = row.self_shielded.filter(|_| shielding == Some(Shielding::SelfShielded));
    own.unwrap_or(row.means).to_owned()
}

/// Keeps what a word for a process is taken for, where it may mean several.
pub(crate) fn process_taken(text: &str, row: &processes::Row, taken: &mut Vec<String>) {
    let other = processes::get(text).is_none_or(|own| own.number != row.number);
    if other || trade_words::get(Kind::Process, text).is_some() {
        say(taken, text, row.number);
    }
}

/// The joint for a word of the trade.
pub(crate) fn joint(text: &str, taken: &mut Vec<String>) -> String {
    let plain = text.trim().to_lowercase();
    if plain.parse::<JointType>().is_ok() {
        return plain;
    }
    match trade_words::get(Kind::Joint, text) {
        Some(row) => {
            say(taken, text, row.means);
            row.means.to_owned()
        }
        None => text.to_owned(),
    }
}

/// The position for a word of the trade, which depends on the kind of weld.
pub(crate) fn position(text: &str, joint: JointType, taken: &mut Vec<String>) -> String {
    if positions::get(text).is_some() {
        return text.to_owned();
    }
    let kind = if joint == JointType::Butt { Kind::GroovePosition } else { Kind::FilletPosition };
    match trade_words::get(kind, text) {
        Some(row) => {
            say(taken, text, row.means);
            row.means.to_owned()
        }
        None => text.to_owned(),
    }
}
