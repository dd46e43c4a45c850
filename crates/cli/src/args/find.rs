//! Arguments of `find`.

use std::path::PathBuf;

use seamwright_model::procedure::{JointType, WeldType};
use seamwright_model::quantity::{Length, Range};

use super::{Form, words};

/// Arguments of `find`.
#[derive(Debug, clap::Args)]
pub struct FindArgs {
    /// Files, folders (walked for *.yaml) or - for standard input.
    #[arg(required = true)]
    pub paths: Vec<PathBuf>,
    /// Metal, by any name that the handbook knows.
    #[arg(long)]
    pub metal: Option<String>,
    /// Metal that it is joined to, where that is another one.
    #[arg(long, requires = "metal")]
    pub to: Option<String>,
    /// Thickness: with its unit, as the gauge of a sheet (`16 ga`) or as a pipe (`6 in sch 40`).
    #[arg(long, allow_hyphen_values = true)]
    pub thickness: Option<String>,
    /// Outside diameter of pipe.
    #[arg(long, allow_hyphen_values = true)]
    pub diameter: Option<Range<Length>>,
    /// Kind of joint: butt, tee, lap, corner, edge, or a word of the trade for it (`t joint`).
    #[arg(long, value_parser = words::joint)]
    pub joint: Option<JointType>,
    /// Kind of weld: groove, fillet and others.
    #[arg(long, value_parser = words::word::<WeldType>)]
    pub weld: Option<WeldType>,
    /// Detail of AWS D1.1 by its designation: B-U2a-GF.
    #[arg(long)]
    pub detail: Option<String>,
    /// Position by ISO 6947 or AWS: PB, 3G.
    #[arg(long)]
    pub position: Option<String>,
    /// Process by ISO 4063 number or AWS letters.
    #[arg(long)]
    pub process: Option<String>,
    /// Also list the procedures that do not cover it.
    #[arg(long)]
    pub all: bool,
    /// Text for people, or json.
    #[arg(long, value_enum, ignore_case = true, default_value_t = Form::Text)]
    pub format: Form,
}
