//! What is welded with what: filler, gas and mode of transfer, with the joint and its runs.

use seamwright_handbook::designation::{self, Shielding};
use seamwright_handbook::gmaw_parameters::{self, Transfer};
use seamwright_handbook::measure::{MM_IN, figure};
use seamwright_handbook::planning::{self, FamilyRow, Part};
use seamwright_handbook::process_suitability::{self, Need};
use seamwright_handbook::processes::Wire;
use seamwright_handbook::{
    Range, covered_electrodes, filler_choice, filler_classes, filler_suitability, find, metal_families, metal_heat,
    processes, setting_limits, shielding_gases,
};
use seamwright_model::procedure::JointType;

use crate::begin::Line;
use crate::facts::Facts;
use crate::figures::{rule, span};
use crate::hold::Holds;
use crate::joint::{self, Shape};
use crate::layers::{self, Modes};
use crate::machine;
use crate::no_draft::nothing;
use crate::page::{Said, Value};
use crate::refused::Refused;

pub(crate) use crate::layers::Run;

/// The decisions that come before the settings.
pub(crate) struct Plan {
    pub(crate) filler: Filler,
    /// The filler of the root run, where that is another.
    pub(crate) root_filler: Option<Filler>,
    /// Whose settings the metal begins with; covered electrodes need none.
    pub(crate) like: Option<&'static FamilyRow>,
    pub(crate) gas: Option<Gas>,
    pub(crate) shape: Shape,
    pub(crate) backing_gas: Option<Gas>,
    /// Cross-section of the whole weld, mm².
    pub(crate) area_mm2: f64,
    pub(crate) runs: Vec<Run>,
}

/// The filler.
pub(crate) struct Filler {
    /// As it is ordered.
    pub(crate) class: String,
    /// Its place in the choice of fillers.
    pub(crate) said: Said,
    /// What its designation says.
    pub(crate) reads: Option<designation::Filler>,
    /// Its row, where it is a covered electrode that the handbook lists.
    pub(crate) covered: Option<&'static covered_electrodes::Row>,
}

/// A gas.
pub(crate) struct Gas {
    /// Symbol of ISO 14175.
    pub(crate) symbol: String,
    /// Components in percent by volume, where settings are for one mixture.
    pub(crate) parts: Vec<(&'static str, f64)>,
    pub(crate) said: Said,
}

impl Plan {
    /// Holds the runs, of which the first has a place on the page.
    pub(crate) fn hold(&mut self, holds: &Holds, first: usize) {
        for (at, run) in self.runs.iter_mut().enumerate() {
            run.hold = holds.of(first + at);
        }
    }

    /// Makes a single fillet run some steps larger than planned, where its heat melts more than the small leg.
    pub(crate) fn larger(&mut self, facts: &Facts, steps: u32) {
        let (Shape::Fillet { leg_mm, leg, .. }, [run]) = (&mut self.shape, self.runs.as_mut_slice()) else { return };
        if steps == 0 || facts.leg.is_some() || facts.joint == JointType::Lap {
            return;
        }
        let step = if facts.inches { MM_IN / 32.0 } else { 0.5 };
        let larger = (*leg_mm + f64::from(steps) * step).min(largest_leg(facts, step)).max(*leg_mm);
        let by = (larger / *leg_mm).powi(2);
        *leg_mm = larger;
        let said = Said::Computed(
            "as large as one run at these settings melts it; the designer decides".into(),
            seamwright_model::finding::Basis::CommonPractice,
        );
        *leg = Value::new(format!("{} mm", figure(larger)), said);
        run.area_mm2 *= by;
        self.area_mm2 *= by;
    }

    /// Gives a single fillet run the leg that its settings lay down, where that is more than was planned.
    ///
    /// The leg at the edge of a lap is no longer than the edge is high: what is more lies on the face of the other sheet.
    pub(crate) fn grow(&mut self, facts: &Facts, laid_mm2: Option<f64>) {
        if facts.leg.is_some() {
            return;
        }
        let (Shape::Fillet { leg_mm, face, leg }, [run], Some(laid)) =
            (&mut self.shape, self.runs.as_mut_slice(), laid_mm2)
        else {
            return;
        };
        let Some(flat) = past_leg(laid, *leg_mm) else { return };
        let said = Said::Computed(
            "as large as one run at these settings makes it; the designer decides".into(),
            seamwright_model::finding::Basis::CommonPractice,
        );
        // Sixteenths are too coarse for sheet.
        let sheet = facts.thickness_mm < rule("leg-grown-plate").0.low;
        let step = if sheet { MM_IN / 32.0 } else { MM_IN / 16.0 };
        let step = if facts.inches { step } else { 0.5 };
        let even = |mm: f64| (mm / step).round() * step;
        let equal = even((2.0 * flat).sqrt()).min(largest_leg(facts, step)).max(*leg_mm);
        let edge = if facts.inches { *leg_mm } else { facts.thickness_mm };
        if facts.joint == JointType::Lap && equal > edge {
            *leg_mm = edge;
            let (most, _) = rule("lap-face-leg");
            let (thin, _) = rule("lap-face-leg-thin");
            let widest = thin.high.max(most.high * facts.thickness_mm);
            // In inches a size is one that a rule has.
            let fine = MM_IN / 64.0;
            let widest = if facts.inches { (widest / fine + 1e-6).floor() * fine } else { widest };
            let wide = even(2.0 * flat / edge).min(widest);
            *face = Some(Value::new(joint::size(facts, wide), said.clone()));
        } else {
            *leg_mm = equal;
        }
        *leg = Value::new(joint::size(facts, *leg_mm), said);
        run.area_mm2 = laid;
        self.area_mm2 = laid;
    }

    /// Gives a fillet of several runs the leg that they lay down, where the metal must cool in time: no smaller run has the heat
    /// for it.
    pub(crate) fn grow_timed(&mut self, facts: &Facts, laid_mm2: &[Option<f64>]) {
        let timed = metal_heat::cooling_time(facts.metal).is_some();
        let Shape::Fillet { leg_mm, leg, .. } = &mut self.shape else { return };
        if !timed || self.runs.len() < 2 || facts.leg.is_some() || facts.joint == JointType::Lap {
            return;
        }
        let all = self.runs.iter().zip(laid_mm2).map(|(run, laid)| laid.map(|laid| f64::from(run.count()) * laid));
        let Some(laid) = all.sum::<Option<f64>>() else { return };
        let Some(flat) = past_leg(laid, *leg_mm) else { return };
        let step = if facts.inches { MM_IN / 16.0 } else { 0.5 };
        let equal = ((2.0 * flat).sqrt() / step).round() * step;
        let most = (rule("leg-grown-for-heat").0.high * *leg_mm).min(largest_leg(facts, step));
        *leg_mm = equal.min(most).max(*leg_mm);
        let said = Said::Computed(
            "as large as runs with the heat that the metal needs make it; the designer decides".into(),
            seamwright_model::finding::Basis::CommonPractice,
        );
        *leg = Value::new(joint::size(facts, *leg_mm), said);
        self.area_mm2 = laid;
        for (run, laid) in self.runs.iter_mut().zip(laid_mm2) {
            run.area_mm2 = laid.unwrap_or(run.area_mm2);
        }
    }

    /// Decides, with runs of a size over the usual one; refused where the handbook has nothing that serves.
    ///
    /// Over the root of another process only the runs that fill the joint are planned.
    pub(crate) fn new(facts: &Facts, run_size: f64, root_plan: Option<&Self>) -> Result<Self, Refused> {
        downwards(facts)?;
        let process = facts.process.number;
        let like = planning::starting_family(facts.metal, process);
        if like.is_none() && !facts.process.covered_electrode() {
            return Err(nothing(format!("the handbook has no settings of process {process} for this metal"), facts));
        }
        let (root, fill) = transfers(facts, like)?;
        let mut filler = filler(facts)?;
        let (shape, area_mm2) = joint::shape(facts)?;
        let root_filler = root_filler(facts, &shape, &filler).filter(|_| root_plan.is_none());
        let classes = [root_filler.as_ref().unwrap_or(&filler).class.clone(), filler.class.clone()];
        let classes = [classes[0].as_str(), classes[1].as_str()];
        let over = root_plan.map(|plan| (plan.runs.len(), plan.runs.iter().map(|run| run.area_mm2).sum::<f64>()));
        let runs =
            layers::runs(facts, &shape, (area_mm2, over), Modes { root: root.0, fill: fill.0 }, classes, run_size)?;
        let line = runs.last().and_then(|run| run.line);
        let gas = gas(facts, &mut filler, like, root.max_spray(fill), line);
        let backing_gas = backing_gas(facts, &shape);
        Ok(Self { filler, root_filler, like, gas, shape, backing_gas, area_mm2, runs })
    }
}

/// Cross-section in mm² of a flat fillet of what is laid down, where that is a larger leg.
fn past_leg(laid_mm2: f64, leg_mm: f64) -> Option<f64> {
    let flat = laid_mm2 / rule("fillet-convexity").0.high;
    (flat > rule("fillet-leg-grows").0.high * leg_mm * leg_mm / 2.0).then_some(flat)
}

/// The largest leg that a part of this thickness takes, in whole steps of millimetres.
fn largest_leg(facts: &Facts, step: f64) -> f64 {
    // As the page names it: GMAW leaves open which of two it is.
    let process = processes::get(facts.process_name()).map_or(facts.process.number, |row| row.number);
    let widest = |name: &str| setting_limits::get(name, process).map_or(f64::INFINITY, |row| row.widest.high);
    // What one run makes on plate is not let grow past what the plate takes as usual.
    let (share, _) = rule("leg-grown-most");
    let (plate, _) = rule("leg-grown-plate");
    let grown = if facts.thickness_mm > plate.high { share.low } else { share.high };
    let over = if facts.thickness_mm > plate.low { grown } else { widest("leg-over-thicker") };
    let most = (over * facts.thickness_mm).max(widest("leg-of-one-run"));
    (most / step + 1e-6).floor() * step
}

/// Downward welding with a gas-shielded arc is for thin metal; cored and covered electrodes have it in their class.
fn downwards(facts: &Facts) -> Result<(), Refused> {
    let (most, _) = rule("vertical-down-most");
    let by_class = facts.process.covered_electrode() || facts.process.wire == Some(Wire::FluxCored);
    if facts.downward() && !by_class && facts.thickness_mm > most.high {
        return Err(Refused::Nothing {
            reason: format!(
                "{} is too thick for welding downwards in {} (up to {} mm)",
                facts.thickness,
                facts.position.code,
                figure(most.high)
            ),
            instead: vec!["an upward position such as PF".to_owned()],
        });
    }
    Ok(())
}

/// A mode of transfer, where the process has modes.
#[derive(Clone, Copy)]
struct Mode(Option<Transfer>);

impl Mode {
    /// Spray, if either is spray: it asks most of the gas.
    fn max_spray(self, other: Self) -> Option<Transfer> {
        [self.0, other.0].into_iter().flatten().find(|mode| *mode == Transfer::Spray).or(other.0)
    }
}

/// Whether a metal is welded in a mode of transfer where it lies.
fn used(facts: &Facts, mode: Transfer) -> bool {
    planning::run(facts.metal, facts.process.number, Some(mode), Part::Fill, facts.attitude()).is_some()
}

/// Whether the handbook has settings of a mode of transfer for the wire.
fn has_rows(like: Option<&FamilyRow>, mode: Transfer) -> bool {
    gmaw_parameters::rows().iter().any(|row| row.transfer == mode && like.is_some_and(|like| like.like == row.wire))
}

/// The modes of transfer of root and fill runs.
fn transfers(facts: &Facts, like: Option<&FamilyRow>) -> Result<(Mode, Mode), Refused> {
    let process = facts.process;
    if process.shielded_wire(Wire::MetalCored) {
        return Ok(metal_cored_modes(facts));
    }
    match (process.shielded_wire(Wire::Solid), process.inert_gas_alone()) {
        (true, true) => inert_modes(facts, like),
        (true, false) => active_modes(facts, like),
        (false, _) => Ok((Mode(None), Mode(None))),
    }
}

/// The mode of solid wire in inert gas: spray where the pool stays, else pulsed.
fn inert_modes(facts: &Facts, like: Option<&FamilyRow>) -> Result<(Mode, Mode), Refused> {
    let serves = |mode: &Transfer| used(facts, *mode) && has_rows(like, *mode);
    match [Transfer::Spray, Transfer::Pulsed].into_iter().find(serves) {
        Some(mode) => Ok((Mode(Some(mode)), Mode(Some(mode)))),
        None => Err(nothing(
            format!(
                "spray transfer of this metal runs out of the joint in {}, and the handbook has no pulsed settings for it",
                facts.position.code
            ),
            facts,
        )),
    }
}

/// The modes of metal cored wire: spray where the pool stays; else pulsed, over an open root by short circuits.
fn metal_cored_modes(facts: &Facts) -> (Mode, Mode) {
    if used(facts, Transfer::Spray) && !facts.cool {
        return (Mode(Some(Transfer::Spray)), Mode(Some(Transfer::Spray)));
    }
    let root = if facts.groove() { Transfer::ShortCircuit } else { Transfer::Pulsed };
    (Mode(Some(root)), Mode(Some(Transfer::Pulsed)))
}

/// The modes of solid wire in active gas: short circuits on thin metal, spray or pulsed on thick, an open root with a cool arc.
fn active_modes(facts: &Facts, like: Option<&FamilyRow>) -> Result<(Mode, Mode), Refused> {
    let short = Some(Transfer::ShortCircuit);
    let thickness = gmaw_parameters::rule("short-circuit-thickness").map_or(Range::new(0.0, 0.0), |rule| rule.value);
    // Stainless steel of some millimetres is spared the heat of spray, and fuses better than by short circuits.
    let stainless = metal_families::is_in(facts.metal.family, "stainless");
    let (cool, _) = rule("stainless-pulsed");
    let spared = stainless && cool.contains(facts.thickness_mm) && used(facts, Transfer::Pulsed);
    let cool = facts.cool && facts.thickness_mm <= thickness.high;
    if cool || (facts.thickness_mm <= thickness.low && !spared) {
        return Ok((Mode(short), Mode(short)));
    }
    // A spray pool runs out of a groove in a horizontal seam on a vertical wall.
    let wall = facts.groove() && facts.horizontal() && used(facts, Transfer::Pulsed);
    let hot = if used(facts, Transfer::Spray) && !spared && !wall { Transfer::Spray } else { Transfer::Pulsed };
    if has_rows(like, hot) {
        return Ok((Mode(Some(active_root(facts, hot, thickness))), Mode(Some(hot))));
    }
    if facts.thickness_mm <= thickness.high {
        return Ok((Mode(short), Mode(short)));
    }
    Err(nothing(
        format!(
            "short-circuit transfer does not fuse {} well, and the handbook has no pulsed settings for {}",
            facts.thickness, facts.position.code
        ),
        facts,
    ))
}

/// The mode of the root run under runs of a hot mode: an open root is closed with a cool arc.
fn active_root(facts: &Facts, hot: Transfer, short_circuit_mm: Range) -> Transfer {
    // Metal that must not cool too fast wants more heat in the root than short circuits give.
    let tender = metal_heat::cooling_time(facts.metal).is_some() && used(facts, Transfer::Pulsed);
    // On a steel strip nothing falls through.
    let strip = facts.backing().is_some_and(|own| own == "strip");
    if !facts.groove() || strip {
        hot
    } else if tender {
        Transfer::Pulsed
    } else if facts.thickness_mm > short_circuit_mm.low {
        Transfer::ShortCircuit
    } else {
        hot
    }
}

/// The usual filler that serves thickness and position.
fn filler(facts: &Facts) -> Result<Filler, Refused> {
    let process = facts.process.number;
    let chosen = filler_choice::choose(facts.metal, facts.second(), process);
    let Some((row, classes)) = chosen else {
        return Err(nothing(format!("filler-choice has no filler of process {process} for {}", words(facts)), facts));
    };
    let (mut classes, usual) = thin_first(facts, classes);
    if facts.down {
        // Of the cellulosic classes the first that is as strong as the pipe.
        let metal =
            |own: &&filler_classes::Row| filler_suitability::weaker(own, [facts.metal, facts.second()]).is_none();
        classes.retain(|own| covered_electrodes::cellulosic(own.classification) && metal(own));
    }
    let mut refused = Vec::new();
    let mut serving = Vec::new();
    for class in classes {
        let name = class.classification;
        if let filler_suitability::Suitability::Unsuited(_) =
            filler_suitability::suits(class, facts.metal, facts.second())
        {
            continue;
        }
        let reads = designation::parse(name).ok();
        let covered = covered_electrodes::get(name).filter(|_| facts.process.covered_electrode());
        if let Some(missing) = position_missing(facts, reads.as_ref(), covered) {
            refused.push(format!("{name} is not for welding {missing}"));
            continue;
        }
        if let Some(thickness) = planning::filler_thickness(name)
            && !thickness.thickness_mm.contains(facts.thickness_mm)
        {
            refused.push(format!("{name} is for {}", span(thickness.thickness_mm, "mm")));
            continue;
        }
        serving.push((class, reads, covered));
    }
    if facts.downward() && facts.process.covered_electrode() {
        // Downwards few classes serve: those as strong as the metal go first.
        let weaker = |own| filler_suitability::weaker(own, [facts.metal, facts.second()]).is_some();
        serving.sort_by_key(|(class, ..)| weaker(class));
    }
    let next = serving.first().map(|(class, ..)| class.classification);
    if let Some(wanted) = &facts.choices.filler {
        let row = filler_classes::find(wanted).map(|row| row.classification);
        serving.retain(|(class, ..)| find::same(class.classification, row.unwrap_or(wanted)));
        if serving.is_empty() {
            return Err(nothing(
                format!("filler {wanted} is none of those for {} by process {process}", words(facts)),
                facts,
            ));
        }
    }
    if let Some((class, reads, covered)) =
        machine::stocked(facts, serving, |bench, (class, ..)| bench.has_filler(class.classification))
    {
        // A class that the row has beside its own, as E71T-12M, keeps its name and its gas.
        let own = facts.choices.filler.as_deref().map(|wanted| wanted.trim().to_uppercase());
        let own = own.filter(|own| !find::same(own, class.classification));
        let own = own.filter(|own| class.classification.strip_suffix("C/M") != Some(own.as_str()));
        let reads = own.as_deref().and_then(|own| designation::parse(own).ok()).or(reads);
        let name = own.unwrap_or_else(|| class.classification.to_owned());
        let how = if facts.choices.filler.is_some() {
            "as given".to_owned()
        } else if name == usual {
            "the usual class for the metal".to_owned()
        } else if next == Some(name.as_str()) {
            format!("the next class after {usual} that serves thickness and position")
        } else {
            format!("also for the metal, and the shop has it; the usual one is {usual}")
        };
        return Ok(Filler { class: name, said: Said::how(row.origin.source_ref(), how), reads, covered });
    }
    Err(nothing(
        format!("no filler of the metal serves {} in {}: {}", facts.thickness, facts.position.code, refused.join(", ")),
        facts,
    ))
}

/// The classes with those first that go before the others on plain steel of this thickness, as rutile electrodes on thin sheet; and the usual class.
fn thin_first(
    facts: &Facts,
    mut classes: Vec<&'static filler_classes::Row>,
) -> (Vec<&'static filler_classes::Row>, String) {
    let (most, _) = rule("plain-steel-yield");
    let plain = facts.metal.family == "carbon-steel" && facts.metal.yield_min_mpa.is_none_or(|own| own < most.high);
    if plain && facts.to.is_none() {
        // Those that are first at this thickness move up, the rest stays in its order.
        classes.sort_by_key(|class| {
            let first = planning::filler_thickness(class.classification).and_then(|row| row.first_to_mm);
            first.is_none_or(|most| facts.thickness_mm > most)
        });
    }
    let usual = classes.first().map(|class| class.classification).unwrap_or_default();
    (classes, usual.to_owned())
}

/// A cellulosic electrode for the open root of a pipe of carbon steel: a basic one is hard to keep sound there.
fn root_filler(facts: &Facts, shape: &Shape, filler: &Filler) -> Option<Filler> {
    let open = matches!(shape, Shape::Groove { backing: None, .. }) && !shape.square() && !shape.both_sides();
    let by_hand = facts.process.covered_electrode() && facts.diameter.is_some();
    let plain = facts.metal.family == "carbon-steel" && facts.second().family == "carbon-steel";
    // Line pipe has a cellulosic root whatever its grade.
    let steel = plain || facts.down;
    let thin = facts.thickness_mm < rule("cellulosic-root-from").0.high;
    // A rutile electrode that was asked for welds the root, too.
    let basic = filler.reads.as_ref().is_some_and(|own| own.low_hydrogen == Some(true));
    let other = basic || covered_electrodes::cellulosic(&filler.class);
    if !open || !by_hand || !steel || !other || thin {
        return None;
    }
    let (row, classes) = filler_choice::choose(facts.metal, facts.second(), facts.process.number)?;
    let class = classes.into_iter().find(|class| covered_electrodes::cellulosic(class.classification))?;
    let name = class.classification;
    if find::same(name, &filler.class) {
        return None;
    }
    Some(Filler {
        reads: designation::parse(name).ok(),
        covered: covered_electrodes::get(name),
        said: Said::how(row.origin.source_ref(), "cellulosic, for the open root of a pipe"),
        class: name.to_owned(),
    })
}

/// The metal, or both of them.
fn words(facts: &Facts) -> String {
    match &facts.to {
        Some((other, _)) => format!("{} and {}", facts.metal.specification, other.specification),
        None => facts.metal.specification.to_owned(),
    }
}

/// What a position asks of a class that the class does not permit, in words.
fn position_missing(
    facts: &Facts,
    reads: Option<&designation::Filler>,
    covered: Option<&covered_electrodes::Row>,
) -> Option<&'static str> {
    if facts.process.uses_tungsten || facts.process.shielded_wire(Wire::Solid) {
        return None;
    }
    let permitted: &[&str] = match (covered, reads) {
        (Some(row), _) => row.positions,
        (None, Some(reads)) => &reads.positions,
        (None, None) => &[],
    };
    let mut asked: Vec<(&str, &[&str])> = Vec::new();
    if facts.position.vertical {
        asked.push(if facts.downward() {
            ("downwards", &["vertical-down"])
        } else {
            ("upwards", &["vertical", "vertical-up"])
        });
    }
    if facts.position.overhead {
        asked.push(("overhead", &["overhead"]));
    }
    if asked.is_empty() && facts.groove() && facts.position.code != "PA" && facts.position.code != "1G" {
        asked.push(("in a horizontal groove", &["horizontal"]));
    }
    let missing = asked.into_iter().find(|(_, names)| {
        // A class without stated positions is taken for all but downwards.
        let open = permitted.is_empty() && !names.contains(&"vertical-down");
        !open && !permitted.iter().any(|own| names.contains(own))
    });
    missing.map(|(word, _)| word)
}

/// The shielding gas; a class with a gas letter gets it written.
fn gas(
    facts: &Facts,
    filler: &mut Filler,
    like: Option<&FamilyRow>,
    transfer: Option<Transfer>,
    line: Option<Line>,
) -> Option<Gas> {
    if !facts.process.uses_shielding_gas {
        return None;
    }
    let gases = facts.suits.gases;
    let taken: &[&str] = match filler.reads.as_ref().and_then(|reads| reads.shielding.as_ref()) {
        Some(Shielding::Gas(own)) => own,
        _ => &[],
    };
    let fits = |symbol: &&&'static str| taken.is_empty() || taken.contains(symbol);
    let usual = machine::stocked(facts, gases.iter().filter(fits), |bench, gas| bench.has_gas(gas)).or(gases.first())?;
    let source = facts.suits.origin.source_ref();
    // Settings of solid wire are for one mixture.
    let mixtures = like.map(|like| wire_mixtures(like.like, transfer)).unwrap_or_default();
    let chosen = if facts.mag() {
        let known = mixtures.into_iter().filter_map(|parts| {
            let row = shielding_gases::classify(&parts)?;
            let symbol = gases.iter().find(|own| **own == row.symbol)?;
            // Mixtures with helium are dearer and rarer: not to begin with.
            (!parts.iter().any(|(name, _)| *name == "He")).then_some((symbol, parts))
        });
        let argon = |parts: &[(&str, f64)]| {
            parts.iter().filter(|(name, _)| *name == "Ar").map(|(_, percent)| *percent).sum::<f64>()
        };
        if transfer == Some(Transfer::Spray) {
            // More argon lets spray begin at less current.
            known.max_by(|a, b| argon(&a.1).total_cmp(&argon(&b.1)))
        } else {
            { known }.next()
        }
    } else {
        None
    };
    // The gas of the line that the settings are from goes before.
    let of_line = line.and_then(|line| of_line(&line, gases)).filter(|(symbol, _)| fits(symbol));
    let asked = facts.choices.gas.as_ref().and_then(|wanted| gases.iter().find(|own| find::same(own, wanted)));
    let chosen = asked.map(|symbol| (symbol, Vec::new())).or(of_line).or(chosen);
    let (symbol, parts) = chosen.unwrap_or((usual, Vec::new()));
    if let Some(bare) = filler.class.strip_suffix("C/M") {
        filler.class = format!("{bare}{}", if symbol.starts_with('C') { "C" } else { "M" });
    }
    let how = if symbol == usual { "the usual gas for the metal" } else { "the gas that the mode of transfer needs" };
    Some(Gas { symbol: (*symbol).to_owned(), parts, said: Said::how(source, how) })
}

/// The mixture that a line of settings is for, where it is one of the gases of the metal.
fn of_line<'g>(line: &Line, gases: &'g [&'static str]) -> Option<(&'g &'static str, Vec<(&'static str, f64)>)> {
    let words = line.row.gas?;
    let parts = words.split_whitespace().find_map(mixture)?;
    let row = shielding_gases::classify(&parts)?;
    let symbol = gases.iter().find(|own| **own == row.symbol)?;
    Some((symbol, parts))
}

/// The mixtures that settings of a wire are for, such as 90Ar-10CO2: those of the mode of transfer first.
fn wire_mixtures(wire: &str, transfer: Option<Transfer>) -> Vec<Vec<(&'static str, f64)>> {
    let mut texts: Vec<&str> = Vec::new();
    if matches!(transfer, Some(Transfer::Spray | Transfer::Pulsed)) {
        texts.extend(gmaw_parameters::transitions().iter().filter(|row| row.wire == wire).map(|row| row.gas));
    }
    if wire == "carbon-steel" {
        texts.extend(gmaw_parameters::starting_points().iter().map(|row| row.gas));
    }
    texts.extend(gmaw_parameters::rows().iter().filter(|row| row.wire == wire).map(|row| row.gas));
    texts.into_iter().flat_map(str::split_whitespace).filter_map(mixture).collect()
}

/// The parts of a mixture of several gases, such as `80Ar-20CO2`.
fn mixture(word: &str) -> Option<Vec<(&'static str, f64)>> {
    designation::gas::mixture(word).filter(|parts| parts.len() > 1)
}

/// Gas at an open root that air would spoil.
fn backing_gas(facts: &Facts, shape: &Shape) -> Option<Gas> {
    let Shape::Groove { backing: None, .. } = shape else { return None };
    // Of a joint that is welded from both sides the root is gouged out.
    if !facts.process.uses_shielding_gas || facts.process.wire == Some(Wire::FluxCored) || shape.both_sides() {
        return None;
    }
    let family = &facts.metal.family;
    let asks = process_suitability::family(family);
    let exposed = metal_families::get(family).is_some_and(|row| row.chromium || row.reactive);
    let needed = asks.is_some_and(|row| row.root_backing_gas == Need::Needed);
    if !needed && !exposed {
        return None;
    }
    let (symbol, source) = match shielding_gases::backing(family) {
        Some(row) => (row.gases.first().copied()?, row.origin.source_ref()),
        None => (facts.suits.gases.first().copied()?, facts.suits.origin.source_ref()),
    };
    Some(Gas {
        symbol: symbol.to_owned(),
        parts: Vec::new(),
        said: Said::how(source, "the root is welded from one side and open to air"),
    })
}
