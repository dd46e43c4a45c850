//! API 1104: joint designs and positions as the code tells them apart.

use seamwright_handbook::positions;
use seamwright_model::procedure::Preparation;

/// A preparation as the code tells joint designs apart.
pub(super) fn design(shape: Preparation) -> &'static str {
    match shape {
        Preparation::Square => "square",
        Preparation::SingleV | Preparation::DoubleV => "V",
        Preparation::SingleBevel | Preparation::DoubleBevel => "bevel",
        Preparation::SingleU | Preparation::DoubleU => "U",
        Preparation::SingleJ | Preparation::DoubleJ => "J",
        Preparation::FlareV | Preparation::FlareBevel => "flare",
    }
}

/// Whether a pipe turns or stands in a position.
pub(super) fn turning(position: &positions::Row) -> &'static str {
    let flat = position.code == "PA" || position.equivalent.contains(&"PA");
    if flat { "rolled" } else { "fixed" }
}
