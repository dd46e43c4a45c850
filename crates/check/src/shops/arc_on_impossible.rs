//! `arc-on-impossible`: explanation, cases, logic.

use seamwright_handbook::measure::band;
use seamwright_handbook::{Band, deposition, setting_limits};
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Share;
use seamwright_model::shop::Shop;
use seamwright_model::source::escape;
use seamwright_weld::machines;

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};

/// The check.
pub const RULE: Rule<Shop> = Rule {
    name: "arc-on-impossible",
    harm: Harm::Papers,
    finds: "A share of the time in which the arc burns, in `times/arc_on` of a shop, that cannot be or that no textbook knows.",
    matters: "The working time of every weld follows from it, and with it hours, labour and price.",
    remedy: "Write the share of the working time: arc time divided by all time at the work.",
    limit: "More than none and up to 100 %, else an error; the widest range of the operating factors of the process, else a caution.",
    tables: &["setting-limits", "operating-factor"],
    examine,
    faulty: &[
        Case { base: "shop/shop", edits: &[("/times", "{arc_on: {141: 250 %}}")] },
        Case { base: "shop/shop", edits: &[("/times", "{arc_on: {141: 0 %}}")] },
        Case { base: "shop/shop", edits: &[("/times", "{arc_on: {135: 100.5 %}}")] },
        Case { base: "shop/shop", edits: &[("/times", "{arc_on: {MIG: 3 %}}")] },
        Case { base: "shop/shop", edits: &[("/times", "{arc_on: {111: 95-99 %}}")] },
    ],
    sound: &[
        Case { base: "shop/shop", edits: &[] },
        Case { base: "shop/shop", edits: &[("/times", "{arc_on: {141: 22 %, 111: 15-40 %, MIG: 45 %}}")] },
        Case { base: "shop/shop", edits: &[("/times", "{arc_on: {135: 90 %}}")] },
    ],
};

fn examine(x: &mut Examiner<'_, Shop>) {
    let Some(whole) = setting_limits::get(setting_limits::SHARE_OF_A_WHOLE, "") else { return };
    let limits = whole.limits();
    for (process, share) in x.view.times.iter().flat_map(|times| times.arc_on.iter()) {
        let Some(range) = share.value() else { continue };
        let pointer = format!("/times/arc_on/{}", escape(process));
        let own = band(range, Share::percent);
        let stated = range.spelled();
        let outer = x.compare(&pointer, stated, own, limits.envelope, whole.unit, &limits.source);
        if outer.either() {
            x.report(Severity::Error, pointer, format!("an arc that burns {stated} of the time by {process}"))
                .stated(stated)
                .limit(range_limit(limits.envelope, whole.unit), &limits.source)
                .hint("write the share of the working time in which the arc burns, such as 25 %");
            continue;
        }
        let numbers: Vec<&str> = machines::processes_of(process).into_iter().map(|row| row.number).collect();
        let Some((widest, source)) = widest(&numbers) else { continue };
        let usual = x.compare(&pointer, stated, own, widest, whole.unit, &source);
        if usual.either() {
            x.report(Severity::Caution, pointer, format!("an arc that burns {stated} of the time by {process}"))
                .stated(stated)
                .limit(range_limit(widest, whole.unit), &source)
                .hint("count arc time and all time at the work over a week, and write the share");
        }
    }
}

/// From the least to the most of the operating factors of processes, however they are mechanized.
fn widest(numbers: &[&str]) -> Option<(Band, seamwright_model::finding::SourceRef)> {
    let own = |row: &&deposition::OperatingFactorRow| {
        row.processes.is_empty() || row.processes.iter().any(|own| numbers.contains(own))
    };
    let named =
        deposition::operating_factors().iter().find(|row| row.processes.iter().any(|own| numbers.contains(own)))?;
    let band = deposition::operating_factors().iter().filter(own).map(|row| row.arc_on_pct).reduce(Band::hull)?;
    Some((band, named.origin.source_ref()))
}
