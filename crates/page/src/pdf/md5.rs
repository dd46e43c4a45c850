//! The checksum that ISO 32000-1 (7.11.4, table 46) asks for an embedded file: MD5, after RFC 1321.
//!
//! It guards against accident only; the digest that a sheet prints is another, made for the purpose.

/// Shifts of the four rounds (RFC 1321, 3.4).
const SHIFTS: [[u32; 4]; 4] = [[7, 12, 17, 22], [5, 9, 14, 20], [4, 11, 16, 23], [6, 10, 15, 21]];

/// MD5 of `bytes`.
pub(super) fn md5(bytes: &[u8]) -> [u8; 16] {
    // T[i] is the whole part of 2^32 * |sin(i + 1)|, i in radians.
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "the value is below 2^32 and positive")]
    let table: [u32; 64] = std::array::from_fn(|index| {
        let radians = f64::from(u32::try_from(index + 1).unwrap_or(1));
        (radians.sin().abs() * 4_294_967_296.0) as u32
    });
    let mut state = [0x6745_2301_u32, 0xefcd_ab89, 0x98ba_dcfe, 0x1032_5476];
    let mut padded = bytes.to_vec();
    padded.push(0x80);
    while padded.len() % 64 != 56 {
        padded.push(0);
    }
    padded.extend((bytes.len() as u64).wrapping_mul(8).to_le_bytes());

    for chunk in padded.chunks_exact(64) {
        let mut words = [0_u32; 16];
        for (word, four) in words.iter_mut().zip(chunk.chunks_exact(4)) {
            *word = four.iter().rev().fold(0, |word, &byte| (word << 8) | u32::from(byte));
        }
        let [mut a, mut b, mut c, mut d] = state;
        for (step, constant) in table.into_iter().enumerate() {
            let (mixed, place) = match step / 16 {
                0 => ((b & c) | (!b & d), step),
                1 => ((d & b) | (!d & c), 5 * step + 1),
                2 => (b ^ c ^ d, 3 * step + 5),
                _ => (c ^ (b | !d), 7 * step),
            };
            // cannot fail: step / 16 and step % 4 are below four, place % 16 below sixteen
            let sum = a.wrapping_add(mixed).wrapping_add(constant).wrapping_add(words[place % 16]);
            let turned = sum.rotate_left(SHIFTS[step / 16][step % 4]);
            (a, d, c, b) = (d, c, b, b.wrapping_add(turned));
        }
        for (value, added) in state.iter_mut().zip([a, b, c, d]) {
            *value = value.wrapping_add(added);
        }
    }
    let mut digest = [0; 16];
    for (place, byte) in digest.iter_mut().zip(state.iter().flat_map(|word| word.to_le_bytes())) {
        *place = byte;
    }
    digest
}

#[cfg(test)]
mod tests {
    use super::md5;

    /// The test suite of RFC 1321, A.5, and a text of more than one block.
    #[test]
    fn agrees_with_rfc_1321() {
        let hex = |text: &str| format!("{:032x}", u128::from_be_bytes(md5(text.as_bytes())));
        for (text, digest) in [
            ("", "d41d8cd98f00b204e9800998ecf8427e"),
            ("a", "0cc175b9c0f1b6a831c399e269772661"),
            ("abc", "900150983cd24fb0d6963f7d28e17f72"),
            ("message digest", "f96b697d7cb7938d525a2f31aaf161d0"),
            ("abcdefghijklmnopqrstuvwxyz", "c3fcd3d76192e4007dfb496cca67e13b"),
            ("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789", "d174ab98d277d9f5a5611c2c9f419d9f"),
            (
                "12345678901234567890123456789012345678901234567890123456789012345678901234567890",
                "57edf4a22be3c955ac49da2e2107b67a",
            ),
        ] {
            assert_eq!(hex(text), digest, "of {text:?}");
        }
    }
}
