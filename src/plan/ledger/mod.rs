//! The log of a covering project: what has been cut, glued, spoiled and used up, over a year and longer.
//!
//! Covering goes in spurts, with weeks between. The log stands beside the job (`job.json` has `job.log.jsonl`), one
//! [`Event`] a line in JSON. Lines are only ever added: [`LogFile`] adds them, [`fold`] reads from them how things stand
//! ([`Standing`]), and a mistake is taken back by one more line. What no longer fits the job is told by [`misfits`].

mod event;
mod faults;
mod file;
mod fit;
mod fold;
mod lines;
mod parts;
mod rest;
mod standing;
mod status;
mod stock;

pub use event::{Entry, Event, Step, TapeKind};
pub use faults::{LogFault, Oddity};
pub use file::{LogFile, log_path};
pub use fit::misfits;
pub use fold::fold;
pub use lines::{Log, SetAside, Storage, add_lines, read_lines};
pub use parts::{CountedPiece, WHOLE, counted_pieces, part_names};
pub use rest::{Rest, RestFault, cut_there, laid_outline, rest};
pub use standing::{Copy, CutCopy, FoundCloth, Noted, Stage, Standing, TapeStanding};
pub use status::{ClothRow, HourRow, PartRow, Status, TapeRow, status};
pub use stock::{Stock, stock, stock_name};
