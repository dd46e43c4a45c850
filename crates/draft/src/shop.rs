//! What a shop has for a draft: a machine that can weld it, and what stands on its shelf.
//!
//! A draft prefers what is in stock among what the tables allow; it never goes outside them. What was taken and what is
//! missing stands in comments at the top of the page.

use seamwright_check::shops::{machines, stock};
use seamwright_check::{Context, View, check_with};
use seamwright_handbook::{Range, find, planning, processes};
use seamwright_model::document::Document;
use seamwright_model::finding::{Finding, Severity};
use seamwright_model::procedure::{ArcStart, Procedure};
use seamwright_model::quantity::{self, Current, Length};
use seamwright_model::shop::{PowerSource, Shop, Stock};
use seamwright_model::stated::{OrNone, Stated};

use crate::facts::{Facts, Refused};
use crate::figures::{figure, span};
use crate::page::Said;
use crate::plan::rule;

/// A shop, and the one of its machines that is to weld.
#[derive(Debug, Clone)]
pub(crate) struct Bench {
    /// Its power sources are that machine alone.
    shop: Shop,
    stock: Stock,
}

impl Bench {
    /// The benches of a shop on which a process can be welded, those that open the gas themselves first.
    fn all(shop: &Shop, process: &processes::Row, named: Option<&str>) -> Vec<Self> {
        let own = shop.power_sources.iter().filter(|machine| named.is_none_or(|name| find::same(&machine.name, name)));
        let own = own.filter(|machine| {
            machine.processes.is_empty()
                || machine.processes.iter().any(|own| machines::same_process(own, &process.number))
        });
        let mut own: Vec<&PowerSource> = own.collect();
        own.sort_by_key(|machine| by_hand(machine));
        own.into_iter()
            .map(|machine| Self {
                shop: Shop { power_sources: vec![machine.clone()], ..shop.clone() },
                stock: shop.stock.clone().unwrap_or_default(),
            })
            .collect()
    }

    pub(crate) fn machine(&self) -> &PowerSource {
        // a bench is made of one machine
        &self.shop.power_sources[0]
    }

    /// Whether the shelf has a class of filler.
    pub(crate) fn has_filler(&self, class: &str) -> bool {
        self.stock.fillers.iter().any(|own| stock::same_class(&own.designation, class))
    }

    /// Whether the shelf has a tungsten electrode of a size in mm, of a kind where one is named.
    pub(crate) fn has_tungsten(&self, designation: Option<&str>, diameter_mm: f64) -> bool {
        self.stock.tungstens.iter().any(|own| {
            let kind = designation.is_none_or(|name| stock::same_tungsten(&own.designation, name));
            kind && length(own.diameter.as_ref()).is_none_or(|size| find::same_size(size, diameter_mm))
        })
    }

    /// Whether the shelf has a nozzle of a number and a bore in mm.
    pub(crate) fn has_nozzle(&self, number: Option<u32>, bore_mm: f64) -> bool {
        self.stock.nozzles.iter().any(|own| stock::same_nozzle(own, number, bore_mm))
    }

    /// Whether the shelf has a gas, by symbol of ISO 14175.
    pub(crate) fn has_gas(&self, symbol: &str) -> bool {
        !stock::cylinders(&self.stock, Some(symbol), None).is_empty()
    }

    /// Whether the shop has a torch of a size; a machine without solenoid asks for one with a valve.
    pub(crate) fn has_torch(&self, size: &str) -> bool {
        let valve = by_hand(self.machine());
        self.shop.torches.iter().any(|own| {
            own.size.as_deref().is_some_and(|own| find::same(own, size))
                && (!valve || own.valve.as_ref().is_some_and(|has| has.0))
        })
    }

    /// The first of several ways of starting the arc that the machine has; nothing where it states none.
    pub(crate) fn start(&self, wanted: &[ArcStart]) -> Option<ArcStart> {
        let own = &self.machine().arc_start;
        wanted.iter().copied().find(|start| own.contains(start))
    }

    /// The sizes of filler on the shelf, mm, that a process may take, the largest first; none where the size is chosen.
    fn shelf_sizes(&self, facts: &Facts) -> Vec<f64> {
        if facts.choices.size.is_some() || facts.root.is_some() {
            return Vec::new();
        }
        let wanted = facts.choices.filler.as_deref();
        let own = self.stock.fillers.iter().filter(|own| {
            let named = wanted.is_none_or(|class| stock::same_class(&own.designation, class));
            // A spool is no rod, and a rod no wire.
            let wire = own.package.is_some() && own.length.is_none();
            named && (!facts.process.uses_tungsten || !wire)
        });
        let mut sizes: Vec<f64> = own.filter_map(|own| length(own.diameter.as_ref())).collect();
        sizes.sort_by(|one, other| other.total_cmp(one));
        sizes.dedup_by(|one, other| find::same_size(*one, *other));
        sizes
    }

    fn current_a(&self, process: &str) -> Option<Range> {
        let range = self.machine().current_of(process)?;
        let amperes = |end: Option<Current>, open: f64| end.map_or(open, Current::amperes);
        Some(Range::new(amperes(range.low(), 0.0), amperes(range.high(), f64::INFINITY)))
    }
}

/// Whether the gas of a machine is opened by hand at the torch.
fn by_hand(machine: &PowerSource) -> bool {
    machine.gas_solenoid.as_ref().is_some_and(|solenoid| !solenoid.0)
}

fn length(stated: Option<&Stated<quantity::Range<Length>>>) -> Option<f64> {
    let range = stated?.value()?;
    range.low().or(range.high()).map(Length::mm)
}

/// The first of several candidates that a shop has, else the first.
pub(crate) fn stocked<T>(
    facts: &Facts,
    candidates: impl IntoIterator<Item = T>,
    has: impl Fn(&Bench, &T) -> bool,
) -> Option<T> {
    let mut all: Vec<T> = candidates.into_iter().collect();
    let there = facts.bench.as_ref().and_then(|bench| all.iter().position(|one| has(bench, one)));
    (!all.is_empty()).then(|| all.swap_remove(there.unwrap_or(0)))
}

/// A range of current in A held within what the machine of the shop gives; refused where it gives none of it, or too little to
/// be a range.
pub(crate) fn reached(facts: &Facts, current_a: Range) -> Result<Range, Refused> {
    let Some(bench) = &facts.bench else { return Ok(current_a) };
    let Some(own) = bench.current_a(&facts.process.number) else { return Ok(current_a) };
    let (least, _) = rule("machine-range-least");
    let both = own.overlap(current_a).filter(|both| *both == current_a || both.high >= least.high * both.low);
    both.ok_or_else(|| {
        Refused::shop(format!(
            "{} gives {}, and {} of {} takes {}: a machine that gives {} A does",
            bench.machine().name,
            span(own, "A"),
            facts.thickness,
            facts.metal.specification,
            span(current_a, "A"),
            figure(current_a.high)
        ))
    })
}

/// The first polarity of several that the machine of the shop gives.
pub(crate) fn polarity<'p>(facts: &Facts, suited: &[&'p str]) -> Result<Option<&'p str>, Refused> {
    let first = suited.first().copied();
    let Some(bench) = facts.bench.as_ref().filter(|bench| !bench.machine().polarity.is_empty()) else {
        return Ok(first);
    };
    let gives: Vec<&str> = bench.machine().polarity.iter().map(|own| own.as_str()).collect();
    match suited.iter().copied().find(|own| gives.contains(own)) {
        None if first.is_some() => Err(Refused::shop(format!(
            "{} gives {}, and {} on {} takes {}",
            bench.machine().name,
            gives.join(", "),
            facts.process.number,
            facts.metal.specification,
            suited.join(" or ")
        ))),
        found => Ok(found),
    }
}

/// How the arc is started: as the machine does it, else the usual way of the current.
pub(crate) fn arc_start(facts: &Facts, alternating: bool) -> (ArcStart, Said) {
    let wanted: &[ArcStart] = if alternating {
        &[ArcStart::HighFrequency, ArcStart::Lift]
    } else {
        &[ArcStart::Lift, ArcStart::HighFrequency, ArcStart::Scratch]
    };
    match facts.bench.as_ref().and_then(|bench| Some((bench, bench.start(wanted)?))) {
        Some((bench, start)) => (start, Said::Follows(format!("{} has it", bench.machine().name).into())),
        None => (wanted[0], Said::Decide("what the machine has: high-frequency, lift or scratch".into())),
    }
}

/// Writes a starting procedure with what a shop has, as commented YAML that the checks find without errors and cautions.
///
/// Comments at the top name the machine, what was taken from the shelf and what is missing. Before a machine is given up, the
/// sizes on the shelf, thinner ones and a cooler transfer are tried on it. Refused where no machine of the shop can weld it,
/// with what the best one lacks.
pub fn draft_in_shop(facts: &Facts, shop: &Shop) -> Result<String, Refused> {
    let named = facts.choices.machine.as_deref();
    if let Some(name) = named.filter(|name| machines::find(shop, name).is_none()) {
        let all: Vec<&str> = shop.power_sources.iter().map(|own| &*own.name).collect();
        return Err(Refused::Contradiction(format!("the shop has no machine `{name}`; it has {}", all.join(", "))));
    }
    let mut first = None;
    for bench in Bench::all(shop, facts.process, named) {
        match on(facts, &bench) {
            Ok(text) => return Ok(text),
            Err(why) => first = first.or(Some(why)),
        }
    }
    let number = &facts.process.number;
    Err(first.unwrap_or_else(|| {
        let own = |machine: &&PowerSource| named.is_none_or(|name| find::same(&machine.name, name));
        let have = shop.power_sources.iter().filter(own).map(|machine| {
            let welds: Vec<String> = machine.processes.iter().map(ToString::to_string).collect();
            format!("{} welds {}", machine.name, welds.join(", "))
        });
        let have = have.collect::<Vec<_>>().join("; ");
        Refused::shop(match named {
            Some(_) => format!("{have}, and {number} is asked for"),
            None => format!("no machine of the shop welds {number}: {have}"),
        })
    }))
}

/// The draft on one machine that lacks least of the shelf; refused as what the tables give is, where no way fits.
fn on(facts: &Facts, bench: &Bench) -> Result<String, Refused> {
    let facts = Facts { bench: Some(bench.clone()), ..facts.clone() };
    let refused = match crate::draft(&facts).and_then(|text| told(bench, text)) {
        Ok((text, 0)) => return Ok(text),
        Ok((text, missing)) => return Ok(from_shelf(&facts, bench, missing).unwrap_or(text)),
        Err(why) => why,
    };
    let tried = |facts: &Facts| crate::draft(facts).and_then(|text| told(bench, text));
    let ways = sizes(&facts, bench).into_iter().map(|(size, why)| facts.with_size(size, &why));
    let cool = Facts { cool: true, ..facts.clone() };
    let cooler = sizes(&cool, bench).into_iter().map(|(size, why)| cool.with_size(size, &why));
    let cooler = std::iter::once(cool.clone()).chain(cooler).filter(|_| facts.mag());
    let found = ways.chain(cooler).filter_map(|way| tried(&way).ok());
    found.min_by_key(|(_, missing)| *missing).map(|(text, _)| text).ok_or(refused)
}

/// The draft with a filler size of the shelf, where less is missing then.
fn from_shelf(facts: &Facts, bench: &Bench, missing: usize) -> Option<String> {
    let ways = bench.shelf_sizes(facts).into_iter().map(|size| facts.with_size(size, "the shop has it"));
    let found = ways.filter_map(|way| crate::draft(&way).and_then(|text| told(bench, text)).ok());
    found.min_by_key(|(_, missing)| *missing).filter(|(_, own)| *own < missing).map(|(text, _)| text)
}

/// The sizes of filler, mm, that are tried on a machine that does not give what the usual one takes, each with its reason:
/// those of the shelf, then the thinner ones that the process knows.
fn sizes(facts: &Facts, bench: &Bench) -> Vec<(f64, String)> {
    let shelf = bench.shelf_sizes(facts);
    let mut all: Vec<(f64, String)> = shelf.iter().map(|size| (*size, "the shop has it".to_owned())).collect();
    if facts.choices.size.is_none() && facts.root.is_none() && !facts.process.uses_tungsten {
        let other = planning::sizes_of(&facts.process.number).into_iter();
        let other = other.filter(|size| !shelf.iter().any(|own| find::same_size(*own, *size)));
        all.extend(other.map(|size| (size, format!("within what {} gives", bench.machine().name))));
    }
    all
}

/// The page with what was taken from the shop and what is missing, and how much that is; refused where its machine does not fit.
fn told(bench: &Bench, text: String) -> Result<(String, usize), Refused> {
    let unread = |_| Refused::shop("the draft cannot be held against the shop".to_owned());
    let loaded = seamwright_model::load("draft", text.as_bytes()).map_err(unread)?;
    let found = check_with(&loaded.document, &Context { shop: Some(&bench.shop), ..Context::default() }).findings;
    if let Some(fault) = found.iter().find(|one| one.severity == Severity::Error) {
        return Err(Refused::shop(fault.message.clone()));
    }
    let Document::Procedure(procedure) = &loaded.document else { return Ok((text, 0)) };
    let lines = remarks(bench, procedure, &found);
    let missing = lines.iter().filter(|line| line.starts_with(MISSING)).count();
    let lines = lines.into_iter().map(|line| format!("# {line}\n"));
    let (head, body) = text.split_at(text.find("format: 1").unwrap_or(0));
    Ok((format!("{head}#\n{}{body}", lines.collect::<String>()), missing))
}

/// How a line on what the shop lacks begins.
const MISSING: &str = "Missing: ";

/// What the shop gives and lacks, line by line.
fn remarks(bench: &Bench, procedure: &Procedure, found: &[Finding]) -> Vec<String> {
    let title = &bench.shop.identification.title;
    let mut lines = vec![format!("Shop: {title}.")];
    let view = View::new(procedure);
    for (run, fit) in machines::for_processes(&bench.shop, &view) {
        let duty = fit.duty.map_or(String::new(), |duty| format!(", duty cycle {} %", figure(duty.duty_cycle_pct)));
        lines.push(format!("Machine for {}: {}{duty}.", run.number(), fit.machine.name));
        if fit.gas_by_hand {
            let valve = bench.shop.torches.iter().find(|torch| torch.valve.as_ref().is_some_and(|has| has.0));
            let torch = valve.and_then(|torch| torch.name.as_deref()).unwrap_or("torch");
            lines.push(format!(
                "Gas by hand: open the valve of the {torch} before the arc, shut it when post_flow has passed."
            ));
        }
    }
    let taken = taken(bench, procedure, &view);
    if !taken.is_empty() {
        lines.push(format!("Taken from the shop: {}.", taken.join(", ")));
    }
    let in_shop = |one: &&Finding| seamwright_check::shops::FITNESS.iter().any(|rule| rule.name == one.check);
    lines.extend(found.iter().filter(in_shop).map(|one| format!("{MISSING}{} ({}).", one.message, one.check)));
    lines
}

/// Filler, tungsten, nozzle and gas of a procedure that stand on the shelf.
fn taken(bench: &Bench, procedure: &Procedure, view: &View<'_>) -> Vec<String> {
    let size = |stated: Option<&Stated<quantity::Range<Length>>>| {
        stated.and_then(Stated::value).map_or(String::new(), |range| format!(" {range}"))
    };
    let mut taken: Vec<String> = Vec::new();
    for (_, filler) in procedure.fillers.iter() {
        if !stock::fillers(&bench.stock, filler).is_empty() {
            taken.push(format!("{}{}", filler.designation, size(filler.diameter.as_ref())));
        }
    }
    for (_, settings) in procedure.processes.iter() {
        if let Some(tungsten) = &settings.tungsten
            && let Some(diameter_mm) = length(tungsten.diameter.as_ref())
            && bench.has_tungsten(tungsten.designation.as_deref(), diameter_mm)
        {
            let name = tungsten.designation.as_deref().unwrap_or("tungsten");
            taken.push(format!("{name}{}", size(tungsten.diameter.as_ref())));
        }
        let torch = settings.torch.as_ref().and_then(|torch| torch.size.as_deref());
        taken.extend(torch.filter(|size| bench.has_torch(size)).map(|size| format!("torch {size}")));
    }
    let nozzle = view.runs.first().and_then(|run| run.nozzle());
    let there = nozzle.filter(|(_, number, bore_mm)| bench.has_nozzle(*number, *bore_mm));
    taken.extend(there.map(|(at, _, _)| format!("nozzle {}", at.value)));
    let gases = procedure.processes.iter().filter_map(|(_, settings)| {
        let gas = settings.shielding_gas.as_ref().and_then(OrNone::value)?;
        let there = !stock::cylinders(&bench.stock, gas.designation.as_deref(), gas.composition.as_ref()).is_empty();
        there.then(|| format!("gas {}", gas.designation.as_deref().unwrap_or("of the stated composition")))
    });
    taken.extend(gases);
    taken
}
