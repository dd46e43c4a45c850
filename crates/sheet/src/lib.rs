//! The kinds of sheet: a document as blocks. What becomes of these is in [`seamwright_page`].
//!
//! [`kinds::sheet`] makes a sheet of one kind from a [`kinds::Subject`]: a document, what its checks found, and what lies
//! beside it. Each kind is a file of `kinds`, and what they share stands beside them:
//!
//! - `procedure`, `bench_card`, `lesson`, `review`, `estimate`, `job`: the kinds
//! - `joint`, `setup`, `coupon`, `ferrite`: drawings, and `alt` what they show in words
//! - `conditions`, `cautions`, `columns`, `compared`, `values`, `words`: parts of sheets
//! - `frame`, `standing`, `subject`, `listing`, `alike`: masthead, stamp, source, and sheets beside each other
//!
//! ```
//! use seamwright_check::{Context, check_with};
//! use seamwright_page::lately::Lately;
//! use seamwright_page::{Kind, SheetOptions};
//! use seamwright_sheet::kinds::{Subject, sheet};
//!
//! let text = include_bytes!("../../../procedures/butt-3-carbon-141.yaml");
//! let loaded = seamwright_model::load("butt.yaml", text).expect("a document");
//! let outcome = check_with(&loaded.document, &Context::default());
//! let lately = &Lately::default();
//! let subject = Subject { loaded: &loaded, outcome: &outcome, shop: None, procedure: None, estimate: None, lately };
//! let card = sheet(Kind::BenchCard, subject, SheetOptions::default())?;
//! assert!(card.one_page && !card.blocks.is_empty());
//! # Ok::<(), String>(())
//! ```

pub mod kinds;
