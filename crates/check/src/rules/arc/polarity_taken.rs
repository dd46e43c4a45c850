//! `polarity-taken`: explanation, cases, logic.

use crate::rule::{Case, Examiner, Harm, Rule};
use crate::subject::Subject;
use seamwright_model::finding::Severity;
use seamwright_model::trade::Taken;

/// The check.
pub const RULE: Rule = Rule {
    name: "polarity-taken",
    harm: Harm::Instruction,
    finds: "A polarity by a name of the trade or in other letters, such as DCRP: what it is taken as.",
    matters: "The wrong polarity spoils weld and tungsten; DCRP and DCSP are easily mixed up, and so are their plain words.",
    remedy: "Write DCEN (electrode negative), DCEP (electrode positive) or AC.",
    limit: "The words of AWS A3.0: straight polarity is DCEN, reverse polarity is DCEP.",
    tables: &[],
    examine: |x| tell(x, &x.view.procedure.taken),
    faulty: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/polarity", "DCSP")] },
        Case { base: "tee-fillet-6-s235-111", edits: &[("/processes/111/polarity", "DC+")] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/polarity", "dcen")] },
    ],
    sound: &[
        Case { base: "lap-fillet-2-carbon-141", edits: &[] },
        Case { base: "lap-fillet-2-carbon-141", edits: &[("/runs/0/polarity", "DCEN")] },
    ],
};

/// Tells each word that was taken for another.
pub(crate) fn tell<S: Subject>(x: &mut Examiner<'_, S>, taken: &[Taken]) {
    for Taken { pointer, written, word } in taken {
        let electrode = match *word {
            "DCEN" => " (electrode negative)",
            "DCEP" => " (electrode positive)",
            _ => "",
        };
        x.report(Severity::Note, pointer, format!("`{written}` is taken as {word}{electrode}"))
            .stated(written)
            .hint(format!("write `{word}`"));
    }
}
