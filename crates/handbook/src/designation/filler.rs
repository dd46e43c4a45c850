//! What the designation of a filler says.

use super::symbols;
use crate::band::Band;
use crate::processes::Polarity;

/// The form in which a filler comes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Form {
    /// A covered electrode, for process 111.
    CoveredElectrode,
    /// A bare rod or solid wire.
    RodOrWire,
    /// A wire filled with metal powder, with hardly any slag.
    MetalCoredWire,
    /// A wire filled with flux.
    FluxCoredWire,
    /// A wire and the flux that goes with it.
    WireAndFlux,
}

/// What shields the arc of a filler, as far as its designation says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Shielding {
    /// Any of these gases, by their symbols in ISO 14175.
    Gas(Vec<&'static str>),
    /// No gas: the filler shields itself.
    SelfShielded,
}

/// What the designation of a filler says; what it leaves open is `None` or empty.
#[derive(Debug, Clone, PartialEq)]
pub struct Filler {
    /// Standard whose system was read, such as `AWS A5.1` or `ISO 2560-A`.
    pub standard: &'static str,
    /// Form of the filler.
    pub form: Form,
    /// The classification without optional marks, upper case and without spaces: `E7018-1`, `ERNICR-3`, `E424B42`.
    pub class: String,
    /// Symbol of the chemical composition: `B2`, `308L`, `3Si1`, `199L`, `NiCr-3`; upper case, without spaces.
    pub alloy: Option<String>,
    /// Least tensile strength of the weld metal, in megapascals.
    pub tensile_min_mpa: Option<f64>,
    /// Range of tensile strength, in megapascals.
    pub tensile_mpa: Option<Band>,
    /// Least yield strength, in megapascals.
    pub yield_min_mpa: Option<f64>,
    /// Temperature at which the impact energy is proved, in degrees Celsius.
    pub impact_c: Option<f64>,
    /// Kind of covering or core, in words.
    pub covering: Option<&'static str>,
    /// Whether the covering is of the low-hydrogen kind; `None` where nothing says so.
    pub low_hydrogen: Option<bool>,
    /// Polarities that it permits.
    pub polarity: Vec<Polarity>,
    /// Positions: `flat`, `horizontal`, `horizontal-fillet`, `vertical-up`, `vertical-down`, `overhead`.
    pub positions: Vec<&'static str>,
    /// Gas or none, where the designation says.
    pub shielding: Option<Shielding>,
    /// Whether it serves for a single pass only.
    pub single_pass: bool,
    /// Most diffusible hydrogen, in millilitres for 100 g of deposit.
    pub hydrogen_ml_100g: Option<f64>,
    /// Whether the covering takes up little moisture (`R` of AWS A5.1).
    pub moisture_resistant: bool,
}

impl Filler {
    pub(super) fn new(standard: &'static str, form: Form) -> Self {
        Self {
            standard,
            form,
            class: String::new(),
            alloy: None,
            tensile_min_mpa: None,
            tensile_mpa: None,
            yield_min_mpa: None,
            impact_c: None,
            covering: None,
            low_hydrogen: None,
            polarity: Vec::new(),
            positions: Vec::new(),
            shielding: None,
            single_pass: false,
            hydrogen_ml_100g: None,
            moisture_resistant: false,
        }
    }

    /// Takes over what a symbol says, except its meaning in words.
    pub(super) fn take(&mut self, symbol: &'static symbols::Row) {
        self.tensile_min_mpa = symbol.tensile_min_mpa.or(self.tensile_min_mpa);
        self.tensile_mpa = symbol.tensile_mpa.or(self.tensile_mpa);
        self.yield_min_mpa = symbol.yield_min_mpa.or(self.yield_min_mpa);
        self.impact_c = symbol.impact_c.or(self.impact_c);
        self.low_hydrogen = symbol.low_hydrogen.or(self.low_hydrogen);
        self.hydrogen_ml_100g = symbol.hydrogen_ml_100g.or(self.hydrogen_ml_100g);
        self.single_pass |= symbol.single_pass.unwrap_or(false);
        if !symbol.polarity.is_empty() {
            symbol.polarity.clone_into(&mut self.polarity);
        }
        if !symbol.positions.is_empty() {
            symbol.positions.clone_into(&mut self.positions);
        }
        if !symbol.gas.is_empty() {
            self.shielding = Some(Shielding::Gas(symbol.gas.to_vec()));
        } else if symbol.self_shielded == Some(true) {
            self.shielding = Some(Shielding::SelfShielded);
        }
    }
}

/// Where and why a parser stopped.
#[derive(Debug)]
pub(super) struct Stop {
    pub(super) standard: &'static str,
    pub(super) expected: &'static str,
}

/// A parser stops: its standard asks for something else here.
pub(super) fn stop<T>(standard: &'static str, expected: &'static str) -> Result<T, Stop> {
    Err(Stop { standard, expected })
}
