//! The log as a file that several people may add to at once.

use std::fs::{File, OpenOptions};
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};

use jiff::civil::Date;

use super::{Event, Log, LogFault, Oddity, add_lines, fold, read_lines};
use crate::plan::{limits, writing};

/// Where the log of a job is: beside it, `job.json` has `job.log.jsonl`.
pub fn log_path(job: &Path) -> PathBuf {
    job.with_extension("log.jsonl")
}

/// A log that nobody else adds to as long as this is held.
#[derive(Debug)]
pub struct LogFile {
    path: PathBuf,
    file: File,
    log: Log,
}

impl LogFile {
    /// Reads the log of a job without holding it; an empty one where there is none yet.
    ///
    /// # Errors
    /// [`LogFault::File`].
    pub fn read(path: &Path) -> Result<Log, LogFault> {
        let fault = |what| move |error| LogFault::File { file: path.to_owned(), what, error };
        let file = match File::open(path) {
            Err(error) if error.kind() == ErrorKind::NotFound => return Ok(Log::default()),
            opened => opened.map_err(fault("opened"))?,
        };
        // A line that somebody is adding right now would be taken for a torn one.
        file.lock_shared().map_err(fault("locked"))?;
        all_of(&file).map(|bytes| read_lines(&bytes)).map_err(fault("read"))
    }

    /// Opens a log to add to, and makes it where there is none. Waits while another holds it.
    ///
    /// # Errors
    /// [`LogFault::File`].
    pub fn hold(path: &Path) -> Result<Self, LogFault> {
        let fault = |what| move |error| LogFault::File { file: path.to_owned(), what, error };
        let is_new = !path.exists();
        let file = OpenOptions::new().read(true).append(true).create(true).open(path).map_err(fault("opened"))?;
        file.lock().map_err(fault("locked"))?;
        if is_new {
            sync_folder(path).map_err(fault("made"))?;
        }
        let bytes = all_of(&file).map_err(fault("read"))?;
        Ok(Self { path: path.to_owned(), file, log: read_lines(&bytes) })
    }

    /// The lines that are there.
    pub fn log(&self) -> &Log {
        &self.log
    }

    /// Adds events, each a line, after it was made sure that all of them make sense there. When this answers, they are
    /// on the disk.
    ///
    /// # Errors
    /// [`LogFault::Odd`] where they make no sense; nothing was written then. [`LogFault::File`] where the system says no.
    pub fn add(&mut self, date: Date, events: &[Event]) -> Result<(), LogFault> {
        let odd = self.odd(date, events);
        if !odd.is_empty() {
            return Err(LogFault::Odd(odd));
        }
        let mut written = writing();
        *written = true;
        let before = self.file.metadata().map(|data| data.len());
        if let Err(error) = add_lines(&mut &self.file, self.log.open_end, date, events) {
            // What was torn is taken back; where even that cannot be done, whoever reads the log sets it aside.
            if let Ok(before) = before {
                let _ = self.file.set_len(before);
            }
            return Err(LogFault::File { file: self.path.clone(), what: "written", error });
        }
        events.iter().for_each(|event| self.log.push(date, event.clone()));
        Ok(())
    }

    /// The oddities that events would bring.
    fn odd(&self, date: Date, events: &[Event]) -> Vec<Oddity> {
        let before = fold(&self.log.entries).oddities;
        let mut log = self.log.clone();
        events.iter().for_each(|event| log.push(date, event.clone()));
        let after = fold(&log.entries).oddities;
        after.into_iter().filter(|odd| !before.contains(odd)).map(|(_, oddity)| oddity).collect()
    }
}

impl Log {
    fn push(&mut self, date: Date, event: Event) {
        self.lines += 1;
        self.open_end = false;
        self.entries.push(super::Entry { line: self.lines, date, event });
    }
}

fn all_of(mut file: &File) -> std::io::Result<Vec<u8>> {
    let mut bytes = Vec::new();
    (&mut file).take(limits::LOG_BYTES + 1).read_to_end(&mut bytes)?;
    if bytes.len() as u64 > limits::LOG_BYTES {
        let most = limits::LOG_BYTES / 1024 / 1024;
        return Err(std::io::Error::other(format!("it has more than {most} MB, which no log needs")));
    }
    Ok(bytes)
}

/// A new file is safe only when its folder knows of it.
#[cfg(unix)]
fn sync_folder(path: &Path) -> std::io::Result<()> {
    let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."));
    File::open(folder)?.sync_all()
}

#[cfg(not(unix))]
fn sync_folder(_: &Path) -> std::io::Result<()> {
    Ok(())
}
