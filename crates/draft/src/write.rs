//! The page: sections of a procedure in the order of the format, each value with its comment.

use seamwright_handbook::measure::figure;
use seamwright_handbook::{metal_families, planning, purge_oxygen};

use crate::facts::Facts;
use crate::figures::{rule, span};
use crate::heat::{self, Treatment};
use crate::joint::Shape;
use crate::page::{Page, Said, Value};
use crate::plan::Plan;
use crate::settings::{Entry, Settings};

/// The root of a joint by a process of its own.
pub(crate) struct RootPart<'f> {
    pub(crate) facts: &'f Facts,
    pub(crate) plan: Plan,
    pub(crate) settings: Settings,
}

pub(crate) fn procedure(facts: &Facts, plan: &Plan, settings: &Settings, root: Option<&RootPart<'_>>) -> String {
    let mut page = Page::default();
    page.remark(
        0,
        "A starting procedure, to be tried on a test piece and decided by whoever signs it. It is not qualified.",
    );
    page.remark(
        0,
        "Each comment names the handbook table that a value comes from and its basis; `decide` stands where the",
    );
    page.remark(0, "writer must. `seamwright table NAME` prints a table with its sources.");
    for said in &facts.taken {
        page.remark(0, format!("Taken: {said}."));
    }
    page.plain(0, "format", "1");
    page.plain(0, "document", "procedure");
    page.blank();
    identification(&mut page, facts);
    page.blank();
    page.head(0, "qualification");
    let said = Said::Decide("route and code, where the work needs a qualified procedure".into());
    let detail = prequalified(facts, plan);
    let route = match &detail {
        Some(_) => Value::new("prequalified", Said::Decide("whether every clause on prequalification is kept".into())),
        None => Value::new("none", said.clone()),
    };
    page.key(2, "route", &route);
    match &facts.choices.code {
        Some(code) => page.key(2, "code", &Value::new(code.clone(), Said::Given)),
        None => page.key(2, "code", &Value::new("none", said)),
    }
    page.blank();
    page.head(0, "parent_metals");
    page.item();
    let known = Said::Given;
    page.key(2, "specification", &Value::new(facts.metal_name.clone(), known));
    metal(&mut page, facts);
    if let Some(other) = facts.other() {
        page.item();
        page.key(2, "specification", &Value::new(other.metal_name.clone(), Said::Given));
        metal(&mut page, &other);
    }
    page.blank();
    joint(&mut page, facts, plan, root, detail.map(|(name, _)| name));
    if let Some((detail, source)) = detail {
        page.remark(
            2,
            format!("prequalified joint {detail} of AWS D1.1 ({source}): hold the fit-up within its tolerances"),
        );
    }
    page.blank();
    page.raw(0, "positions", &format!("[{}]", facts.position.code), &Said::Given);
    progression(&mut page, facts);
    page.blank();
    page.head(0, "fillers");
    if let Some(root) = root {
        fillers(&mut page, root.facts, &root.plan, &root.settings);
    }
    fillers(&mut page, facts, plan, settings);
    if let (Some(name), Some(_)) = (&facts.choices.machine, &facts.bench) {
        page.blank();
        page.key(0, "machine", &Value::new(name.clone(), Said::Given));
    }
    page.blank();
    page.head(0, "processes");
    if let Some(root) = root {
        page.head(2, root.facts.process_name());
        entries(&mut page, 4, &root.settings.process);
    }
    page.head(2, facts.process_name());
    entries(&mut page, 4, &settings.process);
    page.blank();
    match root {
        Some(root) => backing_gas(&mut page, root.facts, &root.plan),
        None => backing_gas(&mut page, facts, plan),
    }
    page.blank();
    temperatures(&mut page, facts, settings);
    page.blank();
    let total = plan.area_mm2;
    page.remark(
        0,
        format!("Cross-section of the weld about {total:.0} mm2, in runs no larger than their process makes them."),
    );
    page.head(0, "runs");
    if let Some(root) = root {
        runs(&mut page, root.facts, &root.plan, &root.settings);
    }
    runs(&mut page, facts, plan, settings);
    page.blank();
    page.head(0, "inspection");
    page.item();
    page.key(
        2,
        "method",
        &Value::new("visual", Said::Decide("methods, extent and acceptance, by the code or the customer".into())),
    );
    page.key(4, "extent", &Value::new("100 %", Said::Decide("extent".into())));
    if metal_families::get(facts.metal.family).is_some_and(|row| row.ferrous) && facts.metal.family != "cast-iron" {
        page.key(
            4,
            "acceptance",
            &Value::new("ISO 5817 level C", Said::Decide("quality level; iso-5817 has the limits of each".into())),
        );
    } else {
        page.remark(4, "acceptance: decide: standard and quality level");
    }
    page.remark(2, "Cautions are printed on the sheet by process, metal and gas.");
    page.blank();
    page.text(facts.inches)
}

/// Size and family of a metal.
fn metal(page: &mut Page, facts: &Facts) {
    page.key(4, "thickness", &Value::new(facts.thickness.clone(), Said::Given));
    if let Some(diameter) = &facts.diameter {
        page.key(4, "outside_diameter", &Value::new(diameter.clone(), Said::Given));
    }
    page.remark(
        4,
        format!(
            "base-metals: {}, {}{}",
            facts.metal.specification,
            facts.metal.family,
            facts.metal.iso_group.as_ref().map_or(String::new(), |group| format!(", group {group} of ISO/TR 15608"))
        ),
    );
}

fn identification(page: &mut Page, facts: &Facts) {
    page.head(0, "identification");
    let number = match &facts.number {
        Some(number) => Value::new(number.clone(), Said::Given),
        None => Value::new("DRAFT", Said::Decide("number".into())),
    };
    page.key(2, "number", &number);
    page.key(2, "revision", &Value::new("1", Said::Decide("revision and date".into())));
    let kind = if facts.groove() { "butt" } else { facts.joint.as_str() };
    let weld = if facts.groove() { "" } else { " fillet" };
    let pipe = facts.diameter.as_ref().map_or(String::new(), |diameter| format!("{diameter} x "));
    let title = format!(
        "{} {kind}{weld}, {pipe}{} {}, {}",
        if facts.diameter.is_some() { "Pipe" } else { "Plate" },
        facts.thickness,
        facts.to.as_ref().map_or(facts.metal_name.clone(), |(_, name)| format!("{} to {name}", facts.metal_name)),
        facts.root.as_ref().map_or(facts.process_name().to_owned(), |root| format!(
            "{} root with {}",
            root.process_name(),
            facts.process_name()
        ))
    );
    page.key(2, "title", &Value::new(title, Said::Follows("from the facts".into())));
    page.key(2, "status", &Value::new("draft", Said::Follows("until someone signs it".into())));
}

fn joint(page: &mut Page, facts: &Facts, plan: &Plan, root: Option<&RootPart<'_>>, detail: Option<&str>) {
    let backing_gas = root.map_or(&plan.backing_gas, |root| &root.plan.backing_gas);
    page.head(0, "joint");
    page.key(2, "type", &Value::new(facts.joint.as_str(), Said::Given));
    let follows = || Said::Follows("from the joint".into());
    match &plan.shape {
        Shape::Groove { preparation, said, angle, gap, face, backing } => {
            page.key(2, "weld", &Value::new("groove", follows()));
            if let Some(detail) = detail {
                let said =
                    if facts.choices.detail.is_some() { Said::Given } else { Said::Follows("from the edges".into()) };
                page.key(2, "detail", &Value::new(detail, said));
            }
            page.key(2, "penetration", &Value::new("full", Said::Decide("full, or partial with its depth".into())));
            page.key(2, "preparation", &Value::new(preparation.as_str(), said.clone()));
            if let Some(angle) = angle {
                page.key(2, "included_angle", angle);
            }
            page.key(2, "root_gap", gap);
            if let Some(face) = face {
                page.key(2, "root_face", face);
            }
            match (backing, backing_gas) {
                (Some(kind), _) => {
                    page.head(2, "backing");
                    page.key(4, "type", kind);
                }
                (None, Some(gas)) => {
                    page.head(2, "backing");
                    page.key(4, "type", &Value::new("gas", gas.said.clone()));
                }
                (None, None) => page.key(
                    2,
                    "backing",
                    &Value::new("none", Said::Decide("backing, where the root may have one".into())),
                ),
            }
            let (gouging, from) = if plan.shape.both_sides() {
                let gouging = Value::new(
                    "to sound metal before the second side is welded",
                    Said::Decide("method and depth; turn the work over so that both sides lie alike".into()),
                );
                (gouging, "both sides")
            } else {
                (Value::new("none", Said::Follows("welded from one side".into())), "one side")
            };
            page.key(2, "back_gouging", &gouging);
            page.key(2, "welded_from", &Value::new(from, Said::Follows("from the preparation".into())));
        }
        Shape::Fillet { .. } => page.key(2, "weld", &Value::new("fillet", follows())),
    }
    page.remark(2, "preparation_method: decide: how the edges are cut");
    if let Some(row) = planning::cleaning(facts.metal.family) {
        page.key(2, "cleaning", &Value::new(row.cleaning, Said::table(row.origin.source_ref())));
    }
    page.remark(2, "tack_welds: decide: length and spacing");
    if let Shape::Fillet { leg, face, .. } = &plan.shape {
        page.blank();
        page.head(0, "weld_size");
        page.key(2, "leg", leg);
        if let Some(face) = face {
            page.key(2, "second_leg", face);
        }
    }
}

/// The prequalified joint of AWS D1.1 that the edges are, and the table that has it.
fn prequalified(facts: &Facts, plan: &Plan) -> Option<(&'static str, &'static str)> {
    if let Some(row) = facts.detail {
        return Some((row.designation, "aws-d1-1-joints"));
    }
    let Shape::Groove { preparation, backing, .. } = &plan.shape else { return None };
    if !facts.under_aws_d1_1() || facts.diameter.is_some() || facts.process.uses_tungsten {
        return None;
    }
    let stick = facts.process.covered_electrode();
    if facts.process.uses_flux {
        let strip = backing.as_ref().is_some_and(|own| own.text == "strip");
        let name = if preparation.is_double() { Some("B-U3c-S") } else { strip.then_some("B-L2a-S") };
        let takes = |name: &&str| {
            let rows = seamwright_handbook::aws_d1_1::joint(name);
            facts.size().is_none_or(|size| rows.iter().any(|row| row.takes(size)))
        };
        return name.filter(takes).map(|name| (name, "aws-d1-1-joints"));
    }
    // An arc by short circuits is not prequalified.
    if plan.runs.iter().any(|run| run.transfer == Some(seamwright_handbook::gmaw_parameters::Transfer::ShortCircuit)) {
        return None;
    }
    let name = match (preparation.is_double(), backing.as_ref().map(|own| own.text.as_str())) {
        (true, _) if stick => "B-U3b",
        (true, _) => "B-U3-GF",
        (false, Some("strip")) if stick => "B-U2a",
        (false, Some("strip")) => "B-U2a-GF",
        _ => return None,
    };
    let known = !seamwright_handbook::aws_d1_1::joint(name).is_empty();
    known.then_some((name, "aws-d1-1-joints"))
}

fn progression(page: &mut Page, facts: &Facts) {
    use seamwright_handbook::positions::Progression;
    let source = facts.position.origin.source_ref();
    match facts.position.progression {
        Progression::None => {}
        Progression::Upward => page.key(0, "progression", &Value::new("upward", Said::table(source))),
        Progression::Downward => page.key(0, "progression", &Value::new("downward", Said::table(source))),
        Progression::Either if facts.downward() => {
            let said = Said::Decide("line pipe is welded downwards with cellulosic electrodes".into());
            page.key(0, "progression", &Value::new("downward", said));
        }
        Progression::Either => {
            let said = Said::Decide("upward or downward; upward fuses deeper".into());
            page.key(0, "progression", &Value::new("upward", said));
        }
    }
}

fn fillers(page: &mut Page, facts: &Facts, plan: &Plan, settings: &Settings) {
    page.head(2, facts.filler_name());
    let first = plan.root_filler.as_ref().unwrap_or(&plan.filler);
    page.key(4, "designation", &Value::new(first.class.clone(), first.said.clone()));
    for entry in &settings.filler {
        match entry {
            // A second filler stands beside the first.
            Entry::Block(name, lines) => {
                page.head(2, name);
                entries(page, 4, lines);
            }
            other => entries(page, 4, std::slice::from_ref(other)),
        }
    }
}

fn backing_gas(page: &mut Page, facts: &Facts, plan: &Plan) {
    let Some(gas) = &plan.backing_gas else {
        page.key(0, "backing_gas", &Value::new("none", Said::Follows("no root that air would spoil".into())));
        return;
    };
    page.head(0, "backing_gas");
    page.key(2, "designation", &Value::new(gas.symbol.clone(), gas.said.clone()));
    let (flow, source) = rule(planning::BACKING_FLOW);
    page.key(2, "flow", &crate::settings::ranged(flow, "L/min", source));
    // The strictest of the published figures for the family.
    let rows = purge_oxygen::rows().iter().filter(|row| metal_families::is_in(facts.metal.family, row.metal));
    let strictest = rows.min_by(|a, b| a.oxygen_max_ppm.low.total_cmp(&b.oxygen_max_ppm.low));
    let oxygen = if let Some(row) = strictest {
        Value::new(
            format!("{} ppm maximum", figure(row.oxygen_max_ppm.low)),
            Said::how(row.origin.source_ref(), row.grade),
        )
    } else {
        let (most, source) = rule(planning::BACKING_OXYGEN);
        Value::new(format!("{} ppm maximum", figure(most.high)), Said::table(source))
    };
    page.key(2, "oxygen", &oxygen);
    let changes = purge_oxygen::VOLUME_CHANGES;
    page.remark(
        2,
        format!(
            "purge_time: decide: as long as {} pass (purge-rules, {})",
            span(changes.value, changes.unit),
            changes.origin.basis.as_str()
        ),
    );
}

fn temperatures(page: &mut Page, facts: &Facts, settings: &Settings) {
    let found = heat::temperatures(facts, settings);
    page.head(0, "temperatures");
    page.key(2, "preheating", &found.preheating);
    page.maybe(
        2,
        "interpass",
        found.interpass.as_ref(),
        "the table interpass-temperature has no figure for the family",
    );
    match found.treatment {
        Treatment::Asked { celsius, cool } => {
            if cool.is_some() {
                let said = Said::Follows("the preheat, kept until the joint is welded and in every pause".into());
                page.key(2, "preheat_maintenance", &Value::new(found.preheating.text.clone(), said));
            }
            page.head(2, "post_weld_heat_treatment");
            page.key(4, "temperature", &celsius);
            if let Some(cool) = cool {
                page.key(4, "method", &cool);
            }
            page.remark(4, "time: decide: by the thickness and the code; heating and cooling rates too");
        }
        Treatment::None(said) => page.key(2, "post_weld_heat_treatment", &Value::new("none", said)),
        Treatment::Open => page.remark(2, "post_weld_heat_treatment: decide: by the code and the maker of the metal"),
    }
}

fn runs(page: &mut Page, facts: &Facts, plan: &Plan, settings: &Settings) {
    for (run, own) in plan.runs.iter().zip(&settings.runs) {
        page.item();
        let said = Said::how(run.row.origin.source_ref(), format!("about {:.0} mm2 a run", run.area_mm2));
        page.key(2, "run", &Value::new(run.numbers.clone(), said));
        page.plain(4, "layer", run.layer);
        if let Some(side) = run.side {
            page.plain(4, "side", side);
        }
        page.plain(4, "process", facts.process_name());
        entries(page, 4, &own.lines);
        if let Some(heat) = crate::settings::heat(facts, own) {
            page.remark(4, format!("heat input about {heat:.2} kJ/mm with k (thermal-efficiency)"));
        }
    }
}

/// Entries at an indent.
fn entries(page: &mut Page, indent: usize, all: &[Entry]) {
    for entry in all {
        match entry {
            Entry::Key(key, value) => page.key(indent, key, value),
            Entry::Figure(key, value) => page.raw(indent, key, &value.text, &value.said),
            Entry::Block(key, inner) => {
                page.head(indent, key);
                entries(page, indent + 2, inner);
            }
            Entry::Remark(text) => page.remark(indent, text.clone()),
        }
    }
}
