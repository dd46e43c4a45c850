//! `currency-not-a-code`: explanation, cases, logic.

use seamwright_model::finding::Severity;
use seamwright_model::shop::Shop;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<Shop> = Rule {
    name: "currency-not-a-code",
    harm: Harm::Papers,
    finds: "A currency that is no code of three letters.",
    matters: "A quotation says what is paid in; a sign such as $ stands for several currencies.",
    remedy: "Write the code of ISO 4217: EUR, USD, GBP.",
    limit: "Codes of ISO 4217 have three letters.",
    tables: &[],
    examine,
    faulty: &[
        Case { base: "shop/shop", edits: &[("/rates/currency", "Euro")] },
        Case { base: "shop/shop", edits: &[("/rates/currency", "$")] },
        Case { base: "shop/shop", edits: &[("/rates/currency", "E1R")] },
    ],
    sound: &[
        Case { base: "shop/shop", edits: &[] },
        Case { base: "shop/shop", edits: &[("/rates/currency", "GBP")] },
        Case { base: "shop/shop", edits: &[("/rates/currency", "usd")] },
    ],
};

fn examine(x: &mut Examiner<'_, Shop>) {
    let Some(currency) = x.view.rates.as_ref().and_then(|rates| rates.currency.as_deref()) else { return };
    x.examined("/rates/currency");
    // ISO 4217: three letters.
    if currency.len() != 3 || !currency.bytes().all(|letter| letter.is_ascii_alphabetic()) {
        x.report(Severity::Caution, "/rates/currency", format!("`{currency}` is no code of a currency: three letters"))
            .stated(currency)
            .hint("write the code of ISO 4217, such as EUR, USD or GBP");
    }
}
