//! The sizes of a sketch, cut to what can be drawn.

use seamwright_calc::Flank;
use seamwright_model::procedure::Preparation;

use crate::canvas::sane;
use crate::sketch::joint_sketch::{Backing, FilletSize, JointKind, JointSketch, Section};

/// Steps of the round part of a U or J flank.
pub(super) const ROUND: u32 = 14;

/// The sizes of a sketch, cut to what can be drawn.
#[derive(Debug, Clone)]
pub(in crate::sketch) struct Sizes {
    pub(in crate::sketch) joint: JointKind,
    pub(in crate::sketch) preparation: Option<Preparation>,
    pub(in crate::sketch) thickness: [f64; 2],
    /// Half the included angle of V and U, the bevel angle of bevel and J, radians.
    pub(super) flank_angle: f64,
    pub(super) half_gap: f64,
    pub(super) root_face: f64,
    pub(super) radius: f64,
    pub(super) depth: Option<f64>,
    pub(in crate::sketch) backing: Backing,
    /// The wall of a pipe.
    pub(in crate::sketch) pipe: bool,
    pub(in crate::sketch) fillet: Option<FilletSize>,
    pub(super) reinforcement: Option<f64>,
    pub(super) root_penetration: Option<f64>,
    /// A run from the other side of a joint prepared from one.
    pub(super) back_run: bool,
}

impl Sizes {
    pub(in crate::sketch) fn of(sketch: &JointSketch) -> Self {
        let thickness = sketch.thickness.map(|value| sane(value, 0.3, 500.0, 10.0));
        let thin = thickness[0].min(thickness[1]);
        let preparation = sketch.preparation;
        let one_flank = matches!(sketch.joint, JointKind::Tee | JointKind::Corner);
        let included = matches!(
            preparation,
            Some(Preparation::SingleV | Preparation::DoubleV | Preparation::SingleU | Preparation::DoubleU)
        );
        // A V against the side of another plate has its whole angle on the one edge.
        let share = if included && !one_flank { 0.5 } else { 1.0 };
        let flank_angle = sane(sketch.angle * share, 0.0, 75.0, 30.0).to_radians();
        let fillet = sketch.fillet.map(|fillet| FilletSize {
            legs: fillet.legs.map(|leg| sane(leg, 0.2, 300.0, 3.0)),
            both_sides: fillet.both_sides,
        });
        let fillet = fillet.map(|fillet| match sketch.joint {
            // A leg cannot be longer than the edge that it lies on.
            JointKind::Lap => FilletSize { legs: [fillet.legs[0].min(thickness[0]), fillet.legs[1]], ..fillet },
            JointKind::Corner if preparation.is_none() => {
                FilletSize { legs: [fillet.legs[0].min(thickness[1]), fillet.legs[1].min(thickness[0])], ..fillet }
            }
            _ => fillet,
        });
        let mut half_gap = sane(sketch.gap, 0.0, 60.0, 0.0) / 2.0;
        if let (Some(fillet), None) = (fillet, preparation) {
            half_gap = half_gap.min(fillet.legs[0] * 0.3);
        }
        let square = matches!(preparation, None | Some(Preparation::Square));
        Self {
            joint: sketch.joint,
            preparation,
            thickness,
            flank_angle,
            half_gap,
            root_face: if square { thin } else { sane(sketch.root_face, 0.0, thin * 0.95, 0.0) },
            radius: sane(sketch.radius, 0.0, thin, 0.0),
            depth: sketch.depth.map(|depth| sane(depth, thin * 0.05, thin, thin)).filter(|depth| *depth < thin * 0.999),
            backing: sketch.backing,
            pipe: matches!(sketch.section, Section::Pipe { .. }),
            fillet,
            reinforcement: sketch.reinforcement.map(|value| sane(value, 0.0, 20.0, 1.0)),
            root_penetration: sketch.root_penetration.map(|value| sane(value, 0.0, 10.0, 0.8)),
            back_run: sketch.runs.iter().any(|run| run.second_side),
        }
    }

    /// A fillet with no groove under it.
    pub(in crate::sketch) fn is_fillet(&self) -> bool {
        self.fillet.is_some()
            && (matches!(self.joint, JointKind::Lap)
                || (self.preparation.is_none() && matches!(self.joint, JointKind::Tee | JointKind::Corner)))
            || self.joint == JointKind::Lap
    }

    pub(super) fn thin(&self) -> f64 {
        self.thickness[0].min(self.thickness[1])
    }

    /// The flank of a member: the first has it always, the second in V and U only.
    pub(super) fn flank(&self, member: usize) -> Flank {
        let both = matches!(
            self.preparation,
            Some(Preparation::SingleV | Preparation::DoubleV | Preparation::SingleU | Preparation::DoubleU)
        ) && !matches!(self.joint, JointKind::Tee | JointKind::Corner);
        if member == 1 && !both {
            return Flank::UPRIGHT;
        }
        match self.preparation {
            // Rounded members are not drawn in section.
            None | Some(Preparation::Square | Preparation::FlareV | Preparation::FlareBevel) => Flank::UPRIGHT,
            Some(Preparation::SingleV | Preparation::DoubleV | Preparation::SingleBevel | Preparation::DoubleBevel) => {
                Flank::Straight(self.flank_angle)
            }
            Some(Preparation::SingleU | Preparation::DoubleU | Preparation::SingleJ | Preparation::DoubleJ) => {
                Flank::Round { angle: self.flank_angle, radius: self.radius }
            }
        }
    }

    /// Length of the lower plate under the upper one of a lap joint.
    pub(super) fn overlap(&self) -> f64 {
        let legs = self.fillet.map_or(0.0, |fillet| if fillet.both_sides { fillet.legs[1] } else { 0.0 });
        2.5 * self.thin() + 1.2 * legs
    }
}

pub(super) fn backing_size(sizes: &Sizes) -> (f64, f64) {
    let thin = sizes.thin();
    let width = sizes.half_gap + (0.9 * thin).clamp(2.0, 14.0);
    let height =
        if sizes.backing == Backing::Gas { (0.8 * thin).clamp(2.5, 10.0) } else { (0.45 * thin).clamp(1.5, 6.0) };
    (width, height)
}

pub(super) fn root_level(sizes: &Sizes) -> f64 {
    if sizes.preparation.is_some_and(Preparation::is_double) { -sizes.thin() / 2.0 } else { 0.0 }
}

pub(super) fn hollow(sizes: &Sizes) -> f64 {
    (0.12 * sizes.thin()).clamp(0.4, 1.4)
}

/// Half the width that the root run melts at the least: edges that touch are fused too.
pub(super) fn least_root(sizes: &Sizes) -> f64 {
    (0.12 * sizes.thin()).clamp(0.3, 1.0)
}

pub(super) fn root_width(sizes: &Sizes) -> f64 {
    sizes.half_gap.max(least_root(sizes))
}
