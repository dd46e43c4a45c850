//! `range`: what test records qualify under their code, and what a shop's welders are qualified for.

use std::io::Write;

use anyhow::{Result, bail};
use seamwright_check::codes::{self, Bounds, Qualification, Qualified, welders};
use seamwright_desk::companions;
use seamwright_desk::files::{self, Input};
use seamwright_desk::report::Report;
use seamwright_model::document::Document;
use seamwright_model::procedure::CodeName;
use seamwright_model::shop::{Shop, WelderCode};
use serde_json::{Map, Value, json};

use crate::Ending;
use crate::args::{Form, RangeArgs};
use crate::report::text;
use crate::{results, terminal, today};

/// Runs the command.
pub fn run(args: &RangeArgs) -> Result<Ending> {
    let disk = today::disk();
    let mut failed = Vec::new();
    let mut shops = Vec::new();
    let mut records = Vec::new();
    for path in &args.paths {
        let input = Input::typed(path);
        match files::read(&disk, &input) {
            Ok(loaded) => match loaded.document {
                Document::Shop(shop) => shops.push(shop),
                _ => records.push((input, loaded)),
            },
            Err(unread) => failed.push(Report::unread(input, unread)),
        }
    }
    if !shops.is_empty() && !records.is_empty() {
        bail!("name either test records or shops: their ranges belong to different codes");
    }
    if !shops.is_empty() && failed.is_empty() {
        return of_welders(&shops, args);
    }
    let code: Option<CodeName> = args.code.as_deref().map(str::parse).transpose().map_err(anyhow::Error::msg)?;
    let mut found: Vec<Qualification> = Vec::new();
    for (input, loaded) in records {
        match companions::tested(&loaded, code) {
            Ok(tested) => found.push(tested.qualification),
            Err(unread) => failed.push(Report::unread(input, unread)),
        }
    }
    if !failed.is_empty() {
        text::print(&failed);
        return Ok(Ending::Failed);
    }
    let Some(first) = found.first() else { bail!("name a test record or a shop") };
    if let Some(other) = found.iter().find(|other| other.code != first.code) {
        bail!(
            "the records are under {} and {}; ranges of two codes do not combine",
            codes::title(first.code),
            codes::title(other.code)
        );
    }
    let ranges = codes::combine(&found);
    let mut out = std::io::stdout().lock();
    match args.format {
        Form::Json => {
            let ranges: Vec<Value> = ranges.iter().map(|range| Value::Object(entry(range))).collect();
            results::json("range", json!({"code": first.code.as_str(), "edition": first.edition, "ranges": ranges}))?;
        }
        Form::Text => {
            writeln!(out, "{}, {}\n", codes::title(first.code), first.edition)?;
            write_table(&mut out, &ranges)?;
        }
    }
    Ok(Ending::Clean)
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
        Bounds::Span { low, high, unit } => {
            let end = |value: &Option<f64>| value.map(|value| json!({"value": value, "unit": unit}));
            put("low", json!(end(low)));
            put("high", json!(end(high)));
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

/// Ranges as a table for people.
fn write_table(out: &mut impl Write, ranges: &[Qualified]) -> Result<()> {
    // Which record a range comes from is told where there are several.
    let several = ranges.iter().any(|range| ranges.first().is_some_and(|first| first.records != range.records));
    let last = if several { "Records" } else { "" };
    let heads = ["Variable", "Process", "Tested", "Qualified", "Reference", "Basis", last];
    let mut rows = vec![heads.map(str::to_owned).to_vec()];
    for range in ranges {
        let tested: String = range.tested.chars().take(36).collect();
        rows.push(vec![
            range.name(),
            range.process.clone().unwrap_or_default(),
            tested,
            range.bounds.text(),
            range.reference.clone(),
            range.source.basis.remark().to_owned(),
            if several { range.records.join(", ") } else { String::new() },
        ]);
    }
    results::columns(out, &rows, "", 48)?;
    let mut notes: Vec<String> = Vec::new();
    for range in ranges {
        if let Some(note) = &range.note {
            let line = format!("{}: {note}", range.name());
            if !notes.contains(&line) {
                notes.push(line);
            }
        }
    }
    if !notes.is_empty() {
        writeln!(out, "\n{}", terminal::wrapped(&notes.join("\n"), terminal::width()))?;
    }
    Ok(())
}

/// Ranges of the welders of shops.
fn of_welders(shops: &[Box<Shop>], args: &RangeArgs) -> Result<Ending> {
    let code: Option<WelderCode> = args.code.as_deref().map(str::parse).transpose().map_err(anyhow::Error::msg)?;
    let covers: Vec<welders::Cover<'_>> = shops.iter().flat_map(|shop| welders::covers(shop, code)).collect();
    if covers.is_empty() {
        bail!("no welder of the shop has a test{}", code.map_or_else(String::new, |code| format!(" of {code}")));
    }
    let mut out = std::io::stdout().lock();
    match args.format {
        Form::Json => {
            let mut ranges = Vec::new();
            let mut people = Vec::new();
            for cover in &covers {
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
            results::json("range", json!({"code": code, "ranges": ranges, "welders": people}))?;
        }
        Form::Text => {
            for cover in &covers {
                let certificate = cover.test.number.as_deref().unwrap_or("no number");
                write!(out, "{}, {certificate}, {}", cover.welder.name, cover.test.code)?;
                if let Some(lapses) = cover.lapses {
                    write!(out, ", lapses {lapses} ({})", cover.because)?;
                }
                writeln!(out, "\n")?;
                write_table(&mut out, &cover.ranges)?;
                writeln!(out)?;
            }
        }
    }
    Ok(Ending::Clean)
}
