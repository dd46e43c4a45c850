//! A gas as it is stated: the share of a component, its place and its words.

use seamwright_handbook::measure::figure;
use seamwright_handbook::{Band, designation, find};
use seamwright_model::procedure::ShieldingGas;
use seamwright_weld::view::Located;

/// Percent by volume of a component of a gas: by its composition, else by its designation, else by its symbol.
pub(crate) fn share(gas: &ShieldingGas, component: &str) -> Option<Band> {
    let exact = |percent: f64| Band::at(percent);
    if let Some(composition) = &gas.composition {
        return Some(exact(composition.percent(component)));
    }
    let read = designation::gas::parse(gas.designation.as_deref()?).ok()?;
    if !read.composition.is_empty() {
        let parts = read.composition.iter().filter(|(name, _)| find::same(name, component));
        return Some(exact(parts.map(|(_, percent)| percent).sum()));
    }
    let own = read.row.components().into_iter().find(|(name, _)| find::same(name, component));
    if let Some(range) = own.and_then(|(_, range)| range) {
        return Some(range);
    }
    if read.row.balance.is_some_and(|balance| find::same(balance, component)) {
        let others = read.row.components().into_iter().filter_map(|(_, range)| range);
        let rest = others.fold(Band::at(0.0), |sum, part| Band::new(sum.low + part.low, sum.high + part.high));
        return Some(Band::new(100.0 - rest.high, 100.0 - rest.low));
    }
    Some(exact(0.0))
}

/// JSON pointer of what names a gas: its composition, else its designation.
pub(crate) fn gas_pointer(gas: &Located<'_, ShieldingGas>) -> String {
    let key = if gas.value.composition.is_some() { "composition" } else { "designation" };
    format!("{}/{key}", gas.pointer)
}

/// A gas in words: its designation, else its composition.
pub(crate) fn gas_words(gas: &ShieldingGas) -> String {
    match (&gas.designation, &gas.composition) {
        (Some(designation), _) => designation.to_string(),
        (None, Some(parts)) => {
            let parts: Vec<String> =
                parts.iter().map(|(name, percent)| format!("{} % {name}", figure(percent))).collect();
            parts.join(", ")
        }
        (None, None) => "that is not named".to_owned(),
    }
}
