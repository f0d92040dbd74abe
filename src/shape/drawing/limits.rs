//! How much a drawing may hold: far more than the pieces of an aircraft, and little enough that a hostile file is
//! refused at once.

/// Largest file, in bytes.
pub const FILE_BYTES: u64 = 8 * 1024 * 1024;

/// Most lines, open and closed, repetitions counted.
pub const LINES: usize = 20_000;

/// Most straight and curved stretches of all lines together.
pub const STRETCHES: usize = 100_000;

/// Most closed shapes of one reading.
pub const SHAPES: usize = 2_000;

/// Most elements looked at, those repeated by reference counted each time.
pub const ELEMENTS: usize = 100_000;

/// Deepest nesting of groups, blocks and references.
pub const NESTING: usize = 32;

/// Most bytes in all entities that an SVG declares, and most uses of them.
pub const ENTITY_BYTES: usize = 4_096;

/// Narrowest shape, in millimetres: less than scissors can cut.
pub const SMALLEST: f64 = 0.1;

/// Longest distance from the origin, in millimetres: one kilometre.
pub const LENGTH: f64 = crate::shape::FAR_AWAY;
