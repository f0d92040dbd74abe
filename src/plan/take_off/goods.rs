//! What is used up beside cloth: finishing tape by kind, and all that the covering counts with its rule.

use super::{TakeOffLine, TakeOffSection, TakeOffUnit};
use crate::covering::dressing::cement_for_cloth;
use crate::covering::{Covering, Quantity, Unit};
use crate::job::{Goods, Job, Prices, TapeStock};
use crate::plan::{TapeAccount, TapePlan, TapeRoll};

/// Tapes whose widths differ by less, in millimetres, are of one kind.
const SAME_WIDTH: f64 = 0.1;

/// Where the lengths of tapes come from.
const TAPE_SOURCE: &str = "widths: rules of the job; ends: manual pp. 43, 45";

/// A kind of finishing tape as it is bought.
#[derive(Clone, Copy, Debug, PartialEq)]
struct TapeKind {
    width: f64,
    bias: bool,
}

/// Metres of finishing tape of each kind, straight before bias and narrow before wide; with the rolls that a plan cuts.
pub(super) fn tapes(job: &Job, covering: &Covering, plan: Option<&TapePlan>) -> Vec<TakeOffLine> {
    let runs = covering.parts.iter().flat_map(|part| &part.dressed.tapes).map(|run| {
        let kind = TapeKind { width: run.sold_width(), bias: run.is_bias() };
        (kind, run.length * f64::from(run.quantity), run.quantity)
    });
    let repairs = covering.repairs.iter().filter_map(|repair| {
        let tape = repair.tape.as_ref().filter(|_| repair.tape_length > 0.0)?;
        Some((TapeKind { width: tape.used, bias: false }, repair.tape_length, 1))
    });
    let mut kinds: Vec<(TapeKind, f64, u32)> = Vec::new();
    for (kind, length, count) in runs.chain(repairs) {
        let alike = |known: &TapeKind| known.bias == kind.bias && (known.width - kind.width).abs() < SAME_WIDTH;
        match kinds.iter_mut().find(|(known, ..)| alike(known)) {
            Some((_, sum, runs)) => (*sum, *runs) = (*sum + length, *runs + count),
            None => kinds.push((kind, length, count)),
        }
    }
    kinds.sort_by(|(one, ..), (other, ..)| one.bias.cmp(&other.bias).then(one.width.total_cmp(&other.width)));
    let line = |(kind, length, runs)| {
        let line = tape_line(kind, length);
        plan.and_then(|plan| on_rolls(&line, kind, runs, plan, &job.tape))
            .unwrap_or_else(|| line.by(tape_rule(runs, "rolls: not worked out"), TAPE_SOURCE))
    };
    kinds.into_iter().map(line).collect()
}

/// A line of tape with what a plan buys for it; `None` where not every run of it is on a roll.
fn on_rolls(
    line: &TakeOffLine,
    kind: TapeKind,
    runs: u32,
    plan: &TapePlan,
    stock: &[TapeStock],
) -> Option<TakeOffLine> {
    let of_kind = |account: &&TapeAccount| account.bias == kind.bias && (account.width - kind.width).abs() < SAME_WIDTH;
    let accounts: Vec<&TapeAccount> = plan.kinds.iter().filter(of_kind).collect();
    let is_here = |name: &str| accounts.iter().any(|account| account.kind == name);
    if accounts.is_empty() || plan.unplaced.iter().any(|run| is_here(&run.kind)) {
        return None;
    }
    let masses: Option<Vec<f64>> = accounts.iter().map(|account| account.mass).collect();
    let of_kind = || plan.rolls.iter().filter(|roll| is_here(&roll.kind));
    let price = |roll: &TapeRoll| stock.iter().find(|tape| tape.name == roll.tape).map(|tape| tape.price.is_some());
    let bought: Vec<&TapeRoll> = of_kind().filter(|roll| price(roll) == Some(true)).collect();
    let from = match (bought.is_empty(), of_kind().all(|roll| price(roll).is_none())) {
        (false, _) => "cut from rolls of the job",
        (true, false) => "cut from rolls that are there",
        (true, true) => "cut from strips of the cloth",
    };
    let line = TakeOffLine {
        buy: Some(bought.iter().map(|roll| roll.length).sum()),
        left: Some(accounts.iter().map(|account| account.left).sum()),
        rolls: (!bought.is_empty()).then_some(bought.len() as u32),
        cost: (!bought.is_empty()).then(|| accounts.iter().map(|account| account.cost).sum()),
        mass: masses.map(|masses| masses.iter().sum()),
        ..line.clone()
    };
    Some(line.by(tape_rule(runs, from), TAPE_SOURCE))
}

fn tape_rule(runs: u32, rolls: &str) -> String {
    let ends = if runs == 1 { "the run" } else { "each run" };
    format!("{runs} × length, 1 in over at both ends of {ends}; {rolls}")
}

fn tape_line(kind: TapeKind, length: f64) -> TakeOffLine {
    let cut = if kind.bias { "on the bias" } else { "straight" };
    let what = format!("finishing tape {:.1} mm ({} in), {cut}", kind.width, inches_of(kind.width));
    TakeOffLine::new(TakeOffSection::Tape, what, TakeOffUnit::Length, length)
}

fn inches_of(mm: f64) -> String {
    crate::units::trimmed(mm / crate::units::inches(1.0), 2)
}

/// Small parts and liquids with their prices; cement by the cloth that is taken, where that is known.
pub(super) fn used_up(covering: &Covering, prices: &Prices, cloth_taken: Option<f64>) -> Vec<TakeOffLine> {
    let line = |quantity: Quantity| {
        let (section, unit) = match quantity.unit {
            Unit::Pieces => (TakeOffSection::SmallParts, TakeOffUnit::Pieces),
            Unit::Length => (TakeOffSection::SmallParts, TakeOffUnit::Length),
            Unit::Litres => (TakeOffSection::Liquids, TakeOffUnit::Litres),
        };
        let (rule, source) = rule_and_source(&quantity.source);
        TakeOffLine::new(section, &quantity.what, unit, quantity.amount).by(rule, source)
    };
    let mut lines: Vec<TakeOffLine> = covering.quantities().into_iter().map(line).collect();
    for line in &mut lines {
        if line.what == "cement"
            && let Some(taken) = cloth_taken
        {
            let cement = cement_for_cloth(taken);
            line.needed = cement.litres;
            line.rule = "by the cloth that is taken, waste included".to_owned();
            line.source = cement.source.to_owned();
        }
        line.cost = goods(&line.what).and_then(|kind| prices.of(kind)).map(|price| price * line.in_priced_units());
    }
    lines.sort_by_key(|line| line.section);
    lines
}

/// The covering tells rule and source in one breath: the rule, then the document after its last comma.
fn rule_and_source(words: &str) -> (String, String) {
    let starts = ["AC ", "manual p", "common practice", "derived from"];
    let at = starts.iter().filter_map(|start| words.find(start)).min();
    match at {
        Some(0) | None => (String::new(), words.to_owned()),
        Some(at) => (words[..at].trim_end_matches([',', ':', ' ']).to_owned(), words[at..].to_owned()),
    }
}

/// Which goods a line is about; `None` for what has neither spares nor a price.
pub(super) fn goods(what: &str) -> Option<Goods> {
    let known = [
        ("inspection rings", Goods::Rings),
        ("inspection covers", Goods::Covers),
        ("flat drain grommets", Goods::Grommets),
        ("hooded drain grommets", Goods::Grommets),
        ("attachments", Goods::Attachments),
        ("lacing cord", Goods::LacingCord),
        ("reinforcing tape", Goods::ReinforcingTape),
        ("anti-chafe tape over rib caps", Goods::ChafeTape),
        ("tape from rib to rib, one run", Goods::RibToRibTape),
        ("cement", Goods::Cement),
        ("dope, a coat", Goods::Coats),
    ];
    known.iter().find(|(name, _)| *name == what).map(|(_, kind)| *kind)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rule_and_source_are_told_apart() {
        let told = |words| rule_and_source(words);
        assert_eq!(told("one for each opening, AC 2-14a"), ("one for each opening".to_owned(), "AC 2-14a".to_owned()));
        assert_eq!(told("AC 2-14b"), (String::new(), "AC 2-14b".to_owned()));
        assert_eq!(told("200 ft², manual p. 98"), ("200 ft²".to_owned(), "manual p. 98".to_owned()));
    }
}
