//! What is written on each piece: its name and copy where they fit, else a number that a key explains, and its grain.

use std::collections::{BTreeMap, BTreeSet};

use geo::MapCoords;
use geo_types::Polygon;
use rayon::iter::{IntoParallelIterator, ParallelIterator};

use crate::job::{GrainDirection, Piece};
use crate::plan::{LaidPiece, grain_words, size};

use super::geometry::laid_polygon;
use super::label::{BoxShape, Room, Spot};
use super::lettering::{LINE_STEP, block_width, broken, size_within, text_width};
use super::measures::{LaySheet, Measures};

/// Size of the lines beneath the name, in sizes of the name.
pub(super) const DETAIL: f64 = 0.6;
/// Length and width of a grain arrow of size 1.
pub(super) const ARROW: BoxShape = BoxShape { width: 5.0, height: 1.0 };
/// Words about where a piece goes are left to the tooltip when they are longer than this many letter sizes.
const LONGEST_DETAIL: f64 = 24.0;
/// A grain arrow shorter than this many millimetres could not be told from a speck.
const SHORTEST_ARROW: f64 = 6.0;
/// Share of the room that a label takes where an arrow is to lie beside it.
const LEAVE_ROOM: f64 = 0.78;

/// A label with its place relative to where the piece's own origin lands.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Label {
    /// The name and the number, broken into lines; the copy's own stands at the end of the last one.
    Named {
        /// Centre, angle and letter size.
        spot: Spot,
        /// The name.
        lines: Vec<String>,
        /// Smaller lines beneath it.
        details: Vec<String>,
    },
    /// A number of the key.
    Numbered {
        /// Centre, angle and letter size.
        spot: Spot,
    },
}

/// What is written on a piece in one pose.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct PieceMark {
    /// The label.
    pub label: Option<Label>,
    /// The grain arrow.
    pub arrow: Option<Spot>,
    /// Where a long piece has its name again, so that a printed part of it is known.
    pub again: Vec<Spot>,
    /// What all of that takes up, relative to where the piece's own origin lands.
    pub taken: Vec<Polygon<f64>>,
}

/// Names stand again at this many millimetres: on about every sheet of a print on A2 (ISO 216: 594 mm long).
const AGAIN: f64 = 550.0;

fn again_size(measures: &Measures) -> f64 {
    size_within(measures.lettering * 0.3).max(2.5)
}

type PoseKey = (usize, u64, bool);

/// What is written on all pieces of a sheet.
#[derive(Clone, Debug, Default)]
pub(super) struct Marks {
    by_pose: BTreeMap<PoseKey, PieceMark>,
    /// Indices of the pieces that the key explains.
    pub key: Vec<usize>,
    index: BTreeMap<String, usize>,
}

impl Marks {
    /// Index of the laid piece among the pieces of the sheet.
    pub fn piece_index(&self, laid: &LaidPiece) -> Option<usize> {
        self.index.get(&laid.piece).copied()
    }

    /// What is written on a laid piece.
    pub fn of(&self, laid: &LaidPiece) -> Option<&PieceMark> {
        self.by_pose.get(&pose_key(self.piece_index(laid)?, laid))
    }

    /// The number of a piece, the same in every drawing and list of the job.
    pub fn number(&self, piece: usize) -> usize {
        piece + 1
    }
}

/// Finds a place for every label of a sheet; equal pieces in equal poses are looked at once.
pub(super) fn marks(sheet: &LaySheet, measures: &Measures) -> Marks {
    let index: BTreeMap<String, usize> =
        sheet.pieces.iter().enumerate().map(|(index, piece)| (piece.name.clone(), index)).collect();
    let poses: BTreeMap<PoseKey, &LaidPiece> =
        sheet.laid.pieces.iter().filter_map(|laid| Some((pose_key(*index.get(&laid.piece)?, laid), laid))).collect();
    let by_pose: BTreeMap<PoseKey, PieceMark> =
        poses.into_par_iter().map(|(key, laid)| (key, mark(key.0 + 1, &sheet.pieces[key.0], laid, measures))).collect();
    let keyed: BTreeSet<usize> = by_pose
        .iter()
        .filter(|(_, mark)| matches!(mark.label, Some(Label::Numbered { .. })))
        .map(|(key, _)| key.0)
        .collect();
    Marks { by_pose, key: keyed.into_iter().collect(), index }
}

fn pose_key(index: usize, laid: &LaidPiece) -> PoseKey {
    (index, laid.turn.to_bits(), laid.flipped)
}

fn mark(number: usize, piece: &Piece, laid: &LaidPiece, measures: &Measures) -> PieceMark {
    let polygon = about_origin(laid);
    let mut room = Room::new(&polygon);
    let has_arrow = piece.grain.direction != GrainDirection::Free;
    let (label, shape) = match named(number, piece, laid, &room, measures, has_arrow) {
        Some((label, shape)) => (Some(label), shape),
        None => numbered(piece, &room, measures, has_arrow),
    };
    let spot = label.as_ref().map(Label::spot);
    if let Some(spot) = spot {
        room.take(spot, shape);
    }
    let arrow = has_arrow.then(|| {
        let largest = measures.lettering * 0.8;
        room.at_angle(ARROW, laid.turn, largest, spot.map(|spot| spot.at))
    });
    let arrow = arrow.flatten().filter(|spot| spot.size * ARROW.width >= SHORTEST_ARROW);
    if let Some(arrow) = arrow {
        room.take(arrow, ARROW);
    }
    let name_again = block_shape(&[numbered_name(number, piece, piece.quantity)], &[]);
    let again = room.along(name_again, again_size(measures), AGAIN);
    let mut taken = room.into_taken();
    taken.extend(again.iter().map(|spot| spot.covers(name_again)));
    PieceMark { label, arrow, again, taken }
}

impl Label {
    fn spot(&self) -> Spot {
        match self {
            Label::Named { spot, .. } | Label::Numbered { spot } => *spot,
        }
    }
}

fn about_origin(laid: &LaidPiece) -> Polygon<f64> {
    let at = geo_types::Coord { x: laid.at[0], y: laid.at[1] };
    laid_polygon(laid).map_coords(|point| point - at)
}

/// The name in full, with details where the piece is large; `None` where it would come out too small to read.
fn named(
    number: usize,
    piece: &Piece,
    laid: &LaidPiece,
    room: &Room,
    measures: &Measures,
    arrow: bool,
) -> Option<(Label, BoxShape)> {
    let lettering = measures.lettering;
    let words = numbered_name(number, piece, piece.quantity);
    let face_down: Vec<String> = laid.flipped.then(|| "face down".to_owned()).into_iter().collect();
    let share = if arrow { LEAVE_ROOM } else { 1.0 };
    let best = |details: &[String]| {
        broken(&words)
            .into_iter()
            .filter_map(|lines| {
                let shape = block_shape(&lines, details);
                room.for_text(shape, 2.0 * lettering).map(|spot| (spot, lines, shape))
            })
            .reduce(|best, next| if next.0.size > best.0.size * 1.05 { next } else { best })
    };
    let label = |(spot, lines, shape): (Spot, Vec<String>, BoxShape), size: f64, details: Vec<String>| {
        (Label::Named { spot: Spot { size, ..spot }, lines, details }, shape)
    };
    let details = details(piece, measures, &face_down);
    if let Some(found) = best(&details) {
        let size = size_within((found.0.size * share).min(1.5 * lettering));
        if size >= 0.9 * lettering {
            return Some(label(found, size, details));
        }
    }
    let found = best(&face_down)?;
    let size = size_within((found.0.size * share).min(lettering));
    (size >= smallest_name(lettering)).then(|| label(found, size, face_down))
}

fn numbered(piece: &Piece, room: &Room, measures: &Measures, arrow: bool) -> (Option<Label>, BoxShape) {
    let shape = block_shape(&[key_number(88, piece, piece.quantity)], &[]);
    let share = if arrow { LEAVE_ROOM } else { 1.0 };
    let label = room.for_text(shape, measures.lettering).map(|spot| {
        let size = size_within((spot.size * share).min(measures.lettering * 0.75));
        Label::Numbered { spot: Spot { size, ..spot } }
    });
    (label, shape)
}

/// A name smaller than this is worse than a number that can be read from further away.
fn smallest_name(lettering: f64) -> f64 {
    size_within(lettering * 0.25).max(2.5)
}

fn details(piece: &Piece, measures: &Measures, face_down: &[String]) -> Vec<String> {
    let mut details = face_down.to_vec();
    details.push(size(piece.size, measures.units));
    details.push(format!("grain {}", grain_words(piece.grain)));
    details.extend(piece.goes.clone().filter(|goes| text_width(goes) <= LONGEST_DETAIL));
    details
}

fn block_shape(lines: &[String], details: &[String]) -> BoxShape {
    let width = block_width(lines).max(DETAIL * block_width(details));
    let height = LINE_STEP * (lines.len() as f64 + DETAIL * details.len() as f64);
    BoxShape { width: width + 0.6, height: height + 0.2 }
}

/// `doily 7`, or the bare name of a piece of which there is one.
pub(super) fn full_name(piece: &Piece, copy: u32) -> String {
    if piece.quantity > 1 { format!("{} {copy}", piece.name) } else { piece.name.clone() }
}

/// `doily, 12·7`: the name with the number that maps, lists and templates have.
pub(super) fn numbered_name(number: usize, piece: &Piece, copy: u32) -> String {
    format!("{}, {}", piece.name, key_number(number, piece, copy))
}

/// `12·7` for copy 7 of number 12 of the key, or `12` where there is one copy.
pub(super) fn key_number(number: usize, piece: &Piece, copy: u32) -> String {
    if piece.quantity > 1 { format!("{number}·{copy}") } else { number.to_string() }
}
