//! The plan: what is wanted in order, rolls for it, and the cuts of each roll.

use super::plan::{Cut, CutRoll, Plan, Unplaced};
use super::search::{Copy, Found, Laid, Wanted, search};
use super::task::{Roll, Task, TaskFault, ticks_wanted};
use super::{Proof, TICKS, Ticks};

/// Works out what to buy and what to cut from each roll.
///
/// The same task and effort give the same plan. More effort lets the search go on for longer before it takes a simple plan;
/// no effort at all takes one at once.
///
/// # Errors
/// [`TaskFault`] where the task makes no sense. Runs that no roll holds, and those for which there is not enough, come back
/// as [`Plan::unplaced`].
pub fn cut(task: &Task, effort: u64) -> Result<Plan, TaskFault> {
    task.check()?;
    let (mut wanted, mut unplaced) = wanted(task);
    loop {
        if let Some(found) = search(task, &wanted, effort) {
            return Ok(written(task, &found, unplaced));
        }
        // There is not enough of it. The shortest run is done without: nothing else is replaced as easily.
        let Some(copy) = wanted.drop_shortest() else {
            let none = Found { rolls: Vec::new(), laid: Vec::new(), proof: Proof::Least };
            return Ok(written(task, &none, unplaced));
        };
        unplaced.push(Unplaced { run: copy.run, copy: copy.copy });
    }
}

impl Wanted {
    fn drop_shortest(&mut self) -> Option<Copy> {
        let whole = self.whole.last().map(|copy| copy.length);
        let joinable = self.joinable.last().map(|(copy, _)| copy.length);
        match (whole, joinable) {
            (Some(whole), Some(joinable)) if whole < joinable => self.whole.pop(),
            (Some(_), None) => self.whole.pop(),
            _ => self.joinable.pop().map(|(copy, _)| copy),
        }
    }
}

/// What is to be cut, and what no roll holds.
fn wanted(task: &Task) -> (Wanted, Vec<Unplaced>) {
    let longest = task.rolls.iter().map(Roll::ticks).max().unwrap_or(0);
    let mut wanted = Wanted::default();
    let mut unplaced = Vec::new();
    for (run, wants) in task.runs.iter().enumerate() {
        let length = ticks_wanted(wants.length);
        for copy in 1..=wants.count {
            let one = Copy { run, copy, length };
            match wants.joinable() {
                Some(joinable) if joinable.comes_out(longest) => wanted.joinable.push((one, joinable)),
                Some(_) => unplaced.push(Unplaced { run, copy }),
                None if length > longest => unplaced.push(Unplaced { run, copy }),
                None => wanted.whole.push(one),
            }
        }
    }
    wanted.whole.sort_by_key(|copy| (-copy.length, copy.run, copy.copy));
    wanted.joinable.sort_by_key(|(copy, _)| (-copy.length, copy.run, copy.copy));
    (wanted, unplaced)
}

/// The plan as it is told: rolls in the order of their kinds, the cuts of each in the order of the runs.
fn written(task: &Task, found: &Found, mut unplaced: Vec<Unplaced>) -> Plan {
    let rolls = &found.rolls;
    let mut order: Vec<usize> = (0..rolls.len()).collect();
    order.sort_by_key(|roll| rolls[*roll]);
    let cut_roll = |roll: usize| {
        let mut on_it: Vec<&Laid> = found.laid.iter().filter(|laid| laid.roll == roll).collect();
        on_it.sort_by_key(|laid| (laid.copy.run, laid.copy.copy, laid.piece));
        let used: Ticks = on_it.iter().map(|laid| laid.length).sum();
        let left = (task.rolls[rolls[roll]].ticks() - used) as f64 / TICKS;
        let cuts = on_it.into_iter().map(|laid| Cut {
            run: laid.copy.run,
            copy: laid.copy.copy,
            piece: laid.piece,
            pieces: laid.pieces,
            length: laid.length as f64 / TICKS,
        });
        CutRoll { roll: rolls[roll], cuts: cuts.collect(), left }
    };
    let rolls: Vec<CutRoll> = order.into_iter().map(cut_roll).filter(|roll| !roll.cuts.is_empty()).collect();
    let cost = rolls.iter().map(|roll| task.rolls[roll.roll].price).sum();
    unplaced.sort_by_key(|one| (one.run, one.copy));
    Plan { rolls, unplaced, cost, proof: found.proof }
}
