//! Failed attempts to get rid of all overlaps at one length, to start anew from: mostly from those nearest to success, as
//! Gardeyn, Vanden Berghe and Wauters (2025) do.

use crate::nest::random::Random;
use crate::nest::strip::Arrangement;

/// Attempts that are kept, at most.
const MOST: usize = 50;
/// Attempts whose overlaps differ by a smaller share are taken to have ended in the same place.
const SAME: f64 = 0.01;

/// Failed attempts, the nearest to success first.
#[derive(Default)]
pub struct Pool(Vec<(f64, Arrangement)>);

impl Pool {
    /// Puts an attempt aside; of those that ended in the same place only the one nearest to success is kept.
    pub fn add(&mut self, overlap: f64, arrangement: &Arrangement) {
        let rank = self.0.partition_point(|(other, _)| *other <= overlap);
        let is_same = |near: f64, far: f64| far - near <= SAME * far;
        if rank > 0 && is_same(self.0[rank - 1].0, overlap) {
            return;
        }
        if self.0.get(rank).is_some_and(|(other, _)| is_same(overlap, *other)) {
            self.0.remove(rank);
        }
        self.0.insert(rank, (overlap, arrangement.clone()));
        self.0.truncate(MOST);
    }

    /// One of the attempts, the nearer to success the likelier; none if there is none.
    pub fn draw(&self, random: &mut Random) -> Option<&Arrangement> {
        // The least of three shares leans towards the front of the list.
        let share = random.share().min(random.share()).min(random.share());
        self.0.get((share * self.0.len() as f64) as usize).map(|(_, arrangement)| arrangement)
    }

    /// Forgets all of them.
    pub fn clear(&mut self) {
        self.0.clear();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::nest::strip::Lying;

    fn attempt(number: usize) -> Arrangement {
        vec![Lying { way: number, at: [0.0; 2] }]
    }

    #[test]
    fn one_place_is_kept_once_and_the_nearest_is_drawn_most() {
        let mut pool = Pool::default();
        for (number, overlap) in [8.0, 2.0, 2.01, 4.0, 7.99, 1.0].into_iter().enumerate() {
            pool.add(overlap, &attempt(number));
        }
        let mut random = Random::new(1, 0);
        let mut drawn = [0; 6];
        for _ in 0..1000 {
            let way = pool.draw(&mut random).expect("there are some")[0].way;
            drawn[way] += 1;
        }
        assert_eq!([drawn[2], drawn[0]], [0, 0], "each ended where another had that is nearer to success");
        assert!(drawn[5] > drawn[1] && drawn[1] > drawn[3] && drawn[3] > drawn[4] && drawn[4] > 0, "{drawn:?}");
        pool.clear();
        assert!(pool.draw(&mut random).is_none());
    }

    #[test]
    fn the_farthest_from_success_give_way() {
        let mut pool = Pool::default();
        for number in 0..2 * MOST {
            pool.add(1.1f64.powi((2 * MOST - number) as i32), &attempt(number));
        }
        assert_eq!(pool.0.len(), MOST);
        assert!(pool.0.iter().all(|(_, arrangement)| arrangement[0].way >= MOST));
    }
}
