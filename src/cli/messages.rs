//! Messages for the person, on the error stream, so that results can be piped.

use std::fmt::Display;
use std::io::Write;

use anstyle::{AnsiColor, Style};

use crate::job::Caution;
use crate::plan::UnplacedPiece;
use crate::plan::ledger::Log;
use crate::wording::counted;

const ERROR: Style = AnsiColor::Red.on_default().bold();
const CAUTION: Style = AnsiColor::Yellow.on_default().bold();

/// Says what is wrong.
pub(super) fn error(message: &str) {
    say(&format!("{ERROR}error:{ERROR:#} {message}"));
}

/// The cautions of a job in words, each with its place and none twice.
pub(super) fn of_job(cautions: &[Caution]) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for caution in cautions.iter().map(Caution::to_string) {
        if !words.contains(&caution) {
            words.push(caution);
        }
    }
    words
}

/// Says one thing that is risky.
pub(super) fn caution(caution: &(impl Display + ?Sized)) {
    say(&format!("{CAUTION}caution:{CAUTION:#} {caution}"));
}

/// Says what is risky, one line each, and how many there are.
pub(super) fn cautions<T: Display>(cautions: &[T]) {
    cautions.iter().for_each(|one| caution(one));
    if !cautions.is_empty() {
        say(&counted(cautions.len(), "caution", "cautions"));
    }
}

/// Tells what of a log cannot be read.
pub(super) fn set_aside(log: &Log) {
    for line in &log.set_aside {
        let text: String = line.text.chars().take(60).collect();
        caution(&format!(
            "line {} of the log cannot be read, since {}; it stays in the file and counts for nothing: {text}…\n  Look \
             whether what it said is missing, and enter that again",
            line.line, line.why
        ));
    }
    if log.open_end && log.set_aside.last().is_none_or(|line| line.line != log.lines) {
        caution(&format!(
            "line {} of the log has no end, as after a power cut, but all of it is there: it counts",
            log.lines
        ));
    }
}

/// Says which copies have no place, in one line for copies of a piece that share the reason.
pub(super) fn unplaced(unplaced: &[UnplacedPiece]) {
    for alike in unplaced.chunk_by(|one, next| one.piece == next.piece && one.why == next.why) {
        let copies = match alike {
            [only] => format!("copy {} has", only.copy),
            several => format!("copies {} have", numbers(several.iter().map(|piece| piece.copy))),
        };
        error(&format!("“{}”, {copies} no place: {}", alike[0].piece, alike[0].why));
    }
}

/// `1 to 4, 7, 9 and 10`.
pub(super) fn numbers(numbers: impl Iterator<Item = u32>) -> String {
    let numbers: Vec<u32> = numbers.collect();
    let runs = numbers.chunk_by(|one, next| one + 1 == *next).map(|run| match run {
        [one, two] => format!("{one} and {two}"),
        [first, .., last] => format!("{first} to {last}"),
        short => short.iter().map(u32::to_string).collect(),
    });
    runs.collect::<Vec<_>>().join(", ")
}

/// Says something.
pub(super) fn say(message: &str) {
    // When not even the error stream can be written, there is nowhere left to say so.
    let _ = writeln!(anstream::stderr(), "{message}");
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn runs_of_copies_are_told_in_short() {
        assert_eq!(numbers([3, 4, 5, 9, 11, 12].into_iter()), "3 to 5, 9, 11 and 12");
        assert_eq!(numbers([2].into_iter()), "2");
    }
}
