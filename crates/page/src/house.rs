//! The look of a shop: its name block, one colour and its logo.

use crate::logo::{Logo, Printed};

pub use crate::refused::HouseError;

/// What a shop puts on its sheets.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct House {
    /// Lines under the head of the first page: address, telephone, certificates.
    pub lines: Vec<String>,
    /// Colour of the rule under the head, as red, green and blue.
    pub accent: Option<[u8; 3]>,
    /// Logo at the head of the first page: in HTML as it is, in PDF where it is a PNG or an SVG of plain paths.
    pub logo: Option<Logo>,
    /// Logo for PDF, where that of the pages is none that a PDF prints.
    pub print_logo: Option<Logo>,
}

impl House {
    /// A colour from `#1f4e79`, dark enough for white paper: contrast of at least 3 : 1 (WCAG 2.1, 1.4.11).
    pub fn colour(text: &str) -> Result<[u8; 3], HouseError> {
        let digits = text.strip_prefix('#').filter(|digits| digits.len() == 6).ok_or(HouseError::Colour)?;
        if !digits.bytes().all(|digit| digit.is_ascii_hexdigit()) {
            return Err(HouseError::Colour);
        }
        let value = u32::from_str_radix(digits, 16).map_err(|_| HouseError::Colour)?;
        let [_, red, green, blue] = value.to_be_bytes();
        let linear = |part: u8| {
            let part = f64::from(part) / 255.0;
            if part <= 0.040_45 { part / 12.92 } else { ((part + 0.055) / 1.055).powf(2.4) }
        };
        // Relative luminance by WCAG 2.1.
        let luminance = 0.2126 * linear(red) + 0.7152 * linear(green) + 0.0722 * linear(blue);
        if 1.05 / (luminance + 0.05) < 3.0 { Err(HouseError::TooLight) } else { Ok([red, green, blue]) }
    }

    /// All of it as one text, of which a digest can be taken.
    pub fn text(&self) -> String {
        let colour = self.css().unwrap_or_default();
        let address = |logo: &Option<Logo>| logo.as_ref().map(Logo::address).unwrap_or_default();
        let logos = [address(&self.logo), address(&self.print_logo)].join("\n");
        format!("{}\n{colour}\n{logos}", self.lines.join("\n"))
    }

    /// The logo as a PDF takes it.
    pub(crate) fn printed(&self) -> Option<&Printed> {
        self.print_logo.as_ref().or(self.logo.as_ref()).and_then(Logo::printed)
    }

    /// The rules that set the colour: on paper and on a light screen.
    pub(crate) fn css(&self) -> Option<String> {
        let [red, green, blue] = self.accent?;
        let rule = format!("{{:root{{--accent:#{red:02x}{green:02x}{blue:02x}}}}}");
        Some(format!("@media print{rule}@media (prefers-color-scheme:light){rule}"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // WCAG 2.1, relative luminance: #767676 on white is 4.54 : 1, #ffff00 is 1.07 : 1.
    #[test]
    fn a_colour_must_be_seen_on_paper() {
        assert_eq!(House::colour("#767676"), Ok([0x76; 3]));
        assert_eq!(House::colour("#ffff00"), Err(HouseError::TooLight));
        for bad in ["red", "#12", "#12345g", "#+12345", "1f4e79"] {
            assert_eq!(House::colour(bad), Err(HouseError::Colour), "{bad}");
        }
    }
}
