//! The colours of a page, told to a printer: sRGB as a profile of the International Color Consortium.

/// The profile of sRGB (IEC 61966-2-1) in the format of ICC.1:2010, version 4.3: a matrix and its curve.
///
/// Primaries and white are those of the standard, adapted to D50 by the Bradford transform as ICC.1 asks (figures as they
/// are published for sRGB in its specification and in ICC profiles of it).
pub(super) fn srgb() -> Vec<u8> {
    let fixed = |value: f64| -> [u8; 4] {
        #[expect(clippy::cast_possible_truncation, reason = "s15Fixed16Number holds -32768 to 32767")]
        let whole = (value * 65536.0).round() as i32;
        whole.to_be_bytes()
    };
    let xyz = |values: [f64; 3]| -> Vec<u8> {
        let mut data = b"XYZ \0\0\0\0".to_vec();
        for value in values {
            data.extend(fixed(value));
        }
        data
    };
    let text = |words: &str| -> Vec<u8> {
        // multiLocalizedUnicodeType with one record, English of the United States.
        let units: Vec<u8> = words.encode_utf16().flat_map(u16::to_be_bytes).collect();
        let mut data = b"mluc\0\0\0\0\0\0\0\x01\0\0\0\x0cenUS".to_vec();
        data.extend(u32::try_from(units.len()).unwrap_or(0).to_be_bytes());
        data.extend(28_u32.to_be_bytes());
        data.extend(units);
        data
    };
    // parametricCurveType 3: the curve of sRGB as it is defined.
    let mut curve = b"para\0\0\0\0\0\x03\0\0".to_vec();
    for value in [2.4, 1.0 / 1.055, 0.055 / 1.055, 1.0 / 12.92, 0.04045] {
        curve.extend(fixed(value));
    }
    let tags: [(&[u8; 4], Vec<u8>); 9] = [
        (b"desc", text("sRGB")),
        (b"cprt", text("No copyright")),
        (b"wtpt", xyz([0.9642, 1.0, 0.8249])),
        (b"rXYZ", xyz([0.436_07, 0.222_49, 0.013_92])),
        (b"gXYZ", xyz([0.385_15, 0.716_87, 0.097_08])),
        (b"bXYZ", xyz([0.143_07, 0.060_61, 0.714_10])),
        (b"rTRC", curve.clone()),
        (b"gTRC", curve.clone()),
        (b"bTRC", curve),
    ];
    let mut table = u32::try_from(tags.len()).unwrap_or(0).to_be_bytes().to_vec();
    let mut body: Vec<u8> = Vec::new();
    let begin = 128 + 4 + 12 * tags.len();
    let mut placed: Vec<(Vec<u8>, usize)> = Vec::new();
    for (name, data) in tags {
        // Equal data stands once.
        let at = placed.iter().find(|(own, _)| *own == data).map(|(_, at)| *at);
        let at = at.unwrap_or_else(|| {
            let at = begin + body.len();
            body.extend(&data);
            body.resize(body.len().div_ceil(4) * 4, 0);
            placed.push((data.clone(), at));
            at
        });
        table.extend(name);
        table.extend(u32::try_from(at).unwrap_or(0).to_be_bytes());
        table.extend(u32::try_from(data.len()).unwrap_or(0).to_be_bytes());
    }
    let mut profile = vec![0; 128];
    let mut set = |at: usize, bytes: &[u8]| {
        if let Some(place) = profile.get_mut(at..at + bytes.len()) {
            place.copy_from_slice(bytes);
        }
    };
    set(0, &u32::try_from(begin + body.len()).unwrap_or(0).to_be_bytes());
    set(8, &[4, 0x30, 0, 0]);
    set(12, b"mntrRGB XYZ ");
    // The day of the standard's publication, so that equal sheets have equal bytes.
    for (place, number) in [1999_u16, 10, 18].into_iter().enumerate() {
        set(24 + 2 * place, &number.to_be_bytes());
    }
    set(36, b"acsp");
    for (place, value) in [0.9642, 1.0, 0.8249].into_iter().enumerate() {
        set(68 + 4 * place, &fixed(value));
    }
    profile.extend(table);
    profile.extend(body);
    profile
}

#[cfg(test)]
mod tests {
    use super::*;

    // ICC.1:2010, 7.2 and 7.3: size, signature and table of tags; the colourants of the three primaries sum to the white.
    #[test]
    fn the_profile_is_whole_and_its_primaries_sum_to_white() {
        let profile = srgb();
        let word = |at: usize| u32::from_be_bytes(profile[at..at + 4].try_into().unwrap());
        assert_eq!(word(0) as usize, profile.len());
        assert_eq!(&profile[36..40], b"acsp");
        let count = word(128) as usize;
        let mut sum = [0.0; 3];
        for tag in 0..count {
            let at = 132 + 12 * tag;
            let (offset, size) = (word(at + 4) as usize, word(at + 8) as usize);
            assert!(offset % 4 == 0 && offset + size <= profile.len());
            if profile[at + 1..at + 4] == *b"XYZ" {
                for (axis, sum) in sum.iter_mut().enumerate() {
                    *sum += f64::from(word(offset + 8 + 4 * axis)) / 65536.0;
                }
            }
        }
        for (found, white) in sum.into_iter().zip([0.9642, 1.0, 0.8249]) {
            assert!((found - white).abs() < 0.0005, "{found} {white}");
        }
    }
}
