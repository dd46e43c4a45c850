//! What test records qualify under their code, and what the welders of shops are qualified for.

use seamwright_check::codes::{self, Bounds, Qualification, Qualified, welders};
use seamwright_model::document::Document;
use seamwright_model::procedure::CodeName;
use seamwright_model::shop::{Shop, WelderCode};
use serde_json::{Map, Value, json};

use crate::companions;
use crate::files::{self, Files, Input};
use crate::report::{Refused, Report};

/// The ranges of test records, or of welders.
pub enum Ranges {
    /// Of test records under one code.
    Records {
        /// Their code.
        code: CodeName,
        /// The edition that the tables are of.
        edition: String,
        /// What they qualify together; nothing of a record with a test that failed.
        ranges: Vec<Qualified>,
        /// Why records qualify nothing, in words, each with its number.
        nothing: Vec<String>,
    },
    /// Of the welders of shops.
    Welders {
        /// The shops.
        shops: Vec<Box<Shop>>,
        /// The only code that is asked for, where one is.
        code: Option<WelderCode>,
    },
}

/// The ranges of the named documents: test records, or shops, under a code that is named or under their own.
pub fn ranges(files: &dyn Files, inputs: Vec<Input>, code: Option<&str>) -> Result<Ranges, Refused> {
    let mut failed = Vec::new();
    let mut shops = Vec::new();
    let mut records = Vec::new();
    for input in inputs {
        match files::read(files, &input) {
            Ok(loaded) => match loaded.document {
                Document::Shop(shop) => shops.push(shop),
                _ => records.push((input, loaded)),
            },
            Err(unread) => failed.push(Report::unread(input, unread)),
        }
    }
    let words = |words: &str| Refused::Words(words.to_owned());
    if !shops.is_empty() && !records.is_empty() {
        return Err(words("name either test records or shops: their ranges belong to different codes"));
    }
    if !shops.is_empty() && failed.is_empty() {
        let code: Option<WelderCode> = code.map(str::parse).transpose().map_err(Refused::Words)?;
        let ranges = Ranges::Welders { shops, code };
        if ranges.covers().is_empty() {
            let named = code.map_or_else(String::new, |code| format!(" of {code}"));
            return Err(Refused::Words(format!("no welder of the shop has a test{named}")));
        }
        return Ok(ranges);
    }
    let code: Option<CodeName> = code.map(str::parse).transpose().map_err(Refused::Words)?;
    let mut found: Vec<Qualification> = Vec::new();
    for (input, loaded) in records {
        match companions::tested(&loaded, code) {
            Ok(tested) => found.push(tested.qualification),
            Err(unread) => failed.push(Report::unread(input, unread)),
        }
    }
    if !failed.is_empty() {
        return Err(Refused::Unread(failed));
    }
    let first = found.first().ok_or_else(|| words("name a test record or a shop"))?;
    if let Some(other) = found.iter().find(|other| other.code != first.code) {
        return Err(Refused::Words(format!(
            "the records are under {} and {}; ranges of two codes do not combine",
            codes::title(first.code),
            codes::title(other.code)
        )));
    }
    let nothing = found.iter().filter_map(Qualification::nothing).collect();
    let (code, edition) = (first.code, first.edition.clone());
    found.retain(|own| !own.failed);
    Ok(Ranges::Records { code, edition, ranges: codes::combine(&found), nothing })
}

impl Ranges {
    /// What each welder is qualified for; none for test records.
    pub fn covers(&self) -> Vec<welders::Cover<'_>> {
        match self {
            Self::Records { .. } => Vec::new(),
            Self::Welders { shops, code } => shops.iter().flat_map(|shop| welders::covers(shop, *code)).collect(),
        }
    }

    /// Why records qualify nothing, in words.
    pub fn nothing(&self) -> &[String] {
        match self {
            Self::Records { nothing, .. } => nothing,
            Self::Welders { .. } => &[],
        }
    }

    /// The answer as JSON.
    pub fn json(&self) -> Value {
        match self {
            Self::Records { code, edition, ranges, nothing } => {
                let ranges: Vec<Value> = ranges.iter().map(|range| Value::Object(entry(range))).collect();
                let mut answer = json!({"code": code.as_str(), "edition": edition, "ranges": ranges});
                if let (false, Some(own)) = (nothing.is_empty(), answer.as_object_mut()) {
                    own.insert("qualify_nothing".to_owned(), json!(nothing));
                }
                answer
            }
            Self::Welders { code, .. } => of_welders(&self.covers(), *code),
        }
    }
}

fn of_welders(covers: &[welders::Cover<'_>], code: Option<WelderCode>) -> Value {
    let mut ranges = Vec::new();
    let mut people = Vec::new();
    for cover in covers {
        let certificate = cover.test.number.as_ref().map(ToString::to_string);
        for range in &cover.ranges {
            let mut map = entry(range);
            map.insert("welder".to_owned(), json!(cover.welder.name));
            map.insert("certificate".to_owned(), json!(certificate));
            map.insert("code".to_owned(), json!(cover.test.code));
            ranges.push(Value::Object(map));
        }
        people.push(json!({
            "welder": cover.welder.name,
            "stamp": cover.welder.stamp,
            "certificate": certificate,
            "code": cover.test.code,
            "process": cover.test.process,
            "lapses": cover.lapses,
            "because": cover.because,
        }));
    }
    json!({"code": code, "ranges": ranges, "welders": people})
}

/// A range as JSON.
fn entry(range: &Qualified) -> Map<String, Value> {
    let mut map = Map::new();
    let mut put = |key: &str, value: Value| {
        map.insert(key.to_owned(), value);
    };
    put("variable", json!(range.variable));
    if let Some(process) = &range.process {
        put("process", json!(process));
    }
    put("reference", json!(range.reference));
    match &range.bounds {
        Bounds::Span { span, exclusive } => {
            let end = |value: Option<f64>, outside: bool| {
                value.map(|value| {
                    let mut end = json!({"value": value, "unit": span.unit});
                    if let (true, Some(own)) = (outside, end.as_object_mut()) {
                        own.insert("exclusive".to_owned(), json!(true));
                    }
                    end
                })
            };
            put("low", json!(end(span.band.low_end(), exclusive.0)));
            put("high", json!(end(span.band.high_end(), exclusive.1)));
        }
        Bounds::Set(words) => put("values", json!(words)),
        Bounds::All => put("values", json!(["all"])),
    }
    put("tested", json!(range.tested));
    put("effect", json!(range.effect.as_str()));
    put("basis", json!(range.source.basis.as_str()));
    put("source", json!(range.source));
    put("records", json!(range.records));
    if let Some(note) = &range.note {
        put("note", json!(note));
    }
    map
}
