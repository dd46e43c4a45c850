//! Drafts beside what a welding engineer would write for the same jobs.
//!
//! The figures of `reviewed/cases.yaml` are a practitioner's, from practice and memory; those of `reviewed/practice.yaml` are
//! practice, read by the maintainers.

use seamwright_draft::{Choices, Facts, Typed, draft};
use seamwright_model::document::Document;
use seamwright_model::procedure::{Preparation, Procedure, Run, Sides};
use seamwright_model::quantity::{Angle, Current, Flow, Length, Quantity, Range, Speed, Temperature, Voltage};
use seamwright_model::stated::{OrNone, Stated};
use serde::Deserialize;

type Span = [f64; 2];

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Cases {
    cases: Vec<Case>,
}

#[derive(Debug, Default, Deserialize)]
#[serde(deny_unknown_fields)]
struct Runs {
    process: Option<String>,
    class: Option<String>,
    diameter_mm: Option<Span>,
    current_a: Option<Span>,
    travel_mm_min: Option<Span>,
    volts: Option<Span>,
    feed_m_min: Option<Span>,
}

#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
#[expect(clippy::struct_excessive_bools, clippy::struct_field_names, reason = "the keys of the file of cases")]
struct Case {
    case: String,
    facts: Vec<String>,
    to: Option<String>,
    diameter: Option<String>,
    /// Code that is chosen.
    code: Option<String>,
    /// How many rows of runs there are.
    rows: Option<usize>,
    progression: Option<String>,
    #[serde(default)]
    inches: bool,
    leg_mm: Option<Span>,
    leg_in: Option<Span>,
    /// The leg on the face of a lap.
    face_in: Option<Span>,
    gap_mm: Option<Span>,
    gap_in: Option<Span>,
    angle: Option<f64>,
    backing: Option<String>,
    /// Backing that is chosen.
    chosen_backing: Option<String>,
    preparation: Option<String>,
    #[serde(default)]
    both_sides: bool,
    #[serde(default)]
    purge: bool,
    #[serde(default)]
    heat_treatment: bool,
    bead: Option<String>,
    transfer: Option<String>,
    gas: Option<String>,
    preheat_c: Option<Span>,
    interpass_c: Option<Span>,
    flow_l_min: Option<Span>,
    tungsten_mm: Option<Span>,
    nozzle: Option<Span>,
    root: Option<Runs>,
    fill: Option<Runs>,
}

fn middle<Q: Quantity>(stated: Option<&Stated<Range<Q>>>, figure: impl Fn(Q) -> f64) -> Option<f64> {
    let range = stated?.value()?;
    let (low, high) = (range.low().map(&figure), range.high().map(&figure));
    Some(f64::midpoint(low.or(high)?, high.or(low)?))
}

/// What is not as it should be.
#[derive(Default)]
struct Off(Vec<String>);

impl Off {
    fn within(&mut self, what: &str, own: Option<f64>, right: Option<Span>) {
        if let Some([low, high]) = right {
            match own {
                Some(own) if low - 1e-3 * low.abs() <= own && own <= high + 1e-3 * high.abs() => {}
                own => self.0.push(format!("{what} {own:?}, right is {low}-{high}")),
            }
        }
    }

    fn same(&mut self, what: &str, own: &str, right: Option<&str>) {
        if let Some(right) = right
            && !own.starts_with(right)
        {
            self.0.push(format!("{what} `{own}`, right is {right}"));
        }
    }
}

fn runs(off: &mut Off, what: &str, procedure: &Procedure, run: &Run, right: &Runs) {
    let name = run.process.as_deref().unwrap_or_default();
    let settings = procedure.processes.get(name);
    let own = &run.settings;
    let filler = own.filler.as_deref().or(settings.and_then(|all| all.filler.as_deref())).unwrap_or_default();
    let filler = procedure.fillers.get(filler);
    off.same(&format!("{what} process"), name, right.process.as_deref());
    off.same(&format!("{what} class"), filler.map_or("", |own| &*own.designation), right.class.as_deref());
    let size = middle(filler.and_then(|own| own.diameter.as_ref()), Length::mm);
    off.within(&format!("{what} diameter mm"), size, right.diameter_mm);
    off.within(&format!("{what} current"), middle(own.current.as_ref(), Current::amperes), right.current_a);
    off.within(&format!("{what} travel"), middle(own.travel_speed.as_ref(), Speed::mm_per_min), right.travel_mm_min);
    off.within(&format!("{what} voltage"), middle(own.voltage.as_ref(), Voltage::volts), right.volts);
    let feed = middle(own.wire_feed_speed.as_ref(), Speed::mm_per_min).map(|own| own / 1000.0);
    off.within(&format!("{what} feed"), feed, right.feed_m_min);
}

fn judge(case: &Case, text: &str, procedure: &Procedure) -> Vec<String> {
    let mut off = Off::default();
    let size = procedure.weld_size.as_ref().and_then(Stated::value);
    let leg = size.and_then(|size| middle(size.leg.as_ref(), Length::mm));
    off.within("leg mm", leg, case.leg_mm);
    off.within("leg in", leg.map(|own| own / 25.4), case.leg_in);
    let face = size.and_then(|size| middle(size.second_leg.as_ref(), Length::mm));
    off.within("face leg in", face.map(|own| own / 25.4), case.face_in);
    let joint = procedure.joint.as_ref().expect("a joint");
    let gap = middle(joint.root_gap.as_ref(), Length::mm);
    off.within("gap mm", gap, case.gap_mm);
    off.within("gap in", gap.map(|own| own / 25.4), case.gap_in);
    off.within("angle", middle(joint.included_angle.as_ref(), Angle::degrees), case.angle.map(|own| [own, own]));
    let backing = joint.backing.as_ref().and_then(OrNone::value).map_or("none", |own| own.kind.as_str());
    off.same("backing", backing, case.backing.as_deref());
    let preparation = joint.preparation.as_ref().and_then(Stated::value);
    off.same("preparation", preparation.map_or("", |own| own.as_str()), case.preparation.as_deref());
    if case.both_sides {
        let both = joint.welded_from.as_ref().and_then(Stated::value) == Some(&Sides::Both);
        if !both && preparation != Some(&Preparation::DoubleV) {
            off.0.push("it is welded from one side".to_owned());
        }
    }
    if case.purge && procedure.backing_gas.as_ref().and_then(OrNone::value).is_none() {
        off.0.push("no purge".to_owned());
    }
    let heat = procedure.temperatures.as_ref().expect("temperatures");
    if case.heat_treatment && heat.post_weld_heat_treatment.as_ref().and_then(OrNone::value).is_none() {
        off.0.push("no heat treatment".to_owned());
    }
    off.within("preheat", middle(heat.preheating.as_ref(), Temperature::celsius), case.preheat_c);
    off.within("interpass", middle(heat.interpass.as_ref(), Temperature::celsius), case.interpass_c);
    let last = procedure.runs.last().expect("runs");
    let of = procedure.processes.get(last.process.as_deref().unwrap_or_default()).expect("a process");
    let gas = of.shielding_gas.as_ref().and_then(OrNone::value);
    let helium = gas.and_then(|own| own.composition.as_ref()).map_or(0.0, |own| own.percent("He"));
    off.within("helium in the gas", Some(helium), Some([0.0, 0.0]));
    off.same("gas", gas.and_then(|own| own.designation.as_deref()).unwrap_or_default(), case.gas.as_deref());
    let rows = (case.rows.is_none_or(|rows| rows == procedure.runs.len())).then_some(1.0);
    off.within("rows of runs", rows, Some([1.0, 1.0]));
    let way = procedure.progression.as_ref().and_then(Stated::value).map_or("", |own| own.as_str());
    off.same("progression", way, case.progression.as_deref());
    off.within("flow", gas.and_then(|own| middle(own.flow.as_ref(), Flow::l_per_min)), case.flow_l_min);
    let tungsten = of.tungsten.as_ref().and_then(|own| middle(own.diameter.as_ref(), Length::mm));
    off.within("tungsten", tungsten, case.tungsten_mm);
    let nozzle =
        of.torch.as_ref().and_then(|own| own.nozzle.as_deref()).and_then(|own| own.strip_prefix("No. ")?.parse().ok());
    off.within("nozzle", nozzle, case.nozzle);
    let technique = of.technique.as_ref();
    let bead = technique.and_then(|own| own.bead.as_ref()).and_then(Stated::value).map_or("", |own| own.as_str());
    off.same("bead", bead, case.bead.as_deref());
    let mode = last.settings.transfer_mode.as_ref().or(of.transfer_mode.as_ref()).and_then(Stated::value);
    off.same("transfer", mode.map_or("", |own| own.as_str()), case.transfer.as_deref());
    if let (Some(right), Some(first)) = (&case.root, procedure.runs.first()) {
        runs(&mut off, "root", procedure, first, right);
    }
    if let Some(right) = &case.fill {
        let over = usize::from(case.root.is_some() || procedure.runs.len() > 1);
        for run in procedure.runs.iter().skip(over) {
            runs(&mut off, "fill", procedure, run, right);
        }
    }
    if case.inches {
        for unit in [" mm", "°C", "L/min", "m/min", "kJ/mm"] {
            if let Some(line) =
                text.lines().take_while(|line| !line.starts_with("# Tables")).find(|line| line.contains(unit))
            {
                off.0.push(format!("metric in an inch document: {}", line.trim()));
            }
        }
    }
    off.0
}

/// Every job is drafted, and what a draft writes lies within what the engineer calls right.
#[test]
fn drafts_lie_within_what_a_welding_engineer_calls_right() {
    hold(include_str!("reviewed/cases.yaml"), 45);
}

/// So do jobs of other processes, metals, codes and sizes.
#[test]
fn drafts_of_more_jobs_lie_within_practice() {
    hold(include_str!("reviewed/practice.yaml"), 45);
}

/// Drafts the jobs of a file that has more than some.
fn hold(text: &str, more_than: usize) {
    let cases: Cases = serde_yaml::from_str(text).expect("cases");
    assert!(cases.cases.len() > more_than);
    let mut bad = Vec::new();
    for case in &cases.cases {
        let word = |at: usize| case.facts.get(at).cloned().expect("five facts");
        let typed = Typed {
            process: word(0),
            metal: word(1),
            to: case.to.clone(),
            thickness: word(2),
            joint: word(3),
            position: word(4),
            diameter: case.diameter.clone(),
        };
        let choices = Choices { code: case.code.clone(), backing: case.chosen_backing.clone(), ..Choices::default() };
        match Facts::read_with(&typed, &choices).and_then(|facts| draft(&facts)) {
            Err(why) => bad.push(format!("{}: refused: {why}", case.case)),
            Ok(text) => {
                let loaded = seamwright_model::load("draft", text.as_bytes()).unwrap_or_else(|_| panic!("{text}"));
                let Document::Procedure(procedure) = &loaded.document else { panic!("{text}") };
                bad.extend(judge(case, &text, procedure).into_iter().map(|off| format!("{}: {off}", case.case)));
            }
        }
    }
    assert!(bad.is_empty(), "{} of {} cases are off:\n{}", bad.len(), cases.cases.len(), bad.join("\n"));
}
