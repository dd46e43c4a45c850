//! Heat input, carbon equivalents and preheat: what physics says of them.

use proptest::prelude::*;
use seamwright_calc::carbon_equivalent::{ce_aws_pct, ce_iiw_pct, cen_pct, cet_pct, pcm_pct};
use seamwright_calc::heat_input::{arc_energy_kj_mm, heat_input_kj_mm, kj_in, travel_speed_for_arc_energy_mm_s};
use seamwright_calc::preheat::MethodB;
use seamwright_calc::{Composition, Element};

proptest! {
    #[test]
    fn heat_input_is_the_same_in_us_and_si_units(volts in 5.0..45.0_f64, amps in 5.0..900.0_f64, inches_min in 1.0..60.0_f64) {
        // 60 V I / (1000 S) in kJ/in with S in in/min (AWS, ASME IX) against kJ/mm.
        let us = 60.0 * volts * amps / (1000.0 * inches_min);
        let si = arc_energy_kj_mm(volts, amps, inches_min * 25.4 / 60.0).unwrap();
        prop_assert!((kj_in(si) / us - 1.0).abs() < 1e-12);
        prop_assert!(heat_input_kj_mm(si, 0.8).unwrap() < si);
        let speed = travel_speed_for_arc_energy_mm_s(volts, amps, si).unwrap();
        prop_assert!((speed * 60.0 / 25.4 / inches_min - 1.0).abs() < 1e-12);
    }

    #[test]
    fn more_carbon_raises_every_equivalent_and_the_preheat(
        carbon in 0.05..0.3, manganese in 0.3..1.8, more in 0.001..0.1,
        thickness in 10.0..90.0, hydrogen in 1.0..20.0, heat in 0.5..4.0,
    ) {
        let steel = |carbon| Composition::new([(Element::C, carbon), (Element::Mn, manganese)]).unwrap();
        let (less, higher) = (steel(carbon), steel(carbon + more));
        for equivalent in [ce_iiw_pct, cet_pct, pcm_pct, cen_pct, ce_aws_pct] {
            prop_assert!(equivalent(&higher) > equivalent(&less));
        }
        let preheat = |steel: &Composition| {
            MethodB { cet_pct: cet_pct(steel), thickness_mm: thickness, hydrogen_ml_100g: hydrogen, heat_input_kj_mm: heat }
                .preheat().unwrap().value.temperature_c
        };
        prop_assert!(preheat(&higher) > preheat(&less));
    }

    #[test]
    fn preheat_rises_with_thickness_and_hydrogen_and_falls_with_heat(
        cet in 0.2..0.5, thickness in 10.0..80.0, hydrogen in 1.0..15.0, heat in 0.5..3.0, more in 0.01..5.0,
    ) {
        let case = MethodB { cet_pct: cet, thickness_mm: thickness, hydrogen_ml_100g: hydrogen, heat_input_kj_mm: heat };
        let preheat = |case: MethodB| case.preheat().unwrap().value.temperature_c;
        let base = preheat(case);
        let thicker = MethodB { thickness_mm: thickness + more, ..case };
        let wetter = MethodB { hydrogen_ml_100g: hydrogen + more, ..case };
        let hotter = MethodB { heat_input_kj_mm: heat + more, ..case };
        prop_assert!(preheat(thicker) > base);
        prop_assert!(preheat(wetter) > base);
        prop_assert!(preheat(hotter) < base);
    }
}
