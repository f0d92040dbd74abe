//! What is left: the pieces that are still to be cut, and the cloth as it lies after what was cut.

use std::collections::BTreeMap;

use geo::{Area, BooleanOps};
use geo_types::Rect;
use thiserror::Error;

use super::{CountedPiece, CutCopy, Stage, Standing, Stock, stock, stock_name};
use crate::job::{Cloth, Flaw, Job, Piece};
use crate::plan::LaidPiece;
use crate::shape::{Curve, Outline, OutlineFault};

/// What is left of a job.
#[derive(Clone, Debug, PartialEq)]
pub struct Rest {
    /// The job with the cloths that are there, each named as in the log. What is gone of them stands among their flaws.
    pub job: Job,
    /// The pieces that are still to be cut, with as many copies as are left of them. One that may be cut from some cloths
    /// only keeps their names where all of them are gone: without any it could be cut from every other.
    pub pieces: Vec<Piece>,
    /// The numbers of these copies, by the name of the piece, in rising order.
    pub copies: BTreeMap<String, Vec<u32>>,
    /// What was cut out of each cloth of the job, in its order.
    pub cut: Vec<Vec<Outline>>,
    /// Names of the cloths that must be bought first.
    pub to_buy: Vec<String>,
    /// What the person should know, such as cloth that is left out.
    pub cautions: Vec<String>,
}

/// Why nobody can say what is left.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("line {line} of the log: the outline of “{piece}” as it lay on the cloth cannot be used: {fault}")]
pub struct RestFault {
    /// The line of the log.
    pub line: usize,
    /// The piece.
    pub piece: String,
    /// What is wrong with its outline.
    pub fault: OutlineFault,
}

/// What is left of a job once all that the log says has been done.
///
/// Cloth of which nobody knows where it was cut is left out. A roll that was bought ends where it ends; more of it is one
/// more cloth, to be bought.
///
/// # Errors
/// [`RestFault`]: an outline in the log that is no sound polygon.
pub fn rest(job: &Job, pieces: &[CountedPiece], standing: &Standing) -> Result<Rest, RestFault> {
    let mut stock = stock(job, standing);
    stock.extend(job.cloth.iter().filter_map(|cloth| next_length(cloth, standing)));
    let mut cautions = Vec::new();
    let mut kinds: Vec<(String, String)> = Vec::new();
    let (mut cloths, mut cut, mut to_buy) = (Vec::new(), Vec::new(), Vec::new());
    for cloth in stock.iter().filter(|cloth| !cloth.gone) {
        if cloth.cut_anywhere() > 0 {
            cautions.push(format!(
                "cloth “{}” is left out: pieces were cut from it nobody knows where; measure what is left of it and enter \
                 that with `found`",
                cloth.name
            ));
            continue;
        }
        let gone = cut_outlines(cloth)?;
        cloths.push(cloth_left(cloth, job));
        cut.push(gone);
        kinds.push((cloth.of.name.clone(), cloth.name.clone()));
        to_buy.extend(cloth.to_buy.then(|| cloth.name.clone()));
    }
    let (mut left, mut copies) = (Vec::new(), BTreeMap::new());
    for counted in pieces {
        let piece = &counted.piece;
        let to_cut: Vec<u32> =
            (1..=piece.quantity).filter(|copy| standing.stage(&piece.name, *copy) == Stage::ToCut).collect();
        if to_cut.is_empty() {
            continue;
        }
        let there = kinds.iter().filter(|(of, _)| piece.cloth.contains(of)).map(|(_, name)| name.clone());
        let there: Vec<String> = there.collect();
        let cloth = if there.is_empty() { piece.cloth.clone() } else { there };
        left.push(Piece { quantity: to_cut.len() as u32, cloth, ..piece.clone() });
        copies.insert(piece.name.clone(), to_cut);
    }
    let job = Job { cloth: cloths, ..job.clone() };
    Ok(Rest { job, pieces: left, copies, cut, to_buy, cautions })
}

/// The next length of a roll of which some was bought.
fn next_length<'a>(cloth: &'a Cloth, standing: &Standing) -> Option<Stock<'a>> {
    let bought = standing.bought.get(&cloth.name).filter(|bought| !bought.is_empty())?;
    let name = (bought.len() as u32 + 1..).map(|number| stock_name(&cloth.name, number));
    let name = name.into_iter().find(|name| !standing.has_cloth(name))?;
    cloth.is_bought().then(|| Stock::of_job(name, cloth))
}

/// A cloth with what was cut and thrown away among its flaws.
fn cloth_left(cloth: &Stock, job: &Job) -> Cloth {
    let of = cloth.of;
    let found = cloth.curve();
    // Flaws were measured on the cloth of the job's own name, or on each of several alike.
    let has_flaws = found.is_none() && (cloth.name == of.name || !of.is_bought());
    let mut flaws: Vec<Flaw> = if has_flaws { of.flaws.clone() } else { Vec::new() };
    if cloth.gone_up_to > 0.0 {
        flaws.push(Flaw { outline: Curve::rect(cloth.gone_up_to, cloth.width), note: Some("gone".to_owned()) });
    }
    let laid = cloth.cuts.iter().filter_map(|cut| cut.laid.as_ref().map(|laid| (cut, laid)));
    flaws.extend(laid.map(|(cut, laid)| Flaw {
        outline: Curve::polygon(&laid.outline, &[]),
        note: Some(format!("cut: {}{}", cut.piece, copy_words(job, &cut.piece, cut.copy))),
    }));
    Cloth {
        name: cloth.name.clone(),
        width: cloth.width,
        selvage: if found.is_some() { [0.0; 2] } else { of.selvage },
        length: cloth.length,
        count: 1,
        outline: found.or_else(|| of.outline.clone()),
        flaws,
        price: if cloth.to_buy { of.price } else { None },
        ..of.clone()
    }
}

fn copy_words(job: &Job, piece: &str, copy: u32) -> String {
    let single = job.pieces.iter().any(|given| given.name == piece && given.quantity == 1);
    if single { String::new() } else { format!(" {copy}") }
}

fn cut_outlines(cloth: &Stock) -> Result<Vec<Outline>, RestFault> {
    let outline = |cut: &&CutCopy| {
        let laid = laid_outline(cut.laid.as_ref()?);
        Some(laid.map_err(|fault| RestFault { line: cut.line, piece: cut.piece.clone(), fault }))
    };
    cloth.cuts.iter().filter_map(outline).collect()
}

/// What was cut from a cloth before where a piece would lie, if anything: more of it than the width of a cut. What fell out of
/// a hole is not gone for the lay that has a piece in it: it is cut before the piece round it, or from what fell out.
pub fn cut_there<'a>(standing: &'a Standing, cloth: &str, laid: &LaidPiece) -> Option<&'a CutCopy> {
    /// How far a piece may reach into what was cut, in millimetres, before it is taken for an overlap.
    const WIDTH_OF_A_CUT: f64 = 0.05;
    let whole = |laid: &LaidPiece| Curve::polygon(&laid.outline, &laid.holes).flatten();
    let new = whole(laid).ok()?;
    let most = WIDTH_OF_A_CUT * new.perimeter();
    let meets = |cut: &&CutCopy| {
        let Some(before) = cut.laid.as_ref().filter(|_| cut.cloth.as_deref() == Some(cloth)) else { return false };
        let apart = (0..2).any(|axis| {
            let [one, other] = [before.span(axis), laid.span(axis)];
            one[1] <= other[0] || other[1] <= one[0]
        });
        !apart && whole(before).is_ok_and(|before| before.polygon().intersection(new.polygon()).unsigned_area() > most)
    };
    standing.cuts.iter().find(meets)
}

/// A piece as it lies, its holes filled: what falls out of a hole is scrap.
pub fn laid_outline(laid: &LaidPiece) -> Result<Outline, OutlineFault> {
    Curve::polygon(&laid.outline, &[]).flatten()
}

impl Rest {
    /// Why a piece cannot be laid at all, where none of the cloths that it may be cut from is left.
    pub fn no_cloth_for(&self, piece: &Piece) -> Option<String> {
        let is_there = |name: &String| self.job.cloth.iter().any(|cloth| cloth.name == *name);
        if piece.cloth.is_empty() || piece.cloth.iter().any(is_there) {
            return None;
        }
        let names: Vec<String> = piece.cloth.iter().map(|name| format!("“{name}”")).collect();
        Some(format!(
            "none of the cloths that it may be cut from is left: buy {}, or name another cloth for it in the job",
            names.join(" or ")
        ))
    }

    /// Area of the cloth that is there and need not be bought, in square millimetres: inside the usable width and the
    /// cloth's outline, off its flaws and off what was cut.
    pub fn area_there(&self) -> f64 {
        let there = self.job.cloth.iter().filter(|cloth| !self.to_buy.contains(&cloth.name));
        there.map(usable_area).sum()
    }

    /// Area of the pieces that are still to be cut, in square millimetres.
    pub fn area_to_cut(&self) -> f64 {
        self.pieces.iter().map(|piece| piece.cut.area() * f64::from(piece.quantity)).sum()
    }
}

fn usable_area(cloth: &Cloth) -> f64 {
    let Some(length) = cloth.length else { return 0.0 };
    let [low, high] = cloth.usable();
    let rectangle = Rect::new(geo_types::coord! { x: 0.0, y: low }, geo_types::coord! { x: length, y: high });
    let mut left = geo_types::MultiPolygon::from(rectangle.to_polygon());
    if let Some(Ok(region)) = cloth.outline.as_ref().map(Curve::flatten) {
        left = left.intersection(region.polygon());
    }
    for flaw in cloth.flaws.iter().filter_map(|flaw| flaw.outline.flatten().ok()) {
        left = left.difference(flaw.polygon());
    }
    left.unsigned_area()
}
