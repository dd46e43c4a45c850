//! What a process, and a run beside the run table, states.

use seamwright_handbook::iso_15609_1;
use seamwright_handbook::variables::{self, Terms};
use seamwright_model::procedure::{Key, Settings, ShieldingGas, keys};
use seamwright_model::quantity::{Quantity, Range};
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
    let keys = [keys::SHIELDING_GAS.of_process, keys::TECHNIQUE.of_process, keys::TRANSFER_MODE.of_process];
    clauses(keys, view, terms)
}

/// Clauses of ISO 15609-1 that ask a process for its settings.
fn settings_clauses(process: &str) -> String {
    let asked = iso_15609_1::items_for(process).into_iter();
    let own = asked.filter(|item| item.keys.iter().any(|key| keys::is_setting(key)));
    iso_15609_1::clauses_in_words(own.map(|item| item.clause))
}

/// Settings, and how they are printed.
#[derive(Clone, Copy)]
struct Stating<'s> {
    settings: &'s Settings,
    options: SheetOptions,
}

impl Stating<'_> {
    /// A quantity as it is printed.
    fn range<Q: Quantity>(self, key: &Key<Stated<Range<Q>>>) -> Option<String> {
        quantity(key.of(self.settings), self.options.units)
    }

    /// A word as it is printed.
    fn word<T: ToString>(self, key: &Key<Stated<T>>) -> Option<String> {
        plain_word(key.of(self.settings), self.options)
    }

    /// Text as it is printed.
    fn text(self, key: &Key<str>) -> Option<String> {
        key.of(self.settings).map(Into::into)
    }

    /// A gas as it is printed.
    fn gas(self, key: &Key<OrNone<ShieldingGas>>) -> Option<String> {
        part(key.of(self.settings), |own| gas(own, self.options))
    }

    /// A field under the name of a key.
    fn field<T: ?Sized>(self, key: &Key<T>, value: Option<String>) -> Option<Field> {
        strip_field(variables::term(key.of_process, self.options.terms), Some(value?))
    }

    /// A field under the names of two keys.
    fn both(self, keys: [&'static str; 2], value: Option<String>) -> Option<Field> {
        strip_field(&labels(&keys, self.options), Some(value?))
    }

    /// A field with what one key states.
    fn only<T: ?Sized>(self, key: &Key<T>, print: impl Fn(Self, &Key<T>) -> Option<String>) -> Option<Field> {
        self.field(key, print(self, key))
    }
}

fn technique_fields(own: Stating<'_>) -> Vec<Option<Field>> {
    let options = own.options;
    let width = own.range(&keys::MAXIMUM_BEAD_WIDTH);
    let angle = own.range(&keys::TRAVEL_ANGLE);
    vec![
        own.field(
            &keys::BEAD,
            joined_option([
                own.word(&keys::BEAD),
                width.map(|width| options.fill(label::TO_WIDE, &[("width", &width)])),
            ]),
        ),
        own.field(
            &keys::DIRECTION,
            joined_option([
                own.word(&keys::DIRECTION),
                angle.map(|angle| label::ANGLE_TRAVEL_ANGLE.fill(&[("angle", &angle)])),
            ]),
        ),
        own.only(&keys::WORK_ANGLE, Stating::range),
        own.only(&keys::FILLER_ANGLE, Stating::range),
        own.only(&keys::ARC_LENGTH, Stating::range),
        own.field(
            &keys::OSCILLATION_WIDTH,
            joined_option([
                own.range(&keys::OSCILLATION_WIDTH),
                own.range(&keys::OSCILLATION_FREQUENCY),
                own.range(&keys::OSCILLATION_DWELL),
            ]),
        ),
        own.only(&keys::INTERPASS_CLEANING, Stating::text),
    ]
}

/// Everything that a block of settings states, but for what the run table shows.
fn settings_fields(settings: &Settings, options: SheetOptions) -> Vec<Option<Field>> {
    let units = options.units;
    let own = Stating { settings, options };
    let flat = own.range(&keys::TUNGSTEN_TIP_FLAT);
    let spacing = own.range(&keys::WIRE_SPACING);
    let mut fields = vec![own.only(&keys::MECHANIZATION, Stating::word)];
    fields.extend([
        own.field(
            &keys::TUNGSTEN,
            joined_option([
                keys::TUNGSTEN_DESIGNATION.of(settings).map(|name| tungsten_words(name, options)),
                sold(keys::TUNGSTEN_DIAMETER.of(settings), units),
            ]),
        ),
        own.both(
            [keys::TUNGSTEN_INCLUDED_ANGLE.of_process, keys::TUNGSTEN_STICKOUT.of_process],
            joined_option([
                own.range(&keys::TUNGSTEN_INCLUDED_ANGLE),
                flat.map(|flat| options.fill(label::FLAT, &[("size", &flat)])),
                own.range(&keys::TUNGSTEN_STICKOUT),
            ]),
        ),
        own.field(
            &keys::TORCH,
            joined_option([
                keys::TORCH_SIZE.of(settings).map(|size| label::SIZE_SIZE.fill(&[("size", size)])),
                keys::TORCH_COOLING
                    .of(settings)
                    .map(|cooling| label::COOLING_COOLED.fill(&[("cooling", cooling.as_str())])),
            ]),
        ),
        own.field(
            &keys::TORCH_NOZZLE,
            joined_option([
                own.text(&keys::TORCH_NOZZLE),
                keys::TORCH_GAS_LENS
                    .of(settings)
                    .map(|lens| String::from(if lens.0 { label::GAS_LENS } else { label::NO_GAS_LENS })),
            ]),
        ),
        own.only(&keys::SHIELDING_GAS, Stating::gas),
        own.both(
            [keys::SHIELDING_GAS_PRE_FLOW.of_process, keys::SHIELDING_GAS_POST_FLOW.of_process],
            joined_option([own.range(&keys::SHIELDING_GAS_PRE_FLOW), own.range(&keys::SHIELDING_GAS_POST_FLOW)]),
        ),
        own.only(&keys::TRAILING_GAS, Stating::gas),
        own.only(&keys::PLASMA_GAS, Stating::gas),
        own.only(&keys::ORIFICE, Stating::range),
        own.only(&keys::TRANSFER_MODE, Stating::word),
        own.only(&keys::CONTACT_TIP_TO_WORK, Stating::range),
        own.only(&keys::ARC_START, Stating::word),
        own.only(&keys::CURRENT_CONTROL, Stating::word),
        own.field(
            &keys::PULSE,
            part(keys::PULSE.of(settings), |p| {
                joined([
                    quantity(p.peak_current.as_ref(), units).map(|v| label::PEAK_VALUE.fill(&[("value", &v)])),
                    quantity(p.background_current.as_ref(), units)
                        .map(|v| label::BACKGROUND_VALUE.fill(&[("value", &v)])),
                    quantity(p.frequency.as_ref(), units),
                    quantity(p.peak_time.as_ref(), units).map(|v| label::PEAK_TIME_VALUE.fill(&[("value", &v)])),
                ])
            }),
        ),
        own.field(
            &keys::AC,
            keys::AC.of(settings).map(|ac| match ac {
                Stated::NotApplicable => NOT_APPLICABLE.to_owned(),
                Stated::Is(ac) => joined([
                    quantity(ac.frequency.as_ref(), units),
                    quantity(ac.electrode_negative.as_ref(), units)
                        .map(|v| label::ELECTRODE_NEGATIVE_VALUE.fill(&[("value", &v)])),
                ]),
            }),
        ),
        own.both(
            [keys::UP_SLOPE.of_process, keys::DOWN_SLOPE.of_process],
            joined_option([own.range(&keys::UP_SLOPE), own.range(&keys::DOWN_SLOPE)]),
        ),
        own.only(&keys::ARC_POWER, Stating::range),
        own.only(&keys::RUN_OUT_LENGTH, Stating::range),
        own.only(&keys::DEPOSIT_THICKNESS, Stating::range),
        own.only(&keys::RUN_THICKNESS, Stating::range),
        own.only(&keys::HEAT_INPUT, Stating::range),
        own.only(&keys::INDUCTANCE, Stating::text),
        own.only(&keys::ARC_FORCE, Stating::text),
        own.field(
            &keys::FLUX,
            joined_option([
                own.text(&keys::FLUX_DESIGNATION),
                own.text(&keys::FLUX_MAKE),
                own.text(&keys::FLUX_DRYING),
                own.text(&keys::FLUX_RECYCLING),
            ]),
        ),
        own.field(
            &keys::NUMBER_OF_WIRES,
            joined_option([
                own.text(&keys::NUMBER_OF_WIRES),
                spacing.map(|v| label::VALUE_APART.fill(&[("value", &v)])),
            ]),
        ),
    ]);
    fields.extend(technique_fields(own));
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
                label(keys::FILLER.of_process),
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
