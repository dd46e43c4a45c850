//! What is known of a weld before its procedure is written.

use seamwright_handbook::aws_d1_1;
use seamwright_handbook::base_metals::BaseMetal;
use seamwright_handbook::measure::figure;
use seamwright_handbook::planning::{self, Attitude, Part};
use seamwright_handbook::positions::{self};
use seamwright_handbook::process_suitability::{self};
use seamwright_handbook::processes::Wire;
use seamwright_handbook::{processes, setting_limits};
use seamwright_model::procedure::JointType;

use crate::bench::Bench;
use crate::figures::rule;
use crate::page::Said;
use crate::sizes::length;

mod read;

/// The facts as they were typed.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Typed {
    /// Process: ISO 4063 number or AWS letters.
    pub process: String,
    /// Base metal, by any of its names.
    pub metal: String,
    /// Base metal that it is welded to, where that is another.
    pub to: Option<String>,
    /// Thickness with its unit.
    pub thickness: String,
    /// `butt`, `tee`, `lap` or `corner`.
    pub joint: String,
    /// Position of ISO 6947 or of AWS.
    pub position: String,
    /// Outside diameter of a pipe with its unit.
    pub diameter: Option<String>,
}

/// What may be chosen beside the facts; what is left open is decided by the tables.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Choices {
    /// How the root of a butt is held: `none`, `strip`, `ceramic` or `gouge` (welded from both sides, the root gouged out).
    pub backing: Option<String>,
    /// Prequalified detail of AWS D1.1 that a butt is made to.
    pub detail: Option<String>,
    /// The code that the work is under: `aws-d1.1`, `iso-15614-1` or `asme-ix`.
    pub code: Option<String>,
    /// Leg of a fillet with its unit.
    pub leg: Option<String>,
    /// Class of the filler.
    pub filler: Option<String>,
    /// Diameter of filler, wire or electrode with its unit.
    pub size: Option<String>,
    /// Shielding gas by symbol of ISO 14175.
    pub gas: Option<String>,
    /// Name of the machine of the shop.
    pub machine: Option<String>,
}

/// The facts, with what the handbook knows of them.
#[derive(Debug, Clone)]
pub struct Facts {
    pub(crate) process: &'static processes::Row,
    pub(crate) suits: &'static process_suitability::Row,
    pub(crate) metal: &'static BaseMetal,
    pub(crate) metal_name: String,
    /// The other of two metals, and its name as typed.
    pub(crate) to: Option<(&'static BaseMetal, String)>,
    pub(crate) thickness_mm: f64,
    pub(crate) thickness: String,
    pub(crate) joint: JointType,
    pub(crate) position: &'static positions::Row,
    pub(crate) diameter: Option<String>,
    pub(crate) diameter_mm: Option<f64>,
    /// Whether the thickness is in inches: then the whole page is.
    pub(crate) inches: bool,
    /// Words that were taken for names of the handbook, and for which.
    pub(crate) taken: Vec<String>,
    /// The same joint seen from the process of its root, where that is another.
    pub(crate) root: Option<Box<Facts>>,
    /// Which runs the process welds, where another welds the rest.
    pub(crate) part: Option<Part>,
    /// Leg of a fillet as chosen, and in mm.
    pub(crate) leg: Option<(String, f64)>,
    /// The choice of a prequalified detail that the butt is made to.
    pub(crate) detail: Option<&'static aws_d1_1::JointRow>,
    pub(crate) choices: Choices,
    /// Why the size of the filler is the chosen one, where nobody typed it.
    pub(crate) sized: Option<String>,
    /// Whether short circuits do as far as they fuse, where spray asks for more than there is.
    pub(crate) cool: bool,
    /// Whether a position that leaves it open is welded downwards, as line pipe is.
    pub(crate) down: bool,
    /// Number of the procedure, where it has one.
    pub(crate) number: Option<String>,
    /// What the shop has, where one is given.
    pub(crate) bench: Option<Bench>,
}

impl Facts {
    /// The same facts with a size of filler, and why it is that size.
    pub(crate) fn with_size(&self, size_mm: f64, why: &str) -> Self {
        let mut facts = self.clone();
        facts.choices.size = Some(format!("{} mm", figure(size_mm)));
        facts.sized = Some(why.to_owned());
        facts
    }

    /// The same facts with the size of filler that the tables give.
    pub(crate) fn without_size(&self) -> Self {
        let mut facts = self.clone();
        facts.choices.size = None;
        facts.sized = None;
        facts
    }

    /// Why the filler has the chosen size.
    pub(crate) fn size_said(&self) -> Said {
        self.sized.clone().map_or(Said::Given, |why| Said::Follows(why.into()))
    }

    /// The thickness as it is stated: in inches or in millimetres.
    pub(crate) fn size(&self) -> Option<seamwright_handbook::Size> {
        if self.inches {
            // to a millionth of an inch, which no sheet is made to
            seamwright_handbook::Size::from_inches(
                (self.thickness_mm / seamwright_handbook::measure::MM_IN * 1e6).round() / 1e6,
            )
        } else {
            seamwright_handbook::Size::from_mm(self.thickness_mm)
        }
    }

    /// The chosen size of filler, wire or electrode, mm.
    pub(crate) fn size_mm(&self) -> Option<f64> {
        self.choices.size.as_deref().and_then(|text| length("diameter", text).ok()).map(|(_, mm)| mm)
    }

    /// Whether the work is under AWS D1.1.
    pub(crate) fn under_aws_d1_1(&self) -> bool {
        self.choices.code.as_deref() == Some("aws-d1.1")
    }

    /// Whether the work is American: in inches, or under AWS D1.1.
    pub(crate) fn american(&self) -> bool {
        self.inches || self.under_aws_d1_1()
    }

    /// How the root is held: as chosen; on a strip where a code or the position wants one.
    pub(crate) fn backing(&self) -> Option<String> {
        if let Some(row) = self.detail {
            return Some(if row.backing { "strip" } else { "gouge" }.to_owned());
        }
        if self.choices.backing.is_some() || !self.groove() || self.diameter.is_some() {
            return self.choices.backing.clone();
        }
        // American structural work closes the root on a strip or gouges it: an open one is not prequalified.
        let structural =
            self.metal.d1_1_group.is_some() && !self.process.uses_tungsten && !self.process.inert_gas_alone();
        let under_code = self.american()
            && structural
            && self.thickness_mm > rule(planning::CLOSED_ROOT_OVER).0.high
            && !self.thick_plate();
        let tiles_fall = self.position.overhead && self.process.active_gas() && !self.mag();
        (under_code || tiles_fall).then(|| "strip".to_owned())
    }

    /// The same facts for a procedure with a number.
    #[must_use]
    pub fn numbered(self, number: &str) -> Self {
        let plain: String = number.trim().chars().filter(|c| !c.is_control()).collect();
        Self { number: Some(plain).filter(|plain| !plain.is_empty()), ..self }
    }

    /// The process as the page names it: by number, in American work by letters.
    pub(crate) fn process_name(&self) -> &'static str {
        if self.inches { self.process.letters } else { self.process.number }
    }

    /// The filler as the page names it; of two processes each says which run it is for.
    pub(crate) fn filler_name(&self) -> &'static str {
        let kind = filler_name(self.process);
        match (self.part, kind) {
            (Some(Part::Root), "rod") => "root-rod",
            (Some(Part::Root), "wire") => "root-wire",
            (Some(Part::Root), _) => "root-electrode",
            (Some(_), "wire") => "fill-wire",
            (Some(_), "rod") => "fill-rod",
            (Some(_), _) => "fill-electrode",
            (None, kind) => kind,
        }
    }

    /// Whether a plate is so thick, or so chosen, that it is welded from both sides.
    pub(crate) fn both_sides(&self) -> bool {
        self.groove() && self.thick_plate()
    }

    /// Whether a plate is so thick that it is welded from both sides, whatever holds the root.
    pub(crate) fn thick_plate(&self) -> bool {
        let limit = setting_limits::get(setting_limits::SINGLE_V_THICKNESS, self.process.number);
        let gouged = self.choices.backing.as_deref() == Some("gouge");
        if self.process.uses_flux {
            return self.diameter.is_none() && self.thickness_mm >= rule(planning::BOTH_SIDES_UNDER_FLUX).0.high;
        }
        let over = |share: f64| limit.as_ref().is_some_and(|limit| self.thickness_mm >= share * limit.usual.high);
        self.diameter.is_none() && (over(1.0) || (gouged && over(0.5)))
    }

    /// Whether solid wire is welded in active gas.
    pub(crate) fn mag(&self) -> bool {
        self.process.shielded_wire(Wire::Solid) && self.process.active_gas()
    }

    /// The metal that the leading one is welded to: the other, or one like it.
    pub(crate) fn second(&self) -> &'static BaseMetal {
        self.to.as_ref().map_or(self.metal, |(metal, _)| *metal)
    }

    /// The facts seen from the other of two metals.
    pub(crate) fn other(&self) -> Option<Self> {
        let (metal, name) = self.to.clone()?;
        Some(Self { metal, metal_name: name, to: None, root: None, ..self.clone() })
    }

    /// Whether the weld is a groove weld; the others are fillets.
    pub(crate) fn groove(&self) -> bool {
        self.joint == JointType::Butt
    }

    /// Whether welding goes downwards; a position that leaves it open is taken upwards.
    pub(crate) fn downward(&self) -> bool {
        self.down || self.position.progression == positions::Progression::Downward
    }

    /// Whether the seam runs horizontally on a vertical wall.
    pub(crate) fn horizontal(&self) -> bool {
        matches!(self.position.code, "PC" | "2G")
    }

    /// How the weld lies.
    pub(crate) fn attitude(&self) -> Attitude {
        lies(self.position)
    }
}

fn lies(position: &positions::Row) -> Attitude {
    if position.vertical || position.overhead { Attitude::Other } else { Attitude::Flat }
}

/// Name of the filler in the document.
fn filler_name(process: &processes::Row) -> &'static str {
    if process.uses_tungsten {
        "rod"
    } else if process.uses_wire_feed {
        "wire"
    } else {
        "electrode"
    }
}
