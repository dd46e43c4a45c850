//! The steps before the arc beside the hook-up, then what is seen of joint and torch.

use seamwright_check::View;
use seamwright_check::shops::machines;

use crate::block::{Block, Figure};
use crate::kinds::words::{low, tungsten_words};
use crate::kinds::{Lettering, SheetOptions, Subject, joined, joint, quantity, setup};

/// The steps before the arc, numbered, beside the hook-up; then what is seen of joint and torch.
pub(super) fn set_up(blocks: &mut Vec<Block>, view: &View<'_>, subject: Subject<'_>, options: SheetOptions) {
    let SheetOptions { units, terms, .. } = options;
    let low = |key: &'static str| low(key, terms);
    let lettering = Lettering::desk(options);
    let machines = subject.shop.map(|shop| machines::for_processes(shop, view)).unwrap_or_default();
    let mut drawings: Vec<Figure> = joint::figures(view, lettering);
    for run in setup::setups(view) {
        let number = run.number();
        let title = if number.is_empty() { "Set-up".to_owned() } else { format!("Set-up, {number}") };
        blocks.push(Block::heading(title, None));
        let (figure, notes) = match setup::hook_up(run, subject.shop, &machines, lettering) {
            Some((sketch, notes)) => (Some(setup::hook_up_figure(&sketch, "Hook-up")), notes),
            None => (None, Vec::new()),
        };
        let mut steps: Vec<String> =
            vec!["Machine off: look over cables, hoses and torch for damage; clear what burns".into()];
        steps.extend(notes.into_iter().map(|note| note.trim_end_matches('.').to_owned()));
        if let Some(tungsten) = run.setting("tungsten", |s| s.tungsten.as_ref()).map(|at| at.value) {
            let tip = joined([
                tungsten.designation.as_deref().map(tungsten_words),
                quantity(tungsten.diameter.as_ref(), units),
                quantity(tungsten.included_angle.as_ref(), units)
                    .map(|angle| format!("{} {angle}", low("/processes/*/tungsten/included_angle"))),
                quantity(tungsten.stickout.as_ref(), units)
                    .map(|out| format!("{} {out}", low("/processes/*/tungsten/stickout"))),
            ]);
            steps.push(format!("Fit the {}: {tip}", low("/processes/*/tungsten")));
        }
        if let Some((nozzle, _, _)) = run.nozzle() {
            let lens = if run.gas_lens() { ", with gas lens" } else { "" };
            steps.push(format!("Fit the {}: {}{lens}", low("/processes/*/torch/nozzle"), nozzle.value));
        }
        if let Some(filler) = run.filler(view.procedure).map(|(_, filler)| filler) {
            let name = joined([Some(filler.designation.to_string()), quantity(filler.diameter.as_ref(), units)]);
            let what =
                if run.process.is_some_and(|row| row.uses_wire_feed) { "Load the wire" } else { "Lay out the filler" };
            steps.push(format!("{what}: {name}"));
        }
        if let Some(gas) = run.gas() {
            let name = joined([
                setup::gas_name(run),
                quantity(gas.value.flow.as_ref(), units),
                quantity(gas.value.post_flow.as_ref(), units)
                    .map(|time| format!("{} {time}", low("/processes/*/shielding_gas/post_flow"))),
            ]);
            steps.push(format!("Open the cylinder slowly and set the gas while it flows: {name}"));
        }
        let settings = joined([
            run.quantity("current", |s| s.current.as_ref()).map(|at| at.value.print(units)),
            run.quantity("voltage", |s| s.voltage.as_ref()).map(|at| at.value.print(units)),
            run.quantity("wire_feed_speed", |s| s.wire_feed_speed.as_ref())
                .map(|at| format!("{} {}", low("/processes/*/wire_feed_speed"), at.value.print(units))),
        ]);
        if !settings.is_empty() {
            steps.push(format!("Set the machine: {settings}"));
        }
        if let Some(cleaning) = view.procedure.joint.as_ref().and_then(|joint| joint.cleaning.as_deref()) {
            steps.push(format!("Clean the coupons: {cleaning}"));
        }
        steps.push("Helmet, gloves and screens in place, extraction on; then the arc".into());
        let steps = Block::List { numbered: true, small: false, items: steps };
        match figure {
            Some(figure) => {
                let left = vec![Block::Drawings { drawings: vec![figure] }];
                blocks.push(Block::Columns { left, right: vec![steps], share: 0.5 });
            }
            None => blocks.push(steps),
        }
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
