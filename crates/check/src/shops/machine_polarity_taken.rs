//! `machine-polarity-taken`: explanation, cases, logic.

use seamwright_model::shop::Shop;

use crate::rule::{Case, Harm, Rule};
use crate::rules::arc::polarity_taken::tell;

/// The check.
pub const RULE: Rule<Shop> = Rule {
    name: "machine-polarity-taken",
    harm: Harm::Instruction,
    finds: "A polarity of a machine by a name of the trade or in other letters, such as DCRP: what it is taken as.",
    matters: "Whether a machine can weld a run hangs on the polarities that it gives.",
    remedy: "Write DCEN (electrode negative), DCEP (electrode positive) or AC.",
    limit: "The words of AWS A3.0: straight polarity is DCEN, reverse polarity is DCEP.",
    tables: &[],
    examine: |x| tell(x, &x.view.taken),
    faulty: &[Case { base: "shop/shop", edits: &[("/power_sources/0/polarity", "[DCSP, AC]")] }],
    sound: &[Case { base: "shop/shop", edits: &[("/power_sources/0/polarity", "[DCEN, AC]")] }],
};
