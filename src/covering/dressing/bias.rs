//! Whether a tape can follow a curve as it is, with relief cuts, or must be cut on the bias.
//!
//! A tape of width w along a curve of radius R in the plane of the face has w/(2R) too much length at its inner edge.
//! What counts is the curve in the plane of the face: going round a tube across its width bends no edge of the tape.

use crate::units::inches;

/// A share of its length that the edge of a tape can give up, with where that comes from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ease {
    /// The share.
    pub share: f64,
    /// Where it comes from.
    pub source: &'static str,
}

/// What the inner edge of a straight tape of polyester can give up.
///
/// No source gives it at the 225 °F at which tapes may be ironed. Polyester shrinks about 5 % at 250 °F (FAA-H-8083-31
/// chapter 3; approved covering manual p. 13), where tapes already go narrow and wavy (manual p. 46). Half of it is taken:
/// derived, to be cautious. Natural fibre has no figure: give 0 there.
pub const TAKE_UP: Ease = Ease {
    share: 0.025,
    source: "derived: half of the 5 % that polyester shrinks at 250 °F (manual pp. 13, 46); tapes are never ironed above 225 °F",
};

/// What a relief cut takes out of the edge where its sides overlap. Common practice, no source.
const ONE_CUT: f64 = inches(0.125);
/// Bias tape pulled round a curve keeps two thirds of its width: AC 43.13-1B 2-13c, approved covering manual p. 42.
const CUT_OVER_WANTED: f64 = 1.5;
/// Widths of bias tape as sold: approved covering manual p. 95.
const BIAS_STOCK: [f64; 3] = [inches(2.0), inches(3.0), inches(4.0)];
/// A bias tape is sewn from pieces this long: approved covering manual p. 46.
const BIAS_SEAM_EVERY: f64 = 1500.0;

/// How a tape is cut to follow a curve. Lengths in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum TapeCut {
    /// Straight tape lies down by itself or under the iron.
    Straight,
    /// Straight tape with cuts in its inner edge.
    ReliefCuts {
        /// How many cuts.
        cuts: u32,
        /// In which length of the tape's centre line.
        length: f64,
    },
    /// Bias tape, in one pull (approved covering manual p. 46).
    Bias {
        /// Width to cut at least for the width that is wanted.
        least_cut: f64,
        /// Width to take: the next one sold; the widest sold where none is wide enough.
        stock: f64,
        /// Width that the stock has when it is pulled round the curve.
        finished: f64,
        /// Length of the pieces that the tape is sewn from: plan a run to start just after a seam.
        seam_every: f64,
    },
}

impl TapeCut {
    /// Whether a bias tape ends narrower than what was wanted, since no wider one is sold.
    pub fn is_narrower_than(&self, wanted: f64) -> bool {
        matches!(self, Self::Bias { finished, .. } if *finished < wanted - 1e-9)
    }
}

/// How a tape of a finished `width` is cut to follow `length` of an edge whose radius in the plane of the face is
/// `radius`; all in millimetres, an infinite radius for a straight edge.
///
/// Beyond the ease, relief cuts take up the rest, as long as they are no closer than the tape is wide (common practice,
/// no source); a sharper curve takes bias tape.
pub fn tape_round(width: f64, radius: f64, length: f64, ease: Ease) -> TapeCut {
    let too_much = width / (2.0 * radius.abs()) - ease.share;
    if too_much <= 1e-12 {
        return TapeCut::Straight;
    }
    let apart = ONE_CUT / too_much;
    if apart >= width {
        let cuts = libm::ceil(length / apart - 1e-9).max(1.0) as u32;
        return TapeCut::ReliefCuts { cuts, length };
    }
    bias(width)
}

/// Bias tape for a finished width.
fn bias(wanted: f64) -> TapeCut {
    let least_cut = wanted * CUT_OVER_WANTED;
    let widest = BIAS_STOCK[BIAS_STOCK.len() - 1];
    let stock = BIAS_STOCK.into_iter().find(|stock| *stock >= least_cut - 1e-9).unwrap_or(widest);
    TapeCut::Bias { least_cut, stock, finished: stock / CUT_OVER_WANTED, seam_every: BIAS_SEAM_EVERY }
}
