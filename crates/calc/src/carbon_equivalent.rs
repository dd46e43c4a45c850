//! Carbon equivalents: one number for how readily a steel hardens, or for how much preheat it needs.
//!
//! The composition is in % by mass. For which compositions an equivalent is stated to hold comes from a table:
//! [`CompositionLimit::notes`](crate::composition::CompositionLimit::notes) compares.

use crate::composition::{Composition, Element as E};
use crate::formula::{Basis, Formula};

/// Carbon equivalent of the International Institute of Welding.
pub const CE_IIW: Formula = Formula {
    name: "ce-iiw",
    equation: "CE = C + Mn/6 + (Cr + Mo + V)/5 + (Ni + Cu)/15   [%]",
    source: "International Institute of Welding; EN 1011-2:2001 C.2",
    basis: Basis::Published,
    validity: "carbon and carbon-manganese steels, carbon above about 0.18 %; limits of EN 1011-2 C.2",
};

/// Carbon equivalent for cold cracking of EN 1011-2 method B.
pub const CET: Formula = Formula {
    name: "cet",
    equation: "CET = C + (Mn + Mo)/10 + (Cr + Cu)/20 + Ni/40   [%]",
    source: "EN 1011-2:2001 C.3",
    basis: Basis::Published,
    validity: "limits of composition of EN 1011-2 C.3",
};

/// Cracking parameter of Ito and Bessyo.
pub const PCM: Formula = Formula {
    name: "pcm",
    equation: "Pcm = C + Si/30 + (Mn + Cu + Cr)/20 + Ni/60 + Mo/15 + V/10 + 5 B   [%]",
    source: "Ito and Bessyo 1968; AWS D1.1 annex on preheat",
    basis: Basis::Published,
    validity: "low-carbon low-alloy steels, carbon up to about 0.18 %",
};

/// Carbon equivalent of Yurioka.
pub const CEN: Formula = Formula {
    name: "cen",
    equation: "CEN = C + A (Si/24 + Mn/6 + Cu/15 + Ni/20 + (Cr + Mo + Nb + V)/5 + 5 B); A = 0.75 + 0.25 tanh(20 (C - 0.12))   [%]",
    source: "Yurioka; CSA Z245/Z662. One page prints (Cu + Ni)/15; nickel by 20 is that of the CSA sheets",
    basis: Basis::Published,
    validity: "low-carbon and plain carbon steels",
};

/// Carbon equivalent with silicon of AWS D1.1.
pub const CE_AWS: Formula = Formula {
    name: "ce-aws",
    equation: "CE = C + (Mn + Si)/6 + (Cr + Mo + V)/5 + (Ni + Cu)/15   [%]",
    source: "AWS D1.1 annex on preheat",
    basis: Basis::Published,
    validity: "carbon and low-alloy structural steels",
};

/// CE(IIW) in %: `C + Mn/6 + (Cr + Mo + V)/5 + (Ni + Cu)/15`.
///
/// Source: IIW; EN 1011-2:2001 C.2, where its validity stands.
///
/// ```
/// // Published illustration of a line pipe steel: 0.70.
/// let steel = "C=0.25,Mn=1.4,Cr=0.5,Mo=0.25,V=0.05,Ni=0.5,Cu=0.4".parse()?;
/// let ce = seamwright_calc::carbon_equivalent::ce_iiw_pct(&steel);
/// assert!((ce - 0.70).abs() < 0.005);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn ce_iiw_pct(steel: &Composition) -> f64 {
    let x = |element| steel.pct(element);
    x(E::C) + x(E::Mn) / 6.0 + (x(E::Cr) + x(E::Mo) + x(E::V)) / 5.0 + (x(E::Ni) + x(E::Cu)) / 15.0
}

/// CET in %: `C + (Mn + Mo)/10 + (Cr + Cu)/20 + Ni/40`.
///
/// Source: EN 1011-2:2001 C.3, where its validity stands. C 0.16, Mn 1.45, Ni 0.4 give 0.315.
pub fn cet_pct(steel: &Composition) -> f64 {
    let x = |element| steel.pct(element);
    x(E::C) + (x(E::Mn) + x(E::Mo)) / 10.0 + (x(E::Cr) + x(E::Cu)) / 20.0 + x(E::Ni) / 40.0
}

/// Pcm in %: `C + Si/30 + (Mn + Cu + Cr)/20 + Ni/60 + Mo/15 + V/10 + 5 B`.
///
/// Source: Ito and Bessyo 1968. C 0.1, Si 0.3, Mn 1.4, V 0.05, B 0.001 give 0.19.
pub fn pcm_pct(steel: &Composition) -> f64 {
    let x = |element| steel.pct(element);
    x(E::C)
        + x(E::Si) / 30.0
        + (x(E::Mn) + x(E::Cu) + x(E::Cr)) / 20.0
        + x(E::Ni) / 60.0
        + x(E::Mo) / 15.0
        + x(E::V) / 10.0
        + 5.0 * x(E::B)
}

/// CEN in %: `C + A(C) (Si/24 + Mn/6 + Cu/15 + Ni/20 + (Cr + Mo + Nb + V)/5 + 5 B)`.
///
/// `A` is [`accommodation_factor`]. Source: Yurioka; CSA Z245. C 0.12, Mn 1.2 give 0.12 + 0.75 × 0.2 = 0.27.
pub fn cen_pct(steel: &Composition) -> f64 {
    let x = |element| steel.pct(element);
    let alloy = x(E::Si) / 24.0
        + x(E::Mn) / 6.0
        + x(E::Cu) / 15.0
        + x(E::Ni) / 20.0
        + (x(E::Cr) + x(E::Mo) + x(E::Nb) + x(E::V)) / 5.0
        + 5.0 * x(E::B);
    x(E::C) + accommodation_factor(x(E::C)) * alloy
}

/// The factor A(C) of CEN, by which alloying counts less at low carbon: `0.75 + 0.25 tanh(20 (C - 0.12))`.
///
/// Source: Yurioka; the compliance factor table of CSA Z245 agrees within 0.01. C 0.12 gives 0.75.
pub fn accommodation_factor(carbon_pct: f64) -> f64 {
    0.75 + 0.25 * (20.0 * (carbon_pct - 0.12)).tanh()
}

/// CE with silicon in %: `C + (Mn + Si)/6 + (Cr + Mo + V)/5 + (Ni + Cu)/15`.
///
/// Source: AWS D1.1, annex on preheat. C 0.2, Mn 1.2, Si 0.3 give 0.45.
pub fn ce_aws_pct(steel: &Composition) -> f64 {
    ce_iiw_pct(steel) + steel.pct(E::Si) / 6.0
}

#[cfg(test)]
mod tests {
    use super::*;

    fn steel(text: &str) -> Composition {
        text.parse().unwrap()
    }

    #[test]
    fn doc_comment_examples_hold() {
        assert!((cet_pct(&steel("C=0.16,Mn=1.45,Ni=0.4")) - 0.315).abs() < 1e-12);
        assert!((pcm_pct(&steel("C=0.1,Si=0.3,Mn=1.4,V=0.05,B=0.001")) - 0.19).abs() < 1e-12);
        assert!((cen_pct(&steel("C=0.12,Mn=1.2")) - 0.27).abs() < 1e-12);
        assert!((ce_aws_pct(&steel("C=0.2,Mn=1.2,Si=0.3")) - 0.45).abs() < 1e-12);
    }

    #[test]
    fn factor_agrees_with_the_table_of_csa_z245() {
        // Compliance factor F by carbon content, CSA Z245/Z662 sheets, published.
        let table = [
            (0.06, 0.54),
            (0.07, 0.56),
            (0.08, 0.58),
            (0.09, 0.62),
            (0.10, 0.66),
            (0.11, 0.70),
            (0.12, 0.75),
            (0.13, 0.80),
            (0.14, 0.85),
            (0.15, 0.88),
            (0.16, 0.92),
            (0.17, 0.94),
            (0.18, 0.96),
            (0.19, 0.97),
            (0.20, 0.98),
            (0.21, 0.99),
            (0.22, 1.00),
        ];
        for (carbon, factor) in table {
            assert!((accommodation_factor(carbon) - factor).abs() < 0.01, "at {carbon} % carbon");
        }
    }
}
