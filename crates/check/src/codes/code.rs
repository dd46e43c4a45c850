//! What a code is to the rest of the program: [`Code`], which the folder of each code implements.

use seamwright_handbook::{Band, Rule, Size, SourceRef, code_scope};
use seamwright_model::procedure::Joint;
use seamwright_model::shop::WelderTest;
use seamwright_model::stated::Date;
use seamwright_model::test_record::TestRecord;
use seamwright_weld::View;
use seamwright_weld::view::Metal;

use super::asks::{self, Item};
use super::changed::{Changed, Classified};
use super::range::{Bounds, Qualified};
use super::summary::{ProcessSummary, Summary, Value};
use super::words::own_name;

/// A code of qualification.
///
/// What a method has by default is what a code means that says nothing of it.
pub trait Code: Sync {
    /// Its word in documents and in the tables of the handbook: `asme-ix`.
    fn word(&self) -> &'static str;

    /// What it is called in messages.
    fn title(&self) -> &'static str {
        code_scope::title(self.word())
    }

    /// What a test record qualifies, and the edition whose figures were used.
    ///
    /// `Err` says why it qualifies nothing.
    fn ranges(&self, _record: &TestRecord, _tested: &Summary<'_>) -> Result<(String, Vec<Qualified>), Refusal> {
        let message = format!("the handbook has no ranges of {}", self.title());
        Err(Refusal::new("/code", message, "what the test covers stands in the tables of the code"))
    }

    /// How it names metals and judges changes.
    fn judge(&self) -> Judge {
        Judge { label: own_name, variables: |_, _| Vec::new(), counts: |_| false }
    }

    /// How a metal is named in ranges.
    fn label(&self, metal: &Metal<'_>) -> String {
        (self.judge().label)(metal)
    }

    /// The variables of a process by its number or letters: the keys that state each, and what its change means.
    fn variables(&self, process: &str, toughness: bool) -> Vec<Keyed> {
        (self.judge().variables)(process, toughness)
    }

    /// Whether a change of a key is one of the variable.
    fn counts(&self, change: &Changed<'_>) -> bool {
        (self.judge().counts)(change)
    }

    /// What it asks a procedure to state.
    fn asks(&self, _view: &View<'_>) -> Vec<Item> {
        asks::iso_15609_1()
    }

    /// The paragraphs that ask a procedure for a key, as sheets print them over their parts.
    fn paragraphs(&self, _key: &str, _view: &View<'_>) -> Vec<String> {
        Vec::new()
    }

    /// The clause that asks for a key, where the code has one of its own.
    fn clause(&self, key: &str, view: &View<'_>) -> Option<String> {
        self.paragraphs(key, view).into_iter().next()
    }

    /// The levels of its tests: their row of `setting-limits`.
    fn levels(&self) -> Option<&'static str> {
        None
    }

    /// Whether it asks for hardness tests of a coupon.
    fn asks_hardness(&self, _tested: &Summary<'_>) -> bool {
        false
    }

    /// Whether the hardness of a coupon is held to `hardness-limits`.
    fn limits_hardness(&self) -> bool {
        false
    }

    /// Whether records of several processes or fillers stand together by the thickness that each deposits.
    fn combines_by_deposit(&self) -> bool {
        false
    }

    /// Whether a tensile specimen that breaks in the base metal may fall short of the requirement.
    fn allows_break_in_base_metal(&self) -> bool {
        false
    }

    /// The heat of a process as it counts it.
    fn heat<'s>(&self, process: &'s ProcessSummary<'_>) -> &'s [Value<Band>] {
        &process.arc_energy
    }

    /// Whether a test of a groove covers fillets of every size.
    fn groove_covers_fillets(&self) -> bool {
        true
    }

    /// What a range that counts with impact tests binds to where none are asked for.
    fn without_impact_tests(&self, _range: &Qualified, _bounds: &Bounds) -> Option<Bounds> {
        None
    }

    /// The words that a procedure states for a variable of its own.
    fn stated(
        &self,
        _variable: &str,
        _summary: &Summary<'_>,
        _process: Option<&ProcessSummary<'_>>,
    ) -> Vec<Value<String>> {
        Vec::new()
    }

    /// The least preheat of a metal by its table; nothing where it has none for the metal.
    fn preheat(&self, _view: &View<'_>, _metal: &Metal<'_>, _thickness: Size) -> Option<Preheat> {
        None
    }

    /// Whether its shops work out a preheat by formula, and not by P-Number and thickness alone.
    fn preheat_by_formula(&self) -> bool {
        true
    }

    /// Whether a joint is one of its details: it is right under the code, whatever another standard has.
    fn has_detail(&self, _view: &View<'_>, _joint: &Joint) -> bool {
        false
    }

    /// The gap under a fillet: the widest, and that from which legs have to grow.
    fn fillet_gap(&self, _view: &View<'_>) -> Option<FilletGap> {
        None
    }

    /// The least leg of a fillet by the thicker part.
    fn least_leg(&self, _thicker: Size) -> Option<LeastLeg> {
        None
    }

    /// What the test of a welder covers.
    fn welder(&self, _test: &WelderTest) -> Vec<Qualified> {
        Vec::new()
    }

    /// The days on which the test of a welder may lapse, and why.
    fn lapses(&self, test: &WelderTest) -> Vec<(Date, &'static str)> {
        test.valid_until.map(|date| (date, "end of the certificate")).into_iter().collect()
    }

    /// Whether a range of a welder's test speaks of a weld.
    fn speaks_of(&self, _variable: &str, _weld: Weld) -> bool {
        true
    }

    /// What a range of its own of a welder's test does not cover of a process, in words.
    fn not_covered(&self, _range: &Qualified, _summary: &Summary<'_>, _process: &ProcessSummary<'_>) -> Vec<String> {
        Vec::new()
    }
}

/// A variable: the keys that state it, and what its change means.
pub type Keyed = (&'static [&'static str], Classified);

/// How a code names metals and judges changes.
#[derive(Clone, Copy)]
pub struct Judge {
    /// How a metal is named in ranges.
    pub label: fn(&Metal<'_>) -> String,
    /// The variables of a process, with impact tests or without.
    pub variables: fn(&str, bool) -> Vec<Keyed>,
    /// Whether a change of a key is one of the variable.
    pub counts: fn(&Changed<'_>) -> bool,
}

/// The preheat that a code asks for.
#[derive(Debug, Clone)]
pub struct Preheat {
    /// Least preheat, degrees Celsius; 0 where it asks for none.
    pub celsius: f64,
    /// The same in degrees Fahrenheit, where the code prints it.
    pub fahrenheit: Option<f64>,
    /// By what of its table, in words.
    pub how: String,
    /// Where it is written.
    pub source: SourceRef,
}

/// The gap under a fillet that a code permits.
#[derive(Debug, Clone, Copy)]
pub struct FilletGap {
    /// The widest.
    pub most: &'static Rule,
    /// The widest that asks for no larger leg.
    pub free: &'static Rule,
}

/// The least leg that a code asks for.
#[derive(Debug, Clone)]
pub struct LeastLeg {
    /// Millimetres.
    pub mm: f64,
    /// The same as the code prints it in inches.
    pub inches: f64,
    /// Where it is written.
    pub source: SourceRef,
}

/// A weld as the ranges of welders tell welds apart.
#[derive(Debug, Clone, Copy)]
pub struct Weld {
    /// Whether it is a fillet.
    pub fillet: bool,
    /// Whether it is on pipe.
    pub pipe: bool,
}

impl Weld {
    /// Whether positions of a test are those of such a weld, where a code tells fillets and small pipe apart.
    pub(super) fn has_position(self, variable: &str) -> bool {
        match variable {
            "position_fillet" => self.fillet,
            "position_small_pipe" => !self.fillet && self.pipe,
            "position" => !self.fillet && !self.pipe,
            _ => true,
        }
    }
}

/// Why a test record gives no ranges.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Refusal {
    /// JSON pointer in the record.
    pub pointer: String,
    /// What was found, lower case, no full stop.
    pub message: String,
    /// What to write.
    pub hint: Option<String>,
}

impl Refusal {
    pub(super) fn new(pointer: impl Into<String>, message: impl Into<String>, hint: &str) -> Self {
        Self { pointer: pointer.into(), message: message.into(), hint: Some(hint.to_owned()) }
    }
}
