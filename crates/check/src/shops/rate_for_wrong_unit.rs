//! `rate-for-wrong-unit`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::price::{Bought, Price};
use seamwright_model::shop::Shop;
use seamwright_model::source::escape;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<Shop> = Rule {
    name: "rate-for-wrong-unit",
    harm: Harm::Equipment,
    finds: "A price for a unit that the thing is not bought by: labour by the kilogram, gas by the hour.",
    matters: "The price cannot be used, and an estimate leaves the item out.",
    remedy: "Write the price for a time, a mass, a volume, an energy or a piece, as the thing is bought.",
    limit: "Labour is bought by time, filler by mass, piece or package, gas by volume or cylinder, rental by days, flux by mass, electricity by energy.",
    tables: &[],
    examine,
    faulty: &[
        Case { base: "shop/shop", edits: &[("/rates/labour", "48 per kg")] },
        Case { base: "shop/shop", edits: &[("/rates/gas", "{I1: 8.20 per kWh}")] },
        Case { base: "shop/shop", edits: &[("/rates/least_charge", "60 per h")] },
        Case { base: "shop/shop", edits: &[("/rates/rental", "{argon: 9 per m3}")] },
    ],
    sound: &[
        Case { base: "shop/shop", edits: &[] },
        Case {
            base: "shop/shop",
            edits: &[("/rates/filler", "{ER70S-6: 58 per spool}"), ("/rates/least_charge", "60 per job")],
        },
    ],
};

fn examine(x: &mut Examiner<'_, Shop>) {
    let Some(rates) = &x.view.rates else { return };
    let mut prices: Vec<(String, &Price, &[Bought])> = Vec::new();
    prices.extend(rates.labour.iter().map(|price| ("/rates/labour".to_owned(), price, &[Bought::Time][..])));
    for (key, list, by) in [
        ("filler", &rates.filler, &[Bought::Mass, Bought::Piece, Bought::Package][..]),
        ("gas", &rates.gas, &[Bought::Volume, Bought::Package][..]),
        ("rental", &rates.rental, &[Bought::Days][..]),
        ("flux", &rates.flux, &[Bought::Mass][..]),
    ] {
        prices.extend(list.iter().map(|(name, price)| (format!("/rates/{key}/{}", escape(name)), price, by)));
    }
    prices
        .extend(rates.electricity.iter().map(|price| ("/rates/electricity".to_owned(), price, &[Bought::Energy][..])));
    for (key, price, by) in [
        ("overhead_per_hour", &rates.overhead_per_hour, &[Bought::Time][..]),
        ("least_charge", &rates.least_charge, &[Bought::Job][..]),
    ] {
        prices.extend(price.iter().map(|price| (format!("/rates/{key}"), price, by)));
    }
    for (pointer, price, by) in prices {
        x.examined(&pointer);
        if !by.contains(&price.bought()) {
            let units = by.iter().map(|by| unit(*by)).collect::<Vec<_>>().join(" or ");
            x.report(Severity::Error, pointer, format!("the price {price} is not for a unit of this: {units}"))
                .stated(price.to_string())
                .hint(format!(
                    "write for example `{} per {}`",
                    price.amount(),
                    by.first().map_or("kg", |by| unit(*by))
                ));
        }
    }
}

fn unit(by: Bought) -> &'static str {
    match by {
        Bought::Time => "h",
        Bought::Mass => "kg",
        Bought::Volume => "m3",
        Bought::Energy => "kWh",
        Bought::Piece => "piece",
        Bought::Package => "spool",
        Bought::Length => "m",
        Bought::Days => "month",
        Bought::Joint => "joint",
        Bought::Job => "job",
    }
}
