//! Plans, lays out and accounts for the cloth that covers a fabric-covered aircraft.

pub mod cli;
pub mod draw;
pub mod job;
pub mod nest;
pub mod plan;
pub mod shape;
pub mod units;
pub mod verify;
