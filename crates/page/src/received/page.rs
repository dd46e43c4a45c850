//! A page that arrives: the sources in it, and where it differs from the page that its source gives.

use super::arrival::{Arrival, Candidate, Difference, Unreadable};
use super::markup::spelled;
use crate::html::embed;

/// Reads what a page carries.
pub fn read(page: &str) -> Result<Arrival, Unreadable> {
    let start: String = page.chars().take(1024).collect::<String>().to_ascii_lowercase();
    if !start.contains("<!doctype html") && !start.contains("<html") {
        return Err(Unreadable::Not { reason: "it has neither a document type nor an html element" });
    }
    let mut arrival = Arrival { producer: embed::generator(page), ..Arrival::default() };
    for (place, link) in embed::links(page) {
        match link {
            Some((file_name, text, made_with)) => {
                let same = |own: &&mut Candidate| own.text == text && own.file_name == file_name;
                if let Some(own) = arrival.candidates.iter_mut().find(same) {
                    own.made_with = own.made_with.take().or(made_with);
                } else {
                    arrival.candidates.push(Candidate { file_name, text, places: vec![place.to_owned()], made_with });
                }
            }
            None => arrival.unread += 1,
        }
    }
    Ok(arrival)
}

/// Where a page differs to the eye from the one that was made again; nothing where only its spelling does.
pub fn difference(given: &str, made: &str) -> Option<Difference> {
    if spelled(given) == spelled(made) {
        return None;
    }
    let given = given.strip_prefix('\u{FEFF}').unwrap_or(given).replace("\r\n", "\n");
    seen(&given, &made.replace("\r\n", "\n"))
}

/// The first difference to the eye.
fn seen(given: &str, made: &str) -> Option<Difference> {
    if given == made {
        return None;
    }
    let (mut given, mut made) = (given, made);
    // Text by text: a page may hold millions.
    let what = loop {
        match (next_text(&mut given), next_text(&mut made)) {
            (Some(own), Some(other)) if own == other => {}
            (Some(own), Some(other)) => {
                let alike = own.chars().zip(other.chars()).take_while(|(a, b)| a == b).count();
                break format!("it shows `{}` where the source gives `{}`", part(&own, alike), part(&other, alike));
            }
            (Some(own), None) => break format!("it shows `{}`, which the source does not give", part(&own, 0)),
            (None, Some(other)) => break format!("it lacks `{}`, which the source gives", part(&other, 0)),
            // The words are the same, the look is not: a style may hide or move what is there.
            (None, None) => break "its styles or drawings differ".to_owned(),
        }
    };
    Some(Difference { page: None, what })
}

/// A short part of a text around a place in it.
fn part(text: &str, at: usize) -> String {
    const BEFORE: usize = 20;
    const LENGTH: usize = 60;
    text.chars().skip(at.saturating_sub(BEFORE)).take(LENGTH).collect()
}

/// The next text of a page between its tags, without those of styles and scripts.
fn next_text(rest: &mut &str) -> Option<String> {
    while let Some((text, tagged)) = rest.split_once('<') {
        let silent = [("style", "</style"), ("script", "</script")]
            .into_iter()
            .find(|(name, _)| tagged.get(..name.len()).is_some_and(|start| start.eq_ignore_ascii_case(name)));
        let after = match silent {
            Some((_, end)) => tagged.split_once(end).map_or("", |(_, after)| after),
            None => tagged,
        };
        *rest = after.split_once('>').map_or("", |(_, after)| after);
        let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
        if !words.is_empty() {
            return Some(words);
        }
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_changed_word_is_named() {
        let page = "<html><style>p{}</style><p>Current</p><p>150 A</p></html>";
        assert_eq!(seen(page, page), None);
        let changed = page.replace("150 A", "190 A");
        let what = |given: &str| seen(given, page).map(|difference| difference.what).unwrap_or_default();
        assert_eq!(what(&changed), "it shows `190 A` where the source gives `150 A`");
        assert!(what(&page.replace("p{}", "p{display:none}")).contains("styles"));
        assert!(what("<p>Current</p>").contains("lacks `150 A`"));
    }
}
