//! What a process, and a run beside the run table, states.

use seamwright_handbook::iso_15609_1;
use seamwright_handbook::variables::{self, Terms};
use seamwright_model::procedure::{Settings, Technique};
use seamwright_model::stated::{NOT_APPLICABLE, OrNone, Stated};
use seamwright_page::SheetOptions;
use seamwright_page::block::{Block, Field};
use seamwright_page::words::label;
use seamwright_weld::{RunView, View};

use crate::kinds::words::{
    clauses, gas, joined_option, labels, plain_word, process_name, push_strip, strip_field, tungsten_words,
};
use crate::kinds::{joined, part, quantity, sold};

/// Clauses that ask a run's process for its settings.
pub(super) fn clauses_of(run: &RunView<'_>, view: &View<'_>, terms: Terms) -> Option<String> {
    if terms == Terms::Iso {
        return Some(settings_clauses(run.number())).filter(|text| !text.is_empty());
    }
    let keys = ["/processes/*/shielding_gas", "/processes/*/technique", "/processes/*/transfer_mode"];
    clauses(keys, view, terms)
}

/// Clauses of ISO 15609-1 that ask a process for its settings.
fn settings_clauses(process: &str) -> String {
    let asked = iso_15609_1::items_for(process).into_iter();
    let own = asked.filter(|item| item.keys.iter().any(|key| key.starts_with("settings.")));
    iso_15609_1::clauses_in_words(own.map(|item| item.clause))
}

fn technique_fields(technique: &Technique, options: SheetOptions) -> Vec<Option<Field>> {
    let SheetOptions { units, terms, .. } = options;
    let label = |key: &'static str| variables::term(key, terms);
    vec![
        strip_field(
            label("/processes/*/technique/bead"),
            joined_option([
                plain_word(technique.bead.as_ref(), options),
                quantity(technique.maximum_bead_width.as_ref(), units)
                    .map(|width| options.fill(label::TO_WIDE, &[("width", &width)])),
            ]),
        ),
        strip_field(
            label("/processes/*/technique/direction"),
            joined_option([
                plain_word(technique.direction.as_ref(), options),
                quantity(technique.travel_angle.as_ref(), units)
                    .map(|angle| label::ANGLE_TRAVEL_ANGLE.fill(&[("angle", &angle)])),
            ]),
        ),
        strip_field(label("/processes/*/technique/work_angle"), quantity(technique.work_angle.as_ref(), units)),
        strip_field(label("/processes/*/technique/filler_angle"), quantity(technique.filler_angle.as_ref(), units)),
        strip_field(label("/processes/*/technique/arc_length"), quantity(technique.arc_length.as_ref(), units)),
        strip_field(
            label("/processes/*/technique/oscillation_width"),
            joined_option([
                quantity(technique.oscillation_width.as_ref(), units),
                quantity(technique.oscillation_frequency.as_ref(), units),
                quantity(technique.oscillation_dwell.as_ref(), units),
            ]),
        ),
        strip_field(label("/processes/*/technique/interpass_cleaning"), technique.interpass_cleaning.as_deref()),
    ]
}

/// Everything that a block of settings states, but for what the run table shows.
fn settings_fields(settings: &Settings, options: SheetOptions) -> Vec<Option<Field>> {
    let SheetOptions { units, terms, .. } = options;
    let label = |key: &'static str| variables::term(key, terms);
    let tungsten = settings.tungsten.as_ref();
    let torch = settings.torch.as_ref();
    let shielding = settings.shielding_gas.as_ref().and_then(OrNone::value);
    let pulse = settings.pulse.as_ref();
    let mut fields =
        vec![strip_field(label("/processes/*/mechanization"), plain_word(settings.mechanization.as_ref(), options))];
    fields.extend([
        strip_field(
            label("/processes/*/tungsten"),
            tungsten.and_then(|t| {
                joined_option([
                    t.designation.as_deref().map(|name| tungsten_words(name, options)),
                    sold(t.diameter.as_ref(), units),
                ])
            }),
        ),
        strip_field(
            &labels(&["/processes/*/tungsten/included_angle", "/processes/*/tungsten/stickout"], options),
            tungsten.and_then(|t| {
                joined_option([
                    quantity(t.included_angle.as_ref(), units),
                    quantity(t.tip_flat.as_ref(), units).map(|flat| options.fill(label::FLAT, &[("size", &flat)])),
                    quantity(t.stickout.as_ref(), units),
                ])
            }),
        ),
        strip_field(
            label("/processes/*/torch"),
            torch.and_then(|t| {
                joined_option([
                    t.size.as_deref().map(|size| label::SIZE_SIZE.fill(&[("size", size)])),
                    t.cooling.map(|cooling| label::COOLING_COOLED.fill(&[("cooling", cooling.as_str())])),
                ])
            }),
        ),
        strip_field(
            label("/processes/*/torch/nozzle"),
            torch.and_then(|t| {
                joined_option([
                    t.nozzle.as_deref().map(Into::into),
                    t.gas_lens.map(|lens| String::from(if lens.0 { label::GAS_LENS } else { label::NO_GAS_LENS })),
                ])
            }),
        ),
        strip_field(label("/processes/*/shielding_gas"), part(settings.shielding_gas.as_ref(), |g| gas(g, options))),
        strip_field(
            &labels(&["/processes/*/shielding_gas/pre_flow", "/processes/*/shielding_gas/post_flow"], options),
            shielding.and_then(|g| {
                joined_option([quantity(g.pre_flow.as_ref(), units), quantity(g.post_flow.as_ref(), units)])
            }),
        ),
        strip_field(label("/processes/*/trailing_gas"), part(settings.trailing_gas.as_ref(), |g| gas(g, options))),
        strip_field(label("/processes/*/plasma_gas"), part(settings.plasma_gas.as_ref(), |g| gas(g, options))),
        strip_field(label("/processes/*/orifice"), quantity(settings.orifice.as_ref(), units)),
        strip_field(label("/processes/*/transfer_mode"), plain_word(settings.transfer_mode.as_ref(), options)),
        strip_field(label("/processes/*/contact_tip_to_work"), quantity(settings.contact_tip_to_work.as_ref(), units)),
        strip_field(label("/processes/*/arc_start"), plain_word(settings.arc_start.as_ref(), options)),
        strip_field(label("/processes/*/current_control"), plain_word(settings.current_control.as_ref(), options)),
        strip_field(
            label("/processes/*/pulse"),
            part(pulse, |p| {
                joined([
                    quantity(p.peak_current.as_ref(), units).map(|v| label::PEAK_VALUE.fill(&[("value", &v)])),
                    quantity(p.background_current.as_ref(), units)
                        .map(|v| label::BACKGROUND_VALUE.fill(&[("value", &v)])),
                    quantity(p.frequency.as_ref(), units),
                    quantity(p.peak_time.as_ref(), units).map(|v| label::PEAK_TIME_VALUE.fill(&[("value", &v)])),
                ])
            }),
        ),
        strip_field(
            label("/processes/*/ac"),
            settings.ac.as_ref().map(|ac| match ac {
                Stated::NotApplicable => NOT_APPLICABLE.to_owned(),
                Stated::Is(ac) => joined([
                    quantity(ac.frequency.as_ref(), units),
                    quantity(ac.electrode_negative.as_ref(), units)
                        .map(|v| label::ELECTRODE_NEGATIVE_VALUE.fill(&[("value", &v)])),
                ]),
            }),
        ),
        strip_field(
            &labels(&["/processes/*/up_slope", "/processes/*/down_slope"], options),
            joined_option([quantity(settings.up_slope.as_ref(), units), quantity(settings.down_slope.as_ref(), units)]),
        ),
        strip_field(label("/processes/*/arc_power"), quantity(settings.arc_power.as_ref(), units)),
        strip_field(label("/processes/*/run_out_length"), quantity(settings.run_out_length.as_ref(), units)),
        strip_field(label("/processes/*/deposit_thickness"), quantity(settings.deposit_thickness.as_ref(), units)),
        strip_field(label("/processes/*/run_thickness"), quantity(settings.run_thickness.as_ref(), units)),
        strip_field(label("/processes/*/heat_input"), quantity(settings.heat_input.as_ref(), units)),
        strip_field(label("/processes/*/inductance"), settings.inductance.as_deref()),
        strip_field(label("/processes/*/arc_force"), settings.arc_force.as_deref()),
        strip_field(
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
        strip_field(
            label("/processes/*/number_of_wires"),
            joined_option([
                settings.number_of_wires.as_deref().map(Into::into),
                quantity(settings.wire_spacing.as_ref(), units).map(|v| label::VALUE_APART.fill(&[("value", &v)])),
            ]),
        ),
    ]);
    if let Some(technique) = &settings.technique {
        fields.extend(technique_fields(technique, options));
    }
    fields
}

/// What a process states, with the filler that its first run uses.
pub(super) fn process_fields(view: &View<'_>, run: &RunView<'_>, options: SheetOptions) -> Vec<Option<Field>> {
    let SheetOptions { units, terms, .. } = options;
    let label = |key: &'static str| variables::term(key, terms);
    let mut fields = match run.block {
        Some((_, settings)) => settings_fields(settings, options),
        None => Vec::new(),
    };
    // Each filler of the process once, in the order of the runs.
    let mut named: Vec<&str> = Vec::new();
    for own in view.runs.iter().filter(|own| own.number() == run.number()) {
        let Some((at, filler)) = own.filler(view.procedure) else { continue };
        if named.contains(&at.value) {
            continue;
        }
        named.push(at.value);
        let diameter = sold(filler.diameter.as_ref(), units);
        let name = joined([Some(filler.designation.to_string()), diameter]);
        fields.insert(
            0,
            strip_field(
                label("/processes/*/filler"),
                Some(joined([
                    Some(name),
                    filler.make.as_deref().map(Into::into),
                    filler.batch.as_deref().map(|batch| label::BATCH_BATCH.fill(&[("batch", batch)])),
                ])),
            ),
        );
        let own = [
            ("/fillers/*/drying", filler.drying.as_deref().map(str::to_owned)),
            ("/fillers/*/holding", filler.holding.as_deref().map(str::to_owned)),
            ("/fillers/*/exposure", quantity(filler.exposure.as_ref(), units)),
        ];
        for (key, text) in own {
            let field = strip_field(label(key), text);
            let same = |own: &Option<Field>| {
                own.as_ref()
                    .zip(field.as_ref())
                    .is_some_and(|(own, new)| (&own.label, &own.value) == (&new.label, &new.value))
            };
            if !fields.iter().any(same) {
                fields.push(field);
            }
        }
    }
    fields
}

/// What single runs state beside the run table.
pub(super) fn own_settings(blocks: &mut Vec<Block>, view: &View<'_>, options: SheetOptions) {
    let label = |key: &'static str| variables::term(key, options.terms);
    // Runs that state the same stand together.
    let mut told: Vec<(String, &'static str, Vec<Option<Field>>)> = Vec::new();
    for run in &view.runs {
        let fields = settings_fields(&run.run.settings, options);
        if fields.iter().all(Option::is_none) {
            continue;
        }
        let said = |fields: &[Option<Field>]| -> Vec<(String, String)> {
            fields.iter().flatten().map(|field| (field.label.clone(), field.value.clone())).collect()
        };
        let same = |own: &&mut (String, &'static str, Vec<Option<Field>>)| {
            own.1 == run.number() && said(&own.2) == said(&fields)
        };
        match told.iter_mut().find(same) {
            Some((runs, ..)) => {
                runs.push_str(", ");
                runs.push_str(&run.run.run);
            }
            None => told.push((run.run.run.to_string(), run.number(), fields)),
        }
    }
    let mut all: Vec<Option<Field>> = Vec::new();
    for (runs, number, fields) in told {
        let of = format!("{} {runs}, {}", label("/runs/*/run").to_lowercase(), process_name(number, options.terms));
        let named = |field: Field| strip_field(&format!("{}, {of}", field.label), Some(field.value));
        all.extend(fields.into_iter().flatten().map(named));
    }
    push_strip(blocks, all);
}
