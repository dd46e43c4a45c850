//! Hook-up, torch make-up, gas and technique of a process.

use seamwright_check::RunView;
use seamwright_handbook::variables;
use seamwright_model::shop::Shop;
use seamwright_model::stated::{OrNone, Stated};

use super::large;
use crate::block::{Block, Field, Figure};
use crate::kinds::setup::Machines;
use crate::kinds::words::{gas_named, joined_option, labels, low, plain_word, process_name, tungsten_words};
use crate::kinds::{Lettering, SheetOptions, quantity, setup};

/// Hook-up, torch make-up, gas and technique: beside each other for one process; for more, hook-ups in a row and what is
/// fitted in columns under them.
pub(super) fn make_up(
    blocks: &mut Vec<Block>,
    setups: &[&RunView<'_>],
    shop: Option<&Shop>,
    machines: &Machines<'_>,
    lettering: Lettering,
) {
    let several = setups.len() > 1;
    let mut hook_ups: Vec<Figure> = Vec::new();
    let mut columns: Vec<(Vec<Block>, Vec<String>)> = Vec::new();
    for run in setups {
        let name =
            if several { format!(", {}", process_name(run.number(), lettering.options.terms)) } else { String::new() };
        let mut fields = torch_fields(run, lettering.options);
        let mut notes = Vec::new();
        if let Some((sketch, said)) = setup::hook_up(run, shop, machines, lettering) {
            let mut said = said.into_iter();
            let value = said.next().unwrap_or_default();
            let span = if several { 2 } else { 4 };
            fields.insert(0, Field { label: format!("Cables{name}"), value, span, large: true });
            notes.extend(said);
            hook_ups.push(setup::hook_up_figure(&sketch, &format!("Hook-up{name}")));
        }
        columns.push((if fields.is_empty() { Vec::new() } else { vec![Block::Fields { fields }] }, notes));
    }
    if let ([(fields, notes)], false) = (columns.as_slice(), hook_ups.is_empty()) {
        let mut left = vec![Block::Drawings { drawings: hook_ups }];
        left.extend(notes.iter().cloned().map(Block::paragraph));
        blocks.push(Block::Columns { left, right: fields.clone(), share: 0.42 });
        return;
    }
    if !hook_ups.is_empty() {
        blocks.push(Block::Drawings { drawings: hook_ups });
    }
    let mut said: Vec<String> = Vec::new();
    for pair in columns.chunks(2) {
        match pair {
            [(one, _), (other, _)] if !one.is_empty() && !other.is_empty() => {
                blocks.push(Block::Columns { left: one.clone(), right: other.clone(), share: 0.5 });
            }
            all => blocks.extend(all.iter().flat_map(|(fields, _)| fields.clone())),
        }
        said.extend(pair.iter().flat_map(|(_, notes)| notes.clone()));
    }
    if !said.is_empty() {
        blocks.push(Block::paragraph(said.join(" ")));
    }
}

/// Tungsten, nozzle, gas and technique of a run.
fn torch_fields(run: &RunView<'_>, options: SheetOptions) -> Vec<Field> {
    let SheetOptions { units, terms, .. } = options;
    let label = |key: &'static str| variables::term(key, terms);
    let low = |key: &'static str| low(key, terms);
    let tungsten = run.setting("tungsten", |s| s.tungsten.as_ref()).map(|at| at.value);
    let torch = run.setting("torch", |s| s.torch.as_ref()).map(|at| at.value);
    let gas = run.gas().map(|at| at.value);
    let technique = run.setting("technique", |s| s.technique.as_ref()).map(|at| at.value);
    let trailing = run.setting("trailing_gas", |s| s.trailing_gas.as_ref().and_then(OrNone::value)).map(|at| at.value);
    let pulse = run.setting("pulse", |s| s.pulse.as_ref().and_then(OrNone::value)).map(|at| at.value);
    let ac = run.setting("ac", |s| s.ac.as_ref().and_then(Stated::value)).map(|at| at.value);
    let fields = [
        large(
            label("/processes/*/tungsten"),
            tungsten.and_then(|t| {
                joined_option([t.designation.as_deref().map(tungsten_words), quantity(t.diameter.as_ref(), units)])
            }),
        ),
        large(
            label("/processes/*/tungsten/included_angle"),
            tungsten.and_then(|t| {
                joined_option([
                    quantity(t.included_angle.as_ref(), units),
                    quantity(t.tip_flat.as_ref(), units)
                        .map(|flat| format!("{} {flat}", low("/processes/*/tungsten/tip_flat"))),
                ])
            }),
        ),
        large(
            label("/processes/*/torch/nozzle"),
            torch.and_then(|t| {
                joined_option([
                    t.nozzle.as_deref().map(Into::into),
                    t.gas_lens.as_ref().map(|lens| if lens.0 { "gas lens" } else { "no gas lens" }.to_owned()),
                ])
            }),
        ),
        large(label("/processes/*/tungsten/stickout"), tungsten.and_then(|t| quantity(t.stickout.as_ref(), units))),
        large(
            label("/processes/*/contact_tip_to_work"),
            run.setting("contact_tip_to_work", |s| s.contact_tip_to_work.as_ref())
                .and_then(|at| quantity(Some(at.value), units)),
        ),
        large(
            label("/processes/*/transfer_mode"),
            run.setting("transfer_mode", |s| s.transfer_mode.as_ref()).and_then(|at| plain_word(Some(at.value))),
        ),
        large(
            label("/processes/*/shielding_gas"),
            gas.and_then(|gas| joined_option([setup::gas_name(run), quantity(gas.flow.as_ref(), units)])),
        ),
        large(
            &labels(&["/processes/*/shielding_gas/pre_flow", "/processes/*/shielding_gas/post_flow"], terms),
            gas.and_then(|gas| {
                joined_option([quantity(gas.pre_flow.as_ref(), units), quantity(gas.post_flow.as_ref(), units)])
            }),
        ),
        large(
            label("/processes/*/trailing_gas"),
            trailing.and_then(|gas| {
                joined_option([
                    gas_named(gas.designation.as_deref(), gas.composition.as_ref()),
                    quantity(gas.flow.as_ref(), units),
                ])
            }),
        ),
        large(
            &labels(&["/processes/*/technique/direction", "/processes/*/technique/travel_angle"], terms),
            joined_option([
                technique.and_then(|t| plain_word(t.direction.as_ref())),
                technique.and_then(|t| quantity(t.travel_angle.as_ref(), units)),
            ]),
        ),
        large(
            label("/processes/*/technique/work_angle"),
            technique.and_then(|t| quantity(t.work_angle.as_ref(), units)),
        ),
        large(
            label("/processes/*/technique/filler_angle"),
            technique.and_then(|t| quantity(t.filler_angle.as_ref(), units)),
        ),
        large(
            label("/processes/*/technique/arc_length"),
            technique.and_then(|t| quantity(t.arc_length.as_ref(), units)),
        ),
        large(
            label("/processes/*/technique/bead"),
            technique.and_then(|t| {
                joined_option([
                    plain_word(t.bead.as_ref()),
                    quantity(t.maximum_bead_width.as_ref(), units).map(|width| format!("to {width} wide")),
                ])
            }),
        ),
        large(
            label("/processes/*/arc_start"),
            run.setting("arc_start", |s| s.arc_start.as_ref()).and_then(|at| plain_word(Some(at.value))),
        ),
        large(
            label("/processes/*/current_control"),
            run.setting("current_control", |s| s.current_control.as_ref()).and_then(|at| plain_word(Some(at.value))),
        ),
        large(
            label("/processes/*/pulse"),
            pulse.and_then(|p| {
                joined_option([
                    quantity(p.peak_current.as_ref(), units)
                        .map(|it| format!("{} {it}", low("/processes/*/pulse/peak_current"))),
                    quantity(p.background_current.as_ref(), units)
                        .map(|it| format!("{} {it}", low("/processes/*/pulse/background_current"))),
                    quantity(p.frequency.as_ref(), units),
                ])
            }),
        ),
        large(
            label("/processes/*/ac"),
            ac.and_then(|ac| {
                joined_option([
                    quantity(ac.frequency.as_ref(), units),
                    quantity(ac.electrode_negative.as_ref(), units)
                        .map(|it| format!("{} {it}", low("/processes/*/ac/electrode_negative"))),
                ])
            }),
        ),
        large(
            label("/processes/*/flux"),
            run.setting("flux", |s| s.flux.as_ref()).and_then(|at| {
                joined_option([
                    at.value.designation.as_deref().map(Into::into),
                    at.value.drying.as_deref().map(Into::into),
                ])
            }),
        ),
    ];
    fields.into_iter().flatten().collect()
}
