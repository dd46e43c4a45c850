//! A machine of a shop, and what stands on its shelf.

use seamwright_handbook::{Band, find, processes};
use seamwright_model::procedure::ArcStart;
use seamwright_model::quantity::{self, Current, Length};
use seamwright_model::shop::{PowerSource, Shop, Stock};
use seamwright_model::stated::Stated;
use seamwright_weld::{machines, stock};

/// A shop, and the one of its machines that is to weld.
#[derive(Debug, Clone)]
pub(crate) struct Bench {
    /// Its power sources are that machine alone.
    pub(crate) shop: Shop,
    pub(crate) stock: Stock,
}

impl Bench {
    /// The benches of a shop on which a process can be welded, those that open the gas themselves first.
    pub(crate) fn all(shop: &Shop, process: &processes::Row, named: Option<&str>) -> Vec<Self> {
        let own = shop.power_sources.iter().filter(|machine| named.is_none_or(|name| find::same(&machine.name, name)));
        let own = own.filter(|machine| {
            machine.processes.is_empty()
                || machine.processes.iter().any(|own| machines::same_process(own, process.number))
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

    /// The range of current of the machine by a process, A.
    pub(crate) fn current_a(&self, process: &str) -> Option<Band> {
        let range = self.machine().current_of(process)?;
        let amperes = |end: Option<Current>, open: f64| end.map_or(open, Current::amperes);
        Some(Band::new(amperes(range.low(), 0.0), amperes(range.high(), f64::INFINITY)))
    }
}

/// Whether the gas of a machine is opened by hand at the torch.
fn by_hand(machine: &PowerSource) -> bool {
    machine.gas_solenoid.as_ref().is_some_and(|solenoid| !solenoid.0)
}

/// A stated length in mm; of a range its low end.
pub(crate) fn length(stated: Option<&Stated<quantity::Range<Length>>>) -> Option<f64> {
    let range = stated?.value()?;
    range.low().or(range.high()).map(Length::mm)
}
