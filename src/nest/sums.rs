//! Which lengths the sides of some boxes can add up to, each box used once or not at all, as bits (the cuts by dynamic
//! programming of Kenmochi and others, "Exact algorithms for the two-dimensional strip packing problem with and without
//! rotations", 2009).
//!
//! Of boxes in a row the sums of all before a place and of all after it are both kept. So the sums without one box are
//! at hand too: some sum before it and some sum after it make up the length. The latter are kept in reverse, which makes
//! that one shift and one comparison.

/// Sums of the boxes in a row, up to a length.
pub struct Sums {
    words: usize,
    /// For each place in the row, a bit for every sum of the boxes before it.
    before: Vec<u64>,
    /// The same for the boxes from it on, in reverse: a sum has the last bit but so many.
    after: Vec<u64>,
    /// For each kind, the place after the last of its boxes.
    ends: Vec<usize>,
}

impl Sums {
    /// For lengths up to the longest.
    pub fn new(longest: usize) -> Self {
        Self { words: longest / 64 + 1, before: Vec::new(), after: Vec::new(), ends: Vec::new() }
    }

    /// Takes up a row of boxes: of each kind how many there are, and the sides any one of which a box may add.
    pub fn take_up<'a>(&mut self, kinds: impl DoubleEndedIterator<Item = (usize, &'a [usize])> + Clone) {
        let words = self.words;
        let count: usize = kinds.clone().map(|(count, _)| count).sum();
        self.before.resize((count + 1) * words, 0);
        self.after.resize((count + 1) * words, 0);
        self.before[..words].fill(0);
        self.before[0] = 1;
        self.ends.clear();
        let mut place = 0;
        for (count, sides) in kinds.clone() {
            for _ in 0..count {
                let (old, new) = self.before[place * words..(place + 2) * words].split_at_mut(words);
                new.copy_from_slice(old);
                sides.iter().for_each(|&side| add_shifted_up(new, old, side));
                place += 1;
            }
            self.ends.push(place);
        }
        self.after[place * words..(place + 1) * words].fill(0);
        self.after[(place + 1) * words - 1] = 1 << 63;
        for (count, sides) in kinds.rev() {
            for _ in 0..count {
                place -= 1;
                let (new, old) = self.after[place * words..(place + 2) * words].split_at_mut(words);
                new.copy_from_slice(old);
                sides.iter().for_each(|&side| add_shifted_down(new, old, side));
            }
        }
    }

    /// Whether some of all boxes add up to a length.
    #[inline]
    pub fn reach(&self, length: usize) -> bool {
        let all = &self.before[self.ends.last().copied().unwrap_or(0) * self.words..];
        all[length / 64] >> (length % 64) & 1 == 1
    }

    /// The same without one box of a kind of which there is one.
    #[inline]
    pub fn reach_without(&self, kind: usize, length: usize) -> bool {
        let words = self.words;
        let end = self.ends[kind];
        let before = &self.before[(end - 1) * words..end * words];
        let after = &self.after[end * words..(end + 1) * words];
        let shift = 64 * words - 1 - length;
        let (skip, down) = (shift / 64, shift % 64);
        // Two shifts, because one by 64 is none.
        let high = |word: usize| after.get(word + 1).map_or(0, |next| next << 1 << (63 - down));
        (skip..words).any(|word| (after[word] >> down | high(word)) & before[word - skip] != 0)
    }
}

/// Adds every sum of some others with a side to sums.
#[inline]
fn add_shifted_up(sums: &mut [u64], others: &[u64], side: usize) {
    let (skip, up) = (side / 64, side % 64);
    for word in skip..sums.len() {
        let low = (word - skip).checked_sub(1).map_or(0, |below| others[below] >> 1 >> (63 - up));
        sums[word] |= others[word - skip] << up | low;
    }
}

/// The same for sums in reverse.
#[inline]
fn add_shifted_down(sums: &mut [u64], others: &[u64], side: usize) {
    let (skip, down) = (side / 64, side % 64);
    for word in skip..sums.len() {
        let high = others.get(word + 1).map_or(0, |next| next << 1 << (63 - down));
        sums[word - skip] |= others[word] >> down | high;
    }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeSet;

    use proptest::prelude::*;

    use super::*;

    /// All sums of a row of boxes, by trying everything.
    fn tried(row: &[&Vec<usize>]) -> BTreeSet<usize> {
        row.iter().fold(BTreeSet::from([0]), |sums, sides| {
            let more = sums.iter().flat_map(|sum| sides.iter().map(move |side| sum + side));
            sums.iter().copied().chain(more).collect()
        })
    }

    proptest! {
        #[test]
        fn sums_are_those_found_by_trying_everything(
            kinds in proptest::collection::vec((0..3usize, proptest::collection::vec(1..90usize, 1..3)), 1..7),
            longest in 1..260usize,
        ) {
            let mut sums = Sums::new(longest);
            // What was taken up before leaves no trace.
            sums.take_up([(3, &[1, 7][..])].into_iter());
            sums.take_up(kinds.iter().map(|(count, sides)| (*count, &sides[..])));
            let row = |left_out: Option<usize>| {
                let count = |kind: usize| kinds[kind].0 - usize::from(left_out == Some(kind));
                let row: Vec<_> = (0..kinds.len()).flat_map(|kind| std::iter::repeat_n(&kinds[kind].1, count(kind))).collect();
                tried(&row)
            };
            let all = row(None);
            for length in 0..=longest {
                prop_assert_eq!(sums.reach(length), all.contains(&length), "{}", length);
            }
            for kind in (0..kinds.len()).filter(|kind| kinds[*kind].0 > 0) {
                let without = row(Some(kind));
                for length in 0..=longest {
                    prop_assert_eq!(sums.reach_without(kind, length), without.contains(&length), "{} {}", kind, length);
                }
            }
        }
    }
}
