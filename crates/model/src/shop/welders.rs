//! Welders and the tests that they passed.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::procedure::{Progression, TransferMode, WeldType};
use crate::quantity::Length;
use crate::stated::{Date, Quantity, Text, YesNo};
use crate::words::words;

/// A welder and the tests that he or she passed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Welder {
    /// Name.
    #[schemars(example = &"M. Okafor")]
    pub name: Text,
    /// Stamp or number.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stamp: Option<Text>,
    /// Tests passed.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub tests: Vec<WelderTest>,
}

/// A welder's test.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WelderTest {
    /// Code of the test.
    pub code: WelderCode,
    /// Number of the certificate.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub number: Option<Text>,
    /// Date of the test.
    pub date: Date,
    /// Date on which the welder last welded with the process.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub last_use: Option<Date>,
    /// Date until which the certificate was prolonged.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub valid_until: Option<Date>,
    /// Process by ISO 4063 number or AWS letters.
    #[schemars(example = 141)]
    pub process: Text,
    /// Butt or groove weld, or fillet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub weld: Option<WeldType>,
    /// Plate or pipe.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub product: Option<Product>,
    /// Positions of the coupon.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub positions: Vec<Text>,
    /// Direction of welding in a vertical position.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub progression: Option<Progression>,
    /// Thickness of the coupon; of a fillet, of its thinner part.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub thickness: Quantity<Length>,
    /// Thickness deposited with this process, where it is not the whole coupon.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub deposit_thickness: Quantity<Length>,
    /// Outside diameter of the coupon.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub outside_diameter: Quantity<Length>,
    /// Filler used in the test.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"ER70S-2")]
    pub filler: Option<Text>,
    /// Filler group: FM1 to FM6 of ISO 9606-1, or F-Number of ASME IX.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    #[schemars(example = &"FM1")]
    pub filler_group: Option<Text>,
    /// Specification of the coupon's metal.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub metal: Option<Text>,
    /// Whether the root was backed: by a strip, by weld metal, or welded from both sides.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub backing: Option<YesNo>,
    /// Whether one layer or several were welded.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub layers: Option<Layers>,
    /// Metal transfer of a wire process.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub transfer_mode: Option<TransferMode>,
    /// Who witnessed the test.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub witnessed_by: Option<Text>,
}

words! {
    /// A code of welder qualification.
    WelderCode, "code" {
        /// ISO 9606-1, qualification testing of welders for steels.
        Iso9606 = "iso-9606-1",
        /// ISO 9606-2, qualification testing of welders for aluminium.
        Iso9606Aluminium = "iso-9606-2",
        /// ASME BPVC Section IX, performance qualification.
        AsmeIx = "asme-ix",
        /// AWS D1.1, performance qualification.
        AwsD11 = "aws-d1.1",
        /// API 1104, qualification of pipeline welders.
        Api1104 = "api-1104",
    }
}

words! {
    /// Form of a coupon.
    Product, "product" {
        /// Plate or sheet.
        Plate = "plate",
        /// Pipe or tube.
        Pipe = "pipe",
    }
}

words! {
    /// How many layers a fillet or groove has.
    Layers, "layers" {
        /// One layer.
        Single = "single",
        /// Several layers.
        Multiple = "multiple",
    }
}
