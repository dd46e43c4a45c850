//! What is known of a weld before its procedure is written, and why some of it is refused.

use seamwright_handbook::base_metals::{self, BaseMetal};
use seamwright_handbook::measure::figure;
use seamwright_handbook::planning::{Attitude, Part};
use seamwright_handbook::positions::{self, Product};
use seamwright_handbook::process_suitability::{self, Suits};
use seamwright_handbook::processes::Wire;
use seamwright_handbook::{aws_d1_1, covered_electrodes, filler_choice, metal_families};
use seamwright_handbook::{find, planning, processes, setting_limits, shielding_gases};
use seamwright_model::procedure::{CodeName, JointType};

use crate::bench::Bench;
use crate::figures::{rule, span};
use crate::page::Said;
use crate::refused::Refused;
use crate::sizes::{Size, length};
use crate::trade;

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

fn owned(names: &[&str]) -> Vec<String> {
    names.iter().map(|name| (*name).to_owned()).collect()
}

impl Facts {
    /// Reads facts as they were typed and holds them against each other.
    ///
    /// Refused: an unknown name, a quantity without unit, a process that does not suit the metal, a thickness outside the
    /// tables, a position that is not one of the weld or the product.
    pub fn read(typed: &Typed) -> Result<Self, Refused> {
        Self::read_with(typed, &Choices::default())
    }

    /// Reads facts with what was chosen beside them; several processes, as `141,111`, weld the root and fill the joint.
    pub fn read_with(typed: &Typed, choices: &Choices) -> Result<Self, Refused> {
        let processes: Vec<&str> = typed.process.split(',').map(str::trim).filter(|own| !own.is_empty()).collect();
        let of = |process: &str| {
            let typed = Typed { process: trade::process(process, choices.filler.as_deref()), ..typed.clone() };
            let mut facts = Self::of_metals(&typed)?;
            trade::process_taken(process, facts.process, &mut facts.taken);
            facts.choose(choices)?;
            Ok(facts)
        };
        match processes.as_slice() {
            [] | [_] => {
                let mut facts = of(processes.first().copied().unwrap_or_default())?;
                if facts.root_by_tungsten() {
                    let root = tungsten().and_then(|row| facts.by_process(row.number));
                    facts.rooted(root);
                    if facts.root.is_some() {
                        let root = facts.root.as_ref().map_or("", |root| root.process.number);
                        let said = format!("the open root is by {root}, the rest by {}", facts.process.number);
                        facts.taken.push(said);
                    }
                }
                Ok(facts)
            }
            [root, fill] => {
                let mut facts = of(fill)?;
                // A root is thin whatever the wall is.
                let root = match of(root) {
                    Err(Refused::Thickness { process, .. }) => facts
                        .by_process(&process)
                        .ok_or_else(|| Refused::Contradiction(format!("process {process} welds no root")))?,
                    read => read?,
                };
                if !facts.groove() {
                    return Err(Refused::Contradiction(
                        "two processes weld a butt: the first its root, the second the rest".to_owned(),
                    ));
                }
                if root.process.number != facts.process.number {
                    facts.rooted(Some(root));
                }
                Ok(facts)
            }
            _ => Err(Refused::Contradiction(format!(
                "{} processes are given: one, or two, of which the first welds the root",
                processes.len()
            ))),
        }
    }

    /// The same joint by another process, whatever its thickness.
    fn by_process(&self, number: &str) -> Option<Self> {
        let process = processes::get(number)?;
        let suits = process_suitability::get(self.metal, process.number)?;
        Some(Self { process, suits, ..self.clone() })
    }

    /// Gives the root to another process.
    fn rooted(&mut self, root: Option<Self>) {
        let Some(mut root) = root else { return };
        root.part = Some(Part::Root);
        self.part = Some(Part::Fill);
        self.root = Some(Box::new(root));
    }

    /// Keeps what was chosen, held against the facts.
    fn choose(&mut self, choices: &Choices) -> Result<(), Refused> {
        const BACKINGS: [&str; 4] = ["none", "strip", "ceramic", "gouge"];
        let codes: Vec<&str> = CodeName::ALL.iter().map(|code| code.as_str()).collect();
        let one_of = |what: &'static str, stated: Option<&String>, known: &[&str]| match stated {
            Some(own) if !known.contains(&own.as_str()) => {
                Err(Refused::Unknown { what, text: own.clone(), near: owned(known), table: None })
            }
            _ => Ok(()),
        };
        one_of("the backing", choices.backing.as_ref(), &BACKINGS)?;
        one_of("the code", choices.code.as_ref(), &codes)?;
        if choices.backing.is_some() && !self.groove() {
            return Err(Refused::Contradiction(format!("a {} joint has a fillet, which takes no backing", self.joint)));
        }
        if let Some(leg) = &choices.leg {
            if self.groove() {
                return Err(Refused::Contradiction("a butt has a groove weld, which has no leg".to_owned()));
            }
            self.leg = Some(length("leg", leg)?);
        }
        if let Some(size) = &choices.size {
            length("diameter of the filler", size)?;
        }
        // Line pipe is welded downwards with cellulosic electrodes.
        self.down = choices.code.as_deref() == Some("api-1104")
            && self.process.covered_electrode()
            && self.diameter.is_some()
            && metal_families::is_in(self.metal.family, "carbon-steel")
            && self.position.progression == positions::Progression::Either;
        if self.down {
            self.taken.push(format!("{} under API 1104 is welded downwards", self.position.code));
        }
        self.choices = choices.clone();
        self.choices.gas = choices.gas.as_deref().map(|word| self.gas(word)).transpose()?;
        // A V on a strip is not prequalified in a horizontal groove with wire: the single bevel is.
        let wire = self.process.uses_wire_feed && self.process.active_gas();
        let under_code = choices.code.as_deref() == Some("aws-d1.1") && choices.detail.is_none();
        if under_code && wire && self.position.code == "2G" && self.backing().is_some_and(|own| own == "strip") {
            self.detail = self.detail_row("B-U4a-GF").ok();
        }
        if let Some(name) = &choices.detail {
            self.detail = Some(self.detail_row(name)?);
            self.choices.code.get_or_insert_with(|| "aws-d1.1".to_owned());
        }
        Ok(())
    }

    /// The symbol of a gas, by any of its names; refused where the process does not weld the metal in it.
    fn gas(&self, word: &str) -> Result<String, Refused> {
        let row = shielding_gases::get(word).ok_or_else(|| Refused::Unknown {
            what: "the gas",
            text: word.trim().to_owned(),
            near: owned(&shielding_gases::nearest(word)),
            table: Some("gas-names"),
        })?;
        let suited = &self.suits.gases;
        if suited.iter().any(|own| find::same(own, row.symbol)) {
            return Ok(row.symbol.to_owned());
        }
        let given = if find::same(word, row.symbol) { word.to_owned() } else { format!("{word} ({})", row.symbol) };
        Err(Refused::Contradiction(if suited.is_empty() {
            format!("process {} takes no shielding gas, and --gas {word} is given", self.process.number)
        } else {
            format!(
                "gas {given} is none of those for {} by process {}: {}",
                self.metal.specification,
                self.process.number,
                suited.join(", ")
            )
        }))
    }

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

    /// The choice of a detail that process, position and thickness leave.
    fn detail_row(&self, name: &str) -> Result<&'static aws_d1_1::JointRow, Refused> {
        let rows = aws_d1_1::joint(name);
        let Some(first) = rows.first() else {
            let near = owned(&aws_d1_1::nearest_joints(name));
            return Err(Refused::Unknown {
                what: "the detail",
                text: name.to_owned(),
                near,
                table: Some("aws-d1-1-joints"),
            });
        };
        let refuse = |why: String| Err(Refused::Contradiction(format!("{} is {why}", first.designation)));
        if self.choices.code.as_deref().is_some_and(|code| code != "aws-d1.1") {
            return refuse("a detail of AWS D1.1, and the work is under another code".to_owned());
        }
        if !self.groove() || !first.joins('B') {
            return refuse("drafted for a butt only".to_owned());
        }
        if self.choices.backing.is_some() {
            return refuse("a detail that says itself how the root is held; leave --backing out".to_owned());
        }
        let drafted = match first.groove() {
            1 | 2 | 4 => first.backing && first.spacer.is_none(),
            3 => !first.backing && !first.under_flux(),
            _ => false,
        };
        if self.diameter.is_some() || first.partial() || !drafted {
            return refuse("not one of the details that are drafted: plate on a strip, or a double V".to_owned());
        }
        let number = self.process.number;
        if !first.processes.contains(&number) {
            return refuse(format!("for processes {}", first.processes.join(", ")));
        }
        let of_size = |row: &&&aws_d1_1::JointRow| self.size().is_none_or(|size| row.takes(size));
        if !rows.iter().any(|row| of_size(&row)) {
            let words: Vec<String> = rows.iter().filter_map(|row| row.thicknesses(self.inches)).collect();
            return refuse(format!("for thickness {}", words.join("; ")));
        }
        let parts = self.position.parts();
        let fits = |row: &&&aws_d1_1::JointRow| {
            of_size(row)
                && parts.iter().all(|part| row.positions.iter().any(|own| own == part))
                && (row.gas.is_none() || self.process.uses_shielding_gas)
        };
        rows.iter().find(fits).copied().ok_or_else(|| {
            Refused::Contradiction(format!(
                "{} is not prequalified in position {}",
                first.designation, self.position.code
            ))
        })
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

    /// Whether the work is American: in inches, or under AWS D1.1.
    pub(crate) fn american(&self) -> bool {
        self.inches || self.choices.code.as_deref() == Some("aws-d1.1")
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
        let under_code =
            self.american() && structural && self.thickness_mm > rule("closed-root-over").0.high && !self.thick_plate();
        let tiles_fall = self.position.overhead && self.process.active_gas() && !self.mag();
        (under_code || tiles_fall).then(|| "strip".to_owned())
    }

    /// Whether an open root is by a tungsten arc as usual: in pipe of alloyed metal, in pipe with cored wire, and in stainless
    /// plate that is welded with solid wire.
    fn root_by_tungsten(&self) -> bool {
        if self.down
            || !self.groove()
            || self.process.uses_tungsten
            || self.backing().is_some()
            || self.process.uses_flux
        {
            return false;
        }
        let usual = tungsten()
            .and_then(|row| process_suitability::get(self.metal, row.number))
            .is_some_and(|row| row.suits == Suits::Usual);
        let steel = self.metal.family == "carbon-steel" && self.second().family == "carbon-steel";
        let (thin, _) = rule("root-by-tungsten-over");
        if !usual || self.process.inert_gas_alone() || self.thickness_mm <= thin.high {
            return false;
        }
        if self.diameter.is_some() {
            // Steel for the cold has no cellulosic electrode for its root.
            let covered = processes::rows().iter().find(|row| row.covered_electrode());
            let choice = covered.and_then(|row| filler_choice::choose(self.metal, self.second(), row.number));
            let cellulosic = choice.is_some_and(|(_, classes)| {
                classes.iter().any(|own| covered_electrodes::cellulosic(own.classification))
            });
            return !steel || !cellulosic || !(self.process.covered_electrode() || self.mag());
        }
        let stainless = metal_families::is_in(self.metal.family, "stainless");
        (self.mag() || self.process.covered_electrode())
            && stainless
            && self.thickness_mm <= rule("stainless-root-by-tungsten").0.high
    }

    /// Reads the facts of one or two metals.
    fn of_metals(typed: &Typed) -> Result<Self, Refused> {
        let Some(to) = typed.to.as_deref().filter(|to| to.trim() != typed.metal.trim()) else {
            return Self::of_one(typed);
        };
        // Each metal is held against the facts by itself. The handbook's list goes from plain to alloyed metal: the later
        // one asks more of gas and root and leads, whichever is typed first.
        let first = Self::of_one(typed)?;
        let second = Self::of_one(&Typed { metal: to.to_owned(), ..typed.clone() })?;
        let place = |facts: &Self| base_metals::rows().iter().position(|row| std::ptr::eq(row, facts.metal));
        let (lead, other) = if place(&second) > place(&first) { (second, first) } else { (first, second) };
        if std::ptr::eq(lead.metal, other.metal) {
            return Ok(lead);
        }
        let to = Some((other.metal, other.metal_name));
        let mut taken = lead.taken.clone();
        taken.extend(other.taken.into_iter().filter(|own| !lead.taken.contains(own)));
        taken.sort();
        Ok(Self { to, taken, ..lead })
    }

    /// The facts with one metal.
    fn of_one(typed: &Typed) -> Result<Self, Refused> {
        let mut taken = Vec::new();
        let size = Size::read(&typed.thickness, &typed.metal)?;
        let metal = metal(&typed.metal)?;
        trade::metal(&typed.metal, &mut taken);
        let process = process(&typed.process, metal)?;
        let suits = process_suitability::get(metal, process.number).ok_or_else(|| Refused::Nothing {
            reason: format!("the handbook does not say how process {} suits {}", process.number, metal.specification),
            instead: Vec::new(),
        })?;
        if suits.suits == Suits::Unsuited {
            return Err(Refused::Unsuited {
                process: process.number.to_owned(),
                metal: metal.specification.to_owned(),
                reason: suits.reason.unwrap_or_default().to_owned(),
                instead: owned(suits.instead),
            });
        }
        let Size { thickness, thickness_mm, inches, diameter: of_schedule, said } = size;
        taken.extend(said);
        if let Some(row) = planning::made(metal)
            && !row.thickness_mm.contains(thickness_mm)
        {
            return Err(Refused::Contradiction(format!(
                "{} is made {} thick ({}), and {thickness} is stated",
                metal.specification,
                span(row.thickness_mm, "mm"),
                row.origin.source_ref().title,
            )));
        }
        if let Some(row) = planning::thickness(metal, process.number)
            && !row.thickness_mm.contains(thickness_mm)
        {
            return Err(Refused::Thickness {
                stated: thickness,
                process: process.number.to_owned(),
                metal: metal.specification.to_owned(),
                low: figure(row.thickness_mm.low),
                high: figure(row.thickness_mm.high),
                instead: owned(if thickness_mm < row.thickness_mm.low { row.thinner } else { row.thicker }),
            });
        }
        let joint = joint(&trade::joint(&typed.joint, &mut taken))?;
        let position = position(&trade::position(&typed.position, joint, &mut taken), joint)?;
        if let Some(row) = planning::thickness_lying(metal, process.number, lies(position))
            && !row.thickness_mm.contains(thickness_mm)
        {
            return Err(Refused::Thickness {
                stated: thickness,
                process: process.number.to_owned(),
                metal: format!("{} in {}", metal.specification, position.code),
                low: figure(row.thickness_mm.low),
                high: figure(row.thickness_mm.high),
                instead: owned(if thickness_mm < row.thickness_mm.low { row.thinner } else { row.thicker }),
            });
        }
        let diameter = typed.diameter.as_deref().map(|text| length("diameter", text)).transpose()?.or(of_schedule);
        if let Some((stated, diameter_mm)) = &diameter {
            if *diameter_mm <= 2.0 * thickness_mm {
                return Err(Refused::Contradiction(format!(
                    "a pipe of {stated} outside cannot have a wall of {thickness}: the wall is less than half the diameter"
                )));
            }
            if position.product == Product::Plate {
                return Err(Refused::Contradiction(format!(
                    "position {} ({}) is one of plate, and a diameter is given",
                    position.code, position.name
                )));
            }
        } else if position.product == Product::Pipe {
            return Err(Refused::Contradiction(format!(
                "position {} ({}) is one of pipe: give its outside diameter",
                position.code, position.name
            )));
        }
        // A name that holds line breaks and the like is printed as the handbook has it.
        let plain = typed.metal.trim();
        // A name of the trade tells no grade: the page has the one that it is taken for.
        let named = base_metals::trade_name(plain).is_none() && !plain.chars().any(char::is_control);
        let metal_name = if named { plain.to_owned() } else { metal.specification.to_owned() };
        let diameter_mm = diameter.as_ref().map(|(_, mm)| *mm);
        let diameter = diameter.map(|(stated, _)| stated);
        Ok(Self {
            process,
            suits,
            metal,
            metal_name,
            to: None,
            thickness_mm,
            thickness,
            joint,
            position,
            diameter,
            diameter_mm,
            inches,
            taken,
            root: None,
            part: None,
            leg: None,
            detail: None,
            choices: Choices::default(),
            sized: None,
            cool: false,
            down: false,
            number: None,
            bench: None,
        })
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
        let limit = setting_limits::get("single-v-thickness", self.process.number);
        let gouged = self.choices.backing.as_deref() == Some("gouge");
        if self.process.uses_flux {
            return self.diameter.is_none() && self.thickness_mm >= rule("both-sides-under-flux").0.high;
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

/// The process with a tungsten electrode that drafts are written for.
fn tungsten() -> Option<&'static processes::Row> {
    planning::processes().into_iter().filter_map(processes::get).find(|row| row.uses_tungsten)
}

fn metal(text: &str) -> Result<&'static BaseMetal, Refused> {
    base_metals::find(text).ok_or_else(|| Refused::Unknown {
        what: "the metal",
        text: text.trim().to_owned(),
        near: owned(&base_metals::nearest(text)),
        table: Some("base-metals"),
    })
}

/// The process; letters that mean several are taken for the one that suits the metal.
fn process(text: &str, metal: &BaseMetal) -> Result<&'static processes::Row, Refused> {
    let row = processes::get(text).ok_or_else(|| Refused::Unknown {
        what: "the process",
        text: text.trim().to_owned(),
        near: owned(&processes::nearest(text)),
        table: Some("processes"),
    })?;
    let drafted = planning::processes();
    if drafted.contains(&row.number) {
        return Ok(row);
    }
    let inside = drafted.iter().filter(|number| row.number.len() == 2 && number.starts_with(row.number));
    let suited = inside.copied().find(|number| {
        let of_kind = processes::get(number).is_some_and(|own| own.letters == row.letters);
        of_kind && process_suitability::get(metal, number).is_some_and(|own| own.suits != Suits::Unsuited)
    });
    suited
        .and_then(processes::get)
        .ok_or_else(|| Refused::NotDrafted { process: row.number.to_owned(), drafted: drafted.clone() })
}

fn joint(text: &str) -> Result<JointType, Refused> {
    let joint: JointType = text.trim().to_lowercase().parse().map_err(|_: String| Refused::Quantity {
        what: "joint",
        reason: format!("`{}` is no joint that is drafted; write butt, tee, lap or corner", text.trim()),
    })?;
    if joint == JointType::Edge {
        return Err(Refused::Nothing {
            reason: "the handbook has no settings for edge welds".to_owned(),
            instead: owned(&["a corner joint"]),
        });
    }
    if joint == JointType::Cavity {
        return Err(Refused::Nothing {
            reason:
                "the handbook has no settings for the repair of a cavity, whose depth and width are found by grinding"
                    .to_owned(),
            instead: owned(&["a butt joint"]),
        });
    }
    Ok(joint)
}

fn position(text: &str, joint: JointType) -> Result<&'static positions::Row, Refused> {
    let row = positions::get(text).ok_or_else(|| Refused::Unknown {
        what: "the position",
        text: text.trim().to_owned(),
        near: owned(&positions::nearest(text)),
        table: Some("positions"),
    })?;
    let (agrees, weld) = match row.weld {
        positions::Weld::Both => (true, ""),
        positions::Weld::Groove => (joint == JointType::Butt, "groove"),
        positions::Weld::Fillet => (joint != JointType::Butt, "fillet"),
    };
    if !agrees {
        return Err(Refused::Contradiction(format!(
            "position {} ({}) is one of {weld} welds, and a {joint} joint has {}",
            row.code,
            row.name,
            if weld == "fillet" { "a groove" } else { "a fillet" }
        )));
    }
    Ok(row)
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

/// A refusal that names the processes which suit the metal as usual.
pub(crate) fn nothing(reason: String, facts: &Facts) -> Refused {
    let others = planning::processes().into_iter().filter(|number| {
        *number != facts.process.number
            && process_suitability::get(facts.metal, number).is_some_and(|row| row.suits == Suits::Usual)
            && planning::thickness(facts.metal, number).is_some_and(|row| row.thickness_mm.contains(facts.thickness_mm))
    });
    let reason = if facts.inches { crate::units::in_inches(&reason, false) } else { reason };
    Refused::Nothing { reason, instead: others.map(str::to_owned).collect() }
}
