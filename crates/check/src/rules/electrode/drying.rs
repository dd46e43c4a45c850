//! What a text says of drying: `350 °C for 2 h`.

use seamwright_model::quantity::{Duration, Quantity, Range, Temperature};

/// The temperature with which a text begins.
pub(crate) fn temperature(text: &str) -> Option<Range<Temperature>> {
    let words: Vec<&str> = text.split_whitespace().collect();
    (1..=words.len()).rev().find_map(|count| words.get(..count).and_then(read))
}

/// The first time that a text names.
pub(crate) fn time(text: &str) -> Option<Range<Duration>> {
    let words: Vec<&str> = text.split_whitespace().collect();
    let from = |start: usize| (start + 1..=words.len()).rev().find_map(|end| words.get(start..end).and_then(read));
    (0..words.len()).find_map(from)
}

fn read<Q: Quantity>(words: &[&str]) -> Option<Range<Q>> {
    words.join(" ").trim_end_matches([',', ';', '.', ':']).parse().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn temperature_and_time_are_read_where_they_stand() {
        for (text, at, hours) in [
            ("350 °C for 2 h", Some(350.0), Some(2.0)),
            ("300-350 °C, 1 h.", Some(350.0), Some(1.0)),
            ("650 °F for 60-120 min", Some(343.3), Some(2.0)),
            ("300 °C, at most three times, 2 h in all", Some(300.0), Some(2.0)),
            ("as the manufacturer gives", None, None),
        ] {
            let near = |own: Option<f64>, other: Option<f64>| match (own, other) {
                (Some(own), Some(other)) => (own - other).abs() < 0.1,
                (own, other) => own == other,
            };
            let (hot, long) = (temperature(text).and_then(|own| own.high()), time(text).and_then(|own| own.high()));
            assert!(near(hot.map(Temperature::celsius), at), "{text}: {hot:?}");
            assert!(near(long.map(Duration::hours), hours), "{text}: {long:?}");
        }
    }
}
