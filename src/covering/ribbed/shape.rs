//! The finished outline of a ribbed part's panel: the skin laid flat, with what its edges are and what lies under it.

use geo::Simplify;
use geo_types::{Coord, LineString};

use super::aft_edge::{AftEdge, InsideCorner};
use crate::covering::MemberLine;
use crate::job::{Member, MemberClass, RibbedPart, Spot};
use crate::shape::{Chord, Curve, FlatSkin, SAME_POINT, Section, Side, SpanLine, lay_skin_flat};

/// Lines along the span on each surface; with so many a girth is as good as a tape measure.
const LINES: usize = 60;
/// What a flat edge may be straightened by, in millimetres.
const STRAIGHT: f64 = 0.01;
/// Thickness of a pencil line, in millimetres: what is nearer than this is the same to the eye and the hand.
pub(super) const PENCIL_LINE: f64 = 0.5;
/// Places nearer than this, in parts of the chord, are the same line.
const SAME_LINE: f64 = 1e-6;

/// Which part of the skin a panel covers.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Face {
    /// From the trailing edge to the nose.
    Top,
    /// From the nose to the trailing edge.
    Bottom,
    /// From trailing edge to trailing edge round the nose.
    Whole,
}

/// What an edge of a panel is; where top and bottom differ, with its side.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Border {
    LeadingEdge,
    TrailingEdge(Side),
    Butt(Side),
    Tip(Side),
    Recess(Side),
}

/// A panel's finished shape, seen from outside: x along the span from butt to tip, y along the girth, the nose on the far
/// side of the top.
pub(super) struct Shape {
    pub finished: Curve,
    /// What each edge of the finished outline is, in order.
    pub borders: Vec<Border>,
    pub members: Vec<MemberLine>,
    /// The nose under a panel that goes round it, where it is straight.
    pub nose: Option<Member>,
    pub hinge: Option<[[f64; 2]; 2]>,
    /// Where along the span bays do not fit each other, and by how much.
    pub misfits: Vec<(f64, f64)>,
    /// The inside corners of recesses.
    pub inside_corners: Vec<InsideCorner>,
}

impl Face {
    pub fn words(self) -> &'static str {
        match self {
            Self::Top => "top",
            Self::Bottom => "bottom",
            Self::Whole => "one piece round the nose",
        }
    }

    /// The faces that a panel of it lies on.
    pub fn faces(self) -> &'static [&'static str] {
        match self {
            Self::Top => &["top"],
            Self::Bottom => &["bottom"],
            Self::Whole => &["top", "bottom"],
        }
    }

    /// The lines along the span, in their order along the girth.
    fn lines(self, wing: &RibbedPart) -> Vec<SpanLine> {
        let side = |side: Side| places(wing, side).into_iter().map(move |place| SpanLine { side, place });
        match self {
            Self::Top => side(Side::Top).rev().collect(),
            Self::Bottom => side(Side::Bottom).collect(),
            Self::Whole => side(Side::Top).rev().chain(side(Side::Bottom).skip(1)).collect(),
        }
    }

    /// From edge to edge along the girth, in parts of the chord.
    pub fn girth(self, section: &Section) -> f64 {
        match self {
            Self::Top => section.girth(Side::Top, 0.0, 1.0),
            Self::Bottom => section.girth(Side::Bottom, 0.0, 1.0),
            Self::Whole => section.whole_girth(),
        }
    }
}

/// The places of lines on a side, from the nose to the trailing edge: those of members, and enough to follow the bend.
fn places(wing: &RibbedPart, side: Side) -> Vec<f64> {
    let fronts = wing.recesses.iter().map(|recess| recess.front);
    let of_members = wing.spars.iter().copied().chain(nose_sheet(wing, side)).chain(wing.hinge).chain(fronts);
    let mut places: Vec<f64> = of_members.collect();
    let between = Section::places(LINES);
    let apart = |place: &f64| places.iter().all(|member| (member - place).abs() > SAME_LINE);
    let others: Vec<f64> = between.into_iter().filter(apart).collect();
    places.extend(others);
    places.sort_by(f64::total_cmp);
    places.dedup_by(|next, before| *next - *before <= SAME_LINE);
    places
}

pub(super) fn nose_sheet(wing: &RibbedPart, side: Side) -> Option<f64> {
    let [top, bottom] = wing.nose_sheet?;
    Some(if side == Side::Top { top } else { bottom })
}

/// The shape of a panel.
pub(super) fn shape(wing: &RibbedPart, face: Face) -> Shape {
    let (chords, lines) = (chords(wing), face.lines(wing));
    let skin = lay_skin_flat(&wing.section, &chords, &lines);
    let edges = aft_edges(wing, &chords, &lines, face);
    let (finished, borders) = outline(&skin, &lines, &edges);
    let column = |place: f64, side: Side| {
        column_of(&lines, side, place).map(|index| skin.rows.iter().map(|row| row[index]).collect::<Vec<_>>())
    };
    let mut members = ribs(wing, &chords, &skin, &edges);
    for side in [Side::Top, Side::Bottom] {
        let spars = wing.spars.iter().map(|place| (MemberClass::Spar, *place));
        let sheet = nose_sheet(wing, side).map(|place| (MemberClass::NoseSheet, place));
        for (class, place) in spars.chain(sheet) {
            members.extend(column(place, side).into_iter().flat_map(|points| member_lines(class, &points)));
        }
    }
    let nose_line = (face == Face::Whole).then(|| column(0.0, Side::Top)).flatten();
    members.extend(nose_line.iter().flat_map(|points| member_lines(MemberClass::LeadingEdge, points)));
    let hinge = wing.hinge.and_then(|place| column(place, Side::Top));
    let misfits = chords.iter().zip(&skin.misfit).map(|(chord, misfit)| (chord.span, *misfit)).collect();
    Shape {
        finished,
        borders,
        members,
        nose: nose_line.and_then(|points| nose(wing, &points)),
        hinge: hinge.map(|points| [points[0], points[points.len() - 1]].map(|point| [point.x, point.y])),
        misfits,
        inside_corners: edges.iter().flat_map(|edge| edge.inside_corners(&skin.rows)).collect(),
    }
}

/// Which line it is that runs along a place of a side.
pub(super) fn column_of(lines: &[SpanLine], side: Side, place: f64) -> Option<usize> {
    // The nose is on both sides; whichever of them a panel begins or ends with stands for it.
    let same = |line: &SpanLine| (line.place - place).abs() <= SAME_LINE;
    lines.iter().position(|line| line.side == side && same(line))
}

/// The aft edges that a panel has.
fn aft_edges(wing: &RibbedPart, chords: &[Chord], lines: &[SpanLine], face: Face) -> Vec<AftEdge> {
    let sides: &[Side] = match face {
        Face::Top => &[Side::Top],
        Face::Bottom => &[Side::Bottom],
        Face::Whole => &[Side::Top, Side::Bottom],
    };
    sides.iter().map(|side| AftEdge::new(wing, chords, lines, *side)).collect()
}

/// The chords of the planform, of the ribs and of the ends of recesses, and the end of the tip bow as the last bay comes
/// there.
fn chords(wing: &RibbedPart) -> Vec<Chord> {
    let mut places: Vec<f64> = wing.ribs.clone();
    places.extend(wing.recesses.iter().flat_map(|recess| [recess.from, recess.to]));
    places.sort_by(f64::total_cmp);
    places.dedup_by(|next, before| *next - *before <= SAME_POINT);
    let mut chords = wing.planform.clone();
    for bay in wing.planform.windows(2) {
        let inside = |place: &&f64| **place > bay[0].span + SAME_POINT && **place < bay[1].span - SAME_POINT;
        chords.extend(places.iter().filter(inside).map(|place| bay[0].between(bay[1], *place)));
    }
    if let ([.., before, last], Some(reach)) = (wing.planform.as_slice(), wing.tip_bow) {
        chords.push(before.between(*last, last.span + reach));
    }
    chords.sort_by(|one, other| one.span.total_cmp(&other.span));
    chords
}

/// The outline counter-clockwise from the butt, with what each edge is.
fn outline(skin: &FlatSkin, lines: &[SpanLine], edges: &[AftEdge]) -> (Curve, Vec<Border>) {
    let last = lines.len() - 1;
    let nose = |index: usize| vec![(Border::LeadingEdge, skin.rows.iter().map(|row| row[index]).collect())];
    let aft = |side: Side| edges.iter().find(|edge| edge.side == side).map(|edge| edge.borders(&skin.rows));
    // Where a panel goes round the nose, its ends are parted there.
    let turn = lines.iter().position(|line| line.place == 0.0).unwrap_or(last);
    let outbound = aft(Side::Top).unwrap_or_else(|| nose(0));
    let homeward = aft(Side::Bottom).unwrap_or_else(|| nose(last));
    let end = |row: usize| {
        let points = &skin.rows[row];
        let from = edges.iter().find(|edge| edge.side == Side::Top).map_or(0, |edge| edge.column(row));
        let to = edges.iter().find(|edge| edge.side == Side::Bottom).map_or(last, |edge| edge.column(row));
        [points[from..=turn].to_vec(), points[turn..=to].to_vec()]
    };
    let [butt, tip] = [end(0), end(skin.rows.len() - 1)];
    let [tip_top, tip_bottom] = tip;
    let [butt_top, butt_bottom] = butt;
    let mut borders: Vec<(Border, Vec<Coord<f64>>)> = outbound;
    borders.push((Border::Tip(Side::Top), tip_top));
    borders.push((Border::Tip(Side::Bottom), tip_bottom));
    borders.extend(homeward.into_iter().rev().map(|(border, points)| (border, reversed(points))));
    borders.push((Border::Butt(Side::Bottom), reversed(butt_bottom)));
    borders.push((Border::Butt(Side::Top), reversed(butt_top)));
    let mut points = Vec::new();
    let mut named = Vec::new();
    for (border, along) in borders.into_iter().filter(|(_, along)| along.len() > 1) {
        let along = straightened(&along);
        // The last point of a border is the first one of the next.
        for point in &along[..along.len() - 1] {
            points.push([point.x, point.y]);
            named.push(border);
        }
    }
    (Curve::polygon(&points, &[]), named)
}

fn reversed(points: Vec<Coord<f64>>) -> Vec<Coord<f64>> {
    points.into_iter().rev().collect()
}

fn straightened(points: &[Coord<f64>]) -> Vec<Coord<f64>> {
    LineString::new(points.to_vec()).simplify(STRAIGHT).into_inner()
}

fn member_lines(class: MemberClass, points: &[Coord<f64>]) -> Vec<MemberLine> {
    let drawn = LineString::new(points.to_vec()).simplify(PENCIL_LINE).into_inner();
    drawn.windows(2).map(|pair| MemberLine { class, ends: [pair[0], pair[1]] }).collect()
}

/// The ribs, as far aft as there is cloth on them.
fn ribs(wing: &RibbedPart, chords: &[Chord], skin: &FlatSkin, edges: &[AftEdge]) -> Vec<MemberLine> {
    let butt = wing.planform[0].span;
    let class = |chord: &Chord| if chord.span == butt { MemberClass::ButtRib } else { MemberClass::Rib };
    let line = |row: usize| {
        let columns = covered_columns(edges, row, skin.rows[row].len());
        member_lines(class(&chords[row]), &skin.rows[row][columns])
    };
    rib_rows(wing, chords).flat_map(line).collect()
}

/// The rows that are ribs.
fn rib_rows(wing: &RibbedPart, chords: &[Chord]) -> impl Iterator<Item = usize> {
    let rib_at = |span: f64| wing.ribs.iter().any(|rib| (rib - span).abs() <= SAME_POINT);
    (0..chords.len()).filter(move |row| rib_at(chords[*row].span))
}

/// The columns of a row that there is cloth on.
fn covered_columns(edges: &[AftEdge], row: usize, columns: usize) -> std::ops::RangeInclusive<usize> {
    let column = |side: Side| edges.iter().find(|edge| edge.side == side).map(|edge| edge.column(row));
    column(Side::Top).unwrap_or(0)..=column(Side::Bottom).unwrap_or(columns - 1)
}

/// The ribs of a face: the row of each, its line, and the part of the chord at which it ends aft.
pub(super) fn ribs_of(
    wing: &RibbedPart,
    face: Face,
    chords: &[Chord],
    lines: &[SpanLine],
    rows: &[Vec<Coord<f64>>],
) -> Vec<(usize, Vec<Coord<f64>>, f64)> {
    let edges = aft_edges(wing, chords, lines, face);
    let rib = |row: usize| {
        let columns = covered_columns(&edges, row, lines.len());
        let aft = lines[*columns.start()].place.max(lines[*columns.end()].place);
        (row, rows[row][columns].to_vec(), aft)
    };
    rib_rows(wing, chords).map(rib).collect()
}

/// A face laid flat: its chords, its lines along the span, and the flat place of each line on each chord.
pub(super) fn spread(wing: &RibbedPart, face: Face) -> (Vec<Chord>, Vec<SpanLine>, Vec<Vec<Coord<f64>>>) {
    let (chords, lines) = (chords(wing), face.lines(wing));
    let rows = lay_skin_flat(&wing.section, &chords, &lines).rows;
    (chords, lines, rows)
}

/// The nose as a member that a lap may lie on, as wide as the nose sheet at the shortest chord.
fn nose(wing: &RibbedPart, points: &[Coord<f64>]) -> Option<Member> {
    let [from, to] = straightened(points)[..] else { return None };
    Some(Member {
        class: MemberClass::LeadingEdge,
        from: [from.x, from.y],
        to: [to.x, to.y],
        width: nose_width(wing),
        at: Spot::default(),
    })
}

/// Width of the nose sheet along the girth at the shortest chord.
pub(super) fn nose_width(wing: &RibbedPart) -> Option<f64> {
    let [top, bottom] = wing.nose_sheet?;
    let girth = wing.section.girth(Side::Top, 0.0, top) + wing.section.girth(Side::Bottom, 0.0, bottom);
    let shortest = wing.planform.iter().map(|chord| chord.length).fold(f64::INFINITY, f64::min);
    Some(girth * shortest)
}
