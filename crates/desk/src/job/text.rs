//! A job that was worked out, for people.

use std::io::{self, Write};

use seamwright_model::finding::Severity;

use super::worked::Worked;
use crate::report::{columns, number};

impl Worked {
    /// For people, in so many columns: each joint, the price of all, what to buy, and what stands against it.
    pub fn text(&self, out: &mut impl Write, room: Option<usize>) -> io::Result<()> {
        let papers = &self.papers;
        let heads = ["joint", "procedure", "rev", "pieces", "hours", "price", "each", "machine", "welder"];
        let mut rows = vec![heads.map(str::to_owned).to_vec()];
        for row in &papers.rows {
            let money = |value: Option<f64>| value.map_or("-".to_owned(), |value| format!("{value:.2}"));
            rows.push(vec![
                row.joint.clone(),
                row.procedure.clone(),
                row.revision.clone(),
                format!("{} x {}", row.pieces, row.length),
                row.hours.map_or("-".to_owned(), number),
                money(row.price),
                money(row.each),
                row.machine.clone(),
                row.welder.clone(),
            ]);
        }
        columns(out, &rows, "", usize::MAX, room)?;
        if let Some(cost) = &papers.cost {
            let least = if cost.least_charge { ", the least charge" } else { "" };
            let price = papers.total.map_or_else(
                || "not known".to_owned(),
                |total| format!("{total:.2} {}{least}", cost.currency).trim_end().to_owned(),
            );
            writeln!(out, "\nprice of all: {price}, {} h", number(cost.time_min / 60.0))?;
            let open = papers.rows.iter().filter(|row| row.price.is_none()).count();
            if open > 0 && papers.total.is_some() {
                writeln!(out, "not in the price: {open} of {} joints, which have no estimate", papers.rows.len())?;
            }
            for missing in &cost.not_stated {
                writeln!(out, "not stated: {missing}")?;
            }
        }
        for buy in &papers.buying {
            let packages = buy.packages().map_or(String::new(), |own| format!(", {own}"));
            writeln!(out, "to buy: {}: {} {}{packages}", buy.what, number(buy.amount), buy.unit)?;
        }
        self.found(out, true)
    }

    /// What stands against it, each cause once; without notes where little is to be said.
    pub fn found(&self, out: &mut impl Write, notes: bool) -> io::Result<()> {
        let all = self.papers.findings.iter();
        all.filter(|(severity, _)| notes || severity != Severity::Note.as_str())
            .try_for_each(|(severity, text)| writeln!(out, "{severity}: {text}"))
    }
}
