//! What codes ask of a coupon, and how far the values of a test record may differ.

use serde::Deserialize;

use crate::find;
use crate::rule::{self, Rule};
use crate::table::{Origin, table};

table!(INFO, rows, "coupon-tests", Row);
table!(RULES, rules, "test-record-rules", Rule);

/// A test that a code asks for.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct Row {
    /// Code, as a document names it: `iso-15614-1`, `asme-ix`, `aws-d1.1`.
    pub code: String,
    /// `groove` or `fillet`.
    pub weld: String,
    /// Method of the test.
    pub method: String,
    /// Methods of which one serves; the method alone where empty.
    #[serde(default)]
    pub types: Vec<String>,
    /// Least number of specimens or sets.
    pub count: u32,
    /// `toughness` or `hardness`, where the row holds only then.
    pub condition: Option<String>,
    /// Thickness above which the row holds, in millimetres.
    pub over_mm: Option<f64>,
    /// Where the row comes from.
    pub origin: Origin,
}

impl Row {
    /// The methods of which one serves.
    pub fn methods(&self) -> Vec<&str> {
        if self.types.is_empty() { vec![&self.method] } else { self.types.iter().map(String::as_str).collect() }
    }
}

/// The tests that a code asks of a `groove` or `fillet` coupon of this thickness in millimetres.
pub fn asked(code: &str, weld: &str, thickness_mm: f64) -> Vec<&'static Row> {
    rows()
        .iter()
        .filter(|row| find::same(&row.code, code) && row.weld == weld)
        .filter(|row| row.over_mm.is_none_or(|over| over < thickness_mm))
        .collect()
}

/// The rule with this name: `deposit-sum`, `heat-input-agreement`, `tensile-in-base-metal` or `impact-single`.
pub fn rule(name: &str) -> Option<&'static Rule> {
    rule::get(rules(), name)
}

#[cfg(test)]
mod tests {
    use super::*;

    // ISO 15614-1:2017 Table 2 and ASME IX QW-451.1 (from memory): two tensile and four bend specimens of a butt weld.
    #[test]
    fn butt_welds_need_two_tensile_and_four_bend_specimens() {
        for code in ["iso-15614-1", "asme-ix", "aws-d1.1"] {
            let count =
                |method| asked(code, "groove", 20.0).iter().find(|row| row.method == method).map(|row| row.count);
            assert_eq!((count("tensile"), count("bend")), (Some(2), Some(4)), "{code}");
        }
        assert!(asked("iso-15614-1", "groove", 12.0).iter().all(|row| row.method != "impact"));
    }
}
