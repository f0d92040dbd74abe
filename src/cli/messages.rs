//! Messages for the person, on the error stream, so that results can be piped.

use std::fmt::Display;
use std::io::Write;

use anstyle::{AnsiColor, Style};

const ERROR: Style = AnsiColor::Red.on_default().bold();
const CAUTION: Style = AnsiColor::Yellow.on_default().bold();

/// Says what is wrong.
pub(super) fn error(message: &str) {
    say(&format!("{ERROR}error:{ERROR:#} {message}"));
}

/// Says what is risky, one line each, and how many there are.
pub(super) fn cautions<T: Display>(cautions: &[T]) {
    for caution in cautions {
        say(&format!("{CAUTION}caution:{CAUTION:#} {caution}"));
    }
    match cautions.len() {
        0 => {}
        1 => say("1 caution"),
        many => say(&format!("{many} cautions")),
    }
}

/// Says something.
pub(super) fn say(message: &str) {
    // When not even the error stream can be written, there is nowhere left to say so.
    let _ = writeln!(anstream::stderr(), "{message}");
}
