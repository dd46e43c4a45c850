//! The geometry of the sketches held against `geo`, and their labels against the paper and each other.

use geo::{Area, BooleanOps, BoundingRect, Contains, Coord, Intersects, LineString, Polygon};
use proptest::prelude::*;
use seamwright_model::procedure::{Contour, Preparation};

use super::bead::{self, Bead};
use super::groove::{Backing, FilletSize, JointKind, JointLabels, JointSketch, Layer, RunBead, Section};
use crate::drawing::{Drawing, Fill, Item};
use crate::path::flatten;
use crate::text::{ink, text_box};

fn polygon(points: &[(f64, f64)]) -> Polygon<f64> {
    Polygon::new(points.iter().map(|&(x, y)| Coord { x, y }).collect::<LineString<f64>>(), Vec::new())
}

const PREPARATIONS: [Preparation; 9] = [
    Preparation::Square,
    Preparation::SingleV,
    Preparation::DoubleV,
    Preparation::SingleBevel,
    Preparation::DoubleBevel,
    Preparation::SingleU,
    Preparation::DoubleU,
    Preparation::SingleJ,
    Preparation::DoubleJ,
];

fn numbered(count: usize, second_from: usize) -> Vec<RunBead> {
    (1..=count)
        .map(|number| RunBead {
            label: number.to_string(),
            layer: match number {
                1 => Layer::Root,
                2 => Layer::Hot,
                _ if number + 2 > count => Layer::Cap,
                _ => Layer::Fill,
            },
            share: None,
            second_side: number >= second_from,
        })
        .collect()
}

/// What every drawing has to keep: finite numbers, texts on the paper, no text over another or under a line.
pub(super) fn faults(drawing: &Drawing) -> Vec<String> {
    let mut faults = Vec::new();
    let mut texts = Vec::new();
    let mut lines = Vec::new();
    let mut grounds = Vec::new();
    if !(drawing.width.is_finite() && drawing.height.is_finite() && drawing.width > 0.0 && drawing.height > 0.0) {
        faults.push(format!("size {} x {}", drawing.width, drawing.height));
    }
    for (order, item) in drawing.items.iter().enumerate() {
        match item {
            Item::Text(label) => {
                let rect = text_box(label);
                if !(rect.left >= -1e-6
                    && rect.top >= -1e-6
                    && rect.right <= drawing.width + 1e-6
                    && rect.bottom <= drawing.height + 1e-6)
                {
                    faults.push(format!("{:?} leaves the paper: {rect:?}", label.text));
                }
                texts.push((label.clone(), rect));
            }
            Item::Path { segments, stroke, fill } => {
                let flat = flatten(segments);
                if !flat.iter().all(|(a, b)| [a.0, a.1, b.0, b.1].iter().all(|value| value.is_finite())) {
                    faults.push(format!("not a number in {segments:?}"));
                }
                if matches!(fill, Fill::White | Fill::Grey(_)) {
                    let outline: Vec<(f64, f64)> = flat.iter().map(|(from, _)| *from).collect();
                    grounds.push((order, polygon(&outline)));
                }
                if stroke.is_some() {
                    lines.extend(flat.into_iter().map(|line| (order, line)));
                }
            }
        }
    }
    for (index, (label, rect)) in texts.iter().enumerate() {
        for (other, at) in texts.iter().skip(index + 1) {
            if rect.overlaps(at) {
                faults.push(format!("{:?} overlaps {:?}", label.text, other.text));
            }
        }
        // A white ground breaks the lines under it.
        if label.ground {
            continue;
        }
        let ink = ink(label);
        // What lies under an area that holds the whole text is not seen.
        let covered = grounds
            .iter()
            .filter(|(_, ground)| {
                [(ink.left, ink.top), (ink.right, ink.top), (ink.left, ink.bottom), (ink.right, ink.bottom)]
                    .iter()
                    .all(|&(x, y)| ground.contains(&geo::Point::new(x, y)))
            })
            .map(|(order, _)| *order)
            .max()
            .unwrap_or(0);
        let seen = lines.iter().filter(|(order, _)| *order >= covered).map(|(_, line)| line);
        if let Some((from, to)) = seen.into_iter().find(|(from, to)| ink.is_crossed_by(*from, *to)) {
            faults.push(format!("a line {from:?} to {to:?} runs through {:?} {rect:?}", label.text));
        }
    }
    faults
}

fn sound(beads: &[Bead], sketch: &JointSketch) -> Result<(), String> {
    let outlines: Vec<Polygon<f64>> = bead::weld_outlines(sketch).iter().map(|outline| polygon(outline)).collect();
    let joint: f64 = outlines.iter().map(Area::unsigned_area).sum();
    let shapes: Vec<Polygon<f64>> = beads.iter().map(|bead| polygon(&bead.polygon)).collect();
    let sum: f64 = shapes.iter().map(Area::unsigned_area).sum();
    if (sum - joint).abs() > 0.02 * joint {
        return Err(format!("beads {sum} mm² in a joint of {joint} mm²"));
    }
    for (bead, shape) in beads.iter().zip(&shapes) {
        if (bead.area - shape.unsigned_area()).abs() > 1e-6 * joint {
            return Err(format!("bead {} states {} mm²", bead.label, bead.area));
        }
    }
    for (index, shape) in shapes.iter().enumerate() {
        for other in shapes.iter().skip(index + 1) {
            let apart = shape.bounding_rect().zip(other.bounding_rect()).is_none_or(|(a, b)| !a.intersects(&b));
            if apart {
                continue;
            }
            let common = shape.intersection(other).unsigned_area();
            if common > 0.002 * joint {
                return Err(format!("{common} mm² are in two beads"));
            }
        }
        let within: f64 = outlines.iter().map(|outline| shape.intersection(outline).unsigned_area()).sum();
        if (within - shape.unsigned_area()).abs() > 0.005 * joint {
            return Err(format!("{} of {} mm² lie in the joint", within, shape.unsigned_area()));
        }
    }
    Ok(())
}

#[test]
fn beads_of_every_preparation_fill_the_joint() {
    for preparation in PREPARATIONS {
        for (count, second_from) in [(1, 9), (5, 9), (12, 9)] {
            for thickness in [[10.0, 10.0], [12.0, 16.0]] {
                let sketch = JointSketch {
                    preparation: Some(preparation),
                    thickness,
                    gap: 2.0,
                    root_face: 1.0,
                    runs: numbered(count, second_from),
                    ..JointSketch::default()
                };
                let beads = bead::beads(&sketch);
                let sides = if preparation.is_double() && count == 1 { 2 } else { count };
                assert_eq!(beads.len(), sides, "{preparation:?}");
                sound(&beads, &sketch).unwrap_or_else(|fault| panic!("{preparation:?} {count} {thickness:?}: {fault}"));
            }
        }
    }
}

#[test]
fn forty_runs_fit() {
    let sketch = JointSketch {
        preparation: Some(Preparation::SingleV),
        thickness: [60.0, 60.0],
        gap: 3.0,
        root_face: 1.0,
        runs: numbered(40, 99),
        ..JointSketch::default()
    };
    let beads = bead::beads(&sketch);
    assert_eq!(beads.len(), 40);
    sound(&beads, &sketch).unwrap_or_else(|fault| panic!("{fault}"));
    assert_eq!(faults(&bead::runs(&sketch)), Vec::<String>::new());
}

/// Areas by hand: a V of 10 mm, 60°, gap 2 mm, root face 1 mm is 2 x 10 + 9² x tan 30° = 66.77 mm²; a cap that is a
/// parabola adds two thirds of width times height.
#[test]
fn the_joint_area_is_that_of_the_groove_and_its_cap() {
    let sketch = JointSketch {
        preparation: Some(Preparation::SingleV),
        gap: 2.0,
        root_face: 1.0,
        reinforcement: Some(0.0),
        root_penetration: Some(0.0),
        ..JointSketch::default()
    };
    let flat = bead::joint_area(&sketch);
    assert!((flat - 66.765).abs() < 0.01, "{flat}");
    let capped = JointSketch { reinforcement: Some(1.5), root_penetration: Some(1.0), ..sketch };
    let outlines = bead::weld_outlines(&capped);
    let width = outlines[0].iter().map(|at| at.0.abs()).fold(0.0, f64::max) * 2.0;
    let expected = 66.765 + 2.0 / 3.0 * (width * 1.5 + 2.0 * 1.0);
    let area = bead::joint_area(&capped);
    assert!((area - expected).abs() < 0.02 * expected, "{area} against {expected}");
}

/// A fillet of legs 6 mm and 8 mm with a flat face has half their product.
#[test]
fn a_fillet_has_half_the_product_of_its_legs() {
    for joint in [JointKind::Tee, JointKind::Lap, JointKind::Corner] {
        let sketch = JointSketch {
            joint,
            fillet: Some(FilletSize { legs: [6.0, 8.0], both_sides: false }),
            reinforcement: Some(0.0),
            ..JointSketch::default()
        };
        let area = bead::joint_area(&sketch);
        assert!((area - 24.0).abs() < 1e-6, "{joint:?} {area}");
    }
}

#[test]
fn a_throat_makes_the_leg_of_an_isosceles_right_triangle() {
    let fillet = FilletSize::from_throat(4.0, true);
    assert!((fillet.legs[0] - 5.657).abs() < 0.001 && (fillet.legs[1] - 5.657).abs() < 0.001);
}

#[test]
fn shares_are_the_areas_of_the_beads() {
    let runs = [2.0, 1.0, 3.0, 3.0, 1.5, 1.5]
        .iter()
        .zip(numbered(6, 9))
        .map(|(share, run)| RunBead { share: Some(*share), ..run })
        .collect();
    let sketch = JointSketch { preparation: Some(Preparation::SingleV), gap: 2.0, runs, ..JointSketch::default() };
    let beads = bead::beads(&sketch);
    let joint = bead::joint_area(&sketch);
    for (bead, share) in beads.iter().zip([2.0, 1.0, 3.0, 3.0, 1.5, 1.5]) {
        let expected = joint * share / 12.0;
        assert!((bead.area - expected).abs() < 0.02 * expected, "run {}: {} {expected}", bead.label, bead.area);
    }
}

#[test]
fn beads_are_numbered_in_the_order_of_welding_on_both_sides() {
    let sketch = JointSketch {
        preparation: Some(Preparation::DoubleV),
        thickness: [20.0, 20.0],
        gap: 2.0,
        runs: numbered(6, 4),
        ..JointSketch::default()
    };
    let beads = bead::beads(&sketch);
    let labels: Vec<&str> = beads.iter().map(|bead| bead.label.as_str()).collect();
    assert_eq!(labels, ["1", "2", "3", "4", "5", "6"]);
    // y runs downwards on paper: the first side lies above the middle of the plate.
    for bead in &beads {
        let below = bead.polygon.iter().all(|at| at.1 > -0.1);
        let above = bead.polygon.iter().all(|at| at.1 < 0.1);
        assert_eq!(bead.second_side, below, "run {}", bead.label);
        assert_eq!(!bead.second_side, above, "run {}", bead.label);
    }
}

/// Height of the highest hatched area, mm: the metal in section.
fn metal_height(drawing: &Drawing) -> f64 {
    let height = |item: &Item| match item {
        Item::Path { segments, fill: Fill::Hatch(_), .. } => {
            let outline: Vec<(f64, f64)> = flatten(segments).iter().map(|(from, _)| *from).collect();
            polygon(&outline).bounding_rect().map(|bounds| bounds.height())
        }
        _ => None,
    };
    drawing.items.iter().filter_map(height).fold(0.0, f64::max)
}

#[test]
fn long_texts_leave_the_metal_large_enough_to_be_read() {
    let text = |text: &str| Some(text.to_owned());
    let labels = JointLabels {
        thickness: [text("10 mm (0.394 in)"), None],
        angle: text("55–60°"),
        gap: text("2–3 mm (0.079–0.118 in)"),
        root_face: text("1–1.5 mm (0.039–0.059 in)"),
        ..JointLabels::default()
    };
    let plate = JointSketch {
        preparation: Some(Preparation::SingleV),
        angle: 57.5,
        gap: 2.5,
        root_face: 1.25,
        labels: labels.clone(),
        max_width: 86.0,
        max_height: 52.0,
        text_size: 11.0,
        ..JointSketch::default()
    };
    let pipe = JointSketch {
        thickness: [5.5, 5.5],
        section: Section::Pipe { outside_diameter: 60.3 },
        labels: JointLabels { diameter: text("60.3 mm (2 3/8 in)"), centre_line: text("pipe centre line"), ..labels },
        ..plate.clone()
    };
    for (sketch, least) in [(plate, 12.0), (pipe, 6.0)] {
        let drawing = super::groove::joint(&sketch);
        assert_eq!(faults(&drawing), Vec::<String>::new());
        assert!(metal_height(&drawing) >= least, "{} mm", metal_height(&drawing));
    }
}

/// A sketch draws what it is given: its words are the caller's, in the caller's language.
#[test]
fn no_sketch_has_words_of_its_own() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/sketch");
    let mut found = Vec::new();
    let mut files = 0;
    let mut folders = vec![folder];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.file_name().is_some_and(|name| name != "tests.rs") {
                files += 1;
                let text = std::fs::read_to_string(&path).unwrap();
                let code = text.split("#[cfg(test)]").next().unwrap_or_default();
                found.extend(said(code).into_iter().map(|words| format!("{}: {words}", path.display())));
            }
        }
    }
    assert!(files > 15, "{files} files were read");
    assert!(found.is_empty(), "{found:#?}");
    // What it is to find, and what it is to leave.
    let code = "#[expect(lint, reason = \"far below\")]\nsay(\"root gap\"); // \"a note\"\nlet at = [\"H-L045\", \"g\", '\"', \"45°\"];";
    assert_eq!(said(code), ["root gap"]);
}

/// The texts of a piece of code that hold a word: three small letters in a row, a vowel among them, outside of braces. Comments and
/// attributes are left out.
fn said(code: &str) -> Vec<String> {
    let mut found = Vec::new();
    for line in code.lines().map(str::trim_start) {
        if line.starts_with("//") || line.starts_with("#[") || line.starts_with("#![") {
            continue;
        }
        let line = line.replace("'\"'", "").replace("\\\"", "");
        let code = line.split(" // ").next().unwrap_or_default();
        let texts = code.split('"').skip(1).step_by(2);
        let small = |three: &[char]| {
            three.iter().all(char::is_ascii_lowercase) && three.iter().any(|letter| "aeiou".contains(*letter))
        };
        let worded = |text: &&str| {
            let plain = text.split('{').map(|part| part.rsplit('}').next().unwrap_or_default());
            plain.collect::<String>().chars().collect::<Vec<_>>().windows(3).any(small)
        };
        found.extend(texts.filter(worded).map(str::to_owned));
    }
    found
}

/// Position and torch are drawn with the fillet at the right of the standing member: one fillet alone is there in section too. That of a
/// pipe is on its outside, away from the centre line at the right.
#[test]
fn a_lone_fillet_is_on_the_side_of_the_torch() {
    for (section, side) in [(Section::Plate, 1.0), (Section::Pipe { outside_diameter: 42.4 }, -1.0)] {
        let sketch = JointSketch {
            joint: JointKind::Tee,
            preparation: None,
            section,
            thickness: [6.0, 6.0],
            fillet: Some(FilletSize { legs: [5.0, 5.0], both_sides: false }),
            runs: numbered(1, 9),
            ..JointSketch::default()
        };
        let beads = bead::beads(&sketch);
        let [own] = beads.as_slice() else { panic!("{} beads", beads.len()) };
        let middle = |bounds: geo::Rect| f64::midpoint(bounds.min().x, bounds.max().x);
        let weld = middle(polygon(&own.polygon).bounding_rect().unwrap());
        // The standing member is 6 mm wide, its faces at 0 and -6 mm of the paper.
        assert!((weld + 3.0) * side > 3.0, "{section:?}: {weld}");
    }
}

/// A word too long for the case of the machine is set smaller: no line of the case runs through it.
#[test]
fn a_long_name_stays_in_the_case_of_its_machine() {
    use super::hookup::{HookupNames, HookupSketch, hookup};
    let names = HookupNames {
        power_source: "Schweißstromquelle".to_owned(),
        holder: "Brenner".to_owned(),
        work: "Werkstück".to_owned(),
        ..HookupNames::default()
    };
    for (text_size, max_width, max_height) in [(8.0, 100.0, 62.0), (11.0, 100.0, 62.0), (11.0, 74.0, 50.0)] {
        let sketch = HookupSketch { names: names.clone(), text_size, max_width, max_height, ..HookupSketch::default() };
        assert_eq!(faults(&hookup(&sketch)), Vec::<String>::new(), "{text_size} {max_width}");
    }
}

/// A compound word is broken at its joint before it stands much smaller than the other names.
#[test]
fn a_compound_name_is_broken_at_its_joint() {
    use super::hookup::{HookupNames, HookupSketch, hookup};
    let names = HookupNames { power_source: "Schweiß\u{ad}stromquelle".to_owned(), ..HookupNames::default() };
    let texts = |max_width| {
        let sketch = HookupSketch { names: names.clone(), max_width, text_size: 8.0, ..HookupSketch::default() };
        let drawing = hookup(&sketch);
        assert_eq!(faults(&drawing), Vec::<String>::new(), "{max_width}");
        let labels = drawing.items.into_iter().filter_map(|item| match item {
            Item::Text(label) if label.bold && label.text.contains('w') | label.text.contains("strom") => Some(label),
            _ => None,
        });
        labels.map(|label| (label.text, label.size)).collect::<Vec<_>>()
    };
    let broken = texts(74.0);
    assert_eq!(broken.iter().map(|(text, _)| text.as_str()).collect::<Vec<_>>(), ["Schweiß-", "stromquelle"]);
    assert!(broken.iter().all(|(_, size)| *size >= 0.8 * 8.0), "{broken:?}");
    let whole = texts(160.0);
    assert_eq!(whole.iter().map(|(text, _)| text.as_str()).collect::<Vec<_>>(), ["Schweißstromquelle"]);
}

#[test]
fn every_position_has_its_picture() {
    use super::position::{Position, PositionSketch, position};
    for symbol in ["PA", "PB", "PC", "PD", "PE", "PF", "PG", "PH", "PJ", "PK", "H-L045", "J-L045", "K-L045"] {
        for (pipe, fillet) in [(false, false), (true, false), (false, true)] {
            let sketch = PositionSketch {
                position: Position::of(symbol).expect(symbol),
                pipe,
                fillet,
                label: Some(symbol.to_owned()),
                ..PositionSketch::default()
            };
            let drawing = position(&sketch);
            assert_eq!(faults(&drawing), Vec::<String>::new(), "{symbol}");
        }
    }
    assert_eq!(Position::of("5G"), None);
}

#[test]
fn fillets_on_both_sides_stand_in_the_picture_of_a_position() {
    use super::position::{Position, PositionSketch, Sides, position};
    for (lap, place) in [(false, Position::Pb), (false, Position::Pd), (true, Position::Pb)] {
        let of = |sides| {
            position(&PositionSketch { position: place, fillet: true, lap, sides, ..PositionSketch::default() })
        };
        let welds = |drawing: &Drawing| {
            let grey = |item: &&Item| matches!(item, Item::Path { fill: Fill::Grey(_), .. });
            drawing.items.iter().filter(grey).count()
        };
        assert_eq!((welds(&of(Sides::One)), welds(&of(Sides::Both))), (1, 2), "{place:?} {lap}");
        assert_eq!(faults(&of(Sides::Both)), Vec::<String>::new());
    }
}

#[test]
fn a_hollow_section_is_drawn_with_its_wall() {
    use super::flare::{FlareSketch, flare};
    let sketch = |wall, bar, both| FlareSketch {
        wall,
        both,
        bar,
        radius: 12.0,
        gap: 0.0,
        depth: Some(6.0),
        labels: [Some("R 12".into()), None, Some("6".into())],
        max_width: 80.0,
        max_height: 50.0,
        text_size: 8.0,
    };
    for (bar, both) in [(false, false), (false, true), (true, false), (true, true)] {
        let (solid, hollow) = (flare(&sketch(None, bar, both)), flare(&sketch(Some(6.0), bar, both)));
        assert_ne!(format!("{solid:?}"), format!("{hollow:?}"), "{bar} {both}");
        assert_eq!(faults(&hollow), Vec::<String>::new(), "{bar} {both}");
    }
}

#[test]
fn long_texts_in_a_small_room_stand_apart() {
    let text = || Some("2–3 mm".to_owned());
    let sketch = JointSketch {
        joint: JointKind::Lap,
        section: Section::Pipe { outside_diameter: 10.0 },
        thickness: [0.5, 0.5],
        labels: JointLabels {
            thickness: [text(), text()],
            leg: [Some(" X/o6U °JRb6V–3Li–w/ IXBT–5dC–b BB".to_owned()), text()],
            throat: text(),
            backing: text(),
            centre_line: Some("pipe centre line".to_owned()),
            ..JointLabels::default()
        },
        max_width: 53.482_092_182_400_73,
        max_height: 50.033_845_425_614_21,
        ..JointSketch::default()
    };
    let drawing = super::groove::joint(&sketch);
    assert_eq!(faults(&drawing), Vec::<String>::new());
    assert!(drawing.width <= sketch.max_width && drawing.height <= sketch.max_height);
}

/// Directions of the straight lines of a drawing that are longer than `least` mm, degrees from the upright.
fn leans(drawing: &Drawing, least: f64) -> Vec<f64> {
    let mut leans = Vec::new();
    for item in &drawing.items {
        if let Item::Path { segments, .. } = item {
            for (from, to) in flatten(segments) {
                let (dx, dy) = (to.0 - from.0, to.1 - from.1);
                if dx.hypot(dy) > least {
                    leans.push((dx / dy.abs().max(1e-9)).atan().to_degrees().abs());
                }
            }
        }
    }
    leans
}

#[test]
fn angles_are_drawn_as_they_are_given() {
    use super::torch::{TorchSketch, travel};
    use super::tungsten::{Tip, TipSketch, tip};
    let sketch = TipSketch {
        tip: Tip::Ground { included_angle: 36.0, flat: 0.4 },
        angle_label: Some("36°".to_owned()),
        ..TipSketch::default()
    };
    let flanks = leans(&tip(&sketch), 8.0).into_iter().filter(|lean| (lean - 18.0).abs() < 0.01).count();
    assert!(flanks >= 4, "two flanks and their two lines beyond the tip, found {flanks}");
    for angle in [0.0, 9.0, 22.0] {
        let drawing = travel(&TorchSketch { travel_angle: angle, ..TorchSketch::default() });
        // The shoulders of the nozzle lie along the axis.
        assert!(leans(&drawing, 3.0).iter().any(|lean| (lean - angle).abs() < 0.01), "{angle}");
    }
    // A V of 65° has flanks at 32.5° from the upright; a bevel of 45° one at 45°.
    for (preparation, angle, lean) in [(Preparation::SingleV, 65.0, 32.5), (Preparation::SingleBevel, 45.0, 45.0)] {
        let drawing = super::groove::joint(&JointSketch {
            preparation: Some(preparation),
            angle,
            gap: 2.0,
            ..JointSketch::default()
        });
        assert!(leans(&drawing, 5.0).iter().any(|found| (found - lean).abs() < 0.01), "{preparation:?}");
    }
}

fn words() -> impl Strategy<Value = Option<String>> {
    prop_oneof![
        Just(None),
        Just(Some("2–3 mm".to_owned())),
        Just(Some("1/16–1/8 in (1.6–3.2 mm)".to_owned())),
        "[a-zA-Z0-9 °–/]{1,40}".prop_map(Some),
    ]
}

fn labels() -> impl Strategy<Value = JointLabels> {
    proptest::collection::vec(words(), 12).prop_map(|texts| {
        let mut texts = texts.into_iter();
        let mut next = || texts.next().flatten();
        JointLabels {
            thickness: [next(), next()],
            diameter: next(),
            centre_line: Some("pipe centre line".to_owned()),
            angle: next(),
            gap: next(),
            root_face: next(),
            radius: next(),
            depth: next(),
            leg: [next(), next()],
            throat: next(),
            backing: next(),
            gas: Some("gas".to_owned()),
        }
    })
}

prop_compose! {
    fn joints()(
        joint in prop_oneof![
            Just(JointKind::Butt), Just(JointKind::Tee), Just(JointKind::Lap), Just(JointKind::Corner), Just(JointKind::Edge)
        ],
        preparation in proptest::option::of(proptest::sample::select(PREPARATIONS.to_vec())),
        pipe in proptest::option::of(10.0..900.0_f64),
        thickness in [0.5..60.0_f64, 0.5..60.0_f64],
        angle in 5.0..90.0_f64,
        gap in prop_oneof![Just(0.0), 0.0..8.0_f64],
        root_face in 0.0..6.0_f64,
        radius in 2.0..10.0_f64,
        depth in proptest::option::of(1.0..30.0_f64),
        backing in prop_oneof![
            Just(Backing::None), Just(Backing::Strip), Just(Backing::Gas), Just(Backing::Ceramic), Just(Backing::Flux)
        ],
        fillet in proptest::option::of((1.0..20.0_f64, 1.0..20.0_f64, any::<bool>())),
        count in 0_usize..41,
        second in 1_usize..60,
        labels in labels(),
        room in (40.0..200.0_f64, 35.0..120.0_f64),
    ) -> JointSketch {
        JointSketch {
            joint,
            preparation,
            section: pipe.map_or(Section::Plate, |outside_diameter| Section::Pipe { outside_diameter }),
            thickness,
            angle,
            gap,
            root_face,
            radius,
            depth,
            backing,
            fillet: fillet.map(|(a, b, both_sides)| FilletSize { legs: [a, b], both_sides }),
            runs: numbered(count, second),
            labels,
            max_width: room.0,
            max_height: room.1,
            ..JointSketch::default()
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn any_joint_is_drawn_clean(sketch in joints()) {
        for drawing in [super::groove::joint(&sketch), bead::runs(&sketch)] {
            let faults = faults(&drawing);
            prop_assert!(faults.is_empty(), "{faults:#?}");
            prop_assert!(drawing.width <= sketch.max_width + 1e-6 && drawing.height <= sketch.max_height + 1e-6);
        }
    }

    #[test]
    fn any_joint_is_filled_without_overlap(sketch in joints()) {
        let beads = bead::beads(&sketch);
        if let Err(fault) = sound(&beads, &sketch) {
            prop_assert!(false, "{fault}");
        }
    }

    #[test]
    fn any_torch_and_tip_is_drawn_clean(
        kind in 0..3_usize,
        pointing in 0..3_usize,
        seam in 0..3_usize,
        angles in (0.0..45.0_f64, 20.0..90.0_f64, proptest::option::of(5.0..45.0_f64)),
        sizes in (2.0..20.0_f64, 0.5..6.4_f64, 0.0..20.0_f64, 10.0..120.0_f64, 0.0..2.0_f64),
        gas_lens in any::<bool>(),
        texts in proptest::collection::vec(words(), 10),
        room in (35.0..150.0_f64, 30.0..120.0_f64),
    ) {
        use super::torch::{Pointing, Seam, TorchKind, TorchLabels, TorchSketch, travel, work};
        use super::tungsten::{NozzleSketch, Tip, TipSketch, nozzle, tip};
        let torch = TorchSketch {
            kind: [TorchKind::Tungsten, TorchKind::Wire, TorchKind::Electrode][kind],
            pointing: [None, Some(Pointing::Push), Some(Pointing::Drag)][pointing],
            seam: [Seam::Butt, Seam::Tee, Seam::Lap][seam],
            travel_angle: angles.0,
            work_angle: angles.1,
            filler_angle: angles.2,
            labels: TorchLabels {
                travel_angle: texts[0].clone(),
                work_angle: texts[1].clone(),
                filler_angle: texts[2].clone(),
                distance: texts[3].clone(),
                travel: Some("travel, push".to_owned()),
            },
            max_width: room.0,
            max_height: room.1,
            text_size: 8.0,
        };
        let point = TipSketch {
            diameter: sizes.1,
            tip: if gas_lens { Tip::Ground { included_angle: sizes.3, flat: sizes.4 } } else { Tip::Balled },
            diameter_label: texts[4].clone(),
            angle_label: texts[5].clone(),
            flat_label: texts[6].clone(),
            max_width: room.0,
            max_height: room.1,
            text_size: 8.0,
        };
        let mouth = NozzleSketch {
            bore: sizes.0,
            diameter: sizes.1,
            stickout: sizes.2,
            included_angle: sizes.3,
            gas_lens,
            bore_label: texts[7].clone(),
            stickout_label: texts[8].clone(),
            nozzle_label: texts[9].clone(),
            lens_label: Some("gas lens".to_owned()),
            max_width: room.0,
            max_height: room.1,
            text_size: 8.0,
        };
        for drawing in [travel(&torch), work(&torch), tip(&point), nozzle(&mouth)] {
            let faults = faults(&drawing);
            prop_assert!(faults.is_empty(), "{faults:#?}");
            prop_assert!(drawing.width <= room.0 + 1e-6 && drawing.height <= room.1 + 1e-6);
        }
    }

    #[test]
    fn any_hook_up_is_drawn_clean(
        choice in (0..4_usize, 0..3_usize, 0..3_usize, 0..3_usize, 0..4_usize),
        flags in (any::<bool>(), any::<bool>(), any::<bool>()),
        texts in proptest::collection::vec(words(), 3),
        room in (60.0..190.0_f64, 50.0..160.0_f64),
        text_size in 7.0..14.0_f64,
    ) {
        use super::hookup::{ArcCarrier, ArcStart, GasPath, HookupNames, HookupSketch, Polarity, Remote, hookup};
        let sketch = HookupSketch {
            carrier: [ArcCarrier::Tungsten, ArcCarrier::Electrode, ArcCarrier::Wire, ArcCarrier::SelfShieldedWire][choice.0],
            polarity: [Polarity::ElectrodeNegative, Polarity::ElectrodePositive, Polarity::Alternating][choice.1],
            gas: [GasPath::None, GasPath::Solenoid, GasPath::TorchValve][choice.2],
            remote: [Remote::None, Remote::FootPedal, Remote::TorchSwitch][choice.3],
            arc_start: [ArcStart::Unsaid, ArcStart::HighFrequency, ArcStart::Lift, ArcStart::Scratch][choice.4],
            water_cooler: flags.0,
            separate_feeder: flags.1,
            words: if flags.2 { texts.iter().flatten().cloned().collect() } else { Vec::new() },
            names: HookupNames {
                gas: texts[0].clone().unwrap_or_else(|| "shielding gas, regulator with flow meter".to_owned()),
                power_source: texts[1].clone().unwrap_or_else(|| "power source".to_owned()),
                torch: texts[2].clone().unwrap_or_else(|| "electrode holder".to_owned()),
                holder: "holder".to_owned(),
                work: "work".to_owned(),
                work_clamp: "work clamp".to_owned(),
                valve: "valve".to_owned(),
                wire_feeder: "wire feeder".to_owned(),
                foot_pedal: "foot pedal".to_owned(),
                torch_switch: "torch switch".to_owned(),
                water_cooler: "water cooler".to_owned(),
            },
            max_width: room.0,
            max_height: room.1,
            text_size,
        };
        let drawing = hookup(&sketch);
        let faults = faults(&drawing);
        prop_assert!(faults.is_empty(), "{faults:#?}");
        prop_assert!(drawing.width <= room.0 + 1e-6 && drawing.height <= room.1 + 1e-6);
    }

    #[test]
    fn any_symbol_is_drawn_clean(
        welds in proptest::collection::vec(0..15_usize, 2),
        sides in (any::<bool>(), any::<bool>()),
        flags in (any::<bool>(), any::<bool>(), any::<bool>()),
        texts in proptest::collection::vec(words(), 9),
        room in (25.0..120.0_f64, 20.0..60.0_f64),
    ) {
        use super::symbol::{Elementary, SideSymbol, SymbolSketch, SymbolStandard, symbol};
        let all = [
            Elementary::Fillet, Elementary::Square, Elementary::V, Elementary::Bevel, Elementary::U, Elementary::J,
            Elementary::Edge, Elementary::BackingRun, Elementary::Backing, Elementary::Plug, Elementary::Surfacing,
            Elementary::FlareV, Elementary::FlareBevel, Elementary::Spot, Elementary::RootReinforcement,
        ];
        let side = |index: usize| SideSymbol {
            size: texts[index * 4].clone(),
            length: texts[index * 4 + 1].clone(),
            gap: texts[index * 4 + 2].clone(),
            angle: texts[index * 4 + 3].clone(),
            inside: None,
            fillet: None,
            contour: flags.2.then_some(Contour::Convex),
            weld: all[welds[index]],
        };
        let sketch = SymbolSketch {
            standard: if flags.0 { SymbolStandard::Iso2553A } else { SymbolStandard::AwsA24 },
            arrow_side: sides.0.then(|| side(0)),
            other_side: sides.1.then(|| side(1)),
            all_around: flags.1,
            site: flags.2,
            tail: texts[8].clone(),
            max_width: room.0,
            max_height: room.1,
            text_size: 8.0,
        };
        let drawing = symbol(&sketch);
        let faults = faults(&drawing);
        prop_assert!(faults.is_empty(), "{faults:#?}");
    }

    #[test]
    fn any_constitution_diagram_is_drawn_clean(
        lines in proptest::collection::vec(((17.0..31.0_f64, 9.0..18.0_f64), (17.0..40.0_f64, 9.0..30.0_f64)), 0..20),
        points in proptest::collection::vec(((0.0..40.0_f64, 0.0..30.0_f64), "[a-zA-Z0-9 ]{1,24}", any::<bool>()), 0..4),
        room in (50.0..180.0_f64, 45.0..120.0_f64),
    ) {
        use super::ferrite::{FerriteLine, FerritePoint, FerriteSketch, ferrite};
        let sketch = FerriteSketch {
            lines: lines
                .into_iter()
                .enumerate()
                .map(|(number, (a, b))| FerriteLine { points: vec![a, b], label: number.to_string() })
                .collect(),
            points: points.into_iter().map(|(at, label, main)| FerritePoint { at, label, main }).collect(),
            chromium_label: "chromium equivalent, %".to_owned(),
            nickel_label: "nickel equivalent, %".to_owned(),
            max_width: room.0,
            max_height: room.1,
            ..FerriteSketch::default()
        };
        let drawing = ferrite(&sketch);
        let faults = faults(&drawing);
        prop_assert!(faults.is_empty(), "{faults:#?}");
    }

    #[test]
    fn nothing_stops_on_numbers_that_are_none(
        numbers in proptest::collection::vec(prop_oneof![Just(f64::NAN), Just(f64::INFINITY), Just(-1e300), Just(0.0), Just(1e300)], 8),
        preparation in proptest::sample::select(PREPARATIONS.to_vec()),
    ) {
        let sketch = JointSketch {
            preparation: Some(preparation),
            thickness: [numbers[0], numbers[1]],
            angle: numbers[2],
            gap: numbers[3],
            root_face: numbers[4],
            radius: numbers[5],
            max_width: numbers[6],
            max_height: numbers[7],
            runs: numbered(5, 9),
            ..JointSketch::default()
        };
        for drawing in [super::groove::joint(&sketch), bead::runs(&sketch)] {
            let faults = faults(&drawing);
            prop_assert!(faults.is_empty(), "{faults:#?}");
        }
    }
}
