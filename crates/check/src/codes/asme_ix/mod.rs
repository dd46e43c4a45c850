//! ASME BPVC Section IX: ranges of a procedure qualification, QW-451 and QW-250.

mod changes;
mod contents;
mod welders;

use seamwright_handbook::asme_ix::{self as tables, VariableRow};
use seamwright_handbook::measure::{self, figure};
use seamwright_handbook::{Band, Basis, Size, SourceRef, variables};
use seamwright_handbook::{filler_classes, positions, processes};
use seamwright_model::procedure::{TransferMode, WeldType};
use seamwright_model::shop::WelderTest;
use seamwright_model::stated::{Date, Stated};
use seamwright_model::test_record::{TestMethod, TestRecord};
use seamwright_weld::view::Metal;
use seamwright_weld::{View, consumption};

use crate::codes::asks::Item;
use crate::codes::code::{Code, Judge, Refusal, Weld};
use crate::codes::range::{Bounds, Effect, Qualified, without_cap};
use crate::codes::summary::{ProcessSummary, Summary, Treatment, Value};
use crate::codes::welders::test::continuity;
use crate::codes::words::{at_clause, clause, distinct, least_preheat, own_name, pair, treatment_word};

/// The code.
pub(super) struct AsmeIx;

impl Code for AsmeIx {
    fn word(&self) -> &'static str {
        "asme-ix"
    }

    fn ranges(&self, record: &TestRecord, tested: &Summary<'_>) -> Result<(String, Vec<Qualified>), Refusal> {
        ranges(record, tested)
    }

    /// QW-200.4, from memory: each process or filler within the deposit of a record of its own.
    fn combines_by_deposit(&self) -> bool {
        true
    }

    /// QW-153.1(d), from memory: by the figure of `test-record-rules`.
    fn allows_break_in_base_metal(&self) -> bool {
        true
    }

    fn judge(&self) -> Judge {
        Judge { label, variables: changes::variables, counts: changes::counts }
    }

    fn asks(&self, view: &View<'_>) -> Vec<Item> {
        contents::asks(view)
    }

    fn paragraphs(&self, key: &str, view: &View<'_>) -> Vec<String> {
        let used = |number: &&str| view.runs.iter().any(|run| run.number() == *number);
        let rows = variables::get(key).map(variables::Row::asme_ix).unwrap_or_default();
        rows.into_iter().filter(|row| row.processes.iter().any(used)).map(|row| row.paragraph.to_owned()).collect()
    }

    /// Shops under ASME codes preheat by P-Number and thickness, and ask for less.
    fn preheat_by_formula(&self) -> bool {
        false
    }

    fn stated(
        &self,
        variable: &str,
        _summary: &Summary<'_>,
        process: Option<&ProcessSummary<'_>>,
    ) -> Vec<Value<String>> {
        let (letter, number): (_, fn(&filler_classes::Row) -> Option<&'static str>) = match variable {
            "f_number" => ("F", |row| row.f_no),
            "a_number" => ("A", |row| row.a_no),
            _ => return Vec::new(),
        };
        let fillers = process.map(|own| own.fillers.as_slice()).unwrap_or_default();
        let values = fillers.iter().filter_map(|filler| {
            let value = format!("{letter}-{}", number(filler.value?)?);
            Some(Value { stated: format!("{value} ({})", filler.stated), value, pointer: filler.pointer.clone() })
        });
        values.collect()
    }

    fn welder(&self, test: &WelderTest) -> Vec<Qualified> {
        welders::ranges(test)
    }

    fn lapses(&self, test: &WelderTest) -> Vec<(Date, &'static str)> {
        continuity(test, tables::CONTINUITY)
    }

    fn speaks_of(&self, variable: &str, weld: Weld) -> bool {
        if variable == "base_metal_thickness" { weld.fillet } else { weld.has_position(variable) }
    }

    fn not_covered(&self, range: &Qualified, summary: &Summary<'_>, process: &ProcessSummary<'_>) -> Vec<String> {
        welders::not_covered(range, summary, process)
    }
}

/// The editions whose figures the tables hold.
const EDITION: &str = "2021 and 2023";

/// How a metal is named in ranges: its P-Number, or its own name where it has none.
fn label(metal: &Metal<'_>) -> String {
    metal.p_number().map_or_else(|| own_name(metal), |number| format!("P-{number}"))
}

/// The ranges of a record, and the edition.
fn ranges(record: &TestRecord, tested: &Summary<'_>) -> Result<(String, Vec<Qualified>), Refusal> {
    let mut ranges = Vec::new();
    let groove = tested.weld.is_none_or(WeldType::has_groove);
    base_metals(tested, &mut ranges);
    if groove {
        thickness(record, tested, &mut ranges)?;
        diameter("QW-451.4", "groove tests", &mut ranges);
    } else if let Some(source) = statement("fillet tests") {
        for variable in ["base_metal_thickness", "outside_diameter", "throat_thickness"] {
            ranges.push(Qualified::new(variable, "QW-451.3", Bounds::All, source.clone()));
        }
    }
    for process in &tested.processes {
        of_process(tested, process, groove, &mut ranges);
    }
    temperatures(tested, &mut ranges);
    Ok((EDITION.to_owned(), ranges))
}

fn statement(subject: &str) -> Option<SourceRef> {
    tables::statements().iter().find(|row| row.subject == subject).map(|row| row.origin.source_ref())
}

fn diameter(reference: &str, subject: &str, ranges: &mut Vec<Qualified>) {
    if let Some(source) = statement(subject) {
        ranges.push(Qualified::new("outside_diameter", reference, Bounds::All, source));
    }
}

/// The joints that the coupon's metals cover, QW-424.1.
fn base_metals(tested: &Summary<'_>, ranges: &mut Vec<Qualified>) {
    let metals = &tested.view.metals;
    let (Some(first), Some(last)) = (metals.first(), metals.last()) else { return };
    let stated = pair(&label(first), &label(last));
    let (Some(one), Some(other)) = (first.p_number(), last.p_number()) else {
        let row = tables::p_numbers().iter().find(|row| row.coupon == "unassigned");
        if let Some(row) = row {
            ranges.push(
                Qualified::set("base_metal_group", "QW-424.1", vec![stated.clone()], row.origin.source_ref())
                    .tested(stated)
                    .note("a metal without P-Number covers that metal only"),
            );
        }
        return;
    };
    // A covered joint has numbers that a row lists, or those of the coupon.
    let listed = tables::p_numbers().iter().flat_map(|row| row.first.iter().chain(row.second)).copied();
    let mut numbers: Vec<&str> =
        listed.filter(|number| !matches!(*number, "same" | "other")).chain([one, other]).collect();
    numbers.sort_unstable();
    numbers.dedup();
    let mut covered = Vec::new();
    let mut source = None;
    for (index, a) in numbers.iter().enumerate() {
        for b in numbers.get(index..).unwrap_or_default() {
            if let Some(row) = tables::p_numbers_cover((one, other), (a, b)) {
                source.get_or_insert_with(|| row.origin.source_ref());
                covered.push(pair(&format!("P-{a}"), &format!("P-{b}")));
            }
        }
    }
    if let Some(source) = source {
        ranges.push(Qualified::set("base_metal_group", "QW-424.1", covered, source).tested(stated));
    }
}

/// Thickness of the base metal, QW-451.1 or QW-451.2, with the caps and floors of QW-403.
fn thickness(record: &TestRecord, tested: &Summary<'_>, ranges: &mut Vec<Qualified>) -> Result<(), Refusal> {
    let Some(coupon) = tested.thinnest().and_then(Value::size) else { return Ok(()) };
    let longitudinal = record
        .tests
        .iter()
        .filter(|test| test.method == TestMethod::Bend)
        .any(|test| test.kind.as_deref().is_some_and(|kind| kind.contains("longitudinal")));
    let bends = if longitudinal { "longitudinal" } else { "transverse" };
    let Some(row) = tables::base_thickness(coupon, bends) else { return Ok(()) };
    let (mut own, mut other) = (row.span(coupon), row.other_span(coupon));
    let mut reference = clause(&row.origin);
    let mut source = row.origin.source_ref();
    let mut note = None;
    let mut cap = |times: f64, rule: &seamwright_handbook::Rule, why: &str| {
        let limit = |unit: &str| measure::converted(times * coupon.figure(), coupon.unit(), unit);
        if limit(own.unit) < own.band.high {
            own.band.high = limit(own.unit);
            other.band.high = limit(other.unit);
            reference = clause(&rule.origin);
            source = rule.origin.source_ref();
            note = Some(why.to_owned());
        }
    };
    let short =
        |process: &ProcessSummary<'_>| process.transfer.iter().any(|mode| mode.value == TransferMode::ShortCircuit);
    if tables::SHORT_CIRCUIT_BELOW.below(coupon) && tested.processes.iter().any(short) {
        let rule = tables::SHORT_CIRCUIT_CAP;
        cap(rule.value.high, rule, "short-circuit transfer on a thin coupon");
    }
    if tested.processes.iter().any(|process| process.thickest_run.is_some_and(|run| tables::SINGLE_PASS.over(run))) {
        let rule = tables::SINGLE_PASS_CAP;
        cap(rule.value.high, rule, "a run is thicker than 13 mm (1/2 in)");
    }
    if treated_above(tested) {
        let rule = tables::HEAT_TREATMENT_CAP;
        cap(rule.value.high, rule, "heat treated above the upper transformation temperature");
    }
    if own.band.low > own.band.high {
        return Err(Refusal::new(
            "/parent_metals/0/thickness",
            "the coupon qualifies no thickness",
            "look at the transfer mode and the thickness of each run",
        ));
    }
    let capped = note.is_some();
    let mut range = Qualified::sizes("base_metal_thickness", &reference, own, other, source).tested(coupon.text());
    // The note of the table names GMAW, and not whether flux cored wire is one.
    let wire = |own: &ProcessSummary<'_>| processes::get(&own.number).and_then(|row| row.wire);
    let cored = tested.processes.iter().any(|own| wire(own) == Some(processes::Wire::FluxCored));
    range.note = note.or_else(|| row.origin.doubt.filter(|_| cored).map(str::to_owned));
    ranges.push(range);
    if tested.toughness {
        ranges.extend(impact_floor(coupon, own.band.low));
    }
    if !capped {
        ranges.extend(thicker_member(tested, coupon));
    }
    deposits(tested, coupon, ranges);
    Ok(())
}

/// Whether the coupon was held above the upper transformation temperature, and its metals are those for which that counts.
fn treated_above(tested: &Summary<'_>) -> bool {
    let Some(Treatment::Held(held, _)) = tested.treatment.as_ref().map(|own| &own.value) else { return false };
    let above = held.closed().low >= tables::UPPER_TRANSFORMATION.value.low;
    let mut numbers = tested.view.metals.iter().filter_map(Metal::p_number);
    above && numbers.any(|number| tables::holds_for("heat-treatment-cap", number))
}

/// The least thickness where impact tests are asked for, QW-403.6, where it lies over the table's.
fn impact_floor(coupon: Size, low: f64) -> Option<Qualified> {
    let (floor, thin, share) = (tables::IMPACT_FLOOR, tables::IMPACT_THIN, tables::IMPACT_THIN_SHARE);
    let (figure, unit) = (coupon.figure(), coupon.unit());
    let (printed, _) = floor.beside(coupon);
    let least = if thin.below(coupon) { share.value.low * figure } else { figure.min(printed) };
    (low < least).then(|| {
        Qualified::span("base_metal_thickness", "QW-403.6", Band::at_least(least), unit, floor.origin.source_ref())
            .tested(coupon.text())
            .effect(Effect::Supplementary)
            .note("least thickness where impact tests are asked for")
    })
}

/// The thicker of two members of unequal thickness, QW-202.4, where it has no upper limit.
fn thicker_member(tested: &Summary<'_>, coupon: Size) -> Option<Qualified> {
    let metals = &tested.view.metals;
    let (first, last) = (metals.first()?.p_number()?, metals.last()?.p_number()?);
    let listed = first == last && tables::holds_for("dissimilar-uncapped-listed", first);
    let rule = if listed { tables::DISSIMILAR_UNCAPPED_LISTED } else { tables::DISSIMILAR_UNCAPPED };
    (!rule.below(coupon)).then(|| without_cap(&clause(&rule.origin), rule.origin.source_ref(), &coupon.text()))
}

/// Deposit of each process, QW-451.1 and QW-404.30.
fn deposits(tested: &Summary<'_>, coupon: Size, ranges: &mut Vec<Qualified>) {
    let alone = tested.processes.len() == 1;
    for process in &tested.processes {
        let deposit = process.deposit.as_ref().and_then(Value::size).or(alone.then_some(coupon));
        let Some((deposit, (size, row))) =
            deposit.and_then(|deposit| Some((deposit, tables::deposit_thickness(deposit, coupon)?)))
        else {
            continue;
        };
        let mut range = Qualified::sizes(
            "deposit_thickness",
            &clause(&row.origin),
            row.span(size),
            row.other_span(size),
            row.origin.source_ref(),
        );
        let short = process.transfer.iter().any(|mode| mode.value == TransferMode::ShortCircuit);
        if short && tables::SHORT_CIRCUIT_BELOW.below(coupon) {
            let rule = tables::SHORT_CIRCUIT_DEPOSIT_CAP;
            range = Qualified::span(
                "deposit_thickness",
                &clause(&rule.origin),
                Band::at_most(rule.value.high * deposit.figure()),
                deposit.unit(),
                rule.origin.source_ref(),
            );
        }
        ranges.push(range.process(&process.name).tested(deposit.text()));
        by_f_number(tested, process, coupon, ranges);
    }
}

/// The deposit of each F-Number of a process by itself, where its runs have several and state what each deposits.
fn by_f_number(tested: &Summary<'_>, process: &ProcessSummary<'_>, coupon: Size, ranges: &mut Vec<Qualified>) {
    let mut deposits: Vec<(String, Size)> = Vec::new();
    for (run, count) in consumption::counted(tested.view) {
        if run.number() != process.number {
            continue;
        }
        let range = run.run.settings.deposit_thickness.as_ref().and_then(Stated::value);
        let own = range.and_then(|range| Some(Size::stated(range.high()?, range.unit())));
        let class = run.filler(tested.view.procedure).and_then(|(_, filler)| filler_classes::find(&filler.designation));
        // A run that does not say what it deposits leaves the share of its F-Number open.
        let (Some(own), Some(f)) = (own, class.and_then(|class| class.f_no.as_ref())) else { return };
        let name = format!("F-{f}");
        let place = deposits.iter_mut().find(|(other, _)| *other == name);
        let before = place.as_ref().map_or(0.0, |(_, sum)| sum.mm());
        let Some(sum) = sum_like(own, before + own.mm() * f64::from(count)) else { return };
        match place {
            Some((_, place)) => *place = sum,
            None => deposits.push((name, sum)),
        }
    }
    if deposits.len() < 2 {
        return;
    }
    for (name, deposit) in deposits {
        let Some((size, row)) = tables::deposit_thickness(deposit, coupon) else { continue };
        ranges.push(
            Qualified::sizes(
                "deposit_thickness",
                &clause(&row.origin),
                row.span(size),
                row.other_span(size),
                row.origin.source_ref(),
            )
            .process(&format!("{} with {name}", process.name))
            .tested(deposit.text()),
        );
    }
}

/// A length of so many millimetres in the unit of another.
fn sum_like(unit: Size, mm: f64) -> Option<Size> {
    if unit.is_customary() { Size::from_inches(measure::converted(mm, "mm", "in")) } else { Size::from_mm(mm) }
}

/// What holds for one process.
fn of_process(tested: &Summary<'_>, process: &ProcessSummary<'_>, groove: bool, ranges: &mut Vec<Qualified>) {
    let rows = tables::variables_of(&process.number);
    let row = |paragraph: &str| rows.iter().copied().find(|row| row.paragraph == paragraph);
    let mut put = |row: Option<&VariableRow>, variable, words: Vec<String>, stated: String| {
        if let Some(row) = row.filter(|_| !words.is_empty()) {
            ranges.push(
                Qualified::set(variable, row.paragraph, words, at_clause(&row.origin, row.paragraph))
                    .process(&process.name)
                    .tested(stated)
                    .effect(Effect::of(row.category, tested.toughness)),
            );
        }
    };
    let numbers = |of: &dyn Fn(&seamwright_handbook::filler_classes::Row) -> Option<String>| -> Vec<String> {
        let mut words: Vec<String> = process.fillers.iter().filter_map(|filler| of(filler.value?)).collect();
        words.sort();
        words.dedup();
        words
    };
    let classes = distinct(&process.fillers, |filler| filler.stated.clone());
    let f = numbers(&|row| row.f_no.map(|number| format!("F-{number}")));
    put(row("QW-404.4"), "f_number", f, classes.join(", "));
    let mut a = numbers(&|row| row.a_no.map(|number| format!("A-{number}")));
    // cover each other (asme-ix-statements).
    for (one, other) in [("A-1", "A-2"), ("A-2", "A-1")] {
        if a.iter().any(|own| own == one) && !a.iter().any(|own| own == other) {
            a.push(other.to_owned());
        }
    }
    put(row("QW-404.5"), "a_number", a, classes.join(", "));
    if tested.toughness {
        put(row("QW-404.12"), "filler_designation", classes.clone(), classes.join(", "));
    }
    let gas = distinct(&process.gas, |gas| gas.value.clone());
    put(row("QW-408.2"), "shielding_gas", gas.clone(), gas.join(", "));
    let modes = distinct(&process.transfer, |mode| mode.stated.clone());
    let mut covered = modes.clone();
    // Spray, globular and pulsed cover each other; short-circuit transfer stands alone (QW-409.2).
    if process.transfer.iter().any(|mode| mode.value != TransferMode::ShortCircuit) {
        for word in [TransferMode::Spray, TransferMode::Globular, TransferMode::Pulsed].map(|mode| mode.to_string()) {
            if !covered.contains(&word) {
                covered.push(word);
            }
        }
    }
    put(row("QW-409.2"), "transfer_mode", covered, modes.join(", "));
    let polarity = distinct(&process.polarity, |polarity| polarity.stated.clone());
    put(row("QW-409.4"), "polarity", polarity.clone(), polarity.join(", "));
    let codes = distinct(&tested.positions, |position| position.stated.clone());
    let upward = tested.positions.iter().filter_map(|position| positions::get(&position.value)).any(|row| row.vertical)
        && tested.downward == Some(false);
    if groove || !codes.is_empty() {
        let words = if tested.toughness && !upward {
            vec!["all but vertical upward".to_owned()]
        } else {
            vec!["all".to_owned()]
        };
        let position = if tested.toughness { row("QW-405.2") } else { row("QW-405.1") };
        put(position, "position", words, codes.join(", "));
    }
    if let (true, Some(row), Some(highest)) = (
        tested.toughness,
        row("QW-409.1"),
        process.arc_energy.iter().filter_map(|heat| heat.value.high_end()).reduce(f64::max),
    ) {
        ranges.push(
            Qualified::span(
                "heat_input",
                row.paragraph,
                Band::at_most(highest),
                "kJ/mm",
                at_clause(&row.origin, row.paragraph),
            )
            .process(&process.name)
            .tested(format!("{} kJ/mm", figure(highest)))
            .effect(Effect::Supplementary)
            .note("volts times amperes over travel speed, without thermal efficiency"),
        );
    }
    let own = rows.first().map(|row| (clause(&row.origin), row.origin.source_ref()));
    let (reference, source) = own.unwrap_or_else(|| {
        let source = SourceRef {
            edition: Some(EDITION.into()),
            clause: Some("QW-250".into()),
            ..SourceRef::plain("ASME BPVC Section IX", Basis::FromMemory)
        };
        ("QW-250".to_owned(), source)
    });
    ranges.push(
        Qualified::set("process", &reference, vec![process.number.clone()], source)
            .process(&process.name)
            .tested(process.name.clone()),
    );
}

/// Preheat, interpass temperature and heat treatment: QW-406 and QW-407.
fn temperatures(tested: &Summary<'_>, ranges: &mut Vec<Qualified>) {
    if let Some(value) = &tested.preheating
        && let Some(low) = value.value.closed().low_end()
    {
        let rule = tables::PREHEAT_DECREASE;
        let (step, unit) = rule.heat().column(value.is_customary());
        ranges.push(
            Qualified::span(
                "preheating",
                &clause(&rule.origin),
                Band::at_least(least_preheat(measure::converted(low, "°C", unit) - step, unit)),
                unit,
                rule.origin.source_ref(),
            )
            .tested(value.stated.clone()),
        );
    }
    if let (true, Some(value)) = (tested.toughness, &tested.interpass)
        && let Some(high) = value.value.closed().high_end()
    {
        let rule = tables::INTERPASS_INCREASE;
        let (step, unit) = rule.heat().column(value.is_customary());
        ranges.push(
            Qualified::span(
                "interpass",
                &clause(&rule.origin),
                Band::at_most(measure::converted(high, "°C", unit) + step),
                unit,
                rule.origin.source_ref(),
            )
            .tested(value.stated.clone())
            .effect(Effect::Supplementary),
        );
    }
    let row = tested
        .processes
        .iter()
        .find_map(|process| tables::variables_of(&process.number).into_iter().find(|row| row.paragraph == "QW-407.1"));
    if let (Some(row), Some(value)) = (row, &tested.treatment) {
        ranges.push(
            Qualified::set(
                "post_weld_heat_treatment",
                row.paragraph,
                vec![treatment_word(&value.value)],
                at_clause(&row.origin, row.paragraph),
            )
            .tested(value.stated.clone()),
        );
    }
}
