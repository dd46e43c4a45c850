//! The draft of a lesson that teaches a procedure: exercises from beads to its joint, on pieces of its metal, accepted as the
//! procedure is.

use std::fmt::Write as _;

use seamwright_calc::band::whole_down;
use seamwright_handbook::measure::figure;
use seamwright_handbook::{iso_5817, positions, workshop};
use seamwright_model::capital::capital;
use seamwright_model::procedure::{JointType, ParentMetal, Procedure, WeldType};
use seamwright_model::quantity::{Length, Range};
use seamwright_model::stated::Stated;
use seamwright_weld::View;
use seamwright_weld::view::Metal;

use crate::documents::quoted;

/// A lesson that teaches a procedure, as commented YAML: exercises from beads on plate to its joint, with coupons of its metal.
pub fn lesson(procedure: &Procedure, file: &str, learners: u32, booths: u32) -> String {
    let view = View::new(procedure);
    let taught = Taught::of(&view);
    let process = procedure.processes.iter().next().map_or("", |(name, _)| name);
    let exercises = taught.exercises();
    let turns = learners.div_ceil(booths.max(1));
    let welding: u32 = exercises.iter().map(|own| own.minutes.saturating_mul(COUNT)).sum::<u32>().saturating_mul(turns);
    let name = &taught.name;
    let mut text = format!(
        "# A lesson to begin with; `decide` stands where the instructor must. Times, lengths and coupons are practice of the trade.\n\
         format: 1\ndocument: lesson\n\nidentification:\n  number: LESSON  # decide: number\n  revision: 1\n  title: \"{} with {process}: {}\"\n  status: draft\n\n\
         procedure: {file}\nlearners: {learners}\nbooths: {booths}  # {turns} at a booth, one after the other\nduration: {}  # decide\nwithout_welding: {BESIDE_WELDING_MIN} min  # safety, demonstration, questions: decide\n\n",
        capital(name),
        quoted(&procedure.identification.title),
        duration(welding),
    );
    text.push_str("objectives:\n  - Hold arc length and travel speed steady\n");
    let verb = if name.contains("weld") || taught.on_one_piece { "Make" } else { "Weld" };
    let _ = write!(
        text,
        "  - {verb} the {name} in {} to the procedure\n  - Tell a sound weld from a faulty one by eye\n\nexercises:\n",
        taught.position
    );
    for own in &exercises {
        own.write(&mut text);
    }
    assessment(&mut text, &view, &taught);
    faults(&mut text, &view);
    text.push_str("\npractice_loss: 20 %\n");
    text
}

/// How often each exercise is welded.
const COUNT: u32 = 2;
/// Time for safety, demonstration and questions, min.
const BESIDE_WELDING_MIN: u32 = 40;

/// A duration in which so many minutes are welded: three hours, or as many half hours as it takes.
fn duration(welding_min: u32) -> String {
    let half_hours = welding_min.saturating_add(BESIDE_WELDING_MIN).div_ceil(30).max(6);
    if half_hours.is_multiple_of(2) { format!("{} h", half_hours / 2) } else { format!("{}.5 h", half_hours / 2) }
}

/// What is taught: the weld by its name, its position, and the pieces that it is welded on.
struct Taught {
    name: String,
    position: String,
    /// Position for the same weld laid flat, where the procedure's own is upright or overhead.
    flat: Option<&'static str>,
    tungsten: bool,
    thickness: String,
    /// Outside diameter of pipe, as stated, and the length around it, mm.
    pipe: Option<(String, Option<f64>)>,
    /// Whether it is welded on one piece.
    on_one_piece: bool,
    /// What the instructor has to know of the pieces.
    remark: &'static str,
}

impl Taught {
    fn of(view: &View<'_>) -> Self {
        let procedure = view.procedure;
        let metals = &procedure.parent_metals;
        let hollow = |own: &&Metal<'_>| {
            let outside = own.stated.outside_diameter.as_ref().and_then(Stated::value);
            outside.is_some() && !own.is_round_bar()
        };
        let pipe = view.metals.iter().find(hollow).map(|own| own.stated);
        // A coupon of flat stock is cut of the flat member.
        let metal = pipe.or_else(|| metals.iter().find(|metal| metal.outside_diameter.is_none())).or(metals.first());
        let thickness = metal.and_then(|own| own.thickness.as_ref()).and_then(Stated::value);
        let weld = view.weld();
        let position = procedure.positions.first().map_or("PA", |own| own).to_owned();
        let kind = procedure.joint.as_ref().map_or(JointType::Butt, |own| own.kind);
        let upright = positions::get(&position).is_some_and(|row| row.vertical || row.overhead);
        let flat = match (kind, weld) {
            (JointType::Butt, _)
            | (_, Some(WeldType::Surfacing | WeldType::Edge | WeldType::Plug | WeldType::Spot)) => "PA",
            _ => "PB",
        };
        let around = |range: &Range<Length>| {
            let size = range.low().or(range.high())?.mm();
            Some((size * std::f64::consts::PI).ceil())
        };
        let round = pipe.and_then(|metal| metal.outside_diameter.as_ref()).and_then(Stated::value);
        let mixed = metals.windows(2).any(|pair| {
            let of = |metal: &ParentMetal| {
                let own = |stated: &Option<Stated<Range<Length>>>| stated.as_ref().and_then(Stated::value).cloned();
                (own(&metal.thickness), own(&metal.outside_diameter), metal.specification.to_string())
            };
            of(&pair[0]) != of(&pair[1])
        });
        Self {
            name: name(view, kind, weld, pipe.is_some()),
            position,
            // Pipe is laid another way only with its axis, which is the procedure's.
            flat: (upright && pipe.is_none() && weld != Some(WeldType::Surfacing)).then_some(flat),
            tungsten: view.runs.first().and_then(|run| run.process).is_some_and(|row| row.uses_tungsten),
            thickness: thickness.map_or("3 mm".to_owned(), single),
            pipe: round.map(|range| (single(range), around(range))),
            on_one_piece: weld == Some(WeldType::Surfacing),
            remark: if mixed { "  # decide: the members of the procedure differ" } else { "" },
        }
    }

    fn exercises(&self) -> Vec<Exercise> {
        let beads =
            if self.pipe.is_some() { "Straight beads along a piece of pipe" } else { "Straight beads on plate" };
        let mut all = Vec::new();
        if self.tungsten {
            all.push(Exercise {
                more: "    with_filler: no\n",
                good: "Even width",
                ..self.bead("Bead without filler", format!("{beads} without filler"), 8)
            });
        }
        let title = if self.pipe.is_some() { "Beads on pipe" } else { "Beads on plate" };
        all.push(self.bead(title, beads.to_owned(), 10));
        if self.on_one_piece {
            let weld = format!("{} to the procedure: beads side by side that overlap", self.name);
            all.push(Exercise {
                title: "The layer".to_owned(),
                position: self.position.clone(),
                good: "Even height, no gap between beads",
                ..self.bead("", weld, 12)
            });
            return all;
        }
        if let Some(flat) = self.flat {
            all.push(self.joint("The joint, flat", self.name.clone(), flat));
        }
        all.push(self.joint("The joint", format!("{} to the procedure", self.name), &self.position));
        all
    }

    fn bead(&self, title: &str, weld: String, minutes: u32) -> Exercise {
        let coupon = match &self.pipe {
            Some((outside, _)) => format!("outside_diameter: {outside}, thickness: {}, length: 150 mm", self.thickness),
            None => format!("thickness: {}, width: 100 mm, length: 150 mm", self.thickness),
        };
        Exercise {
            title: title.to_owned(),
            weld,
            coupon,
            remark: "",
            length: "150 mm".to_owned(),
            minutes,
            position: "PA".to_owned(),
            more: "",
            good: "Even ripples",
        }
    }

    fn joint(&self, title: &str, weld: String, position: &str) -> Exercise {
        let (coupon, length) = match &self.pipe {
            Some((outside, around)) => (
                format!("outside_diameter: {outside}, thickness: {}, length: 75 mm, pieces: 2", self.thickness),
                around.map_or_else(|| "150 mm".to_owned(), |around| format!("{} mm", figure(around))),
            ),
            None => {
                (format!("thickness: {}, width: 50 mm, length: 150 mm, pieces: 2", self.thickness), "150 mm".to_owned())
            }
        };
        Exercise {
            title: title.to_owned(),
            weld,
            coupon,
            remark: self.remark,
            length,
            minutes: 12,
            position: position.to_owned(),
            more: "",
            good: "Even edges, no undercut",
        }
    }
}

/// An exercise as it is written.
struct Exercise {
    title: String,
    weld: String,
    coupon: String,
    remark: &'static str,
    length: String,
    minutes: u32,
    position: String,
    more: &'static str,
    good: &'static str,
}

impl Exercise {
    fn write(&self, text: &mut String) {
        let Self { title, weld, coupon, remark, length, minutes, position, more, good } = self;
        let _ = write!(
            text,
            "  - title: {title}\n    weld: \"{weld}\"\n    coupon: {{{coupon}}}{remark}\n    count: {COUNT}\n    length: {length}\n    time: {minutes} min\n{more}    position: {position}\n    good: [\"{good}\"]\n"
        );
    }
}

/// The weld as a welder calls it.
fn name(view: &View<'_>, kind: JointType, weld: Option<WeldType>, pipe: bool) -> String {
    let prepared = view.procedure.joint.as_ref().and_then(|joint| joint.preparation.as_ref()).and_then(Stated::value);
    let groove = prepared.map_or_else(|| "groove".to_owned(), |own| format!("{} groove", own.as_str()));
    let name = match (kind, weld) {
        (_, Some(WeldType::Surfacing)) => "surfacing".to_owned(),
        (JointType::Cavity, _) => "filled cavity".to_owned(),
        (_, Some(WeldType::Edge)) => "edge weld".to_owned(),
        (_, Some(WeldType::Plug)) => "plug weld".to_owned(),
        (_, Some(WeldType::Spot)) => "spot weld".to_owned(),
        (JointType::Butt, _) => "butt".to_owned(),
        (kind, Some(WeldType::Fillet)) => format!("{} fillet", kind.as_str()),
        (kind, Some(WeldType::Groove)) => format!("{} joint, {groove}", kind.as_str()),
        (kind, Some(WeldType::GrooveAndFillet)) => format!("{} joint, {groove} with fillet", kind.as_str()),
        (kind, None) => format!("{} joint", kind.as_str()),
    };
    if pipe && name == "butt" { "pipe butt".to_owned() } else { name }
}

/// What the last weld is marked by: the acceptance of the procedure's own visual examination, and measures within it.
fn assessment(text: &mut String, view: &View<'_>, taught: &Taught) {
    let examined = &view.procedure.inspection;
    let visual = examined.iter().find(|own| own.method.to_lowercase().contains("visual"));
    let stated = visual.and_then(|own| own.acceptance.as_deref());
    let usual = if view.metals.first().is_some_and(|metal| metal.family().starts_with("aluminium")) {
        "ISO 10042 level C"
    } else {
        "ISO 5817 level C"
    };
    let acceptance = stated.unwrap_or(usual);
    let decide = if stated.is_some() { "  # of the procedure" } else { "  # decide" };
    let last = if taught.on_one_piece { "The last piece" } else { "The last joint" };
    let _ = write!(
        text,
        "\nassessment:\n  weld: {last} of the last exercise\n  acceptance: \"{}\"{decide}\n  measures:\n",
        quoted(acceptance)
    );
    let mut measure = |what: &str, accepted: &str, with: &str| {
        let _ = writeln!(text, "    - {{what: {what}, accepted: \"{}\", with: {with}}}", quoted(accepted));
    };
    let weld = view.weld();
    let size = view.procedure.weld_size.as_ref().and_then(Stated::value);
    let leg = size.and_then(|size| size.leg.as_ref()).and_then(Stated::value);
    let across = size.and_then(|size| size.diameter.as_ref()).and_then(Stated::value);
    let kind = if weld.is_some_and(WeldType::has_fillet) { "fillet" } else { "butt" };
    let level = iso_5817::level_in(acceptance);
    let thickness_mm = view.metals.first().and_then(|metal| {
        let range = metal.stated.thickness.as_ref()?.value()?;
        Some(range.low().or(range.high())?.mm())
    });
    let limit = |what: &str| match level {
        Some(level) => within(level, what, kind, thickness_mm),
        None => Some(format!("by {acceptance}")).filter(|_| acceptance.len() < 40),
    };
    match (weld, leg, across) {
        (Some(WeldType::Plug | WeldType::Spot), _, Some(across)) => measure("diameter", across.spelled(), "caliper"),
        (_, Some(leg), _) => measure("leg", leg.spelled(), "fillet gauge"),
        (Some(WeldType::Groove), ..) => {
            if let Some(limit) = limit("excess weld metal") {
                measure("excess weld metal", &limit, "weld gauge");
            }
        }
        _ => {}
    }
    if let Some(limit) = limit("undercut") {
        measure("undercut", &limit, "depth gauge");
    } else {
        measure("undercut", acceptance, "depth gauge");
    }
    text.push_str("  retest: yes\n\n");
}

/// The limit of a level of ISO 5817 or ISO 10042 in words, never more than the table allows; of a width, which is measured on
/// the weld, its formula.
fn within(
    level: (iso_5817::Standard, &'static str),
    what: &str,
    weld: &str,
    thickness_mm: Option<f64>,
) -> Option<String> {
    let thickness_mm = thickness_mm?;
    let known = workshop::measured(what, weld).into_iter().next()?;
    let rows = iso_5817::limits(level, known.imperfection, thickness_mm);
    let row = rows.into_iter().find(|row| row.weld.is_none_or(|own| own == weld))?;
    if !row.permitted {
        return Some("none".to_owned());
    }
    let short = if row.short_only { ", short ones only" } else { "" };
    match (row.of, row.times) {
        (Some("t" | "s") | None, _) => Some(format!("{} mm maximum{short}", figure(down(row.limit_mm(thickness_mm)?)))),
        (Some("b"), Some(times)) => {
            let plus = row.plus_mm.map_or_else(String::new, |plus| format!("{} mm + ", figure(plus)));
            let most = row.max_mm.map_or_else(String::new, |most| format!(", at most {} mm", figure(most)));
            Some(format!("{plus}{} x width{most}{short}", figure(times)))
        }
        _ => None,
    }
}

/// A limit in mm as a gauge shows it, never rounded up.
fn down(mm: f64) -> f64 {
    // A product such as 0.1 x 3 is a hair off.
    let at = |steps: f64| whole_down(mm * steps) / steps;
    if mm >= 0.1 { at(10.0) } else { at(100.0) }
}

/// Two faults of the process with their remedies; the handbook's stand beside them on the sheet.
fn faults(text: &mut String, view: &View<'_>) {
    let process = view.runs.first().and_then(|run| run.process);
    let (cause, remedy) = match process {
        Some(row) if row.uses_flux => ("Damp flux or too thin a bed", "Dry the flux and cover the arc"),
        Some(row) if row.uses_shielding_gas => {
            ("Too little gas or a draught", "Set the flow of the procedure and screen the booth")
        }
        _ => ("Damp filler or too long an arc", "Take dry filler and hold the arc short"),
    };
    let _ = writeln!(text, "faults:\n  - {{fault: porosity, cause: {cause}, remedy: {remedy}}}");
    text.push_str("  - {fault: undercut, cause: Too much current or too long an arc, remedy: Lower the current and shorten the arc}\n");
}

/// A length as it is written; of a range its low end.
fn single(range: &Range<Length>) -> String {
    match range.low().or(range.high()).filter(|_| range.single().is_none()) {
        Some(end) => format!("{} mm", figure(end.mm())),
        None => range.spelled().to_owned(),
    }
}
