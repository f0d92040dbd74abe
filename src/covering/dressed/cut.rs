//! The small pieces that are cut for things on the cloth.

use std::collections::BTreeMap;

use crate::covering::dressing::WantedShape;
use crate::job::{Edge, Grain, GrainDirection, Piece, Pinking};
use crate::shape::Curve;

/// Pieces that are cut for things on the cloth, in the order in which they are first met.
#[derive(Default)]
pub(super) struct Cut {
    pieces: Vec<Piece>,
    by_name: BTreeMap<String, usize>,
    /// Of each piece the parts that it goes on, each with what it lies over there.
    goes: Vec<Vec<(String, Vec<String>)>>,
}

impl Cut {
    /// Some more copies of a piece, which is made when it is met first; they lie over `over` on a part.
    pub fn add(&mut self, name: &str, copies: u32, part: &str, over: &str, make: impl FnOnce() -> Option<Piece>) {
        let known = self.by_name.get(name).copied();
        let Some(index) = known.or_else(|| make().map(|piece| self.new_piece(name, piece))) else { return };
        self.pieces[index].quantity += copies;
        let parts = &mut self.goes[index];
        if parts.last().is_none_or(|(last, _)| last != part) {
            parts.push((part.to_owned(), Vec::new()));
        }
        if let Some((_, all)) = parts.last_mut().filter(|(_, all)| !all.iter().any(|known| known == over)) {
            all.push(over.to_owned());
        }
    }

    fn new_piece(&mut self, name: &str, piece: Piece) -> usize {
        let index = self.pieces.len();
        self.by_name.insert(name.to_owned(), index);
        self.pieces.push(piece);
        self.goes.push(Vec::new());
        index
    }

    /// The pieces, each with where it goes.
    pub fn into_pieces(self) -> Vec<Piece> {
        let words = |parts: Vec<(String, Vec<String>)>| {
            let part = |(part, over): (String, Vec<String>)| format!("{part}: {}", over.join(", "));
            parts.into_iter().map(part).collect::<Vec<_>>().join("; ")
        };
        self.pieces
            .into_iter()
            .zip(self.goes)
            .map(|(piece, parts)| Piece { goes: Some(words(parts)), ..piece })
            .collect()
    }
}

/// A pinked piece; round ones may lie at any angle.
pub(super) fn pinked(name: &str, shape: WantedShape, source: String) -> Option<Piece> {
    let (outline, direction) = match shape {
        WantedShape::Rect([long, short]) => (Curve::rect(long, short), GrainDirection::Either),
        WantedShape::Circle(diameter) => (Curve::circle(diameter), GrainDirection::Free),
    };
    small_piece(name, outline, Edge::Pinked(Pinking::USUAL), direction, source)
}

/// A piece that may lie on any cloth with either face up; its copies are counted as they are met.
pub(super) fn small_piece(
    name: &str,
    outline: Curve,
    edge: Edge,
    direction: GrainDirection,
    source: String,
) -> Option<Piece> {
    let cut = outline.flatten().ok()?;
    let bounds = outline.bounds();
    Some(Piece {
        name: name.to_owned(),
        outline,
        quantity: 0,
        cut,
        size: [bounds.width(), bounds.height()],
        edge,
        grain: Grain { direction, tolerance: 0.0, one_way: false },
        flip: true,
        cloth: Vec::new(),
        goes: None,
        source: Some(source),
    })
}
