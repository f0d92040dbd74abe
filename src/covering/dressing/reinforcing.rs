//! Tape on and under the cloth that keeps attachments from pulling through: reinforcing tape, anti-tear strips, the tape
//! between ribs, and tape over sharp edges.

use crate::covering::{NoRule, RuleBook, RuleUsed};
use crate::job::{Attachment, Location, RuleFigure};
use crate::units::{Speed, inches};

/// Widths of reinforcing tape as sold, approved covering manual p. 96.
const STOCK: [f64; 3] = [inches(0.25), inches(0.375), inches(0.5)];
/// Screws and clips get tape of this width whatever the rib, approved covering manual p. 96.
const SCREWS_AND_CLIPS: f64 = inches(0.5);
/// Above this Vne there are anti-tear strips, AC 43.13-1B 2-9c.
const FAST: Speed = Speed::mph(250.0);
/// Anti-chafe tape over one screw, nail, rivet or bolt head: common practice, no source.
const OVER_A_HEAD: f64 = inches(1.0);

/// Reinforcing and finishing tape over one laced length of a rib. Lengths in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct ReinforcedRib {
    /// Least length of the reinforcing tape.
    pub reinforcing: f64,
    /// Width of one strip of it.
    pub width: f64,
    /// How many strips lie side by side.
    pub side_by_side: u32,
    /// Least length of the finishing tape over it.
    pub finishing: f64,
    /// The figures that this comes from.
    pub rules: Vec<RuleUsed>,
}

/// A strip of cover cloth under the reinforcing tape. Lengths in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct AntiTearStrip {
    /// Its width.
    pub width: f64,
    /// How far it reaches, in words.
    pub extent: &'static str,
    /// Whether it goes from trailing edge to trailing edge; else it ends at the front spar on the underside.
    pub to_trailing_edge_below: bool,
    /// What it comes from.
    pub rule: RuleUsed,
}

/// The tape over a rib with a cap of width `cap` whose attachments are `first_to_last` apart in all.
///
/// Reinforcing tape is as wide as the cap, several side by side where none is so wide (AC 43.13-1B 2-9), and goes past the
/// last attachment at each end (2-9a); finishing tape goes past that (2-13b).
///
/// # Errors
/// [`NoRule`] where the rules have no margin.
pub fn reinforced_rib(book: &RuleBook, first_to_last: f64, cap: f64) -> Result<ReinforcedRib, NoRule> {
    let past_last = book.figure(RuleFigure::Margin, Location::LastAttachment)?;
    let past_tape = book.figure(RuleFigure::Margin, Location::ReinforcingTape)?;
    let reinforcing = first_to_last + 2.0 * past_last.used;
    let finishing = reinforcing + 2.0 * past_tape.used;
    let (width, side_by_side) = match book.attachment() {
        Attachment::Screws | Attachment::Clips => (SCREWS_AND_CLIPS, 1),
        _ => strips_for(cap),
    };
    Ok(ReinforcedRib { reinforcing, width, side_by_side, finishing, rules: vec![past_last, past_tape] })
}

/// The narrowest tape as wide as the cap, or as many of the widest as it takes.
fn strips_for(cap: f64) -> (f64, u32) {
    let widest = STOCK[STOCK.len() - 1];
    match STOCK.into_iter().find(|width| *width >= cap - 1e-9) {
        Some(width) => (width, 1),
        None => (widest, libm::ceil(cap / widest - 1e-9) as u32),
    }
}

/// The length of reinforcing tape under one attachment that stands alone.
///
/// # Errors
/// [`NoRule`] where the rules have no length.
pub fn isolated_tape(book: &RuleBook) -> Result<RuleUsed, NoRule> {
    book.figure(RuleFigure::Length, Location::Attachment)
}

/// The anti-tear strip over a rib cap of width `cap`; `None` where Vne asks for none (AC 43.13-1B 2-9c).
///
/// # Errors
/// [`NoRule`] where the rules have no margin.
pub fn anti_tear_strip(book: &RuleBook, cap: f64, in_slipstream: bool) -> Result<Option<AntiTearStrip>, NoRule> {
    if !FAST.below(book.vne()) {
        return Ok(None);
    }
    let rule = book.figure(RuleFigure::Margin, Location::AntiTearStrip)?;
    let extent = if in_slipstream {
        "from the trailing edge round the nose to the trailing edge"
    } else {
        "from the trailing edge over the nose and back to the front spar on the underside"
    };
    let width = cap + 2.0 * rule.used;
    Ok(Some(AntiTearStrip { width, extent, to_trailing_edge_below: in_slipstream, rule }))
}

/// Length of one tape that keeps the ribs upright while the cloth shrinks: from butt to tip, over one rib's top cap and
/// under the next one's bottom cap in turn, one turn round each (AC 43.13-1B 2-6f; approved covering manual p. 11).
///
/// `stations` are the ribs along the span and `depth` their depth half way between the spars, `cap_girth` once round a
/// cap; millimetres. How many such tapes: as the maker had.
pub fn inter_rib_bracing(stations: &[f64], depth: f64, cap_girth: f64) -> f64 {
    let bays: f64 = stations.windows(2).map(|pair| libm::hypot(pair[1] - pair[0], depth)).sum();
    bays + stations.len() as f64 * cap_girth
}

/// Length of anti-chafe tape over sharp edges, given by their lengths, and over single heads of screws, nails, rivets and
/// bolts (AC 43.13-1B 2-6e; approved covering manual p. 12). Millimetres.
///
/// Not where the cloth is cemented to the structure: that bond would be only as good as the tape's own adhesive.
pub fn anti_chafe_length(edges: &[f64], heads: u32) -> f64 {
    edges.iter().sum::<f64>() + f64::from(heads) * OVER_A_HEAD
}
