//! Constitution of stainless weld metal: equivalents, ferrite number, dilution.
//!
//! The lines of equal ferrite number of the WRC-1992 diagram stand here from memory, as straight lines that were checked
//! against typical ferrite numbers of filler metals; read from them, a number is within 3 of the 18 points of 32 to 58 FN in
//! Kotecki and Siewert 1992, Table 1. A measurement decides. The lines are public so that a drawing shows what the reading used.

use crate::Result;
use crate::argument::Argument;
use crate::band::Band;
use crate::composition::{Composition, Element as E};
use crate::formula::{Basis, Formula};
use crate::note::{Note, Noted, Validity};

const CHROMIUM: Argument = Argument("chromium equivalent", "%");
const NICKEL: Argument = Argument("nickel equivalent", "%");

/// Equivalents of the Schaeffler diagram.
pub const SCHAEFFLER: Formula = Formula {
    name: "schaeffler-equivalents",
    equation: "Cr eq = Cr + Mo + 1.5 Si + 0.5 Nb; Ni eq = Ni + 30 C + 0.5 Mn   [%]",
    source: "Schaeffler 1949",
    basis: Basis::Published,
    validity: "arc weld metal of usual nitrogen, about 0.05 %",
};

/// Equivalents of the `DeLong` diagram.
pub const DELONG: Formula = Formula {
    name: "delong-equivalents",
    equation: "Cr eq = Cr + Mo + 1.5 Si + 0.5 Nb; Ni eq = Ni + 30 C + 30 N + 0.5 Mn   [%]",
    source: "DeLong 1973",
    basis: Basis::Published,
    validity: "austenitic weld metal of the 300 series",
};

/// Equivalents of the WRC-1992 diagram.
pub const WRC_1992: Formula = Formula {
    name: "wrc-1992-equivalents",
    equation: "Cr eq = Cr + Mo + 0.7 Nb; Ni eq = Ni + 35 C + 20 N + 0.25 Cu   [%]",
    source: "Kotecki and Siewert: WRC-1992 constitution diagram, Welding Journal 71 (1992) 171-s",
    basis: Basis::Published,
    validity: "Cr eq 17 to 31 %, Ni eq 9 to 18 %, ferrite number 0 to 100 (from memory)",
};

/// Ferrite number from the lines of the WRC-1992 diagram.
pub const FERRITE_NUMBER: Formula = Formula {
    name: "ferrite-number-wrc-1992",
    equation: "FN = read between the lines of equal ferrite number, along the level of the nickel equivalent",
    source: "Kotecki and Siewert: WRC-1992 constitution diagram, Welding Journal 71 (1992) 171-s, lines of equal ferrite number",
    basis: Basis::FromMemory,
    validity: "Cr eq 17 to 31 %, Ni eq 9 to 18 %, ferrite number 0 to 100",
};

/// Composition of a diluted weld.
pub const DILUTION: Formula = Formula {
    name: "dilution",
    equation: "weld = (1 - D) filler + D (a parent 1 + (1 - a) parent 2)   [% of each element]",
    source: "balance of mass",
    basis: Basis::CommonPractice,
    validity: "a weld mixed throughout; nothing burns off or is picked up",
};

/// A chromium and a nickel equivalent, %: a point of a constitution diagram.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Equivalents {
    /// Chromium equivalent, %.
    pub chromium_pct: f64,
    /// Nickel equivalent, %.
    pub nickel_pct: f64,
}

/// Equivalents of the Schaeffler diagram: `Cr + Mo + 1.5 Si + 0.5 Nb` and `Ni + 30 C + 0.5 Mn`.
///
/// Source: Schaeffler 1949.
///
/// ```
/// // University course notes on dissimilar metal welding: nickel equivalent 11.3, chromium equivalent 18.8.
/// let metal = "C=0.02,Mn=1.2,Si=0.4,Cr=18.2,Ni=10.1".parse()?;
/// let found = seamwright_calc::ferrite::schaeffler(&metal);
/// assert!((found.nickel_pct - 11.3).abs() < 0.05 && (found.chromium_pct - 18.8).abs() < 0.05);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn schaeffler(metal: &Composition) -> Equivalents {
    let x = |element| metal.pct(element);
    Equivalents {
        chromium_pct: x(E::Cr) + x(E::Mo) + 1.5 * x(E::Si) + 0.5 * x(E::Nb),
        nickel_pct: x(E::Ni) + 30.0 * x(E::C) + 0.5 * x(E::Mn),
    }
}

/// Equivalents of the `DeLong` diagram: those of Schaeffler with `30 N` in the nickel equivalent.
///
/// Source: `DeLong` 1973. The metal of [`schaeffler`] with 0.05 % nitrogen has a nickel equivalent of 12.8.
pub fn delong(metal: &Composition) -> Equivalents {
    let base = schaeffler(metal);
    Equivalents { nickel_pct: base.nickel_pct + 30.0 * metal.pct(E::N), ..base }
}

/// Equivalents of the WRC-1992 diagram: `Cr + Mo + 0.7 Nb` and `Ni + 35 C + 20 N + 0.25 Cu`.
///
/// Source: Kotecki and Siewert 1992. Cr 19.9, Ni 9.9, Mo 0.1, C 0.02, N 0.04, Cu 0.1 give 20.0 and 11.43.
pub fn wrc_1992(metal: &Composition) -> Equivalents {
    let x = |element| metal.pct(element);
    Equivalents {
        chromium_pct: x(E::Cr) + x(E::Mo) + 0.7 * x(E::Nb),
        nickel_pct: x(E::Ni) + 35.0 * x(E::C) + 20.0 * x(E::N) + 0.25 * x(E::Cu),
    }
}

/// A line of equal ferrite number of the WRC-1992 diagram: straight, given at two levels of the nickel equivalent.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FerriteLine {
    /// Ferrite number.
    pub ferrite_number: f64,
    /// Chromium equivalent at a nickel equivalent of [`LINE_LOW_NICKEL_PCT`], %.
    pub chromium_at_low_pct: f64,
    /// Chromium equivalent at a nickel equivalent of [`LINE_HIGH_NICKEL_PCT`], %.
    pub chromium_at_high_pct: f64,
}

impl FerriteLine {
    /// The chromium equivalent of the line at a nickel equivalent, %.
    pub fn chromium_pct(&self, nickel_pct: f64) -> f64 {
        let share = (nickel_pct - LINE_LOW_NICKEL_PCT) / (LINE_HIGH_NICKEL_PCT - LINE_LOW_NICKEL_PCT);
        self.chromium_at_low_pct + share * (self.chromium_at_high_pct - self.chromium_at_low_pct)
    }
}

/// Nickel equivalent of the lower end of the lines, %.
pub const LINE_LOW_NICKEL_PCT: f64 = 10.0;
/// Nickel equivalent of the upper end of the lines, %.
pub const LINE_HIGH_NICKEL_PCT: f64 = 18.0;

/// The lines of equal ferrite number of the WRC-1992 diagram, rising, from memory: see the head of this file.
pub const FERRITE_LINES: &[FerriteLine] = &[
    line(0.0, 15.5, 24.5),
    line(10.0, 18.4, 26.8),
    line(20.0, 20.2, 28.6),
    line(30.0, 21.6, 29.9),
    line(40.0, 22.6, 31.2),
    line(50.0, 23.4, 32.4),
    line(60.0, 24.1, 33.6),
    line(70.0, 24.7, 34.7),
    line(80.0, 25.3, 35.8),
    line(90.0, 25.8, 36.8),
    line(100.0, 26.3, 37.8),
];

const fn line(ferrite_number: f64, chromium_at_low_pct: f64, chromium_at_high_pct: f64) -> FerriteLine {
    FerriteLine { ferrite_number, chromium_at_low_pct, chromium_at_high_pct }
}

/// What the WRC-1992 diagram holds; the figures come from a table.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DiagramWindow {
    /// Chromium equivalent, %.
    pub chromium_pct: Band,
    /// Nickel equivalent, %.
    pub nickel_pct: Band,
}

impl DiagramWindow {
    /// Whether a point lies on the diagram.
    pub fn contains(&self, point: Equivalents) -> bool {
        self.chromium_pct.contains(point.chromium_pct) && self.nickel_pct.contains(point.nickel_pct)
    }
}

/// Ferrite number of a point of the WRC-1992 diagram, read between its lines; 0 to 100.
///
/// Source: Kotecki and Siewert 1992, the lines from memory; a note says so always, another where the point lies outside
/// the diagram or beyond its lines. Equivalents must be 0 or more. 20.0 and 11.43 read as 11: a usual 308L filler.
pub fn ferrite_number(point: Equivalents, window: &DiagramWindow) -> Result<Noted<f64>> {
    let chromium = CHROMIUM.not_negative(point.chromium_pct)?;
    let nickel = NICKEL.not_negative(point.nickel_pct)?;
    let mut notes =
        vec![Note::Remark("the lines of the diagram are from memory: good to about 3 up to a ferrite number of 60")];
    for (Argument(argument, unit), holds, value) in
        [(CHROMIUM, window.chromium_pct, chromium), (NICKEL, window.nickel_pct, nickel)]
    {
        notes.extend(Validity { argument, unit, holds }.note(value));
    }
    let mut value = None;
    for pair in FERRITE_LINES.windows(2) {
        let [under, over] = pair else { continue };
        let (from, to) = (under.chromium_pct(nickel), over.chromium_pct(nickel));
        if (from..=to).contains(&chromium) && to > from {
            let share = (chromium - from) / (to - from);
            value = Some(under.ferrite_number + share * (over.ferrite_number - under.ferrite_number));
            break;
        }
    }
    let value = value.unwrap_or_else(|| {
        let first = FERRITE_LINES.first().map_or(0.0, |line| line.chromium_pct(nickel));
        if chromium <= first {
            notes.push(Note::Remark("the point lies under the line of ferrite number 0: no ferrite, or martensite"));
            0.0
        } else {
            notes.push(Note::Remark("the point lies beyond the line of ferrite number 100"));
            100.0
        }
    });
    Ok(Noted { value, notes })
}

/// What a weld between two parent metals is mixed from.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Dilution<'a> {
    /// The first parent metal.
    pub parent_1: &'a Composition,
    /// The second parent metal.
    pub parent_2: &'a Composition,
    /// The filler's deposit without dilution.
    pub filler: &'a Composition,
    /// Share of the weld that is melted parent metal, 0 to 1; 1 without filler.
    pub dilution: f64,
    /// Share of the melted parent metal that is the first, 0 to 1; 0.5 as a rule.
    pub share_of_parent_1: f64,
}

impl Dilution<'_> {
    fn shares(&self) -> Result<[f64; 3]> {
        let dilution = Argument("dilution", "").share_or_none(self.dilution)?;
        let first = Argument("share of the first parent metal", "").share_or_none(self.share_of_parent_1)?;
        Ok([dilution * first, dilution * (1.0 - first), 1.0 - dilution])
    }

    /// The composition of the weld: `(1 - D) filler + D (a parent 1 + (1 - a) parent 2)`.
    ///
    /// Source: balance of mass. Dilution and share must be 0 to 1.
    ///
    /// ```
    /// use seamwright_calc::{Composition, Element, ferrite::Dilution};
    /// // The usual split of covered electrodes: 70 % filler, 15 % of each parent metal.
    /// let (steel, stainless, filler): (Composition, Composition, Composition) =
    ///     ("C=0.2,Mn=1".parse()?, "Cr=18,Ni=9".parse()?, "Cr=24,Ni=13".parse()?);
    /// let weld = Dilution {
    ///     parent_1: &steel, parent_2: &stainless, filler: &filler, dilution: 0.3, share_of_parent_1: 0.5,
    /// };
    /// assert!((weld.composition()?.pct(Element::Cr) - 19.5).abs() < 1e-9);
    /// # Ok::<(), seamwright_calc::CalcError>(())
    /// ```
    pub fn composition(&self) -> Result<Composition> {
        let [first, second, filler] = self.shares()?;
        Composition::mean(&[(self.parent_1, first), (self.parent_2, second), (self.filler, filler)])
    }

    /// The points of a constitution diagram: both parent metals, their mixture, the filler, and the weld.
    ///
    /// `equivalents` is [`schaeffler`], [`delong`] or [`wrc_1992`]. The weld lies on the line from the mixture to the filler.
    pub fn points(&self, equivalents: impl Fn(&Composition) -> Equivalents) -> Result<DilutionPoints> {
        self.shares()?;
        let melted = Self { dilution: 1.0, ..*self }.composition()?;
        Ok(DilutionPoints {
            parent_1: equivalents(self.parent_1),
            parent_2: equivalents(self.parent_2),
            parent_mixture: equivalents(&melted),
            filler: equivalents(self.filler),
            weld: equivalents(&self.composition()?),
        })
    }
}

/// The points of a dilution in a constitution diagram.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DilutionPoints {
    /// The first parent metal.
    pub parent_1: Equivalents,
    /// The second parent metal.
    pub parent_2: Equivalents,
    /// The melted parent metals without filler.
    pub parent_mixture: Equivalents,
    /// The filler.
    pub filler: Equivalents,
    /// The weld.
    pub weld: Equivalents,
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The window of the diagram, from memory.
    fn window() -> DiagramWindow {
        DiagramWindow { chromium_pct: Band::new(17.0, 31.0), nickel_pct: Band::new(9.0, 18.0) }
    }

    fn number(chromium_pct: f64, nickel_pct: f64) -> f64 {
        ferrite_number(Equivalents { chromium_pct, nickel_pct }, &window()).unwrap().value
    }

    #[test]
    fn typical_fillers_fall_into_their_usual_bands() {
        // Illustrative compositions of ER308L, ER309L and ER316L wires and the band of FN that is usual, from memory.
        for (wire, text, chromium, nickel, band) in [
            ("308L", "C=0.02,Cr=19.9,Ni=9.9,Mo=0.1,N=0.04,Cu=0.1", 20.0, 11.43, 8.0..=14.0),
            ("309L", "C=0.02,Cr=23.6,Ni=13.0,Mo=0.1,N=0.05,Cu=0.1", 23.7, 14.72, 10.0..=20.0),
            ("316L", "C=0.02,Cr=18.6,Ni=12.2,Mo=2.5,N=0.04,Cu=0.1", 21.1, 13.72, 5.0..=12.0),
        ] {
            let found = wrc_1992(&text.parse().unwrap());
            assert!((found.chromium_pct - chromium).abs() < 0.01 && (found.nickel_pct - nickel).abs() < 0.01, "{wire}");
            let read = number(found.chromium_pct, found.nickel_pct);
            assert!(band.contains(&read), "{wire}: {read}");
        }
        // Duplex filler 2209, from memory: Cr eq 25.9, Ni eq 12.2, about 50 FN.
        assert!((number(25.9, 12.2) - 50.0).abs() < 10.0, "{}", number(25.9, 12.2));
    }

    #[test]
    fn lines_rise_in_order_and_never_cross_in_the_window() {
        for pair in FERRITE_LINES.windows(2) {
            for nickel in [9.0, 10.0, 14.0, 18.0] {
                assert!(pair[0].chromium_pct(nickel) < pair[1].chromium_pct(nickel));
            }
            assert!(pair[0].ferrite_number < pair[1].ferrite_number);
        }
        for line in FERRITE_LINES {
            let read = number(line.chromium_pct(13.0), 13.0);
            assert!((read - line.ferrite_number).abs() < 1e-9);
        }
    }

    #[test]
    fn chromium_makes_ferrite_and_nickel_takes_it() {
        for step in 0..40 {
            let chromium = 17.0 + 0.3 * f64::from(step);
            assert!(number(chromium + 0.2, 12.0) >= number(chromium, 12.0));
            assert!(number(chromium, 12.5) <= number(chromium, 12.0));
        }
    }

    #[test]
    fn beyond_the_lines_it_says_so() {
        let far = ferrite_number(Equivalents { chromium_pct: 40.0, nickel_pct: 3.0 }, &window()).unwrap();
        assert!((far.value - 100.0).abs() < 1e-12);
        assert_eq!(far.notes.len(), 4);
        assert!(number(10.0, 12.0).abs() < 1e-12);
        assert!(ferrite_number(Equivalents { chromium_pct: f64::NAN, nickel_pct: 3.0 }, &window()).is_err());
    }

    #[test]
    fn the_weld_lies_between_the_mixture_and_the_filler() {
        let (steel, stainless): (Composition, Composition) =
            ("C=0.18,Mn=1.2,Si=0.3".parse().unwrap(), "C=0.03,Mn=1.5,Si=0.5,Cr=18.2,Ni=8.5".parse().unwrap());
        let filler: Composition = "C=0.035,Mn=1.58,Si=0.53,Cr=24.35,Ni=12.6".parse().unwrap();
        let mix = |dilution, share| Dilution {
            parent_1: &steel,
            parent_2: &stainless,
            filler: &filler,
            dilution,
            share_of_parent_1: share,
        };
        let points = mix(0.3, 0.5).points(schaeffler).unwrap();
        // Typical deposit of an E309L-16 electrode, published composition: 25.145 and 14.44.
        assert!((points.filler.chromium_pct - 25.145).abs() < 1e-9 && (points.filler.nickel_pct - 14.44).abs() < 1e-9);
        let on_line = points.filler.nickel_pct
            + (points.weld.chromium_pct - points.filler.chromium_pct)
                / (points.parent_mixture.chromium_pct - points.filler.chromium_pct)
                * (points.parent_mixture.nickel_pct - points.filler.nickel_pct);
        assert!((points.weld.nickel_pct - on_line).abs() < 1e-9);
        assert!((mix(0.0, 0.5).composition().unwrap().pct(E::Cr) - filler.pct(E::Cr)).abs() < 1e-12);
        assert_eq!(mix(1.2, 0.5).composition().unwrap_err().to_string(), "dilution is 1.2, must be 1 or less");
    }
}
