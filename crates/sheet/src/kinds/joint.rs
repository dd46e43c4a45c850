//! The joint and its runs as sketches, drawn from the document's own numbers: a range at its middle.

use std::borrow::Cow;

use seamwright_drawing::sketch::bead;
use seamwright_drawing::sketch::cavity::{self, CavitySketch};
use seamwright_drawing::sketch::flare::{self, FlareSketch};
use seamwright_drawing::sketch::groove::{
    self, Backing, FilletSize, JointKind, JointLabels, JointSketch, Layer, RunBead, Section,
};
use seamwright_handbook::variables;
use seamwright_model::procedure::{self, Joint, JointType, Preparation, WeldSize, WeldType};
use seamwright_model::quantity::{Angle, Length, Quantity, Range, UnitSystem};
use seamwright_model::stated::{OrNone, Stated};
use seamwright_page::SheetOptions;
use seamwright_page::block::Figure;
use seamwright_page::words::label;
use seamwright_weld::{RunView, View, section};

use super::words::process_name;
use super::{Lettering, alt, quantity};

const MAX_WIDTH: f64 = 86.0;
const MAX_HEIGHT: f64 = 52.0;

/// The prepared joint and the beads in it, where enough is stated to draw them; of several conditions those of each whose
/// joint differs, under its name.
pub(super) fn figures(view: &View<'_>, lettering: Lettering<'_>) -> Vec<Figure> {
    each(view, lettering).into_iter().flatten().collect()
}

/// The prepared joint without the beads in it, of each condition whose joint differs.
pub(super) fn alone(view: &View<'_>, lettering: Lettering<'_>) -> Vec<Figure> {
    each(view, lettering).into_iter().filter_map(|figures| figures.into_iter().next()).collect()
}

/// The prepared joint and the beads in it, of each condition whose joint differs.
fn each(view: &View<'_>, lettering: Lettering<'_>) -> Vec<Vec<Figure>> {
    let mut drawn: Vec<(Option<Joint>, Option<Stated<WeldSize>>)> = Vec::new();
    let mut figures = Vec::new();
    for variant in view.variants() {
        let Some(name) = variant.condition() else { continue };
        let own = (variant.procedure.joint.clone(), variant.procedure.weld_size.clone());
        if !drawn.contains(&own) {
            figures.push(of_one(&View::new(&variant.procedure), Some(name), lettering));
            drawn.push(own);
        }
    }
    if drawn.is_empty() { vec![of_one(view, None, lettering)] } else { figures }
}

/// The joint and its beads under one condition.
fn of_one(view: &View<'_>, condition: Option<&str>, lettering: Lettering<'_>) -> Vec<Figure> {
    let options = lettering.options;
    let titled = |title: Cow<'_, str>| match condition {
        Some(name) => format!("{title}: {name}"),
        None => title.into_owned(),
    };
    let prepared = |drawing, alt| Figure {
        title: titled(options.term("/joint")),
        clause: Some(variables::clauses(["/joint/preparation"])),
        drawing,
        alt,
        caption: unit_of(options.units)
            .map(|unit| if unit == "in" { options.say(label::INCHES) } else { unit.into() })
            .map(|unit| options.fill(label::DIMENSIONS_IN, &[("unit", &unit)])),
    };
    if let Some(sketch) = hollow(view, lettering) {
        return vec![prepared(lettering.lately.drawing(cavity::cavity, &sketch), alt::cavity(&sketch, options))];
    }
    if let Some(sketch) = flared(view, lettering) {
        return vec![prepared(lettering.lately.drawing(flare::flare, &sketch), alt::flare(&sketch, options))];
    }
    let Some(sketch) = sketch(view, lettering) else { return Vec::new() };
    let mut figures = vec![prepared(lettering.lately.drawing(groove::joint, &sketch), alt::joint(&sketch, options))];
    if !sketch.runs.is_empty() {
        figures.push(Figure {
            title: titled(options.fill(label::IN_THE_JOINT, &[("runs", &options.term("/runs"))]).into()),
            clause: Some(variables::clauses(["/runs/*/run"])),
            drawing: lettering.lately.drawing(bead::runs, &sketch),
            alt: alt::runs(&sketch, options),
            caption: Some(legend(view, options)),
        });
    }
    figures
}

/// Which run is what: `1 root 141 · 2–3 fill 111`; rows of the same layer and process that follow each other stand together.
fn legend(view: &View<'_>, options: SheetOptions) -> String {
    let what = |run: &RunView<'_>| (run.run.layer, run.number());
    let follows = |one: &RunView<'_>, next: &RunView<'_>| {
        what(one) == what(next) && !one.open && !next.open && next.numbers.0 == one.numbers.1 + 1
    };
    let rows = view.runs.chunk_by(follows).filter_map(|rows| {
        let (first, last) = (rows.first()?, rows.last()?);
        let numbers =
            if rows.len() > 1 { format!("{}-{}", first.numbers.0, last.numbers.1) } else { first.run.run.to_string() };
        let layer = first.run.layer.map_or(String::new(), |layer| format!(" {}", options.word(layer.as_str())));
        let row = format!("{numbers}{layer} {}", process_name(first.number(), options.terms));
        // A line breaks between rows, not within one.
        Some(row.replace(' ', "\u{a0}"))
    });
    rows.collect::<Vec<_>>().join(" · ")
}

fn sketch(view: &View<'_>, lettering: Lettering<'_>) -> Option<JointSketch> {
    let procedure = view.procedure;
    let options = lettering.options;
    let joint = procedure.joint.as_ref()?;
    let weld = view.weld()?;
    if !weld.has_groove() && !weld.has_fillet() {
        return None;
    }
    let first = procedure.parent_metals.first()?;
    let last = procedure.parent_metals.last()?;
    let thickness = [middle(first.thickness.as_ref())?, middle(last.thickness.as_ref())?];
    let print = |value: Option<&Stated<Range<Length>>>| bare(value, options);
    let both = joint.welded_from.as_ref().and_then(Stated::value) == Some(&procedure::Sides::Both);
    // Members of different metals are told apart.
    let named = |metal: &procedure::ParentMetal| {
        let thickness = print(metal.thickness.as_ref())?;
        let differ = first.specification != last.specification;
        Some(if differ { format!("{} {thickness}", metal.specification) } else { thickness })
    };
    let size = procedure.weld_size.as_ref().and_then(Stated::value);
    let fillet = if weld.has_fillet() {
        let leg = size.and_then(|size| middle(size.leg.as_ref()));
        let second = size.and_then(|size| middle(size.second_leg.as_ref()));
        let throat = size.and_then(|size| middle(size.throat.as_ref()));
        let legs = match (leg, throat) {
            (Some(leg), _) => [leg, second.unwrap_or(leg)],
            (None, Some(throat)) => FilletSize::from_throat(throat, false).legs,
            (None, None) => return None,
        };
        Some(FilletSize { legs, both_sides: both })
    } else {
        None
    };
    let preparation = joint.preparation.as_ref().and_then(Stated::value).copied();
    if preparation.is_some_and(procedure::Preparation::is_flare) {
        // Drawn as a flare, where the round is stated.
        return None;
    }
    let diameter = middle(first.outside_diameter.as_ref());
    let labels = JointLabels {
        thickness: [
            named(first),
            if procedure.parent_metals.len() > 1 || joint.kind != JointType::Butt { named(last) } else { None },
        ],
        diameter: print(first.outside_diameter.as_ref()),
        centre_line: diameter.map(|_| options.say(label::PIPE_CENTRE_LINE).into_owned()),
        angle: quantity(joint.included_angle.as_ref(), options),
        gap: print(joint.root_gap.as_ref()),
        root_face: print(joint.root_face.as_ref()),
        radius: print(joint.root_radius.as_ref()),
        depth: print(joint.penetration_depth.as_ref()),
        leg: [
            size.and_then(|size| print(size.leg.as_ref())),
            size.and_then(|size| print(size.second_leg.as_ref().or(size.leg.as_ref()))),
        ],
        throat: size.and_then(|size| print(size.throat.as_ref())),
        backing: None,
        gas: Some(options.word("gas").into_owned()),
    };
    Some(JointSketch {
        joint: match joint.kind {
            JointType::Butt | JointType::Cavity => JointKind::Butt,
            JointType::Tee => JointKind::Tee,
            JointType::Lap => JointKind::Lap,
            JointType::Corner => JointKind::Corner,
            JointType::Edge => JointKind::Edge,
        },
        preparation: match preparation {
            None if weld != WeldType::Fillet => Some(Preparation::Square),
            stated => stated,
        },
        section: diameter.map_or(Section::Plate, |outside_diameter| Section::Pipe { outside_diameter }),
        thickness,
        angle: middle_of(joint.included_angle.as_ref(), Angle::degrees).unwrap_or_default(),
        gap: middle(joint.root_gap.as_ref()).unwrap_or_default(),
        root_face: middle(joint.root_face.as_ref()).unwrap_or_default(),
        radius: middle(joint.root_radius.as_ref()).unwrap_or_default(),
        depth: middle(joint.penetration_depth.as_ref()),
        backing: match joint.backing.as_ref().and_then(OrNone::value).map(|backing| backing.kind) {
            Some(procedure::BackingType::Strip) => Backing::Strip,
            Some(procedure::BackingType::Gas) => Backing::Gas,
            Some(procedure::BackingType::Ceramic) => Backing::Ceramic,
            Some(procedure::BackingType::Flux) => Backing::Flux,
            Some(procedure::BackingType::WeldMetal) | None => Backing::None,
        },
        fillet,
        reinforcement: size.and_then(|size| middle(size.reinforcement.as_ref())),
        root_penetration: None,
        runs: runs(view),
        labels,
        max_width: MAX_WIDTH * lettering.room,
        max_height: MAX_HEIGHT * lettering.room,
        text_size: lettering.size,
    })
}

/// The cavity of a repair, where depth and width are stated.
fn hollow(view: &View<'_>, lettering: Lettering<'_>) -> Option<CavitySketch> {
    let joint = view.procedure.joint.as_ref().filter(|joint| joint.kind == JointType::Cavity)?;
    let thickness = view.procedure.parent_metals.first().and_then(|metal| metal.thickness.as_ref());
    let print = |value: Option<&Stated<Range<Length>>>| bare(value, lettering.options);
    let (depth, width) = (joint.penetration_depth.as_ref(), joint.cavity_width.as_ref());
    Some(CavitySketch {
        thickness: middle(thickness).unwrap_or_default(),
        depth: middle(depth)?,
        width: middle(width)?,
        angle: middle_of(joint.included_angle.as_ref(), Angle::degrees).unwrap_or_default(),
        labels: [
            print(thickness),
            print(depth),
            print(width),
            quantity(joint.included_angle.as_ref(), lettering.options),
        ],
        max_width: MAX_WIDTH * lettering.room,
        max_height: MAX_HEIGHT * lettering.room,
        text_size: lettering.size,
    })
}

/// The flare beside a round member, where its radius or diameter is stated.
fn flared(view: &View<'_>, lettering: Lettering<'_>) -> Option<FlareSketch> {
    let joint = view.procedure.joint.as_ref()?;
    let shape = joint.preparation.as_ref().and_then(Stated::value).filter(|shape| shape.is_flare())?;
    let print = |value: Option<&Stated<Range<Length>>>| bare(value, lettering.options);
    let across = match (print(joint.root_radius.as_ref()), print(section::round_diameter(view))) {
        (Some(radius), _) => Some(format!("R {radius}")),
        (None, diameter) => diameter.map(|diameter| format!("Ø {diameter}")),
    };
    let bars = view.metals.iter().any(seamwright_weld::view::Metal::is_round_bar);
    let hollow = |metal: &&seamwright_weld::view::Metal<'_>| {
        let form = metal.stated.form.as_deref().unwrap_or_default().to_lowercase();
        metal.stated.outside_diameter.is_some() || ["hollow", "tube", "pipe"].iter().any(|own| form.contains(own))
    };
    let hollow = view.metals.iter().find(hollow).filter(|_| !bars);
    Some(FlareSketch {
        wall: hollow.and_then(|metal| middle(metal.stated.thickness.as_ref())),
        both: *shape == procedure::Preparation::FlareV,
        bar: joint.root_radius.is_none() || bars,
        radius: section::flare_radius_mm(view, joint)?.middle(),
        gap: middle(joint.root_gap.as_ref()).unwrap_or_default(),
        depth: middle(joint.penetration_depth.as_ref()),
        labels: [across, print(joint.root_gap.as_ref()), print(joint.penetration_depth.as_ref())],
        max_width: MAX_WIDTH * lettering.room,
        max_height: MAX_HEIGHT * lettering.room,
        text_size: lettering.size,
    })
}

/// The unit that all dimensions of a drawing have, said once (ISO 129-1, 5.2); nothing where each has its own.
const fn unit_of(units: UnitSystem) -> Option<&'static str> {
    match units {
        UnitSystem::Si => Some("mm"),
        UnitSystem::Us => Some("in"),
        UnitSystem::Both => None,
    }
}

/// A length for a drawing: without the unit that is said once.
pub(super) fn bare(value: Option<&Stated<Range<Length>>>, options: SheetOptions) -> Option<String> {
    let text = quantity(value, options)?;
    let Some(unit) = unit_of(options.units) else { return Some(text) };
    let parts = ["\u{a0}", " "].into_iter().find_map(|space| text.split_once(&format!("{space}{unit}")));
    let Some((figures, rest)) = parts else { return Some(text) };
    Some(if rest.is_empty() || rest.starts_with([' ', '\u{a0}']) { format!("{figures}{rest}") } else { text.clone() })
}

/// One bead for each run number, in order; settings for another position draw no second bead. None where there are more
/// than a picture can show.
fn runs(view: &View<'_>) -> Vec<RunBead> {
    const MOST: u32 = 80;
    if view.runs.iter().any(|run| run.numbers.1 > MOST) {
        return Vec::new();
    }
    let mut beads: Vec<RunBead> = Vec::new();
    let mut next = 1;
    for run in &view.runs {
        for number in run.numbers.0.max(next)..=run.numbers.1 {
            beads.push(RunBead {
                // One bead stands for all that an open run may take.
                label: if run.open && number == run.numbers.1 { format!("{number}-n") } else { number.to_string() },
                layer: match run.run.layer {
                    Some(procedure::Layer::Root) => Layer::Root,
                    Some(procedure::Layer::Hot) => Layer::Hot,
                    Some(procedure::Layer::Cap) => Layer::Cap,
                    Some(procedure::Layer::Backing) => Layer::Backing,
                    Some(procedure::Layer::Single) => Layer::Single,
                    Some(procedure::Layer::Fill) | None => Layer::Fill,
                },
                share: None,
                second_side: run.run.side == Some(procedure::Side::Second),
            });
        }
        next = next.max(run.numbers.1.saturating_add(1));
    }
    // Fillets on both sides whose runs name no side are welded alike.
    let joint = view.procedure.joint.as_ref();
    let both =
        joint.and_then(|joint| joint.welded_from.as_ref()).and_then(Stated::value) == Some(&procedure::Sides::Both);
    let fillet = view.weld().is_some_and(|weld| weld.has_fillet() && !weld.has_groove());
    if both && fillet && beads.iter().all(|bead| !bead.second_side) {
        let again: Vec<RunBead> = beads.iter().map(|bead| RunBead { second_side: true, ..bead.clone() }).collect();
        beads.extend(again);
    }
    beads
}

pub(super) fn middle(value: Option<&Stated<Range<Length>>>) -> Option<f64> {
    middle_of(value, Length::mm)
}

pub(super) fn middle_of<Q: Quantity>(value: Option<&Stated<Range<Q>>>, figure: impl Fn(Q) -> f64) -> Option<f64> {
    let range = value?.value()?;
    range.middle().or(range.low()).or(range.high()).map(figure)
}
