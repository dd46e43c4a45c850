//! `exercises-longer-than-lesson`: explanation, cases, logic.

use seamwright_calc::band::above;
use seamwright_model::finding::Severity;
use seamwright_model::lesson::Lesson;
use seamwright_model::quantity::Duration;
use seamwright_model::stated::Stated;

use crate::kit;
use crate::rule::{Case, Examiner, Harm, Rule};

/// The check.
pub const RULE: Rule<Lesson> = Rule {
    name: "exercises-longer-than-lesson",
    harm: Harm::Equipment,
    finds: "Exercises that take longer than the lesson, with the learners sharing the booths in turns.",
    matters: "The last learners do not weld.",
    remedy: "Plan more time or booths, or fewer pieces.",
    limit: "Duration less the time without welding, in as many turns as the booths need for the class.",
    tables: &[],
    examine,
    faulty: &[Case { base: "lesson/lesson", edits: &[("/duration", "10 min"), ("/without_welding", "")] }],
    sound: &[Case { base: "lesson/lesson", edits: &[] }],
};

fn examine(x: &mut Examiner<'_, Lesson>) {
    let lesson = x.view.lesson;
    let seconds = |time: &Option<Stated<seamwright_model::quantity::Range<Duration>>>| {
        let range = time.as_ref()?.value()?;
        range.high().or(range.low()).map(Duration::seconds)
    };
    let Some(duration) = lesson.duration.value() else { return };
    let Some(whole) = duration.low().map(Duration::seconds) else { return };
    let each = kit::minutes_each(lesson) * 60.0;
    if each <= 0.0 {
        return;
    }
    x.examined("/duration");
    let booths = lesson.booths.unwrap_or(lesson.learners).max(1);
    let turns = kit::turns(lesson);
    let needed = each * f64::from(turns);
    let open = whole - seconds(&lesson.without_welding).unwrap_or(0.0);
    if above(needed, open) {
        let print = |seconds: f64| kit::time(seconds / 60.0);
        x.report(
            Severity::Error,
            "/duration",
            format!(
                "the exercises take {} for {} learners at {booths} booths; {} are left for welding",
                print(needed),
                lesson.learners,
                print(open)
            ),
        )
        .stated(duration.spelled())
        .hint("plan more time or booths, or fewer pieces");
    }
}
