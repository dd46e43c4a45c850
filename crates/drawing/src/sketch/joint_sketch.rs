//! A joint to be drawn: how its members meet, are prepared, backed and filled.

use seamwright_model::procedure::Preparation;

/// How the members meet (ISO 17659, AWS A3.0).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum JointKind {
    /// In one plane.
    #[default]
    Butt,
    /// One stands on the other.
    Tee,
    /// One over the other.
    Lap,
    /// An angle; with a fillet the members touch at their inner edges, with a groove their outer faces are flush.
    Corner,
    /// Face to face, edges level.
    Edge,
}

/// What is cut through.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum Section {
    /// Plate.
    #[default]
    Plate,
    /// The wall of a pipe, with its centre line.
    Pipe {
        /// Outside diameter, mm.
        outside_diameter: f64,
    },
}

/// What holds the root (ISO 15609-1, AWS A3.0).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Backing {
    /// Nothing, or weld metal from the other side.
    #[default]
    None,
    /// A strip of metal that is fused to the root.
    Strip,
    /// Gas kept at the root by a channel, or by dams in a pipe.
    Gas,
    /// A ceramic bar with a hollow for the root.
    Ceramic,
    /// A bed of flux.
    Flux,
}

/// The size of a fillet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilletSize {
    /// Legs, mm: on the standing or upper member, and on the other.
    pub legs: [f64; 2],
    /// A fillet of the same size on the other side too.
    pub both_sides: bool,
}

impl FilletSize {
    /// A fillet of equal legs between members at right angles, from its throat in mm: a leg is the throat times √2.
    pub fn from_throat(throat: f64, both_sides: bool) -> Self {
        let leg = throat * std::f64::consts::SQRT_2;
        Self { legs: [leg, leg], both_sides }
    }
}

/// Where a run lies in the joint.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Layer {
    /// The root.
    Root,
    /// On the root.
    Hot,
    /// Between root and cap.
    #[default]
    Fill,
    /// The face: all of a side lie side by side.
    Cap,
    /// Put in from the other side, before or after the joint is filled.
    Backing,
    /// The only run of its side.
    Single,
}

/// A run as a bead in the joint.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RunBead {
    /// Number in the order of welding.
    pub label: String,
    /// Where it lies.
    pub layer: Layer,
    /// Its part of the joint area, as a share or as an area: only the proportion counts. Shared out by layer where absent.
    pub share: Option<f64>,
    /// Welded from the other side.
    pub second_side: bool,
}

/// The texts of the dimensions, ready to print; what is absent is not dimensioned.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct JointLabels {
    /// Thickness of the first (left, standing, upper) and of the second member.
    pub thickness: [Option<String>; 2],
    /// Outside diameter.
    pub diameter: Option<String>,
    /// What the centre line of a pipe is called.
    pub centre_line: Option<String>,
    /// Angle of the groove: included angle of V and U, bevel angle of bevel and J.
    pub angle: Option<String>,
    /// Gap at the root.
    pub gap: Option<String>,
    /// Depth of the root face.
    pub root_face: Option<String>,
    /// Radius of U and J.
    pub radius: Option<String>,
    /// Depth of the groove of a weld of partial penetration.
    pub depth: Option<String>,
    /// Legs of the fillet: on the first and on the second member.
    pub leg: [Option<String>; 2],
    /// Throat of the fillet.
    pub throat: Option<String>,
    /// What the backing is.
    pub backing: Option<String>,
    /// What a purge is called.
    pub gas: Option<String>,
}

/// A joint to be drawn. Lengths in mm, angles in degrees.
#[derive(Debug, Clone, PartialEq)]
pub struct JointSketch {
    /// How the members meet.
    pub joint: JointKind,
    /// How their edges are prepared.
    pub preparation: Option<Preparation>,
    /// Plate or pipe.
    pub section: Section,
    /// Thickness of the first (left, standing, upper) and of the second member.
    pub thickness: [f64; 2],
    /// Included angle of V and U, bevel angle of bevel and J.
    pub angle: f64,
    /// Gap at the root.
    pub gap: f64,
    /// Depth of the root face.
    pub root_face: f64,
    /// Radius at the root of U and J.
    pub radius: f64,
    /// Depth of the groove where the weld is of partial penetration.
    pub depth: Option<f64>,
    /// What holds the root.
    pub backing: Backing,
    /// The fillet, alone or on a groove of a tee joint.
    pub fillet: Option<FilletSize>,
    /// Height of the cap over the surface; a usual height where absent.
    pub reinforcement: Option<f64>,
    /// Depth of the root below the surface; a usual depth where absent.
    pub root_penetration: Option<f64>,
    /// The runs in the order of welding.
    pub runs: Vec<RunBead>,
    /// The texts of the dimensions.
    pub labels: JointLabels,
    /// Widest drawing, mm.
    pub max_width: f64,
    /// Highest drawing, mm.
    pub max_height: f64,
    /// Size of the type, pt.
    pub text_size: f64,
}

impl Default for JointSketch {
    fn default() -> Self {
        Self {
            joint: JointKind::Butt,
            preparation: None,
            section: Section::Plate,
            thickness: [10.0, 10.0],
            angle: 60.0,
            gap: 0.0,
            root_face: 0.0,
            radius: 6.0,
            depth: None,
            backing: Backing::None,
            fillet: None,
            reinforcement: None,
            root_penetration: None,
            runs: Vec::new(),
            labels: JointLabels::default(),
            max_width: 80.0,
            max_height: 70.0,
            text_size: 8.0,
        }
    }
}
