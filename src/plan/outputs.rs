//! Files that appear all together or not at all.

use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use tempfile::NamedTempFile;
use thiserror::Error;

/// A set of files for one folder.
#[derive(Clone, Debug, Default)]
pub struct Outputs {
    files: Vec<(String, Vec<u8>)>,
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
    /// One file cannot be written.
    #[error("{} cannot be written: {error}", file.display())]
    File {
        /// The file.
        file: PathBuf,
        /// What the system said.
        error: io::Error,
    },
}

impl Outputs {
    /// Adds a file; `name` is a plain file name.
    pub fn add(&mut self, name: impl Into<String>, content: impl Into<Vec<u8>>) {
        self.files.push((name.into(), content.into()));
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

    /// Writes every file beside its place, and moves them there when all of them are complete.
    ///
    /// # Errors
    /// [`OutputFault`]; until the moves begin, nothing that was in the folder has changed.
    pub fn write(&self, folder: &Path) -> Result<(), OutputFault> {
        Self::prepare(folder)?;
        let mut ready = Vec::new();
        for (name, content) in &self.files {
            let file = folder.join(name);
            match write_beside(folder, &file, content) {
                Ok(beside) => ready.push((beside, file)),
                Err(error) => return Err(OutputFault::File { file, error }),
            }
        }
        for (beside, file) in ready {
            beside.persist(&file).map_err(|fault| OutputFault::File { file, error: fault.error })?;
        }
        Ok(())
    }
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
        let message = outputs.write(folder.path()).map_err(|fault| fault.to_string());
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
        outputs.write(&deep)?;
        assert_eq!(fs::read_to_string(deep.join("a.txt"))?, "new");
        Ok(())
    }
}
