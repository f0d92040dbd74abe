//! The door: from a path or a text to a job, or to what is wrong.

use std::fs;
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};

use thiserror::Error;

use super::fault::{Caution, Faults, Findings};
use super::limits;
use super::model::Job;
use super::read_drawing::{Drawings, Reach};
use super::read_job::job;
use super::reader::Reader;
use super::source::Source;
use super::syntax;
use crate::units::Units;

/// A job that was read, and what is risky about it.
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    /// The job.
    pub job: Job,
    /// What the person should think about, in the order of the file.
    pub cautions: Vec<Caution>,
}

/// Why there is no job.
#[derive(Debug, Error)]
pub enum ReadError {
    /// There is no such file.
    #[error("there is no file {path:?}; look at the spelling and at the folder that you are in")]
    Missing {
        /// The file.
        path: PathBuf,
    },
    /// It is a folder.
    #[error("{path:?} is a folder; name the job file in it")]
    Folder {
        /// The folder.
        path: PathBuf,
    },
    /// It is too large to be a job.
    #[error("{path:?} has more than {} MB, which no job needs; is it the right file?", limits::FILE_BYTES / 1024 / 1024)]
    TooLarge {
        /// The file.
        path: PathBuf,
    },
    /// It is no UTF-8 text.
    #[error(
        "{path:?} is not UTF-8 text: line {line} has a character in another encoding; save the file as UTF-8 in your editor"
    )]
    NotUtf8 {
        /// The file.
        path: PathBuf,
        /// The first line that is wrong, from 1.
        line: usize,
    },
    /// The system would not let it be read.
    #[error("{path:?} cannot be read: {source}")]
    Io {
        /// The file.
        path: PathBuf,
        /// What the system said.
        source: std::io::Error,
    },
    /// The job is wrong.
    #[error(transparent)]
    Faults(#[from] Faults),
}

/// Reads a job file.
///
/// # Errors
/// [`ReadError`]: the file cannot be read, or the job in it has faults.
pub fn read(path: &Path) -> Result<Reading, ReadError> {
    read_reaching(path, Reach::Folder)
}

/// Reads a job file that may name drawings as far as `reach` goes.
///
/// # Errors
/// [`ReadError`]: the file cannot be read, or the job in it has faults.
pub fn read_reaching(path: &Path, reach: Reach) -> Result<Reading, ReadError> {
    let text = read_file(path)?;
    Ok(JobText { path, reach, text: &text }.read()?)
}

/// The text of a job file, and what may be read beside it.
#[derive(Clone, Copy, Debug)]
pub struct JobText<'t> {
    /// The file, in whose folder drawings are looked for.
    pub path: &'t Path,
    /// Which drawings the job may name.
    pub reach: Reach,
    /// The text.
    pub text: &'t str,
}

impl JobText<'_> {
    /// Reads the job.
    ///
    /// # Errors
    /// Every fault of the text at once.
    pub fn read(&self) -> Result<Reading, Faults> {
        read_with(&self.path.to_string_lossy(), self.text, Drawings::of(self.path, self.reach))
    }
}

/// The text of a job file, before anybody looks at what it says.
///
/// # Errors
/// [`ReadError`]: the file cannot be read, is too large, or is no text.
pub fn read_file(path: &Path) -> Result<String, ReadError> {
    let own = || path.to_owned();
    let failed = |source: std::io::Error| match source.kind() {
        ErrorKind::NotFound => ReadError::Missing { path: own() },
        _ => ReadError::Io { path: own(), source },
    };
    if fs::metadata(path).map_err(failed)?.is_dir() {
        return Err(ReadError::Folder { path: own() });
    }
    let bytes = read_up_to(path, limits::FILE_BYTES).map_err(failed)?;
    let bytes = bytes.ok_or_else(|| ReadError::TooLarge { path: own() })?;
    String::from_utf8(bytes).map_err(|error| {
        let sound = &error.as_bytes()[..error.utf8_error().valid_up_to()];
        ReadError::NotUtf8 { path: own(), line: 1 + sound.iter().filter(|byte| **byte == b'\n').count() }
    })
}

/// The bytes of a file; `None` where there are more than so many. It never reads further than one byte beyond.
///
/// # Errors
/// Those of opening and reading the file.
pub(crate) fn read_up_to(path: &Path, most: u64) -> std::io::Result<Option<Vec<u8>>> {
    let mut bytes = Vec::new();
    fs::File::open(path)?.take(most + 1).read_to_end(&mut bytes)?;
    Ok((bytes.len() as u64 <= most).then_some(bytes))
}

/// Reads a job from its text; `name` is what messages call it, and its stem names a job that has no name.
///
/// # Errors
/// Every fault of the text at once.
///
/// ```
/// let text = r#"{ "format": 1, "units": "mm",
///   "cloth":  [ { "name": "roll", "width": 1780 } ],
///   "pieces": [ { "name": "doily", "outline": { "circle": 165 }, "quantity": 24, "edge": "pinked" } ] }"#;
/// let reading = clothwright::job::read_text("first.json", text)?;
/// assert_eq!(reading.job.pieces[0].quantity, 24);
///
/// let faults = clothwright::job::read_text("first.json", &text.replace("165", "-165")).unwrap_err();
/// assert!(faults.to_string().contains("a diameter must be greater than 0, this is -165"));
/// # Ok::<(), clothwright::job::Faults>(())
/// ```
pub fn read_text(name: &str, text: &str) -> Result<Reading, Faults> {
    read_with(name, text, Drawings::default())
}

fn read_with(name: &str, text: &str, drawings: Drawings) -> Result<Reading, Faults> {
    let source = Source::new(name, text);
    let mut findings = Findings::default();
    let tree = syntax::parse(&source, &mut findings);
    let mut reader = Reader { source: &source, findings, units: Units::Mm, drawings };
    let job = tree.as_ref().and_then(|tree| job(&mut reader, tree));
    let (job, cautions) = reader.findings.finish(job, &source, tree.as_ref())?;
    Ok(Reading { job, cautions })
}
