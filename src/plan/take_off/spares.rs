//! Spares: lines of their own, so that no figure hides one.

use super::goods::goods;
use super::{TakeOffLine, TakeOffSection, TakeOffUnit};
use crate::job::{Edge, Goods, Job, Piece};
use crate::plan::{is_tape_strip, purchase};

const SOURCE: &str = "your job, \"spares\"";

/// A line for each thing that the job wants spares of.
pub(super) fn spares(job: &Job, pieces: &[Piece], lines: &[TakeOffLine]) -> Vec<TakeOffLine> {
    let cloth = lines.iter().filter_map(|line| cloth_spare(job, line));
    let others = lines.iter().filter_map(|line| {
        let kind = match line.section {
            TakeOffSection::Tape => Goods::Tape,
            TakeOffSection::SmallParts | TakeOffSection::Liquids => goods(&line.what)?,
            _ => return None,
        };
        let spare = more_of(line, job.spares.of(kind)?);
        let cost = job.prices.of(kind).map(|price| price * spare.in_priced_units());
        Some(TakeOffLine { cost, ..spare })
    });
    cloth.chain(patches(job, pieces)).chain(others).collect()
}

/// So many per cent of a line, whole pieces rounded up.
fn more_of(line: &TakeOffLine, percent: f64) -> TakeOffLine {
    let share = line.needed * percent / 100.0;
    let needed = if line.unit == TakeOffUnit::Pieces { whole(share) } else { share };
    TakeOffLine::new(TakeOffSection::Spares, format!("spare {}", line.what), line.unit, needed)
        .by(format!("{percent} % of what is needed"), SOURCE)
}

/// Whole pieces, up; a hair over, left by the arithmetic, buys none.
fn whole(share: f64) -> f64 {
    libm::ceil(share - 1e-9).max(0.0)
}

/// What more of a cloth is bought when a share of the length used is added to it.
fn cloth_spare(job: &Job, line: &TakeOffLine) -> Option<TakeOffLine> {
    let percent = job.spares.of(Goods::Cloth)?;
    if line.section != TakeOffSection::Cloth {
        return None;
    }
    let spare = TakeOffLine { mass: None, ..more_of(line, percent) };
    let Some(bought) = line.buy else { return (line.unit == TakeOffUnit::Area).then_some(spare) };
    let cloth = job.cloth.iter().find(|cloth| cloth.name == line.what)?;
    let [with, without] = [line.needed + spare.needed, line.needed].map(|length| purchase(cloth, length));
    // Several rolls of a name are bought each by itself; the spare is bought with one of them.
    let more = (with.length()? - without.length()?).max(0.0);
    let rule = format!("{percent} % of the length used; what of it the {bought} mm bought already hold, is not bought");
    let cost = with.cost().zip(without.cost()).map(|(with, without)| (with - without).max(0.0));
    Some(TakeOffLine { buy: Some(more), cost, ..spare }.by(rule, SOURCE))
}

/// Spare patches, as many of each kind; they are not in the lay.
fn patches(job: &Job, pieces: &[Piece]) -> Option<TakeOffLine> {
    let percent = job.spares.of(Goods::Patches)?;
    let pinked = pieces.iter().filter(|piece| matches!(piece.edge, Edge::Pinked(_)) && !is_tape_strip(piece));
    let spare = pinked.map(|piece| (whole(f64::from(piece.quantity) * percent / 100.0), piece.cut.area()));
    let (count, area) = spare.fold((0.0, 0.0), |(count, sum), (spares, area)| (count + spares, sum + spares * area));
    let rule = format!(
        "{percent} % of each kind with a pinked edge, rounded up; {:.3} m² of cloth, not in the lay: cut them from what is left",
        area * 1e-6
    );
    Some(TakeOffLine::new(TakeOffSection::Spares, "spare patches", TakeOffUnit::Pieces, count).by(rule, SOURCE))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_hair_over_a_whole_piece_is_no_further_piece() {
        assert_eq!([0.1 * 30.0, 3.000_1, 2.1, 0.0].map(whole), [3.0, 4.0, 3.0, 0.0]);
    }
}
