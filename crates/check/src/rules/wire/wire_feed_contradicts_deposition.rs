//! `wire-feed-contradicts-deposition`: explanation, cases, logic.

use seamwright_handbook::{Band, deposition, gmaw_parameters};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_weld::deposit::{self, By};

use crate::rule::{Case, Examiner, Harm, Rule, range_limit, range_text};

/// The check.
pub const RULE: Rule = Rule {
    name: "wire-feed-contradicts-deposition",
    harm: Harm::Fusion,
    finds: "A wire feed speed under flux that lays down more or less than the process does.",
    matters: "Wire that is fed faster than the arc melts it stubs into the plate; slower, the arc burns back to the tip.",
    remedy: "Look at the wire feed speed, its unit and the diameter of the wire.",
    limit: "The deposition rates of the process: outside them is a note, outside them by more than any setting can be a caution.",
    tables: &["deposition-rate", "metal-densities", "deposition-efficiency", "gmaw-rules"],
    examine,
    faulty: &[
        Case { base: "butt-20-a516-121", edits: &[("/runs/1/wire_feed_speed", "12-14 m/min")] },
        Case { base: "butt-20-a516-121", edits: &[("/runs/1/wire_feed_speed", "0.12-0.14 m/min")] },
    ],
    sound: &[
        Case { base: "butt-20-a516-121", edits: &[] },
        Case {
            base: "butt-20-a516-121",
            edits: &[("/fillers/wire/diameter", "3.2 mm"), ("/runs/1/wire_feed_speed", "2.0-2.5 m/min")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let view = x.view;
    let farthest = gmaw_parameters::SETTINGS_FARTHEST.value.high;
    for run in view.runs.iter().filter(|run| run.process.is_some_and(|process| process.uses_flux)) {
        let Some(feed) = run.value(&keys::WIRE_FEED_SPEED) else { continue };
        let Some(laid) = deposit::of(view, run).filter(|laid| laid.by == By::WireFeed) else { continue };
        // Each wire of a tandem lays its own: the rows of one wire and of several stand beside each other.
        let rows = deposition::rate(run.number());
        let Some(range) = rows.iter().map(|row| row.rate_kg_h).reduce(Band::hull) else { continue };
        let Some(source) = rows.first().map(|row| row.origin.source_ref()) else { continue };
        let own = Band::new(laid.rate_kg_h.low, laid.rate_kg_h.high);
        let stated = feed.value.spelled();
        let outer = x.compare(&feed.pointer, stated, own, range, "kg/h", &source);
        if !outer.either() {
            continue;
        }
        let far = own.outside(Band::new(range.low / farthest, range.high * farthest));
        let limit = range_limit(range, "kg/h");
        let laid = range_text(Band::new(laid.rate_kg_h.low, laid.rate_kg_h.high), "kg/h");
        x.report(
            if far.either() { Severity::Caution } else { Severity::Note },
            feed.pointer,
            format!("wire feed speed {stated} lays down {laid}; the process has {limit}"),
        )
        .stated(stated)
        .limit(limit, &source)
        .hint("look at the wire feed speed, its unit and the diameter of the wire");
    }
}
