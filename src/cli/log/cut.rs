//! A cut with its place on the cloth, taken from the lay that is in use.

use std::path::Path;

use super::choose::Chosen;
use super::enough::lack;
use super::names::{meant, wrong};
use super::{Desk, Stop};
use crate::cli::written_lay::read_lay;
use crate::plan::ledger::{Event, Stage, cut_there, stock, stock_name};
use crate::plan::{LaidPiece, LayFile};
use crate::shape::Curve;

/// The events of a cut, one a piece and cloth, and what to think about.
pub(super) fn cuts(
    desk: &Desk,
    chosen: &[Chosen],
    from: Option<&str>,
    off_lay: bool,
) -> Result<(Vec<Event>, Vec<String>), Stop> {
    let lay = if off_lay || from.is_some() { None } else { lay_in_use(desk)? };
    let Some(lay) = lay else { return anywhere(desk, chosen, from) };
    let (mut events, mut cautions) = (Vec::new(), Vec::new());
    for piece in chosen {
        let cuts = laid_cuts(&lay, piece)?;
        cuts.iter().try_for_each(|cut| check_free(desk, cut))?;
        cautions.extend(cuts.iter().any(|cut| is_other_size(cut, piece)).then(|| {
            format!(
                "the lay in use has “{}” in another size than the job has now: hold what was cut against the airframe, and \
                 lay the rest anew",
                piece.name()
            )
        }));
        events.extend(cuts);
    }
    Ok((events, cautions))
}

/// What to do where the lay in use cannot be cut any more.
const LAY_ANEW: &str = "lay the rest anew with lay JOB --rest, and name that lay";

/// How many pieces that are still to be cut the lay in use has on a cloth, or on it up to a length.
pub(super) fn still_on(desk: &Desk, cloth: &str, up_to: Option<f64>) -> Result<usize, Stop> {
    let Some(lay) = lay_in_use(desk)? else { return Ok(0) };
    let there = lay.cloths.iter().filter(|laid| stock_name(&laid.cloth, laid.number) == cloth);
    let waits = |laid: &&LaidPiece| {
        desk.standing.stage(&laid.piece, laid.copy) == Stage::ToCut && up_to.is_none_or(|up_to| laid.span(0)[0] < up_to)
    };
    Ok(there.flat_map(|laid| &laid.pieces).filter(waits).count())
}

/// A lay that was written over another has pieces where others were cut, and cloth may be gone.
fn check_free(desk: &Desk, cut: &Event) -> Result<(), Stop> {
    let Event::Cut { piece, cloth: Some(cloth), laid, .. } = cut else { return Ok(()) };
    if desk.standing.gone.contains(cloth) {
        return Err(wrong(format!(
            "the lay in use has “{piece}” on “{cloth}”, which is gone: {LAY_ANEW}; if the piece was cut elsewhere, add --off-lay"
        )));
    }
    if let Some((laid, up_to)) = laid.iter().find_map(|laid| Some((laid, desk.standing.gone_there(cloth, laid)?))) {
        return Err(wrong(format!(
            "the lay in use has “{piece}”, copy {} on “{cloth}”, which is gone up to {}: {LAY_ANEW}; if the piece was cut elsewhere, add --off-lay",
            laid.copy,
            desk.job.units.show(up_to)
        )));
    }
    let beyond = laid.iter().find_map(|laid| Some((laid.copy, lack(desk, cloth, laid.span(0)[1])?)));
    if let Some((copy, lack)) = beyond {
        return Err(wrong(format!(
            "the lay in use has “{piece}”, copy {copy} on “{cloth}”, {lack}. Log what was bought, or {LAY_ANEW}; if the \
             piece was cut elsewhere, add --off-lay"
        )));
    }
    let Some((laid, before)) = laid.iter().find_map(|laid| Some((laid, cut_there(&desk.standing, cloth, laid)?)))
    else {
        return Ok(());
    };
    Err(wrong(format!(
        "the lay in use has “{}”, copy {} where “{}”, copy {} was cut from “{cloth}” (line {}): {LAY_ANEW}; if the piece was cut elsewhere, add --off-lay",
        laid.piece, laid.copy, before.piece, before.copy, before.line
    )))
}

/// Whether a lay is older than the outline that the job has of a piece.
fn is_other_size(cut: &Event, chosen: &Chosen) -> bool {
    /// Areas that differ by less, in square millimetres for a millimetre of edge, are the same.
    const SAME: f64 = 0.1;
    let Event::Cut { laid, .. } = cut else { return false };
    let outer = Curve::polygon(&ring(chosen), &[]).area();
    let most = SAME * chosen.counted.piece.cut.perimeter();
    laid.iter().any(|laid| (Curve::polygon(&laid.outline, &[]).area() - outer).abs() > most)
}

fn ring(chosen: &Chosen) -> Vec<[f64; 2]> {
    let ring = &chosen.counted.piece.cut.polygon().exterior().0;
    ring.iter().skip(1).map(|point| [point.x, point.y]).collect()
}

fn lay_in_use(desk: &Desk) -> Result<Option<LayFile>, Stop> {
    let Some(file) = &desk.standing.lay else { return Ok(None) };
    let path = desk.args.job.parent().unwrap_or(Path::new("")).join(file);
    read_lay(&path).map(Some)
}

/// The copies of a piece where the lay has them.
fn laid_cuts(lay: &LayFile, chosen: &Chosen) -> Result<Vec<Event>, Stop> {
    let mut events: Vec<Event> = Vec::new();
    let mut missing = chosen.copies.clone();
    for cloth in &lay.cloths {
        let of_piece = |laid: &&LaidPiece| laid.piece == chosen.name() && chosen.copies.contains(&laid.copy);
        let laid: Vec<LaidPiece> = cloth.pieces.iter().filter(of_piece).cloned().collect();
        if laid.is_empty() {
            continue;
        }
        let copies: Vec<u32> = laid.iter().map(|laid| laid.copy).collect();
        missing.retain(|copy| !copies.contains(copy));
        events.push(Event::Cut {
            piece: chosen.name().to_owned(),
            copies,
            cloth: Some(stock_name(&cloth.cloth, cloth.number)),
            size: chosen.counted.piece.size,
            laid,
        });
    }
    match missing.first() {
        None => Ok(events),
        Some(copy) => Err(wrong(format!(
            "the lay in use has no place for “{}”, copy {copy}; if it was cut otherwise, add --off-lay",
            chosen.name()
        ))),
    }
}

/// Copies that were cut without a lay: that cloth is not laid on any more, since nobody knows what is left of it.
fn anywhere(desk: &Desk, chosen: &[Chosen], from: Option<&str>) -> Result<(Vec<Event>, Vec<String>), Stop> {
    let stock = stock(desk.job, &desk.standing);
    let names: Vec<&str> = stock.iter().filter(|cloth| !cloth.gone).map(|cloth| cloth.name.as_str()).collect();
    let cloth = match (from, names.as_slice()) {
        (Some(typed), names) => meant("cloth", typed, names)?,
        (None, [only]) => only,
        (None, _) => {
            let why = if desk.standing.lay.is_some() { "" } else { "no lay is in use (log JOB lay FILE names it); " };
            let names = super::names::listed(&names);
            return Err(wrong(format!("{why}from which cloth? Add --from with one of {names}")));
        }
    };
    if let Some(lack) = lack(desk, cloth, 0.0) {
        return Err(wrong(format!(
            "nothing can be cut from “{cloth}”, {lack}; log what was bought, or name another with --from"
        )));
    }
    let event = |chosen: &Chosen| Event::Cut {
        piece: chosen.name().to_owned(),
        copies: chosen.copies.clone(),
        cloth: Some(cloth.to_owned()),
        size: chosen.counted.piece.size,
        laid: Vec::new(),
    };
    let caution = format!(
        "no lay says where on “{cloth}” this was cut: `lay --rest` will lay nothing more on it. Measure what is left and \
         enter it with `found`"
    );
    Ok((chosen.iter().map(event).collect(), vec![caution]))
}
