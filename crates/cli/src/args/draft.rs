//! Arguments of `draft`.

use std::path::PathBuf;

/// Arguments of `draft`.
#[derive(Debug, clap::Args)]
pub struct DraftArgs {
    /// Process: ISO 4063 number or AWS letters; two, as 141,111, weld the root and the rest.
    #[arg(long)]
    pub process: Option<String>,
    /// Base metal, by any of its names; given twice, the one is welded to the other.
    #[arg(long)]
    pub metal: Vec<String>,
    /// Thickness with its unit, such as 3mm, 1/8in, "16 ga" or "6 in sch 40".
    #[arg(long, allow_hyphen_values = true)]
    pub thickness: Option<String>,
    /// Joint: butt, tee, lap or corner.
    #[arg(long)]
    pub joint: Option<String>,
    /// Position of ISO 6947 or of AWS, such as PA or 3G.
    #[arg(long)]
    pub position: Option<String>,
    /// Outside diameter of a pipe with its unit.
    #[arg(long, allow_hyphen_values = true)]
    pub diameter: Option<String>,
    /// Number of the procedure.
    #[arg(long, value_parser = clap::builder::NonEmptyStringValueParser::new())]
    pub number: Option<String>,
    /// Shop whose machine, filler, torch parts and gas are used.
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
    /// How the root of a butt is held: none, strip, ceramic, or gouge (both sides, the root gouged out).
    #[arg(long)]
    pub backing: Option<String>,
    /// Prequalified detail of AWS D1.1 that a butt is made to, such as B-U2a-GF.
    #[arg(long)]
    pub detail: Option<String>,
    /// The code that the work is under: aws-d1.1, aws-d1.2, aws-d1.3, aws-d1.6, iso-15614-1, iso-15614-2, asme-ix, api-1104.
    #[arg(long)]
    pub code: Option<String>,
    /// Leg of a fillet with its unit.
    #[arg(long, allow_hyphen_values = true)]
    pub leg: Option<String>,
    /// Class of the filler.
    #[arg(long)]
    pub filler: Option<String>,
    /// Diameter of the filler, wire or electrode with its unit.
    #[arg(long, allow_hyphen_values = true, value_name = "DIAMETER")]
    pub filler_diameter: Option<String>,
    /// Shielding gas by its symbol, such as M21.
    #[arg(long)]
    pub gas: Option<String>,
    /// The machine of the shop that is to weld.
    #[arg(long, requires = "shop")]
    pub machine: Option<String>,
    /// Ask for what is not given, with choices and defaults, and for the file to write.
    #[arg(long)]
    pub interactive: bool,
    /// Draft a lesson that teaches this procedure.
    #[arg(long, value_name = "PROCEDURE", conflicts_with_all = ["process", "metal", "thickness", "joint", "position", "interactive", "shop_file"])]
    pub lesson: Option<PathBuf>,
    /// Draft the test record of this procedure: its coupon, the specimens that the code asks for, the bend former.
    #[arg(long, value_name = "PROCEDURE", conflicts_with_all = ["process", "metal", "thickness", "joint", "position", "interactive", "shop_file", "lesson"])]
    pub record: Option<PathBuf>,
    /// Learners of the lesson.
    #[arg(long, requires = "lesson", default_value_t = 12, value_parser = clap::value_parser!(u32).range(1..=200))]
    pub learners: u32,
    /// Booths of the lesson.
    #[arg(long, requires = "lesson", default_value_t = 6, value_parser = clap::value_parser!(u32).range(1..=200))]
    pub booths: u32,
    /// Draft a shop file; asks for machines, torches, stock and rates.
    #[arg(long, conflicts_with_all = ["process", "metal", "thickness", "joint", "position"])]
    pub shop_file: bool,
}
