//! The lines of a symbol held against the rules of ISO 2553:2019 and AWS A2.4:2020. The rules are from memory; each says which.

use super::*;
use crate::drawing::Item;
use crate::path::flatten;
use crate::text::text_box;

type Line = (Point, Point);

/// What a drawing holds: solid lines, dashed lines, black areas, and texts with where their middles are.
struct Drawn {
    solid: Vec<Vec<Line>>,
    dashed: Vec<Line>,
    black: Vec<Vec<Line>>,
    texts: Vec<(String, Point)>,
}

fn drawn(sketch: &SymbolSketch) -> Drawn {
    let mut found = Drawn { solid: Vec::new(), dashed: Vec::new(), black: Vec::new(), texts: Vec::new() };
    for item in symbol(sketch).items {
        match item {
            Item::Path { segments, fill: Fill::Black, .. } => found.black.push(flatten(&segments)),
            Item::Path { segments, stroke: Some(Stroke { dash: Some(_), .. }), .. } => {
                found.dashed.extend(flatten(&segments));
            }
            Item::Path { segments, .. } => found.solid.push(flatten(&segments)),
            Item::Text(label) => {
                let at = text_box(&label);
                found.texts.push((label.text, (f64::midpoint(at.left, at.right), f64::midpoint(at.top, at.bottom))));
            }
        }
    }
    found
}

impl Drawn {
    /// The reference line: the longest level line.
    fn reference(&self) -> Line {
        let level = self.solid.iter().flatten().filter(|(a, b)| (a.1 - b.1).abs() < 1e-6);
        *level.max_by(|one, other| length(**one).total_cmp(&length(**other))).expect("a reference line")
    }

    fn text(&self, text: &str) -> Point {
        let found: Vec<_> = self.texts.iter().filter(|(own, _)| own == text).collect();
        assert_eq!(found.len(), 1, "{text} stands once");
        found[0].1
    }

    /// The strokes of the elementary symbols: what stands over the middle of the line, the line itself apart.
    fn strokes(&self) -> Vec<&Vec<Line>> {
        let (from, to) = self.reference();
        let (left, right) = (from.0.min(to.0), from.0.max(to.0));
        let inside = |path: &&Vec<Line>| {
            path.iter().all(|(a, b)| [a, b].iter().all(|at| at.0 > left + 1.5 && at.0 < right - 1.5))
        };
        self.solid.iter().filter(inside).collect()
    }

    /// How far the symbols reach over the line (negative) and under it.
    fn reach(&self) -> (f64, f64) {
        let line = self.reference().0.1;
        let all = || self.strokes().into_iter().flatten().flat_map(|(a, b)| [a.1 - line, b.1 - line]);
        (all().fold(0.0, f64::min), all().fold(0.0, f64::max))
    }
}

fn length((a, b): Line) -> f64 {
    (a.0 - b.0).hypot(a.1 - b.1)
}

const ALL: [Elementary; 14] = [
    Elementary::Fillet,
    Elementary::Square,
    Elementary::V,
    Elementary::Bevel,
    Elementary::U,
    Elementary::J,
    Elementary::Edge,
    Elementary::BackingRun,
    Elementary::Backing,
    Elementary::FlareV,
    Elementary::FlareBevel,
    Elementary::Plug,
    Elementary::Spot,
    Elementary::Surfacing,
];

fn arrow_side(standard: SymbolStandard, weld: Elementary) -> SymbolSketch {
    SymbolSketch { standard, arrow_side: Some(SideSymbol::new(weld)), ..SymbolSketch::default() }
}

/// ISO 2553, system A: the arrow side stands on the solid line, the dashed line under it. AWS A2.4: the arrow side is under the line,
/// the other side over it, and no line is dashed.
#[test]
fn the_side_of_the_arrow_is_told_by_the_line() {
    for weld in ALL {
        let iso = drawn(&arrow_side(SymbolStandard::Iso2553A, weld));
        let (over, under) = iso.reach();
        assert!(over < -1.0 && under < 1e-6, "{weld:?}: {over} {under}");
        let line = iso.reference().0.1;
        assert!(!iso.dashed.is_empty() && iso.dashed.iter().all(|(a, b)| a.1 > line && b.1 > line), "{weld:?}");

        let aws = drawn(&arrow_side(SymbolStandard::AwsA24, weld));
        let (over, under) = aws.reach();
        assert!(under > 1.0 && over > -1e-6, "{weld:?}: {over} {under}");
        assert!(aws.dashed.is_empty());

        let other = |standard| SymbolSketch {
            arrow_side: None,
            other_side: Some(SideSymbol::new(weld)),
            ..arrow_side(standard, weld)
        };
        let iso = drawn(&other(SymbolStandard::Iso2553A));
        // On the dashed line, from which it points away.
        assert!(iso.reach().0 > -1e-6 && iso.reach().1 > 1.0, "{weld:?}");
        let dashed = iso.dashed[0].0.1;
        assert!(iso.strokes().into_iter().flatten().all(|(a, b)| a.1.min(b.1) > dashed - 1e-6), "{weld:?}");
        let aws = drawn(&other(SymbolStandard::AwsA24));
        assert!(aws.reach().0 < -1.0 && aws.reach().1 < 1e-6 && aws.dashed.is_empty(), "{weld:?}");
    }
}

/// ISO 2553, system A: a weld that is alike on both sides has no dashed line; one that differs keeps it.
#[test]
fn alike_sides_have_no_dashed_line() {
    let both = |first, second| SymbolSketch {
        other_side: Some(SideSymbol::new(second)),
        ..arrow_side(SymbolStandard::Iso2553A, first)
    };
    for weld in [Elementary::V, Elementary::Fillet, Elementary::Square, Elementary::U] {
        let alike = drawn(&both(weld, weld));
        let (over, under) = alike.reach();
        assert!(alike.dashed.is_empty() && (over + under).abs() < 1e-6 && under > 1.0, "{weld:?}: {over} {under}");
    }
    assert!(!drawn(&both(Elementary::V, Elementary::BackingRun)).dashed.is_empty());
}

/// Both standards: fillet, bevel and J have their upright at the left, on either side of the line; the bevel leans to the right.
#[test]
fn the_upright_is_at_the_left() {
    for standard in [SymbolStandard::Iso2553A, SymbolStandard::AwsA24] {
        for weld in [Elementary::Fillet, Elementary::Bevel, Elementary::J, Elementary::FlareBevel] {
            for other in [false, true] {
                let mut sketch = arrow_side(standard, weld);
                if other {
                    std::mem::swap(&mut sketch.arrow_side, &mut sketch.other_side);
                }
                let found = drawn(&sketch);
                let lines: Vec<Line> = found.strokes().into_iter().flatten().copied().collect();
                let upright = lines.iter().find(|(a, b)| (a.0 - b.0).abs() < 1e-6 && (a.1 - b.1).abs() > 1.0);
                let upright = upright.expect("an upright").0.0;
                let most = lines.iter().flat_map(|(a, b)| [a.0, b.0]);
                assert!(
                    most.clone().all(|x| x > upright - 1e-6) && most.fold(0.0, f64::max) > upright + 1.0,
                    "{weld:?}"
                );
            }
        }
    }
}

/// Both standards: the size stands left of the symbol, the length right of it, gap and angle at its opening, on its own side.
#[test]
fn sizes_stand_left_and_lengths_right() {
    for standard in [SymbolStandard::Iso2553A, SymbolStandard::AwsA24] {
        for other in [false, true] {
            let mut sketch = arrow_side(standard, Elementary::V);
            sketch.arrow_side = Some(SideSymbol {
                size: Some("s6".into()),
                length: Some("40".into()),
                gap: Some("2".into()),
                angle: Some("60°".into()),
                ..SideSymbol::new(Elementary::V)
            });
            if other {
                std::mem::swap(&mut sketch.arrow_side, &mut sketch.other_side);
            }
            let found = drawn(&sketch);
            let xs: Vec<f64> = found.strokes().into_iter().flatten().flat_map(|(a, b)| [a.0, b.0]).collect();
            let (left, right) =
                (xs.iter().copied().fold(f64::INFINITY, f64::min), xs.iter().copied().fold(0.0, f64::max));
            assert!(found.text("s6").0 < left && found.text("40").0 > right);
            let line = found.reference().0.1;
            let (over, under) = found.reach();
            let side = if under > -over { 1.0 } else { -1.0 };
            let reach = under.max(-over);
            let away = |text: &str| (found.text(text).1 - line) * side;
            assert!(away("s6") > 0.0 && away("40") > 0.0, "on the side of the symbol");
            assert!(away("2") > reach && away("60°") > away("2"), "the gap next to the opening, the angle beyond it");
        }
    }
}

/// Both standards: all around is a circle and a site weld a flag where arrow and reference line meet; the tail is at the other end.
#[test]
fn circle_and_flag_are_where_the_arrow_begins_and_the_tail_is_opposite() {
    for standard in [SymbolStandard::Iso2553A, SymbolStandard::AwsA24] {
        let sketch = SymbolSketch {
            all_around: true,
            site: true,
            tail: Some("111".into()),
            ..arrow_side(standard, Elementary::V)
        };
        let found = drawn(&sketch);
        let (from, to) = found.reference();
        let (start, end) = if from.0 < to.0 { (from, to) } else { (to, from) };
        let circle = found.solid.iter().find(|path| {
            path.len() > 6 && path.iter().all(|(a, _)| (length((*a, start)) - length((path[0].0, start))).abs() < 0.02)
        });
        assert!(
            circle.is_some_and(|path| length((path[0].0, start)) < 3.0),
            "a circle about the joint of arrow and line"
        );
        let tip = found.black.iter().flatten().flat_map(|(a, b)| [*a, *b]).min_by(|a, b| a.0.total_cmp(&b.0)).unwrap();
        assert!(tip.0 < start.0 - 3.0 && tip.1 > start.1 + 3.0, "the arrow leads away from the line");
        let flag = found.black.iter().find(|path| path.iter().all(|(a, _)| a.1 < start.1 - 1.0)).expect("a flag");
        assert!(flag.iter().any(|(a, _)| (a.0 - start.0).abs() < 1e-6), "its mast stands where arrow and line meet");
        assert!(found.text("111").0 > end.0, "the tail is opposite to the arrow");
        let fork = found.solid.iter().filter(|path| path.iter().any(|(a, b)| *a == end || *b == end)).count();
        assert!(fork >= 2, "the reference line and the fork of the tail meet");
    }
}

/// Both standards: a single bevel or J has a broken arrow, that points at the member which is prepared.
#[test]
fn one_prepared_member_breaks_the_arrow() {
    let pieces = |weld| {
        let found = drawn(&arrow_side(SymbolStandard::AwsA24, weld));
        let (from, to) = found.reference();
        let start = from.0.min(to.0);
        found.solid.iter().flatten().filter(|(a, b)| a.0.max(b.0) < start + 1e-6).count()
    };
    assert_eq!((pieces(Elementary::Bevel), pieces(Elementary::J)), (3, 3));
    assert_eq!((pieces(Elementary::V), pieces(Elementary::Fillet)), (1, 1));
}

/// ISO 2553: M and MR stand in the rectangle of a backing, AWS A2.4 has R there; the letter is inside its lines.
#[test]
fn the_letter_of_a_backing_stands_inside_it() {
    for letter in ["R", "MR"] {
        for text_size in [6.9, 8.0, 11.0] {
            let mut sketch = arrow_side(SymbolStandard::Iso2553A, Elementary::V);
            sketch.other_side =
                Some(SideSymbol { inside: Some(letter.into()), ..SideSymbol::new(Elementary::Backing) });
            (sketch.max_width, sketch.text_size) = (40.0, text_size);
            let drawing = symbol(&sketch);
            let label = drawing.items.iter().find_map(|item| match item {
                Item::Text(label) if label.text == letter => Some(label),
                _ => None,
            });
            let text = text_box(label.unwrap());
            let found = drawn(&sketch);
            let (from, to) = found.reference();
            let line = from.1.min(to.1);
            let under = |path: &&&Vec<Line>| path.iter().any(|(a, _)| a.1 > line + 1.0);
            let xs: Vec<f64> = found
                .strokes()
                .iter()
                .filter(under)
                .flat_map(|path| path.iter().flat_map(|(a, b)| [a.0, b.0]))
                .collect();
            let (left, right) =
                (xs.iter().copied().fold(f64::INFINITY, f64::min), xs.iter().copied().fold(0.0, f64::max));
            assert!(text.left > left && text.right < right, "{letter} {text_size}: {text:?} in {left} to {right}");
        }
    }
}

/// Both standards: the symbols of a combined weld stand one beyond the other, the groove next to the line.
#[test]
fn the_fillet_of_a_combined_weld_stands_beyond_the_groove() {
    for standard in [SymbolStandard::Iso2553A, SymbolStandard::AwsA24] {
        let mut sketch = arrow_side(standard, Elementary::Bevel);
        let alone = drawn(&sketch).reach();
        sketch.arrow_side = Some(SideSymbol { fillet: Some("6".into()), ..SideSymbol::new(Elementary::Bevel) });
        let found = drawn(&sketch);
        let (over, under) = found.reach();
        assert!(under - over > 1.8 * (alone.1 - alone.0), "{over} {under} against {alone:?}");
        let line = found.reference().0.1;
        let (size, groove) = ((found.text("6").1 - line).abs(), (alone.1 - alone.0).abs());
        assert!(size > groove, "the size stands beside the fillet");
    }
}

/// Both standards: the contour stands beyond gap and angle, along the face of a fillet; convex bulges away from the line.
#[test]
fn the_contour_stands_outermost_and_bulges_outwards() {
    for standard in [SymbolStandard::Iso2553A, SymbolStandard::AwsA24] {
        for other in [false, true] {
            let with = |weld, contour| {
                let mut sketch = arrow_side(standard, weld);
                let angle = (weld == Elementary::V).then(|| "60°".to_owned());
                sketch.arrow_side = Some(SideSymbol { angle, contour, ..SideSymbol::new(weld) });
                if other {
                    std::mem::swap(&mut sketch.arrow_side, &mut sketch.other_side);
                }
                drawn(&sketch)
            };
            let bare = with(Elementary::V, None);
            let line = bare.reference().0.1;
            let side = if bare.text("60°").1 > line { 1.0 } else { -1.0 };
            // Strokes by how far they lie from the reference line, and away from it.
            let strokes = |found: &Drawn| -> Vec<Vec<Point>> {
                let start = found.reference().0;
                let own = |at: Point| (at.0 - start.0, (at.1 - start.1) * side);
                let path = |path: &&Vec<Line>| path.iter().flat_map(|(a, b)| [own(*a), own(*b)]).collect();
                found.strokes().iter().map(path).collect()
            };
            let near = |one: &[Point], other: &[Point]| {
                one.len() == other.len() && one.iter().zip(other).all(|(a, b)| length((*a, *b)) < 0.01)
            };
            // The stroke that the contour adds.
            let added = |weld, contour| {
                let before = strokes(&with(weld, None));
                let all = strokes(&with(weld, Some(contour)));
                all.into_iter().find(|path| !before.iter().any(|own| near(own, path))).expect("a contour")
            };
            let angle = (bare.text("60°").1 - line) * side;
            for (contour, bulge) in [(Contour::Flush, 0.0), (Contour::Convex, 1.0), (Contour::Concave, -1.0)] {
                let points = added(Elementary::V, contour);
                let (end, middle) = (points[0].1, points[points.len() / 2].1);
                assert!(points.iter().all(|at| at.1 > angle), "{contour:?}: beyond the angle");
                assert!(
                    (middle - end) * bulge >= 0.0 && (bulge == 0.0) == ((middle - end).abs() < 1e-6),
                    "{contour:?}"
                );
                let fillet = added(Elementary::Fillet, contour);
                let (first, last) = (fillet[0], fillet[fillet.len() - 1]);
                assert!((first.0 - last.0).abs() > 1.0 && (first.1 - last.1) > 1.0, "{contour:?}: along the slope");
                assert!(fillet.iter().all(|at| at.1 > 0.0), "{contour:?}: on its own side");
            }
        }
    }
}

/// Both standards: what stands through at the root is filled in; a spot is a circle that touches the line on its own side.
#[test]
fn a_root_that_stands_through_is_black_and_a_spot_touches_the_line() {
    for standard in [SymbolStandard::Iso2553A, SymbolStandard::AwsA24] {
        let mut sketch = arrow_side(standard, Elementary::V);
        let plain = drawn(&sketch).black.len();
        sketch.other_side =
            Some(SideSymbol { size: Some("1".into()), ..SideSymbol::new(Elementary::RootReinforcement) });
        let found = drawn(&sketch);
        assert_eq!(found.black.len(), plain + 1);
        assert!(found.text("1").0 < found.black.iter().flatten().map(|(a, _)| a.0).fold(0.0, f64::max));
        let (over, under) = drawn(&arrow_side(standard, Elementary::Spot)).reach();
        assert!(over.abs() < 0.05 || under.abs() < 0.05, "{over} {under}");
        // The circle of a flare is round on both sides of the gap: left and right mirror each other.
        let flare = drawn(&arrow_side(standard, Elementary::FlareV));
        let xs: Vec<f64> = flare.strokes().into_iter().flatten().flat_map(|(a, b)| [a.0, b.0]).collect();
        let (low, high) = (xs.iter().copied().fold(f64::INFINITY, f64::min), xs.iter().copied().fold(0.0, f64::max));
        let middle = f64::midpoint(low, high);
        assert!(xs.iter().all(|x| xs.iter().any(|other| (other - (2.0 * middle - x)).abs() < 0.05)));
    }
}
