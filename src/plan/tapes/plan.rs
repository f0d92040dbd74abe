//! The tape plan as it is written: millimetres, from the end of each roll.

use serde::{Deserialize, Serialize};

use super::ClothTape;

/// Which rolls are cut, and what from each.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TapePlan {
    /// The sums of each kind of tape.
    pub kinds: Vec<TapeAccount>,
    /// One entry for each roll that is cut.
    pub rolls: Vec<TapeRoll>,
    /// Runs that are on no roll.
    pub unplaced: Vec<UnplacedTape>,
    /// The same kinds cut from cloth, where the job permits it.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub from_cloth: Vec<ClothTape>,
}

/// The sums of a kind of tape.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TapeAccount {
    /// What the kind is called, such as `2 in straight, pinked`.
    pub kind: String,
    /// Width as it is sold.
    pub width: f64,
    /// Whether its threads run at 45° to it.
    pub bias: bool,
    /// Whether its edges are pinked.
    pub pinked: bool,
    /// How many runs there are, left and right counted apart.
    pub runs: u32,
    /// Length of all runs.
    pub length: f64,
    /// How many rolls are cut.
    pub rolls: u32,
    /// How often runs are joined.
    pub joints: u32,
    /// Price of the rolls.
    pub cost: f64,
    /// No plan costs less than this; the cost itself where it is proven least.
    pub cost_at_least: f64,
    /// What is left on the rolls.
    pub left: f64,
    /// The longest piece of it.
    pub longest_left: f64,
    /// Grams that the runs weigh, where the mass of every roll is known.
    pub mass: Option<f64>,
}

/// A roll with its runs in the order of cutting.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TapeRoll {
    /// The kind of tape, as in [`TapeAccount::kind`].
    pub kind: String,
    /// Name of the tape in the job.
    pub tape: String,
    /// Which roll of this tape, from 1.
    pub number: u32,
    /// Length of the roll.
    pub length: f64,
    /// What is left at its end.
    pub left: f64,
    /// What is cut from it, one after the other.
    pub pieces: Vec<TapePiece>,
}

/// A run, or a piece of one.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TapePiece {
    /// Number of the run as on the map, with its copy where there are several: `T3`, `T12·2`.
    pub run: String,
    /// Where the run lies: part, and what is under it.
    pub over: String,
    /// Which piece of the run, from 1.
    pub piece: u32,
    /// Of how many: 1 where it is cut whole.
    pub pieces: u32,
    /// Where it begins on the roll.
    pub from: f64,
    /// Its length, overlaps included.
    pub length: f64,
}

/// A run that is on no roll.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct UnplacedTape {
    /// Number of the run as on the map.
    pub run: String,
    /// The kind of tape.
    pub kind: String,
    /// Where the run lies.
    pub over: String,
    /// Its length.
    pub length: f64,
    /// Why.
    pub why: String,
}

impl TapeAccount {
    /// Whether no plan costs less.
    pub fn is_least(&self) -> bool {
        self.cost_at_least >= self.cost
    }

    /// How sure it is that no plan costs less: `proven least`, or the bound and how far the plan is from it.
    pub fn proof_words(&self) -> String {
        if self.rolls == 0 {
            return String::new();
        }
        if self.is_least() {
            return "proven least".to_owned();
        }
        if self.cost_at_least <= 0.0 {
            return "not proven; no bound is known".to_owned();
        }
        let over = (self.cost / self.cost_at_least - 1.0) * 100.0;
        format!("at least {:.2}; {over:.1} % above that", self.cost_at_least)
    }
}

impl TapeRoll {
    /// `2 in, 50 yd, roll 3`.
    pub fn words(&self) -> String {
        format!("{}, roll {}", self.tape, self.number)
    }
}

impl TapePiece {
    /// `T3`, or `T3 (1 of 2)` where the run is joined.
    pub fn words(&self) -> String {
        if self.pieces == 1 { self.run.clone() } else { format!("{} ({} of {})", self.run, self.piece, self.pieces) }
    }
}

impl TapePlan {
    /// Price of all rolls.
    pub fn cost(&self) -> f64 {
        self.kinds.iter().map(|kind| kind.cost).sum()
    }

    /// What has no roll, in a line for each kind and reason.
    pub fn cautions(&self) -> Vec<String> {
        let alike = self.unplaced.chunk_by(|one, next| one.kind == next.kind && one.why == next.why);
        let line = |alike: &[UnplacedTape]| {
            let runs: Vec<&str> = alike.iter().map(|one| one.run.as_str()).collect();
            let over = if let [only] = alike { format!(" ({})", only.over) } else { String::new() };
            let verb = if alike.len() == 1 { "is" } else { "are" };
            format!("tape {}{over}, {}, {verb} on no roll: {}", runs.join(", "), alike[0].kind, alike[0].why)
        };
        alike.map(line).collect()
    }

    /// The rolls of a kind.
    pub fn rolls_of<'p>(&'p self, kind: &'p str) -> impl Iterator<Item = &'p TapeRoll> {
        self.rolls.iter().filter(move |roll| roll.kind == kind)
    }
}
