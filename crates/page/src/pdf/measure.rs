//! Lines of text: how wide they are and where they break.
//!
//! A text breaks at spaces and line ends. A number keeps its unit beside it where the line has room, and a word that
//! is wider than the line breaks after a joining mark (hyphen, dash, slash, dot) or, at last, anywhere, so that no
//! text ever leaves its box.

use std::borrow::Cow;

use seamwright_drawing::face::Face;
use seamwright_drawing::no_break::belongs_to_a_number;

/// Text in one face.
#[derive(Debug, Clone)]
pub(super) struct Span<'a> {
    pub face: Face,
    pub text: Cow<'a, str>,
}

/// A part of a line in one face.
#[derive(Debug, Clone)]
pub(super) struct Run {
    pub face: Face,
    /// Offset from the start of the line, pt.
    pub x: f64,
    pub width: f64,
    pub text: String,
}

/// A set line.
#[derive(Debug, Clone, Default)]
pub(super) struct Line {
    pub runs: Vec<Run>,
    pub width: f64,
}

/// A word and the room that it takes.
struct Word<'s> {
    span: usize,
    text: &'s str,
    width: f64,
    /// Width of the white space before it.
    space: f64,
    /// Starts a new line whatever room is left.
    forced: bool,
    /// Stays beside the word before it where it can.
    glued: bool,
}

const fn is_space(character: char) -> bool {
    matches!(character, ' ' | '\t' | '\n' | '\r')
}

const fn joins(character: char) -> bool {
    matches!(character, '-' | '–' | '—' | '/' | '_' | '.' | ',' | ';' | ':' | '·' | '+' | '=' | '&' | '@' | '\\' | '|')
}

/// Width of the widest word of `text`, pt: the least room in which no word breaks.
pub(super) fn widest_word(face: Face, size: f64, text: &str) -> f64 {
    text.split(is_space).map(|word| face.width(word) * size).fold(0.0, f64::max)
}

/// Width of the widest line of `text` when it is broken only where the text itself breaks, pt.
pub(super) fn natural_width(face: Face, size: f64, text: &str) -> f64 {
    text.lines().map(|line| face.width(line.trim()) * size).fold(0.0, f64::max)
}

/// Breaks a text in one face into lines of at most `width` pt.
pub(super) fn wrap(face: Face, size: f64, text: &str, width: f64) -> Vec<Line> {
    wrap_spans(&[Span { face, text: Cow::Borrowed(text) }], size, width)
}

/// As [`wrap`], but no more than `most` lines: an ellipsis at the end of the last says that there was more.
pub(super) fn wrap_at_most(face: Face, size: f64, text: &str, width: f64, most: usize) -> Vec<Line> {
    let mut lines = wrap(face, size, text, width);
    if lines.len() <= most {
        return lines;
    }
    lines.truncate(most);
    if let Some(line) = lines.last_mut() {
        let whole: String = line.runs.drain(..).map(|run| run.text).collect();
        let text = with_ellipsis(face, size, &whole, width);
        let width = face.width(&text) * size;
        *line = Line { runs: vec![Run { face, x: 0.0, width, text }], width };
    }
    lines
}

/// Breaks a text of several faces into lines of at most `width` pt.
pub(super) fn wrap_spans(spans: &[Span<'_>], size: f64, width: f64) -> Vec<Line> {
    let words = words(spans, size);
    let mut setter = Setter { spans, size, limit: width.max(0.0) + 1e-6, lines: Vec::new(), line: Line::default() };
    let mut at = 0;
    while let Some(word) = words.get(at) {
        if word.forced {
            setter.end_line();
        }
        let group = 1 + words.iter().skip(at + 1).take_while(|next| next.glued).count();
        let together: f64 = words
            .iter()
            .skip(at)
            .take(group)
            .enumerate()
            .map(|(i, w)| if i == 0 { w.width } else { w.space + w.width })
            .sum();
        let count = if together <= setter.limit { group } else { 1 };
        if setter.has_text()
            && setter.line.width + word.space + (if count > 1 { together } else { word.width }) > setter.limit
        {
            setter.end_line();
        }
        for word in words.iter().skip(at).take(count) {
            setter.set(word);
        }
        at += count;
    }
    setter.finish()
}

fn words<'s>(spans: &'s [Span<'_>], size: f64) -> Vec<Word<'s>> {
    let mut words: Vec<Word<'s>> = Vec::new();
    let mut space = 0.0;
    let mut forced = false;
    for (index, span) in spans.iter().enumerate() {
        let text: &'s str = &span.text;
        let mut rest = text;
        while !rest.is_empty() {
            let blank_end = rest.find(|c| !is_space(c)).unwrap_or(rest.len());
            let (blank, after) = rest.split_at(blank_end);
            if !blank.is_empty() {
                // However much white space the text has, a line shows one space of it.
                space = span.face.advance(' ') * size;
                forced |= blank.contains('\n') && !words.is_empty();
            }
            let word_end = after.find(is_space).unwrap_or(after.len());
            let (word, remaining) = after.split_at(word_end);
            if !word.is_empty() {
                let joined = words.last().is_some_and(|last| {
                    // Nothing but a change of face stands between them, or they are a number and its unit.
                    space == 0.0 || (last.text.ends_with(|c: char| c.is_ascii_digit()) && belongs_to_a_number(word))
                });
                words.push(Word {
                    span: index,
                    text: word,
                    width: span.face.width(word) * size,
                    space: if words.is_empty() { 0.0 } else { space },
                    forced,
                    glued: joined && !forced,
                });
                space = 0.0;
                forced = false;
            }
            rest = remaining;
        }
    }
    words
}

struct Setter<'s, 'a> {
    spans: &'s [Span<'a>],
    size: f64,
    limit: f64,
    lines: Vec<Line>,
    line: Line,
}

impl Setter<'_, '_> {
    fn has_text(&self) -> bool {
        !self.line.runs.is_empty()
    }

    fn end_line(&mut self) {
        if self.has_text() {
            self.lines.push(std::mem::take(&mut self.line));
        }
    }

    fn finish(mut self) -> Vec<Line> {
        self.end_line();
        self.lines
    }

    fn face(&self, span: usize) -> Face {
        self.spans.get(span).map_or(Face::Regular, |span| span.face)
    }

    /// Sets a word at the end of the line; one that is wider than a whole line is broken.
    fn set(&mut self, word: &Word<'_>) {
        let face = self.face(word.span);
        if word.width <= self.limit {
            self.push(face, word.text, word.space, word.width);
            return;
        }
        let mut space = word.space;
        let mut rest = word.text;
        while !rest.is_empty() {
            let room = self.limit - if self.has_text() { self.line.width + space } else { 0.0 };
            let end = self.break_point(face, rest, room);
            if end == 0 && self.has_text() {
                self.end_line();
                space = 0.0;
                continue;
            }
            // At least one character goes on a line, however narrow the line is.
            let end = if end == 0 { rest.chars().next().map_or(rest.len(), char::len_utf8) } else { end };
            let (part, remaining) = rest.split_at(end);
            self.push(face, part, space, face.width(part) * self.size);
            rest = remaining;
            space = 0.0;
            if !rest.is_empty() {
                self.end_line();
            }
        }
    }

    /// Byte length of the part of `text` that fits in `room`: up to its last joining mark, or else all that fits.
    fn break_point(&self, face: Face, text: &str, room: f64) -> usize {
        let mut width = 0.0;
        let mut fits = 0;
        let mut joint = 0;
        for (at, character) in text.char_indices() {
            let advance = face.advance(character) * self.size;
            width += advance;
            if width > room {
                // A mark without width of its own belongs to the letter before it.
                break;
            }
            fits = at + character.len_utf8();
            if joins(character) {
                joint = fits;
            }
        }
        if fits == text.len() || joint == 0 { fits } else { joint }
    }

    fn push(&mut self, face: Face, text: &str, space: f64, width: f64) {
        let space = if self.has_text() { space } else { 0.0 };
        match self.line.runs.last_mut() {
            Some(run) if run.face == face => {
                if space > 0.0 {
                    run.text.push(' ');
                }
                run.text.push_str(text);
                run.width += space + width;
            }
            // The space goes into the run, so that a copied line has it.
            _ => self.line.runs.push(Run {
                face,
                x: self.line.width,
                width: space + width,
                text: if space > 0.0 { format!(" {text}") } else { text.to_owned() },
            }),
        }
        self.line.width += space + width;
    }
}

/// Shortens a text with an ellipsis so that it fits in `width` pt.
pub(super) fn shorten(face: Face, size: f64, text: &str, width: f64) -> String {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    if face.width(&text) * size <= width {
        return text;
    }
    with_ellipsis(face, size, &text, width)
}

/// As much of a text as fits in `width` pt with an ellipsis after it.
fn with_ellipsis(face: Face, size: f64, text: &str, width: f64) -> String {
    let mut short = String::new();
    let mut taken = face.advance('…') * size;
    for character in text.chars() {
        taken += face.advance(character) * size;
        if taken > width {
            break;
        }
        short.push(character);
    }
    format!("{}…", short.trim_end())
}
