//! Whether the cloth that a lay takes is there.

use super::Desk;
use crate::plan::LayFile;
use crate::plan::ledger::{Stage, Stock, stock, stock_name};
use crate::shape::TOLERANCE;

/// What a lay takes of each cloth that is not there, a sentence each.
pub(super) fn lacking(desk: &Desk, lay: &LayFile) -> Vec<String> {
    let mut cautions = Vec::new();
    for cloth in &lay.cloths {
        let to_cut = cloth.pieces.iter().filter(|laid| desk.standing.stage(&laid.piece, laid.copy) == Stage::ToCut);
        let up_to = to_cut.map(|laid| laid.span(0)[1]).fold(0.0, f64::max);
        let name = stock_name(&cloth.cloth, cloth.number);
        if up_to > 0.0
            && let Some(lack) = lack(desk, &name, up_to)
        {
            cautions.push(format!("the lay goes up to {} on “{name}”, {lack}", desk.job.units.show(up_to)));
        }
    }
    cautions
}

/// Why a cloth is not there up to a length, as the end of a sentence that has named it.
pub(super) fn lack(desk: &Desk, name: &str, up_to: f64) -> Option<String> {
    let show = |mm: f64| desk.job.units.show(mm);
    let stock = stock(desk.job, &desk.standing);
    let cloth = stock.iter().find(|cloth| cloth.name == name);
    if cloth.is_none_or(|cloth: &Stock| cloth.to_buy)
        && let Some(line) = desk.standing.never_bought.get(name)
    {
        return Some(format!("whose purchase was undone (line {line})"));
    }
    let Some(cloth) = cloth else { return Some("which the job does not have and nobody has bought yet".to_owned()) };
    let length = cloth.length.filter(|length| up_to > length + TOLERANCE)?;
    Some(format!("which is {} long: {} is lacking", show(length), show(up_to - length)))
}
