//! The procedure understood: what a document states beside what the handbook knows of it, and what follows from both.
//!
//! Everything begins with a [`View`] of a procedure that leaves no choice; what follows from the settings of a run is worked out
//! once. Nothing here judges: what is right or wrong with it is for others to say.
//!
//! - [`view`]: metals and runs with their rows of the handbook, and what holds for a run, be it stated there or for its
//!   process; [`wire`]: its wire electrode.
//! - [`section`]: the cross-section of the weld; [`deposit`]: what a run lays down; [`consumption`]: the filler, gas and time
//!   that it takes; [`fill`]: whether the runs fill the joint.
//! - [`heat`]: the heat input of a run, and the plate that it cools in; [`in_joint`]: the settings in print for such a joint, and
//!   the heat of all runs beside the least that fuses it.
//! - [`constitution`]: stainless weld metal on the WRC-1992 diagram.
//! - [`machines`] and [`stock`]: what a shop has to weld it with.
//!
//! ```
//! use seamwright_model::{Document, load};
//! use seamwright_weld::{View, heat, section};
//!
//! let text = "format: 1
//! document: procedure
//! identification: {number: P-1, revision: 1, title: Tee}
//! parent_metals: [{specification: S235JR, thickness: 6 mm}]
//! joint: {type: tee, weld: fillet}
//! weld_size: {leg: 6 mm}
//! processes: {135: {current: 200 A, voltage: 25 V}}
//! runs: [{run: 1, process: 135, travel_speed: 300 mm/min}]
//! ";
//! let Ok(loaded) = load("tee.yaml", text.as_bytes()) else { panic!("a document") };
//! let Document::Procedure(procedure) = &loaded.document else { panic!("a procedure") };
//! let view = View::new(procedure);
//! assert_eq!(view.metals[0].family(), "carbon-steel");
//! // Half of 6 mm by 6 mm.
//! assert!((section::of(&view, None)?.area_mm2.middle - 18.0).abs() < 1e-9);
//! // 200 A at 25 V and 5 mm/s.
//! assert!(heat::of(&view.runs[0]).is_some_and(|heat| (heat.arc_energy.high - 1.0).abs() < 1e-9));
//! # Ok::<(), String>(())
//! ```

pub mod constitution;
pub mod consumption;
pub mod deposit;
pub mod fill;
mod follows;
pub mod heat;
pub mod in_joint;
pub mod machines;
pub mod section;
pub mod stock;
pub mod view;
pub mod wire;

pub use view::{RunView, View};
