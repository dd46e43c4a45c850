//! The texts that pages draw, in letters: what differs between two of them, in words.

use std::collections::BTreeMap;

use super::CONTENTS;
use crate::received::arrival::Unreadable;
use crate::received::bytes::find;
use crate::received::object::Object;
use crate::received::objects::Objects;
use crate::received::parser::unescaped;

/// The letters of glyphs, font by font, from the tables that make text searchable (9.10.3).
pub(super) type Letters = BTreeMap<u16, String>;

pub(super) fn letters(objects: &Objects<'_>) -> Result<Letters, Unreadable> {
    let mut letters = Letters::new();
    for number in objects.numbers() {
        let Some((font, _)) = objects.last(number)? else { continue };
        let Some(Object::Reference(table)) = font.get("ToUnicode") else { continue };
        let Some((dictionary, Some(end))) = objects.last(*table)? else { continue };
        let Some(bytes) = objects.stream(&dictionary, end, CONTENTS)? else { continue };
        for line in String::from_utf8_lossy(&bytes).lines() {
            let codes: Vec<&str> = line.split(['<', '>']).filter(|part| !part.trim().is_empty()).collect();
            if let [glyph, letter] = codes.as_slice()
                && let (Ok(glyph), Ok(letter)) = (u16::from_str_radix(glyph, 16), u32::from_str_radix(letter, 16))
                && let Some(letter) = char::from_u32(letter)
            {
                letters.insert(glyph, letter.to_string());
            }
        }
    }
    Ok(letters)
}

/// The texts that a page draws, in order, each with where it ends among the bytes.
fn texts(drawn: &[u8], letters: &Letters) -> Vec<(usize, String)> {
    const MOST: usize = 20_000;
    let mut found = Vec::new();
    let mut at = 0;
    while let Some(start) = find(drawn, at, b"(") {
        let mut end = start + 1;
        while let Some(byte) = drawn.get(end).filter(|byte| **byte != b')') {
            end += if *byte == b'\\' { 2 } else { 1 };
        }
        let glyphs = unescaped(drawn.get(start + 1..end.min(drawn.len())).unwrap_or_default());
        let two = |two: &[u8]| u16::from_be_bytes([two[0], two[1]]);
        let text: String =
            glyphs.chunks_exact(2).map(|own| letters.get(&two(own)).map_or("?", String::as_str)).collect();
        found.push((end, text));
        if found.len() >= MOST {
            break;
        }
        at = end;
    }
    found
}

/// The first difference of what two pages draw, in words.
pub(super) fn first_difference(given: &[u8], made: &[u8], letters: &Letters) -> String {
    let (own, other) = (texts(given, letters), texts(made, letters));
    let alike = own.iter().zip(&other).take_while(|((_, own), (_, other))| own == other).count();
    match (own.get(alike), other.get(alike)) {
        (Some((_, own)), Some((_, other))) => format!("it shows `{own}` where the source gives `{other}`"),
        (Some((_, own)), None) => format!("it shows `{own}`, which the source does not give"),
        (None, Some((_, other))) => format!("it lacks `{other}`, which the source gives"),
        (None, None) => {
            let same = given.iter().zip(made).take_while(|(own, other)| own == other).count();
            match own.iter().rev().find(|(end, _)| *end <= same) {
                Some((_, before)) => format!("something else is drawn after `{before}`"),
                None => "something else is drawn on it".to_owned(),
            }
        }
    }
}
