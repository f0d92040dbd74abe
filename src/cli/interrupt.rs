//! Ctrl-C: the first asks for the best lay so far, the second ends the program at once.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use super::exit::{Exit, Stop};
use super::messages;

/// Whether somebody has asked for an end.
#[derive(Clone, Debug, Default)]
pub(super) struct Interrupt(Arc<AtomicBool>);

impl Interrupt {
    /// Listens for Ctrl-C from now on.
    pub fn listen() -> Result<Self, Stop> {
        let interrupt = Self::default();
        let asked = interrupt.clone();
        let handler = move || {
            if asked.0.swap(true, Ordering::SeqCst) {
                std::process::exit(Exit::Interrupted as i32);
            }
            messages::say("interrupted: finishing with the best lay so far; once more ends at once");
        };
        ctrlc::set_handler(handler)
            .map_err(|error| Stop::fault(Exit::CommandWrong, format!("Ctrl-C cannot be listened for: {error}")))?;
        Ok(interrupt)
    }

    /// Whether somebody has asked for an end.
    pub fn asked(&self) -> bool {
        self.0.load(Ordering::SeqCst)
    }
}
