//! The variables of a procedure or a test record as codes see them, each with its place.

use seamwright_handbook::filler_classes::{self, Row as FillerRow};
use seamwright_handbook::measure::{self, band};
use seamwright_handbook::positions;
use seamwright_handbook::{Band, Size};
use seamwright_model::procedure::{
    BackingType, Key, Mechanization, ParentMetal, Polarity, Progression, Settings, TransferMode, WeldType, keys,
    toughness,
};
use seamwright_model::quantity::{
    Current, Duration, Flow, HeatInput, Length, Quantity, Range, Speed, Temperature, Voltage,
};
use seamwright_model::source::escape;
use seamwright_model::stated::{OrNone, Stated};
use seamwright_weld::view::{Located, Metal, gas_row};
use seamwright_weld::{RunView, View, heat};

/// A value, as it is written, and where.
#[derive(Debug, Clone, PartialEq)]
pub struct Value<T> {
    /// The value.
    pub value: T,
    /// The value as written.
    pub stated: String,
    /// JSON pointer.
    pub pointer: String,
}

impl Value<Band> {
    /// A stated range as figures, with its place.
    pub fn of<Q: Quantity>(range: &Range<Q>, figure: impl Fn(Q) -> f64, pointer: String) -> Self {
        Self { value: band(range, figure), stated: range.spelled().to_owned(), pointer }
    }

    /// A stated length in its own unit: the lower end of a range.
    pub fn size(&self) -> Option<Size> {
        let range: Range<Length> = self.stated.parse().ok()?;
        Some(Size::stated(range.low().or(range.high())?, range.unit()))
    }

    /// Whether it is stated in a US customary unit, such as inches or degrees Fahrenheit.
    pub fn is_customary(&self) -> bool {
        let length = self.stated.parse::<Range<Length>>().map(|range| range.unit());
        let unit = length.or_else(|_| self.stated.parse::<Range<Temperature>>().map(|range| range.unit()));
        unit.is_ok_and(measure::is_customary)
    }
}

/// Post-weld heat treatment.
#[derive(Debug, Clone, PartialEq)]
pub enum Treatment {
    /// None on purpose.
    None,
    /// Holding temperature in °C and time in minutes, where they are stated.
    Held(Band, Band),
}

/// The variables of a document.
pub struct Summary<'d> {
    /// The document.
    pub view: &'d View<'d>,
    /// Thickness of each metal, mm.
    pub thickness: Vec<Value<Band>>,
    /// Outside diameter of each metal, mm.
    pub diameter: Vec<Value<Band>>,
    /// Kind of weld.
    pub weld: Option<WeldType>,
    /// Leg length of a fillet as a throat, or its throat, mm.
    pub throat: Option<Value<Band>>,
    /// Positions by their codes.
    pub positions: Vec<Value<String>>,
    /// Whether every vertical position is welded downwards, where that is known.
    pub downward: Option<bool>,
    /// Preheating temperature, °C.
    pub preheating: Option<Value<Band>>,
    /// Interpass temperature, °C.
    pub interpass: Option<Value<Band>>,
    /// Longest time between runs, min.
    pub between: Option<Value<Band>>,
    /// Post-weld heat treatment.
    pub treatment: Option<Value<Treatment>>,
    /// Whether impact tests are asked for.
    pub toughness: bool,
    /// Whether one run makes the weld.
    pub single_run: bool,
    /// What holds for each process.
    pub processes: Vec<ProcessSummary<'d>>,
}

/// A figure of a process that codes give a range.
#[derive(Debug, Clone)]
pub struct Figure {
    /// What a qualified range calls it: `travel_speed`.
    pub variable: &'static str,
    /// The words by which the tables of codes name it: `settings.travel_speed`.
    pub key: &'static str,
    /// `A`, `V`, `mm/min`, `L/min` or `mm`.
    pub unit: &'static str,
    /// What is stated, from the least to the most of all runs, and in the words of each.
    pub value: Value<Band>,
    /// What is stated, each at its place.
    pub each: Vec<Value<Band>>,
}

impl Figure {
    /// What is stated at several places; nothing where none is.
    fn of(variable: &'static str, key: &'static str, unit: &'static str, each: Vec<Value<Band>>) -> Option<Self> {
        let hull = ProcessSummary::hull(&each)?;
        let mut words: Vec<&str> = Vec::new();
        for own in &each {
            if !words.contains(&own.stated.as_str()) {
                words.push(&own.stated);
            }
        }
        let value = Value { value: hull, stated: words.join(", "), pointer: each.first()?.pointer.clone() };
        Some(Self { variable, key, unit, value, each })
    }
}

/// The variables of a process.
#[derive(Clone)]
pub struct ProcessSummary<'d> {
    /// Name as written: number or letters.
    pub name: String,
    /// ISO 4063 number; the name where the handbook does not know it.
    pub number: String,
    /// JSON pointer of its block, or of its first run.
    pub pointer: String,
    /// Thickness of its deposit, mm.
    pub deposit: Option<Value<Band>>,
    /// Largest thickness of one run, where runs state it.
    pub thickest_run: Option<Size>,
    /// Fillers by designation, with the handbook's row.
    pub fillers: Vec<Value<Option<&'static FillerRow>>>,
    /// Type of current and polarity.
    pub polarity: Vec<Value<Polarity>>,
    /// Metal transfer.
    pub transfer: Vec<Value<TransferMode>>,
    /// Shielding gas by its group of ISO 14175, or as written.
    pub gas: Vec<Value<String>>,
    /// Degree of mechanization.
    pub mechanization: Vec<Value<Mechanization>>,
    /// Heat input with the thermal efficiency, kJ/mm.
    pub heat_input: Vec<Value<Band>>,
    /// Arc energy without it, kJ/mm.
    pub arc_energy: Vec<Value<Band>>,
    /// Other figures.
    pub figures: Vec<Figure>,
    runs: Vec<&'d RunView<'d>>,
}

impl<'d> Summary<'d> {
    /// Reads the variables of a document.
    pub fn of(view: &'d View<'d>) -> Self {
        let procedure = view.procedure;
        let length = |metal: &Metal<'_>, key: &str, of: fn(&ParentMetal) -> &Option<Stated<Range<Length>>>| {
            Some(Value::of(of(metal.stated).as_ref()?.value()?, Length::mm, metal.pointer(key)))
        };
        let lengths = |key, of| view.metals.iter().filter_map(|metal| length(metal, key, of)).collect();
        let temperature = |key: &str, range: Option<&Range<Temperature>>| {
            Some(Value::of(range?, Temperature::celsius, format!("/temperatures/{key}")))
        };
        let required = procedure.qualification.as_ref().and_then(|own| own.toughness.as_deref());
        let mut runs = view.runs.iter().map(|run| run.numbers.1 - run.numbers.0 + 1);
        Self {
            view,
            thickness: lengths("thickness", |metal| &metal.thickness),
            diameter: lengths("outside_diameter", |metal| &metal.outside_diameter),
            weld: view.weld(),
            throat: throat(view),
            positions: positions_of(view),
            downward: downward(view),
            preheating: temperature("preheating", procedure.preheating()),
            interpass: temperature("interpass", procedure.interpass()),
            between: between(view),
            treatment: treatment(view),
            toughness: required.is_some_and(|text| !matches!(toughness(text), Ok(None))),
            single_run: runs.next() == Some(1) && runs.next().is_none() && !view.runs.iter().any(|run| run.open),
            processes: processes_of(view),
        }
    }

    /// The thinnest stated thickness, mm, with its place.
    pub fn thinnest(&self) -> Option<&Value<Band>> {
        self.thickness.iter().min_by(|one, other| {
            let low = |value: &Value<Band>| value.value.closed().low;
            low(one).total_cmp(&low(other))
        })
    }

    /// The process with this number or these letters.
    pub fn process(&self, number: &str) -> Option<&ProcessSummary<'d>> {
        self.processes.iter().find(|own| own.number == number)
    }

    /// Whether the weld is made on backing, from both sides, or has no root of its own.
    pub fn backed(&self) -> bool {
        let Some(joint) = &self.view.procedure.joint else { return false };
        let backing = matches!(&joint.backing, Some(OrNone::Is(own)) if own.kind != BackingType::Gas);
        backing || !self.view.one_sided() || self.weld == Some(WeldType::Fillet)
    }

    /// Whether the coupon or joint is pipe.
    pub fn is_pipe(&self) -> bool {
        !self.diameter.is_empty()
    }
}

impl<'d> ProcessSummary<'d> {
    /// Its runs in order.
    pub fn runs(&self) -> &[&'d RunView<'d>] {
        &self.runs
    }

    /// The hull of several stated ranges.
    pub fn hull(values: &[Value<Band>]) -> Option<Band> {
        values.iter().map(|own| own.value).reduce(Band::hull)
    }
}

/// Throat of a fillet; a leg counts as √2 throats.
fn throat(view: &View<'_>) -> Option<Value<Band>> {
    let size = view.procedure.weld_size.as_ref()?.value()?;
    let of = |value: &Option<Stated<Range<Length>>>, key: &str, per: f64| {
        let range = value.as_ref()?.value()?;
        Some(Value::of(range, |length| length.mm() * per, format!("/weld_size/{key}")))
    };
    of(&size.throat, "throat", 1.0).or_else(|| of(&size.leg, "leg", std::f64::consts::FRAC_1_SQRT_2))
}

fn positions_of(view: &View<'_>) -> Vec<Value<String>> {
    let own = view.procedure.positions.iter().enumerate().map(|(index, text)| (format!("/positions/{index}"), text));
    let runs = view.procedure.runs.iter().enumerate().flat_map(|(run, stated)| {
        stated.positions.iter().enumerate().map(move |(index, text)| (format!("/runs/{run}/positions/{index}"), text))
    });
    own.chain(runs)
        .map(|(pointer, text)| Value {
            value: positions::get(text).map_or_else(|| text.to_string(), |row| row.code.to_owned()),
            stated: text.to_string(),
            pointer,
        })
        .collect()
}

/// Whether vertical welds run downwards: as stated, or as the position implies.
fn downward(view: &View<'_>) -> Option<bool> {
    if let Some(Stated::Is(progression)) = view.procedure.progression {
        return Some(progression == Progression::Downward);
    }
    view.procedure.positions.iter().filter_map(|text| positions::get(text)).find_map(|row| match row.progression {
        positions::Progression::Upward => Some(false),
        positions::Progression::Downward => Some(true),
        _ => None,
    })
}

fn between(view: &View<'_>) -> Option<Value<Band>> {
    let range = view.procedure.temperatures.as_ref()?.time_between_runs.as_ref()?.value()?;
    Some(Value::of(range, Duration::minutes, "/temperatures/time_between_runs".to_owned()))
}

fn treatment(view: &View<'_>) -> Option<Value<Treatment>> {
    let pointer = "/temperatures/post_weld_heat_treatment".to_owned();
    match view.procedure.temperatures.as_ref()?.post_weld_heat_treatment.as_ref()? {
        OrNone::None | OrNone::NotApplicable => {
            Some(Value { value: Treatment::None, stated: "none".to_owned(), pointer })
        }
        OrNone::Is(own) => {
            let temperature = own.temperature.as_ref().and_then(Stated::value);
            let time = own.time.as_ref().and_then(Stated::value);
            let words = [temperature.map(|range| range.spelled()), time.map(|range| range.spelled())];
            Some(Value {
                value: Treatment::Held(
                    temperature.map_or(Band::ANY, |range| band(range, Temperature::celsius)),
                    time.map_or(Band::ANY, |range| band(range, Duration::minutes)),
                ),
                stated: words.into_iter().flatten().collect::<Vec<_>>().join(", "),
                pointer,
            })
        }
    }
}

fn processes_of<'d>(view: &'d View<'d>) -> Vec<ProcessSummary<'d>> {
    let known = |name: &str| seamwright_handbook::processes::number_of(name).to_owned();
    // In the order of welding, then those that no run names.
    let mut names: Vec<(String, String)> = Vec::new();
    let mut add = |name: &str, pointer: String| {
        if !names.iter().any(|(own, _)| known(own) == known(name)) {
            names.push((name.to_owned(), pointer));
        }
    };
    for run in &view.runs {
        match (run.block, run.run.process.as_deref()) {
            (Some((name, _)), _) => add(name, keys::process(name)),
            (None, Some(name)) => add(name, format!("{}/process", run.pointer())),
            (None, None) => {}
        }
    }
    for name in view.procedure.processes.keys() {
        add(name, keys::process(name));
    }
    names.into_iter().map(|(name, pointer)| process(view, name.clone(), known(&name), pointer)).collect()
}

fn process<'d>(view: &'d View<'d>, name: String, number: String, pointer: String) -> ProcessSummary<'d> {
    let runs: Vec<&RunView<'_>> = view
        .runs
        .iter()
        .filter(|run| {
            run.number() == number || run.process.is_none() && run.run.process.as_deref() == Some(name.as_str())
        })
        .collect();
    let block = view.procedure.processes.iter().find(|(key, _)| *key == name);
    let gather = Gather { runs: &runs, block };
    let mut fillers: Vec<Value<Option<&'static FillerRow>>> = Vec::new();
    let mut diameters = Vec::new();
    for at in gather.values(&keys::FILLER, Some) {
        let Some(filler) = view.procedure.fillers.get(at.value) else {
            if at.value == "none" {
                fillers.push(Value { value: None, stated: "none".into(), pointer: at.pointer });
            }
            continue;
        };
        let pointer = format!("/fillers/{}", escape(at.value));
        if fillers.iter().any(|own| own.pointer.starts_with(&pointer)) {
            continue;
        }
        fillers.push(Value {
            value: filler_classes::find(&filler.designation),
            stated: filler.designation.to_string(),
            pointer: format!("{pointer}/designation"),
        });
        if let Some(range) = filler.diameter.as_ref().and_then(Stated::value) {
            diameters.push(Value::of(range, Length::mm, format!("{pointer}/diameter")));
        }
    }
    let gas = gather
        .values(&keys::SHIELDING_GAS, OrNone::value)
        .into_iter()
        .filter_map(|at| {
            let stated = at.value.designation.as_ref().map(ToString::to_string).or_else(|| {
                let parts = at.value.composition.as_ref()?;
                Some(parts.iter().map(|(name, percent)| format!("{name} {percent} %")).collect::<Vec<_>>().join(", "))
            })?;
            let value = gas_row(at.value).map_or_else(|| stated.clone(), |row| row.symbol.to_owned());
            Some(Value { value, stated, pointer: at.pointer })
        })
        .collect();
    let deposit = block.and_then(|(key, settings)| {
        let range = keys::DEPOSIT_THICKNESS.of(settings)?.value()?;
        Some(Value::of(range, Length::mm, keys::DEPOSIT_THICKNESS.in_process(key)))
    });
    let thickest_run = runs
        .iter()
        .filter_map(|run| {
            let range = keys::DEPOSIT_THICKNESS.of(&run.run.settings)?.value()?;
            Some(Size::stated(range.high()?, range.unit()))
        })
        .max_by_key(|size| size.length());
    let mut heat_input = gather.quantity(&keys::HEAT_INPUT, HeatInput::kj_per_mm);
    let mut arc_energy = Vec::new();
    for run in &runs {
        let Some(heat) = heat::of(run) else { continue };
        let place = |range: Band| Value {
            value: range,
            stated: crate::rule::range_text(range, "kJ/mm"),
            pointer: run.pointer(),
        };
        arc_energy.push(place(heat.arc_energy));
        if run.setting(&keys::HEAT_INPUT).is_none() {
            heat_input.push(place(heat.heat_input));
        }
    }
    ProcessSummary {
        deposit,
        thickest_run,
        fillers,
        polarity: gather.words(&keys::POLARITY),
        transfer: gather.words(&keys::TRANSFER_MODE),
        gas,
        mechanization: gather.words(&keys::MECHANIZATION),
        heat_input,
        arc_energy,
        figures: [
            gather.figure("current", &keys::CURRENT, "A", Current::amperes),
            gather.figure("voltage", &keys::VOLTAGE, "V", Voltage::volts),
            gather.figure("travel_speed", &keys::TRAVEL_SPEED, "mm/min", Speed::mm_per_min),
            gather.figure("wire_feed_speed", &keys::WIRE_FEED_SPEED, "mm/min", Speed::mm_per_min),
            gather.figure("gas_flow", &keys::SHIELDING_GAS_FLOW, "L/min", Flow::l_per_min),
            Figure::of("filler_diameter", "fillers.diameter", "mm", diameters),
        ]
        .into_iter()
        .flatten()
        .collect(),
        runs,
        name,
        number,
        pointer,
    }
}

/// The settings of a process: each run with what it inherits, or the block alone where no run names the process.
struct Gather<'a, 'd> {
    runs: &'a [&'d RunView<'d>],
    block: Option<(&'d str, &'d Settings)>,
}

impl<'d> Gather<'_, 'd> {
    /// Every value, each place once.
    fn values<T: ?Sized, V: ?Sized>(&self, key: &Key<T>, of: impl Fn(&'d T) -> Option<&'d V>) -> Vec<Located<'d, V>> {
        let mut found: Vec<Located<'d, V>> = Vec::new();
        let from_block = self.block.filter(|_| self.runs.is_empty()).and_then(|(name, settings)| {
            let value = of(key.of(settings)?)?;
            Some(Located { value, pointer: key.in_process(name) })
        });
        for at in self.runs.iter().filter_map(|run| run.read(key, &of)).chain(from_block) {
            if !found.iter().any(|own| own.pointer == at.pointer) {
                found.push(at);
            }
        }
        found
    }

    fn quantity<Q: Quantity>(&self, key: &Key<Stated<Range<Q>>>, figure: impl Fn(Q) -> f64) -> Vec<Value<Band>> {
        let values = self.values(key, Stated::value).into_iter();
        values.map(|at| Value::of(at.value, &figure, at.pointer)).collect()
    }

    fn figure<Q: Quantity>(
        &self,
        variable: &'static str,
        key: &Key<Stated<Range<Q>>>,
        unit: &'static str,
        of: impl Fn(Q) -> f64,
    ) -> Option<Figure> {
        Figure::of(variable, key.in_tables, unit, self.quantity(key, of))
    }

    fn words<T: Copy + ToString>(&self, key: &Key<Stated<T>>) -> Vec<Value<T>> {
        let values = self.values(key, Stated::value);
        values
            .into_iter()
            .map(|at| Value { value: *at.value, stated: at.value.to_string(), pointer: at.pointer })
            .collect()
    }
}
