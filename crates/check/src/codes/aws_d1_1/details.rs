//! A joint beside the prequalified details of AWS D1.1: what a procedure states against what a row of the figures asks.

use seamwright_calc::band::{above, below};
use seamwright_handbook::aws_d1_1::{self, JointRow, Printed};
use seamwright_handbook::measure::{self, band};
use seamwright_handbook::{Band, Size, positions};
use seamwright_model::finding::{Limit, Severity};
use seamwright_model::procedure::{BackingType, Joint, JointType, Penetration, Preparation, WeldType};
use seamwright_model::quantity::{Angle, Length, Range};
use seamwright_model::stated::{NONE, OrNone, Stated};
use seamwright_weld::view::Metal;
use seamwright_weld::{RunView, View};

/// Something in which a joint is not the detail.
#[derive(Debug, Clone)]
pub(crate) struct Fault {
    /// JSON pointer.
    pub pointer: String,
    /// The value as stated.
    pub stated: String,
    /// What is wrong: `root opening 1/8 in`.
    pub what: String,
    /// What the detail has.
    pub limit: Limit,
    /// Error beyond what fit-up may have, caution within it.
    pub severity: Severity,
}

/// The choice of a detail that a joint comes nearest to, and what is wrong with it; nothing where there is no such detail.
pub(crate) fn of(view: &View<'_>, joint: &Joint, designation: &str) -> Option<(&'static JointRow, Vec<Fault>)> {
    best(view, joint, aws_d1_1::joint(designation))
}

/// The choice of any detail that a joint comes nearest to, and what is wrong with it.
pub(crate) fn nearest(view: &View<'_>, joint: &Joint) -> Option<(&'static JointRow, Vec<Fault>)> {
    best(view, joint, aws_d1_1::joints().iter().collect())
}

fn best(view: &View<'_>, joint: &Joint, rows: Vec<&'static JointRow>) -> Option<(&'static JointRow, Vec<Fault>)> {
    let mut best: Option<(Distance, &'static JointRow, Vec<Fault>)> = None;
    for row in rows {
        let farther = |found: &Found| best.as_ref().is_some_and(|(own, ..)| *own <= distance(row, &found.0));
        let mut found = Found(Vec::new());
        found.shape(view, joint, row);
        // What is found later only takes a row farther off.
        if farther(&found) {
            continue;
        }
        found.figures(view, joint, row);
        if !farther(&found) {
            best = Some((distance(row, &found.0), row, found.0));
        }
    }
    best.map(|(_, row, faults)| (row, faults))
}

/// How far a joint is from a detail: what is wrong, and how many things; a detail of a short name is the more general one.
type Distance = (usize, usize, usize);

fn distance(row: &JointRow, faults: &[Fault]) -> Distance {
    let errors = faults.iter().filter(|fault| fault.severity == Severity::Error).count();
    // A joint of another kind is farther off than one whose figure differs.
    let shape = faults.iter().filter(|fault| SHAPES.contains(&fault.pointer.as_str())).count();
    (3 * shape + errors, faults.len(), row.designation.len())
}

/// Places that tell kinds of joint apart.
const SHAPES: &[&str] = &["/joint/preparation", "/joint/type", "/joint/weld", "/joint/penetration"];

/// What is wrong with a joint as a choice of a detail; what is not stated is not wrong.
struct Found(Vec<Fault>);

impl Found {
    fn add(&mut self, pointer: impl Into<String>, stated: impl Into<String>, what: String, limit: impl Into<Limit>) {
        let (pointer, stated, limit) = (pointer.into(), stated.into(), limit.into());
        self.0.push(Fault { pointer, stated, what, limit, severity: Severity::Error });
    }

    fn figures(&mut self, view: &View<'_>, joint: &Joint, row: &JointRow) {
        self.work(view, row);
        self.root(view, joint, row);
        self.sizes(view, joint, row);
    }

    fn shape(&mut self, view: &View<'_>, joint: &Joint, row: &JointRow) {
        let letter = match joint.kind {
            JointType::Butt => Some('B'),
            JointType::Corner => Some('C'),
            JointType::Tee => Some('T'),
            JointType::Lap | JointType::Edge | JointType::Cavity => None,
        };
        if letter.is_none_or(|letter| !row.joins(letter)) {
            let kinds: Vec<&str> = [('B', "butt"), ('C', "corner"), ('T', "tee")]
                .into_iter()
                .filter(|(letter, _)| row.joins(*letter))
                .map(|(_, word)| word)
                .collect();
            let stated = joint.kind.as_str();
            self.add("/joint/type", stated, format!("a {stated} joint"), kinds.join(" or "));
        }
        if let Some(weld) = view.weld().filter(|weld| !weld.has_groove()) {
            self.add("/joint/weld", weld.as_str(), format!("a {weld} weld"), WeldType::Groove.as_str());
        }
        let penetration = joint.penetration.as_ref().and_then(Stated::value);
        if let Some(own) = penetration.filter(|own| (**own == Penetration::Partial) != row.partial()) {
            let limit = if row.partial() { Penetration::Partial } else { Penetration::Full };
            self.add("/joint/penetration", own.as_str(), format!("{own} penetration"), limit.as_str());
        }
        let shape = joint.preparation.as_ref().and_then(Stated::value);
        if let Some(own) = shape.filter(|own| !GROOVES.contains(&(row.groove(), **own))) {
            self.add("/joint/preparation", own.as_str(), format!("preparation {own}"), groove_words(row.groove()));
        }
    }

    /// Processes, gas and positions.
    fn work(&mut self, view: &View<'_>, row: &JointRow) {
        let mut numbers: Vec<&str> = view.runs.iter().map(RunView::number).filter(|own| !own.is_empty()).collect();
        numbers.dedup();
        // A joint may be welded with several prequalified processes: that of the detail has to be among them.
        if !numbers.is_empty() && !numbers.iter().any(|own| row.processes.iter().any(|other| other == own)) {
            let stated = numbers.join(", ");
            self.add("/joint/detail", stated.clone(), format!("process {stated}"), row.processes.join(", "));
        }
        if row.gas.is_some() && numbers.contains(&"114") {
            self.add("/joint/detail", "114", "flux cored wire without gas".to_owned(), "gas required");
        }
        for (index, text) in view.procedure.positions.iter().enumerate() {
            let parts = positions::get(text).map(positions::Row::parts).unwrap_or_default();
            let closed = parts.iter().find(|part| !row.positions.iter().any(|own| own == *part));
            if let Some(part) = closed {
                let what = format!("position {text} ({part})");
                self.add(format!("/positions/{index}"), text.to_string(), what, row.positions.join(", "));
            }
        }
    }

    /// Backing and back gouging.
    fn root(&mut self, view: &View<'_>, joint: &Joint, row: &JointRow) {
        // A spacer between the bevels stands in place of a strip.
        if row.spacer.is_none() {
            let held = joint.backing.as_ref().and_then(OrNone::value).map(|own| own.kind);
            let strip = held == Some(BackingType::Strip);
            if row.backing && !strip && (held.is_some() || joint.backing.is_some()) {
                let stated = held.map_or(NONE, BackingType::as_str);
                let what = if held.is_some() { format!("backing by {stated}") } else { "no backing".to_owned() };
                self.add("/joint/backing", stated, what, "backing of steel");
            } else if !row.backing && strip {
                self.add("/joint/backing", "strip", "backing by a strip".to_owned(), "no backing");
            }
        }
        if row.back_gouged
            && !view.back_gouged()
            && let Some(stated) = joint.back_gouging.as_deref()
        {
            self.add("/joint/back_gouging", stated, "no back gouging".to_owned(), "back gouged before the second side");
        }
    }

    fn sizes(&mut self, view: &View<'_>, joint: &Joint, row: &JointRow) {
        let prepared = view.metals.iter().filter_map(Metal::thickness).min_by_key(|size| size.length());
        for metal in &view.metals {
            let Some(size) = metal.thickness() else { continue };
            // Of a corner or tee the prepared member counts: the thinner one where both are not the same.
            let counts = joint.kind == JointType::Butt || Some(size) == prepared;
            if counts && !row.takes(size) {
                let limit = row.thicknesses(size.is_customary()).unwrap_or_default();
                self.add(metal.pointer("thickness"), size.text(), format!("thickness {}", size.text()), limit);
            }
        }
        self.length(("/joint/root_gap", "root opening"), joint.root_gap.as_ref(), row.root_opening(prepared), row);
        self.length(("/joint/root_face", "root face"), joint.root_face.as_ref(), row.root_face(), row);
        let radius = row
            .root_radius_mm
            .zip(row.root_radius_in)
            .map(|(mm, inches)| Printed { mm: Band::at(mm), inches: Band::at(inches.0) });
        self.length(("/joint/root_radius", "groove radius"), joint.root_radius.as_ref(), radius, row);
        self.angle(joint, row);
    }

    fn length(
        &mut self,
        (pointer, name): (&str, &str),
        stated: Option<&Stated<Range<Length>>>,
        printed: Option<Printed>,
        row: &JointRow,
    ) {
        let (Some(stated), Some(printed)) = (stated.and_then(Stated::value), printed) else { return };
        let size = |end: Option<Length>| end.map(|own| Size::stated(own, stated.unit()));
        let (low, high) = (size(stated.low()), size(stated.high()));
        let customary = measure::is_customary(stated.unit());
        let detailed = printed.widened(row.tolerance("as-detailed", name));
        // Back gouging takes any root face away, but for an arc under flux.
        let free = name == "root face" && row.back_gouged && !row.processes.contains(&"121");
        let fitted = printed.widened(row.tolerance("as-fit-up", name));
        let within = |bounds: &Printed, low: Option<Size>, high: Option<Size>| {
            low.is_none_or(|low| bounds.reached_by(low)) && high.is_none_or(|high| bounds.holds(high))
        };
        // The least of a range may be met, so the ends are held one by one: the range has to reach into the detail.
        let meets = high.or(low).is_none_or(|high| detailed.reached_by(high))
            && low.or(high).is_none_or(|low| detailed.holds(low));
        let severity = if within(&detailed, low, high) || meets && (free || within(&fitted, low, high)) {
            return;
        } else if within(&fitted, low, high) {
            Severity::Caution
        } else {
            Severity::Error
        };
        let limit = format!("{} as detailed, {} as fitted up", detailed.text(customary), fitted.text(customary));
        self.0.push(Fault {
            pointer: pointer.to_owned(),
            stated: stated.spelled().to_owned(),
            what: format!("{name} {}", stated.spelled()),
            limit: if free { format!("{} as detailed", detailed.text(customary)) } else { limit }.into(),
            severity,
        });
    }

    fn angle(&mut self, joint: &Joint, row: &JointRow) {
        let Some(stated) = joint.included_angle.as_ref().and_then(Stated::value) else { return };
        let Some(least) = row.angle_deg else { return };
        let by = |stage: &str| row.tolerance(stage, "groove angle").map_or((0.0, 0.0), |own| (own.minus, own.plus));
        let own = band(stated, Angle::degrees);
        // An inside corner of a J has another angle.
        let other = row.angle_2_deg.filter(|_| row.groove() > 7).map(|own| own.low);
        let (detailed, fitted) = (by("as-detailed"), by("as-fit-up"));
        let fits =
            |least: f64, (minus, plus): (f64, f64)| !own.outside(Band::new(least - minus, least + plus)).either();
        let reaches = |least: f64| {
            let own = own.closed();
            !below(own.high, least - detailed.0) && !above(own.low, least + detailed.1)
        };
        let any = |test: &dyn Fn(f64) -> bool| test(least) || other.is_some_and(test);
        if any(&|least| fits(least, detailed) || reaches(least) && fits(least, fitted)) {
            return;
        }
        let severity = if any(&|least| fits(least, fitted)) { Severity::Caution } else { Severity::Error };
        let degrees = |(minus, plus): (f64, f64)| format!("{} to {}°", least - minus, least + plus);
        self.0.push(Fault {
            pointer: "/joint/included_angle".to_owned(),
            stated: stated.spelled().to_owned(),
            what: format!("groove angle {}", stated.spelled()),
            limit: format!("{} as detailed, {} as fitted up", degrees(detailed), degrees(fitted)).into(),
            severity,
        });
    }
}

/// The digit of a groove in a designation, where a procedure has a word for the groove.
const GROOVES: [(u32, Preparation); 11] = [
    (1, Preparation::Square),
    (2, Preparation::SingleV),
    (3, Preparation::DoubleV),
    (4, Preparation::SingleBevel),
    (5, Preparation::DoubleBevel),
    (6, Preparation::SingleU),
    (7, Preparation::DoubleU),
    (8, Preparation::SingleJ),
    (9, Preparation::DoubleJ),
    (10, Preparation::FlareBevel),
    (11, Preparation::FlareV),
];

/// The groove of a digit in words.
fn groove_words(digit: u32) -> &'static str {
    GROOVES.iter().find(|(own, _)| *own == digit).map_or("another groove", |(_, shape)| shape.as_str())
}
