//! Which things may lie under a box: one set of bits for each band of the cloth, along and across.

/// An index of boxes by the bands that they reach into.
#[derive(Clone, Debug)]
pub struct Bands {
    words: usize,
    axes: [Axis; 2],
}

#[derive(Clone, Debug)]
struct Axis {
    low: f64,
    bands_per_unit: f64,
    last: usize,
    bits: Vec<u64>,
}

impl Axis {
    #[inline]
    fn range(&self, middle: f64, half: f64) -> (usize, usize) {
        let band = |at: f64| ((at - self.low) * self.bands_per_unit).max(0.0) as usize;
        (band(middle - half).min(self.last), band(middle + half).min(self.last))
    }
}

impl Bands {
    /// An empty index of up to `count` things over a region, with so many bands along and across.
    pub fn new(count: usize, low: [f64; 2], high: [f64; 2], bands: [usize; 2]) -> Self {
        let words = count.div_ceil(64);
        let axes = [0, 1].map(|axis| Axis {
            low: low[axis],
            bands_per_unit: bands[axis] as f64 / (high[axis] - low[axis]).max(f64::MIN_POSITIVE),
            last: bands[axis] - 1,
            bits: vec![0; bands[axis] * words],
        });
        Self { words, axes }
    }

    /// Enters a thing by the middle and half size of its box.
    pub fn insert(&mut self, thing: usize, middle: [f64; 2], half: [f64; 2]) {
        self.each_word(thing, middle, half, |word, bit| *word |= bit);
    }

    /// Removes a thing that was entered with just this box.
    pub fn remove(&mut self, thing: usize, middle: [f64; 2], half: [f64; 2]) {
        self.each_word(thing, middle, half, |word, bit| *word &= !bit);
    }

    fn each_word(&mut self, thing: usize, middle: [f64; 2], half: [f64; 2], change: impl Fn(&mut u64, u64)) {
        for (axis, bands) in self.axes.iter_mut().enumerate() {
            let (first, last) = bands.range(middle[axis], half[axis]);
            for band in first..=last {
                change(&mut bands.bits[band * self.words + thing / 64], 1 << (thing % 64));
            }
        }
    }

    /// The things whose bands meet those of a box, in order.
    #[inline(always)]
    pub fn under(&self, reach: Reach) -> impl Iterator<Item = usize> {
        let (mut next_word, mut bits) = (0, 0u64);
        std::iter::from_fn(move || {
            while bits == 0 {
                if next_word == self.words {
                    return None;
                }
                bits = self.word(next_word, &reach);
                next_word += 1;
            }
            let thing = (next_word - 1) * 64 + bits.trailing_zeros() as usize;
            bits &= bits - 1;
            Some(thing)
        })
    }

    /// One word of the set of things whose bands meet those of a box.
    #[inline]
    fn word(&self, word: usize, reach: &Reach) -> u64 {
        let found = [0, 1].map(|axis| {
            let (first, last) = reach.ranges[axis];
            let bits = &self.axes[axis].bits;
            (first..=last).fold(0, |found, band| found | bits[band * self.words + word])
        });
        found[0] & found[1]
    }

    /// The bands that a box reaches into.
    #[inline]
    pub fn reach(&self, middle: [f64; 2], half: [f64; 2]) -> Reach {
        Reach { ranges: [self.axes[0].range(middle[0], half[0]), self.axes[1].range(middle[1], half[1])] }
    }
}

/// First and last band along and across.
#[derive(Clone, Copy, Debug)]
pub struct Reach {
    ranges: [(usize, usize); 2],
}
