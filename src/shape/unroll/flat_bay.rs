//! One bay laid flat: exactly where its nodes lie in a plane, else with its sides kept and the ways across it shared out.

use geo_types::Coord;

use super::{UnrollFault, flat_length};
use crate::shape::SpacePoint;
use crate::shape::space::{cross, dot, double_area_vector, length, minus, scaled};

/// How much more a side's length counts than a way across, stage by stage. After the last stage a side of 5 m whose bay
/// is twisted by a tenth is true to a millionth of a millimetre or so; going there at once would creep.
const STAGES: [f64; 4] = [1e1, 1e2, 1e3, 1e4];
/// Most steps of one stage; gentle twists take less than ten.
const STEPS: usize = 60;
/// A step shorter than this part of the bay's size ends a stage.
const SETTLED: f64 = 1e-13;
/// Twice the area, as a part of the square of the bay's longest side, below which its nodes lie on one line.
const NO_AREA: f64 = 1e-9;

/// The nodes of a bay on the flat, counter-clockwise.
pub(super) fn laid_flat(ring: &[SpacePoint], bay: &[usize]) -> Result<Vec<Coord<f64>>, UnrollFault> {
    let nodes: Vec<SpacePoint> = bay.iter().map(|node| ring[*node]).collect();
    let next = |i: usize| nodes[(i + 1) % nodes.len()];
    let sides = nodes.iter().enumerate().map(|(i, node)| minus(next(i), *node));
    let longest = sides.reduce(|a, b| if length(b) > length(a) { b } else { a }).unwrap_or_default();
    let (normal, size) = (double_area_vector(&nodes), length(longest));
    if length(normal) <= NO_AREA * size * size {
        return Err(UnrollFault::NoArea { bay: bay.to_vec() });
    }
    let normal = scaled(normal, 1.0 / length(normal));
    let along = minus(longest, scaled(normal, dot(longest, normal)));
    let along = scaled(along, 1.0 / length(along));
    let upward = cross(normal, along);
    let projected = nodes.iter().map(|node| minus(*node, nodes[0]));
    let mut flat: Vec<Coord<f64>> =
        projected.map(|arm| Coord { x: dot(arm, along) / size, y: dot(arm, upward) / size }).collect();

    let mut pairs = wanted_distances(&nodes, size);
    for stage in STAGES {
        pairs.iter_mut().filter(|pair| pair.side).for_each(|pair| pair.weight = stage);
        settle(&mut flat, &pairs);
    }
    Ok(flat.into_iter().map(|point| point * size).collect())
}

/// What a pair of nodes would have apart.
struct Pair {
    nodes: [usize; 2],
    side: bool,
    weight: f64,
    wanted: f64,
}

fn wanted_distances(nodes: &[SpacePoint], size: f64) -> Vec<Pair> {
    let mut pairs = Vec::new();
    for i in 0..nodes.len() {
        for j in i + 1..nodes.len() {
            let side = j == i + 1 || (i == 0 && j + 1 == nodes.len());
            pairs.push(Pair { nodes: [i, j], side, weight: 1.0, wanted: length(minus(nodes[j], nodes[i])) / size });
        }
    }
    pairs
}

/// By how much the pairs miss what they want, squared, each as a part of it.
fn miss(flat: &[Coord<f64>], pairs: &[Pair]) -> f64 {
    let missed = |pair: &Pair| {
        let apart = flat_length(flat[pair.nodes[1]] - flat[pair.nodes[0]]);
        pair.weight * (apart / pair.wanted - 1.0)
    };
    pairs.iter().map(missed).map(|missed| missed * missed).sum()
}

/// Damped least squares (Levenberg 1944, Marquardt 1963): the damping also holds still what no distance decides, the
/// place and the turn of the whole bay.
fn settle(flat: &mut Vec<Coord<f64>>, pairs: &[Pair]) {
    let mut damping = 1e-6;
    let mut now = miss(flat, pairs);
    for _ in 0..STEPS {
        let Some(step) = damped_step(flat, pairs, damping) else {
            damping *= 10.0;
            continue;
        };
        let tried: Vec<Coord<f64>> = flat.iter().zip(&step).map(|(point, by)| *point + *by).collect();
        let then = miss(&tried, pairs);
        if then > now {
            damping *= 10.0;
            continue;
        }
        (*flat, now) = (tried, then);
        damping = (damping / 10.0).max(1e-12);
        if step.iter().all(|by| flat_length(*by) < SETTLED) {
            return;
        }
    }
}

fn damped_step(flat: &[Coord<f64>], pairs: &[Pair], damping: f64) -> Option<Vec<Coord<f64>>> {
    let size = 2 * flat.len();
    let mut matrix = vec![vec![0.0; size]; size];
    let mut right = vec![0.0; size];
    for pair in pairs {
        let [i, j] = pair.nodes;
        let along = flat[j] - flat[i];
        let apart = flat_length(along);
        if apart == 0.0 {
            continue;
        }
        let slope = pair.weight / (pair.wanted * apart);
        let missed = pair.weight * (apart / pair.wanted - 1.0);
        let entries = [
            (2 * i, -along.x * slope),
            (2 * i + 1, -along.y * slope),
            (2 * j, along.x * slope),
            (2 * j + 1, along.y * slope),
        ];
        for (row, by_row) in entries {
            right[row] -= by_row * missed;
            for (column, by_column) in entries {
                matrix[row][column] += by_row * by_column;
            }
        }
    }
    for (i, row) in matrix.iter_mut().enumerate() {
        row[i] += damping * row[i] + f64::MIN_POSITIVE;
    }
    let step = solved(matrix, right)?;
    Some(step.chunks_exact(2).map(|pair| Coord { x: pair[0], y: pair[1] }).collect())
}

/// Solves a symmetric positive definite system (Cholesky); `None` where rounding has made it none.
fn solved(mut matrix: Vec<Vec<f64>>, mut right: Vec<f64>) -> Option<Vec<f64>> {
    let size = right.len();
    for i in 0..size {
        for j in 0..=i {
            let products: f64 = (0..j).map(|k| matrix[i][k] * matrix[j][k]).sum();
            let left = matrix[i][j] - products;
            if i == j {
                if left <= 0.0 {
                    return None;
                }
                matrix[i][i] = left.sqrt();
            } else {
                matrix[i][j] = left / matrix[j][j];
            }
        }
        let known: f64 = (0..i).map(|k| matrix[i][k] * right[k]).sum();
        right[i] = (right[i] - known) / matrix[i][i];
    }
    for i in (0..size).rev() {
        let known: f64 = (i + 1..size).map(|k| matrix[k][i] * right[k]).sum();
        right[i] = (right[i] - known) / matrix[i][i];
    }
    Some(right)
}
