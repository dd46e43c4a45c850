//! `indication-above-range`: explanation, cases, logic.

use seamwright_calc::Band;
use seamwright_calc::band::above;
use seamwright_handbook::Size;
use seamwright_handbook::api_1104::{self, AcceptanceRow};
use seamwright_handbook::measure::{self, figure};
use seamwright_model::finding::{Limit, Severity};
use seamwright_model::procedure::CodeName;
use seamwright_model::quantity::{Length, Range};
use seamwright_model::test_record::{TestMethod, TestRecord, TestResult};
use seamwright_weld::view::Metal;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The record of the pipeline example with an examination.
macro_rules! seen {
    ($values:literal) => {
        Case {
            base: "codes/record-api-1104",
            edits: &[("/tests/0", concat!("{method: radiographic, values: ", $values, ", result: acceptable}"))],
        }
    };
}

/// The check.
pub const RULE: Rule<TestRecord> = Rule {
    name: "indication-above-range",
    harm: Harm::Qualification,
    finds: "An imperfection of a pipeline weld larger than API 1104 accepts, in an examination that is called acceptable.",
    matters: "The weld is rejected by whoever reads the film after the laboratory.",
    remedy: "Call the examination not acceptable, or mend the size by the report.",
    limit: "Largest single imperfection, largest sum in 12 in (300 mm), and share of the wall, of API 1104 clause 9.",
    tables: &["api-1104-acceptance"],
    examine,
    faulty: &[
        seen!("[inadequate penetration without high-low 26 mm]"),
        seen!("[inadequate penetration without high-low 1-1/16 in]"),
        seen!("[hollow bead 1/2 in, hollow bead sum 2-1/8 in]"),
        seen!("[hollow bead 14 mm]"),
        // A quarter of a wall of 7.1 mm is less than 3 mm.
        seen!("[porosity single 1.8 mm]"),
        // An eighth of the wall of 7.1 mm is more than 0.8 mm.
        seen!("[undercut depth 0.9 mm]"),
        seen!("[isolated slag sum 14 mm]"),
    ],
    sound: &[
        seen!("[inadequate penetration without high-low 25 mm]"),
        seen!("[inadequate penetration without high-low 1 in]"),
        seen!("[hollow bead 1/2 in, hollow bead sum 2 in]"),
        seen!("[hollow bead 13 mm]"),
        seen!("[porosity single 1.7 mm]"),
        seen!("[undercut depth 0.8 mm]"),
        seen!("[isolated slag sum 13 mm]"),
        seen!("[no indication]"),
        Case { base: "codes/record-api-1104", edits: &[] },
        Case {
            base: "codes/record-api-1104",
            edits: &[("/tests/0", "{method: radiographic, values: [hollow bead 20 mm], result: not acceptable}")],
        },
    ],
};

/// An imperfection as a laboratory writes it: `hollow bead 12 mm`, `isolated slag sum 1/2 in`.
struct Seen<'t> {
    name: &'t str,
    sum: bool,
    size: Range<Length>,
}

fn read(text: &str) -> Option<Seen<'_>> {
    let at = text.find(|c: char| c.is_ascii_digit())?;
    let (name, size) = (text.get(..at)?.trim(), text.get(at..)?.trim());
    let (name, sum) = name.strip_suffix("sum").map_or((name, false), |name| (name.trim(), true));
    Some(Seen { name, sum, size: size.parse().ok()? })
}

fn examine(x: &mut Examiner<'_, TestRecord>) {
    let record = x.view.record;
    if record.code() != Some(CodeName::Api1104) {
        return;
    }
    let wall = x.view.view.metals.iter().filter_map(Metal::thickness).min_by_key(|size| size.length());
    for (index, test) in record.tests.iter().enumerate() {
        let by_eye = matches!(test.method, TestMethod::Visual | TestMethod::Radiographic | TestMethod::Ultrasonic);
        if !by_eye || test.result != Some(TestResult::Acceptable) {
            continue;
        }
        let single = test.value.iter().map(|text| (text, "value".to_owned()));
        let several = test.values.iter().enumerate().map(|(at, text)| (text, format!("values/{at}")));
        for (text, key) in single.chain(several) {
            let Some(seen) = read(text) else { continue };
            let pointer = format!("/tests/{index}/{key}");
            x.examined(&pointer);
            let Some(row) = api_1104::acceptance(seen.name, seen.sum) else { continue };
            let Some(high) = seen.size.high().or(seen.size.low()) else { continue };
            let size = Size::stated(high, seen.size.unit());
            let Some(limit) = exceeded(row, size, wall) else { continue };
            x.report(Severity::Error, pointer, format!("{text} is more than {limit}, and is called acceptable"))
                .stated(&**text)
                .limit(limit, &row.origin.source_ref())
                .hint("write `result: not acceptable`, or the size of the report");
        }
    }
}

/// The limit that a size leaves: the figure of the code, or a share of the wall.
fn exceeded(row: &AcceptanceRow, size: Size, wall: Option<Size>) -> Option<Limit> {
    if size.over(Some(row.limit_mm), Some(row.limit_in)) {
        let (own, unit) = size.column(Some(row.limit_mm), Some(row.limit_in))?;
        return Some(measure::length_limit(Band::at(own), unit));
    }
    let (share, wall) = (row.wall_share_pct?, wall?);
    let most = wall.length().mm() * share / 100.0;
    above(size.length().mm(), most).then(|| format!("{} % of a wall of {}", figure(share), wall.text()).into())
}
