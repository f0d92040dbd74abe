//! Runs the program in a folder of its own.

#![allow(dead_code)]

use std::path::PathBuf;

use assert_cmd::Command;
use tempfile::TempDir;

/// The smallest job that works, with pieces of two kinds; a second is plenty to lay it.
pub const SMALL: &str = r#"{ "format": 1, "units": "mm", "name": "Dunlin rudder", "gap": 2,
  "cloth": [ { "name": "roll 1", "width": 600, "selvage": 10, "price": 12, "sold_by": 500, "mass": 92 } ],
  "pieces": [
    { "name": "doily", "outline": { "circle": 165 }, "quantity": 3, "edge": "pinked" },
    { "name": "gusset, upper", "outline": { "polygon": [[0, 0], [140, 0], [0, 110]] }, "quantity": 4, "grain": "along", "goes": "=rudder post" } ] }"#;

/// A folder with a job in it.
pub struct Bench {
    folder: TempDir,
}

impl Bench {
    pub fn with(job: &str) -> Self {
        let folder = tempfile::tempdir().expect("a folder");
        std::fs::write(folder.path().join("job.json"), job).expect("a job file");
        Self { folder }
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    pub fn read(&self, name: &str) -> String {
        std::fs::read_to_string(self.path(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
    }

    /// Names in a folder, sorted.
    pub fn names(&self, folder: &str) -> Vec<String> {
        let entries = std::fs::read_dir(self.path(folder)).expect("a folder");
        let mut names: Vec<String> =
            entries.flatten().map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }

    pub fn run(&self, arguments: &[&str]) -> Ran {
        let mut command = Command::cargo_bin("clothwright").expect("the program");
        let output = command.current_dir(self.folder.path()).args(arguments).output().expect("it runs");
        Ran {
            code: output.status.code(),
            results: String::from_utf8(output.stdout).expect("UTF-8"),
            messages: String::from_utf8(output.stderr).expect("UTF-8"),
        }
    }
}

/// How a run ended.
#[derive(Debug)]
pub struct Ran {
    pub code: Option<i32>,
    pub results: String,
    pub messages: String,
}
