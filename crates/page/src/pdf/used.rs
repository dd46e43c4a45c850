//! Which characters the pages of a file use.

use std::collections::BTreeSet;

use seamwright_drawing::face::{FACES, Face, as_set};

use super::piece::Mark;

/// Characters that pages use, by face.
#[derive(Debug, Default)]
pub(super) struct Used([Noted; FACES.len()]);

impl Used {
    /// Notes the characters of marks.
    pub(super) fn note(&mut self, marks: &[Mark]) {
        for mark in marks {
            if let Mark::Text { face, text, .. } = mark {
                let own = &mut self.0[*face as usize];
                // A space parts the words of two lines.
                own.note(' ');
                text.chars().for_each(|character| own.note(as_set(character)));
            }
        }
    }

    pub(super) fn of(&self, face: Face) -> BTreeSet<char> {
        let Noted { ascii, others } = &self.0[face as usize];
        let ascii = (b'\0'..).zip(ascii).filter(|(_, used)| **used).map(|(byte, _)| char::from(byte));
        ascii.chain(others.iter().copied()).collect()
    }
}

/// Characters that a face is used for; those of ASCII, which are nearly all, in a quicker place.
#[derive(Debug)]
struct Noted {
    ascii: [bool; 128],
    others: BTreeSet<char>,
}

impl Default for Noted {
    fn default() -> Self {
        Self { ascii: [false; 128], others: BTreeSet::new() }
    }
}

impl Noted {
    fn note(&mut self, character: char) {
        match self.ascii.get_mut(character as usize) {
            Some(used) => *used = true,
            None => _ = self.others.insert(character),
        }
    }
}
