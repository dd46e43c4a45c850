//! `wire-feed-contradicts-current`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use seamwright_calc::deposition;
use seamwright_handbook::{Band, fusion, gmaw_parameters};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{Polarity, keys};
use seamwright_model::quantity::Length;
use seamwright_model::stated::Stated;
use seamwright_weld::deposit;

use super::settings::Setting;

/// The check.
pub const RULE: Rule = Rule {
    name: "wire-feed-contradicts-current",
    harm: Harm::Fusion,
    finds: "A wire feed speed and a current that do not belong together.",
    matters: "Current and wire feed are one setting: what is fed is melted. One of the two figures is wrong.",
    remedy: "Measure both while welding, and state what was measured.",
    limit: "What the wire takes at the current, by the rows of the handbook and the rule of feed for each ampere, with a wide margin; under flux the weld metal an hour for each ampere.",
    tables: &["gmaw-parameters", "gmaw-rules", "fcaw-parameters", "fusion-rules"],
    examine,
    faulty: &[
        Case {
            base: "tee-fillet-12-s355-135",
            edits: &[("/runs/0/wire_feed_speed", "14-15 m/min"), ("/runs/0/current", "200-220 A")],
        },
        Case { base: "butt-6-5083-131", edits: &[("/runs/0/wire_feed_speed", "4-4.5 m/min")] },
        Case { base: "butt-15-s355-136", edits: &[("/runs/1/wire_feed_speed", "13-14 m/min")] },
        Case { base: "butt-20-a516-121", edits: &[("/runs/0/wire_feed_speed", "0.5-0.6 m/min")] },
        Case { base: "butt-20-a516-121", edits: &[("/runs/1/current", "290-310 A")] },
    ],
    sound: &[
        Case { base: "tee-fillet-12-s355-135", edits: &[] },
        Case { base: "tee-fillet-2-s235jr-135", edits: &[] },
        Case { base: "butt-10-s355-135", edits: &[] },
        Case { base: "butt-6-5083-131", edits: &[] },
        Case { base: "tee-fillet-4-6082-131", edits: &[] },
        Case { base: "butt-15-s355-136", edits: &[] },
        Case { base: "tee-fillet-8-s275-136", edits: &[] },
        Case { base: "butt-25-a36-138", edits: &[] },
        Case { base: "tee-fillet-12-s355-114", edits: &[] },
        Case { base: "tee-fillet-8-316l-135", edits: &[] },
        Case { base: "butt-20-a516-121", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    under_flux(x);
    let rule = gmaw_parameters::WIRE_FEED_AGREES;
    let margin = rule.value.high;
    for run in &x.view.runs {
        let Some(wire) = run.wire.as_ref() else { continue };
        let (Some(feed), Some(current)) = (Setting::WireFeed.of(run), Setting::Current.of(run)) else { continue };
        let (Some(stated), Some(amperes)) = (feed.band.bounded(), current.band.bounded()) else { continue };
        let Some(expected) = wire.feed_at(amperes) else { continue };
        x.examined(&feed.pointer);
        let widest = Band::new((expected.low / margin).max(0.0), expected.high * margin);
        if widest.overlap(stated).is_some() {
            continue;
        }
        let source = rule.origin.source_ref();
        let limit = range_limit(widest, "m/min");
        x.report(
            Severity::Caution,
            feed.pointer,
            format!("wire feed {} does not go with {}: {} takes {limit}", feed.stated, current.stated, wire.words()),
        )
        .stated(feed.stated)
        .limit(limit.clone(), &source)
        .hint(format!("write a wire feed within {limit}, or the current that was measured"));
    }
}

/// Under flux no table has the feed of a wire: what it melts an hour follows from the current.
fn under_flux(x: &mut Examiner<'_>) {
    let view = x.view;
    let margin = fusion::SAW_DEPOSIT_MARGIN.value.high;
    for run in view.runs.iter().filter(|run| run.process.is_some_and(|process| process.uses_flux)) {
        let Some((_, filler)) = run.filler(view.procedure) else { continue };
        let diameter =
            filler.diameter.as_ref().and_then(Stated::value).and_then(|range| range.middle()).map(Length::mm);
        let (Some(feed), Some(current), Some(diameter)) =
            (Setting::WireFeed.of(run), Setting::Current.of(run), diameter)
        else {
            continue;
        };
        let (Some(fed), Some(amperes), Some((density, _))) =
            (feed.band.bounded(), current.band.bounded(), deposit::density(view, run))
        else {
            continue;
        };
        let negative = run.value(&keys::POLARITY).is_some_and(|at| *at.value == Polarity::Dcen);
        let rule = if negative { fusion::SAW_DEPOSIT_NEGATIVE } else { fusion::SAW_DEPOSIT };
        // One m/min of this wire melts so much in an hour.
        let Ok(each) = deposition::deposition_rate_kg_h(1000.0 / 60.0, diameter, density, 1.0) else { continue };
        let takes = |amperes: f64, margin: f64| (rule.value.middle() * amperes * margin / each * 100.0).round() / 100.0;
        x.examined(&feed.pointer);
        let widest = Band::new(takes(amperes.low, 1.0 / margin), takes(amperes.high, margin));
        if widest.contains(fed.middle()) {
            continue;
        }
        let (source, limit) = (rule.origin.source_ref(), range_limit(widest, "m/min"));
        x.report(
            Severity::Caution,
            feed.pointer,
            format!("wire feed {} does not go with {}: the wire takes {limit}", feed.stated, current.stated),
        )
        .stated(feed.stated)
        .limit(limit.clone(), &source)
        .hint(format!("write a wire feed within {limit}, or the current that was measured"));
    }
}
