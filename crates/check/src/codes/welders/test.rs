//! The test of a welder as all codes read it.

use seamwright_handbook::{Rule, Size, filler_classes, positions, processes};
use seamwright_model::procedure::WeldType;
use seamwright_model::quantity::{Length, Range};
use seamwright_model::shop::WelderTest;
use seamwright_model::stated::{Date, Stated};

/// Thickness of the parts under a fillet, where a test covers fillets beside its grooves.
pub(in crate::codes) const FILLET_THICKNESS: &str = "fillet_base_thickness";

/// Diameter of pipe that is turned while it is welded, where a test on plate covers it.
pub(in crate::codes) const TURNED_PIPE: &str = "turned_pipe_diameter";

/// A stated length, mm.
pub(in crate::codes) fn length(value: Option<&Stated<Range<Length>>>) -> Option<f64> {
    let range = value?.value()?;
    range.low().or(range.high()).map(Length::mm)
}

/// A stated length in its own unit.
pub(in crate::codes) fn size(value: Option<&Stated<Range<Length>>>) -> Option<Size> {
    let range = value?.value()?;
    Some(Size::stated(range.low().or(range.high())?, range.unit()))
}

/// Whether the coupon was a groove.
pub(in crate::codes) fn is_groove(test: &WelderTest) -> bool {
    test.weld.is_none_or(WeldType::has_groove)
}

/// The ISO 4063 number of a process by any of its names.
pub(in crate::codes) fn process_number(text: &str) -> String {
    processes::number_of(text).to_owned()
}

/// The positions of a test by their codes of AWS, on plate or pipe.
pub(in crate::codes) fn aws_codes(test: &WelderTest, pipe: bool) -> Vec<String> {
    test.positions
        .iter()
        .map(|text| match positions::get(text) {
            Some(row) if row.system == "iso" => aws_code(row, pipe),
            Some(row) => row.code.to_owned(),
            None => text.to_string(),
        })
        .collect()
}

/// The code of AWS for a position of ISO 6947 on plate or pipe.
fn aws_code(row: &positions::Row, pipe: bool) -> String {
    let fits = |code: &&&str| {
        positions::get(code).is_some_and(|own| match own.product {
            positions::Product::Both => true,
            positions::Product::Pipe => pipe,
            positions::Product::Plate => !pipe,
        })
    };
    row.equivalent.iter().find(fits).or(row.equivalent.first()).copied().unwrap_or(row.code).to_owned()
}

/// F-Number of the test's filler: as stated, or by its class.
pub(in crate::codes) fn f_number(test: &WelderTest) -> Option<u32> {
    let digits = |text: &str| text.chars().filter(char::is_ascii_digit).collect::<String>().parse().ok();
    test.filler_group
        .as_deref()
        .and_then(digits)
        .or_else(|| filler_classes::find(test.filler.as_deref()?)?.f_no.and_then(digits))
}

/// The day so many months or years after another, by a rule of the handbook.
pub(in crate::codes) fn later(from: Date, rule: Option<&Rule>, per: i32) -> Option<Date> {
    // A few months or years: the figure is small and whole.
    #[expect(clippy::cast_possible_truncation, reason = "months of a table")]
    rule.and_then(|rule| from.months_later(rule.value.high as i32 * per))
}

/// The end of the certificate, and of the months that a welder may go without the process.
pub(in crate::codes) fn continuity(test: &WelderTest, rule: &Rule) -> Vec<(Date, &'static str)> {
    let unused =
        later(test.last_use.unwrap_or(test.date), Some(rule), 1).map(|date| (date, "six months without the process"));
    unused.into_iter().chain(test.valid_until.map(|date| (date, "end of the certificate"))).collect()
}
