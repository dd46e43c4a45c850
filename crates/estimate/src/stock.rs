//! What is left of the stock of a shop after the work.

use std::collections::BTreeMap;

use seamwright_model::shop::Shop;
use seamwright_model::stated::Stated;

use crate::Estimate;
use crate::money::rework;

/// Kilograms in a pound and litres in a cubic foot, exactly (NIST SP 811).
const KG_LB: f64 = 0.453_592_37;
const L_FT3: f64 = 28.316_846_592;

/// What the stock holds of one filler or gas, what the work takes, and so what is left.
#[derive(Debug, Clone, PartialEq)]
pub struct Remainder {
    /// Filler or gas with its designation, and the diameter of a filler.
    pub what: String,
    /// What is in stock, in `unit`.
    pub in_stock: f64,
    /// What the work takes, in `unit`.
    pub used: f64,
    /// `kg` or `lb` of filler, `L` or `ft3` of gas.
    pub unit: &'static str,
}

impl Remainder {
    /// What is left, in the unit of the amounts; below 0 the stock is short.
    pub fn left(&self) -> f64 {
        self.in_stock - self.used
    }
}

/// What must be bought for the work, beside what is in stock.
#[derive(Debug, Clone, PartialEq)]
pub struct Buy {
    /// Filler or gas with its designation, and the diameter of a filler.
    pub what: String,
    /// What the work takes, in `unit`.
    pub used: f64,
    /// What is in stock, in `unit`; nothing where the stock does not say.
    pub in_stock: Option<f64>,
    /// What must be bought, in `unit`.
    pub amount: f64,
    /// `kg` or `lb` of filler, `L` or `ft3` of gas.
    pub unit: &'static str,
    /// The same in packages, with the word for one.
    pub packages: Option<(u64, &'static str)>,
}

/// The unit in which a shop reckons what is given in kilograms or litres, and how many of it make one.
///
/// A shop that prices or stocks filler by the pound, or gas by the cubic foot, reckons so.
pub fn unit_of(shop: Option<&Shop>, unit: &'static str) -> (&'static str, f64) {
    let Some(shop) = shop else { return (unit, 1.0) };
    let (word, by) = us_unit(unit);
    let rates = shop.rates.as_ref();
    let prices = rates.into_iter().flat_map(|rates| rates.filler.iter().chain(rates.gas.iter()));
    let priced = || prices.map(|(_, price)| price.per()).any(|per| per == word);
    let stock = shop.stock.as_ref();
    let masses = || {
        let own = stock.into_iter().flat_map(|stock| &stock.fillers);
        let stated = own.flat_map(|own| [own.package.as_ref(), own.mass.as_ref()]).flatten();
        let pounds = |text: &str| text.contains("lb") || text.contains("pound");
        stated.filter_map(Stated::value).any(|range| pounds(range.spelled()))
    };
    let volumes = || {
        let own = stock.into_iter().flat_map(|stock| &stock.gas_cylinders);
        let feet = |text: &str| ["ft", "cf", "feet", "foot", "CF"].iter().any(|word| text.contains(word));
        own.filter_map(|own| own.contents.as_ref()?.value()).any(|range| feet(range.spelled()))
    };
    let pounds = if unit == "kg" { priced() || masses() } else { priced() || volumes() };
    if pounds { (word, by) } else { (unit, 1.0) }
}

/// The unit of the United States for what is given in kilograms or litres, and how many of it make one.
pub fn us_unit(unit: &str) -> (&'static str, f64) {
    if unit == "kg" { ("lb", 1.0 / KG_LB) } else { ("ft3", 1.0 / L_FT3) }
}

impl Buy {
    /// The packages in words: `1 cylinder`, `3 boxes`.
    pub fn packages(&self) -> Option<String> {
        let (count, word) = self.packages?;
        let plural = match word {
            _ if count == 1 => "",
            word if word.ends_with('x') => "es",
            _ => "s",
        };
        Some(format!("{count} {word}{plural}"))
    }

    /// The same in the units in which a shop reckons.
    #[must_use]
    pub fn in_units_of(self, shop: Option<&Shop>) -> Self {
        let (unit, by) = unit_of(shop, self.unit);
        let in_stock = self.in_stock.map(|own| own * by);
        Self { used: self.used * by, in_stock, amount: self.amount * by, unit, ..self }
    }
}

impl Remainder {
    /// The same in the units in which a shop reckons.
    #[must_use]
    pub fn in_units_of(self, shop: Option<&Shop>) -> Self {
        let (unit, by) = unit_of(shop, self.unit);
        Self { used: self.used * by, in_stock: self.in_stock * by, unit, ..self }
    }
}

/// What several works take from rows of the stock that they share.
struct Taken {
    kind: &'static str,
    names: Vec<String>,
    rows: BTreeMap<usize, Option<f64>>,
    used: f64,
    package: Option<(f64, &'static str)>,
}

impl Taken {
    fn what(&self) -> String {
        format!("{} {}", self.kind, self.names.join(" / "))
    }

    fn in_stock(&self) -> Option<f64> {
        if self.rows.is_empty() { None } else { self.rows.values().copied().sum() }
    }
}

/// What is left after the work of several estimates and the rework that the shop reckons with, one entry for each part of the stock whose contents are known.
///
/// Filler counts at the middle of its range. What is taken from the same rows of the stock is added up, whatever it is called:
/// a shelf counts once.
pub fn remainders<'e>(estimates: impl IntoIterator<Item = &'e Estimate>, shop: Option<&Shop>) -> Vec<Remainder> {
    let known = |all: Vec<Taken>, unit: &'static str| {
        all.into_iter().filter_map(move |own| {
            let in_stock = own.in_stock()?;
            Some(Remainder { what: own.what(), in_stock, used: own.used, unit })
        })
    };
    let (fillers, gases) = taken(estimates, 1.0 + rework(shop));
    known(fillers, "kg").chain(known(gases, "L")).collect()
}

/// What must be bought for the work of several estimates and their rework: what they take less what is in stock, in whole packages.
pub fn buying<'e>(estimates: impl IntoIterator<Item = &'e Estimate>, shop: Option<&Shop>) -> Vec<Buy> {
    let bought = |all: Vec<Taken>, unit: &'static str| {
        all.into_iter().filter_map(move |own| {
            let in_stock = own.in_stock();
            let amount = own.used - in_stock.unwrap_or(0.0);
            let packages = own.package.filter(|(size, _)| *size > 0.0).map(|(size, word)| {
                #[expect(
                    clippy::cast_possible_truncation,
                    clippy::cast_sign_loss,
                    reason = "a whole number, not negative"
                )]
                let count = (amount / size).ceil().max(0.0) as u64;
                (count, word)
            });
            (amount > 0.0).then(|| Buy { what: own.what(), used: own.used, in_stock, amount, unit, packages })
        })
    };
    let (fillers, gases) = taken(estimates, 1.0 + rework(shop));
    bought(fillers, "kg").chain(bought(gases, "L")).collect()
}

/// Fillers and gases that several estimates take, so many times over.
fn taken<'e>(estimates: impl IntoIterator<Item = &'e Estimate>, times: f64) -> (Vec<Taken>, Vec<Taken>) {
    let (mut fillers, mut gases) = (Vec::new(), Vec::new());
    for estimate in estimates {
        for filler in &estimate.fillers {
            let size = filler.size.as_ref().map_or(String::new(), |size| format!(", {size}"));
            take(
                &mut fillers,
                Taken {
                    kind: "filler",
                    names: vec![format!("{}{size}", filler.designation)],
                    rows: filler.shelf.iter().copied().collect(),
                    used: filler.mass_kg.middle * times,
                    package: filler.package(),
                },
            );
        }
        // A backing gas comes from the same cylinders as the same gas at the torch.
        for gas in &estimate.gases {
            let each = gas.cylinders.filter(|share| *share > 0.0).map(|share| (gas.volume_l / share, "cylinder"));
            take(
                &mut gases,
                Taken {
                    kind: "gas",
                    names: vec![gas.designation.clone()],
                    rows: gas.shelf.iter().copied().collect(),
                    used: gas.volume_l * times,
                    package: each,
                },
            );
        }
    }
    (fillers, gases)
}

/// Adds what is taken; what comes from the same rows of the stock, or goes by the same name, is one.
fn take(all: &mut Vec<Taken>, mut own: Taken) {
    let mut place = None;
    let mut index = 0;
    while index < all.len() {
        let same = if own.rows.is_empty() {
            all[index].rows.is_empty() && all[index].names == own.names
        } else {
            all[index].rows.keys().any(|row| own.rows.contains_key(row))
        };
        if same {
            let mut other = all.remove(index);
            place.get_or_insert(index);
            other.names.extend(own.names.into_iter().filter(|name| !other.names.contains(name)).collect::<Vec<_>>());
            own.names = other.names;
            own.used += other.used;
            own.rows.extend(other.rows);
            own.package = own.package.or(other.package);
        } else {
            index += 1;
        }
    }
    all.insert(place.unwrap_or(all.len()), own);
}
