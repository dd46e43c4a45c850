//! A job that was worked out, for programs.

use seamwright_model::finding::{Figures, Severity};
use seamwright_model::job::Job;
use seamwright_model::stated::Stated;
use serde_json::{Value, json};

use super::worked::Worked;
use crate::estimate::data::{cost_value, figure, uses};

impl Worked {
    /// The joints with what they take and cost, what stands against them, what is to be bought, and what was written.
    pub fn json(&self, job: &Job, written: &[String]) -> Value {
        let papers = &self.papers;
        let rows = papers.rows.iter().zip(&self.estimates).zip(&job.joints);
        let joints: Vec<Value> = rows
            .map(|((row, estimate), joint)| {
                let or_null = |text: &str| (!text.is_empty()).then(|| text.to_owned());
                json!({
                    "joint": row.joint,
                    "drawing": or_null(&row.drawing),
                    "procedure": or_null(&row.procedure),
                    "revision": or_null(&row.revision),
                    "machine": or_null(&row.machine),
                    "welder": or_null(&row.welder),
                    "length": row.length,
                    "lengths": joint.length.value().and_then(|own| Figures::stated(own.spelled())),
                    "leg": or_null(&row.leg),
                    "legs": joint.leg.as_ref().and_then(Stated::value).and_then(|own| Figures::stated(own.spelled())),
                    "pieces": row.pieces,
                    "time": row.hours.map(|hours| figure(hours, "h")),
                    "price": row.price,
                    "each": row.each,
                    "uses": estimate.as_ref().map(uses),
                })
            })
            .collect();
        let against: Vec<Value> = self
            .against
            .iter()
            .map(|own| {
                json!({
                    "severity": own.severity.as_str(),
                    "message": own.message,
                    "pointer": own.pointer,
                    "covered_by": own.covered_by,
                })
            })
            .collect();
        let buying: Vec<Value> = papers
            .buying
            .iter()
            .map(|own| {
                json!({
                    "what": own.what,
                    "needed": figure(own.used, own.unit),
                    "in_stock": own.in_stock.map(|amount| figure(amount, own.unit)),
                    "to_buy": figure(own.amount, own.unit),
                    "packages": own.packages.map(|(count, kind)| json!({"count": count, "kind": kind})),
                })
            })
            .collect();
        let count = |severity| self.against.iter().filter(|own| own.severity == severity).count();
        let price = papers.total.zip(papers.cost.as_ref());
        json!({
            "number": job.identification.number,
            "revision": job.identification.revision,
            "title": job.identification.title,
            "joints": joints,
            "price": price.map(|(total, cost)| json!({"value": total, "currency": cost.currency})),
            "not_priced": papers.rows.iter().filter(|row| row.price.is_none()).count(),
            "cost": papers.cost.as_ref().map(cost_value),
            "not_in_cost": papers.cost.as_ref().map(|cost| &cost.not_stated),
            "buying": buying,
            "against": against,
            "errors": count(Severity::Error),
            "cautions": count(Severity::Caution),
            "written": written,
        })
    }
}
