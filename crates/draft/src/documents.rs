//! Drafts of the other documents: a lesson that teaches a procedure, and a shop to fill in.

use seamwright_handbook::measure::figure;
use seamwright_handbook::{positions, processes};
use seamwright_model::procedure::{JointType, Procedure};
use seamwright_model::quantity::{Length, Range};
use seamwright_model::stated::Stated;

/// A lesson that teaches a procedure, as commented YAML: exercises from beads on plate to its joint, with coupons of its metal.
pub fn lesson(procedure: &Procedure, file: &str, learners: u32, booths: u32) -> String {
    let metal = procedure.parent_metals.first();
    let thickness = metal.and_then(|own| own.thickness.as_ref()).and_then(Stated::value);
    let thick = thickness.map_or("3 mm".to_owned(), single);
    let joint = procedure.joint.as_ref().map_or(JointType::Butt, |own| own.kind);
    let process = procedure.processes.iter().next().map_or("", |(name, _)| name);
    let position = procedure.positions.first().map_or("PA", |own| own);
    let rod = processes::get(process).is_some_and(|row| row.uses_tungsten);
    let weld = if joint == JointType::Butt { "butt" } else { joint.as_str() };
    let fillet = if joint == JointType::Butt { "" } else { " fillet" };
    let vertical = positions::get(position).is_some_and(|row| row.vertical || row.overhead);
    let turns = learners.div_ceil(booths.max(1));
    let mut text = format!(
        "# A lesson to begin with; `decide` stands where the instructor must. Times, lengths and coupons are practice of the trade.\n\
         format: 1\ndocument: lesson\n\nidentification:\n  number: LESSON  # decide: number\n  revision: 1\n  title: \"{weld}{fillet} with {process}: {}\"\n  status: draft\n\n\
         procedure: {file}\nlearners: {learners}\nbooths: {booths}  # {turns} at a booth, one after the other\nduration: 3 h  # decide\nwithout_welding: 40 min  # safety, demonstration, questions: decide\n\n",
        quoted(&procedure.identification.title),
    );
    text.push_str(&format!(
        "objectives:\n  - Hold arc length and travel speed steady\n  - Weld a {weld}{fillet} in {position} to the procedure\n  - Tell a sound weld from a faulty one by eye\n\nexercises:\n"
    ));
    if rod {
        text.push_str(&exercise(
            "Bead without filler",
            "Straight beads on plate without filler",
            &thick,
            "100 mm",
            1,
            8,
            "PA",
            "    with_filler: no\n",
            "Even width",
        ));
    }
    text.push_str(&exercise(
        "Beads on plate",
        "Straight beads on plate",
        &thick,
        "100 mm",
        1,
        10,
        "PA",
        "",
        "Even ripples",
    ));
    let flat = if joint == JointType::Butt { "PA" } else { "PB" };
    if vertical {
        text.push_str(&exercise(
            "The joint, flat",
            &format!("{weld}{fillet}"),
            &thick,
            "50 mm",
            2,
            12,
            flat,
            "",
            "Even edges, no undercut",
        ));
    }
    text.push_str(&exercise(
        "The joint",
        &format!("{weld}{fillet} to the procedure"),
        &thick,
        "50 mm",
        2,
        12,
        position,
        "",
        "Even edges, no undercut",
    ));
    text.push_str("\nassessment:\n  weld: The last joint of the last exercise\n  acceptance: ISO 5817 level C  # decide\n  measures:\n");
    let leg =
        procedure.weld_size.as_ref().and_then(Stated::value).and_then(|size| size.leg.as_ref()).and_then(Stated::value);
    match leg {
        Some(leg) => {
            text.push_str(&format!("    - {{what: leg, accepted: {}, with: fillet gauge}}\n", quoted(leg.spelled())));
        }
        None => text.push_str("    - {what: excess weld metal, accepted: 3 mm maximum, with: weld gauge}\n"),
    }
    let undercut = thickness.and_then(Range::low).map_or(0.5, |own| (0.1 * own.mm()).clamp(0.1, 0.5));
    text.push_str(&format!(
        "    - {{what: undercut, accepted: {} mm maximum, with: depth gauge}}\n  retest: yes\n\n",
        figure((undercut * 10.0).round() / 10.0)
    ));
    text.push_str("faults:\n  - {fault: porosity, cause: Too little gas or a draught, remedy: Set the flow of the procedure and screen the booth}\n");
    text.push_str("  - {fault: undercut, cause: Too much current or too long an arc, remedy: Lower the current and shorten the arc}\n\npractice_loss: 20 %\n");
    text
}

#[expect(clippy::too_many_arguments, reason = "one line of the page")]
fn exercise(
    title: &str,
    weld: &str,
    thick: &str,
    width: &str,
    pieces: u32,
    minutes: u32,
    position: &str,
    more: &str,
    good: &str,
) -> String {
    let pieces = if pieces > 1 { format!(", pieces: {pieces}") } else { String::new() };
    format!(
        "  - title: {title}\n    weld: {weld}\n    coupon: {{thickness: {thick}, width: {width}, length: 150 mm{pieces}}}\n    count: 2\n    length: 150 mm\n    time: {minutes} min\n{more}    position: {position}\n    good: [\"{good}\"]\n"
    )
}

/// The low end of a range of thickness, as it is written.
fn single(range: &Range<Length>) -> String {
    match (range.low(), range.high()) {
        (Some(low), Some(high)) if (low.mm() - high.mm()).abs() > f64::EPSILON => format!("{} mm", figure(low.mm())),
        _ => range.spelled().to_owned(),
    }
}

pub(crate) fn quoted(text: &str) -> String {
    text.replace('"', "'")
}

/// Figures of a shop that is asked for.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShopAnswers {
    /// Name of the shop.
    pub name: String,
    /// Name of a machine.
    pub machine: String,
    /// Its processes, with commas.
    pub processes: String,
    /// Its range of current, such as `10-200 A`.
    pub current: String,
    /// Its duty cycle at a current, such as `160 A at 60 %`.
    pub duty: String,
    /// A torch: name and size.
    pub torch: String,
    /// Fillers in stock, with semicolons, such as `ER70S-2 1.6 mm 5 kg`.
    pub fillers: String,
    /// Currency and rate of labour, such as `48 EUR`.
    pub labour: String,
}

impl Default for ShopAnswers {
    fn default() -> Self {
        let own = |text: &str| text.to_owned();
        Self {
            name: own("Workshop"),
            machine: own("first machine"),
            processes: own("111, 141"),
            current: own("10-160 A"),
            duty: own("160 A at 30 %"),
            torch: own("bench torch 17"),
            fillers: own("ER70S-2 1.6 mm 5 kg; E7018 3.2 mm 10 kg"),
            labour: own("48 EUR"),
        }
    }
}

/// A shop to fill in, as commented YAML.
pub fn shop_file(own: &ShopAnswers) -> String {
    let name = quoted(&own.name);
    let processes: Vec<&str> = own.processes.split(',').map(str::trim).filter(|word| !word.is_empty()).collect();
    let (amperes, share) = own.duty.split_once(" at ").unwrap_or((&own.duty, "60 %"));
    // The share may stand first, as some plates have it.
    let (amperes, share) = if amperes.contains('%') { (share, amperes) } else { (amperes, share) };
    let (torch, size) = own.torch.rsplit_once(' ').unwrap_or((&own.torch, "17"));
    let sign = [('$', "USD"), ('\u{a3}', "GBP")].into_iter().find(|(sign, _)| own.labour.contains(*sign));
    let plain = own.labour.trim_matches(['$', '\u{20ac}', '\u{a3}', ' ']);
    let (rate, currency) = plain.split_once(' ').unwrap_or((plain, sign.map_or("EUR", |(_, currency)| currency)));
    let tungsten = processes.iter().filter_map(|word| processes::get(word)).any(|row| row.uses_tungsten);
    let mut text = format!(
        "# A shop to fill in: what is asked for stands here as answered, `decide` where the figures of the plates and lists go.\n\
         format: 1\ndocument: shop\n\nidentification:\n  number: S-01\n  revision: 1\n  title: \"{name}\"\n\n\
         power_sources:\n  - name: \"{}\"\n    processes: [{}]\n    current: {}\n    polarity: [DCEN, DCEP]  # decide: add AC where the machine gives it\n    rated_points:  # decide: every point of the rating plate\n      - {{current: {}, duty_cycle: {}}}\n    arc_start: [lift]  # decide: scratch, lift, high-frequency\n    gas_solenoid: yes  # decide\n\n",
        quoted(&own.machine),
        processes.join(", "),
        own.current,
        amperes.trim(),
        share.trim(),
    );
    if tungsten {
        text.push_str(&format!(
            "torches:\n  - {{name: \"{}\", size: {}, cooling: gas}}  # decide: cooling, valve, switch\n\n",
            quoted(torch),
            size
        ));
    }
    text.push_str("stock:\n  fillers:\n");
    for filler in own.fillers.split(';').map(str::trim).filter(|own| !own.is_empty()) {
        let words: Vec<&str> = filler.split_whitespace().collect();
        let [class, rest @ ..] = words.as_slice() else { continue };
        let measure = |at: usize| rest.get(at..at + 2).map(|pair| pair.join(" "));
        let diameter = measure(0).map_or(String::new(), |own| format!(", diameter: {own}"));
        let mass = measure(2).map_or(String::new(), |own| format!(", mass: {own}"));
        text.push_str(&format!("    - {{designation: {class}{diameter}{mass}}}\n"));
    }
    text.push_str(&format!(
        "  # gas_cylinders, tungstens, nozzles and metals go here too\n\nrates:\n  currency: {}\n  labour: {} per h\n  filler: {{other: 12 per kg}}  # decide: by class\n  electricity: 0.30 per kWh  # decide\n",
        currency.trim(),
        rate.trim()
    ));
    text
}
