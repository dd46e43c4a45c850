//! The application core that the command line, the browser page and editors share: requests in, answers out.
//!
//! Documents are read through [`files::Files`], so that texts which are not saved yet count; nothing in here prints, reads
//! the clock, ends the program or keeps state from one call to the next.
//!
//! - [`files`]: which files are meant, and what they hold; files of this machine, and unsaved texts over them.
//! - [`companions`]: the documents that others are held against; checks one document.
//! - [`find`]: which procedures cover a joint.
//! - [`compare`]: what changed between two revisions, and what the code says of it.
//! - [`range`]: what test records qualify, and what welders are qualified for.
//! - [`job`]: the joints of a job against procedures, machines and welders; its price and papers.
//! - [`calc`]: one calculation, with equation, working and source.
//! - [`draft`]: a procedure from a few facts, a lesson, a test record, a shop file.
//! - [`estimate`]: what procedures use and cost over a length or a list of joints.
//! - [`explain`], [`table`]: what a name means; the handbook tables.
//! - [`fixes`]: what to write so that a finding goes.
//! - [`follows`]: figures of runs and welds, and what the standards still ask for.
//! - [`sheets`]: makes the sheets of a checked document, and each of them as PDF and HTML.
//! - [`beside`]: what was issued under the number of a file and lies beside it.
//! - [`appearance`], [`house_style`]: templates, and the shop's name block, colour and logo.
//! - [`review`]: the findings of a review as data, for a reply.
//! - [`revise`]: a revision issued, and raised for a change.
//! - [`received`]: a sheet that comes from elsewhere, held against its source.
//! - [`editors`]: the schema that editors use.
//! - [`names`]: what a process, position, metal, filler, gas or word means.
//! - [`input`]: what was typed, as numbers for formulas.
//! - [`seal`], [`unchanged`]: which sheets need not be made again.
//! - [`report`]: what was found, as JSON, SARIF and lines.
//!
//! ```
//! use seamwright_desk::names;
//!
//! let found = names::rows("GTAW");
//! assert_eq!((found[0].what, &*found[0].table.name), ("process", "processes"));
//! assert_eq!(found[0].row["number"], "141");
//! ```

pub mod appearance;
pub mod beside;
pub mod calc;
pub mod companions;
pub mod compare;
pub mod current;
pub mod document_keys;
pub mod draft;
pub mod editors;
pub mod estimate;
mod examine;
pub mod explain;
pub mod files;
pub mod find;
pub mod fixes;
pub mod follows;
pub mod house_style;
pub mod input;
pub mod job;
mod judge;
mod named;
pub mod names;
pub mod range;
mod read;
pub mod received;
pub mod report;
pub mod review;
pub mod revise;
pub mod seal;
pub mod sheets;
pub mod table;
pub mod unchanged;
