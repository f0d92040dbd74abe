//! What no plan can cost less than: the linear programme over all patterns of cuts, by its dual, with patterns added as
//! they are found to matter.
//!
//! The dual gives each run a worth so that no pattern of cuts is worth more than its roll; what all runs are worth together
//! no plan can cost less than. Worths that break that rule for a pattern that was not thought of are scaled down until
//! they keep it, so that the bound holds whenever the search for patterns ends (Farley, "A note on bounding a class of
//! linear programming problems", Operations Research 38, 1990).

use microlp::{ComparisonOp, OptimizationDirection, Problem, Variable};

use super::Ticks;

/// Different lengths that the programme is made for; with more of them it takes too long, and too much memory.
const MOST_DEMANDS: usize = 500;
/// Rounds of adding patterns, of all kinds of rolls together.
const ROUNDS: usize = 200;
/// Steps of the search for one pattern.
const STEPS: u32 = 20_000;
/// Steps of the search for one pattern when it decides whether there is any.
const LAST_STEPS: u32 = 300_000;
/// Part of a price by which a pattern must be worth more than its roll to matter.
const MATTERS: f64 = 1e-7;
/// So few rolls are none, by rounding.
const NONE: f64 = 1e-6;

/// Runs of one length.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Demand {
    pub length: Ticks,
    pub count: u32,
}

/// A kind of roll of which there are enough.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Source {
    pub length: Ticks,
    pub price: f64,
}

/// Cuts from one roll.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Pattern {
    pub roll: Ticks,
    pub cuts: Vec<Ticks>,
}

/// Cuts from one roll while the linear programme is solved: how many of each demand.
struct Counted {
    /// The kind of roll, as a place in the sources.
    source: usize,
    counts: Vec<u32>,
}

/// What the linear programme says.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Bound {
    /// No plan costs less; limits on how many rolls there are may only make it dearer.
    pub cost: f64,
    /// Its cheapest mixture of patterns, with how many rolls it cuts by each: not a whole number, as a rule.
    pub mixture: Vec<(Pattern, f64)>,
}

/// What no plan for these runs costs less than; nothing where some run is longer than all rolls.
pub(super) fn bound(demands: &[Demand], sources: &[Source]) -> Bound {
    let longest = sources.iter().map(|source| source.length).max().unwrap_or(0);
    if demands.is_empty() || demands.iter().any(|demand| demand.length > longest) {
        return Bound::default();
    }
    if demands.len() > MOST_DEMANDS {
        return Bound { cost: by_length(demands, sources), mixture: Vec::new() };
    }
    let (cost, patterns) = priced(demands, sources);
    Bound { cost: cost.max(by_length(demands, sources)), mixture: cheapest_mixture(demands, sources, &patterns) }
}

/// What the length alone costs at the cheapest price by length.
fn by_length(demands: &[Demand], sources: &[Source]) -> f64 {
    let length: Ticks = demands.iter().map(|demand| demand.length * Ticks::from(demand.count)).sum();
    let cheapest = sources.iter().map(|roll| roll.price / roll.length as f64).fold(f64::INFINITY, f64::min);
    length as f64 * cheapest
}

/// The bound by the dual, and the patterns that were thought of.
fn priced(demands: &[Demand], sources: &[Source]) -> (f64, Vec<Counted>) {
    let mut patterns = Vec::new();
    let mut dual = Problem::new(OptimizationDirection::Maximize);
    let worths: Vec<Variable> =
        demands.iter().map(|demand| dual.add_var(f64::from(demand.count), (0.0, f64::INFINITY))).collect();
    for (place, demand) in demands.iter().enumerate() {
        for (source, roll) in sources.iter().enumerate().filter(|(_, roll)| roll.length >= demand.length) {
            let copies = (roll.length / demand.length).min(Ticks::from(demand.count)) as u32;
            dual.add_constraint([(worths[place], f64::from(copies))], ComparisonOp::Le, roll.price);
            let counts = (0..demands.len()).map(|other| if other == place { copies } else { 0 }).collect();
            patterns.push(Counted { source, counts });
        }
    }
    let mut best: f64 = 0.0;
    for _ in 0..ROUNDS / sources.len().max(1) {
        let Ok(Ok(solution)) = dual.solve().map(|outcome| outcome.into_solution()) else { break };
        let worth: Vec<f64> = worths.iter().map(|worth| solution.var_value(*worth).max(0.0)).collect();
        let mut dearest: f64 = 1.0;
        let mut matters = false;
        for (source, roll) in sources.iter().enumerate() {
            let found = worthiest(demands, &worth, *roll);
            dearest = dearest.max(found.at_most / roll.price);
            for counts in several(demands, &worth, *roll, found) {
                matters = true;
                dual.add_constraint(terms(&worths, &counts), ComparisonOp::Le, roll.price);
                patterns.push(Counted { source, counts });
            }
        }
        let together: f64 = demands.iter().zip(&worth).map(|(demand, worth)| f64::from(demand.count) * worth).sum();
        best = best.max(together / dearest);
        if !matters {
            break;
        }
    }
    (best, patterns)
}

/// The worthiest cuts from a roll, then the worthiest from what they leave, and so on as long as they matter: patterns
/// that together cut everything take far fewer rounds than one at a time.
fn several(demands: &[Demand], worth: &[f64], roll: Source, first: Worthiest) -> Vec<Vec<u32>> {
    let mut left = demands.to_vec();
    let mut found = first;
    let mut patterns = Vec::new();
    while found.worth > roll.price * (1.0 + MATTERS) {
        left.iter_mut().zip(&found.counts).for_each(|(demand, count)| demand.count -= count);
        patterns.push(found.counts);
        found = within(&left, worth, roll.length, STEPS);
    }
    patterns
}

fn terms(variables: &[Variable], counts: &[u32]) -> Vec<(Variable, f64)> {
    variables.iter().zip(counts).map(|(variable, count)| (*variable, f64::from(*count))).collect()
}

/// How often each pattern is cut where all together cost least.
fn cheapest_mixture(demands: &[Demand], sources: &[Source], patterns: &[Counted]) -> Vec<(Pattern, f64)> {
    let mut mixture = Problem::new(OptimizationDirection::Minimize);
    let rolls: Vec<Variable> =
        patterns.iter().map(|pattern| mixture.add_var(sources[pattern.source].price, (0.0, f64::INFINITY))).collect();
    for (place, demand) in demands.iter().enumerate() {
        let counts: Vec<u32> = patterns.iter().map(|pattern| pattern.counts[place]).collect();
        mixture.add_constraint(terms(&rolls, &counts), ComparisonOp::Ge, f64::from(demand.count));
    }
    let Ok(Ok(solution)) = mixture.solve().map(|outcome| outcome.into_solution()) else { return Vec::new() };
    let in_lengths = |pattern: &Counted| Pattern {
        roll: sources[pattern.source].length,
        cuts: demands.iter().zip(&pattern.counts).flat_map(|(one, count)| vec![one.length; *count as usize]).collect(),
    };
    let cut = patterns.iter().zip(&rolls).map(|(pattern, roll)| (pattern, solution.var_value(*roll)));
    cut.filter(|(_, rolls)| *rolls > NONE).map(|(pattern, rolls)| (in_lengths(pattern), rolls)).collect()
}

/// The worthiest cuts from one roll that were found, and what none is worth more than.
struct Worthiest {
    counts: Vec<u32>,
    worth: f64,
    at_most: f64,
}

/// Searches until the steps end; but whether any pattern matters at all is worth many more of them.
fn worthiest(demands: &[Demand], worth: &[f64], roll: Source) -> Worthiest {
    let found = within(demands, worth, roll.length, STEPS);
    let matters = |worth: f64| worth > roll.price * (1.0 + MATTERS);
    if matters(found.worth) || !matters(found.at_most) {
        found
    } else {
        within(demands, worth, roll.length, LAST_STEPS)
    }
}

fn within(demands: &[Demand], worth: &[f64], room: Ticks, steps: u32) -> Worthiest {
    let mut order: Vec<usize> = (0..demands.len()).collect();
    let by_length = |place: usize| worth[place] / demands[place].length as f64;
    order.sort_by(|one, other| by_length(*other).total_cmp(&by_length(*one)).then(one.cmp(other)));
    let mut search = Knapsack {
        demands,
        worth,
        order: &order,
        counts: vec![0; demands.len()],
        best: vec![0; demands.len()],
        best_worth: 0.0,
        steps,
    };
    let relaxed = search.relaxed(0, room);
    search.from(0, room, 0.0);
    let (counts, worth) = (search.best, search.best_worth);
    Worthiest { counts, worth, at_most: if search.steps == 0 { relaxed } else { worth } }
}

/// Which cuts from one roll are worth most, the worthiest by length taken first.
struct Knapsack<'d> {
    demands: &'d [Demand],
    worth: &'d [f64],
    order: &'d [usize],
    counts: Vec<u32>,
    best: Vec<u32>,
    best_worth: f64,
    steps: u32,
}

impl Knapsack<'_> {
    /// What the runs from a place on are worth at most, if one may be cut short.
    fn relaxed(&self, from: usize, mut room: Ticks) -> f64 {
        let mut sum = 0.0;
        for place in &self.order[from..] {
            let demand = self.demands[*place];
            let all = demand.length * Ticks::from(demand.count);
            let taken = all.min(room);
            sum += self.worth[*place] * taken as f64 / demand.length as f64;
            room -= taken;
        }
        sum
    }

    fn from(&mut self, from: usize, room: Ticks, worth: f64) {
        if worth > self.best_worth {
            self.best_worth = worth;
            self.best.clone_from(&self.counts);
        }
        if from == self.order.len() || self.steps == 0 {
            return;
        }
        self.steps -= 1;
        if worth + self.relaxed(from, room) <= self.best_worth * (1.0 + f64::EPSILON) {
            return;
        }
        let place = self.order[from];
        let demand = self.demands[place];
        let most = (room / demand.length).min(Ticks::from(demand.count)) as u32;
        for count in (0..=most).rev() {
            self.counts[place] = count;
            let used = demand.length * Ticks::from(count);
            self.from(from + 1, room - used, worth + f64::from(count) * self.worth[place]);
        }
        self.counts[place] = 0;
    }
}
