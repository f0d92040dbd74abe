//! The table beside the faces: a line or two for each thing, drains two to a line.

use super::super::ink::Anchor;
use super::LETTERS;
use super::layout::COLUMN;
use super::list::{Line, plain, width};
use crate::job::Job;
use crate::plan::{MapKind, MapRow, laces_apart, tape_measure};

/// From the left edge of a column, in millimetres of paper: where words begin, and where the last three cells end.
const WORDS: f64 = 17.0;
const TAPE_WORDS: f64 = 9.0;
const FROM: f64 = 61.0;
const ALONG: f64 = 78.0;
const SQUARE: f64 = COLUMN;
/// The same for things that stand two to a line: the cells of one of them, and how far the next one is.
const PAIR: [f64; 3] = [15.0, 30.0, 45.0];
const NEXT: f64 = COLUMN - PAIR[2];

/// The head of the rows of a kind.
pub(super) fn heading(job: &Job, kind: MapKind, first: &MapRow) -> Vec<Line> {
    let words = match kind {
        MapKind::Patch => "Patches, to their middles".to_owned(),
        MapKind::Ring => "Rings, to their middles".to_owned(),
        MapKind::Tape => return vec![Line::Heading("Tapes, in the order of the work".to_owned())],
        MapKind::Laces => "Laces, to the first of each rib; the others lie farther from that edge".to_owned(),
        MapKind::Drain => {
            let patched = first.notes.first().and_then(|note| note.split(" over it, ").nth(1));
            let patch = patched.map_or(String::new(), |size| format!(", patch {size}"));
            let words = format!("Drain holes {}{patch}, to their middles", first.size_words(job.units));
            let named = |at: f64| {
                let cells = [(PAIR[0], "from"), (PAIR[1], "along"), (PAIR[2], "square")];
                cells.map(|(cell, word)| (at + cell, Anchor::End, word.to_owned()))
            };
            return vec![Line::Heading(words), Line::Head([named(0.0), named(NEXT)].concat())];
        }
    };
    let cells = [(FROM, "from"), (ALONG, "along"), (SQUARE, "square")];
    let named = cells.map(|(at, word)| (at, Anchor::End, word.to_owned()));
    vec![Line::Head([(0.0, Anchor::Start, words)].into_iter().chain(named).collect())]
}

/// The lines for all rows of a kind; `only` is the face that all are about, where it is one.
pub(super) fn row_lines(job: &Job, kind: MapKind, rows: &[&MapRow], only: Option<&str>) -> Vec<Line> {
    if kind == MapKind::Drain {
        let one = |row: &MapRow, left: f64| {
            let mut cells = vec![(left, Anchor::Start, row.number.clone())];
            cells.extend(PAIR.into_iter().zip(place(job, row)).map(|(at, words)| (left + at, Anchor::End, words)));
            cells
        };
        let pair = |pair: &[&MapRow]| {
            let cells = pair.iter().zip([0.0, NEXT]).flat_map(|(row, left)| one(row, left));
            Line::Cells(cells.collect())
        };
        return rows.chunks(2).map(pair).collect();
    }
    rows.iter().flat_map(|row| one_row(job, row, only)).collect()
}

/// From where, how far along, how far square; nothing for what has no place of its own.
fn place(job: &Job, row: &MapRow) -> [String; 3] {
    let figure = |mm: Option<f64>| mm.map_or(String::new(), |mm| tape_measure(mm, job.units));
    [row.flag.clone().unwrap_or_default(), figure(row.along), figure(row.square)]
}

fn one_row(job: &Job, row: &MapRow, only: Option<&str>) -> Vec<Line> {
    let size = row.size_words(job.units);
    let one_hand = row.notes.iter().find(|note| note.starts_with("on the ") && note.ends_with(" one only"));
    let one_hand = one_hand.map_or(String::new(), |note| format!(", {note}"));
    let (words, right) = match row.kind {
        MapKind::Patch => (format!("{size}, {}{one_hand}", row.what), FROM - 4.0),
        MapKind::Ring => (format!("doily {size}, {}{one_hand}", row.what), FROM - 4.0),
        MapKind::Drain => (size, FROM - 4.0),
        MapKind::Tape => (tape_words(row, &size, only), COLUMN),
        MapKind::Laces => {
            let face = if only.is_some() { String::new() } else { format!(", {}", row.face) };
            let hands = row.notes.iter().any(|note| note == "counted for both hands");
            let hands = if hands { " for both hands" } else { "" };
            let apart = laces_apart(&row.notes).map_or(String::new(), |apart| format!(", {apart}"));
            (format!("{}{face}: {}{hands}{apart}", row.what, row.quantity), FROM - 4.0)
        }
    };
    let places = [FROM, ALONG, SQUARE].into_iter().zip(place(job, row));
    let places = places.filter(|(_, words)| !words.is_empty()).map(|(at, words)| (at, Anchor::End, words));
    let left = match row.kind {
        MapKind::Laces => 0.0,
        MapKind::Tape => TAPE_WORDS,
        MapKind::Patch | MapKind::Ring | MapKind::Drain => WORDS,
    };
    cells(&row.number, left, &words, right, places.collect())
}

/// What a tape lies over, its size, and in few words what else is to be thought of.
fn tape_words(row: &MapRow, size: &str, only: Option<&str>) -> String {
    let what = only.and_then(|face| row.what.strip_suffix(face)?.strip_suffix(", ")).unwrap_or(&row.what);
    let mut words = format!("{what}: {size}");
    let short = [("bias tape", ", bias"), ("goes round the edge", ", round the edge")];
    for (start, word) in short {
        if row.notes.iter().any(|note| note.starts_with(start)) {
            words.push_str(word);
        }
    }
    if let Some(cuts) = row.notes.iter().find_map(|note| note.split_once(" in the inner edge")) {
        words.push_str(&format!(", {}", cuts.0));
    }
    if row.quantity > 1 {
        words.push_str(&format!("; {} of it", row.quantity));
    }
    words
}

/// A first word, others from `left` to `right` on as many lines as they take, and what else stands on the first line.
pub(super) fn cells(first: &str, left: f64, words: &str, right: f64, more: Vec<(f64, Anchor, String)>) -> Vec<Line> {
    let beside = if first.is_empty() { 0.0 } else { width(first) + 0.8 * LETTERS };
    let left = left.max(beside);
    let mut lines: Vec<Vec<(f64, Anchor, String)>> =
        plain(words, right - left).into_iter().map(|line| vec![(left, Anchor::Start, line)]).collect();
    if let Some(line) = lines.first_mut() {
        line.insert(0, (0.0, Anchor::Start, first.to_owned()));
        line.extend(more);
    }
    lines.into_iter().map(Line::Cells).collect()
}
