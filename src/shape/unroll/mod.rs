//! Unrolling: a face in space laid out flat, and what the cloth must give where no flat cloth fits the face.
//!
//! A face is a ring of nodes. Members that run across it divide it into bays; each bay is laid flat by itself and the
//! bays are set edge to edge, as a strip of paper unfolds. Where every bay is flat in space the outcome is exact. A bay
//! whose nodes lie in no plane cannot be laid flat without give: its edges keep their lengths, since cloth is glued along
//! them, and the distances across it share what is left.

mod bays;
mod fault;
mod flat_bay;

use geo_types::Coord;

use super::SpacePoint;
use super::space::{length, minus};
use bays::divided;
pub use fault::UnrollFault;
use flat_bay::laid_flat;

/// A face laid out flat.
#[derive(Clone, Debug, PartialEq)]
pub struct Unrolled {
    /// The nodes of the ring in their order, counter-clockwise; the first at the origin, the second on the x axis.
    pub points: Vec<Coord<f64>>,
    /// The bays, each as the places of its nodes in the ring.
    pub bays: Vec<Vec<usize>>,
    /// Every pair of nodes of one bay, with its distance in space and on the flat: first the sides of the bays, then the
    /// ways across them.
    pub distances: Vec<Distances>,
}

/// How far two nodes of a bay lie apart in space and on the flat cloth.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Distances {
    /// Places of the two nodes in the ring, the lower first.
    pub nodes: [usize; 2],
    /// Whether it is a side of a bay, which is to say of the ring or of a member across it.
    pub side: bool,
    /// Millimetres in a straight line in space.
    pub in_space: f64,
    /// Millimetres on the flat cloth.
    pub flat: f64,
}

impl Distances {
    /// Millimetres of cloth that there are too many between the two nodes, for heat to shrink; negative where the cloth
    /// is too short. The straight line in space is the shortest way there is, so that over a hollow or a bulge it asks for
    /// more than the cloth will in truth have to give.
    pub fn give(&self) -> f64 {
        self.flat - self.in_space
    }

    /// [`Distances::give`] as a part of the cloth that lies there: 0.05 for five in a hundred.
    pub fn share(&self) -> f64 {
        self.give() / self.flat
    }
}

impl Unrolled {
    /// The pair whose cloth must give most for its length; `None` only where there is no pair.
    pub fn worst(&self) -> Option<&Distances> {
        let ways = self.distances.iter();
        ways.reduce(|worst, pair| if pair.share().abs() > worst.share().abs() { pair } else { worst })
    }
}

/// Lays a face out flat.
///
/// `ring` holds the nodes in order, counter-clockwise as the finished face is seen; `across` the members that divide it,
/// each as the places of its two ends in the ring. A member between neighbours of the ring divides nothing.
///
/// Every side of the ring and every member keeps its length. In a bay that is flat in space so does everything else; in a
/// twisted bay the least squares of [`Distances::share`] over the ways across it decide.
///
/// ```
/// use clothwright::shape::unroll;
/// // A sheet folded square along the line from node 1 to node 4.
/// let ring = [[0.0, 0.0, 0.0], [300.0, 0.0, 0.0], [300.0, 0.0, 200.0], [300.0, 400.0, 200.0], [300.0, 400.0, 0.0], [0.0, 400.0, 0.0]];
/// let flat = unroll(&ring, &[[1, 4]])?;
/// let corner = flat.points[3];
/// assert!((corner.x - 500.0).abs() < 1e-6 && (corner.y - 400.0).abs() < 1e-6);
/// assert!(flat.worst().unwrap().give().abs() < 1e-6);
/// # Ok::<(), clothwright::shape::UnrollFault>(())
/// ```
///
/// # Errors
/// [`UnrollFault`] where the ring is no ring, where a member's end is not in it, and where members cross.
pub fn unroll(ring: &[SpacePoint], across: &[[usize; 2]]) -> Result<Unrolled, UnrollFault> {
    check(ring, across)?;
    let bays = divided(ring.len(), across)?;
    let flat_bays = bays.iter().map(|bay| laid_flat(ring, bay)).collect::<Result<Vec<_>, _>>()?;
    let points = set_edge_to_edge(ring.len(), &bays, &flat_bays);
    let distances = distances(ring, &points, &bays);
    Ok(Unrolled { points, bays, distances })
}

/// Lays out the strip of bays between two chains of nodes that run alongside each other, such as the upper and the lower
/// longeron of a fuselage's side. Node by node, a member joins the two chains.
///
/// The ring runs along `lower` and back along `upper`; it is counter-clockwise where `upper` lies to the left.
///
/// ```
/// use clothwright::shape::unroll_strip;
/// // Half a square tube, unrolled from corner to corner.
/// let lower = [[0.0, 0.0, 0.0], [50.0, 0.0, 0.0], [50.0, 50.0, 0.0]];
/// let upper = lower.map(|[x, y, _]| [x, y, 800.0]);
/// let flat = unroll_strip(&lower, &upper)?;
/// assert!((flat.points[2].x - 100.0).abs() < 1e-6);
/// # Ok::<(), clothwright::shape::UnrollFault>(())
/// ```
///
/// # Errors
/// As [`unroll`]; and where one chain has more nodes than the other.
pub fn unroll_strip(lower: &[SpacePoint], upper: &[SpacePoint]) -> Result<Unrolled, UnrollFault> {
    if lower.len() != upper.len() {
        return Err(UnrollFault::UnlikeChains { lower: lower.len(), upper: upper.len() });
    }
    let ring: Vec<SpacePoint> = lower.iter().chain(upper.iter().rev()).copied().collect();
    let last = ring.len().saturating_sub(1);
    let across: Vec<[usize; 2]> = (1..lower.len().saturating_sub(1)).map(|i| [i, last - i]).collect();
    unroll(&ring, &across)
}

fn check(ring: &[SpacePoint], across: &[[usize; 2]]) -> Result<(), UnrollFault> {
    if ring.len() < 3 {
        return Err(UnrollFault::TooFewNodes { nodes: ring.len() });
    }
    if let Some(node) =
        ring.iter().position(|point| point.iter().any(|value| value.is_nan() || value.abs() > super::FAR_AWAY))
    {
        return Err(UnrollFault::TooFar { node });
    }
    for later in 1..ring.len() {
        let same = (0..later).find(|earlier| length(minus(ring[later], ring[*earlier])) <= super::SAME_POINT);
        if let Some(earlier) = same {
            return Err(UnrollFault::SamePlace { nodes: [earlier, later] });
        }
    }
    match across.iter().flatten().find(|end| **end >= ring.len()) {
        Some(&end) => Err(UnrollFault::EndNotInRing { end, nodes: ring.len() }),
        None => Ok(()),
    }
}

/// Moves the flat bays so that those which share a member lie on both sides of it.
fn set_edge_to_edge(count: usize, bays: &[Vec<usize>], flat_bays: &[Vec<Coord<f64>>]) -> Vec<Coord<f64>> {
    let mut places: Vec<Option<Coord<f64>>> = vec![None; count];
    let mut waiting: Vec<usize> = (0..bays.len()).collect();
    // The bay that holds the ring's first side comes first; after it, any bay that has two nodes in place.
    let side_in_place = |places: &[Option<Coord<f64>>], bay: &[usize]| {
        (0..bay.len()).find_map(|i| {
            let next = (i + 1) % bay.len();
            Some((i, next, places[bay[i]]?, places[bay[next]]?))
        })
    };
    let first = waiting.iter().position(|bay| bays[*bay].starts_with(&[0, 1])).unwrap_or(0);
    let mut chosen = Some((first, (0, 1, Coord { x: 0.0, y: 0.0 }, Coord { x: 1.0, y: 0.0 })));
    while let Some((position, (i, next, from, to))) = chosen {
        let bay = waiting.remove(position);
        let flat = &flat_bays[bay];
        let (own, wanted) = (unit(flat[next] - flat[i]), unit(to - from));
        let cos = own.x * wanted.x + own.y * wanted.y;
        let sin = own.x * wanted.y - own.y * wanted.x;
        for (node, point) in bays[bay].iter().zip(flat) {
            let arm = *point - flat[i];
            let place = Coord { x: from.x + cos * arm.x - sin * arm.y, y: from.y + sin * arm.x + cos * arm.y };
            places[*node].get_or_insert(place);
        }
        chosen = waiting
            .iter()
            .enumerate()
            .find_map(|(position, bay)| Some((position, side_in_place(&places, &bays[*bay])?)));
    }
    places.into_iter().map(Option::unwrap_or_default).collect()
}

fn unit(along: Coord<f64>) -> Coord<f64> {
    along / flat_length(along)
}

fn flat_length(along: Coord<f64>) -> f64 {
    (along.x * along.x + along.y * along.y).sqrt()
}

fn distances(ring: &[SpacePoint], points: &[Coord<f64>], bays: &[Vec<usize>]) -> Vec<Distances> {
    let mut pairs = std::collections::BTreeSet::new();
    for bay in bays {
        for (i, one) in bay.iter().enumerate() {
            for (j, other) in bay.iter().enumerate().skip(i + 1) {
                let side = j == i + 1 || (i == 0 && j + 1 == bay.len());
                pairs.insert((!side, *one.min(other), *one.max(other)));
            }
        }
    }
    let measured = |(across, one, other): (bool, usize, usize)| Distances {
        nodes: [one, other],
        side: !across,
        in_space: length(minus(ring[other], ring[one])),
        flat: flat_length(points[other] - points[one]),
    };
    pairs.into_iter().map(measured).collect()
}
