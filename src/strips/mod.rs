//! Runs of tape onto rolls of tape: what to buy and what to cut from each roll. Knows lengths and prices, and nothing of
//! aircraft.
//!
//! Wanted is, in this order: the least cost; of plans that cost the same, the least length bought; of those, what is left
//! over in as long a piece as possible. Runs are cut whole unless they may be joined.
//!
//! ```
//! use clothwright::strips::{Joint, Proof, Roll, Run, Task, cut};
//!
//! // Rolls of 25 and of 50 yards; twelve rib tapes that are cut whole, and a longeron tape that may be joined.
//! let roll = |yards: f64, price: f64| Roll { length: yards * 914.4, price, count: None };
//! let task = Task {
//!     rolls: vec![roll(25.0, 31.0), roll(50.0, 55.0)],
//!     runs: vec![
//!         Run { length: 2718.0, count: 12, joint: None },
//!         Run { length: 11_500.0, count: 1, joint: Some(Joint { overlap: 50.0, shortest: 500.0 }) },
//!     ],
//! };
//! let plan = cut(&task, 1)?;
//!
//! // 44.1 m fit on one roll of 45.7 m, which costs less than two of 22.9 m.
//! assert_eq!(plan.cost, 55.0);
//! assert_eq!(plan.proof, Proof::Least);
//! # Ok::<(), clothwright::strips::TaskFault>(())
//! ```
//!
//! | file | idea |
//! |---|---|
//! | `choices` | which rolls to buy, the cheapest choice first |
//! | `complete` | whether runs that are cut whole fit on given rolls, one roll filled after another |
//! | `fill` | the fullest a roll can be cut |
//! | `fit` | whether runs that are cut whole fit on given rolls, by search, and the longest leftover |
//! | `pour` | runs that may be joined, into what the others leave |
//! | `greedy` | a simple plan where choosing exactly would take too long |
//! | `rounded` | runs cut by the patterns of the linear programme |
//! | `search` | the cheapest choice that holds everything, and the proof |
//! | `bound` | what no plan can cost less than, by linear programming |

mod bound;
mod choices;
mod complete;
mod fill;
mod fit;
mod greedy;
mod plan;
mod pour;
mod rounded;
mod search;
mod solve;
mod task;

pub use plan::{Cut, CutRoll, Plan, Proof, Unplaced};
pub use solve::cut;
pub use task::{Joint, Roll, Run, Task, TaskFault};

/// Lengths in whole hundredths of a millimetre, so that sums are exact.
type Ticks = i64;

/// Hundredths of a millimetre in one.
const TICKS: f64 = 100.0;
