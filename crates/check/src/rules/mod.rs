//! The checks, one file each, and the list of them. To add one: copy a neighbour, and add its module and its line.
//!
//! What several checks need to find their limit stands here.

use seamwright_handbook::tungsten_current::CurrentType;
use seamwright_handbook::{
    Limits, Range, SourceRef, electrode_current, joint_preparations, nozzle_gas_flow, tungsten_current, tungsten_types,
};
use seamwright_model::finding::{Finding, Severity};
use seamwright_model::procedure::{Deviation, Joint, Polarity, Preparation};
use seamwright_model::quantity::{Current, Flow, Length, Quantity, Range as Stretch};
use seamwright_model::stated::Stated;

use crate::rule::{Examiner, Rule, outside, range_text};
use crate::view::{At, RunView, View};

mod ac_frequency_outside_range;
mod ac_settings_missing;
mod acceptance_missing;
mod active_gas_on_metal;
mod aluminium_without_filler;
mod approval_missing;
mod back_gouging_missing;
mod backing_contradiction;
mod backing_gas_flow_outside_usual;
mod backing_gas_missing;
pub(crate) mod base_metal_unknown;
mod bead_too_wide;
mod bounds;
mod cleaning_missing;
mod coating_not_removed;
mod code_does_not_cover_metal;
mod code_does_not_cover_thickness;
mod composition_not_of_steel;
mod contact_tip_too_far;
mod contact_tip_too_near;
mod contents;
mod cooling_time_outside_window;
mod cored_wire_current_outside_range;
mod cored_wire_feed_outside_range;
mod cored_wire_polarity_not_permitted;
mod cored_wire_position_not_permitted;
mod cored_wire_tip_distance_outside_range;
mod cored_wire_voltage_outside_range;
mod current_implausible;
mod date_in_future;
mod deviation_without_finding;
pub(crate) mod deviation_without_reason;
mod down_slope_missing;
mod electrode;
mod electrode_current_above_range;
mod electrode_current_below_range;
mod electrode_drying_missing;
mod electrode_negative_outside_range;
mod electrode_polarity_not_permitted;
mod electrode_position_not_permitted;
mod electrode_too_large_for_position;
mod examination_extent_impossible;
mod filler_angle_outside_usual;
mod filler_carbon_above_grade;
mod filler_diameter_not_made;
pub(crate) mod filler_undeclared;
pub(crate) mod filler_unknown;
mod filler_unsuited_to_metal;
mod filler_unusual_for_metal;
mod fillet_leg_too_large;
mod fillet_leg_too_small;
mod flux_missing;
mod gas_composition_incomplete;
mod gas_flow_too_high;
mod gas_flow_too_low;
mod gas_for_self_shielded_wire;
mod gas_not_of_wire_class;
mod heat_input_contradiction;
mod heat_input_too_high;
mod heat_input_too_low;
mod heat_treatment_harms_metal;
mod heat_treatment_missing;
mod heat_treatment_temperature_unusual;
mod included_angle_outside_usual;
mod interpass_above_usual;
mod interpass_below_least;
mod interpass_below_preheat;
mod interpass_missing;
mod joints;
pub(crate) mod key_of_another_process;
mod low_hydrogen_electrode_downhill;
mod metal_not_for_fusion;
mod metals;
mod nozzle_too_small_for_tungsten;
mod outside_diameter_impossible;
mod pedal_with_fixed_current;
mod penetration_depth_missing;
mod pipe_position_on_plate;
mod polarity_wrong_for_metal;
pub(crate) mod position_not_of_weld;
mod post_flow_too_long;
mod post_flow_too_short;
mod pre_flow_too_short;
mod preheat_below_needed;
mod preheat_too_high;
mod preparation_not_of_weld;
mod preparation_unusual_for_thickness;
pub(crate) mod process_unknown;
mod pulse_background_current_outside_range;
mod pulse_background_not_below_peak;
mod pulse_frequency_implausible;
mod pulse_frequency_outside_range;
mod pulse_peak_current_outside_range;
mod pulse_peak_time_implausible;
mod purge_oxygen_too_high;
mod purge_time_outside_usual;
mod qualification_level_unknown;
mod range_too_wide;
mod revision_dates_out_of_order;
mod revision_history_mismatch;
mod rod_unusual_for_current;
mod root_face_outside_usual;
mod root_gap_outside_usual;
mod root_gas_unsuited_to_metal;
mod root_run_missing;
mod route_not_open_to_process;
pub(crate) mod run_numbers_overlap;
pub(crate) mod runs_missing;
mod runs_overfill_joint;
mod runs_underfill_joint;
mod scratch_start_unsuited;
mod shielding_gas_missing;
mod shielding_gas_not_inert;
mod short_circuit_on_thick_plate;
mod single_pass_wire_in_several_runs;
mod single_v_where_double_v_usual;
mod slope_outside_usual;
mod spray_below_transition;
mod spray_out_of_position;
mod spray_with_too_little_argon;
mod square_preparation_too_thick;
mod stickout_too_long;
mod tack_welds_missing;
mod test_record_missing;
mod thickness_outside_process;
mod thoriated_tungsten;
mod throat_contradicts_leg;
mod torch_current_above_rating;
mod torch_direction_unusual;
mod torch_size_unknown;
mod trailing_gas_missing;
mod travel_angle_outside_usual;
mod travel_speed_implausible;
mod tungsten_current_above_range;
mod tungsten_current_below_range;
mod tungsten_diameter_not_made;
mod tungsten_tip_outside_usual;
mod tungsten_unsuited_to_current;
mod vertical_without_progression;
mod voltage_outside_range;
mod weld_metal_undermatching;
mod weld_size_missing;
mod wire;
mod wire_current_above_range;
mod wire_current_below_range;
mod wire_feed_above_range;
mod wire_feed_below_range;
mod wire_feed_contradicts_current;
mod wire_form_not_of_process;
mod wire_gas_flow_outside_range;
mod wire_polarity_wrong;
mod wire_voltage_above_range;
mod wire_voltage_below_range;
mod work_angle_outside_usual;

/// Every check, by name.
pub const RULES: &[&Rule] = &[
    &ac_frequency_outside_range::RULE,
    &ac_settings_missing::RULE,
    &acceptance_missing::RULE,
    &active_gas_on_metal::RULE,
    &aluminium_without_filler::RULE,
    &approval_missing::RULE,
    &back_gouging_missing::RULE,
    &backing_contradiction::RULE,
    &backing_gas_flow_outside_usual::RULE,
    &backing_gas_missing::RULE,
    &base_metal_unknown::RULE,
    &bead_too_wide::RULE,
    &cleaning_missing::RULE,
    &coating_not_removed::RULE,
    &code_does_not_cover_metal::RULE,
    &code_does_not_cover_thickness::RULE,
    &composition_not_of_steel::RULE,
    &contact_tip_too_far::RULE,
    &contact_tip_too_near::RULE,
    &cooling_time_outside_window::RULE,
    &cored_wire_current_outside_range::RULE,
    &cored_wire_feed_outside_range::RULE,
    &cored_wire_polarity_not_permitted::RULE,
    &cored_wire_position_not_permitted::RULE,
    &cored_wire_tip_distance_outside_range::RULE,
    &cored_wire_voltage_outside_range::RULE,
    &current_implausible::RULE,
    &date_in_future::RULE,
    &deviation_without_finding::RULE,
    &deviation_without_reason::RULE,
    &down_slope_missing::RULE,
    &electrode_current_above_range::RULE,
    &electrode_current_below_range::RULE,
    &electrode_drying_missing::RULE,
    &electrode_negative_outside_range::RULE,
    &electrode_polarity_not_permitted::RULE,
    &electrode_position_not_permitted::RULE,
    &electrode_too_large_for_position::RULE,
    &examination_extent_impossible::RULE,
    &filler_angle_outside_usual::RULE,
    &filler_carbon_above_grade::RULE,
    &filler_diameter_not_made::RULE,
    &filler_undeclared::RULE,
    &filler_unknown::RULE,
    &filler_unsuited_to_metal::RULE,
    &filler_unusual_for_metal::RULE,
    &fillet_leg_too_large::RULE,
    &fillet_leg_too_small::RULE,
    &flux_missing::RULE,
    &gas_composition_incomplete::RULE,
    &gas_flow_too_high::RULE,
    &gas_flow_too_low::RULE,
    &gas_for_self_shielded_wire::RULE,
    &gas_not_of_wire_class::RULE,
    &heat_input_contradiction::RULE,
    &heat_input_too_high::RULE,
    &heat_input_too_low::RULE,
    &heat_treatment_harms_metal::RULE,
    &heat_treatment_missing::RULE,
    &heat_treatment_temperature_unusual::RULE,
    &included_angle_outside_usual::RULE,
    &interpass_above_usual::RULE,
    &interpass_below_least::RULE,
    &interpass_below_preheat::RULE,
    &interpass_missing::RULE,
    &key_of_another_process::RULE,
    &low_hydrogen_electrode_downhill::RULE,
    &metal_not_for_fusion::RULE,
    &nozzle_too_small_for_tungsten::RULE,
    &outside_diameter_impossible::RULE,
    &pedal_with_fixed_current::RULE,
    &penetration_depth_missing::RULE,
    &pipe_position_on_plate::RULE,
    &polarity_wrong_for_metal::RULE,
    &position_not_of_weld::RULE,
    &post_flow_too_long::RULE,
    &post_flow_too_short::RULE,
    &pre_flow_too_short::RULE,
    &preheat_below_needed::RULE,
    &preheat_too_high::RULE,
    &preparation_not_of_weld::RULE,
    &preparation_unusual_for_thickness::RULE,
    &process_unknown::RULE,
    &pulse_background_current_outside_range::RULE,
    &pulse_background_not_below_peak::RULE,
    &pulse_frequency_implausible::RULE,
    &pulse_frequency_outside_range::RULE,
    &pulse_peak_current_outside_range::RULE,
    &pulse_peak_time_implausible::RULE,
    &purge_oxygen_too_high::RULE,
    &purge_time_outside_usual::RULE,
    &qualification_level_unknown::RULE,
    &range_too_wide::RULE,
    &revision_dates_out_of_order::RULE,
    &revision_history_mismatch::RULE,
    &rod_unusual_for_current::RULE,
    &root_face_outside_usual::RULE,
    &root_gap_outside_usual::RULE,
    &root_gas_unsuited_to_metal::RULE,
    &root_run_missing::RULE,
    &route_not_open_to_process::RULE,
    &run_numbers_overlap::RULE,
    &runs_missing::RULE,
    &runs_overfill_joint::RULE,
    &runs_underfill_joint::RULE,
    &scratch_start_unsuited::RULE,
    &shielding_gas_missing::RULE,
    &shielding_gas_not_inert::RULE,
    &short_circuit_on_thick_plate::RULE,
    &single_pass_wire_in_several_runs::RULE,
    &single_v_where_double_v_usual::RULE,
    &slope_outside_usual::RULE,
    &spray_below_transition::RULE,
    &spray_out_of_position::RULE,
    &spray_with_too_little_argon::RULE,
    &square_preparation_too_thick::RULE,
    &stickout_too_long::RULE,
    &tack_welds_missing::RULE,
    &test_record_missing::RULE,
    &thickness_outside_process::RULE,
    &thoriated_tungsten::RULE,
    &throat_contradicts_leg::RULE,
    &torch_current_above_rating::RULE,
    &torch_direction_unusual::RULE,
    &torch_size_unknown::RULE,
    &trailing_gas_missing::RULE,
    &travel_angle_outside_usual::RULE,
    &travel_speed_implausible::RULE,
    &tungsten_current_above_range::RULE,
    &tungsten_current_below_range::RULE,
    &tungsten_diameter_not_made::RULE,
    &tungsten_tip_outside_usual::RULE,
    &tungsten_unsuited_to_current::RULE,
    &vertical_without_progression::RULE,
    &voltage_outside_range::RULE,
    &weld_metal_undermatching::RULE,
    &weld_size_missing::RULE,
    &wire_current_above_range::RULE,
    &wire_current_below_range::RULE,
    &wire_feed_above_range::RULE,
    &wire_feed_below_range::RULE,
    &wire_feed_contradicts_current::RULE,
    &wire_form_not_of_process::RULE,
    &wire_gas_flow_outside_range::RULE,
    &wire_polarity_wrong::RULE,
    &wire_voltage_above_range::RULE,
    &wire_voltage_below_range::RULE,
    &work_angle_outside_usual::RULE,
];

/// Deviations that cover no finding.
pub(crate) fn deviation_faults(
    deviations: &[Deviation],
    covered: &[(Finding, Deviation)],
    findings: &mut Vec<Finding>,
) {
    for (index, deviation) in deviations.iter().enumerate() {
        if deviation.reason.is_some() && !covered.iter().any(|(_, used)| used == deviation) {
            let known = crate::explain(&deviation.check).is_ok();
            findings.push(Finding {
                check: deviation_without_finding::RULE.name,
                severity: Severity::Error,
                message: if known {
                    format!("the deviation from `{}` matches no finding", deviation.check)
                } else {
                    format!("the deviation names `{}`, which is no check", deviation.check)
                },
                pointer: format!("/deviations/{index}"),
                stated: Some(deviation.check.to_string()),
                limit: None,
                source: None,
                hint: Some("take it out, or mend its `check` and `at`".to_owned()),
            });
        }
    }
}

/// The tungsten's designation.
fn tungsten_designation<'d>(run: &RunView<'d>) -> Option<At<'d, str>> {
    run.setting("tungsten/designation", |s| s.tungsten.as_ref().and_then(|t| t.designation.as_deref()))
}

/// The tungsten's diameter, mm.
fn tungsten_diameter(run: &RunView<'_>) -> Option<f64> {
    let at = run.quantity("tungsten/diameter", |s| s.tungsten.as_ref().and_then(|t| t.diameter.as_ref()))?;
    at.value.middle().map(Length::mm)
}

/// Electrode group and current type of a run with a tungsten electrode.
fn tungsten_kind(run: &RunView<'_>) -> Option<(tungsten_types::Group, CurrentType)> {
    let group = tungsten_designation(run)
        .and_then(|named| tungsten_types::get(named.value))
        .map_or(tungsten_types::Group::Oxide, |row| row.group);
    let polarity = run.setting("polarity", |s| s.polarity.as_ref().and_then(Stated::value))?;
    Some((
        group,
        match polarity.value {
            Polarity::Dcen => CurrentType::Dcen,
            Polarity::Dcep => CurrentType::Dcep,
            Polarity::Ac => CurrentType::Ac,
        },
    ))
}

/// The current of a run and the limits of its tungsten electrode.
fn tungsten_limits<'d>(run: &RunView<'d>) -> Option<(At<'d, Stretch<Current>>, Limits)> {
    let (group, kind) = tungsten_kind(run)?;
    let limits = tungsten_current::range(group, kind, tungsten_diameter(run)?)?;
    Some((run.quantity("current", |s| s.current.as_ref())?, limits))
}

/// What electrode to write for a current, A.
fn tungsten_hint(run: &RunView<'_>, amperes: Option<f64>) -> String {
    let fitting = tungsten_kind(run)
        .zip(amperes)
        .map(|((group, kind), amperes)| tungsten_current::diameters_for(group, kind, amperes))
        .unwrap_or_default();
    if fitting.is_empty() {
        "change the current".to_owned()
    } else {
        let list: Vec<String> = fitting.iter().map(|diameter| format!("{diameter} mm")).collect();
        format!("electrodes for this current: {}", list.join(", "))
    }
}

/// The gas flow of a run and the limits of its nozzle, L/min; a gas with helium needs more.
fn flow_limits<'d>(run: &RunView<'d>) -> Option<(At<'d, Stretch<Flow>>, Limits)> {
    if !run.process?.uses_tungsten {
        return None;
    }
    let flow = run.quantity("shielding_gas/flow", |s| {
        s.shielding_gas.as_ref().and_then(|gas| gas.value()).and_then(|gas| gas.flow.as_ref())
    })?;
    let (_, number, _) = run.nozzle()?;
    let mut limits = nozzle_gas_flow::range(number?, run.gas_lens())?;
    let helium = run
        .gas()
        .and_then(|gas| gas.value.composition.as_ref().map(|parts| parts.percent("He") / 100.0))
        .or_else(|| run.gas_row().and_then(|row| row.he_pct).map(|range| range.middle() / 100.0))
        .unwrap_or(0.0);
    if let Some(rule) = nozzle_gas_flow::rule("helium-over-argon").filter(|_| helium > 0.0) {
        let times = Range::new(1.0 + helium * (rule.value.low - 1.0), 1.0 + helium * (rule.value.high - 1.0));
        for range in std::iter::once(&mut limits.envelope).chain(&mut limits.usual) {
            *range = Range::new(range.low * times.low, range.high * times.high);
        }
    }
    Some((flow, limits))
}

/// Which end of a range a check looks at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Side {
    Low,
    High,
}

/// Holds one end of the gas flow of every run against its nozzle: past every source an error, past the usual a note.
fn gas_flow(x: &mut Examiner<'_>, side: Side) {
    for run in &x.view.runs {
        let Some((flow, limits)) = flow_limits(run) else { continue };
        let (envelope, usual) = (limits.envelope, limits.usual.unwrap_or(limits.envelope));
        let (low, high) = (flow.value.low().map(Flow::l_per_min), flow.value.high().map(Flow::l_per_min));
        let (ends, word) = match side {
            Side::Low => ((low, None), "low"),
            Side::High => ((None, high), "high"),
        };
        let unusual = outside(ends, usual);
        let stated = flow.value.spelled();
        let outer = x.compare(&flow.pointer, stated, ends, envelope, "L/min", &limits.source);
        let (severity, limit) = if outer.below || outer.above {
            (Severity::Error, range_text(envelope, "L/min"))
        } else if unusual.below || unusual.above {
            (Severity::Note, range_text(usual, "L/min"))
        } else {
            continue;
        };
        x.report(severity, &flow.pointer, format!("gas flow {stated} is too {word} for the nozzle ({limit})"))
            .stated(stated)
            .limit(limit, &limits.source)
            .hint(format!("write a flow within {}, or change the nozzle", range_text(usual, "L/min")));
    }
}

/// Current, limits and class of a run with a covered electrode.
fn electrode_limits<'d>(view: &View<'d>, run: &RunView<'d>) -> Option<(At<'d, Stretch<Current>>, Limits, &'d str)> {
    if run.number() != "111" {
        return None;
    }
    let (_, filler) = run.filler(view.procedure)?;
    let diameter = filler.diameter.as_ref()?.value()?.middle()?.mm();
    let limits = electrode_current::range(&filler.designation, diameter)?;
    Some((run.quantity("current", |s| s.current.as_ref())?, limits, &filler.designation))
}

/// Every position that the document states, with its pointer.
fn positions<'d>(view: &View<'d>) -> Vec<(String, &'d str)> {
    let own = view.procedure.positions.iter().enumerate().map(|(index, text)| (format!("/positions/{index}"), &**text));
    let runs = view.procedure.runs.iter().enumerate().flat_map(|(run, stated)| {
        stated
            .positions
            .iter()
            .enumerate()
            .map(move |(index, text)| (format!("/runs/{run}/positions/{index}"), &**text))
    });
    own.chain(runs).collect()
}

/// The kinds of groove in the handbook that a preparation may be.
fn kind_words(shape: Preparation) -> &'static [&'static str] {
    match shape {
        Preparation::Square => &["square"],
        Preparation::SingleV => &["V", "V with broad root face"],
        Preparation::DoubleV => &["double V", "double V with broad root face"],
        Preparation::SingleBevel => &["bevel"],
        Preparation::DoubleBevel => &["double bevel"],
        Preparation::SingleU => &["U"],
        Preparation::DoubleU => &["double U"],
        Preparation::SingleJ => &["J"],
        // The standard has no row for a double J: the single one serves.
        Preparation::DoubleJ => &["J"],
    }
}

/// What is usual for a measure of the preparation, and beyond what it is no preparation of that kind.
struct PreparationLimits {
    usual: Range,
    farthest: f64,
    source: SourceRef,
}

/// The limits of a measure: the hull of the handbook's rows for the kind of preparation.
fn preparation_limits(
    view: &View<'_>,
    measure: impl Fn(&joint_preparations::Row, f64) -> Option<Range>,
) -> Option<PreparationLimits> {
    let joint = view.procedure.joint.as_ref()?;
    let shape = *joint.preparation.as_ref().and_then(Stated::value)?;
    let thickness = view.thickness_mm()?;
    let rows = joint_preparations::rows().iter().filter(|row| kind_words(shape).contains(&row.kind.as_str()));
    let (usual, source) = rows
        .filter_map(|row| Some((measure(row, thickness)?, row.origin.source_ref())))
        .reduce(|(hull, source), (range, _)| (hull.hull(range), source))?;
    let farthest = joint_preparations::rule("farthest")?.value.high * usual.high;
    Some(PreparationLimits { usual, farthest, source })
}

/// Holds a measure of a prepared groove against what is usual: outside is a caution, past the farthest an error.
fn preparation<Q: Quantity>(
    x: &mut Examiner<'_>,
    (key, name, unit): (&str, &str, &str),
    stated: impl Fn(&Joint) -> Option<&Stated<Stretch<Q>>>,
    ends: impl Fn(&Stretch<Q>) -> (Option<f64>, Option<f64>),
    measure: impl Fn(&joint_preparations::Row, f64) -> Option<Range>,
) {
    if !x.view.weld().is_some_and(|weld| weld.has_groove()) {
        return;
    }
    let view = x.view;
    let Some(range) = view.procedure.joint.as_ref().and_then(stated).and_then(Stated::value) else { return };
    let Some(limits) = preparation_limits(view, measure) else { return };
    let pointer = format!("/joint/{key}");
    let (low, high) = ends(range);
    let outer = x.compare(&pointer, range.spelled(), (low, high), limits.usual, unit, &limits.source);
    if outer.below || outer.above {
        let far = low.is_some_and(|low| low < 0.0) || high.is_some_and(|high| high > limits.farthest);
        let usual = range_text(limits.usual, unit);
        x.report(
            if far { Severity::Error } else { Severity::Caution },
            pointer,
            format!("{name} {} lies outside the usual range ({usual})", range.spelled()),
        )
        .stated(range.spelled())
        .limit(usual.clone(), &limits.source)
        .hint(format!("write a value within {usual}"));
    }
}

/// The gap of a row at a thickness, mm.
fn gap_of(row: &joint_preparations::Row, thickness_mm: f64) -> Option<Range> {
    row.gap_mm.or_else(|| row.gap_thicknesses.map(|share| Range::new(0.0, share * thickness_mm)))
}

/// The stated angle of a row, degrees: two flanks make the included angle of a U.
fn angle_of(row: &joint_preparations::Row, _: f64) -> Option<Range> {
    let range = row.angle_deg?;
    let about = joint_preparations::rule("angle-about")?.value;
    let flanks = if row.angle_of.as_deref() == Some("flank") && row.kind.ends_with('U') { 2.0 } else { 1.0 };
    Some(Range::new(flanks * range.low * about.low, flanks * range.high * about.high))
}
