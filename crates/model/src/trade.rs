//! Words of the trade for words of the format whose spelling would lead to their opposite.

use crate::source::{Entry, Node, NodeKind, Scalar, escape};

/// Each word of the format with the words of the trade for it, in small letters.
///
/// AWS A3.0: straight polarity is direct current with the electrode negative, reverse polarity with it positive.
const WORDS: &[(&str, &[&str])] = &[
    (
        "DCEN",
        &[
            "dcsp",
            "dc-",
            "dc -",
            "straight",
            "straight polarity",
            "dc straight",
            "electrode negative",
            "dc electrode negative",
            "negative",
            "minus",
            "-",
            "electrode minus",
        ],
    ),
    (
        "DCEP",
        &[
            "dcrp",
            "dc+",
            "dc +",
            "reverse",
            "reverse polarity",
            "dc reverse",
            "electrode positive",
            "dc electrode positive",
            "positive",
            "plus",
            "+",
            "electrode plus",
        ],
    ),
    ("AC", &["alternating", "alternating current"]),
    ("upward", &["up", "uphill", "vertical up", "vertical-up", "upwards"]),
    // Downhand is the flat position and goes nowhere near down.
    ("downward", &["down", "downhill", "vertical down", "vertical-down", "downwards"]),
    ("push", &["forehand", "leading", "push angle"]),
    ("drag", &["backhand", "pull", "trailing", "drag angle"]),
    // ISO 857-1 (partly mechanized) and AWS A3.0 (semiautomatic: the wire is fed, the torch is held; mechanized: watched and set).
    (
        "partly-mechanized",
        &[
            "partly mechanized",
            "partly mechanised",
            "partly-mechanised",
            "semi-automatic",
            "semiautomatic",
            "semi automatic",
        ],
    ),
    (
        "fully-mechanized",
        &["fully mechanized", "fully mechanised", "fully-mechanised", "mechanized", "mechanised", "machine"],
    ),
    ("automatic", &["robotic", "robot", "fully automatic"]),
    ("high-frequency", &["hf", "high freq", "hf start"]),
    ("foot-pedal", &["pedal", "foot pedal"]),
    ("tee", &["t", "t joint", "t-joint", "tee joint", "fillet", "fillet joint"]),
    ("lap", &["overlap"]),
    ("si", &["metric"]),
    ("us", &["imperial", "inch", "inches"]),
];

/// The key whose words are taken.
const KEY: &str = "polarity";

/// A word of the trade that stands in a document, and the word that it was taken for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Taken {
    /// JSON pointer.
    pub pointer: String,
    /// As it is written.
    pub written: String,
    /// The word of the format.
    pub word: &'static str,
}

/// The word of the format that a word of the trade stands for; case does not matter.
pub fn word_for(text: &str) -> Option<&'static str> {
    let plain = text.trim().to_lowercase();
    WORDS.iter().find(|(_, own)| own.contains(&&*plain)).map(|(word, _)| *word)
}

/// The word that a polarity is taken for where it is written as none of the format.
fn polarity_for(text: &str) -> Option<&'static str> {
    let other_case =
        ["DCEN", "DCEP", "AC"].into_iter().find(|word| *word != text && word.eq_ignore_ascii_case(text.trim()));
    other_case.or_else(|| word_for(text).filter(|word| matches!(*word, "DCEN" | "DCEP")))
}

/// Puts the words of the format in the place of those of the trade for a polarity, and tells each.
pub(crate) fn take(tree: &mut Node) -> Vec<Taken> {
    fn walk(node: &mut Node, pointer: &mut String, of_key: bool, taken: &mut Vec<Taken>) {
        let above = pointer.len();
        match &mut node.kind {
            NodeKind::Scalar(Scalar::Text(text)) if of_key => {
                if let Some(word) = polarity_for(text) {
                    let written = std::mem::replace(text, word.to_owned());
                    taken.push(Taken { pointer: pointer.clone(), written, word });
                }
            }
            NodeKind::Scalar(_) => {}
            NodeKind::List(items) => {
                for (index, item) in items.iter_mut().enumerate() {
                    pointer.push_str(&format!("/{index}"));
                    walk(item, pointer, of_key, taken);
                    pointer.truncate(above);
                }
            }
            NodeKind::Map(entries) => {
                for entry in entries {
                    pointer.push('/');
                    pointer.push_str(&escape(&entry.key));
                    walk(&mut entry.value, pointer, entry.key == KEY, taken);
                    pointer.truncate(above);
                }
            }
        }
    }
    let mut taken = Vec::new();
    walk(tree, &mut String::new(), false, &mut taken);
    taken
}

/// The positions that `all` stands for: of plate or pipe, of grooves or fillets, upward or downward, in the words of ISO or AWS;
/// from the values of a document by their pointers.
fn all_positions(text: impl Fn(&str) -> Option<String>) -> &'static [&'static str] {
    let is = |pointer: &str, word: &str| text(pointer).as_deref() == Some(word);
    let code = text("/qualification/code").or_else(|| text("/code"));
    let kind = text("/joint/type");
    let groove = is("/joint/weld", "groove") || is("/joint/weld", "groove-and-fillet");
    let american = code.is_some_and(|code| code.starts_with("aws-") || matches!(code.as_str(), "asme-ix" | "api-1104"));
    let fillet = !groove && (is("/joint/weld", "fillet") || matches!(kind.as_deref(), Some("tee" | "lap" | "corner")));
    let pipe = text("/parent_metals/0/outside_diameter").is_some();
    let downward = is("/progression", "downward");
    match (american, fillet, pipe, downward) {
        (true, true, ..) => &["1F", "2F", "3F", "4F"],
        (true, false, true, _) => &["6G"],
        (true, false, false, _) => &["1G", "2G", "3G", "4G"],
        (false, true, _, false) => &["PA", "PB", "PF", "PD"],
        (false, true, _, true) => &["PA", "PB", "PG", "PD"],
        (false, false, true, false) => &["H-L045"],
        (false, false, true, true) => &["J-L045"],
        (false, false, false, false) => &["PA", "PC", "PF", "PE"],
        (false, false, false, true) => &["PA", "PC", "PG", "PE"],
    }
}

/// Words that say that no more than the warmth of the room is meant.
pub const AMBIENT: [&str; 4] = ["none", "ambient", "room temperature", "no preheat"];

/// Names of gases in everyday words and other letters, each with its sign.
const GASES: &[(&str, &str)] = &[
    ("ar", "Ar"),
    ("argon", "Ar"),
    ("he", "He"),
    ("helium", "He"),
    ("co2", "CO2"),
    ("carbon dioxide", "CO2"),
    ("o2", "O2"),
    ("oxygen", "O2"),
    ("h2", "H2"),
    ("hydrogen", "H2"),
    ("n2", "N2"),
    ("nitrogen", "N2"),
];

/// Names of elements, each with its sign.
const ELEMENTS: &[(&str, &str)] = &[
    ("carbon", "C"),
    ("silicon", "Si"),
    ("manganese", "Mn"),
    ("phosphorus", "P"),
    ("sulfur", "S"),
    ("sulphur", "S"),
    ("chromium", "Cr"),
    ("nickel", "Ni"),
    ("molybdenum", "Mo"),
    ("vanadium", "V"),
    ("copper", "Cu"),
    ("niobium", "Nb"),
    ("titanium", "Ti"),
    ("aluminium", "Al"),
    ("aluminum", "Al"),
    ("nitrogen", "N"),
    ("boron", "B"),
];

/// Puts the words of the format in the place of other words for a degree of mechanization, which mean the same.
fn mechanization(node: &mut Node, of_key: bool) {
    match &mut node.kind {
        NodeKind::Scalar(Scalar::Text(text)) if of_key => {
            let known = ["manual", "partly-mechanized", "fully-mechanized", "automatic"];
            let plain = text.trim().to_lowercase();
            let meant = known.into_iter().find(|word| *word == plain).or_else(|| word_for(&plain));
            if let Some(word) = meant.filter(|word| known.contains(word)) {
                word.clone_into(text);
            }
        }
        NodeKind::Scalar(_) => {}
        NodeKind::List(items) => items.iter_mut().for_each(|item| mechanization(item, of_key)),
        NodeKind::Map(entries) => {
            for entry in entries {
                mechanization(&mut entry.value, entry.key == "mechanization");
            }
        }
    }
}

/// Puts signs in the place of names, and numbers in that of percentages, in each composition: `argon: 75 %` is `Ar: 75`.
fn compositions(node: &mut Node, of_gas: bool) {
    match &mut node.kind {
        NodeKind::Scalar(_) => {}
        NodeKind::List(items) => items.iter_mut().for_each(|item| compositions(item, of_gas)),
        NodeKind::Map(entries) => {
            for entry in entries {
                match &mut entry.value.kind {
                    NodeKind::Map(parts) if entry.key == "composition" => shares(parts, of_gas),
                    _ => compositions(&mut entry.value, entry.key.contains("gas")),
                }
            }
        }
    }
}

fn shares(parts: &mut [Entry], of_gas: bool) {
    for at in 0..parts.len() {
        let all: Vec<String> = parts.iter().map(|part| part.key.clone()).collect();
        let Some(part) = parts.get_mut(at) else { continue };
        let plain = part.key.trim().to_lowercase();
        let names = if of_gas { GASES } else { ELEMENTS };
        let sign = names.iter().find(|(name, _)| *name == plain).map(|(_, sign)| *sign);
        // Where both stand, nobody knows which holds: the name is told as one that is not known.
        if let Some(sign) = sign.filter(|sign| !all.iter().any(|key| key == sign)) {
            sign.clone_into(&mut part.key);
        }
        let NodeKind::Scalar(Scalar::Text(text)) = &part.value.kind else { continue };
        let figure = text.trim_end_matches("percent").trim_end_matches('%').trim();
        let number = figure.parse::<f64>().ok().filter(|_| figure.starts_with(|own: char| own.is_ascii_digit()));
        if let Some(number) = number.and_then(serde_json::Number::from_f64) {
            part.value.kind = NodeKind::Scalar(Scalar::Number(number, figure.to_owned()));
        }
    }
}

/// Puts the words of the format in the place of others for compositions and mechanization, the positions in that of `all`, and
/// `not applicable` in that of a preheat that is none.
pub(crate) fn settle(tree: &mut Node) {
    let text = |pointer: &str| match tree.at(pointer).map(|own| &own.kind) {
        Some(NodeKind::Scalar(Scalar::Text(text))) => Some(text.clone()),
        _ => None,
    };
    let whole = text("/positions").or_else(|| text("/positions/0").filter(|_| text("/positions/1").is_none()));
    let words = whole.filter(|own| own.eq_ignore_ascii_case("all")).map(|_| all_positions(text));
    compositions(tree, false);
    mechanization(tree, false);
    let NodeKind::Map(entries) = &mut tree.kind else { return };
    for entry in entries {
        match (entry.key.as_str(), words) {
            ("positions", Some(words)) => {
                let (span, style) = (entry.value.span, entry.value.style);
                let item = |word: &&str| Node { span, style, kind: NodeKind::Scalar(Scalar::Text((*word).to_owned())) };
                entry.value.kind = NodeKind::List(words.iter().map(item).collect());
            }
            ("temperatures", _) => settle_preheat(&mut entry.value),
            ("conditions", _) => {
                let NodeKind::Map(conditions) = &mut entry.value.kind else { continue };
                for condition in conditions {
                    let NodeKind::Map(inside) = &mut condition.value.kind else { continue };
                    inside
                        .iter_mut()
                        .filter(|own| own.key == "temperatures")
                        .for_each(|own| settle_preheat(&mut own.value));
                }
            }
            _ => {}
        }
    }
}

/// Puts `not applicable` in the place of a preheat that is none.
fn settle_preheat(temperatures: &mut Node) {
    let NodeKind::Map(inside) = &mut temperatures.kind else { return };
    for own in inside.iter_mut().filter(|own| own.key == "preheating") {
        if let NodeKind::Scalar(Scalar::Text(text)) = &mut own.value.kind
            && AMBIENT.iter().any(|word| text.eq_ignore_ascii_case(word))
        {
            crate::stated::NOT_APPLICABLE.clone_into(text);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::procedure::Polarity;

    fn settled(value: &serde_json::Value) -> serde_json::Value {
        let mut tree = Node::from(value);
        settle(&mut tree);
        tree.to_value()
    }

    #[test]
    fn a_polarity_is_never_taken_for_its_opposite() {
        for (text, word) in [
            ("DCSP", Some(Polarity::Dcen)),
            ("DCRP", Some(Polarity::Dcep)),
            ("dcrp", Some(Polarity::Dcep)),
            ("Straight polarity", Some(Polarity::Dcen)),
            ("reverse", Some(Polarity::Dcep)),
            ("DC-", Some(Polarity::Dcen)),
            ("DC+", Some(Polarity::Dcep)),
            ("electrode positive", Some(Polarity::Dcep)),
            ("dcen", Some(Polarity::Dcen)),
            ("ac", Some(Polarity::Ac)),
            ("DCEN", None),
            ("DC", None),
            ("DCE", None),
            ("DCP", None),
            ("up", None),
        ] {
            assert_eq!(polarity_for(text), word.map(Polarity::as_str), "{text}");
        }
    }

    #[test]
    fn only_a_polarity_is_taken() {
        let value = serde_json::json!({"polarity": ["DCRP", "AC"], "title": "DCRP", "processes": {"141": {"polarity": "DCSP"}}});
        let mut tree = Node::from(&value);
        let taken = take(&mut tree);
        let value = tree.to_value();
        let told: Vec<_> = taken.iter().map(|own| (&*own.pointer, &*own.written, own.word)).collect();
        assert_eq!(told, [("/polarity/0", "DCRP", "DCEP"), ("/processes/141/polarity", "DCSP", "DCEN")]);
        assert_eq!((&value["title"], &value["polarity"][1]), (&"DCRP".into(), &"AC".into()));
    }

    #[test]
    fn a_composition_is_read_by_name_and_with_its_sign() {
        let value = serde_json::json!({
            "processes": {"135": {"shielding_gas": {"composition": {"argon": "75 %", "co2": "25%"}}}},
            "stock": {"gas_cylinders": [{"composition": {"Helium": 25, "AR": "75 percent"}}]},
            "backing_gas": {"composition": {"Nitrogen": "95 %", "H2": 5}},
            "parent_metals": [{"composition": {"carbon": "0.18 %", "Mn": 1.2, "Nitrogen": 0.01}}],
            "fillers": {"rod": {"composition": {"Ar": 1, "argon": "about 2"}}},
        });
        let value = settled(&value);
        let of = |pointer: &str| value.pointer(pointer).unwrap().clone();
        let composition = of("/processes/135/shielding_gas/composition");
        assert_eq!(composition, serde_json::json!({"Ar": 75.0, "CO2": 25.0}));
        assert_eq!(of("/stock/gas_cylinders/0/composition"), serde_json::json!({"He": 25, "Ar": 75.0}));
        assert_eq!(of("/backing_gas/composition"), serde_json::json!({"N2": 95.0, "H2": 5}));
        let steel = of("/parent_metals/0/composition");
        assert_eq!(steel, serde_json::json!({"C": 0.18, "Mn": 1.2, "N": 0.01}));
        // What is not known stays as it was written, to be told.
        assert_eq!(of("/fillers/rod/composition"), serde_json::json!({"Ar": 1, "argon": "about 2"}));
        let both = settled(&serde_json::json!({"shielding_gas": {"composition": {"Ar": 50, "argon": 25}}}));
        assert_eq!(both["shielding_gas"]["composition"]["argon"], 25);
    }

    #[test]
    fn a_degree_of_mechanization_is_read_in_the_words_of_iso_and_aws() {
        for (text, word) in [
            ("partly mechanized", "partly-mechanized"),
            ("Semi-automatic", "partly-mechanized"),
            ("semiautomatic", "partly-mechanized"),
            ("Partly-Mechanised", "partly-mechanized"),
            ("machine", "fully-mechanized"),
            ("robotic", "automatic"),
            ("Manual", "manual"),
            ("half", "half"),
        ] {
            let own = serde_json::json!({"title": text, "processes": {"135": {"mechanization": text}}});
            let read = settled(&own);
            assert_eq!((&read["title"], &read["processes"]["135"]["mechanization"]), (&text.into(), &word.into()));
        }
    }

    #[test]
    fn all_positions_are_those_of_the_weld_and_no_preheat_does_not_apply() {
        let of = |joint: &str, more: serde_json::Value| {
            let mut value = serde_json::json!({"joint": {"type": joint}, "positions": "all", "temperatures": {"preheating": "ambient"}});
            if let (Some(map), serde_json::Value::Object(more)) = (value.as_object_mut(), more) {
                map.extend(more);
            }
            let value = settled(&value);
            assert_eq!(value["temperatures"]["preheating"], "not applicable");
            value["positions"].clone()
        };
        let none = || serde_json::json!({});
        assert_eq!(of("butt", none()), serde_json::json!(["PA", "PC", "PF", "PE"]));
        assert_eq!(of("tee", none()), serde_json::json!(["PA", "PB", "PF", "PD"]));
        assert_eq!(
            of("butt", serde_json::json!({"progression": "downward"})),
            serde_json::json!(["PA", "PC", "PG", "PE"])
        );
        let code = serde_json::json!({"qualification": {"code": "aws-d1.1"}});
        assert_eq!(of("tee", code), serde_json::json!(["1F", "2F", "3F", "4F"]));
        let pipe = serde_json::json!({"parent_metals": [{"outside_diameter": "60 mm"}]});
        assert_eq!(of("butt", pipe), serde_json::json!(["H-L045"]));
        let value = serde_json::json!({"positions": ["PA", "all"], "temperatures": {"preheating": "100 °C"}});
        assert_eq!(settled(&value), value);
    }
}
