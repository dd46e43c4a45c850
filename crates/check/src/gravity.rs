//! Which of several findings comes first.

use std::cmp::Reverse;

use seamwright_model::finding::Finding;

use crate::rule::Harm;

/// Checks whose findings come before others of their severity and harm, the gravest first: a pipe that cannot be, an alloy in
/// the wrong metal before cracking, a position before a polarity.
const GRAVEST: &[&str] = &[
    "outside-diameter-impossible",
    "metal-not-for-fusion",
    "filler-unsuited-to-metal",
    "filler-leaner-than-metal",
    "weld-metal-undermatching",
    "filler-carbon-above-grade",
    "active-gas-on-metal",
    "backing-gas-active",
    "shielding-gas-not-inert",
    "preheat-below-needed",
    "interpass-below-least",
    "heat-treatment-harms-metal",
    "heat-treatment-missing",
    "process-not-for-position",
    "electrode-position-not-permitted",
    "cored-wire-position-not-permitted",
    "low-hydrogen-electrode-downhill",
    "polarity-wrong-for-metal",
    "cored-wire-polarity-not-permitted",
    "wire-polarity-wrong",
    "electrode-polarity-not-permitted",
    "gas-for-self-shielded-wire",
    "gas-not-of-process",
    "backing-gas-missing",
    "trailing-gas-missing",
    "spray-out-of-position",
    "heat-too-little-for-joint",
    "run-out-of-proportion",
    "root-run-missing",
];

/// How far behind a finding of a harm stands: errors before cautions before notes, among equals by the harm, and the gravest checks
/// first.
pub(crate) fn rank(finding: &Finding, harm: Harm) -> impl Ord + use<> {
    let place = GRAVEST.iter().position(|check| *check == finding.check);
    (Reverse(finding.severity), harm, place.unwrap_or(GRAVEST.len()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_comes_first_is_a_check() {
        for check in GRAVEST {
            assert!(crate::rules::RULES.iter().any(|rule| rule.name == *check), "{check}");
        }
    }
}
