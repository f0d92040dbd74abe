//! What is cut from which roll.

/// A plan for all runs.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// The rolls that are cut, in the order of the task's kinds.
    pub rolls: Vec<CutRoll>,
    /// What found no place.
    pub unplaced: Vec<Unplaced>,
    /// What the rolls cost together.
    pub cost: f64,
    /// Whether any plan could cost less.
    pub proof: Proof,
}

/// How sure it is that no plan costs less.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Proof {
    /// None does.
    Least,
    /// None costs less than this.
    AtLeast(f64),
}

/// A roll with what is cut from it.
#[derive(Clone, Debug, PartialEq)]
pub struct CutRoll {
    /// Which kind of roll, as a place in [`super::Task::rolls`].
    pub roll: usize,
    /// The cuts, in order from the end of the roll.
    pub cuts: Vec<Cut>,
    /// What is left, in millimetres.
    pub left: f64,
}

/// A run, or a piece of one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Cut {
    /// Which run, as a place in [`super::Task::runs`].
    pub run: usize,
    /// Which copy of it, from 1.
    pub copy: u32,
    /// Which piece of the run, from 1.
    pub piece: u32,
    /// Of how many pieces: 1 where it is cut whole.
    pub pieces: u32,
    /// In millimetres, overlaps included.
    pub length: f64,
}

/// A run that is on no roll.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Unplaced {
    /// Which run, as a place in [`super::Task::runs`].
    pub run: usize,
    /// Which copy of it, from 1.
    pub copy: u32,
}

impl Plan {
    /// How often runs are joined.
    pub fn joints(&self) -> u32 {
        let cuts = self.rolls.iter().flat_map(|roll| &roll.cuts);
        cuts.filter(|cut| cut.piece > 1).count() as u32
    }

    /// What is left on all rolls that are cut, in millimetres.
    pub fn left(&self) -> f64 {
        self.rolls.iter().map(|roll| roll.left).sum()
    }

    /// The longest piece that is left, in millimetres.
    pub fn longest_left(&self) -> f64 {
        self.rolls.iter().map(|roll| roll.left).fold(0.0, f64::max)
    }
}
