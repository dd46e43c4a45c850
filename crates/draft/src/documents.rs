//! The draft of a shop to fill in.

use seamwright_handbook::processes;

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
