//! Everything that goes onto the covered faces as figures: the table of the covering map.

use geo_types::Coord;
use serde::Serialize;

use super::map_flags::{MapFlag, map_flags, measured_from};
use super::{size, tape_measure};
use crate::covering::dressing::{TapeCut, WantedShape};
use crate::covering::{CoveredPart, Covering, LacedRib, LacesOnFace, TapeRun};
use crate::job::Job;
use crate::units::Units;
use crate::wording::counted;

/// What a line of the table is about, in the order in which a part's lines stand.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum MapKind {
    /// A patch over something that comes through the cloth.
    Patch,
    /// An inspection ring with its doily.
    Ring,
    /// A drain hole.
    Drain,
    /// A run of finishing tape.
    Tape,
    /// The laces of a rib on one face.
    Laces,
}

impl MapKind {
    /// As tables have it.
    pub fn word(self) -> &'static str {
        match self {
            Self::Patch => "patch",
            Self::Ring => "ring",
            Self::Drain => "drain",
            Self::Tape => "tape",
            Self::Laces => "laces",
        }
    }
}

/// A line of the table of the covering map. Lengths in millimetres.
#[derive(Clone, Debug, PartialEq, Serialize)]
pub struct MapRow {
    /// Name of the part.
    pub part: String,
    /// The face, or the faces, that it lies on.
    pub face: String,
    /// The same, as places among the faces of the part.
    #[serde(skip)]
    pub faces: Vec<usize>,
    /// Its number, the same as on the map, in cut lists and on templates; laces have none.
    pub number: String,
    /// What it is.
    pub kind: MapKind,
    /// What it lies over, or what the person calls it.
    pub what: String,
    /// How many for all hands of the part.
    pub quantity: u32,
    /// Length of a tape as it is cut; side of a patch along the edge that it is measured along.
    pub length: Option<f64>,
    /// Width of a finished tape; side of a patch square to that edge.
    pub width: Option<f64>,
    /// Diameter of a round patch, of a doily or of the hole of a drain.
    pub diameter: Option<f64>,
    /// The letter on the part's map of the corner from which it is measured; of laces, the first of them is.
    pub flag: Option<String>,
    /// That corner.
    pub corner: Option<String>,
    /// The edge along which it is measured.
    pub edge: Option<String>,
    /// Distance from the corner along the edge.
    pub along: Option<f64>,
    /// Distance into the face, square to the edge.
    pub square: Option<f64>,
    /// Whether the cloth is cut there only after shrinking.
    pub cut_after_shrinking: bool,
    /// What else is to be done.
    pub notes: Vec<String>,
}

/// How the note on the spacing of laces begins.
const APART: &str = "no more than ";

/// How far apart laces are, as their notes say it.
pub fn laces_apart(notes: &[String]) -> Option<&str> {
    notes.iter().find_map(|note| note.strip_prefix(APART))
}

/// Whether notes say that the cloth is cut only after shrinking.
pub fn cut_after_shrinking(notes: &[String]) -> bool {
    notes.iter().any(|note| note.starts_with("cut after shrinking"))
}

/// The table of the covering map: one line for each thing on each part, in the order of parts.
pub fn map_rows(job: &Job, covering: &Covering) -> Vec<MapRow> {
    covering.parts.iter().flat_map(|part| part_rows(job, part)).collect()
}

/// The lines of one part: patches, rings, drains, tapes in the order of the work, laces.
pub fn part_rows(job: &Job, part: &CoveredPart) -> Vec<MapRow> {
    let dressed = &part.dressed;
    let flags = map_flags(part);
    let on = Ground { part, flags: &flags };
    let mut rows = Vec::new();
    for patch in &dressed.patches {
        let layers = (patch.layers > 1).then(|| format!("{} layers, one over the other", patch.layers));
        let notes = layers.into_iter().chain(patch.notes.iter().cloned()).collect();
        let row = row(part, MapKind::Patch, &patch.number, &patch.over, patch.hands * patch.layers, notes);
        rows.push(on.sized(on.at(row, patch.face, patch.at), patch.shape, (patch.face, patch.at)));
    }
    for ring in &dressed.rings {
        let inside = format!("ring {} inside", job.units.show(ring.inside));
        let notes = [inside].into_iter().chain(ring.notes.iter().cloned()).collect();
        let row = row(part, MapKind::Ring, &ring.number, &ring.name, ring.hands, notes);
        rows.push(on.at(MapRow { diameter: Some(ring.doily), ..row }, ring.face, ring.at));
    }
    for drain in &dressed.drains {
        let patch = drain.patch_number.iter().map(|number| {
            let patch = job.units.show(drain.patch);
            format!("patch {number} over it, {patch} round")
        });
        let row = row(part, MapKind::Drain, &drain.number, "drain hole", drain.hands, patch.collect());
        rows.push(on.at(MapRow { diameter: Some(drain.hole), ..row }, drain.face, drain.at));
    }
    rows.extend(dressed.tapes.iter().map(|tape| tape_row(job, part, tape)));
    rows.extend(dressed.ribs.iter().flat_map(|rib| lace_rows(job, &on, rib)));
    rows
}

fn tape_row(job: &Job, part: &CoveredPart, tape: &TapeRun) -> MapRow {
    let mut faces: Vec<usize> = Vec::new();
    for leg in tape.lines().filter(|leg| leg.face < part.faces.len()) {
        if !faces.contains(&leg.face) {
            faces.push(leg.face);
        }
    }
    let names: Vec<&str> = faces.iter().map(|face| part.faces[*face].name.as_str()).collect();
    let notes = cut_note(tape.cut, job.units).into_iter().chain(tape.notes.iter().cloned()).collect();
    let row = row(part, MapKind::Tape, &tape.number, &tape.over, tape.quantity, notes);
    MapRow { face: names.join(" and "), faces, length: Some(tape.length), width: Some(tape.width), ..row }
}

fn cut_note(cut: TapeCut, units: Units) -> Option<String> {
    match cut {
        TapeCut::Straight => None,
        TapeCut::ReliefCuts { cuts, length } => {
            let cuts = counted(cuts, "relief cut", "relief cuts");
            Some(format!(
                "{cuts} in the inner edge, half way across, along the {} that are bent: the sides of a cut lie over each \
                 other and the tape lies flat",
                tape_measure(length, units)
            ))
        }
        TapeCut::Bias { stock, .. } => Some(format!("bias tape {} wide before it is pulled", units.show(stock))),
    }
}

fn lace_rows(job: &Job, on: &Ground, rib: &LacedRib) -> Vec<MapRow> {
    let row = |LacesOnFace { face, along, at: places }: &LacesOnFace| {
        let nearest = on.nearest_of_ends(*face, places);
        let from = along.get(nearest).copied().unwrap_or(0.0);
        let mut steps: Vec<f64> = along.iter().map(|at| (at - from).abs()).collect();
        steps.sort_by(f64::total_cmp);
        let steps: Vec<String> = steps.iter().map(|step| job.units.show_number(*step)).collect();
        let steps =
            format!("from the first lace, the one that is measured ({}): {}", job.units.symbol(), steps.join(", "));
        let mut notes = vec![format!("{APART}{} apart", job.units.show(rib.spacing)), steps];
        if rib.hands > 1 {
            notes.push("counted for both hands".to_owned());
        }
        notes.push(reinforcing_note(job.units, rib));
        notes.extend(rib.anti_tear.map(|size| {
            let [length, width] = size.map(|length| job.units.show(length));
            format!("an anti-tear strip of {length} × {width} under the reinforcing tape (AC 2-9c)")
        }));
        let quantity = u32::try_from(places.len()).unwrap_or(u32::MAX).saturating_mul(rib.hands);
        let row = row(on.part, MapKind::Laces, "", &rib.rib, quantity, notes);
        match places.get(nearest) {
            Some(first) => on.at(row, *face, *first),
            None => row,
        }
    };
    rib.places.iter().map(row).collect()
}

/// The reinforcing tape on one side of a rib, and the cap that it follows from.
fn reinforcing_note(units: Units, rib: &LacedRib) -> String {
    let (length, width, side_by_side) = rib.reinforcing_strip;
    let (cap, given) = rib.cap;
    let taken = if given { "" } else { " (usual; no width is given)" };
    let strips = if side_by_side > 1 {
        format!("{side_by_side} strips of reinforcing tape")
    } else {
        "reinforcing tape".to_owned()
    };
    format!(
        "{strips} {} wide and {} long on this side, over a cap of {}{taken}",
        units.show(width),
        tape_measure(length, units),
        units.show(cap)
    )
}

fn row(part: &CoveredPart, kind: MapKind, number: &str, what: &str, quantity: u32, notes: Vec<String>) -> MapRow {
    MapRow {
        part: part.name.clone(),
        face: String::new(),
        faces: Vec::new(),
        number: number.to_owned(),
        kind,
        what: what.to_owned(),
        quantity,
        length: None,
        width: None,
        diameter: None,
        flag: None,
        corner: None,
        edge: None,
        along: None,
        square: None,
        cut_after_shrinking: cut_after_shrinking(&notes),
        notes,
    }
}

impl MapRow {
    /// Its size in words: `120 × 80 mm`, `165 mm round`, `50.8 mm wide, 2540 mm long`.
    pub fn size_words(&self, units: Units) -> String {
        match (self.kind, self.length, self.width, self.diameter) {
            (_, _, _, Some(diameter)) => format!("{} round", units.show(diameter)),
            (MapKind::Tape, Some(length), Some(width), _) => {
                format!("{} wide, {} long", units.show(width), tape_measure(length, units))
            }
            (_, Some(length), Some(width), _) => size([length, width], units),
            _ => String::new(),
        }
    }
}

/// What places are measured on.
struct Ground<'p> {
    part: &'p CoveredPart,
    flags: &'p [MapFlag],
}

impl Ground<'_> {
    /// Which of the first and the last of some places is nearer to the edge that both are measured from: from there on,
    /// all others lie farther away.
    fn nearest_of_ends(&self, face: usize, places: &[Coord<f64>]) -> usize {
        let last = places.len().saturating_sub(1);
        let of = |place: usize| measured_from(self.part, face, *places.get(place)?);
        match (of(0), of(last)) {
            (Some((one, first)), Some((other, far))) if one == other && far.across.abs() < first.across.abs() => last,
            _ => 0,
        }
    }

    /// A row with its place on a face.
    fn at(&self, mut row: MapRow, face: usize, at: Coord<f64>) -> MapRow {
        if let Some(known) = self.part.faces.get(face) {
            row.face.clone_from(&known.name);
            row.faces = vec![face];
        }
        if let Some((datum, measure)) = measured_from(self.part, face, at) {
            let flag = self.flags.iter().find(|flag| (flag.face, flag.datum) == (face, datum));
            row.flag = flag.map(|flag| flag.letter.clone());
            row.along = Some(measure.along);
            row.square = Some(measure.across);
            row.corner = Some(measure.corner);
            row.edge = Some(measure.edge);
        }
        row
    }

    /// A row with the size of a patch, whose sides lie along x and y of the face: the side along the edge that it is
    /// measured along comes first.
    fn sized(&self, mut row: MapRow, shape: WantedShape, (face, at): (usize, Coord<f64>)) -> MapRow {
        match shape {
            WantedShape::Circle(diameter) => row.diameter = Some(diameter),
            WantedShape::Rect([x, y]) => {
                let datum = measured_from(self.part, face, at).map(|(datum, _)| &self.part.faces[face].datums[datum]);
                let upright = datum.is_some_and(|datum| datum.along.y.abs() > datum.along.x.abs());
                let [length, width] = if upright { [y, x] } else { [x, y] };
                row.length = Some(length);
                row.width = Some(width);
            }
        }
        row
    }
}
