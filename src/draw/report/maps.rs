//! The covering maps: every face with all that goes onto it, and the figures.

use super::Report;
use super::face_drawing::{FaceView, face_view};
use super::lays::view_box;
use super::table::{Table, figures, words};
use crate::covering::CoveredPart;
use crate::draw::map::{SAMPLE, samples};
use crate::job::Job;
use crate::plan::{MapFlag, MapKind, MapRow, map_flags, part_rows};
use crate::units::Units;

/// The chapter.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct MapsChapter {
    /// What the marks mean: the marks, and words.
    pub key: Vec<(String, &'static str)>,
    /// The box of each mark of the key.
    pub sample: String,
    /// The parts.
    pub parts: Vec<PartMap>,
}

/// A part.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct PartMap {
    /// What it is called.
    pub name: String,
    /// Its faces.
    pub faces: Vec<FaceView>,
    /// From which corners it is measured: letter and words.
    pub from: Vec<(String, String)>,
    /// Patches, rings, drains, tapes, laces.
    pub tables: Vec<Table>,
}

/// Works out the chapter; none where no part's faces are known.
pub(super) fn maps(report: &Report) -> Option<MapsChapter> {
    let parts: Vec<&CoveredPart> = report.covering.parts.iter().filter(|part| !part.faces.is_empty()).collect();
    if parts.is_empty() {
        return None;
    }
    let mut key: Vec<(String, &'static str)> = Vec::new();
    let mut maps = Vec::new();
    for part in parts {
        let rows = part_rows(report.job, part);
        for (sample, words) in samples(part, &rows) {
            if key.iter().all(|(_, known)| *known != words) {
                key.push((sample.to_string(), words));
            }
        }
        maps.push(part_map(report.job, part, &rows));
    }
    Some(MapsChapter { key, sample: view_box([0.0, 0.0, SAMPLE[0], SAMPLE[1]]), parts: maps })
}

fn part_map(job: &Job, part: &CoveredPart, rows: &[MapRow]) -> PartMap {
    let tables = rows.chunk_by(|one, next| one.kind == next.kind).map(|rows| table(rows, job.units));
    PartMap {
        name: part.name.clone(),
        faces: (0..part.faces.len()).map(|index| face_view(part, index)).collect(),
        from: map_flags(part).iter().filter_map(|flag| from(part, flag)).collect(),
        tables: tables.collect(),
    }
}

fn from(part: &CoveredPart, flag: &MapFlag) -> Option<(String, String)> {
    let face = part.faces.get(flag.face)?;
    let datum = face.datums.get(flag.datum)?;
    Some((flag.letter.clone(), format!("{}: {}, along {}; then square to it", face.name, datum.corner, datum.edge)))
}

/// The lines of one kind.
fn table(rows: &[MapRow], units: Units) -> Table {
    let (caption, first) = match rows.first().map(|row| row.kind) {
        Some(MapKind::Ring) => ("Rings, to their middles", "No."),
        Some(MapKind::Drain) => ("Drain holes, to their middles", "No."),
        Some(MapKind::Tape) => ("Tapes, in the order of the work", "No."),
        Some(MapKind::Laces) => ("Laces, to the first of each rib", "Rib"),
        Some(MapKind::Patch) | None => ("Patches, to their middles", "No."),
    };
    let unit = units.symbol();
    let columns = [
        words(first),
        words("Over"),
        words("Size"),
        words("Face"),
        figures("How many"),
        words("From"),
        figures(format!("Along ({unit})")),
        figures(format!("Square ({unit})")),
        words("Notes"),
    ];
    let mut table = Table::new(caption, columns);
    let figure = |mm: Option<f64>| mm.map_or(String::new(), |mm| units.show_number(mm));
    for row in rows {
        let laces = row.kind == MapKind::Laces;
        table.row([
            if laces { row.what.clone() } else { row.number.clone() },
            if laces { String::new() } else { row.what.clone() },
            row.size_words(units),
            row.face.clone(),
            row.quantity.to_string(),
            row.flag.clone().unwrap_or_default(),
            figure(row.along),
            figure(row.square),
            row.notes.join("; "),
        ]);
    }
    table.done()
}
