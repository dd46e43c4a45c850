//! What a run lays down: its deposition rate and cross-section, from its wire or from the handbook's rates.

use seamwright_calc::{Spread, deposition as formulas};
use seamwright_handbook::measure::{MM_IN, band};
use seamwright_handbook::{Band, densities, deposition, filler_classes, fusion, gmaw_parameters};
use seamwright_model::finding::SourceRef;
use seamwright_model::procedure::{TransferMode, keys};
use seamwright_model::quantity::{Current, Length, Quantity, Range, Speed};
use seamwright_model::stated::Stated;

pub use crate::follows::{By, Deposit};
use crate::view::{RunView, View};

/// Density of the weld metal of a run, kg/m³, and where it is written: of the filler's metal, else of the parent metal.
pub fn density(view: &View<'_>, run: &RunView<'_>) -> Option<(f64, SourceRef)> {
    let of_filler = || {
        let (_, filler) = run.filler(view.procedure)?;
        let class = filler_classes::find(&filler.designation)?;
        densities::metal(class.families.first()?)
    };
    let row = of_filler().or_else(|| densities::metal(view.metals.first()?.family()))?;
    Some((row.density_kg_m3.middle(), row.origin.source_ref()))
}

/// The efficiency row of a run's process; of covered electrodes the row without a length.
pub fn efficiency(run: &RunView<'_>) -> Option<&'static deposition::EfficiencyRow> {
    let rows = deposition::efficiency(run.number());
    let general = rows.iter().find(|row| row.gas.is_none() && row.electrode_length_mm.is_none());
    general.or(rows.first()).copied()
}

/// The least and the most that a process has of its efficiency, %: the published figure and the range of the rows in the same
/// words.
fn efficiency_span(run: &RunView<'_>, row: &deposition::EfficiencyRow) -> Band {
    let alike = deposition::efficiency(run.number()).into_iter().filter(|own| own.label == row.label);
    alike.map(|own| own.efficiency_pct).reduce(Band::hull).unwrap_or(row.efficiency_pct)
}

/// What a run of a view lays down, where the handbook and the document know enough; nothing for a run without filler.
pub fn of<'r>(view: &View<'_>, run: &'r RunView<'_>) -> Option<&'r Deposit> {
    run.follows.laid.get_or_init(|| laid(view, run)).as_ref()
}

fn laid(view: &View<'_>, run: &RunView<'_>) -> Option<Deposit> {
    run.filler(view.procedure)?;
    let (density_kg_m3, density_source) = density(view, run)?;
    let efficiency = efficiency(run)?;
    let mut sources = vec![efficiency.origin.source_ref(), density_source];
    let wire = run.process.is_some_and(|process| process.uses_wire_feed);
    let mut melted_pct = None;
    let (rate, by) = if let Some(feed) = wire.then(|| wire_feed_mm_s(view, run)).flatten() {
        let (feed, diameter, by, source) = feed;
        sources.extend(source);
        // A cored wire is lighter than a solid one.
        let cored = deposition::of_cored_wire(efficiency);
        sources.extend(cored.map(|rule| rule.origin.source_ref()));
        // The ends take those of every row of the process: one published figure is no bound.
        let (share, span) = (efficiency.efficiency_pct, efficiency_span(run, efficiency));
        let at = |feed: f64, pct: f64, cored_pct: f64| {
            let density = density_kg_m3 * cored_pct / 100.0;
            formulas::deposition_rate_kg_h(feed, diameter, density, pct / 100.0).ok()
        };
        let mass = cored.map_or(Band::at(100.0), |rule| rule.value);
        let rate = Spread {
            low: at(feed.low, span.low, mass.low)?,
            middle: at(feed.middle(), share.middle(), mass.middle())?,
            high: at(feed.high, span.high, mass.high)?,
        };
        (rate, by)
    } else if let Some((rate, melted, source)) = by_size(view, run) {
        melted_pct = melted;
        sources.push(source);
        (rate, By::Size)
    } else if let Some((rate, source)) = melted(view, run) {
        sources.push(source);
        (rate, By::Melted)
    } else {
        table_rate(view, run, &mut sources)?
    };
    let area_mm2 = area_mm2(run, rate, density_kg_m3);
    Some(Deposit { rate_kg_h: rate, area_mm2, by, melted_pct, efficiency, density_kg_m3, sources })
}

/// Cross-section in mm² of a run that lays a rate in kg/h; nothing where its travel speed is not stated.
fn area_mm2(run: &RunView<'_>, rate: Spread, density_kg_m3: f64) -> Option<Spread> {
    let at = run.value(&keys::TRAVEL_SPEED)?;
    let speed = band(at.value, Speed::mm_per_s).bounded()?;
    let at = |rate: f64, speed: f64| formulas::deposited_area_from_rate_mm2(rate, speed, density_kg_m3).ok();
    Some(Spread {
        low: at(rate.low, speed.high)?,
        middle: at(rate.middle, speed.middle())?,
        high: at(rate.high, speed.low)?,
    })
}

/// Cross-section of a run by what is stated, mm²; nothing where only the rates of the process are known.
pub fn section(view: &View<'_>, run: &RunView<'_>) -> Option<Spread> {
    of(view, run).filter(|laid| laid.by != By::Table)?.area_mm2
}

type Feed = (Band, f64, By, Option<SourceRef>);

/// Wire feed speed (mm/s) and diameter (mm): stated, else what the current asks for.
fn wire_feed_mm_s(view: &View<'_>, run: &RunView<'_>) -> Option<Feed> {
    let (_, filler) = run.filler(view.procedure)?;
    let diameter = filler.diameter.as_ref().and_then(Stated::value)?.middle().map(Length::mm)?;
    if let Some(at) = run.value(&keys::WIRE_FEED_SPEED) {
        let feed = band(at.value, Speed::mm_per_s).bounded()?;
        return Some((feed, diameter, By::WireFeed, None));
    }
    let steel = view.metals.first().is_some_and(|metal| metal.is("steel"));
    let solid = efficiency(run).is_some_and(|row| row.label.contains("solid"));
    if !steel || !solid {
        return None;
    }
    let current = run.value(&keys::CURRENT)?.value;
    let name = format!("wire-feed-per-ampere-{}", format!("{diameter:.1}").replace('.', "-"));
    let rule = seamwright_handbook::rule::get(gmaw_parameters::rules(), &name)?;
    // The rule gives inches a minute for each ampere.
    let feed = |amperes: f64| rule.value.middle() * amperes * MM_IN / 60.0;
    let feed = band(current, Current::amperes).bounded()?.map(feed);
    Some((feed, diameter, By::Current, Some(rule.origin.source_ref())))
}

/// Rate by class, diameter and current, and the share of what is melted that ends in the weld, %.
fn by_size(view: &View<'_>, run: &RunView<'_>) -> Option<(Spread, Option<f64>, SourceRef)> {
    let (_, filler) = run.filler(view.procedure)?;
    let diameter = filler.diameter.as_ref().and_then(Stated::value)?.middle().map(Length::mm)?;
    let current = run.value(&keys::CURRENT)?.value;
    let at = |amperes: f64| deposition::by_size(run.number(), &filler.designation, diameter, amperes);
    let middle = at(middle(current, Current::amperes)?)?;
    let end = |end: Option<Current>| end.and_then(|current| at(current.amperes())).unwrap_or(middle);
    let rate = Spread {
        low: end(current.low()).rate_kg_h.low,
        middle: middle.rate_kg_h.middle(),
        high: end(current.high()).rate_kg_h.high,
    };
    Some((rate, middle.efficiency_pct, middle.row.origin.source_ref()))
}

/// Rate of a covered electrode by its current alone, kg/h, on steel, for which the rule stands, and where it is written.
fn melted(view: &View<'_>, run: &RunView<'_>) -> Option<(Spread, SourceRef)> {
    if !run.process.is_some_and(|own| own.covered_electrode()) || !view.metals.iter().all(|metal| metal.is("steel")) {
        return None;
    }
    let (_, filler) = run.filler(view.procedure)?;
    let powder = ["E7024", "E7028", "E7027"].iter().any(|class| filler.designation.starts_with(class));
    let rule = if powder { fusion::ELECTRODE_DEPOSIT_IRON_POWDER } else { fusion::ELECTRODE_DEPOSIT };
    let current = run.value(&keys::CURRENT)?.value;
    let middle = middle(current, Current::amperes)?;
    let end = |end: Option<Current>| end.map_or(middle, Current::amperes);
    let rate = Spread {
        low: end(current.low()) * rule.value.low,
        middle: middle * rule.value.middle(),
        high: end(current.high()) * rule.value.high,
    };
    Some((rate, rule.origin.source_ref()))
}

/// The handbook's rate of the process: of the row that names the electrode's class or the mode of transfer, else the hull.
fn table_rate(view: &View<'_>, run: &RunView<'_>, sources: &mut Vec<SourceRef>) -> Option<(Spread, By)> {
    let rows = deposition::rate(run.number());
    let class = run.filler(view.procedure).map(|(_, filler)| {
        filler_classes::find(&filler.designation)
            .map_or_else(|| filler.designation.to_string(), |row| row.classification.to_owned())
    });
    let transfer = run.value(&keys::TRANSFER_MODE);
    let named = rows.iter().find(|row| {
        class.as_deref().is_some_and(|class| row.label.split(' ').any(|word| class.starts_with(word) && word.len() > 3))
            || transfer.as_ref().is_some_and(|mode| row.label.contains(transfer_name(*mode.value)))
    });
    let first = named.or(rows.first()).copied()?;
    let range = match named {
        Some(row) => row.rate_kg_h,
        None if run.process.is_some_and(|own| own.uses_tungsten) => first.rate_kg_h,
        None => rows.iter().map(|row| row.rate_kg_h).reduce(Band::hull)?,
    };
    sources.push(first.origin.source_ref());
    let middle = first.usual_kg_h.unwrap_or(range).middle();
    Some((Spread { low: range.low, middle, high: range.high }, By::Table))
}

fn transfer_name(mode: TransferMode) -> &'static str {
    match mode {
        TransferMode::ShortCircuit => "short-circuit",
        TransferMode::Pulsed => "pulsed",
        TransferMode::Spray | TransferMode::Globular => "spray",
    }
}

/// The middle of a range, else the end that is stated.
pub fn middle<Q: Quantity>(range: &Range<Q>, of: impl Fn(Q) -> f64) -> Option<f64> {
    range.middle().or(range.low()).or(range.high()).map(of)
}
