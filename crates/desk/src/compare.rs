//! What changed between two revisions, and what each change means under the governing code.

use std::io::{self, Write};

use seamwright_check::codes;
use seamwright_check::revision::{self, Change, Comparison, Meaning};
use seamwright_model::Loaded;
use seamwright_model::document::Document;
use seamwright_model::finding::Basis;
use seamwright_model::procedure::{CodeName, Procedure};
use serde_json::{Value, json};

/// One of two revisions.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Side {
    /// Where it stands, as it was named.
    pub name: String,
    /// Its number.
    pub number: String,
    /// Its revision.
    pub revision: String,
}

/// Two revisions and what they differ in.
#[derive(Debug)]
pub struct Compared {
    /// The earlier one.
    pub old: Side,
    /// The later one.
    pub new: Side,
    /// The changes, and what the code says of them.
    pub comparison: Comparison,
}

/// Compares two documents, each with its name, under a code or that of the new one.
///
/// `Err` says in words which of them is no procedure.
pub fn compare(old: (&str, &Loaded), new: (&str, &Loaded), code: Option<CodeName>) -> Result<Compared, String> {
    let (first, second) = (procedure(old)?, procedure(new)?);
    let side = |name: &str, own: &Procedure| Side {
        name: name.to_owned(),
        number: own.identification.number.to_string(),
        revision: own.identification.revision.to_string(),
    };
    Ok(Compared {
        old: side(old.0, first),
        new: side(new.0, second),
        comparison: revision::compare((old.1, first), (new.1, second), code),
    })
}

fn procedure<'d>((name, loaded): (&str, &'d Loaded)) -> Result<&'d Procedure, String> {
    match &loaded.document {
        Document::Procedure(procedure) => Ok(procedure),
        other => Err(format!("{name}: `document: {}` cannot be compared; compare takes two procedures", other.kind())),
    }
}

impl Compared {
    /// The changes, those that mean most first.
    pub fn changes(&self) -> Vec<&Change> {
        let mut changes: Vec<&Change> = self.comparison.changes.iter().collect();
        changes.sort_by_key(|change| std::cmp::Reverse(change.meaning));
        changes
    }

    /// Whether the second revision is not the later one by its count.
    pub fn backwards(&self) -> bool {
        match (self.old.revision.parse::<u32>(), self.new.revision.parse::<u32>()) {
            (Ok(old), Ok(new)) => new <= old,
            _ => false,
        }
    }

    /// For people.
    pub fn text(&self, out: &mut impl Write) -> io::Result<()> {
        let Self { old, new, comparison } = self;
        writeln!(
            out,
            "{} revision {} to {}, {}{}\n",
            new.number,
            old.revision,
            new.revision,
            match comparison.code {
                CodeName::None => "no code".to_owned(),
                code => format!("under {}", codes::title(code)),
            },
            if comparison.toughness { ", with impact tests" } else { "" },
        )?;
        for change in self.changes() {
            writeln!(out, "{}: {}", change.meaning.as_str(), change.term)?;
            let runs = change.runs.as_ref().map_or_else(String::new, |runs| format!(", run {runs}"));
            writeln!(out, "    {}{runs}", change.pointer)?;
            writeln!(out, "    {}", change.from_and_to())?;
            for variable in &change.variables {
                writeln!(out, "    {}, {} ({})", variable.reference, variable.wording, variable.effect.as_str())?;
            }
        }
        let count = |meaning| comparison.count(meaning);
        writeln!(
            out,
            "\n{} essential, {} supplementary essential, {} nonessential, {} editorial: {}",
            count(Meaning::Essential),
            count(Meaning::Supplementary),
            count(Meaning::Nonessential),
            count(Meaning::Editorial),
            comparison.verdict()
        )?;
        for source in comparison.sources() {
            writeln!(out, "source: {}", source.line())?;
        }
        if comparison.sources().iter().any(|source| source.basis != Basis::Published) {
            writeln!(out, "verify against your edition of the code: what is from memory may differ there")?;
        }
        Ok(())
    }

    /// The answer as JSON.
    pub fn json(&self) -> Value {
        let comparison = &self.comparison;
        let side = |own: &Side| json!({"file": own.name, "number": own.number, "revision": own.revision});
        let count = |meaning| comparison.count(meaning);
        json!({
            "old": side(&self.old),
            "new": side(&self.new),
            "code": comparison.code.to_string(),
            "toughness": comparison.toughness,
            "changes": comparison.changes.iter().map(change).collect::<Vec<_>>(),
            "essential": count(Meaning::Essential),
            "supplementary_essential": count(Meaning::Supplementary),
            "nonessential": count(Meaning::Nonessential),
            "editorial": count(Meaning::Editorial),
            "new_test_needed": comparison.needs_test(),
            "verdict": comparison.verdict(),
        })
    }
}

fn change(change: &Change) -> Value {
    let references = change.variables.iter().map(|variable| {
        json!({
            "reference": variable.reference,
            "wording": variable.wording,
            "effect": variable.effect.as_str(),
            "source": variable.source,
        })
    });
    json!({
        "pointer": change.pointer,
        "runs": change.runs,
        "variable": change.term,
        "old": change.old,
        "new": change.new,
        "meaning": change.meaning.as_str(),
        "references": references.collect::<Vec<_>>(),
    })
}
