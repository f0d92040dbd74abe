//! How large the files may be that the program reads back. What a job may hold is said in `job::limits`, what a drawing
//! may in `shape::drawing::limits`.

/// Largest written lay, in bytes: a hundred thousand copies of pieces with teeth all round.
pub const LAY_BYTES: u64 = 256 * 1024 * 1024;

/// Largest log, in bytes: a thousand years of evenings.
pub const LOG_BYTES: u64 = 64 * 1024 * 1024;

/// Largest comparison, in bytes: thousands of runs.
pub const COMPARISON_BYTES: u64 = 16 * 1024 * 1024;
