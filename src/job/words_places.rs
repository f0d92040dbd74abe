//! The words for choices about places and drains: see [`super::words`].

use super::places::{ControlKind, FittingKind, Grommet, Hand, RingKind};
use super::words::Words;

impl Words for FittingKind {
    const ALL: &'static [(Self, &'static str)] = &[
        (Self::Fitting, "fitting"),
        (Self::CableExit, "cable exit"),
        (Self::StrutExit, "strut exit"),
        (Self::HardEdge, "hard edge"),
    ];
}

impl Words for Hand {
    const ALL: &'static [(Self, &'static str)] = &[(Self::Left, "left"), (Self::Right, "right")];
}

impl Words for RingKind {
    const ALL: &'static [(Self, &'static str)] = &[(Self::Plastic, "plastic"), (Self::Metal, "metal")];
}

impl Words for ControlKind {
    const ALL: &'static [(Self, &'static str)] = &[
        (Self::Bellcrank, "bellcrank"),
        (Self::Pulley, "pulley"),
        (Self::CableGuide, "cable guide"),
        (Self::WingFitting, "wing fitting"),
        (Self::DragWireJunction, "drag-wire junction"),
    ];
}

impl Words for Grommet {
    const ALL: &'static [(Self, &'static str)] =
        &[(Self::Flat, "flat"), (Self::Hooded, "hooded"), (Self::None, "none")];
}
