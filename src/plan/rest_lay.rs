//! The rest of a job laid anew: what was cut stays, what can stay of the earlier lay stays, and all else finds a place.

use std::collections::{BTreeMap, BTreeSet};

use super::ledger::{Rest, laid_outline, stock_name};
use super::work::{cautions_of, named};
use super::{ClothAccount, LaidCloth, LaidPiece, LayFile, PlanFault, RestOf, UnplacedPiece, account, record, task};
use crate::job::Piece;
use crate::nest::{self, Budget, Ending, Task, Watch};
use crate::shape::{Join, Outline, grown};

/// A lay of the rest, not yet checked.
#[derive(Clone, Debug, PartialEq)]
pub struct RestLay {
    /// The lay as it is written; cloths are those of [`Rest::job`].
    pub file: LayFile,
    /// One account for each cloth of the lay, in the same order.
    pub accounts: Vec<ClothAccount>,
    /// Why the search ended.
    pub ending: Ending,
    /// The pieces that lie otherwise than in the earlier lay.
    pub changes: Vec<Change>,
    /// How many pieces lie as they did.
    pub kept: usize,
}

/// A piece that lies otherwise than in the earlier lay.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Change {
    /// Its name.
    pub piece: String,
    /// Which copy.
    pub copy: u32,
    /// The cloth that it lay on; `None` where the earlier lay had no place for it.
    pub from: Option<String>,
    /// The cloth that it lies on now; `None` where it has no place.
    pub to: Option<String>,
}

/// How the rest is named and how hard to look.
#[derive(Clone, Debug)]
pub struct RestWish<'a> {
    /// How the lay file names the job.
    pub job_path: &'a str,
    /// How many lines of the log were read.
    pub lines: usize,
    /// How hard to look.
    pub budget: &'a Budget,
}

/// Pieces of the earlier lay that may stay, by the name of their cloth.
pub type Kept = BTreeMap<String, Vec<LaidPiece>>;

/// The pieces of an earlier lay that are still to be cut and whose cloth is still there. Whether they may stay is for the
/// check to say.
pub fn kept_of(earlier: &LayFile, rest: &Rest) -> Kept {
    let mut kept = Kept::new();
    for cloth in &earlier.cloths {
        let name = stock_name(&cloth.cloth, cloth.number);
        if !rest.job.cloth.iter().any(|there| there.name == name) {
            continue;
        }
        let left = |laid: &&LaidPiece| rest.copies.get(&laid.piece).is_some_and(|copies| copies.contains(&laid.copy));
        kept.entry(name).or_default().extend(cloth.pieces.iter().filter(left).cloned());
    }
    kept
}

/// The kept pieces alone as a lay, for the check.
pub fn kept_lay(rest: &Rest, kept: &Kept, wish: &RestWish) -> LayFile {
    let empty = nest::Lay { cloths: Vec::new(), unplaced: Vec::new(), ending: Ending::EffortSpent, trials: 0 };
    let mut file = record(&rest.job, &rest.pieces, &empty, wish.job_path, wish.budget, Vec::new());
    merge(&mut file, rest, kept);
    file.rest = Some(RestOf { lines: wish.lines });
    file
}

/// Lays what is left: the kept pieces where they are, all others onto the cloth that these leave free.
///
/// # Errors
/// [`PlanFault`] where the rest makes no task for the engine.
pub fn lay_rest(
    rest: &Rest,
    kept: &Kept,
    earlier: Option<&LayFile>,
    wish: &RestWish,
    watch: &dyn Watch,
) -> Result<RestLay, PlanFault> {
    let (movers, numbers) = movers(rest, kept);
    let answer = if movers.is_empty() {
        nest::Lay { cloths: Vec::new(), unplaced: Vec::new(), ending: Ending::EffortSpent, trials: 0 }
    } else {
        let task = with_cloth_gone(task(&rest.job, &movers)?, rest, kept)?;
        nest::lay(&task, wish.budget, watch).map_err(|fault| named(&rest.job, &movers, &fault))?
    };
    let mut file = record(&rest.job, &movers, &answer, wish.job_path, wish.budget, Vec::new());
    renumber(&mut file, &numbers);
    file.unplaced.extend(without_cloth(rest));
    merge(&mut file, rest, kept);
    file.rest = Some(RestOf { lines: wish.lines });
    let cloth = |laid: &LaidCloth| rest.job.cloth.iter().find(|cloth| cloth.name == laid.cloth);
    let accounts: Vec<ClothAccount> =
        file.cloths.iter().filter_map(|laid| Some(account(cloth(laid)?, laid, &rest.pieces))).collect();
    file.cautions = rest.cautions.iter().cloned().chain(cautions_of(&rest.job, &accounts)).collect();
    let changes = earlier.map_or_else(Vec::new, |earlier| changes(earlier, &file, rest));
    let kept = kept.values().map(Vec::len).sum();
    Ok(RestLay { file, accounts, ending: answer.ending, changes, kept })
}

/// The copies for which no cloth is left, each with why.
fn without_cloth(rest: &Rest) -> impl Iterator<Item = UnplacedPiece> {
    rest.pieces.iter().filter_map(|piece| Some((piece, rest.no_cloth_for(piece)?))).flat_map(|(piece, why)| {
        let copies = rest.copies.get(&piece.name).into_iter().flatten();
        copies.map(move |copy| UnplacedPiece { piece: piece.name.clone(), copy: *copy, why: why.clone() })
    })
}

/// The pieces that need a place and can have one, and the numbers of their copies.
fn movers(rest: &Rest, kept: &Kept) -> (Vec<Piece>, BTreeMap<String, Vec<u32>>) {
    let stay: BTreeSet<(&str, u32)> = kept.values().flatten().map(|laid| (laid.piece.as_str(), laid.copy)).collect();
    let (mut movers, mut numbers) = (Vec::new(), BTreeMap::new());
    for piece in rest.pieces.iter().filter(|piece| rest.no_cloth_for(piece).is_none()) {
        let copies = rest.copies.get(&piece.name).into_iter().flatten().copied();
        let copies: Vec<u32> = copies.filter(|copy| !stay.contains(&(piece.name.as_str(), *copy))).collect();
        if !copies.is_empty() {
            movers.push(Piece { quantity: copies.len() as u32, ..piece.clone() });
            numbers.insert(piece.name.clone(), copies);
        }
    }
    (movers, numbers)
}

/// Adds what was cut and what stays to the ground that nothing may lie on, each with the gap round it: the flaws of a
/// cloth may be touched, other cut lines not.
fn with_cloth_gone(task: Task, rest: &Rest, kept: &Kept) -> Result<Task, PlanFault> {
    let gap = task.gap;
    let mut task = task;
    for ((cloth, of_job), cut) in task.cloths.iter_mut().zip(&rest.job.cloth).zip(&rest.cut) {
        let fault = |fault| PlanFault::ClothOutline { cloth: of_job.name.clone(), fault };
        let stays = kept.get(&of_job.name).into_iter().flatten().map(laid_outline);
        let stays: Vec<Outline> = stays.collect::<Result<_, _>>().map_err(fault)?;
        let wide = |outline: &Outline| if gap > 0.0 { grown(outline, gap, Join::Round) } else { Ok(outline.clone()) };
        for outline in cut.iter().chain(&stays) {
            cloth.flaws.push(wide(outline).map_err(fault)?);
        }
    }
    Ok(task)
}

/// Gives the copies of the engine, which count from 1, the numbers of those that are left.
fn renumber(file: &mut LayFile, numbers: &BTreeMap<String, Vec<u32>>) {
    let number = |piece: &str, copy: u32| {
        let of_piece = numbers.get(piece).and_then(|numbers| numbers.get(copy.checked_sub(1)? as usize));
        of_piece.copied().unwrap_or(copy)
    };
    for laid in file.cloths.iter_mut().flat_map(|cloth| &mut cloth.pieces) {
        laid.copy = number(&laid.piece, laid.copy);
    }
    for unplaced in &mut file.unplaced {
        unplaced.copy = number(&unplaced.piece, unplaced.copy);
    }
}

/// Adds the kept pieces to a lay; cloths are in the order of the job.
fn merge(file: &mut LayFile, rest: &Rest, kept: &Kept) {
    for (name, pieces) in kept.iter().filter(|(_, pieces)| !pieces.is_empty()) {
        let Some(cloth) = rest.job.cloth.iter().find(|cloth| cloth.name == *name) else { continue };
        let place = file.cloths.iter().position(|laid| laid.cloth == *name).unwrap_or_else(|| {
            file.cloths.push(LaidCloth::empty(cloth));
            file.cloths.len() - 1
        });
        file.cloths[place].pieces.extend(pieces.iter().cloned());
        file.cloths[place].measure(cloth, &rest.pieces);
    }
    let order = |laid: &LaidCloth| rest.job.cloth.iter().position(|cloth| cloth.name == laid.cloth);
    file.cloths.sort_by_key(order);
}

/// A cloth and the outline of a piece on it.
type Place = (String, Vec<[f64; 2]>);
/// Where each copy of each piece lies.
type Places = BTreeMap<(String, u32), Place>;

/// The pieces that lie otherwise than they did.
fn changes(earlier: &LayFile, now: &LayFile, rest: &Rest) -> Vec<Change> {
    let places = |lay: &LayFile| -> Places {
        let cloths = lay.cloths.iter().flat_map(|cloth| {
            let name = stock_name(&cloth.cloth, cloth.number);
            cloth.pieces.iter().map(move |laid| ((laid.piece.clone(), laid.copy), (name.clone(), laid.outline.clone())))
        });
        cloths.collect()
    };
    let (before, after) = (places(earlier), places(now));
    let copies = rest.pieces.iter().flat_map(|piece| {
        let copies = rest.copies.get(&piece.name).into_iter().flatten();
        copies.map(|copy| (piece.name.clone(), *copy))
    });
    let moved = copies.filter(|copy| before.get(copy) != after.get(copy));
    let cloth = |place: Option<&Place>| place.map(|(cloth, _)| cloth.clone());
    moved
        .map(|key| Change { from: cloth(before.get(&key)), to: cloth(after.get(&key)), piece: key.0, copy: key.1 })
        .collect()
}

/// Whether one lay of the rest is worth more changes than another: it leaves fewer pieces without a place, or needs less
/// cloth to be bought.
pub fn is_worth_it(more_changes: &RestLay, fewer_changes: &RestLay, rest: &Rest) -> bool {
    /// Less cloth than this is not worth looking for every piece in a new place.
    const WORTH: f64 = 50.0;
    let left = [more_changes, fewer_changes].map(|lay| lay.file.unplaced.len());
    left[0] < left[1] || (left[0] == left[1] && to_buy(more_changes, rest) + WORTH < to_buy(fewer_changes, rest))
}

/// Millimetres of cloth that a lay of the rest needs and that must be bought.
pub fn to_buy(lay: &RestLay, rest: &Rest) -> f64 {
    let bought = lay.file.cloths.iter().filter(|laid| rest.to_buy.contains(&laid.cloth));
    bought.map(|laid| laid.length_used).sum()
}
