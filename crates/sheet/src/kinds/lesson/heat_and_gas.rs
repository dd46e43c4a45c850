//! The steps of a set-up that keep the weld warm, its root and hot bead from the air, and its arc under flux.

use seamwright_handbook::workshop;
use seamwright_model::procedure::{ShieldingGas, keys};
use seamwright_model::quantity::{Range, Temperature};
use seamwright_model::stated::{OrNone, Stated};
use seamwright_page::SheetOptions;
use seamwright_page::words::label;
use seamwright_weld::{RunView, View, consumption};

use crate::kinds::setup::any_gas_in_short;
use crate::kinds::words::joined_option;
use crate::kinds::{joined, quantity};

/// Preheating before the arc: how hot, how that is measured, and that the plate is hot from then on.
pub(super) fn preheat(view: &View<'_>, options: SheetOptions) -> Vec<String> {
    let own = view.procedure.temperatures.as_ref().and_then(|own| own.preheating.as_ref());
    let conditions = view
        .procedure
        .conditions
        .iter()
        .filter_map(|(name, condition)| Some((name, condition.temperatures.as_ref()?.preheating.as_ref()?)));
    let conditions: Vec<(&str, &Stated<Range<Temperature>>)> = conditions.collect();
    let all = own.into_iter().chain(conditions.iter().map(|(_, stated)| *stated));
    let tongs = workshop::HOT_TO_TOUCH.value.low;
    let least = all.filter_map(|stated| stated.value()?.low()).map(Temperature::celsius);
    let hot = least.fold(f64::NEG_INFINITY, f64::max) >= tongs;
    let value = if conditions.is_empty() {
        quantity(own, options)
    } else {
        let each = conditions
            .iter()
            .filter_map(|(name, stated)| Some(format!("{name}: {}", quantity(Some(*stated), options)?)));
        Some(each.collect::<Vec<_>>().join("; ")).filter(|said| !said.is_empty())
    };
    let Some(value) = value else { return Vec::new() };
    if !hot {
        return vec![options.fill(label::PLATE_WARM_ENOUGH, &[("value", &value)])];
    }
    let stated = view.procedure.temperatures.as_ref().and_then(|own| own.measurement.as_deref());
    let how = stated.map_or_else(
        || options.say(label::CHECK_THE_HEAT).into_owned(),
        |how| options.fill(label::MEASURE_THE_HEAT, &[("how", how)]),
    );
    vec![
        options.fill(label::PREHEAT_TO, &[("value", &value), ("how", &how)]),
        options.say(label::HOT_BEFORE_THE_ARC).into_owned(),
    ]
}

/// What holds between the runs of a joint: the temperature, the heat that is kept, the time that may pass.
pub(super) fn between_runs(view: &View<'_>, options: SheetOptions) -> Option<String> {
    let runs = consumption::counted(view).map(|(_, count)| count).fold(0, u32::saturating_add);
    let own = view.procedure.temperatures.as_ref().filter(|_| runs > 1)?;
    let kept = quantity(own.preheat_maintenance.as_ref(), options)
        .map(|value| format!("{} {value}", options.low("/temperatures/preheat_maintenance")));
    let value = joined_option([quantity(own.interpass.as_ref(), options), kept])?;
    Some(options.fill(label::HOLD_BETWEEN_RUNS, &[("value", &value)]))
}

/// Keeping the air from the root: dams or a box, purging before the arc, and how long the gas is kept.
pub(super) fn purge(view: &View<'_>, options: SheetOptions) -> Vec<String> {
    let Some(gas) = view.procedure.backing_gas.as_ref().and_then(OrNone::value) else { return Vec::new() };
    let name = joined([
        any_gas_in_short(gas.designation.as_deref(), gas.composition.as_ref(), options),
        quantity(gas.flow.as_ref(), options),
    ]);
    let hollow = view.procedure.parent_metals.iter().any(|metal| metal.outside_diameter.is_some());
    let set = if hollow { label::DAM_THE_PIPE } else { label::BOX_THE_ROOT };
    let mut steps = vec![options.fill(set, &[("gas", &name)])];
    let oxygen =
        quantity(gas.oxygen.as_ref(), options).map(|oxygen| format!("{} {oxygen}", options.low("/backing_gas/oxygen")));
    if let Some(until) = joined_option([quantity(gas.purge_time.as_ref(), options), oxygen]) {
        steps.push(options.fill(label::PURGE_FIRST, &[("until", &until)]));
    }
    steps.push(match gas.maintained_until.as_deref() {
        Some(until) => options.fill(label::KEEP_THE_PURGE_UNTIL, &[("until", until)]),
        None => options.say(label::KEEP_THE_PURGE).into_owned(),
    });
    steps
}

/// The shield that follows the torch over the hot bead.
pub(super) fn trailing(run: &RunView<'_>, options: SheetOptions) -> Option<String> {
    let gas = run.part(&keys::TRAILING_GAS)?.value;
    Some(options.fill(label::FIT_THE_TRAILING_SHIELD, &[("gas", &named(gas, options))]))
}

/// Name and flow of a gas.
fn named(gas: &ShieldingGas, options: SheetOptions) -> String {
    joined([
        any_gas_in_short(gas.designation.as_deref(), gas.composition.as_ref(), options),
        quantity(gas.flow.as_ref(), options),
        quantity(gas.post_flow.as_ref(), options)
            .map(|time| format!("{} {time}", options.low(keys::TRAILING_GAS_POST_FLOW.of_process))),
    ])
}

/// The flux, dried and in the hopper.
pub(super) fn flux(run: &RunView<'_>, options: SheetOptions) -> Option<String> {
    let flux = run.setting(&keys::FLUX)?.value;
    let name = joined_option([
        flux.designation.as_deref().map(Into::into),
        flux.drying.as_deref().map(|how| options.fill(label::DRIED, &[("how", how)])),
    ])?;
    Some(options.fill(label::FILL_THE_HOPPER, &[("name", &name)]))
}

/// Taking up the flux that did not melt.
pub(super) fn recover_flux(run: &RunView<'_>, options: SheetOptions) -> String {
    let how = run.setting(&keys::FLUX).and_then(|at| at.value.recycling.as_deref());
    let how = how.map(|how| format!(": {how}")).unwrap_or_default();
    options.fill(label::RECOVER_THE_FLUX, &[("how", &how)])
}
