//! How the program knows a file that it wrote itself from one that somebody else did: it may take the place of the first
//! and of no other.
//!
//! Drawings bear a mark that no viewer shows. Tables have no room for one and are known by the names of their first
//! columns, data by saying of which job they are, which no job does.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use serde::Deserialize;
use serde::de::IgnoredAny;

use super::limits;

const MARK: &str = "written by clothwright";
/// What every PDF of ours says of itself.
const CREATOR: &str = "/Creator (clothwright)";
/// Columns by whose names a table is known.
const COLUMNS: usize = 3;

/// The content of a file called `name`, with the mark where there is room for one.
pub(super) fn marked(name: &str, mut content: Vec<u8>) -> Vec<u8> {
    match ending(name) {
        "svg" | "html" => content.extend(format!("<!-- {MARK} -->\n").bytes()),
        // Group 999 is a comment (DXF reference, group codes).
        "dxf" => content.splice(0..0, format!("999\r\n{MARK}\r\n").bytes()).for_each(drop),
        _ => {}
    }
    content
}

/// Whether a file is of the kind of `content`, and written by this program. Where nobody knows the content of a table yet,
/// it passes.
pub(super) fn is_ours(file: &Path, content: Option<&[u8]>) -> bool {
    // A device or a pipe is nobody's result, and may never end.
    if !file.metadata().is_ok_and(|there| there.is_file()) {
        return false;
    }
    let mut bytes = Vec::new();
    let read = File::open(file).and_then(|file| file.take(limits::LAY_BYTES).read_to_end(&mut bytes));
    if read.is_err() {
        return false;
    }
    match ending(&file.to_string_lossy()) {
        "svg" | "html" | "dxf" => has(&bytes, MARK),
        "pdf" => has(&bytes, CREATOR),
        "csv" => content.is_none_or(|content| columns(&bytes) == columns(content)),
        "json" => is_result(&bytes),
        _ => false,
    }
}

fn ending(name: &str) -> &str {
    name.rsplit_once('.').map_or("", |(_, ending)| ending)
}

fn has(bytes: &[u8], words: &str) -> bool {
    bytes.windows(words.len()).any(|window| window == words.as_bytes())
}

fn columns(table: &[u8]) -> Option<csv::StringRecord> {
    let mut reader = csv::ReaderBuilder::new().flexible(true).from_reader(table);
    let mut columns = reader.headers().ok()?.clone();
    columns.truncate(COLUMNS);
    Some(columns)
}

/// Data of ours say of which job they are; a job has cloths and pieces of its own.
fn is_result(bytes: &[u8]) -> bool {
    #[derive(Deserialize)]
    struct Head {
        #[serde(rename = "format")]
        _format: u32,
        #[serde(rename = "job")]
        _job: String,
        units: Option<IgnoredAny>,
    }
    serde_json::from_slice::<Head>(bytes).is_ok_and(|head| head.units.is_none())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_bears_the_mark_is_ours_and_a_job_or_a_foreign_table_is_not() -> std::io::Result<()> {
        let folder = tempfile::tempdir()?;
        let is = |name: &str, there: &[u8], new: &[u8]| {
            let file = folder.path().join(name);
            std::fs::write(&file, there).map(|()| is_ours(&file, Some(new)))
        };
        for name in ["a.svg", "a.html", "a.dxf"] {
            assert!(is(name, &marked(name, b"x".to_vec()), b"y")?, "{name}");
            assert!(!is(name, b"x", b"y")?, "{name}");
        }
        assert!(is("a.csv", b"number,piece,copy,length (mm)\n1", b"number,piece,copy,length (in)\n")?);
        assert!(!is("a.csv", b"number,name,copy\n", b"number,piece,copy\n")?);
        assert!(is("a.json", br#"{"format":1,"job":"x.json","cloths":[]}"#, b"")?);
        for job in [r#"{"format":1,"units":"mm","job":"x"}"#, r#"{"format":1}"#, "[]", ""] {
            assert!(!is("a.json", job.as_bytes(), b"")?, "{job}");
        }
        assert!(!is("a.jsonl", br#"{"format":1,"job":"x"}"#, b"")?, "a log is never replaced");
        Ok(())
    }
}
