//! What drawings show, in words, for those who cannot see them.
//!
//! Each description is made of the sketch that the drawing is made of, so that words and lines come from the same values.

use seamwright_page::SheetOptions;
use seamwright_page::words::Label;

mod apparatus;
mod hookup;
mod joint;
mod symbol;

pub(super) use self::apparatus::{nozzle, position, tip, travel, work};
pub(super) use self::hookup::{connection, hookup, notes};
pub(super) use self::joint::{cavity, flare, joint, runs};
pub(super) use self::symbol::symbol;

/// A description in the making: parts with semicolons between them.
struct Description {
    options: SheetOptions,
    parts: Vec<String>,
}

impl Description {
    fn new(first: String, options: SheetOptions) -> Self {
        Self { options, parts: vec![first] }
    }

    fn say(&mut self, label: Label) {
        self.parts.push(self.options.say(label).into_owned());
    }

    /// What a dimension of the drawing measures, and its text.
    fn size(&mut self, name: &str, text: Option<&String>) {
        self.parts.extend(text.map(|text| format!("{name} {text}")));
    }

    fn end(self) -> String {
        let mut text = self.parts.join("; ");
        text.push('.');
        text
    }
}

#[cfg(test)]
mod tests {
    use seamwright_model::procedure::{Contour, Preparation};

    use super::*;
    use seamwright_drawing::sketch::groove::{JointLabels, JointSketch, Layer, RunBead, Section};
    use seamwright_drawing::sketch::hookup::{ArcCarrier, GasPath, HookupNames, HookupSketch, Polarity};
    use seamwright_drawing::sketch::symbol::{Elementary, SideSymbol, SymbolSketch};
    use seamwright_drawing::sketch::torch::{TorchKind, TorchLabels, TorchSketch};
    use seamwright_drawing::sketch::tungsten::{NozzleSketch, TipSketch};
    use seamwright_page::words::{Language, lacking_in};

    fn in_language(language: Language) -> SheetOptions {
        SheetOptions { language, marks_lacking: true, ..SheetOptions::default() }
    }

    fn pipe() -> JointSketch {
        let run =
            |label: &str, layer, second_side| RunBead { label: label.to_owned(), layer, second_side, share: None };
        JointSketch {
            preparation: Some(Preparation::SingleV),
            section: Section::Pipe { outside_diameter: 60.3 },
            labels: JointLabels { gap: Some("2–3".into()), angle: Some("60°".into()), ..JointLabels::default() },
            runs: vec![
                run("1", Layer::Root, false),
                run("2", Layer::Fill, false),
                run("3", Layer::Fill, false),
                run("4", Layer::Backing, true),
            ],
            ..JointSketch::default()
        }
    }

    fn every(options: SheetOptions) -> Vec<String> {
        let torch = |kind| TorchSketch {
            kind,
            labels: TorchLabels { travel_angle: Some("10°".into()), ..TorchLabels::default() },
            ..TorchSketch::default()
        };
        let mut all = vec![
            joint(&pipe(), options),
            runs(&pipe(), options),
            tip(&TipSketch::default(), options),
            nozzle(&NozzleSketch { gas_lens: true, ..NozzleSketch::default() }, options),
            position("PH", &options.word("fixed pipe, axis level, upwards"), options),
        ];
        for kind in [TorchKind::Tungsten, TorchKind::Wire, TorchKind::Electrode] {
            all.extend([travel(&torch(kind), options), work(&torch(kind), options)]);
        }
        for carrier in [ArcCarrier::Tungsten, ArcCarrier::Electrode, ArcCarrier::Wire, ArcCarrier::SelfShieldedWire] {
            let sketch = HookupSketch { carrier, water_cooler: true, ..HookupSketch::default() };
            all.push(hookup(&sketch, options));
        }
        let welds = {
            use Elementary as E;
            [
                E::Fillet,
                E::Square,
                E::V,
                E::Bevel,
                E::U,
                E::J,
                E::Edge,
                E::BackingRun,
                E::Backing,
                E::FlareV,
                E::FlareBevel,
                E::Plug,
                E::Spot,
                E::RootReinforcement,
                E::Surfacing,
            ]
        };
        for weld in welds {
            let contour = match weld {
                Elementary::Fillet => Some(Contour::Concave),
                Elementary::V => Some(Contour::Flush),
                Elementary::Square => Some(Contour::Convex),
                _ => None,
            };
            let side = SideSymbol { size: Some("s4".into()), contour, ..SideSymbol::new(weld) };
            let sketch =
                SymbolSketch { arrow_side: Some(side), all_around: true, site: true, ..SymbolSketch::default() };
            all.push(symbol(&sketch, options));
        }
        all
    }

    #[test]
    fn a_drawing_is_told_in_each_language_whole() {
        let english = every(in_language(Language::En));
        for language in [Language::Es, Language::De] {
            let own = every(in_language(language));
            for (own, english) in own.iter().zip(&english) {
                assert_eq!(lacking_in(own), Vec::<String>::new(), "{own}");
                assert_ne!(own, english);
                assert!(own.ends_with('.') && !own.contains("; ;") && !own.contains('{'), "{own}");
            }
        }
    }

    #[test]
    fn a_joint_is_told_with_its_sizes_and_its_runs_in_order() {
        let say = |language| joint(&pipe(), in_language(language));
        assert_eq!(
            say(Language::En),
            "Section to scale: butt joint in pipe, single V; included angle 60°; root gap 2–3."
        );
        assert_eq!(
            say(Language::De),
            "Maßstäblicher Schnitt: Stumpfstoß in Rohr, V-Fuge; Öffnungswinkel 60°; Stegabstand 2–3."
        );
        assert_eq!(
            runs(&pipe(), in_language(Language::En)),
            "Section to scale: butt joint in pipe, single V; 4 runs, fused to the walls and to each other, in order; \
             root: 1; fill: 2, 3; backing run from the other side: 4."
        );
    }

    #[test]
    fn a_hook_up_says_which_cable_goes_where() {
        let options = SheetOptions::default();
        let names = HookupNames { holder: "torch".into(), gas: "argon".into(), ..HookupNames::default() };
        let sketch = HookupSketch { gas: GasPath::TorchValve, names, ..HookupSketch::default() };
        let said = hookup(&sketch, options);
        assert!(said.contains("torch on\u{a0}−, work clamp on\u{a0}+"), "{said}");
        assert!(said.contains("No gas solenoid") && said.contains("Gas: argon."), "{said}");
        let names = HookupNames { holder: "holder".into(), ..HookupNames::default() };
        let sketch = HookupSketch {
            carrier: ArcCarrier::Electrode,
            polarity: Polarity::ElectrodePositive,
            names,
            ..HookupSketch::default()
        };
        let said = hookup(&sketch, options);
        assert!(said.contains("holder on\u{a0}+, work clamp on\u{a0}−"), "{said}");
        assert!(!said.contains("Gas"), "a covered electrode takes no gas: {said}");
    }

    #[test]
    fn a_position_is_told_by_its_symbol() {
        let said = position("PF", "vertical up", SheetOptions::default());
        assert_eq!(said, "Welding position PF: vertical up; an arrow shows the pull of gravity.");
    }
}
