//! Designations of the ISO standards for filler metals.
//!
//! System A goes by yield strength and 47 J impact energy, system B by tensile strength and 27 J. Each function reads one
//! group of standards; the clause on classification of each is its source.

use super::filler::{Filler, Form, Shielding, Stop, stop};
use super::reader::Reader;
use super::symbols;

/// Ends a designation: the optional hydrogen mark, and nothing after it.
fn finish(reader: &mut Reader, mut filler: Filler) -> Result<Filler, Stop> {
    filler.class = reader.since(0);
    if !reader.at_end() {
        if let Some(hydrogen) = reader.symbol(filler.standard, "hydrogen") {
            filler.take(hydrogen);
        }
        if !reader.at_end() {
            return stop(filler.standard, "a hydrogen mark or the end");
        }
    }
    Ok(filler)
}

/// Reads yield strength and impact temperature of system A; the standard for high strength is taken where it fits.
fn yield_and_impact(reader: &mut Reader, filler: &mut Filler, high_strength: Option<&'static str>) -> Result<(), Stop> {
    let Some(digits) = reader.digits_exactly(2) else {
        return stop(filler.standard, "the yield strength");
    };
    let strength = symbols::get(filler.standard, "strength", &digits).or_else(|| {
        let strength = symbols::get(high_strength?, "strength", &digits)?;
        filler.standard = high_strength?;
        Some(strength)
    });
    let Some(strength) = strength else {
        return stop(filler.standard, "the yield strength");
    };
    filler.take(strength);
    impact(reader, filler)
}

/// Reads the impact temperature, one letter or digit: 10 would be the temperature 1, which does not exist.
fn impact(reader: &mut Reader, filler: &mut Filler) -> Result<(), Stop> {
    let impact = reader.peek().and_then(|c| symbols::get(filler.standard, "impact", &c.to_string()));
    let Some(impact) = impact else {
        return stop(filler.standard, "the impact temperature");
    };
    reader.eat(impact.symbol);
    filler.take(impact);
    Ok(())
}

/// Reads the tensile strength of system B.
fn tensile(reader: &mut Reader, filler: &mut Filler) -> Result<(), Stop> {
    let digits = reader.digits_exactly(2);
    let Some(strength) = digits.and_then(|digits| symbols::get(filler.standard, "strength", &digits)) else {
        return stop(filler.standard, "the tensile strength");
    };
    filler.take(strength);
    Ok(())
}

/// Reads covering, recovery and position of a covered electrode of system A.
fn covering(reader: &mut Reader, filler: &mut Filler) -> Result<(), Stop> {
    let covering = reader.needed(filler.standard, "covering", "the covering")?;
    filler.take(covering);
    filler.covering = Some(covering.means);
    for place in ["recovery", "position"] {
        if reader.peek().is_some_and(|c| c.is_ascii_digit()) {
            let symbol = reader.needed(filler.standard, place, "recovery and position")?;
            filler.take(symbol);
        }
    }
    Ok(())
}

/// Reads the gas of a wire: a symbol of ISO 14175, or `C`, `M`, `N` and `NO` as the standard defines them.
///
/// `follows` says what may come after it; a symbol that leaves something else is not taken.
fn gas(reader: &mut Reader, filler: &mut Filler, follows: impl Fn(Option<char>) -> bool) -> bool {
    let start = reader.read();
    if let Some(symbol) = reader.gas()
        && follows(reader.peek())
    {
        filler.shielding = Some(Shielding::Gas(vec![symbol]));
        return true;
    }
    reader.back_to(start);
    if let Some(symbol) = reader.symbol(filler.standard, "gas")
        && follows(reader.peek())
    {
        filler.take(symbol);
        return true;
    }
    reader.back_to(start);
    false
}

/// Reads a symbol of the chemical composition that ends the designation or stands before a mark.
fn composition(reader: &mut Reader, filler: &mut Filler) -> Result<(), Stop> {
    let mut alloy = String::new();
    while !reader.at_end() {
        let start = reader.read();
        if !alloy.is_empty() && reader.symbol(filler.standard, "hydrogen").is_some() && reader.at_end() {
            reader.back_to(start);
            break;
        }
        reader.back_to(start);
        let part = reader.word(|c| c.is_ascii_alphanumeric() || c == '.');
        if part.is_empty() {
            return stop(filler.standard, "the chemical composition");
        }
        alloy.push_str(&part);
    }
    if !alloy.starts_with(|c: char| c.is_ascii_digit() || c.is_ascii_uppercase()) {
        return stop(filler.standard, "the chemical composition");
    }
    filler.alloy = Some(alloy);
    Ok(())
}

/// ISO 2560-A and ISO 18275-A, covered electrodes: `E 42 4 B 42 H5`, `E 46 3 1Ni B 54 H5`, `E 69 5 Mn2NiCrMo B 42 H5`.
pub(super) fn covered(reader: &mut Reader) -> Result<Filler, Stop> {
    let mut filler = reader.begin("ISO 2560-A", Form::CoveredElectrode, "E")?;
    yield_and_impact(reader, &mut filler, Some("ISO 18275-A"))?;
    let start = reader.read();
    if let Some(alloy) = reader.symbol(filler.standard, "alloy") {
        // The covering must follow; else what was read is the covering.
        if reader.peek().is_some_and(|c| c.is_ascii_alphabetic()) {
            filler.alloy = Some(alloy.symbol.to_owned());
        } else {
            reader.back_to(start);
        }
    }
    covering(reader, &mut filler)?;
    finish(reader, filler)
}

/// Reads the symbol of an alloy.
fn alloy(reader: &mut Reader, filler: &mut Filler) -> Result<(), Stop> {
    filler.alloy = Some(reader.needed(filler.standard, "alloy", "the alloy symbol")?.symbol.to_owned());
    Ok(())
}

/// ISO 3580-A, covered electrodes for creep-resisting steel: `E CrMo1 B 42 H5`.
pub(super) fn creep_covered(reader: &mut Reader) -> Result<Filler, Stop> {
    let mut filler = reader.begin("ISO 3580-A", Form::CoveredElectrode, "E")?;
    alloy(reader, &mut filler)?;
    covering(reader, &mut filler)?;
    finish(reader, filler)
}

/// Reads the symbol of a stainless alloy: `19 9 L Si`, `22 9 3 N L`.
fn stainless_alloy(reader: &mut Reader, filler: &mut Filler) -> Result<(), Stop> {
    let alloy = reader.needed(filler.standard, "alloy", "the alloy, such as 19 9 L")?;
    filler.alloy = Some(super::reader::compact(alloy.symbol));
    Ok(())
}

/// ISO 3581-A, covered electrodes for stainless steel: `E 19 9 L R 32`.
pub(super) fn stainless_covered(reader: &mut Reader) -> Result<Filler, Stop> {
    let mut filler = reader.begin("ISO 3581-A", Form::CoveredElectrode, "E")?;
    stainless_alloy(reader, &mut filler)?;
    covering(reader, &mut filler)?;
    finish(reader, filler)
}

/// ISO 2560-B, covered electrodes by tensile strength: `E4918-1 A U H5`, `E5518-N2 A U H5`.
pub(super) fn covered_by_tensile(reader: &mut Reader) -> Result<Filler, Stop> {
    let mut filler = reader.begin("ISO 2560-B", Form::CoveredElectrode, "E")?;
    let (Some(tensile), Some(kind)) = (reader.digits_exactly(2), reader.digits_exactly(2)) else {
        return stop(filler.standard, "tensile strength and covering");
    };
    let (Some(strength), Some(covering)) =
        (symbols::get(filler.standard, "strength", &tensile), symbols::get(filler.standard, "covering", &kind))
    else {
        return stop(filler.standard, "tensile strength and covering");
    };
    filler.take(strength);
    filler.take(covering);
    filler.covering = Some(covering.means);
    // Composition after a hyphen, then the condition A, P or AP, then U for 47 J.
    let start = reader.read();
    let word = if reader.at_break() { reader.word(|c| c.is_ascii_alphanumeric()) } else { String::new() };
    let mark = |word: &str| {
        matches!(word, "A" | "P" | "AP" | "U" | "AU" | "PU" | "APU")
            || symbols::get("ISO 2560-B", "hydrogen", word).is_some()
    };
    if word.is_empty() || mark(&word) {
        reader.back_to(start);
    } else if word != "1" {
        filler.alloy = Some(word);
    }
    filler.class = reader.since(0);
    for condition in ["AP", "A", "P", "U"] {
        reader.eat(condition);
    }
    let class = std::mem::take(&mut filler.class);
    let mut filler = finish(reader, filler)?;
    filler.class = class;
    Ok(filler)
}

/// Whether one digit begins a symbol, as in `3Si1`; two begin the chromium content of a stainless alloy.
fn one_digit(alloy: &str) -> bool {
    alloy.chars().take_while(char::is_ascii_digit).count() == 1
}

/// ISO 14341-A and ISO 16834-A, wires and their deposits: `G 42 4 M21 3Si1`, `G 69 4 M21 Mn3Ni1CrMo`, `G 3Si1`.
pub(super) fn wire(reader: &mut Reader) -> Result<Filler, Stop> {
    let mut filler = reader.begin("ISO 14341-A", Form::RodOrWire, "G")?;
    let start = reader.read();
    let strength = reader.digits_exactly(2).filter(|digits| {
        ["ISO 14341-A", "ISO 16834-A"].iter().any(|standard| symbols::get(standard, "strength", digits).is_some())
    });
    reader.back_to(start);
    if strength.is_some() {
        yield_and_impact(reader, &mut filler, Some("ISO 16834-A"))?;
        let high = filler.standard == "ISO 16834-A";
        let composition = |next: Option<char>| {
            next.is_some_and(|c| c.is_ascii_digit() || c == 'Z' || (high && c.is_ascii_alphabetic()))
        };
        if !gas(reader, &mut filler, composition) {
            return stop(filler.standard, "the gas");
        }
    }
    composition(reader, &mut filler)?;
    let alloy = filler.alloy.as_deref().unwrap_or_default();
    // The wires of ISO 14341-A: a figure, then silicon, molybdenum, nickel, titanium, aluminium or copper.
    let own = alloy.starts_with('Z')
        || (one_digit(alloy) && ["SI", "MO", "NI", "TI", "AL", "CU"].iter().any(|element| alloy.contains(element)));
    if filler.standard == "ISO 14341-A" && !own || alloy.chars().all(|c| c.is_ascii_digit()) {
        return stop(filler.standard, "the chemical composition, such as 3Si1");
    }
    finish(reader, filler)
}

/// ISO 14341-B, wires by tensile strength: `G 49A 3 C1 S6`.
pub(super) fn wire_by_tensile(reader: &mut Reader) -> Result<Filler, Stop> {
    let mut filler = reader.begin("ISO 14341-B", Form::RodOrWire, "G")?;
    tensile(reader, &mut filler)?;
    if !reader.eat("A") && !reader.eat("P") {
        return stop(filler.standard, "A for as welded or P for heat-treated");
    }
    let impact = reader.needed(filler.standard, "impact", "the impact temperature")?;
    filler.take(impact);
    reader.eat("U");
    if !gas(reader, &mut filler, |next| next == Some('S')) {
        return stop(filler.standard, "the gas");
    }
    composition(reader, &mut filler)?;
    finish(reader, filler)
}

/// ISO 636-A, rods: `W 42 5 W3Si1`, `W 3Si1`, `W 2Ti`.
pub(super) fn rod(reader: &mut Reader) -> Result<Filler, Stop> {
    let mut filler = reader.begin("ISO 636-A", Form::RodOrWire, "W")?;
    let start = reader.read();
    if yield_and_impact(reader, &mut filler, None).is_err() {
        reader.back_to(start);
    }
    reader.eat("W");
    composition(reader, &mut filler)?;
    let alloy = filler.alloy.as_deref().unwrap_or_default();
    let own = alloy.starts_with('Z')
        || (one_digit(alloy)
            && (alloy.len() == 1 || ["SI", "MO", "NI", "TI"].iter().any(|element| alloy.contains(element))));
    if !own {
        return stop(filler.standard, "the chemical composition, such as 3Si1");
    }
    finish(reader, filler)
}

/// ISO 21952-A, rods and wires for creep-resisting steel: `W CrMo1Si`, `G CrMo91`.
pub(super) fn creep_wire(reader: &mut Reader) -> Result<Filler, Stop> {
    let mut filler = Filler::new("ISO 21952-A", Form::RodOrWire);
    if !["G", "W", "S"].iter().any(|letter| reader.eat(letter)) {
        return stop(filler.standard, "G, W or S");
    }
    alloy(reader, &mut filler)?;
    finish(reader, filler)
}

/// ISO 14343-A, rods, wires and strips for stainless steel: `G 19 9 L Si`, `W 22 9 3 N L`; a rod may go without letter.
pub(super) fn stainless_wire(reader: &mut Reader) -> Result<Filler, Stop> {
    let mut filler = Filler::new("ISO 14343-A", Form::RodOrWire);
    let _letter = ["G", "W", "P", "S", "B", "L"].iter().any(|letter| reader.eat(letter));
    stainless_alloy(reader, &mut filler)?;
    finish(reader, filler)
}

/// Reads core, gas and position of a cored wire of system A.
fn core(reader: &mut Reader, filler: &mut Filler) -> Result<(), Stop> {
    let core = reader.needed(filler.standard, "core", "the type of core")?;
    filler.take(core);
    filler.covering = Some(core.means);
    if core.symbol == "M" {
        filler.form = Form::MetalCoredWire;
    }
    let gas_next = |next: Option<char>| next.is_none_or(|c| c.is_ascii_digit() || c == 'H');
    if !gas(reader, filler, gas_next) && filler.shielding.is_none() {
        return stop(filler.standard, "the gas");
    }
    if reader.peek().is_some_and(|c| c.is_ascii_digit()) {
        let position = reader.needed(filler.standard, "position", "the position")?;
        filler.take(position);
    }
    Ok(())
}

/// ISO 17632-A and ISO 18276-A, cored wires: `T 46 4 P M21 1 H5`, `T 46 3 1Ni B M21 4 H5`.
pub(super) fn cored(reader: &mut Reader) -> Result<Filler, Stop> {
    let mut filler = reader.begin("ISO 17632-A", Form::FluxCoredWire, "T")?;
    yield_and_impact(reader, &mut filler, Some("ISO 18276-A"))?;
    let start = reader.read();
    if let Some(alloy) = reader.symbol(filler.standard, "alloy") {
        filler.alloy = Some(alloy.symbol.to_owned());
    }
    if let Err(stop) = core(reader, &mut filler) {
        if filler.alloy.take().is_none() {
            return Err(stop);
        }
        // Z may be the alloy or the core.
        reader.back_to(start);
        core(reader, &mut filler)?;
    }
    finish(reader, filler)
}

/// ISO 17634-A, cored wires for creep-resisting steel: `T CrMo1 P M21 2 H5`.
pub(super) fn creep_cored(reader: &mut Reader) -> Result<Filler, Stop> {
    let mut filler = reader.begin("ISO 17634-A", Form::FluxCoredWire, "T")?;
    alloy(reader, &mut filler)?;
    core(reader, &mut filler)?;
    finish(reader, filler)
}

/// ISO 17633-A, cored wires for stainless steel: `T 19 9 L P M21 2`.
pub(super) fn stainless_cored(reader: &mut Reader) -> Result<Filler, Stop> {
    let mut filler = reader.begin("ISO 17633-A", Form::FluxCoredWire, "T")?;
    stainless_alloy(reader, &mut filler)?;
    core(reader, &mut filler)?;
    finish(reader, filler)
}

/// ISO 17632-B, cored wires by tensile strength: `T 49 2 T1-1 C1 A`, `T492T1-1CA-U H5`.
pub(super) fn cored_by_tensile(reader: &mut Reader) -> Result<Filler, Stop> {
    let mut filler = reader.begin("ISO 17632-B", Form::FluxCoredWire, "T")?;
    tensile(reader, &mut filler)?;
    impact(reader, &mut filler)?;
    let usability = reader.needed(filler.standard, "usability", "the usability, such as T1")?;
    filler.take(usability);
    filler.covering = Some(usability.means);
    if usability.symbol == "T15" {
        filler.form = Form::MetalCoredWire;
    }
    let position = reader.needed(filler.standard, "position", "the position 0 or 1")?;
    filler.take(position);
    let condition = |next: Option<char>| matches!(next, Some('A' | 'P'));
    if !gas(reader, &mut filler, condition) {
        return stop(filler.standard, "the gas");
    }
    if !reader.eat("AP") && !reader.eat("A") && !reader.eat("P") {
        return stop(filler.standard, "A for as welded or P for heat-treated");
    }
    let class = reader.since(0);
    let start = reader.read();
    let word = reader.word(|c| c.is_ascii_alphanumeric());
    if word.is_empty() || word == "U" || symbols::get(filler.standard, "hydrogen", &word).is_some() {
        reader.back_to(start);
    } else {
        filler.alloy = Some(word);
    }
    reader.eat("U");
    let mut filler = finish(reader, filler)?;
    filler.class = class;
    Ok(filler)
}

/// ISO 14171-A, wire with flux: `S 38 2 AB S2Si`, and without the flux `S 38 2 S2Si`.
pub(super) fn wire_and_flux(reader: &mut Reader) -> Result<Filler, Stop> {
    // Types of flux of ISO 14174.
    const FLUXES: &[&str] =
        &["MS", "CS", "CG", "CB", "CI", "IB", "ZS", "RS", "AR", "AAS", "AB", "AS", "AF", "FB", "GS"];
    let mut filler = reader.begin("ISO 14171-A", Form::WireAndFlux, "S")?;
    yield_and_impact(reader, &mut filler, None)?;
    let start = reader.read();
    if !FLUXES.iter().any(|flux| reader.eat(flux) && matches!(reader.peek(), Some('S' | 'T'))) {
        reader.back_to(start);
    }
    if !matches!(reader.peek(), Some('S' | 'T')) {
        return stop(filler.standard, "the flux or the wire, such as S2Si");
    }
    composition(reader, &mut filler)?;
    finish(reader, filler)
}

/// Reads four digits and perhaps a letter, and the chemical symbol in parentheses or after a break.
fn number_and_name(reader: &mut Reader, filler: &mut Filler, base: &str) -> Result<(), Stop> {
    let number = reader.digits_exactly(4);
    let suffix = if number.is_some() && !reader.at_break() && reader.peek() != Some('(') {
        reader.word(|c| c.is_ascii_alphabetic())
    } else {
        String::new()
    };
    let bracketed = reader.eat("(");
    let mut name = String::new();
    while !reader.at_end() && reader.peek() != Some(')') {
        let part = reader.word(|c| c.is_ascii_alphanumeric() || c == '.');
        if part.is_empty() {
            return stop(filler.standard, "the chemical symbol");
        }
        name.push_str(&part);
    }
    if bracketed && !reader.eat(")") {
        return stop(filler.standard, ")");
    }
    // Without a number the symbol of the alloy stands alone: AlMg5Cr.
    filler.alloy = match number {
        Some(number) => Some(format!("{base}{number}{suffix}")),
        None if name.is_empty() => return stop(filler.standard, "the number or the symbol of the alloy"),
        None => Some(format!("{base}{name}")),
    };
    Ok(())
}

/// ISO 18273, 18274, 24034 and 24373, bare rods and wires that are not for steel: `S Al 5356 (AlMg5Cr)`, `S Ni 6082`.
pub(super) fn non_ferrous(reader: &mut Reader) -> Result<Filler, Stop> {
    let mut filler = Filler::new("ISO 18273", Form::RodOrWire);
    let letter = ["S", "B"].iter().any(|letter| reader.eat(letter));
    let bases = [("AL", "ISO 18273"), ("NI", "ISO 18274"), ("TI", "ISO 24034"), ("CU", "ISO 24373")];
    let Some((base, standard)) = bases.into_iter().find(|(base, _)| reader.eat(base)) else {
        return stop(filler.standard, "Al, Ni, Ti or Cu");
    };
    filler.standard = standard;
    // Without S, only aluminium is named by its symbol alone: AlMg5Cr.
    if !(letter || base == "AL" || reader.peek().is_some_and(|c| c.is_ascii_digit())) {
        return stop(standard, "the number of the alloy");
    }
    number_and_name(reader, &mut filler, base)?;
    finish(reader, filler)
}

/// ISO 14172, covered electrodes for nickel: `E Ni 6182 (NiCr15Fe6Mn)`.
pub(super) fn nickel_covered(reader: &mut Reader) -> Result<Filler, Stop> {
    let mut filler = Filler::new("ISO 14172", Form::CoveredElectrode);
    if !reader.eat("E") || !reader.eat("NI") || !reader.peek().is_some_and(|c| c.is_ascii_digit()) {
        return stop(filler.standard, "E Ni and the number of the alloy");
    }
    let start = reader.read();
    if reader.digits_exactly(4).is_none() {
        return stop(filler.standard, "the number of the alloy");
    }
    reader.back_to(start);
    number_and_name(reader, &mut filler, "NI")?;
    finish(reader, filler)
}

/// ISO 1071, fillers for cast iron: `E C NiFe-CI 1`, `S C Ni-CI`.
pub(super) fn cast_iron(reader: &mut Reader) -> Result<Filler, Stop> {
    let mut filler = Filler::new("ISO 1071", Form::CoveredElectrode);
    let letter = ["E", "S", "T", "R"].into_iter().find(|letter| reader.eat(letter));
    let Some(letter) = letter else {
        return stop(filler.standard, "E, S, T or R");
    };
    filler.form = match letter {
        "E" => Form::CoveredElectrode,
        "T" => Form::FluxCoredWire,
        _ => Form::RodOrWire,
    };
    reader.eat("C");
    let start = reader.read();
    let mut alloy = reader.word(|c| c.is_ascii_alphanumeric());
    if !(alloy.starts_with("NI") || alloy.starts_with("FE") || alloy.starts_with("ST")) {
        reader.back_to(start);
        return stop(filler.standard, "the alloy, such as NiFe-CI");
    }
    if reader.eat("CI") {
        alloy.push_str("-CI");
    }
    filler.alloy = Some(alloy);
    if reader.peek().is_some_and(|c| c.is_ascii_digit()) {
        reader.digits();
    }
    finish(reader, filler)
}
