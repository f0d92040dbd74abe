//! Reinforcement patches against a whole second layer of cloth on chosen faces.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use super::seams::{defaults_used, hours};
use crate::covering::Covering;
use crate::job::{Edge, Job, Piece, Work, did_you_mean};
use crate::plan::is_tape_strip;

/// What a way to reinforce takes. Square millimetres, millimetres, grams, hours.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct LayerChoice {
    /// What it is called.
    pub name: String,
    /// Cloth that it takes, without waste.
    pub cloth: f64,
    /// Its mass; `None` where the cloth has none.
    pub mass: Option<f64>,
    /// Edge to glue.
    pub glued: f64,
    /// Edge to pink.
    pub pinked: f64,
    /// Pieces to handle.
    pub pieces: u32,
    /// Hours by the rates.
    pub hours: f64,
    /// Which rates are common practice and not the job's own.
    pub default_rates: Vec<String>,
}

/// A face was named that the job does not have.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
#[error("no panel and no piece with a plain edge is called {name:?}{meant}; they are {known}")]
pub struct UnknownFace {
    name: String,
    meant: String,
    known: String,
}

/// Panels alone, with the patches, and with a whole second layer on the faces of some names in place of patches.
///
/// A name is that of a part, of a panel or of a piece with a plain edge; it may be the first part of one.
///
/// # Errors
/// [`UnknownFace`] names what is nearest.
pub fn layer_choices(
    job: &Job,
    covering: &Covering,
    pieces: &[Piece],
    names: &[String],
) -> Result<Vec<LayerChoice>, UnknownFace> {
    let (panels, patches): (Vec<&Piece>, Vec<&Piece>) =
        pieces.iter().filter(|piece| !is_tape_strip(piece)).partition(|piece| matches!(piece.edge, Edge::Plain));
    let mut chosen: Vec<&Piece> = Vec::new();
    for name in names {
        let own = faces_of(covering, &panels, name);
        if own.is_empty() {
            return Err(unknown(&panels, name));
        }
        chosen.extend(
            own.into_iter().filter(|face| !chosen.iter().any(|known| known.name == face.name)).collect::<Vec<_>>(),
        );
    }
    let base = choice(job, "the panels alone", &panels, Work::Panel, false);
    let small = choice(job, "patches as the job has them", &patches, Work::Patch, true);
    let second = choice(job, "a whole second layer, pinked, on the chosen faces", &chosen, Work::Panel, true);
    let whole = LayerChoice {
        name: "panels with patches".to_owned(),
        cloth: base.cloth + small.cloth,
        mass: base.mass.zip(small.mass).map(|(one, other)| one + other),
        glued: base.glued + small.glued,
        pinked: small.pinked,
        pieces: base.pieces + small.pieces,
        hours: base.hours + small.hours,
        default_rates: base.default_rates.clone(),
    };
    Ok(vec![base, small, whole, second])
}

fn faces_of<'p>(covering: &Covering, panels: &[&'p Piece], name: &str) -> Vec<&'p Piece> {
    let part = covering.parts.iter().find(|part| part.name == name);
    let own = |piece: &&&Piece| {
        let of_part = part.is_some_and(|part| {
            part.panels.iter().any(|panel| {
                piece.name == panel.plan.name || piece.name.starts_with(&format!("{}, strip", panel.plan.name))
            })
        });
        of_part || piece.name == name || piece.name.starts_with(&format!("{name}, "))
    };
    panels.iter().filter(own).copied().collect()
}

fn unknown(panels: &[&Piece], name: &str) -> UnknownFace {
    let names: Vec<&str> = panels.iter().map(|piece| piece.name.as_str()).collect();
    UnknownFace {
        name: name.to_owned(),
        meant: did_you_mean(name, names.iter().copied()),
        known: names.iter().map(|name| format!("{name:?}")).collect::<Vec<_>>().join(", "),
    }
}

/// Sums over pieces that are pinked all round, or cut plain.
fn choice(job: &Job, name: &str, pieces: &[&Piece], work: Work, is_pinked: bool) -> LayerChoice {
    let sum = |figure: fn(&Piece) -> f64| -> f64 {
        pieces.iter().map(|piece| figure(piece) * f64::from(piece.quantity)).sum()
    };
    let cloth = sum(|piece| piece.cut.area());
    let edge = sum(|piece| piece.cut.perimeter());
    let pinked = if is_pinked { edge } else { 0.0 };
    let count: u32 = pieces.iter().map(|piece| piece.quantity).sum();
    let rate = |work| hours(&job.rates, work);
    let cutting = (pinked * rate(Work::PinkedEdge) + (edge - pinked) * rate(Work::CutEdge)) / 1000.0;
    LayerChoice {
        name: name.to_owned(),
        cloth,
        mass: job.cloth.first().and_then(|cloth| cloth.mass).map(|grams| grams * cloth * 1e-6),
        glued: edge,
        pinked,
        pieces: count,
        hours: f64::from(count) * rate(work) + edge / 1000.0 * rate(Work::GluedEdge) + cutting,
        default_rates: defaults_used(&job.rates),
    }
}
