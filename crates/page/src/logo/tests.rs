use super::*;

fn svg(inside: &str) -> Result<Logo, HouseError> {
    Logo::new(format!("<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\">{inside}</svg>").as_bytes())
}

fn artwork(inside: &str) -> Artwork {
    match svg(inside).unwrap().printed {
        Ok(Printed::Artwork(artwork)) => artwork,
        other => panic!("{inside}: {other:?}"),
    }
}

/// A PNG of one frame.
fn png(width: u32, height: u32, colour: png::ColorType, depth: png::BitDepth, samples: &[u8]) -> Vec<u8> {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, width, height);
    encoder.set_color(colour);
    encoder.set_depth(depth);
    encoder.write_header().unwrap().write_image_data(samples).unwrap();
    bytes
}

/// The samples that a PDF viewer gets out of packed rows: each is added to the one above.
fn unpacked(pixels: &Pixels) -> Vec<u8> {
    let mut rows = Vec::new();
    std::io::Read::read_to_end(&mut flate2::read::ZlibDecoder::new(pixels.packed.as_slice()), &mut rows).unwrap();
    let row = pixels.width as usize * usize::from(pixels.colours.samples());
    let mut above = vec![0u8; row];
    let mut samples = Vec::new();
    for line in rows.chunks(row + 1) {
        assert_eq!(line[0], 2);
        above = line[1..].iter().zip(&above).map(|(sample, above)| sample.wrapping_add(*above)).collect();
        samples.extend_from_slice(&above);
    }
    samples
}

fn pixels(bytes: &[u8]) -> Pixels {
    match Logo::new(bytes).unwrap().printed {
        Ok(Printed::Pixels(pixels)) => pixels,
        other => panic!("{other:?}"),
    }
}

#[test]
fn a_logo_that_could_act_is_refused() {
    assert!(svg("<path d=\"M0 0h9v9z\"/>").is_ok());
    for bad in [
        "<script>1</script>",
        "<rect onload=\"x()\"/>",
        "<rect\nonclick='x()'/>",
        "<a href=\"javascript:x\"/>",
        "<image href=\"http://example.org/x.png\"/>",
        "<foreignObject/>",
    ] {
        assert!(matches!(svg(bad), Err(HouseError::LogoUnsafe(_))), "{bad}");
    }
    assert_eq!(Logo::new(b"GIF89a"), Err(HouseError::LogoFormat));
    assert_eq!(Logo::new(&vec![b' '; LOGO_LIMIT + 1]), Err(HouseError::LogoTooLarge));
}

#[test]
fn paths_are_printed_in_their_colours_and_places() {
    let drawn = artwork("<g transform=\"translate(1 2)\"><rect width=\"3\" height=\"4\" fill=\"#ff0000\"/></g>");
    assert_eq!((drawn.width, drawn.height), (9.0, 9.0));
    assert_eq!(drawn.content, "q\n1 0 0 1 1 2 cm\n1 0 0 rg\n0 0 m\n3 0 l\n3 4 l\n0 4 l\nh\nf\nQ\n");
    let line = artwork(
        "<path d=\"M0 0L9 9\" fill=\"none\" stroke=\"#0000ff\" stroke-width=\"2\" stroke-linecap=\"round\" stroke-dasharray=\"3 1\"/>",
    );
    assert_eq!(line.content, "q\n1 0 0 1 0 0 cm\n0 0 1 RG\n2 w 1 J 0 j 4 M\n[3 1] 0 d\n0 0 m\n9 9 l\nS\nQ\n");
    let both = artwork("<path d=\"M0 0H9V9z\" fill-rule=\"evenodd\" stroke=\"#000\" paint-order=\"stroke\"/>");
    assert!(both.content.find("S\n") < both.content.find("f*\n"), "{}", both.content);
    let used = artwork("<defs><path id=\"p\" d=\"M0 0h1v1z\"/></defs><use href=\"#p\"/><use href=\"#p\" x=\"4\"/>");
    assert_eq!(used.content.matches("f\n").count(), 2);
    assert!(used.content.contains("1 0 0 1 4 0 cm"), "{}", used.content);
    let styled = artwork("<style>.a{fill:#00ff00}</style><path class=\"a\" d=\"M0 0h1v1z\"/>");
    assert!(styled.content.contains("0 1 0 rg"), "{}", styled.content);
}

// A quadratic Bézier raised to a cubic has its controls at two thirds (Farin, Curves and Surfaces, degree elevation).
#[test]
fn a_quadratic_curve_is_printed_as_the_cubic_along_it() {
    let drawn = artwork("<path d=\"M0 0Q3 6 6 0z\"/>");
    assert!(drawn.content.contains("2 4 4 4 6 0 c"), "{}", drawn.content);
}

#[test]
fn a_clip_path_of_one_shape_clips() {
    let clip = |shapes: &str| {
        let path = "<path clip-path=\"url(#c)\" d=\"M0 0h9v9z\"/>";
        svg(&format!("<clipPath id=\"c\" transform=\"scale(2)\">{shapes}</clipPath>{path}"))
    };
    let one = clip("<rect x=\"1\" width=\"2\" height=\"2\"/>").unwrap();
    let Some(Printed::Artwork(one)) = one.printed() else { panic!("{one:?}") };
    assert!(one.content.starts_with("q\n2 0 m\n6 0 l\n6 4 l\n2 4 l\nh\nW n\nq\n"), "{}", one.content);
    assert!(one.content.ends_with("Q\nQ\n"), "{}", one.content);
    let two = clip("<rect width=\"2\" height=\"2\"/><rect x=\"3\" width=\"2\" height=\"2\"/>").unwrap();
    assert!(two.check_print().unwrap_err().to_string().contains("clip path of several"));
}

#[test]
fn what_a_pdf_does_not_show_is_named() {
    let gradient =
        "<linearGradient id=\"g\"><stop offset=\"0\" stop-color=\"#123\"/><stop offset=\"1\"/></linearGradient>";
    for (inside, named) in [
        (format!("{gradient}<rect width=\"9\" height=\"9\" fill=\"url(#g)\"/>"), "a gradient"),
        (format!("{gradient}<path d=\"M0 0L9 8\" stroke=\"url(#g)\"/>"), "a gradient"),
        ("<text>Tarn</text><path d=\"M0 0h9v9z\"/>".to_owned(), "text"),
        ("<image href=\"data:image/png;base64,AAAA\"/><path d=\"M0 0h9v9z\"/>".to_owned(), "a picture"),
        ("<pattern id=\"g\"/><path d=\"M0 0h9v9z\"/>".to_owned(), "a pattern"),
        ("<mask id=\"g\"/><path d=\"M0 0h9v9z\"/>".to_owned(), "a mask"),
        ("<marker id=\"g\"/><path d=\"M0 0h9v9z\"/>".to_owned(), "a marker"),
        ("<path d=\"M0 0h9v9z\" fill-opacity=\".5\"/>".to_owned(), "a see-through part"),
        ("<g opacity=\".5\"><path d=\"M0 0h9v9z\"/></g>".to_owned(), "a see-through part"),
        ("<g style=\"mix-blend-mode:multiply\"><path d=\"M0 0h9v9z\"/></g>".to_owned(), "a see-through part"),
        ("<style>a{fill:url(#g)}</style><path d=\"M0 0h9v9z\"/>".to_owned(), "a style sheet"),
        (String::new(), "without a path"),
    ] {
        let logo = svg(&inside).unwrap();
        let said = logo.check_print().unwrap_err().to_string();
        assert!(said.contains(named), "{inside}: {said}");
        // A page shows it all the same.
        assert!(logo.address().starts_with("data:image/svg+xml;base64,"));
    }
}

/// Drawings that a small file unfolds without end; each is refused before it is unfolded.
#[test]
fn a_drawing_that_unfolds_without_end_is_not_printed() {
    let tenfold = |to: usize, each: &str| {
        let of = |level: usize| each.repeat(10).replace("LEVEL", &(level - 1).to_string());
        (1..to).map(|level| format!("<g id=\"a{level}\">{}</g>", of(level))).collect::<String>()
    };
    let uses = format!("<path id=\"a0\" d=\"M0 0h9v9z\"/>{}", tenfold(30, "<use href=\"#aLEVEL\"/>"));
    let clips = format!(
        "<clipPath id=\"a0\"><path d=\"M0 0h9v9z\"/></clipPath>{}",
        tenfold(30, "<g clip-path=\"url(#aLEVEL)\"><path d=\"M0 0h9v9z\"/></g>")
    );
    let inherited = format!(
        "<g stroke=\"#000\" stroke-dasharray=\"{}\">{}</g>",
        "1 ".repeat(20_000),
        "<path d=\"M0 0L9 9\"/>".repeat(1_000)
    );
    let styled = format!("<style>{}</style>{}", "b{fill:red}".repeat(4_000), "<path d=\"M0 0h9v9z\"/>".repeat(1_000));
    let nested = format!("{}<path d=\"M0 0h9v9z\"/>{}", "<g>".repeat(20_000), "</g>".repeat(20_000));
    let itself = "<g id=\"a\"><use href=\"#a\"/><path d=\"M0 0h9v9z\"/></g>".to_owned();
    let twice = format!(
        "<g id=\"b\"/><g id=\"b\">{}</g>{}",
        "<path d=\"M0 0h9v9z\"/>".repeat(500),
        "<use href=\"#b\"/>".repeat(500)
    );
    for inside in [uses, clips, inherited, styled, nested, itself, twice] {
        let said = svg(&inside).unwrap().check_print().unwrap_err().to_string();
        assert!(said.contains("so many parts") || said.contains("so deep"), "{said}");
    }
}

#[test]
fn every_png_is_printed_in_8_bits_on_white() {
    use png::{BitDepth, ColorType};
    for (colour, depth, samples, printed) in [
        (ColorType::Rgb, BitDepth::Eight, vec![200, 0, 0, 0, 0, 200], vec![200, 0, 0, 0, 0, 200]),
        (ColorType::Rgba, BitDepth::Eight, vec![200, 0, 0, 255, 9, 9, 9, 0], vec![200, 0, 0, 255, 255, 255]),
        (ColorType::Grayscale, BitDepth::One, vec![0b0100_0000], vec![0, 255]),
        (ColorType::Grayscale, BitDepth::Sixteen, vec![1, 2, 3, 4], vec![1, 3]),
        // Half of black on white is the grey between: 255 · (1 - 128 / 255) = 127.
        (ColorType::GrayscaleAlpha, BitDepth::Eight, vec![0, 128, 7, 255], vec![127, 7]),
    ] {
        let pixels = pixels(&png(2, 1, colour, depth, &samples));
        assert_eq!((pixels.width, pixels.height), (2, 1));
        assert_eq!(unpacked(&pixels), printed, "{colour:?}");
    }
    let tall = pixels(&png(1, 3, ColorType::Grayscale, BitDepth::Eight, &[9, 4, 250]));
    assert_eq!(unpacked(&tall), [9, 4, 250]);
    assert_eq!(
        Printed::Pixels(pixels(&png(2, 1, ColorType::Grayscale, BitDepth::Eight, &[0, 0]))).size(),
        (56.0, 28.0)
    );
}

#[test]
fn a_png_that_is_not_whole_or_too_wide_is_refused() {
    use png::{BitDepth, ColorType};
    let whole = png(2, 2, ColorType::Grayscale, BitDepth::Eight, &[9, 9, 9, 9]);
    assert!(Logo::new(&whole).unwrap().check_print().is_ok());
    let mut flipped = whole.clone();
    flipped[45] ^= 0x10;
    for bad in [whole[..30].to_vec(), whole[..whole.len() - 20].to_vec(), SIGNATURE.to_vec(), flipped] {
        assert!(matches!(Logo::new(&bad), Err(HouseError::PngBroken(_))), "{bad:?}");
    }
    let wide = png(5000, 1, ColorType::Grayscale, BitDepth::Eight, &[0; 5000]);
    assert_eq!(Logo::new(&wide), Err(HouseError::LogoTooWide(4096)));
}

const SAMPLE: &str = "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" viewBox=\"0 0 9 9\" width=\"40mm\">\
    <defs><clipPath id=\"c\"><rect width=\"4\" height=\"4\"/></clipPath><path id=\"p\" d=\"M0 0h9v9z\"/>\
    <radialGradient id=\"g\" gradientUnits=\"userSpaceOnUse\" r=\"3\"><stop offset=\"10%\" stop-color=\"#123\"/></radialGradient></defs>\
    <style>.a{fill:red;stroke-dasharray:1 2}</style><symbol id=\"s\" viewBox=\"0 0 2 2\"><circle r=\"1\"/></symbol>\
    <g transform=\"matrix(1 0 .5 1 2 3) rotate(20 1 1)\" clip-path=\"url(#c)\" style=\"stroke:#0f0;stroke-width:.2em\">\
    <use xlink:href=\"#p\" x=\"10%\"/><use href=\"#s\" width=\"3\" height=\"2\"/><ellipse rx=\"2\" ry=\"1\" class=\"a\"/>\
    <path d=\"M1 1A2 3 20 0 1 4 4S5 5 6 6T8 8z\" stroke-linejoin=\"bevel\" fill=\"url(#g)\"/></g></svg>";

proptest::proptest! {
    /// Whatever is written into a drawing: it is read, or refused in words.
    #[test]
    fn no_drawing_makes_it_panic(
        edits in proptest::collection::vec((0..SAMPLE.len(), 0..12_usize, "[-0-9.e#a-z%\" <>/()]{0,6}"), 1..6)
    ) {
        let mut text = SAMPLE.to_owned();
        for (at, length, with) in edits {
            let at = at.min(text.len());
            let end = (at + length).min(text.len());
            text.replace_range(at..end, &with);
        }
        if let Err(error) = Logo::new(text.as_bytes()).and_then(|logo| logo.check_print()) {
            proptest::prop_assert!(!error.to_string().is_empty());
        }
    }
}
