//! The processes to use instead of one that gives no draft: those that do give one.

use seamwright_handbook::{planning, processes};
use seamwright_model::shop::Shop;

use crate::draft::draft;
use crate::facts::{Choices, Facts, Typed};
use crate::refused::Refused;
use crate::shop::draft_in_shop;
use crate::trade;

impl Refused {
    /// Keeps of the processes to use instead those that give a draft for the same facts, in a shop where one is given.
    ///
    /// Where none of those named does, or a shop cannot weld it, the other processes are tried; advice that names no process
    /// stays.
    ///
    /// Of the choices those count that another process has, too: leg, code and backing.
    #[must_use]
    pub fn with_alternatives(mut self, typed: &Typed, choices: &Choices, shop: Option<&Shop>) -> Self {
        let in_shop = matches!(self, Self::Shop { .. });
        let (Self::Unsuited { instead, .. }
        | Self::Thickness { instead, .. }
        | Self::Shop { instead, .. }
        | Self::HeldBack { instead, .. }
        | Self::Nothing { instead, .. }) = &mut self
        else {
            return self;
        };
        let drafted = planning::processes();
        let known = |name: &str| drafted.contains(&name);
        let kept = Choices {
            backing: choices.backing.clone(),
            code: choices.code.clone(),
            leg: choices.leg.clone(),
            machine: choices.machine.clone(),
            ..Choices::default()
        };
        let drafts = |process: &str, kept: &Choices| {
            let other = Typed { process: process.to_owned(), ..typed.clone() };
            let page = Facts::read_with(&other, kept).and_then(|facts| match shop {
                Some(shop) => draft_in_shop(&facts, shop),
                None => draft(&facts),
            });
            page.is_ok()
        };
        let works = |process: &str| drafts(process, &kept);
        let named = !instead.is_empty();
        instead.retain(|name| !known(name) || works(name));
        if in_shop || (named && instead.is_empty()) {
            let asked = trade::process(&typed.process, None);
            let others = drafted.into_iter().filter(|process| processes::number_of(&asked) != *process);
            instead.extend(others.filter(|process| works(process)).map(str::to_owned));
            // What the named machine does not give another of the shop may.
            if kept.machine.is_some() && drafts(&typed.process, &Choices { machine: None, ..choices.clone() }) {
                instead.insert(0, "another machine of the shop (leave --machine out)".to_owned());
            }
        }
        self
    }
}
