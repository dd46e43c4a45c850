//! `draft`: a starting procedure from a few facts, as commented YAML on standard output; with what a shop has, where one is
//! given.

#![allow(clippy::result_large_err, reason = "a refusal is told once")]

use std::io::{BufRead, Write};

use anyhow::{Result, bail};
use seamwright_desk::companions;
use seamwright_draft::{Facts, Typed};

use crate::Ending;
use crate::args::DraftArgs;
use crate::report::text;
use crate::today;

/// Runs the command.
pub fn run(args: DraftArgs) -> Result<Ending> {
    let interactive = args.interactive;
    if args.metal.len() > 2 {
        bail!("--metal is given {} times: two metals meet at a joint", args.metal.len());
    }
    let mut metals = args.metal.into_iter();
    let mut typed = Typed {
        process: args.process.unwrap_or_default(),
        metal: metals.next().unwrap_or_default(),
        to: metals.next(),
        thickness: args.thickness.unwrap_or_default(),
        joint: args.joint.unwrap_or_default(),
        position: args.position.unwrap_or_default(),
        diameter: args.diameter,
    };
    if interactive {
        let stdin = std::io::stdin();
        ask(&mut typed, &mut stdin.lock(), &mut std::io::stderr())?;
    }
    let shop = match args.shop.as_deref().map(|path| companions::shop(&today::disk(), path)).transpose() {
        Ok(shop) => shop,
        Err(unread) => {
            text::print(&[*unread]);
            return Ok(Ending::Failed);
        }
    };
    let page = Facts::read(&typed)
        .map(|facts| match &args.number {
            Some(number) => facts.numbered(number),
            None => facts,
        })
        .and_then(|facts| match &shop {
            Some(shop) => seamwright_draft::draft_in_shop(&facts, shop),
            None => seamwright_draft::draft(&facts),
        })
        .map_err(|refused| refused.with_alternatives(&typed, shop.as_deref()))?;
    std::io::stdout().lock().write_all(page.as_bytes())?;
    Ok(Ending::Clean)
}

/// Asks for each fact that is not given; an empty answer takes the default, which stands in brackets.
fn ask(typed: &mut Typed, answers: &mut impl BufRead, questions: &mut impl Write) -> Result<()> {
    let mut one = |question: &str, default: &str| -> Result<String> {
        write!(questions, "{question} [{default}]: ")?;
        questions.flush()?;
        let mut line = String::new();
        if answers.read_line(&mut line)? == 0 {
            bail!("the answers ended before `{question}`");
        }
        let answer = line.trim();
        Ok(if answer.is_empty() { default } else { answer }.to_owned())
    };
    if typed.process.is_empty() {
        typed.process = one("process (141, 111, 131, 135, 136 or 114)", "141")?;
    }
    if typed.metal.is_empty() {
        typed.metal = one("metal", "S235JR")?;
    }
    if typed.thickness.is_empty() {
        typed.thickness = one("thickness", "3 mm")?;
    }
    if typed.joint.is_empty() {
        typed.joint = one("joint (butt, tee, lap or corner)", "butt")?;
    }
    if typed.diameter.is_none() {
        let answer = one("outside diameter of a pipe, or none", "none")?;
        typed.diameter = Some(answer).filter(|answer| answer != "none");
    }
    if typed.position.is_empty() {
        let default = if typed.joint == "butt" { "PA" } else { "PB" };
        typed.position = one("position", default)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn empty_answers_take_the_defaults_and_what_is_given_is_not_asked() {
        let mut typed = Typed { metal: "304L".into(), ..Typed::default() };
        let mut questions = Vec::new();
        ask(&mut typed, &mut "111\n\ntee\n\n\n".as_bytes(), &mut questions).unwrap();
        let facts = (typed.process.as_str(), typed.thickness.as_str(), typed.joint.as_str(), typed.position.as_str());
        assert_eq!(facts, ("111", "3 mm", "tee", "PB"));
        assert_eq!(typed.diameter, None);
        assert!(!String::from_utf8(questions).unwrap().contains("metal"));
        assert!(ask(&mut Typed::default(), &mut "".as_bytes(), &mut Vec::new()).is_err());
    }
}
