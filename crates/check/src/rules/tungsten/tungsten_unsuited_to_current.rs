//! `tungsten-unsuited-to-current`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use seamwright_handbook::tungsten_types::{self, Suits};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{Polarity, keys};

/// The check.
pub const RULE: Rule = Rule {
    name: "tungsten-unsuited-to-current",
    harm: Harm::Process,
    finds: "A tungsten electrode of a type that does not suit the current type.",
    matters: "Pure tungsten on direct current wears fast and starts badly; thoriated tungsten on alternating current splits and throws off particles.",
    remedy: "Take an oxide electrode that suits both, such as WLa15 or WCe20.",
    limit: "The columns for direct and alternating current of the electrode types; poor is an error, limited a caution.",
    tables: &["tungsten-types"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/tungsten/designation", "WP")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/tungsten/designation", "WCe20")] }],
};

fn examine(x: &mut Examiner<'_>) {
    for run in &x.view.runs {
        let Some(named) = super::of_run::designation(run) else { continue };
        let Some(row) = tungsten_types::get(named.value) else { continue };
        let Some(polarity) = run.value(&keys::POLARITY) else { continue };
        x.examined(&named.pointer);
        let (suits, kind) = match polarity.value {
            Polarity::Ac => (row.ac, "alternating current"),
            Polarity::Dcen | Polarity::Dcep => (row.dc, "direct current"),
        };
        let severity = match suits {
            Suits::Poor => Severity::Error,
            Suits::Limited => Severity::Caution,
            Suits::Good | Suits::Stated => continue,
        };
        let source = row.origin.source_ref();
        x.report(severity, &named.pointer, format!("tungsten {} does not suit {kind} well", named.value))
            .stated(named.value)
            .limit(format!("an electrode that suits {kind}"), &source)
            .hint("write for example WLa15, which suits both");
    }
}
