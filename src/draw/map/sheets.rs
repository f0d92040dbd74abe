//! Which faces and which rows of the table stand on which sheet.

use super::layout::Layout;
use super::list::{Line, Words};
use crate::covering::CoveredPart;

/// A sheet of a part's map.
pub(super) struct Sheet {
    /// The faces on it, as places among those of the part; none on a sheet of figures alone.
    pub faces: Vec<usize>,
    /// What is on it, in words.
    pub about: String,
    /// Where everything stands.
    pub layout: Layout,
    /// The figures, line by line.
    pub lines: Vec<Line>,
}

/// All faces and all figures on one sheet, where nothing comes out small; `None` where it would.
pub(super) fn single(part: &CoveredPart, words: &Words) -> Option<Sheet> {
    let faces: Vec<usize> = (0..part.faces.len()).collect();
    let sizes: Vec<[f64; 2]> = faces.iter().map(|face| size(part, *face)).collect();
    let lines = words.lines(&faces, &words.rows_of(&faces));
    let fewest = words.lines(&faces, &[]).len();
    let layout = Layout::large(&sizes, lines.len(), fewest)?;
    Some(Sheet { faces, about: String::new(), layout, lines })
}

/// A sheet for each face, and further ones for what of its figures has no room beside it.
pub(super) fn one_a_face(part: &CoveredPart, words: &Words) -> Vec<Sheet> {
    (0..part.faces.len()).flat_map(|face| of_face(part, words, face)).collect()
}

fn of_face(part: &CoveredPart, words: &Words, face: usize) -> Vec<Sheet> {
    let (faces, size) = (vec![face], [size(part, face)]);
    let rows = words.rows_of(&faces);
    let fewest = words.lines(&faces, &[]).len();
    let with = |count: usize| {
        let lines = words.lines(&faces, &rows[..count]);
        let layout = Layout::large(&size, lines.len(), fewest)?;
        Some((count, layout, lines))
    };
    // With no rows at all a face is as large as it can be.
    let Some((count, layout, lines)) = (0..=rows.len()).rev().find_map(with) else { return Vec::new() };
    let name = &part.faces[face].name;
    let mut sheets = vec![Sheet { faces: faces.clone(), about: name.clone(), layout, lines }];
    let mut rest = &rows[count..];
    while !rest.is_empty() {
        let layout = Layout::of_figures();
        let fits = |count: &usize| layout.holds(words.further(&faces, &rest[..*count]).len());
        let count = (1..=rest.len()).rev().find(fits).unwrap_or(1);
        let lines = words.further(&faces, &rest[..count]);
        sheets.push(Sheet { faces: Vec::new(), about: format!("{name}, further figures"), layout, lines });
        rest = &rest[count..];
    }
    sheets
}

fn size(part: &CoveredPart, face: usize) -> [f64; 2] {
    let bounds = part.faces[face].outline.bounds();
    [bounds.width(), bounds.height()]
}
