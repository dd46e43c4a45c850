//! `find`: which procedures cover a joint, which nearly do, and what is off by how much.

use anyhow::{Result, anyhow};
use seamwright_check::cover::Verdict;
use seamwright_desk::files;
use seamwright_desk::find::{self, FindRequest};
use seamwright_model::quantity::{Length, Range};

use crate::args::{FindArgs, Form};
use crate::ending::Ending;
use crate::report::text;
use crate::{results, terminal, today};

/// Runs the command.
pub fn run(args: &FindArgs) -> Result<Ending> {
    let disk = today::disk();
    let request = request(args)?;
    let answer = find::find(&disk, files::inputs(&disk, &args.paths)?, &request)?;
    let ending = match (answer.unread.is_empty(), answer.count(Verdict::Covered)) {
        (false, _) => Ending::Failed,
        (true, 0) => Ending::Findings,
        (true, _) => Ending::Clean,
    };
    answer.unread.iter().for_each(|unread| text::print(std::slice::from_ref(unread)));
    match args.format {
        Form::Text => results::folded(|out| Ok(answer.text(out, args.all)?))?,
        Form::Json => results::json("find", answer.json())?,
    }
    Ok(ending)
}

fn request(args: &FindArgs) -> Result<FindRequest> {
    let thickness = args.thickness.as_deref().map(|text| thickness(text, args.metal.as_deref().unwrap_or_default()));
    Ok(FindRequest {
        metal: args.metal.clone(),
        to: args.to.clone(),
        thickness: thickness.transpose()?,
        diameter: args.diameter.clone(),
        joint: args.joint,
        weld: args.weld,
        detail: args.detail.clone(),
        position: args.position.clone(),
        process: args.process.clone(),
    })
}

/// A thickness as shops name it; what a gauge or a schedule was taken for is told.
fn thickness(text: &str, metal: &str) -> Result<Range<Length>> {
    // A thickness that a document could state is taken as it stands: a limit or a range, too.
    if let Ok(stated) = text.parse() {
        return Ok(stated);
    }
    let (thickness, said) = seamwright_draft::thickness(text, metal).map_err(|refused| anyhow!("--{refused}"))?;
    if let Some(said) = said.filter(|_| !terminal::quiet()) {
        terminal::print(format_args!("{said}"));
    }
    Ok(thickness.parse()?)
}
