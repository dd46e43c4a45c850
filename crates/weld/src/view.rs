//! A procedure understood: each part beside what the handbook knows of it, each run with what it inherits.

use std::sync::{Arc, OnceLock};

use seamwright_handbook::Size;
use seamwright_handbook::base_metals::{self, BaseMetal};
use seamwright_handbook::gmaw_parameters::Transfer;
use seamwright_handbook::{
    covered_electrodes, designation, find, gas_nozzles, metal_families, metal_heat, processes, shielding_gases,
};
use seamwright_model::procedure::{
    Filler, Key, ParentMetal, Procedure, Run, Settings, ShieldingGas, TransferMode, WeldType, keys, run_numbers,
    runs_open,
};
use seamwright_model::quantity::Length;
use seamwright_model::quantity::Range;
use seamwright_model::stated::{Date, OrNone, Stated};
use seamwright_model::variants::{self, Variant};

use crate::follows::{Follows, Nozzle};
use crate::wire::Wire;

/// A procedure with what the handbook knows of it.
pub struct View<'d> {
    /// The document.
    pub procedure: &'d Procedure,
    /// The metals in order.
    pub metals: Vec<Metal<'d>>,
    /// The runs in order.
    pub runs: Vec<RunView<'d>>,
    /// The day on which it is read, where the caller gives it; the clock is never read.
    pub today: Option<Date>,
    /// The procedures that it stands for, once they are asked for.
    variants: OnceLock<Vec<Variant>>,
}

/// A parent metal and its row of the handbook.
pub struct Metal<'d> {
    /// Its place in the list.
    pub index: usize,
    /// As stated.
    pub stated: &'d ParentMetal,
    /// The handbook's row, where it knows the metal.
    pub known: Option<&'static BaseMetal>,
}

impl<'d> Metal<'d> {
    /// Family of the handbook, or empty text.
    pub fn family(&self) -> &'static str {
        self.known.map_or("", |metal| metal.family)
    }

    /// Whether the metal belongs to a family or to one inside it.
    pub fn is(&self, family: &str) -> bool {
        self.known.is_some_and(|metal| metal_families::is_in(metal.family, family))
    }

    /// Stated thickness, mm: the upper end of a range.
    pub fn thickness_mm(&self) -> Option<f64> {
        let range = self.stated.thickness.as_ref()?.value()?;
        range.high().or(range.low()).map(Length::mm)
    }

    /// Stated thickness in its own unit: the upper end of a range.
    pub fn thickness(&self) -> Option<Size> {
        let range = self.stated.thickness.as_ref()?.value()?;
        Some(Size::stated(range.high().or(range.low())?, range.unit()))
    }

    /// Stated outside diameter in its own unit: the lower end of a range.
    pub fn outside_diameter(&self) -> Option<Size> {
        let range = self.stated.outside_diameter.as_ref()?.value()?;
        Some(Size::stated(range.low().or(range.high())?, range.unit()))
    }

    /// Whether it is solid and round, as a bar: its thickness is then its diameter.
    pub fn is_round_bar(&self) -> bool {
        let form = self.stated.form.as_deref().unwrap_or_default().to_lowercase();
        let other = ["flat", "square", "hollow", "hexagon"].iter().any(|own| form.contains(own));
        !other && form.split_whitespace().any(|own| matches!(own, "bar" | "rod" | "rebar" | "wire"))
    }

    /// P-Number, as stated or from the handbook: `P-1`, `P-No. 1` and `1` are the same.
    pub fn p_number(&self) -> Option<&'d str> {
        let known = || self.known.and_then(|known| known.p_no);
        let text = self.stated.p_number.as_deref().or_else(known)?;
        Some(text.trim_start_matches(['P', 'p']).trim_start_matches(|c: char| !c.is_ascii_digit()))
    }

    /// JSON pointer of one of its keys.
    pub fn pointer(&self, key: &str) -> String {
        format!("/parent_metals/{}/{key}", self.index)
    }
}

/// A run with the process that it belongs to.
pub struct RunView<'d> {
    /// Its place in the list.
    pub index: usize,
    /// As stated.
    pub run: &'d Run,
    /// First and last number.
    pub numbers: (u32, u32),
    /// Whether as many runs follow as the joint takes: `3-n`.
    pub open: bool,
    /// The process's block: its key and what it sets.
    pub block: Option<(&'d str, &'d Settings)>,
    /// The handbook's row of the process.
    pub process: Option<&'static processes::Row>,
    /// The machine that the procedure names for all runs.
    pub(crate) of_procedure: Option<&'d str>,
    /// Its wire electrode, where it has one with an open arc.
    pub wire: Option<Wire<'d>>,
    /// What follows from its settings.
    pub(crate) follows: Arc<Follows>,
}

/// A value and the place where it is stated: in the run, or in the block of its process.
#[derive(Debug, Clone)]
pub struct Located<'d, T: ?Sized> {
    /// The value.
    pub value: &'d T,
    /// JSON pointer.
    pub pointer: String,
}

/// The mode of transfer of a run and where it is stated.
pub struct TransferAt {
    /// The mode.
    pub value: Transfer,
    /// JSON pointer.
    pub pointer: String,
}

impl<'d> RunView<'d> {
    /// What holds for this run: its own, else its process's.
    pub fn setting<T: ?Sized>(&self, key: &Key<T>) -> Option<Located<'d, T>> {
        self.read(key, Some)
    }

    /// A value that holds for this run.
    pub fn value<T>(&self, key: &Key<Stated<T>>) -> Option<Located<'d, T>> {
        self.read(key, Stated::value)
    }

    /// A part that holds for this run.
    pub fn part<T>(&self, key: &Key<OrNone<T>>) -> Option<Located<'d, T>> {
        self.read(key, OrNone::value)
    }

    /// What is read of a key, in the run, else in the block of its process.
    pub fn read<T: ?Sized, V: ?Sized>(
        &self,
        key: &Key<T>,
        of: impl Fn(&'d T) -> Option<&'d V>,
    ) -> Option<Located<'d, V>> {
        if let Some(value) = key.of(&self.run.settings).and_then(&of) {
            return Some(Located { value, pointer: key.in_run(self.index) });
        }
        let (name, settings) = self.block?;
        let value = key.of(settings).and_then(of)?;
        Some(Located { value, pointer: key.in_process(name) })
    }

    /// Where what holds for all runs of its process is stated: in the block of the process, else in the run.
    pub fn of_process<T: ?Sized>(&self, key: &Key<T>) -> String {
        self.block.map_or_else(|| key.in_run(self.index), |(name, _)| key.in_process(name))
    }

    /// The machine that it names: its own, else that of its process, else that of the procedure.
    pub fn machine(&self) -> Option<Located<'d, str>> {
        self.setting(&keys::MACHINE)
            .or_else(|| Some(Located { value: self.of_procedure?, pointer: "/machine".to_owned() }))
    }

    /// Whether it stands for more than one run.
    pub fn several(&self) -> bool {
        self.open || self.numbers.1 > self.numbers.0
    }

    /// JSON pointer of the run.
    pub fn pointer(&self) -> String {
        format!("/runs/{}", self.index)
    }

    /// ISO 4063 number of the process, or empty text.
    pub fn number(&self) -> &'static str {
        self.process.map_or("", |process| process.number)
    }

    /// Whether its filler is of the low-hydrogen kind; one that says nothing is not.
    pub fn low_hydrogen(&self, procedure: &Procedure) -> bool {
        self.filler(procedure).is_some_and(|(_, filler)| {
            let listed = covered_electrodes::get(&filler.designation).map(|row| row.low_hydrogen);
            let read = || designation::parse(&filler.designation).ok()?.low_hydrogen;
            listed.or_else(read).unwrap_or(false)
        })
    }

    /// Whether it is welded with covered electrodes.
    pub fn is_covered(&self) -> bool {
        self.process.is_some_and(processes::Row::covered_electrode)
    }

    /// The mode of transfer, where it is stated.
    pub fn transfer(&self) -> Option<TransferAt> {
        let at = self.value(&keys::TRANSFER_MODE)?;
        let value = match at.value {
            TransferMode::ShortCircuit => Transfer::ShortCircuit,
            TransferMode::Globular => Transfer::Globular,
            TransferMode::Spray => Transfer::Spray,
            TransferMode::Pulsed => Transfer::Pulsed,
        };
        Some(TransferAt { value, pointer: at.pointer })
    }

    /// The shielding gas that holds for this run.
    pub fn gas(&self) -> Option<Located<'d, ShieldingGas>> {
        self.part(&keys::SHIELDING_GAS)
    }

    /// The handbook's row of the shielding gas, by its composition or its designation.
    pub fn gas_row(&self) -> Option<&'static shielding_gases::Row> {
        gas_row(self.gas()?.value)
    }

    /// Number and bore (mm) of the nozzle, where it is given by number or by bore.
    pub fn nozzle(&self) -> Option<(Located<'d, str>, Option<u32>, f64)> {
        let stated = self.setting(&keys::TORCH_NOZZLE)?;
        let Nozzle { number, bore_mm } = (*self.follows.nozzle.get_or_init(|| nozzle(stated.value.trim())))?;
        Some((stated, number, bore_mm))
    }

    /// Whether a gas lens is fitted.
    pub fn gas_lens(&self) -> bool {
        self.setting(&keys::TORCH_GAS_LENS).is_some_and(|at| at.value.0)
    }

    /// Name and entry of the filler, where the run uses one that is declared.
    pub fn filler(&self, procedure: &'d Procedure) -> Option<(Located<'d, str>, &'d Filler)> {
        let name = self.setting(&keys::FILLER)?;
        procedure.fillers.get(find::first(name.value)).map(|filler| (name, filler))
    }
}

/// A nozzle by its bore or its number.
fn nozzle(text: &str) -> Option<Nozzle> {
    if let Ok(bore) = text.parse::<Range<Length>>() {
        let bore_mm = bore.middle()?.mm();
        return Some(Nozzle { number: gas_nozzles::by_bore(bore_mm).map(|row| row.number), bore_mm });
    }
    let digits: String =
        text.trim_start_matches(|c: char| !c.is_ascii_digit()).chars().take_while(char::is_ascii_digit).collect();
    let number: u32 = digits.parse().ok()?;
    Some(Nozzle { number: Some(number), bore_mm: gas_nozzles::get(number)?.bore_mm })
}

/// The handbook's row of a gas, by its composition or its designation.
pub fn gas_row(gas: &ShieldingGas) -> Option<&'static shielding_gases::Row> {
    if let Some(composition) = &gas.composition {
        let parts: Vec<(&str, f64)> = composition.iter().collect();
        // A composition with a purity such as Ar 99.99 is that gas.
        let total: f64 = parts.iter().map(|(_, percent)| percent).sum();
        let scaled: Vec<(&str, f64)> = parts.iter().map(|(name, percent)| (*name, percent * 100.0 / total)).collect();
        if total > 0.0
            && let Some(row) = shielding_gases::classify(&scaled)
        {
            return Some(row);
        }
    }
    shielding_gases::get(gas.designation.as_deref()?)
}

/// The handbook's row of a metal: by its name, else of the group or the P-Number that is stated beside it.
fn known(stated: &ParentMetal) -> Option<&'static BaseMetal> {
    let by = |word: &str, number: Option<&str>| base_metals::find(&format!("{word} {}", number?));
    base_metals::find(&stated.specification)
        .or_else(|| by("group", stated.group.as_deref()))
        .or_else(|| by("P-No.", stated.p_number.as_deref()))
}

impl<'d> View<'d> {
    /// The metals whose own highest temperatures hold: one that is heated for another of the joint gives way to it.
    pub fn heated_as_they_stand(&self) -> impl Iterator<Item = &Metal<'d>> {
        let heated = |metal: &Metal<'d>, other: &Metal<'d>| {
            let thickness = other.thickness().or_else(|| self.thickness());
            metal
                .known
                .zip(other.known)
                .zip(thickness)
                .is_some_and(|((own, other), thickness)| metal_heat::heated_for(own, other, thickness))
        };
        self.metals.iter().filter(move |metal| !self.metals.iter().any(|other| heated(metal, other)))
    }

    /// Looks up every part of a procedure.
    pub fn new(procedure: &'d Procedure) -> Self {
        let metals: Vec<Metal<'d>> = procedure
            .parent_metals
            .iter()
            .enumerate()
            .map(|(index, stated)| Metal { index, stated, known: known(stated) })
            .collect();
        let only = match procedure.processes.0.as_slice() {
            [(name, _)] => Some(name.as_str()),
            _ => None,
        };
        let block_of = |name: &str, process: Option<&processes::Row>| {
            procedure.processes.iter().find(|(key, _)| {
                *key == name
                    || process.is_some_and(|row| processes::get(key).is_some_and(|other| other.number == row.number))
            })
        };
        let of_procedure = procedure.machine.as_deref();
        let mut runs: Vec<RunView<'d>> = Vec::with_capacity(procedure.runs.len());
        for (index, run) in procedure.runs.iter().enumerate() {
            let name = run.process.as_deref().or(only);
            // Most runs have the process and the wire of the one before.
            let before = runs.last();
            let (process, block) = match before {
                Some(own) if own.run.process.as_deref().or(only) == name => (own.process, own.block),
                _ => {
                    let process = name.and_then(processes::get);
                    (process, name.and_then(|name| block_of(name, process)))
                }
            };
            let numbers = run_numbers(&run.run).unwrap_or((1, 1));
            let open = runs_open(&run.run);
            let alike =
                before.filter(|own| own.run.process.as_deref().or(only) == name && own.run.settings == run.settings);
            let follows = alike.map_or_else(Arc::default, |own| Arc::clone(&own.follows));
            let own = RunView { index, run, numbers, open, block, process, of_procedure, wire: None, follows };
            let wire = own.filler(procedure).and_then(|(name, filler)| {
                let transfer = own.transfer().map(|at| at.value);
                let metal = metals.first().and_then(|metal| metal.known);
                Wire::of(process?, (name.value, filler), transfer, metal, before.and_then(|own| own.wire.as_ref()))
            });
            runs.push(RunView { wire, ..own });
        }
        Self { procedure, metals, runs, today: None, variants: OnceLock::new() }
    }

    /// As [`View::new`], on a day.
    pub fn on(procedure: &'d Procedure, today: Option<Date>) -> Self {
        let mut view = Self::new(procedure);
        view.today = today;
        view
    }

    /// The procedures that it stands for; none where it leaves no choice.
    pub fn variants(&self) -> &[Variant] {
        self.variants.get_or_init(|| variants::variants(self.procedure))
    }

    /// Whether any metal belongs to a family.
    pub fn any_metal(&self, family: &str) -> bool {
        self.metals.iter().any(|metal| metal.is(family))
    }

    /// Whether the weld has prepared edges; a weld that is not named is taken from the joint.
    pub fn weld(&self) -> Option<WeldType> {
        use seamwright_model::procedure::JointType;
        let joint = self.procedure.joint.as_ref()?;
        joint.weld.or(match joint.kind {
            JointType::Butt | JointType::Cavity => Some(WeldType::Groove),
            JointType::Lap => Some(WeldType::Fillet),
            JointType::Edge => Some(WeldType::Edge),
            JointType::Tee | JointType::Corner => None,
        })
    }

    /// Largest stated thickness in its own unit.
    pub fn thickness(&self) -> Option<Size> {
        self.metals.iter().filter_map(Metal::thickness).max_by_key(|size| size.length())
    }

    /// Largest stated thickness, mm.
    pub fn thickness_mm(&self) -> Option<f64> {
        self.metals.iter().filter_map(Metal::thickness_mm).reduce(f64::max)
    }

    /// Whether the joint is welded from one side: no back gouging, no run on a second side, not prepared from both.
    pub fn one_sided(&self) -> bool {
        use seamwright_model::procedure::{Layer, Side, Sides};
        let Some(joint) = &self.procedure.joint else { return false };
        if let Some(Stated::Is(sides)) = joint.welded_from {
            return sides == Sides::One;
        }
        let double = joint.preparation.as_ref().and_then(Stated::value).is_some_and(|shape| shape.is_double());
        let second =
            self.runs.iter().any(|run| run.run.side == Some(Side::Second) || run.run.layer == Some(Layer::Backing));
        !self.back_gouged() && !double && !second
    }

    /// Whether the root is gouged out from the second side.
    pub fn back_gouged(&self) -> bool {
        let stated = self.procedure.joint.as_ref().and_then(|joint| joint.back_gouging.as_deref());
        stated.is_some_and(|text| text != "none" && text != "not applicable")
    }

    /// Whether the weld is meant to go through the whole thickness.
    pub fn full_penetration(&self) -> bool {
        use seamwright_model::procedure::Penetration;
        self.procedure.joint.as_ref().is_some_and(|joint| match joint.penetration {
            Some(Stated::Is(penetration)) => penetration == Penetration::Full,
            _ => self.weld().is_some_and(WeldType::has_groove),
        })
    }
}
