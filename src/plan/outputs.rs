//! Files that appear all together or not at all, and take the place of no file that somebody else wrote.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

use tempfile::NamedTempFile;
use thiserror::Error;

use super::own_files::{is_ours, marked};

/// A set of files for one folder.
#[derive(Clone, Debug, Default)]
pub struct Outputs {
    files: Vec<(String, Vec<u8>)>,
}

/// Which files may make room for results.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Replace {
    /// Those that this program wrote.
    #[default]
    Own,
    /// Any.
    Any,
}

/// Why the files could not be written.
#[derive(Debug, Error)]
pub enum OutputFault {
    /// The folder cannot be made or used.
    #[error("the folder {} cannot be used for the results: {error}", folder.display())]
    Folder {
        /// The folder.
        folder: PathBuf,
        /// What the system said.
        error: io::Error,
    },
    /// There is a file where the folder should be.
    #[error("{} is a file, and the results need a folder; name one that is there or is to be made", folder.display())]
    NotAFolder {
        /// The file.
        folder: PathBuf,
    },
    /// Files are there that this program did not write.
    #[error(
        "{} there and not written by this program; give another folder with --out, or --force to replace {}", told(files),
        if files.len() == 1 { "it" } else { "them" }
    )]
    InTheWay {
        /// The files, one at least.
        files: Vec<PathBuf>,
    },
    /// One file cannot be written.
    #[error("{} cannot be written: {error}", file.display())]
    File {
        /// The file.
        file: PathBuf,
        /// What the system said.
        error: io::Error,
    },
}

/// `a.svg is`, `a.svg, b.svg and 3 more are`.
fn told(files: &[PathBuf]) -> String {
    const SHOWN: usize = 5;
    let first: Vec<String> = files.iter().take(SHOWN).map(|file| file.display().to_string()).collect();
    let more = files.len().saturating_sub(SHOWN);
    let more = if more > 0 { format!(" and {more} more") } else { String::new() };
    format!("{}{more} {}", first.join(", "), if files.len() == 1 { "is" } else { "are" })
}

/// Held while files are written: who wants to end the program waits for it, so that nothing is half-written.
/// It tells whether something has been written already.
static WRITING: Mutex<bool> = Mutex::new(false);

/// Waits until nothing is being written, and keeps it so until the guard is dropped. The guard is set when something has
/// been written.
pub fn writing() -> MutexGuard<'static, bool> {
    WRITING.lock().unwrap_or_else(PoisonError::into_inner)
}

/// The same where nothing is being written at this moment.
pub fn not_writing() -> Option<MutexGuard<'static, bool>> {
    WRITING.try_lock().ok()
}

impl Outputs {
    /// Adds a file; `name` is a plain file name. Drawings get a mark by which they are known as ours.
    pub fn add(&mut self, name: impl Into<String>, content: impl Into<Vec<u8>>) {
        let name = name.into();
        let content = marked(&name, content.into());
        self.files.push((name, content));
    }

    /// The names, in the order in which they were added.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.files.iter().map(|(name, _)| name.as_str())
    }

    /// Finds out whether files can be written into a folder, and makes it where it is missing: better now than after
    /// a long search.
    ///
    /// # Errors
    /// [`OutputFault::Folder`], [`OutputFault::NotAFolder`].
    pub fn prepare(folder: &Path) -> Result<(), OutputFault> {
        let fault = |error| OutputFault::Folder { folder: folder.to_owned(), error };
        if folder.is_file() {
            return Err(OutputFault::NotAFolder { folder: folder.to_owned() });
        }
        fs::create_dir_all(folder).map_err(fault)?;
        tempfile::tempfile_in(folder).map_err(fault)?;
        Ok(())
    }

    /// As [`Outputs::prepare`], and finds out whether files of these names may take their places, as far as that can be
    /// told before anybody knows what will be in them.
    ///
    /// # Errors
    /// [`OutputFault::Folder`], [`OutputFault::NotAFolder`], [`OutputFault::InTheWay`].
    pub fn foresee(folder: &Path, names: &[String], replace: Replace) -> Result<(), OutputFault> {
        Self::prepare(folder)?;
        clear(names.iter().map(|name| (folder.join(name), None)), replace)
    }

    /// Writes every file beside its place, and moves them there when all of them are complete.
    ///
    /// # Errors
    /// [`OutputFault`]; until the moves begin, nothing that was in the folder has changed.
    pub fn write(&self, folder: &Path, replace: Replace) -> Result<(), OutputFault> {
        let mut written = writing();
        Self::prepare(folder)?;
        clear(self.files.iter().map(|(name, content)| (folder.join(name), Some(content.as_slice()))), replace)?;
        let mut ready = Vec::new();
        for (name, content) in &self.files {
            let file = folder.join(name);
            match write_beside(folder, &file, content) {
                Ok(beside) => ready.push((beside, file)),
                Err(error) => return Err(OutputFault::File { file, error }),
            }
        }
        for (beside, file) in ready {
            *written = true;
            beside.persist(&file).map_err(|fault| OutputFault::File { file, error: fault.error })?;
        }
        Ok(())
    }
}

/// Answers whether nothing stands in the way. A folder of that name is told when the file is written.
fn clear<'c>(files: impl Iterator<Item = (PathBuf, Option<&'c [u8]>)>, replace: Replace) -> Result<(), OutputFault> {
    if replace == Replace::Any {
        return Ok(());
    }
    let in_the_way = |(file, content): (PathBuf, Option<&[u8]>)| {
        (file.symlink_metadata().is_ok_and(|there| !there.is_dir()) && !is_ours(&file, content)).then_some(file)
    };
    let files: Vec<PathBuf> = files.filter_map(in_the_way).collect();
    if files.is_empty() { Ok(()) } else { Err(OutputFault::InTheWay { files }) }
}

fn write_beside(folder: &Path, file: &Path, content: &[u8]) -> io::Result<NamedTempFile> {
    if file.is_dir() {
        return Err(io::Error::new(io::ErrorKind::IsADirectory, "a folder has that name"));
    }
    let mut builder = tempfile::Builder::new();
    builder.prefix(".unfinished-");
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    let mut beside = builder.tempfile_in(folder)?;
    beside.write_all(content)?;
    beside.as_file().sync_all()?;
    Ok(beside)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_set_that_cannot_be_finished_changes_nothing() -> io::Result<()> {
        let folder = tempfile::tempdir()?;
        fs::write(folder.path().join("a.txt"), "old")?;
        fs::create_dir(folder.path().join("b.txt"))?;
        let mut outputs = Outputs::default();
        outputs.add("a.txt", "new");
        outputs.add("b.txt", "new");
        let message = outputs.write(folder.path(), Replace::Any).map_err(|fault| fault.to_string());
        assert!(message.is_err_and(|text| text.contains("b.txt") && text.contains("a folder has that name")));
        assert_eq!(fs::read_to_string(folder.path().join("a.txt"))?, "old");
        assert_eq!(fs::read_dir(folder.path())?.count(), 2, "no unfinished file stays behind");
        Ok(())
    }

    #[test]
    fn a_missing_folder_is_made() -> Result<(), Box<dyn std::error::Error>> {
        let folder = tempfile::tempdir()?;
        let deep = folder.path().join("one/two");
        let mut outputs = Outputs::default();
        outputs.add("a.txt", "new");
        outputs.write(&deep, Replace::Own)?;
        assert_eq!(fs::read_to_string(deep.join("a.txt"))?, "new");
        Ok(())
    }
}
