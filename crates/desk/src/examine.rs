//! One file read and checked, wherever it comes from.

use seamwright_check::Outcome;
use seamwright_model::{Loaded, Reading};

use crate::companions::Companions;
use crate::current::Current;
use crate::files::{self, Input, Unread};
use crate::judge::judge;
use crate::named::Named;
use crate::read::refused;
use crate::report::Report;

impl Companions<'_> {
    /// Reads and checks one file against what stands beside it, and the documents that it names.
    pub fn examine(&self, input: Input) -> (Report, Named) {
        let mut named = Named::default();
        let mut received = None;
        let result = files::open(self.files, &input).and_then(|(loaded, arrival)| {
            let refused = |faults| refused(&loaded, faults);
            received = arrival.map(|arrival| judge(self, &input, &loaded, &arrival));
            if let (Some(received), Some(now)) = (&mut received, &self.now) {
                received.current = Current::of(&loaded, now);
            }
            named = self.named(&input, &loaded).map_err(refused)?;
            let outcome = self.check(&loaded, &named).map_err(refused)?;
            Ok((loaded, outcome))
        });
        let rest = match &result {
            Err(Unread { reading: Some(reading), .. }) => self.check_rest(&input, reading).map(Box::new),
            _ => None,
        };
        let received = received.or_else(|| result.as_ref().err()?.received.as_deref().cloned());
        let issued = result.as_ref().ok().filter(|_| received.is_none());
        let issued = issued.and_then(|(loaded, _)| self.beside.issued_otherwise(&input, loaded));
        let issued = issued.map(|otherwise| otherwise.finding(&input.name));
        (Report { input, received, result, rest, issued }, named)
    }

    /// Checks what could be read of a file with faults. Only what has nothing to do with the faulty values is told: nothing of
    /// their sections, and no finding that something is missing or does not go together, which may hang on them.
    fn check_rest(&self, input: &Input, reading: &Reading) -> Option<(Loaded, Outcome)> {
        const TOGETHER: &[&str] = &[
            "missing",
            "undeclared",
            "without",
            "incomplete",
            "fill-joint",
            "for-joint",
            "unsuited",
            "unknown",
            "overlap",
            "for-metal",
            "to-metal",
            "on-plate",
            "cooling-time",
            "preheat-below",
            "contradict",
            "direction",
            "undermatching",
        ];
        let (source, tree) = (reading.source.clone()?, reading.tree.clone()?);
        let loaded = Loaded { source, tree, document: reading.document.clone()? };
        let named = self.named(input, &loaded).unwrap_or_default();
        let mut outcome = self.check(&loaded, &named).ok()?;
        let faulty: Vec<String> = reading.left_out.iter().map(|pointer| section(pointer)).collect();
        if !faulty.is_empty() {
            outcome.findings.retain(|finding| {
                let beside = section(&reading.in_file(&finding.pointer));
                !faulty.contains(&beside) && !TOGETHER.iter().any(|word| finding.check.contains(word))
            });
        }
        let accepted = outcome.deviations.iter_mut().map(|(finding, _)| finding);
        for finding in outcome.findings.iter_mut().chain(accepted) {
            finding.pointer = reading.in_file(&finding.pointer);
        }
        Some((loaded, outcome))
    }
}

/// The section that a value belongs to: `/joint`, or of many of a kind its own: `/runs/0`.
fn section(pointer: &str) -> String {
    const MANY: &[&str] = &["processes", "runs", "fillers"];
    let steps: Vec<&str> = pointer.split('/').skip(1).collect();
    let own = if steps.first().is_some_and(|first| MANY.contains(first)) { 2 } else { 1 };
    steps.iter().take(own).map(|step| format!("/{step}")).collect()
}
