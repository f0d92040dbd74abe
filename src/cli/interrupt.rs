//! Ctrl-C. While a lay is searched for, the first asks for the best one so far; at any other time, and the second time, the
//! program ends as soon as no file is being written.

use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::sleep;
use std::time::Duration;

use crate::plan::not_writing;

use super::exit::{Exit, Stop};
use super::messages;

/// How long files may take to be written before a person who wants to leave is let go.
const PATIENCE: Duration = Duration::from_secs(10);
const STEP: Duration = Duration::from_millis(10);

static SEARCHING: AtomicBool = AtomicBool::new(false);
static ASKED: AtomicBool = AtomicBool::new(false);

/// Listens for Ctrl-C from now on.
pub(super) fn listen() -> Result<(), Stop> {
    ctrlc::set_handler(|| {
        let first = !ASKED.swap(true, Ordering::SeqCst);
        if first && SEARCHING.load(Ordering::SeqCst) {
            messages::say("interrupted: finishing with the best lay so far; once more ends at once");
            return;
        }
        leave();
    })
    .map_err(|error| Stop::fault(Exit::CommandWrong, format!("Ctrl-C cannot be listened for: {error}")))
}

/// From here on an interrupted run still has something to write.
pub(super) fn search_begins() {
    SEARCHING.store(true, Ordering::SeqCst);
}

/// Whether somebody has asked for an end.
pub(super) fn asked() -> bool {
    ASKED.load(Ordering::SeqCst)
}

/// Ends the program, but not between two files that belong together.
fn leave() -> ! {
    let mut waited = Duration::ZERO;
    let held = loop {
        let held = not_writing();
        if held.is_some() || waited >= PATIENCE {
            break held;
        }
        sleep(STEP);
        waited += STEP;
    };
    messages::say(match held.as_deref() {
        Some(false) => "interrupted; nothing was written",
        Some(true) => "interrupted after all was written",
        None => "interrupted while files were being written; look at them before you use them",
    });
    // Dropped by nobody: nothing begins to be written any more.
    std::mem::forget(held);
    std::process::exit(Exit::Interrupted as i32);
}
