//! Whether a procedure covers a joint that is to be welded, and what is off by how much where it does not.

use seamwright_calc::band::{Outside, SLACK};
use seamwright_calc::fillet;
use seamwright_handbook::base_metals::BaseMetal;
use seamwright_handbook::measure::{band, figure};
use seamwright_handbook::{Band, find, planning, positions, setting_limits};
use seamwright_model::procedure::{JointType, WeldType};
use seamwright_model::quantity::{Home, Length, Range};
use seamwright_model::stated::Stated;
use seamwright_weld::View;
use seamwright_weld::machines::same_process;

/// A joint that is to be welded; what is nothing is not asked for.
#[derive(Debug, Clone, Default)]
pub struct Wanted {
    /// The metal.
    pub metal: Option<&'static BaseMetal>,
    /// The metal that it is joined to; the same where nothing is said.
    pub to: Option<&'static BaseMetal>,
    /// Thickness, mm.
    pub thickness_mm: Option<f64>,
    /// Outside diameter of pipe, mm.
    pub diameter_mm: Option<f64>,
    /// Kind of joint.
    pub joint: Option<JointType>,
    /// Kind of weld.
    pub weld: Option<WeldType>,
    /// Leg of a fillet.
    pub leg: Option<Range<Length>>,
    /// Detail of AWS D1.1, by its designation.
    pub detail: Option<String>,
    /// Position, by ISO 6947 or AWS.
    pub position: Option<String>,
    /// Process, by number or letters.
    pub process: Option<String>,
}

/// How a procedure stands to a joint.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Everything that is asked for lies within it.
    Covered,
    /// One thing is off that another revision could mend: metal within its family, position, a thickness or diameter within
    /// reach.
    Nearly,
    /// More is off, or joint, weld, process or family of metal differ.
    Not,
}

impl Verdict {
    /// The verdict in words.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Covered => "covered",
            Self::Nearly => "nearly covered",
            Self::Not => "not covered",
        }
    }
}

/// Something that a procedure does not cover.
#[derive(Debug, Clone, PartialEq)]
pub struct Off {
    /// What is off, as the key is called.
    pub what: &'static str,
    /// What is asked for.
    pub asked: String,
    /// What the procedure covers; empty where it states nothing.
    pub covers: String,
    /// How far off it is, mm: less than 0 where the joint lies below the range.
    pub by_mm: Option<f64>,
    /// Whether another revision of the procedure could mend it.
    pub near: bool,
}

/// How a procedure stands to a joint, under that of its conditions that covers most of it.
pub fn cover(view: &View<'_>, wanted: &Wanted) -> (Verdict, Vec<Off>) {
    let each = view.variants().iter().map(|own| covered(&View::new(&own.procedure), wanted));
    each.min_by_key(|(verdict, off)| (*verdict, off.len())).unwrap_or_else(|| covered(view, wanted))
}

/// What is off, and the verdict that follows from it.
fn covered(view: &View<'_>, wanted: &Wanted) -> (Verdict, Vec<Off>) {
    let mut off = Vec::new();
    let mut add = |what, asked: String, covers: String, by_mm, near| {
        off.push(Off { what, asked, covers, by_mm, near });
    };
    if let Some(metal) = wanted.metal {
        let asked = [metal, wanted.to.unwrap_or(metal)];
        let own = view.metals.first().zip(view.metals.last()).map(|(first, last)| [first.known, last.known]);
        let family = |one: &BaseMetal, other: &BaseMetal| one.family == other.family;
        let group = |one: &BaseMetal, other: &BaseMetal| {
            std::ptr::eq(one, other)
                || one.iso_group.is_some() && one.iso_group == other.iso_group && family(one, other)
        };
        if !own.is_some_and(|own| pairs(own, asked, group)) {
            let words = |row: &BaseMetal| match row.iso_group {
                Some(group) => format!("{} (group {group})", row.specification),
                None => row.specification.to_owned(),
            };
            let covers =
                view.metals.iter().map(|own| own.known.map_or_else(|| own.stated.specification.to_string(), words));
            let mut asked_words: Vec<String> = asked.map(words).into();
            asked_words.dedup();
            add(
                "metal",
                asked_words.join(" to "),
                covers.collect::<Vec<_>>().join(" to "),
                None,
                own.is_some_and(|own| pairs(own, asked, family)),
            );
        }
    }
    for (what, asked, ranges) in [
        ("thickness", wanted.thickness_mm, lengths(view, |metal| metal.thickness.as_ref())),
        ("outside diameter", wanted.diameter_mm, lengths(view, |metal| metal.outside_diameter.as_ref())),
    ] {
        let Some(asked) = asked else { continue };
        let by = ranges.iter().map(|range| distance(range, asked)).min_by(|a, b| a.abs().total_cmp(&b.abs()));
        if by != Some(0.0) {
            let mut covers: Vec<String> = ranges.iter().map(ToString::to_string).collect();
            covers.dedup();
            let covers = covers.join(", ");
            add(what, format!("{} mm", figure(asked)), covers, by, by.is_some_and(|by| reachable(asked, by)));
        }
    }
    let joint = view.procedure.joint.as_ref();
    if let Some(asked) = wanted.joint
        && joint.map(|joint| joint.kind) != Some(asked)
    {
        add("joint", asked.to_string(), joint.map(|joint| joint.kind.to_string()).unwrap_or_default(), None, false);
    }
    if let Some(asked) = wanted.weld
        && view.weld() != Some(asked)
    {
        add("weld", asked.to_string(), view.weld().map(|weld| weld.to_string()).unwrap_or_default(), None, false);
    }
    if let Some(asked) = &wanted.detail {
        let own = joint.and_then(|joint| joint.detail.as_deref());
        if !own.is_some_and(|own| find::same(own, asked)) {
            add("detail", asked.clone(), own.unwrap_or_default().to_owned(), None, false);
        }
    }
    if let Some(asked) = &wanted.position {
        let own = view.procedure.positions.iter().chain(view.procedure.runs.iter().flat_map(|run| &run.positions));
        let mut all: Vec<&str> = own.map(|position| &**position).collect();
        all.dedup();
        if !all.iter().any(|own| positions::same(own, asked)) {
            add("position", asked.clone(), all.join(", "), None, !all.is_empty());
        }
    }
    if let Some(asked) = &wanted.process
        && !view.runs.iter().any(|run| same_process(run.number(), asked))
    {
        let mut all: Vec<&str> = view.runs.iter().map(|run| run.number()).collect();
        all.dedup();
        add("process", asked.clone(), all.join(", "), None, false);
    }
    off.extend(wanted.leg.as_ref().and_then(|asked| leg(view, asked)));
    let verdict = match off.as_slice() {
        [] => Verdict::Covered,
        [one] if one.near => Verdict::Nearly,
        _ => Verdict::Not,
    };
    (verdict, off)
}

/// What is off with the leg that a procedure makes; how far follows where it makes a fillet of a stated size.
fn leg(view: &View<'_>, asked: &Range<Length>) -> Option<Off> {
    let off = |covers: String, by_mm: Option<f64>| {
        let near = by_mm.is_some();
        Some(Off { what: "leg", asked: asked.spelled().to_owned(), covers, by_mm, near })
    };
    if let Some(weld) = view.weld().filter(|weld| !weld.has_fillet()) {
        return off(format!("no fillet: its weld is {weld}"), None);
    }
    let size = view.procedure.weld_size.as_ref().and_then(Stated::value);
    let stated = |own: Option<&Stated<Range<Length>>>| own.and_then(Stated::value).cloned();
    let size = size.and_then(|size| match (stated(size.leg.as_ref()), stated(size.throat.as_ref())) {
        (Some(leg), _) => Some((leg, false)),
        (None, throat) => throat.map(|throat| (throat, true)),
    });
    let Some((made, is_throat)) = size else { return off(String::new(), None) };
    let of = |end: Option<Length>| {
        let mm = end?.mm();
        if is_throat { fillet::leg_from_throat_mm(mm).ok() } else { Some(mm) }
    };
    let (low, high) = (of(made.low()).unwrap_or(0.0), of(made.high()).unwrap_or(f64::INFINITY));
    // A fraction of an inch and the whole millimetres that stand for it are one leg, a leg and its throat one fillet.
    let slack = if is_throat {
        setting_limits::get(setting_limits::THROAT_OVER_LEG, "").map_or(EXACT, |row| row.usual)
    } else if (asked.unit().home == Home::Us) == (made.unit().home == Home::Us) {
        EXACT
    } else {
        planning::LEG_IN_THE_OTHER_UNIT.value
    };
    let words = || {
        let tenths = |mm: f64| figure((mm * 10.0).round() / 10.0);
        match (of(made.low()), of(made.high())) {
            _ if !is_throat => made.spelled().to_owned(),
            (Some(low), Some(high)) if low < high => {
                format!("a throat of {}, which is a leg of {}-{} mm", made.spelled(), tenths(low), tenths(high))
            }
            (Some(leg), _) | (None, Some(leg)) => {
                format!("a throat of {}, which is a leg of {} mm", made.spelled(), tenths(leg))
            }
            (None, None) => made.spelled().to_owned(),
        }
    };
    let (least, most) = (asked.low().map_or(0.0, Length::mm), asked.high().map_or(f64::INFINITY, Length::mm));
    if least > high / slack.low {
        off(words(), Some(least - high))
    } else if most < low / slack.high {
        off(words(), Some(most - low))
    } else {
        None
    }
}

/// A ratio of 1, but for the last digit, which a conversion between units may leave off.
const EXACT: Band = Band::new(1.0 - SLACK, 1.0 + SLACK);

/// Whether both sides of a procedure are like both sides of the joint, in either order.
fn pairs(own: [Option<&BaseMetal>; 2], asked: [&BaseMetal; 2], like: impl Fn(&BaseMetal, &BaseMetal) -> bool) -> bool {
    let [Some(first), Some(last)] = own else { return false };
    let [one, other] = asked;
    like(first, one) && like(last, other) || like(first, other) && like(last, one)
}

/// Whether a size (mm) that lies so far (mm) outside a range is one that another revision may reach.
fn reachable(asked: f64, by: f64) -> bool {
    planning::NEAR_SIZE.value.contains(asked / (asked - by))
}

fn lengths<'d>(
    view: &View<'d>,
    of: impl Fn(&'d seamwright_model::procedure::ParentMetal) -> Option<&'d Stated<Range<Length>>>,
) -> Vec<&'d Range<Length>> {
    view.procedure.parent_metals.iter().filter_map(|metal| of(metal)?.value()).collect()
}

/// How far a length (mm) lies outside a range: 0 inside, less than 0 below, more above.
fn distance(range: &Range<Length>, asked: f64) -> f64 {
    let (asked, range) = (Band::at(asked), band(range, Length::mm));
    match asked.outside(range) {
        Outside { below: true, .. } => asked.low - range.low,
        Outside { above: true, .. } => asked.high - range.high,
        _ => 0.0,
    }
}
