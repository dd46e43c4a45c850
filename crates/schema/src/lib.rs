//! A JSON Schema compiled, and what it refuses. Knows no document.
//!
//! The library behind it is generic: what uses it compiles it once more. It is used here and nowhere else.
//!
//! ```
//! use seamwright_schema::Schema;
//! use serde_json::json;
//!
//! let even = |text: &str| text.len() % 2 == 0;
//! let schema = json!({"type": "string", "format": "even"});
//! let schema = Schema::compiled(&schema, vec![("even", Box::new(even))]).unwrap();
//! assert!(schema.is_valid(&json!("ab")));
//! assert_eq!(schema.iter_errors(&json!("abc")).count(), 1);
//! ```

use jsonschema::Validator;
use serde_json::Value;

pub use jsonschema::error::{TypeKind, ValidationErrorKind};
pub use jsonschema::{JsonType, ValidationError};

/// Whether a text has a format.
pub type Format = Box<dyn Fn(&str) -> bool + Send + Sync>;

/// A schema of draft 2020-12, compiled.
#[derive(Debug)]
pub struct Schema(Validator);

impl Schema {
    /// Compiles a schema with the formats that it names beside those of the draft; nothing is fetched.
    ///
    /// `Err` says in words what is wrong with the schema.
    pub fn compiled(schema: &Value, formats: Vec<(&'static str, Format)>) -> Result<Self, String> {
        let mut options = jsonschema::draft202012::options().should_validate_formats(true).offline();
        for (name, format) in formats {
            options = options.with_format(name, format);
        }
        options.build(schema).map(Self).map_err(|error| error.to_string())
    }

    /// Whether a value is what the schema asks for.
    pub fn is_valid(&self, value: &Value) -> bool {
        self.0.is_valid(value)
    }

    /// All that it refuses of a value.
    pub fn iter_errors<'v>(&'v self, value: &'v Value) -> Box<dyn Iterator<Item = ValidationError<'v>> + 'v> {
        Box::new(self.0.iter_errors(value))
    }
}
