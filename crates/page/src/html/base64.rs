//! Base64 (RFC 4648, section 4), in which the page carries its source and hashes.

use base64::Engine;
use base64::engine::general_purpose::STANDARD;

/// `bytes` in base64, padded.
pub(crate) fn encode(bytes: &[u8]) -> String {
    STANDARD.encode(bytes)
}

/// The bytes of padded base64; none for anything else, also where unused bits are set.
pub(super) fn decode(text: &str) -> Option<Vec<u8>> {
    STANDARD.decode(text).ok()
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
    fn other_text_is_refused() {
        for text in ["Zg", "Zg=", "Z===", "====", "Zh==", "Zm9=v", "Zm 9", "Zm9ä", "Zm9v\n"] {
            assert_eq!(decode(text), None, "{text:?}");
        }
    }
}
