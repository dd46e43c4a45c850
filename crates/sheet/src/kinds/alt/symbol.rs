//! The welding symbol in words.

use seamwright_drawing::sketch::symbol::{Elementary, SideSymbol, SymbolSketch, SymbolStandard};
use seamwright_model::procedure::Contour;
use seamwright_page::SheetOptions;
use seamwright_page::words::{Label, label};

use super::Description;

/// The welding symbol: each side with its sizes, then what holds for the weld.
pub(in super::super) fn symbol(sketch: &SymbolSketch, options: SheetOptions) -> String {
    let standard = match sketch.standard {
        SymbolStandard::Iso2553A => options.fill(label::SYSTEM_NAMED, &[("standard", "ISO 2553"), ("letter", "A")]),
        SymbolStandard::AwsA24 => "AWS A2.4".to_owned(),
    };
    let mut said = Description::new(options.fill(label::WELDING_SYMBOL, &[("standard", &standard)]), options);
    for (name, side) in [(label::ARROW_SIDE, &sketch.arrow_side), (label::OTHER_SIDE, &sketch.other_side)] {
        if let Some(side) = side {
            said.parts.push(format!("{}: {}", options.say(name), on_side(side, options)));
        }
    }
    if sketch.all_around {
        said.say(label::ALL_AROUND);
    }
    if sketch.site {
        said.say(label::SITE_WELD);
    }
    said.parts.extend(sketch.tail.as_ref().map(|tail| options.fill(label::SYMBOL_TAIL, &[("text", tail)])));
    said.end()
}

fn on_side(side: &SideSymbol, options: SheetOptions) -> String {
    let mut parts = vec![options.say(name(side.weld)).into_owned()];
    let gap = options.low("/joint/root_gap");
    let sizes = [
        (options.say(label::SYMBOL_SIZE), &side.size),
        (options.say(label::SYMBOL_LENGTH), &side.length),
        (gap.into(), &side.gap),
        (options.say(label::SYMBOL_ANGLE), &side.angle),
    ];
    parts.extend(sizes.into_iter().filter_map(|(name, text)| Some(format!("{name} {}", text.as_ref()?))));
    parts.extend(side.inside.clone());
    if let Some(size) = &side.fillet {
        parts.push(format!("{} {size}", options.say(label::FILLET_ON_TOP)));
    }
    if let Some(contour) = side.contour {
        let shape = match contour {
            Contour::Flush => label::CONTOUR_FLUSH,
            Contour::Convex => label::CONTOUR_CONVEX,
            Contour::Concave => label::CONTOUR_CONCAVE,
        };
        parts.push(options.say(shape).into_owned());
    }
    parts.join(", ")
}

const fn name(weld: Elementary) -> Label {
    match weld {
        Elementary::Fillet => label::FILLET_WELD,
        Elementary::Square => label::SYMBOL_SQUARE,
        Elementary::V => label::SYMBOL_V,
        Elementary::Bevel => label::SYMBOL_BEVEL,
        Elementary::U => label::SYMBOL_U,
        Elementary::J => label::SYMBOL_J,
        Elementary::Edge => label::SYMBOL_EDGE,
        Elementary::BackingRun => label::BACKING_RUN,
        Elementary::Backing => label::SYMBOL_BACKING,
        Elementary::FlareV => label::SYMBOL_FLARE_V,
        Elementary::FlareBevel => label::SYMBOL_FLARE_BEVEL,
        Elementary::Plug => label::SYMBOL_PLUG,
        Elementary::Spot => label::SYMBOL_SPOT,
        Elementary::RootReinforcement => label::SYMBOL_MELT_THROUGH,
        Elementary::Surfacing => label::SYMBOL_SURFACING,
    }
}
