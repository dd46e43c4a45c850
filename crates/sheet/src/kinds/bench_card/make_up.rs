//! Hook-up, torch make-up, gas and technique of a process.

use seamwright_model::procedure::{Key, keys};
use seamwright_model::shop::Shop;
use seamwright_model::stated::Stated;
use seamwright_page::SheetOptions;
use seamwright_page::block::{Block, Field, Figure, Way, in_rows};
use seamwright_page::words::label;
use seamwright_weld::RunView;

use crate::kinds::setup::Machines;
use crate::kinds::words::{gas_named, joined_option, labels, large, plain_word, process_name, tungsten_words};
use crate::kinds::{Lettering, quantity, setup, sold};

/// Hook-up, torch make-up, gas and technique: beside each other for one process; for more, hook-ups in a row and what is
/// fitted in columns under them.
pub(super) fn make_up(
    blocks: &mut Vec<Block>,
    setups: &[&RunView<'_>],
    shop: Option<&Shop>,
    machines: &Machines<'_>,
    lettering: Lettering<'_>,
) {
    let several = setups.len() > 1;
    let options = lettering.options;
    let mut hook_ups: Vec<Figure> = Vec::new();
    let mut columns: Vec<(Vec<Field>, Vec<String>)> = Vec::new();
    for run in setups {
        let name = if several { format!(", {}", process_name(run.number(), options.terms)) } else { String::new() };
        let mut fields = torch_fields(run, lettering.options);
        let mut notes = Vec::new();
        if let Some((sketch, said)) = setup::hook_up(run, shop, machines, lettering) {
            let mut said = said.into_iter();
            let value = said.next().unwrap_or_default();
            let span = if several { 2 } else { 4 };
            fields
                .insert(0, Field { label: format!("{}{name}", options.say(label::CABLES)), value, span, large: true });
            notes.extend(said);
            let title = format!("{}{name}", options.say(label::HOOK_UP));
            hook_ups.push(setup::hook_up_figure(&sketch, &title, lettering));
        }
        columns.push((fields, notes));
    }
    if let ([(fields, notes)], false) = (columns.as_slice(), hook_ups.is_empty()) {
        let mut left = vec![Block::Drawings { drawings: hook_ups }];
        left.extend(notes.iter().cloned().map(Block::paragraph));
        blocks.push(Block::Columns { left, right: set(fields.clone()), share: 0.42 });
        return;
    }
    let rows = |fields: &[Field], columns| in_rows(fields, columns).len();
    if !hook_ups.is_empty() {
        let drawings = vec![Block::Drawings { drawings: hook_ups }];
        blocks.push(Block::GivesWay { way: Way::HookUp, blocks: drawings, instead: Vec::new() });
    }
    let mut said: Vec<String> = Vec::new();
    for pair in columns.chunks(2) {
        match pair {
            // Beside each other, unless one has so much more than the other that they take less under each other.
            [(one, _), (other, _)]
                if !one.is_empty()
                    && !other.is_empty()
                    && rows(one, 2).max(rows(other, 2)) <= rows(one, 4) + rows(other, 4) =>
            {
                blocks.push(Block::Columns { left: set(one.clone()), right: set(other.clone()), share: 0.5 });
            }
            all => blocks.extend(all.iter().flat_map(|(fields, _)| set(fields.clone()))),
        }
        said.extend(pair.iter().flat_map(|(_, notes)| notes.clone()));
    }
    if !said.is_empty() {
        blocks.push(Block::paragraph(said.join(" ")));
    }
}

/// A block of fields, where there are any.
fn set(fields: Vec<Field>) -> Vec<Block> {
    if fields.is_empty() { Vec::new() } else { vec![Block::Fields { fields }] }
}

/// What a run states as a word.
fn word<T: ToString>(run: &RunView<'_>, key: &Key<Stated<T>>, options: SheetOptions) -> Option<Field> {
    let stated = run.setting(key);
    large(&options.term(key.of_process), stated.and_then(|at| plain_word(Some(at.value), options)))
}

/// Tungsten, nozzle, gas and technique of a run.
fn torch_fields(run: &RunView<'_>, options: SheetOptions) -> Vec<Field> {
    let term = |key: &'static str| options.term(key);
    let low = |key: &'static str| options.low(key);
    let tungsten = run.setting(&keys::TUNGSTEN).map(|at| at.value);
    let torch = run.setting(&keys::TORCH).map(|at| at.value);
    let gas = run.gas().map(|at| at.value);
    let technique = run.setting(&keys::TECHNIQUE).map(|at| at.value);
    let trailing = run.part(&keys::TRAILING_GAS).map(|at| at.value);
    let pulse = run.part(&keys::PULSE).map(|at| at.value);
    let ac = run.value(&keys::AC).map(|at| at.value);
    let fields = [
        large(
            &term(keys::TUNGSTEN.of_process),
            tungsten.and_then(|t| {
                joined_option([
                    t.designation.as_deref().map(|name| tungsten_words(name, options)),
                    sold(t.diameter.as_ref(), options),
                ])
            }),
        ),
        large(
            &term(keys::TUNGSTEN_INCLUDED_ANGLE.of_process),
            tungsten.and_then(|t| {
                joined_option([
                    quantity(t.included_angle.as_ref(), options),
                    quantity(t.tip_flat.as_ref(), options)
                        .map(|flat| format!("{} {flat}", low(keys::TUNGSTEN_TIP_FLAT.of_process))),
                ])
            }),
        ),
        large(
            &term(keys::TORCH_NOZZLE.of_process),
            torch.and_then(|t| {
                joined_option([
                    t.nozzle.as_deref().map(Into::into),
                    t.gas_lens.as_ref().map(|lens| {
                        options.say(if lens.0 { label::GAS_LENS } else { label::NO_GAS_LENS }).into_owned()
                    }),
                ])
            }),
        ),
        large(&term(keys::TUNGSTEN_STICKOUT.of_process), tungsten.and_then(|t| quantity(t.stickout.as_ref(), options))),
        large(
            &term(keys::CONTACT_TIP_TO_WORK.of_process),
            run.setting(&keys::CONTACT_TIP_TO_WORK).and_then(|at| quantity(Some(at.value), options)),
        ),
        word(run, &keys::TRANSFER_MODE, options),
        large(
            &term(keys::SHIELDING_GAS.of_process),
            gas.and_then(|gas| joined_option([setup::gas_name(run, options), quantity(gas.flow.as_ref(), options)])),
        ),
        large(
            &labels(&[keys::SHIELDING_GAS_PRE_FLOW.of_process, keys::SHIELDING_GAS_POST_FLOW.of_process], options),
            gas.and_then(|gas| {
                joined_option([quantity(gas.pre_flow.as_ref(), options), quantity(gas.post_flow.as_ref(), options)])
            }),
        ),
        large(
            &term(keys::TRAILING_GAS.of_process),
            trailing.and_then(|gas| {
                joined_option([
                    gas_named(gas.designation.as_deref(), gas.composition.as_ref(), options),
                    quantity(gas.flow.as_ref(), options),
                ])
            }),
        ),
        large(
            &labels(&[keys::DIRECTION.of_process, keys::TRAVEL_ANGLE.of_process], options),
            joined_option([
                technique.and_then(|t| plain_word(t.direction.as_ref(), options)),
                technique.and_then(|t| quantity(t.travel_angle.as_ref(), options)),
            ]),
        ),
        large(&term(keys::WORK_ANGLE.of_process), technique.and_then(|t| quantity(t.work_angle.as_ref(), options))),
        large(&term(keys::FILLER_ANGLE.of_process), technique.and_then(|t| quantity(t.filler_angle.as_ref(), options))),
        large(&term(keys::ARC_LENGTH.of_process), technique.and_then(|t| quantity(t.arc_length.as_ref(), options))),
        large(
            &term(keys::BEAD.of_process),
            technique.and_then(|t| {
                joined_option([
                    plain_word(t.bead.as_ref(), options),
                    quantity(t.maximum_bead_width.as_ref(), options)
                        .map(|width| options.fill(label::TO_WIDE, &[("width", &width)])),
                ])
            }),
        ),
        word(run, &keys::ARC_START, options),
        word(run, &keys::CURRENT_CONTROL, options),
        large(
            &term(keys::PULSE.of_process),
            pulse.and_then(|p| {
                joined_option([
                    quantity(p.peak_current.as_ref(), options)
                        .map(|it| format!("{} {it}", low(keys::PULSE_PEAK_CURRENT.of_process))),
                    quantity(p.background_current.as_ref(), options)
                        .map(|it| format!("{} {it}", low(keys::PULSE_BACKGROUND_CURRENT.of_process))),
                    quantity(p.frequency.as_ref(), options),
                ])
            }),
        ),
        large(
            &term(keys::AC.of_process),
            ac.and_then(|ac| {
                joined_option([
                    quantity(ac.frequency.as_ref(), options),
                    quantity(ac.electrode_negative.as_ref(), options)
                        .map(|it| format!("{} {it}", low(keys::AC_ELECTRODE_NEGATIVE.of_process))),
                ])
            }),
        ),
        large(
            &term(keys::FLUX.of_process),
            run.setting(&keys::FLUX).and_then(|at| {
                joined_option([
                    at.value.designation.as_deref().map(Into::into),
                    at.value.drying.as_deref().map(Into::into),
                ])
            }),
        ),
    ];
    fields.into_iter().flatten().collect()
}
