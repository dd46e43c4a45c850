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
                    let words: Vec<&str> = Self::ALL.iter().map(|word| word.as_str()).collect();
                    let meant = $crate::words::begun(text, words.iter().copied());
                    format!(
                        concat!("`{}` is not a word for ", $what, "; {}the words are {}"),
                        text,
                        meant.map(|word| format!("write `{word}`; ")).unwrap_or_default(),
                        words.join(", ")
                    )
                })
            }
        }

        $crate::words::spoken!($name, {
            let words: Vec<&str> = Self::ALL.iter().map(|word| word.as_str()).collect();
            let meanings: Vec<&str> = Self::ALL.iter().map(|word| word.meaning().trim()).collect();
            schemars::json_schema!({"type": "string", "enum": words, "enumDescriptions": meanings})
        });
    };
}

/// Declares a type that is written as it is printed and read as it is parsed, with its JSON Schema.
macro_rules! spoken {
    ($name:ident, $schema:expr) => {
        impl serde::Serialize for $name {
            fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                serializer.collect_str(self)
            }
        }

        impl<'de> serde::Deserialize<'de> for $name {
            fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
                let text = std::borrow::Cow::<'de, str>::deserialize(deserializer)?;
                text.parse().map_err(serde::de::Error::custom)
            }
        }

        $crate::words::inline_schema!($name, stringify!($name), $schema);
    };
}

/// Declares the JSON Schema of a type, by its name there, that stands wherever the type is used.
macro_rules! inline_schema {
    ($type:ty $(where $generic:ident: $bound:path)?, $name:expr, |$generator:tt| $schema:expr) => {
        impl $(<$generic: $bound>)? schemars::JsonSchema for $type {
            fn inline_schema() -> bool {
                true
            }
            fn schema_name() -> std::borrow::Cow<'static, str> {
                $name.into()
            }
            fn json_schema($generator: &mut schemars::SchemaGenerator) -> schemars::Schema {
                $schema
            }
        }
    };
    ($type:ty $(where $generic:ident: $bound:path)?, $name:expr, $schema:expr) => {
        $crate::words::inline_schema!($type $(where $generic: $bound)?, $name, |_| $schema);
    };
}

/// The one word that begins with a text, or has a part that does, whatever stands between letters: `d1.1` for `aws-d1.1`.
pub(crate) fn begun<'w>(text: &str, words: impl Iterator<Item = &'w str>) -> Option<&'w str> {
    let plain = |text: &str| text.chars().filter(char::is_ascii_alphanumeric).collect::<String>().to_ascii_lowercase();
    let text = plain(text);
    if text.len() < 3 {
        return None;
    }
    let begins = |word: &&str| {
        let parts = word.match_indices('-').filter_map(|(at, _)| word.get(at + 1..));
        std::iter::once(*word).chain(parts).any(|part| plain(part).starts_with(&text))
    };
    let mut meant = words.filter(begins);
    meant.next().filter(|_| meant.next().is_none())
}

/// Declares the schema of the `document` key: the one word of a kind of document.
macro_rules! document_word {
    ($name:ident, $word:literal) => {
        struct $name;
        $crate::words::inline_schema!($name, stringify!($name), schemars::json_schema!({"const": $word}));
    };
}

pub(crate) use {document_word, inline_schema, spoken, words};

#[cfg(test)]
mod tests {
    use super::begun;

    #[test]
    fn a_part_of_one_word_alone_is_enough() {
        let codes = ["none", "iso-15614-1", "asme-ix", "aws-d1.1"];
        for (text, word) in [
            ("d1.1", Some("aws-d1.1")),
            ("D1.1", Some("aws-d1.1")),
            ("AWS", Some("aws-d1.1")),
            ("iso15614", Some("iso-15614-1")),
            ("15614", Some("iso-15614-1")),
            ("asme", Some("asme-ix")),
            ("as", None),
            ("ped", None),
            ("d1.2", None),
            ("", None),
        ] {
            assert_eq!(begun(text, codes.into_iter()), word, "{text}");
        }
        assert_eq!(begun("DCE", ["DCEN", "DCEP"].into_iter()), None);
    }
}
