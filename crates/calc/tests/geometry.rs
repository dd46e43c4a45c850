//! Groove and fillet areas against the polygon areas of the `geo` crate, and against published tables.

use geo::{Area, Coord, LineString, Polygon};
use proptest::prelude::*;
use seamwright_calc::fillet::Fillet;
use seamwright_calc::flare::Flare;
use seamwright_calc::groove::{GrooveRange, Point};
use seamwright_calc::weld_metal::{mass_kg, volume_cm3};
use seamwright_calc::{Band, Groove, Preparation};

fn area(points: &[Point]) -> f64 {
    let line: LineString = points.iter().map(|[x, y]| Coord { x: *x, y: *y }).collect();
    Polygon::new(line, Vec::new()).unsigned_area()
}

/// Areas agree within 0.1 %: arcs and bows are drawn in fine straight steps, and so hold a little less.
fn assert_areas_agree(groove: &Groove) {
    let section = groove.cross_section().unwrap();
    let outline = groove.outline().unwrap();
    for (what, drawn, computed) in [
        ("groove", area(&outline.groove_polygon()), section.groove_mm2),
        ("weld", area(&outline.weld_polygon()), section.total_mm2),
    ] {
        assert!(
            (drawn - computed).abs() <= 1e-3 * computed + 1e-9,
            "{what}: drawn {drawn}, computed {computed}: {groove:?}"
        );
    }
}

fn groove() -> impl Strategy<Value = Groove> {
    (
        prop::sample::select(Preparation::ALL.to_vec()),
        0.5..200.0,
        (5.0..80.0, 0.0..12.0, 0.0..0.95, 0.5..20.0),
        (0.0..4.0, 0.0..4.0),
    )
        .prop_map(|(preparation, thickness_mm, (angle, root_gap_mm, face_share, radius_mm), (cap, root))| Groove {
            preparation,
            thickness_mm,
            included_angle_deg: angle,
            root_gap_mm,
            root_face_mm: thickness_mm * face_share,
            radius_mm,
            cap_height_mm: cap,
            root_height_mm: root,
        })
}

proptest! {
    #[test]
    fn computed_area_is_the_area_of_the_outline(groove in groove()) {
        assert_areas_agree(&groove);
    }

    #[test]
    fn areas_are_never_negative_and_grow_with_every_size_but_the_root_face(groove in groove(), more in 0.01..3.0) {
        let total = |groove: Groove| groove.cross_section().unwrap().total_mm2;
        let section = groove.cross_section().unwrap();
        prop_assert!(section.groove_mm2 >= 0.0 && section.cap_mm2 >= 0.0 && section.root_mm2 >= 0.0);
        let least = total(groove) - 1e-9 * total(groove);
        for larger in [
            Groove { root_gap_mm: groove.root_gap_mm + more, ..groove },
            Groove { included_angle_deg: groove.included_angle_deg + more, ..groove },
            Groove { radius_mm: groove.radius_mm + more, ..groove },
            Groove { thickness_mm: groove.thickness_mm + more, ..groove },
            Groove { cap_height_mm: groove.cap_height_mm + more, ..groove },
            Groove { root_height_mm: groove.root_height_mm + more, ..groove },
            Groove { root_face_mm: groove.root_face_mm / 2.0, ..groove },
        ] {
            prop_assert!(total(larger) >= least, "{larger:?}");
        }
    }

    #[test]
    fn areas_go_with_the_square_of_the_size(groove in groove(), times in 0.1..10.0_f64) {
        let scaled = Groove {
            thickness_mm: groove.thickness_mm * times,
            root_gap_mm: groove.root_gap_mm * times,
            root_face_mm: groove.root_face_mm * times,
            radius_mm: groove.radius_mm * times,
            cap_height_mm: groove.cap_height_mm * times,
            root_height_mm: groove.root_height_mm * times,
            ..groove
        };
        let (one, other) = (groove.cross_section().unwrap().total_mm2, scaled.cross_section().unwrap().total_mm2);
        prop_assert!((other - one * times * times).abs() <= 1e-9 * other);
    }

    #[test]
    fn walls_run_from_surface_to_surface_and_never_cross_the_gap(groove in groove()) {
        let outline = groove.outline().unwrap();
        for (wall, side) in [(&outline.left, -1.0), (&outline.right, 1.0)] {
            prop_assert!(wall.points.first().unwrap()[1].abs() < 1e-9);
            prop_assert!((wall.points.last().unwrap()[1] - groove.thickness_mm).abs() < 1e-9);
            prop_assert!(wall.points.windows(2).all(|pair| pair[1][1] >= pair[0][1] - 1e-9));
            prop_assert!(wall.points.iter().all(|point| point[0] * side >= groove.root_gap_mm / 2.0 - 1e-9));
        }
        let width = outline.right.points[0][0] - outline.left.points[0][0];
        prop_assert!((width - groove.cap_width_mm().unwrap()).abs() < 1e-9);
    }

    #[test]
    fn arcs_are_level_at_the_root_face_and_tangent_to_the_flank(groove in groove()) {
        let outline = groove.outline().unwrap();
        for arc in outline.left.arcs.first().into_iter().chain(outline.right.arcs.first()) {
            let wall = if arc.to[0] < 0.0 { &outline.left } else { &outline.right };
            let top = wall.points[0];
            // A flank stands above the arc unless the surface cuts the arc first.
            let flank = [top[0] - arc.to[0], top[1] - arc.to[1]];
            let length = flank[0].hypot(flank[1]);
            if length > 1e-6 * groove.thickness_mm {
                let radius = [arc.to[0] - arc.centre[0], arc.to[1] - arc.centre[1]];
                let across = (radius[0] * flank[0] + radius[1] * flank[1]) / (arc.radius_mm * length);
                prop_assert!(across.abs() < 1e-6, "the arc meets the flank at a corner: {across}, {groove:?}");
            }
        }
        for arc in outline.left.arcs.iter().chain(&outline.right.arcs) {
            let distance = |point: Point| (point[0] - arc.centre[0]).hypot(point[1] - arc.centre[1]);
            prop_assert!((distance(arc.from) - arc.radius_mm).abs() < 1e-9 * arc.radius_mm);
            prop_assert!((distance(arc.to) - arc.radius_mm).abs() < 1e-6 * arc.radius_mm);
            // Level where it leaves the root face: its centre is straight above or below.
            prop_assert!((arc.centre[0] - arc.from[0]).abs() < 1e-9);
        }
    }

    #[test]
    fn fillet_area_is_the_area_of_its_outline(
        legs in (1.0..30.0, 1.0..30.0), angle in 40.0..140.0, bow in -0.5..0.5_f64,
    ) {
        let flat = Fillet { leg_1_mm: legs.0, leg_2_mm: legs.1, angle_deg: angle, convexity_mm: 0.0 };
        let fillet = Fillet { convexity_mm: bow * flat.throat_mm().unwrap(), ..flat };
        // A hollow that runs under a leg is refused; of equal legs at right angles that is from half the throat.
        prop_assume!(fillet.area_mm2().is_ok());
        let computed = fillet.area_mm2().unwrap();
        prop_assert!(computed > 0.0);
        prop_assert!((area(&fillet.outline().unwrap()) - computed).abs() <= 1e-3 * computed);
        // Throat times face is twice the triangle, whatever the angle.
        let face = (legs.0 - legs.1 * angle.to_radians().cos()).hypot(legs.1 * angle.to_radians().sin());
        let twice = flat.throat_mm().unwrap() * face;
        prop_assert!((twice - 2.0 * flat.area_mm2().unwrap()).abs() < 1e-9 * twice);
    }

    #[test]
    fn leg_and_throat_give_each_other_back(leg in 1.0..40.0_f64) {
        use seamwright_calc::fillet::{leg_from_throat_mm, throat_from_leg_mm};
        prop_assert!((leg_from_throat_mm(throat_from_leg_mm(leg).unwrap()).unwrap() - leg).abs() < 1e-9);
    }
}

#[test]
fn every_preparation_agrees_with_its_outline_at_usual_sizes() {
    for preparation in Preparation::ALL {
        assert_eq!(preparation.to_string().parse(), Ok(preparation));
        assert_areas_agree(&Groove {
            preparation,
            thickness_mm: 30.0,
            included_angle_deg: 20.0,
            root_gap_mm: 2.0,
            root_face_mm: 2.0,
            radius_mm: 6.0,
            cap_height_mm: 2.0,
            root_height_mm: 1.0,
        });
    }
    assert_eq!("triple-v".parse::<Preparation>().unwrap_err().to_string(), "\"triple-v\" is no preparation");
}

/// A flare between two rounds as the polygon between their walls, drawn from the equation of the circle.
#[test]
fn flares_agree_with_their_outline() {
    for (radius, depth, gap) in [(10.0, 10.0, 0.0), (12.7, 4.0, 0.0), (6.0, 6.0, 2.0), (19.0, 0.5, 1.0)] {
        let steps = 2000;
        let wall: Vec<Point> = (0..=steps)
            .map(|step| {
                let y = depth * f64::from(step) / f64::from(steps);
                let aside = radius - (radius * radius - (radius - y) * (radius - y)).sqrt();
                [gap / 2.0 + aside, y]
            })
            .collect();
        let both: Vec<Point> = wall.iter().copied().chain(wall.iter().rev().map(|[x, y]| [-x, *y])).collect();
        let beside: Vec<Point> = wall.iter().copied().chain(wall.iter().rev().map(|[_, y]| [-gap / 2.0, *y])).collect();
        for (round, outline) in [(1, beside), (2, both)] {
            let flare = Flare { round, radius_mm: radius, depth_mm: depth, root_gap_mm: gap };
            let (found, drawn) = (flare.area_mm2().unwrap(), area(&outline));
            assert!((found - drawn).abs() < 2e-3 * drawn, "{flare:?}: {found} against {drawn}");
        }
    }
    let deep = Flare { round: 2, radius_mm: 10.0, depth_mm: 11.0, root_gap_mm: 0.0 };
    assert_eq!(
        deep.area_mm2().unwrap_err().to_string(),
        "depth is 11 mm, must be no more than the outside radius (10)"
    );
}

#[test]
fn v_grooves_give_the_volumes_of_a_published_table() {
    // Electrode consumption handbook of a consumables maker, table for V joints of 60 degrees, no root face, no
    // reinforcement; thickness mm, gap mm, cm3 per m. The table is rounded: within 2 %.
    let table = [
        (4.0, 1.0, 13.0),
        (5.0, 1.0, 19.5),
        (6.0, 1.0, 27.0),
        (7.0, 1.5, 39.0),
        (8.0, 1.5, 49.0),
        (9.0, 1.5, 60.5),
        (10.0, 2.0, 77.5),
        (11.0, 2.0, 92.0),
        (12.0, 2.0, 107.0),
        (14.0, 2.0, 141.0),
        (15.0, 2.0, 160.0),
        (16.0, 2.0, 180.0),
        (18.0, 2.0, 223.0),
        (20.0, 2.0, 271.0),
        (25.0, 2.0, 411.0),
    ];
    for (thickness_mm, root_gap_mm, volume) in table {
        let groove = Groove {
            preparation: Preparation::SingleV,
            thickness_mm,
            included_angle_deg: 60.0,
            root_gap_mm,
            ..Groove::default()
        };
        let found = volume_cm3(groove.cross_section().unwrap().total_mm2, 1000.0).unwrap();
        assert!((found / volume - 1.0).abs() < 0.02, "{thickness_mm} mm: {found} against {volume}");
    }
}

#[test]
fn bevels_give_the_masses_of_a_published_table() {
    // Welding handbook of a consumables maker, weight of weld metal, one bevel flank at 19.05 mm; the density that the
    // table implies is 7.83 g/cm3. Within 0.004 kg/m.
    for (angle, mass) in [(5.0, 0.125), (10.0, 0.251), (15.0, 0.381)] {
        let groove = Groove {
            preparation: Preparation::SingleBevel,
            thickness_mm: 19.05,
            included_angle_deg: angle,
            ..Groove::default()
        };
        let found = mass_kg(groove.cross_section().unwrap().total_mm2, 1000.0, 7830.0).unwrap();
        assert!((found - mass).abs() < 0.004, "{angle} degrees: {found} against {mass}");
    }
}

#[test]
fn a_fillet_gives_the_mass_of_a_published_example_in_either_unit() {
    // Welding handbook of a consumables maker: equal legs of 1/2 in, 1 ft long, 0.283 lb/in3, no reinforcement: 0.424 lb.
    const LB_KG: f64 = 0.453_592_37;
    let density_kg_m3 = 0.283 * LB_KG / (0.0254 * 0.0254 * 0.0254);
    let mass = mass_kg(Fillet::equal(12.7).area_mm2().unwrap(), 304.8, density_kg_m3).unwrap();
    assert!((mass / LB_KG - 0.424).abs() < 0.001);
}

#[test]
fn ranges_give_low_middle_and_high() {
    let joint = GrooveRange {
        preparation: Preparation::SingleV,
        thickness_mm: Band::new(10.0, 10.0),
        included_angle_deg: Band::new(60.0, 70.0),
        root_gap_mm: Band::new(2.0, 3.0),
        root_face_mm: Band::new(1.0, 1.5),
        radius_mm: Band::new(0.0, 0.0),
        cap_height_mm: Band::new(0.0, 2.0),
        root_height_mm: Band::new(0.0, 1.0),
    };
    let spread = joint.cross_section_mm2().unwrap();
    // By hand: 2·10 + 8.5² tan 30°, and 3·10 + 9² tan 35° + 2/3·(3 + 18 tan 35°)·2 + 2/3·3·1.
    assert!((spread.low - 61.714).abs() < 0.001, "{spread:?}");
    assert!((spread.high - 109.522).abs() < 0.01, "{spread:?}");
    assert!(spread.low < spread.middle && spread.middle < spread.high);
}

#[test]
fn sizes_that_cannot_be_are_refused_by_name() {
    let v = Groove {
        preparation: Preparation::SingleV,
        thickness_mm: 10.0,
        included_angle_deg: 60.0,
        root_gap_mm: 2.0,
        root_face_mm: 1.0,
        ..Groove::default()
    };
    let refused = |groove: Groove| groove.cross_section().unwrap_err().to_string();
    assert_eq!(refused(Groove { thickness_mm: 0.0, ..v }), "thickness is 0 mm, must be greater than 0");
    assert_eq!(refused(Groove { root_face_mm: 10.0, ..v }), "root face is 10 mm, must be less than the thickness (10)");
    assert_eq!(refused(Groove { included_angle_deg: 180.0, ..v }), "included angle is 180°, must be less than 180");
    assert_eq!(refused(Groove { root_gap_mm: f64::INFINITY, ..v }), "root gap is not a finite number");
    assert_eq!(
        refused(Groove { preparation: Preparation::SingleBevel, included_angle_deg: 90.0, ..v }),
        "bevel angle is 90°, must be less than 90"
    );
    assert_eq!(refused(Groove { preparation: Preparation::SingleU, ..v }), "radius is 0 mm, must be greater than 0");
    assert_eq!(refused(Groove { thickness_mm: 1e200, ..v }), "cross-section is too large to compute from these values");
    assert_eq!(Fillet::equal(-3.0).area_mm2().unwrap_err().to_string(), "leg is -3 mm, must be greater than 0");
    let hollow = Fillet { convexity_mm: -5.0, ..Fillet::equal(6.0) };
    assert_eq!(hollow.area_mm2().unwrap_err().to_string(), "convexity is -5 mm, must be -2.1213 or more");
}
