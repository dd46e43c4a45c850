//! What stands on the shelf of a shop, beside what a run asks for.

use seamwright_handbook::{filler_classes, find, shielding_gases, tungsten_types};
use seamwright_model::procedure::Filler;
use seamwright_model::quantity::{GasVolume, Length, Mass, Pressure, Quantity, Range};
use seamwright_model::shop::{GasCylinder, Stock, StockFiller, StockNozzle};
use seamwright_model::stated::{Composition, Stated};

use crate::view::gas_row;

/// Lengths of the same size: electrodes and rods are sold in steps wider than this.
const SAME_SIZE_MM: f64 = 0.06;

/// Whether two stated sizes share a size; yes where one of them is not stated.
pub fn same_size(one: Option<&Stated<Range<Length>>>, other: Option<&Stated<Range<Length>>>) -> bool {
    let ends = |stated: Option<&Stated<Range<Length>>>| {
        let range = stated?.value()?;
        Some((range.low().or(range.high())?.mm(), range.high().or(range.low())?.mm()))
    };
    match (ends(one), ends(other)) {
        (Some((low, high)), Some((least, most))) => low <= most + SAME_SIZE_MM && least <= high + SAME_SIZE_MM,
        _ => true,
    }
}

/// Whether two designations name one class of filler, or are spelt alike.
pub fn same_class(one: &str, other: &str) -> bool {
    let class = |text: &str| filler_classes::find(text).map(|row| row.classification);
    find::same(one, other) || class(one).is_some_and(|one| class(other) == Some(one))
}

/// Whether two designations name one kind of tungsten electrode, or are spelt alike.
pub fn same_tungsten(one: &str, other: &str) -> bool {
    let row = tungsten_types::get;
    find::same(one, other) || row(one).zip(row(other)).is_some_and(|(one, other)| std::ptr::eq(one, other))
}

/// Whether a nozzle of the stock has a bore in mm, or a number where it goes by numbers.
pub fn same_nozzle(own: &StockNozzle, number: Option<u32>, bore_mm: f64) -> bool {
    let figures: String = own.nozzle.chars().filter(|c| c.is_ascii_digit() || *c == '.').collect();
    let figure = figures.trim_matches('.').parse::<f64>().ok();
    if own.nozzle.contains("mm") {
        figure.is_some_and(|own| (own - bore_mm).abs() < 0.5)
    } else {
        figure.zip(number).is_some_and(|(own, number)| (own - f64::from(number)).abs() < 0.5)
    }
}

/// The fillers of the stock that a filler of the document may be taken from.
pub fn fillers<'s>(stock: &'s Stock, filler: &Filler) -> Vec<&'s StockFiller> {
    stock
        .fillers
        .iter()
        .filter(|own| {
            same_class(&own.designation, &filler.designation)
                && same_size(own.diameter.as_ref(), filler.diameter.as_ref())
        })
        .collect()
}

/// Whether a designation or composition names the gas of another.
///
/// Compositions are held against each other as groups of ISO 14175; a designation alone as its group.
fn same_gas(one: (Option<&str>, Option<&Composition>), other: (Option<&str>, Option<&Composition>)) -> bool {
    same_gas_as(one, row_of(one), other)
}

/// The handbook's row of a gas.
fn row_of((designation, composition): (Option<&str>, Option<&Composition>)) -> Option<&'static shielding_gases::Row> {
    match composition {
        None => shielding_gases::get(designation?),
        Some(composition) => gas_row(&seamwright_model::procedure::ShieldingGas {
            designation: designation.map(Into::into),
            composition: Some(composition.clone()),
            ..Default::default()
        }),
    }
}

/// The same for a gas whose row is known.
fn same_gas_as(
    one: (Option<&str>, Option<&Composition>),
    row: Option<&'static shielding_gases::Row>,
    other: (Option<&str>, Option<&Composition>),
) -> bool {
    match (row, row_of(other)) {
        (Some(one), Some(other)) => one.symbol == other.symbol,
        _ => one.0.zip(other.0).is_some_and(|(one, other)| find::same(one, other)),
    }
}

/// The cylinders of the stock that hold a gas.
pub fn cylinders<'s>(
    stock: &'s Stock,
    designation: Option<&str>,
    composition: Option<&Composition>,
) -> Vec<&'s GasCylinder> {
    let wanted = (designation, composition);
    let row = row_of(wanted);
    let holds = |own: &&GasCylinder| same_gas_as(wanted, row, (own.designation.as_deref(), own.composition.as_ref()));
    stock.gas_cylinders.iter().filter(holds).collect()
}

/// Whether a regulator's word for a gas means this gas.
pub fn names_gas(word: &str, designation: Option<&str>, composition: Option<&Composition>) -> bool {
    same_gas((Some(word), None), (designation, composition))
        // A pure gas goes by its name.
        || shielding_gases::get(word).is_none()
            && composition.is_some_and(|parts| {
                parts.iter().any(|(name, percent)| percent > 50.0 && (find::same(name, word) || gas_word(name, word)))
            })
}

/// Whether two words name one gas: by ISO 14175, AWS A5.32, composition or an everyday name.
pub fn same_gas_word(one: &str, other: &str) -> bool {
    find::same(one, other) || same_gas((Some(one), None), (Some(other), None))
}

fn gas_word(symbol: &str, word: &str) -> bool {
    let name = match symbol {
        "Ar" => "argon",
        "He" => "helium",
        "CO2" => "carbon dioxide",
        "N2" => "nitrogen",
        "H2" => "hydrogen",
        "O2" => "oxygen",
        _ => return false,
    };
    find::same(name, word)
}

/// Litres of free gas in all cylinders of a kind, where contents, or water capacity and pressure, are stated.
pub fn contents_l(cylinder: &GasCylinder) -> Option<f64> {
    let count = f64::from(cylinder.count.unwrap_or(1));
    one_cylinder_l(cylinder).map(|each| each * count)
}

/// Litres of free gas in one cylinder.
pub fn one_cylinder_l(cylinder: &GasCylinder) -> Option<f64> {
    let contents = cylinder.contents.as_ref().and_then(Stated::value).and_then(|range| low(range, GasVolume::litres));
    contents.or_else(|| {
        let capacity = low(cylinder.capacity.as_ref()?.value()?, GasVolume::litres)?;
        let pressure = low(cylinder.pressure.as_ref()?.value()?, Pressure::bar)?;
        seamwright_calc::gas::cylinder_contents_l(capacity, pressure, 1.0).ok()
    })
}

/// Kilograms of a filler on the shelf; the mass of so many rods where only their number is stated.
pub fn mass_kg(filler: &StockFiller, density_kg_m3: f64) -> Option<f64> {
    let mass = filler.mass.as_ref().and_then(Stated::value).and_then(|range| low(range, Mass::kg));
    let packed = || Some(package_kg(filler)? * f64::from(filler.packages?));
    mass.or_else(packed).or_else(|| {
        let rod = seamwright_calc::deposition::Rod {
            diameter_mm: low(filler.diameter.as_ref()?.value()?, Length::mm)?,
            length_mm: low(filler.length.as_ref()?.value()?, Length::mm)?,
            stub_mm: 0.0,
            density_kg_m3,
        };
        Some(rod.mass_kg().ok()? * f64::from(filler.count?))
    })
}

/// Kilograms in one spool, box or tube of a filler.
pub fn package_kg(filler: &StockFiller) -> Option<f64> {
    filler.package.as_ref().and_then(Stated::value).and_then(|range| low(range, Mass::kg)).filter(|mass| *mass > 0.0)
}

/// Kilograms on the shelf of all that a filler may be taken from; nothing where there is none, or a mass is not stated.
pub fn filler_kg(stock: &Stock, filler: &Filler, density_kg_m3: f64) -> Option<f64> {
    all(fillers(stock, filler).into_iter().map(|own| mass_kg(own, density_kg_m3)))
}

/// Litres of free gas in all cylinders of a gas; nothing where there is none, or their contents are not stated.
pub fn gas_l(stock: &Stock, designation: Option<&str>, composition: Option<&Composition>) -> Option<f64> {
    all(cylinders(stock, designation, composition).into_iter().map(contents_l))
}

/// The sum of parts that are all known; nothing of no parts.
fn all(mut parts: impl ExactSizeIterator<Item = Option<f64>>) -> Option<f64> {
    if parts.len() == 0 { None } else { parts.try_fold(0.0, |sum, part| Some(sum + part?)) }
}

fn low<Q: Quantity>(range: &Range<Q>, of: impl Fn(Q) -> f64) -> Option<f64> {
    range.low().or(range.high()).map(of)
}
