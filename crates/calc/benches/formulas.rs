//! One bench for each family of formulas: `cargo bench -p seamwright-calc`.

use std::hint::black_box;

use criterion::Criterion;
use seamwright_calc::cooling_time::{Plate, ShapeFactors};
use seamwright_calc::deposition::{self, Loss};
use seamwright_calc::ferrite::{DiagramWindow, ferrite_number, wrc_1992};
use seamwright_calc::fillet::Fillet;
use seamwright_calc::gas::GasUse;
use seamwright_calc::groove::GrooveRange;
use seamwright_calc::preheat::MethodB;
use seamwright_calc::time_cost::{Amounts, ArcTimes, Rates};
use seamwright_calc::{
    Band, Composition, Preparation, carbon_equivalent, duty_cycle, hardness, heat_input, shrinkage, strength,
    weld_metal,
};

fn composition(text: &str) -> Composition {
    text.parse().expect("a composition")
}

fn families(criterion: &mut Criterion) {
    let mut bench = |name: &str, of: &mut dyn FnMut() -> f64| {
        criterion.bench_function(name, |bencher| bencher.iter(&mut *of));
    };
    let steel = composition("C=0.16,Si=0.3,Mn=1.45,Cr=0.05,Mo=0.02,Ni=0.06,Cu=0.1,V=0.02");
    let stainless = composition("C=0.02,Cr=19.8,Ni=10.2,Mo=0.1,Mn=1.8,Si=0.4,N=0.05");
    bench("heat input", &mut || {
        let energy = heat_input::arc_energy_kj_mm(black_box(24.0), 220.0, 6.0).expect("sound values");
        heat_input::heat_input_kj_mm(energy, 0.8).expect("sound values")
    });
    bench("carbon equivalents", &mut || {
        let steel = black_box(&steel);
        carbon_equivalent::ce_iiw_pct(steel)
            + carbon_equivalent::cet_pct(steel)
            + carbon_equivalent::pcm_pct(steel)
            + carbon_equivalent::cen_pct(steel)
    });
    let method = MethodB { cet_pct: 0.305, thickness_mm: 30.0, hydrogen_ml_100g: 5.0, heat_input_kj_mm: 1.5 };
    bench("preheat", &mut || black_box(method).preheat().expect("sound values").temperature_c);
    let plate = Plate { thickness_mm: 12.0, preheat_c: 20.0, shape: ShapeFactors::default() };
    bench("cooling time", &mut || black_box(plate).cooling_time(1.2).expect("sound values").time_s);
    bench("hardness", &mut || {
        hardness::yurioka_hv(black_box(&steel), 8.0, &[]).expect("sound values").value.hardness_hv
    });
    let window = DiagramWindow { chromium_pct: Band::new(17.0, 31.0), nickel_pct: Band::new(9.0, 18.0) };
    bench("ferrite", &mut || ferrite_number(wrc_1992(black_box(&stainless)), &window).expect("sound values").value);
    let groove = GrooveRange {
        preparation: Preparation::DoubleU,
        thickness_mm: Band::at(40.0),
        included_angle_deg: Band::new(16.0, 24.0),
        root_gap_mm: Band::new(0.0, 3.0),
        root_face_mm: Band::at(3.0),
        radius_mm: Band::at(6.0),
        cap_height_mm: Band::at(2.0),
        root_height_mm: Band::at(0.0),
    };
    bench("groove", &mut || black_box(&groove).cross_section_mm2().expect("sound values").middle);
    let fillet = Fillet { convexity_mm: 0.5, ..Fillet::unequal(6.0, 8.0) };
    bench("fillet", &mut || black_box(fillet).area_mm2().expect("sound values"));
    bench("weld metal", &mut || weld_metal::mass_kg(black_box(99.9), 1000.0, 7850.0).expect("sound values"));
    bench("deposition", &mut || {
        deposition::deposition_rate_kg_h(black_box(130.0), 1.2, 7850.0, 0.96).expect("sound values")
            + deposition::filler_mass_kg(0.8, Loss::Efficiency(0.96)).expect("sound values")
    });
    let gas = GasUse { flow_l_min: 15.0, arc_time_min: 42.0, starts: 12.0, pre_flow_s: 0.5, post_flow_s: 5.0 };
    bench("gas", &mut || black_box(gas).gas_l().expect("sound values"));
    bench("duty cycle", &mut || {
        duty_cycle::duty_cycle(black_box(200.0), 35.0, 140.0).expect("sound values").duty_cycle_pct
    });
    let amounts = Amounts { working_time_h: 2.4, filler_kg: 1.2, gas_m3: 0.6, flux_kg: 0.0, energy_kwh: 5.1 };
    let rates =
        Rates { labour_per_h: 48.0, filler_per_kg: 4.1, gas_per_m3: 9.5, flux_per_kg: 0.0, energy_per_kwh: 0.3 };
    bench("time and cost", &mut || {
        ArcTimes::new(black_box(42.0), 44.0).expect("sound values").disagreement_pct
            + amounts.cost(&rates).expect("sound values").total
    });
    bench("shrinkage", &mut || shrinkage::transverse_butt_mm(black_box(95.0), 12.0, 2.0).expect("sound values"));
    bench("strength", &mut || strength::allowable_load_n_mm(black_box(4.24), 140.0).expect("sound values"));
}

fn main() {
    let mut criterion = Criterion::default().configure_from_args();
    families(&mut criterion);
    criterion.final_summary();
}
