//! How names of metals are spelled: as they are compared, without the words that only introduce them.

/// Least length of a name that is left when words are taken off, so that a bare figure finds nothing.
pub(super) const LEAST: usize = 3;

pub(super) fn long(name: &str) -> bool {
    name.len() >= LEAST
}

/// Letters and digits in upper case, and points between digits.
pub(super) fn letters(text: &str) -> String {
    let upper = text.to_uppercase();
    let mut kept = String::with_capacity(upper.len());
    let mut before = ' ';
    let mut rest = upper.chars().peekable();
    while let Some(c) = rest.next() {
        let between_digits = before.is_ascii_digit() && rest.peek().is_some_and(char::is_ascii_digit);
        if c.is_alphanumeric() || (c == '.' && between_digits) {
            kept.push(c);
        }
        before = c;
    }
    kept
}

/// A name without the words that only introduce it, as [`letters`].
pub(super) fn key(text: &str) -> String {
    let upper = text.to_uppercase();
    let text = without_standard(upper.trim());
    let words = text.split(|c: char| c.is_whitespace() || "(),;_".contains(c));
    let words: Vec<&str> = words.flat_map(product_apart).collect();
    let mut kept = String::new();
    for (at, word) in words.iter().enumerate() {
        let next = words.get(at + 1).map_or(0, |next| letters(next).len());
        // `alloy 6061` is 6061, but alloy 400 and 400 are two metals.
        if introduces(word) || (*word == "ALLOY" && next > LEAST) {
            continue;
        }
        kept.push_str(&letters(&without_prefix(word)));
    }
    kept
}

/// A product specification and the grade that a hyphen ties to it: `A312-TP316L`, `SA-106-Gr.B`, `A106/A106M-B`.
pub(super) fn product_apart(word: &str) -> impl Iterator<Item = &str> {
    let own = word.rfind('/').map_or(0, |at| at + 1);
    let tied = word.get(own..).and_then(|own| {
        let number = own.strip_prefix('S').unwrap_or(own).strip_prefix(['A', 'B'])?;
        let number = number.strip_prefix('-').unwrap_or(number);
        let after = number.trim_start_matches(|c: char| c.is_ascii_digit());
        let grade = after.strip_prefix('M').unwrap_or(after).strip_prefix('-')?;
        (after.len() < number.len() && !grade.is_empty()).then_some(grade)
    });
    let product = tied.and_then(|grade| word.get(..word.len() - grade.len() - 1)).unwrap_or(word);
    std::iter::once(product).chain(tied)
}

/// Words that stand before or between the parts of a name and tell no metals apart.
pub(super) fn introduces(word: &str) -> bool {
    matches!(
        word,
        "ASTM"
            | "ASME"
            | "AISI"
            | "SAE"
            | "UNS"
            | "EN"
            | "ENAW"
            | "AW"
            | "DIN"
            | "ISO"
            | "W.NR."
            | "WNR"
            | "WERKSTOFF"
            | "NO."
            | "NR."
            | "NR"
            | "SPEC"
            | "GR"
            | "GR."
            | "GRADE"
            | "TYPE"
            | "TP"
            | "P/N"
            | "STEEL"
    )
}

/// One word without what only introduces it: `SA-516` is `A516`, `GR.70` is `70`, `A516/A516M` is `A516`.
fn without_prefix(word: &str) -> String {
    let digit_next = |rest: &str| rest.starts_with(|c: char| c.is_ascii_digit());
    let word = match word.split_once('/') {
        Some((head, tail)) if tail.strip_suffix('M') == Some(head) => head,
        Some(("A" | "B", tail)) if tail.starts_with('S') => tail,
        _ => word,
    };
    let introduced =
        ["ASTM-", "AISI-", "UNS-", "AW-", "AW", "ENAW-", "ENAW"].iter().find_map(|prefix| word.strip_prefix(prefix));
    let word = introduced.unwrap_or(word);
    for (written, meant) in [("SA", "A"), ("SB", "B")] {
        if let Some(rest) = word.strip_prefix(written).map(|rest| rest.trim_start_matches('-'))
            && digit_next(rest)
        {
            return format!("{meant}{rest}");
        }
    }
    // `TP316L` and `SS 304`: but `SS400` is a steel of its own.
    for (prefix, series) in [("TP", "23456789"), ("SUS", "234"), ("SS", "239")] {
        if let Some(rest) = word.strip_prefix(prefix).map(|rest| rest.trim_start_matches('-'))
            && rest.len() >= LEAST
            && rest.starts_with(|c: char| series.contains(c))
        {
            return rest.to_owned();
        }
    }
    for grade in ["GRADE", "GR.", "GR"] {
        if let Some(rest) = word.strip_prefix(grade).map(|rest| rest.trim_start_matches('-'))
            && (digit_next(rest) || grade == "GR.")
        {
            return rest.to_owned();
        }
    }
    match word.strip_prefix("CLASS").or_else(|| word.strip_prefix("CL.")) {
        Some(rest) => format!("CL{rest}"),
        None => word.to_owned(),
    }
}

/// A name without the European or international standard before it: `EN 10025-2:2019 S355J2` is `S355J2`.
fn without_standard(text: &str) -> &str {
    const SEPARATORS: [char; 3] = [' ', '-', ':'];
    let mut rest = text;
    let mut body = false;
    while let Some(next) = ["BS", "DIN", "NF", "UNI", "SS", "EN", "ISO"].iter().find_map(|name| {
        let next = rest.strip_prefix(name)?;
        // A separator or a figure must follow, so that `SS400` and `ENxyz` stay.
        (next.starts_with(SEPARATORS) || (*name == "EN" && next.starts_with(|c: char| c.is_ascii_digit())))
            .then_some(next)
    }) {
        rest = next.trim_start_matches(SEPARATORS);
        body = true;
    }
    if !body {
        return text;
    }
    let number = |text: &str| text.chars().take_while(char::is_ascii_digit).count();
    let digits = number(rest);
    // Standards of metals have four or five figures; four may be an alloy, so a part or a year must follow those.
    let after = rest.get(digits..).unwrap_or_default();
    let part = after.strip_prefix('-').map_or(0, number);
    if digits == 5 || (digits >= 3 && (1..=2).contains(&part)) {
        let after = if part > 0 { after.get(part + 1..).unwrap_or_default() } else { after };
        let year = after.strip_prefix(':').map_or(0, number);
        let after = if year == 4 { after.get(year + 1..).unwrap_or_default() } else { after };
        let name = after.trim_start_matches(SEPARATORS);
        return if name.is_empty() { rest } else { name };
    }
    rest
}
