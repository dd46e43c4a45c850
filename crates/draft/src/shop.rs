//! What a shop has for a draft: a machine that can weld it, and what stands on its shelf.
//!
//! A draft prefers what is in stock among what the tables allow; it never goes outside them. What was taken and what is
//! missing stands in comments at the top of the page.

use seamwright_check::{Context, check_with};
use seamwright_handbook::measure::figure;
use seamwright_handbook::{find, planning};
use seamwright_model::document::Document;
use seamwright_model::finding::{Finding, Severity};
use seamwright_model::procedure::Procedure;
use seamwright_model::quantity::{self, Length};
use seamwright_model::shop::{PowerSource, Shop};
use seamwright_model::stated::{OrNone, Stated};
use seamwright_weld::{View, machines, stock};

use crate::bench::{self, Bench};
use crate::draft::draft;
use crate::facts::Facts;
use crate::refused::Refused;

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
    let refused = match draft(&facts).and_then(|text| told(bench, text)) {
        Ok((text, 0)) => return Ok(text),
        Ok((text, missing)) => return Ok(from_shelf(&facts, bench, missing).unwrap_or(text)),
        Err(why) => why,
    };
    let tried = |facts: &Facts| draft(facts).and_then(|text| told(bench, text));
    let ways = sizes(&facts, bench).into_iter().map(|(size, why)| facts.with_size(size, &why));
    let cool = Facts { cool: true, ..facts.clone() };
    let cooler = sizes(&cool, bench).into_iter().map(|(size, why)| cool.with_size(size, &why));
    let cooler = std::iter::once(cool.clone()).chain(cooler).filter(|_| facts.mag());
    let found = ways.chain(cooler).filter_map(|way| tried(&way).ok());
    found.min_by_key(|(_, missing)| *missing).map(|(text, _)| text).ok_or(refused)
}

/// The draft with a filler size of the shelf, where less is missing then.
fn from_shelf(facts: &Facts, bench: &Bench, missing: usize) -> Option<String> {
    let ways = shelf_sizes(facts, bench).into_iter().map(|size| facts.with_size(size, "the shop has it"));
    let found = ways.filter_map(|way| draft(&way).and_then(|text| told(bench, text)).ok());
    found.min_by_key(|(_, missing)| *missing).filter(|(_, own)| *own < missing).map(|(text, _)| text)
}

/// The sizes of filler on the shelf, mm, that a process may take, the largest first; none where the size is chosen.
fn shelf_sizes(facts: &Facts, bench: &Bench) -> Vec<f64> {
    if facts.choices.size.is_some() || facts.root.is_some() {
        return Vec::new();
    }
    let wanted = facts.choices.filler.as_deref();
    let own = bench.stock.fillers.iter().filter(|own| {
        let named = wanted.is_none_or(|class| stock::same_class(&own.designation, class));
        // A spool is no rod, and a rod no wire.
        let wire = own.package.is_some() && own.length.is_none();
        named && (!facts.process.uses_tungsten || !wire)
    });
    let mut sizes: Vec<f64> = own.filter_map(|own| bench::length(own.diameter.as_ref())).collect();
    sizes.sort_by(|one, other| other.total_cmp(one));
    sizes.dedup_by(|one, other| find::same_size(*one, *other));
    sizes
}

/// The sizes of filler, mm, that are tried on a machine that does not give what the usual one takes, each with its reason:
/// those of the shelf, then the thinner ones that the process knows.
fn sizes(facts: &Facts, bench: &Bench) -> Vec<(f64, String)> {
    let shelf = shelf_sizes(facts, bench);
    let mut all: Vec<(f64, String)> = shelf.iter().map(|size| (*size, "the shop has it".to_owned())).collect();
    if facts.choices.size.is_none() && facts.root.is_none() && !facts.process.uses_tungsten {
        let other = planning::sizes_of(facts.process.number).into_iter();
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
            && let Some(diameter_mm) = bench::length(tungsten.diameter.as_ref())
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
