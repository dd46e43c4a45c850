//! The hook-up: which cable goes on which terminal, and which way the gas goes.
//!
//! Everything follows from the process, the polarity and what stands in the shop. The torch's terminal is drawn over
//! that of the work, so that the cables never cross; which of the two is plus stands in the terminals and in words.

mod picture;

use std::borrow::Cow;

use self::picture::build;
use super::canvas::fit_clear;
use super::drawing::Drawing;
use super::lately::Lately;
use crate::kinds::SheetOptions;
use crate::words::label;

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

/// A hook-up to be drawn.
#[derive(Debug, Clone, PartialEq)]
pub struct HookupSketch {
    /// What carries the arc.
    pub carrier: ArcCarrier,
    /// How it is connected.
    pub polarity: Polarity,
    /// The way of the gas.
    pub gas: GasPath,
    /// What is in the cylinder and how it is set: "argon, flow meter 8–10 L/min".
    pub gas_label: Option<String>,
    /// What the welder controls the current with.
    pub remote: Remote,
    /// Whether a water cooler stands with the machine.
    pub water_cooler: bool,
    /// Whether the wire feeder stands apart from the power source.
    pub separate_feeder: bool,
    /// How the arc of a tungsten electrode is started.
    pub arc_start: ArcStart,
    /// What the power source is called; "power source" where absent.
    pub source_label: Option<String>,
    /// What the torch is called; a plain name where absent.
    pub torch_label: Option<String>,
    /// Whether connection and notes stand in words under the picture.
    pub with_words: bool,
    /// Terms and language of the words.
    pub words: SheetOptions,
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
            gas_label: None,
            remote: Remote::None,
            water_cooler: false,
            separate_feeder: false,
            arc_start: ArcStart::Unsaid,
            source_label: None,
            torch_label: None,
            with_words: true,
            words: SheetOptions::default(),
            max_width: 110.0,
            max_height: 90.0,
            text_size: 8.0,
        }
    }
}

impl HookupSketch {
    fn has_gas(&self) -> bool {
        self.gas != GasPath::None && matches!(self.carrier, ArcCarrier::Tungsten | ArcCarrier::Wire)
    }

    fn is_wire(&self) -> bool {
        matches!(self.carrier, ArcCarrier::Wire | ArcCarrier::SelfShieldedWire)
    }

    /// What the electrode is held by, in one word.
    fn holder(&self) -> Cow<'static, str> {
        self.words.say(match self.carrier {
            ArcCarrier::Electrode => label::HOLDER,
            ArcCarrier::Tungsten | ArcCarrier::Wire | ArcCarrier::SelfShieldedWire => label::TORCH,
        })
    }

    fn torch_name(&self) -> Cow<'_, str> {
        if let Some(own) = &self.torch_label {
            return Cow::Borrowed(own);
        }
        self.words.say(match self.carrier {
            ArcCarrier::Electrode => label::ELECTRODE_HOLDER,
            ArcCarrier::Tungsten => label::TORCH,
            ArcCarrier::Wire | ArcCarrier::SelfShieldedWire => label::WIRE_TORCH,
        })
    }

    /// Signs of the terminals of torch and work.
    const fn signs(&self) -> (&'static str, &'static str) {
        match self.polarity {
            Polarity::ElectrodeNegative => ("−", "+"),
            Polarity::ElectrodePositive => ("+", "−"),
            Polarity::Alternating => ("~", "~"),
        }
    }

    /// The connection in words: the one line that may not be got wrong.
    pub fn connection(&self) -> String {
        let holder = self.holder();
        let said = match self.polarity {
            Polarity::ElectrodeNegative => label::ELECTRODE_NEGATIVE,
            Polarity::ElectrodePositive => label::ELECTRODE_POSITIVE,
            Polarity::Alternating => label::ALTERNATING,
        };
        self.words.fill(said, &[("holder", &holder)])
    }

    /// What this hook-up asks of the welder, in words.
    pub fn notes(&self) -> Vec<String> {
        let mut notes = Vec::new();
        if self.has_gas() && self.gas == GasPath::TorchValve {
            notes.push(label::NO_SOLENOID);
        }
        if self.carrier == ArcCarrier::Tungsten {
            match self.arc_start {
                ArcStart::Lift => notes.push(label::LIFT_START),
                ArcStart::Scratch => notes.push(label::SCRATCH_START),
                ArcStart::HighFrequency => notes.push(label::HIGH_FREQUENCY_START),
                ArcStart::Unsaid => {}
            }
        }
        if self.carrier == ArcCarrier::SelfShieldedWire {
            notes.push(label::SHIELDS_ITSELF);
        }
        notes.into_iter().map(|note| self.words.say(note).into_owned()).collect()
    }
}

/// The hook-up diagram, at most as large as the sketch allows.
pub fn hookup(sketch: &HookupSketch) -> Drawing {
    static LATELY: Lately = Lately::new();
    LATELY.of(sketch, draw_hookup)
}

fn draw_hookup(sketch: &HookupSketch) -> Drawing {
    let room = (sketch.max_width, sketch.max_height);
    let canvas = fit_clear(room, 0.35, 2.4, |scale| build(sketch, scale));
    canvas.finish(alt(sketch), sketch.max_width, sketch.max_height)
}

fn alt(sketch: &HookupSketch) -> String {
    let mut alt = format!("Hook-up of the power source. {}.", sketch.connection());
    if sketch.has_gas() {
        alt.push_str(match sketch.gas {
            GasPath::TorchValve => " Gas goes from the regulator straight to a valve on the torch.",
            _ => " Gas goes from the regulator through the machine's solenoid valve to the torch.",
        });
        if let Some(text) = &sketch.gas_label {
            alt.push_str(" Gas: ");
            alt.push_str(text);
            alt.push('.');
        }
    }
    if sketch.is_wire() {
        alt.push_str(if sketch.separate_feeder {
            " The wire feeder stands apart."
        } else {
            " The wire feeder is in the power source."
        });
    }
    if sketch.water_cooler {
        alt.push_str(" A water cooler feeds the torch.");
    }
    alt.push_str(match sketch.remote {
        Remote::None => "",
        Remote::FootPedal => " The current is controlled with a foot pedal.",
        Remote::TorchSwitch => " The current is switched on the torch.",
    });
    for note in sketch.notes() {
        alt.push(' ');
        alt.push_str(&note);
    }
    alt
}
