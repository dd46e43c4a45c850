//! Base64 (RFC 4648, section 4), in which the page carries its source and hashes.

const ALPHABET: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";

/// `bytes` in base64, padded.
pub(crate) fn encode(bytes: &[u8]) -> String {
    let mut out = String::with_capacity(bytes.len().div_ceil(3) * 4);
    for chunk in bytes.chunks(3) {
        let mut group = 0u32;
        for index in 0..3 {
            group = group << 8 | u32::from(chunk.get(index).copied().unwrap_or(0));
        }
        for index in 0..4 {
            if index <= chunk.len() {
                let sextet = (group >> (18 - 6 * index)) & 0x3f;
                // Cannot fail: six bits are below 64, the length of the alphabet.
                out.push(char::from(ALPHABET[sextet as usize]));
            } else {
                out.push('=');
            }
        }
    }
    out
}

/// The bytes of padded base64; none for anything else, also where unused bits are set.
pub(super) fn decode(text: &str) -> Option<Vec<u8>> {
    if !text.len().is_multiple_of(4) {
        return None;
    }
    let digits = text.strip_suffix("==").or_else(|| text.strip_suffix('=')).unwrap_or(text);
    let mut out = Vec::with_capacity(digits.len() / 4 * 3 + 2);
    let (mut group, mut bits) = (0u32, 0u32);
    for byte in digits.bytes() {
        group = group << 6 | value(byte)?;
        bits += 6;
        if bits >= 8 {
            bits -= 8;
            out.push(u8::try_from(group >> bits).ok()?);
            group &= (1 << bits) - 1;
        }
    }
    (group == 0).then_some(out)
}

fn value(byte: u8) -> Option<u32> {
    Some(u32::from(match byte {
        b'A'..=b'Z' => byte - b'A',
        b'a'..=b'z' => byte - b'a' + 26,
        b'0'..=b'9' => byte - b'0' + 52,
        b'+' => 62,
        b'/' => 63,
        _ => return None,
    }))
}

#[cfg(test)]
mod tests {
    use super::{decode, encode};

    /// RFC 4648, section 10: test vectors.
    #[test]
    fn the_vectors_of_the_standard_hold() {
        for (plain, packed) in [
            ("", ""),
            ("f", "Zg=="),
            ("fo", "Zm8="),
            ("foo", "Zm9v"),
            ("foob", "Zm9vYg=="),
            ("fooba", "Zm9vYmE="),
            ("foobar", "Zm9vYmFy"),
        ] {
            assert_eq!(encode(plain.as_bytes()), packed);
            assert_eq!(decode(packed).as_deref(), Some(plain.as_bytes()));
        }
    }

    #[test]
    fn every_byte_comes_back() {
        let bytes: Vec<u8> = (0..=255).chain((0..=255).rev()).collect();
        for length in 0..bytes.len() {
            assert_eq!(decode(&encode(&bytes[..length])).as_deref(), Some(&bytes[..length]));
        }
    }

    #[test]
    fn other_text_is_refused() {
        for text in ["Zg", "Zg=", "Z===", "====", "Zh==", "Zm9=v", "Zm 9", "Zm9ä", "Zm9v\n"] {
            assert_eq!(decode(text), None, "{text:?}");
        }
    }
}
