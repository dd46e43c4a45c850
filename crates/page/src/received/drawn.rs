//! What a page shows, mark by mark: each with all that it is painted with, so that programs that set the same things in another
//! order, or move and turn by other steps, draw the same page.

use std::cell::Cell;

use super::objects::{Object, Parser, is_regular, skip_space};

/// Most bytes of a page that is looked at mark by mark.
const MOST: usize = 1024 * 1024;
/// Most states that are kept while others hold, clips in force, and numbers of a clip.
const DEEP: usize = 64;
/// How far marks may lie apart, in points: less than anybody sees.
const NEAR: f64 = 0.01;

/// Whether two pages show the same, as far as their marks can be told.
pub(super) fn same(given: &[u8], made: &[u8]) -> bool {
    let (Some(own), Some(other)) = (marks(given), marks(made)) else { return false };
    own.len() == other.len() && own.iter().zip(&other).all(|(own, other)| own.looks(other))
}

/// Something that is painted, or begins or ends a part of the text for readers.
#[derive(Debug, Default)]
struct Mark {
    /// Kind, colours, fonts and letters, which must be the same.
    what: Vec<u8>,
    /// Places and sizes, which must be near.
    at: Vec<f64>,
}

impl Mark {
    fn looks(&self, other: &Self) -> bool {
        let near = |(own, other): (&f64, &f64)| (own - other).abs() <= NEAR;
        self.what == other.what && self.at.len() == other.at.len() && self.at.iter().zip(&other.at).all(near)
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
    /// Ends, corners, dashes, named states, and how text is painted: as they were set, by operator.
    set: Vec<(&'static [u8], Vec<u8>)>,
    font: Vec<u8>,
    size: f64,
    /// Space between letters and words, width and rise, and between lines.
    text: [f64; 5],
    clips: Vec<(Vec<u8>, Vec<f64>)>,
}

impl State {
    fn set(&mut self, key: &'static [u8], value: Vec<u8>) {
        self.set.retain(|(own, _)| *own != key);
        self.set.push((key, value));
        self.set.sort();
    }
}

/// The page as it is read.
struct Page {
    state: State,
    kept: Vec<State>,
    /// Where the line of text begins, and how many texts were shown since.
    line: Matrix,
    shown: usize,
    path: Vec<u8>,
    points: Vec<f64>,
    here: (f64, f64),
    clip: Option<&'static [u8]>,
    marks: Vec<Mark>,
}

/// The marks of a page; nothing where it is larger or other than a sheet's.
fn marks(drawn: &[u8]) -> Option<Vec<Mark>> {
    if drawn.len() > MOST {
        return None;
    }
    let parts = Cell::new(MOST);
    let mut parser = Parser { text: drawn, at: 0, parts: &parts };
    let black = b"0 g".to_vec();
    let state = State {
        placed: AS_IS,
        fill: black.clone(),
        stroke: black,
        line: 1.0,
        set: Vec::new(),
        font: Vec::new(),
        size: 0.0,
        text: [0.0, 0.0, 100.0, 0.0, 0.0],
        clips: Vec::new(),
    };
    let mut page = Page {
        state,
        kept: Vec::new(),
        line: AS_IS,
        shown: 0,
        path: Vec::new(),
        points: Vec::new(),
        here: (0.0, 0.0),
        clip: None,
        marks: Vec::new(),
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
    takes.iter().map(number).collect()
}

fn number(object: &Object<'_>) -> Option<f64> {
    let Object::Number(text) = object else { return None };
    std::str::from_utf8(text).ok()?.parse().ok().filter(|own: &f64| own.is_finite())
}

/// What an operator takes, and its name, in one spelling.
fn spelled(takes: &[Object<'_>], word: &[u8]) -> Vec<u8> {
    let mut out = Vec::new();
    for one in takes {
        match number(one) {
            Some(own) => out.extend_from_slice(format!("{own:.4}").as_bytes()),
            None => out.extend_from_slice(format!("{one:?}").as_bytes()),
        }
        out.push(b' ');
    }
    out.extend_from_slice(word);
    out
}

impl Page {
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
            b"w" => own.line = *numbers(takes)?.as_slice().first()?,
            b"g" | b"rg" | b"k" => own.fill = spelled(takes, word),
            b"G" | b"RG" | b"K" => own.stroke = spelled(takes, &word.to_ascii_lowercase()),
            b"J" => own.set(b"J", spelled(takes, word)),
            b"j" => own.set(b"j", spelled(takes, word)),
            b"M" => own.set(b"M", spelled(takes, word)),
            b"d" => own.set(b"d", spelled(takes, word)),
            b"Tr" => own.set(b"Tr", spelled(takes, word)),
            // Named states add up: their names stand in the order in which they were called.
            b"gs" => {
                let mut all =
                    own.set.iter().find(|(own, _)| *own == b"gs").map_or_else(Vec::new, |(_, own)| own.clone());
                all.extend(spelled(takes, word));
                own.set(b"gs", all);
            }
            b"Tf" => {
                let [Object::Name(font), size] = takes else { return None };
                (own.font, own.size) = (font.to_vec(), number(size)?);
            }
            b"Tc" | b"Tw" | b"Tz" | b"Ts" | b"TL" => {
                let at = [b"Tc", b"Tw", b"Tz", b"Ts", b"TL"].iter().position(|own| *own == word)?;
                *own.text.get_mut(at)? = *numbers(takes)?.as_slice().first()?;
            }
            b"BT" => (self.line, self.shown) = (AS_IS, 0),
            b"ET" => {}
            b"Td" | b"TD" => {
                let [x, y] = numbers(takes)?.try_into().ok()?;
                if word == b"TD" {
                    own.text[4] = -y;
                }
                (self.line, self.shown) = (then([1.0, 0.0, 0.0, 1.0, x, y], self.line), 0);
            }
            b"T*" => {
                let down = [1.0, 0.0, 0.0, 1.0, 0.0, -own.text[4]];
                (self.line, self.shown) = (then(down, self.line), 0);
            }
            b"Tm" => (self.line, self.shown) = (numbers(takes)?.try_into().ok()?, 0),
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
            b"BMC" | b"BDC" | b"EMC" | b"MP" | b"DP" => {
                self.marks.push(Mark { what: spelled(takes, word), at: Vec::new() });
            }
            b"Do" => {
                let (what, placed) = (spelled(takes, word), own.placed);
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
            if points.len() > DEEP || self.state.clips.len() >= DEEP {
                return None;
            }
            self.state.clips.push(([rule, &path].concat(), points.clone()));
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
        for (own, colour) in [(fills, fill), (strokes, stroke)] {
            what.push(b'|');
            what.extend(if own { colour } else { Vec::new() });
        }
        self.mark(what, points);
        Some(())
    }

    /// Text is shown where the line stands.
    fn shows(&mut self, takes: &[Object<'_>]) -> Option<()> {
        let [one] = takes else { return None };
        let parts = match one {
            Object::Array(parts) => parts.as_slice(),
            text => std::slice::from_ref(text),
        };
        let state = &self.state;
        let mut what = [b"show ", &*state.font, b" ", &*state.fill, b"|", &*state.stroke].concat();
        what.extend_from_slice(format!("|{}|", self.shown).as_bytes());
        let mut at: Vec<f64> = then(self.line, state.placed).to_vec();
        at.push(state.size);
        at.extend_from_slice(&state.text[..4]);
        for part in parts {
            match part {
                Object::Text(text) => {
                    what.extend_from_slice(text);
                    what.push(b';');
                }
                other => at.push(number(other)?),
            }
        }
        self.shown += 1;
        self.mark(what, at);
        Some(())
    }

    /// Something that is painted, with what cuts it off and how its lines and letters are.
    fn mark(&mut self, mut what: Vec<u8>, mut at: Vec<f64>) {
        for (key, value) in &self.state.set {
            what.extend_from_slice(key);
            what.extend_from_slice(value);
        }
        for (path, points) in &self.state.clips {
            what.extend_from_slice(path);
            at.extend_from_slice(points);
        }
        self.marks.push(Mark { what, at });
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_same_page_by_other_steps_is_the_same_and_another_is_not() {
        let made = b"0.33 g BT /R 9 Tf 40 700 Td (ab)Tj 0 -12 Td (c)Tj ET q 2 0 0 2 10 20 cm 0 0 5 1 re f 0 G 0.5 w 0 0 m 5 5 l S Q";
        for alike in [
            b"BT /R 9 Tf .33 g 1 0 0 1 40 700 Tm (ab)Tj 0 -11.9999 TD <63>Tj ET q 2 0 0 2 10 20 cm 0 0 m 5 0 l 5 1 l 0 1 l h f 0 G .5 w 0 0 m 5 5 l S Q"
                .as_slice(),
            b"q 0.33 g BT /R 9 Tf 12 TL 40 700 Td (ab)Tj T* (c)Tj ET Q q 0.33 g 1 0 0 1 10 20 cm 0 0 10 2 re F 2 0 0 2 0 0 cm .5 w 0 0 m 5 5 l S Q",
        ] {
            assert!(same(alike, made), "{}", String::from_utf8_lossy(alike));
        }
        let text = String::from_utf8_lossy(made);
        for (from, to) in [
            ("0.33 g", "0.34 g"),
            ("/R 9", "/B 9"),
            ("/R 9", "/R 9.1"),
            ("(ab)", "(ac)"),
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
            ("S Q", "S Q 1 2 3"),
            ("S Q", "S Q BI /W 1 ID x EI"),
            ("0 G", "[3] 0 d 0 G"),
        ] {
            let other = text.replacen(from, to, 1);
            assert!(other != text && !same(other.as_bytes(), made), "{from} {to}");
        }
    }
}
