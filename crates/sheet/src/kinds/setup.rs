//! What a welder sets up before the arc, as sketches and words: hook-up, torch, tungsten, position, welding symbol.

use seamwright_drawing::sketch::hookup::{
    ArcCarrier, ArcStart, GasPath, HookupNames, HookupSketch, Polarity, Remote, hookup,
};
use seamwright_drawing::sketch::position::{Position, PositionSketch, Sides, position};
use seamwright_drawing::sketch::symbol::{Elementary, SideSymbol, SymbolSketch, SymbolStandard, symbol};
use seamwright_drawing::sketch::torch::{Pointing, Seam, TorchKind, TorchLabels, TorchSketch, travel, work};
use seamwright_drawing::sketch::tungsten::{NozzleSketch, Tip, TipSketch, nozzle, tip};
use seamwright_handbook::measure::figure;
use seamwright_handbook::variables::{self, Terms};
use seamwright_handbook::{positions, shielding_gases};
use seamwright_model::procedure::{
    self, ArcStart as Start, CurrentControl, Direction, JointType, Key, Preparation, WeldType, keys,
};
use seamwright_model::quantity::{Angle, Length, Quantity, Range};
use seamwright_model::shop::{Shop, WireFeeder};
use seamwright_model::stated::{Composition, OrNone, Stated};
use seamwright_page::SheetOptions;
use seamwright_page::block::Figure;
use seamwright_page::words::label;
use seamwright_weld::machines::{self, Fitness};
use seamwright_weld::{RunView, View};

use super::joint::{bare, middle, middle_of};
use super::words::labels;
use super::{Lettering, alt, print as said, quantity, sold, words};

/// The first run of each process, in order: what has to be set up.
pub(super) fn setups<'v, 'd>(view: &'v View<'d>) -> Vec<&'v RunView<'d>> {
    let mut found: Vec<&RunView<'d>> = Vec::new();
    for run in &view.runs {
        let name = |run: &RunView<'d>| run.process.map(|row| row.number);
        if !found.iter().any(|other| name(other) == name(run)) {
            found.push(run);
        }
    }
    found
}

/// The machines of a shop held against the processes of a procedure, the best for each.
pub(super) type Machines<'m> = [(&'m RunView<'m>, Fitness<'m>)];

/// The hook-up of a run and what it asks of the welder in words; nothing where the polarity is not stated.
pub(super) fn hook_up(
    run: &RunView<'_>,
    shop: Option<&Shop>,
    machines: &Machines<'_>,
    lettering: Lettering<'_>,
) -> Option<(HookupSketch, Vec<String>)> {
    let options = lettering.options;
    let process = run.process?;
    let polarity = match run.value(&keys::POLARITY)?.value {
        procedure::Polarity::Dcen => Polarity::ElectrodeNegative,
        procedure::Polarity::Dcep => Polarity::ElectrodePositive,
        procedure::Polarity::Ac => Polarity::Alternating,
    };
    let carrier = if process.uses_tungsten {
        ArcCarrier::Tungsten
    } else if !process.uses_wire_feed {
        ArcCarrier::Electrode
    } else if process.uses_shielding_gas || process.uses_flux {
        ArcCarrier::Wire
    } else {
        ArcCarrier::SelfShieldedWire
    };
    let nearest = machines.iter().find(|(other, _)| other.number() == run.number()).map(|(_, fitness)| fitness);
    let fitness = nearest.filter(|fitness| fitness.welds);
    let machine = fitness.map(|fitness| fitness.machine);
    let solenoid = machine.and_then(|machine| machine.gas_solenoid.as_ref());
    let gas = match (process.uses_shielding_gas, fitness) {
        (false, _) => GasPath::None,
        (true, Some(fitness)) if fitness.gas_by_hand => GasPath::TorchValve,
        (true, _) => GasPath::Solenoid,
    };
    let start = run.value(&keys::ARC_START).map(|at| *at.value);
    let control = run.value(&keys::CURRENT_CONTROL);
    let water = run.setting(&keys::TORCH_COOLING);
    let size = run.setting(&keys::TORCH_SIZE);
    let say = |label| options.say(label).into_owned();
    let sketch = HookupSketch {
        carrier,
        polarity,
        gas,
        remote: match control.map(|at| *at.value) {
            Some(CurrentControl::FootPedal) => Remote::FootPedal,
            Some(CurrentControl::TorchSwitch) => Remote::TorchSwitch,
            Some(CurrentControl::Fixed) | None => Remote::None,
        },
        water_cooler: water.is_some_and(|at| *at.value == procedure::Cooling::Water),
        separate_feeder: machine.and_then(|machine| machine.wire_feeder) == Some(WireFeeder::Separate),
        arc_start: match start {
            Some(Start::HighFrequency) => ArcStart::HighFrequency,
            Some(Start::Lift) => ArcStart::Lift,
            Some(Start::Scratch) => ArcStart::Scratch,
            None => ArcStart::Unsaid,
        },
        names: HookupNames {
            power_source: machine
                .map(|machine| machine.name.to_string())
                .or_else(|| Some(run.machine()?.value.to_owned()))
                .unwrap_or_else(|| say(label::POWER_SOURCE)),
            gas: gas_label(run, shop, options).unwrap_or_else(|| say(label::GAS_AND_REGULATOR)),
            torch: match (carrier, size) {
                (ArcCarrier::Tungsten, Some(size)) => options.fill(label::TORCH_NAMED, &[("size", size.value)]),
                (ArcCarrier::Tungsten, None) => say(label::TORCH),
                (ArcCarrier::Electrode, _) => say(label::ELECTRODE_HOLDER),
                (ArcCarrier::Wire, _) if process.uses_flux => say(label::WELDING_HEAD),
                (ArcCarrier::Wire | ArcCarrier::SelfShieldedWire, _) => say(label::WIRE_TORCH),
            },
            holder: say(match carrier {
                ArcCarrier::Electrode => label::HOLDER,
                ArcCarrier::Wire if process.uses_flux => label::HEAD,
                ArcCarrier::Tungsten | ArcCarrier::Wire | ArcCarrier::SelfShieldedWire => label::TORCH,
            }),
            work: say(label::WORK),
            work_clamp: say(label::WORK_CLAMP),
            valve: say(label::VALVE),
            wire_feeder: say(label::WIRE_FEEDER),
            foot_pedal: say(label::FOOT_PEDAL),
            torch_switch: say(label::TORCH_SWITCH),
            water_cooler: say(label::WATER_COOLER),
        },
        words: Vec::new(),
        text_size: lettering.size,
        max_width: 100.0,
        max_height: 62.0,
    };
    let mut notes = vec![alt::connection(&sketch, options)];
    notes.extend(alt::notes(&sketch, options));
    notes.extend(nearest.and_then(|nearest| lacking(run, nearest, options)));
    let by_hand = fitness.map(|fitness| machines::by_hand(fitness, run)).unwrap_or_default();
    notes.extend(by_hand.into_iter().map(|note| sentence(&options.word(&note))));
    let duty = fitness.and_then(|fitness| machines::short_duty(fitness, run));
    notes.extend(duty.map(|(duty, amperes)| {
        let (share, current) = (format!("{:.0}", duty.duty_cycle_pct), figure(amperes));
        let minutes = format!("{:.1}", duty.arc_minutes_in_ten);
        options.fill(label::DUTY_NOTE, &[("share", &share), ("current", &current), ("minutes", &minutes)])
    }));
    if carrier == ArcCarrier::Tungsten && solenoid.is_none() {
        notes.push(options.say(label::NO_SOLENOID_NOTE).into_owned());
    }
    Some((sketch, notes))
}

/// Words as a sentence: a capital first, a full stop last.
fn sentence(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).chain(['.']).collect())
}

/// What the shop lacks for a run, in words.
fn lacking(run: &RunView<'_>, nearest: &Fitness<'_>, options: SheetOptions) -> Option<String> {
    if !nearest.welds {
        return Some(options.fill(label::NO_MACHINE_WELDS, &[("process", run.number())]));
    }
    let lacks: Vec<String> = nearest
        .lacks
        .iter()
        .map(|lack| {
            // Figures and the letters of a polarity stand as they are.
            let own = |word: &str| {
                if word.chars().any(|own| own.is_ascii_digit() || own == 'D' || own == 'A') {
                    word.to_owned()
                } else {
                    options.word(word).into_owned()
                }
            };
            let [stated, gives] = [lack.stated.as_str(), lack.has()]
                .map(|words| words.split(", ").map(own).collect::<Vec<_>>().join(", "));
            let what = options.word(&lack.what);
            options.fill(label::LACK, &[("what", &what), ("stated", &stated), ("gives", &gives)])
        })
        .collect();
    let name = &nearest.machine.name;
    (!lacks.is_empty()).then(|| options.fill(label::MACHINE_LACKS, &[("name", name), ("what", &lacks.join("; "))]))
}

/// What is in the cylinder and how it is set: `argon, flow meter 8–10 L/min`.
fn gas_label(run: &RunView<'_>, shop: Option<&Shop>, options: SheetOptions) -> Option<String> {
    let name = gas_in_short(run, options)?;
    let english = gas_in_short(run, SheetOptions::default())?;
    let gas = run.gas()?.value;
    let flow = quantity(gas.flow.as_ref(), options);
    let fits = |stated: &str| {
        stated.eq_ignore_ascii_case(&english)
            || gas.designation.as_deref().is_some_and(|own| own.eq_ignore_ascii_case(stated))
    };
    let regulator = shop.and_then(|shop| {
        shop.regulators.iter().find(|own| own.gases.is_empty() || own.gases.iter().any(|stated| fits(stated)))
    });
    let meter = regulator
        .and_then(|own| own.flow_meter.as_ref())
        .filter(|has| has.0)
        .map(|_| options.say(label::FLOW_METER).into_owned());
    let set = [meter, flow].into_iter().flatten().collect::<Vec<_>>().join(" ");
    Some(if set.is_empty() { name } else { format!("{name}, {set}") })
}

/// The hook-up as a figure.
pub(super) fn hook_up_figure(sketch: &HookupSketch, title: &str, lettering: Lettering<'_>) -> Figure {
    Figure {
        title: title.into(),
        clause: None,
        drawing: lettering.lately.drawing(hookup, sketch),
        alt: alt::hookup(sketch, lettering.options),
        caption: None,
    }
}

/// The shielding gas of a run, the mixture in words first, then its class.
pub(super) fn gas_name(run: &RunView<'_>, options: SheetOptions) -> Option<String> {
    let gas = run.gas()?.value;
    words::gas_named(gas.designation.as_deref(), gas.composition.as_ref(), options)
}

/// The shielding gas of a run in as few words as tell it: `argon`, `argon 98 % + nitrogen 2 %`.
pub(super) fn gas_in_short(run: &RunView<'_>, options: SheetOptions) -> Option<String> {
    let gas = run.gas()?.value;
    briefly(run.gas_row().map(|row| row.symbol), gas.designation.as_deref(), gas.composition.as_ref(), options)
}

/// Any gas by its name alone: of a nearly pure one, or one whose composition is not stated, that of its class.
pub(super) fn any_gas_in_short(
    designation: Option<&str>,
    composition: Option<&Composition>,
    options: SheetOptions,
) -> Option<String> {
    briefly(designation.and_then(shielding_gases::get).map(|row| row.symbol), designation, composition, options)
}

fn briefly(
    symbol: Option<&str>,
    designation: Option<&str>,
    composition: Option<&Composition>,
    options: SheetOptions,
) -> Option<String> {
    let pure = composition.is_some_and(|parts| parts.iter().any(|(_, percent)| percent >= 99.0));
    let words = if pure {
        words::gas_in_words(symbol, None, options)
    } else {
        words::gas_in_words(designation, composition, options)
    };
    words.or_else(|| designation.map(Into::into))
}

/// What figures of position and work angle can show the seam as; nothing where theirs would be a false one.
fn seam(view: &View<'_>) -> Option<Seam> {
    let weld = view.weld();
    let fillet = weld.is_some_and(WeldType::has_fillet);
    if weld.is_some_and(|weld| !weld.has_groove() && !weld.has_fillet()) {
        return None;
    }
    let joint = view.procedure.joint.as_ref();
    match joint.map(|joint| joint.kind) {
        Some(JointType::Tee) => Some(Seam::Tee),
        Some(JointType::Lap) => (fillet || weld.is_none()).then_some(Seam::Lap),
        Some(JointType::Corner | JointType::Edge) => None,
        Some(JointType::Butt | JointType::Cavity) | None => Some(Seam::Butt),
    }
}

/// Whether the groove is the hollow beside a round member.
fn is_flare(view: &View<'_>) -> bool {
    let shape = view.procedure.joint.as_ref().and_then(|joint| joint.preparation.as_ref()).and_then(Stated::value);
    shape.is_some_and(|shape| shape.is_flare())
}

/// Whether any member is a pipe that is welded around; a bar, or the length of a tube, is not.
fn around(view: &View<'_>) -> bool {
    !is_flare(view) && view.metals.iter().any(|metal| metal.stated.outside_diameter.is_some() && !metal.is_round_bar())
}

/// The torch from the side and along the seam, where its angles are stated.
pub(super) fn torch(view: &View<'_>, run: &RunView<'_>, lettering: Lettering<'_>) -> Vec<Figure> {
    let options = lettering.options;
    let Some(process) = run.process else { return Vec::new() };
    if process.uses_flux {
        return Vec::new();
    }
    let angle = |key: &Key<Stated<Range<Angle>>>| run.value(key).map(|at| at.value);
    let travel_angle = angle(&keys::TRAVEL_ANGLE);
    let work_angle = angle(&keys::WORK_ANGLE);
    let filler_angle = angle(&keys::FILLER_ANGLE);
    let direction = run.value(&keys::DIRECTION).map(|at| *at.value);
    let arc = run.value(&keys::ARC_LENGTH).map(|at| at.value);
    let tip_to_work = run.value(&keys::CONTACT_TIP_TO_WORK).map(|at| at.value);
    let print = |value: Option<&Range<Angle>>| value.map(|range| said(range, options));
    let fillet = view.weld().is_some_and(WeldType::has_fillet);
    let seam = seam(view);
    let sketch = TorchSketch {
        kind: if process.uses_tungsten {
            TorchKind::Tungsten
        } else if process.uses_wire_feed {
            TorchKind::Wire
        } else {
            TorchKind::Electrode
        },
        pointing: direction.map(|direction| match direction {
            Direction::Push => Pointing::Push,
            Direction::Drag => Pointing::Drag,
        }),
        travel_angle: travel_angle.and_then(drawn).map_or(0.0, Angle::degrees),
        work_angle: work_angle.and_then(drawn).map_or(if fillet { 45.0 } else { 90.0 }, Angle::degrees),
        filler_angle: filler_angle.and_then(drawn).map(Angle::degrees),
        seam: seam.unwrap_or(Seam::Butt),
        labels: TorchLabels {
            travel: Some(
                options
                    .say(match direction {
                        Some(Direction::Push) => label::DRAWN_PUSH,
                        Some(Direction::Drag) => label::DRAWN_DRAG,
                        None => label::DRAWN_TRAVEL,
                    })
                    .into_owned(),
            ),
            travel_angle: print(travel_angle),
            work_angle: print(work_angle),
            filler_angle: print(filler_angle),
            distance: if process.uses_wire_feed { tip_to_work } else { arc }.map(|range| said(range, options)),
        },
        text_size: lettering.size,
        max_width: 62.0 * lettering.room,
        max_height: 50.0 * lettering.room,
    };
    let figure = |title: &str, drawing, alt| Figure {
        title: title.into(),
        clause: Some(variables::clauses([keys::TRAVEL_ANGLE.of_process])),
        drawing,
        alt,
        caption: None,
    };
    let mut figures = Vec::new();
    if travel_angle.is_some() || direction.is_some() {
        let title = match direction {
            Some(Direction::Push) => label::TRAVEL_PUSH,
            Some(Direction::Drag) => label::TRAVEL_DRAG,
            None => label::TRAVEL,
        };
        figures.push(figure(
            &options.say(title),
            lettering.lately.drawing(travel, &sketch),
            alt::travel(&sketch, options),
        ));
    }
    if work_angle.is_some() && seam.is_some() && !is_flare(view) {
        let title = options.term(keys::WORK_ANGLE.of_process);
        figures.push(figure(&title, lettering.lately.drawing(work, &sketch), alt::work(&sketch, options)));
    }
    figures
}

/// The tungsten in its nozzle and its tip, where their sizes are stated.
pub(super) fn tungsten(run: &RunView<'_>, lettering: Lettering<'_>) -> Vec<Figure> {
    let options = lettering.options;
    let units = options.units;
    let Some(stated) = run.setting(&keys::TUNGSTEN).map(|at| at.value) else { return Vec::new() };
    let Some(diameter) = middle(stated.diameter.as_ref()) else { return Vec::new() };
    let angle = middle_of(stated.included_angle.as_ref(), Angle::degrees);
    let figure = |title: &str, drawing, alt| Figure {
        title: title.into(),
        clause: Some(variables::clauses([keys::TUNGSTEN.of_process, keys::TORCH_NOZZLE.of_process])),
        drawing,
        alt,
        caption: None,
    };
    let mut figures = Vec::new();
    if let (Some((name, _, bore)), Some(stickout)) = (run.nozzle(), middle(stated.stickout.as_ref())) {
        let sketch = NozzleSketch {
            bore,
            diameter,
            stickout,
            included_angle: angle.unwrap_or(30.0),
            gas_lens: run.gas_lens(),
            bore_label: Length::from_mm(bore).map(|bore| Length::print_range(bore, bore, units)),
            stickout_label: quantity(stated.stickout.as_ref(), options),
            nozzle_label: Some(options.fill(label::NOZZLE_SIZE, &[("size", name.value)])),
            lens_label: Some(options.say(label::GAS_LENS).into_owned()),
            text_size: lettering.size,
            max_width: 58.0 * lettering.room,
            max_height: 50.0 * lettering.room,
        };
        let title = labels(&[keys::TORCH_NOZZLE.of_process, keys::TUNGSTEN_STICKOUT.of_process], options);
        figures.push(figure(&title, lettering.lately.drawing(nozzle, &sketch), alt::nozzle(&sketch, options)));
    }
    if let Some(included_angle) = angle {
        let sketch = TipSketch {
            diameter,
            tip: Tip::Ground { included_angle, flat: middle(stated.tip_flat.as_ref()).unwrap_or(diameter * 0.1) },
            diameter_label: sold(stated.diameter.as_ref(), options),
            angle_label: quantity(stated.included_angle.as_ref(), options),
            flat_label: quantity(stated.tip_flat.as_ref(), options)
                .map(|flat| options.fill(label::FLAT, &[("size", &flat)])),
            text_size: lettering.size,
            max_width: 46.0 * lettering.room,
            max_height: 50.0 * lettering.room,
        };
        figures.push(figure(
            &options.say(label::TUNGSTEN_TIP),
            lettering.lately.drawing(tip, &sketch),
            alt::tip(&sketch, options),
        ));
    }
    figures
}

/// Each position that can be drawn.
pub(super) fn positions(view: &View<'_>, lettering: Lettering<'_>) -> Vec<Figure> {
    const MOST: usize = 3;
    let options = lettering.options;
    let terms = options.terms;
    let Some(seam) = seam(view) else { return Vec::new() };
    let pipe = around(view);
    let fillet = view.weld().is_some_and(|weld| weld.has_fillet() && !weld.has_groove());
    let sides = view.procedure.joint.as_ref().and_then(|joint| joint.welded_from.as_ref()).and_then(Stated::value);
    let shape = view.procedure.joint.as_ref().and_then(|joint| joint.preparation.as_ref()).and_then(Stated::value);
    let hollow = view.procedure.joint.as_ref().is_some_and(|joint| joint.kind == JointType::Cavity);
    let preparation = shape.copied().unwrap_or(if hollow { Preparation::SingleV } else { Preparation::Square });
    let upward = view.procedure.progression.as_ref().and_then(Stated::value).copied();
    let mut drawn: Vec<Figure> = Vec::new();
    for code in view.procedure.positions.iter().take(MOST) {
        let Some(row) = positions::get(code) else { continue };
        let downward = upward == Some(procedure::Progression::Downward);
        // A position of the other system is drawn as the one that answers to it, by the stated progression.
        let names = std::iter::once(&row.code).chain(row.equivalent);
        let mut fitting: Vec<Position> = names.filter_map(|name| Position::of(name)).collect();
        if fitting.len() > 1 && downward {
            fitting.reverse();
        }
        let Some(&found) = fitting.first() else { continue };
        // A groove between members that do not lie in one plane has no figure in these.
        if seam != Seam::Butt && !fillet && matches!(found, Position::Pa | Position::Pc | Position::Pe) {
            continue;
        }
        let code = words::position_name(code, terms, view);
        let drawing = lettering.lately.drawing(
            position,
            &PositionSketch {
                position: found,
                pipe,
                fillet: fillet || seam == Seam::Tee,
                preparation,
                lap: seam == Seam::Lap,
                sides: if sides == Some(&procedure::Sides::Both) { Sides::Both } else { Sides::One },
                label: Some(code.clone()),
                text_size: lettering.size,
                max_width: 46.0 * lettering.room,
                max_height: 40.0 * lettering.room,
            },
        );
        // What a code calls one position is two: the flat plate, and the pipe that turns.
        let name = match row.name.split_once("; ") {
            Some((_, turned)) if pipe => options.word(turned).into_owned(),
            Some((plate, _)) => options.word(plate).into_owned(),
            None if pipe && found == Position::Pa => {
                options.fill(label::PIPE_ROTATED, &[("name", &options.word(row.name))])
            }
            None => options.word(row.name).into_owned(),
        };
        drawn.push(Figure {
            title: options.fill(label::POSITION, &[("code", &code)]),
            clause: Some(variables::clauses(["/positions"])),
            drawing,
            alt: alt::position(&code, &name, options),
            caption: Some(name),
        });
    }
    drawn
}

/// The welding symbol of the joint, by ISO 2553 or by AWS A2.4.
pub(super) fn welding_symbol(view: &View<'_>, lettering: Lettering<'_>) -> Option<Figure> {
    let SheetOptions { terms, .. } = lettering.options;
    let aws = terms == Terms::Aws;
    let procedure = view.procedure;
    // A cavity in one part has no symbol: neither standard has one for what is filled there.
    let joint = procedure.joint.as_ref().filter(|joint| joint.kind != JointType::Cavity)?;
    let weld = view.weld()?;
    let size = procedure.weld_size.as_ref().and_then(Stated::value);
    let print = |value: Option<&Stated<Range<Length>>>| bare(value, lettering.options);
    let shape = joint.preparation.as_ref().and_then(Stated::value).copied();
    let gap = print(joint.root_gap.as_ref());
    let angle = quantity(joint.included_angle.as_ref(), lettering.options);
    let depth = print(joint.penetration_depth.as_ref());
    // A combined weld has its fillet beyond the groove.
    let on_top = weld.has_groove() && weld.has_fillet();
    let leg = || {
        let first = size.and_then(|size| print(size.leg.as_ref()))?;
        let second = size.and_then(|size| print(size.second_leg.as_ref())).filter(|second| *second != first);
        Some(second.map_or_else(|| first.clone(), |second| format!("{first}×{second}")))
    };
    let throat = || size.and_then(|size| print(size.throat.as_ref()));
    // z and a, the letters of leg and throat, are ISO 2553's; a fillet of AWS A2.4 is sized by its legs alone (from memory).
    let fillet_size = || match leg() {
        Some(leg) => Some(if aws { leg } else { format!("z{leg}") }),
        None => throat().filter(|_| !aws).map(|throat| format!("a{throat}")),
    };
    let groove = |weld| SideSymbol {
        // The size of the weld stands in brackets behind the depth of the groove in AWS A2.4 (from memory).
        size: depth.clone().map(|depth| if aws { format!("({depth})") } else { format!("s{depth}") }),
        gap: gap.clone(),
        angle: angle.clone(),
        fillet: on_top.then(fillet_size).flatten(),
        ..SideSymbol::new(weld)
    };
    let fillet = || SideSymbol {
        size: fillet_size(),
        length: size.and_then(|size| print(size.length.as_ref())),
        ..SideSymbol::new(Elementary::Fillet)
    };
    let elementary = match shape {
        Some(Preparation::SingleV | Preparation::DoubleV) => Elementary::V,
        Some(Preparation::SingleBevel | Preparation::DoubleBevel) => Elementary::Bevel,
        Some(Preparation::SingleU | Preparation::DoubleU) => Elementary::U,
        Some(Preparation::SingleJ | Preparation::DoubleJ) => Elementary::J,
        Some(Preparation::FlareV) => Elementary::FlareV,
        Some(Preparation::FlareBevel) => Elementary::FlareBevel,
        Some(Preparation::Square) | None => Elementary::Square,
    };
    let plain = SideSymbol::new;
    let arrow_side = if weld.has_groove() {
        groove(elementary)
    } else if weld.has_fillet() {
        fillet()
    } else if weld == WeldType::Edge {
        plain(Elementary::Edge)
    } else {
        let weld = match weld {
            WeldType::Plug => Elementary::Plug,
            WeldType::Spot => Elementary::Spot,
            WeldType::Surfacing => Elementary::Surfacing,
            _ => return None,
        };
        // A spot or plug is sized by its diameter, d in ISO 2553 (from memory).
        let across = size.and_then(|size| print(size.diameter.as_ref()));
        SideSymbol { size: across.map(|own| if aws { own } else { format!("d{own}") }), ..plain(weld) }
    };
    // The shape of the face is that of the weld on the side of the arrow, and of its like on the other.
    let contour = size.and_then(|size| size.contour.as_ref()).and_then(Stated::value).copied();
    let arrow_side = SideSymbol { contour, ..arrow_side };
    let backing = joint.backing.as_ref().and_then(OrNone::value).map(|backing| backing.kind);
    let backing_run = view
        .runs
        .iter()
        .any(|run| run.run.layer == Some(procedure::Layer::Backing) || run.run.side == Some(procedure::Side::Second));
    let both = joint.welded_from.as_ref().and_then(Stated::value) == Some(&procedure::Sides::Both);
    let through = size.and_then(|size| print(size.root_reinforcement.as_ref()));
    let other_side = if shape.is_some_and(Preparation::is_double) {
        Some(SideSymbol { contour, ..groove(elementary) })
    } else if both && !weld.has_groove() && weld.has_fillet() {
        Some(SideSymbol { contour, ..fillet() })
    } else if both && weld.has_groove() && elementary == Elementary::Square {
        Some(SideSymbol { angle: None, contour, ..groove(Elementary::Square) })
    } else if weld.has_groove() && matches!(backing, Some(procedure::BackingType::Strip)) {
        // Whether it stays is not stated in a word that could be drawn: the symbol without a letter.
        Some(plain(Elementary::Backing))
    } else if weld.has_groove() && matches!(backing, Some(procedure::BackingType::Ceramic)) {
        // Taken off after welding (ISO 2553, table 3; AWS A2.4, clause 6: both from memory).
        Some(SideSymbol { inside: Some(if aws { "R" } else { "MR" }.to_owned()), ..plain(Elementary::Backing) })
    } else if weld.has_groove() && backing_run {
        Some(plain(Elementary::BackingRun))
    } else if weld.has_groove() && through.is_some() {
        // Filled in on the side that is not welded, its height at the left (ISO 2553, table 5; AWS A2.4, clause 6: both from memory).
        Some(SideSymbol { size: through, ..plain(Elementary::RootReinforcement) })
    } else {
        None
    };
    let mut processes: Vec<&str> = view.runs.iter().map(RunView::number).filter(|number| !number.is_empty()).collect();
    processes.dedup();
    let processes: Vec<String> = processes.into_iter().map(|number| words::process_name(number, terms)).collect();
    // Entries of the tail stand apart behind a stroke (ISO 2553, 4.5; from memory).
    let processes = processes.join("/");
    let by_throat = throat().filter(|_| aws && weld.has_fillet() && leg().is_none());
    let by_throat = by_throat.map(|throat| format!("{} {throat}", lettering.options.low("/weld_size/throat")));
    let entries = [Some(processes), Some(procedure.identification.number.to_string()), by_throat];
    let entries: Vec<String> = entries.into_iter().flatten().filter(|entry| !entry.is_empty()).collect();
    let tail = entries.join(" / ");
    let sketch = SymbolSketch {
        standard: if aws { SymbolStandard::AwsA24 } else { SymbolStandard::Iso2553A },
        arrow_side: Some(arrow_side),
        other_side,
        all_around: around(view),
        tail: Some(tail.trim().to_owned()),
        text_size: lettering.size,
        max_width: 80.0 * lettering.room,
        max_height: 40.0 * lettering.room,
        ..SymbolSketch::default()
    };
    Some(Figure {
        title: lettering
            .options
            .fill(label::WELDING_SYMBOL, &[("standard", if aws { "AWS A2.4" } else { "ISO 2553" })]),
        clause: None,
        drawing: lettering.lately.drawing(symbol, &sketch),
        alt: alt::symbol(&sketch, lettering.options),
        caption: None,
    })
}

/// The middle of a range, or its one end.
fn drawn<Q: Quantity + Copy>(range: &Range<Q>) -> Option<Q> {
    range.middle().or(range.low()).or(range.high())
}
