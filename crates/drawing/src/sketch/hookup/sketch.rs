//! A hook-up to be drawn.

/// What carries the arc.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ArcCarrier {
    /// A tungsten electrode: 141.
    #[default]
    Tungsten,
    /// A covered electrode: 111.
    Electrode,
    /// A wire under gas: 131, 135, 136, 138.
    Wire,
    /// A wire that shields itself: 114.
    SelfShieldedWire,
}

/// The kind of current and how it is connected.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Polarity {
    /// Direct current, electrode on minus: DCEN.
    #[default]
    ElectrodeNegative,
    /// Direct current, electrode on plus: DCEP.
    ElectrodePositive,
    /// Alternating current.
    Alternating,
}

/// The way of the shielding gas.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum GasPath {
    /// No gas.
    None,
    /// Through the solenoid valve of the power source or of the wire feeder.
    #[default]
    Solenoid,
    /// From the regulator straight to a valve on the torch: the machine has no solenoid.
    TorchValve,
}

/// What the welder controls the current with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Remote {
    /// Nothing: it is set at the power source.
    #[default]
    None,
    /// A foot pedal.
    FootPedal,
    /// A switch on the torch.
    TorchSwitch,
}

/// How the arc of a tungsten electrode is started.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ArcStart {
    /// Not said.
    #[default]
    Unsaid,
    /// Without touching, by high frequency.
    HighFrequency,
    /// By touching and lifting at a current that the machine keeps low.
    Lift,
    /// By striking like a match.
    Scratch,
}

/// What the parts of a hook-up are called, ready to print.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct HookupNames {
    /// The power source; a soft hyphen (U+00AD) says where a long word may be broken.
    pub power_source: String,
    /// The terminal of the electrode, in one word: "torch", "holder".
    pub holder: String,
    /// The terminal of the work.
    pub work: String,
    /// The torch, gun or holder.
    pub torch: String,
    /// The clamp on the work.
    pub work_clamp: String,
    /// What is in the cylinder and how it is set: "argon, flow meter 8–10 L/min".
    pub gas: String,
    /// The gas valve on the torch.
    pub valve: String,
    /// The wire feeder that stands apart.
    pub wire_feeder: String,
    /// The foot pedal.
    pub foot_pedal: String,
    /// The switch on the torch.
    pub torch_switch: String,
    /// The water cooler.
    pub water_cooler: String,
}

/// A hook-up to be drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct HookupSketch {
    /// What carries the arc.
    pub carrier: ArcCarrier,
    /// How it is connected.
    pub polarity: Polarity,
    /// The way of the gas.
    pub gas: GasPath,
    /// What the welder controls the current with.
    pub remote: Remote,
    /// Whether a water cooler stands with the machine.
    pub water_cooler: bool,
    /// Whether the wire feeder stands apart from the power source.
    pub separate_feeder: bool,
    /// How the arc of a tungsten electrode is started.
    pub arc_start: ArcStart,
    /// What everything in it is called.
    pub names: HookupNames,
    /// Sentences under the picture, the first of them in bold.
    pub words: Vec<String>,
    /// Widest drawing, mm.
    pub max_width: f64,
    /// Highest drawing, mm.
    pub max_height: f64,
    /// Size of the type, pt.
    pub text_size: f64,
}

impl Default for HookupSketch {
    fn default() -> Self {
        Self {
            carrier: ArcCarrier::Tungsten,
            polarity: Polarity::ElectrodeNegative,
            gas: GasPath::Solenoid,
            remote: Remote::None,
            water_cooler: false,
            separate_feeder: false,
            arc_start: ArcStart::Unsaid,
            names: HookupNames::default(),
            words: Vec::new(),
            max_width: 110.0,
            max_height: 90.0,
            text_size: 8.0,
        }
    }
}

impl HookupSketch {
    /// Whether gas goes to the torch.
    pub fn has_gas(&self) -> bool {
        self.gas != GasPath::None && matches!(self.carrier, ArcCarrier::Tungsten | ArcCarrier::Wire)
    }

    /// Whether a wire is fed.
    pub fn is_wire(&self) -> bool {
        matches!(self.carrier, ArcCarrier::Wire | ArcCarrier::SelfShieldedWire)
    }

    /// Signs of the terminals of torch and work.
    pub(super) const fn signs(&self) -> (&'static str, &'static str) {
        match self.polarity {
            Polarity::ElectrodeNegative => ("−", "+"),
            Polarity::ElectrodePositive => ("+", "−"),
            Polarity::Alternating => ("~", "~"),
        }
    }
}
