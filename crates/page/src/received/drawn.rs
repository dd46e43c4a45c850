//! What a page shows, mark by mark: each with all that it is painted with, so that programs that set the same things in another
//! order, or move and turn by other steps, draw the same page.

use std::cell::Cell;
use std::collections::BTreeMap;
use std::rc::Rc;

use super::arrival::Unreadable;
use super::bytes::{is_regular, skip_space};
use super::object::Object;
use super::objects::Objects;
use super::parser::Parser;

/// Most bytes of a page that is looked at mark by mark.
const MOST: usize = 256 * 1024;
/// Most states that are kept while others hold, and clips in force.
const DEEP: usize = 16;
/// Most bytes of what marks are painted with, by one operator.
const LONG: usize = 1024;
/// How far marks may lie apart, in points: less than anybody sees.
const NEAR: f64 = 0.0005;

/// How wide the letters of the fonts of a page are, by the name of the font: the usual width, and that of each letter, in
/// thousandths of the size (9.7.4.3).
#[derive(Debug, Default)]
pub(super) struct Widths(BTreeMap<Vec<u8>, (f64, BTreeMap<u16, f64>)>);

impl Widths {
    /// Those of the fonts that a page names; nothing of a font that is made otherwise than those of sheets.
    pub(super) fn of<'o>(objects: &'o Objects<'_>, page: &Object<'o>) -> Result<Self, Unreadable> {
        let below = |object: &Object<'o>, key: &str| -> Result<Object<'o>, Unreadable> {
            object.get(key).map_or(Ok(Object::Other), |own| objects.resolved(own))
        };
        let mut all = Self::default();
        let Object::Dictionary(fonts) = below(&below(page, "Resources")?, "Font")? else { return Ok(all) };
        for (name, font) in fonts {
            let Object::Array(parts) = below(&objects.resolved(&font)?, "DescendantFonts")? else { continue };
            let [part] = parts.as_slice() else { continue };
            let part = objects.resolved(part)?;
            let usual = part.get("DW").and_then(Object::real).unwrap_or(1000.0);
            let mut letters = BTreeMap::new();
            let Object::Array(listed) = below(&part, "W")? else { continue };
            let mut rest = listed.as_slice();
            while let [first, second, after @ ..] = rest {
                let Some(mut code) = first.number().and_then(|own| u16::try_from(own).ok()) else { break };
                rest = after;
                if let Object::Array(own) = second {
                    for width in own {
                        letters.extend(width.real().map(|width| (code, width)));
                        code = code.saturating_add(1);
                    }
                    continue;
                }
                let [width, after @ ..] = after else { break };
                rest = after;
                let last = second.number().and_then(|own| u16::try_from(own).ok());
                if let (Some(last), Some(width)) = (last, width.real()) {
                    letters.extend((code..=last).map(|code| (code, width)));
                }
            }
            all.0.insert(name.to_vec(), (usual, letters));
        }
        Ok(all)
    }
}

/// Whether two pages with the same fonts show the same, as far as their marks can be told.
pub(super) fn same(given: &[u8], made: &[u8], widths: &Widths) -> bool {
    let (Some(own), Some(other)) = (marks(given, widths), marks(made, widths)) else { return false };
    own.len() == other.len() && own.iter().zip(&other).all(|(own, other)| own.looks(other))
}

/// Something that is painted, or begins or ends a part of the text for readers.
#[derive(Debug, Default)]
struct Mark {
    /// Kind, colours, fonts and letters, which must be the same.
    what: Vec<u8>,
    /// Places and sizes, which must be near.
    at: Vec<f64>,
    /// What cuts it off, from the outermost on.
    clips: Vec<Rc<Clip>>,
}

/// A part of the page outside of which nothing is painted: its rule with its path, and where that runs.
type Clip = (Vec<u8>, Vec<f64>);

/// Whether all places are near those of another mark.
fn near(own: &[f64], other: &[f64]) -> bool {
    own.len() == other.len() && own.iter().zip(other).all(|(own, other)| (own - other).abs() <= NEAR)
}

impl Mark {
    fn looks(&self, other: &Self) -> bool {
        let alike = |(own, other): (&Rc<Clip>, &Rc<Clip>)| own.0 == other.0 && near(&own.1, &other.1);
        self.what == other.what
            && near(&self.at, &other.at)
            && self.clips.len() == other.clips.len()
            && self.clips.iter().zip(&other.clips).all(alike)
    }
}

/// A matrix (8.3.3).
type Matrix = [f64; 6];

const AS_IS: Matrix = [1.0, 0.0, 0.0, 1.0, 0.0, 0.0];

/// The matrix that applies one and then another.
fn then([a, b, c, d, e, f]: Matrix, m: Matrix) -> Matrix {
    let [g, h, i, j, k, l] = m;
    [a * g + b * i, a * h + b * j, c * g + d * i, c * h + d * j, e * g + f * i + k, e * h + f * j + l]
}

/// What marks are painted with (8.4.1).
#[derive(Debug, Clone)]
struct State {
    placed: Matrix,
    fill: Vec<u8>,
    stroke: Vec<u8>,
    line: f64,
    /// Ends, corners and dashes of lines, in the order of `LINES`.
    lines: [Vec<u8>; 4],
    /// How letters are painted, and the named states in the order in which they were called.
    letters: Vec<u8>,
    named: Vec<u8>,
    font: Vec<u8>,
    size: f64,
    /// Space between letters and words, width and rise, and between lines.
    text: [f64; 5],
    clips: Vec<Rc<Clip>>,
}

/// What sets ends, corners and dashes of lines.
const LINES: [&[u8]; 4] = [b"J", b"j", b"M", b"d"];
/// How letters are painted where nothing is said: filled.
const FILLED: &[u8] = b"0.0000 Tr";

/// The page as it is read.
struct Page<'w> {
    widths: &'w Widths,
    state: State,
    kept: Vec<State>,
    /// Where the line of text begins, and where its next letter stands.
    line: Matrix,
    next: Matrix,
    path: Vec<u8>,
    points: Vec<f64>,
    here: (f64, f64),
    clip: Option<&'static [u8]>,
    marks: Vec<Mark>,
    /// The marks with which parts began that have not ended.
    begun: Vec<usize>,
}

/// The marks of a page, of its operators in one spelling; nothing where it is larger or other than a sheet's.
fn marks(drawn: &[u8], widths: &Widths) -> Option<Vec<Mark>> {
    if drawn.len() > MOST {
        return None;
    }
    let parts = Cell::new(MOST);
    let mut parser = Parser { text: drawn, at: 0, parts: &parts };
    let black = spelled(&[Object::Number(b"0")], b"g")?;
    let state = State {
        placed: AS_IS,
        fill: black.clone(),
        stroke: black,
        line: 1.0,
        lines: ["0.0000 J", "0.0000 j", "10.0000 M", "Array([]) 0.0000 d"].map(|own| own.as_bytes().to_vec()),
        letters: FILLED.to_vec(),
        named: Vec::new(),
        font: Vec::new(),
        size: 0.0,
        text: [0.0, 0.0, 100.0, 0.0, 0.0],
        clips: Vec::new(),
    };
    let mut page = Page {
        widths,
        state,
        kept: Vec::new(),
        line: AS_IS,
        next: AS_IS,
        path: Vec::new(),
        points: Vec::new(),
        here: (0.0, 0.0),
        clip: None,
        marks: Vec::new(),
        begun: Vec::new(),
    };
    let mut takes = Vec::new();
    loop {
        parser.at = skip_space(drawn, parser.at);
        match parser.peek() {
            None => return (takes.is_empty() && page.kept.is_empty()).then_some(page.marks),
            Some(b'0'..=b'9' | b'+' | b'-' | b'.' | b'(' | b'<' | b'[' | b'/') => takes.push(parser.object(0).ok()?),
            Some(byte) if is_regular(byte) || matches!(byte, b'\'' | b'"') => {
                let word = parser.word();
                page.does(word, &takes)?;
                takes.clear();
            }
            Some(_) => return None,
        }
    }
}

/// Numbers, and nothing else.
fn numbers(takes: &[Object<'_>]) -> Option<Vec<f64>> {
    takes.iter().map(Object::real).collect()
}

/// The first of numbers.
fn first(takes: &[Object<'_>]) -> Option<f64> {
    numbers(takes)?.first().copied()
}

/// What an operator takes, and its name, in one spelling; nothing where that is longer than any of a sheet: marks keep it.
fn spelled(takes: &[Object<'_>], word: &[u8]) -> Option<Vec<u8>> {
    let mut out = Vec::new();
    for one in takes {
        match one.real() {
            Some(own) => out.extend_from_slice(format!("{own:.4}").as_bytes()),
            None => out.extend_from_slice(format!("{one:?}").as_bytes()),
        }
        out.push(b' ');
        if out.len() > LONG {
            return None;
        }
    }
    out.extend_from_slice(word);
    Some(out)
}

impl Page<'_> {
    fn does(&mut self, word: &[u8], takes: &[Object<'_>]) -> Option<()> {
        const CURVES: [(&[u8], usize); 5] = [(b"m", 2), (b"l", 2), (b"c", 6), (b"v", 4), (b"y", 4)];
        if let Some((_, count)) = CURVES.iter().find(|(own, _)| *own == word) {
            return self.runs(word, &numbers(takes).filter(|own| own.len() == *count)?);
        }
        let own = &mut self.state;
        match word {
            b"q" => {
                self.kept.push(self.state.clone());
                return (takes.is_empty() && self.kept.len() <= DEEP).then_some(());
            }
            b"Q" => self.state = self.kept.pop().filter(|_| takes.is_empty())?,
            b"cm" => own.placed = then(numbers(takes)?.try_into().ok()?, own.placed),
            b"w" => own.line = first(takes)?,
            b"g" | b"rg" | b"k" => own.fill = spelled(takes, word)?,
            b"G" | b"RG" | b"K" => own.stroke = spelled(takes, &word.to_ascii_lowercase())?,
            b"J" | b"j" | b"M" | b"d" => {
                let at = LINES.iter().position(|own| *own == word)?;
                *own.lines.get_mut(at)? = spelled(takes, word)?;
            }
            b"Tr" => own.letters = spelled(takes, word)?,
            b"gs" => {
                own.named.extend(spelled(takes, word)?);
                return (own.named.len() <= LONG).then_some(());
            }
            b"Tf" => {
                let [Object::Name(font), size] = takes else { return None };
                (own.font, own.size) = (font.to_vec(), size.real()?);
            }
            b"Tc" | b"Tw" | b"Tz" | b"Ts" | b"TL" => {
                let at = [b"Tc", b"Tw", b"Tz", b"Ts", b"TL"].iter().position(|own| *own == word)?;
                *own.text.get_mut(at)? = first(takes)?;
            }
            b"BT" => self.begins(AS_IS),
            b"ET" => {}
            b"Td" | b"TD" => {
                let [x, y] = numbers(takes)?.try_into().ok()?;
                if word == b"TD" {
                    own.text[4] = -y;
                }
                self.begins(then([1.0, 0.0, 0.0, 1.0, x, y], self.line));
            }
            b"T*" => {
                let down = [1.0, 0.0, 0.0, 1.0, 0.0, -own.text[4]];
                self.begins(then(down, self.line));
            }
            b"Tm" => self.begins(numbers(takes)?.try_into().ok()?),
            b"Tj" | b"TJ" => return self.shows(takes),
            b"re" => {
                let [x, y, width, height] = numbers(takes)?.try_into().ok()?;
                self.runs(b"m", &[x, y])?;
                for corner in [[x + width, y], [x + width, y + height], [x, y + height]] {
                    self.runs(b"l", &corner)?;
                }
                self.path.push(b'h');
            }
            b"h" => self.path.push(b'h'),
            b"W" => self.clip = Some(b"W"),
            b"W*" => self.clip = Some(b"W*"),
            b"S" | b"s" | b"f" | b"F" | b"f*" | b"B" | b"B*" | b"b" | b"b*" | b"n" => return self.paints(word),
            b"BMC" | b"BDC" => {
                self.begun.push(self.marks.len());
                self.marks.push(Mark { what: spelled(takes, word)?, ..Mark::default() });
            }
            b"EMC" => {
                // A part with nothing in it is none.
                if self.begun.pop()? + 1 == self.marks.len() {
                    self.marks.pop();
                } else {
                    self.marks.push(Mark { what: word.to_vec(), ..Mark::default() });
                }
            }
            b"Do" => {
                let (what, placed) = (spelled(takes, word)?, own.placed);
                self.mark(what, placed.to_vec());
            }
            _ => return None,
        }
        Some(())
    }

    /// A point of a path, as it lies on the page.
    fn placed(&self, x: f64, y: f64) -> [f64; 2] {
        let [a, b, c, d, e, f] = self.state.placed;
        [a * x + c * y + e, b * x + d * y + f]
    }

    /// A path goes on: its points as they lie on the page.
    fn runs(&mut self, word: &[u8], points: &[f64]) -> Option<()> {
        let (all, kind) = match (word, points) {
            (b"v", [x, y, to_x, to_y]) => (vec![self.here.0, self.here.1, *x, *y, *to_x, *to_y], b"c".as_slice()),
            (b"y", [x, y, to_x, to_y]) => (vec![*x, *y, *to_x, *to_y, *to_x, *to_y], b"c".as_slice()),
            (_, points) => (points.to_vec(), word),
        };
        for own in all.chunks_exact(2) {
            let &[x, y] = own else { return None };
            let placed = self.placed(x, y);
            self.points.extend(placed);
            self.here = (x, y);
        }
        self.path.extend_from_slice(kind);
        Some(())
    }

    /// The path is painted, or cuts off what follows.
    fn paints(&mut self, word: &[u8]) -> Option<()> {
        let (mut path, mut points) = (std::mem::take(&mut self.path), std::mem::take(&mut self.points));
        let word = match word {
            b"s" | b"b" | b"b*" => {
                path.push(b'h');
                word.to_ascii_uppercase()
            }
            b"F" => b"f".to_vec(),
            own => own.to_vec(),
        };
        if let Some(rule) = self.clip.take() {
            if self.state.clips.len() >= DEEP {
                return None;
            }
            self.state.clips.push(Rc::new(([rule, &path].concat(), points.clone())));
        }
        if word == b"n" {
            return Some(());
        }
        let strokes = word.first().is_some_and(|own| matches!(own, b'S' | b'B'));
        if strokes {
            let [a, b, c, d, ..] = self.state.placed;
            points.extend([a, b, c, d].map(|own| own * self.state.line));
        }
        let (fill, stroke) = (self.state.fill.clone(), self.state.stroke.clone());
        let fills = word.first().is_some_and(|own| matches!(own, b'f' | b'B'));
        let mut what = [&*word, b" ", &path].concat();
        let lines = self.state.lines.concat();
        for (own, colour) in [(fills, fill), (strokes, stroke)] {
            what.push(b'|');
            what.extend(if own { colour } else { Vec::new() });
        }
        what.extend(if strokes { lines } else { Vec::new() });
        self.mark(what, points);
        Some(())
    }

    /// A line of text begins.
    fn begins(&mut self, line: Matrix) {
        (self.line, self.next) = (line, line);
    }

    /// Text is shown, each letter a mark of its own.
    fn shows(&mut self, takes: &[Object<'_>]) -> Option<()> {
        let [one] = takes else { return None };
        let parts = match one {
            Object::Array(parts) => parts.as_slice(),
            text => std::slice::from_ref(text),
        };
        let widths = self.widths;
        let (usual, letters) = widths.0.get(&self.state.font)?;
        let (size, [between, _, wide, rise, _]) = (self.state.size, self.state.text);
        let mut painted = [b"show ", &*self.state.font, b" ", &*self.state.fill, b"|", &*self.state.letters].concat();
        if self.state.letters != FILLED {
            painted.extend_from_slice(&[&*self.state.stroke, &self.state.lines.concat()].concat());
        }
        for part in parts {
            let Object::Text(text) = part else {
                self.goes(-part.real()? / 1000.0 * size * wide / 100.0);
                continue;
            };
            if text.len() % 2 != 0 {
                return None;
            }
            for letter in text.chunks_exact(2) {
                let code = u16::from_be_bytes([*letter.first()?, *letter.last()?]);
                let placed = [size * wide / 100.0, 0.0, 0.0, size, 0.0, rise];
                let at = then(placed, then(self.next, self.state.placed));
                self.mark([&*painted, letter].concat(), at.to_vec());
                let width = letters.get(&code).unwrap_or(usual) / 1000.0;
                self.goes((width * size + between) * wide / 100.0);
            }
        }
        Some(())
    }

    /// The next letter stands further on.
    fn goes(&mut self, by: f64) {
        self.next = then([1.0, 0.0, 0.0, 1.0, by, 0.0], self.next);
    }

    /// Something that is painted, with what cuts it off and the named states.
    fn mark(&mut self, mut what: Vec<u8>, at: Vec<f64>) {
        what.extend_from_slice(&self.state.named);
        self.marks.push(Mark { what, at, clips: self.state.clips.clone() });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_page_by_other_steps_is_the_same_and_another_is_not() {
        let widths =
            Widths([(b"R".to_vec(), (500.0, BTreeMap::new())), (b"B".to_vec(), (500.0, BTreeMap::new()))].into());
        let same = |own: &[u8], other: &[u8]| same(own, other, &widths);
        let made = b"0.33 g BT /R 9 Tf 40 700 Td (abcd)Tj 0 -12 Td [(ef)]TJ ET q 2 0 0 2 10 20 cm 0 0 5 1 re f 0 G 0.5 w 0 0 m 5 5 l S Q";
        for alike in [
            b"BT /R 9 Tf .33 g 1 0 0 1 40 700 Tm (ab)Tj (cd)Tj 0 -11.9999 TD (ef)Tj ET q 2 0 0 2 10 20 cm 0 0 m 5 0 l 5 1 l 0 1 l h f 0 G .5 w 0 0 m 5 5 l S Q"
                .as_slice(),
            b"q 0.33 g BT /R 9 Tf 12 TL 40 700 Td [(ab)-500 500(cd)]TJ T* (ef)Tj ET Q q 0.33 g 1 0 0 1 10 20 cm 0 0 10 2 re F 2 0 0 2 0 0 cm .5 w 0 0 m 5 5 l S Q /P BMC EMC",
        ] {
            assert!(same(alike, made), "{}", String::from_utf8_lossy(alike));
        }
        let text = String::from_utf8_lossy(made);
        for (from, to) in [
            ("0.33 g", "0.34 g"),
            ("/R 9", "/B 9"),
            ("/R 9", "/R 9.1"),
            ("(abcd)", "(abce)"),
            ("0 -12 Td", ""),
            ("0 -12 Td", "0 -12.1 Td"),
            ("2 0 0 2", "2 0 0 -2"),
            ("5 1 re f", "5 1 re f*"),
            ("0 G", "1 G"),
            ("0.5 w", "0.6 w"),
            ("l S", "l s"),
            ("q 2", "0 0 9 9 re W n q 2"),
            ("S Q", "S Q /X Do"),
            ("S Q", "S"),
            ("[(ef)]TJ", "[?<6g5>]TJ"),
            ("40 700 Td", "4e1 700 Td"),
            ("S Q", "S Q 1 2 3"),
            ("S Q", "S Q /P BMC 0 0 1 1 re f EMC"),
            ("S Q", "S Q EMC"),
            ("S Q", "S Q BI /W 1 ID x EI"),
            ("0 G", "[3] 0 d 0 G"),
        ] {
            let other = text.replacen(from, to, 1);
            assert!(other != text && !same(other.as_bytes(), made), "{from} {to}");
        }
    }
}
