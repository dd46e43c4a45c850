//! What every physical quantity is, and the macro that declares one.

use super::exact::Exact;
use super::unit::{Dimension, Unit};

/// A physical quantity: an exact number of its base unit.
pub trait Quantity: Copy + Ord + std::hash::Hash + std::fmt::Debug + Send + Sync + 'static {
    /// Name, units and examples.
    const DIMENSION: &'static Dimension;
    /// Name in messages: `heat input`.
    const NAME: &'static str;
    /// Name of the `format` in JSON Schema: `heat-input`.
    const FORMAT: &'static str;
    /// The units that are read.
    const UNITS: &'static [Unit];
    /// Two examples for messages.
    const EXAMPLES: [&'static str; 2];

    /// From an exact number of base units.
    fn from_exact(exact: Exact) -> Self;

    /// The exact number of base units.
    fn exact(self) -> Exact;
}

/// Declares a physical quantity: its type, its units, and a function in and out for each unit.
macro_rules! quantity {
    (
        $(#[$doc:meta])* $type:ident {
            name: $name:literal, format: $format:literal, examples: $examples:expr,
            si: $si:expr, us: $us:expr, lowest: $lowest:expr,
            units: { $($out:ident, $from:ident: $unit:expr;)+ }
        }
    ) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub struct $type($crate::quantity::Exact);

        pub(super) static DIMENSION: $crate::quantity::Dimension = $crate::quantity::Dimension {
            name: $name,
            format: $format,
            units: &[$($unit),+],
            si: $si,
            us: $us,
            examples: $examples,
            lowest: $lowest,
        };

        impl $crate::quantity::Quantity for $type {
            const DIMENSION: &'static $crate::quantity::Dimension = &DIMENSION;
            const NAME: &'static str = $name;
            const FORMAT: &'static str = $format;
            const UNITS: &'static [$crate::quantity::Unit] = &[$($unit),+];
            const EXAMPLES: [&'static str; 2] = $examples;

            fn from_exact(exact: $crate::quantity::Exact) -> Self {
                Self(exact)
            }

            fn exact(self) -> $crate::quantity::Exact {
                self.0
            }
        }

        impl $type {
            $(
                #[doc = concat!("The number of `", stringify!($out), "`.")]
                pub fn $out(self) -> f64 {
                    self.0.in_unit(&$unit)
                }

                #[doc = concat!("From a number of `", stringify!($out), "`; `None` for NaN, the infinities, and sizes from 10^15 up.")]
                pub fn $from(figure: f64) -> Option<Self> {
                    $crate::quantity::Exact::from_unit(figure, &$unit).map(Self)
                }
            )+

            /// Text of a computed value, rounded to sensible digits.
            pub fn print(self, system: $crate::quantity::UnitSystem) -> String {
                $crate::quantity::print::computed(&DIMENSION, self.0, None, system)
            }

            /// Text of a computed range, rounded to sensible digits.
            pub fn print_range(low: Self, high: Self, system: $crate::quantity::UnitSystem) -> String {
                $crate::quantity::print::computed(&DIMENSION, low.0, Some(high.0), system)
            }
        }
    };
}
pub(super) use quantity;
