//! `arc-spot-outside-code`: explanation, cases, logic.

use seamwright_calc::Band;
use seamwright_handbook::{Rule as Figure, Size, aws_d1_3};
use seamwright_model::finding::Severity;
use seamwright_model::procedure::{CodeName, WeldType};
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};

/// A spot through sheet of a thickness, with its diameter.
macro_rules! spot {
    ($sheet:literal, $diameter:literal) => {
        Case {
            base: "lap-fillet-2-carbon-141",
            edits: &[
                ("/qualification", "{route: test-record, code: aws-d1.3, records: [T-1]}"),
                ("/parent_metals", concat!("[{specification: S235JR, thickness: ", $sheet, "}]")),
                ("/joint", "{type: lap, weld: spot}"),
                ("/weld_size", concat!("{diameter: ", $diameter, "}")),
            ],
        }
    };
}

/// The check.
pub const RULE: Rule = Rule {
    name: "arc-spot-outside-code",
    harm: Harm::Qualification,
    finds: "An arc spot weld under AWS D1.3 that is too small, or through sheet that is too thick or too thin without a washer.",
    matters: "A small spot, or one that burns a hole around itself, tears out: decking and siding hang on it.",
    remedy: "Make the spot larger, take another weld, or weld thin sheet through washers.",
    limit: "Least diameter of the fused spot, thickest sheet, and sheet from which no washer is needed, AWS D1.3 (from memory).",
    tables: &["aws-d1-3-rules"],
    examine,
    faulty: &[
        spot!("1.2 mm", "9.9 mm"),
        spot!("0.048 in", "0.37 in"),
        spot!("3.9 mm", "12 mm"),
        spot!("0.16 in", "1/2 in"),
        spot!("0.6 mm", "12 mm"),
        spot!("0.027 in", "1/2 in"),
    ],
    sound: &[
        spot!("1.2 mm", "10 mm"),
        spot!("0.048 in", "3/8 in"),
        spot!("3.8 mm", "12 mm"),
        spot!("0.15 in", "1/2 in"),
        spot!("0.7 mm", "12 mm"),
        spot!("0.028 in", "1/2 in"),
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let procedure = x.view.procedure;
    let code = procedure.qualification.as_ref().and_then(|own| own.code);
    if code != Some(CodeName::AwsD13) || x.view.weld() != Some(WeldType::Spot) {
        return;
    }
    let size = procedure.weld_size.as_ref().and_then(Stated::value);
    let across = size.and_then(|size| size.diameter.as_ref()).and_then(Stated::value);
    let across = across.and_then(|range| Some(Size::stated(range.low().or(range.high())?, range.unit())));
    let thinnest = x.view.metals.iter().filter_map(|metal| Some((metal.thickness()?, metal.pointer("thickness"))));
    let sheet = thinnest.min_by_key(|(size, _)| size.length());
    if let Some(across) = across {
        let rule = aws_d1_3::SPOT_DIAMETER;
        x.examined("/weld_size/diameter");
        if rule.below(across) {
            report(x, "/weld_size/diameter".to_owned(), ("a spot of", across), rule, Band::at_least);
        }
    }
    let Some((sheet, pointer)) = sheet else { return };
    x.examined(&pointer);
    if aws_d1_3::SPOT_SHEET.over(sheet) {
        report(x, pointer.clone(), ("a spot through sheet of", sheet), aws_d1_3::SPOT_SHEET, Band::at_most);
    }
    if aws_d1_3::SPOT_WITHOUT_WASHER.below(sheet) {
        report(
            x,
            pointer,
            ("a spot without a washer in sheet of", sheet),
            aws_d1_3::SPOT_WITHOUT_WASHER,
            Band::at_least,
        );
    }
}

fn report(
    x: &mut Examiner<'_>,
    pointer: String,
    (what, size): (&str, Size),
    rule: &'static Figure,
    end: fn(f64) -> Band,
) {
    let (limit, unit) = rule.beside(size);
    let limit = range_limit(end(limit), unit);
    x.report(Severity::Error, pointer, format!("{what} {} under AWS D1.3, {limit}", size.text()))
        .stated(size.text())
        .limit(limit, &rule.origin.source_ref())
        .hint(format!("{}; verify against your edition", rule.title));
}
