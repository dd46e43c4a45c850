//! What is wrong with the text of a quantity, before it is put in words.

use super::unit::Dimension;

/// Which side a limit closes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Side {
    Minimum,
    Maximum,
}

/// What the parser found, before it is put in words.
#[derive(Debug)]
pub(super) enum Fault {
    Empty,
    TooLong,
    NoNumber,
    NoSecondNumber,
    NotANumber,
    NotFinite,
    BarePoint,
    Dots,
    PlusSign,
    Exponent,
    ImproperFraction,
    ZeroDenominator,
    Tolerance,
    Approximate,
    DecimalComma,
    CommaOfThousands,
    GapOfThousands,
    MarkOfThousands,
    TooManyDigits,
    MissingUnit,
    UnknownUnit(String),
    TextAfterUnit(String),
    OtherQuantity(&'static Dimension),
    UnitsDiffer,
    FeetAndInches(String),
    HighToLow(String),
    BelowLowest,
    SideBeforeUnit,
    SideInFront(Side),
    SideOnRange,
    TwoDimensions,
    TwoNumbers,
    ThreeNumbers,
}
