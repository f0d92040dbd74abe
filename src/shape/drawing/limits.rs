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

/// Most bytes, nodes and points that are gone through, those repeated by reference counted each time.
pub const LOOKED_AT: usize = 16 * 1024 * 1024;

/// Longest name by which something may be asked for, in bytes, and most names of one element.
pub const NAME_BYTES: usize = 1_000;
/// See [`NAME_BYTES`].
pub const NAMES: usize = 50;

/// Most attributes of one element of an SVG, and most namespaces that it declares.
pub const ATTRIBUTES: usize = 200;
/// See [`ATTRIBUTES`].
pub const NAMESPACES: usize = 1_000;

/// Most ends of open lines within one joining distance, and most pairs of stretches that are compared with each other for
/// being drawn twice.
pub const ENDS_TOGETHER: usize = 1_000;
/// See [`ENDS_TOGETHER`].
pub const COMPARISONS: usize = 100_000_000;

/// Deepest nesting of groups, blocks and references.
pub const NESTING: usize = 32;

/// Most bytes in all entities that an SVG declares, and most uses of them.
pub const ENTITY_BYTES: usize = 4_096;

/// Narrowest shape, in millimetres: less than scissors can cut.
pub const SMALLEST: f64 = 0.1;

/// Longest distance from the origin, in millimetres: one kilometre.
pub const LENGTH: f64 = crate::shape::FAR_AWAY;
