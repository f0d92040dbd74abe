//! Lap and tape of each kind of repair, by the size of the opening, Vne and place.
//!
//! AC 43.13-1B 2-43 to 2-45 leave gaps: a Vne of exactly 150 mph, openings of exactly 8 or 16 in, and openings of 8 to
//! 16 in on fast aircraft that are not on top of a wing. There the stricter row is taken, and it says so.

use std::cmp::Ordering;

use crate::covering::rules::WorkedOut;
use crate::job::{Repair, RepairKind, RepairPlace};
use crate::units::{Speed, inches};

/// The speed at which the rules of repairs change.
const LIMIT: Speed = Speed::mph(150.0);
/// The sizes of opening at which they change.
const SMALL: f64 = inches(8.0);
const LARGE: f64 = inches(16.0);
/// Sizes closer than this are the same: they were written in different units.
const SAME: f64 = 1e-6;
/// A sewn-in patch and the edge of its opening are folded under by this, AC 43.13-1B 2-44a.
const FOLD: f64 = inches(0.5);

/// What the rules give for a repair.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct RepairFigures {
    /// Cloth of the patch past each side of the opening; for a sewn patch, the fold; `None` for a tear.
    pub lap: Option<WorkedOut>,
    /// Width of the tape; `None` where none is called for.
    pub tape: Option<WorkedOut>,
}

/// The figures of the rules for a repair at a Vne.
pub(super) fn figures(repair: &Repair, vne: Speed) -> RepairFigures {
    let longest = repair.opening.longest();
    let on_top = repair.place == RepairPlace::WingTop;
    match repair.kind {
        RepairKind::DopedPatch => doped(longest, vne, on_top),
        RepairKind::CementedPatch => cemented(longest, on_top),
        RepairKind::SewnPatch => RepairFigures {
            lap: Some(plain(FOLD, "AC 2-44a: 1/2 in folded under on every edge of the patch")),
            tape: Some(over_stitches(longest, vne, on_top)),
        },
        RepairKind::SewnTear => RepairFigures { lap: None, tape: Some(over_stitches(longest, vne, on_top)) },
    }
}

fn plain(value: f64, source: &str) -> WorkedOut {
    WorkedOut { default: Some(value), used: value, source: source.to_owned(), gap: None }
}

fn compare(size: f64, limit: f64) -> Ordering {
    if (size - limit).abs() <= SAME { Ordering::Equal } else { size.total_cmp(&limit) }
}

/// AC 43.13-1B 2-45.
fn doped(longest: f64, vne: Speed, on_top: bool) -> RepairFigures {
    let (to_small, to_large) = (compare(longest, SMALL), compare(longest, LARGE));
    let slow = vne.below(LIMIT);
    let small = to_small == Ordering::Less || (slow && to_small == Ordering::Equal);
    let large = to_large != Ordering::Less;
    let mut gaps: Vec<&str> = Vec::new();
    if vne.equals(LIMIT) {
        gaps.push("a Vne of exactly 150 mph");
    }
    if to_large == Ordering::Equal {
        gaps.push("an opening of exactly 16 in");
    } else if !slow && to_small == Ordering::Equal {
        gaps.push("an opening of exactly 8 in above 150 mph");
    } else if !slow && !small && !large && !on_top {
        gaps.push("an opening of 8 to 16 in above 150 mph that is not on top of a wing");
    }
    let (lap, tape, source) = match (small, large, slow) {
        (true, _, true) => (inches(2.0), None, "AC 2-45"),
        (true, _, false) => (inches(2.0), Some(inches(2.0)), "AC 2-45c"),
        (_, false, true) => (longest / 4.0, None, "AC 2-45d: a quarter of the longest side, 4 in at most"),
        (_, false, false) => (inches(4.0), Some(inches(2.0)), "AC 2-45e"),
        (_, true, true) => (inches(4.0), Some(inches(4.0)), "AC 2-45f"),
        (_, true, false) => (inches(4.0), Some(inches(6.0)), "AC 2-45g"),
    };
    let gap = (!gaps.is_empty())
        .then(|| format!("AC 2-45 has no figure for {}: the stricter row is taken", gaps.join(" and for ")));
    let worked = |value: f64| WorkedOut {
        default: gap.is_none().then_some(value),
        used: value,
        source: source.to_owned(),
        gap: gap.clone(),
    };
    RepairFigures { lap: Some(worked(lap)), tape: tape.map(worked) }
}

/// Approved covering manual p. 89. An opening of exactly 8 in is in both of its rows: the stricter is taken.
fn cemented(longest: f64, on_top: bool) -> RepairFigures {
    const PAGE: &str = "manual p. 89";
    match compare(longest, SMALL) {
        Ordering::Less => RepairFigures {
            lap: Some(plain(inches(1.0), PAGE)),
            tape: on_top.then(|| plain(inches(2.0), "manual p. 89: tape on top of a wing")),
        },
        Ordering::Greater => {
            RepairFigures { lap: Some(plain(inches(2.0), PAGE)), tape: Some(plain(inches(2.0), PAGE)) }
        }
        Ordering::Equal => {
            let both = |default: f64, used: f64| WorkedOut {
                default: Some(default),
                used,
                source: PAGE.to_owned(),
                gap: Some("an opening of exactly 8 in is in two rows of the manual: the stricter is taken".to_owned()),
            };
            RepairFigures { lap: Some(both(inches(1.0), inches(2.0))), tape: Some(both(0.0, inches(2.0))) }
        }
    }
}

/// AC 43.13-1B 2-43.
fn over_stitches(longest: f64, vne: Speed, on_top: bool) -> WorkedOut {
    let fast = LIMIT.below(vne);
    let at_limit = vne.equals(LIMIT) && !on_top;
    if compare(longest, LARGE) == Ordering::Equal && !on_top && !fast {
        let gap = "AC 2-43 has no figure for exactly 16 in: the stricter row is taken".to_owned();
        return WorkedOut { default: None, used: inches(6.0), source: "AC 2-43c".to_owned(), gap: Some(gap) };
    }
    if compare(longest, LARGE) == Ordering::Greater || on_top || fast {
        return plain(inches(6.0), "AC 2-43c: longer than 16 in, on top of a wing, or Vne above 150 mph");
    }
    let (default, source) = if compare(longest, SMALL) == Ordering::Greater {
        (inches(4.0), "AC 2-43b")
    } else {
        (inches(3.0), "AC 2-43a")
    };
    if at_limit {
        let gap = format!("Vne is exactly the limit of {LIMIT}: the stricter figure is taken");
        return WorkedOut { default: Some(default), used: inches(6.0), source: source.to_owned(), gap: Some(gap) };
    }
    plain(default, source)
}
