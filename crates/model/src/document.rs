//! The kinds of document that a file may hold. To add one: a variant of [`Document`], its type, and its line in each
//! `match` below and in [`schema_of`].

use std::sync::OnceLock;

use schemars::generate::SchemaSettings;
use schemars::{JsonSchema, SchemaGenerator};
use serde::de::DeserializeOwned;
use serde_json::{Map, Value, json};

pub use crate::format::FORMAT;
use crate::job::Job;
use crate::lesson::Lesson;
use crate::procedure::{Deviation, Identification, Procedure};
use crate::shop::Shop;
use crate::test_record::TestRecord;
use crate::trade::Taken;

/// A document as types.
#[derive(Debug, Clone, PartialEq)]
pub enum Document {
    /// A welding procedure.
    Procedure(Box<Procedure>),
    /// A test record.
    TestRecord(Box<TestRecord>),
    /// A shop.
    Shop(Box<Shop>),
    /// A lesson.
    Lesson(Box<Lesson>),
    /// A job.
    Job(Box<Job>),
}

impl Document {
    /// The word of the `document` key.
    pub fn kind(&self) -> &'static str {
        match self {
            Self::Procedure(_) => "procedure",
            Self::TestRecord(_) => "test-record",
            Self::Shop(_) => "shop",
            Self::Lesson(_) => "lesson",
            Self::Job(_) => "job",
        }
    }

    /// Number, revision, title and people.
    pub fn identification(&self) -> &Identification {
        match self {
            Self::Procedure(procedure) => &procedure.identification,
            Self::TestRecord(record) => &record.identification,
            Self::Shop(shop) => &shop.identification,
            Self::Lesson(lesson) => &lesson.identification,
            Self::Job(job) => &job.identification,
        }
    }

    /// The document's number.
    pub fn number(&self) -> &str {
        &self.identification().number
    }

    /// Findings accepted for a stated reason.
    pub fn deviations(&self) -> &[Deviation] {
        match self {
            Self::Procedure(procedure) => &procedure.deviations,
            Self::TestRecord(record) => &record.deviations,
            Self::Shop(shop) => &shop.deviations,
            Self::Lesson(lesson) => &lesson.deviations,
            Self::Job(job) => &job.deviations,
        }
    }

    /// Keeps which words of the trade were taken for words of the format, where the kind of document has any.
    pub(crate) fn note(&mut self, taken: Vec<Taken>) {
        match self {
            Self::Procedure(procedure) => procedure.taken = taken,
            Self::TestRecord(record) => record.taken = taken,
            Self::Shop(shop) => shop.taken = taken,
            Self::Lesson(_) | Self::Job(_) => {}
        }
    }

    /// Reads plain values as the kind of document with this word; `Err` is the first refusal of the types.
    pub(crate) fn read(kind: &str, value: &Value) -> Result<Self, String> {
        fn typed<T: DeserializeOwned>(value: &Value) -> Result<Box<T>, String> {
            T::deserialize(value).map(Box::new).map_err(|error| error.to_string())
        }
        match kind {
            "test-record" => typed(value).map(Self::TestRecord),
            "shop" => typed(value).map(Self::Shop),
            "lesson" => typed(value).map(Self::Lesson),
            "job" => typed(value).map(Self::Job),
            _ => typed(value).map(Self::Procedure),
        }
    }
}

/// The words of the `document` key that this program reads.
pub const KINDS: &[&str] = &["procedure", "test-record", "shop", "lesson", "job"];

/// The schema of a kind in `$defs`, by its word.
fn part_of(kind: &str, generator: &mut SchemaGenerator) -> Value {
    fn part<T: JsonSchema>(generator: &mut SchemaGenerator) -> Value {
        generator.subschema_for::<T>().to_value()
    }
    match kind {
        "test-record" => part::<TestRecord>(generator),
        "shop" => part::<Shop>(generator),
        "lesson" => part::<Lesson>(generator),
        "job" => part::<Job>(generator),
        _ => part::<Procedure>(generator),
    }
}

/// JSON Schema 2020-12 of the file format, for editors and for validation: each kind of document has its keys.
pub fn schema() -> &'static Value {
    static SCHEMA: OnceLock<Value> = OnceLock::new();
    SCHEMA.get_or_init(|| {
        let mut generator = SchemaSettings::draft2020_12().into_generator();
        let kinds: Vec<Value> = KINDS
            .iter()
            .map(|kind| {
                let meant = json!({"properties": {"document": {"const": kind}}, "required": ["document"]});
                json!({"if": meant, "then": part_of(kind, &mut generator)})
            })
            .collect();
        let mut value = json!({
            "$schema": "https://json-schema.org/draft/2020-12/schema",
            "title": "A Seamwright document",
            "description": "A welding procedure, test record, shop, lesson or job in the words of ISO 15609-1, ISO/TR 25901 and AWS A3.0. Every quantity is text with its unit.",
            "type": "object",
            "required": ["format", "document"],
            "properties": {"format": {"const": FORMAT}, "document": {"enum": KINDS}},
            "allOf": kinds,
            "$defs": generator.take_definitions(true),
        });
        without_null(&mut value);
        value
    })
}

/// JSON Schema of one kind of document, by its word; of the procedure for a word that is none.
pub fn schema_of(kind: &str) -> &'static Value {
    static SCHEMAS: OnceLock<Map<String, Value>> = OnceLock::new();
    let schemas = SCHEMAS.get_or_init(|| {
        KINDS
            .iter()
            .map(|kind| {
                let mut generator = SchemaSettings::draft2020_12().into_generator();
                let mut value = part_of(kind, &mut generator);
                if let Value::Object(map) = &mut value {
                    map.insert("$defs".to_owned(), Value::Object(generator.take_definitions(true)));
                }
                without_null(&mut value);
                ((*kind).to_owned(), value)
            })
            .collect()
    });
    schemas.get(kind).or_else(|| schemas.get("procedure")).unwrap_or_else(|| schema())
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
