//! A ring of nodes divided into bays by the members across it.

use super::UnrollFault;

/// The bays, each in the sense of the ring and beginning with its lowest node.
pub(super) fn divided(nodes: usize, across: &[[usize; 2]]) -> Result<Vec<Vec<usize>>, UnrollFault> {
    let mut bays: Vec<Vec<usize>> = vec![(0..nodes).collect()];
    for member in across {
        let ends = |bay: &[usize]| {
            let [one, other] = member.map(|end| bay.iter().position(|node| *node == end));
            Some((one?.min(other?), one?.max(other?)))
        };
        let Some((index, (from, to))) = bays.iter().enumerate().find_map(|(i, bay)| Some((i, ends(bay)?))) else {
            return Err(UnrollFault::Crossing { member: *member });
        };
        let bay = &bays[index];
        if to - from < 2 || to - from == bay.len() - 1 {
            continue;
        }
        let rest = bay[..=from].iter().chain(&bay[to..]).copied().collect();
        let between = bay[from..=to].to_vec();
        bays[index] = rest;
        bays.push(between);
    }
    bays.sort();
    Ok(bays)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn members_divide_a_ring_in_any_order() {
        let bays = vec![vec![0, 1, 6, 7], vec![1, 2, 5], vec![1, 5, 6], vec![2, 3, 4, 5]];
        assert_eq!(divided(8, &[[1, 6], [5, 2], [1, 5]]), Ok(bays.clone()));
        assert_eq!(divided(8, &[[1, 5], [2, 5], [6, 1]]), Ok(bays));
    }

    #[test]
    fn a_member_along_the_ring_or_given_twice_divides_nothing() {
        assert_eq!(divided(4, &[[0, 1], [3, 0], [0, 2], [2, 0]]), Ok(vec![vec![0, 1, 2], vec![0, 2, 3]]));
    }

    #[test]
    fn members_that_cross_are_named() {
        assert_eq!(divided(6, &[[0, 3], [1, 4]]), Err(UnrollFault::Crossing { member: [1, 4] }));
    }
}
