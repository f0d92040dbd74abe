//! Outlines from drawings that cannot be had: each fixture is refused in its own words, at the file's name or at the key
//! that is wrong, and says what would be right.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

use clothwright::job::{self, ReadError};

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("fixtures/bad-drawings")
}

/// Fixture, what stands at the place that is shown, message.
type Row = (&'static str, &'static str, &'static str);

#[test]
fn each_is_refused_in_its_own_words() {
    for (name, wanted, message) in TABLE {
        let path = folder().join(format!("{name}.json"));
        let faults = match job::read(&path) {
            Err(ReadError::Faults(faults)) => faults.faults,
            other => panic!("{name} should have a fault: {other:?}"),
        };
        let said: Vec<&str> = faults.iter().map(|fault| fault.message.as_str()).collect();
        assert_eq!(said, [message], "{name}");
        assert!(faults[0].hint.len() > 10, "{name}: {}", faults[0].hint);
        let text = std::fs::read_to_string(&path).expect("a fixture");
        let line = text.lines().nth(faults[0].line - 1).expect("a line");
        let there: String = line.chars().skip(faults[0].column - 1).collect();
        assert!(there.starts_with(wanted), "{name}: {there:?} does not start with {wanted:?}");
    }
}

#[test]
fn every_fixture_is_in_the_table() {
    let files: BTreeSet<String> = std::fs::read_dir(folder())
        .expect("the fixtures")
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|ending| ending == "json"))
        .map(|path| path.file_stem().unwrap_or_default().to_string_lossy().into_owned())
        .collect();
    assert_eq!(files, TABLE.iter().map(|row| row.0.to_owned()).collect());
}

#[rustfmt::skip]
const TABLE: [Row; 0] = [
];
