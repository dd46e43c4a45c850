//! What was typed, as requests for sheets.

use anyhow::{Result, bail};
use seamwright_desk::sheets::SheetRequest;
use seamwright_page::words::Language;
use seamwright_page::{Kind, SheetOptions};

use crate::args::RenderArgs;

/// What was typed as requests for sheets, one for each language.
///
/// Errors: a kind that is typed and that none of the languages has.
pub(super) fn requests(args: &RenderArgs) -> Result<Vec<SheetRequest>> {
    let (languages, typed) = (once(&args.language), once(&args.sheet));
    let lacks = |kind: &&Kind| !kind.languages().iter().any(|language| languages.contains(language));
    if let (Some(kind), Some(language)) = (typed.iter().find(lacks), languages.first()) {
        bail!(
            "--language {}: a {} sheet is made in English only; {} has bench cards and lessons: write `--sheet bench-card` or `--sheet lesson`",
            language.tag(),
            kind.name(),
            language.name()
        );
    }
    let of = |language: Language| {
        let kinds = match language {
            _ if !typed.is_empty() => typed.clone(),
            Language::En => vec![Kind::Procedure, Kind::Lesson],
            _ => vec![Kind::BenchCard, Kind::Lesson],
        };
        let kinds = kinds.into_iter().filter(|kind| kind.languages().contains(&language)).collect();
        request(args, kinds, language)
    };
    Ok(languages.into_iter().map(of).filter(|request| !request.kinds.is_empty()).collect())
}

fn request(args: &RenderArgs, kinds: Vec<Kind>, language: Language) -> SheetRequest {
    SheetRequest {
        kinds,
        options: SheetOptions {
            units: args.units,
            terms: args.terms,
            annex: args.annex,
            language,
            ..SheetOptions::default()
        },
        paper: args.paper,
        length: args.length.clone(),
    }
}

/// Each once, in the order in which they were typed.
fn once<T: Copy + PartialEq>(typed: &[T]) -> Vec<T> {
    let mut all = Vec::new();
    for own in typed {
        if !all.contains(own) {
            all.push(*own);
        }
    }
    all
}
