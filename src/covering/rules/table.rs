//! The rules as data: figure, place, condition, value, source.
//!
//! Sources: *AC* is AC 43.13-1B with Change 1, chapter 2, by paragraph; *manual* is an FAA-approved covering manual for
//! polyester cloth, 2008, by page. What has neither is marked `common practice, no source`. Inches are the sources' own.

use crate::job::Location::{
    self, ControlSurface, Empennage, Fuselage, PanelSeam, Recess, WingButt, WingLeadingEdge, WingTip, WingTrailingEdge,
};
use crate::job::Method::{self, Cemented, Doped, Sewn};
use crate::job::RuleFigure::{self, Fold, Handling, Lap, Margin, Tape};
use crate::units::{Speed, inches};

/// The speed at which laps and tapes of doped seams change, AC 2-7b.
pub(super) const LIMIT: Speed = Speed::mph(150.0);

/// When a rule holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum When {
    /// At any speed.
    Always,
    /// Vne up to [`LIMIT`], the limit included.
    Slow,
    /// Vne above [`LIMIT`].
    Fast,
}

/// One figure of one source.
#[derive(Clone, Copy, Debug)]
pub(super) struct Rule {
    /// The set that it belongs to; `None` for all sets.
    pub method: Option<Method>,
    pub figure: RuleFigure,
    pub at: Location,
    pub when: When,
    /// Millimetres.
    pub value: f64,
    pub source: &'static str,
}

const fn rule(
    method: Option<Method>,
    figure: RuleFigure,
    at: Location,
    when: When,
    value: f64,
    source: &'static str,
) -> Rule {
    Rule { method, figure, at, when, value: inches(value), source }
}

pub(super) const fn doped(figure: RuleFigure, at: Location, when: When, inches: f64, source: &'static str) -> Rule {
    rule(Some(Doped), figure, at, when, inches, source)
}

pub(super) const fn cemented(figure: RuleFigure, at: Location, inches: f64, source: &'static str) -> Rule {
    rule(Some(Cemented), figure, at, When::Always, inches, source)
}

pub(super) const fn sewn(figure: RuleFigure, at: Location, inches: f64, source: &'static str) -> Rule {
    rule(Some(Sewn), figure, at, When::Always, inches, source)
}

pub(super) const fn any(figure: RuleFigure, at: Location, inches: f64, source: &'static str) -> Rule {
    rule(None, figure, at, When::Always, inches, source)
}

const SLOW_TRAILING_EDGE: &str = "AC 2-7b(5), perimeter of a wing except the leading edge; 2-7b(2) names no speed, 3 in and 4 in are the cautious choice";
const CLOSING: &str = "manual p. 81, single-stitch closing seam; AC 2-7a(1)";
const NO_OWN_TAPE: &str =
    "AC 2-7a(6) and (7): no figure for this place, that of spanwise and chordwise seams is stricter than manual p. 81";
const END: &str = "manual pp. 19, 23: about 12 in at tip and butt";
const LEAST: &str = "1 in at least is left all round until it is trimmed: common practice, no source";

#[rustfmt::skip]
pub(super) static RULES: &[Rule] = &[
    // Lapped and doped.
    doped(Lap,  WingLeadingEdge,  When::Slow, 2.0, "AC 2-7b(4)"),
    doped(Tape, WingLeadingEdge,  When::Slow, 3.0, "AC 2-7b(4)"),
    doped(Lap,  WingLeadingEdge,  When::Fast, 4.0, "AC 2-7b(1)"),
    doped(Tape, WingLeadingEdge,  When::Fast, 4.0, "AC 2-7b(1)"),
    doped(Lap,  WingTrailingEdge, When::Slow, 1.0, SLOW_TRAILING_EDGE),
    doped(Tape, WingTrailingEdge, When::Slow, 3.0, SLOW_TRAILING_EDGE),
    doped(Lap,  WingTrailingEdge, When::Fast, 3.0, "AC 2-7b(2)"),
    doped(Tape, WingTrailingEdge, When::Fast, 4.0, "AC 2-7b(2)"),
    doped(Lap,  WingTip,          When::Slow, 1.0, "AC 2-7b(5)"),
    doped(Tape, WingTip,          When::Slow, 3.0, "AC 2-7b(5)"),
    doped(Lap,  WingTip,          When::Fast, 2.0, "AC 2-7b(3)"),
    doped(Tape, WingTip,          When::Fast, 3.0, "AC 2-7b(3)"),
    doped(Lap,  WingButt,         When::Slow, 1.0, "AC 2-7b(5)"),
    doped(Tape, WingButt,         When::Slow, 3.0, "AC 2-7b(5)"),
    doped(Lap,  WingButt,         When::Fast, 2.0, "AC 2-7b(3)"),
    doped(Tape, WingButt,         When::Fast, 3.0, "AC 2-7b(3)"),
    doped(Lap,  ControlSurface,   When::Slow, 1.0, "AC 2-7b(5)"),
    doped(Tape, ControlSurface,   When::Slow, 3.0, "AC 2-7b(5)"),
    doped(Lap,  ControlSurface,   When::Fast, 2.0, "AC 2-7b(3)"),
    doped(Tape, ControlSurface,   When::Fast, 3.0, "AC 2-7b(3)"),
    doped(Lap,  Empennage,        When::Slow, 1.0, "AC 2-7b(5)"),
    doped(Tape, Empennage,        When::Slow, 3.0, "AC 2-7b(5)"),
    doped(Lap,  Empennage,        When::Fast, 2.0, "AC 2-7b(3)"),
    doped(Tape, Empennage,        When::Fast, 3.0, "AC 2-7b(3)"),
    doped(Lap,  Fuselage,         When::Slow, 1.0, "AC 2-7b(5)"),
    doped(Tape, Fuselage,         When::Slow, 3.0, "AC 2-7b(5)"),
    doped(Lap,  Fuselage,         When::Fast, 2.0, "AC 2-7b(3)"),
    doped(Tape, Fuselage,         When::Fast, 3.0, "AC 2-7b(3)"),
    doped(Tape, PanelSeam,        When::Always, 3.0, "AC 2-7a(6) and (7)"),

    // Lapped and cemented, polyester.
    cemented(Lap,  WingLeadingEdge,  2.0, "manual p. 15"),
    cemented(Tape, WingLeadingEdge,  2.0, "manual p. 15"),
    cemented(Lap,  WingTrailingEdge, 1.0, "manual p. 15"),
    cemented(Tape, WingTrailingEdge, 2.0, "manual p. 15"),
    cemented(Lap,  WingTip,          1.0, "manual p. 15"),
    cemented(Tape, WingTip,          2.0, "manual p. 15"),
    cemented(Lap,  WingButt,         1.0, "manual p. 15"),
    cemented(Tape, WingButt,         2.0, "manual p. 15"),
    cemented(Lap,  ControlSurface,   1.0, "manual p. 15"),
    cemented(Tape, ControlSurface,   2.0, "manual p. 15"),
    cemented(Lap,  Empennage,        1.0, "manual p. 15"),
    cemented(Tape, Empennage,        2.0, "manual p. 15"),
    cemented(Lap,  Fuselage,         1.0, "manual p. 15"),
    cemented(Tape, Fuselage,         2.0, "manual p. 15"),
    cemented(Tape, PanelSeam,        2.0, "manual p. 81"),

    // Sewn. The margin is cloth past the line of the seam, on each side.
    sewn(Tape,   WingLeadingEdge,  4.0,  "AC 2-7a(4)"),
    sewn(Tape,   WingTrailingEdge, 3.0,  "AC 2-7a(5)"),
    sewn(Tape,   ControlSurface,   3.0,  "AC 2-7a(5)"),
    sewn(Tape,   WingTip,          3.0,  NO_OWN_TAPE),
    sewn(Tape,   WingButt,         3.0,  "AC 2-7a(7)"),
    sewn(Tape,   Empennage,        3.0,  NO_OWN_TAPE),
    sewn(Tape,   Fuselage,         3.0,  NO_OWN_TAPE),
    sewn(Tape,   PanelSeam,        3.0,  "AC 2-7a(6) and (7)"),
    sewn(Margin, WingLeadingEdge,  0.25, CLOSING),
    sewn(Margin, WingTrailingEdge, 0.25, CLOSING),
    sewn(Margin, ControlSurface,   0.25, CLOSING),
    sewn(Margin, WingTip,          0.25, CLOSING),
    sewn(Margin, WingButt,         0.25, CLOSING),
    sewn(Margin, Empennage,        0.25, CLOSING),
    sewn(Margin, Fuselage,         0.25, CLOSING),

    // Whatever joins the edges of a panel, a seam within it may be sewn.
    any(Margin, PanelSeam, 0.25, "manual p. 81, plain overlap seam of two rows, 1/2 in wide"),

    // Cloth to hold on to.
    any(Handling, WingLeadingEdge,  1.0,  LEAST),
    any(Handling, WingTrailingEdge, 6.0,  "manual pp. 20, 23: rough overhang of 6 in"),
    any(Handling, WingTip,          12.0, END),
    any(Handling, WingButt,         12.0, END),
    any(Handling, ControlSurface,   1.0,  LEAST),
    any(Handling, Empennage,        1.0,  LEAST),
    any(Handling, Fuselage,         1.0,  LEAST),
    any(Handling, Recess,           1.0,  LEAST),

    // Turned down inside the recess of an aileron or a flap; whatever joins the other edges.
    any(Fold, Recess, 1.0, "manual pp. 20-21: 1 in at least"),
];
