//! EN 1090-2: routes of qualification and what an execution class asks of welding.

use serde::Deserialize;

use crate::table::{Origin, table};

table!(ROUTES, routes, "en-1090-2-routes", RouteRow);
table!(CLASSES, classes, "en-1090-2-classes", ClassRow);

/// A way of qualifying a procedure.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct RouteRow {
    /// Route, as a procedure names it.
    pub route: String,
    /// Standard of the method.
    pub method: String,
    /// ISO 4063 numbers.
    pub processes: Vec<String>,
    /// Execution classes for which it is open.
    pub classes: Vec<String>,
    /// Largest yield strength of the steel, `MPa`; any where absent.
    pub yield_max_mpa: Option<f64>,
    /// Degrees of mechanization; any where empty.
    #[serde(default)]
    pub mechanization: Vec<String>,
    /// Where the row comes from.
    pub origin: Origin,
}

/// What an execution class asks of welding.
#[derive(Debug, Clone, PartialEq, Deserialize)]
pub struct ClassRow {
    /// Execution class.
    pub class: String,
    /// Least quality level of ISO 5817.
    pub level: String,
    /// Part of ISO 3834.
    pub quality: String,
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
