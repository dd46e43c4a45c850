//! What heat a metal needs and stands: preheat, heat treatment, heat input, cooling time, hydrogen; and metals not to weld.
//!
//! To add a metal, add rows by its alloy or its family; lookups go from the alloy to the widest family.

use crate::band::{Band, Limits};
use crate::base_metals::BaseMetal;
use crate::bounds::Bounds;
use crate::find;
use crate::measure::{Heat, Size};
use crate::rule::Rule;
use crate::table::{Origin, named, table};

table!(PREHEAT, preheats, "preheat-practice", PreheatRow);
table!(TREATMENT, treatments, "heat-treatment", TreatmentRow);
table!(HEAT_INPUT, heat_inputs, "heat-input-limits", HeatInputRow);
table!(COOLING_TIME, cooling_times, "cooling-time-windows", CoolingTimeRow);
table!(RULES, rules, "heat-rules", Rule);
named!("heat-rules");
table!(HYDROGEN, hydrogens, "process-hydrogen", HydrogenRow);
table!(NOT_FOR_FUSION, not_for_fusion_rows, "metals-not-for-fusion", NotForFusionRow);

/// Preheat of a metal in a range of thickness.
#[derive(Debug, Clone, PartialEq)]
pub struct PreheatRow {
    /// Alloy or family.
    pub metal: &'static str,
    /// Thickness for which the row holds.
    #[cfg_attr(false, prefix = "")]
    pub thickness: Bounds,
    /// Carbon above which the row holds, in mass percent, of the standard's limit for the metal.
    pub carbon_over_pct: Option<f64>,
    /// Least tensile strength above which the row holds as well, in megapascals.
    pub tensile_over_mpa: Option<f64>,
    /// Least preheat in degrees Celsius.
    pub minimum_c: Option<f64>,
    /// Least preheat in degrees Fahrenheit as printed.
    pub minimum_f: Option<f64>,
    /// Highest preheat in usual use, in degrees Celsius.
    pub usual_max_c: Option<f64>,
    /// Highest preheat of any source, in degrees Celsius.
    pub envelope_max_c: Option<f64>,
    /// Whether a weld without it contradicts every source.
    pub needed: bool,
    /// Where the row comes from.
    pub origin: Origin,
}

/// When a heat treatment after welding is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Asked {
    /// Whatever the thickness.
    Always,
    /// Above the thickness of `thin_mm`.
    AboveThickness,
    /// Where the job asks for it.
    Optional,
}

/// Heat treatment of a metal after welding.
#[derive(Debug, Clone, PartialEq)]
pub struct TreatmentRow {
    /// Alloy or family.
    pub metal: &'static str,
    /// When it is asked for.
    pub asked: Asked,
    /// Thickness up to which codes do without it, in millimetres.
    pub thin_mm: Option<f64>,
    /// Whether they do so only where the metal is preheated.
    #[cfg_attr(false, optional)]
    pub preheated: bool,
    /// Temperature in usual use, in degrees Celsius.
    pub usual_c: Option<Band>,
    /// Temperature from the lowest to the highest of all sources, in degrees Celsius.
    pub envelope_c: Option<Band>,
    /// Temperature at or below which the joint lies before it is treated, in degrees Celsius.
    pub cool_to_c: Option<f64>,
    /// Temperatures that spoil the metal, in degrees Celsius.
    pub harmful_c: Option<Band>,
    /// What heat in that range does.
    pub harm: Option<&'static str>,
    /// Whether the harm ruins the metal whatever its grade.
    pub severe: bool,
    /// Where the row comes from.
    pub origin: Origin,
}

impl TreatmentRow {
    /// Whether codes do without it: on thin metal, and where they ask so on metal that is preheated as it needs.
    ///
    /// Thickness in millimetres, preheat in degrees Celsius.
    pub fn spared(&self, metal: &BaseMetal, thickness_mm: f64, preheat_c: Option<f64>) -> bool {
        let needed = Size::from_mm(thickness_mm).and_then(|size| preheat(metal, size)).and_then(|row| row.minimum_c);
        let warm = needed.is_none_or(|needed| preheat_c.is_some_and(|celsius| celsius >= needed));
        self.thin_mm.is_some_and(|thin| thickness_mm <= thin) && self.preheated && warm
    }
}

/// Heat input of a metal in a range of thickness.
#[derive(Debug, Clone, PartialEq)]
pub struct HeatInputRow {
    /// Alloy or family.
    pub metal: &'static str,
    /// Thickness above which the row holds, in millimetres.
    pub over_mm: Option<f64>,
    /// Thickness up to which the row holds, in millimetres.
    pub up_to_mm: Option<f64>,
    /// Heat input in usual use, in kilojoules per millimetre.
    pub usual_kj_mm: Band,
    /// Heat input from the lowest to the highest of all sources, in kilojoules per millimetre.
    pub envelope_kj_mm: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Cooling time of a metal.
#[derive(Debug, Clone, PartialEq)]
pub struct CoolingTimeRow {
    /// Alloy or family.
    pub metal: &'static str,
    /// Cooling time from 800 to 500 °C, in seconds.
    pub time_s: Band,
    /// Where the row comes from.
    pub origin: Origin,
}

/// Hydrogen of a process.
#[derive(Debug, Clone, PartialEq)]
pub struct HydrogenRow {
    /// ISO 4063 numbers.
    pub processes: &'static [&'static str],
    /// Whether the covering or flux is of the low-hydrogen kind.
    pub low_hydrogen: Option<bool>,
    /// Diffusible hydrogen in millilitres for 100 g.
    pub hydrogen_ml: f64,
    /// Where the row comes from.
    pub origin: Origin,
}

/// How far fusion spoils a metal.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Fusion {
    /// It cracks whatever is done.
    Not,
    /// Only with means that the trade knows.
    Hard,
}

/// A metal that arc welding spoils.
#[derive(Debug, Clone, PartialEq)]
pub struct NotForFusionRow {
    /// Names by which it is ordered.
    pub names: &'static [&'static str],
    /// How far fusion spoils it.
    pub weld: Fusion,
    /// What goes wrong.
    pub reason: &'static str,
    /// What to use instead.
    pub instead: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The first row of the narrowest kind of a metal that has one for which `fits` holds.
fn of_kind<R>(
    rows: &'static [R],
    metal: &BaseMetal,
    name: impl Fn(&R) -> &str,
    fits: impl Fn(&R) -> bool,
) -> Option<&'static R> {
    let named = |kind: &&str| rows.iter().any(|row| find::same(name(row), kind));
    let kind = metal.heat_like.into_iter().chain(metal.kinds()).find(named)?;
    rows.iter().find(|row| find::same(name(row), kind) && fits(row))
}

/// Whether a thickness in millimetres lies above the one bound and not above the other.
fn within(over_mm: Option<f64>, up_to_mm: Option<f64>, thickness_mm: f64) -> bool {
    over_mm.is_none_or(|over| thickness_mm > over) && up_to_mm.is_none_or(|most| thickness_mm <= most)
}

impl PreheatRow {
    /// The least preheat in both units.
    pub fn heat(&self) -> Option<Heat> {
        Some(Heat::new(self.minimum_c?, self.minimum_f))
    }

    /// Whether the row holds for a metal at a thickness; a condition of which the handbook knows nothing does not hold.
    fn holds(&self, metal: &BaseMetal, thickness: Size) -> bool {
        let conditions = [
            self.carbon_over_pct.map(|most| metal.composition.max("C").is_some_and(|carbon| carbon > most)),
            self.tensile_over_mpa.map(|most| metal.tensile_min_mpa.is_some_and(|strength| strength > most)),
        ];
        let mut conditions = conditions.into_iter().flatten().peekable();
        let fits = conditions.peek().is_none() || conditions.any(|holds| holds);
        fits && self.thickness.hold(thickness)
    }
}

/// The preheat of a metal at a thickness.
pub fn preheat(metal: &BaseMetal, thickness: Size) -> Option<&'static PreheatRow> {
    of_kind(preheats(), metal, |row| row.metal, |row| row.holds(metal, thickness))
}

/// Whether a metal is heated for another one in the same joint: the other asks for preheat, and it asks for none. Its own highest
/// temperatures then give way.
pub fn heated_for(metal: &BaseMetal, other: &BaseMetal, thickness: Size) -> bool {
    let asks = |metal| preheat(metal, thickness).is_some_and(|row| row.minimum_c.is_some());
    !asks(metal) && asks(other)
}

/// The heat treatment of a metal after welding.
pub fn treatment(metal: &BaseMetal) -> Option<&'static TreatmentRow> {
    of_kind(treatments(), metal, |row| row.metal, |_| true)
}

/// The limits of heat input, in kilojoules per millimetre, of a metal at a thickness in millimetres.
pub fn heat_input(metal: &BaseMetal, thickness_mm: f64) -> Option<Limits> {
    let fits = |row: &HeatInputRow| within(row.over_mm, row.up_to_mm, thickness_mm);
    let row = of_kind(heat_inputs(), metal, |row| row.metal, fits)?;
    Some(Limits {
        envelope: row.envelope_kj_mm,
        usual: Some(row.usual_kj_mm),
        source: row.origin.source_ref(),
        doubt: row.origin.doubt,
    })
}

/// The cooling time from 800 to 500 °C of a metal.
pub fn cooling_time(metal: &BaseMetal) -> Option<&'static CoolingTimeRow> {
    of_kind(cooling_times(), metal, |row| row.metal, |_| true)
}

/// The hydrogen of a process, by ISO 4063 number, with a covering or flux of the low-hydrogen kind or of another.
pub fn hydrogen(process: &str, low_hydrogen: bool) -> Option<&'static HydrogenRow> {
    let own = |row: &&HydrogenRow| row.processes.contains(&process);
    hydrogens().iter().filter(own).find(|row| row.low_hydrogen.is_none_or(|low| low == low_hydrogen))
}

/// The row of a metal that arc welding spoils: by its whole name, or by a part between spaces and hyphens.
pub fn not_for_fusion(specification: &str) -> Option<&'static NotForFusionRow> {
    not_for_fusion_rows().iter().find(|row| {
        row.names.iter().any(|name| {
            find::same(name, specification)
                || specification.split([' ', '-']).any(|part| part.eq_ignore_ascii_case(name))
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    use crate::{base_metals, metal_families};

    fn size(mm: f64) -> Size {
        Size::from_mm(mm).unwrap()
    }

    fn metal(name: &str) -> &'static BaseMetal {
        base_metals::find(name).unwrap_or_else(|| panic!("{name}"))
    }

    // ASME B31.3 tables 330.1.1 and 331.1.1 (from memory); the rest practice of the trade.
    #[test]
    fn an_alloy_goes_before_its_family() {
        assert_eq!(preheat(metal("P91"), size(5.0)).and_then(|row| row.minimum_c), Some(200.0));
        assert_eq!(preheat(metal("P11"), size(5.0)).and_then(|row| row.minimum_c), Some(120.0));
        assert_eq!(preheat(metal("S235JR"), size(10.0)), None);
        // Carbon steel over 25 mm or 1 in only with more than 0.30 % carbon or 490 MPa; 1 in is not over 1 in.
        assert_eq!(preheat(metal("S235JR"), size(30.0)), None);
        assert_eq!(preheat(metal("A36"), size(50.0)), None);
        assert_eq!(preheat(metal("A106-C"), size(30.0)).and_then(|row| row.minimum_c), Some(80.0));
        assert_eq!(preheat(metal("A106-C"), Size::from_inches(1.0).unwrap()), None);
        assert_eq!(preheat(metal("S690QL"), size(15.0)).and_then(|row| row.minimum_f), Some(50.0));
        assert_eq!(treatment(metal("P91")).map(|row| row.asked), Some(Asked::Always));
        assert_eq!(treatment(metal("304L")).map(|row| row.asked), Some(Asked::Optional));
        assert!(treatment(metal("S32750")).is_some_and(|row| row.severe));
        // ASME VIII-1 table UCS-56: thin 1.25Cr pipe on 120 °C is spared, and type 410 with its own filler is not.
        let spared = |name: &str, thickness_mm: f64, preheat_c: Option<f64>| {
            treatment(metal(name)).is_some_and(|row| row.spared(metal(name), thickness_mm, preheat_c))
        };
        assert!(spared("P11", 5.0, Some(120.0)) && !spared("P11", 5.0, Some(50.0)) && !spared("P11", 5.0, None));
        assert!(
            !spared("P11", 20.0, Some(120.0)) && !spared("410", 3.0, Some(150.0)) && !spared("P91", 3.0, Some(200.0))
        );
        assert_eq!(heat_input(metal("S32750"), 5.0).map(|limits| limits.envelope.high), Some(2.0));
        assert_eq!(cooling_time(metal("S960QL")).map(|row| row.time_s.high), Some(15.0));
        assert_eq!(hydrogen("111", false).map(|row| row.hydrogen_ml), Some(30.0));
    }

    #[test]
    fn names_exist_and_usual_lies_in_the_envelope() {
        let known = |name: &str| {
            metal_families::get(name).is_some() || base_metals::rows().iter().any(|row| row.alloy == Some(name))
        };
        for name in preheats().iter().map(|row| &row.metal).chain(treatments().iter().map(|row| &row.metal)) {
            assert!(known(name), "{name}");
        }
        for row in treatments() {
            assert_eq!(row.asked == Asked::AboveThickness, row.thin_mm.is_some(), "{row:?}");
            assert_eq!(row.harm.is_some(), row.harmful_c.is_some(), "{row:?}");
            if let (Some(usual), Some(envelope)) = (row.usual_c, row.envelope_c) {
                assert!(envelope.low <= usual.low && usual.high <= envelope.high, "{row:?}");
            }
        }
        for row in heat_inputs() {
            assert!(known(row.metal) && row.envelope_kj_mm.low <= row.usual_kj_mm.low, "{row:?}");
            assert!(row.usual_kj_mm.high <= row.envelope_kj_mm.high, "{row:?}");
        }
        assert!(cooling_times().iter().all(|row| known(row.metal)));
    }

    #[test]
    fn metals_for_machining_are_told_from_metals_for_welding() {
        for name in ["2024-T3", "EN AW-7075 T651", "303", "1.4305", "CuZn39Pb3", "11SMnPb30"] {
            assert!(not_for_fusion(name).is_some(), "{name}");
        }
        for row in base_metals::rows() {
            assert_eq!(not_for_fusion(row.specification), None, "{}", row.specification);
        }
    }
}
