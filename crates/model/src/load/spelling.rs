//! Identifiers keep their spelling: `number: 4.10` is text and not the number 4.1, wherever a text is meant.

use serde_json::{Number, Value, json};

use super::place::schema_at;
use super::schema::kind_of;
use crate::document::schema_of;
use crate::source::{Node, NodeKind, Scalar, escape};

/// The tree with numbers as they are spelled where their place takes a text.
///
/// Only spellings that a number would lose are looked up: `4.10`, `1.0`, `-0`.
pub(super) fn kept(mut tree: Node) -> Node {
    if !any(&tree) {
        return tree;
    }
    let mut places = Vec::new();
    collect(&tree, "", &mut places);
    let root = schema_of(kind_of(&json!({"document": tree.at("/document").map(Node::to_value)})));
    for place in places {
        if schema_at(root, &place).is_some_and(takes_text)
            && let Some(node) = tree.at_mut(&place)
            && let NodeKind::Scalar(Scalar::Number(_, spelled)) = &mut node.kind
        {
            node.kind = NodeKind::Scalar(Scalar::Text(std::mem::take(spelled)));
        }
    }
    tree
}

/// Whether a number would lose its spelling.
fn any(node: &Node) -> bool {
    match &node.kind {
        NodeKind::Scalar(Scalar::Number(number, spelled)) => !as_printed(number, spelled),
        NodeKind::Scalar(_) => false,
        NodeKind::List(items) => items.iter().any(any),
        NodeKind::Map(entries) => entries.iter().any(|entry| any(&entry.value)),
    }
}

/// Whether a schema takes text and numbers alike.
fn takes_text(schema: &Value) -> bool {
    schema.get("type").and_then(Value::as_array).is_some_and(|types| types.iter().any(|own| own == "string"))
}

/// Whether a number is written as it would be printed.
fn as_printed(number: &Number, spelled: &str) -> bool {
    match number.as_f64().filter(|_| number.is_f64()) {
        Some(value) => value.to_string() == spelled,
        None => number.to_string() == spelled,
    }
}

/// The places of numbers that would lose their spelling.
fn collect(node: &Node, pointer: &str, places: &mut Vec<String>) {
    match &node.kind {
        NodeKind::Scalar(Scalar::Number(number, spelled)) if !as_printed(number, spelled) => {
            places.push(pointer.to_owned());
        }
        NodeKind::Scalar(_) => {}
        NodeKind::List(items) => {
            for (index, item) in items.iter().enumerate() {
                collect(item, &format!("{pointer}/{index}"), places);
            }
        }
        NodeKind::Map(entries) => {
            for entry in entries {
                collect(&entry.value, &format!("{pointer}/{}", escape(&entry.key)), places);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::document::Document;
    use crate::load::load;
    use crate::source::{NodeKind, Scalar, hidden};

    fn with(lines: &str) -> Result<crate::Loaded, Vec<String>> {
        let text = format!(
            "format: 1\ndocument: procedure\n{lines}parent_metals: [{{specification: S235JR, thickness: 3 mm}}]\n\
             joint: {{type: butt}}\n"
        );
        load("p.yaml", text.as_bytes())
            .map_err(|(_, faults)| faults.into_iter().map(|fault| fault.message).collect::<Vec<_>>())
    }

    #[test]
    fn identifiers_keep_their_spelling() {
        let head = "identification: {number: 4.10, revision: 1.0, title: t}\nqualification: {route: test-record, records: [9.10, 9.1, 7]}\n";
        let loaded = with(head).unwrap();
        let Document::Procedure(own) = &loaded.document else { panic!("a procedure") };
        assert_eq!((&*own.identification.number, &*own.identification.revision), ("4.10", "1.0"));
        let records: Vec<&str> = own.qualification.as_ref().unwrap().records.iter().map(|record| &**record).collect();
        assert_eq!(records, ["9.10", "9.1", "7"]);
        let node = loaded.tree.at("/identification/number").unwrap();
        assert!(matches!(&node.kind, NodeKind::Scalar(Scalar::Text(text)) if text == "4.10"));
    }

    #[test]
    fn numbers_stay_numbers_where_no_text_is_meant() {
        let head = "identification: {number: P, revision: 1, title: t}\ndeviations: 1.0\n";
        let faults = with(head).unwrap_err();
        assert!(faults.iter().any(|fault| fault.contains("a list is meant")), "{faults:?}");
        let metal = "format: 1\ndocument: procedure\nidentification: {number: P, revision: 1, title: t}\n\
                     parent_metals: [{specification: S235JR, thickness: 3 mm, composition: {C: 0.10, Mn: 1.0}}]\n\
                     joint: {type: butt}\n";
        let loaded = load("p.yaml", metal.as_bytes()).map_err(|(_, faults)| faults).unwrap();
        let Document::Procedure(own) = &loaded.document else { panic!("a procedure") };
        let shares: Vec<f64> =
            own.parent_metals[0].composition.as_ref().unwrap().iter().map(|(_, share)| share).collect();
        assert_eq!(shares, [0.1, 1.0]);
    }

    #[test]
    fn what_a_reader_does_not_see_is_refused_in_texts() {
        for character in ['\u{34F}', '\u{2800}', '\u{FFFC}', '\u{9B}', '\u{AD}', '\u{200B}', '\u{E0041}', '\u{FE0F}'] {
            assert!(hidden(character));
            let faults =
                with(&format!("identification: {{number: P, revision: 1, title: a{character}b}}\n")).unwrap_err();
            let code = format!("U+{:04X}", u32::from(character));
            assert!(faults.iter().any(|fault| fault.contains(&code)), "{code}: {faults:?}");
        }
        assert!(!"Nähte °±×Ωж\u{a0}".chars().any(hidden));
    }
}
