//! The heat and the power that fuse a joint.

use crate::Result;
use crate::argument::{Argument, result};

const SPEED: Argument = Argument("travel speed", "mm/s");
const THICKNESS: Argument = Argument("thickness", "mm");
const WIDTH: Argument = Argument("width", "mm");
const AREA: Argument = Argument("cross-section", "mm²");
const HEAT: Argument = Argument("net heat", "J/mm");
const ENTHALPY: Argument = Argument("heat to melt", "J/mm³");
const SHARE: Argument = Argument("melting efficiency", "");
const CONDUCTIVITY: Argument = Argument("conductivity", "W/(mm K)");
const RISE: Argument = Argument("temperature rise", "K");

/// A strip of plate that is to be fused through.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strip {
    /// Thickness, mm.
    pub thickness_mm: f64,
    /// Width of the molten strip, mm.
    pub width_mm: f64,
    /// Heat to melt, J/mm³.
    pub heat_j_mm3: f64,
    /// Mean conductivity, W/(mm K).
    pub conductivity_w_mm_k: f64,
    /// Melting point less the temperature of the plate, K.
    pub rise_k: f64,
}

impl Strip {
    /// The least net power in W at a travel speed in mm/s: `q = 1.6 k (Tm - T0) t + 2 H t w v`.
    ///
    /// Source: A. A. Wells, Heat flow in welding, Welding Journal 31(5) 263-s, 1952, from memory: a square butt fused through in one
    /// run, up to about 6.5 mm. Every argument must be greater than 0.
    ///
    /// ```
    /// // 3 mm of stainless steel at 5 mm/s: 171.6 + 828; settings in print have 1.13 to 1.32 of it.
    /// let strip = seamwright_calc::fusion::Strip {
    ///     thickness_mm: 3.0, width_mm: 3.0, heat_j_mm3: 9.2, conductivity_w_mm_k: 0.025, rise_k: 1430.0,
    /// };
    /// assert!((strip.least_power_w(5.0)? - 999.6).abs() < 0.1);
    /// # Ok::<(), seamwright_calc::CalcError>(())
    /// ```
    pub fn least_power_w(&self, speed_mm_s: f64) -> Result<f64> {
        let t = THICKNESS.positive(self.thickness_mm)?;
        let w = WIDTH.positive(self.width_mm)?;
        let h = ENTHALPY.positive(self.heat_j_mm3)?;
        let k = CONDUCTIVITY.positive(self.conductivity_w_mm_k)?;
        let rise = RISE.positive(self.rise_k)?;
        result("least power", 1.6 * k * rise * t + 2.0 * h * t * w * SPEED.positive(speed_mm_s)?)
    }
}

/// The net heat of a joint in J/mm over the least that melts a cross-section in mm²: `r = q / (H A / e)`.
///
/// Source: N. N. Rykalin, Calculation of thermal processes in welding, 1951, from memory. Every argument must be greater than 0.
///
/// ```
/// // 0.84 kJ/mm into a fillet of 6 mm leg: 18 mm² of steel at 10.3 J/mm³.
/// let ratio = seamwright_calc::fusion::heat_ratio(840.0, 18.0, 10.3, 0.368)?;
/// assert!((ratio - 1.667).abs() < 1e-3);
/// # Ok::<(), seamwright_calc::CalcError>(())
/// ```
pub fn heat_ratio(heat_j_mm: f64, area_mm2: f64, heat_j_mm3: f64, melting_efficiency: f64) -> Result<f64> {
    let least = ENTHALPY.positive(heat_j_mm3)? * AREA.positive(area_mm2)? / SHARE.positive(melting_efficiency)?;
    result("heat ratio", HEAT.positive(heat_j_mm)? / least)
}
