//! Reads a designation letter by letter, and remembers where it was broken by spaces and hyphens.

/// The letters of a designation in upper case, without spaces and hyphens.
#[derive(Debug, Clone)]
pub(super) struct Reader {
    letters: Vec<char>,
    /// Whether a space or a hyphen stood before the letter of the same place; one more for the end.
    breaks: Vec<bool>,
    at: usize,
}

impl Reader {
    pub(super) fn new(text: &str) -> Self {
        let mut letters = Vec::new();
        let mut breaks = vec![false];
        for c in text.chars().flat_map(char::to_uppercase) {
            if c.is_whitespace() || "-_\u{2010}\u{2011}\u{2012}\u{2013}\u{2212}".contains(c) {
                if let Some(last) = breaks.last_mut() {
                    *last = true;
                }
            } else {
                letters.push(c);
                breaks.push(false);
            }
        }
        if let Some(last) = breaks.last_mut() {
            *last = true;
        }
        Self { letters, breaks, at: 0 }
    }

    /// How many letters have been read.
    pub(super) fn read(&self) -> usize {
        self.at
    }

    /// What has not been read.
    pub(super) fn rest(&self) -> String {
        self.letters.get(self.at..).unwrap_or_default().iter().collect()
    }

    /// What has been read since a place.
    pub(super) fn since(&self, place: usize) -> String {
        self.letters.get(place..self.at).unwrap_or_default().iter().collect()
    }

    pub(super) fn at_end(&self) -> bool {
        self.at >= self.letters.len()
    }

    /// Whether a space or a hyphen stands here, or the end.
    pub(super) fn at_break(&self) -> bool {
        self.breaks_after(0)
    }

    /// Whether one stands so many letters on.
    pub(super) fn breaks_after(&self, letters: usize) -> bool {
        self.breaks.get(self.at + letters).copied().unwrap_or(true)
    }

    /// Reads so many letters.
    pub(super) fn skip(&mut self, letters: usize) {
        self.at += letters;
    }

    pub(super) fn peek(&self) -> Option<char> {
        self.letters.get(self.at).copied()
    }

    pub(super) fn back_to(&mut self, place: usize) {
        self.at = place.min(self.letters.len());
    }

    /// Reads this text, or nothing.
    pub(super) fn eat(&mut self, text: &str) -> bool {
        let length = text.chars().count();
        let same = self.letters.get(self.at..self.at + length).is_some_and(|own| own.iter().copied().eq(text.chars()));
        if same {
            self.at += length;
        }
        same
    }

    /// Reads as long as letters fit and no break comes.
    pub(super) fn word(&mut self, fits: impl Fn(char) -> bool) -> String {
        let start = self.at;
        while self.peek().is_some_and(&fits) && (self.at == start || !self.at_break()) {
            self.at += 1;
        }
        self.since(start)
    }

    /// Reads digits up to a break.
    pub(super) fn digits(&mut self) -> String {
        self.word(|c| c.is_ascii_digit())
    }

    /// Reads this many digits, breaks or not.
    pub(super) fn digits_exactly(&mut self, count: usize) -> Option<String> {
        let digits: String = self.letters.get(self.at..self.at + count)?.iter().collect();
        digits.chars().all(|c| c.is_ascii_digit()).then(|| {
            self.at += count;
            digits
        })
    }
}

/// A symbol as the reader sees it.
pub(super) fn compact(symbol: &str) -> String {
    symbol.chars().filter(|c| !c.is_whitespace() && *c != '-').flat_map(char::to_uppercase).collect()
}
