//! An independent check of a lay; shares no collision code with the engine.

/// Distance, in millimetres, by which a lay may miss a rule and still pass: what two floating-point roads to the same
/// point may differ by, and far less than scissors can follow.
pub const TOLERANCE: f64 = 0.01;
