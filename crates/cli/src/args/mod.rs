//! What may be typed, and the help. What it means is decided in `commands/`.

mod beside;
pub mod calc;
mod check;
mod compare;
mod draft;
mod estimate;
mod find;
mod form;
mod job;
mod render;
mod revise;
#[cfg(feature = "serve")]
mod serve;
mod words;

use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};

pub use self::beside::{AppearanceArgs, CompanionArgs};
use self::calc::CalcArgs;
pub use self::check::{CheckArgs, Deny, ReportForm};
pub use self::compare::{CompareArgs, RangeArgs};
pub use self::draft::DraftArgs;
pub use self::estimate::{EstimateArgs, EstimateForm};
pub use self::find::FindArgs;
pub use self::form::Form;
pub use self::job::JobArgs;
pub use self::render::{RenderArgs, To};
pub use self::revise::{IssueArgs, ReviseArgs};
#[cfg(feature = "serve")]
pub use self::serve::ServeArgs;

/// Weld procedures from YAML to checked sheets.
///
/// Reads procedures written as YAML in the words of ISO 15609-1, checks every value against sourced handbook limits, and
/// prints sheets as PDF and HTML. Results go to standard output, messages to standard error. Exit status: 0 nothing wrong;
/// 1 findings of severity error; 2 the work could not be done.
#[derive(Debug, Parser)]
#[command(name = "seamwright", version, max_term_width = 100)]
pub struct Args {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
    /// Colours in what people read.
    #[arg(long, value_enum, ignore_case = true, default_value_t = Colour::Auto, global = true, value_name = "WHEN")]
    pub color: Colour,
    /// Leave out notes, sums and what was written; errors, cautions and failures stay.
    #[arg(long, short, global = true)]
    pub quiet: bool,
}

/// When text has colours.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum Colour {
    /// On a terminal that knows them, unless the environment says no.
    #[default]
    Auto,
    /// Always.
    Always,
    /// Never.
    Never,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Check documents against the handbook.
    #[command(after_help = "Example:\n  seamwright check procedures\n  seamwright check --format json submitted.yaml")]
    Check(CheckArgs),
    /// Check documents and write their sheets as PDF and HTML.
    #[command(
        after_help = "Example:\n  seamwright render procedures --out sheets\n  seamwright render p-021.yaml --out . --to pdf --paper letter --units both\n  seamwright render submitted.yaml --sheet review --to csv --out reviews"
    )]
    Render(RenderArgs),
    /// Say what changed between two revisions of a procedure, and what each change means under the code.
    ///
    /// Exit status 1 where the code asks for a new test.
    #[command(after_help = "Example:\n  seamwright compare p-021-rev-1.yaml p-021-rev-2.yaml --code asme-ix")]
    Compare(CompareArgs),
    /// Compute one thing, and show the working.
    #[command(
        after_help = "Example:\n  seamwright calc heat-input --process 141 --voltage \"11 V\" --current \"120 A\" --travel-speed \"90 mm/min\""
    )]
    Calc(Box<CalcArgs>),
    /// Print the ranges that test records qualify under their code, or that a shop's welders are qualified for.
    #[command(
        after_help = "Example:\n  seamwright range record.yaml --code asme-ix\n  seamwright range shop.yaml --format json"
    )]
    Range(RangeArgs),
    /// Write a starting procedure from a few facts.
    #[command(
        after_help = "Example:\n  seamwright draft --process 141 --metal 304L --thickness 3mm --joint butt --position PA > p-010.yaml\n  seamwright draft --process 111 --metal S235JR --thickness 5mm --joint tee --position PB --shop shop.yaml\n  seamwright draft --process 141,111 --metal A106-B --thickness \"6 in sch 40\" --joint butt --position 6G\n  seamwright draft --process FCAW --metal A36 --thickness \"3/4 in\" --joint butt --position 3G --code aws-d1.1\n  seamwright draft --lesson procedures/lap-fillet-2-carbon-141.yaml --learners 12 --booths 6\n  seamwright draft --interactive"
    )]
    Draft(DraftArgs),
    /// Estimate weld metal, filler, gas, time and cost of a procedure over a length.
    #[command(
        after_help = "Examples:\n  seamwright estimate procedures/butt-3-carbon-141.yaml --length \"2.4 m\"\n  seamwright estimate a.yaml b.yaml --joints joints.csv --shop shop.yaml --format json"
    )]
    Estimate(EstimateArgs),
    /// Explain a check, a key of the file format, a handbook table, or a name of the trade.
    ///
    /// Names of the trade are processes (141, GTAW), positions (PF, 3G), metals (304L), fillers (E7018), gases (M21), and
    /// the words of the format (DCEN, tee).
    #[command(
        after_help = "Examples:\n  seamwright explain tungsten-current-above-range\n  seamwright explain wire_feed_speed\n  seamwright explain 3G"
    )]
    Explain {
        /// Name of a check, key, table, process, position, metal, filler, gas or word; left out, the checks are listed.
        name: Option<String>,
        /// Text for people, or json.
        #[arg(long, value_enum, ignore_case = true, default_value_t = Form::Text)]
        format: Form,
    },
    /// Find the procedures that cover a joint.
    ///
    /// Exit status 1 where none covers it. One is nearly covered where another revision could reach it.
    #[command(
        after_help = "Example:\n  seamwright find --metal S355J2 --thickness \"8 mm\" --joint tee --position PB procedures"
    )]
    Find(FindArgs),
    /// Hold a job against its procedures, machines, welders and stock; price it, and write its papers.
    #[command(
        after_help = "Examples:\n  seamwright job job.yaml --out papers\n  seamwright job joints.csv --procedures procedures --shop shop.yaml --out papers"
    )]
    Job(JobArgs),
    /// Issue a procedure: status, approval, date, and the seal of its content.
    #[command(after_help = "Example:\n  seamwright issue procedures/p-001.yaml --by \"A. Lindqvist\"")]
    Issue(IssueArgs),
    /// Raise the revision of a procedure; the old one and its sheets are kept as superseded.
    #[command(
        after_help = "Example:\n  seamwright revise procedures/p-001.yaml --why \"current raised after the trial\" --sheets sheets"
    )]
    Revise(ReviseArgs),
    /// List the handbook tables, or print one with its sources.
    #[command(after_help = "Example:\n  seamwright table tungsten-current")]
    Table {
        /// Name of a table; left out, the tables are listed.
        name: Option<String>,
        /// Text for people, or json.
        #[arg(long, value_enum, ignore_case = true, default_value_t = Form::Text)]
        format: Form,
    },
    /// Open a page in the browser to write, check, compare and print the documents of a folder.
    ///
    /// It answers this machine only, and changes no file before a save. End it with Ctrl+C.
    #[cfg(feature = "serve")]
    #[command(after_help = "Examples:\n  seamwright serve procedures\n  seamwright serve . --shop shop.yaml --lan")]
    Serve(ServeArgs),
    /// Print the JSON Schema of the file format, for editors, or of what a command prints with `--format json`.
    #[command(
        after_help = "Examples:\n  seamwright schema --write .\n  seamwright schema --write procedures\n  seamwright schema lesson"
    )]
    Schema {
        /// A kind of document (procedure, test-record, shop, lesson, job), house-style, joints, or a command whose JSON is
        /// meant (calc, check, compare, estimate, explain, find, job-answer, range, table); left out, every kind of document.
        #[arg(value_name = "WHAT")]
        what: Option<String>,
        /// Write it beside the documents of this folder and of those below it whose first line names it, as that of drafts and
        /// starters does; where none does, into the folder itself.
        #[arg(long, value_name = "FOLDER", num_args = 0..=1, default_missing_value = ".")]
        write: Option<PathBuf>,
    },
    /// Print what a shell needs to complete the words of this program.
    #[command(
        after_help = "Example:\n  seamwright completions bash > ~/.local/share/bash-completion/completions/seamwright"
    )]
    Completions {
        /// The shell.
        #[arg(value_enum, ignore_case = true)]
        shell: clap_complete::Shell,
    },
    /// Print the manual as man pages.
    #[command(after_help = "Example:\n  seamwright manual --out ~/.local/share/man/man1")]
    Manual {
        /// Folder for one page a command; left out, the page of the program is printed.
        #[arg(long, value_name = "FOLDER")]
        out: Option<PathBuf>,
    },
}
