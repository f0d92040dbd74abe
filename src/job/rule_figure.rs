//! What a rule can give a figure for: which figure, and at which place.

/// A figure that a rule gives.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RuleFigure {
    /// Cloth over cloth where two panels are lapped, or where a patch lies on the old cloth.
    Lap,
    /// Width of the finishing tape over a seam, a member or the edge of a patch.
    Tape,
    /// Cloth past the line of a sewn seam, or cloth or tape past what it covers, on each side of it.
    Margin,
    /// Cloth beyond the lap to hold on to; it is trimmed off in place.
    Handling,
    /// Cloth that is turned down inside a recess.
    Fold,
    /// Greatest distance from one lace, screw, rivet or clip to the next.
    Spacing,
    /// Length of a piece of tape.
    Length,
    /// Diameter of an opening or of a round patch.
    Diameter,
}

/// A place on the aircraft, or a thing on the cloth, for which rules have figures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Location {
    /// A seam at the leading edge of a wing.
    WingLeadingEdge,
    /// A seam at the trailing edge of a wing.
    WingTrailingEdge,
    /// A seam at the tip of a wing.
    WingTip,
    /// A seam at the root of a wing.
    WingButt,
    /// Perimeter of a control surface of the wing.
    ControlSurface,
    /// Perimeter of a tail surface.
    Empennage,
    /// Anywhere on the fuselage.
    Fuselage,
    /// A sewn seam within a panel.
    PanelSeam,
    /// The edges of a recess in a trailing edge.
    Recess,
    /// A main rib.
    Rib,
    /// A rib in the slipstream: within the propeller's diameter, or the next one outboard.
    SlipstreamRib,
    /// A false rib between main ribs at the nose.
    NoseRib,
    /// The closing rib at the root, as a member.
    ButtRib,
    /// A main or false spar.
    Spar,
    /// A leading edge of a wing or of its control surface, as a member.
    LeadingEdge,
    /// A trailing edge of a wing or of its control surface, as a member.
    TrailingEdge,
    /// A leading edge, a trailing edge or the perimeter tube of a tail surface, as a member.
    TailEdge,
    /// A curved outer edge.
    TipBow,
    /// A main lengthwise member of the fuselage.
    Longeron,
    /// A structural tube across the fuselage.
    CrossTube,
    /// A structural tube from corner to corner of a bay.
    Diagonal,
    /// A strip that gives shape lengthwise.
    Stringer,
    /// A frame that gives shape across.
    Former,
    /// The edge of a sheet or of a fitting under the cloth.
    HardEdge,
    /// A lace, screw, rivet or clip.
    Attachment,
    /// The first and the last attachment of a rib.
    LastAttachment,
    /// The ends of a reinforcing tape.
    ReinforcingTape,
    /// A strip of cloth under the reinforcing tape of fast aircraft.
    AntiTearStrip,
    /// A ring that stiffens an opening for inspection.
    InspectionRing,
    /// The round patch over such a ring.
    Doily,
    /// A hole that lets water out.
    DrainHole,
    /// The round patch over a drain grommet.
    DrainPatch,
    /// A repair of the cloth.
    Repair,
}
