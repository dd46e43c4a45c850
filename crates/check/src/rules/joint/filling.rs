//! What the runs lay down beside what the joint holds, in one shape for too little and too much.

use seamwright_model::finding::Severity;
use seamwright_weld::fill::{Certainty, Fill};

use crate::rule::{Examiner, range_limit};

/// Reports that the runs do not make the weld, as surely as that follows.
pub(super) fn report(x: &mut Examiner<'_>, fill: &Fill, certainty: Certainty, hint: &str) {
    let severity = match certainty {
        Certainty::Certain => Severity::Error,
        Certainty::Likely => Severity::Caution,
        Certainty::Possible => Severity::Note,
    };
    let (laid, joint) = fill.words();
    x.report(severity, "/runs", format!("the runs lay down {laid} where the joint holds {joint}"))
        .stated(laid)
        .limit(range_limit(fill.limit_pct, "% of the joint"), &fill.source)
        .hint(hint);
}
