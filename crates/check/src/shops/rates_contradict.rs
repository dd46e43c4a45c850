//! `rates-contradict`: explanation, cases, logic.

use seamwright_handbook::setting_limits;
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Share;
use seamwright_model::shop::Shop;

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<Shop> = Rule {
    name: "rates-contradict",
    harm: Harm::Papers,
    finds: "A margin of the whole price or more, a mark-up beside a margin, or overhead as a share beside overhead by the hour.",
    matters: "A price comes out that nobody meant: one of the two is not used, or overhead is charged twice.",
    remedy: "State a margin below 100 % or a mark-up, and overhead in one way.",
    limit: "A margin is a share of the price, so that it lies below 100 %, and a mark-up is a share of the cost: one of them; both ways of overhead are a caution.",
    tables: &["setting-limits"],
    examine,
    faulty: &[
        Case { base: "shop/shop", edits: &[("/rates/margin", "100 %")] },
        Case { base: "shop/shop", edits: &[("/rates/margin", "130 %")] },
        Case { base: "shop/shop", edits: &[("/rates/margin", "20 %"), ("/rates/mark_up", "10 %")] },
        Case { base: "shop/shop", edits: &[("/rates/overhead", "20 %"), ("/rates/overhead_per_hour", "12 per h")] },
    ],
    sound: &[
        Case { base: "shop/shop", edits: &[] },
        Case { base: "shop/shop", edits: &[("/rates/margin", "20 %"), ("/rates/overhead", "20 %")] },
        Case { base: "shop/shop", edits: &[("/rates/mark_up", "120 %"), ("/rates/overhead_per_hour", "12 per h")] },
    ],
};

fn examine(x: &mut Examiner<'_, Shop>) {
    let Some(rates) = &x.view.rates else { return };
    if let Some(margin) = rates.margin.as_ref().and_then(|margin| margin.value()) {
        x.examined("/rates/margin");
        let whole = setting_limits::get(setting_limits::SHARE_OF_A_WHOLE, "").map(|row| row.widest.high);
        let most = margin.high().or(margin.low()).map(Share::percent);
        if most.zip(whole).is_some_and(|(most, whole)| most >= whole) {
            let message = format!("a margin of {}: no cost is left in the price", margin.spelled());
            x.report(Severity::Error, "/rates/margin", message)
                .stated(margin.spelled())
                .hint("write a share of the price below 100 %, or `mark_up` where it is a share of the cost");
        }
        if rates.mark_up.is_some() {
            x.report(Severity::Error, "/rates/margin", "a margin beside a mark-up: only one of them can be used")
                .stated(margin.spelled())
                .hint("leave out `margin` or `mark_up`");
        }
    }
    if let (Some(share), Some(by_hour)) = (&rates.overhead, &rates.overhead_per_hour) {
        x.examined("/rates/overhead_per_hour");
        let share = share.value().map_or("a share", |share| share.spelled()).to_owned();
        let message = format!("overhead of {by_hour} beside {share} of labour: both are charged");
        x.report(Severity::Caution, "/rates/overhead_per_hour", message)
            .stated(by_hour.to_string())
            .hint("leave out `overhead` or `overhead_per_hour`, unless both are meant");
    }
}
