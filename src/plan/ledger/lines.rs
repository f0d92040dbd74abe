//! The log as bytes: lines read with patience, lines added with care.

use std::fs::File;
use std::io::{self, Write};

use jiff::civil::Date;
use serde::{Deserialize, Serialize};

use super::{Entry, Event};

/// The format of the lines that are written.
const FORMAT: u32 = 1;

/// A log that has been read.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Log {
    /// The lines that say something.
    pub entries: Vec<Entry>,
    /// The lines that cannot be read, such as one that a power cut tore. They stay in the file.
    pub set_aside: Vec<SetAside>,
    /// Whether the last line has no end. If its text is whole it counts.
    pub open_end: bool,
    /// How many lines there are.
    pub lines: usize,
}

/// A line that cannot be read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetAside {
    /// Its number, from 1.
    pub line: usize,
    /// Its text, as far as it is text.
    pub text: String,
    /// Why it cannot be read.
    pub why: String,
}

#[derive(Serialize, Deserialize)]
struct Line<E> {
    format: u32,
    date: Date,
    #[serde(flatten)]
    event: E,
}

/// Where a line is kept: what is written must have reached the disk when `sync` answers.
pub trait Storage: Write {
    /// Carries all that was written to where a power cut cannot reach it.
    ///
    /// # Errors
    /// What the system says.
    fn sync(&mut self) -> io::Result<()>;
}

impl Storage for &File {
    fn sync(&mut self) -> io::Result<()> {
        self.sync_all()
    }
}

/// Reads the lines of a log. Whatever the bytes are, this answers: a line that cannot be read is set aside.
pub fn read_lines(bytes: &[u8]) -> Log {
    let mut log = Log { open_end: bytes.last().is_some_and(|last| *last != b'\n'), ..Log::default() };
    for line in bytes.split_inclusive(|byte| *byte == b'\n') {
        log.lines += 1;
        if line.trim_ascii().is_empty() {
            continue;
        }
        match read_line(line) {
            Ok(Line { date, event, .. }) => log.entries.push(Entry { line: log.lines, date, event }),
            Err(why) => {
                let text = String::from_utf8_lossy(line.trim_ascii()).into_owned();
                log.set_aside.push(SetAside { line: log.lines, text, why });
            }
        }
    }
    log
}

fn read_line(line: &[u8]) -> Result<Line<Event>, String> {
    /// What a line of any format has.
    #[derive(Deserialize)]
    struct Head {
        format: u32,
    }
    let broken = |error: serde_json::Error| {
        if error.is_eof() { "it breaks off".to_owned() } else { format!("it is no line of a log: {error}") }
    };
    let head: Head = serde_json::from_slice(line).map_err(broken)?;
    if head.format != FORMAT {
        return Err(format!("it has format {}, and this program knows {FORMAT}", head.format));
    }
    serde_json::from_slice(line).map_err(broken)
}

/// Adds lines; when this answers, a power cut cannot take them away any more. A line before them without an end is ended
/// first, so that a new one never hangs on a torn one.
///
/// # Errors
/// What the system says. Some of the lines may then be there, the last of them torn.
pub fn add_lines(storage: &mut impl Storage, open_end: bool, date: Date, events: &[Event]) -> io::Result<()> {
    let mut text = if open_end { b"\n".to_vec() } else { Vec::new() };
    for event in events {
        serde_json::to_writer(&mut text, &Line { format: FORMAT, date, event })?;
        text.push(b'\n');
    }
    storage.write_all(&text)?;
    storage.flush()?;
    storage.sync()
}
