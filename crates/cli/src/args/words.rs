//! Words that stand for values of the core.

use std::str::FromStr;

use clap::builder::{PossibleValue, PossibleValuesParser, TypedValueParser};
use seamwright_desk::calc::{ferrite, hardness, preheat};
use seamwright_handbook::trade_words;
use seamwright_handbook::variables::Terms;
use seamwright_model::procedure::JointType;
use seamwright_model::quantity::{Length, ParseError, ParseErrorKind, Range, UnitSystem};
use seamwright_page::Kind;
use seamwright_page::pdf::Paper;
use seamwright_page::words::Language;

/// A word of the format in large or small letters, with spaces or hyphens, also as "plug weld", "tee joint" or "T".
pub(super) fn word<T: FromStr<Err = String>>(typed: &str) -> Result<T, String> {
    typed.parse().or_else(|refused| {
        let plain = typed.trim().to_ascii_lowercase().replace([' ', '_'], "-");
        let bare = ["-joint", "-weld"].iter().find_map(|end| plain.strip_suffix(end)).unwrap_or(&plain);
        if bare == "t" { "tee" } else { bare }.parse().map_err(|_| refused)
    })
}

/// A kind of joint by its word or by a word of the trade.
pub(super) fn joint(typed: &str) -> Result<JointType, String> {
    let of_trade =
        |refused| trade_words::get(trade_words::Kind::Joint, typed).map_or(Err(refused), |row| row.means.parse());
    word(typed).or_else(of_trade)
}

/// A length of weld: of a bare number nobody knows whether it is of metres or of feet.
pub(super) fn length_of_weld(typed: &str) -> Result<Range<Length>, String> {
    typed.parse().map_err(|error: ParseError| match error.kind() {
        ParseErrorKind::MissingUnit => format!("{}; write `{typed} m` or `{typed} ft`", error.message()),
        _ => error.to_string(),
    })
}

/// A word and what it means.
fn own(word: &'static str, help: &'static str) -> PossibleValue {
    PossibleValue::new(word).help(help)
}

/// A parser of a few words, each with what it stands for.
fn one_of<T, const N: usize>(words: [(PossibleValue, T); N]) -> impl TypedValueParser<Value = T>
where
    T: Copy + Send + Sync + 'static,
{
    PossibleValuesParser::new(words.clone().map(|(word, _)| word)).try_map(move |typed| {
        words.iter().find(|(word, _)| word.matches(&typed, true)).map(|(_, value)| *value).ok_or("no such word")
    })
}

/// Kinds of sheet.
pub(super) fn kinds() -> impl TypedValueParser<Value = Kind> {
    one_of(Kind::ALL.map(|kind| (own(kind.name(), kind.help()), kind)))
}

/// Whose words a sheet uses.
pub(super) fn terms() -> impl TypedValueParser<Value = Terms> {
    one_of([
        (own("iso", "ISO 15609-1, ISO/TR 25901, symbols of ISO 2553"), Terms::Iso),
        (own("aws", "AWS A3.0, symbols of AWS A2.4"), Terms::Aws),
    ])
}

/// Languages of sheets.
pub(super) fn languages() -> impl TypedValueParser<Value = Language> {
    one_of([
        (own("en", "English"), Language::En),
        (own("es", "Spanish"), Language::Es),
        (own("de", "German"), Language::De),
    ])
}

/// Units on sheets.
pub(super) fn units() -> impl TypedValueParser<Value = UnitSystem> {
    one_of([
        (own("si", "SI units").alias("metric"), UnitSystem::Si),
        (own("us", "US units").aliases(["imperial", "inch", "inches"]), UnitSystem::Us),
        (own("both", "SI units with US units in brackets"), UnitSystem::Both),
    ])
}

/// Sizes of paper.
pub(super) fn papers() -> impl TypedValueParser<Value = Paper> {
    one_of([(own("a4", "210 by 297 mm"), Paper::A4), (own("letter", "8 1/2 by 11 in"), Paper::Letter)])
}

/// Diagrams of `calc ferrite`.
pub(super) fn ferrite() -> impl TypedValueParser<Value = ferrite::Method> {
    one_of([
        (own("wrc-1992", "WRC-1992, with the ferrite number"), ferrite::Method::Wrc1992),
        (own("schaeffler", "Schaeffler 1949: equivalents only"), ferrite::Method::Schaeffler),
        (own("delong", "`DeLong` 1973: equivalents only"), ferrite::Method::Delong),
    ])
}

/// Formulas of `calc hardness`.
pub(super) fn hardness() -> impl TypedValueParser<Value = hardness::Method> {
    one_of([
        (own("yurioka", "Between martensite and bainite, after Yurioka"), hardness::Method::Yurioka),
        (own("lorenz-duren", "Line pipe steels, after Lorenz and Düren"), hardness::Method::LorenzDuren),
    ])
}

/// Methods of `calc preheat`.
pub(super) fn preheat() -> impl TypedValueParser<Value = preheat::Method> {
    use preheat::Method::{En10112A, En10112B, HydrogenControl, Table};
    let hydrogen = "AWS D1.1 annex, hydrogen control: by Pcm, hydrogen level, restraint and thickness";
    let combined = "EN 1011-2 method A: whether a combined thickness needs preheat, by CE, hydrogen and heat input";
    one_of([
        (own("en-1011-2-b", "EN 1011-2 method B: by CET, thickness, hydrogen and heat input"), En10112B),
        (own("en-1011-2-a", combined), En10112A),
        (own("aws-d1.1-hydrogen-control", hydrogen), HydrogenControl),
        (own("aws-d1.1-table", "AWS D1.1 Table 5.8: by category of the steel and process, and thickness"), Table),
    ])
}
