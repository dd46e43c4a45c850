//! What the parts of ISO 15614 have in common: the range of each variable over the tables of a part.

use seamwright_calc::band::SLACK;
use seamwright_handbook::measure::figure;
use seamwright_handbook::qualified::{Row as RangeRow, Span, Variable, variables_of};
use seamwright_handbook::{Band, Rule, positions, rule};
use seamwright_model::procedure::{TransferMode, WeldType};
use seamwright_model::test_record::{TestMethod, TestRecord};
use seamwright_weld::view::Metal;

use super::changed::{Changed, Classified, beyond};
use super::code::{Keyed, Refusal};
use super::range::{Bounds, Effect, Qualified, without_cap};
use super::summary::{ProcessSummary, Summary, Treatment, Value};
use super::words::{clause, distinct, least_preheat, own_name, pair, treatment_word};

/// The row of a quantity that a tested value (mm) covers, by edition and level and whether one run made the weld.
type RangeOf = fn(&str, (&'static str, &'static str), f64, bool) -> Option<(Span, &'static RangeRow)>;

/// A part of ISO 15614 by its tables.
pub(super) struct Part {
    /// What it is called.
    pub title: &'static str,
    /// The edition whose figures are used, and the level where it has them.
    pub issue: (&'static str, &'static str),
    /// Its ranges.
    pub range: RangeOf,
    /// Its rules.
    pub rules: fn() -> &'static [Rule],
    /// Its variables.
    pub variables: fn() -> &'static [Variable],
}

/// Group of ISO/TR 15608 of a metal, as stated or from the handbook.
pub(super) fn group<'d>(metal: &Metal<'d>) -> Option<&'d str> {
    metal.stated.group.as_deref().or_else(|| metal.known.and_then(|known| known.iso_group))
}

/// The whole group, as a number.
pub(super) fn whole_group(metal: &Metal<'_>) -> Option<u32> {
    group(metal)?.split('.').next()?.parse().ok()
}

/// How a metal is named in ranges: its group, or its own name where it has none.
pub(super) fn label(metal: &Metal<'_>) -> String {
    group(metal).map_or_else(|| own_name(metal), str::to_owned)
}

/// A range by a row of a table.
fn sized(variable: &'static str, (span, row): (Span, &RangeRow), tested: f64) -> Qualified {
    let mut range = Qualified::span(variable, &clause(&row.origin), span.band, "mm", row.origin.source_ref())
        .tested(format!("{} mm", figure(tested)));
    range.note = row.origin.doubt.map(str::to_owned);
    range
}

impl Part {
    /// The ranges of a record; `covered` says which groups a test of a metal covers.
    pub(super) fn ranges(
        &self,
        record: &TestRecord,
        tested: &Summary<'_>,
        covered: impl Fn(&Metal<'_>) -> Vec<String>,
    ) -> Vec<Qualified> {
        let mut ranges = Vec::new();
        self.base_metals(tested, covered, &mut ranges);
        if tested.weld.is_none_or(WeldType::has_groove) {
            self.butt(record, tested, &mut ranges);
        } else {
            self.fillet(tested, &mut ranges);
        }
        self.diameter(tested, &mut ranges);
        self.weld_type(tested, &mut ranges);
        let hardness = record.tests.iter().any(|test| test.method == TestMethod::Hardness);
        for process in &tested.processes {
            self.of_process(tested, process, hardness, &mut ranges);
        }
        self.position(tested, hardness, &mut ranges);
        self.temperatures(tested, &mut ranges);
        ranges
    }

    /// Refuses a coupon of a metal whose group the part does not take; `instead` is what to write for another group.
    pub(super) fn refuse(
        &self,
        tested: &Summary<'_>,
        takes: impl Fn(u32) -> bool,
        (kind, instead): (&str, impl Fn(u32) -> &'static str),
    ) -> Result<(), Refusal> {
        let metals = &tested.view.metals;
        for metal in metals.first().into_iter().chain(metals.last()) {
            let Some(whole) = whole_group(metal).filter(|whole| !takes(*whole)) else { continue };
            let message = format!("{} is {kind}; {} does not cover it", metal.stated.specification, self.title);
            return Err(Refusal::new(metal.pointer("specification"), message, instead(whole)));
        }
        Ok(())
    }

    fn level_1(&self) -> bool {
        self.issue.1 == "1"
    }

    /// A rule, of the level where the levels differ.
    pub(super) fn rule(&self, name: &str) -> Option<&'static Rule> {
        let rules = (self.rules)();
        let own = self.level_1().then(|| rule::get(rules, &format!("{name}-level-1"))).flatten();
        own.or_else(|| rule::get(rules, name))
    }

    pub(super) fn variable(&self, name: &str) -> Option<&'static Variable> {
        (self.variables)().iter().find(|row| row.variable == name)
    }

    fn size(&self, quantity: &str, tested_mm: f64, tested: &Summary<'_>) -> Option<(Span, &'static RangeRow)> {
        (self.range)(quantity, self.issue, tested_mm, tested.single_run)
    }

    /// A variable of the table, as a set.
    fn named(&self, variable: &'static str, words: Vec<String>) -> Option<Qualified> {
        let row = self.variable(variable)?;
        (!words.is_empty()).then(|| {
            Qualified::set(variable, row.paragraph, words, row.origin.source_ref())
                .effect(Effect::of(row.category, true))
        })
    }

    /// Groups of metal that the coupon covers.
    fn base_metals(
        &self,
        tested: &Summary<'_>,
        covered: impl Fn(&Metal<'_>) -> Vec<String>,
        ranges: &mut Vec<Qualified>,
    ) {
        let metals = &tested.view.metals;
        let (Some(first), Some(last)) = (metals.first(), metals.last()) else { return };
        let (one, other) = (covered(first), covered(last));
        let stated = if label(first) == label(last) { label(first) } else { pair(&label(first), &label(last)) };
        let words = if one == other {
            one
        } else {
            let mut words: Vec<String> = one.iter().flat_map(|a| other.iter().map(|b| pair(a, b))).collect();
            words.sort();
            words.dedup();
            words
        };
        ranges.extend(self.named("base_metal_group", words).map(|range| range.tested(stated)));
    }

    /// Thickness of a butt weld: of the parent metal and of each process's deposit.
    fn butt(&self, record: &TestRecord, tested: &Summary<'_>, ranges: &mut Vec<Qualified>) {
        let Some(coupon) = tested.thinnest().and_then(|value| value.value.low_end()) else { return };
        let of = |variable: &'static str, thickness: f64| {
            let found = self.size("butt-thickness", thickness, tested)?;
            let mut range = sized(variable, found, thickness);
            let tested_impact = record.tests.iter().any(|test| test.method == TestMethod::Impact);
            if let Some(rule) = self.rule("impact-thickness")
                && tested.toughness
                && !tested_impact
                && found.1.tested_up_to_mm.is_some_and(|up_to| (up_to - rule.value.high).abs() < SLACK)
                && let Bounds::Span { span: Span { band, .. }, .. } = &mut range.bounds
                && band.high.is_finite()
            {
                band.high = f64::min(band.high, rule.value.high);
                range.note = Some("impact energy is asked for and was not tested".to_owned());
            }
            Some(range)
        };
        let base = of("base_metal_thickness", coupon);
        ranges.extend(base.clone());
        if let Some(rule) = self.rule("unequal-thickness").filter(|rule| coupon >= rule.value.low) {
            let tested = format!("{} mm", figure(coupon));
            ranges.push(without_cap(&clause(&rule.origin), rule.origin.source_ref(), &tested));
        }
        let alone = tested.processes.len() == 1;
        for process in &tested.processes {
            let deposit = process.deposit.as_ref().and_then(|value| value.value.low_end()).or(alone.then_some(coupon));
            let Some(deposit) = deposit else { continue };
            let range = if self.level_1() {
                base.clone().map(|base| self.deposit_of_level_1(base, deposit))
            } else {
                of("deposit_thickness", deposit)
            };
            ranges.extend(range.map(|mut range| {
                // The deposit of one process among several may be as thin as the joint allows.
                if let (Bounds::Span { span, .. }, false) = (&mut range.bounds, alone) {
                    span.band.low = f64::NEG_INFINITY;
                }
                range.process(&process.name)
            }));
        }
    }

    /// A deposit under level 1: a thin one by its own thickness, else as the parent metal.
    fn deposit_of_level_1(&self, mut base: Qualified, deposit: f64) -> Qualified {
        let thin = self.rule("thin-deposit").filter(|rule| deposit < rule.value.low);
        let most = thin.and_then(|_| self.rule("thin-deposit-factor")).map(|rule| rule.value.high * deposit);
        let Bounds::Span { span: Span { band, .. }, .. } = &mut base.bounds else { return base };
        band.high = most.unwrap_or(band.high);
        Qualified { variable: "deposit_thickness", ..base }.tested(format!("{} mm", figure(deposit)))
    }

    /// Thickness and throat of a fillet weld.
    fn fillet(&self, tested: &Summary<'_>, ranges: &mut Vec<Qualified>) {
        let thickness = tested.thinnest().and_then(|value| value.value.low_end());
        let throat = tested.throat.as_ref().and_then(|value| value.value.low_end());
        for (quantity, variable, size) in
            [("fillet-thickness", "base_metal_thickness", thickness), ("fillet-throat", "throat_thickness", throat)]
        {
            let Some(size) = size else { continue };
            ranges.extend(self.size(quantity, size, tested).map(|found| sized(variable, found, size)));
        }
    }

    /// Outside diameter; plate covers pipe from a size on.
    fn diameter(&self, tested: &Summary<'_>, ranges: &mut Vec<Qualified>) {
        let smallest = tested.diameter.iter().filter_map(|value| value.value.low_end()).reduce(f64::min);
        if let Some(diameter) = smallest {
            let found = self.size("outside-diameter", diameter, tested);
            ranges.extend(found.map(|found| sized("outside_diameter", found, diameter)));
            return;
        }
        if self.level_1() {
            return;
        }
        let flat = !tested.positions.is_empty()
            && tested.positions.iter().all(|position| matches!(position.value.as_str(), "PA" | "PC" | "1G" | "2G"));
        let rule = self.rule(if flat { "plate-covers-rotated-pipe" } else { "plate-covers-pipe" });
        let range = rule.map(|rule| {
            let ends = Band::at_least(rule.value.low);
            Qualified::span("outside_diameter", &clause(&rule.origin), ends, "mm", rule.origin.source_ref())
                .tested("plate")
        });
        ranges.extend(range.map(|range| if flat { range.note("rotated pipe; fixed pipe from 500 mm") } else { range }));
    }

    /// A butt weld covers fillets; a fillet covers fillets only.
    fn weld_type(&self, tested: &Summary<'_>, ranges: &mut Vec<Qualified>) {
        let Some(weld) = tested.weld else { return };
        let words: Vec<String> = if weld.has_groove() {
            [WeldType::Groove, WeldType::Fillet, WeldType::GrooveAndFillet].iter().map(ToString::to_string).collect()
        } else {
            vec![weld.to_string()]
        };
        ranges.extend(self.named("weld_type", words).map(|range| range.tested(weld.to_string())));
    }

    fn of_process(
        &self,
        tested: &Summary<'_>,
        process: &ProcessSummary<'_>,
        hardness: bool,
        ranges: &mut Vec<Qualified>,
    ) {
        let mut put = |range: Option<Qualified>, stated: &str| {
            ranges.extend(range.map(|range| range.process(&process.name).tested(stated)));
        };
        put(self.named("process", vec![process.number.clone()]), &process.name);
        let mechanization = distinct(&process.mechanization, |value| value.stated.clone());
        put(self.named("mechanization", mechanization.clone()), &mechanization.join(", "));
        let fillers = distinct(&process.fillers, |filler| filler.stated.clone());
        let filler = self
            .named("filler_designation", fillers.clone())
            .map(|range| range.note("another make or size of the same designation is covered"));
        put(filler, &fillers.join(", "));
        let polarity = distinct(&process.polarity, |value| value.stated.clone());
        let mut covered = polarity.clone();
        if process.number == "111" && polarity.iter().any(|word| word == "AC") && !tested.toughness {
            covered = ["AC", "DCEN", "DCEP"].map(str::to_owned).to_vec();
        }
        put(self.named("polarity", covered), &polarity.join(", "));
        let modes = distinct(&process.transfer, |mode| mode.stated.clone());
        let mut covered = modes.clone();
        let spray = [TransferMode::Spray, TransferMode::Globular];
        if process.transfer.iter().any(|mode| spray.contains(&mode.value)) {
            covered.extend(spray.map(|mode| mode.to_string()));
            covered.sort();
            covered.dedup();
        }
        put(self.named("transfer_mode", covered), &modes.join(", "));
        let gas = distinct(&process.gas, |gas| gas.value.clone());
        put(self.named("shielding_gas", gas.clone()), &gas.join(", "));
        self.heat_input(tested, process, hardness, ranges);
    }

    /// Heat input: an upper limit with impact tests, a lower one with hardness tests.
    fn heat_input(
        &self,
        tested: &Summary<'_>,
        process: &ProcessSummary<'_>,
        hardness: bool,
        ranges: &mut Vec<Qualified>,
    ) {
        let Some(hull) = ProcessSummary::hull(&process.heat_input) else { return };
        let (Some(upper), Some(lower)) = (self.rule("heat-input-upper"), self.rule("heat-input-lower")) else {
            return;
        };
        let high = hull.high_end().filter(|_| tested.toughness).map(|high| high * upper.value.high);
        let low = hull.low_end().filter(|_| hardness).map(|low| low * lower.value.low);
        let band = Band::of((low, high));
        if band == Band::ANY {
            return;
        }
        let stated = distinct(&process.heat_input, |heat| heat.stated.clone()).join(", ");
        ranges.push(
            Qualified::span("heat_input", &clause(&upper.origin), band, "kJ/mm", upper.origin.source_ref())
                .process(&process.name)
                .tested(stated)
                .effect(Effect::Supplementary)
                .note("with the thermal efficiency of ISO/TR 17671-1"),
        );
    }

    /// Any position covers all but those welded downwards; where hardness or impact counts, the coupon's position matters.
    fn position(&self, tested: &Summary<'_>, hardness: bool, ranges: &mut Vec<Qualified>) {
        let stated = distinct(&tested.positions, |position| position.stated.clone());
        if stated.is_empty() {
            return;
        }
        let down = ["PG", "PJ", "J-L045"];
        let (downs, others): (Vec<_>, Vec<_>) = tested.positions.iter().partition(|position| {
            down.contains(&position.value.as_str())
                || tested.downward == Some(true) && positions::get(&position.value).is_some_and(|row| row.vertical)
        });
        let words = [(others.is_empty(), "all but vertical downward"), (downs.is_empty(), "vertical downward")];
        let words = words.into_iter().filter(|(none, _)| !none).map(|(_, word)| word.to_owned()).collect();
        let words = if self.level_1() { vec!["all".to_owned()] } else { words };
        let range = self.named("position", words).map(|range| range.tested(stated.join(", ")));
        ranges.extend(range.map(|range| {
            if hardness || tested.toughness {
                range
                    .note("impact specimens come from the position of highest heat input, hardness from that of lowest")
            } else {
                range
            }
        }));
    }

    fn temperatures(&self, tested: &Summary<'_>, ranges: &mut Vec<Qualified>) {
        let span = |variable: &'static str, ends: Band, value: &Value<Band>| {
            let row = self.variable(variable)?;
            let range = Qualified::span(variable, row.paragraph, ends, "°C", row.origin.source_ref());
            Some(range.tested(value.stated.clone()))
        };
        if let (Some(value), Some(rule)) = (&tested.preheating, self.rule("preheat-decrease"))
            && let Some(low) = value.value.closed().low_end()
        {
            let least = least_preheat(low - rule.value.high, "°C");
            ranges.extend(span("preheating", Band::at_least(least), value));
        }
        if let (Some(value), Some(rule)) = (&tested.interpass, self.rule("interpass-increase"))
            && let Some(high) = value.value.closed().high_end()
        {
            ranges.extend(span("interpass", Band::at_most(high + rule.value.high), value));
        }
        let Some(value) = &tested.treatment else { return };
        let words = self.named("post_weld_heat_treatment", vec![treatment_word(&value.value)]);
        ranges.extend(words.map(|range| range.tested(value.stated.clone())));
        if let (Treatment::Held(held, _), Some(rule)) = (&value.value, self.rule("heat-treatment-tolerance"))
            && let Some(held) = held.bounded()
        {
            let ends = Band::new(held.low - rule.value.high, held.high + rule.value.high);
            let source = rule.origin.source_ref();
            ranges.push(
                Qualified::span("holding_temperature", &clause(&rule.origin), ends, "°C", source)
                    .tested(value.stated.clone()),
            );
        }
    }

    /// What a change of a key means, for a process.
    pub(super) fn changes(&self, process: &str, toughness: bool) -> Vec<Keyed> {
        let own = variables_of((self.variables)(), process).into_iter();
        own.map(|row| {
            let effect = Effect::of(row.category, toughness);
            let source = row.origin.source_ref();
            (row.keys, Classified::new(effect, row.paragraph, row.wording, source))
        })
        .collect()
    }

    /// Whether a change is one of the variable.
    pub(super) fn counts(&self, change: &Changed<'_>) -> bool {
        let by = |name: &str| self.rule(name).map_or(0.0, |rule| rule.value.high);
        match change.variable.reference.as_str() {
            "8.3.1" if change.key == "parent_metals.specification" => change.metal_differs(|metal| metal.iso_group),
            "8.3.2" | "8.3.3" => change.outside(),
            "8.4.2" if change.key == "positions" => change.positions_added(),
            "8.4.7" => change.heat(true).is_none_or(|(old, new)| beyond(old, new, 0.0, 0.0)),
            "8.4.8" => change.lower_by_more(by("preheat-decrease")),
            "8.4.9" => change.higher_by_more(by("interpass-increase")),
            _ => true,
        }
    }
}
