//! `estimate`: what procedures use and cost over a length or a list of joints.
//!
//! `joints.rs` reads the list of joints, `print.rs` writes the result.

mod joints;
pub mod print;

use anyhow::{Result, bail};
use seamwright_desk::report::Report;
use seamwright_desk::{companions, files, input};
use seamwright_estimate::{Estimate, Joint, Options, estimate};
use seamwright_model::document::Document;
use seamwright_model::quantity::Length;

use crate::Ending;
use crate::args::{EstimateArgs, EstimateForm};
use crate::report::text;
use crate::{terminal, today};

/// One procedure with its estimate.
pub struct Estimated {
    /// File name.
    pub file: String,
    /// Number of the procedure.
    pub number: String,
    /// Title of the procedure.
    pub title: String,
    /// What it uses.
    pub estimate: Estimate,
}

/// Runs the command.
pub fn run(args: &EstimateArgs) -> Result<Ending> {
    let disk = today::disk();
    let length = args.length.as_ref().map(|length| input::one("--length", length, Length::mm)).transpose()?;
    let thickness_mm =
        args.thickness.as_ref().map(|thickness| input::one("--thickness", thickness, Length::mm)).transpose()?;
    for (flag, value) in [("--length", length), ("--thickness", thickness_mm)] {
        if value.is_some_and(|value| value <= 0.0) {
            bail!("{flag} must be greater than 0");
        }
    }
    let list = args.joints.as_deref().map(|path| joints::read(&disk, path)).transpose()?;
    let shop = match args.shop.as_deref().map(|path| companions::shop(&disk, path)).transpose() {
        Ok(shop) => shop,
        Err(failed) => {
            text::print(&[*failed]);
            return Ok(Ending::Failed);
        }
    };
    if let (Some(path), Some(shop)) = (&args.shop, &shop)
        && shop.rates.is_none()
        && shop.stock.is_none()
    {
        bail!("{}: the shop states no rates and no stock", path.display());
    }
    let options = Options { thickness_mm, shop: shop.as_deref() };
    let inputs = files::inputs(&disk, &args.paths)?;
    let several = inputs.len() > 1;
    let mut ending = Ending::Clean;
    let mut done = Vec::new();
    for input in inputs {
        let loaded = match files::read(&disk, &input) {
            Ok(loaded) => loaded,
            Err(unread) => {
                text::print(&[Report::unread(input, unread)]);
                ending = Ending::Failed;
                continue;
            }
        };
        let Document::Procedure(procedure) = &loaded.document else {
            terminal::say(format_args!("{}: `document: {}` has no estimate", input.name, loaded.document.kind()));
            ending = Ending::Failed;
            continue;
        };
        let number = procedure.identification.number.to_string();
        let own = match (&list, length) {
            (Some(list), _) => list.of(&number, several)?,
            (None, Some(length_mm)) => vec![Joint { name: "weld".to_owned(), length_mm, count: 1 }],
            (None, None) => bail!("--length or --joints is missing"),
        };
        if own.is_empty() {
            continue;
        }
        match estimate(procedure, &own, &options) {
            Ok(estimate) => done.push(Estimated {
                file: input.name,
                number,
                title: procedure.identification.title.to_string(),
                estimate,
            }),
            Err(reason) => {
                terminal::say(format_args!("{}: no estimate: {reason}", input.name));
                ending = Ending::Failed;
            }
        }
    }
    if let Some(list) = &list {
        list.all_used(&done)?;
    }
    match args.format {
        EstimateForm::Text => print::text(&done, options.shop)?,
        EstimateForm::Json => print::json(&done)?,
        EstimateForm::Csv => print::csv(&done)?,
    }
    Ok(ending)
}
