//! Plans, lays out and accounts for the cloth that covers a fabric-covered aircraft.
//!
//! A planning aid, not approved data: the maker's manual, national rules and a licensed inspector decide.
//!
//! # The floors of the house
//!
//! A floor may use what is below it and never what is above it.
//!
//! | floor | what it knows |
//! |---|---|
//! | [`cli`] | the commands: prints, asks, shows progress |
//! | [`draw`] | a plan turned into things to look at: the sheet of each cloth, the drawing of each part, the cut list, the report |
//! | [`verify`] | whether a lay is what it claims to be; shares no collision code with the engine |
//! | [`plan`] | the whole job worked out: the pieces, the lay, what to buy, what is left |
//! | [`covering`] | the airframe and the rules, turned into panels |
//! | [`nest`] | outlines onto cloth; nothing of aircraft |
//! | [`strips`] | runs of tape onto rolls of tape; nothing of aircraft |
//! | [`job`] | what the person wrote, and what is wrong with it |
//! | [`shape`] | outlines: curves, flattening, growing, pinked edges, unrolling; wing sections |
//! | [`units`] | lengths; millimetres inside |
//!
//! # From a job to a sheet
//!
//! ```
//! use clothwright::draw::{LaySheet, lay_sheet};
//! use clothwright::nest::Budget;
//! use clothwright::{job, plan, verify};
//!
//! // What the person wrote. Every fault of a job comes back at once, with its place.
//! let text = r#"{ "format": 1, "units": "mm", "name": "Dunlin, inspection rings",
//!     "cloth":  [ { "name": "roll", "width": 1780, "price": 14, "sold_by": 500 } ],
//!     "pieces": [ { "name": "doily", "outline": { "circle": 165 }, "quantity": 12, "edge": "pinked" } ] }"#;
//! let job = job::read_text("rings.json", text)?.job;
//!
//! // The lay: the same job, seed and effort give the same lay on any machine.
//! let budget = Budget { seed: 1, effort: 1, time: None };
//! let worked = plan::lay(&job, "rings.json", &budget, &())?;
//! assert_eq!(worked.file.cloths[0].pieces.len(), 12);
//!
//! // Nobody takes the engine's word for it.
//! assert!(verify::verify_lay(&worked.file, &job).is_empty());
//!
//! // Twelve circles of 165 mm fit on half a metre of this roll.
//! let plan::Purchase::Buy { length, .. } = worked.accounts[0].purchase else { panic!("a roll is bought") };
//! assert_eq!(length, 500.0);
//!
//! // True to size: a user unit is a millimetre.
//! let sheet = lay_sheet(&LaySheet {
//!     job: &job,
//!     pieces: &worked.pieces,
//!     cloth: &job.cloth[0],
//!     laid: &worked.file.cloths[0],
//!     account: &worked.accounts[0],
//! });
//! assert!(sheet.starts_with("<svg"));
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

pub mod cli;
pub mod covering;
pub mod draw;
pub mod job;
pub mod nest;
pub mod plan;
pub mod shape;
pub mod strips;
pub mod units;
pub mod verify;
mod wording;
