//! The runs of a draft fill its joint: what they lay at the middle of their settings beside its cross-section.

mod common;

use common::typed;
use seamwright_draft::{Facts, draft};
use seamwright_handbook::planning;
use seamwright_model::document::Document;
use seamwright_weld::{View, fill};

/// What the runs of a draft lay over what its joint holds.
fn share(facts: &str) -> f64 {
    let text = Facts::read(&typed(facts)).and_then(|facts| draft(&facts)).unwrap();
    let loaded = seamwright_model::load("draft", text.as_bytes()).unwrap();
    let Document::Procedure(procedure) = &loaded.document else { unreachable!("a draft is a procedure") };
    let fill = fill::of(&View::new(procedure)).unwrap();
    fill.laid_mm2.middle / fill.joint_mm2.middle
}

/// Jobs whose first settings by the tables lay too little or too much: the draft goes on to others.
#[test]
fn runs_lay_what_the_joint_holds() {
    let aim = planning::FILL_AIM.value;
    for facts in [
        "131|5083|8 mm|tee|PF",
        "131|5083|12 mm|butt|PE",
        "131|6082|8 mm|lap|PF",
        "135|S690QL|20 mm|butt|PC",
        "135|S690QL|12 mm|butt|PF",
    ] {
        let share = share(facts);
        assert!((aim.low..=aim.high).contains(&share), "{facts:?}: {share:.2} of the joint, wanted {aim:?}");
    }
}
