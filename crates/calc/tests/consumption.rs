//! Filler, gas, duty cycle, time, cost and shrinkage: what arithmetic and physics say of them.

use proptest::prelude::*;
use seamwright_calc::deposition::{
    Loss, deposited_area_from_rate_mm2, deposition_rate_kg_h, filler_mass_kg, spools_needed,
};
use seamwright_calc::duty_cycle::{current_at_duty_cycle_a, duty_cycle};
use seamwright_calc::gas::{GasUse, OXYGEN_OF_AIR_PPM, flow_time_h, volume_changes_for_oxygen};
use seamwright_calc::shrinkage::{angular_fillet_mm, transverse_butt_mm};
use seamwright_calc::time_cost::{
    Amounts, ArcTimes, Rates, arc_time_by_rate_min, arc_time_by_travel_min, working_time_min,
};
use seamwright_calc::weld_metal::{mass_kg, runs_needed};

fn close(one: f64, other: f64) -> bool {
    (one - other).abs() <= 1e-9 * one.abs().max(other.abs())
}

proptest! {
    #[test]
    fn filler_holds_the_weld_metal_and_its_losses(mass in 0.01..500.0, efficiency in 0.5..1.0, stub in 0.0..0.3) {
        let once = filler_mass_kg(mass, Loss::Efficiency(efficiency)).unwrap();
        let twice = filler_mass_kg(mass, Loss::EfficiencyAndStub { efficiency, stub_loss: stub }).unwrap();
        prop_assert!(once >= mass && twice >= once);
        prop_assert!(close(twice * efficiency * (1.0 - stub), mass));
    }

    #[test]
    fn the_runs_that_are_counted_fill_the_joint_and_one_less_does_not(area in 1.0..2000.0_f64, run in 2.0..60.0_f64) {
        let runs = f64::from(u32::try_from(runs_needed(area, run).unwrap()).unwrap());
        prop_assert!(runs * run >= area * (1.0 - 1e-8));
        prop_assert!((runs - 1.0) * run < area);
    }

    #[test]
    fn deposited_metal_is_the_same_by_area_and_by_rate(
        feed in 20.0..300.0_f64, diameter in 0.6..2.4_f64, travel in 1.0..20.0_f64, efficiency in 0.6..1.0, length in 10.0..9000.0_f64,
    ) {
        // What one run lays over a length, by its cross-section, and by rate and time.
        let rate = deposition_rate_kg_h(feed, diameter, 7850.0, efficiency).unwrap();
        let by_area = mass_kg(deposited_area_from_rate_mm2(rate, travel, 7850.0).unwrap(), length, 7850.0).unwrap();
        let hours = arc_time_by_travel_min(length, 1.0, travel).unwrap() / 60.0;
        prop_assert!(close(by_area, rate * hours));
    }

    #[test]
    fn duty_cycle_goes_with_the_square_of_the_current(rated in 50.0..600.0_f64, duty in 10.0..100.0_f64, more in 1.0..3.0_f64) {
        let found = duty_cycle(rated, duty, rated * more).unwrap();
        prop_assert!(close(found.duty_cycle_pct * more * more, duty));
        prop_assert!(close(found.arc_minutes_in_ten + found.rest_minutes_in_ten, 10.0));
        prop_assert!(close(current_at_duty_cycle_a(rated, duty, found.duty_cycle_pct).unwrap(), rated * more));
    }

    #[test]
    fn a_cylinder_lasts_as_long_as_its_gas(flow in 1.0..40.0_f64, contents in 100.0..20_000.0_f64) {
        let minutes = flow_time_h(contents, flow).unwrap() * 60.0;
        let used = GasUse { flow_l_min: flow, arc_time_min: minutes, starts: 0.0, pre_flow_s: 1.0, post_flow_s: 9.0 };
        prop_assert!(close(used.gas_l().unwrap(), contents));
        // Each start takes its pre-flow and its post-flow once.
        let started = GasUse { starts: 6.0, ..used };
        prop_assert!(close(started.gas_l().unwrap(), contents + flow));
    }

    #[test]
    fn a_purge_leaves_the_oxygen_that_it_is_asked_for(own in 0.0..20.0, target in 30.0..5000.0_f64) {
        let needed = volume_changes_for_oxygen(target, own).unwrap();
        // A volume that mixes wholly keeps 1/e of what was in it at each change.
        let left = own + (OXYGEN_OF_AIR_PPM - own) * (-needed).exp();
        prop_assert!((left - target).abs() < 1e-6 * target);
    }

    #[test]
    fn cost_is_the_sum_of_its_parts_and_goes_with_the_amounts(
        time in 0.0..50.0_f64, filler in 0.0..80.0_f64, gas in 0.0..20.0_f64, times in 0.1..9.0_f64,
    ) {
        let rates =
            Rates { labour_per_h: 48.0, filler_per_kg: 4.5, gas_per_m3: 9.0, flux_per_kg: 2.0, energy_per_kwh: 0.25 };
        let amounts = Amounts { working_time_h: time, filler_kg: filler, gas_m3: gas, flux_kg: 1.0, energy_kwh: 5.0 };
        let scaled = Amounts {
            working_time_h: time * times,
            filler_kg: filler * times,
            gas_m3: gas * times,
            flux_kg: times,
            energy_kwh: 5.0 * times,
        };
        let cost = amounts.cost(&rates).unwrap();
        prop_assert!(close(cost.total, cost.labour + cost.filler + cost.gas + cost.flux + cost.energy));
        prop_assert!(close(scaled.cost(&rates).unwrap().total, cost.total * times));
    }

    #[test]
    fn working_time_is_never_less_than_arc_time(mass in 0.01..50.0, rate in 0.2..15.0, factor in 0.05..1.0) {
        let arc = arc_time_by_rate_min(mass, rate).unwrap();
        prop_assert!(working_time_min(arc, factor).unwrap() >= arc);
        let times = ArcTimes::new(arc, arc * 1.2).unwrap();
        prop_assert!((times.disagreement_pct - 20.0).abs() < 1e-9);
    }

    #[test]
    fn more_weld_shrinks_more_and_thicker_plate_less(
        area in 5.0..400.0_f64, thickness in 3.0..50.0_f64, gap in 0.0..6.0, more in 1.01..2.0_f64,
    ) {
        let base = transverse_butt_mm(area, thickness, gap).unwrap();
        prop_assert!(transverse_butt_mm(area * more, thickness, gap).unwrap() > base);
        prop_assert!(transverse_butt_mm(area, thickness * more, gap).unwrap() < base);
        // Of one shape, shrinkage goes with size.
        prop_assert!(close(transverse_butt_mm(area * more * more, thickness * more, gap * more).unwrap(), base * more));
        let angular = angular_fillet_mm(200.0, 6.0, thickness).unwrap();
        prop_assert!(angular_fillet_mm(200.0, 6.0 * more, thickness).unwrap() > angular);
        prop_assert!(angular_fillet_mm(200.0, 6.0, thickness * more).unwrap() < angular);
    }
}

#[test]
fn packs_are_counted_whole() {
    assert_eq!(spools_needed(45.0, 15.0), Ok(3));
    assert_eq!(spools_needed(45.1, 15.0), Ok(4));
    assert_eq!(spools_needed(0.0, 15.0), Ok(0));
}
