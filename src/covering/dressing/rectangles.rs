//! Which rectangles share a template: an exact search over how to group them.

/// A size of rectangle, its length no less than its width, and how many of it are wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Wanted {
    pub length: f64,
    pub width: f64,
    pub count: f64,
}

/// How rectangles are grouped.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Grouping {
    /// The group of each rectangle, in the order in which they were given.
    pub group_of: Vec<usize>,
    /// Cloth that the templates take for all of them, square millimetres.
    pub cloth: f64,
    /// Whether it is known to be the least.
    pub proven: bool,
}

/// Steps of the search before the best grouping so far is taken; counted, so that every machine gives the same answer.
const STEPS: u32 = 300_000;

/// The grouping into at most `most` groups that takes the least cloth, where each rectangle is cut to the smallest template
/// that holds its whole group.
///
/// Branch and bound: from the longest to the shortest, each rectangle joins a group or opens one, so that the length of a
/// group is that of its first. What the rest takes at least bounds the search.
pub(super) fn group(wanted: &[Wanted], most: usize) -> Grouping {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    let key = |index: &usize| (wanted[*index].length, wanted[*index].width);
    order.sort_by(|a, b| key(b).0.total_cmp(&key(a).0).then(key(b).1.total_cmp(&key(a).1)));
    let sorted: Vec<Wanted> = order.iter().map(|index| wanted[*index]).collect();
    let mut own_from = vec![0.0; sorted.len() + 1];
    for index in (0..sorted.len()).rev() {
        own_from[index] = own_from[index + 1] + area_of(&sorted[index]);
    }
    let mut search = Search {
        own_from,
        most: most.max(1),
        groups: Vec::new(),
        joined: Vec::new(),
        best: vec![0; sorted.len()],
        least: f64::INFINITY,
        steps: 0,
        sorted,
    };
    search.go(0, 0.0);
    let mut group_of = vec![0; wanted.len()];
    for (place, index) in order.iter().enumerate() {
        group_of[*index] = search.best[place];
    }
    Grouping { group_of, cloth: if wanted.is_empty() { 0.0 } else { search.least }, proven: search.steps < STEPS }
}

fn area_of(wanted: &Wanted) -> f64 {
    wanted.length * wanted.width * wanted.count
}

#[derive(Clone, Copy)]
struct Group {
    length: f64,
    width: f64,
    count: f64,
}

impl Group {
    fn cloth(&self) -> f64 {
        self.length * self.width * self.count
    }

    fn with(&self, wanted: &Wanted) -> Self {
        Self { length: self.length, width: self.width.max(wanted.width), count: self.count + wanted.count }
    }
}

struct Search {
    sorted: Vec<Wanted>,
    /// Cloth of the rectangles from each place on, were each cut to its own size.
    own_from: Vec<f64>,
    most: usize,
    groups: Vec<Group>,
    joined: Vec<usize>,
    best: Vec<usize>,
    least: f64,
    steps: u32,
}

impl Search {
    fn go(&mut self, place: usize, cloth: f64) {
        let Some(next) = self.sorted.get(place).copied() else {
            if cloth < self.least {
                self.least = cloth;
                self.best.clone_from(&self.joined);
            }
            return;
        };
        // The first way down is always finished, so that there is an answer.
        if self.least.is_finite() && (self.steps >= STEPS || cloth + self.rest(place) >= self.least) {
            return;
        }
        self.steps += 1;
        let mut ways: Vec<(f64, usize)> = self
            .groups
            .iter()
            .enumerate()
            .map(|(number, group)| (group.with(&next).cloth() - group.cloth(), number))
            .collect();
        if self.groups.len() < self.most {
            ways.push((area_of(&next), self.groups.len()));
        }
        ways.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.cmp(&b.1)));
        for (more, number) in ways {
            self.joined.push(number);
            if number == self.groups.len() {
                self.groups.push(Group { length: next.length, width: next.width, count: next.count });
                self.go(place + 1, cloth + more);
                self.groups.pop();
            } else {
                let before = self.groups[number];
                self.groups[number] = before.with(&next);
                self.go(place + 1, cloth + more);
                self.groups[number] = before;
            }
            self.joined.pop();
        }
    }

    /// The least cloth that the rectangles from a place on can take.
    fn rest(&self, place: usize) -> f64 {
        if self.groups.len() < self.most {
            return self.own_from[place];
        }
        let cheapest = |wanted: &Wanted| {
            let in_group = |group: &Group| group.length * group.width.max(wanted.width) * wanted.count;
            self.groups.iter().map(in_group).fold(f64::INFINITY, f64::min)
        };
        self.sorted[place..].iter().map(cheapest).sum()
    }
}
