//! What procedures use and cost over a length or a list of joints.
//!
//! `joints.rs` reads the list of joints; `text.rs` and `data.rs` tell the answer to people and to programs.

mod answer;
pub(crate) mod data;
mod joints;
mod text;

pub use answer::{EstimateAnswer, Estimated, Failed};

use std::path::PathBuf;

use anyhow::{anyhow, bail};
use seamwright_estimate::{Cost, Estimate, Joint, Options, estimate};
use seamwright_model::document::Document;
use seamwright_model::procedure::Procedure;
use seamwright_model::quantity::{Length, Range};
use seamwright_model::shop::Shop;
use seamwright_model::stated::Stated;

use crate::files::{self, Files, Input};
use crate::input;
use crate::read;
use crate::report::{Refused, Report};

/// What is to be welded.
#[derive(Debug, Clone, Default)]
pub struct EstimateRequest {
    /// Length of weld of each procedure.
    pub length: Option<Range<Length>>,
    /// List of joints, in place of a length.
    pub joints: Option<PathBuf>,
    /// Thickness in place of a stated range of thickness.
    pub thickness: Option<Range<Length>>,
    /// Shop whose rates give the cost.
    pub shop: Option<PathBuf>,
}

/// Estimates the procedures among files; those of which a list of joints has none are left out.
pub fn estimates(files: &dyn Files, paths: &[PathBuf], request: &EstimateRequest) -> Result<EstimateAnswer, Refused> {
    let length_mm = above_zero("--length", request.length.as_ref())?;
    let thickness_mm = above_zero("--thickness", request.thickness.as_ref())?;
    let list = request.joints.as_deref().map(|path| joints::read(files, path)).transpose()?;
    let shop = request.shop.as_deref().map(|path| read::shop(files, path)).transpose();
    let shop = shop.map_err(|failed| Refused::Unread(vec![*failed]))?;
    if let (Some(path), Some(shop)) = (&request.shop, &shop)
        && shop.rates.is_none()
        && shop.stock.is_none()
    {
        return Err(Refused::Words(format!("{}: the shop states no rates and no stock", path.display())));
    }
    let options = Options { thickness_mm, shop: shop.as_deref() };
    let inputs = files::inputs(files, paths)?;
    let several = inputs.len() > 1;
    let (mut done, mut failed) = (Vec::new(), Vec::new());
    for input in inputs {
        let of = |procedure: &Procedure| match (&list, length_mm) {
            (Some(list), _) => list.of(&procedure.identification.number, several),
            (None, Some(length_mm)) => Ok(vec![weld(length_mm)]),
            (None, None) => Err(anyhow!("--length or --joints is missing")),
        };
        match one(files, input, of, &options)? {
            Ok(estimated) => done.extend(estimated),
            Err(why) => failed.push(why),
        }
    }
    if let Some(list) = &list {
        list.all_used(&done)?;
    }
    Ok(EstimateAnswer { done, shop, failed })
}

/// The estimate of a file over its own joints; nothing where there are none.
fn one(
    files: &dyn Files,
    input: Input,
    joints: impl FnOnce(&Procedure) -> anyhow::Result<Vec<Joint>>,
    options: &Options<'_>,
) -> anyhow::Result<Result<Option<Estimated>, Failed>> {
    let loaded = match files::read(files, &input) {
        Ok(loaded) => loaded,
        Err(unread) => return Ok(Err(Failed::Unread(Box::new(Report::unread(input, unread))))),
    };
    let Document::Procedure(procedure) = &loaded.document else {
        let words = format!("{}: `document: {}` has no estimate", input.name, loaded.document.kind());
        return Ok(Err(Failed::Without(words)));
    };
    let own = joints(procedure)?;
    if own.is_empty() {
        return Ok(Ok(None));
    }
    let (number, title) = (&procedure.identification.number, &procedure.identification.title);
    Ok(match estimate(procedure, &own, options) {
        Ok(estimate) => {
            Ok(Some(Estimated { file: input.name, number: number.to_string(), title: title.to_string(), estimate }))
        }
        Err(reason) => Err(Failed::Without(format!("{}: no estimate: {reason}", input.name))),
    })
}

/// A length that was typed, mm.
fn above_zero(flag: &str, typed: Option<&Range<Length>>) -> anyhow::Result<Option<f64>> {
    let value = typed.map(|typed| input::one(flag, typed, Length::mm)).transpose()?;
    if value.is_some_and(|value| value <= 0.0) {
        bail!("{flag} must be greater than 0");
    }
    Ok(value)
}

/// One weld of a length.
fn weld(length_mm: f64) -> Joint {
    Joint { name: "weld".to_owned(), length_mm, count: 1 }
}

/// What a procedure uses over the length that was typed, else the one that it states.
pub fn of(procedure: &Procedure, shop: Option<&Shop>, typed: Option<&Range<Length>>) -> anyhow::Result<Estimate> {
    let stated = procedure.weld_size.as_ref().and_then(Stated::value).and_then(|size| size.length.as_ref());
    let Some(length) = typed.or(stated.and_then(Stated::value)) else {
        bail!("an estimate needs the length of weld: write --length \"2 m\"")
    };
    let joints = [weld(input::one("--length", length, Length::mm)?)];
    estimate(procedure, &joints, &Options { shop, ..Options::default() })
        .map_err(|reason| anyhow!("no estimate: {reason}"))
}

/// Sums over all procedures.
struct Total {
    weld_metal_kg: f64,
    filler_kg: f64,
    gas_l: f64,
    arc_time_min: f64,
    working_time_min: f64,
    energy_kwh: f64,
    cost: Option<(f64, String)>,
}

impl EstimateAnswer {
    fn total(&self) -> Total {
        let done = &self.done;
        let sum = |of: &dyn Fn(&Estimate) -> f64| done.iter().map(|one| of(&one.estimate)).sum::<f64>();
        let costs: Option<Vec<&Cost>> = done.iter().map(|one| one.estimate.cost.as_ref()).collect();
        let cost = costs.and_then(|costs| {
            let currency = costs.first()?.currency.clone();
            Some((costs.iter().map(|cost| cost.total).sum(), currency))
        });
        Total {
            weld_metal_kg: sum(&|estimate| estimate.weld_metal_kg.middle),
            filler_kg: sum(&|estimate| estimate.fillers.iter().map(|filler| filler.mass_kg.middle).sum()),
            gas_l: sum(&|estimate| estimate.gases.iter().map(|gas| gas.volume_l).sum()),
            arc_time_min: sum(&|estimate| estimate.arc_time_min),
            working_time_min: sum(&|estimate| estimate.working_time_min),
            energy_kwh: sum(&|estimate| estimate.energy_kwh),
            cost,
        }
    }
}
