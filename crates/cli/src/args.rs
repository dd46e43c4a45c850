//! What may be typed, and the help. What it means is decided in `commands/`.

use std::path::PathBuf;
use std::str::FromStr;

use clap::{Parser, Subcommand, ValueEnum};
use seamwright_desk::appearance::AppearanceFiles;
use seamwright_desk::companions::CompanionFiles;
use seamwright_handbook::trade_words;
use seamwright_model::procedure::{CodeName, JointType, WeldType};
use seamwright_model::quantity::{Length, Range, UnitSystem};
use seamwright_sheet::pdf::Paper;
use seamwright_sheet::words::Language;

use crate::commands::calc::CalcArgs;

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

/// Documents beside those that are checked.
#[derive(Debug, Default, clap::Args)]
pub struct CompanionArgs {
    /// Test record that procedures are held against; may be given several times.
    #[arg(long, value_name = "FILE")]
    pub record: Vec<PathBuf>,
    /// Shop that procedures are held against.
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
    /// Procedure that lessons teach, in place of the one that they name; a sheet that arrives is told superseded by it.
    #[arg(long, value_name = "FILE")]
    pub procedure: Option<PathBuf>,
    /// Code that governs, where the documents do not name it: iso-15614-1, asme-ix, aws-d1.1, api-1104.
    #[arg(long, value_parser = word::<CodeName>)]
    pub code: Option<CodeName>,
}

impl CompanionArgs {
    /// As the request to read them.
    pub fn files(&self) -> CompanionFiles {
        let Self { record, shop, procedure, code } = self;
        CompanionFiles { records: record.clone(), shop: shop.clone(), procedure: procedure.clone(), code: *code }
    }
}

/// The look of sheets, where it is not the built-in one.
#[derive(Debug, Default, clap::Args)]
pub struct AppearanceArgs {
    /// Folder with templates that take the place of the built-in ones of the same names.
    #[arg(long, value_name = "FOLDER")]
    pub templates: Option<PathBuf>,
    /// File with the shop's name block, colour and logo; house-style.yaml in the folder of templates if left out.
    #[arg(long, value_name = "FILE")]
    pub style: Option<PathBuf>,
}

impl AppearanceArgs {
    /// As the request to read it.
    pub fn files(&self) -> AppearanceFiles {
        AppearanceFiles { templates: self.templates.clone(), style: self.style.clone() }
    }
}

/// A word of the format in large or small letters, with spaces or hyphens, also as "plug weld", "tee joint" or "T".
fn word<T: FromStr<Err = String>>(typed: &str) -> Result<T, String> {
    typed.parse().or_else(|refused| {
        let plain = typed.trim().to_ascii_lowercase().replace([' ', '_'], "-");
        let bare = ["-joint", "-weld"].iter().find_map(|end| plain.strip_suffix(end)).unwrap_or(&plain);
        if bare == "t" { "tee" } else { bare }.parse().map_err(|_| refused)
    })
}

/// A kind of joint by its word or by a word of the trade.
fn joint(typed: &str) -> Result<JointType, String> {
    let of_trade = |refused| trade_words::get("joint", typed).map_or(Err(refused), |row| row.means.parse());
    word(typed).or_else(of_trade)
}

/// Arguments of `range`.
#[derive(Debug, clap::Args)]
pub struct RangeArgs {
    /// Test records of one code, or shops with welders.
    #[arg(required = true)]
    pub paths: Vec<PathBuf>,
    /// The code: iso-15614-1, asme-ix, aws-d1.1, api-1104; for welders iso-9606-1, asme-ix, aws-d1.1 or api-1104.
    #[arg(long)]
    pub code: Option<String>,
    /// Text for people, or json.
    #[arg(long, value_enum, ignore_case = true, default_value_t = Form::Text)]
    pub format: Form,
}

/// Arguments of `check`.
#[derive(Debug, clap::Args)]
pub struct CheckArgs {
    /// Files, folders (walked for *.yaml) or - for standard input; also sheets that this program wrote.
    #[arg(required = true)]
    pub paths: Vec<PathBuf>,
    /// What stands beside them.
    #[command(flatten)]
    pub companions: CompanionArgs,
    /// The look that sheets among them were made with.
    #[command(flatten)]
    pub appearance: AppearanceArgs,
    /// Also say of each item that ISO 15609-1 and the code ask for whether it is stated.
    #[arg(long)]
    pub completeness: bool,
    /// Also list the words of the bench card or the lesson that a language lacks, es or de: they stand there in English.
    #[arg(long, value_enum, ignore_case = true)]
    pub language: Option<LanguageOf>,
    /// Text for people, json, or sarif for code hosts.
    #[arg(long, value_enum, ignore_case = true, default_value_t = ReportForm::Text)]
    pub format: ReportForm,
    /// Count cautions as errors.
    #[arg(long, value_enum, ignore_case = true)]
    pub deny: Option<Deny>,
}

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
    #[arg(long, value_parser = joint)]
    pub joint: Option<JointType>,
    /// Kind of weld: groove, fillet and others.
    #[arg(long, value_parser = word::<WeldType>)]
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
    /// The code that the work is under: aws-d1.1, iso-15614-1, asme-ix, api-1104.
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

/// Arguments of `render`.
#[derive(Debug, clap::Args)]
pub struct RenderArgs {
    /// Files, folders (walked for *.yaml) or - for standard input.
    #[arg(required = true)]
    pub paths: Vec<PathBuf>,
    /// What stands beside them.
    #[command(flatten)]
    pub companions: CompanionArgs,
    /// Folder for the sheets; made if it is not there.
    #[arg(long)]
    pub out: PathBuf,
    /// Formats to write; csv and json hold a review, with `--sheet review`.
    #[arg(long, value_enum, ignore_case = true, value_delimiter = ',', default_values_t = [To::Pdf, To::Html])]
    pub to: Vec<To>,
    /// Kinds of sheet; several with commas between. Each document gets those that it has. [default: procedure lesson; in Spanish or
    /// German: bench-card lesson]
    #[arg(long, value_enum, ignore_case = true, value_delimiter = ',')]
    pub sheet: Vec<SheetKind>,
    /// Language of bench cards and lessons: en, es or de; several with commas between, each as a sheet of its own beside the others.
    #[arg(long, value_enum, ignore_case = true, value_delimiter = ',', default_values_t = [LanguageOf::En])]
    pub language: Vec<LanguageOf>,
    /// Length of weld for the estimate sheet; the length that the procedure states if left out.
    #[arg(long, allow_hyphen_values = true)]
    pub length: Option<Range<Length>>,
    /// Units on the sheet.
    #[arg(long, value_enum, ignore_case = true, default_value_t = Units::Si)]
    pub units: Units,
    /// Words and welding symbols on the sheet.
    #[arg(long, value_enum, ignore_case = true, default_value_t = TermsOf::Iso)]
    pub terms: TermsOf,
    /// Add an annex to procedure sheets: cautions in full, sources of limits, compositions, older revisions.
    #[arg(long)]
    pub annex: bool,
    /// Paper size.
    #[arg(long, value_enum, ignore_case = true, default_value_t = PaperSize::A4)]
    pub paper: PaperSize,
    /// The look of the sheets.
    #[command(flatten)]
    pub appearance: AppearanceArgs,
    /// Also write binder.pdf: all sheets in one file, with contents and outline.
    #[arg(long)]
    pub binder: bool,
    /// Make every sheet again, also those that are already what they would be.
    #[arg(long)]
    pub force: bool,
    /// How many threads work; all cores if left out.
    #[arg(long)]
    pub jobs: Option<usize>,
    /// Count cautions as errors.
    #[arg(long, value_enum, ignore_case = true)]
    pub deny: Option<Deny>,
}

/// Arguments of `serve`.
#[cfg(feature = "serve")]
#[derive(Debug, clap::Args)]
pub struct ServeArgs {
    /// Folder of the documents.
    #[arg(default_value = ".")]
    pub folder: PathBuf,
    /// Shop that procedures are held against.
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
    /// Test record that procedures are held against; may be given several times.
    #[arg(long, value_name = "FILE")]
    pub record: Vec<PathBuf>,
    /// Port on this machine; a free one if left out.
    #[arg(long)]
    pub port: Option<u16>,
    /// Do not open a browser; the address is printed.
    #[arg(long)]
    pub no_open: bool,
    /// Write nothing, whatever is asked on the page.
    #[arg(long)]
    pub read_only: bool,
    /// Also show cards, to read only, to telephones in the same network.
    #[arg(long)]
    pub lan: bool,
}

/// Arguments of `job`.
#[derive(Debug, clap::Args)]
pub struct JobArgs {
    /// The job, or a list of joints from a spreadsheet (.csv, .tsv).
    pub file: PathBuf,
    /// Files or folders with procedures, besides those that the job names; may be given several times.
    #[arg(long, value_name = "PATH")]
    pub procedures: Vec<PathBuf>,
    /// Shop, in place of the one that the job names.
    #[arg(long, value_name = "FILE")]
    pub shop: Option<PathBuf>,
    /// Number of a job that is made of a list.
    #[arg(long)]
    pub number: Option<String>,
    /// Title of a job that is made of a list.
    #[arg(long)]
    pub title: Option<String>,
    /// Write the job that is made of a list to this file.
    #[arg(long, value_name = "FILE")]
    pub write: Option<PathBuf>,
    /// Folder for the quotation, the office sheet, and the binder with cover, traveller and cards.
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// Units of the cards.
    #[arg(long, value_enum, ignore_case = true, default_value_t = Units::Both)]
    pub units: Units,
    /// Paper.
    #[arg(long, value_enum, ignore_case = true, default_value_t = PaperSize::A4)]
    pub paper: PaperSize,
    /// Text for people, or json.
    #[arg(long, value_enum, ignore_case = true, default_value_t = Form::Text)]
    pub format: Form,
}

/// Arguments of `issue`.
#[derive(Debug, clap::Args)]
pub struct IssueArgs {
    /// The procedure.
    pub file: PathBuf,
    /// Who approves it.
    #[arg(long, value_name = "NAME")]
    pub by: String,
}

/// Arguments of `revise`.
#[derive(Debug, clap::Args)]
pub struct ReviseArgs {
    /// The procedure.
    pub file: PathBuf,
    /// Why it is revised: the entry in its history.
    #[arg(long, value_name = "TEXT")]
    pub why: String,
    /// Who revises it.
    #[arg(long, value_name = "NAME")]
    pub by: Option<String>,
    /// The new revision, where it is not the next number or letter.
    #[arg(long)]
    pub revision: Option<String>,
    /// Folder whose sheets of the old revision are kept as superseded.
    #[arg(long, value_name = "DIR")]
    pub sheets: Option<PathBuf>,
}

/// Arguments of `compare`.
#[derive(Debug, clap::Args)]
pub struct CompareArgs {
    /// The revision before.
    pub old: PathBuf,
    /// The revision after.
    pub new: PathBuf,
    /// Judge by this code instead of the one that the new revision names: none, iso-15614-1, asme-ix, aws-d1.1 or api-1104.
    #[arg(long, value_parser = word::<CodeName>)]
    pub code: Option<CodeName>,
    /// Text for people, or json.
    #[arg(long, value_enum, ignore_case = true, default_value_t = Form::Text)]
    pub format: Form,
}

/// Arguments of `estimate`.
#[derive(Debug, clap::Args)]
pub struct EstimateArgs {
    /// Procedures: files, folders (walked for *.yaml) or - for standard input.
    #[arg(required = true)]
    pub paths: Vec<PathBuf>,
    /// Length of weld of each procedure.
    #[arg(long, allow_hyphen_values = true, required_unless_present = "joints", conflicts_with = "joints")]
    pub length: Option<Range<Length>>,
    /// List of joints as YAML or CSV: joint, length, count, and the procedure's number where there are several.
    #[arg(long)]
    pub joints: Option<PathBuf>,
    /// Thickness in place of a stated range of thickness.
    #[arg(long, allow_hyphen_values = true)]
    pub thickness: Option<Range<Length>>,
    /// Shop whose rates give the cost.
    #[arg(long)]
    pub shop: Option<PathBuf>,
    /// Text for people, json or csv.
    #[arg(long, value_enum, ignore_case = true, default_value_t = EstimateForm::Text)]
    pub format: EstimateForm,
}

/// How an estimate is printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum EstimateForm {
    /// For people.
    Text,
    /// For programs.
    Json,
    /// For spreadsheets: a line for each run.
    Csv,
}

/// How results are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Form {
    /// For people.
    Text,
    /// For programs.
    Json,
}

/// How findings are printed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum ReportForm {
    /// For people.
    Text,
    /// For programs.
    Json,
    /// SARIF 2.1.0, for code hosts.
    Sarif,
}

/// What else counts as an error.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Deny {
    /// Cautions.
    Cautions,
}

/// A format of sheets.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum To {
    /// PDF.
    Pdf,
    /// HTML.
    Html,
    /// The findings of a review as comma-separated values, with columns for disposition and reply.
    Csv,
    /// The findings of a review and what is asked for, as JSON.
    Json,
}

/// A kind of sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum SheetKind {
    /// Every stated variable in the order of ISO 15609-1.
    Procedure,
    /// What the welder sets, on one page for the bench.
    BenchCard,
    /// Objectives, kit, set-up, exercises, faults and marking sheet of a lesson.
    Lesson,
    /// Verdict, values beside their limits, and what is missing.
    Review,
    /// Weld metal, filler, gas, time and cost over `--length`, for the person who prices.
    Estimate,
}

/// Whose words a sheet uses.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum TermsOf {
    /// ISO 15609-1, ISO/TR 25901, symbols of ISO 2553.
    Iso,
    /// AWS A3.0, symbols of AWS A2.4.
    Aws,
}

/// The language of a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum LanguageOf {
    /// English.
    En,
    /// Spanish.
    Es,
    /// German.
    De,
}

impl From<LanguageOf> for Language {
    fn from(typed: LanguageOf) -> Self {
        match typed {
            LanguageOf::En => Self::En,
            LanguageOf::Es => Self::Es,
            LanguageOf::De => Self::De,
        }
    }
}

/// Units on the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum Units {
    /// SI units.
    #[value(alias = "metric")]
    Si,
    /// US units.
    #[value(aliases = ["imperial", "inch", "inches"])]
    Us,
    /// SI units with US units in brackets.
    Both,
}

impl From<Units> for UnitSystem {
    fn from(typed: Units) -> Self {
        match typed {
            Units::Si => Self::Si,
            Units::Us => Self::Us,
            Units::Both => Self::Both,
        }
    }
}

/// A paper size.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub enum PaperSize {
    /// 210 by 297 mm.
    A4,
    /// 8 1/2 by 11 in.
    Letter,
}

impl From<PaperSize> for Paper {
    fn from(typed: PaperSize) -> Self {
        match typed {
            PaperSize::A4 => Self::A4,
            PaperSize::Letter => Self::Letter,
        }
    }
}
