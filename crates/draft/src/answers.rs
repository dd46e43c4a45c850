//! The facts as questions, one after the other: what may be answered, what is usual, and whether an answer holds.

use seamwright_handbook::planning;
use seamwright_handbook::positions::{self, Product, Weld};

use crate::facts::{Choices, Facts, Typed};
use crate::refused::Refused;
use crate::sizes::Size;

/// A question for one fact.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Question {
    /// Process, or root and fill.
    Process,
    /// Base metal.
    Metal,
    /// The other metal, or none.
    To,
    /// Thickness.
    Thickness,
    /// Joint.
    Joint,
    /// Outside diameter of a pipe, or none.
    Diameter,
    /// Position.
    Position,
}

impl Question {
    /// Every question, in the order in which they are asked.
    pub const ALL: [Self; 7] =
        [Self::Process, Self::Metal, Self::To, Self::Thickness, Self::Joint, Self::Diameter, Self::Position];

    /// The question in a few words.
    pub const fn words(self) -> &'static str {
        match self {
            Self::Process => "process",
            Self::Metal => "metal",
            Self::To => "welded to another metal, or none",
            Self::Thickness => "thickness",
            Self::Joint => "joint",
            Self::Diameter => "outside diameter of a pipe, or none",
            Self::Position => "position",
        }
    }

    /// The option of the command line that answers it.
    pub const fn option(self) -> &'static str {
        match self {
            Self::Process => "--process",
            Self::Metal | Self::To => "--metal",
            Self::Thickness => "--thickness",
            Self::Joint => "--joint",
            Self::Diameter => "--diameter",
            Self::Position => "--position",
        }
    }

    /// What it asks for, with examples.
    pub const fn help(self) -> &'static str {
        match self {
            Self::Process => {
                "the process by its number or letters, such as 141, SMAW or MIG; two with a comma, such as 141,111, weld the root and the rest"
            }
            Self::Metal => {
                "the metal by any of its names, such as S355J2, A36, 1.4301, 6061-T6, or a word such as mild steel"
            }
            Self::To => "the other metal where two different ones meet, else none",
            Self::Thickness => {
                "the thickness with its unit, such as 3 mm, 1/4 in, 16 ga, or a pipe such as 6 in sch 40"
            }
            Self::Joint => "butt, tee, lap or corner",
            Self::Diameter => "the outside diameter of a pipe with its unit, such as 60.3 mm; none for plate and sheet",
            Self::Position => "the position of ISO 6947 or AWS, such as PA or 3G, or a word such as overhead",
        }
    }

    /// What may be answered, where that is a list.
    pub fn choices(self, typed: &Typed) -> Vec<&'static str> {
        match self {
            Self::Process => planning::processes(),
            Self::Joint => vec!["butt", "tee", "lap", "corner"],
            Self::Position => {
                let pipe = typed.diameter.is_some()
                    || Size::read(&typed.thickness, &typed.metal).is_ok_and(|own| own.diameter.is_some());
                let groove = typed.joint.trim().to_lowercase().starts_with("butt");
                let inches = Size::read(&typed.thickness, &typed.metal).is_ok_and(|own| own.inches);
                let system = if inches { "aws" } else { "iso" };
                positions::rows()
                    .iter()
                    .filter(|row| row.system == system)
                    .filter(|row| row.product == Product::Both || (row.product == Product::Pipe) == pipe)
                    .filter(|row| row.weld == Weld::Both || (row.weld == Weld::Groove) == groove)
                    .map(|row| row.code)
                    .collect()
            }
            _ => Vec::new(),
        }
    }

    /// The usual answer.
    pub fn usual(self, typed: &Typed) -> String {
        match self {
            Self::Process => planning::processes().first().copied().unwrap_or_default().to_owned(),
            Self::Metal => "S235JR".to_owned(),
            Self::To | Self::Diameter => "none".to_owned(),
            Self::Thickness => "3 mm".to_owned(),
            Self::Joint => "butt".to_owned(),
            Self::Position => {
                let open = self.choices(typed);
                let wanted: &[&str] = if typed.joint.trim().to_lowercase().starts_with("butt") {
                    &["PA", "1G", "PH", "5G"]
                } else {
                    &["PB", "2F", "PH", "5F"]
                };
                wanted.iter().find(|own| open.contains(own)).unwrap_or(&"PA").to_string()
            }
        }
    }

    /// Whether the fact is given.
    pub fn answered(self, typed: &Typed) -> bool {
        match self {
            Self::Process => !typed.process.is_empty(),
            Self::Metal => !typed.metal.is_empty(),
            Self::To => typed.to.is_some(),
            Self::Thickness => !typed.thickness.is_empty(),
            Self::Joint => !typed.joint.is_empty(),
            Self::Diameter => typed.diameter.is_some(),
            Self::Position => !typed.position.is_empty(),
        }
    }

    /// Keeps an answer if it holds with the answers before it; else says why it does not.
    pub fn answer(self, typed: &mut Typed, answer: &str) -> Result<(), Refused> {
        let mut tried = typed.clone();
        let answer = answer.trim().to_owned();
        let open = Some(answer.clone()).filter(|own| !own.eq_ignore_ascii_case("none") && !own.is_empty());
        match self {
            Self::Process => tried.process = answer,
            Self::Metal => tried.metal = answer,
            Self::To => tried.to = open,
            Self::Thickness => tried.thickness = answer,
            Self::Joint => tried.joint = answer,
            Self::Diameter => tried.diameter = open,
            Self::Position => tried.position = answer,
        }
        let at = Self::ALL.iter().position(|own| *own == self).unwrap_or_default();
        probe(&tried, at)?;
        *typed = tried;
        Ok(())
    }
}

/// Holds the answers up to a question against each other, with something that suits in place of those that follow.
fn probe(typed: &Typed, at: usize) -> Result<(), Refused> {
    let given = |question: Question| {
        Question::ALL.iter().position(|own| *own == question).is_some_and(|own| own <= at) && question.answered(typed)
    };
    let thicknesses: &[&str] =
        if given(Question::Thickness) { &[""] } else { &["5 mm", "10 mm", "2 mm", "1 mm", "20 mm"] };
    let joints: &[&str] = if given(Question::Joint) { &[""] } else { &["butt", "tee"] };
    let or = |own: &str, instead: &str| if own.is_empty() { instead.to_owned() } else { own.to_owned() };
    let mut first = None;
    for thickness in thicknesses {
        for joint in joints {
            let joint = if given(Question::Joint) { typed.joint.clone() } else { (*joint).to_owned() };
            let mut tried = Typed {
                metal: or(&typed.metal, "S235JR"),
                thickness: if thickness.is_empty() { typed.thickness.clone() } else { (*thickness).to_owned() },
                joint,
                ..typed.clone()
            };
            if !given(Question::Position) {
                tried.position = Question::Position.usual(&tried);
            }
            // A process alone may be for another metal.
            if at == 0 {
                let metals = ["S235JR", "5083-O", "304L"];
                let all = metals.iter().map(|metal| {
                    Facts::read_with(&Typed { metal: (*metal).to_owned(), ..tried.clone() }, &Choices::default())
                        .map(|_| ())
                });
                match all.reduce(|own, next| own.or(next)) {
                    Some(Err(why)) => first = first.or(Some(why)),
                    _ => return Ok(()),
                }
                continue;
            }
            match Facts::read_with(&tried, &Choices::default()) {
                Ok(_) => return Ok(()),
                Err(why) => first = first.or(Some(why)),
            }
        }
    }
    first.map_or(Ok(()), Err)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_answer_that_does_not_hold_is_refused_at_once() {
        let mut typed = Typed::default();
        for (question, bad, good) in [
            (Question::Process, "fusion", "135"),
            (Question::Metal, "5083", "S355J2"),
            (Question::To, "wood", "none"),
            (Question::Thickness, "60 mm", "8 mm"),
            (Question::Joint, "scarf", "tee"),
            (Question::Diameter, "10 mm", "none"),
            (Question::Position, "1G", "PB"),
        ] {
            let before = typed.clone();
            assert!(question.answer(&mut typed, bad).is_err(), "{question:?} takes {bad}");
            assert_eq!(typed, before, "{question:?} keeps what does not hold");
            question.answer(&mut typed, good).unwrap_or_else(|why| panic!("{question:?} {good}: {why}"));
        }
        assert!(Facts::read(&typed).is_ok());
    }

    #[test]
    fn the_choices_of_a_position_are_those_of_the_joint_and_unit() {
        let typed = |thickness: &str, joint: &str| Typed {
            metal: "A36".into(),
            thickness: thickness.into(),
            joint: joint.into(),
            ..Typed::default()
        };
        assert!(Question::Position.choices(&typed("3 mm", "tee")).contains(&"PB"));
        assert!(Question::Position.choices(&typed("1/8 in", "tee")).contains(&"2F"));
        assert!(Question::Position.choices(&typed("6 in sch 40", "butt")).contains(&"6G"));
        assert_eq!(Question::Position.usual(&typed("1/8 in", "tee")), "2F");
    }
}
