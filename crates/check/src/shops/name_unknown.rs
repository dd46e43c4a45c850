//! `name-unknown`: explanation, cases, logic.

use seamwright_handbook::measure::figure;
use seamwright_handbook::{base_metals, filler_classes, positions, processes, shielding_gases, tungsten_types};
use seamwright_model::finding::Severity;
use seamwright_model::shop::Shop;
use seamwright_model::source::escape;
use seamwright_model::stated::Composition;
use seamwright_weld::{machines, stock};

use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<Shop> = Rule {
    name: "name-unknown",
    harm: Harm::Instruction,
    finds: "A filler, gas, tungsten, metal, process, position or price of a shop whose name the handbook does not know.",
    matters: "What is on the shelf is not found, a price is not used, a welder counts for nothing, and nobody is told.",
    remedy: "Write the classification, or a name that the handbook knows: ER70S-6, E7018, argon, C25, WLa15, S355J2, 141, PB.",
    limit: "Names of the handbook's tables; case, spaces and hyphens do not count.",
    tables: &[
        "base-metals",
        "filler-classes",
        "gas-names",
        "positions",
        "processes",
        "shielding-gases",
        "tungsten-types",
    ],
    examine,
    faulty: &[
        Case { base: "shop/shop", edits: &[("/stock/fillers/0/designation", "mig wire")] },
        Case {
            base: "shop/shop",
            edits: &[("/stock/gas_cylinders/0", "{designation: blue bottle, contents: 125 ft3}")],
        },
        Case {
            base: "shop/shop",
            edits: &[("/stock/gas_cylinders/0", "{composition: {Ar: 75, CO2: 35}, contents: 125 ft3}")],
        },
        Case {
            base: "shop/shop",
            edits: &[("/stock/gas_cylinders/0", "{composition: {argonne: 75, CO2: 25}, contents: 125 ft3}")],
        },
        Case { base: "shop/shop", edits: &[("/rates/gas", "{stargon 9: 0.10 per ft3}")] },
        Case { base: "shop/shop", edits: &[("/rates/filler", "{ER7OS6: 2 per lb}")] },
        Case { base: "shop/shop", edits: &[("/power_sources/0/processes", "[arc]")] },
        Case { base: "shop/shop", edits: &[("/welders/0/tests/0/positions", "[upside]")] },
        Case { base: "shop/shop", edits: &[("/stock/nozzles/0/nozzle", "large")] },
    ],
    sound: &[
        Case { base: "shop/shop", edits: &[] },
        Case {
            base: "shop/shop",
            edits: &[("/stock/gas_cylinders/0", "{designation: C25, contents: 125 cubic feet}")],
        },
        Case { base: "shop/shop", edits: &[("/stock/gas_cylinders/0", "{designation: argon, contents: 80 cu ft}")] },
        Case {
            base: "shop/shop",
            edits: &[("/stock/gas_cylinders/0", "{composition: {argon: 75 %, CO2: 25 %}, contents: 125 ft3}")],
        },
        Case {
            base: "shop/shop",
            edits: &[("/rates/gas", "{75/25: 0.12 per cubic foot, argon: 95 per bottle, other: 1 per m3}")],
        },
        Case {
            base: "shop/shop",
            edits: &[("/rates/filler", "{135: 2 per lb, ER70S-6: 58 per spool, other: 3 per pound}")],
        },
        Case { base: "shop/shop", edits: &[("/stock/nozzles/0/nozzle", "\"#7\"")] },
        Case { base: "shop/shop", edits: &[("/power_sources/0/processes", "[SMAW, GTAW]")] },
        Case { base: "shop/shop", edits: &[("/power_sources/0/processes", "[stick, TIG, MIG, flux core]")] },
        Case { base: "shop/shop", edits: &[("/stock/tungstens/0/designation", "2% lanthanated")] },
    ],
};

fn examine(x: &mut Examiner<'_, Shop>) {
    let shop = x.view;
    let mut names: Vec<(String, &str, &str, bool, Vec<&str>)> = Vec::new();
    let mut mixtures: Vec<(String, &Composition)> = Vec::new();
    let mut name = |pointer: String, what: &'static str, name, known: bool, near: Vec<&'static str>| {
        names.push((pointer, what, name, known, near));
    };
    let process = |word: &str| !machines::processes_of(word).is_empty();
    let filler = |word: &str| filler_classes::find(word).is_some();
    let gas = |word: &str| shielding_gases::get(word).is_some();
    for (i, machine) in shop.power_sources.iter().enumerate() {
        for (j, word) in machine.processes.iter().enumerate() {
            name(format!("/power_sources/{i}/processes/{j}"), "process", word, process(word), processes::nearest(word));
        }
    }
    for (i, torch) in shop.torches.iter().enumerate() {
        for (j, word) in torch.processes.iter().enumerate() {
            name(format!("/torches/{i}/processes/{j}"), "process", word, process(word), processes::nearest(word));
        }
    }
    for (i, regulator) in shop.regulators.iter().enumerate() {
        for (j, word) in regulator.gases.iter().enumerate() {
            name(format!("/regulators/{i}/gases/{j}"), "gas", word, gas(word), shielding_gases::nearest(word));
        }
    }
    if let Some(shelf) = &shop.stock {
        for (i, own) in shelf.tungstens.iter().enumerate() {
            let word = &own.designation;
            let known = tungsten_types::get(word).is_some();
            name(format!("/stock/tungstens/{i}/designation"), "tungsten", word, known, tungsten_types::nearest(word));
        }
        for (i, own) in shelf.fillers.iter().enumerate() {
            let word = &own.designation;
            name(
                format!("/stock/fillers/{i}/designation"),
                "filler",
                word,
                filler(word),
                filler_classes::nearest(word),
            );
        }
        for (i, own) in shelf.gas_cylinders.iter().enumerate() {
            if let Some(parts) = &own.composition {
                mixtures.push((format!("/stock/gas_cylinders/{i}/composition"), parts));
                continue;
            }
            let Some(word) = own.designation.as_deref() else { continue };
            name(
                format!("/stock/gas_cylinders/{i}/designation"),
                "gas",
                word,
                gas(word),
                shielding_gases::nearest(word),
            );
        }
        for (i, own) in shelf.nozzles.iter().enumerate() {
            let known = own.nozzle.bytes().any(|byte| byte.is_ascii_digit());
            name(format!("/stock/nozzles/{i}/nozzle"), "nozzle", &own.nozzle, known, vec!["No. 7"]);
        }
        for (i, own) in shelf.metals.iter().enumerate() {
            let word = &own.specification;
            let known = base_metals::find(word).is_some();
            name(format!("/stock/metals/{i}/specification"), "metal", word, known, base_metals::nearest(word));
        }
    }
    if let Some(rates) = &shop.rates {
        for (key, list) in [("gas", &rates.gas), ("rental", &rates.rental)] {
            for (word, _) in list.iter().filter(|(word, _)| *word != "other") {
                // A price may go by the name that a bottle of the stock has.
                let stocked = shop.stock.iter().flat_map(|shelf| &shelf.gas_cylinders);
                let known = gas(word)
                    || stocked.filter_map(|own| own.designation.as_deref()).any(|own| stock::same_gas_word(own, word));
                name(format!("/rates/{key}/{}", escape(word)), "gas", word, known, shielding_gases::nearest(word));
            }
        }
        for (word, _) in rates.filler.iter().filter(|(word, _)| *word != "other") {
            let pointer = format!("/rates/filler/{}", escape(word));
            name(pointer, "filler", word, filler(word) || process(word), filler_classes::nearest(word));
        }
    }
    for (word, _) in shop.times.iter().flat_map(|times| times.arc_on.iter()) {
        let pointer = format!("/times/arc_on/{}", escape(word));
        name(pointer, "process", word, process(word), processes::nearest(word));
    }
    for (i, welder) in shop.welders.iter().enumerate() {
        for (j, test) in welder.tests.iter().enumerate() {
            let at = format!("/welders/{i}/tests/{j}");
            name(
                format!("{at}/process"),
                "process",
                &test.process,
                process(&test.process),
                processes::nearest(&test.process),
            );
            for (k, word) in test.positions.iter().enumerate() {
                let known = positions::get(word).is_some();
                name(format!("{at}/positions/{k}"), "position", word, known, positions::nearest(word));
            }
            if let Some(word) = test.filler.as_deref() {
                name(format!("{at}/filler"), "filler", word, filler(word), filler_classes::nearest(word));
            }
            if let Some(word) = test.metal.as_deref() {
                let known = base_metals::find(word).is_some();
                name(format!("{at}/metal"), "metal", word, known, base_metals::nearest(word));
            }
        }
    }
    for (pointer, parts) in mixtures {
        x.examined(&pointer);
        let words = parts.iter().map(|(name, percent)| format!("{name} {percent}")).collect::<Vec<_>>().join(", ");
        let sum: f64 = parts.iter().map(|(_, percent)| percent).sum();
        // The gases of ISO 14175; less than one in a hundred of another makes no other gas of it.
        let known = |name: &str| ["Ar", "He", "CO2", "O2", "H2", "N2"].contains(&name);
        let message = if parts.iter().any(|(name, percent)| percent >= 1.0 && !known(name)) {
            format!("the handbook knows no gas of {words}: it is not used")
        } else if (sum - 100.0).abs() > 1.0 {
            format!("the shares of {words} add up to {} %", figure(sum))
        } else {
            continue;
        };
        x.report(Severity::Caution, pointer, message)
            .stated(words)
            .hint("write the share of each gas by its sign, such as {Ar: 75, CO2: 25}");
    }
    for (pointer, what, word, known, near) in names {
        x.examined(&pointer);
        if known {
            continue;
        }
        let finding = x
            .report(
                Severity::Caution,
                pointer,
                format!("the handbook knows no {what} of the name `{word}`: it is not used"),
            )
            .stated(word);
        match (near.first(), what) {
            (Some(near), _) => finding.hint(format!("did you mean `{near}`?")),
            (None, "gas") => {
                finding.hint("write its symbol, such as M21, or its mixture: composition: {Ar: 75, CO2: 25}")
            }
            (None, "tungsten") => finding.hint("write its class, such as WLa15 or EWLa-1.5"),
            (None, "filler") => finding.hint("write its class, such as ER70S-6 or E7018"),
            (None, "process") => finding.hint("write its number or letters, such as 141 or GTAW"),
            (None, _) => finding,
        };
    }
}
