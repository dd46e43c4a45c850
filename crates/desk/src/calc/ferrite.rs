//! Chromium and nickel equivalents and ferrite number of stainless weld metal.

use anyhow::{Result, bail};
use seamwright_calc::ferrite::{self as formulas, DiagramWindow, Dilution, Equivalents};
use seamwright_calc::{Composition, Formula};
use seamwright_handbook::weld_metal;
use seamwright_model::quantity::{Range, Share};

use super::Answer;
use crate::input::{composition, one};
use crate::report::number;

/// The diagrams.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Method {
    /// WRC-1992, with the ferrite number.
    Wrc1992,
    /// Schaeffler 1949: equivalents only.
    Schaeffler,
    /// `DeLong` 1973: equivalents only.
    Delong,
}

/// What it takes.
#[derive(Debug, Clone)]
pub struct Given {
    /// Mass percent of each element of the weld metal; with `--parent`, of the filler.
    pub composition: Composition,
    /// Mass percent of each element of a parent metal; a second one for a joint of two metals.
    pub parent: Vec<Composition>,
    /// Share of molten parent metal in the weld.
    pub dilution: Option<Range<Share>>,
    /// Share of the first parent metal in what melts of both.
    pub first_share: Range<Share>,
    /// By which diagram.
    pub method: Method,
}

/// The answer.
pub fn answer(given: &Given) -> Result<Answer> {
    let (title, formula, of): (&str, Formula, fn(&Composition) -> Equivalents) = match given.method {
        Method::Wrc1992 => ("WRC-1992", formulas::WRC_1992, formulas::wrc_1992),
        Method::Schaeffler => ("Schaeffler", formulas::SCHAEFFLER, formulas::schaeffler),
        Method::Delong => ("DeLong", formulas::DELONG, formulas::delong),
    };
    let mut answer = Answer::new("ferrite", title).by(formula);
    let weld = match (given.parent.as_slice(), &given.dilution) {
        ([], _) => {
            answer = answer.given("weld metal", composition(&given.composition));
            given.composition.clone()
        }
        (parents, Some(stated)) => {
            let [parent_1, parent_2] = match parents {
                [only] => [only, only],
                [first, second] => [first, second],
                _ => bail!("a joint has one or two parent metals, not {}", parents.len()),
            };
            let dilution = Dilution {
                parent_1,
                parent_2,
                filler: &given.composition,
                dilution: one("--dilution", stated, Share::percent)? / 100.0,
                share_of_parent_1: one("--first-share", &given.first_share, Share::percent)? / 100.0,
            };
            let weld = dilution.composition()?;
            answer = answer
                .by(formulas::DILUTION)
                .given("filler", composition(&given.composition))
                .given("parent metal", composition(parent_1));
            if parents.len() == 2 {
                answer = answer
                    .given("second parent metal", composition(parent_2))
                    .given("share of the first", &given.first_share);
            }
            let rounded: Vec<String> =
                weld.iter().map(|(element, pct)| format!("{} {}", element.symbol(), number(pct))).collect();
            answer = answer.given("dilution", stated).worked(format!("weld metal: {} %", rounded.join(", ")));
            weld
        }
        (_, None) => bail!("--dilution is missing"),
    };
    let point = of(&weld);
    answer = answer
        .worked(format!("Cr eq = {} %, Ni eq = {} %", number(point.chromium_pct), number(point.nickel_pct)))
        .result("chromium_equivalent", point.chromium_pct, "%")
        .result("nickel_equivalent", point.nickel_pct, "%");
    if given.method == Method::Wrc1992 {
        let window = DiagramWindow {
            chromium_pct: weld_metal::ferrite::WRC_CHROMIUM.value,
            nickel_pct: weld_metal::ferrite::WRC_NICKEL.value,
        };
        let found = formulas::ferrite_number(point, &window)?;
        // Off the diagram there is no number: the notes say how far it goes.
        answer = answer.by(formulas::FERRITE_NUMBER);
        if window.contains(point) {
            answer = answer.result("ferrite_number", found.value, "FN");
        }
        answer = answer.notes(&found.notes);
    }
    Ok(answer)
}
