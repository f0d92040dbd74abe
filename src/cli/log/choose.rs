//! Which copies of which pieces somebody means.

use super::args::Pieces;
use super::names::{meant, wrong};
use super::{Desk, Stop};
use crate::cli::messages::numbers;
use crate::plan::ledger::{CountedPiece, Stage};
use crate::wording::counted;

/// Copies of a piece.
pub(super) struct Chosen<'a> {
    pub counted: &'a CountedPiece,
    pub copies: Vec<u32>,
}

impl Chosen<'_> {
    pub fn name(&self) -> &str {
        &self.counted.piece.name
    }

    /// `“doily”, copies 1 to 3 of 24`.
    pub fn words(&self) -> String {
        let quantity = self.counted.piece.quantity;
        match self.copies.as_slice() {
            [_] if quantity == 1 => format!("“{}”", self.name()),
            [one] => format!("“{}”, copy {one} of {quantity}", self.name()),
            several => format!("“{}”, copies {} of {quantity}", self.name(), numbers(several.iter().copied())),
        }
    }
}

/// What may be done to a copy, as far as the log knows.
pub(super) struct Rule {
    /// Which stages it may be done in.
    pub from: &'static [Stage],
    /// What it is: `cut`.
    pub doing: &'static str,
    /// Whether it is done to all copies where nobody says to which.
    pub to_all: bool,
}

pub(super) const CUT: Rule = Rule { from: &[Stage::ToCut], doing: "cut", to_all: true };
pub(super) const GLUED: Rule = Rule { from: &[Stage::Cut], doing: "glued", to_all: true };
pub(super) const FINISHED: Rule = Rule { from: &[Stage::Cut, Stage::Glued], doing: "finished", to_all: true };
pub(super) const SPOILED: Rule =
    Rule { from: &[Stage::Cut, Stage::Glued, Stage::Finished], doing: "spoiled", to_all: false };

/// The pieces with their copies.
pub(super) fn choose<'a>(desk: &Desk<'a>, asked: &Pieces, rule: &Rule) -> Result<Vec<Chosen<'a>>, Stop> {
    let mut chosen: Vec<Chosen> = Vec::new();
    for counted in
        asked.pieces.iter().map(|typed| meant_pieces(desk, typed, asked, rule)).collect::<Result<Vec<_>, _>>()?.concat()
    {
        if chosen.iter().all(|before| before.name() != counted.piece.name) {
            let copies = copies(desk, counted, asked, rule)?;
            chosen.push(Chosen { counted, copies });
        }
    }
    Ok(chosen)
}

/// A piece; or, by the name of a part, all of its pieces for which it makes sense.
fn meant_pieces<'a>(desk: &Desk<'a>, typed: &str, asked: &Pieces, rule: &Rule) -> Result<Vec<&'a CountedPiece>, Stop> {
    let of_part = |counted: &&CountedPiece| counted.part.to_lowercase() == typed.trim().to_lowercase();
    let of_part: Vec<&CountedPiece> = desk.pieces.iter().filter(of_part).collect();
    let is_piece = desk.pieces.iter().any(|counted| counted.piece.name == typed);
    if is_piece || of_part.is_empty() || asked.copies.is_some() || asked.count.is_some() || !rule.to_all {
        return Ok(vec![piece(desk, typed)?]);
    }
    let fits = |counted: &&CountedPiece| {
        (1..=counted.piece.quantity).any(|copy| rule.from.contains(&desk.standing.stage(&counted.piece.name, copy)))
    };
    let fitting: Vec<&CountedPiece> = of_part.into_iter().filter(fits).collect();
    if fitting.is_empty() {
        Err(wrong(format!("of “{typed}” nothing can be {} now", rule.doing)))
    } else {
        Ok(fitting)
    }
}

/// A piece by its number or its name.
pub(super) fn piece<'a>(desk: &Desk<'a>, typed: &str) -> Result<&'a CountedPiece, Stop> {
    let names: Vec<&str> = desk.pieces.iter().map(|counted| counted.piece.name.as_str()).collect();
    let by_name = |name: &str| desk.pieces.iter().find(|counted| counted.piece.name == name);
    if let Some(exact) = by_name(typed) {
        return Ok(exact);
    }
    if let Ok(number) = typed.trim().parse::<usize>() {
        let there = number.checked_sub(1).and_then(|index| desk.pieces.get(index));
        return there.ok_or_else(|| wrong(format!("there is no piece {number}; they go from 1 to {}", names.len())));
    }
    let name = meant("piece", typed, &names)?;
    by_name(name).ok_or_else(|| wrong(format!("there is no piece “{typed}”")))
}

fn copies(desk: &Desk, counted_piece: &CountedPiece, asked: &Pieces, rule: &Rule) -> Result<Vec<u32>, Stop> {
    let piece = &counted_piece.piece;
    if let Some(list) = &asked.copies {
        let copies = copy_list(list)?;
        if let Some(beyond) = copies.iter().find(|copy| **copy > piece.quantity) {
            let there = counted(piece.quantity, "copy", "copies");
            return Err(wrong(format!("“{}” has {there}, and no copy {beyond}", piece.name)));
        }
        // A lay in use may have no place for what is cut already, and would be blamed for it.
        let cut_before = copies.iter().find(|copy| !waits(desk, &piece.name, **copy));
        return match cut_before.filter(|_| rule.from.contains(&Stage::ToCut)) {
            None => Ok(copies),
            Some(copy) => Err(cut_already(desk, &piece.name, *copy)),
        };
    }
    let may = |copy: &u32| rule.from.contains(&desk.standing.stage(&piece.name, *copy));
    let fitting: Vec<u32> = (1..=piece.quantity).filter(may).collect();
    let several = || format!("copies {} of “{}”", numbers(fitting.iter().copied()), piece.name);
    match asked.count {
        Some(count) if fitting.len() < count as usize => {
            let may = match fitting.len() {
                0 => "no copy".to_owned(),
                few => format!("only {}", counted(few, "copy", "copies")),
            };
            Err(wrong(format!("{may} of “{}” can be {} now", piece.name, rule.doing)))
        }
        Some(count) => Ok(fitting.into_iter().take(count as usize).collect()),
        None if fitting.is_empty() => Err(none_left(desk, counted_piece, rule)),
        None if fitting.len() > 1 && !rule.to_all => {
            Err(wrong(format!("which of {} is {}? Add --copies or --count", several(), rule.doing)))
        }
        None => Ok(fitting),
    }
}

fn waits(desk: &Desk, piece: &str, copy: u32) -> bool {
    desk.standing.stage(piece, copy) == Stage::ToCut
}

/// With the day and the line of its cut.
fn cut_already(desk: &Desk, piece: &str, copy: u32) -> Stop {
    let cut = desk.standing.cuts.iter().rfind(|cut| cut.piece == piece && cut.copy == copy);
    let entry = cut.and_then(|cut| desk.log.entries.iter().find(|entry| entry.line == cut.line));
    let when = entry.map_or(String::new(), |entry| format!(" (cut on {}, line {})", entry.date, entry.line));
    let stage = desk.standing.stage(piece, copy);
    wrong(format!("“{piece}”, copy {copy} is {stage} already{when}; if it was spoiled, log that first"))
}

fn none_left(desk: &Desk, counted_piece: &CountedPiece, rule: &Rule) -> Stop {
    let piece = &counted_piece.piece;
    let mut stages: Vec<Stage> = (1..=piece.quantity).map(|copy| desk.standing.stage(&piece.name, copy)).collect();
    stages.sort_unstable();
    stages.dedup();
    let all = if piece.quantity == 1 { "it is" } else { "its copies are" };
    let waits = stages.contains(&Stage::ToCut).then(|| "still to be cut".to_owned());
    stages.retain(|stage| *stage != Stage::ToCut);
    let done: Vec<String> = stages.iter().map(ToString::to_string).collect();
    let done = (!done.is_empty()).then(|| format!("{} already", done.join(" or ")));
    let stages: Vec<String> = waits.into_iter().chain(done).collect();
    wrong(format!("“{}” cannot be {} now: {all} {}", piece.name, rule.doing, stages.join(" or ")))
}

/// `1,4-6` as numbers.
fn copy_list(text: &str) -> Result<Vec<u32>, Stop> {
    const MOST: u32 = 100_000;
    let number = |text: &str| text.trim().parse::<u32>().ok().filter(|number| (1..=MOST).contains(number));
    let run = |item: &str| match item.split_once('-') {
        None => number(item).map(|one| one..=one),
        Some((first, last)) => number(first).zip(number(last)).filter(|(a, b)| a <= b).map(|(a, b)| a..=b),
    };
    let runs: Option<Vec<_>> = text.split(',').map(run).collect();
    let runs = runs.ok_or_else(|| wrong(format!("{text:?} is no list of copies; write it like 2 or 1,4-6")))?;
    let mut copies: Vec<u32> = runs.into_iter().flatten().collect();
    copies.sort_unstable();
    copies.dedup();
    Ok(copies)
}
