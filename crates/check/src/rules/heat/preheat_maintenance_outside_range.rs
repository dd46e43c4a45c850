//! `preheat-maintenance-outside-range`: explanation, cases, logic.

use seamwright_handbook::measure::band;
use seamwright_handbook::{Band, interpass_temperature, metal_heat};
use seamwright_model::finding::Severity;
use seamwright_model::quantity::Temperature;
use seamwright_model::stated::Stated;

use crate::rule::{Case, Examiner, Harm, Rule, range_limit};

/// The check.
pub const RULE: Rule = Rule {
    name: "preheat-maintenance-outside-range",
    harm: Harm::Metal,
    finds: "A temperature kept at an interruption that is that of the room, or more than the metal takes between runs.",
    matters: "Hardened metal cracks from hydrogen as it cools; overheated metal loses strength and toughness.",
    remedy: "Keep the joint at its preheat until it is welded or heat-treated.",
    limit: "Under what metal has without preheat, and above the highest interpass temperature of the metal: a caution.",
    tables: &["heat-rules", "interpass-temperature"],
    examine,
    faulty: &[
        Case { base: "pipe-butt-p91-141", edits: &[("/temperatures/preheat_maintenance", "10 °C minimum")] },
        Case { base: "pipe-butt-p91-141", edits: &[("/temperatures/preheat_maintenance", "500 °C minimum")] },
    ],
    sound: &[
        Case { base: "pipe-butt-p91-141", edits: &[] },
        Case { base: "pipe-butt-p91-141", edits: &[("/temperatures/preheat_maintenance", "100 °C minimum")] },
        Case { base: "butt-2-304l-141", edits: &[] },
    ],
};

fn examine(x: &mut Examiner<'_>) {
    let temperatures = x.view.procedure.temperatures.as_ref();
    let Some(range) = temperatures.and_then(|t| t.preheat_maintenance.as_ref()).and_then(Stated::value) else { return };
    let room = metal_heat::ROOM_TEMPERATURE;
    let view = x.view;
    let rows = view.heated_as_they_stand().filter_map(|metal| interpass_temperature::get(metal.family()));
    let strictest = rows.min_by(|a, b| a.envelope_max_c.total_cmp(&b.envelope_max_c));
    let (most, source) = strictest
        .map_or_else(|| (f64::INFINITY, room.origin.source_ref()), |row| (row.envelope_max_c, row.origin.source_ref()));
    let (pointer, stated) = ("/temperatures/preheat_maintenance", range.spelled());
    // A minimum alone is held against both: the joint is at least that hot.
    let own = band(range, Temperature::celsius).closed();
    let limit = Band::new(room.value.high, most);
    let outer = x.compare(pointer, stated, own, limit, "°C", &source);
    if !outer.either() {
        return;
    }
    let source = if outer.below { room.origin.source_ref() } else { source };
    let limit = range_limit(limit, "°C");
    x.report(Severity::Caution, pointer, format!("{stated} kept at an interruption lies outside {limit}"))
        .stated(stated)
        .limit(limit, &source)
        .hint("keep the joint at its preheat");
}
