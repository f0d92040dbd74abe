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
    let room = Layout::of_figures().holds();
    let with = |count: usize| {
        let lines = words.lines(&faces, &rows[..count]);
        let layout = Layout::large(&size, lines.len(), fewest)?;
        Some((count, layout, lines))
    };
    let name = &part.faces[face].name;
    // Every row is a line at least.
    let Some((count, layout, lines)) = (0..=rows.len().min(room)).rev().find_map(with) else {
        // Not even where places are measured from has room beside the face.
        let alone = Layout::large(&size, 0, 0).map(|layout| {
            let about = name.clone();
            Sheet { faces: faces.clone(), about, layout, lines: Vec::new() }
        });
        return alone.into_iter().chain(of_figures(name, &words.further(&faces, &rows))).collect();
    };
    let mut sheets = vec![Sheet { faces: faces.clone(), about: name.clone(), layout, lines }];
    let mut rest = &rows[count..];
    while !rest.is_empty() {
        let fits = |count: &usize| words.further(&faces, &rest[..*count]).len() <= room;
        let count = (1..=rest.len().min(room)).rev().find(fits).unwrap_or(1);
        sheets.extend(of_figures(name, &words.further(&faces, &rest[..count])));
        rest = &rest[count..];
    }
    sheets
}

/// Sheets of a face that have nothing but figures, as many as the lines take.
fn of_figures(name: &str, lines: &[Line]) -> Vec<Sheet> {
    let sheet = |lines: &[Line]| {
        let about = format!("{name}, further figures");
        Sheet { faces: Vec::new(), about, layout: Layout::of_figures(), lines: lines.to_vec() }
    };
    lines.chunks(Layout::of_figures().holds()).map(sheet).collect()
}

fn size(part: &CoveredPart, face: usize) -> [f64; 2] {
    let bounds = part.faces[face].outline.bounds();
    [bounds.width(), bounds.height()]
}
