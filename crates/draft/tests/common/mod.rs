//! What several tests of drafts share.

use seamwright_draft::Typed;

/// Facts as they are typed, from `process|metal|thickness|joint|position`.
pub fn typed(words: &str) -> Typed {
    let words: Vec<&str> = words.split('|').collect();
    Typed {
        process: words[0].to_owned(),
        metal: words[1].to_owned(),
        thickness: words[2].to_owned(),
        joint: words[3].to_owned(),
        position: words[4].to_owned(),
        ..Typed::default()
    }
}
