//! From a job to a lay that is worked out in full.

use thiserror::Error;

use crate::covering::{Covering, CoveringFault, cover};
use crate::job::{Cloth, Job, Piece};
use crate::nest::{self, Budget, Ending, TaskFault, Watch};
use crate::shape::{Curve, OutlineFault};
use crate::units::Units;

use super::{ClothAccount, Laid, LayFile, Purchase, TapePlan, account, cut_tapes, pieces_with, record, take_off, task};

/// A lay with all that follows from it.
#[derive(Clone, Debug, PartialEq)]
pub struct WorkedLay {
    /// What covers the airframe.
    pub covering: Covering,
    /// The pieces that were to be laid.
    pub pieces: Vec<Piece>,
    /// The lay as it is written.
    pub file: LayFile,
    /// One account for each cloth of the lay, in the same order.
    pub accounts: Vec<ClothAccount>,
    /// Why the search ended.
    pub ending: Ending,
}

/// Why no lay can be worked out.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PlanFault {
    /// An outline of a cloth or of a flaw on it is no sound polygon.
    #[error("cloth “{cloth}”: its outline or that of a flaw cannot be used: {fault}")]
    ClothOutline {
        /// Name of the cloth.
        cloth: String,
        /// What is wrong.
        fault: OutlineFault,
    },
    /// A piece asks for a cloth that the job does not have.
    #[error("piece “{piece}” is to be cut from cloth “{cloth}”, but the job has no cloth of that name")]
    UnknownCloth {
        /// Name of the piece.
        piece: String,
        /// Name that was asked for.
        cloth: String,
    },
    /// The airframe cannot be covered.
    #[error("{}", in_lines(.0))]
    Covering(Vec<CoveringFault>),
    /// The engine cannot work on it.
    #[error("the pieces cannot be laid: {why}")]
    Task {
        /// Why, with the names of the job.
        why: String,
    },
}

impl From<Vec<CoveringFault>> for PlanFault {
    fn from(faults: Vec<CoveringFault>) -> Self {
        Self::Covering(faults)
    }
}

fn in_lines(faults: &[CoveringFault]) -> String {
    let lines: Vec<String> = faults.iter().map(|fault| format!("  {fault}")).collect();
    format!("the airframe cannot be covered:\n{}", lines.join("\n"))
}

/// Lays the pieces of a job onto its cloths, cuts its tape from rolls, and says what to buy.
///
/// `job_path` is how the lay file names the job. The answer has not been checked: hold it against
/// [`crate::verify`] before you trust it.
///
/// # Errors
/// [`PlanFault`] when the job makes no task for the engine. A piece without a place is no error; see
/// [`LayFile::unplaced`].
pub fn lay(job: &Job, job_path: &str, budget: &Budget, watch: &dyn Watch) -> Result<WorkedLay, PlanFault> {
    let mut worked = lay_pieces(job, job_path, budget, watch)?;
    let WorkedLay { covering, pieces, file, accounts, .. } = &mut worked;
    file.tape = job.has_tape().then(|| cut_tapes(job, covering));
    file.cautions.extend(file.tape.iter().flat_map(TapePlan::cautions));
    file.take_off = take_off(job, covering, pieces, Some(Laid { file, accounts }));
    Ok(worked)
}

/// Lays the pieces of a job onto its cloths, and leaves tape and all else that is bought aside.
///
/// # Errors
/// As [`lay`].
pub(super) fn lay_pieces(
    job: &Job,
    job_path: &str,
    budget: &Budget,
    watch: &dyn Watch,
) -> Result<WorkedLay, PlanFault> {
    let covering = cover(job)?;
    let pieces = pieces_with(job, &covering);
    let answer = nest::lay(&task(job, &pieces)?, budget, watch).map_err(|fault| named(job, &pieces, &fault))?;
    let mut file = record(job, &pieces, &answer, job_path, budget, Vec::new());
    let accounts: Vec<ClothAccount> = answer
        .cloths
        .iter()
        .zip(&file.cloths)
        .map(|(lay, laid)| account(&job.cloth[lay.cloth], laid, &pieces))
        .collect();
    file.cautions = covering.cautions.iter().cloned().chain(cautions_of(job, &accounts)).collect();
    Ok(WorkedLay { covering, pieces, file, accounts, ending: answer.ending })
}

/// The engine knows indices, the person knows names.
pub(super) fn named(job: &Job, pieces: &[Piece], fault: &TaskFault) -> PlanFault {
    let why = match fault {
        TaskFault::EmptyCloth { cloth } => format!("cloth “{}” has no usable area", job.cloth[*cloth].name),
        TaskFault::Growth { piece } => format!("piece “{}” cannot keep so large a gap", pieces[*piece].name),
        TaskFault::NoTurn { piece } => format!("piece “{}” has no allowed turn", pieces[*piece].name),
        TaskFault::NoCloth | TaskFault::Gap => fault.to_string(),
    };
    PlanFault::Task { why }
}

/// What the person should know about this lay beyond its figures.
pub(super) fn cautions_of(job: &Job, accounts: &[ClothAccount]) -> Vec<String> {
    let mut cautions = Vec::new();
    let is_used = |cloth: &&Cloth| accounts.iter().any(|account| account.cloth == cloth.name);
    let outlined: Vec<String> = job
        .cloth
        .iter()
        .filter(is_used)
        .filter(|cloth| is_odd(cloth))
        .map(|cloth| format!("“{}”", cloth.name))
        .collect();
    if !outlined.is_empty() {
        let has = if outlined.len() == 1 { "has an outline of its own" } else { "have outlines of their own" };
        cautions.push(format!(
            "cloth {} {has}: waste and density are counted there against the full width times the length used, as for a \
             roll, so they look worse than they are",
            outlined.join(", ")
        ));
    }
    let unpriced = |account: &&ClothAccount| matches!(account.purchase, Purchase::Buy { cost: None, .. });
    if job.cloth.iter().any(|cloth| cloth.price.is_some()) {
        for account in accounts.iter().filter(unpriced) {
            cautions.push(format!(
                "cloth “{}” is to be bought but has no price: it was taken as free, and the cost is without it",
                account.cloth
            ));
        }
    }
    cautions.extend(job.cloth.iter().filter_map(|cloth| nothing_to_spare(cloth, accounts, job.units)));
    cautions
}

/// Whether a cloth is no rectangle.
fn is_odd(cloth: &Cloth) -> bool {
    /// Of the rectangle round it, in millimetres of its edge.
    const HAIR: f64 = 0.1;
    let Some(Ok(outline)) = cloth.outline.as_ref().map(Curve::flatten) else { return false };
    let bounds = outline.bounds();
    bounds.width() * bounds.height() - outline.area() > HAIR * outline.perimeter()
}

/// Cloth that is bought almost to the last thread: common practice buys a little more, no source. Where the job gives
/// no step in which it is sold, the person asks for a length of their own anyway.
fn nothing_to_spare(cloth: &Cloth, accounts: &[ClothAccount], units: Units) -> Option<String> {
    /// Millimetres that an end cut askew may cost.
    const LEAST: f64 = 100.0;
    /// Share of the length bought.
    const LEAST_SHARE: f64 = 0.02;
    let (mut bought, mut left) = (0.0, 0.0);
    for account in accounts.iter().filter(|account| account.cloth == cloth.name) {
        if let Purchase::Buy { length, .. } = account.purchase {
            (bought, left) = (bought + length, left + account.left);
        }
    }
    (cloth.sold_by.is_some() && bought > 0.0 && left < LEAST.max(LEAST_SHARE * bought)).then(|| {
        format!(
            "cloth “{}”: of the {} to be bought, {} would be left over: nothing to spare for an end cut askew, a slip \
             of the shears or a narrow roll; think of buying more",
            cloth.name,
            units.show(bought),
            units.show(left)
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cloth_bought_to_the_last_thread_is_cautioned() {
        let text = r#"{ "format": 1, "units": "mm", "cloth": [ { "name": "roll", "width": 1780, "sold_by": 500 } ],
            "pieces": [ { "name": "p", "outline": { "circle": 50 } } ] }"#;
        let Ok(reading) = crate::job::read_text("job.json", text) else { panic!("the job is sound") };
        let caution = |length: f64, left: f64| {
            let account = ClothAccount {
                cloth: "roll".into(),
                number: 1,
                pieces: 1,
                length_used: length - left,
                cut_area: 1.0,
                purchase: Purchase::Buy { length, cost: None, mass: None },
                mass: None,
                left,
            };
            nothing_to_spare(&reading.job.cloth[0], &[account], Units::Mm)
        };
        assert!(caution(1000.0, 99.0).is_some_and(|words| words.contains("of the 1000 mm to be bought, 99 mm")));
        assert_eq!(caution(1000.0, 100.0), None);
        assert!(caution(10_000.0, 190.0).is_some(), "less than two in a hundred");
        assert_eq!(caution(10_000.0, 200.0), None);
    }
}
