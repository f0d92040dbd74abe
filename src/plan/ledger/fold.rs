//! From the lines of the log to how things stand.

use std::collections::BTreeSet;

use super::{Copy, CutCopy, Entry, Event, FoundCloth, Log, Noted, Oddity, Stage, Standing, TapeKind, TapeStanding};
use crate::plan::LaidPiece;

/// Reads how things stand from the lines of a log, in their order. Any lines will do: one that makes no sense after those
/// above it is told in [`Standing::oddities`] and has no effect.
pub fn fold(entries: &[Entry]) -> Standing {
    let (undone, mut oddities) = without(entries);
    let mut standing = Standing::default();
    for entry in entries.iter().filter(|entry| !undone.contains(&entry.line)) {
        if let Err(oddity) = standing.take(entry) {
            oddities.push((entry.line, oddity));
        }
    }
    let taken_back = entries.iter().filter(|entry| undone.contains(&entry.line));
    for entry in taken_back {
        if let Event::Bought { name, .. } = &entry.event
            && !standing.has_cloth(name)
        {
            standing.never_bought.insert(name.clone(), entry.line);
        }
    }
    oddities.sort_by_key(|(line, _)| *line);
    standing.tape.sort_by(|one, other| one.tape.order(&other.tape));
    Standing { oddities, ..standing }
}

/// The lines that do not count. Who comes last is right: an undo that is itself undone takes nothing back.
fn without(entries: &[Entry]) -> (BTreeSet<usize>, Vec<(usize, Oddity)>) {
    let mut undone = BTreeSet::new();
    let mut oddities = Vec::new();
    for (place, entry) in entries.iter().enumerate().rev() {
        let Event::Undo { line } = entry.event else { continue };
        if undone.contains(&entry.line) {
            continue;
        }
        let is_there = entries[..place].iter().any(|earlier| earlier.line == line);
        if !is_there || !undone.insert(line) {
            oddities.push((entry.line, Oddity::NothingToUndo { line }));
        }
    }
    (undone, oddities)
}

impl Log {
    /// The lines that were undone.
    pub fn undone(&self) -> BTreeSet<usize> {
        without(&self.entries).0
    }
}

impl Standing {
    /// Takes in a line, or answers why it makes no sense and leaves everything as it was.
    fn take(&mut self, entry: &Entry) -> Result<(), Oddity> {
        match &entry.event {
            Event::Lay { file } => self.lay = Some(file.clone()),
            Event::Cut { piece, copies, cloth, size, laid } => {
                let cut = Cutting { line: entry.line, piece, copies, cloth: cloth.as_deref(), size: *size, laid };
                self.cut(&cut)?;
            }
            Event::Glued { piece, copies } => self.advance(piece, copies, Stage::Glued)?,
            Event::Finished { piece, copies } => self.advance(piece, copies, Stage::Finished)?,
            Event::Spoiled { piece, copies, .. } => self.spoil(piece, copies)?,
            Event::Tape { tape, length, .. } => self.tape(*tape).used += length,
            Event::BoughtTape { tape, length } => self.tape(*tape).bought += length,
            Event::Bought { cloth, name, length } => {
                self.check_new(name)?;
                self.bought.entry(cloth.clone()).or_default().push((name.clone(), *length));
            }
            Event::Found { name, of, outline } => {
                self.check_new(name)?;
                self.found.push(FoundCloth { name: name.clone(), of: of.clone(), outline: outline.clone() });
            }
            Event::Gone { cloth, up_to } => self.throw_away(cloth, *up_to)?,
            Event::Hours { part, step, hours } => {
                *self.hours.entry((part.clone(), *step)).or_default() += hours;
            }
            Event::Note { text, part } => {
                let noted = Noted { line: entry.line, date: entry.date, text: text.clone(), part: part.clone() };
                self.notes.push(noted);
            }
            Event::Renamed { from, to } => self.rename(from, to)?,
            Event::Undo { .. } => {}
        }
        Ok(())
    }

    fn cut(&mut self, cut: &Cutting) -> Result<(), Oddity> {
        for copy in once_each(cut.copies) {
            let stage = self.stage(cut.piece, copy);
            if stage != Stage::ToCut {
                return Err(Oddity::NotToCut { piece: cut.piece.to_owned(), copy, stage });
            }
            self.check_place(cut, copy)?;
        }
        for copy in once_each(cut.copies) {
            let copies = self.pieces.entry(cut.piece.to_owned()).or_default();
            let spoiled = copies.get(&copy).map_or(0, |copy| copy.spoiled);
            copies.insert(copy, Copy { stage: Stage::Cut, spoiled, size: cut.size });
            self.cuts.push(CutCopy {
                line: cut.line,
                piece: cut.piece.to_owned(),
                copy,
                cloth: cut.cloth.map(str::to_owned),
                laid: cut.laid_copy(copy).cloned(),
            });
        }
        Ok(())
    }

    /// Cloth that is gone is not cut, and no place of a lay twice: a copy that was spoiled lies somewhere else.
    fn check_place(&self, cut: &Cutting, copy: u32) -> Result<(), Oddity> {
        let Some(cloth) = cut.cloth else { return Ok(()) };
        if self.gone.contains(cloth) {
            return Err(Oddity::ClothGone { name: cloth.to_owned() });
        }
        let Some(laid) = cut.laid_copy(copy) else { return Ok(()) };
        if self.gone_there(cloth, laid).is_some() {
            return Err(Oddity::PlaceGone { piece: cut.piece.to_owned(), copy, cloth: cloth.to_owned() });
        }
        let there = |before: &&CutCopy| {
            before.cloth.as_deref() == Some(cloth)
                && before.laid.as_ref().is_some_and(|before| before.outline == laid.outline)
        };
        match self.cuts.iter().find(there) {
            None => Ok(()),
            Some(before) => Err(Oddity::CutTwice {
                piece: cut.piece.to_owned(),
                copy,
                other: before.piece.clone(),
                cloth: cloth.to_owned(),
            }),
        }
    }

    fn advance(&mut self, piece: &str, copies: &[u32], to: Stage) -> Result<(), Oddity> {
        for copy in once_each(copies) {
            let stage = self.stage(piece, copy);
            if stage == Stage::ToCut {
                return Err(Oddity::NotCut { piece: piece.to_owned(), copy });
            }
            if stage >= to {
                return Err(Oddity::Already { piece: piece.to_owned(), copy, stage });
            }
        }
        self.change(piece, copies, |copy| copy.stage = to);
        Ok(())
    }

    fn spoil(&mut self, piece: &str, copies: &[u32]) -> Result<(), Oddity> {
        if let Some(copy) = once_each(copies).into_iter().find(|copy| self.stage(piece, *copy) == Stage::ToCut) {
            return Err(Oddity::NotCut { piece: piece.to_owned(), copy });
        }
        self.change(piece, copies, |copy| {
            copy.stage = Stage::ToCut;
            copy.spoiled += 1;
        });
        Ok(())
    }

    fn change(&mut self, piece: &str, copies: &[u32], change: impl Fn(&mut Copy)) {
        let Some(there) = self.pieces.get_mut(piece) else { return };
        for copy in once_each(copies) {
            there.get_mut(&copy).into_iter().for_each(&change);
        }
    }

    fn tape(&mut self, tape: TapeKind) -> &mut TapeStanding {
        let place = self.tape.iter().position(|standing| standing.tape == tape).unwrap_or_else(|| {
            self.tape.push(TapeStanding { tape, bought: 0.0, used: 0.0 });
            self.tape.len() - 1
        });
        &mut self.tape[place]
    }

    fn check_new(&self, name: &str) -> Result<(), Oddity> {
        if self.has_cloth(name) { Err(Oddity::ClothTwice { name: name.to_owned() }) } else { Ok(()) }
    }

    fn throw_away(&mut self, cloth: &str, up_to: Option<f64>) -> Result<(), Oddity> {
        if self.gone.contains(cloth) {
            return Err(Oddity::ClothGone { name: cloth.to_owned() });
        }
        match up_to {
            None => {
                self.gone.insert(cloth.to_owned());
            }
            Some(up_to) => {
                let most = self.gone_up_to.entry(cloth.to_owned()).or_default();
                *most = most.max(up_to);
            }
        }
        Ok(())
    }

    /// A piece and a part may be renamed alike; what has the name of neither is left alone.
    fn rename(&mut self, from: &str, to: &str) -> Result<(), Oddity> {
        if from == to {
            return Ok(());
        }
        if self.pieces.contains_key(from) && self.pieces.contains_key(to) {
            return Err(Oddity::BothThere { from: from.to_owned(), to: to.to_owned() });
        }
        if let Some(copies) = self.pieces.remove(from) {
            self.pieces.insert(to.to_owned(), copies);
        }
        for cut in self.cuts.iter_mut().filter(|cut| cut.piece == from) {
            to.clone_into(&mut cut.piece);
        }
        let moved: Vec<_> = self.hours.keys().filter(|(part, _)| part == from).cloned().collect();
        for key in moved {
            let hours = self.hours.remove(&key).unwrap_or_default();
            *self.hours.entry((to.to_owned(), key.1)).or_default() += hours;
        }
        let named = self.notes.iter_mut().filter_map(|note| note.part.as_mut()).filter(|part| *part == from);
        named.for_each(|part| to.clone_into(part));
        Ok(())
    }
}

/// The line of a cut.
struct Cutting<'a> {
    line: usize,
    piece: &'a str,
    copies: &'a [u32],
    cloth: Option<&'a str>,
    size: [f64; 2],
    laid: &'a [LaidPiece],
}

impl Cutting<'_> {
    fn laid_copy(&self, copy: u32) -> Option<&LaidPiece> {
        self.laid.iter().find(|laid| laid.copy == copy)
    }
}

fn once_each(copies: &[u32]) -> BTreeSet<u32> {
    copies.iter().copied().collect()
}
