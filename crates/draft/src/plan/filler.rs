//! The filler that serves metal, thickness and position, and that of an open root.

use seamwright_handbook::processes::Wire;
use seamwright_handbook::{
    covered_electrodes, designation, filler_choice, filler_classes, filler_suitability, find, planning,
};

use crate::facts::Facts;
use crate::figures::{rule, span};
use crate::joint::Shape;
use crate::machine;
use crate::no_draft::nothing;
use crate::page::Said;
use crate::refused::Refused;

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

/// The usual filler that serves thickness and position.
pub(super) fn filler(facts: &Facts) -> Result<Filler, Refused> {
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
    let (most, _) = rule(planning::PLAIN_STEEL_YIELD);
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
pub(super) fn root_filler(facts: &Facts, shape: &Shape, filler: &Filler) -> Option<Filler> {
    let open = matches!(shape, Shape::Groove { backing: None, .. }) && !shape.square() && !shape.both_sides();
    let by_hand = facts.process.covered_electrode() && facts.diameter.is_some();
    let plain = facts.metal.family == "carbon-steel" && facts.second().family == "carbon-steel";
    // Line pipe has a cellulosic root whatever its grade.
    let steel = plain || facts.down;
    let thin = facts.thickness_mm < rule(planning::CELLULOSIC_ROOT_FROM).0.high;
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
