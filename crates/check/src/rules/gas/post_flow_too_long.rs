//! `post-flow-too-long`: explanation, cases, logic.

use seamwright_handbook::measure::figure;
use seamwright_handbook::technique::gas_timing;
use seamwright_handbook::{Band, setting_limits};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::keys;
use seamwright_model::quantity::{Current, Duration};

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use crate::rules::bounds::limits;

/// The check.
pub const RULE: Rule = Rule {
    name: "post-flow-too-long",
    harm: Harm::Soundness,
    finds: "Gas held on far longer than the tip and the crater need.",
    matters: "It costs gas and helps nobody; more often it is a slip.",
    remedy: "About a second for each 10 A is enough.",
    limit: "Several times a second for each 10 A, and never less than 45 s, common practice: past the usual a note, past the widest a caution.",
    tables: &["setting-limits", "gas-timing"],
    examine,
    faulty: &[Case { base: "lap-fillet-2-carbon-141", edits: &[("/processes/141/shielding_gas/post_flow", "10 min")] }],
    sound: &[Case { base: "lap-fillet-2-carbon-141", edits: &[] }],
};

fn examine(x: &mut Examiner<'_>) {
    let Some((limits, _)) = limits(setting_limits::POST_FLOW_OVER_NEED, "") else { return };
    for run in &x.view.runs {
        let post = run.value(&keys::SHIELDING_GAS_POST_FLOW);
        let Some(post) = post else { continue };
        let Some(seconds) = post.value.high().or(post.value.low()).map(Duration::seconds) else { continue };
        let amperes = run.value(&keys::CURRENT);
        let amperes = amperes.and_then(|at| at.value.high().or(at.value.low())).map_or(NO_CURRENT_A, Current::amperes);
        let each = gas_timing::POST_FLOW_PER_10_A.value.high;
        let needed = amperes / 10.0 * each;
        let most = |times: f64| (times * needed).max(SHORT_S).round();
        let stated = post.value.spelled();
        let source = limits.source.clone();
        let limit = Band::at_most(most(limits.envelope.high));
        let outer = x.compare(&post.pointer, stated, Band::at_most(seconds), limit, "s", &source);
        let usual = limits.usual.map_or(limit.high, |usual| most(usual.high));
        let (severity, limit) = if outer.above {
            (Severity::Caution, limit)
        } else if seconds > usual {
            (Severity::Note, Band::at_most(usual))
        } else {
            continue;
        };
        let text = range_limit(limit, "s");
        x.report(
            severity,
            &post.pointer,
            format!("gas after the arc {stated} is long for {} A ({text})", figure(amperes)),
        )
        .stated(stated)
        .limit(text, &source)
        .hint("about a second for each 10 A");
    }
}

/// A time up to which none is too long, s: the least that a tip needs to cool, and more.
const SHORT_S: f64 = 45.0;
/// The current that is taken where none is stated, A.
const NO_CURRENT_A: f64 = 150.0;
