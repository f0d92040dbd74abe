//! Which circles share a template: dynamic programming over their diameters.

use super::patch_sizes::{PatchSize, WantedPatch, WantedShape, area_of};

/// The circles of one size: their diameter, how many, and which of the wanted patches they are.
pub(super) struct Circle {
    diameter: f64,
    count: u32,
    serves: Vec<usize>,
}

/// The circles, from the smallest on, with the cheapest way to cut the first ones to a number of sizes.
pub(super) struct Circles {
    pub sizes: Vec<Circle>,
    /// `[number of sizes][first circles]`: cloth, and where the last size begins.
    table: Vec<Vec<(f64, usize)>>,
}

impl Circles {
    pub fn new(wanted: &[WantedPatch]) -> Self {
        let mut all: Vec<(f64, u32, usize)> = wanted
            .iter()
            .enumerate()
            .filter_map(|(index, patch)| match patch.shape {
                WantedShape::Circle(diameter) => Some((diameter, patch.quantity, index)),
                WantedShape::Rect(_) => None,
            })
            .collect();
        all.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut sizes: Vec<Circle> = Vec::new();
        for (diameter, quantity, index) in all {
            match sizes.last_mut() {
                Some(last) if last.diameter == diameter => {
                    last.count += quantity;
                    last.serves.push(index);
                }
                _ => sizes.push(Circle { diameter, count: quantity, serves: vec![index] }),
            }
        }
        let table = table(&sizes);
        Self { sizes, table }
    }

    /// Cloth that all take in a number of sizes, square millimetres; infinite where none is not enough.
    pub fn cloth(&self, number: usize) -> f64 {
        self.table[number][self.sizes.len()].0
    }

    /// The sizes, from the smallest on.
    pub fn sizes_of(&self, number: usize) -> Vec<PatchSize> {
        let mut end = self.sizes.len();
        let mut found = Vec::new();
        for row in self.table[1..=number].iter().rev() {
            let begin = row[end].1;
            if let Some(largest) = self.sizes[begin..end].last() {
                found.push(PatchSize {
                    shape: WantedShape::Circle(largest.diameter),
                    quantity: self.sizes[begin..end].iter().map(|circle| circle.count).sum(),
                    serves: self.sizes[begin..end].iter().flat_map(|circle| circle.serves.clone()).collect(),
                });
            }
            end = begin;
        }
        found.reverse();
        found
    }
}

/// The cheapest way to cut the first circles to each number of sizes: the last size takes a run of them.
fn table(sizes: &[Circle]) -> Vec<Vec<(f64, usize)>> {
    let none = |end: usize| (if end == 0 { 0.0 } else { f64::INFINITY }, 0);
    let mut rows: Vec<Vec<(f64, usize)>> = vec![(0..=sizes.len()).map(none).collect()];
    for number in 1..=sizes.len() {
        let before = &rows[number - 1];
        let best = |end: usize| {
            let mut best = (f64::INFINITY, 0);
            let mut count = 0.0;
            for begin in (0..end).rev() {
                count += f64::from(sizes[begin].count);
                let last = area_of(WantedShape::Circle(sizes[end - 1].diameter)) * count;
                if before[begin].0 + last < best.0 {
                    best = (before[begin].0 + last, begin);
                }
            }
            best
        };
        rows.push((0..=sizes.len()).map(|end| if end == 0 { (0.0, 0) } else { best(end) }).collect());
    }
    rows
}
