//! Who wins, and how sure that is.

use serde::{Deserialize, Serialize};

use super::Compared;

/// Values of the seeds that differ by less, as a share of the larger one, are the same.
const SAME: f64 = 1e-9;

/// What a way came to over the seeds.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Range {
    /// The least.
    pub least: f64,
    /// The mean.
    pub mean: f64,
    /// The most.
    pub most: f64,
}

/// Who is best by one measure.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Verdict {
    /// One way, clearer than the engine's spread.
    Clear(String),
    /// These ways overlap from seed to seed, or are equal; the one with the best mean is first.
    Tie(Vec<String>),
    /// With one seed no spread is known: the best so far, and no more than that.
    Unsure(String),
    /// Nothing to choose from.
    None,
}

/// Who is best by cost, by waste and by seams.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Winners {
    /// Least money.
    pub cost: Verdict,
    /// Least waste.
    pub waste: Verdict,
    /// Fewest seams.
    pub seams: Verdict,
}

/// What a tie by lays means.
const FROM_SEEDS: &str = "they differ by no more than from seed to seed";

impl Winners {
    /// Who needs least money, who wastes least, who has fewest seams.
    pub fn in_words(&self) -> [String; 3] {
        [self.cost.in_words(FROM_SEEDS), self.waste.in_words(FROM_SEEDS), self.seams.in_words("they have as many")]
    }
}

impl Verdict {
    /// The verdict in a line; `tied` says what a tie means.
    fn in_words(&self, tied: &str) -> String {
        match self {
            Self::Clear(name) => name.clone(),
            Self::Tie(names) => format!("a tie of {}: {tied}", names.join("; ")),
            Self::Unsure(name) => format!("{name}, but one seed shows no spread; give --seeds 3"),
            Self::None => "nothing to choose from".to_owned(),
        }
    }
}

impl Range {
    /// The range of some values; `None` without any.
    pub fn of(values: &[f64]) -> Option<Self> {
        let count = values.len();
        (count > 0).then(|| Self {
            least: values.iter().copied().fold(f64::INFINITY, f64::min),
            mean: values.iter().sum::<f64>() / count as f64,
            most: values.iter().copied().fold(f64::NEG_INFINITY, f64::max),
        })
    }

    fn overlaps(&self, other: &Self) -> bool {
        let hair = SAME * self.most.abs().max(other.most.abs());
        self.least <= other.most + hair && other.least <= self.most + hair
    }
}

impl Compared {
    /// What its lays cost; `None` where a cloth has no price or there is no lay.
    pub fn cost(&self) -> Option<Range> {
        let costs: Option<Vec<f64>> = self.runs.iter().map(|run| run.cost).collect();
        Range::of(&costs?)
    }

    /// Waste of its lays.
    pub fn waste(&self) -> Option<Range> {
        Range::of(&self.runs.iter().map(|run| run.waste).collect::<Vec<_>>())
    }

    /// Length that its lays use.
    pub fn length(&self) -> Option<Range> {
        Range::of(&self.runs.iter().map(|run| run.length_used).collect::<Vec<_>>())
    }
}

/// The winners among the ways that hold all pieces.
pub fn winners(compared: &[Compared]) -> Winners {
    let able = || compared.iter().filter(|way| way.impossible.is_none());
    let seeds = able().map(|way| way.runs.len()).max().unwrap_or(0);
    let judge = |value: fn(&Compared) -> Option<Range>, spread_known: bool| {
        let ranked: Vec<(&str, Range)> = able().filter_map(|way| Some((way.name.as_str(), value(way)?))).collect();
        judged(ranked, spread_known)
    };
    let seams = |way: &Compared| Range::of(&[f64::from(way.seams.count)]);
    Winners {
        cost: judge(Compared::cost, seeds > 1),
        waste: judge(Compared::waste, seeds > 1),
        // Seams do not depend on a seed.
        seams: judge(seams, true),
    }
}

fn judged(mut ranked: Vec<(&str, Range)>, spread_known: bool) -> Verdict {
    ranked.sort_by(|(_, one), (_, other)| one.mean.total_cmp(&other.mean));
    let Some((name, best)) = ranked.first() else { return Verdict::None };
    let near: Vec<String> =
        ranked.iter().filter(|(_, range)| range.overlaps(best)).map(|(name, _)| (*name).to_owned()).collect();
    match (near.len(), spread_known) {
        (1, true) => Verdict::Clear((*name).to_owned()),
        (1, false) => Verdict::Unsure((*name).to_owned()),
        _ => Verdict::Tie(near),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn range(values: &[f64]) -> Range {
        Range::of(values).unwrap_or(Range { least: 0.0, mean: 0.0, most: 0.0 })
    }

    #[test]
    fn a_difference_smaller_than_the_spread_is_a_tie() {
        let (wide, near, far) = (range(&[10.0, 12.0]), range(&[11.5, 14.0]), range(&[12.5, 13.0]));
        assert_eq!(
            judged(vec![("near", near), ("wide", wide)], true),
            Verdict::Tie(vec!["wide".into(), "near".into()])
        );
        assert_eq!(judged(vec![("far", far), ("wide", wide)], true), Verdict::Clear("wide".into()));
        assert_eq!(judged(vec![("far", far), ("wide", wide)], false), Verdict::Unsure("wide".into()));
        assert_eq!(judged(Vec::new(), true), Verdict::None);
    }
}
