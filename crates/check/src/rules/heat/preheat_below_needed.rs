//! `preheat-below-needed`: explanation, cases, logic.

use crate::preheat;
use crate::rule::{Case, Examiner, Harm, Rule, range_limit};
use seamwright_handbook::measure::{self, band, figure};
use seamwright_handbook::{Band, Heat, Size, metal_heat};
use seamwright_model::finding::Severity;

/// The check.
pub const RULE: Rule = Rule {
    name: "preheat-below-needed",
    harm: Harm::Metal,
    finds: "A preheat lower than metal and thickness ask for, or none where one is asked for.",
    matters: "A cold joint cools the weld fast: steel hardens and cracks from hydrogen, copper does not fuse.",
    remedy: "Preheat to the figure, lower the hydrogen, or raise the heat input.",
    limit: "The table of AWS D1.1 where it is the code; method B of EN 1011-2 where a composition is given, the method holds and the code is not of ASME; the practice for the metal and thickness else. Where none speaks, method A of EN 1011-2: a caution with the carbon equivalent as delivered, a note with the highest of the specification.",
    tables: &[
        "preheat-practice",
        "aws-d1-1-preheat",
        "en-1011-2-validity",
        "en-1011-2-combined-thickness",
        "process-hydrogen",
        "heat-rules",
    ],
    examine,
    faulty: &[
        Case { base: "pipe-butt-13crmo4-5-141-111", edits: &[("/temperatures/preheating", "20 °C minimum")] },
        Case { base: "pipe-butt-p91-141", edits: &[("/temperatures/preheating", "")] },
        Case { base: "butt-12-s690ql-111", edits: &[("/temperatures/preheating", "10 °C minimum")] },
        Case { base: "butt-6-copper-141", edits: &[("/temperatures/preheating", "20 °C minimum")] },
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/parent_metals", "[{specification: A572-65, thickness: 30 mm}]"),
                ("/temperatures/preheating", "10 °C minimum"),
            ],
        },
        // Steel with much carbon is never welded cold, nor engineering steel with little heat.
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/parent_metals", "[{specification: C45, thickness: 20 mm}]"),
                ("/temperatures/preheating", "10 °C minimum"),
            ],
        },
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/parent_metals", "[{specification: C35, thickness: 10 mm}]"),
                ("/temperatures/preheating", "10 °C minimum"),
            ],
        },
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/parent_metals", "[{specification: 42CrMo4, thickness: 12 mm}]"),
                ("/temperatures/preheating", "150 °C minimum"),
            ],
        },
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/parent_metals", "[{specification: 25CrMo4, thickness: 40 mm}]"),
                ("/temperatures/preheating", "150 °C minimum"),
            ],
        },
        // Thick plate of the commonest steel: by the specification a note, by the certificate a caution.
        Case {
            base: "butt-12-s355-111",
            edits: &[
                ("/parent_metals", "[{specification: S355J2+N, thickness: 40 mm}]"),
                ("/temperatures/preheating", "10 °C minimum"),
            ],
        },
        Case {
            base: "butt-12-s355-111",
            edits: &[
                ("/parent_metals", "[{specification: S355J2+N, thickness: 40 mm, carbon_equivalent: 0.46 %}]"),
                ("/temperatures/preheating", "10 °C minimum"),
            ],
        },
        // The code asks for 65 °C, whatever practice says.
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/qualification/code", "aws-d1.1"),
                ("/parent_metals", "[{specification: A572-65, thickness: 1 in}]"),
                ("/temperatures/preheating", "140 °F minimum"),
            ],
        },
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/qualification/code", "aws-d1.1"),
                ("/parent_metals", "[{specification: A36, thickness: 50 mm}]"),
            ],
        },
        // Over 3/4 in the code asks for 50 °F, which a room has and a frosty yard has not.
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/qualification/code", "aws-d1.1"),
                ("/parent_metals", "[{specification: A36, thickness: 1 in}]"),
                ("/temperatures/preheating", "32 °F minimum"),
            ],
        },
    ],
    sound: &[
        Case {
            base: "butt-12-s355-111",
            edits: &[
                ("/parent_metals", "[{specification: S355J2+N, thickness: 40 mm}]"),
                ("/temperatures/preheating", "80 °C minimum"),
            ],
        },
        // By its certificate the plate is lean enough.
        Case {
            base: "butt-12-s355-111",
            edits: &[
                ("/parent_metals", "[{specification: S355J2+N, thickness: 18 mm, carbon_equivalent: 0.41 %}]"),
                ("/temperatures/preheating", "10 °C minimum"),
            ],
        },
        // AWS D1.1 Table 5.8: 1-1/2 in of category B asks for 50 °F; over it 150 °F, which is printed beside 65 °C.
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/qualification/code", "aws-d1.1"),
                ("/parent_metals", "[{specification: A572-50, thickness: 2-1/2 in}]"),
                ("/temperatures/preheating", "150 °F minimum"),
            ],
        },
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/qualification/code", "aws-d1.1"),
                ("/parent_metals", "[{specification: A36, thickness: 3/4 in}]"),
                ("/temperatures/preheating", "32 °F minimum"),
            ],
        },
        Case { base: "pipe-butt-13crmo4-5-141-111", edits: &[] },
        Case { base: "tee-fillet-10-s355-111", edits: &[] },
        Case { base: "butt-2-304l-141", edits: &[("/temperatures/preheating", "")] },
        Case { base: "pipe-butt-p235gh-141-111", edits: &[] },
        // Practice of another code says nothing beside the table of the code: 2 in at 150 °F conforms.
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/qualification/code", "aws-d1.1"),
                ("/parent_metals", "[{specification: A36, thickness: 2 in}]"),
                ("/temperatures/preheating", "150 °F minimum"),
            ],
        },
        // Over 1 in practice asks for preheat only of steel with more than 0.30 % carbon or 490 MPa.
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[("/parent_metals", "[{specification: A36, thickness: 1-1/2 in}]")],
        },
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/parent_metals", "[{specification: C45, thickness: 20 mm}]"),
                ("/temperatures/preheating", "150 °C minimum"),
            ],
        },
        // Thin tube of 4130 for frames.
        Case {
            base: "tee-fillet-10-s355-111",
            edits: &[
                ("/parent_metals", "[{specification: '4130', thickness: 1.5 mm}]"),
                ("/temperatures/preheating", "10 °C minimum"),
            ],
        },
        // Practice under ASME codes: P-Number 1 up to 25 mm at 10 °C.
        Case {
            base: "pipe-butt-p235gh-141-111",
            edits: &[("/qualification/code", "asme-ix"), ("/parent_metals/0/thickness", "21 mm")],
        },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let Some(needed) = preheat::needed(x.view) else { return };
    let stated = x.view.procedure.preheating();
    let pointer = "/temperatures/preheating";
    // A document in degrees Fahrenheit, or in inches where it states no preheat, is held against the limit in those.
    let customary = stated.map_or_else(
        || x.view.thickness().is_some_and(Size::is_customary),
        |range| measure::is_customary(range.unit()),
    );
    let (figure_of, unit) = Heat::new(needed.celsius, needed.fahrenheit).column(customary);
    let least = Band::at_least(figure_of);
    let own = stated.map(|range| band(range, |own| measure::degrees(own, unit)));
    // What the room gives needs no preheat; where less is stated, the table of the code stands against it.
    let stated_less = needed.of_code && own.and_then(Band::low_end).is_some_and(|low| low < figure_of);
    if !stated_less && needed.celsius <= metal_heat::ROOM_TEMPERATURE.value.high {
        return;
    }
    let severity = needed.severity;
    let limit = range_limit(Band::at_least(figure_of.round()), unit);
    let write = format!("write `preheating: {} {unit} minimum`", figure((figure_of / 5.0).ceil() * 5.0));
    let certificate = ", or state the `carbon_equivalent` of the certificate under the metal";
    let hint = if severity == Severity::Note { format!("{write}{certificate}") } else { write };
    if let Some((range, own)) = stated.zip(own) {
        let spelled = range.spelled();
        if x.compare(pointer, spelled, Band::at_least(own.low), least, unit, &needed.source).below {
            x.report(severity, pointer, format!("preheat {spelled} is under {limit} ({})", needed.how))
                .stated(spelled)
                .limit(limit, &needed.source)
                .hint(hint);
        }
    } else {
        x.report(severity, pointer, format!("no preheat is stated; {limit} is asked for ({})", needed.how))
            .limit(limit, &needed.source)
            .hint(hint);
    }
}
