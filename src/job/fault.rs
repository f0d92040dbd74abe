//! What is wrong with a job file and where, and what is merely risky.

use std::fmt;

use jsonc_parser::ast::Value;
use jsonc_parser::common::{Range, Ranged};
use thiserror::Error;

use super::limits;
use super::nearest::quoted;
use super::source::{Excerpt, Source, shown};

/// One thing that is wrong with a job file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Where in the job, such as `pieces[3].outline.circle`; empty for the file as a whole.
    pub path: String,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// How many characters are wrong, at least 1.
    pub length: usize,
    /// What is wrong.
    pub message: String,
    /// What would be right.
    pub hint: String,
    /// Another place that has to do with it, such as the first use of a name.
    pub also: Option<Also>,
    excerpt: Excerpt,
}

/// Another place that has to do with a fault.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Also {
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// What is there.
    pub message: String,
}

/// Everything that is wrong with a job file, in the order of the file.
///
/// Its text shows each fault with its line, and carets below what is meant.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub struct Faults {
    /// What the messages call the file.
    pub name: String,
    /// The faults: one at least, [`limits::FAULTS_SHOWN`] at most.
    pub faults: Vec<Fault>,
    /// How many more there are.
    pub more: usize,
}

/// Something in a job that is allowed and risky.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Caution {
    /// Where in the job, such as `pieces[3].grain`.
    pub path: String,
    /// Line, from 1.
    pub line: usize,
    /// Column in characters, from 1.
    pub column: usize,
    /// What is risky and what to do; it names the piece or the cloth, so it can stand alone.
    pub message: String,
}

/// Faults and cautions while a file is read.
#[derive(Default)]
pub(super) struct Findings {
    faults: Vec<Finding>,
    more: usize,
    cautions: Vec<Finding>,
}

/// A fault or a caution before its place is worked out.
struct Finding {
    range: Range,
    message: String,
    hint: String,
    also: Option<(Range, String)>,
}

/// Faults beyond this are counted only, so that a huge and hopeless file does not fill the memory.
const KEPT: usize = 100 * limits::FAULTS_SHOWN;

impl Findings {
    pub fn fault(&mut self, range: Range, message: String, hint: String, also: Option<(Range, String)>) {
        if self.is_full() {
            self.more += 1;
        } else {
            self.faults.push(Finding { range, message, hint, also });
        }
    }

    /// Whether another fault would be counted only, so that its words need not be found.
    pub fn is_full(&self) -> bool {
        self.faults.len() >= KEPT
    }

    pub fn caution(&mut self, range: Range, message: String) {
        self.cautions.push(Finding { range, message, hint: String::new(), also: None });
    }

    /// What was read with its cautions, or the faults if there is one; both in the order of the file.
    pub fn finish<T>(
        mut self,
        read: Option<T>,
        source: &Source,
        root: Option<&Value>,
    ) -> Result<(T, Vec<Caution>), Faults> {
        match read {
            Some(read) if self.faults.is_empty() => {
                self.cautions.sort_by_key(|finding| finding.range.start);
                let cautions = self.cautions.into_iter().map(|finding| caution(finding, source, root));
                return Ok((read, cautions.collect()));
            }
            // Whoever gives no answer has noted why; should that ever be forgotten, the person still gets a message.
            None if self.faults.is_empty() => {
                let message = "this job cannot be read, and the program cannot say why".to_owned();
                let hint =
                    "this is a fault of the program; take away one part of the job after another to find its cause";
                self.fault(Range { start: 0, end: 1 }, message, hint.to_owned(), None);
            }
            _ => {}
        }
        self.faults.sort_by_key(|finding| finding.range.start);
        let more = self.more + self.faults.len().saturating_sub(limits::FAULTS_SHOWN);
        self.faults.truncate(limits::FAULTS_SHOWN);
        let faults = self.faults.into_iter().map(|finding| fault(finding, source, root)).collect();
        Err(Faults { name: source.name.to_owned(), faults, more })
    }
}

fn fault(finding: Finding, source: &Source, root: Option<&Value>) -> Fault {
    let Range { start, end } = finding.range;
    let place = source.place(start);
    let also = finding.also.map(|(range, message)| {
        let place = source.place(range.start);
        Also { line: place.line, column: place.column, message }
    });
    Fault {
        path: root.map(|root| path(root, start)).unwrap_or_default(),
        line: place.line,
        column: place.column,
        length: source.slice(start, end).chars().count().max(1),
        message: shown(&finding.message),
        hint: shown(&finding.hint),
        also,
        excerpt: source.excerpt(start, end),
    }
}

fn caution(finding: Finding, source: &Source, root: Option<&Value>) -> Caution {
    let place = source.place(finding.range.start);
    let path = root.map(|root| path(root, finding.range.start)).unwrap_or_default();
    Caution { path, line: place.line, column: place.column, message: shown(&finding.message) }
}

/// The way from the root of the tree to what stands at an offset.
///
/// Worked out from the offset, so that reading need not carry the way along.
fn path(root: &Value, offset: usize) -> String {
    let mut path = String::new();
    let mut here = root;
    loop {
        let next = match here {
            Value::Object(object) => neighbour(&object.properties, offset).map(|(_, entry)| {
                if !path.is_empty() {
                    path.push('.');
                }
                path.push_str(&key(entry.name.as_str()));
                &entry.value
            }),
            Value::Array(list) => neighbour(&list.elements, offset).map(|(index, value)| {
                path.push_str(&format!("[{index}]"));
                value
            }),
            _ => None,
        };
        match next {
            Some(value) if holds(value, offset) => here = value,
            _ => return path,
        }
    }
}

/// Which of some neighbours, in the order of the file, stands at an offset.
fn neighbour<T: Ranged>(all: &[T], offset: usize) -> Option<(usize, &T)> {
    let index = all.partition_point(|one| one.end() <= offset);
    all.get(index).filter(|one| holds(*one, offset)).map(|one| (index, one))
}

fn holds(one: &impl Ranged, offset: usize) -> bool {
    one.start() <= offset && offset < one.end()
}

/// A key in a path: as it is, or quoted and cut short where it is none that a job has.
fn key(name: &str) -> String {
    let plain = |c: char| c.is_alphanumeric() || c == '_';
    if !name.is_empty() && name.len() <= 40 && name.chars().all(plain) { name.to_owned() } else { quoted(name) }
}

impl fmt::Display for Faults {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        for (index, fault) in self.faults.iter().enumerate() {
            if index > 0 {
                writeln!(out)?;
            }
            fault.write(out, &self.name)?;
        }
        if self.more > 0 {
            writeln!(out, "\nand {} more of the same file", self.more)?;
        }
        Ok(())
    }
}

impl Fault {
    fn write(&self, out: &mut fmt::Formatter<'_>, name: &str) -> fmt::Result {
        let Fault { path, line, column, message, hint, excerpt, .. } = self;
        let colon = if path.is_empty() { "" } else { ": " };
        writeln!(out, "{name}:{line}:{column}: {path}{colon}{message}")?;
        let margin = " ".repeat(line.to_string().len().max(4));
        writeln!(out, "{line:>4} | {}", excerpt.text.trim_end())?;
        writeln!(out, "{margin} | {}{}", " ".repeat(excerpt.indent), "^".repeat(excerpt.carets))?;
        if let Some(also) = &self.also {
            writeln!(out, "{margin} = line {}, column {}: {}", also.line, also.column, also.message)?;
        }
        if !hint.is_empty() {
            writeln!(out, "{margin} = {hint}")?;
        }
        Ok(())
    }
}

impl fmt::Display for Caution {
    fn fmt(&self, out: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(out, "{} (line {}, {})", self.message, self.line, self.path)
    }
}
