//! The wire electrode of a run with an open arc, looked up once for all who ask.

use seamwright_handbook::base_metals::BaseMetal;
use seamwright_handbook::designation::{self, Shielding};
use seamwright_handbook::gmaw_parameters::{self, Transfer};
use seamwright_handbook::processes::{self, Wire as Kind};
use seamwright_handbook::{Band, fcaw_parameters, filler_classes, find, metal_families};
use seamwright_model::procedure::Filler;
use seamwright_model::quantity::{Length, Range};
use seamwright_model::source::escape;
use seamwright_model::stated::Stated;

/// The wire electrode of a run.
#[derive(Clone)]
pub struct Wire<'d> {
    /// Kind of wire that the process takes.
    pub kind: Kind,
    /// Name of the filler.
    name: &'d str,
    /// The filler as stated.
    pub filler: &'d Filler,
    /// Diameter, mm.
    pub diameter: Option<f64>,
    /// What its designation says, where it can be read.
    pub read: Option<designation::Filler>,
    /// Mode of transfer, where it is stated.
    pub transfer: Option<Transfer>,
    /// The family under which the table of solid and metal cored wire has it; the metal's where the filler is not known.
    pub family: Option<&'static str>,
}

impl<'d> Wire<'d> {
    /// The wire of a run with an open arc: its filler by name, in a metal; nothing for another process.
    ///
    /// `before` is that of another run of the procedure: the same wire is not looked up again.
    pub fn of(
        process: &processes::Row,
        (name, filler): (&'d str, &'d Filler),
        transfer: Option<Transfer>,
        metal: Option<&'static BaseMetal>,
        before: Option<&Wire<'d>>,
    ) -> Option<Self> {
        let kind = process.wire.filter(|_| !process.uses_flux)?;
        if let Some(own) = before.filter(|own| own.kind == kind && own.name == name) {
            return Some(Self { transfer, ..own.clone() });
        }
        Some(Self {
            kind,
            name,
            filler,
            diameter: filler.diameter.as_ref().and_then(Stated::value).and_then(Range::middle).map(Length::mm),
            read: designation::parse(&filler.designation).ok(),
            transfer,
            family: family(kind, filler, metal),
        })
    }

    /// JSON pointer of a key of the filler.
    pub fn pointer(&self, key: &str) -> String {
        format!("/fillers/{}/{key}", escape(self.name))
    }

    /// Whether its designation says that it shields itself.
    pub fn self_shielded(&self) -> bool {
        self.read.as_ref().is_some_and(|read| read.shielding == Some(Shielding::SelfShielded))
    }

    /// The classes under which the tables of flux cored wire may have it: its own, then those of the like.
    pub fn classes(&self) -> impl Iterator<Item = &str> {
        let alike = filler_classes::find(&self.filler.designation).into_iter().flat_map(filler_classes::Row::classes);
        std::iter::once(&*self.filler.designation).chain(alike)
    }

    /// The wire feed speed in m/min that a range of current asks for.
    pub fn feed_at(&self, current: Band) -> Option<Band> {
        let at = |amperes: f64| -> Option<Band> {
            if self.kind == Kind::FluxCored {
                return self.classes().find_map(|class| fcaw_parameters::wire_feed_at(class, self.diameter?, amperes));
            }
            gmaw_parameters::wire_feed_at(self.family?, self.diameter?, self.transfer, amperes)
        };
        Some(at(current.low)?.hull(at(current.high)?))
    }

    /// The wire in words, its diameter as stated: "1.2 mm ER70S-6 in spray transfer".
    pub fn words(&self) -> String {
        let stated = self.filler.diameter.as_ref().and_then(Stated::value);
        let diameter = stated.map_or(String::new(), |diameter| format!("{} ", diameter.spelled()));
        let mode = self.transfer.filter(|_| self.kind != Kind::FluxCored);
        let mode = mode.map_or(String::new(), |mode| match mode {
            Transfer::Pulsed => " with pulsed current".to_owned(),
            other => format!(" in {} transfer", other.as_str()),
        });
        format!("{diameter}{}{mode}", self.filler.designation)
    }
}

fn family(kind: Kind, filler: &Filler, metal: Option<&'static BaseMetal>) -> Option<&'static str> {
    let family = match filler_classes::find(&filler.designation) {
        Some(row) => row.families.first()?,
        None => metal?.family,
    };
    let steel = metal_families::get(family).is_some_and(|row| row.ferrous && !row.chromium);
    let wanted = match kind {
        Kind::MetalCored if steel => "metal-cored",
        Kind::MetalCored | Kind::FluxCored => return None,
        // Low-alloy wire melts as carbon steel wire does: the tables tell stainless steel apart only.
        Kind::Solid if steel => "carbon-steel",
        Kind::Solid => family,
    };
    let around = metal_families::chain(wanted);
    let mut wires = gmaw_parameters::rows().iter().map(|row| row.wire);
    wires.find(|own| *own == wanted || around.iter().any(|row| find::same(row.family, own)))
}
