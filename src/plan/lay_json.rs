//! The lay file as text: a line for each piece, so that two lays can be compared line by line.

use std::io;

use serde::Serialize;
use serde_json::Serializer;
use serde_json::ser::{Formatter, PrettyFormatter};

use super::LayFile;

/// How deep lists and objects are spread over lines: file, cloths, cloth, pieces; a line of the take-off is spread too.
const SPREAD: usize = 4;

/// Writes a lay file as JSON.
///
/// # Errors
/// Only what the writer of JSON reports, which memory alone can cause.
pub fn lay_json(lay: &LayFile) -> serde_json::Result<Vec<u8>> {
    let mut text = Vec::new();
    lay.serialize(&mut Serializer::with_formatter(&mut text, LineAPiece::default()))?;
    text.push(b'\n');
    Ok(text)
}

/// Spreads the outer levels over lines and keeps the inner ones on one.
#[derive(Default)]
struct LineAPiece {
    depth: usize,
    pretty: PrettyFormatter<'static>,
}

impl LineAPiece {
    fn open(&mut self) -> bool {
        self.depth += 1;
        self.depth <= SPREAD
    }

    fn close(&mut self) -> bool {
        self.depth -= 1;
        self.depth < SPREAD
    }

    fn spread(&self) -> bool {
        self.depth <= SPREAD
    }
}

fn comma<W: ?Sized + io::Write>(writer: &mut W, first: bool) -> io::Result<()> {
    if first { Ok(()) } else { writer.write_all(b", ") }
}

impl Formatter for LineAPiece {
    fn begin_array<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        if self.open() { self.pretty.begin_array(writer) } else { writer.write_all(b"[") }
    }

    fn end_array<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        if self.close() { self.pretty.end_array(writer) } else { writer.write_all(b"]") }
    }

    fn begin_array_value<W: ?Sized + io::Write>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        if self.spread() { self.pretty.begin_array_value(writer, first) } else { comma(writer, first) }
    }

    fn end_array_value<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        if self.spread() { self.pretty.end_array_value(writer) } else { Ok(()) }
    }

    fn begin_object<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        if self.open() { self.pretty.begin_object(writer) } else { writer.write_all(b"{") }
    }

    fn end_object<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        if self.close() { self.pretty.end_object(writer) } else { writer.write_all(b"}") }
    }

    fn begin_object_key<W: ?Sized + io::Write>(&mut self, writer: &mut W, first: bool) -> io::Result<()> {
        if self.spread() { self.pretty.begin_object_key(writer, first) } else { comma(writer, first) }
    }

    fn begin_object_value<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        writer.write_all(b": ")
    }

    fn end_object_value<W: ?Sized + io::Write>(&mut self, writer: &mut W) -> io::Result<()> {
        if self.spread() { self.pretty.end_object_value(writer) } else { Ok(()) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::{LaidCloth, LaidPiece};

    #[test]
    fn a_piece_is_a_line_and_nothing_is_lost() -> serde_json::Result<()> {
        let piece = |copy| LaidPiece {
            piece: "doily \"a\"".into(),
            copy,
            turn: 0.0,
            flipped: false,
            at: [0.1, 2.0],
            outline: vec![[0.0, 0.0], [1.0, 0.0], [0.0, 1.0]],
            holes: vec![vec![[0.1, 0.1], [0.2, 0.1], [0.1, 0.2]]],
        };
        let cloth = LaidCloth {
            cloth: "roll".into(),
            number: 1,
            width: 1780.0,
            usable: [0.0, 1780.0],
            length_used: 1.0,
            waste: 0.5,
            density: 0.5,
            pieces: vec![piece(1), piece(2)],
        };
        let lay = LayFile {
            format: 1,
            job: "job.json".into(),
            seed: 1,
            effort: 10,
            cloths: vec![cloth],
            unplaced: Vec::new(),
            tape: None,
            cautions: Vec::new(),
            rest: None,
            take_off: Vec::new(),
        };
        let text = String::from_utf8_lossy(&lay_json(&lay)?).into_owned();
        assert_eq!(serde_json::from_str::<LayFile>(&text)?, lay);
        assert_eq!(
            text.lines().filter(|line| line.contains("\"piece\"") && line.contains("\"holes\"")).count(),
            2,
            "{text}"
        );
        Ok(())
    }
}
