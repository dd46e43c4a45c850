//! EN 1090-2: routes of qualification and what an execution class asks of welding.

use crate::table::{Origin, table};

table!(ROUTES, routes, "en-1090-2-routes", RouteRow);
table!(CLASSES, classes, "en-1090-2-classes", ClassRow);
table!(COORDINATION, coordinations, "welding-coordination", CoordinationRow);

/// What the welding coordinator has to know.
#[derive(Debug, Clone, PartialEq)]
pub struct CoordinationRow {
    /// Execution class.
    pub class: &'static str,
    /// Yield strength above which the row holds, `MPa`.
    pub yield_over_mpa: Option<f64>,
    /// Yield strength up to which the row holds, `MPa`.
    pub yield_up_to_mpa: Option<f64>,
    /// Thickness above which the row holds, mm.
    pub over_mm: Option<f64>,
    /// Thickness up to which the row holds, mm.
    pub up_to_mm: Option<f64>,
    /// `basic`, `specific` or `comprehensive`.
    pub knowledge: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// What a class asks the coordinator to know, for a yield strength (`MPa`) and a thickness (mm).
pub fn coordination(class: &str, yield_mpa: f64, thickness_mm: f64) -> Option<&'static CoordinationRow> {
    coordinations().iter().find(|row| {
        row.class == class
            && row.yield_over_mpa.is_none_or(|over| yield_mpa > over)
            && row.yield_up_to_mpa.is_none_or(|most| yield_mpa <= most)
            && row.over_mm.is_none_or(|over| thickness_mm > over)
            && row.up_to_mm.is_none_or(|most| thickness_mm <= most)
    })
}

/// A way of qualifying a procedure.
#[derive(Debug, Clone, PartialEq)]
pub struct RouteRow {
    /// Route, as a procedure names it.
    pub route: &'static str,
    /// Standard of the method.
    pub method: &'static str,
    /// ISO 4063 numbers.
    pub processes: &'static [&'static str],
    /// Execution classes for which it is open.
    pub classes: &'static [&'static str],
    /// Largest yield strength of the steel, `MPa`; any where absent.
    pub yield_max_mpa: Option<f64>,
    /// Degrees of mechanization; any where empty.
    #[cfg_attr(false, optional)]
    pub mechanization: &'static [&'static str],
    /// Where the row comes from.
    pub origin: Origin,
}

/// What an execution class asks of welding.
#[derive(Debug, Clone, PartialEq)]
pub struct ClassRow {
    /// Execution class.
    pub class: &'static str,
    /// Least quality level of ISO 5817.
    pub level: &'static str,
    /// Where the row comes from.
    pub origin: Origin,
}

/// The row of a route, as a procedure names it.
pub fn route(route: &str) -> Option<&'static RouteRow> {
    routes().iter().find(|row| row.route == route)
}

/// The row of an execution class.
pub fn class(class: &str) -> Option<&'static ClassRow> {
    classes().iter().find(|row| row.class == class)
}
