//! Designations of the AWS A5 specifications.
//!
//! Each function reads one group of specifications; the clause on classification of each is its source.

use super::filler::{Filler, Form, Shielding, Stop, stop};
use super::reader::Reader;
use super::symbols;
use crate::processes::Polarity;

/// Reads the optional marks at the end: hydrogen `H4`, `H8`, `H16`, and moisture `R`; then the end must come.
fn marks(reader: &mut Reader, filler: &mut Filler) -> Result<(), Stop> {
    if let Some(hydrogen) = reader.symbol(filler.standard, "hydrogen") {
        filler.take(hydrogen);
    }
    if filler.form == Form::CoveredElectrode && reader.eat("R") {
        filler.moisture_resistant = true;
    }
    if reader.at_end() { Ok(()) } else { stop(filler.standard, "an optional mark or the end") }
}

fn polarity(filler: &mut Filler, polarity: &[Polarity]) {
    filler.polarity = polarity.to_vec();
}

/// AWS A5.1 and A5.5, covered electrodes for carbon and low-alloy steel: `E7018-1 H4R`, `E8018-B2`, `E8045-P2`.
pub(super) fn covered(reader: &mut Reader) -> Result<Filler, Stop> {
    const CARBON: &str = "AWS A5.1";
    const LOW_ALLOY: &str = "AWS A5.5";
    let mut filler = reader.begin(CARBON, Form::CoveredElectrode, "E")?;
    let digits = reader.digits();
    let Some((tensile, last)) = digits.len().checked_sub(2).and_then(|at| digits.split_at_checked(at)) else {
        return stop(CARBON, "four or five digits");
    };
    let Some(strength) = symbols::get(CARBON, "tensile", tensile) else {
        return stop(CARBON, "the tensile strength in ksi");
    };
    let military = !reader.at_break() && reader.eat("M");
    let covering = if military { format!("{last}M") } else { last.to_owned() };
    let Some(covering) = symbols::get(CARBON, "covering", &covering) else {
        return stop(CARBON, "a position and a covering that exist");
    };
    let Some(position) = last.get(..1).and_then(|digit| symbols::get(CARBON, "position", digit)) else {
        return stop(CARBON, "the position 1, 2, 3 or 4");
    };
    filler.take(strength);
    filler.take(covering);
    filler.take(position);
    filler.covering = Some(covering.means);
    // Low-hydrogen electrodes of position 1 weld vertically upward only.
    if filler.low_hydrogen == Some(true) && position.symbol == "1" {
        filler.positions.retain(|position| *position != "vertical-down");
    }
    let optional = |reader: &Reader| {
        let rest = reader.rest();
        rest.is_empty()
            || rest == "R"
            || symbols::of(CARBON, "hydrogen").any(|row| rest.trim_end_matches('R') == row.symbol)
    };
    if optional(reader) {
        filler.class = format!("E{digits}{}", if military { "M" } else { "" });
        // Strengths above 70 ksi belong to A5.5, where an alloy symbol or M always follows.
        if !military && strength.symbol != "60" && strength.symbol != "70" {
            return stop(LOW_ALLOY, "an alloy symbol");
        }
    } else {
        let start = reader.read();
        let mut suffix = reader.word(|c| c.is_ascii_alphanumeric());
        // A hydrogen mark may follow without a break: E8018-B2H4R.
        if let Some(at) = suffix.find('H').filter(|at| *at > 0) {
            reader.back_to(start + at);
            suffix.truncate(at);
        }
        if suffix == "1" {
            filler.class = format!("E{digits}-1");
        } else if suffix.starts_with(|c: char| c.is_ascii_alphabetic()) {
            filler.standard = LOW_ALLOY;
            filler.class = format!("E{digits}-{suffix}");
            filler.alloy = Some(suffix);
        } else {
            reader.back_to(start);
            return stop(CARBON, "-1, an alloy symbol or an optional mark");
        }
    }
    if military && filler.alloy.is_none() && strength.symbol != "70" {
        filler.standard = LOW_ALLOY;
        filler.alloy = Some("M".to_owned());
    }
    if filler.alloy.as_deref() == Some("M") {
        filler.class = format!("E{digits}-M");
    }
    marks(reader, &mut filler)?;
    Ok(filler)
}

/// AWS A5.4, covered electrodes for stainless steel: `E308L-16`, `E2209-17`, `E16-8-2-15`.
pub(super) fn stainless_covered(reader: &mut Reader) -> Result<Filler, Stop> {
    const STANDARD: &str = "AWS A5.4";
    let mut filler = Filler::new(STANDARD, Form::CoveredElectrode);
    if !reader.eat("E") || !reader.peek().is_some_and(|c| c.is_ascii_digit()) {
        return stop(STANDARD, "E and the number of the alloy");
    }
    let mut alloy = String::new();
    loop {
        let part = reader.word(|c| c.is_ascii_alphanumeric());
        if part.is_empty() {
            // Not every class that begins with digits is of this specification: nothing is told of where it ends.
            reader.back_to(1);
            return stop(STANDARD, "a covering such as -16");
        }
        let covering = symbols::get(STANDARD, "covering", &part).filter(|_| !alloy.is_empty() && reader.at_end());
        if let Some(covering) = covering {
            // 308L, 2209, 16-8-2: at least three digits in all.
            if alloy.chars().filter(char::is_ascii_digit).count() < 3 {
                return stop(STANDARD, "the number of the alloy");
            }
            filler.take(covering);
            filler.covering = Some(covering.means);
            filler.class = format!("E{alloy}-{part}");
            filler.alloy = Some(alloy);
            return Ok(filler);
        }
        if !alloy.is_empty() {
            alloy.push('-');
        }
        alloy.push_str(&part);
    }
}

/// AWS A5.18 and A5.28, solid and metal cored wires and rods for steel: `ER70S-6`, `E70C-6M`, `ER80S-B2`.
pub(super) fn steel_wire(reader: &mut Reader) -> Result<Filler, Stop> {
    const CARBON: &str = "AWS A5.18";
    const LOW_ALLOY: &str = "AWS A5.28";
    let mut filler = reader.begin(CARBON, Form::RodOrWire, "E")?;
    let rod = reader.eat("R");
    let digits = reader.digits();
    let Some(strength) = symbols::get(CARBON, "tensile", &digits) else {
        return stop(CARBON, "the tensile strength");
    };
    filler.take(strength);
    let kind = if rod && reader.eat("S") {
        'S'
    } else if !rod && reader.eat("C") {
        filler.form = Form::MetalCoredWire;
        'C'
    } else {
        return stop(CARBON, "S for solid or C for metal cored");
    };
    let start = reader.read();
    let mut suffix = reader.word(|c| c.is_ascii_alphanumeric());
    if let Some(at) = suffix.find('H').filter(|at| *at > 0) {
        reader.back_to(start + at);
        suffix.truncate(at);
    }
    if suffix.is_empty() {
        return stop(CARBON, "the chemical composition");
    }
    let class_suffix = suffix.clone();
    if kind == 'C' {
        // The gas letter follows the composition: 6M, 6C; Ni1 and GS have none.
        let gas = suffix.get(suffix.len() - 1..).and_then(|letter| symbols::get(CARBON, "gas", letter));
        if let Some(gas) = gas.filter(|_| suffix.len() > 1) {
            filler.take(gas);
            suffix.pop();
        }
        polarity(&mut filler, &[Polarity::Dcep]);
    }
    let number = suffix.chars().all(|c| c.is_ascii_digit());
    if !number && suffix != "G" && suffix != "GS" || !matches!(digits.as_str(), "70" | "49") {
        filler.standard = LOW_ALLOY;
    }
    filler.class = format!("E{}{digits}{kind}-{class_suffix}", if rod { "R" } else { "" });
    filler.alloy = Some(suffix);
    marks(reader, &mut filler)?;
    Ok(filler)
}

/// AWS A5.20, A5.29 and A5.36, flux cored wires for steel: `E71T-1M-H8`, `E81T1-Ni1M`, `E71T-8`, `E71T1-M21A4-CS1-H8`.
pub(super) fn steel_cored(reader: &mut Reader) -> Result<Filler, Stop> {
    const CARBON: &str = "AWS A5.20";
    const LOW_ALLOY: &str = "AWS A5.29";
    const OPEN: &str = "AWS A5.36";
    let mut filler = reader.begin(CARBON, Form::FluxCoredWire, "E")?;
    let digits = reader.digits();
    let Some((tensile, position)) = digits.len().checked_sub(1).and_then(|at| digits.split_at_checked(at)) else {
        return stop(CARBON, "tensile strength and position");
    };
    let (Some(strength), Some(position)) =
        (symbols::get(CARBON, "tensile", tensile), symbols::get(CARBON, "position", position))
    else {
        return stop(CARBON, "tensile strength and position");
    };
    if !reader.eat("T") {
        return stop(CARBON, "T for tubular");
    }
    filler.take(strength);
    let fixed = reader.at_break();
    let usability = reader.needed(CARBON, "usability", "the usability, such as 1, 8, 11 or GS")?;
    filler.take(usability);
    filler.covering = Some(usability.means);
    filler.positions = position
        .positions
        .iter()
        .filter(|position| !position.starts_with("vertical") || usability.positions.contains(position))
        .copied()
        .collect();
    filler.class = format!("E{digits}T{}{}", if fixed { "-" } else { "" }, usability.symbol);
    if usability.symbol == "15" {
        filler.form = Form::MetalCoredWire;
    }
    let has_gas = |filler: &Filler| matches!(filler.shielding, Some(Shielding::Gas(_)));
    if !reader.at_break()
        && let Some(gas) = reader.symbol(CARBON, "gas")
    {
        filler.take(gas);
        filler.class.push_str(gas.symbol);
        // E71T-1C/M is classified with both gases.
        if reader.eat("/")
            && let Some(other) = reader.symbol(CARBON, "gas")
        {
            filler.shielding = Some(Shielding::Gas(gas.gas.iter().chain(other.gas).copied().collect()));
            filler.class.push('/');
            filler.class.push_str(other.symbol);
        }
    }
    while !reader.at_end() {
        let start = reader.read();
        if reader.symbol(CARBON, "hydrogen").is_some_and(|row| {
            filler.take(row);
            reader.at_end()
        }) {
            break;
        }
        reader.back_to(start);
        let mut part = reader.word(|c| c.is_ascii_alphanumeric());
        // J: better toughness, D and Q: seismic; a hydrogen mark may follow without a break (JH8, NI1MH8).
        if let Some(at) = part.find('H') {
            reader.back_to(start + at);
            part.truncate(at);
        }
        if part.is_empty() {
            return stop(filler.standard, "an optional mark or the end");
        }
        if let Some(plain) = part.strip_suffix(['J', 'D', 'Q'])
            && (plain.is_empty() || !fixed)
        {
            part.truncate(plain.len());
        }
        if part.is_empty() {
            continue;
        }
        if let Some((gas, condition)) = open_gas(&part) {
            filler.standard = OPEN;
            filler.shielding = Some(Shielding::Gas(vec![gas]));
            filler.impact_c = symbols::get("AWS A5.17", "impact", condition).and_then(|row| row.impact_c);
            filler.class.push_str(&format!("-{part}"));
            continue;
        }
        if fixed || filler.alloy.is_some() {
            reader.back_to(start);
            return stop(filler.standard, "an optional mark or the end");
        }
        // A5.29: the alloy and then the gas, Ni1M, B2C, K2M; G alone has none.
        let gas = part.get(part.len() - 1..).and_then(|letter| symbols::get(CARBON, "gas", letter));
        if let Some(gas) = gas.filter(|_| !has_gas(&filler) && part.len() > 1) {
            filler.take(gas);
            part.pop();
        }
        if filler.standard != OPEN {
            filler.standard = LOW_ALLOY;
        }
        let letter = match &filler.shielding {
            Some(Shielding::Gas(gases)) if filler.standard == LOW_ALLOY => {
                if gases.contains(&"C1") {
                    "C"
                } else {
                    "M"
                }
            }
            _ => "",
        };
        filler.class.push_str(&format!("-{part}{letter}"));
        filler.alloy = Some(part);
    }
    Ok(filler)
}

/// Gas and impact symbol of the open classification of A5.36: `M21A4`, `C1A2`.
fn open_gas(part: &str) -> Option<(&'static str, &str)> {
    let gases = crate::shielding_gases::rows().iter().map(|row| row.symbol);
    let gas = gases.filter(|symbol| part.starts_with(symbol)).max_by_key(|symbol| symbol.len())?;
    let impact = part.get(gas.len()..)?.strip_prefix(['A', 'P'])?;
    symbols::get("AWS A5.17", "impact", impact).map(|_| (gas, impact))
}

/// AWS A5.22, flux cored wires and rods for stainless steel: `E308LT1-1/4`, `E2209T1-4`, `R308LT1-5`.
pub(super) fn stainless_cored(reader: &mut Reader) -> Result<Filler, Stop> {
    const STANDARD: &str = "AWS A5.22";
    let mut filler = Filler::new(STANDARD, Form::FluxCoredWire);
    let letter = if reader.eat("E") {
        "E"
    } else if reader.eat("R") {
        "R"
    } else {
        return stop(STANDARD, "E or R");
    };
    let start = reader.read();
    let word = reader.word(|c| c.is_ascii_alphanumeric());
    let Some(at) = word.rfind('T').filter(|at| *at >= 3) else {
        return stop(STANDARD, "the alloy, T and the position");
    };
    let alloy = word.get(..at).unwrap_or_default().to_owned();
    if !alloy.starts_with(|c: char| c.is_ascii_digit()) || alloy.chars().filter(char::is_ascii_digit).count() < 3 {
        return stop(STANDARD, "the number of the alloy");
    }
    reader.back_to(start + at + 1);
    let position = reader.needed(STANDARD, "position", "the position 0 or 1")?;
    filler.take(position);
    let mut gases = Vec::new();
    let mut shown = Vec::new();
    loop {
        let gas = reader.needed(STANDARD, "gas", "the gas 1, 3, 4 or 5")?;
        filler.take(gas);
        gases.extend(gas.gas);
        shown.push(gas.symbol);
        // E308LT1-1/4 and E308LT1-1/-4 are both classes in one.
        if !reader.eat("/") {
            break;
        }
    }
    if !gases.is_empty() {
        filler.shielding = Some(Shielding::Gas(gases));
    }
    if !reader.at_end() {
        return stop(STANDARD, "the end");
    }
    if letter == "R" {
        filler.form = Form::RodOrWire;
    }
    filler.class = format!("{letter}{alloy}T{}-{}", position.symbol, shown.join("/"));
    filler.alloy = Some(alloy);
    Ok(filler)
}

/// AWS A5.17 and A5.23, wire with flux: `F7A2-EM12K`, `F48A3-EM12K`, `F9P2-EB3-B3`.
pub(super) fn wire_and_flux(reader: &mut Reader) -> Result<Filler, Stop> {
    const CARBON: &str = "AWS A5.17";
    const LOW_ALLOY: &str = "AWS A5.23";
    let mut filler = reader.begin(CARBON, Form::WireAndFlux, "F")?;
    // S: crushed slag is part of the flux.
    let slag = reader.eat("S");
    let digits = reader.digits();
    let Some(strength) = symbols::get(CARBON, "tensile", &digits) else {
        return stop(CARBON, "the tensile strength");
    };
    filler.take(strength);
    let condition = if reader.eat("A") {
        "A"
    } else if reader.eat("P") {
        "P"
    } else {
        return stop(CARBON, "A for as welded or P for heat-treated");
    };
    // Metric classes, of two digits from 43 on, give the temperature in tens of degrees Celsius, as ISO does.
    let metric = digits.len() == 2 && !digits.starts_with('1');
    let Some(impact) = reader.symbol(if metric { "ISO 14171-A" } else { CARBON }, "impact") else {
        return stop(CARBON, "the impact temperature");
    };
    filler.impact_c = impact.impact_c;
    if !reader.eat("E") {
        return stop(CARBON, "the electrode, such as EM12K");
    }
    let electrode = reader.word(|c| c.is_ascii_alphanumeric());
    if electrode.is_empty() {
        return stop(CARBON, "the electrode, such as EM12K");
    }
    if !electrode.starts_with(['L', 'M', 'H']) {
        filler.standard = LOW_ALLOY;
    }
    filler.class = format!("F{}{digits}{condition}{}-E{electrode}", if slag { "S" } else { "" }, impact.symbol);
    filler.alloy = Some(format!("E{electrode}"));
    let start = reader.read();
    let deposit = reader.word(|c| c.is_ascii_alphanumeric());
    if deposit.is_empty() || symbols::get(CARBON, "hydrogen", &deposit).is_some() {
        reader.back_to(start);
    } else if filler.standard == LOW_ALLOY {
        filler.class.push_str(&format!("-{deposit}"));
    } else {
        reader.back_to(start);
    }
    marks(reader, &mut filler)?;
    Ok(filler)
}

/// AWS A5.7, A5.9, A5.10, A5.14, A5.15, A5.16, A5.19, A5.21 and A5.24, bare rods and wires: `ER308LSi`, `EC308L`,
/// `ER4043`, `ERNiCr-3`, `ERTi-2`, `ERCuSi-A`, `ERZr2`, `R-A356.0`.
pub(super) fn bare(reader: &mut Reader) -> Result<Filler, Stop> {
    const STANDARD: &str = "AWS A5.9";
    let mut filler = Filler::new(STANDARD, Form::RodOrWire);
    let prefix = ["ER", "EC", "EQ", "R"].into_iter().find(|prefix| reader.eat(prefix));
    let Some(prefix) = prefix else {
        return stop(STANDARD, "ER, EC or R");
    };
    let start = reader.read();
    let mut parts = Vec::new();
    while !reader.at_end() {
        let part = reader.word(|c| c.is_ascii_alphanumeric() || c == '.');
        if part.is_empty() {
            return stop(STANDARD, "letters and digits");
        }
        parts.push(part);
    }
    let alloy = parts.join("-");
    let digits = alloy.chars().take_while(char::is_ascii_digit).count();
    let letters = alloy.get(digits..).unwrap_or_default();
    filler.standard = if digits == 0 {
        let Some(standard) = non_ferrous_standard(&alloy, "AWS A5.14", "AWS A5.7") else {
            reader.back_to(start);
            return stop(STANDARD, "the symbol of the alloy");
        };
        standard
    } else if digits == 4 && letters.chars().all(|c| c.is_ascii_alphabetic()) && is_aluminium(&alloy) {
        "AWS A5.10"
    } else if (3..=4).contains(&digits) && letters.chars().all(|c| c.is_ascii_alphanumeric())
        || alloy.split('-').count() == 3 && alloy.split('-').all(|part| !part.is_empty())
    {
        STANDARD
    } else {
        reader.back_to(start);
        return stop(STANDARD, "the number of the alloy");
    };
    if prefix == "EC" {
        if filler.standard != STANDARD {
            return stop(STANDARD, "the number of a stainless alloy");
        }
        filler.form = Form::MetalCoredWire;
    }
    filler.class = format!("{prefix}{alloy}");
    filler.alloy = Some(alloy);
    Ok(filler)
}

/// Whether a number of four digits is of the Aluminum Association: series 1, 4 and 5, and 2319. The other numbers that
/// begin with 2 are duplex stainless steels (2209, 2307, 2594), of AWS A5.9.
fn is_aluminium(alloy: &str) -> bool {
    alloy.starts_with(['1', '4', '5']) || alloy.starts_with("2319")
}

/// The specification of an alloy that begins with the symbol of its base.
fn non_ferrous_standard(alloy: &str, nickel: &'static str, copper: &'static str) -> Option<&'static str> {
    let cast_iron = alloy.ends_with("-CI") || alloy == "CI" || alloy.starts_with("CI-") || alloy.ends_with("-CIA");
    let by_base = [("NI", nickel), ("CU", copper), ("TI", "AWS A5.16"), ("ZR", "AWS A5.24")];
    if cast_iron {
        return Some("AWS A5.15");
    }
    let own = by_base.into_iter().find(|(base, _)| alloy.starts_with(base)).map(|(_, standard)| standard);
    own.or_else(|| ["AZ", "EZ"].iter().any(|base| alloy.starts_with(base)).then_some("AWS A5.19"))
        .or_else(|| ["CO", "FE", "WC"].iter().any(|base| alloy.starts_with(base)).then_some("AWS A5.21"))
        .or_else(|| {
            // Castings: R-A356.0, R-C355.0, R-206.0.
            let cast = alloy.trim_start_matches(|c: char| c.is_ascii_alphabetic());
            (cast.ends_with(".0") && cast.len() == 5).then_some("AWS A5.10")
        })
}

/// AWS A5.3, A5.6, A5.11 and A5.15, covered electrodes that are not for steel, and the cored wires of A5.15 and A5.34:
/// `ENiCrFe-3`, `ECuNi`, `ENi-CI`, `ENiFeT3-CI`, `ENiCr3T1-4`, `E4043`.
pub(super) fn non_ferrous_covered(reader: &mut Reader) -> Result<Filler, Stop> {
    const STANDARD: &str = "AWS A5.11";
    let mut filler = reader.begin(STANDARD, Form::CoveredElectrode, "E")?;
    let start = reader.read();
    let mut parts = Vec::new();
    while !reader.at_end() {
        let part = reader.word(|c| c.is_ascii_alphanumeric());
        if part.is_empty() {
            return stop(STANDARD, "letters and digits");
        }
        parts.push(part);
    }
    let alloy = parts.join("-");
    let aluminium = alloy.len() == 4 && alloy.chars().all(|c| c.is_ascii_digit()) && is_aluminium(&alloy);
    let base = ["NI", "CU", "ST"].iter().any(|base| alloy.starts_with(base));
    filler.standard = if aluminium {
        "AWS A5.3"
    } else if base && let Some(standard) = non_ferrous_standard(&alloy, STANDARD, "AWS A5.6") {
        standard
    } else {
        reader.back_to(start);
        return stop(STANDARD, "the symbol of the alloy");
    };
    // ISO gives four digits after the symbol of the base; AWS never does.
    if alloy.get(2..6).is_some_and(|number| number.chars().all(|c| c.is_ascii_digit())) {
        reader.back_to(start);
        return stop(STANDARD, "the symbol of the alloy");
    }
    if alloy.contains("T3-CI") {
        filler.form = Form::FluxCoredWire;
        filler.shielding = Some(Shielding::SelfShielded);
    } else if filler.standard == STANDARD && is_cored_nickel(&alloy) {
        filler.standard = "AWS A5.34";
        filler.form = Form::FluxCoredWire;
    }
    polarity(&mut filler, &[Polarity::Dcep]);
    filler.class = format!("E{alloy}");
    filler.alloy = Some(alloy);
    Ok(filler)
}

/// Whether a nickel class is of cored wire: its last part is the T, the position and the gas, as in `NiCr3T1-4`.
fn is_cored_nickel(alloy: &str) -> bool {
    alloy.rsplit_once('T').is_some_and(|(_, rest)| {
        rest.split_once('-').is_some_and(|(position, gas)| {
            [position, gas].iter().all(|part| part.len() == 1 && part.chars().all(|c| c.is_ascii_digit()))
        })
    })
}
