//! The key or the word that is meant by one that is none of the format: by the trade, or by its spelling.

use serde_json::Value;

use super::place::resolve;
use crate::trade;
use crate::words::begun;

/// What to write in the place of a key that is not known.
pub(super) fn key_hint(root: &'static Value, key: &str, known: &[&'static str]) -> String {
    if key.starts_with(|c: char| c.is_ascii_digit()) {
        return "inside `{}` a comma ends a value: write decimals with a point, such as 2.5 mm".to_owned();
    }
    let trade = KEYS_OF_TRADE.iter().find(|(own, trade)| known.contains(own) && trade.contains(&&*key.to_lowercase()));
    let near = trade.map(|(own, _)| *own).or_else(|| nearest(key, known.iter().copied()));
    if let Some(near) = near {
        return format!("did you mean `{near}`?");
    }
    if resolve(root, root).get("properties").is_some_and(|keys| keys.get(key).is_some()) {
        return format!("`{key}` stands at the top level of the file, not indented");
    }
    let owner = root.get("$defs").and_then(Value::as_object).and_then(|defs| {
        defs.iter().find(|(_, part)| part.get("properties").is_some_and(|keys| keys.get(key).is_some()))
    });
    match owner {
        Some((owner, _)) => format!("`{key}` belongs to another section ({})", spaced(owner)),
        None if known.is_empty() => "leave it out".to_owned(),
        None => format!("the keys here are {}", known.join(", ")),
    }
}

/// `BackingGas` as "backing gas".
fn spaced(name: &str) -> String {
    let mut words = String::new();
    for (index, character) in name.chars().enumerate() {
        if character.is_uppercase() && index > 0 {
            words.push(' ');
        }
        words.extend(character.to_lowercase());
    }
    words
}

/// Words of the trade for keys of the format whose spelling does not come near.
const KEYS_OF_TRADE: &[(&str, &[&str])] = &[
    ("current", &["amps", "amp", "amperes", "amperage"]),
    ("voltage", &["volts", "arc_voltage"]),
    ("runs", &["passes", "pass", "beads"]),
    ("run", &["pass", "bead"]),
    ("parent_metals", &["base_metals", "base_metal", "metals", "materials", "material"]),
    ("fillers", &["consumables", "electrodes", "filler_metals"]),
    ("travel_speed", &["speed", "welding_speed"]),
    ("wire_feed_speed", &["wfs", "wire_feed", "wire_speed"]),
    ("contact_tip_to_work", &["ctwd", "stickout", "stick_out", "standoff"]),
    ("shielding_gas", &["gas"]),
    ("progression", &["direction"]),
    ("power_sources", &["machines", "welding_machines", "welders_machines"]),
    ("nozzles", &["cups"]),
    ("gas_cylinders", &["bottles", "cylinders", "tanks", "gases", "gas"]),
    ("fillers", &["wire", "wires", "rods", "spools", "filler"]),
    ("nozzle", &["cup"]),
    ("count", &["qty", "quantity", "how_many"]),
    ("packages", &["spools", "boxes", "cans", "rolls"]),
    ("package", &["spool", "box", "spool_size"]),
    ("mass", &["weight", "pounds", "lbs"]),
    ("contents", &["size", "volume", "cubic_feet"]),
    ("leg", &["size", "leg_size", "fillet"]),
    ("diameter", &["size"]),
    ("tests", &["certs", "certificates", "qualifications", "tickets"]),
    ("designation", &["gas", "type", "class", "classification", "kind"]),
    ("least_charge", &["minimum", "minimum_charge", "minimum_price"]),
    ("labour", &["shop_rate", "hourly_rate", "rate"]),
    ("mark_up", &["profit"]),
    ("rated_points", &["duty_cycle", "duty"]),
    ("procedure", &["wps"]),
    ("procedure_revision", &["rev", "revision"]),
    ("pieces", &["qty", "quantity", "count"]),
];

/// Words of which none is ever taken for the other by its spelling.
const OPPOSITES: &[[&str; 2]] = &[["DCEN", "DCEP"], ["upward", "downward"], ["first", "second"], ["push", "drag"]];

/// The word of a closed list that a text means: by the trade, else by its spelling where no opposite is as near.
pub(super) fn word_meant<'w>(text: &str, words: &[&'w str]) -> Option<&'w str> {
    let plain = text.trim().to_lowercase();
    if let Some(word) = trade::word_for(text)
        && let Some(own) = words.iter().copied().find(|own| *own == word)
    {
        return Some(own);
    }
    let Some(near) = nearest(text, words.iter().copied()) else { return begun(text, words.iter().copied()) };
    let other = OPPOSITES.iter().find_map(|[one, two]| match near {
        word if word == *one => Some(*two),
        word if word == *two => Some(*one),
        _ => None,
    });
    let Some(other) = other.filter(|other| words.contains(other)) else { return Some(near) };
    let distance = |word: &str| strsim::osa_distance(&plain, &word.to_lowercase());
    (distance(near) <= 1 && distance(other) > distance(near)).then_some(near)
}

/// The nearest of several words, where one is near enough to be meant.
fn nearest<'w>(text: &str, words: impl Iterator<Item = &'w str>) -> Option<&'w str> {
    let text = text.to_lowercase();
    words
        .map(|word| (strsim::jaro_winkler(&text, &word.to_lowercase()), word))
        .filter(|(score, _)| *score > 0.84)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, word)| word)
}

#[cfg(test)]
mod hints {
    use super::word_meant;

    /// A word with a letter left out, put in twice, changed places, or another letter in its place, where the slip is not as
    /// near to another word.
    fn slips(word: &str) -> Vec<String> {
        let letters: Vec<char> = word.chars().collect();
        let mut all = Vec::new();
        for at in 0..letters.len() {
            let mut out = letters.clone();
            out.remove(at);
            all.push(out);
            let mut twice = letters.clone();
            twice.insert(at, letters[at]);
            all.push(twice);
            if at > 0 {
                let mut turned = letters.clone();
                turned.swap(at - 1, at);
                all.push(turned);
            }
            // `DCEP` for `DCEN` is no slip that anybody could see.
            if word != "DCEN" && word != "DCEP" {
                for letter in ['x', 'e', 'p', 'n', 's'] {
                    let mut other = letters.clone();
                    other[at] = letter;
                    all.push(other);
                }
            }
        }
        all.into_iter().map(|letters| letters.into_iter().collect()).collect()
    }

    // AWS A3.0: straight polarity is direct current with the electrode negative, reverse polarity with it positive.
    #[test]
    fn no_hint_means_the_opposite() {
        let polarity = ["DCEN", "DCEP", "AC"];
        for (text, word) in [
            ("DCSP", Some("DCEN")),
            ("DCRP", Some("DCEP")),
            ("straight polarity", Some("DCEN")),
            ("reverse", Some("DCEP")),
            ("DC-", Some("DCEN")),
            ("DC+", Some("DCEP")),
            ("dcen", Some("DCEN")),
            ("DCE", None),
            ("DCEM", None),
            ("DC", None),
            ("minus", Some("DCEN")),
            ("DC electrode positive", Some("DCEP")),
            ("DCPE", Some("DCEP")),
            ("DCNE", Some("DCEN")),
            ("DCES", None),
            ("alternating", Some("AC")),
        ] {
            assert_eq!(word_meant(text, &polarity), word, "{text}");
        }
        let progression = ["upward", "downward"];
        for (text, word) in [
            ("uphill", Some("upward")),
            ("vertical down", Some("downward")),
            ("upwards", Some("upward")),
            ("downwrd", Some("downward")),
            ("vertical up", Some("upward")),
            ("downhand", None),
            ("sideward", None),
            ("ward", None),
        ] {
            assert_eq!(word_meant(text, &progression), word, "{text}");
        }
        // AWS A3.0: forehand welding pushes, backhand welding drags.
        for (text, word) in
            [("forehand", Some("push")), ("backhand", Some("drag")), ("pull", Some("drag")), ("psuh", Some("push"))]
        {
            assert_eq!(word_meant(text, &["push", "drag"]), word, "{text}");
        }
        // No slip of one letter in a word leads to its opposite.
        for [one, other] in super::OPPOSITES {
            for (own, opposite) in [(one, other), (other, one)] {
                for slip in slips(own) {
                    let meant = word_meant(&slip, &[one, other]);
                    assert_ne!(meant, Some(*opposite), "{slip} for {own}");
                }
            }
        }
    }
}
