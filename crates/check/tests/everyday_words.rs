//! Words as owners write them, in a procedure and in a shop's file: each is understood, or the answer says what to write.

use seamwright_check::check_document;
use seamwright_model::read;

/// A procedure with one value in the place of its own.
fn procedure(key: &str, value: &str) -> String {
    let own = |name: &'static str, usual: &'static str| if name == key { value.to_owned() } else { usual.to_owned() };
    format!(
        "format: 1\ndocument: procedure\nidentification: {{number: P-9, revision: 1, title: T}}\n\
         parent_metals: [{{specification: {metal}, thickness: {thickness}}}]\njoint: {{type: {joint}, weld: fillet}}\n\
         weld_size: {size}\npositions: [{position}]\nfillers: {{wire: {{designation: {filler}, diameter: {diameter}}}}}\n\
         processes:\n  {process}:\n    polarity: {polarity}\n    filler: wire\n    shielding_gas: {gas}\n\
         runs:\n  - {{run: 1, layer: single, process: {process}, current: {current}, voltage: {voltage}, travel_speed: {speed}}}\n",
        metal = own("metal", "S355J2"),
        thickness = own("thickness", "8 mm"),
        joint = own("joint", "tee"),
        size = own("size", "{leg: 6 mm}"),
        position = own("position", "PB"),
        filler = own("filler", "ER70S-6"),
        diameter = own("diameter", "1.2 mm"),
        process = own("process", "135"),
        polarity = own("polarity", "DCEP"),
        gas = own("gas", "{designation: M21, flow: 15-18 L/min}"),
        current = own("current", "240-260 A"),
        voltage = own("voltage", "26-28 V"),
        speed = own("speed", "350-450 mm/min"),
    )
}

/// A shop with one value in the place of its own.
fn shop(key: &str, value: &str) -> String {
    let own = |name: &'static str, usual: &'static str| if name == key { value.to_owned() } else { usual.to_owned() };
    format!(
        "format: 1\ndocument: shop\nidentification: {{number: S-1, revision: 1, title: T}}\n\
         power_sources:\n  - {{name: bay, processes: [{process}], current: 30-350 A, rated_points: [{{current: 250 A, duty_cycle: {duty}}}]}}\n\
         stock:\n  fillers: [{{designation: {filler}, diameter: 1.2 mm, {package}}}]\n  nozzles: [{nozzle}]\n  \
         gas_cylinders:\n    - {{designation: {gas}, contents: {contents}, count: 1}}\n\
         rates:\n  currency: USD\n  labour: {labour}\n  filler: {price}\n  gas: {gas_price}\n  rental: {rental}\n  {overhead}\n  least_charge: {least}\n\
         times: {{{times}}}\nworking: {{hours: {hours}, shifts: 1, days: 5}}\n",
        process = own("process", "135"),
        duty = own("duty", "60 %"),
        filler = own("filler", "ER70S-6"),
        package = own("package", "package: 33 lb, packages: 2"),
        nozzle = own("nozzle", "{nozzle: No. 7, count: 2}"),
        gas = own("gas", "C25"),
        contents = own("contents", "330 ft3"),
        labour = own("labour", "65 per h"),
        price = own("price", "{other: 4 per kg}"),
        gas_price = own("gas price", "{other: 0.02 per L}"),
        rental = own("rental", "{other: 9 per month}"),
        overhead = own("overhead", "overhead: 30 %"),
        least = own("least", "90 per job"),
        times = own("times", "set_up: 30 min per job"),
        hours = own("hours", "8 h"),
    )
}

/// What is said of a file beyond what is said of the same file with its usual value.
fn said(text: &str, usual: &str) -> Vec<String> {
    let all = |text: &str| -> Vec<String> {
        let reading = read("words.yaml", text.as_bytes());
        let faults =
            reading.faults.iter().map(|own| format!("{} => {}", own.message, own.hint.as_deref().unwrap_or("")));
        let mut all: Vec<String> = faults.collect();
        if let (true, Some(document)) = (all.is_empty(), &reading.document) {
            let found = check_document(document).findings;
            all.extend(found.iter().map(|own| format!("{} => {}", own.check, own.hint.as_deref().unwrap_or(""))));
        }
        all
    };
    let before = all(usual);
    all(text).into_iter().filter(|own| !before.contains(own)).collect()
}

/// Understood as it stands: nothing is said.
const READ: &str = "";

#[test]
fn words_of_a_procedure_are_understood_or_put_right() {
    for (key, value, says) in [
        ("gas", "75/25", "write `shielding_gas: {designation: 75/25}`"),
        ("gas", "argon", "write `shielding_gas: {designation: argon}`"),
        ("gas", "{designation: 75/25, flow: 15 L/min}", READ),
        ("gas", "{designation: C25, flow: 35 CFH}", READ),
        ("process", "MIG", READ),
        ("process", "GMAW", READ),
        ("process", "MAG", READ),
        ("process", "flux core", "write `136`, or `114` where the wire shields itself"),
        ("process", "flux-core", "write `136`, or `114` where the wire shields itself"),
        ("process", "sub arc", "write `121`"),
        ("position", "flat", "write `PA`"),
        ("position", "horizontal", "write `PB`"),
        ("position", "vertical up", "write `PF`"),
        ("position", "vertical down", "write `PG`"),
        ("position", "overhead", "write `PD`"),
        ("position", "2F", READ),
        ("polarity", "DCRP", "polarity-taken => write `DCEP`"),
        ("polarity", "DC+", "polarity-taken => write `DCEP`"),
        ("polarity", "+", "polarity-taken => write `DCEP`"),
        ("polarity", "DCSP", "polarity-taken => write `DCEN`"),
        ("polarity", "\"-\"", "polarity-taken => write `DCEN`"),
        ("polarity", "DCE", "write one of: DCEN, DCEP, AC"),
        ("joint", "T", "write `tee`"),
        ("joint", "t-joint", "write `tee`"),
        ("joint", "fillet", "write `tee`"),
        ("joint", "lap joint", "write `lap`"),
        ("size", "6 mm", "write `weld_size: {leg: 6 mm}`"),
        ("size", "1/4\"", "write `weld_size: {leg: 1/4\"}`"),
        ("size", "{size: 6 mm}", "did you mean `leg`?"),
        ("size", "{leg: 1/4}", "write `1/4 in`"),
        ("diameter", ".045 in", READ),
        ("diameter", ".045", "write `.045 in`"),
        ("diameter", "1,2 mm", "write `1.2 mm`"),
        ("filler", "ER70S6", READ),
        ("filler", "70S-6", "the nearest classes are ER70S-6"),
        ("metal", "mild steel", "write the specification and grade"),
        ("thickness", "5/16\"", READ),
        ("thickness", "16 ga", "`seamwright table sheet-gauges` lists gauges"),
        ("current", "240-260", "write `240-260 A`"),
        ("current", "240-260 amps", READ),
        ("current", "max 250 A", "write `250 A maximum`"),
        ("voltage", "27", "write `27 V`"),
        ("speed", "1.2 ft/min", "1 ft/min is 12 in/min"),
        ("speed", "14-18 ipm", READ),
    ] {
        let found = said(&procedure(key, value), &procedure("", "")).join("\n");
        assert!(if says == READ { found.is_empty() } else { found.contains(says) }, "{key}: {value}: {found}");
    }
}

#[test]
fn words_of_a_shop_are_understood_or_put_right() {
    for (key, value, says) in [
        ("gas", "argon", READ),
        ("gas", "Ar", READ),
        ("gas", "75/25", READ),
        ("gas", "straight CO2", READ),
        ("gas", "blue bottle", "name-unknown => write its symbol, such as M21, or its mixture"),
        ("contents", "330 cubic feet", READ),
        ("contents", "330 CF", READ),
        ("contents", "size 300", "write what a full one holds, as its label says"),
        ("contents", "#300", "a `#` after a space begins a remark"),
        ("nozzle", "{nozzle: \"#7\", count: 2}", READ),
        ("nozzle", "{nozzle: 7, count: 2}", READ),
        ("nozzle", "{nozzle: #7, count: 2}", "a `#` after a space begins a remark"),
        ("nozzle", "{cup: 7}", "did you mean `nozzle`?"),
        ("package", "package: 33#, packages: 2", READ),
        ("package", "spools: 2", "did you mean `packages`?"),
        ("package", "weight: 66 lb", "did you mean `mass`?"),
        ("package", "package: 15 kilos", "write `kg`"),
        ("process", "MIG", READ),
        ("process", "flux core", READ),
        ("process", "stick", READ),
        ("process", "arc", "name-unknown => "),
        ("duty", "60", "write `60 %`"),
        ("labour", "65", "write `65 per h`"),
        ("labour", "$65/hr", READ),
        ("labour", "65 per man hour", READ),
        ("labour", "65 USD per h", "write `65 per h`"),
        ("price", "{ER70S-6: 62 per spool}", READ),
        ("price", "3 per lb", "write `filler: {other: 3 per lb}`"),
        ("gas price", "{75/25: .18 per cu ft}", READ),
        ("gas price", "{C25: 85 per bottle}", READ),
        ("gas price", "{C25: 20 per 100 cf}", "write the price of one: `0.2 per ft3`"),
        ("rental", "9 per month", "write `rental: {other: 9 per month}`"),
        ("overhead", "overhead: 30", "write `30 %`"),
        ("overhead", "overhead: 0.3", "write `30 %`"),
        ("overhead", "overhead: 12 per hour", "write `overhead_per_hour: 12 per hour`"),
        ("overhead", "markup: 15 %", "did you mean `mark_up`?"),
        ("least", "$90", "write `90 per job`"),
        ("times", "set_up: 30 min", "write `30 min per job`"),
        ("times", "fit_up: 5 min each", READ),
        ("times", "cleaning: 1 min/ft", READ),
        ("hours", "8", "write `8 h`"),
    ] {
        let found = said(&shop(key, value), &shop("", "")).join("\n");
        assert!(if says == READ { found.is_empty() } else { found.contains(says) }, "{key}: {value}: {found}");
    }
}
