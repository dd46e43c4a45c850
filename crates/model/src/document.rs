//! The kinds of document that a file may hold. To add one: a variant here, its type, and its schema in [`schema_of`].

use std::sync::OnceLock;

use schemars::generate::SchemaSettings;
use serde_json::{Value, json};

use crate::procedure::Procedure;

/// The version of the file format that this program reads.
pub const FORMAT: u32 = 1;

/// A document as types.
#[derive(Debug, Clone, PartialEq)]
pub enum Document {
    /// A welding procedure.
    Procedure(Box<Procedure>),
}

impl Document {
    /// The word of the `document` key.
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Procedure(_) => "procedure",
        }
    }

    /// The document's number.
    pub fn number(&self) -> &str {
        match self {
            Self::Procedure(procedure) => &procedure.identification.number,
        }
    }
}

/// The words of the `document` key that this program reads.
pub const KINDS: &[&str] = &["procedure"];

/// JSON Schema 2020-12 of the file format, for editors and for validation.
pub fn schema() -> &'static Value {
    static SCHEMA: OnceLock<Value> = OnceLock::new();
    SCHEMA.get_or_init(|| {
        let generator = SchemaSettings::draft2020_12().into_generator();
        let mut value = generator.into_root_schema_for::<Procedure>().to_value();
        without_null(&mut value);
        if let Value::Object(map) = &mut value {
            map.insert("title".into(), json!("A Seamwright document"));
            map.insert(
                "description".into(),
                json!(
                    "A welding procedure in the words of ISO 15609-1, ISO/TR 25901 and AWS A3.0. Every quantity is text with its unit."
                ),
            );
        }
        value
    })
}

/// Takes `null` out of a schema: a key without a value is an error, never a silent default.
fn without_null(value: &mut Value) {
    match value {
        Value::Object(map) => {
            map.remove("default");
            if let Some(Value::Array(types)) = map.get_mut("type") {
                types.retain(|kind| kind != "null");
                if let [only] = types.as_slice() {
                    let only = only.clone();
                    map.insert("type".into(), only);
                }
            }
            if let Some(Value::Array(words)) = map.get_mut("enum") {
                words.retain(|word| !word.is_null());
            }
            if let Some(Value::Array(parts)) = map.get_mut("anyOf") {
                parts.retain(|part| part.get("type").is_none_or(|kind| kind != "null"));
                if let [Value::Object(only)] = parts.as_slice() {
                    let only = only.clone();
                    map.remove("anyOf");
                    for (key, part) in only {
                        map.entry(key).or_insert(part);
                    }
                }
            }
            map.values_mut().for_each(without_null);
        }
        Value::Array(items) => items.iter_mut().for_each(without_null),
        _ => {}
    }
}
