//! A shop as types: machines, torches, regulators, stock, rates and welders. Only what is stated: no limit, no rule.

mod machines;
mod rates;
mod stock;
mod welders;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::procedure::{Deviation, FormatVersion, Identification, RevisionEntry};
use crate::stated::Text;
use crate::trade::Taken;
use crate::words::{document_word, words};

pub use machines::{PowerSource, RatedPoint, Regulator, ShopTorch, WireFeeder};
pub use rates::{Rates, Times, Working};
pub use stock::{GasCylinder, Stock, StockFiller, StockGasLens, StockMetal, StockNozzle, StockTungsten};
pub use welders::{Layers, Product, Welder, WelderCode, WelderTest};

document_word!(ShopWord, "shop");

/// A shop: what stands in the workshop, what it costs, and who welds there.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Shop {
    /// Version of the file format; this program reads 1.
    #[schemars(with = "FormatVersion")]
    pub format: u32,
    /// The kind of document.
    #[schemars(with = "ShopWord")]
    pub document: String,
    /// Number, revision and title.
    pub identification: Identification,
    /// Welding power sources.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub power_sources: Vec<PowerSource>,
    /// Torches.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub torches: Vec<ShopTorch>,
    /// Gas regulators and flow meters.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub regulators: Vec<Regulator>,
    /// Consumables on the shelf.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub stock: Option<Stock>,
    /// What labour and consumables cost.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub rates: Option<Rates>,
    /// Times that the shop reckons beside the arc.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub times: Option<Times>,
    /// When the shop works.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub working: Option<Working>,
    /// Welders and the tests that they passed.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub welders: Vec<Welder>,
    /// Who coordinates the welding, and what they know.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub coordinator: Option<Coordinator>,
    /// Remarks.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub notes: Vec<Text>,
    /// The history of the document, oldest first.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub revisions: Vec<RevisionEntry>,
    /// Findings accepted for a stated reason.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub deviations: Vec<Deviation>,
    /// Words of the trade in the file that were taken for words of the format; no key.
    #[serde(skip)]
    #[schemars(skip)]
    pub taken: Vec<Taken>,
}

/// Who coordinates the welding of a shop.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Coordinator {
    /// Name.
    pub name: Text,
    /// Technical knowledge by ISO 14731.
    pub knowledge: Knowledge,
}

words! {
    /// Technical knowledge of a welding coordinator (ISO 14731).
    Knowledge, "knowledge" {
        /// Basic: simple welded structures.
        Basic = "basic",
        /// Specific: a selected field.
        Specific = "specific",
        /// Comprehensive: all welded structures.
        Comprehensive = "comprehensive",
    }
}
