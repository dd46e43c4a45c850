//! What a process, and a run beside the run table, states.

use seamwright_check::View;
use seamwright_handbook::iso_15609_1;
use seamwright_handbook::variables;
use seamwright_model::procedure::{Settings, Technique};
use seamwright_model::stated::{OrNone, Stated};

use crate::block::{Block, Field};
use crate::kinds::words::{field, gas, joined_option, labels, section, tungsten_words};
use crate::kinds::{SheetOptions, joined, part, quantity, word};

/// Clauses of ISO 15609-1 that ask a process for its settings.
fn settings_clauses(process: &str) -> String {
    let asked = iso_15609_1::items_for(process).into_iter();
    let own = asked.filter(|item| item.keys.iter().any(|key| key.starts_with("settings.")));
    iso_15609_1::clauses_in_words(own.map(|item| item.clause.as_str()))
}

fn technique_fields(technique: &Technique, options: SheetOptions) -> Vec<Option<Field>> {
    let SheetOptions { units, terms } = options;
    let label = |key: &'static str| variables::term(key, terms);
    vec![
        field(
            label("/processes/*/technique/bead"),
            joined_option([
                word(technique.bead.as_ref()),
                quantity(technique.maximum_bead_width.as_ref(), units).map(|width| format!("to {width} wide")),
            ]),
        ),
        field(
            label("/processes/*/technique/direction"),
            joined_option([
                word(technique.direction.as_ref()),
                quantity(technique.travel_angle.as_ref(), units).map(|angle| format!("{angle} travel angle")),
            ]),
        ),
        field(label("/processes/*/technique/work_angle"), quantity(technique.work_angle.as_ref(), units)),
        field(label("/processes/*/technique/filler_angle"), quantity(technique.filler_angle.as_ref(), units)),
        field(label("/processes/*/technique/arc_length"), quantity(technique.arc_length.as_ref(), units)),
        field(
            label("/processes/*/technique/oscillation_width"),
            joined_option([
                quantity(technique.oscillation_width.as_ref(), units),
                quantity(technique.oscillation_frequency.as_ref(), units),
                quantity(technique.oscillation_dwell.as_ref(), units),
            ]),
        ),
        field(label("/processes/*/technique/interpass_cleaning"), technique.interpass_cleaning.as_deref()),
    ]
}

/// Everything that a block of settings states, but for what the run table shows when `in_table` holds.
fn settings_fields(settings: &Settings, options: SheetOptions, in_table: bool) -> Vec<Option<Field>> {
    let SheetOptions { units, terms } = options;
    let label = |key: &'static str| variables::term(key, terms);
    let tungsten = settings.tungsten.as_ref();
    let torch = settings.torch.as_ref();
    let shielding = settings.shielding_gas.as_ref().and_then(OrNone::value);
    let pulse = settings.pulse.as_ref();
    let mut fields = vec![
        field(label("/processes/*/mechanization"), word(settings.mechanization.as_ref())),
        field(label("/processes/*/polarity"), word(settings.polarity.as_ref())),
        field(label("/processes/*/filler"), settings.filler.as_deref()),
    ];
    if !in_table {
        fields.extend([
            field(label("/processes/*/current"), quantity(settings.current.as_ref(), units)),
            field(label("/processes/*/voltage"), quantity(settings.voltage.as_ref(), units)),
            field(label("/processes/*/travel_speed"), quantity(settings.travel_speed.as_ref(), units)),
            field(label("/processes/*/wire_feed_speed"), quantity(settings.wire_feed_speed.as_ref(), units)),
        ]);
    }
    fields.extend([
        field(
            label("/processes/*/tungsten"),
            tungsten.and_then(|t| {
                joined_option([t.designation.as_deref().map(tungsten_words), quantity(t.diameter.as_ref(), units)])
            }),
        ),
        field(
            &labels(&["/processes/*/tungsten/included_angle", "/processes/*/tungsten/stickout"], terms),
            tungsten.and_then(|t| {
                joined_option([
                    quantity(t.included_angle.as_ref(), units),
                    quantity(t.tip_flat.as_ref(), units).map(|flat| format!("flat {flat}")),
                    quantity(t.stickout.as_ref(), units),
                ])
            }),
        ),
        field(
            label("/processes/*/torch"),
            torch.and_then(|t| {
                joined_option([
                    t.size.as_deref().map(|size| format!("size {size}")),
                    t.cooling.map(|cooling| format!("{cooling} cooled")),
                ])
            }),
        ),
        field(
            label("/processes/*/torch/nozzle"),
            torch.and_then(|t| {
                joined_option([
                    t.nozzle.as_deref().map(Into::into),
                    t.gas_lens.map(|lens| if lens.0 { "gas lens".to_owned() } else { "no gas lens".to_owned() }),
                ])
            }),
        ),
        field(label("/processes/*/shielding_gas"), part(settings.shielding_gas.as_ref(), |g| gas(g, units))),
        field(
            &labels(&["/processes/*/shielding_gas/pre_flow", "/processes/*/shielding_gas/post_flow"], terms),
            shielding.and_then(|g| {
                joined_option([quantity(g.pre_flow.as_ref(), units), quantity(g.post_flow.as_ref(), units)])
            }),
        ),
        field(label("/processes/*/trailing_gas"), part(settings.trailing_gas.as_ref(), |g| gas(g, units))),
        field(label("/processes/*/plasma_gas"), part(settings.plasma_gas.as_ref(), |g| gas(g, units))),
        field(label("/processes/*/orifice"), quantity(settings.orifice.as_ref(), units)),
        field(label("/processes/*/transfer_mode"), word(settings.transfer_mode.as_ref())),
        field(label("/processes/*/contact_tip_to_work"), quantity(settings.contact_tip_to_work.as_ref(), units)),
        field(label("/processes/*/arc_start"), word(settings.arc_start.as_ref())),
        field(label("/processes/*/current_control"), word(settings.current_control.as_ref())),
        field(
            label("/processes/*/pulse"),
            part(pulse, |p| {
                joined([
                    quantity(p.peak_current.as_ref(), units).map(|v| format!("peak {v}")),
                    quantity(p.background_current.as_ref(), units).map(|v| format!("background {v}")),
                    quantity(p.frequency.as_ref(), units),
                    quantity(p.peak_time.as_ref(), units).map(|v| format!("peak time {v}")),
                ])
            }),
        ),
        field(
            label("/processes/*/ac"),
            settings.ac.as_ref().map(|ac| match ac {
                Stated::NotApplicable => "not applicable".to_owned(),
                Stated::Is(ac) => joined([
                    quantity(ac.frequency.as_ref(), units),
                    quantity(ac.electrode_negative.as_ref(), units).map(|v| format!("electrode negative {v}")),
                ]),
            }),
        ),
        field(
            &labels(&["/processes/*/up_slope", "/processes/*/down_slope"], terms),
            joined_option([quantity(settings.up_slope.as_ref(), units), quantity(settings.down_slope.as_ref(), units)]),
        ),
        field(label("/processes/*/arc_power"), quantity(settings.arc_power.as_ref(), units)),
        field(label("/processes/*/run_out_length"), quantity(settings.run_out_length.as_ref(), units)),
        field(label("/processes/*/deposit_thickness"), quantity(settings.deposit_thickness.as_ref(), units)),
        field(label("/processes/*/heat_input"), quantity(settings.heat_input.as_ref(), units)),
        field(label("/processes/*/inductance"), settings.inductance.as_deref()),
        field(label("/processes/*/arc_force"), settings.arc_force.as_deref()),
        field(
            label("/processes/*/flux"),
            settings.flux.as_ref().map(|flux| {
                joined([
                    flux.designation.as_deref().map(Into::into),
                    flux.make.as_deref().map(Into::into),
                    flux.drying.as_deref().map(Into::into),
                    flux.recycling.as_deref().map(Into::into),
                ])
            }),
        ),
        field(
            label("/processes/*/number_of_wires"),
            joined_option([
                settings.number_of_wires.as_deref().map(Into::into),
                quantity(settings.wire_spacing.as_ref(), units).map(|v| format!("{v} apart")),
            ]),
        ),
    ]);
    if let Some(technique) = &settings.technique {
        fields.extend(technique_fields(technique, options));
    }
    fields
}

pub(super) fn process(blocks: &mut Vec<Block>, name: &str, settings: &Settings, options: SheetOptions) {
    let row = seamwright_handbook::processes::get(name);
    let title = row.map_or(format!("Process {name}"), |row| format!("Process {name}: {}", row.name));
    section(blocks, &title, Some(&settings_clauses(name)), settings_fields(settings, options, false));
}

/// What single runs state beside the run table.
pub(super) fn own_settings(blocks: &mut Vec<Block>, view: &View<'_>, options: SheetOptions) {
    let label = |key: &'static str| variables::term(key, options.terms);
    for run in &view.runs {
        let fields = settings_fields(&run.run.settings, options, true);
        if fields.iter().any(Option::is_some) {
            section(
                blocks,
                &format!("{} {} only", label("/runs/*/run"), run.run.run),
                Some(&settings_clauses(run.number())),
                fields,
            );
        }
    }
}
