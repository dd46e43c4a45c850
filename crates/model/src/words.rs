//! Closed lists of words: each word of the format once, with what it means.

/// Declares an enum whose variants are words of the file format.
///
/// Gives `ALL`, `as_str`, `meaning`, `Display`, serde in both directions and a JSON Schema that lists the words.
macro_rules! words {
    ($(#[$doc:meta])* $name:ident, $what:literal { $($(#[doc = $meaning:literal])+ $variant:ident = $word:literal,)+ }) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum $name { $($(#[doc = $meaning])+ $variant,)+ }

        impl $name {
            /// Every word.
            pub const ALL: &'static [Self] = &[$(Self::$variant,)+];

            /// The word as it stands in a file.
            pub const fn as_str(self) -> &'static str {
                match self { $(Self::$variant => $word,)+ }
            }

            /// What the word means, in one sentence.
            pub const fn meaning(self) -> &'static str {
                match self { $(Self::$variant => concat!($($meaning),+),)+ }
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.pad(self.as_str())
            }
        }

        impl std::str::FromStr for $name {
            type Err = String;
            fn from_str(text: &str) -> Result<Self, String> {
                Self::ALL.iter().copied().find(|word| word.as_str() == text).ok_or_else(|| {
                    format!(
                        concat!("`{}` is not a word for ", $what, "; the words are {}"),
                        text,
                        Self::ALL.iter().map(|word| word.as_str()).collect::<Vec<_>>().join(", ")
                    )
                })
            }
        }

        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.serialize_str(self.as_str())
            }
        }

        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let text = std::borrow::Cow::<'de, str>::deserialize(deserializer)?;
                text.parse().map_err(serde::de::Error::custom)
            }
        }

        impl schemars::JsonSchema for $name {
            fn inline_schema() -> bool {
                true
            }
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }
            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                let words: Vec<&str> = Self::ALL.iter().map(|word| word.as_str()).collect();
                let meanings: Vec<&str> = Self::ALL.iter().map(|word| word.meaning().trim()).collect();
                schemars::json_schema!({"type": "string", "enum": words, "enumDescriptions": meanings})
            }
        }
    };
}

/// Declares the schema of the `document` key: the one word of a kind of document.
macro_rules! document_word {
    ($name:ident, $word:literal) => {
        struct $name;

        impl schemars::JsonSchema for $name {
            fn inline_schema() -> bool {
                true
            }
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }
            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                schemars::json_schema!({"const": $word})
            }
        }
    };
}

pub(crate) use {document_word, words};
