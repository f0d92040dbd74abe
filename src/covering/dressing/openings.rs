//! Rings, doilies, drains, and cloth round what stands out of it.

use crate::covering::{NoRule, RuleBook, RuleUsed};
use crate::job::{Location, RuleFigure};
use crate::units::inches;

/// Up to here the cloth is left whole and slit after shrinking, approved covering manual pp. 20, 24.
const HIGH: f64 = inches(2.0);

/// What an inspection ring is made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RingMaterial {
    /// Plastic.
    Plastic,
    /// Aluminium.
    Metal,
}

/// The round patch over an inspection ring. Lengths in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct DoilySize {
    /// Diameter that it is cut to, tip to tip of its pinked edge.
    pub diameter: f64,
    /// Whether the rules leave it to the person: over a metal ring, where it is advised in slipstream and on the forward belly.
    pub optional: bool,
    /// The usual diameter.
    pub usual: RuleUsed,
    /// How far it goes past the ring.
    pub margin: RuleUsed,
}

/// The figures of a drain. Lengths in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Drain {
    /// Least diameter of the hole.
    pub hole: RuleUsed,
    /// Diameter of the pinked patch over the grommet; optional, advised in slipstream (AC 43.13-1B 2-14b(1)).
    pub patch: RuleUsed,
}

/// What to do with cloth where something stands out of the structure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Protrusion {
    /// Left whole, shrunk, then slit as little as will do.
    SlitAfterShrinking,
    /// The edge sealed and opened as little as will do before shrinking; the opening grows.
    OpenBeforeShrinking,
}

/// The inside diameter of an inspection ring. Its hole is cut when it is first needed (AC 43.13-1B 2-14a(1)), never before
/// the cloth is shrunk. The outside diameter no source gives: measure the ring.
///
/// # Errors
/// [`NoRule`] where the rules have no diameter.
pub fn inspection_ring(book: &RuleBook) -> Result<RuleUsed, NoRule> {
    book.figure(RuleFigure::Diameter, Location::InspectionRing)
}

/// The doily over a ring whose outside diameter is `ring_outside` millimetres: the usual one, or a larger one where the
/// margin past the ring asks for it.
///
/// # Errors
/// [`NoRule`] where the rules have no figure.
pub fn doily(book: &RuleBook, ring_outside: f64, material: RingMaterial) -> Result<DoilySize, NoRule> {
    let usual = book.figure(RuleFigure::Diameter, Location::Doily)?;
    let margin = book.figure(RuleFigure::Margin, Location::InspectionRing)?;
    let diameter = usual.used.max(ring_outside + 2.0 * margin.used);
    Ok(DoilySize { diameter, optional: material == RingMaterial::Metal, usual, margin })
}

/// The hole and the patch of a drain.
///
/// # Errors
/// [`NoRule`] where the rules have no figure.
pub fn drain(book: &RuleBook) -> Result<Drain, NoRule> {
    Ok(Drain {
        hole: book.figure(RuleFigure::Diameter, Location::DrainHole)?,
        patch: book.figure(RuleFigure::Diameter, Location::DrainPatch)?,
    })
}

/// How far a patch or gusset goes past a hard edge or a fitting.
///
/// # Errors
/// [`NoRule`] where the rules have no margin.
pub fn patch_margin(book: &RuleBook) -> Result<RuleUsed, NoRule> {
    book.figure(RuleFigure::Margin, Location::HardEdge)
}

/// What to do where something stands `height` millimetres out of the structure.
pub fn protrusion(height: f64) -> Protrusion {
    if height < HIGH - 1e-9 { Protrusion::SlitAfterShrinking } else { Protrusion::OpenBeforeShrinking }
}
