//! The list of codes.

use seamwright_model::procedure::{CodeName, Procedure};

use super::changed::Classified;
use super::code::Code;
use super::{
    api_1104, asme_ix, aws_d1_1, aws_d1_2, aws_d1_3, aws_d1_6, iso_9606_1, iso_9606_2, iso_15614_1, iso_15614_2,
};

/// Every code, by its word.
pub const CODES: &[&dyn Code] = &[
    &api_1104::Api1104,
    &asme_ix::AsmeIx,
    &aws_d1_1::AwsD11,
    &aws_d1_2::AwsD12,
    &aws_d1_3::AwsD13,
    &aws_d1_6::AwsD16,
    &iso_15614_1::Iso15614,
    &iso_15614_2::Iso15614Aluminium,
    &iso_9606_1::Iso9606,
    &iso_9606_2::Iso9606Aluminium,
];

/// The code with this word; nothing for `none`.
pub fn named(word: &str) -> Option<&'static dyn Code> {
    CODES.iter().copied().find(|code| code.word() == word)
}

/// The code that a document names.
pub fn of(code: CodeName) -> Option<&'static dyn Code> {
    named(code.as_str())
}

/// The code that governs a procedure.
pub fn governing(procedure: &Procedure) -> Option<&'static dyn Code> {
    of(procedure.qualification.as_ref()?.code?)
}

/// A code in words.
pub fn title(code: CodeName) -> &'static str {
    of(code).map_or("no code", Code::title)
}

/// What a change of a key of a procedure means under a code, for a process by its number or letters.
///
/// `key` is a path without indices, such as `parent_metals.thickness`; `settings` stands for processes and runs:
/// `settings.polarity`. The heaviest effect comes first; a key that the code does not name gives nothing, which is an
/// editorial change.
pub fn classify(key: &str, code: CodeName, process: &str, toughness: bool) -> Vec<Classified> {
    let named = |keys: &[&str]| {
        keys.iter().any(|own| *own == key || key.starts_with(&format!("{own}.")) || own.starts_with(&format!("{key}.")))
    };
    let variables = of(code).map(|code| code.variables(process, toughness)).unwrap_or_default();
    let mut found: Vec<Classified> =
        variables.into_iter().filter(|(keys, _)| named(keys)).map(|(_, variable)| variable).collect();
    found.sort_by_key(|one| std::cmp::Reverse(one.effect));
    found
}
