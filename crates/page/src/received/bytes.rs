//! The bytes of a PDF (ISO 32000-1, 7.2): white space, words and digits, and where a word stands.

pub(super) const fn is_space(byte: u8) -> bool {
    matches!(byte, 0 | b'\t' | b'\n' | 12 | b'\r' | b' ')
}

pub(super) const fn is_regular(byte: u8) -> bool {
    !is_space(byte) && !matches!(byte, b'(' | b')' | b'<' | b'>' | b'[' | b']' | b'{' | b'}' | b'/' | b'%')
}

/// The place after white space and comments.
pub(super) fn skip_space(text: &[u8], mut at: usize) -> usize {
    while let Some(byte) = text.get(at) {
        if *byte == b'%' {
            while text.get(at).is_some_and(|byte| !matches!(byte, b'\n' | b'\r')) {
                at += 1;
            }
        } else if is_space(*byte) {
            at += 1;
        } else {
            break;
        }
    }
    at
}

pub(super) fn digits(word: &[u8]) -> Option<u32> {
    std::str::from_utf8(word).ok().filter(|word| !word.starts_with('+'))?.parse().ok()
}

pub(super) fn hex_byte(two: &[u8]) -> Option<u8> {
    u8::from_str_radix(std::str::from_utf8(two).ok().filter(|text| text.len() == 2 && !text.starts_with('+'))?, 16).ok()
}

/// Where a word stands next.
pub(super) fn find(text: &[u8], from: usize, word: &[u8]) -> Option<usize> {
    let first = *word.first()?;
    let mut at = from;
    loop {
        let rest = text.get(at..)?;
        at += rest.iter().position(|byte| *byte == first)?;
        if text.get(at..)?.starts_with(word) {
            return Some(at);
        }
        at += 1;
    }
}
