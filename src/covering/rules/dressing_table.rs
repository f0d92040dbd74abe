//! The rules of dressing out as data: tape over members, what it must bond to, rings, doilies and drains.
//!
//! Sources as in [`super::table`]. Where AC and manual both have a figure, doped and sewn covering go by AC, cemented
//! covering by the manual; where AC names no width, the manual's is taken and its source says so.

use super::table::{Rule, When, any, cemented, doped, sewn};
use crate::job::Location::{
    AntiTearStrip, Attachment, ButtRib, CrossTube, Diagonal, Doily, DrainHole, DrainPatch, Former, HardEdge,
    InspectionRing, LastAttachment, LeadingEdge, Longeron, NoseRib, ReinforcingTape, Rib, SlipstreamRib, Spar,
    Stringer, TailEdge, TipBow, TrailingEdge,
};
use crate::job::RuleFigure::{Diameter, Length, Margin, Tape};

const AC_RIB: &str = "AC 2-13b: 2 in over laces, screws, rivets and clips";
const MANUAL_RIB: &str = "manual p. 42: 2 in over ribs";
const BUTT: &str = "manual p. 42: 2 in over ribs; AC 2-13c names no width";
const NOSE_RIB: &str = "manual p. 42: 2 in over ribs; AC 2-13c advises tape over nose ribs and names no width";
const LEADING: &str = "manual p. 42: 4 or 6 in over the leading edge of a wing, the narrower; AC 2-13c names no width";
const TRAILING: &str = "manual p. 42: 3 in over the trailing edge of a wing; AC 2-13c names no width";
const TAIL: &str =
    "manual pp. 42, 52: 3 in over leading edge, trailing edge and perimeter of the tail; AC 2-13c names no width";
const BOW: &str = "manual p. 46: 4 in bias tape, which becomes about 3 in; AC names no width";
const SPAR: &str =
    "as over ribs: common practice, no source; manual p. 45 has tape along a spar where fitted and names no width";
const LONGERON: &str = "manual p. 42: 2 in over longerons; AC 2-13c names no width";
const CROSS_TUBE: &str = "as over a longeron: common practice, no source";
const DIAGONAL: &str = "as over a cross tube: common practice, no source";
const STRINGER: &str = "manual p. 42: 1 in over narrow stringers; AC 2-13c names no width";
const FORMER: &str = "as over a stringer: common practice, no source";
const HARD: &str =
    "2 in, so that both sides of the edge are held: common practice, no source; manual p. 43 asks for 3/8 in past it";

#[rustfmt::skip]
pub(super) static DRESSING: &[Rule] = &[
    // Finishing tape over members, finished width.
    doped(Tape,    Rib,           When::Always, 2.0, AC_RIB),
    sewn(Tape,     Rib,           2.0, AC_RIB),
    cemented(Tape, Rib,           2.0, MANUAL_RIB),
    doped(Tape,    SlipstreamRib, When::Always, 2.0, AC_RIB),
    sewn(Tape,     SlipstreamRib, 2.0, AC_RIB),
    cemented(Tape, SlipstreamRib, 2.0, "manual p. 42: 2 in over ribs; pp. 47-48: wider or double in heavy slipstream"),
    any(Tape, NoseRib,      2.0, NOSE_RIB),
    any(Tape, ButtRib,      2.0, BUTT),
    any(Tape, Spar,         2.0, SPAR),
    any(Tape, LeadingEdge,  4.0, LEADING),
    any(Tape, TrailingEdge, 3.0, TRAILING),
    any(Tape, TailEdge,     3.0, TAIL),
    any(Tape, TipBow,       3.0, BOW),
    any(Tape, Longeron,     2.0, LONGERON),
    any(Tape, CrossTube,    2.0, CROSS_TUBE),
    any(Tape, Diagonal,     2.0, DIAGONAL),
    any(Tape, Stringer,     1.0, STRINGER),
    any(Tape, Former,       1.0, FORMER),
    any(Tape, HardEdge,     2.0, HARD),

    // How far tape and patches go past what they cover, on each side.
    any(Margin, Attachment,      0.375, "AC 2-13b: bonded 3/8 in at least on each side of the attachment"),
    any(Margin, LastAttachment,  1.0,   "AC 2-9a: reinforcing tape 1 in at least past the last attachment"),
    any(Margin, ReinforcingTape, 0.5,   "AC 2-13b: finishing tape 1/2 in at least past each end of the reinforcing tape"),
    any(Margin, AntiTearStrip,   0.5,   "AC 2-9c: 1/2 in past each side of the rib cap"),
    any(Margin, HardEdge,        0.375, "manual p. 43: 3/8 in at least past the hard edge"),
    any(Margin, InspectionRing,  1.0,   "AC 2-14a(4): 1 in at least past the ring"),
    any(Length, Attachment,      2.0,   "AC 2-9: 2 in of reinforcing tape, centred on an isolated attachment"),

    // Openings.
    any(Diameter, InspectionRing, 3.5625, "AC 2-14a(2), manual p. 40: 3-9/16 in inside the common plastic ring"),
    any(Diameter, Doily,          6.5,    "manual p. 40: a circle of 6-1/2 in"),
    any(Diameter, DrainHole,      0.25,   "manual p. 48: 1/4 in at least"),
    any(Diameter, DrainPatch,     2.0,    "manual p. 48: about 2 in; AC 2-14b(1)"),
];
