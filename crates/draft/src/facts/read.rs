//! Facts as they were typed, read and held against each other, and why some are refused.

use crate::figures::{rule, span};
use crate::no_draft::usual_processes;
use crate::refused::Refused;
use crate::sizes::{Size, length};
use crate::trade;
use seamwright_handbook::base_metals::{self, BaseMetal};
use seamwright_handbook::measure::figure;
use seamwright_handbook::planning::Part;
use seamwright_handbook::positions::{self, Product};
use seamwright_handbook::process_suitability::{self, Suits};
use seamwright_handbook::{aws_d1_1, covered_electrodes, filler_choice, metal_families};
use seamwright_handbook::{find, planning, processes, shielding_gases};
use seamwright_model::procedure::{CodeName, JointType};

use super::{Choices, Facts, Typed, lies};

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
        let under_code = self.under_aws_d1_1() && choices.detail.is_none();
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
            let words: Vec<String> = rows.iter().filter_map(|row| Some(row.thicknesses(self.inches)?.text)).collect();
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
        let (thin, _) = rule(planning::ROOT_BY_TUNGSTEN_OVER);
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
            && self.thickness_mm <= rule(planning::STAINLESS_ROOT_BY_TUNGSTEN).0.high
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
            instead: usual_processes(metal, process.number, size.thickness_mm),
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
        let stated = typed.diameter.as_deref().map(|text| length("diameter", text)).transpose()?;
        if let (Some((stated, stated_mm)), Some((pipe, pipe_mm))) = (&stated, &of_schedule)
            && three_digits(*stated_mm) != three_digits(*pipe_mm)
        {
            return Err(Refused::Contradiction(format!(
                "{} is pipe of {pipe} outside (pipe-schedules), and a diameter of {stated} is stated: leave out the \
                 diameter, or give the wall of that pipe",
                typed.thickness.trim()
            )));
        }
        let diameter = stated.or(of_schedule);
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
}

fn owned(names: &[&str]) -> Vec<String> {
    names.iter().map(|name| (*name).to_owned()).collect()
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

/// A size as tables print that of pipe, in three digits: 609.6 mm and 610 mm are the same pipe.
fn three_digits(size: f64) -> String {
    format!("{size:.2e}")
}
