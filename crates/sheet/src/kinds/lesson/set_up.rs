//! The steps before the arc beside the hook-up, in the order that keeps whoever follows them safe; then those of stopping
//! and shutting down.

use seamwright_drawing::sketch::hookup::GasPath;
use seamwright_model::procedure::keys;
use seamwright_page::SheetOptions;
use seamwright_page::block::{Block, Figure};
use seamwright_page::words::label;
use seamwright_weld::{RunView, View, machines};

use super::heat_and_gas::{between_runs, flux, preheat, purge, recover_flux, trailing};
use crate::kinds::words::{process_name, tungsten_words};
use crate::kinds::{Lettering, Subject, cautions, joined, joint, print, quantity, setup, sold};

/// The steps, numbered, beside the hook-up; then what is seen of joint and torch.
pub(super) fn set_up(blocks: &mut Vec<Block>, view: &View<'_>, subject: Subject<'_>, options: SheetOptions) {
    let lettering = Lettering::desk(subject, options);
    let machines = subject.shop.map(|shop| machines::for_processes(shop, view)).unwrap_or_default();
    let mut drawings: Vec<Figure> = joint::figures(view, lettering);
    let setups = setup::setups(view);
    for (index, run) in setups.iter().enumerate() {
        let name = process_name(run.number(), options.terms);
        let title = if name.is_empty() {
            options.say(label::SET_UP).into_owned()
        } else {
            options.fill(label::SET_UP_NAMED, &[("name", &name)])
        };
        blocks.push(Block::heading(title, None));
        let (sketch, notes) = setup::hook_up(run, subject.shop, &machines, lettering).unzip();
        let by_hand = sketch.as_ref().is_some_and(|sketch| sketch.gas == GasPath::TorchValve);
        let notes = notes.unwrap_or_default();
        let items = before(view, run, By { hand: by_hand, first: index == 0 }, notes, options);
        let steps = Block::List { numbered: true, small: false, items };
        match sketch {
            Some(sketch) => {
                let figure = setup::hook_up_figure(&sketch, &options.say(label::HOOK_UP), lettering);
                let left = vec![Block::Drawings { drawings: vec![figure] }];
                blocks.push(Block::Columns { left, right: vec![steps], share: 0.42 });
            }
            None => blocks.push(steps),
        }
        blocks.push(Block::heading(options.say(label::STOP_AND_SHUT_DOWN), None));
        blocks.push(Block::List { numbered: true, small: false, items: after(run, options) });
        drawings.extend(setup::torch(view, run, lettering));
        drawings.extend(setup::tungsten(run, lettering));
    }
    for figure in &mut drawings {
        figure.clause = None;
    }
    if !drawings.is_empty() {
        blocks.push(Block::Drawings { drawings });
    }
}

/// How a set-up stands beside the others.
#[derive(Clone, Copy)]
struct By {
    /// Whether gas is opened at a valve of the torch.
    hand: bool,
    /// Whether it is that of the first process of the joint, before which the joint is heated and purged.
    first: bool,
}

/// From protection to striking.
fn before(view: &View<'_>, run: &RunView<'_>, by: By, notes: Vec<String>, options: SheetOptions) -> Vec<String> {
    let low = |key: &'static str| options.low(key);
    let tungsten = run.process.is_some_and(|row| row.uses_tungsten);
    let wire = run.process.is_some_and(|row| row.uses_wire_feed);
    // Under flux there is no light to shield from, and slag and grains to keep out of the eyes.
    let under_flux = run.process.is_some_and(|row| row.uses_flux);
    let shade = cautions::shades_in_words(view, options)
        .map(|shade| options.fill(label::WITH_LENS_SHADE, &[("shade", &shade)]));
    let mut steps = vec![
        if under_flux {
            options.say(label::PUT_ON_UNDER_FLUX).into_owned()
        } else {
            options.fill(label::PUT_ON, &[("shade", &shade.unwrap_or_default())])
        },
        options.say(if run.is_covered() { label::MACHINE_OFF_HOLDER } else { label::MACHINE_OFF }).into_owned(),
    ];
    // The polarity in words where its letters first stand.
    let mut notes = notes.into_iter().map(|note| note.trim_end_matches('.').to_owned());
    if let Some(cables) = notes.next() {
        steps.push(options.fill(label::CABLES_STEP, &[("cables", &cables)]));
    }
    if let Some(electrode) = run.setting(&keys::TUNGSTEN).map(|at| at.value) {
        let tip = joined([
            electrode.designation.as_deref().map(|name| tungsten_words(name, options)),
            sold(electrode.diameter.as_ref(), options),
            quantity(electrode.included_angle.as_ref(), options)
                .map(|angle| format!("{} {angle}", low(keys::TUNGSTEN_INCLUDED_ANGLE.of_process))),
            quantity(electrode.stickout.as_ref(), options)
                .map(|out| format!("{} {out}", low(keys::TUNGSTEN_STICKOUT.of_process))),
        ]);
        let nozzle = run.nozzle().map(|(nozzle, _, _)| {
            let lens = if run.gas_lens() { options.say(label::WITH_GAS_LENS) } else { "".into() };
            format!("{} {}{lens}; ", low(keys::TORCH_NOZZLE.of_process), nozzle.value)
        });
        let (nozzle, tungsten) = (nozzle.unwrap_or_default(), low(keys::TUNGSTEN.of_process));
        steps.push(options.fill(label::FIT_TUNGSTEN, &[("nozzle", &nozzle), ("tungsten", &tungsten), ("tip", &tip)]));
    }
    if let Some(filler) = run.filler(view.procedure).map(|(_, filler)| filler) {
        let name = joined([
            Some(filler.designation.to_string()),
            sold(filler.diameter.as_ref(), options),
            filler.drying.as_deref().map(|drying| options.fill(label::DRIED, &[("how", drying)])),
        ]);
        let what = if wire {
            label::LOAD_THE_WIRE
        } else if tungsten {
            label::LAY_OUT_RODS
        } else {
            label::LAY_OUT_ELECTRODES
        };
        steps.push(options.fill(what, &[("name", &name)]));
    }
    if under_flux {
        steps.extend(flux(run, options));
    }
    // Whoever cleans and clamps has no live electrode beside him.
    let cleaning = view.procedure.joint.as_ref().and_then(|joint| joint.cleaning.as_deref());
    let how = cleaning.map(|how| format!(": {how};")).unwrap_or_default();
    steps.push(options.fill(label::CLEAN_PLATES, &[("how", &how)]));
    let mut set_flow = None;
    if let Some(gas) = run.gas() {
        let name = setup::gas_in_short(run, options).unwrap_or_default();
        steps.push(options.fill(label::OPEN_CYLINDER, &[("gas", &name)]));
        let flow = joined([
            quantity(gas.value.flow.as_ref(), options),
            quantity(gas.value.post_flow.as_ref(), options)
                .map(|time| format!("{} {time}", low(keys::SHIELDING_GAS_POST_FLOW.of_process))),
        ]);
        set_flow = Some(options.fill(label::SET_THE_FLOW, &[("flow", &flow)]));
    }
    // A valve on the torch lets gas run while the machine is off, a solenoid does not.
    if by.hand {
        steps.extend(set_flow.take());
    }
    let current = run.value(&keys::CURRENT).map(|at| print(at.value, options));
    let voltage = run.value(&keys::VOLTAGE).map(|at| print(at.value, options));
    let feed = run.value(&keys::WIRE_FEED_SPEED).map(|at| print(at.value, options));
    if wire {
        let set = joined([voltage, feed.map(|feed| format!("{} {feed}", low(keys::WIRE_FEED_SPEED.of_process)))]);
        let shown = current.map(|current| options.fill(label::YOU_WILL_SEE, &[("value", &current)]));
        let shown = shown.unwrap_or_default();
        steps.push(options.fill(label::SET_AND_SEE, &[("set", &set), ("seen", &shown)]));
    } else if let Some(current) = current {
        // A machine of constant current has no volts to set.
        let shown = voltage.map(|volts| options.fill(label::YOU_WILL_SEE_BURNING, &[("value", &volts)]));
        let shown = shown.unwrap_or_default();
        steps.push(options.fill(label::SET_AND_SEE, &[("set", &current), ("seen", &shown)]));
    }
    steps.extend(set_flow);
    steps.extend(trailing(run, options));
    if by.first {
        steps.extend(purge(view, options));
        steps.extend(preheat(view, options));
    }
    steps.extend(between_runs(view, options));
    if under_flux {
        steps.extend(notes);
        steps.push(options.say(label::COVER_AND_START).into_owned());
        return steps;
    }
    steps.push(options.say(label::WARN).into_owned());
    steps.extend(notes);
    steps.push(options.say(label::HELMET_DOWN).into_owned());
    steps
}

/// From breaking off to leaving the booth.
fn after(run: &RunView<'_>, options: SheetOptions) -> Vec<String> {
    let gas = run.gas();
    if run.process.is_some_and(|row| row.uses_flux) {
        return vec![
            options.say(label::STOP_UNDER_FLUX).into_owned(),
            recover_flux(run, options),
            options.say(label::HOT_PLATE).into_owned(),
            options.say(label::HEAD_AWAY).into_owned(),
            options.say(label::SWEEP).into_owned(),
            options.say(label::SMOULDERING).into_owned(),
        ];
    }
    let mut steps = vec![options.say(label::FILL_CRATER).into_owned()];
    if let Some(gas) = gas.as_ref().filter(|_| run.process.is_some_and(|row| row.uses_tungsten)) {
        let time = quantity(gas.value.post_flow.as_ref(), options);
        let time = time.map(|time| format!(" ({time})")).unwrap_or_default();
        steps.push(options.fill(label::HOLD_UNTIL_GAS_STOPS, &[("time", &time)]));
    }
    steps.push(options.say(label::HOT_PLATE).into_owned());
    let wire = run.process.is_some_and(|row| row.uses_wire_feed);
    let put_away = match (gas.is_some(), wire) {
        (true, _) => label::CLOSE_CYLINDER,
        (false, true) => label::WIRE_OFF,
        (false, false) => label::STUB_OUT,
    };
    steps.push(options.say(put_away).into_owned());
    steps.push(options.say(label::SWEEP).into_owned());
    steps.push(options.say(label::SMOULDERING).into_owned());
    steps
}
