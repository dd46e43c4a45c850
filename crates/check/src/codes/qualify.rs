//! From a test record the qualified range of every variable that its code names.

use seamwright_handbook::Band;
use seamwright_handbook::measure::figure;
use seamwright_model::finding::Finding;
use seamwright_model::procedure::{CodeName, WeldType};
use seamwright_model::test_record::{TestMethod, TestRecord};
use seamwright_weld::View;

use super::code::Refusal;
use super::list::{of, title};
use super::range::Qualified;
use super::summary::{Summary, Value};

/// What a test record qualifies.
#[derive(Debug, Clone, PartialEq)]
pub struct Qualification {
    /// The code.
    pub code: CodeName,
    /// The edition whose figures were used.
    pub edition: String,
    /// The ranges, in the order of the code.
    pub ranges: Vec<Qualified>,
    /// Whether impact tests are among what was tested.
    pub toughness: bool,
    /// Why the record qualifies nothing: tests that failed, that contradict their requirement, or that the code misses. Nothing is
    /// found here; [`crate::qualified`] does.
    pub faults: Vec<Finding>,
    /// Whether a test failed or contradicts itself; tests that are missing may yet be made.
    pub failed: bool,
}

impl Qualification {
    /// Why it qualifies nothing, in words; nothing where no fault stands against the record.
    pub fn nothing(&self) -> Option<String> {
        const SAID: &str = "; the record qualifies nothing";
        let words = |fault: &'_ Finding| fault.message.replace(SAID, "");
        let reasons: Vec<String> = self.faults.iter().map(words).collect();
        let number = self.ranges.first().map(|range| range.records.join(", ")).unwrap_or_default();
        (!reasons.is_empty()).then(|| format!("{number} qualifies nothing: {}", reasons.join("; ")))
    }
}

/// The ranges that a test record qualifies under its code, or under `code` where it names none.
///
/// `Err` holds every reason why it gives none: another code, no code, a measured value that is missing or no single
/// value, or thicknesses that contradict each other.
pub fn qualify(record: &TestRecord, code: Option<CodeName>) -> Result<Qualification, Vec<Refusal>> {
    let number = &record.identification.number;
    let own = record.code();
    let code = match (own, code.filter(|code| *code != CodeName::None)) {
        (Some(own), Some(asked)) if own != asked => {
            return Err(vec![Refusal::new(
                "/code",
                format!("{number} is a record of {}, not of {}", title(own), title(asked)),
                "name a record of the code that governs, or leave the code out",
            )]);
        }
        (Some(own), _) => own,
        (None, Some(asked)) => asked,
        (None, None) => {
            return Err(vec![Refusal::new("", format!("{number} names no code of the test"), &code_hint())]);
        }
    };
    let procedure = record.to_procedure();
    let view = View::new(&procedure);
    let mut summary = Summary::of(&view);
    let refusals = gaps(record, &summary);
    if !refusals.is_empty() {
        return Err(refusals);
    }
    // Impact specimens of the coupon show its toughness, whether or not the record says that it was asked for.
    summary.toughness |= record.tests.iter().any(|test| test.method == TestMethod::Impact);
    // cannot be missing: each word but `none` is a code, and none is asked for here
    let Some(own) = of(code) else { return Err(vec![]) };
    let (edition, mut ranges) = own.ranges(record, &summary).map_err(|refusal| vec![refusal])?;
    for range in &mut ranges {
        range.records = vec![number.to_string()];
    }
    Ok(Qualification { code, edition, ranges, toughness: summary.toughness, faults: Vec::new(), failed: false })
}

/// How to name a code.
fn code_hint() -> String {
    let codes = CodeName::ALL.iter().filter(|code| of(**code).is_some());
    let words: Vec<&str> = codes.map(|code| code.as_str()).collect();
    let (last, others) = words.split_last().unwrap_or((&"", &[]));
    format!("write `code: {}` or `{last}` and `edition:`", others.join("`, `"))
}

/// Measured values that no range can do without.
fn gaps(record: &TestRecord, summary: &Summary<'_>) -> Vec<Refusal> {
    let mut refusals = Vec::new();
    if record.parent_metals.is_empty() {
        refusals.push(Refusal::new(
            "/parent_metals",
            "the base metal of the coupon is missing",
            "write `parent_metals:` with specification and measured thickness",
        ));
    }
    for (index, metal) in record.parent_metals.iter().enumerate() {
        if metal.thickness.is_none() {
            refusals.push(Refusal::new(
                format!("/parent_metals/{index}"),
                format!("the measured thickness of {} is missing", metal.specification),
                "write `thickness:` as it was measured",
            ));
        }
    }
    for value in summary.thickness.iter().chain(&summary.diameter) {
        single(value, "what was measured on the coupon", &mut refusals);
    }
    if summary.processes.is_empty() {
        refusals.push(Refusal::new(
            "/runs",
            "the welding process of the coupon is missing",
            "write `process:` in each run, or the block of a process",
        ));
    }
    let several = summary.processes.len() > 1;
    for process in &summary.processes {
        match &process.deposit {
            Some(deposit) => single(deposit, "what was deposited on the coupon", &mut refusals),
            None if several && summary.weld.is_none_or(WeldType::has_groove) => refusals.push(Refusal::new(
                process.pointer.clone(),
                format!("the thickness deposited with {} is missing", process.name),
                "write `deposit_thickness:` in the block of each process of a coupon of several processes",
            )),
            None => {}
        }
        if summary.toughness && process.heat_input.is_empty() {
            refusals.push(Refusal::new(
                process.pointer.clone(),
                format!("impact tests are asked for, and the measured heat input of {} is missing", process.name),
                "write current, voltage and travel speed of each run as they were measured",
            ));
        }
        if process.fillers.is_empty() {
            refusals.push(Refusal::new(
                process.pointer.clone(),
                format!("the filler of {} is missing", process.name),
                "write `filler:` with its designation under `fillers:`, or `filler: none`",
            ));
        }
    }
    if let Some(message) = thickness_contradiction(summary) {
        refusals.push(Refusal { pointer: message.1, message: message.0, hint: Some(message.2) });
    }
    refusals
}

fn single(value: &Value<Band>, what: &str, refusals: &mut Vec<Refusal>) {
    if !value.value.is_single() {
        refusals.push(Refusal::new(
            value.pointer.clone(),
            format!("{} is no single value; a record states {what}", value.stated),
            "write the one value that was measured",
        ));
    }
}

/// Message, place and hint where the deposits of the processes contradict the coupon's thickness.
pub(crate) fn thickness_contradiction(summary: &Summary<'_>) -> Option<(String, String, String)> {
    let full = summary.weld.is_none_or(|weld| weld == WeldType::Groove) && summary.view.full_penetration();
    let coupon = summary.thinnest()?.value.low_end()?;
    let deposits: Option<Vec<f64>> = summary
        .processes
        .iter()
        .map(|process| process.deposit.as_ref().and_then(|deposit| deposit.value.low_end()))
        .collect();
    let sum: f64 = deposits.filter(|deposits| !deposits.is_empty())?.iter().sum();
    let share = seamwright_handbook::coupon_tests::DEPOSIT_SUM.value;
    if !full || share.contains(sum / coupon) {
        return None;
    }
    let pointer = summary.processes.iter().find_map(|process| Some(process.deposit.as_ref()?.pointer.clone()))?;
    Some((
        format!(
            "the deposits add up to {} mm in a coupon of {} mm; the record contradicts itself",
            figure(sum),
            figure(coupon)
        ),
        pointer,
        format!(
            "mend the deposit of each process or the thickness; together they make {} to {} times the thickness",
            figure(share.low),
            figure(share.high)
        ),
    ))
}
