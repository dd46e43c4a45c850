//! What the parts of ISO 9606 have in common: what the test of a welder covers over the tables of a part.

use seamwright_handbook::measure::figure;
use seamwright_handbook::qualified::{self, Row as RangeRow, Span};
use seamwright_handbook::{Band, Origin, Rule, SourceRef, positions, rule};
use seamwright_model::procedure::Progression;
use seamwright_model::shop::{Layers, Product, WelderTest};
use seamwright_model::stated::Date;

use super::range::Qualified;
use super::summary::Summary;
use super::welders::test::{TURNED_PIPE, is_groove, later, length};
use super::words::clause;

/// Positions that a row of a table covers, and the row's origin.
pub(super) type Covered = (&'static [&'static str], &'static Origin);

/// A part of ISO 9606 by its tables.
pub(super) struct Part {
    /// The processes that a test with one covers.
    pub processes: fn(&str) -> Vec<String>,
    /// The kinds of weld that a groove covers.
    pub groove_covers: &'static [&'static str],
    /// Its ranges.
    pub ranges: fn() -> &'static [RangeRow],
    /// Its rules.
    pub rules: fn() -> &'static [Rule],
    /// What a test of a butt or fillet in a position covers.
    pub positions: fn(&str, &str) -> Vec<Covered>,
    /// The standard, for what stands in no row.
    pub source: fn() -> Option<SourceRef>,
    /// Clause or table of the processes, of the kind of weld, and of backing and layers.
    pub clauses: [&'static str; 3],
}

impl Part {
    /// Process, weld, deposit, diameter, product, position, backing and layers; `own` are those of the part alone.
    pub(super) fn ranges(&self, test: &WelderTest, own: impl IntoIterator<Item = Qualified>) -> Vec<Qualified> {
        let Some(source) = (self.source)() else { return Vec::new() };
        let memory = |clause: &'static str| SourceRef { clause: Some(clause.into()), others: 0, ..source.clone() };
        let set = |variable, clause, words: &[&str], tested: &str| {
            Qualified::set(variable, clause, words.iter().copied(), memory(clause)).tested(tested)
        };
        let [of_process, of_weld, of_details] = self.clauses;
        let groove = is_groove(test);
        let mut ranges = Vec::new();
        let processes = (self.processes)(&test.process);
        ranges.push(
            Qualified::set("process", of_process, processes, memory(of_process)).tested(test.process.to_string()),
        );
        let tested = test.weld.map_or_else(|| "groove".to_owned(), |weld| weld.to_string());
        ranges.push(set("weld_type", of_weld, if groove { self.groove_covers } else { &["fillet"] }, &tested));
        ranges.extend(own);
        self.sizes(test, groove, &mut ranges);
        self.position(test, groove, &mut ranges);
        if let (true, Some(backing)) = (groove, test.backing) {
            let words: &[&str] = if backing.0 { &["with backing"] } else { &["with backing", "without backing"] };
            let tested = if backing.0 { "with backing" } else { "without backing" };
            ranges.push(set("backing", of_details, words, tested));
        }
        if let (false, Some(layers)) = (groove, test.layers) {
            let words: &[&str] = if layers == Layers::Single { &["single"] } else { &["single", "multiple"] };
            ranges.push(set("layers", of_details, words, layers.as_str()));
        }
        ranges
    }

    fn rule(&self, name: &str) -> Option<&'static Rule> {
        rule::get((self.rules)(), name)
    }

    fn range(&self, quantity: &str, tested_mm: f64) -> Option<(Span, &'static RangeRow)> {
        qualified::in_mm((self.ranges)(), quantity, tested_mm)
    }

    /// Thickness, outside diameter and product.
    fn sizes(&self, test: &WelderTest, groove: bool, ranges: &mut Vec<Qualified>) {
        let sized = |variable, (span, row): (Span, &RangeRow), tested: f64| {
            let ends = span.band;
            let mut range = Qualified::span(variable, &clause(&row.origin), ends, "mm", row.origin.source_ref())
                .tested(format!("{} mm", figure(tested)));
            range.note = row.condition.map(str::to_owned);
            range
        };
        let size = length(test.deposit_thickness.as_ref()).or_else(|| length(test.thickness.as_ref()));
        let (quantity, variable) =
            if groove { ("butt-deposit", "deposit_thickness") } else { ("fillet-thickness", "base_metal_thickness") };
        ranges.extend(size.and_then(|size| Some(sized(variable, self.range(quantity, size)?, size))));
        let diameter = length(test.outside_diameter.as_ref());
        let product = test.product.unwrap_or(if diameter.is_some() { Product::Pipe } else { Product::Plate });
        let from = |name: &str, variable: &'static str| {
            let rule = self.rule(name)?;
            let ends = Band::at_least(rule.value.low);
            let range = Qualified::span(variable, &clause(&rule.origin), ends, "mm", rule.origin.source_ref());
            Some(range.tested("plate"))
        };
        ranges.extend(match (product, diameter) {
            (Product::Pipe, Some(diameter)) => {
                self.range("outside-diameter", diameter).map(|found| sized("outside_diameter", found, diameter))
            }
            _ => from("plate-covers-fixed-pipe", "outside_diameter"),
        });
        if product == Product::Plate {
            let turned = from("plate-covers-rotated-pipe", TURNED_PIPE);
            ranges.extend(turned.map(|range| range.note("pipe that is turned, in PA, PB, PC and PD")));
        }
        if let (Product::Pipe, Some(diameter), Some(rule)) = (product, diameter, self.rule("pipe-covers-plate")) {
            let plate = (diameter > rule.value.high).then_some("plate");
            let words = [Some("pipe"), plate].into_iter().flatten();
            ranges.push(
                Qualified::set("product", &clause(&rule.origin), words, rule.origin.source_ref())
                    .tested(format!("pipe of {} mm", figure(diameter))),
            );
        }
    }

    fn position(&self, test: &WelderTest, groove: bool, ranges: &mut Vec<Qualified>) {
        let mut words: Vec<&'static str> = Vec::new();
        let mut source = None;
        for position in &test.positions {
            let rows = (self.positions)(if groove { "butt" } else { "fillet" }, &iso_code(position, test));
            for (covers, origin) in rows {
                source.get_or_insert(origin);
                let new: Vec<_> = covers.iter().filter(|word| !words.contains(word)).collect();
                words.extend(new);
            }
        }
        if let Some(origin) = source {
            let tested: Vec<&str> = test.positions.iter().map(|text| &**text).collect();
            let range = Qualified::set("position", &clause(origin), words, origin.source_ref());
            ranges.push(range.tested(tested.join(", ")));
        }
    }

    /// The days on which a test may lapse, and why.
    pub(super) fn lapses(&self, test: &WelderTest) -> Vec<(Date, &'static str)> {
        let used = later(test.last_use.unwrap_or(test.date), self.rule("confirmation"), 1);
        let retest = test.valid_until.or_else(|| later(test.date, self.rule("retest"), 12));
        let used = used.map(|date| (date, "use is confirmed each six months"));
        used.into_iter().chain(retest.map(|date| (date, "the test is to be repeated"))).collect()
    }
}

/// What a product that was tested does not cover.
pub(super) fn plate_not_covered(range: &Qualified, summary: &Summary<'_>) -> Vec<String> {
    let outside = range.variable == "product" && !summary.is_pipe() && !range.has("plate");
    outside
        .then(|| format!("plate, the test covers {} ({})", range.bounds.text(), range.reference))
        .into_iter()
        .collect()
}

/// A position by its code of ISO 6947, where the progression tells it from the other way round.
fn iso_code(text: &str, test: &WelderTest) -> String {
    let Some(row) = positions::get(text) else { return text.to_owned() };
    if row.system == "iso" {
        return row.code.to_owned();
    }
    let down = test.progression == Some(Progression::Downward);
    let mut codes = row.equivalent.iter().filter(|code| {
        positions::get(code).is_some_and(|own| {
            own.progression != if down { positions::Progression::Upward } else { positions::Progression::Downward }
        })
    });
    codes.next().or(row.equivalent.first()).copied().unwrap_or(row.code).to_owned()
}
