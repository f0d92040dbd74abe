//! The part of a DXF that has to do with lines. What has not is kept from the reading crate: dates, pictures, notes of other
//! programs and objects of all kinds can be wrong in many ways that matter to nobody here, some would end the program, and
//! kinds that the crate does not know it would pass over in silence.

use super::{DrawingFault, limits};

/// Header variables that matter: release, letters, unit.
const HEADER: [&str; 3] = ["$ACADVER", "$DWGCODEPAGE", "$INSUNITS"];

/// Entities that are read, and what holds them. Of any other, its kind and its layer are passed on, as a text.
const KINDS: [&str; 13] = [
    "LINE",
    "3DLINE",
    "ARC",
    "CIRCLE",
    "ELLIPSE",
    "LWPOLYLINE",
    "POLYLINE",
    "VERTEX",
    "SEQEND",
    "SPLINE",
    "INSERT",
    "BLOCK",
    "ENDBLK",
];
/// Groups of an entity that is not read: layer, paper space, whether it is seen.
const OF_OTHERS: [&str; 3] = ["8", "67", "60"];

/// What is needed of a text, and where in it the next pair of group code and value stands.
#[derive(Default)]
struct Sieve<'t> {
    kept: String,
    section: Option<&'t str>,
    /// Whether the next pair names a section.
    begins: bool,
    /// Whether a header variable matters.
    variable: bool,
    /// Whether the entity is one that is read.
    read: bool,
    /// Depth of braces round notes of other programs.
    notes: usize,
    entities: usize,
}

/// The text without what is not needed.
///
/// # Errors
/// [`DrawingFault`] where a group code or a number is none, with its line, and where there are more entities than fit into
/// the memory that a drawing may take.
pub(super) fn essential(text: &str) -> Result<String, DrawingFault> {
    let mut sieve = Sieve::default();
    let mut lines = text.lines().zip(1_usize..);
    while let Some((code, line)) = lines.next() {
        let value = lines.next().map_or("", |(value, _)| value);
        sieve.take(code.trim(), value.trim(), line)?;
    }
    Ok(sieve.kept)
}

impl<'t> Sieve<'t> {
    fn put(&mut self, code: &str, value: &str) {
        for line in [code, value] {
            self.kept.push_str(line);
            self.kept.push('\n');
        }
    }

    fn take(&mut self, code: &'t str, value: &'t str, line: usize) -> Result<(), DrawingFault> {
        match (code, value) {
            ("0", "SECTION") => (self.section, self.begins) = (None, true),
            ("0", "ENDSEC" | "EOF") => (self.section, self.begins) = (None, false),
            ("2", name) if self.begins => {
                (self.section, self.begins, self.variable, self.read) = (Some(name), false, false, true);
                self.put(code, value);
                return Ok(());
            }
            ("9", variable) => self.variable = HEADER.contains(&variable),
            _ => {}
        }
        match self.section {
            None => self.put(code, value),
            Some("HEADER") if self.variable => self.put(code, value),
            Some("BLOCKS" | "ENTITIES") => return self.of_entity(code, value, line),
            Some(_) => {}
        }
        Ok(())
    }

    fn of_entity(&mut self, code: &str, value: &str, line: usize) -> Result<(), DrawingFault> {
        let wrong = |message: String| Err(DrawingFault::new(message, "save it again as ASCII DXF, release 12 to 2018"));
        let Ok(number) = code.parse::<u16>() else {
            return wrong(format!("line {line}: {} stands where a group code should be", quoted(code)));
        };
        match number {
            0 => {
                self.entities += 1;
                if self.entities > limits::ELEMENTS {
                    let message = format!("the drawing has more than {} entities and vertices", limits::ELEMENTS);
                    return Err(DrawingFault::new(message, "save only the pieces that you need"));
                }
                (self.notes, self.read) = (0, KINDS.contains(&value));
                if self.read {
                    self.put(code, value);
                } else {
                    self.put("0", "TEXT");
                    self.put("1", value);
                }
                return Ok(());
            }
            // Notes of other programs, in braces or in groups from 1000 on.
            102 => self.notes = if value.starts_with('{') { self.notes + 1 } else { self.notes.saturating_sub(1) },
            1000.. => {}
            // Bytes, and handles of other things.
            310..=369 | 390..=399 | 480..=481 => {}
            _ if self.notes > 0 || !(self.read || OF_OTHERS.contains(&code)) => {}
            _ if !is_sound(number, value) => {
                return wrong(format!("line {}: {} stands where a number should be", line + 1, quoted(value)));
            }
            _ => self.put(code, value),
        }
        Ok(())
    }
}

/// Whether a value is a number where its group has numbers (DXF reference, group code value types).
fn is_sound(code: u16, value: &str) -> bool {
    match code {
        5 => u64::from_str_radix(value, 16).is_ok(),
        10..=59 | 110..=149 | 210..=239 | 460..=469 => value.parse::<f64>().is_ok(),
        60..=79 | 170..=179 | 270..=299 | 370..=389 | 400..=409 => value.parse::<i16>().is_ok(),
        90..=99 | 420..=429 | 440..=459 => value.parse::<i32>().is_ok(),
        160..=169 => value.parse::<i64>().is_ok(),
        _ => true,
    }
}

fn quoted(text: &str) -> String {
    let short: String = text.chars().filter(|letter| !letter.is_control()).take(30).collect();
    format!("“{short}”")
}
