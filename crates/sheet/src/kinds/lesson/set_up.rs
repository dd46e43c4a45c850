//! The steps before the arc beside the hook-up, in the order that keeps whoever follows them safe; then those of stopping
//! and shutting down.

use seamwright_check::shops::machines;
use seamwright_check::{RunView, View};

use crate::block::{Block, Figure};
use crate::kinds::words::{low, process_name, tungsten_words};
use crate::kinds::{Lettering, SheetOptions, Subject, cautions, joined, joint, quantity, setup};

/// The steps, numbered, beside the hook-up; then what is seen of joint and torch.
pub(super) fn set_up(blocks: &mut Vec<Block>, view: &View<'_>, subject: Subject<'_>, options: SheetOptions) {
    let lettering = Lettering::desk(options);
    let machines = subject.shop.map(|shop| machines::for_processes(shop, view)).unwrap_or_default();
    let mut drawings: Vec<Figure> = joint::figures(view, lettering);
    let setups = setup::setups(view);
    for run in &setups {
        let name = process_name(run.number(), options.terms);
        let title = if name.is_empty() { "Set up".to_owned() } else { format!("Set up, {name}") };
        blocks.push(Block::heading(title, None));
        let (figure, notes) = match setup::hook_up(run, subject.shop, &machines, lettering) {
            Some((sketch, notes)) => (Some(setup::hook_up_figure(&sketch, "Hook-up")), notes),
            None => (None, Vec::new()),
        };
        let steps = Block::List { numbered: true, small: false, items: before(view, run, notes, options) };
        match figure {
            Some(figure) => {
                let left = vec![Block::Drawings { drawings: vec![figure] }];
                blocks.push(Block::Columns { left, right: vec![steps], share: 0.42 });
            }
            None => blocks.push(steps),
        }
        blocks.push(Block::heading("Stop and shut down", None));
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

/// From protection to striking.
fn before(view: &View<'_>, run: &RunView<'_>, notes: Vec<String>, options: SheetOptions) -> Vec<String> {
    let SheetOptions { units, terms, .. } = options;
    let low = |key: &'static str| low(key, terms);
    let tungsten = run.process.is_some_and(|row| row.uses_tungsten);
    let wire = run.process.is_some_and(|row| row.uses_wire_feed);
    let shade = cautions::shades_in_words(view, terms).map(|shade| format!(" with lens shade {shade}"));
    let mut steps = vec![
        format!("Put on helmet{}, gloves and jacket; extraction on, screens closed", shade.unwrap_or_default()),
        "Machine off: look over cables, hoses and torch for damage; clear what burns".to_owned(),
    ];
    // The polarity in words where its letters first stand.
    let mut notes = notes.into_iter().map(|note| note.trim_end_matches('.').to_owned());
    if let Some(cables) = notes.next() {
        steps.push(format!("Cables: {cables}"));
    }
    if let Some(electrode) = run.setting("tungsten", |s| s.tungsten.as_ref()).map(|at| at.value) {
        let tip = joined([
            electrode.designation.as_deref().map(tungsten_words),
            quantity(electrode.diameter.as_ref(), units),
            quantity(electrode.included_angle.as_ref(), units)
                .map(|angle| format!("{} {angle}", low("/processes/*/tungsten/included_angle"))),
            quantity(electrode.stickout.as_ref(), units)
                .map(|out| format!("{} {out}", low("/processes/*/tungsten/stickout"))),
        ]);
        let nozzle = run.nozzle().map(|(nozzle, _, _)| {
            let lens = if run.gas_lens() { " with gas lens" } else { "" };
            format!("{} {}{lens}; ", low("/processes/*/torch/nozzle"), nozzle.value)
        });
        steps.push(format!("Fit the {}{}: {tip}", nozzle.unwrap_or_default(), low("/processes/*/tungsten")));
    }
    if let Some(filler) = run.filler(view.procedure).map(|(_, filler)| filler) {
        let name = joined([
            Some(filler.designation.to_string()),
            quantity(filler.diameter.as_ref(), units),
            filler.drying.as_deref().map(|drying| format!("dried {drying}")),
        ]);
        let what = if wire {
            "Load the wire"
        } else if tungsten {
            "Lay out the rods"
        } else {
            "Lay out the electrodes"
        };
        steps.push(format!("{what}: {name}"));
    }
    if let Some(gas) = run.gas() {
        let name = setup::gas_in_short(run).unwrap_or_default();
        steps.push(format!(
            "Cylinder ({name}) upright and chained: stand to the side and open it slowly, the regulator screw out"
        ));
        let flow = joined([
            quantity(gas.value.flow.as_ref(), units),
            quantity(gas.value.post_flow.as_ref(), units)
                .map(|time| format!("{} {time}", low("/processes/*/shielding_gas/post_flow"))),
        ]);
        steps.push(format!("Set the flow while gas runs: {flow}"));
    }
    let current = run.quantity("current", |s| s.current.as_ref()).map(|at| at.value.print(units));
    let voltage = run.quantity("voltage", |s| s.voltage.as_ref()).map(|at| at.value.print(units));
    let feed = run.quantity("wire_feed_speed", |s| s.wire_feed_speed.as_ref()).map(|at| at.value.print(units));
    if wire {
        let set = joined([voltage, feed.map(|feed| format!("{} {feed}", low("/processes/*/wire_feed_speed")))]);
        let shown = current.map(|current| format!("; you will see about {current}")).unwrap_or_default();
        steps.push(format!("Machine on; set {set}{shown}"));
    } else if let Some(current) = current {
        // A machine of constant current has no volts to set.
        let shown = voltage.map(|volts| format!("; with the arc burning you will see about {volts}"));
        steps.push(format!("Machine on; set {current}{}", shown.unwrap_or_default()));
    }
    let cleaning = view.procedure.joint.as_ref().and_then(|joint| joint.cleaning.as_deref());
    steps.push(format!(
        "Clean the plates{} and clamp them",
        cleaning.map(|how| format!(": {how};")).unwrap_or_default()
    ));
    steps.push("Warn those beside you: \u{201c}cover\u{201d}, and wait until they have".to_owned());
    steps.extend(notes);
    steps.push("Helmet down, then strike".to_owned());
    steps
}

/// From breaking off to leaving the booth.
fn after(run: &RunView<'_>, options: SheetOptions) -> Vec<String> {
    let gas = run.gas();
    let mut steps = vec!["Fill the crater, then break off".to_owned()];
    if let Some(gas) = gas.as_ref().filter(|_| run.process.is_some_and(|row| row.uses_tungsten)) {
        let time = quantity(gas.value.post_flow.as_ref(), options.units);
        let time = time.map(|time| format!(" ({time})")).unwrap_or_default();
        steps.push(format!("Hold the torch on the crater until the gas has stopped{time}"));
    }
    steps.push("Put the hot plate where it is marked as hot; carry it with tongs".to_owned());
    if gas.is_some() {
        steps.push("At the end: close the cylinder, let the hose run empty, turn the regulator screw out".to_owned());
    } else {
        steps.push("At the end: take the stub out of the holder and hang the holder up, free of the work".to_owned());
    }
    steps.push("Machine off, cables hung up, floor swept".to_owned());
    steps.push("Look for smouldering for 30 min after the last arc".to_owned());
    steps
}
