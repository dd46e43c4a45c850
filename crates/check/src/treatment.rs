//! The heat treatment that a code of construction asks of a joint: what holds, for how long, how fast, and from when on.

use seamwright_calc::band::{above, whole_up};
use seamwright_calc::{Band, heat_treatment};
use seamwright_handbook::treatment::{self, ExemptionRow, HoldingRow, LoweredRow, Numbered, RateRow};
use seamwright_handbook::{Size, measure};
use seamwright_model::finding::Limit;
use seamwright_model::quantity::{Range, Temperature};

/// What a code asks of a metal and thickness.
#[derive(Debug, Clone, Copy)]
pub struct Asked<'a> {
    /// The code of construction, as a procedure names it.
    pub code: &'a str,
    /// The metal.
    pub metal: Numbered<'a>,
    /// Its thickness.
    pub thickness: Size,
}

/// A holding time, and how it was found.
#[derive(Debug, Clone)]
pub struct Time {
    /// Least time, min.
    pub minutes: f64,
    /// The equation with the numbers put in.
    pub worked: String,
    /// Whether the time is counted from a bound.
    pub above: bool,
}

impl Asked<'_> {
    /// The row of temperature and time.
    pub fn holding(&self) -> Option<&'static HoldingRow> {
        treatment::holding(self.code, self.metal, self.thickness)
    }

    /// When the treatment is asked for.
    pub fn exemption(&self) -> Option<&'static ExemptionRow> {
        treatment::exemption(self.code, self.metal)
    }

    /// Whether the treatment is asked for, with a preheat or without.
    pub fn needs(&self, row: &ExemptionRow, preheat: Option<&Range<Temperature>>) -> bool {
        let warm = row.preheat().is_none_or(|least| {
            preheat.and_then(|range| Some((range.low()?, range.unit()))).is_some_and(|(low, unit)| {
                let (figure, unit) = least.column(measure::is_customary(unit));
                measure::degrees(low, unit) >= figure - 1e-9
            })
        });
        row.asks(self.thickness) || !warm && row.asks_cold(self.thickness)
    }

    /// Least holding time at the temperature of the row.
    pub fn time(&self, row: &HoldingRow) -> Option<Time> {
        let own = treatment::in_steps(self.thickness);
        let unit = self.steps();
        if let Some(hours) = row.hours_for_each(self.thickness) {
            let least = row.least_min.unwrap_or_default();
            let minutes = heat_treatment::holding_min(own, hours, least).ok()?;
            let worked = format!("t = max(60 x {hours} h x {own:.4} x {unit}, {least} min) = {minutes:.0} min");
            return Some(Time { minutes, worked, above: false });
        }
        let (base, more, from) = (row.base_h?, row.more_for_each(self.thickness)?, row.from(self.thickness));
        let minutes = heat_treatment::holding_above_min(own, from, base, more).ok()?;
        let worked = format!("t = 60 x {base} h + {more} min x ({own:.4} - {from}) x {unit} = {minutes:.0} min");
        Some(Time { minutes, worked, above: true })
    }

    /// The step of lower temperature that a temperature needs, with the time that it asks for; `below` says how far it lies
    /// under the least, in kelvins or in degrees Fahrenheit.
    pub fn lowered(&self, below: f64, customary: bool) -> Option<(&'static LoweredRow, f64)> {
        let steps = treatment::lowered(self.code, self.metal);
        let row = steps.into_iter().find(|row| !above(below, row.below(customary)))?;
        let own = treatment::in_steps(self.thickness);
        let minutes =
            heat_treatment::holding_above_min(own, 1.0, row.first_h, row.more_for_each(self.thickness)).ok()?;
        Some((row, minutes))
    }

    /// Largest rate of `heating` or `cooling`, in °F/h or °C/h, with its row.
    pub fn rate(&self, change: &str, customary: bool) -> Option<(&'static RateRow, f64, &'static str)> {
        let row = treatment::rate(self.code, change, self.metal.p_number)?;
        let (most, least, unit) = row.figures(customary);
        let figure = match row.over_thickness_in {
            Some(divisor) => {
                let inches = self.thickness.length().inches();
                heat_treatment::rate(most, inches, divisor, least.unwrap_or_default()).ok()?
            }
            None => most,
        };
        Some((row, figure, unit))
    }

    /// What holding times count by, in words.
    fn steps(&self) -> &'static str {
        if self.thickness.is_customary() { "1 in" } else { "25 mm" }
    }
}

/// Minutes in words: `15 min`, `1 h 30 min`, `2 h`.
pub fn time_text(minutes: f64) -> String {
    // cannot be short: a time is rounded up to the next minute
    let whole = whole_up(minutes);
    let (hours, rest) = ((whole / 60.0).floor(), whole % 60.0);
    match (hours > 0.0, rest > 0.0) {
        (true, true) => format!("{hours} h {rest} min"),
        (true, false) => format!("{hours} h"),
        _ => format!("{rest} min"),
    }
}

/// A least time; one of hours and minutes has no figures.
pub fn least_time(minutes: f64) -> Limit {
    let whole = whole_up(minutes);
    if whole < 60.0 {
        measure::range_limit(Band::at_least(whole), "min")
    } else if whole % 60.0 > 0.0 {
        format!("{} minimum", time_text(minutes)).into()
    } else {
        measure::range_limit(Band::at_least(whole / 60.0), "h")
    }
}

/// A thickness bound in the unit of a size.
pub fn bound(size: Size, mm: Option<f64>, inches: Option<seamwright_handbook::Inches>) -> Option<String> {
    size.column(mm, inches).map(|(figure, unit)| measure::length_text(figure, unit))
}
