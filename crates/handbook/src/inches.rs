//! Figures in inches as sources print them. The build reads tables by this, too: it names nothing else of the crate.

/// The figure of `1-1/2`, `3/16` or `0.75`; nothing where a text is none.
pub(crate) fn read(text: &str) -> Option<f64> {
    let fraction = |text: &str| {
        let (above, below) = text.split_once('/')?;
        let (above, below): (u32, u32) = (above.parse().ok()?, below.parse().ok()?);
        (below > 0).then(|| f64::from(above) / f64::from(below))
    };
    if let Some((whole, part)) = text.split_once('-') {
        let whole: u32 = whole.parse().ok()?;
        return Some(f64::from(whole) + fraction(part)?);
    }
    fraction(text).or_else(|| text.parse().ok().filter(|figure: &f64| figure.is_finite()))
}
