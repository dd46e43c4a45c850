//! Whatever is put in, a formula gives a finite result or refuses: no panic, no NaN, no infinity.

use proptest::num::f64::ANY;
use proptest::prelude::*;
use seamwright_calc::composition::Element;
use seamwright_calc::cooling_time::{Plate, ShapeFactors};
use seamwright_calc::deposition::{self, Loss, Rod};
use seamwright_calc::ferrite::{self, DiagramWindow, Dilution, Equivalents};
use seamwright_calc::fillet::{self, Fillet};
use seamwright_calc::flare::Flare;
use seamwright_calc::fusion;
use seamwright_calc::gas::{self, GasUse};
use seamwright_calc::groove::bow_area_mm2;
use seamwright_calc::preheat::{self, MethodB};
use seamwright_calc::shrinkage;
use seamwright_calc::time_cost::{self, Amounts, ArcTimes, Mains, Rates};
use seamwright_calc::{
    Band, Composition, Groove, Preparation, carbon_equivalent, duty_cycle, hardness, heat_input, strength, weld_metal,
};

/// Values of every kind: usual ones, nothing, the extremes of the type, infinities, NaN.
fn value() -> impl Strategy<Value = f64> {
    prop_oneof![
        4 => 1e-3..1e3,
        1 => -1e3..1e3,
        1 => ANY,
        1 => prop::sample::select(vec![
            0.0, -0.0, 1.0, 100.0, 499.999_999, 500.0, 1e-308, 1e308, f64::MAX, f64::MIN_POSITIVE, 5e-324,
            f64::INFINITY, f64::NEG_INFINITY, f64::NAN,
        ]),
    ]
}

fn values() -> impl Strategy<Value = [f64; 8]> {
    prop::array::uniform8(value())
}

macro_rules! finite {
    ($($name:literal: $outcome:expr),* $(,)?) => {
        $(
            if let Ok(value) = $outcome {
                prop_assert!(value.is_finite(), "{} gives {value}", $name);
            }
        )*
    };
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(4000))]

    #[test]
    fn numbers_are_finite_or_refused([a, b, c, d, e, f, g, h] in values()) {
        finite! {
            "flare": Flare { round: 2, radius_mm: a, depth_mm: b, root_gap_mm: c }.area_mm2(),
            "arc energy": heat_input::arc_energy_kj_mm(a, b, c),
            "arc energy by power": heat_input::arc_energy_from_power_kj_mm(a, b),
            "arc energy by energy": heat_input::arc_energy_from_energy_kj_mm(a, b),
            "heat input": heat_input::heat_input_kj_mm(a, b),
            "bead ratio": heat_input::bead_length_ratio(a, b),
            "combined thickness": preheat::combined_thickness_mm(&[a, b, c], true),
            "susceptibility": preheat::susceptibility_index(a, b),
            "bow": bow_area_mm2(a, b),
            "leg": fillet::leg_from_throat_mm(a),
            "throat": fillet::throat_from_leg_mm(a),
            "volume": weld_metal::volume_cm3(a, b),
            "mass": weld_metal::mass_kg(a, b, c),
            "dilution": weld_metal::dilution(a, b),
            "wire area": deposition::wire_area_mm2(a),
            "deposited area by rate": deposition::deposited_area_from_rate_mm2(a, b, c),
            "deposition rate": deposition::deposition_rate_kg_h(a, b, c, d),
            "stub": deposition::stub_loss(a, b),
            "filler": deposition::filler_mass_kg(a, Loss::EfficiencyAndStub { efficiency: b, stub_loss: c }),
            "flow time": gas::flow_time_h(a, b),
            "contents": gas::cylinder_contents_l(a, b, c),
            "pipe": gas::pipe_volume_l(a, b),
            "purge time": gas::purge_time_min(a, b, c),
            "changes": gas::volume_changes_for_oxygen(a, b),
            "current": duty_cycle::current_at_duty_cycle_a(a, b, c),
            "arc time by travel": time_cost::arc_time_by_travel_min(a, b, c),
            "arc time by rate": time_cost::arc_time_by_rate_min(a, b),
            "working time": time_cost::working_time_min(a, b),
            "heat ratio": fusion::heat_ratio(a, b, c, d),
            "least power": fusion::Strip {
                thickness_mm: a, width_mm: b, heat_j_mm3: c, conductivity_w_mm_k: d, rise_k: a,
            }.least_power_w(b),
            "transverse": shrinkage::transverse_butt_mm(a, b, c),
            "angular": shrinkage::angular_fillet_mm(a, b, c),
            "allowable": strength::allowable_load_n_mm(a, b),
            "load": strength::load_kn(a, b),
        }
        if let Ok(duty) = duty_cycle::duty_cycle(a, b, c) {
            prop_assert!((0.0..=100.0).contains(&duty.duty_cycle_pct) && duty.rest_minutes_in_ten >= 0.0);
        }
        if let Ok(times) = ArcTimes::new(a, b) {
            prop_assert!(times.disagreement_pct.is_finite());
        }
        let used = GasUse { flow_l_min: a, arc_time_min: b, starts: c, pre_flow_s: d, post_flow_s: e };
        let mains = Mains {
            voltage_v: a, current_a: b, arc_time_min: c, working_time_min: d, source_efficiency: e, idle_power_kw: f,
        };
        let amounts = Amounts { working_time_h: a, filler_kg: b, gas_m3: c, flux_kg: d, energy_kwh: e };
        let rates =
            Rates { labour_per_h: f, filler_per_kg: g, gas_per_m3: h, flux_per_kg: a, energy_per_kwh: b };
        finite! {
            "gas": used.gas_l(),
            "energy": mains.energy_kwh(),
            "cost": amounts.cost(&rates).map(|cost| cost.total),
        }
        // Counts are whole numbers or refused.
        let _: [Result<u64, _>; 5] = [
            weld_metal::runs_needed(a, b),
            deposition::electrodes_needed(a, b),
            deposition::spools_needed(a, b),
            gas::cylinders_needed(a, b),
            Rod { diameter_mm: a, length_mm: b, stub_mm: c, density_kg_m3: d }.needed(e, f),
        ];
    }

    #[test]
    fn steel_is_finite_or_refused([a, b, c, d, e, f, g, h] in values()) {
        let case = MethodB { cet_pct: a, thickness_mm: b, hydrogen_ml_100g: c, heat_input_kj_mm: d };
        finite! {
            "preheat": case.preheat().map(|found| found.temperature_c),
        }
        let whole = Band::new(0.0, 100.0);
        let window = DiagramWindow { chromium_pct: whole, nickel_pct: whole };
        let plate = Plate { thickness_mm: a, preheat_c: b, shape: ShapeFactors { f2: c, f3: d } };
        finite! {
            "cooling time": plate.cooling_time(e).map(|cooling| cooling.time_s + cooling.transition_thickness_mm),
            "heat for a time": plate.heat_input_for_kj_mm(f),
        }
        let elements = [Element::C, Element::Mn, Element::Cr, Element::B, Element::N, Element::Mo];
        if let Ok(steel) = Composition::new(elements.into_iter().zip([a, b, c, d, e, f])) {
            for equivalent in [
                carbon_equivalent::ce_iiw_pct(&steel),
                carbon_equivalent::cet_pct(&steel),
                carbon_equivalent::pcm_pct(&steel),
                carbon_equivalent::cen_pct(&steel),
                carbon_equivalent::ce_aws_pct(&steel),
            ] {
                prop_assert!(equivalent.is_finite());
            }
            finite! {
                "hardness": hardness::yurioka_hv(&steel, g, &[]).map(|found| found.value.hardness_hv),
                "hardness 2": hardness::lorenz_duren_hv(&steel, g).map(|found| found.value),
            }
            let mix = Dilution {
                parent_1: &steel, parent_2: &steel, filler: &steel, dilution: g, share_of_parent_1: h,
            };
            if let Ok(points) = mix.points(ferrite::wrc_1992) {
                prop_assert!(points.weld.chromium_pct.is_finite() && points.weld.nickel_pct.is_finite());
            }
        }
        finite! {
            "ferrite": ferrite::ferrite_number(Equivalents { chromium_pct: a, nickel_pct: b }, &window)
                .map(|found| found.value),
        }
    }

    #[test]
    fn geometry_is_finite_or_refused(
        preparation in prop::sample::select(Preparation::ALL.to_vec()), [a, b, c, d, e, f, g, _] in values(),
    ) {
        let groove = Groove {
            preparation,
            thickness_mm: a,
            included_angle_deg: b,
            root_gap_mm: c,
            root_face_mm: d,
            radius_mm: e,
            cap_height_mm: f,
            root_height_mm: g,
        };
        if let Ok(section) = groove.cross_section() {
            prop_assert!(section.total_mm2.is_finite() && section.groove_mm2 >= 0.0);
        }
        if let Ok(outline) = groove.outline() {
            prop_assert!(outline.weld_polygon().iter().flatten().all(|value| value.is_finite()), "{groove:?}");
        }
        let fillet = Fillet { leg_1_mm: a, leg_2_mm: b, angle_deg: c, convexity_mm: d };
        if let Ok(area) = fillet.area_mm2() {
            prop_assert!(area.is_finite() && area >= 0.0, "{fillet:?} has {area}");
        }
        finite! { "throat": fillet.throat_mm() }
        if let Ok(points) = fillet.outline() {
            prop_assert!(points.iter().flatten().all(|value| value.is_finite()), "{fillet:?}");
        }
    }
}
